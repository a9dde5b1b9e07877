package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// mostRooms is how many numbers of each kind are told unless all are asked for.
const mostRooms = 8

// Headroom writes how far the numbers of a design may move.
func Headroom(w io.Writer, d *schema.Design, h *whatif.Headroom, o TextOptions) error {
	p := NewPrinter(w, o.Width, o.Colour)
	if h.Title != "" {
		p.Heading(clean(h.Title))
	}
	if h.Wrong > 0 {
		p.Para(0, 0, fmt.Sprintf("As it stands %s not met; what follows says when more goes wrong.", count(h.Wrong, "thing is", "things are")))
	}
	if h.Usual {
		p.Para(0, 0, "What nobody stated is taken at its usual value.")
	}
	for i := range h.Headlines {
		p.Para(0, indent, headline(&h.Headlines[i]))
	}
	for _, k := range []struct {
		kind  whatif.Kind
		title string
	}{{whatif.Varies, "What varies or is known only so well, the nearest to trouble first"}, {whatif.Chosen, "What is chosen and then stays"}, {whatif.Entered, "What is entered and measured once all is built"}} {
		var rooms []*whatif.Room
		for i := range h.Rooms {
			if h.Rooms[i].Kind == k.kind {
				rooms = append(rooms, &h.Rooms[i])
			}
		}
		if len(rooms) == 0 {
			continue
		}
		p.Blank()
		p.Heading(k.title)
		told, like := map[string]int{}, 0
		for _, r := range rooms {
			if told[likeness(r)]++; told[likeness(r)] > 1 && !o.Verbose {
				like++ // the nearest of its like is told
				continue
			}
			if len(told) > mostRooms && !o.Verbose {
				like++
				continue
			}
			p.Para(0, indent, capital(clean(sheet.NameOf(d, r.Facts[0])))+movesWith(r)+", now "+r.Stated.Text+": "+roomWords(r)+".")
		}
		if like > 0 {
			p.Para(0, indent, fmt.Sprintf("%s more, like these or farther off; --all lists them.", count(like, "number", "numbers")))
		}
	}
	if len(h.Still) > 0 {
		p.Blank()
		p.Para(0, 0, fmt.Sprintf("Nothing turns on %s over all they may be.", count(len(h.Still), "other number", "other numbers")))
	}
	return p.Flush()
}

// likeness is what a number is of and what turns on it: each wire of a harness has the same.
func likeness(r *whatif.Room) string {
	out := string(schema.Path(r.Facts[0]).Generic())
	for _, reach := range []*whatif.Reach{&r.Down, &r.Up} {
		if len(reach.Turns) > 0 {
			out += " " + reach.Turns[0].Rule
		}
	}
	return out
}

// headline is the line of what is asked of first: good for so much, and then what.
func headline(r *whatif.Room) string {
	text := capital(clean(r.Name)) + movesWith(r) + ", now " + r.Stated.Text + ": "
	if r.Up.Next == nil {
		text += "nothing turns up to " + r.Up.To.Text
	} else {
		text += "good for " + r.Up.To.Text + ", then " + turnsWords(&r.Up)
	}
	if r.Down.Next == nil {
		return text + ". Downwards nothing turns to " + r.Down.To.Text + "."
	}
	return text + ". Downwards good to " + r.Down.To.Text + ", then " + turnsWords(&r.Down) + "."
}

func movesWith(r *whatif.Room) string {
	if r.Together == "" || len(r.Facts) < 2 {
		return ""
	}
	return fmt.Sprintf(" (with %s: %s)", count(len(r.Facts)-1, "other number", "other numbers"), clean(r.Together))
}

func roomWords(r *whatif.Room) string {
	var out []string
	for _, side := range []struct {
		reach *whatif.Reach
		word  string
	}{{&r.Up, "up"}, {&r.Down, "down"}} {
		if side.reach.Next == nil {
			continue
		}
		text := side.word + " to " + side.reach.To.Text
		if side.reach.To.Value == r.Stated.Value {
			text = "no room " + side.word
		} else if side.reach.Share != nil {
			text += " (" + percent(math.Abs(*side.reach.Share)) + ")"
		}
		out = append(out, text+"; at "+side.reach.Next.Text+" "+turnsWords(side.reach))
	}
	switch {
	case r.Up.Next == nil:
		out = append(out, "nothing turns up to "+r.Up.To.Text)
	case r.Down.Next == nil:
		out = append(out, "nothing turns down to "+r.Down.To.Text)
	}
	return strings.Join(out, "; ")
}

// turnsWords say what turns.
func turnsWords(reach *whatif.Reach) string {
	first := reach.Turns[0]
	text := reason(first.Text)
	if first.To == engine.Open {
		text = "it can no longer be told (" + first.Rule + ")"
	}
	if first.Again != nil {
		text += " (it turns more than once: as now again from " + first.Again.Text + ")"
	}
	if n := len(reach.Turns) - 1; n > 0 {
		text += fmt.Sprintf(" (and %s)", count(n, "more finding", "more findings"))
	}
	return text
}
