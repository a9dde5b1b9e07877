package lines

import (
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/words"
)

// again tries what found no fact in its clause in the clause before or behind it.
func (r *reader) again(before, c *clause) {
	for _, pair := range [][2]*clause{{before, c}, {c, before}} {
		for _, t := range pair[0].tokens {
			if t.kind != figure || t.used == Taken || len(t.could) > 0 || t.num.bare {
				continue
			}
			other := *pair[1]
			other.tokens = []*token{t}
			other.head = nil
			r.figure(&other, 0, option{})
		}
	}
}

// settle says what became of the tokens of a clause that no fact took.
func (r *reader) settle(c *clause) {
	said := slices.ContainsFunc(c.tokens, func(t *token) bool { return t.used == Taken })
	// A part without a word about it is there.
	if c.head != nil && c.head.used != Taken && c.head.why == "" && !said {
		if r.circuit != nil && r.circuit.made && isPurpose(c.head, r.circuit) {
			c.head.used = Between // pump: what follows is of its circuit
			return
		}
		r.present(c)
	} else if c.head != nil && c.head.used != Taken && c.head.why == "" {
		r.fitted(c)
	}
	said = slices.ContainsFunc(c.tokens, func(t *token) bool { return t.used == Taken || t.kind == figure || len(t.could) > 0 })
	for i, t := range c.tokens {
		if t.used == Taken {
			continue
		}
		switch t.kind {
		case unknown, figure, quoted, no:
			t.used = NotTaken
		case phrase:
			t.used = NotTaken
			if isNoun(t) && said && len(t.could) == 0 && (t == c.head || t.told || !behindPrep(c.tokens, i) || r.followed(c, t)) || isFact(t) && named(c.tokens, i) {
				t.used = Between
			}
		}
		if t.used == NotTaken && t.why == "" {
			t.why = "not understood"
		}
		if t.used == NotTaken && isNoun(t) && i > 0 { // before the pump
			for k := i - 1; k >= 0 && (c.tokens[k].kind == filler || c.tokens[k].kind == prep); k-- {
				c.tokens[k].used, c.tokens[k].why = NotTaken, t.why
			}
		}
	}
}

// followed reports whether a noun behind a preposition is what was spoken of, or told the circuit.
func (r *reader) followed(c *clause, t *token) bool {
	for _, h := range t.hits {
		part := known().fields[h.Row.Name()].Part
		if h.Own && part != "" && slices.ContainsFunc(r.last, func(x *thing) bool { return x.part == part && x.made }) {
			return true
		}
	}
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool {
		return h.Value != nil && h.Row.Name() == "Circuit.purpose" && r.circuit != nil && isPurpose(t, r.circuit) && r.circuit.made
	})
}

// named reports whether the name of a fact stands beside a number that was taken.
func named(tokens []*token, i int) bool {
	for _, t := range tokens { // used in Texas
		if t.used == Taken && t.kind == phrase && slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Value != nil && names(tokens[i], h.Row) }) {
			return true
		}
	}
	return i > 0 && tokens[i-1].used == Taken && tokens[i-1].kind == figure || i+1 < len(tokens) && tokens[i+1].used == Taken && tokens[i+1].kind == figure
}

// fitted states that a part is there that a clause names while it says something of another one: relay from the battery.
func (r *reader) fitted(c *clause) {
	for _, hit := range c.head.hits {
		f := known().fields[hit.Row.Name()]
		if hit.Value != nil || !hit.Own || f.Kind != schema.KindMaybe || f.Part == "Line" {
			continue
		}
		if in := r.holder(hit.Row.Part); in != nil && in.made && !r.states(join(in.path, hit.Row.Key)) {
			c.head.why = r.put(in, hit.Row.Key, "{}", "", c.head)
		}
		return
	}
}

// states reports whether anything was stated of the part at a path.
func (r *reader) states(path string) bool {
	return slices.ContainsFunc(r.facts, func(f fact) bool { return f.path == path || strings.HasPrefix(f.path, path+".") })
}

// present states that a part is there of which nothing more is said.
func (r *reader) present(c *clause) {
	for _, t := range c.things {
		if len(t.first) > 0 && t.part != "Circuit" {
			if r.full(t) {
				continue
			}
			r.open(t)
			c.head.used = Taken
			return
		}
	}
	for _, hit := range c.head.hits {
		f := known().fields[hit.Row.Name()]
		if hit.Value != nil || !hit.Own || f.Kind != schema.KindMaybe || f.Part == "Line" {
			continue
		}
		if in := r.holder(hit.Row.Part); in != nil {
			c.head.why = r.put(in, hit.Row.Key, "{}", "", c.head)
			return
		}
		c.head.why = "of which circuit? Say it with what it supplies: pump relay"
	}
	if c.head.why == "" {
		c.head.why = "nothing is said of it"
	}
}
