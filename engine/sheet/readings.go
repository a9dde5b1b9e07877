package sheet

import "plumbline/schema"

// ToRead is something to measure on a vehicle, with its bands and what was measured.
type ToRead struct {
	// Path is the fact that takes what was measured, Do what is done and read.
	Path string `json:"path"`
	Do   string `json:"do"`
	// Expected is what it should show, Fine and Stop the bands, as printed; "" for none.
	Expected string `json:"expected,omitempty"`
	Fine     string `json:"fine,omitempty"`
	Stop     string `json:"stop,omitempty"`
	// Measured is what was entered, "" for nothing, Judged what the band makes of it: fine, find out why, STOP.
	Measured string `json:"measured,omitempty"`
	Judged   string `json:"judged,omitempty"`
	// IfNot says what to do where it is not as it should be.
	IfNot string `json:"if_not,omitempty"`
	// Bar is the reading on its band; nil where there is no band, or nothing was measured.
	Bar *Bar `json:"-"`
}

// Readings are what the start-up sheet of a vehicle has measured, in its order.
func Readings(j *Job) []ToRead {
	m := &maker{Job: j, paper: &Paper{}}
	all := newStartUp(m)
	var out []ToRead
	for _, t := range all.readings {
		if t.got == nil {
			continue
		}
		x := ToRead{Path: t.got.Path(), Do: t.do, IfNot: t.ifNot}
		if !t.expected.Unknown {
			x.Expected = t.expected.Text
		}
		if !t.band.none() {
			_, x.Fine, x.Stop = m.words(nil, t.dimension, t.band)
		}
		if schema.IsStated(t.got) {
			x.Measured, x.Judged = m.fact(t.got).Text, t.judged()
			if bars := m.readingBars([]taken{t}); len(bars.Rows) > 0 {
				x.Bar = &bars.Rows[0]
			}
		}
		out = append(out, x)
	}
	return out
}
