package drawing_test

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/drawing"
	"plumbline/engine/sheet"
)

// A way to be tapped has a link on each part and none on joints, asks with a mark where paper has a place to write, hatches and says
// what a slip says is wrong, and is heard as a group of links.
func TestWayCanBeTapped(t *testing.T) {
	w := &sheet.Way{Title: "a way", Describes: "from here to there", Points: []string{"idle"}, Blank: true, Legs: []sheet.Leg{{Name: "leg", Note: "not known: ______", Stops: []sheet.Stop{
		{Symbol: sheet.SymbolPump, Name: "pump & <co>", Path: "design.pump", Word: sheet.Asks},
		{Symbol: sheet.SymbolJoint, Mark: "J1", Path: "design.feed.runs[0].inlet", Readings: []sheet.Reading{{Text: "300 kPa", SI: 3e5, Known: true}}},
		{Symbol: sheet.SymbolHose, Name: "hose", Path: "design.feed.runs[0]", Details: []string{"length ______"}, Word: sheet.No},
	}}}}
	svg := drawing.Way(w, drawing.Options{Width: 350, ID: "x", Link: func(path string) string { return "/to?" + path + "&x" }})
	assert.Equal(t, 2, strings.Count(svg, "<a "))
	assert.Contains(t, svg, `href="/to?design.pump&amp;x"`)
	assert.Contains(t, svg, `role="group"`)
	assert.NotContains(t, svg, "____")
	assert.Contains(t, svg, "length?")
	assert.Contains(t, svg, ">NO ")
	assert.Contains(t, svg, ">ASK ")
	assert.Contains(t, svg, `fill="url(#x-bad)"`)
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		_, err := dec.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err, "it is XML")
	}
	assert.Contains(t, w.Legs[0].Note, "______", "the way itself stays")

	paper := drawing.Way(w, drawing.Options{Width: 350, ID: "x"})
	assert.NotContains(t, paper, "<a ")
	assert.Contains(t, paper, `role="img"`)
	assert.Contains(t, paper, "______")
}
