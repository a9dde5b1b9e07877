package drawing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"plumbline/engine/sheet"
)

// wide is the width from which all operating points have a column of their own; below it the first and the last are told.
const wide = 620

// columns are where things stand across the page.
type columns struct {
	path, text, textEnd, from, to float64
	// reads are the right ends of the columns of readings, shown the points they are of.
	reads []float64
	shown []int
	// blank is where there is room to write, none for a way without.
	blank, room float64
}

// layColumns shares out the width.
func layColumns(w *sheet.Way, width float64) columns {
	c := columns{path: 34, text: 66}
	n := len(w.Points)
	if width < wide {
		c.path, c.text = 22, 49
		c.shown = []int{min(1, n-1), n - 1} // idle and full load
		switch {
		case n < 2:
			c.shown = []int{0}
		case w.Blank:
			c.shown = []int{0, n - 1} // cranking is what differs
		}
	} else {
		for i := range n {
			c.shown = append(c.shown, i)
		}
	}
	each, least := 48.0, 60.0
	if width < wide {
		each = 43
		if w.Blank {
			each, least = 42, 48
		}
	}
	if w.Blank {
		c.room = 42
		width -= c.room + 6
		c.blank = width
	}
	for i := range c.shown {
		c.reads = append(c.reads, width-4-each*float64(len(c.shown)-1-i))
	}
	left := width - each*float64(len(c.shown)) - 10
	graph := math.Max(least, (left-c.text)*0.36)
	c.from, c.to = left-graph, left-6
	c.textEnd = c.from - 8
	return c
}

// row is a stop with the room it takes.
type row struct {
	stop      *sheet.Stop
	name, say []string
	top, high float64
}

const (
	nameSize, saySize   = 13.0, 11.5
	nameLine, sayLine   = 15.5, 14.0
	leastPiece, aboveIt = 46.0, 5.0
)

// asked is a way for a screen that can be tapped: where paper has a place to write it has a question mark.
func asked(w *sheet.Way) *sheet.Way {
	mark := strings.NewReplacer("? ______", "?", ": ______", "", " ______", "?", "______", "?").Replace
	out := *w
	out.Legs, out.Blank = slices.Clone(w.Legs), false
	for i := range out.Legs {
		leg := &out.Legs[i]
		leg.Note, leg.Stops = mark(leg.Note), slices.Clone(leg.Stops)
		for k := range leg.Stops {
			stop := &leg.Stops[k]
			stop.Name, stop.Zone, stop.Details = mark(stop.Name), mark(stop.Zone), slices.Clone(stop.Details)
			for n := range stop.Details {
				stop.Details[n] = mark(stop.Details[n])
			}
		}
	}
	return &out
}

// headLine is how high a word of a column's head is, headWords how many have room without more.
const headLine, headWords = 11.0, 1

// Way draws a way down the page: at the left what lies on it, at the right a profile of what is read at its joints, and the
// readings themselves.
func Way(w *sheet.Way, o Options) string {
	c := &canvas{id: o.ID}
	if o.Link != nil {
		w = asked(w)
	}
	c.hatching()
	cols := layColumns(w, o.Width)
	y := 8.0
	title := w.Title
	for i := range w.Legs {
		if o.Leg == 0 || o.Leg == i+1 {
			y = c.leg(w, &w.Legs[i], cols, o, y)
		}
	}
	if o.Leg > 0 {
		title += ": " + w.Legs[o.Leg-1].Name
	}
	return c.whole(o, y, title, describe(w, o.Leg))
}

