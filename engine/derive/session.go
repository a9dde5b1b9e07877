package derive

import (
	"reflect"

	"plumbline/schema"
	"plumbline/schema/quantity"
)

// Options are what a session may be told beside the design.
type Options struct {
	// Assumptions maps a fact's path, list indices written [], to the value
	// used while the fact is not stated: in the fact's Go type, or a *ByFacts.
	Assumptions map[string]any
	// Overrides maps a derived value's path to a quantity.Value, float64, bool
	// or string that replaces its computation; used by cases of rules.
	Overrides map[string]any
	// Marks are bits given to facts by their paths, so that it can be asked which values rest on them.
	Marks map[string]uint64
	// Faults are what is wrong with the vehicle beside its facts, by the names of Faults in SI units; nil for a sound one.
	Faults map[string]float64
}

// Session evaluates the derived values of one design. It is not safe for
// concurrent use; make one per goroutine.
type Session struct {
	design  *schema.Design
	options Options
	index   *Index
	values  map[partKey][]*Result // by the slots of the part's entries
	memos   map[memoKey]*Result
	labels  []labels
	// reads are those of the calculations under way, the innermost last, and
	// calcs the calculations by depth.
	reads []reading
	calcs []*Calc
	depth int
	room  room
	// world is the one it computes in, others are the sessions of other worlds.
	world  World
	others *worldly
	// mostly is the system of units that most of the design is written in, once asked for.
	mostly *quantity.System
}

// partKey names a part; a part and its own first part share an address.
type partKey struct {
	on     uintptr
	family int
}

// memoKey names what Memo keeps.
type memoKey struct {
	name   string
	number int
	on     uintptr
	point  Point
}

// NewSession starts the evaluation of one design.
func NewSession(d *schema.Design, o Options) *Session {
	return &Session{design: d, options: o, values: map[partKey][]*Result{}, memos: map[memoKey]*Result{}, index: All()}
}

// Design is the design under evaluation.
func (s *Session) Design() *schema.Design { return s.design }

// At evaluates a value of the whole design at an operating point.
func (s *Session) At(p Point, name string) *Result { return s.find(s.design, name, p) }

// On evaluates a value of one part, given as a pointer to it.
func (s *Session) On(part any, p Point, name string) *Result { return s.find(part, name, p) }

// Evaluate evaluates an entry on a part.
func (s *Session) Evaluate(e *Entry, part any, p Point) *Result {
	if !e.PerPoint {
		p = NoPoint
	} else if p == NoPoint {
		return &Result{Entry: e, Name: e.Name, Reason: e.Name + " differs by operating point: ask for it at one"}
	}
	kept := s.slot(e, part, p)
	if r := *kept; r != nil {
		if r.computing {
			return &Result{Entry: e, Name: e.Name, Path: r.Path, Point: p, Reason: r.Path + " depends on itself"}
		}
		return r
	}
	r := s.room.result()
	*r = Result{Entry: e, Name: e.Name, Path: s.path(e, part, p), Point: p, computing: true}
	*kept = r
	if v, ok := s.options.Overrides[r.Path]; ok {
		r.value, r.computing = v, false
		return r
	}
	c := s.begin(e, part, p)
	v := e.Compute(c)
	s.end(c, r)
	if r.bounded != nil {
		r.bounded.on = part
	}
	if r.Known() {
		r.Reason = r.set(v)
	}
	return r
}

// slot is where the result of an entry on a part at a point is kept. An entry
// of no index, such as one of a pack, is one value of the whole design.
func (s *Session) slot(e *Entry, part any, p Point) **Result {
	k, slots := partKey{on: pointer(part), family: e.family}, 1
	if e.family == 0 {
		k.on = pointer(e)
	} else {
		slots = s.index.slots[e.family]
	}
	kept := s.values[k]
	if kept == nil {
		kept = make([]*Result, slots)
		s.values[k] = kept
	}
	return &kept[e.slot+max(0, int(p-Cranking))]
}

// begin starts a calculation within those under way.
func (s *Session) begin(e *Entry, part any, p Point) *Calc {
	if s.depth == len(s.calcs) {
		s.calcs = append(s.calcs, &Calc{})
	}
	c := s.calcs[s.depth]
	s.depth++
	*c = Calc{session: s, entry: e, on: part, point: p, base: len(s.reads)}
	return c
}

// end gives a result what the innermost calculation read and lacked.
func (s *Session) end(c *Calc, r *Result) {
	r.Missing, r.Absent, r.Reason, r.Assumed = c.missing, c.absent, c.reason, c.assumed
	if c.bounds != nil {
		r.bounded = &bounded{bounds: c.bounds}
	}
	r.Fault = c.broken
	r.reads = s.room.keep(s.reads[c.base:])
	s.reads = s.reads[:c.base]
	s.depth--
	r.computing = false
}

// path is the path of a value of a part.
func (s *Session) path(e *Entry, part any, p Point) string {
	base := partPath(part)
	if base == "" || base == "design" {
		return e.Path(base, p)
	}
	return s.room.join(base, e.below(p))
}

func (s *Session) find(part any, name string, p Point) *Result {
	on := reflect.TypeOf(part).Elem().Name()
	e := s.index.Find(on, name)
	if e == nil {
		return &Result{Name: name, Reason: "there is no derived value " + on + "." + name}
	}
	return s.Evaluate(e, part, p)
}

func partPath(part any) string {
	if n, ok := part.(interface{ Path() string }); ok {
		return n.Path()
	}
	return ""
}
