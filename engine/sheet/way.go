package sheet

import (
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema/quantity"
)

// Way is a way that fuel or current takes, to be drawn as a profile along a path: what lies on it one after the other, and at
// each joint what is read there.
type Way struct {
	// Title and Describes say what is drawn, for those who do not see it.
	Title, Describes string
	// Points are the operating points of the readings.
	Points []string
	// Blank gives each reading a place to write what was measured.
	Blank bool
	Legs  []Leg
}

// Leg is a part of a way whose readings are drawn on one scale.
type Leg struct {
	Name string
	// Note says what holds for the whole of it.
	Note string
	// Lost draws the profile as what is lost since the first reading of each point, for points that lie far apart.
	Lost  bool
	Stops []Stop
}

// Symbol says what a stop is drawn as.
type Symbol string

// What stops are drawn as: what the parts are.
const (
	SymbolTank      Symbol = "tank"
	SymbolPump      Symbol = "pump"
	SymbolHose      Symbol = "hose"
	SymbolTube      Symbol = "tube"
	SymbolFilter    Symbol = "filter"
	SymbolFitting   Symbol = "fitting"
	SymbolRegulator Symbol = "regulator"
	SymbolBody      Symbol = "body"
	SymbolJoint     Symbol = "joint"
	SymbolBattery   Symbol = "battery"
	SymbolFuse      Symbol = "fuse"
	SymbolRelay     Symbol = "relay"
	SymbolWire      Symbol = "wire"
	SymbolLoad      Symbol = "load"
	SymbolGround    Symbol = "ground"
	SymbolGap       Symbol = "gap"
	SymbolBox       Symbol = "box"
	SymbolPipe      Symbol = "pipe"
	SymbolSensor    Symbol = "sensor"
)

// Stop is one thing on a way: a joint, where something is read, or a piece.
type Stop struct {
	Symbol Symbol
	// Mark is what it is called on the drawing and in the tables, such as J3.
	Mark string
	Name string
	// Path is the part of the design it is; "" where it is none of its own.
	Path string
	// Word is the verdict of a slip on the part, "" where there is none: see Judge.
	Word Word
	// Details are what is known of it, the most wanted first.
	Details []string
	Zone    string
	// Unknown is set where not enough was stated to draw it whole.
	Unknown bool
	// Bad are the numbers of the findings that are wrong here, the worst first.
	Bad []int
	// Readings are those at a joint, one for each point of the way.
	Readings []Reading
}

// Reading is what a gauge or meter shows at a stop.
type Reading struct {
	Text  string
	SI    float64
	Known bool
}

// readings are derived values of one dimension along a leg, printed in one unit: for each stop that is read one for each point.
func (m *maker) readings(list [][]*derive.Result) [][]Reading {
	flat := slices.Concat(list...)
	cells, out, n := m.row(flat), make([][]Reading, len(list)), 0
	for i, results := range list {
		for _, r := range results {
			reading := Reading{Text: cells[n].Text, Known: !cells[n].Unknown}
			if q, ok := r.Value().(quantity.Value); ok {
				reading.SI = q.SI()
			} else if strings.HasSuffix(r.Absent, ".runs_at") {
				reading.Text = "off" // it does not run then
			}
			out[i], n = append(out[i], reading), n+1
		}
	}
	return out
}

// together tells operating points as one whose readings are alike at every stop.
func (w *Way) together() {
	alike := func(k int) bool {
		for _, leg := range w.Legs {
			for _, s := range leg.Stops {
				if len(s.Readings) > k && s.Readings[k].Text != s.Readings[k-1].Text {
					return false
				}
			}
		}
		return true
	}
	for k := len(w.Points) - 1; k > 0; k-- {
		if !alike(k) {
			continue
		}
		w.Points = slices.Replace(slices.Clone(w.Points), k-1, k+1, w.Points[k-1]+", "+w.Points[k])
		for _, leg := range w.Legs {
			for i := range leg.Stops {
				if s := &leg.Stops[i]; len(s.Readings) > k {
					s.Readings = slices.Delete(s.Readings, k, k+1)
				}
			}
		}
	}
}

// badAt are the numbers of the findings that are wrong or doubtful about what stands at a path or below it.
func (m *maker) badAt(path string) []int {
	var out []int
	for i := range m.Report.Findings {
		f := &m.Report.Findings[i]
		if f.Outcome != engine.Fail && f.Outcome != engine.Warn || f.Conceded != nil || m.Number == nil {
			continue
		}
		if f.Subject != path && !strings.HasPrefix(f.Subject, path+".") {
			continue
		}
		if n := m.Number(f); n > 0 && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// Judge sets the words of a slip on the stops of a way.
func (w *Way) Judge(s *Slip) {
	words := map[string]Word{}
	for _, p := range s.Parts {
		words[p.Subject] = p.Word
	}
	for i := range w.Legs {
		for k := range w.Legs[i].Stops {
			stop := &w.Legs[i].Stops[k]
			if stop.Symbol != SymbolJoint && stop.Path != "" {
				stop.Word = words[ownerOf(stop.Path)]
			}
		}
	}
}

// pointWords are the operating points as people say them.
func pointWords(p derive.Point) string { return strings.ReplaceAll(p.String(), "_", " ") }
