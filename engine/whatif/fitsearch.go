package whatif

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"plumbline/engine"
	"plumbline/engine/internal/cores"
	"plumbline/schema"
)

// fitter searches a shelf for one design.
type fitter struct {
	lib *engine.Library
	d   *schema.Design
	o   engine.Options
	fo  FitOptions
	v   *engine.Variants
	// wrong are the things that are wrong as it stands, worst their order; outcomes how every finding came out.
	wrong    wrongs
	worst    []key
	outcomes map[key]engine.Outcome
	// every are all places, seats those where something stands and something else may.
	every, seats []*seat
	// tried counts the sets of changes that were looked at.
	tried atomic.Int64
	memo  memo
	mu    sync.Mutex
	evals map[string]*evaluated
}

// evaluated is what became of some changes.
type evaluated struct {
	once sync.Once
	// wrong are the things that are wrong, those no change bears on included.
	wrong wrongs
	// open are those that are open or wrong.
	open []engine.Finding
}

func newFitter(lib *engine.Library, d *schema.Design, o engine.Options, shelf *schema.Shelf, series []Series, fo FitOptions) *fitter {
	f := &fitter{lib: lib, d: d, o: o, fo: fo, v: lib.Variants(d, o), outcomes: map[key]engine.Outcome{}, evals: map[string]*evaluated{}}
	f.memo.found = map[string][]engine.Finding{}
	f.fo.Choices, f.fo.MostPairs = cmp.Or(fo.Choices, 5), cmp.Or(fo.MostPairs, 1000)
	found := f.v.Judge(d, f.v.All(), engine.Whole)
	for i := range found {
		k := key{found[i].Rule, found[i].Subject}
		if had, known := f.outcomes[k]; !known || found[i].Outcome.Rank() < had.Rank() {
			f.outcomes[k] = found[i].Outcome
		}
	}
	f.wrong = badIn(found)
	f.worst = slices.DeleteFunc(sorted(f.wrong), func(k key) bool { return f.wrong[k].Sense })
	f.makeSeats(shelf, series)
	return f
}

// odd reports whether a check of sense warns: a part that does not add up with the rest is no choice.
func odd(f *engine.Finding) bool { return f.Sense && f.Outcome == engine.Warn && f.Conceded == nil }

// badIn are the findings that are wrong, or make no sense.
func badIn(found []engine.Finding) wrongs {
	out := wrongs{}
	for i := range found {
		if f := &found[i]; wrong(f) || odd(f) {
			out[key{f.Rule, f.Subject}] = f
		}
	}
	return out
}

// bearing are the places that a finding may rest on: those its rule may read, but for other items of its list where it reads none.
func (f *fitter) bearing(k key) []*seat {
	own := schema.Path("")
	if f.v.Apart(k.rule) {
		own = schema.Path(k.subject).Item()
	}
	return slices.DeleteFunc(slices.Clone(f.seats), func(s *seat) bool {
		other := schema.Path(s.path).Item()
		return !f.v.Has(s.rules, k.rule) || own != "" && other != own && schema.TypeAt(string(other)) == schema.TypeAt(string(own))
	})
}

// singles are the changes of one place.
func (f *fitter) singles(s *seat) [][]change {
	out := make([][]change, len(s.options))
	for i := range s.options {
		out[i] = []change{{s, &s.options[i]}}
	}
	return out
}

// name tells sets of changes apart; equal facts in the same place are one.
func name(changes []change) string {
	var b strings.Builder
	for _, c := range changes {
		if c.option.part != nil {
			fmt.Fprintf(&b, "%d=%s;", c.seat.at, c.option.part.Facts())
		} else {
			fmt.Fprintf(&b, "%d:%d;", c.seat.at, c.option.at)
		}
	}
	return b.String()
}

// eval judges the design with some changes, by the rules that may read what they change, as closely as Judge does.
func (f *fitter) eval(changes []change) *evaluated { return f.judge(changes, engine.Whole) }

// glance does so with all usual values, which costs little: what is wrong then is wrong looked at closely.
func (f *fitter) glance(changes []change) *evaluated {
	if len(f.o.Patterns) == 0 {
		return f.eval(changes)
	}
	return f.judge(changes, engine.Glance)
}

func (f *fitter) judge(changes []change, depth engine.Depth) *evaluated {
	name := fmt.Sprintf("%d:%s", depth, name(changes))
	f.mu.Lock()
	out := f.evals[name]
	if out == nil {
		f.tried.Add(1)
		out = &evaluated{}
		f.evals[name] = out
	}
	f.mu.Unlock()
	out.once.Do(func() {
		set := slices.Clone(changes[0].rules)
		for _, c := range changes[1:] {
			for i := range set {
				set[i] = set[i] || c.rules[i]
			}
		}
		out.take(f.find(changes, set, depth))
		for k, w := range f.wrong {
			if !f.v.Has(set, k.rule) {
				out.wrong[k] = w
			}
		}
	})
	return out
}

