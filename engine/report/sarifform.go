package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"plumbline/engine"
	"plumbline/schema/document"
)

// SARIF writes the findings that are not met as a SARIF 2.1.0 log with one run.
//
// A failing finding is a result of kind fail and level error, a doubtful one
// fail and warning, an open one open and none: the standard (3.27.10) wants the
// level none for every kind but fail. What cannot be judged yet and stops nothing is counted only.
// A design that could not be judged is a notification of the run (3.20.21).
func SARIF(w io.Writer, reports []*engine.Report, a About) error {
	return all(w, &sarifForm{about: a}, reports)
}

// quiet reports whether a finding is open, stops nothing and is not conceded: of such, a report that is not verbose says only
// that they are open.
func quiet(f *engine.Finding) bool { return f.Outcome == engine.Open && !f.Blocks && f.Conceded == nil }

// sarifForm writes one run: its results as they come, then what is known of the run as a whole.
type sarifForm struct {
	about   About
	verbose bool
	run     sarifRun
	index   map[string]int
	begun   bool
	// others are the figures that are others where designs are used.
	others []engine.Overridden
}

// sarifPiece is what one design adds to a run.
type sarifPiece struct {
	// asked are the questions of the report.
	asked   []engine.Question
	results []sarifResult
	texts   [][]byte
	rules   map[string]sarifRule
	order   []string

	content       *sarifContent
	inDoubt       []string
	loosened      []Loosened
	others        []engine.Overridden
	openNotListed int
	notifications []sarifNotification
}

// Piece is the results of one design.
func (l *sarifForm) Piece(x Item) any {
	if x.Report == nil {
		return &sarifPiece{notifications: newNotifications(&x)}
	}
	p := newSARIFPiece(x.Report)
	p.notifications = newNotifications(&x)
	for i := range x.Report.Findings {
		switch f := &x.Report.Findings[i]; {
		case !matters(f):
		case !l.verbose && quiet(f):
			p.openNotListed++
		default:
			p.result(f).Properties.Cautions = cautionsFor(x.Report, f)
		}
	}
	return p.written()
}

func newSARIFPiece(r *engine.Report) *sarifPiece {
	p := &sarifPiece{asked: r.Asked, rules: map[string]sarifRule{}, content: &sarifContent{Location: sarifArtifact{URI: fileURI(ownFile(r.File))}}}
	if r.Title != "" && ownFile(r.File) == r.File {
		p.content.Description = &sarifText{clean(r.Title)}
	}
	for _, line := range doubted(r, true) {
		p.inDoubt = append(p.inDoubt, clean(r.File)+": "+line)
	}
	p.loosened, p.others = newLayout(r.File).loosened(r.Loosened), r.Overridden
	return p
}

// result adds a finding, and its rule when it is the first of it.
func (p *sarifPiece) result(f *engine.Finding) *sarifResult {
	if _, known := p.rules[f.Rule]; !known {
		p.rules[f.Rule] = newSARIFRule(f)
	}
	p.results = append(p.results, newSARIFResult(f, p.asked))
	return &p.results[len(p.results)-1]
}

// written turns the results into text; only the place of the rule in the run is not known yet.
func (p *sarifPiece) written() *sarifPiece {
	for i := range p.results {
		r := &p.results[i]
		p.order = append(p.order, r.RuleID)
		r.RuleID = ""
		var b jsonLines
		b.compact(r)
		p.texts = append(p.texts, b.Bytes())
	}
	p.results = nil
	return p
}

func newNotifications(x *Item) []sarifNotification {
	var out []sarifNotification
	for _, p := range x.wrong() {
		said := clean(x.Name) + " is not judged: "
		if x.Report != nil {
			said = clean(x.Name) + " is not judged by all rules: "
		}
		n := sarifNotification{Level: "error", Message: sarifText{said + sentence(p.Message)}}
		if p.Place != (document.Place{}) {
			n.Locations = []sarifLocation{{Physical: at(p.Place, p.Text)}}
		}
		out = append(out, n)
	}
	return out
}

// Head writes the head of the log.
func (l *sarifForm) Head(w io.Writer) error {
	l.index = map[string]int{}
	l.run = sarifRun{
		Tool:        sarifTool{Driver: sarifDriver{Name: "Plumbline", Version: l.about.Version, Rules: []sarifRule{}}},
		ColumnKind:  "unicodeCodePoints",
		Invocations: []sarifInvocation{{Successful: true}},
		Properties:  sarifLibrary{Digest: l.about.Digest},
	}
	_, err := io.WriteString(w, `{
"$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
"version": "2.1.0",
"runs": [{
"results": [`)
	return err
}

// Add writes the results and keeps their rules and what could not be read.
func (l *sarifForm) Add(w io.Writer, piece any) error {
	p := piece.(*sarifPiece)
	l.run.Properties.InDoubt = append(l.run.Properties.InDoubt, p.inDoubt...)
	l.run.Properties.OpenNotListed += p.openNotListed
	if len(p.loosened) > 0 {
		l.run.Properties.Loosened = p.loosened
	}
	l.others = withOverridden(l.others, p.others)
	if len(p.notifications) > 0 {
		l.run.Invocations[0].Successful = false
		l.run.Invocations[0].Notifications = append(l.run.Invocations[0].Notifications, p.notifications...)
	}
	// The lines of one file come one after the other, and a file is listed once.
	if n := len(l.run.Artifacts); p.content != nil && (n == 0 || l.run.Artifacts[n-1].Location != p.content.Location) {
		l.run.Artifacts = append(l.run.Artifacts, *p.content)
	}
	var b strings.Builder
	for i, text := range p.texts {
		id := p.order[i]
		n, known := l.index[id]
		if !known {
			n = len(l.run.Tool.Driver.Rules)
			l.index[id] = n
			l.run.Tool.Driver.Rules = append(l.run.Tool.Driver.Rules, p.rules[id])
		}
		if l.begun {
			b.WriteByte(',')
		}
		l.begun = true
		name, err := json.Marshal(id)
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "\n{\"ruleId\":%s,\"ruleIndex\":%d,%s", name, n, text[1:])
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Tail writes the rules, the invocation and its notifications.
func (l *sarifForm) Tail(w io.Writer) error {
	var b jsonLines
	b.WriteString("],\n\"tool\": {\"driver\": ")
	b.value(l.run.Tool.Driver)
	b.WriteString("},\n\"columnKind\": ")
	b.compact(l.run.ColumnKind)
	b.WriteString(",\n\"invocations\": ")
	b.value(l.run.Invocations)
	b.WriteString(",\n\"properties\": ")
	l.run.Properties.Overridden = newLayout("").overridden(l.others)
	b.compact(l.run.Properties)
	if len(l.run.Artifacts) > 0 {
		b.WriteString(",\n\"artifacts\": ")
		b.value(l.run.Artifacts)
	}
	b.WriteString("\n}]\n}\n")
	_, err := w.Write(b.Bytes())
	return err
}
