package page

import (
	"errors"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// told is what an edit led to, to be told on the page after it.
type told struct {
	// Job is the design, Name what was done, Revision the one it led to.
	Job, Name string
	Revision  int
	Heard     []desk.Heard
	Left      []desk.Left
	Merged    bool
	Changed   desk.Changed
	// Turned says which parts stand otherwise now: pump hose: NO → OK.
	Turned []string
}

// edit makes one change of a job from a form.
type edit func(job *desk.Job, revision int, form url.Values) (*desk.Done, error)

// edits are the changes there are, by their address.
func (s *Server) edits() map[string]edit {
	return map[string]edit{
		"set": func(job *desk.Job, revision int, form url.Values) (*desk.Done, error) {
			return job.Set(revision, form.Get("path"), withUnit(form.Get("answer"), form.Get("unit")))
		},
		"clear": func(job *desk.Job, revision int, form url.Values) (*desk.Done, error) {
			return job.Clear(revision, form.Get("path"))
		},
		"line": func(job *desk.Job, revision int, form url.Values) (*desk.Done, error) {
			return job.Line(revision, form.Get("line"))
		},
		"way": func(job *desk.Job, revision int, form url.Values) (*desk.Done, error) {
			return job.Way(revision, form.Get("pattern"))
		},
		"fit": func(job *desk.Job, revision int, form url.Values) (*desk.Done, error) {
			return job.Part(revision, form.Get("path"), form.Get("number"))
		},
		"skip": func(job *desk.Job, _ int, form url.Values) (*desk.Done, error) {
			_, err := job.Skip(form.Get("path"))
			return nil, err
		},
		"undo": func(job *desk.Job, revision int, _ url.Values) (*desk.Done, error) { return job.Undo(revision) },
		"redo": func(job *desk.Job, revision int, _ url.Values) (*desk.Done, error) { return job.Redo(revision) },
		"keep": func(job *desk.Job, _ int, form url.Values) (*desk.Done, error) { return job.Keep(form.Get("trial")) },
		"drop": func(job *desk.Job, _ int, form url.Values) (*desk.Done, error) {
			job.Drop(form.Get("trial"))
			return nil, nil
		},
	}
}

// editing answers for one kind of change: done, the page after it is gone to; refused, the page is shown with why and with what was typed.
func (s *Server) editing(make edit) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if !s.parse(w, r) {
			return
		}
		job, view, ok := s.opened(w, r)
		if !ok {
			return
		}
		revision, err := strconv.Atoi(r.PostFormValue("revision"))
		if err != nil {
			revision = view.Revision
		}
		remember(w, r)
		done, err := make(job, revision, r.PostForm)
		if err == nil || errors.Is(err, desk.ErrNothing) {
			http.Redirect(w, r, s.after(r, job, view, done), http.StatusSeeOther)
			return
		}
		s.refused(w, r, job, err)
	}
}

// after is the page after an edit: the one it was made on, with what it led to.
func (s *Server) after(r *http.Request, job *desk.Job, before *desk.View, done *desk.Done) string {
	to := placeOf(r)
	page, stop := "/job/", []string(nil)
	if r.PostFormValue("back") == "bay" {
		page = "/bay/"
		if step, text := stopped(done, r.PostFormValue("path")); text != "" {
			stop = []string{text}
			to.Set("step", strconv.Itoa(step)) // its card stays until that is settled
		}
	}
	if done != nil {
		to.Set("done", s.done.put(&told{job.Name(), done.Name, done.View.Revision, done.Heard, done.Left, done.Merged, done.Changed, append(stop, turned(before, done)...)}))
	}
	if text := to.Encode(); text != "" {
		return page + escapedFile(job.Name()) + "?" + text
	}
	return page + escapedFile(job.Name())
}

// stopped says that a reading just entered lies where work stops, and which card it is of; "" for any other.
func stopped(done *desk.Done, path string) (step int, text string) {
	if done == nil {
		return 0, ""
	}
	for i, x := range done.View.Readings() {
		if x.Path == path && x.Judged == "STOP" {
			return i + 1, "STOP, " + x.Stop + ": " + x.Measured + ". Engine and pump off; go on only when the cause is found. " + x.IfNot
		}
	}
	return 0, ""
}

// mostTurned is how many things that turned are told.
const mostTurned = 4

// turned says what stands otherwise after an edit: of a planned job the parts of its slip, of any other what turned to or from wrong or
// doubtful.
func turned(before *desk.View, done *desk.Done) []string {
	var out []string
	if was, is := slipOf(before), slipOf(done.View); was != nil && is != nil {
		words := map[string]sheet.Word{}
		for _, p := range was.Parts {
			words[p.Subject] = p.Word
		}
		for _, p := range is.Parts {
			switch old, known := words[p.Subject]; {
			case !known:
				out = append(out, p.Name+": "+report.WordOf(p.Word))
			case old != p.Word:
				out = append(out, p.Name+": "+report.WordOf(old)+" → "+report.WordOf(p.Word))
			}
		}
	} else {
		matters := func(o engine.Outcome) bool { return o == engine.Fail || o == engine.Warn }
		for _, f := range done.Changed.Findings {
			if matters(f.Before) != matters(f.After) || f.Before == engine.Fail || f.After == engine.Fail {
				out = append(out, report.OutcomeWord(f.Before)+" → "+report.OutcomeWord(f.After)+": "+f.Text)
			}
		}
	}
	if more := len(out) - mostTurned; more > 0 {
		out = append(out[:mostTurned], strconv.Itoa(more)+" more turned")
	}
	return out
}

