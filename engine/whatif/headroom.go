package whatif

import (
	"cmp"
	"math"
	"slices"

	"plumbline/engine"
	"plumbline/engine/internal/cores"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/words"
)

// Headroom is how far the numbers of a design may move before a finding turns to worse.
type Headroom struct {
	File  string `json:"file,omitempty"`
	Title string `json:"title,omitempty"`
	Stage string `json:"stage"`
	// Usual is set where findings are open: then they are told by what is usual of the facts nobody stated.
	Usual bool `json:"usual,omitempty"`
	// Wrong counts what is not met as the design stands; room is until more goes wrong.
	Wrong int `json:"wrong"`
	// Headlines are what is asked of first, Rooms the numbers: those that vary first, of each kind the nearest to a turn first.
	Headlines []Room `json:"headlines,omitempty"`
	Rooms     []Room `json:"rooms"`
	// Still are the numbers on which nothing turns over all they may be.
	Still []string `json:"still,omitempty"`
}

// Room is how far one number may move each way.
type Room struct {
	// Name is that of a headline; Facts are the paths that move, the first leads.
	Name  string   `json:"name,omitempty"`
	Facts []string `json:"facts"`
	// Kind says whether it varies by itself or is known only so well, is chosen and then stays, or is entered or measured once all
	// is built.
	Kind Kind `json:"kind" jsonschema:"enum=varies,enum=chosen,enum=entered"`
	// Stated is what the first is now; Together is why the others move with it.
	Stated   engine.Number `json:"stated"`
	Together string        `json:"together,omitempty"`
	// Deviation is one usual scatter of it, in SI units; Scatters is how many of them the nearest turn is away.
	Deviation float64  `json:"deviation,omitempty"`
	Scatters  *float64 `json:"scatters,omitempty"`
	Down      Reach    `json:"down"`
	Up        Reach    `json:"up"`
}

// Kind is what kind of number one is.
type Kind string

// The kinds, those to look at first before the others.
const (
	Varies  Kind = "varies"
	Chosen  Kind = "chosen"
	Entered Kind = "entered"
)

func (k Kind) rank() int { return slices.Index([]Kind{Varies, Chosen, Entered}, k) }

// Reach is how far a number may move one way.
type Reach struct {
	// To is the last value a meter shows at which nothing is worse than now; where nothing turns, the end of what it may be.
	To engine.Number `json:"to"`
	// Next is the next one, at which Turns turn; nil where nothing turns.
	Next  *engine.Number `json:"next,omitempty"`
	Turns []Turns        `json:"turns,omitempty"`
	// Share is how far that is, as a share of the value; absent where a share means nothing.
	Share *float64 `json:"share,omitempty"`
}

// Turns is a finding that turns.
type Turns struct {
	Rule    string         `json:"rule"`
	Subject string         `json:"subject"`
	From    engine.Outcome `json:"from"`
	To      engine.Outcome `json:"to"`
	Danger  pack.Danger    `json:"danger"`
	Text    string         `json:"text"`
	Remedy  string         `json:"remedy,omitempty"`
	// Again is where, further on, it is as it was; it turns more than once then.
	Again *engine.Number `json:"again,omitempty"`
}

// Rooms finds the headroom of every number of a design below a path, "" for all of it and the headlines.
func Rooms(lib *engine.Library, d *schema.Design, o engine.Options, n *Numbers, series []Series, below []string) Headroom {
	d = likely(d)
	headlines, all := n.numbersOf(d, series, o.Units)
	if len(below) > 0 {
		headlines = nil
		all = slices.DeleteFunc(all, func(m *mover) bool { return !m.within(below) })
	}
	return roomsOf(lib, d, o, n, append(slices.Clone(headlines), all...))
}

// Headlines finds the headroom of what an installer asks of first: power, fuel, altitude, heat.
func Headlines(lib *engine.Library, d *schema.Design, o engine.Options, n *Numbers) Headroom {
	d = likely(d)
	headlines, _ := n.numbersOf(d, nil, o.Units)
	return roomsOf(lib, d, o, n, headlines)
}

