package lines_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plumbline/schema"
	"plumbline/schema/lines"
	"plumbline/schema/words"
)

// Whatever is written, no byte of it is lost and what was understood is a design.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"pump 255 lph @ 43 psi in tank\nhose 3/8 R9 15 ft\r\nno return",
		"18 ga 16 ft to the pump, 10 A fuse, no relay; #6 AN \"old steel\" tube 1/4",
		"about 300 hp 280..320 hp 300 hp +- 5 % 4 x 85 lb/h '74 8.5:1 half inch",
		"\xff\x00\u00bd in \u2028 none none no, no pump pump pump fuse wire return",
		"title: x: y\nnotes: [a, b]\ndescription: \"",
		"sensor sensors second tank second return grounds connector 1 2 3 4 x x",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			return
		}
		whole(t, text, lines.Read(text))
	})
}

// The same of the table's own forms, numbers and small words in any order.
func TestAnyWordsInAnyOrder(t *testing.T) {
	var forms []string
	for _, r := range words.Rows() {
		forms = append(append(forms, r.Spoken...), r.Label, r.Key)
		for _, v := range r.Values {
			forms = append(append(forms, v.Spoken...), v.Label, v.Word)
		}
	}
	small := strings.Split("no|not|at|@|to the|from|in|,|, |and|with|none|x|?|unknown|about|the|:|;|\"left bank\"|", "|")
	numbers := strings.Split("255 lph|43 psi|3/8|3/8 in|15 ft|18 AWG|18 ga|10 A|12 V|300 hp|E85|10 %|1974|4|2|0.5 lb/(hp h)|8.5:1|100 micron|85 lb/h|64 L|12 ohm|20 degC|1971-10-04|9 mm|-50 mm|4200 rpm", "|")
	rapid.Check(t, func(t *rapid.T) {
		pick := rapid.OneOf(rapid.SampledFrom(forms), rapid.SampledFrom(small), rapid.SampledFrom(numbers), rapid.SampledFrom(numbers))
		var list []string
		for range rapid.IntRange(1, 4).Draw(t, "lines") {
			list = append(list, strings.Join(rapid.SliceOfN(pick, 1, 9).Draw(t, "line"), " "))
		}
		text := strings.Join(list, "\n")
		whole(t, text, lines.Read(text))
	})
}

// A line of any length is read at a cost that grows no faster than it does.
func TestLongLines(t *testing.T) {
	for _, piece := range []string{"pump ", "18 AWG ", "no ", "1/2 ", "@", "255 lph @ 43 psi, ", "hose", "\"a", "9"} {
		cost := func(n int) float64 {
			text := strings.Repeat(piece, n)
			return testing.AllocsPerRun(1, func() { require.Len(t, lines.Read(text).Lines, 1) })
		}
		assert.LessOrEqual(t, cost(4000), 5*cost(1000), piece)
	}
	for _, n := range []int{64, 65, 900, 3000} {
		text := strings.Repeat("hose 3/8 R9\n", n)
		r := lines.Read(text)
		assert.Len(t, r.Lines, n)
		assert.Equal(t, n <= schema.MaxItems, r.Whole(), "a list has at most 64 items; what is beyond is left")
		whole(t, text, r)
	}
}