// leg draws one part of a way from a height on and returns where it ends.
func (c *canvas) leg(w *sheet.Way, leg *sheet.Leg, cols columns, o Options, y float64) float64 {
	width := o.Width
	for _, line := range broken(leg.Name+": "+leg.Note, width-8, 15, 3) {
		c.text(4, y+14, letters{size: 13, bold: true}, line)
		y += 17
	}
	y += 4
	scale := scaleOf(leg, cols)
	if scale.known {
		for _, point := range cols.shown {
			if words := len(strings.Fields(w.Points[point])); words > headWords {
				y += headLine * float64(words-headWords) // they stand one below the other
				break
			}
		}
		c.heads(w, leg, cols, y+12)
		y += 24
	} else {
		cols.textEnd = width - 8 // nothing is drawn beside it but where it is written
		if cols.room > 0 {
			cols.textEnd = cols.blank - 8
			c.text(cols.blank+4+cols.room/2, y+4, letters{size: 10, anchor: "middle", faint: true}, "read")
			y += 10
		}
	}
	rows := layRows(leg, cols, y)
	end := y
	for _, r := range rows {
		end = r.top + r.high
	}
	c.bands(rows, width)
	if scale.known {
		c.grid(scale, y, end)
	}
	for i := range rows {
		c.asLink(&rows[i], cols, width, o)
	}
	if scale.known {
		c.profile(w, rows, scale)
	}
	if scale.known {
		for i := range rows {
			c.reading(&rows[i], cols)
		}
		if leg != &w.Legs[len(w.Legs)-1] {
			return end + 10 // told below the last
		}
		return c.legend(w, cols, end+8)
	}
	for i := range rows {
		c.writeHere(&rows[i], cols)
	}
	return end + 10
}

// layRows gives each stop of a leg the room it needs.
func layRows(leg *sheet.Leg, cols columns, y float64) []row {
	var rows []row
	for i := range leg.Stops {
		s := &leg.Stops[i]
		r := row{stop: s, top: y}
		size := nameSize
		if s.Symbol == sheet.SymbolJoint {
			size = saySize
			r.say = broken(strings.Join(s.Details, ", "), cols.textEnd-cols.text, size, 3)
		} else {
			details := s.Details
			if s.Zone != "" {
				details = append([]string{s.Zone}, details...)
			}
			r.name = broken(s.Name, cols.textEnd-cols.text, nameSize+1, 2)
			r.say = broken(strings.Join(details, ", "), cols.textEnd-cols.text, saySize, 4)
		}
		r.high = 2*aboveIt + nameLine*float64(len(r.name)) + sayLine*float64(len(r.say))
		if badge(s, 0) != "" {
			r.high += sayLine + 4
		}
		if s.Symbol == sheet.SymbolJoint {
			r.high = math.Max(r.high, 26)
		} else {
			r.high = math.Max(r.high, leastPiece)
		}
		rows = append(rows, r)
		y += r.high
	}
	return rows
}

// bands tint the pieces that lie in every second place, so that it is seen where the way goes over into the next.
func (c *canvas) bands(rows []row, width float64) {
	zone, tinted := "", false
	for _, r := range rows {
		if r.stop.Zone != "" && r.stop.Zone != zone {
			zone, tinted = r.stop.Zone, !tinted
		}
		if tinted {
			c.rect(0, r.top, width, r.high, 0, shape{fill: "tint"})
		}
	}
}

// stop draws the thing itself with what is known of it.
func (c *canvas) stop(r *row, cols columns) {
	s := r.stop
	y := r.top + aboveIt
	if s.Symbol == sheet.SymbolJoint {
		middle := r.top + r.high/2
		c.line(cols.path, r.top, cols.path, r.top+r.high, shape{stroke: 2})
		ring := shape{stroke: 1.4, fill: "paper"}
		if s.Unknown {
			ring.dash = "3 2"
		}
		c.circle(cols.path, middle, 11, ring)
		c.text(cols.path, middle+4, letters{size: 10, anchor: "middle", bold: true}, s.Mark)
	} else {
		c.symbol(s, cols.path, r.top, r.top+r.high)
	}
	for _, line := range r.name {
		y += nameLine
		c.text(cols.text, y-4, letters{size: nameSize, bold: true, name: c.tapped}, line)
	}
	for _, line := range r.say {
		y += sayLine
		c.text(cols.text, y-4, letters{size: saySize, faint: s.Symbol == sheet.SymbolJoint}, line)
	}
	if text := badge(s, 0); text != "" {
		wide := func() float64 {
			room := float64(len([]rune(text)))*6.6 + 12
			if s.Word != "" {
				room += 10 // capitals are wide
			}
			return room
		}
		for less := 1; wide() > cols.textEnd-cols.text && less <= len(s.Bad); less++ {
			text = badge(s, less)
		}
		ground, on := shape{fill: "ink"}, letters{size: saySize, bold: true, light: true} // the letters are light: none may stand beside it
		if !wrong(s) {
			ground, on.light = shape{stroke: 1.2, fill: "paper"}, false
		}
		c.rect(cols.text, y+1, wide(), sayLine+2, 2, ground)
		c.text(cols.text+6, y+13, on, text)
	}
}

