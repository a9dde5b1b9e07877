package drawing

import (
	"math"
	"strings"

	"plumbline/engine"
)

// scaleWidth and the heights are the sizes of a small scale, in pixels.
const (
	scaleWidth, scaleRoom = 320.0, 18.0
	barTop, barHigh       = 22.0, 12.0
)

// Scale draws the number of a finding against its limits: a bar on which the side that is wrong is hatched, a line at each limit
// and a mark at the value. It is empty for a finding without a number.
func Scale(f *engine.Finding, id string) string {
	if f.Measured == nil || len(f.Bounds) == 0 {
		return ""
	}
	c := &canvas{id: id}
	c.hatching()
	low, high := scaleEnds(f)
	if !(high > low) {
		return ""
	}
	x := func(v float64) float64 {
		return scaleRoom + (math.Min(math.Max(v, low), high)-low)/(high-low)*(scaleWidth-2*scaleRoom)
	}
	left, right := x(low), x(high)
	c.rect(left, barTop, right-left, barHigh, 0, shape{fill: "paper", stroke: 1.2})
	for _, b := range f.Bounds {
		wrong := shape{fill: "bad"}
		if b.Of == "should" {
			wrong = shape{fill: "tint"}
		}
		if upper(b.Op) {
			c.rect(x(b.Bound.Value), barTop, right-x(b.Bound.Value), barHigh, 0, wrong)
		} else {
			c.rect(left, barTop, x(b.Bound.Value)-left, barHigh, 0, wrong)
		}
	}
	y := barTop + barHigh + 14
	last := math.Inf(-1)
	for _, b := range f.Bounds {
		at := x(b.Bound.Value)
		c.line(at, barTop-3, at, barTop+barHigh+4, shape{stroke: 2})
		text := b.Of + " be " + strings.ReplaceAll(b.Op, "_", " ") + " " + b.Bound.Text
		if last > math.Inf(-1) {
			y += 14
		}
		last = at
		c.label(at, y, text)
	}
	mark := x(f.Measured.Value)
	c.path(at("M%s %sl-6 -9h12z", mark, barTop+1), shape{fill: "ink"})
	c.line(mark, barTop, mark, barTop+barHigh, shape{stroke: 3})
	c.label(mark, 10, f.Measured.Text)
	return c.whole(Options{Width: scaleWidth, ID: id}, y+6, f.Measured.Text+" against its limit", title(f))
}

// label writes a text at a place of the bar, kept within the drawing.
func (c *canvas) label(x, y float64, text string) {
	half := float64(len([]rune(text))) * 3.2
	x = math.Min(math.Max(x, half+2), scaleWidth-half-2)
	c.text(x, y, letters{size: 11, anchor: "middle"}, text)
}

func title(f *engine.Finding) string {
	parts := []string{f.Measured.Text}
	for _, b := range f.Bounds {
		parts = append(parts, b.Of+" be "+strings.ReplaceAll(b.Op, "_", " ")+" "+b.Bound.Text)
	}
	return strings.Join(parts, "; ")
}

func upper(op string) bool { return op == "at_most" || op == "less_than" }

// scaleEnds are what a bar spans: value and limits, with room on either side, from nothing where that is near.
func scaleEnds(f *engine.Finding) (low, high float64) {
	low, high = f.Measured.Value, f.Measured.Value
	for _, b := range f.Bounds {
		low, high = math.Min(low, b.Bound.Value), math.Max(high, b.Bound.Value)
	}
	span := high - low
	if span == 0 {
		span = math.Max(math.Abs(high), 1)
	}
	if low >= 0 && low < 2*span {
		return 0, high + 0.3*span
	}
	return low - 0.3*span, high + 0.3*span
}
