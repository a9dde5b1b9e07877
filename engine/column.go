package engine

import (
	"regexp"
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// column is one fact of every item of a list, as a table on a sheet has it in one column: copied in a wrong unit, all are wrong together.
type column struct {
	// path is that of the list with the fact's key.
	path         string
	paths, texts []string
	dimension    quantity.Dimension
	place        schema.Place
}

var itemIndex = regexp.MustCompile(`\[\d+\]`)

// columns are those that a check of sense, or a derived value it read, read two or more items of.
func (s *slips) columns(f *Finding) []column {
	facts := slices.Clone(f.Facts)
	for _, v := range f.Derived {
		for _, r := range s.scope.Session().FactsOf(v.Path) {
			facts = append(facts, FactRead{r.Path(), r.Text(), r.Place()})
		}
	}
	var out []column
	for _, r := range facts {
		d := s.library.declared.Describe(r.Path).Field.Dimension
		if !d.Valid() || r.Place.IsZero() || !itemIndex.MatchString(r.Path) {
			continue
		}
		path := itemIndex.ReplaceAllString(r.Path, "")
		if slices.ContainsFunc(out, func(c column) bool { return slices.Contains(c.paths, r.Path) }) {
			continue
		}
		at := slices.IndexFunc(out, func(c column) bool { return c.path == path })
		if at < 0 {
			at, out = len(out), append(out, column{path: path, dimension: d, place: r.Place})
		}
		out[at].paths, out[at].texts = append(out[at].paths, r.Path), append(out[at].texts, r.Text)
	}
	return slices.DeleteFunc(out, func(c column) bool { return len(c.paths) < 2 })
}

// meant lists what the column was perhaps meant to say: all numbers in one other unit.
func (c column) meant() [][]string {
	var out [][]string
	for _, x := range quantity.Slips(c.texts[0], c.dimension) {
		unit := unitOf(x.Text)
		if x.Point != 0 {
			continue
		}
		all := make([]string, len(c.texts))
		for i, text := range c.texts {
			for _, y := range quantity.Slips(text, c.dimension) {
				if y.Point == 0 && unitOf(y.Text) == unit {
					all[i] = y.Text
				}
			}
		}
		if !slices.Contains(all, "") {
			out = append(out, all)
		}
	}
	return out
}

// unitOf is what stands behind the number of a text.
func unitOf(text string) string {
	_, unit, _ := strings.Cut(text, " ")
	return unit
}

// instead is the design with the column's facts as they were perhaps meant.
func (c column) instead(d *schema.Design, meant []string) (*schema.Design, error) {
	for i, path := range c.paths {
		other, err := d.Instead(path, meant[i])
		if err != nil {
			return nil, err
		}
		d = other
	}
	return d, nil
}
