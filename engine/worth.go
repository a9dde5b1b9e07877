package engine

import (
	"math"
	"slices"
	"strings"

	"plumbline/engine/pattern"
	"plumbline/schema"
	"plumbline/schema/words"
)

// What an answer is worth to a job that is planned is judged on usual builds, by the numbers of the parts that are bought by
// a figure: pump, injectors, regulator, hose. A fact that no usual build tells holds up all numbers that need it; one that
// a usual build tells by a range moves them; one by which the usual ways differ moves what rests on the way. Only facts
// count that somebody can know who has the parts and the customer before them: a number that waits for the maker's sheet
// besides waits anyway.

// worth is how many numbers of a usual build hang on facts that nobody stated, by their path.
type worth struct {
	of map[string]*hanging
	// moved is how many numbers a group of patterns moves; boxes is how many builds were looked at.
	moved map[string]*hanging
	boxes int
}

// hanging is what hangs on an answer.
type hanging struct {
	// numbers are those of parts of whose figure nothing is stated, late those of parts whose figure is known.
	numbers, late float64
	rules         map[string]bool
	// from is where the answer is found, figure is set where a part is bought by it.
	from   words.Where
	figure bool
}

// decisive is the share of one number from which an answer decides. It is a choice: half a number means that the answer
// settles one of two that wait for it. Of a part whose figure is known it takes a whole number.
const decisive = 0.5

// noticed is the share of what moves a number from which one pattern counts as moving it: a tenth, below which no gauge would
// tell. It is a choice.
const noticed = 0.1

// WhereTo says where the answer to a question is found. A part of which only is asked whether it is there is seen; a list is
// told by nobody at once.
func WhereTo(declared *schema.Declared, path string) words.Where {
	row := declared.Said(path)
	switch {
	case row == nil:
		return words.Nobody
	case declared.Describe(path).Field.Kind == schema.KindMaybe:
		return words.Eye
	}
	return row.Where
}

// figured reports whether a finding is about the figure by which its part is bought, needing one or resting on one, and
// whether the design states it.
func (l *leaner) figured(f *Finding) (about, stated bool) {
	for _, path := range slices.Concat(f.Missing, f.rests.all()) {
		row := l.library.declared.Said(path)
		if row == nil || !row.Figure || !schema.Path(f.Subject).Holds(schema.Path(path)) {
			continue
		}
		about = true
		for _, figure := range words.Figures(row.Part) {
			fact := l.design.FactAt(string(schema.Path(path).Sibling(figure.Key)))
			stated = stated || fact != nil && schema.IsStated(fact)
		}
	}
	return about, stated
}

// figure reports whether a part is bought by a fact; of the pieces of a line hose is.
func (l *leaner) figure(path string) bool {
	row := l.library.declared.Said(path)
	if row == nil || !row.Figure {
		return false
	}
	return slices.Contains(FiguresOf(l.design, string(schema.Path(path).Parent())), row)
}

// tellsFigure reports whether a pattern tells a figure by which a part is bought.
func tellsFigure(p *pattern.Pattern) bool {
	out := false
	schema.Walk(p.Design, func(v schema.Visit) {
		row := schema.Said(v.Path)
		out = out || row != nil && row.Figure && v.Reading.Ranged()
	})
	return out
}

// FiguresOf are the figures by one of which a part of a design is bought. Of a piece of line that is no hose there are none.
func FiguresOf(d *schema.Design, part string) []*words.Row {
	if run, ok := d.At(part).(*schema.Run); ok {
		if kind, known := run.Kind.Get(); known && kind != "hose" {
			return nil
		}
	}
	return words.Figures(schema.TypeAt(part))
}

