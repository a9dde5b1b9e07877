package page

import (
	"html/template"
	"io"
	"net/http"
	"strconv"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
)

// bayBody is the start-up sheet as cards: one reading at a time.
type bayBody struct {
	Head
	Steps []step
	// Step is the card that is open; nil when there is nothing to measure.
	Step *step
	// Taken counts the readings there are, of All.
	Taken, All int
	// Points is what the readings point to, and what to measure next.
	Points []string
	// Next is the reading that tells most, "" for none.
	Next string
	// Bars are all readings on their bands.
	Bars template.HTML
	// Gates are the papers to sign.
	Previous, Following string
}

// step is one reading.
type step struct {
	sheet.ToRead
	Number, At int
	Link       string
	Now        bool
	Fact       fact
	Bar        template.HTML
}

// bay shows the start-up sheet as cards.
func (s *Server) bay(w http.ResponseWriter, r *http.Request) {
	if _, view, ok := s.opened(w, r); ok {
		s.bayWith(w, r, http.StatusOK, view, nil)
	}
}

func (s *Server) bayWith(w http.ResponseWriter, r *http.Request, status int, view *desk.View, err error) {
	b := &bayBody{Head: s.headOf(r, view, "bay", err)}
	readings := view.Readings()
	at := -1
	if n, err := strconv.Atoi(r.FormValue("step")); err == nil && n > 0 && n <= len(readings) {
		at = n - 1
	}
	var bars []sheet.Bar
	for i, x := range readings {
		if x.Measured != "" {
			b.Taken++
		} else if at < 0 {
			at = i
		}
		if x.Bar != nil {
			bars = append(bars, *x.Bar)
		}
	}
	if at < 0 {
		at = 0
	}
	b.All = len(readings)
	to := func(n int) string { return "/bay/" + b.File + "?step=" + strconv.Itoa(n) + "#step" }
	for i, x := range readings {
		b.Steps = append(b.Steps, step{ToRead: x, Number: i + 1, At: i, Link: to(i + 1), Now: i == at})
	}
	if len(readings) > 0 {
		one := &b.Steps[at]
		if q := view.Question(one.Path); q != nil {
			one.Fact = factOf(view, q, habitOf(r))
			one.Fact.Example = "" // a number there would be taken for the one expected
		}
		if one.ToRead.Bar != nil {
			one.Bar = barsOf([]sheet.Bar{*one.ToRead.Bar}, "bar")
		}
		b.Step = one
		if at > 0 {
			b.Previous = to(at)
		}
		if at+1 < len(readings) {
			b.Following = to(at + 2)
		}
	}
	if b.Taken > 0 {
		if len(bars) > 0 {
			b.Bars = barsOf(bars, "bars")
		}
		b.diagnosis(view)
	}
	f := frame{Title: "In the bay: " + b.Called, Page: "bay", Body: b}
	if err != nil {
		f.Wrong = wordsOf(err)
	}
	s.show(w, r, status, f)
}

// diagnosis tells what the readings point to, and leads to the reading that would tell most.
func (b *bayBody) diagnosis(view *desk.View) {
	found := view.Diagnosis()
	b.Points = saidBy(func(w io.Writer) error { return report.Diagnosis(w, view.Design, found, wideText) })
	for _, next := range found.Next {
		for i := range b.Steps {
			if x := &b.Steps[i]; x.Path == "design."+next.Fact || x.Path == next.Fact {
				b.Next = x.Link
				return
			}
		}
	}
}

// barsOf draws readings on their bands, wide and narrow.
func barsOf(rows []sheet.Bar, id string) template.HTML {
	block := &sheet.Block{Bars: &sheet.Bars{Title: "The reading on its band", Describes: "Empty where it is fine, shaded where the cause must be found, hatched where work stops; a line where it was expected", Rows: rows}}
	return pictures(block, id)
}
