package diagnose

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// What freedom costs, in the measure of the misfit: a trouble is one of many that were tried, and one of some forty fits better
// by chance by about so much; a second one costs more, as two things seldom fail at once.
const (
	costTrouble = 6
	costSecond  = 10
)

// A candidate explains the readings when none is further off than farOff standard deviations, and the misfit is no more than
// chance gives to so many readings in 99 of 100 cases.
const farOff = 3.3

// within is the misfit that n readings do not exceed by chance in 99 of 100 cases (Wilson and Hilferty's approximation of the
// chi-squared distribution).
func within(n int) float64 {
	x := 2 / (9 * float64(n))
	return float64(n) * math.Pow(1-x+2.326*math.Sqrt(x), 3)
}

// near is how much worse than the best a candidate may be and still be one of the first: chance makes it so in one of thirty
// cases. Beside a sound vehicle that explains the readings a trouble is one only where its fit is better by two standard deviations.
const (
	near      = 7
	nearSound = costTrouble - 4
)

// mostFirst is how many of the first are looked at together, mostTold how many candidates are told.
const (
	mostFirst = 6
	mostTold  = 8
)

// running is one diagnosis under way, of one of the ways the vehicle may be built.
type running struct {
	*vehicle
	lib     *engine.Library
	o       engine.Options
	usual   *engine.Usual
	skipped []Skipped
	taken   []*probe
	weigh   *scale
	sound   []float64
	all     []*candidate
	seen    []string // signs, by their ids
}

// candidate is one while it is compared.
type candidate struct {
	troubles []*trouble
	along    []float64
	misfit   float64
	cost     float64
	shows    []float64
	// left is how many of its own standard deviations each reading is off, lying where usual values lie that fit best.
	left, lying []float64
	explains    bool
	alike       []int
	// would are what all readings would show at the sizes that fit nearly as well.
	least, most []float64
}

func (c *candidate) score() float64 { return c.misfit + c.cost }

// Run holds the readings that a design states against its troubles.
// Signs that were seen, by their ids, sort what the readings leave.
func Run(lib *engine.Library, d *schema.Design, o engine.Options, seen ...string) *Diagnosis {
	best, others := ways(lib, d, o, seen)
	out := &Diagnosis{Held: []Held{}, Candidates: []Candidate{}, Skipped: best.skipped, Tried: len(best.troubles)}
	if len(best.taken) == 0 && len(seen) == 0 {
		out.Next = best.begin()
		best.careful(out.Next)
		out.Cautions = lib.TakeCare(best.design, o, best.places(0, out.Next))
		return out
	}
	best.moved(lib, best.usual, o, slices.DeleteFunc(slices.Clone(best.probes), (*probe).taken))
	best.spans()
	best.write(out)
	for _, sign := range lib.Signs() {
		if slices.Contains(seen, sign.ID) {
			out.Seen = append(out.Seen, sign.Title)
		}
	}
	out.BySigns = best.spokenFor()
	out.Usual = best.taking(others)
	if first := best.all[0]; len(first.troubles) == 0 && first.explains && out.Apart == 1 {
		out.Unseen = best.unseen()
	}
	return out
}

// newRunning makes ready what is compared, in one way the vehicle may be built.
func newRunning(lib *engine.Library, u *engine.Usual, o engine.Options) *running {
	r := &running{lib: lib, o: o, usual: u}
	r.vehicle, r.skipped = newVehicle(lib, u, o)
	for _, p := range r.probes {
		if p.taken() {
			r.taken = append(r.taken, p)
		}
	}
	r.sound = r.shows(r.taken)
	return r
}

// rank fits every trouble, two together where none alone explains, and puts the best first.
func (r *running) rank() {
	r.moved(r.lib, r.usual, r.o, r.taken)
	r.weigh = newScale(r.taken)
	r.add(&candidate{misfit: r.weigh.misfit(r.sound), shows: r.sound})
	for _, t := range r.troubles {
		r.fit(t, r.weigh, r.sound)
		best := t.best()
		r.add(&candidate{troubles: []*trouble{t}, along: []float64{best.along}, misfit: best.misfit, cost: costTrouble, shows: best.shows})
	}
	r.bySigns()
	r.sort()
	if !r.all[0].explains {
		singles := slices.Clone(r.troubles)
		slices.SortStableFunc(singles, func(a, b *trouble) int { return cmpFloat(a.best().misfit, b.best().misfit) })
		for _, p := range r.pairs(singles, r.weigh, r.sound) {
			c := &candidate{troubles: []*trouble{p.first, p.second}, along: []float64{p.a, p.b}, misfit: p.misfit, cost: 2*costTrouble + costSecond}
			r.with(c, c.along, func() { c.shows = r.shows(r.taken) })
			r.add(c)
		}
		r.sort()
	}
	for i, c := range r.all {
		for k, before := range r.all[:i] {
			if r.alike(c, before) {
				c.alike = append(c.alike, k)
			}
		}
	}
}

