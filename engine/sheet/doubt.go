package sheet

import (
	"slices"

	"plumbline/engine"
)

// Puzzle is something that does not add up with the rest that was said: it is looked at again before anything is bought.
type Puzzle struct {
	// Path is the one fact that explains it, Name what it is called; "" where any of several may be wrong.
	Path string `json:"path,omitempty"`
	Name string `json:"name,omitempty"`
	// Text says what does not add up.
	Text string `json:"text"`
	// Perhaps is what was perhaps meant.
	Perhaps []string `json:"perhaps,omitempty"`
	Rules   []string `json:"rules"`
}

// doubts are the checks of sense that are not met; those that one fact explains are one.
func (b *builder) doubts() []Puzzle {
	var out []Puzzle
	for i := range b.report.Findings {
		f := &b.report.Findings[i]
		if !f.Sense || f.Outcome != engine.Warn || f.Conceded != nil {
			continue
		}
		d := Puzzle{Text: f.Text, Rules: []string{f.Rule}}
		if c := f.Cause; c != nil {
			d.Path, d.Name, d.Perhaps = c.Path, NameOf(b.design, c.Path), c.Meant
		} else {
			for _, x := range f.Likely {
				d.Perhaps = append(d.Perhaps, x.Meant)
			}
		}
		at := slices.IndexFunc(out, func(x Puzzle) bool { return d.Path != "" && x.Path == d.Path })
		if at >= 0 {
			out[at].Rules = append(out[at].Rules, f.Rule)
			continue
		}
		out = append(out, d)
	}
	return out
}