// weigh adds what the findings of a box say at its usual values, with how far the numbers of each pattern move them.
func (l *leaner) weigh(b *box, found []map[pointKey]*Finding) {
	w := &l.worth
	if w.of == nil {
		w.of, w.moved = map[string]*hanging{}, map[string]*hanging{}
	}
	w.boxes++
	groups, group := b.groups()
	of := make([][]string, len(groups))
	for i := range b.dims {
		x := &b.dims[i]
		if x.from != nil && x.with == i && !strings.Contains(x.path, "[") && WhereTo(l.design.Declared(), x.path).AtCounter() {
			of[group[i]] = append(of[group[i]], x.path)
		}
	}
	for key, f := range found[0] {
		about, late := l.figured(f)
		if !f.Numeric || f.Sense || !about || f.Outcome == NotApplicable {
			continue
		}
		if f.Outcome == Open {
			all := 1.0
			if slices.ContainsFunc(f.Missing, func(path string) bool { return !WhereTo(l.design.Declared(), path).AtCounter() }) {
				all = 0 // a figure is asked for all the same
			}
			for _, path := range f.Missing {
				l.hang(path, f.Rule, late, all/float64(len(f.Missing)))
			}
			continue
		}
		moves, all := make([]float64, len(groups)), 0.0
		for g := range groups { // the points of a box begin with three of all, then two of each group
			moves[g] = moved(found[3+2*g][key], found[4+2*g][key])
			all += moves[g]
		}
		for g := range groups {
			p, usual := groups[g].(*pattern.Pattern)
			if !usual || moves[g] == 0 {
				continue
			}
			if moves[g] >= noticed*all {
				hangs(w.moved, p.Group, f.Rule, late, 1)
			}
			rests := slices.DeleteFunc(slices.Clone(of[g]), func(path string) bool { return !f.rests.paths[path] })
			for _, path := range rests {
				l.hang(path, f.Rule, late, moves[g]/all/float64(len(rests)))
			}
		}
	}
}

// moved is how far a number moves between two points, as a share of the larger.
func moved(a, b *Finding) float64 {
	if a == nil || b == nil || a.Measured == nil || b.Measured == nil {
		return 0
	}
	x, y := a.Measured.Value, b.Measured.Value
	if most := max(math.Abs(x), math.Abs(y)); most > 0 {
		return math.Abs(x-y) / most
	}
	return 0
}

// hang counts a fact. Where its list is not named yet the list is asked for, if its pieces are bought by the fact.
func (l *leaner) hang(path, rule string, late bool, by float64) {
	h := hanging{from: WhereTo(l.design.Declared(), path), figure: l.figure(path)}
	for at, step := range schema.Path(path).Along() {
		if !step.Item {
			continue
		}
		list, ok := l.design.At(string(at.Parent())).(schema.Listing)
		if ok && step.Index < list.Len() {
			continue
		}
		if !ok || list.Known() || list.Open() || !h.figure {
			return
		}
		path = string(at.Parent())
		break
	}
	hangs(l.worth.of, path, rule, late, by)
	l.worth.of[path].from, l.worth.of[path].figure = h.from, h.figure
}

func hangs(on map[string]*hanging, what, rule string, late bool, by float64) {
	h := on[what]
	if h == nil {
		h = &hanging{rules: map[string]bool{}}
		on[what] = h
	}
	if late {
		h.late += by
	} else {
		h.numbers += by
	}
	if rule != "" {
		h.rules[rule] = true
	}
}

// ways counts the words by which those patterns of a group differ that may all hold: an answer parts them, the better the
// more evenly, and moves what rests on the group. Where no pattern of a group holds, what a rare one waits to hear decides.
func (l *leaner) ways(groups [][]*pattern.Pattern, only []string) {
	for _, path := range only {
		if WhereTo(l.design.Declared(), path).AtCounter() {
			l.hang(path, "", false, float64(l.worth.boxes))
		}
	}
	for _, fits := range groups {
		on := l.worth.moved[fits[0].Group]
		if on == nil {
			continue
		}
		said := map[string]map[string]int{}
		for _, p := range fits {
			for path, word := range p.Ways() {
				if said[path] == nil {
					said[path] = map[string]int{}
				}
				said[path][word]++
			}
		}
		for path, by := range said {
			most := 0
			for _, n := range by {
				most = max(most, n)
			}
			if len(by) < 2 || !WhereTo(l.design.Declared(), path).AtCounter() {
				continue
			}
			parts := (1 - float64(most)/float64(len(fits))) / float64(len(on.rules))
			for rule := range on.rules {
				l.hang(path, rule, false, on.numbers*parts)
				l.hang(path, rule, true, on.late*parts)
			}
		}
	}
}

// decide is what decides, by path, all figures among it: how many numbers of a usual build hang on it.
func (w *worth) decide() map[string]*hanging {
	out := map[string]*hanging{}
	for path, h := range w.of {
		h.numbers, h.late = h.numbers/float64(w.boxes), h.late/float64(w.boxes)
		if h.numbers >= decisive || h.late >= 2*decisive || h.figure {
			out[path] = h
		}
	}
	return out
}