// placeOf is where on the page of a job a form was sent from.
func placeOf(r *http.Request) url.Values {
	out := url.Values{}
	for _, key := range []string{"way", "part", "step"} {
		if v := r.FormValue(key); v != "" {
			out.Set(key, v)
		}
	}
	return out
}

// refused shows the page again with why an edit was not made.
func (s *Server) refused(w http.ResponseWriter, r *http.Request, job *desk.Job, err error) {
	view, problem := job.View()
	if problem != nil {
		s.fail(w, r, statusOf(problem), strings.Join(wordsOf(problem), " "))
		return
	}
	if r.PostFormValue("back") == "bay" {
		s.bayWith(w, r, statusOf(err), view, err)
		return
	}
	s.jobWith(w, r, statusOf(err), view, err)
}

// bare is a number without a unit, or several: 4, 3/8, 300..350, about 300.
var bare = regexp.MustCompile(`^(about )?[-+]?[0-9][0-9 ./,]*(\.\.[-+]?[0-9][0-9./,]*)*$`)

// withUnit puts the unit of a key behind a number that has none.
func withUnit(answer, unit string) string {
	answer = strings.TrimSpace(answer)
	if unit != "" && bare.MatchString(answer) {
		return answer + " " + unit
	}
	return answer
}

// unitKeys are the units that keys are given for, by what they measure: those printed on parts and shown by gauges.
var unitKeys = map[quantity.Dimension][]string{
	quantity.DimPressure:        {"psi", "bar", "kPa"},
	quantity.DimFlow:            {"L/h", "gal/h", "cc/min"},
	quantity.DimMassFlow:        {"lb/h", "g/s", "kg/h"},
	quantity.DimLength:          {"in", "mm", "ft", "m"},
	quantity.DimPower:           {"hp", "kW"},
	quantity.DimVolume:          {"L", "cu in", "gal", "mL"},
	quantity.DimVoltage:         {"V", "mV"},
	quantity.DimCurrent:         {"A"},
	quantity.DimResistance:      {"ohm", "kohm"},
	quantity.DimTemperature:     {"degF", "degC"},
	quantity.DimWireSize:        {"AWG", "mm2"},
	quantity.DimTime:            {"ms", "s", "min"},
	quantity.DimShare:           {"%"},
	quantity.DimAngle:           {"deg"},
	quantity.DimRotationalSpeed: {"rpm"},
	quantity.DimTorque:          {"lbf ft", "N m"},
}

// metric are the units of keys that come first where a job is told in metric units.
var metric = map[string]bool{"kPa": true, "L/h": true, "g/s": true, "mm": true, "kW": true, "L": true, "degC": true, "mm2": true, "N m": true}

// habitCookie holds the unit last used of each dimension.
const habitCookie = "plumbline-units"

// remember keeps the unit that was used with the browser, so that it comes first the next time.
func remember(w http.ResponseWriter, r *http.Request) {
	unit := r.PostFormValue("unit")
	if unit == "" {
		return
	}
	habit := habitOf(r)
	for d, list := range unitKeys {
		for _, u := range list {
			if u == unit {
				habit.Set(strconv.Itoa(int(d)), unit)
			}
		}
	}
	http.SetCookie(w, &http.Cookie{Name: habitCookie, Value: url.QueryEscape(habit.Encode()), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 400 * 24 * 3600})
}

// habitOf are the units that were used last.
func habitOf(r *http.Request) url.Values {
	if c, err := r.Cookie(habitCookie); err == nil {
		if text, err := url.QueryUnescape(c.Value); err == nil {
			if v, err := url.ParseQuery(text); err == nil {
				return v
			}
		}
	}
	return url.Values{}
}

// unitsFor are the unit keys of a fact, the one used last first; none where it has no unit.
func unitsFor(field schema.FieldInfo, habit url.Values, stated string, system quantity.System) []string {
	if field.Kind != schema.KindQuantity {
		return nil
	}
	list := unitKeys[field.Dimension]
	first := habit.Get(strconv.Itoa(int(field.Dimension)))
	if first == "" {
		for _, u := range list {
			if strings.HasSuffix(stated, " "+u) {
				first = u
			}
		}
	}
	for _, u := range list {
		if first == "" && system == quantity.Metric && metric[u] {
			first = u
		}
	}
	var out []string
	for _, u := range list {
		if u == first {
			out = append([]string{u}, out...)
		} else {
			out = append(out, u)
		}
	}
	return out
}
