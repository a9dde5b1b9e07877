package lines

import (
	"slices"
	"strings"

	"plumbline/schema"
	"plumbline/schema/words"
)

// clause is what is said of one thing: the tokens up to the next comma or the next noun.
type clause struct {
	tokens []*token
	// head is the noun; nil where the clause goes on about what was spoken of before.
	head *token
	// things are what the head may be, the likeliest first.
	things []*thing
	// named is true when a thing came from a noun of this clause.
	named bool
}

// line reads one line.
func (r *reader) line(l *Line) {
	r.out, r.last, r.spoken, r.circuit, r.previous = l, nil, nil, nil, option{}
	if strings.TrimSpace(l.Text) == "" {
		l.Pieces = pieces(l.Text, nil)
		return
	}
	if r.text(l) {
		return
	}
	list, ok := tokens(l.Text)
	if !ok {
		l.Left = []Left{{Text: l.Text, Why: "the line has more than 200 words; write one thing a line"}}
		l.Pieces = []Piece{{l.Text, NotTaken}}
		return
	}
	doubts(list)
	all := make([]*token, len(list))
	for i := range list {
		all[i] = &list[i]
	}
	clauses := cut(all)
	for i, c := range clauses {
		r.names(c)
		if len(c.things) > 0 {
			r.last = c.things
			r.spoken = append(slices.Clone(c.things), r.spoken...)
		}
		c.things = slices.Clone(r.last)
		r.assign(c)
		if i > 0 {
			r.again(clauses[i-1], c)
		}
	}
	for _, c := range clauses {
		r.settle(c)
	}
	slices.SortStableFunc(l.Understood, func(a, b Understood) int { return a.begin - b.begin })
	l.Pieces = pieces(l.Text, list)
	l.Left = left(l.Text, list)
}

// text reads title: ..., notes: ... and description: ..., whose text is all that follows.
func (r *reader) text(l *Line) bool {
	name, rest, colon := strings.Cut(l.Text, ":")
	rest = strings.TrimSpace(rest)
	if !colon || rest == "" {
		return false
	}
	for _, hit := range words.Said(strings.TrimSpace(name)) {
		f := known().fields[hit.Row.Name()]
		in, once := known().home[hit.Row.Part]
		if hit.Value != nil || f.Kind != schema.KindText || !once {
			continue
		}
		t := &token{from: 0, to: len(l.Text), text: l.Text}
		if why := r.put(single(in, hit.Row.Part), hit.Row.Key, rest, "", t); why != "" {
			t.used, t.why = NotTaken, why
		}
		l.Pieces = pieces(l.Text, []token{*t})
		l.Left = left(l.Text, []token{*t})
		return true
	}
	return false
}

// isNoun reports whether a token names a part.
func isNoun(t *token) bool {
	if t.kind != phrase {
		return false
	}
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool {
		return h.Own && h.Value == nil && h.Row.Where == words.Nobody || h.Value != nil && byKind(h.Row)
	})
}

// byKind are the facts whose words name the items of a list.
func byKind(r *words.Row) bool {
	return slices.Contains([]string{"Run.kind", "Circuit.purpose"}, r.Name())
}

// cut parts a line at its commas, and where a second noun begins another thing. Nouns side by side are one, the last
// being what is spoken of: pump fuse. Numbers before the first noun go with the noun behind them.
func cut(all []*token) []*clause {
	var out []*clause
	begin := 0
	for i, t := range all {
		if t.kind == with {
			out = append(out, nouns(all[begin:i])...)
			begin = i + 1
		}
	}
	return append(out, nouns(all[begin:])...)
}

func nouns(tokens []*token) []*clause {
	if len(tokens) == 0 {
		return nil
	}
	// heads are the places of the nouns that are no modifiers and stand behind no preposition.
	var heads []int
	for i, t := range tokens {
		if !isNoun(t) || !isHead(tokens, i) || len(heads) > 0 && saysOf(tokens[heads[len(heads)-1]], t) {
			continue
		}
		if n := len(heads); n > 0 && namesALine(tokens[heads[n-1]]) && isPiece(t) {
			heads[n-1] = i // return line 5/16 steel tube: one piece
			continue
		}
		if n := len(heads); n > 0 && namesALine(t) && isPiece(tokens[heads[n-1]]) {
			continue // hose 3/8 return
		}
		heads = append(heads, i)
	}
	if len(heads) == 0 {
		return []*clause{{tokens: tokens}}
	}
	var out []*clause
	begin := 0
	for n, h := range heads {
		end := len(tokens)
		if n+1 < len(heads) {
			end = h + 1
			if !speaks(tokens[:heads[0]]) {
				end = max(beginOf(tokens, heads[n+1]), h+1)
			}
		}
		out = append(out, &clause{tokens: tokens[begin:end], head: tokens[h]})
		begin = end
	}
	return out
}

