package sheet

import (
	"regexp"
	"slices"
	"strconv"
)

// Since marks on a paper what is otherwise than on the same paper of an earlier design: cells that changed tell what they were, rows
// that are new say so, and rows that are gone are listed at the end.
func Since(now, then *Paper) {
	c := &changes{}
	now.Foot.Since = then.Foot.Revision
	earlier := map[string][]*Table{}
	for i := range then.Blocks {
		if t := then.Blocks[i].Table; t != nil {
			earlier[then.Blocks[i].Heading] = append(earlier[then.Blocks[i].Heading], t)
		}
	}
	gone := &Table{Caption: "No longer so", Heads: []string{"of", "what", "was"}}
	for i := range now.Blocks {
		b := &now.Blocks[i]
		if b.Table == nil {
			continue
		}
		list := earlier[b.Heading]
		var old *Table
		if len(list) > 0 {
			old, earlier[b.Heading] = list[0], list[1:]
		}
		for _, r := range c.table(b.Table, old) {
			gone.Rows = append(gone.Rows, goneRow(b.Heading, r))
		}
	}
	for i := range then.Blocks { // tables that are there no more
		heading := then.Blocks[i].Heading
		for _, t := range earlier[heading] {
			for _, r := range t.Rows {
				if r.Over == "" {
					gone.Rows = append(gone.Rows, goneRow(heading, r))
				}
			}
		}
		delete(earlier, heading)
	}
	if len(gone.Rows) > 0 {
		now.Blocks = append(now.Blocks, Block{Heading: "No longer so", Table: gone})
	}
	text := "Nothing in the tables changed since revision " + then.Foot.Revision + "."
	if n := c.marked + len(gone.Rows); n > 0 {
		text = "Changed since revision " + then.Foot.Revision + ": " + rows(c.marked) + ", told by the word was or new; there no more: " + rows(len(gone.Rows)) + "."
	}
	now.Blocks = append([]Block{{Heading: "What changed", Paras: []string{text}}}, now.Blocks...)
}

func rows(n int) string {
	switch n {
	case 0:
		return "none"
	case 1:
		return "1 row"
	}
	return strconv.Itoa(n) + " rows"
}

// changes counts the rows that changed.
type changes struct{ marked int }

// counted is a mark that is counted through a table and shifts when a row comes before it.
var counted = regexp.MustCompile(`^[A-Z]?[0-9]+$`)

// cellsOf are the texts of a row that tell what stands in it: without a counted mark.
func cellsOf(r *Row) []string {
	var out []string
	for i, c := range r.Cells {
		if i == 0 && counted.MatchString(c.Text) {
			continue
		}
		out = append(out, c.Text)
	}
	return out
}

// table marks a table against an earlier one and returns the rows of that which are there no more.
func (c *changes) table(now, old *Table) []Row {
	var left []*Row
	if old != nil {
		old = old.under(now.Heads)
		for i := range old.Rows {
			if old.Rows[i].Over == "" {
				left = append(left, &old.Rows[i])
			}
		}
	}
	pair := make([]*Row, len(now.Rows))
	// First what is the same, then what is called the same, then what bears the same mark.
	for _, alike := range []func(a, b *Row) bool{sameRow, sameName, sameSecond, sameMark} {
		for i := range now.Rows {
			if r := &now.Rows[i]; r.Over == "" && pair[i] == nil {
				for k, o := range left {
					if o != nil && alike(r, o) {
						pair[i], left[k] = o, nil
						break
					}
				}
			}
		}
	}
	for i := range now.Rows {
		c.row(&now.Rows[i], pair[i])
	}
	var gone []Row
	for _, r := range left {
		if r != nil {
			gone = append(gone, *r)
		}
	}
	return gone
}

// notThere stands in a column that a table had not.
const notThere = "\x00"

// under is a table with its columns in the order of other heads: one that says the same in every row may have none of its own.
func (t *Table) under(heads []string) *Table {
	if slices.Equal(t.Heads, heads) {
		return t
	}
	out := &Table{Caption: t.Caption, Heads: heads}
	for _, r := range t.Rows {
		if r.Over == "" {
			cells := make([]Cell, len(heads))
			for i, head := range heads {
				cells[i].Text = notThere
				if k := slices.Index(t.Heads, head); k >= 0 && k < len(r.Cells) {
					cells[i] = r.Cells[k]
				}
			}
			r.Cells = cells
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

// row marks one row against what it was; nil for one that is new.
func (c *changes) row(now, old *Row) {
	switch {
	case now.Over != "":
		return
	case old == nil:
		if len(now.Cells) > 0 {
			now.Cells[0].Fresh = true
		}
		c.marked++
		return
	}
	changed := false
	for i := range now.Cells {
		if i == 0 && counted.MatchString(now.Cells[0].Text) || i >= len(old.Cells) || now.Cells[i].Text == old.Cells[i].Text || old.Cells[i].Text == notThere {
			continue
		}
		changed = true
		if now.Cells[i].Was = old.Cells[i].Text; now.Cells[i].Was == "" {
			now.Cells[i].Was = "nothing"
		}
	}
	if changed {
		c.marked++
	}
}

func sameRow(a, b *Row) bool {
	x, y := cellsOf(a), cellsOf(b)
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if x[i] != y[i] {
			return false
		}
	}
	return true
}

func sameName(a, b *Row) bool {
	x, y := cellsOf(a), cellsOf(b)
	return len(x) > 0 && len(y) > 0 && x[0] != "" && x[0] == y[0]
}

// sameSecond holds rows that begin with a figure, as those of fuses do.
func sameSecond(a, b *Row) bool {
	x, y := cellsOf(a), cellsOf(b)
	return len(x) > 1 && len(y) > 1 && x[1] != "" && x[1] == y[1]
}

func sameMark(a, b *Row) bool {
	return len(a.Cells) > 0 && len(b.Cells) > 0 && counted.MatchString(a.Cells[0].Text) && a.Cells[0].Text == b.Cells[0].Text
}

// goneRow tells a row that is there no more.
func goneRow(heading string, r Row) Row {
	texts := cellsOf(&r)
	what, was := "", ""
	for i, t := range texts {
		switch {
		case i == 0:
			what = t
		case t == notThere:
		case t != "" && was == "":
			was = t
		case t != "":
			was += "; " + t
		}
	}
	return Row{Cells: []Cell{{Text: heading}, {Text: what}, {Text: was}}}
}