// roomsOf finds the headroom of some numbers.
func roomsOf(lib *engine.Library, d *schema.Design, o engine.Options, n *Numbers, movers []*mover) Headroom {
	out := Headroom{File: d.Place().File, Stage: o.StageOf(d)}
	out.Title, _ = d.Title.Get()
	rooms := make([]*Room, len(movers))
	chunks := (len(movers) + engine.MostThings - 1) / engine.MostThings
	bases := make([]*searcher, chunks)
	cores.Do(chunks, func(_, i int) {
		part := movers[i*engine.MostThings : min((i+1)*engine.MostThings, len(movers))]
		things := make([][]string, len(part))
		for k, m := range part {
			things[k] = m.paths()
		}
		s := newSearcher(lib.Bench(d, o, things, engine.Glance))
		bases[i] = s
		for k, m := range part {
			rooms[i*engine.MostThings+k] = s.room(m)
		}
	})
	if chunks > 0 {
		out.Wrong, out.Usual = bases[0].wrong, bases[0].usual
	}
	for i, r := range rooms {
		m := movers[i]
		if r == nil {
			if m.name == "" {
				out.Still = append(out.Still, m.lead.Path)
			}
			continue
		}
		r.near(m, n, d)
		switch {
		case m.name != "":
			out.Headlines = append(out.Headlines, *r)
		case r.Scatters == nil:
			out.Still = append(out.Still, m.lead.Path)
		default:
			out.Rooms = append(out.Rooms, *r)
		}
	}
	slices.SortStableFunc(out.Rooms, func(a, b Room) int { return cmp.Or(a.Kind.rank()-b.Kind.rank(), cmp.Compare(*a.Scatters, *b.Scatters)) })
	return out
}

// likely is the design with what it states as a range taken at its likely value.
func likely(d *schema.Design) *schema.Design {
	ranges := d.Ranges()
	if len(ranges) == 0 {
		return d
	}
	d = d.Clone()
	for _, r := range ranges {
		_, usual, _ := r.Ends()
		if err := d.Put(r.Path(), usual); err != nil {
			panic(err) // it is of the fact's own type
		}
	}
	return d
}

func (m *mover) within(below []string) bool {
	return slices.ContainsFunc(m.paths(), func(path string) bool {
		return slices.ContainsFunc(below, func(b string) bool { return schema.Path(b).Holds(schema.Path(path)) })
	})
}

// near says how near the nearest turn is.
func (r *Room) near(m *mover, n *Numbers, d *schema.Design) {
	sd, drawn := n.deviation(d, m.lead.Visit, m.lead.base)
	r.Deviation = sd
	if r.Kind == "" {
		r.Kind = Chosen
		if row := words.Of(m.lead.Type, m.lead.Key); drawn || m.name != "" || m.lead.Kind != schema.KindInt && row != nil && slices.Contains(varying, row.Where) {
			r.Kind = Varies
		}
	}
	for _, reach := range []*Reach{&r.Down, &r.Up} {
		if reach.Next == nil {
			continue
		}
		far := math.Abs(reach.To.Value - m.lead.base)
		if m.shares() {
			share := far / math.Abs(m.lead.base)
			reach.Share = &share
		}
		scatters := math.Abs(reach.Next.Value - m.lead.base)
		if sd > 0 {
			scatters /= sd
		} else {
			scatters = math.Inf(1)
			if far == 0 {
				scatters = 0
			}
		}
		if r.Scatters == nil || scatters < *r.Scatters {
			r.Scatters = &scatters
		}
	}
	if r.Scatters != nil && math.IsInf(*r.Scatters, 1) {
		*r.Scatters = math.MaxFloat32 // of what is nothing now, no share can be told
	}
}

// varying is where numbers are found that vary, or that somebody measured: what is printed on a part stays.
var varying = []words.Where{words.Meter, words.Memory}

// shares reports whether a share of the value means anything.
func (m *mover) shares() bool {
	return m.lead.base != 0 && m.lead.Dimension.String() != "temperature" && m.lead.Kind != schema.KindInt
}
