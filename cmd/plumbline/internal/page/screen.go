package page

import (
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine/pack"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
)

// Head is what stands above every page of a job: the verdict, which never leaves the top, what was done last, and where else to go.
type Head struct {
	// Name is the job's file, File the same within an address, Called its title or file.
	Name, File, Called string
	Revision           int
	// Word is the verdict in a word, Lead and Rest in sentences, Dangers what is at stake where something is wrong.
	Word, Lead, Rest string
	Dangers          []string
	Undo, Redo       string
	ReadOnly         bool
	// Problems say why the file cannot be read as it is now.
	Problems []string
	Stage    string
	Stages   []choice
	// Told is what the last edit led to; nil for nothing to tell.
	Told *told
	// Says are the sentences of it that are heard.
	Says []string
	// Conflict are facts that somebody else stated otherwise.
	Conflict *desk.Conflict
	// Here names the page among those of a job; Place is where on it forms come from.
	Here  string
	Place url.Values
	// Typed is what was sent and not taken.
	Typed url.Values
	// Again is where it was sent, Mine the same without where it came from.
	Again string
	Mine  url.Values
	// Offers are readings of it that would be taken.
	Offers []string
}

// choice is a word that can be tapped.
type choice struct {
	Word, Said string
	Now        bool
}

// jobBody is the page of a job.
type jobBody struct {
	Head
	Chips []chip
	// Begin are the ways the fuel may run, where nobody said which it is.
	Begin []begin
	Ways  []tab
	// Drawn are the drawings of the way that is looked at.
	Drawn []template.HTML
	About string
	Ask   []fact
	Buy   []desk.Buy
	// Found are the lines of the slip; of a job that is no longer planned what is wrong or doubtful.
	Found     []line
	NotLooked []string
	Card      *card
}

// chip is a fact of the vehicle that is always seen.
type chip struct{ Label, Value, Link string }

// begin is a way that the fuel may run, to be chosen.
type begin struct {
	Title, Pattern string
	Picture        template.HTML
}

// tab leads to a way of the vehicle.
type tab struct {
	Key, Title, Link string
	Now              bool
}

// line is one thing that was found.
type line struct {
	Word, Text, Do, Link string
	Number               int
}

// job shows a job.
func (s *Server) job(w http.ResponseWriter, r *http.Request) {
	if _, view, ok := s.opened(w, r); ok {
		s.jobWith(w, r, http.StatusOK, view, nil)
	}
}

func (s *Server) jobWith(w http.ResponseWriter, r *http.Request, status int, view *desk.View, err error) {
	h := s.headOf(r, view, "counter", err)
	b := &jobBody{Head: h, Chips: chipsOf(view, h.File), NotLooked: view.NotLooked(), Buy: view.BuyQuickly()}
	slip := slipOf(view)
	b.Found = foundOf(view, slip, h.File)
	b.Begin = beginnings(view)
	way := r.FormValue("way")
	b.Ways, b.Drawn, b.About = drawn(view, slip, way, h.File)
	habit := habitOf(r)
	for _, q := range view.Questions() {
		b.Ask = append(b.Ask, factOf(view, q, habit))
	}
	if path := r.FormValue("part"); path != "" {
		b.Card = s.cardOf(r, view, path, habit)
	}
	f := frame{Title: h.Word + ": " + h.Called, Page: "job", Body: b}
	if err != nil {
		f.Wrong = wordsOf(err)
	}
	s.show(w, r, status, f)
}

// slipOf is the slip of a job that is only planned; nil for any other.
func slipOf(view *desk.View) *sheet.Slip {
	if view.Stage != "planned" {
		return nil
	}
	return view.Slip()
}

// stages are how far a job may be, as people say it.
var stages = []choice{{Word: "planned", Said: "planned"}, {Word: "ordered", Said: "ordered"}, {Word: "built", Said: "built"}, {Word: "started", Said: "started"}, {Word: "handed_over", Said: "handed over"}}

// headOf is the head of a page of a job.
func (s *Server) headOf(r *http.Request, view *desk.View, here string, err error) Head {
	h := Head{Name: view.Name, File: escapedFile(view.Name), Called: view.Title, Revision: view.Revision, Undo: view.Undo, Redo: view.Redo,
		ReadOnly: view.ReadOnly, Stage: view.Stage, Here: here, Place: placeOf(r)}
	if h.Called == "" {
		h.Called = view.Name
	}
	slip := slipOf(view)
	h.Lead, h.Rest = view.Headline, sentence(report.Rest(view.Report, slip))
	h.Word = "YES"
	switch {
	case slip != nil:
		h.Word = report.WordOf(slip.Answer)
	case isNo(h.Lead):
		h.Word = "NO"
	case !strings.HasPrefix(h.Lead, "Nothing stands"):
		h.Word = "ASK"
	}
	h.Dangers = dangersOf(view, slip)
	for _, p := range view.Problems {
		h.Problems = append(h.Problems, problemText(p))
	}
	for _, c := range stages {
		c.Now = c.Word == view.Stage
		h.Stages = append(h.Stages, c)
	}
	if t, ok := s.done.get(r.URL.Query().Get("done")); ok && t.Job == view.Name && err == nil {
		h.Told, h.Says = t, saysOf(t)
	}
	if err != nil {
		h.Typed, h.Again, h.Mine = r.PostForm, r.URL.EscapedPath(), url.Values{}
		for key, list := range r.PostForm {
			if key != "revision" && key != "back" && !h.Place.Has(key) {
				h.Mine[key] = list
			}
		}
		var refused *desk.Refused
		if errors.As(err, &refused) {
			h.Offers = refused.Offer
		}
		errors.As(err, &h.Conflict)
	}
	return h
}