// speaks reports whether a number or word of meaning is among tokens.
func speaks(tokens []*token) bool {
	return slices.ContainsFunc(tokens, func(t *token) bool { return t.kind == figure && !t.num.whole })
}

// isHead reports whether the noun at a place is what is spoken of.
func isHead(tokens []*token, i int) bool {
	if i+1 < len(tokens) && isNoun(tokens[i+1]) && !saysOf(tokens[i], tokens[i+1]) {
		return false
	}
	return !behindPrep(tokens, i)
}

// behindPrep reports whether the noun at a place stands behind a preposition: to the pump.
func behindPrep(tokens []*token, i int) bool {
	for i--; i >= 0; i-- {
		switch {
		case tokens[i].kind == prep || tokens[i].kind == at:
			return true
		case tokens[i].kind != filler && !isNoun(tokens[i]):
			return false
		}
	}
	return false
}

// saysOf reports whether a noun is a word or the name of a fact of the part another one names: return of a regulator,
// pipe of the exhaust.
func saysOf(part, t *token) bool {
	return slices.ContainsFunc(part.hits, func(h words.Hit) bool {
		in := known().fields[h.Row.Name()].Part
		return h.Value == nil && in != "" && slices.ContainsFunc(t.hits, func(o words.Hit) bool {
			return o.Own && o.Row.Part == in && o.Row.Where != words.Nobody && !byKind(o.Row)
		})
	})
}

// namesALine reports whether a noun is a whole line, such as return; isPiece whether it is a piece of one.
func namesALine(t *token) bool {
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Own && known().fields[h.Row.Name()].Part == "Line" })
}

func isPiece(t *token) bool {
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Value != nil && h.Row.Name() == "Run.kind" })
}

// liesOn reports whether a line is said to be where a piece belongs: hose for the return.
func liesOn(tokens []*token, i int) bool {
	for i--; i >= 0; i-- {
		if tokens[i].kind == prep {
			return slices.Contains([]string{"for", "on", "in"}, strings.ToLower(tokens[i].text))
		}
	}
	return false
}

// beginOf is where what belongs to the noun at a place begins: its modifiers and a count, as in 4 injectors, a 10 A fuse.
func beginOf(tokens []*token, i int) int {
	for i > 0 {
		switch t := tokens[i-1]; {
		case isNoun(t) && !behindPrep(tokens, i-1), t.kind == no, t.kind == unknown:
			i--
		case t.kind == figure && t.num.whole:
			return i - 1
		default:
			return i
		}
	}
	return i
}

// names finds what a clause speaks of: its head, with what stands beside it and behind prepositions for the line or the
// circuit it belongs to.
func (r *reader) names(c *clause) {
	line := ""
	size := false
	for i, t := range c.tokens {
		size = size || t.kind == figure && t.num.size
		if !isNoun(t) {
			continue
		}
		for _, h := range t.hits {
			switch {
			case h.Value != nil && h.Row.Name() == "Circuit.purpose":
				r.circuit = r.circuitOf(h.Value, t)
			case h.Value == nil && known().fields[h.Row.Name()].Part == "Line" && line == "" && (!behindPrep(c.tokens, i) || liesOn(c.tokens, i)):
				line, t.told = h.Row.Key, true
			}
		}
	}
	if c.head != nil && line == "" && isPiece(c.head) {
		line = between(c.tokens)
	}
	if c.head != nil {
		c.things = r.nounThings(c.head, line)
		c.named = len(c.things) > 0
	}
	if size && !slices.ContainsFunc(c.things, func(t *thing) bool { return hasSize(t.part) }) {
		if r.circuit != nil {
			c.things = []*thing{{part: "Wire", under: r.circuit, key: "feed_wires", item: true}, r.circuit}
			c.named = true
			for i, t := range c.tokens { // to the pump names the circuit
				if isNoun(t) && isPurpose(t, r.circuit) && (behindPrep(c.tokens, i) || t == c.head) {
					t.used = Taken
				}
			}
		}
	}
	if c.named {
		r.title(c, line)
	}
}

// ways are the lines by the parts that they lead from and to.
var ways = []struct{ from, to, line string }{
	{"Tank", "Pump", "suction"}, {"Tank", "Regulator", "return_line"}, {"Tank", "ThrottleBody", "return_line"},
	{"Pump", "ThrottleBody", "feed"}, {"Pump", "Engine", "feed"}, {"Pump", "Regulator", "feed"},
}