func (r *running) add(c *candidate) {
	apart := r.weigh.apart(c.shows)
	c.left, c.lying = r.weigh.left(apart), r.weigh.lying(apart)
	c.cost += r.unexplained(c)
	c.explains = len(r.taken) == 0 || c.misfit <= within(len(r.taken))
	for _, off := range c.left {
		c.explains = c.explains && math.Abs(off) <= farOff
	}
	r.all = append(r.all, c)
}

func (r *running) sort() {
	slices.SortStableFunc(r.all, func(a, b *candidate) int { return cmpFloat(a.score(), b.score()) })
}

// with makes the troubles of a candidate be there at some sizes while something is done.
func (r *running) with(c *candidate, along []float64, do func()) {
	for i, t := range c.troubles {
		if !t.Decl.Unsized() {
			r.put(t, t.size(along[i]))
		}
	}
	do()
	for _, t := range c.troubles {
		r.put(t, t.Sound)
	}
}

// alike reports whether two candidates would show all the readings taken within half a margin of each other, usual values put
// where they make them most alike, and give as many of the signs seen.
func (r *running) alike(a, b *candidate) bool {
	if r.unexplained(a) != r.unexplained(b) {
		return false
	}
	apart := make([]float64, len(r.taken))
	for i := range r.taken {
		if math.IsNaN(a.shows[i]) != math.IsNaN(b.shows[i]) {
			return false
		}
		if !math.IsNaN(a.shows[i]) {
			apart[i] = a.shows[i] - b.shows[i]
		}
	}
	return !slices.ContainsFunc(r.weigh.left(apart), func(off float64) bool { return math.Abs(off) > 1 })
}

// first are the candidates that the readings leave: near the best, and explaining the readings if that does.
func (r *running) first() int {
	n, reach := 1, float64(near)
	if len(r.all[0].troubles) == 0 && r.all[0].explains {
		reach = nearSound
	}
	for n < len(r.all) && n < mostFirst && r.all[n].score() <= r.all[0].score()+reach && (r.all[n].explains || !r.all[0].explains) {
		n++
	}
	return n
}

// write makes the diagnosis of what was found.
func (r *running) write(out *Diagnosis) {
	out.Held = r.held()
	out.Explained, out.Apart = r.all[0].explains, r.first()
	told := min(len(r.all), max(mostTold, out.Apart))
	sound := slices.IndexFunc(r.all, func(c *candidate) bool { return len(c.troubles) == 0 })
	for i, c := range r.all {
		if i < told || i == sound {
			out.Candidates = append(out.Candidates, r.told(c, i < told))
		}
	}
	out.Next = r.next(out.Apart)
	r.careful(out.Next)
	out.Cautions = r.lib.TakeCare(r.design, r.o, r.places(out.Apart, out.Next))
}

// told is a candidate as it is told.
func (r *running) told(c *candidate, ranked bool) Candidate {
	out := Candidate{Troubles: []Fitted{}, Misfit: c.misfit, Cost: c.cost, Explains: c.explains}
	if ranked {
		for _, k := range c.alike {
			if k < mostTold {
				out.Alike = append(out.Alike, k)
			}
		}
	}
	for i, t := range c.troubles {
		x := r.fitted(t)
		if len(r.taken) > 0 && !t.Decl.Unsized() {
			x.Size = r.number(t.size(c.along[i]), t.Dimension)
			x.Say = strings.ReplaceAll(t.Decl.Size.Say, "{size}", x.Size.Text)
		}
		out.Troubles = append(out.Troubles, x)
	}
	for i, p := range r.taken {
		if math.Abs(c.shows[i]-r.sound[i]) < p.sigma(p.measured) && math.Abs(c.left[i]) < 2 {
			continue
		}
		shown := Shown{Fact: p.Fact, Title: p.Decl.Title, Off: c.left[i] / 2}
		if !math.IsNaN(c.shows[i]) {
			shown.Value = r.reading(p, c.shows[i]+dot(p.moves, c.lying))
		}
		out.Shows = append(out.Shows, shown)
	}
	return out
}

