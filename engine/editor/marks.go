package editor

import (
	"fmt"
	"strings"

	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Weight is how grave a mark is.
type Weight int

// Wrong is a fail or a mistake in the file, Doubtful a warning, Told what is only told, Unknown a point that is open.
const (
	Wrong Weight = iota + 1
	Doubtful
	Told
	Unknown
)

// Mark is something said of a place of a text.
type Mark struct {
	Place schema.Place
	// Text is what stands there, as written; the mark is that long, or a word if it is empty.
	Text   string
	Weight Weight
	// Code is the rule, empty for a mistake in the file.
	Code    string
	Message string
	// Also are other places that have to do with it.
	Also []Also
}

// Also is another place of a mark, and what stands there.
type Also struct {
	Place   schema.Place
	Message string
}

// Problems are the marks of what is wrong with a file.
func Problems(list document.Problems) []Mark {
	var out []Mark
	for _, p := range list {
		out = append(out, Mark{Place: p.Place, Text: p.Text, Weight: Wrong, Message: p.Message})
	}
	return out
}

// mostOpen are the open points that are marked one by one, the others counted.
const mostOpen = 30

// Judged are the marks of a judged design: what is wrong, what is doubtful, and of what is open that which stops the job now
// or would come out badly with anything usual. What stands in another file, a template, is told where the design names it.
func Judged(r *engine.Report, d *schema.Design) []Mark {
	out := Problems(r.Faults)
	unknown, more := 0, 0
	for i := range r.Findings {
		f := &r.Findings[i]
		m := Mark{Place: f.Place, Code: f.Rule, Message: report.FindingWords(f, r.Asked)}
		switch {
		case f.Outcome == engine.Fail && f.Conceded == nil:
			m.Weight = Wrong
		case f.Outcome == engine.Warn && f.Conceded == nil:
			m.Weight = Doubtful
		case f.Outcome == engine.Fail, f.Outcome == engine.Warn:
			m.Weight, m.Message = Told, fmt.Sprintf("%s Conceded by %s until %s.", m.Message, f.Conceded.By, f.Conceded.Until)
		case f.Outcome == engine.Open:
			badly := f.Leaning != nil && f.Leaning.Lean != engine.WouldPass
			if m.Weight = Unknown; badly {
				m.Message += " " + report.LeaningWords(f.Leaning)
			}
			if !f.Blocks && !badly || unknown >= mostOpen {
				more++
				continue
			}
			unknown++
		default:
			continue
		}
		for _, fact := range f.Facts {
			switch {
			case fact.Place == f.Place:
				m.Text = fact.Text
			case fact.Place.Line > 0:
				m.Also = append(m.Also, Also{fact.Place, strings.TrimPrefix(fact.Path, "design.") + ": " + fact.Text})
			}
		}
		out = append(out, m)
	}
	if more > 0 {
		out = append(out, Mark{Place: d.Place(), Weight: Unknown,
			Message: counted(more, "point") + " cannot be judged yet, and need not be now; plumbline check tells what to find out"})
	}
	own := d.Place().File
	for i := range out {
		if m := &out[i]; m.Place.File != own && d.BasedOn.Known() && m.Code != "" {
			m.Also = append([]Also{{m.Place, "here, in the template"}}, m.Also...)
			m.Place, m.Text = d.BasedOn.Place(), d.BasedOn.Text()
		}
	}
	return out
}
