package page

import (
	"cmp"
	"html/template"
	"math"
	"net/http"
	"strconv"
	"strings"

	"plumbline/engine/drawing"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// slideBody is how far the numbers may move.
type slideBody struct {
	Head
	Rooms []room
	// Wrong counts what is not met as it stands; Usual is set where it rests on what is usual.
	Wrong int
	Usual bool
}

// room is a number with the places where the first finding turns.
type room struct {
	Name, Path, Now string
	// Low, High and At are the ends of the slider and where it stands, in the unit it is told in, Marks where a finding turns; "" for a
	// number that moves together with others and is not slid.
	Low, High, At, Step, Unit string
	Marks                     []string
	Says                      []string
	Picture                   template.HTML
}

// slide shows how far power, blend, altitude and heat may move.
func (s *Server) slide(w http.ResponseWriter, r *http.Request) {
	_, view, ok := s.opened(w, r)
	if !ok {
		return
	}
	b := &slideBody{Head: s.headOf(r, view, "slide", nil)}
	h := view.Slide()
	b.Wrong, b.Usual = h.Wrong, h.Usual
	for i := range h.Headlines {
		b.Rooms = append(b.Rooms, roomOf(view.Design, &h.Headlines[i], i))
	}
	s.show(w, r, http.StatusOK, frame{Title: "How far it may go: " + b.Called, Page: "slide", Body: b})
}

// roomOf is one number with where it turns.
func roomOf(d *schema.Design, x *whatif.Room, n int) room {
	out := room{Name: x.Name, Path: x.Facts[0], Now: x.Stated.Text}
	bar := sheet.Bar{Name: x.Name, Text: x.Stated.Text, Got: x.Stated.Value, Expected: math.NaN(), FineLow: math.NaN(), FineHigh: math.NaN(), StopLow: math.NaN(), StopHigh: math.NaN()}
	turns := func(word string, reach *whatif.Reach, end *float64) {
		if reach.Next == nil {
			out.Says = append(out.Says, "Nothing turns "+word+", as far as "+reach.To.Text+".")
			return
		}
		*end = reach.Next.Value
		text := "Turns " + word + " at " + reach.Next.Text
		if len(reach.Turns) > 0 {
			turn := &reach.Turns[0]
			text += " from " + strings.ToLower(report.OutcomeWord(turn.From)) + " to " + strings.ToLower(report.OutcomeWord(turn.To)) + ": " + cmp.Or(turn.Text, sheet.NameOf(d, turn.Subject))
		}
		out.Says = append(out.Says, sentence(text))
	}
	turns("downwards", &x.Down, &bar.StopLow)
	turns("upwards", &x.Up, &bar.StopHigh)
	out.Picture = template.HTML(drawing.Bars(&sheet.Bars{Title: x.Name, Describes: "Where it stands, empty where nothing turns, hatched where the first finding has turned", Rows: []sheet.Bar{bar}},
		drawing.Options{Width: narrowWay, ID: "room" + strconv.Itoa(n)}))
	if len(x.Facts) == 1 {
		out.slider(x)
	} else if x.Together != "" {
		out.Says = append(out.Says, sentence("What moves with it: "+x.Together))
	}
	return out
}

// slider spans the number with room beyond where it turns.
func (r *room) slider(x *whatif.Room) {
	now, unit, ok := figure(x.Stated.Text)
	if !ok {
		return
	}
	end := func(reach *whatif.Reach, else_ float64) float64 {
		n := reach.Next
		if n == nil {
			n = &reach.To
		}
		at, u, ok := figure(n.Text)
		if !ok || u != unit || reach.Next == nil && math.Abs(at-now) > math.Abs(else_-now) {
			return else_
		}
		if reach.Next != nil {
			r.Marks = append(r.Marks, number(at))
		}
		return now + (at-now)*1.3
	}
	span := math.Max(math.Abs(now), 10)
	low, high := end(&x.Down, math.Max(0, now-span/2)), end(&x.Up, now+span)
	if now >= 0 {
		low = math.Max(0, low)
	}
	fine := math.Pow(10, math.Floor(math.Log10((high-low)/50)))
	r.Low, r.High, r.At, r.Step, r.Unit = number(math.Floor(low/fine)*fine), number(math.Ceil(high/fine)*fine), number(now), number(fine), unit
}

// figure parts a number from its unit: 300 hp, E10.
func figure(text string) (n float64, unit string, ok bool) {
	if rest, is := strings.CutPrefix(text, "E"); is {
		n, err := strconv.ParseFloat(rest, 64)
		return n, "%", err == nil
	}
	head, unit, _ := strings.Cut(text, " ")
	n, err := strconv.ParseFloat(head, 64)
	return n, unit, err == nil
}

func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