// asLink draws a stop, as a link where a tap on it leads somewhere.
func (c *canvas) asLink(r *row, cols columns, width float64, o Options) {
	href := ""
	if o.Link != nil && r.stop.Path != "" && r.stop.Symbol != sheet.SymbolJoint {
		href = o.Link(r.stop.Path)
	}
	if href == "" {
		c.stop(r, cols)
		return
	}
	inside := &canvas{id: c.id, tapped: true}
	inside.rect(0, r.top+1, width, r.high-2, 4, shape{fill: "clear"})
	inside.stop(r, cols)
	// A blank behind each line keeps the words apart for those who hear them.
	fmt.Fprintf(&c.b, `<a href="%s">%s</a>`, escaped(href), strings.ReplaceAll(inside.b.String(), "</text>", " </text>"))
}

// wrong reports whether something is wrong with what stands there.
func wrong(s *sheet.Stop) bool { return len(s.Bad) > 0 || s.Word == sheet.No }

// badge is the state of a stop in words, with the numbers of the findings that stand against it but the last less of them;
// "" for nothing to say.
func badge(s *sheet.Stop, less int) string {
	text := map[sheet.Word]string{sheet.No: "NO", sheet.Asks: "ASK", sheet.OK: "OK"}[s.Word]
	if len(s.Bad) == 0 {
		return text
	}
	var numbers []string
	for _, n := range s.Bad[:len(s.Bad)-less] {
		numbers = append(numbers, strconv.Itoa(n))
	}
	if text != "" {
		text += ", "
	}
	switch {
	case less == 0:
		return text + "wrong: finding " + strings.Join(numbers, ", ")
	case len(numbers) == 0:
		return text + "wrong"
	}
	return text + "finding " + strings.Join(numbers, ", ") + " \u2026"
}

// reading writes what is read at a joint.
func (c *canvas) reading(r *row, cols columns) {
	s := r.stop
	if s.Symbol != sheet.SymbolJoint && len(s.Readings) == 0 {
		return
	}
	middle := r.top + r.high/2
	c.writeHere(r, cols)
	for k, point := range cols.shown {
		text := "?"
		if point < len(s.Readings) {
			if r := s.Readings[point]; r.Known {
				text, _ = parted(r.Text)
			} else if !strings.Contains(r.Text, " ") {
				text = r.Text // off
			}
		}
		c.text(cols.reads[k], middle+4, letters{size: 12, anchor: "end", bold: k == len(cols.shown)-1}, text)
	}
}

// writeHere is a place to write what is read at a joint.
func (c *canvas) writeHere(r *row, cols columns) {
	if cols.room > 0 && r.stop.Symbol == sheet.SymbolJoint {
		c.rect(cols.blank+4, r.top+r.high/2-11, cols.room, 22, 0, shape{stroke: 1, fill: "paper"})
	}
}

// parted parts a reading from its unit.
func parted(text string) (figure, unit string) {
	figure, unit, _ = strings.Cut(text, " ")
	return figure, unit
}

// describe says in words what a drawing shows.
func describe(w *sheet.Way, leg int) string {
	text := w.Describes + "."
	for i := range w.Legs {
		if leg > 0 && leg != i+1 {
			continue
		}
		var names []string
		for k := range w.Legs[i].Stops {
			if s := &w.Legs[i].Stops[k]; s.Symbol != sheet.SymbolJoint {
				names = append(names, s.Name)
			}
		}
		text += " " + w.Legs[i].Name + ": " + strings.Join(names, ", ") + "."
	}
	return text + " The readings stand in the table."
}
