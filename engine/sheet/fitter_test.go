package sheet_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/shipped"
)

// jobWith is the job of a demo with pieces of its text exchanged.
func jobWith(t *testing.T, demo string, exchanges ...string) *sheet.Job {
	lib := shipped.Library(t)
	text, err := os.ReadFile("../../designs/demo/" + demo)
	require.NoError(t, err)
	s := string(text)
	for i := 0; i < len(exchanges); i += 2 {
		require.Contains(t, s, exchanges[i])
		s = strings.Replace(s, exchanges[i], exchanges[i+1], 1)
	}
	d, err := schema.Load(demo, []byte(s))
	require.NoError(t, err)
	r := lib.Judge(d, engine.Options{Units: quantity.Metric})
	return &sheet.Job{Design: d, Report: r, Session: lib.Session(d, engine.Options{}), Packs: lib.Packs(), Units: quantity.Metric, Allowance: quantity.MustNew(0.1, quantity.DimLength),
		Number: func(f *engine.Finding) int {
			return map[bool]int{true: 1}[f.Outcome == engine.Warn || f.Outcome == engine.Fail]
		}}
}

// rowsOf are the rows of a paper as text, a row a line.
func rowsOf(p *sheet.Paper) string {
	var out strings.Builder
	for _, b := range p.Blocks {
		out.WriteString(b.Heading + "\n" + strings.Join(b.Paras, "\n") + "\n")
		if b.Table == nil {
			continue
		}
		for _, r := range b.Table.Rows {
			for _, c := range r.Cells {
				out.WriteString(c.Text + " | ")
			}
			out.WriteString(r.Note + "\n")
		}
	}
	return out.String()
}

// A length that nobody stated is hidden in no sum: what is bought and cut of it is a place to write.
func TestUnknownLengthIsHiddenInNoSum(t *testing.T) {
	j := jobWith(t, "six-return.yaml", "length: 3.6 m\n", "\n")
	parts := rowsOf(sheet.Make("parts", j))
	assert.Contains(t, parts, "3.7 m and frame tube ______")
	assert.Regexp(t, `clip \| lined, for 9.5 mm, no more than 400 mm apart \| frame tube \| ______`, parts)
	fuel := sheet.Make("fuel", j)
	assert.Contains(t, fuel.Blanks(), "design.feed.runs[5].length")
	assert.Contains(t, rowsOf(fuel), "No pressure can be told while this is not known: frame tube, length.")
	// What is fine and what is not is told all the same, as a part of what will be expected.
	assert.Contains(t, rowsOf(sheet.Make("start-up", j)), "up to 5 % under it to 5 % over it | more than 10 % under it to 10 % over it")
}

// Whoever has only a paper reads on it what the findings are that it marks.
func TestFindingsThatAreMarkedAreTold(t *testing.T) {
	j := jobWith(t, "six-return.yaml", "exhaust_clearance: 200 mm", "exhaust_clearance: 85 mm", "injector_flow: 480 cc/min", "injector_flow: 560 cc/min")
	assert.Regexp(t, `What the numbers of findings mean\n+1 \| The feed line passes the exhaust at 85 mm`, rowsOf(sheet.Make("holes", j)))
	up := rowsOf(sheet.Make("start-up", j))
	assert.Contains(t, up, "What the numbers of findings mean")
}

// Each piece of each line is cut once, and has its joints on the drawing: those of a second tank too.
func TestEveryPieceOfEveryLineIsOnThePaper(t *testing.T) {
	j := jobOf(t, "../../designs/good/motorhome-two-tanks.yaml", quantity.Metric)
	p := sheet.Make("fuel", j)
	rows := rowsOf(p)
	n := 0
	for _, line := range []*schema.Line{&j.Design.Suction.Part, &j.Design.Feed, &j.Design.ReturnLine.Part, &j.Design.SecondSuction.Part, &j.Design.SecondReturn.Part} {
		for i := range line.Runs.Items {
			n++
			name := line.Runs.Items[i].Name.Text()
			assert.Contains(t, rows, "\n"+name+" | ", "cut list")
		}
	}
	assert.Greater(t, n, 20)
	joints := 0
	for _, b := range p.Blocks {
		if b.Way != nil {
			for _, leg := range b.Way.Legs {
				for _, s := range leg.Stops {
					if s.Symbol == sheet.SymbolJoint {
						joints++
					}
				}
			}
		}
	}
	assert.Equal(t, n+5, joints, "one joint more than pieces on each line")
}

// What is read off the can is a volume; the sheet says by what it becomes the flow that the design holds.
func TestCanIsReadAsVolumeAndWrittenAsFlow(t *testing.T) {
	text := rowsOf(sheet.Make("start-up", jobOf(t, "../../designs/demo/six-return.yaml", quantity.Metric)))
	// 1 mL in 15 s is 240 mL in an hour, 0.24 L/h: arithmetic.
	assert.Contains(t, text, "Read mL off the can; times 0.24 it is the flow in L/h")
	assert.Contains(t, text, "| in L/h: |")
}

// No band is wider than what the thing can be.
func TestBandsEndAtWhatAThingCanBe(t *testing.T) {
	text := rowsOf(sheet.Make("start-up", jobOf(t, "../../designs/demo/six-return.yaml", quantity.Metric)))
	assert.Regexp(t, `throttle opening on the screen \| 100\.0 % \| at least 9[0-9]\.[0-9] % \|`, text)
	assert.NotRegexp(t, `\b1[0-9][0-9](\.[0-9])? %`, strings.ReplaceAll(text, "100.0 %", ""))
}

// The drawings that bench and counter want are there, each on its paper.
func TestDrawingsThatAreThere(t *testing.T) {
	j := jobOf(t, "../../designs/demo/six-return.yaml", quantity.Metric)
	has := map[string]bool{}
	for _, k := range sheet.Kinds() {
		for _, b := range sheet.Make(k.Name, j).Blocks {
			for name, there := range map[string]bool{"way": b.Way != nil, "net": b.Net != nil, "plan": b.Plan != nil, "outline": b.Outline != nil, "clock": b.Clock != nil,
				"bars": b.Bars != nil, "chart": b.Chart != nil && !b.Chart.X.Log, "fuse": b.Chart != nil && b.Chart.X.Log} {
				if there {
					has[k.Name+" "+name] = true
				}
			}
		}
	}
	for _, want := range []string{"fuel way", "current way", "current net", "pump chart", "holes clock", "holes outline", "current fuse", "current bars", "holes plan", "measured bars"} {
		assert.True(t, has[want], want)
	}
}
