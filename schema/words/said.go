package words

import (
	"slices"
	"strings"
)

// Hit is one meaning of what was said: a fact, part or list by its name, or a value of a fact.
type Hit struct {
	Row *Row
	// Value is set when a word of the fact was said rather than the fact.
	Value *Value
	// Own is true for forms of the table's own column, false for a label, a key or a word as the schema spells it: these
	// are only meant where the part they belong to is spoken of.
	Own bool
}

// Said are the meanings of a form, however its letters are written: in the order of the tables, the tables' own forms
// first.
func Said(form string) []Hit { return all().said[Plain(form)] }

// MostWords is how many words the longest form has.
func MostWords() int { return all().most }

// Plain brings a form to the way it is compared: small letters, one blank between words, none for underscores.
func Plain(form string) string {
	list := strings.Fields(strings.ReplaceAll(strings.ToLower(form), "_", " "))
	for i, word := range list {
		switch word {
		case "w/":
			list[i] = "with"
		case "w/o":
			list[i] = "without"
		}
	}
	return strings.Join(list, " ")
}

// notKnown are the answers of someone who does not know.
var notKnown = []string{"unknown", "don't know", "dont know", "do not know", "dunno", "not known", "not known yet", "no idea", "not sure", "unsure", "idk", "can't tell", "cannot tell", "?"}

// NotKnown reports whether an answer says that the answer is not known.
func NotKnown(form string) bool { return slices.Contains(notKnown, Plain(form)) }

// YesNo reads a yes or a no; not ok for anything else.
func YesNo(form string) (yes, ok bool) {
	switch Plain(form) {
	case "yes", "y", "yep", "yeah", "yup", "true", "on", "sure", "it does", "it is":
		return true, true
	case "no", "n", "nope", "nah", "false", "off", "none", "it does not", "it is not":
		return false, true
	}
	return false, false
}

func (t *table) index() {
	for _, r := range t.rows {
		t.add(Hit{Row: r, Own: true}, r.Spoken...)
		t.add(Hit{Row: r}, append(r.Asked, r.Label, r.Key)...)
		for i := range r.Values {
			v := &r.Values[i]
			t.add(Hit{Row: r, Value: v, Own: true}, v.Spoken...)
			t.add(Hit{Row: r, Value: v}, append(v.Asked, v.Label, v.Word)...)
		}
	}
	for form, hits := range t.said {
		slices.SortStableFunc(hits, func(a, b Hit) int {
			switch {
			case a.Own == b.Own:
				return 0
			case a.Own:
				return -1
			}
			return 1
		})
		t.said[form] = hits
	}
}

// add puts a meaning under its forms, once each.
func (t *table) add(h Hit, forms ...string) {
	for _, form := range forms {
		form = Plain(form)
		if form == "" || slices.ContainsFunc(t.said[form], func(o Hit) bool { return o.Row == h.Row && o.Value == h.Value }) {
			continue
		}
		t.said[form] = append(t.said[form], h)
		t.most = max(t.most, strings.Count(form, " ")+1)
	}
}

// Meant are the values of a fact that a form may stand for: as it is said, or the only ones it is the beginning of.
func (r *Row) Meant(form string) []*Value {
	form = Plain(form)
	var said, begun []*Value
	for i := range r.Values {
		v := &r.Values[i]
		whole, begins := false, false
		for _, f := range slices.Concat([]string{v.Label, v.Word}, v.Spoken, v.Asked) {
			f = Plain(f)
			whole = whole || f == form
			begins = begins || len(form) > 2 && strings.HasPrefix(f, form)
		}
		if whole {
			said = append(said, v)
		} else if begins {
			begun = append(begun, v)
		}
	}
	if len(said) > 0 {
		return said
	}
	if len(begun) == 1 {
		return begun
	}
	return nil
}

// CalledSo reports whether a form names what the row is of: by its label, or as it is spoken.
func (r *Row) CalledSo(form string) bool {
	form = Plain(form)
	return slices.ContainsFunc(append(r.Spoken[:len(r.Spoken):len(r.Spoken)], r.Label), func(f string) bool { return Plain(f) == form })
}