// between is the line that a piece belongs to by the two parts it is said to lead between: from tank to pump.
func between(tokens []*token) string {
	ends := map[string]*token{}
	for i, t := range tokens {
		if !isNoun(t) || !behindPrep(tokens, i) {
			continue
		}
		for _, h := range t.hits {
			if part := known().fields[h.Row.Name()].Part; h.Own && h.Value == nil && part != "" {
				ends[part] = t
			}
		}
	}
	for _, way := range ways {
		if from, to := ends[way.from], ends[way.to]; from != nil && to != nil {
			from.told, to.told = true, true
			return way.line
		}
	}
	for i, t := range tokens {
		if pump := ends["Pump"]; pump != nil && t == pump {
			for i--; i >= 0 && tokens[i].kind == filler; i-- {
			}
			if line := beside[words.Plain(tokens[max(i, 0)].text)]; line != "" {
				pump.told = true
				return line
			}
		}
	}
	return ""
}

// beside are the lines by the side of the pump on which a piece sits.
var beside = map[string]string{"before": "suction", "ahead of": "suction", "in front of": "suction", "upstream of": "suction", "after": "feed", "behind": "feed", "downstream of": "feed"}

func isPurpose(t *token, circuit *thing) bool {
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool {
		return h.Value != nil && h.Row.Name() == "Circuit.purpose" && slices.ContainsFunc(circuit.first, func(f first) bool { return f.value == h.Value.Word })
	})
}

// hasSize reports whether a wire size may be a fact of a type.
func hasSize(part string) bool {
	_, ok := known().fields[part+".size"]
	return ok && part != "LineEnd"
}

// nounThings are the things that a noun may name.
func (r *reader) nounThings(t *token, line string) []*thing {
	var out []*thing
	for _, h := range t.hits {
		switch {
		case h.Value != nil && h.Row.Name() == "Run.kind":
			if line == "" {
				line = "feed"
			}
			run := r.run(line)
			run.first = []first{{"kind", h.Value.Word, []*token{t}}}
			return []*thing{run}
		case h.Value != nil && h.Row.Name() == "Circuit.purpose":
			circuit := r.circuitOf(h.Value, t)
			if h.Value.Word == "main_relay" { // what is said of it is said of the relay
				return []*thing{{part: "Relay", under: circuit, key: "relay"}, circuit}
			}
			out = append(out, circuit)
		case h.Own && h.Value == nil && h.Row.Where == words.Nobody:
			if f := r.thingOf(h.Row); f != nil {
				out = append(out, f)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *thing) int {
		if (a.part == "Circuit") == (b.part == "Circuit") {
			return 0
		} else if a.part == "Circuit" {
			return 1
		}
		return -1
	})
	return out
}

// title names a piece of a line by the words before its noun that say nothing else: glass filter, pump hose.
func (r *reader) title(c *clause, line string) {
	if c.head == nil || len(c.things) != 1 || c.things[0].part != "Run" && c.things[0].part != "OxygenSensor" || len(c.things[0].first) == 0 && line == "" {
		return
	}
	t := c.things[0]
	if t.part == "Run" && len(t.first) == 0 {
		return
	}
	h := slices.Index(c.tokens, c.head)
	i := h
	for i > 0 && nameless(c.tokens[i-1], line) {
		i--
	}
	var from []*token
	for _, x := range c.tokens[i:h] {
		if x.kind == unknown || isNoun(x) && !namesLine(x, line) || x.kind == phrase && !isNoun(x) {
			from = append(from, x)
		}
	}
	for _, x := range c.tokens {
		if x.kind == quoted {
			r.put(t, "name", strings.Trim(x.text, `"`), "", x)
			return
		}
	}
	if len(from) == 0 {
		return
	}
	text := r.out.Text[from[0].from:c.head.to]
	t.first = append([]first{{"name", text, append(from, c.head)}}, t.first...)
}

// nameless reports whether a token before a piece's noun may be part of its name: no number, and no word that is a fact of
// a piece.
func nameless(t *token, line string) bool {
	switch t.kind {
	case unknown:
		return t.why == ""
	case phrase:
		if isNoun(t) {
			return true
		}
		return !slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Row.Part == "Run" })
	}
	return false
}

func namesLine(t *token, line string) bool {
	return slices.ContainsFunc(t.hits, func(h words.Hit) bool { return h.Value == nil && h.Row.Key == line && h.Own })
}
