package lines

import (
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/words"
)

// phrase gives a word to the fact whose spoken form it is, or notes a yes.
func (r *reader) phrase(c *clause, i int) bool {
	t := c.tokens[i]
	options := outright(r.values(c, t), t)
	if len(options) > 0 && denied(c.tokens, i) {
		t.why = notSo
		return false
	}
	if len(options) == 1 && r.elsewhere(options[0]) {
		t.could = []string{options[0].path() + " " + options[0].value.Word}
		t.why = "it may be " + t.could[0] + "; say of what it is"
		return false
	}
	if len(options) == 1 {
		o := options[0]
		t.why = r.put(o.of, o.key(), o.value.Word, "", t)
		if t.why == "" {
			r.note(c, o.of)
			r.drawn(o, t)
		}
		return t.why == ""
	}
	if len(options) == 0 && r.yes(c, i) {
		return true
	}
	t.could = nil
	for _, o := range options {
		t.could = append(t.could, o.path()+" "+o.value.Word)
	}
	if len(options) > 1 {
		t.why = "it may be " + strings.Join(t.could, " or ") + "; say of what it is"
	}
	return false
}

// elsewhere reports whether a word is the place of a part that the line does not speak of: a pump under the boot's floor tells
// nothing of where the tank is, nor a hole in the bulkhead of where the regulator is.
func (r *reader) elsewhere(o option) bool {
	return slices.Contains([]string{"place", "location", "point"}, o.row.Key) && !slices.ContainsFunc(slices.Concat(r.last, r.spoken), func(t *thing) bool { return t.part == o.of.part })
}

// stiff are the materials of which lines are drawn as tube, and never made as hose.
var stiff = []string{"steel", "coated_steel", "stainless_steel", "copper_nickel", "copper", "aluminium", "nylon"}

// drawn states that a line of a stiff material is a tube, where nothing else was said of it.
func (r *reader) drawn(o option, t *token) {
	if o.row.Name() == "Run.material" && slices.Contains(stiff, o.value.Word) && o.of.made && !r.states(o.of.path+".kind") {
		r.put(o.of, "kind", "tube", "a line of "+o.value.Label+" taken as a tube", t)
	}
}

// values are the facts of which a phrase may be a word: of what is spoken of, or else by the table's own forms.
func (r *reader) values(c *clause, t *token) (found []option) {
	for _, x := range c.tokens { // muffler removed
		for _, h := range x.hits {
			if x == t || !h.Own || h.Value != nil || h.Row.Where == words.Nobody {
				continue
			}
			for _, o := range t.hits {
				if of := r.holder(h.Row.Part); o.Value != nil && o.Row == h.Row && of != nil {
					return []option{{of: of, row: o.Row, value: o.Value}}
				}
			}
		}
	}
	for _, things := range [][]*thing{c.things, r.before(c)} {
		for _, inside := range []bool{false, true} {
			for _, of := range things {
				all := factsOf(of, "", of.part)
				if inside {
					all = insides(of)
				}
				for _, o := range all {
					for _, h := range t.hits {
						if h.Value != nil && h.Row == o.row && !byKind(h.Row) && h.Row.Name() != "CircuitLoad.kind" {
							o.value = h.Value
							found = append(found, o)
						}
					}
				}
				if len(found) > 0 {
					return found
				}
			}
		}
	}
	if isNoun(t) {
		return nil
	}
	for _, h := range t.hits {
		if h.Row.Name() == "Design.regions" && len(t.text) <= 3 && t.text != strings.ToUpper(t.text) {
			continue // us is no country
		}
		if h.Own && h.Value != nil && !byKind(h.Row) && h.Row.Part != "CircuitLoad" {
			if of := r.holder(h.Row.Part); of != nil {
				found = append(found, option{of: of, row: h.Row, value: h.Value})
			}
		}
	}
	return found
}

// outright keeps of several the words that the table's own forms say.
func outright(options []option, t *token) []option {
	if len(options) < 2 {
		return options
	}
	said := slices.DeleteFunc(slices.Clone(options), func(o option) bool {
		return !slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Own && h.Value == o.value })
	})
	if len(said) > 0 {
		return said
	}
	return options
}

// yes states a yes or no: submersible, no check valve.
func (r *reader) yes(c *clause, i int) bool {
	t := c.tokens[i]
	var found []option
	for _, o := range c.scope() {
		if known().fields[o.row.Name()].Kind == schema.KindBool && names(t, o.row) {
			found = append(found, o)
		}
	}
	if len(found) == 0 {
		for _, h := range t.hits {
			if h.Own && h.Value == nil && known().fields[h.Row.Name()].Kind == schema.KindBool {
				if of := r.holder(h.Row.Part); of != nil {
					found = append(found, option{of: of, row: h.Row})
				}
			}
		}
	}
	if len(found) != 1 {
		for _, o := range found {
			t.could = append(t.could, o.path())
		}
		return false
	}
	value, from := "true", []*token{t}
	if by := negation(c.tokens, i); by != nil {
		value, from = "false", append(from, by)
	}
	t.why = r.put(found[0].of, found[0].key(), value, "", from...)
	return t.why == ""
}
