package lines

import (
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/words"
)

// option is a fact that something said may mean: row's fact of a thing, prefix leading to a part inside it.
type option struct {
	of     *thing
	prefix string
	row    *words.Row
	value  *words.Value
}

func (o option) key() string { return join(o.prefix, o.row.Key) }

// path names the option for people, without making anything.
func (o option) path() string {
	var keys []string
	for t := o.of; t != nil && t.key != ""; t = t.under {
		key := t.key
		if t.made {
			key = t.path
		}
		keys = append(keys, key)
		if t.made {
			break
		}
	}
	slices.Reverse(keys)
	return join(strings.Join(keys, "."), o.key())
}

// assign gives the numbers and words of a clause to the facts of what it speaks of.
func (r *reader) assign(c *clause) {
	r.heads(c)
	for i, t := range c.tokens {
		if t.used != Taken && t.kind == phrase && t != c.head && t.why == "" && !r.isName(c, i) {
			r.phrase(c, i)
		}
		if t.used != Taken && t.kind == quoted {
			t.why = "a text in quotes is the name of a hose, tube or filter; here it names nothing"
		}
	}
	previous := r.previous
	if c.head != nil {
		previous = option{}
	}
	for i, t := range c.tokens {
		if t.used == Taken || t.kind != figure || r.isCount(c, i) {
			continue
		}
		if o, ok := r.figure(c, i, previous); ok {
			previous = o
			if i > 1 && o.row != nil && r.isCount(c, i-2) { // a number that is a word counts nothing
				r.counted(c.tokens[i-2], o)
			}
		}
	}
	r.previous = previous
	for i, t := range c.tokens {
		if r.isCount(c, i) && t.used != Taken {
			r.counted(t, append(c.scope(), scopeOf(r.last)...)...)
		}
	}
}

// isName reports whether a phrase names the number beside it: 6 in from the battery.
func (r *reader) isName(c *clause, i int) bool {
	for _, k := range []int{i - 1, i + 1} {
		if k < 0 || k >= len(c.tokens) || c.tokens[k].kind != figure {
			continue
		}
		for _, of := range c.things {
			for _, o := range append(factsOf(of, "", of.part), insides(of)...) {
				if names(c.tokens[i], o.row) && takes(o.row, c.tokens[k].num) {
					return true
				}
			}
		}
	}
	return false
}

// isCount reports whether a number is how many there are: 4 x.
func (r *reader) isCount(c *clause, i int) bool {
	return c.tokens[i].kind == figure && c.tokens[i].num.whole && i+1 < len(c.tokens) && c.tokens[i+1].kind == times
}

// counted states how many there are of the first of some facts that can be counted: injectors of a flow, bores of a diameter.
func (r *reader) counted(t *token, of ...option) {
	for _, o := range of {
		for _, x := range factsOf(o.of, o.prefix, o.row.Part) {
			if counts(x.row) && takes(x.row, t.num) {
				t.why = r.put(x.of, x.key(), t.num.text, "", t)
				return
			}
		}
	}
}

// counts reports whether a fact is how many of its part there are.
func counts(row *words.Row) bool { return row.Key == "count" || row.Name() == "ThrottleBody.bores" }

// heads takes what a noun itself says: truck is the class of the vehicle, no return that there is none.
func (r *reader) heads(c *clause) {
	if c.head == nil {
		return
	}
	h := slices.Index(c.tokens, c.head)
	negated := negation(c.tokens, h)
	if negated != nil {
		r.absent(c, negated)
		return
	}
	for _, hit := range c.head.hits {
		if hit.Value == nil || byKind(hit.Row) || hit.Row.Key != "kind" && hit.Row.Key != "class" {
			continue
		}
		for _, t := range c.things {
			if t.part == hit.Row.Part && known().fields[hit.Row.Name()].Kind == schema.KindWord && c.head.used != Taken {
				r.put(t, hit.Row.Key, hit.Value.Word, "", c.head)
			}
		}
	}
	// 4 injectors, two injectors
	if count := words.Of(partOf(c), "count"); count != nil && h > 0 {
		t := c.tokens[h-1]
		if n := wholeOf(t); n != nil && takes(count, n) {
			if why := r.put(c.things[0], "count", n.text, "", t, c.head); why != "" {
				t.why = why
			}
		}
	}
}

func partOf(c *clause) string {
	if len(c.things) == 0 {
		return ""
	}
	return c.things[0].part
}

// negation is the no before the noun or word at a place, or the none right behind it; nil when there is none.
func negation(tokens []*token, i int) *token {
	for k := i - 1; k >= 0; k-- {
		if tokens[k].kind == no {
			return tokens[k]
		}
		if tokens[k].kind != filler && !isNoun(tokens[k]) {
			break
		}
	}
	for k := i + 1; k < len(tokens); k++ {
		if tokens[k].kind == no && strings.EqualFold(tokens[k].text, "none") {
			return tokens[k]
		}
		if tokens[k].kind != filler {
			break
		}
	}
	return nil
}

const notSo = "what is not so cannot be stated; say what it is, or leave it out"

// denied reports whether a no or not stands right before a word or number.
func denied(tokens []*token, i int) bool {
	for k := i - 1; k >= 0; k-- {
		if tokens[k].kind != filler {
			return tokens[k].kind == no && !strings.EqualFold(tokens[k].text, "none")
		}
	}
	return false
}

// absent states that there is none of what a clause names.
func (r *reader) absent(c *clause, by *token) {
	for _, hit := range c.head.hits {
		f := known().fields[hit.Row.Name()]
		if hit.Value != nil || !hit.Own || f.Kind != schema.KindMaybe && !(f.Kind == schema.KindList && f.Part != "") {
			continue
		}
		in := r.holder(hit.Row.Part)
		if in == nil {
			c.head.why = "of which circuit? Say it with what it supplies: no pump relay"
			continue
		}
		if why := r.put(in, hit.Row.Key, "none", "", by, c.head); why != "" {
			c.head.why = why
		}
		c.things, r.last = nil, []*thing{in}
		return
	}
	for _, hit := range c.head.hits {
		if o := (option{}); hit.Value == nil && known().fields[hit.Row.Name()].Kind == schema.KindBool {
			o = option{of: r.holder(hit.Row.Part), row: hit.Row}
			if o.of != nil {
				r.put(o.of, o.key(), "false", "", by, c.head)
				return
			}
		}
	}
	if c.head.why == "" {
		c.head.why = "that there is none cannot be stated of it; leave it out"
	}
	by.why = c.head.why
	c.things, r.last = nil, nil
}
