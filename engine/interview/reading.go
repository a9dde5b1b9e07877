package interview

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/amend"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// manyPieces is said of a line that speaks of more than one piece; each is taken.
const manyPieces = "one piece a line"

// change is a value and where it goes.
type change struct {
	path  string
	value *yaml.Node
	// item is what an item of a list is called.
	item string
	// heard is what else was understood of it.
	heard []Heard
}

// cables is the list whose items may share a name: that of the point of ground they lead from.
const cables = "Ground"

// change reads an answer by the form of its question, or says what is wrong with it.
func (s *Session) change(q *Question, answer string) (change, string) {
	none := change{path: q.Path, value: amend.Plain(None)}
	switch q.Form {
	case Presence:
		if yes, known := words.YesNo(answer); known && !yes {
			return none, ""
		} else if known || answer == "{}" {
			return change{path: q.Path, value: amend.There()}, ""
		}
		return change{}, fmt.Sprintf("%s: write yes when there is one, none when there is none; its facts are asked next", document.Cut(answer))
	case Whole:
		if yes, known := words.YesNo(answer); !known || !yes {
			return change{}, fmt.Sprintf("%s: write yes when that is all, no when there is more; the rest is named in the file", document.Cut(answer))
		}
		list, _ := s.design.OpenListAt(q.Path)
		return s.complete(list.Name), ""
	case Count:
		if answer == None {
			return none, ""
		}
		n, err := strconv.Atoi(answer)
		if err != nil || n < 1 || n > schema.MaxItems {
			return change{}, fmt.Sprintf("%s: write how many there are, from 1 to %d, or none", document.Cut(answer), schema.MaxItems)
		}
		if have := s.items[q.Path]; have > 0 {
			return change{}, fmt.Sprintf("%d are stated already; add one, or take one away", have)
		}
		var items []*yaml.Node
		for range n {
			items = append(items, amend.There())
		}
		return change{path: q.Path, value: amend.List(items...)}, ""
	case Items:
		if answer != None {
			return s.item(q, answer)
		}
		if len(q.Listed) > 0 {
			return change{}, "the list has begun; an empty line ends it, back takes the last one back"
		}
		return none, ""
	}
	return change{path: q.Path, value: node(q.Fact.Field.Kind, word(q, answer))}, ""
}

// complete is the change that says that a list is complete, beside those that are said to be already.
func (s *Session) complete(name string) change {
	const at = "design.complete"
	said := s.design.Complete.Items
	if s.stated[at].known && s.design.PlaceOf(at).File == s.o.File && len(said) > 0 {
		return change{path: fmt.Sprintf("%s[%d]", at, len(said)), value: amend.Plain(name)}
	}
	all := []*yaml.Node{}
	for _, f := range said { // a template's stands for nothing once the design has its own
		all = append(all, amend.Plain(f.Text()))
	}
	return change{path: at, value: amend.List(append(all, amend.Plain(name))...)}
}

// item reads one item of a list.
func (s *Session) item(q *Question, answer string) (change, string) {
	field := q.Fact.Field
	c := change{path: fmt.Sprintf("%s[%d]", q.Path, len(q.Listed))}
	switch key := itemKey(field); key {
	case "name":
		piece, ok, several := s.piece(q, answer)
		switch {
		case several:
			return c, manyPieces
		case ok && !slices.Contains(q.Listed, piece.item):
			return piece, ""
		}
		c.item = unquoted(answer)
		c.value = amend.Part(key, amend.Text(c.item))
		if slices.Contains(q.Listed, c.item) && field.Part != cables {
			return c, fmt.Sprintf("there is a %s in this list already; give each its own name", document.Cut(c.item))
		}
	case "kind":
		c.item = word(q, answer)
		c.value = amend.Part(key, amend.Plain(c.item))
	default:
		c.item = word(q, answer)
		if q.Path == regionsPath && s.o.CheckRegion != nil {
			if err := s.o.CheckRegion(c.item); err != nil {
				return c, err.Error()
			}
		}
		if slices.Contains(q.Listed, c.item) {
			return c, document.Cut(c.item) + " is in the list already"
		}
		c.value = node(field.Item, c.item)
	}
	return c, ""
}

// word is the word that the number of a choice stands for, the one that is meant by what people say, yes and no as a
// design writes them, or else the answer.
func word(q *Question, answer string) string {
	if n, err := strconv.Atoi(answer); err == nil && 1 <= n && n <= len(q.Choices) {
		return q.Choices[n-1].Word
	}
	if q.Fact.Field.Kind == schema.KindBool {
		if yes, known := words.YesNo(answer); known {
			return strconv.FormatBool(yes)
		}
	}
	if slices.ContainsFunc(q.Choices, func(c Choice) bool { return c.Word == answer }) {
		return answer
	}
	if row := q.Words; row != nil {
		if meant := row.Meant(answer); len(meant) == 1 {
			return meant[0].Word
		}
	}
	return answer
}

// node makes the value of a fact as it is typed into a file.
func node(kind schema.Kind, answer string) *yaml.Node {
	if kind == schema.KindText {
		return amend.Text(unquoted(answer))
	}
	return amend.Plain(answer)
}

// unquoted is a text without the quotes around it.
func unquoted(text string) string {
	if len(text) > 2 && text[0] == '"' && text[len(text)-1] == '"' {
		return text[1 : len(text)-1]
	}
	return text
}

// offer adds the units of the reader to an answer that ends in a number without one, where the reader of the file would
// take that. A share gets none: the refusal names the ways to write it, which differ in magnitude.
func (s *Session) offer(q *Question, answer string) []string {
	last := answer[len(answer)-1]
	if q.Form != Value || q.Fact.Field.Kind != schema.KindQuantity || q.Fact.Field.Dimension == quantity.DimShare || last < '0' || last > '9' {
		return nil
	}
	var out []string
	for _, example := range q.Examples {
		unit := unitOf(example)
		if unit == "" {
			continue
		}
		if _, _, err := s.try(change{path: q.Path, value: amend.Plain(answer + " " + unit)}); err == nil {
			out = append(out, answer+" "+unit)
		}
	}
	return out
}

// unitOf is the unit behind a number.
func unitOf(text string) string { return strings.TrimLeft(text, "0123456789.,+-/ ") }

// unitOnly is the answer that was offered whose unit is typed; the answer itself where none is.
func (s *Session) unitOnly(answer string) string {
	for _, offer := range s.offered {
		if at := strings.LastIndexAny(offer, "0123456789"); words.Plain(offer[at+1:]) == words.Plain(answer) {
			return offer
		}
	}
	return answer
}