// dangersOf counts what is at stake where something is wrong: FIRE 1.
func dangersOf(view *desk.View, slip *sheet.Slip) []string {
	counts := map[pack.Danger]int{}
	if slip != nil {
		for _, p := range slip.Parts {
			if p.Word == sheet.No {
				counts[pack.Danger(p.Danger)]++
			}
		}
	} else {
		for i := range view.Report.Findings {
			if f := &view.Report.Findings[i]; f.Outcome == "fail" && f.Conceded == nil {
				counts[f.Danger]++
			}
		}
	}
	var out []string
	for _, d := range pack.Dangers() {
		if counts[d] > 0 && d.Grave() {
			out = append(out, strings.ToUpper(d.Words())+" "+strconv.Itoa(counts[d]))
		}
	}
	return out
}

// saysOf says what an edit led to.
func saysOf(t *told) []string {
	var out []string
	if t.Name != "" {
		out = append(out, sentence("Done: "+t.Name))
	}
	if t.Merged {
		out = append(out, "Somebody else changed the job meanwhile; both stand now.")
	}
	if t.Changed.Before != t.Changed.After && t.Changed.After != "" {
		out = append(out, sentence("Now: "+t.Changed.After))
	}
	for _, text := range t.Turned {
		out = append(out, sentence(text))
	}
	return out
}

// link is the page of a job with a part open, or a way looked at.
func link(file string, pairs ...string) string {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			v.Set(pairs[i], pairs[i+1])
		}
	}
	if len(v) == 0 {
		return "/job/" + file
	}
	return "/job/" + file + "?" + v.Encode()
}

// chipsOf are the facts of the vehicle.
func chipsOf(view *desk.View, file string) []chip {
	d := view.Design
	var out []chip
	add := func(label, value, part, fact string) {
		out = append(out, chip{label, value, link(file, "part", part, "fact", fact)})
	}
	fact := func(label string, f schema.Reading, part, behind string) {
		value := ""
		if schema.IsStated(f) {
			value = f.Text() + behind
		}
		add(label, value, part, string(schema.Path(f.Path()).Key()))
	}
	fact("size", &d.Engine.Displacement, "design.engine", "")
	fact("cylinders", &d.Engine.Cylinders, "design.engine", " cylinders")
	fact("power", &d.Engine.Power, "design.engine", "")
	if f := &d.Fuel.Ethanol; schema.IsStated(f) && !strings.HasPrefix(f.Text(), "E") {
		add("blend", "ethanol "+f.Text(), "design.fuel", "ethanol")
	} else {
		fact("blend", f, "design.fuel", "") // E10 says it
	}
	fact("volts", &d.Battery.SystemVoltage, "design.battery", "")
	var regions []string
	for _, x := range d.Regions.Items {
		regions = append(regions, strings.ToUpper(x.Text()))
	}
	add("place", strings.Join(regions, ", "), "design.regions", "")
	return out
}

// foundOf are the lines of what was found, the worst first.
func foundOf(view *desk.View, slip *sheet.Slip, file string) []line {
	var out []line
	if slip != nil {
		for i := range slip.Doubts {
			d := &slip.Doubts[i]
			out = append(out, line{Word: "LOOK", Text: sentence(report.DoubtText(d))})
		}
		for i := range slip.Parts {
			p := &slip.Parts[i]
			out = append(out, line{Word: report.WordOf(p.Word), Text: sentence(report.PartText(p)), Do: report.PartDo(p), Link: link(file, "part", p.Subject)})
		}
		return out
	}
	for i, list := range report.Numbered(view.Report) {
		f := list[0]
		out = append(out, line{Word: report.OutcomeWord(f.Outcome), Text: sentence(f.Text), Do: f.Remedy, Number: i + 1, Link: link(file, "part", partOf(f.Subject))})
	}
	return out
}

// partOf is the part whose card shows what stands at a path.
func partOf(path string) string {
	if field := schema.Describe(path).Field; field.Kind != schema.KindPart && field.Kind != schema.KindMaybe && schema.TypeAt(path) == "" {
		if parent := string(schema.Path(path).Parent()); parent != "design" && parent != "" {
			return parent
		}
	}
	return path
}
