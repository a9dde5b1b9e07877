package diagnose

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// vehicle is a design whose facts can be changed as troubles do, with the values it is measured by. Only what rests on a change
// is worked out anew.
type vehicle struct {
	design  *schema.Design
	session *derive.Session
	marks   map[string]uint64
	faults  map[string]float64
	probes  []*probe
	// troubles are those that can be tried on it, unsized those known by their signs alone.
	troubles, unsized []*trouble
}

// probe is a reading with what a sound vehicle would show.
type probe struct {
	*engine.Reading
	sound    float64
	measured float64 // NaN where it was not taken
	stated   float64 // what the design states of the instrument, NaN for nothing
	// moves is how far one standard deviation of each usual value moves it.
	moves []float64
}

func (p *probe) taken() bool { return !math.IsNaN(p.measured) }

// sigma is the margin of the reading as one standard deviation, where it shows a value.
func (p *probe) sigma(shown float64) float64 {
	instrument := p.Error.Share*math.Abs(shown) + p.Error.Plus
	if !math.IsNaN(p.stated) {
		instrument = p.stated
	}
	scatter := p.Scatter.Share*math.Abs(p.sound) + p.Scatter.Plus
	return math.Hypot(instrument, scatter) / 2
}

// trouble is a trouble with what it changes on this vehicle.
type trouble struct {
	*engine.Trouble
	mark    uint64
	targets []target
	// whole is what the size is a whole share of, 0 where it may be any.
	whole   int
	samples []sample // those tried, of the readings taken
}

// target is one fact or fault that a trouble changes.
type target struct {
	change    int
	path      string // of the fact, "" for a fault
	fault     string
	from      float64
	dimension quantity.Dimension
	low, high float64
}

// newVehicle makes a design ready, as it may be built; skipped are the readings taken that nothing can be expected for, with the
// reason.
func newVehicle(lib *engine.Library, u *engine.Usual, o engine.Options) (v *vehicle, skipped []Skipped) {
	v = &vehicle{design: u.Design.Clone(), marks: map[string]uint64{}, faults: map[string]float64{}}
	troubles, readings := lib.Befalling(v.design, o)
	asMeasured(v.design)
	v.session = lib.Marked(v.design, o, v.marks, v.faults)
	for i, x := range troubles {
		if x.Decl.Unsized() {
			v.unsized = append(v.unsized, &trouble{Trouble: x, mark: 1 << (i % 64)})
			continue
		}
		if t := v.prepare(x, 1<<(i%64)); len(t.targets) > 0 {
			v.troubles = append(v.troubles, t)
		}
	}
	for _, r := range readings {
		p := &probe{Reading: r, measured: si(v.design.FactAt(r.Fact)), stated: v.instrument(r)}
		result := v.session.Named(r.Expects)
		p.sound = number(result)
		if !math.IsNaN(p.sound) {
			v.probes = append(v.probes, p)
		} else if p.taken() {
			skipped = append(skipped, Skipped{Fact: r.Fact, Title: r.Decl.Title, Missing: missing(result), Why: whyNot(result)})
		}
	}
	return v, skipped
}

// asMeasured puts in what the day of the measuring was like, where it was noted: fuel as warm as it was.
func asMeasured(d *schema.Design) {
	if warm := d.Measured.FuelTemperature; warm.Known() {
		_ = d.Put("design.climate.hot_fuel", warm.Any())
	}
}

// instrument is what the design states of how far a reading may be off.
func (v *vehicle) instrument(r *engine.Reading) float64 {
	if len(r.Error.Stated) == 0 {
		return math.NaN()
	}
	out := 1.0
	for _, path := range r.Error.Stated {
		out *= si(v.design.FactAt(path))
	}
	return out
}

// prepare finds what a trouble changes on the vehicle, and marks it.
func (v *vehicle) prepare(x *engine.Trouble, mark uint64) *trouble {
	t := &trouble{Trouble: x, mark: mark}
	if of := x.Decl.Size.WholeOf; of != "" {
		if n := v.design.FactAt("design." + of); n != nil && n.Known() {
			t.whole, _ = n.Any().(int)
		}
	}
	for i := range x.Changes {
		d := x.Changes[i].Decl
		if d.Fault != "" {
			f := derive.FaultNamed(d.Fault)
			v.marks[f.Path()] |= mark
			t.targets = append(t.targets, target{change: i, fault: d.Fault, from: f.Sound, low: math.Inf(-1), high: math.Inf(1)})
			continue
		}
		found := v.paths(d.Fact, func(item string) bool {
			return !slices.ContainsFunc(d.Where, func(w pack.Entry[string]) bool { return !v.says(item+"."+w.Key, w.Value) })
		})
		switch {
		case d.Only == "first" && len(found) > 1:
			found = found[:1]
		case d.Only == "last" && len(found) > 1:
			found = found[len(found)-1:]
		}
		for _, one := range found {
			one.change = i
			if d.Do == "times" && one.dimension != quantity.DimShare {
				one.low, one.high = math.Inf(-1), math.Inf(1) // the fact's range is of sound pieces: a clogged filter loses more than any may be stated to
			}
			v.marks[one.path] |= mark
			t.targets = append(t.targets, one)
		}
	}
	return t
}

