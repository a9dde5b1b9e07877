package lines

import (
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// wheel gives the teeth of a wheel to the speed signal, where the line speaks of it.
func (r *reader) wheel(c *clause, t *token) (option, bool) {
	const part = "SpeedSignal"
	spoken := slices.ContainsFunc(slices.Concat(r.last, r.spoken), func(x *thing) bool { return x.part == part })
	ofIt := func(h words.Hit) bool { return h.Own && h.Row.Part == part }
	if !spoken && !slices.ContainsFunc(c.tokens, func(x *token) bool { return slices.ContainsFunc(x.hits, ofIt) }) {
		t.why = "a number needs a unit, or the word for what it is"
		return option{}, false
	}
	o := option{of: r.holder(part), row: words.Of(part, "teeth")}
	t.why = r.put(o.of, o.key(), t.num.text, t.num.taken, t)
	return o, t.why == ""
}

// figure gives a number to its fact.
func (r *reader) figure(c *clause, i int, previous option) (option, bool) {
	t := c.tokens[i]
	if denied(c.tokens, i) {
		t.why = notSo
		return option{}, false
	}
	if partOf(c) == "Injectors" || i > 0 && names(c.tokens[i-1], words.Of("Injectors", "static_flow")) {
		t.num = t.num.inATime()
	}
	if t.num.wheel {
		return r.wheel(c, t)
	}
	if i+1 < len(c.tokens) && t.num.bare {
		t.num = t.num.litres(c.tokens[i+1])
	}
	options, by := r.near(c, i, previous)
	if len(options) == 0 && len(t.hits) > 0 && r.phrase(c, i) { // 12 volt is a word of the battery
		return option{}, true
	}
	if len(options) == 0 && !r.misnamed(c, i) {
		options = r.far(c, i)
	}
	if len(options) == 1 {
		o := options[0]
		from := []*token{t}
		if by != nil {
			from = append(from, by)
		}
		n := t.num
		if by != nil {
			n = n.withUnit(by.text)
		}
		t.why = r.put(o.of, o.key(), n.text, outside(o, n.taken), from...)
		if t.why == "" {
			r.note(c, o.of)
			r.loadKind(c, o)
			return o, true
		}
		return option{}, false
	}
	t.could = nil
	for _, o := range options {
		t.could = append(t.could, o.path())
	}
	switch {
	case len(options) > 1:
		t.why = "it may be " + strings.Join(t.could, " or ") + "; say which"
	case t.num.bare && t.num.taken == "":
		t.why = "a number needs a unit, or the word for what it is"
	case r.misnamed(c, i):
		t.why = "it is no quantity of what stands before it"
	case len(c.things) == 0 && c.head != nil:
		t.why = "of which circuit? Say it with what it supplies: pump " + c.head.text
	case len(c.things) == 0:
		t.why = "say of what it is"
	default:
		t.why = "nothing of " + nameOf(c) + " is such a quantity, or not of that size"
	}
	return option{}, false
}

// outside adds to what was taken by custom that a tube is sold by its outside.
func outside(o option, taken string) string {
	if o.row.Name() != "Run.bore" || !slices.ContainsFunc(o.of.first, func(f first) bool { return f.key == "kind" && f.value == "tube" }) {
		return taken
	}
	if taken != "" {
		taken += "; "
	}
	return taken + "taken as the bore, though a tube is sold by its outside: write od where that is meant"
}

func nameOf(c *clause) string {
	if c.head != nil {
		return "the " + c.head.text
	}
	return "what stands before it"
}

// note goes on about a part that a word or number of the clause was of.
func (r *reader) note(c *clause, t *thing) {
	c.things, r.last, r.spoken = appendNew(c.things, t), appendNew(r.last, t), appendNew(r.spoken, t)
}

// loadKind states what kind of load it is whose current was read, where the noun says that too: a pump, a fan.
func (r *reader) loadKind(c *clause, o option) {
	if o.prefix != "load" || c.head == nil {
		return
	}
	for _, h := range c.head.hits {
		if h.Value != nil && h.Row.Name() == "CircuitLoad.kind" {
			r.put(o.of, "load.kind", h.Value.Word, "", c.head)
			return
		}
	}
}

// before are the things the line spoke of before, for a clause without a noun of its own.
func (r *reader) before(c *clause) []*thing {
	if c.head != nil {
		return nil
	}
	return r.spoken
}

// around are those of them that hold what a clause speaks of, as a throttle body its injectors.
func (r *reader) around(c *clause) []*thing {
	return slices.DeleteFunc(slices.Clone(r.before(c)), func(whole *thing) bool {
		return whole == root || !slices.ContainsFunc(c.things, func(t *thing) bool {
			for t = t.under; t != nil; t = t.under {
				if t == whole {
					return true
				}
			}
			return false
		})
	})
}

func appendNew(things []*thing, t *thing) []*thing {
	if slices.Contains(things, t) {
		return things
	}
	return append(slices.Clone(things), t)
}

// near are the facts that a number may be by what stands beside it: named, following the number before, or said of the
// part without a name. The first of these that has any decides.
func (r *reader) near(c *clause, i int, previous option) (found []option, by *token) {
	t := c.tokens[i]
	if o, name := r.named(c, i); len(o) > 0 {
		return o, name
	}
	scope := c.scope()
	if previous.row != nil {
		for _, o := range scope {
			if o.of == previous.of && o.prefix == previous.prefix && slices.Contains(o.row.Bare.After, previous.row.Key) && takes(o.row, t.num) && !r.has(o) {
				return []option{o}, nil
			}
		}
	}
	for _, things := range [][]*thing{c.things, r.around(c)} {
		for _, inside := range []bool{false, true} { // the part's own facts before those of the parts in it
			for _, of := range things {
				all := factsOf(of, "", of.part)
				if inside {
					all = insides(of)
				}
				found = slices.DeleteFunc(all, func(o option) bool {
					return !o.row.Bare.Here || t.num.date || !takes(o.row, t.num) || !within(o.row, t.num)
				})
				if len(found) > 0 {
					return found, nil
				}
			}
		}
	}
	return nil, nil
}

// far are the facts that a number may be without a name: those said without their part, or the only one of the part that
// has its dimension.
func (r *reader) far(c *clause, i int) (found []option) {
	t := c.tokens[i]
	for _, row := range words.Rows() {
		if row.Bare.Anywhere && takes(row, t.num) && within(row, t.num) {
			if of := r.holder(row.Part); of != nil {
				found = append(found, option{of: of, row: row})
			}
		}
	}
	if len(found) > 0 || t.num.bare {
		return found
	}
	for _, of := range c.things {
		for _, o := range factsOf(of, "", of.part) {
			// A length may be that of anything.
			if takes(o.row, t.num) && known().fields[o.row.Name()].Dimension != quantity.DimLength {
				found = append(found, o)
			}
		}
		if len(found) > 0 {
			return found
		}
	}
	return nil
}

// misnamed reports whether the name of a fact that takes no such number stands right before it: injector size 650 psi.
func (r *reader) misnamed(c *clause, i int) bool {
	if i == 0 {
		return false
	}
	t := c.tokens[i-1]
	return t.kind == phrase && t.used != Taken && t != c.head && slices.ContainsFunc(t.hits, func(h words.Hit) bool {
		return h.Own && h.Value == nil && known().fields[h.Row.Name()].Kind == schema.KindQuantity
	})
}

func (r *reader) has(o option) bool {
	if !o.of.made {
		return false
	}
	_, stated := r.stated[join(o.of.path, o.key())]
	return stated
}

// named are the facts whose names stand beside a number: setting 58 psi, 15 ft long.
func (r *reader) named(c *clause, i int) ([]option, *token) {
	for _, step := range []int{-1, 1} {
		for k := i + step; k >= 0 && k < len(c.tokens); k += step {
			t := c.tokens[k]
			if t.kind == filler || step < 0 && t.kind == at || t == c.head && !isFact(t) {
				continue
			}
			if t.kind != phrase || t.used == Taken && t != c.head || !isFact(t) || step > 0 && r.nearer(c, i, k) {
				break
			}
			if found := r.rowsOf(c, t, c.tokens[i].num.withUnit(t.text)); len(found) > 0 {
				return found, t
			}
			break
		}
	}
	return nil, nil
}

// nearer reports whether a name behind a number belongs to the number behind it: 9 A max 60 psi.
func (r *reader) nearer(c *clause, i, k int) bool {
	for n := k + 1; n < len(c.tokens); n++ {
		switch t := c.tokens[n]; t.kind {
		case filler, at:
		case figure:
			return len(r.rowsOf(c, c.tokens[k], t.num)) > 0 && !t.num.bare
		default:
			return false
		}
	}
	return false
}

func isFact(t *token) bool {
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Value == nil && h.Row.Where != words.Nobody })
}