// take keeps what is wrong and what is open of some findings.
func (e *evaluated) take(found []engine.Finding) {
	e.wrong = wrongs{}
	for i := range found {
		x := &found[i]
		if bad := wrong(x) || odd(x); bad || x.Outcome == engine.Open {
			own := *x
			e.open = append(e.open, own)
			if bad {
				e.wrong[key{x.Rule, x.Subject}] = &own
			}
		}
	}
}

// against are the things wrong with some changes for which they are no choice: goals that stay, and what was not wrong before.
func (f *fitter) against(e *evaluated, goals []key) wrongs {
	out := wrongs{}
	for k, w := range e.wrong {
		if f.wrong[k] == nil || slices.Contains(goals, k) {
			out[k] = w
		}
	}
	return out
}

// opens are the rules that could be judged before and cannot be with some changes.
func (f *fitter) opens(e *evaluated) []string {
	var out []string
	for i := range e.open {
		x := &e.open[i]
		before, known := f.outcomes[key{x.Rule, x.Subject}]
		if x.Outcome == engine.Open && !x.Sense && known && before != engine.Open && before != engine.NotApplicable && !slices.Contains(out, x.Rule) {
			out = append(out, x.Rule)
		}
	}
	slices.Sort(out)
	return out
}

// answer finds the choices for some goals: one change in one of the first places, or one there and one in one of the second. It also
// gives what is wrong now and not with the best choice.
func (f *fitter) answer(goals []key, first, second []*seat) (Answer, map[key]bool) {
	a := Answer{Choices: []Choice{}}
	for _, k := range goals {
		a.Mends = append(a.Mends, complaint(f.wrong[k]))
	}
	var all [][]change
	for _, s := range first {
		all = append(all, f.singles(s)...)
	}
	slices.SortFunc(all, cheaper)
	fails := f.stay(all, goals)
	var good [][]change
	for i, c := range all {
		if len(fails[i]) == 0 {
			good = append(good, c)
		}
	}
	mended := f.choose(&a, good, goals, fails, all)
	if len(a.Choices) == 0 {
		var x *several
		stays := map[string]wrongs{}
		for i, c := range all {
			if len(goals) > 0 {
				stays[name(c)] = fails[i]
			}
		}
		good, x = f.pairs(goals, first, second, stays)
		if len(good) == 0 {
			good, a.Few = x.third(first, second), x.capped
		}
		a.Capped = x.capped
		mended = f.choose(&a, good, goals, nil, nil)
	}
	f.near(&a, all, fails, goals)
	for _, k := range goals {
		mended[k] = true
	}
	return a, mended
}

// stay tells of each set of changes the goals that stay wrong, by their rules alone and with all usual values: most changes are no
// choice already by that.
func (f *fitter) stay(all [][]change, goals []key) []wrongs {
	out := make([]wrongs, len(all))
	if len(goals) == 0 {
		return out
	}
	rules := make([]string, len(goals))
	for i, k := range goals {
		rules[i] = k.rule
	}
	set := f.v.Named(rules...)
	cores.Do(len(all), func(_, i int) {
		f.tried.Add(1)
		left := wrongs{}
		for k, w := range badIn(f.find(all[i], set, engine.Glance)) {
			if slices.Contains(goals, k) {
				left[k] = w
			}
		}
		out[i] = left
	})
	return out
}

// atOnce is how many sets of changes are judged before it is asked whether that was enough; it does not follow the number of cores, so that
// the answer does not.
const atOnce = 8

// choose tells the best of those that mend the goals, looked at closely, the cheapest first: those with which all can be judged that
// could be before, and the others where there are none. The rest is only counted. Those that do not do are noted in fails.
func (f *fitter) choose(a *Answer, good [][]change, goals []key, fails []wrongs, all [][]change) map[key]bool {
	var sure, unsure [][]change
	for from := 0; from < len(good) && len(sure) < f.fo.Choices; from += atOnce {
		some := good[from:min(from+atOnce, len(good))]
		bad := make([]wrongs, len(some))
		cores.Do(len(some), func(_, i int) {
			if bad[i] = f.against(f.glance(some[i]), goals); len(bad[i]) == 0 {
				bad[i] = f.against(f.eval(some[i]), goals)
			}
		})
		for i, c := range some {
			switch {
			case len(bad[i]) > 0 && fails != nil:
				fails[slices.IndexFunc(all, func(x []change) bool { return &x[0] == &c[0] })] = bad[i]
			case len(bad[i]) > 0:
			case len(f.opens(f.eval(c))) > 0:
				unsure = append(unsure, c)
			default:
				sure = append(sure, c)
			}
		}
		a.More = len(good) - from - len(some)
	}
	if len(sure) == 0 {
		sure = unsure
	}
	if n := len(sure) - f.fo.Choices; n > 0 {
		a.More, sure = a.More+n, sure[:f.fo.Choices]
	}
	for _, c := range sure {
		a.Choices = append(a.Choices, f.choice(c, goals))
	}
	mended := map[key]bool{}
	if len(sure) > 0 {
		e := f.eval(sure[0])
		for k := range f.wrong {
			if e.wrong[k] == nil {
				mended[k] = true
			}
		}
	}
	return mended
}