// says reports whether a fact is stated as a word.
func (v *vehicle) says(path, word string) bool {
	fact := v.design.FactAt(path)
	return fact != nil && fact.Known() && fmt.Sprint(fact.Any()) == word
}

// paths are the facts with a value, stated or assumed, that a path with empty indices means; keep chooses items of its first list.
func (v *vehicle) paths(generic string, keep func(item string) bool) []target {
	field := schema.Describe("design." + generic).Field
	var out []target
	var along func(done, rest string, first bool)
	along = func(done, rest string, first bool) {
		before, after, more := strings.Cut(rest, "[]")
		if !more {
			if t, ok := v.target(done+before, field); ok {
				out = append(out, t)
			}
			return
		}
		list, is := v.design.At(done + before).(schema.Listing)
		if !is {
			return
		}
		for i := range list.Len() {
			if item := fmt.Sprintf("%s%s[%d]", done, before, i); !first || keep(item) {
				along(item, after, false)
			}
		}
	}
	along("design.", generic, true)
	return out
}

// target is a fact that has a value.
func (v *vehicle) target(path string, field schema.FieldInfo) (target, bool) {
	out := target{path: path, from: si(v.design.FactAt(path)), dimension: field.Dimension, low: ends(field.Low, field.Dimension, -1), high: ends(field.High, field.Dimension, 1)}
	if math.IsNaN(out.from) {
		value, _, ok := v.session.Assumption(path)
		q, is := value.(interface{ SI() float64 })
		if !ok || !is || v.design.FactAt(path) == nil || v.design.FactAt(path).Ranged() {
			return out, false
		}
		out.from = q.SI()
	}
	return out, true
}

// ends is an end of what a fact may be.
func ends(text string, d quantity.Dimension, sign int) float64 {
	if q, err := quantity.Parse(text, d); err == nil {
		return q.SI()
	}
	return math.Inf(sign)
}

// put makes a trouble of a size be there; its sound size takes it away.
func (v *vehicle) put(t *trouble, size float64) {
	for i := range t.targets {
		x := &t.targets[i]
		value := t.Changes[x.change].Of(x.from, size, t.Sound)
		if size == t.Sound {
			value = x.from
		}
		value = math.Max(math.Min(value, math.Max(x.high, x.from)), math.Min(x.low, x.from))
		if x.fault != "" {
			v.faults[x.fault] = value
			continue
		}
		if q, err := quantity.New(value, x.dimension); err == nil {
			_ = v.design.Put(x.path, q)
		}
	}
	v.session.Forget(t.mark)
}

// shows is what some readings would be now, NaN where there would be none.
func (v *vehicle) shows(probes []*probe) []float64 {
	out := make([]float64, len(probes))
	for i, p := range probes {
		out[i] = p.as(number(v.session.Named(p.Expects)))
	}
	return out
}

// as is a computed value as the reading shows it: of one that tuning takes out, what is more than a sound vehicle's.
func (p *probe) as(value float64) float64 {
	if p.Decl.Tuned {
		return (1+value)/(1+p.sound) - 1
	}
	return value
}

// number is a known value in SI units, NaN for none.
func number(r *derive.Result) float64 {
	if r == nil || !r.Known() {
		return math.NaN()
	}
	switch x := r.Value().(type) {
	case quantity.Value:
		return x.SI()
	case float64:
		return x
	}
	return math.NaN()
}

// si is a fact in SI units, NaN while it is not known.
func si(fact schema.Reading) float64 {
	if fact == nil || !fact.Known() {
		return math.NaN()
	}
	if q, ok := fact.Any().(interface{ SI() float64 }); ok {
		return q.SI()
	}
	return math.NaN()
}

func missing(r *derive.Result) []string {
	if r == nil {
		return nil
	}
	return r.Missing
}

func whyNot(r *derive.Result) string {
	switch {
	case r == nil || len(r.Missing) > 0:
		return ""
	case r.Absent != "":
		return "the design says there is nothing of the kind"
	}
	return r.Reason
}