// rowsOf are the facts a phrase names that take a number: of what is spoken of, or else anywhere.
func (r *reader) rowsOf(c *clause, t *token, n *number) (found []option) {
	for _, of := range append(slices.Clone(c.things), r.before(c)...) {
		for _, all := range [][]option{factsOf(of, "", of.part), insides(of)} {
			for _, o := range all {
				if names(t, o.row) && takes(o.row, n) {
					found = append(found, o)
				}
			}
			if len(found) > 0 {
				return found
			}
		}
	}
	if found = rated(c, t, n); len(found) > 0 {
		return found
	}
	for _, h := range t.hits {
		if h.Own && h.Value == nil && takes(h.Row, n) {
			if of := r.holder(h.Row.Part); of != nil {
				found = append(found, option{of: of, row: h.Row})
			}
		}
	}
	return found
}

// rated are the ratings of what a clause speaks of for a quantity that is a fact of another part: what a hose says of
// ethanol is what it is made for, not what is in the tank.
func rated(c *clause, t *token, n *number) (found []option) {
	for _, of := range c.things {
		for _, o := range factsOf(of, "", of.part) {
			if takes(o.row, n) && slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Value == nil && o.row.Key == h.Row.Key+"_rating" }) {
				found = append(found, o)
			}
		}
	}
	return found
}

func names(t *token, row *words.Row) bool {
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Value == nil && h.Row == row })
}

// scope are all facts of what a clause speaks of.
func (c *clause) scope() []option { return scopeOf(c.things) }

func scopeOf(things []*thing) (out []option) {
	for _, t := range things {
		out = append(append(out, factsOf(t, "", t.part)...), insides(t)...)
	}
	return out
}

// insides are the facts of the parts inside a part.
func insides(t *thing) (out []option) {
	parts := below(t.part)
	for _, key := range known().keys[t.part] {
		if part := parts[key]; part != "" {
			out = append(out, factsOf(t, key, part)...)
		}
	}
	return out
}

func factsOf(t *thing, prefix, part string) (out []option) {
	for _, key := range known().keys[part] {
		row := words.Of(part, key)
		if row != nil && row.Where != words.Nobody {
			out = append(out, option{of: t, prefix: prefix, row: row})
		}
	}
	return out
}
