package whatif

import (
	"slices"
	"strings"
	"sync"

	"plumbline/engine"
	"plumbline/schema"
)

// seat is a place of the design with what may stand there.
type seat struct {
	at int
	// path is that of the part, paths those that take the same part together: the wires of one feed.
	path  string
	paths []string
	there bool
	// rules are those that may read what belongs to such a part.
	rules   engine.RuleSet
	options []option
	// about are the facts that go with what may stand there, reads which of them each rule may rest on, what it says too.
	about about
	reads []uint64
	// classed are the classes of the options, by some of the keys.
	mu      sync.Mutex
	classed map[uint64][]uint32
}

// option is a part, or a size of a series.
type option struct {
	at    int
	part  *schema.Part
	group *group
	size  string
	// keys are the facts that the size is put in, by type and key.
	keys []string
	// price is what it costs there, -1 where that is not known; stock how many are there, -1 where that is not known.
	price float64
	stock int
}

// change puts an option in a seat.
type change struct {
	*seat
	option *option
}

// inside reports whether the seat lies in another part that was asked for by its own path: whoever asks for a pump does not ask for
// the clamps on it.
func (s *seat) inside(paths []string) bool {
	return !slices.Contains(paths, s.path) && slices.ContainsFunc(paths, func(p string) bool { return schema.TypeAt(p) != "" && len(p) < len(s.path) && seatType(p) })
}

// seatType reports whether parts of a shelf may stand at a path itself.
func seatType(path string) bool {
	return slices.ContainsFunc(schema.ShelfKinds(), func(k *schema.ShelfKind) bool { return k.Suits(schema.TypeAt(path)) })
}

// unlabelled are the series of what is bought by its size, without a label to read.
var unlabelled = []string{"Wire.size", "Ground.size", "ChargeCable.size", "Fuse.rating", "ChargeFuse.rating", "Relay.contact_rating", "Run.bore", "Passage.hole"}

// makeSeats lists the places of a design with what the shelf and the series hold for them.
func (f *fitter) makeSeats(shelf *schema.Shelf, series []Series) {
	byPath := map[string]*seat{}
	take := func(path, own string, there bool) *seat {
		s := byPath[path]
		if s == nil {
			s = &seat{path: path, there: there, classed: map[uint64][]uint32{}}
			byPath[path] = s
			f.every = append(f.every, s)
		}
		if own != "" {
			s.paths = append(s.paths, own)
		}
		return s
	}
	for _, x := range f.d.Seats() {
		path := x.Path
		if list, _, item := schema.Path(path).Split(); item && x.Type == "Wire" {
			path = string(list) // all wires of one way are of one size
		}
		s := take(path, x.Path, x.There)
		for _, k := range x.Kinds {
			for _, key := range append(slices.Clone(k.FactsIn(x.Type)), k.AsKey) {
				if key != "" {
					s.about.add(x.Type, key)
				}
			}
		}
		if len(s.paths) > 1 {
			continue // its options are those of the first wire
		}
		standing := f.d.ShelvedAt(x.Path)
		for _, p := range shelf.Parts {
			if slices.Contains(x.Kinds, p.Kind) && (standing == nil || standing.Part != p) {
				s.options = append(s.options, option{part: p})
			}
		}
	}
	for _, g := range sizable(f.d, series, "") {
		part, key := schema.TypeAt(string(schema.Path(g.facts[0]).Parent())), schema.Path(g.facts[0]).Key()
		if g.changesAt() || !slices.ContainsFunc(g.series.Facts, func(name string) bool { return name == part+"."+key && slices.Contains(unlabelled, name) }) {
			continue
		}
		s := take(g.of, "", true)
		var keys []string
		for _, fact := range g.facts {
			of, key := schema.TypeAt(string(schema.Path(fact).Parent())), schema.Path(fact).Key()
			s.about.add(of, key)
			keys = append(keys, of+"."+key)
		}
		for _, size := range g.series.Sizes {
			if size != g.stated {
				s.options = append(s.options, option{group: g, size: size, keys: keys})
			}
		}
	}
	for i, s := range f.every {
		s.at, s.rules, s.reads = i, f.v.Reading(slices.Concat(s.about.facts...)), f.v.Rests(s.about.facts)
		if !s.there {
			s.rules = f.v.All() // that there is one now may be read anywhere
			for k := range s.reads {
				s.reads[k] = everything
			}
		}
		for k := range s.options {
			s.options[k].at = k
			f.cost(s, &s.options[k])
		}
	}
	for _, s := range f.every {
		if s.there && len(s.options) > 0 {
			f.seats = append(f.seats, s)
		}
	}
}

// cost finds what an option costs in a seat, and how many are there.
func (f *fitter) cost(s *seat, o *option) {
	o.price, o.stock = -1, -1
	if o.part == nil {
		return
	}
	if n, known := o.part.Stock.Get(); known {
		o.stock = n
	}
	price, known := o.part.Price.Get()
	if !known {
		return
	}
	o.price = price.SI()
	if !o.part.Kind.ByLength {
		return
	}
	length := 0.0
	for _, path := range s.paths {
		fact := f.d.FactAt(path + ".length")
		if fact == nil || !fact.Known() {
			o.price = -1
			return
		}
		length += size(fact.Any())
	}
	o.price *= length
}

// with is the design with some changes.
func (f *fitter) with(changes []change) *schema.Design {
	d := f.d.Clone()
	for _, c := range changes {
		if c.option.part == nil {
			value, err := schema.ParseFact(c.option.group.facts[0], c.option.size)
			if err != nil {
				panic(err) // a series is read with its facts
			}
			for _, path := range c.option.group.facts {
				if err := d.Put(path, value); err != nil {
					panic(err)
				}
			}
			continue
		}
		for _, path := range c.paths {
			if err := d.Exchange(path, c.option.part); err != nil {
				panic(err) // a seat takes what suits it
			}
		}
	}
	return d
}

// exchanged tells a change.
func (c change) exchanged() Exchanged {
	out := Exchanged{Path: c.path, Size: c.option.size}
	if p := c.option.part; p != nil {
		place := p.Place()
		out.Part, out.Kind, out.Place = p.Called(), p.Kind.Called(), &place
		out.Title, _ = p.Title.Get()
	}
	if c.option.price >= 0 {
		out.Price = &c.option.price
	}
	if c.option.stock >= 0 {
		out.Stock = &c.option.stock
	}
	return out
}

// silent are the facts that belong to a part, that its label does not say, and that findings wait for.
func (c change) silent(found []engine.Finding) []Silent {
	if c.option.part == nil {
		return nil
	}
	counts := map[string]int{}
	for i := range found {
		if found[i].Outcome != engine.Open || found[i].Sense {
			continue
		}
		for _, path := range found[i].Missing {
			rest, below := strings.CutPrefix(path, c.paths[0]+".")
			key, _, _ := strings.Cut(rest, ".")
			key, _, _ = strings.Cut(key, "[")
			if below && slices.Contains(c.option.part.Kind.Facts, key) {
				counts[path]++
			}
		}
	}
	var out []Silent
	for path, n := range counts {
		out = append(out, Silent{path, n})
	}
	slices.SortFunc(out, func(a, b Silent) int {
		if a.Rules != b.Rules {
			return b.Rules - a.Rules
		}
		return schema.Path(a.Path).Compare(schema.Path(b.Path))
	})
	return out
}
