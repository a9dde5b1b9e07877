package lines

import (
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/quantity"
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
		if t.used != Taken && t.kind == phrase && t != c.head && !r.isName(c, i) {
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
		}
	}
	r.previous = previous
	for i, t := range c.tokens {
		if r.isCount(c, i) && t.used != Taken {
			r.counted(c, t)
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

// counted states how many there are of what is spoken of.
func (r *reader) counted(c *clause, t *token) {
	for _, of := range append(slices.Clone(c.things), r.last...) {
		for _, o := range append(factsOf(of, "", of.part), insides(of)...) {
			if o.row.Key == "count" && takes(o.row, t.num) {
				t.why = r.put(o.of, o.key(), t.num.text, "", t)
				return
			}
		}
	}
}

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
	// 4 injectors
	if count := words.Of(partOf(c), "count"); count != nil && h > 0 {
		if t := c.tokens[h-1]; t.kind == figure && t.num.whole && takes(count, t.num) {
			if why := r.put(c.things[0], "count", t.num.text, "", t, c.head); why != "" {
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
	for _, h := range t.hits {
		if h.Own && h.Value == nil && takes(h.Row, n) {
			if of := r.holder(h.Row.Part); of != nil {
				found = append(found, option{of: of, row: h.Row})
			}
		}
	}
	return found
}

func names(t *token, row *words.Row) bool {
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Value == nil && h.Row == row })
}

// scope are all facts of what a clause speaks of.
func (c *clause) scope() (out []option) {
	for _, t := range c.things {
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

// phrase gives a word to the fact whose spoken form it is, or notes a yes.
func (r *reader) phrase(c *clause, i int) bool {
	t := c.tokens[i]
	options := outright(r.values(c, t), t)
	if len(options) > 0 && denied(c.tokens, i) {
		t.why = notSo
		return false
	}
	if len(options) == 1 {
		o := options[0]
		t.why = r.put(o.of, o.key(), o.value.Word, "", t)
		if t.why == "" {
			r.note(c, o.of)
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
		r.present(c)
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