// fitted is what is said of a trouble, without a size.
func (r *running) fitted(t *trouble) Fitted {
	d := t.Decl
	return Fitted{ID: t.ID, Title: d.Title, Signs: d.Signs, Confirm: d.Confirm, Mend: d.Mend, Danger: d.Danger.Words(), Together: d.Together,
		Tells: r.tells(t), Cautions: r.lib.TakeCare(r.design, r.o, working(d.Parts))}
}

// tells are what tells a trouble from the other first candidates.
func (r *running) tells(t *trouble) []Tells {
	var out []Tells
	for _, m := range t.Decl.TakenFor {
		name := m.Trouble
		if !strings.Contains(name, ".") {
			name = t.From.Pack.Pack + "." + name
		}
		for _, c := range r.all[:r.first()] {
			if len(c.troubles) == 1 && c.troubles[0].ID == name {
				out = append(out, Tells{From: name, Title: c.troubles[0].Decl.Title, Text: m.Tells})
			}
		}
	}
	return out
}

// places are the parts of the design where someone is sent.
func (r *running) places(first int, next []Measurement) []string {
	var out []string
	for _, c := range r.all[:first] {
		for _, t := range c.troubles {
			out = append(out, t.Decl.Parts...)
		}
	}
	for _, m := range next {
		for _, p := range r.probes {
			if p.Fact == m.Fact {
				out = append(out, p.Decl.Parts...)
			}
		}
	}
	return out
}

// careful puts to each measurement at which fuel may burn the cautions that go with it.
func (r *running) careful(next []Measurement) {
	for i := range next {
		if !slices.ContainsFunc(r.probes, func(p *probe) bool { return p.Fact == next[i].Fact && p.Decl.Danger == "fire" }) {
			continue
		}
		next[i].Cautions = r.lib.TakeCare(r.design, r.o, r.places(0, next[i:i+1]))
	}
}

// working are the parts that are worked on: readings as such only where there is no other.
func working(parts []string) []string {
	own := slices.DeleteFunc(slices.Clone(parts), func(part string) bool { return part == "measured" || part == "procedure" })
	if len(own) == 0 {
		return parts
	}
	return own
}

// spread is the dimension of a difference of two values.
func spread(d quantity.Dimension) quantity.Dimension {
	switch d {
	case quantity.DimTemperature:
		return quantity.DimTemperatureDifference
	case quantity.DimAbsolutePressure:
		return quantity.DimPressure
	}
	return d
}

// reading is a value of a reading: a flow of drops and injectors and a vacuum in the unit that is read off.
func (r *running) reading(p *probe, value float64) engine.Number {
	out := r.number(value, p.Dimension)
	_, unit, _ := strings.Cut(schema.Describe(p.Fact).Field.Example, " ")
	if p.Dimension == quantity.DimFlow && strings.HasSuffix(unit, "/min") || unit == "inHg" && r.o.Units == quantity.US {
		if n, err := quantity.MustNew(value, p.Dimension).In(unit); err == nil {
			out.Text = shortly(n) + " " + unit
		}
	}
	return out
}

// measured is what was read, as it was written.
func (r *running) measured(p *probe) engine.Number {
	out := r.reading(p, p.measured)
	if fact := r.design.FactAt(p.Fact); fact != nil {
		out.Text = derive.FactText(fact.Any(), fact.Text(), r.o.Units)
	}
	return out
}

// number is a quantity with its text in the reader's units.
func (r *running) number(value float64, d quantity.Dimension) engine.Number {
	q, err := quantity.New(value, d)
	if err != nil {
		return engine.Number{Text: "none"}
	}
	out := engine.Number{Value: value, Dimension: d.String()}
	if d != quantity.DimTemperature { // of a temperature the digits count from the ice
		if short, err := quantity.New(rounded(value), d); err == nil {
			q = short
		}
	}
	out.Text = q.Format(r.o.Units)
	if d == quantity.DimShare && value >= manifold {
		out.Text = shortly(value) + " times"
	}
	return out
}

// manifold is the share from which "times" is said in place of percent.
const manifold = 10

// digits is how many a gauge or a meter shows.
const digits = 3

// shortly is a number with as many digits as a gauge shows, without an exponent.
func shortly(value float64) string {
	places := 0
	if x := math.Abs(value); x > 0 {
		places = max(0, digits-1-int(math.Floor(math.Log10(x))))
	}
	text := strconv.FormatFloat(rounded(value), 'f', places, 64)
	if places > 0 {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// rounded is a number with as many digits as a gauge shows.
func rounded(value float64) float64 {
	if value == 0 {
		return 0
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(value)))-digits+1)
	return math.Round(value/unit) * unit
}
