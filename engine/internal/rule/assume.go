package rule

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Assumption reads what is assumed for a fact: one value, or a *derive.ByFacts.
func (c *Compiler) Assumption(a *pack.Assumption, fact, path string) any {
	if c.Declared.Describe(fact).Doc == "" {
		n := pack.ChildOf(a.Node, "fact")
		if fact != a.Fact {
			n = pack.ChildOf(a.Node, "also")
		}
		c.Problem(n, path, "there is no fact "+fact, c.Vocabulary.NearestPath(fact))
		return nil
	}
	if len(a.By) == 0 {
		if len(a.Rows) > 0 || a.Is.Tag == "" {
			c.ProblemAt(a.Place, path, "an assumption gives one value (is), or the facts that decide (by) with rows", "")
			return nil
		}
		v, err := c.Declared.ParseFact(fact, a.Is.Text)
		if err != nil {
			c.Problem(a.Is.Node, path, err.Error(), "")
		}
		return v
	}
	if a.Is.Tag != "" || len(a.Rows) == 0 {
		c.ProblemAt(a.Place, path, "where other facts decide, the values stand in rows", "")
		return nil
	}
	keys, out := make([]schema.Description, len(a.By)), &derive.ByFacts{}
	for i, by := range a.By {
		beside := fact[:strings.LastIndex(fact, ".")+1] + by
		keys[i] = c.Declared.Describe(beside)
		if keys[i].Field.Kind != schema.KindWord && keys[i].Field.Kind != schema.KindQuantity || strings.Contains(by, ".") {
			c.ProblemAt(a.Place, path, by+" is no word or quantity beside "+fact, "")
			return nil
		}
		out.By = append(out.By, beside)
	}
	for i, cells := range a.Rows {
		if row, ok := c.assumedRow(a, fact, cells, keys, fmt.Sprintf("%s.rows[%d]", path, i)); ok {
			out.Rows = append(out.Rows, row)
		}
	}
	if len(out.Rows) == len(a.Rows) {
		c.complete(a, out, keys, path)
	}
	return out
}

// assumedRow reads a row: the deciding facts in their order, then the value.
func (c *Compiler) assumedRow(a *pack.Assumption, fact string, cells []pack.Scalar, keys []schema.Description, path string) (row derive.AssumedRow, ok bool) {
	if len(cells) != len(keys)+1 {
		c.ProblemAt(a.Place, path, fmt.Sprintf("a row has %d cells: %s, and the value", len(keys)+1, strings.Join(a.By, ", ")), "")
		return row, false
	}
	for i, key := range keys {
		cell := cells[i]
		if key.Field.Kind == schema.KindWord {
			if !slices.Contains(key.Words, cell.Text) {
				c.Problem(cell.Node, path, fmt.Sprintf("%s is no word of %s", cell.Text, a.By[i]), document.Nearest(cell.Text, key.Words))
				return row, false
			}
			row.When = append(row.When, cell.Text)
			continue
		}
		q, err := quantity.Parse(cell.Text, key.Field.Dimension)
		if err != nil {
			c.Problem(cell.Node, path, err.Error(), "")
			return row, false
		}
		row.When = append(row.When, q.SI())
	}
	last := cells[len(keys)]
	v, err := c.Declared.ParseFact(fact, last.Text)
	if err != nil {
		c.Problem(last.Node, path, err.Error(), "")
		return row, false
	}
	row.Is = v
	return row, true
}

// complete refuses rows that leave a word or the low end of a range without a value, and quantities that do not rise.
func (c *Compiler) complete(a *pack.Assumption, rows *derive.ByFacts, keys []schema.Description, path string) {
	groups := map[string][]derive.AssumedRow{}
	for _, row := range rows.Rows {
		group := wordsOf(row)
		groups[group] = append(groups[group], row)
	}
	combinations := []string{""}
	for _, key := range keys {
		if key.Field.Kind != schema.KindWord {
			continue
		}
		var longer []string
		for _, have := range combinations {
			for _, word := range key.Words {
				longer = append(longer, have+word+" ")
			}
		}
		combinations = longer
	}
	for _, words := range combinations {
		if len(groups[words]) == 0 {
			c.ProblemAt(a.Place, path, "no row for "+strings.TrimSpace(words), "")
			continue
		}
		for k, key := range keys {
			if key.Field.Kind == schema.KindWord {
				continue
			}
			low, err := quantity.Parse(key.Field.Low, key.Field.Dimension)
			if first, _ := groups[words][0].When[k].(float64); err == nil && first > low.SI() {
				c.ProblemAt(a.Place, path, fmt.Sprintf("the rows of %s begin above %s, the least %s there is", strings.TrimSpace(words), key.Field.Low, a.By[k]), "")
			}
			for i, row := range groups[words][1:] {
				if before := groups[words][i].When[k].(float64); row.When[k].(float64) < before {
					c.ProblemAt(a.Place, path, fmt.Sprintf("the rows of %s do not rise in %s", strings.TrimSpace(words), a.By[k]), "")
				}
			}
		}
	}
}

// wordsOf joins the words of a row, a space behind each.
func wordsOf(row derive.AssumedRow) string {
	var b strings.Builder
	for _, cell := range row.When {
		if word, ok := cell.(string); ok {
			b.WriteString(word + " ")
		}
	}
	return b.String()
}
