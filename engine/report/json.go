package report

import (
	"io"
	"maps"
	"slices"

	"plumbline/engine"
)

// JSON writes the report document, described by schema/report.schema.json: one finding, rule or problem a line.
func JSON(w io.Writer, reports []*engine.Report, a About) error {
	return all(w, &jsonForm{about: a}, reports)
}

// NewDocument lays reports out as the JSON report.
func NewDocument(reports []*engine.Report, a About) Document {
	d := Document{
		Format:  Format,
		Program: Program{Name: "Plumbline", Version: a.Version},
		Library: Library{Digest: a.Digest, Packs: []Pack{}},
		Reports: []Report{}, Rules: map[string]Rule{}, Problems: []Problem{}, LocalCodes: LocalCodes,
	}
	for _, p := range a.Packs {
		if len(p.Rules) == 0 && len(p.Troubles)+len(p.Readings)+len(p.Signs) > 0 {
			continue // it is for a diagnosis; nothing is judged by it
		}
		d.Library.Packs = append(d.Library.Packs, Pack{Name: p.Pack, Title: p.Title, Edition: p.Edition, Rules: len(p.Rules)})
	}
	for _, r := range reports {
		l := newLayout(r.File)
		d.Reports = append(d.Reports, l.report(r, false))
		maps.Copy(d.Rules, l.rules)
	}
	return d
}

// jsonForm writes the JSON report. The table of rules comes after the reports: it has those that were named in one.
type jsonForm struct {
	about    About
	verbose  bool
	rules    map[string]Rule
	problems []Problem
	since    *Since
	begun    bool
}

// jsonPiece is a report, written, with its rules; or the problems.
type jsonPiece struct {
	text     []byte
	rules    map[string]Rule
	problems []Problem
}

// Piece lays out one report with the rules it names, or what could not be read.
func (j *jsonForm) Piece(x Item) any {
	if x.Report == nil {
		return jsonPiece{problems: x.problems()}
	}
	l := newLayout(x.Report.File)
	r := l.report(x.Report, j.verbose)
	r.Slip = slipOf(&x)
	piece := laidOut(r, l.rules)
	piece.problems = x.problems()
	return piece
}

func laidOut(r Report, rules map[string]Rule) jsonPiece {
	var b jsonLines
	b.value(r)
	return jsonPiece{text: b.Bytes(), rules: rules}
}

// Head writes what is known before any design: the edition of the form, the program and its library.
func (j *jsonForm) Head(w io.Writer) error {
	j.rules, j.problems = map[string]Rule{}, []Problem{}
	d := NewDocument(nil, j.about)
	var b jsonLines
	b.WriteString("{\n\"format\": ")
	b.compact(d.Format)
	b.WriteString(",\n\"program\": ")
	b.compact(d.Program)
	b.WriteString(",\n\"library\": ")
	b.value(d.Library)
	b.WriteString(",\n\"local_codes\": ")
	b.compact(d.LocalCodes)
	b.WriteString(",\n\"reports\": [")
	_, err := w.Write(b.Bytes())
	return err
}

// Add writes one report and keeps its rules for the end.
func (j *jsonForm) Add(w io.Writer, piece any) error {
	p := piece.(jsonPiece)
	j.problems = append(j.problems, p.problems...)
	for name, rule := range p.rules {
		if known, there := j.rules[name]; !there || known.Because == nil {
			j.rules[name] = rule
		}
	}
	if p.text == nil {
		return nil
	}
	before := ",\n"
	if !j.begun {
		j.begun, before = true, "\n"
	}
	_, err := w.Write(slices.Concat([]byte(before), p.text))
	return err
}

// Tail writes the rules, each once, the problems and what changed.
func (j *jsonForm) Tail(w io.Writer) error {
	var b jsonLines
	b.WriteString("],\n\"rules\": ")
	b.value(j.rules)
	b.WriteString(",\n\"problems\": ")
	b.value(j.problems)
	if j.since != nil {
		b.WriteString(",\n\"since\": ")
		b.compact(j.since)
	}
	b.WriteString("\n}\n")
	_, err := w.Write(b.Bytes())
	return err
}