// choice tells one.
func (f *fitter) choice(c []change, goals []key) Choice {
	e := f.eval(c)
	x := Choice{Opens: f.opens(e), Price: new(float64)}
	for _, one := range c {
		x.Changes = append(x.Changes, one.exchanged())
		x.Silent = append(x.Silent, one.silent(e.open)...)
		if one.option.price < 0 || x.Price == nil {
			x.Price = nil
		} else {
			*x.Price += one.option.price
		}
	}
	x.Usual = slices.ContainsFunc(e.open, func(f engine.Finding) bool {
		return f.Leaning != nil && (len(goals) == 0 || slices.Contains(goals, key{f.Rule, f.Subject}))
	})
	return x
}

// mostNear is how many parts are told that come near.
const mostNear = 3

// near tells the single changes that come nearest: the fewest things wrong, by the least.
func (f *fitter) near(a *Answer, all [][]change, fails []wrongs, goals []key) {
	type miss struct {
		change change
		wrong  wrongs
		by     float64
	}
	var list []miss
	for i, c := range all {
		if len(fails[i]) == 0 || f.idle(c[0], fails[i], goals, a) {
			continue
		}
		m := miss{c[0], fails[i], 0}
		for _, w := range fails[i] {
			m.by = max(m.by, farBy(w))
		}
		list = append(list, m)
	}
	slices.SortStableFunc(list, func(x, y miss) int {
		return cmp.Or(len(x.wrong)-len(y.wrong), cmp.Compare(x.by, y.by))
	})
	told := map[string]bool{}
	for _, m := range list {
		worst := m.wrong[sorted(m.wrong)[0]]
		if m.change.option.part == nil && told[complaint(worst).Text] || len(a.Near) == mostNear {
			continue // a size that a part has, too
		}
		told[complaint(worst).Text] = true
		a.Near = append(a.Near, Near{Change: m.change.exchanged(), Wrong: complaint(worst), Count: len(m.wrong)})
	}
}

// idle reports whether a change is no miss: it leaves what is asked as it is or nearly so, from another place than a choice has.
func (f *fitter) idle(c change, fails wrongs, goals []key, a *Answer) bool {
	same := func(k key) bool { return fails[k] != nil && complaint(fails[k]).Text == complaint(f.wrong[k]).Text }
	for _, x := range a.Choices {
		if slices.ContainsFunc(x.Changes, func(e Exchanged) bool { return e.Path == c.path }) {
			return c.option.part == nil && slices.ContainsFunc(goals, same)
		}
	}
	for _, k := range goals {
		w := fails[k]
		if w == nil {
			continue
		}
		own := len(a.Choices) == 0 && (schema.Path(c.path).Holds(schema.Path(k.subject)) || schema.Path(k.subject).Holds(schema.Path(c.path)))
		if same(k) || !own && farBy(w) > farBy(f.wrong[k])/2 {
			return true
		}
	}
	return false
}

// farBy is how far beyond its bound a finding lies, as a share of it; one where no number decides.
func farBy(w *engine.Finding) float64 {
	c := complaint(w)
	if c.By == nil || c.By.Margin == nil {
		return 1
	}
	return math.Abs(*c.By.Margin)
}

// cheaper puts sets of changes in the order they are told: by price, what has none last; then the larger stock; then by name.
func cheaper(a, b []change) int {
	price := func(list []change) float64 {
		sum := 0.0
		for _, c := range list {
			if c.option.price < 0 {
				return math.Inf(1)
			}
			sum += c.option.price
		}
		return sum
	}
	stock := func(list []change) int {
		least := math.MaxInt
		for _, c := range list {
			least = min(least, c.option.stock)
		}
		return least
	}
	out := cmp.Or(len(a)-len(b), cmp.Compare(price(a), price(b)), cmp.Compare(stock(b), stock(a)))
	for i := 0; out == 0 && i < len(a); i++ {
		out = cmp.Or(a[i].seat.at-b[i].seat.at, a[i].option.at-b[i].option.at)
	}
	return out
}
