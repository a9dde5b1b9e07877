package sheet_test

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/diagnose"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
	"plumbline/testdata/shipped"
)

// jobOf judges a design for its papers.
func jobOf(t testing.TB, file string, units quantity.System) *sheet.Job {
	lib := shipped.Library(t)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	d, err := schema.LoadBased(file, text, os.ReadFile)
	require.NoError(t, err)
	r := lib.Judge(d, engine.Options{Units: units})
	r.File = file
	return &sheet.Job{Design: d, Report: r, Session: lib.Session(d, engine.Options{}), Diagnose: func() *diagnose.Diagnosis { return diagnose.Run(lib, d, engine.Options{Units: units}) }, Packs: lib.Packs(), Units: units,
		Allowance: quantity.MustNew(0.1, quantity.DimLength), Library: "2", Day: "2026-01-31", Revision: schema.Revision(d)}
}

// paperDesigns are the demos, and of the good builds some.
func paperDesigns(t testing.TB) []string {
	demos, err := filepath.Glob("../../designs/demo/*.yaml")
	require.NoError(t, err)
	good, err := filepath.Glob("../../designs/good/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, demos)
	require.NotEmpty(t, good)
	return append(demos, proofs.Sample(good, 5)...)
}

// texts are everything that is written on a paper but its title and its foot.
func texts(p *sheet.Paper) []string {
	out := []string{p.Use}
	for _, b := range p.Blocks {
		out = append(append(out, b.Heading, b.Sign), b.Paras...)
		if b.Table != nil {
			out = append(append(out, b.Table.Caption, b.Table.NoteHead), b.Table.Heads...)
			for _, r := range b.Table.Rows {
				out = append(out, r.Over, r.Note)
				for _, c := range r.Cells {
					out = append(out, c.Text, c.Was)
				}
			}
		}
		out = append(out, pictured(&b)...)
		if b.Way != nil {
			for _, leg := range b.Way.Legs {
				out = append(out, leg.Name, leg.Note)
				for _, s := range leg.Stops {
					out = append(append(out, s.Mark, s.Name), s.Details...)
					for _, r := range s.Readings {
						if r.Known {
							out = append(out, r.Text)
						}
					}
				}
			}
		}
	}
	return out
}

// pictured are the texts of a block's pictures.
func pictured(b *sheet.Block) (out []string) {
	if c := b.Chart; c != nil {
		for _, l := range c.Lines {
			out = append(out, l.Name)
		}
		for _, l := range c.Levels {
			out = append(out, l.Name)
		}
		for _, x := range c.Spots {
			out = append(out, x.Name)
		}
	}
	if b.Bars != nil {
		for _, r := range b.Bars.Rows {
			out = append(out, r.Name, r.Text)
		}
	}
	if o := b.Outline; o != nil {
		for _, r := range o.Rounds {
			out = append(out, r.Name)
		}
		if o.Face != nil {
			out = append(out, o.Face.Name)
		}
	}
	if b.Clock != nil {
		out = append(out, b.Clock.Text)
	}
	if b.Plan != nil {
		for _, x := range b.Plan.Things {
			out = append(out, x.Name, x.Text, x.Zone)
		}
	}
	if b.Net != nil {
		for _, x := range b.Net.Branches {
			out = append(out, x.Name, x.Fuse, x.Takes)
		}
		for _, x := range b.Net.Straps {
			out = append(out, x.Name, x.Text)
		}
	}
	return out
}

// A band is printed as two figures with one unit.
var twoFigures = regexp.MustCompile(`(-?[0-9]+(?:\.[0-9]+)?)( to | or over )(-?[0-9]+(?:\.[0-9]+)?) (kPa|psi|Pa|inHg|V|mV|A|mA|L/h|gal/h|mL/min|mL|mm|m|in|ft|rpm|degC|degF|%|ppm|s)\b`)

// numbersIn are the numbers of a text, each with its unit.
func numbersIn(text string) []string {
	return withUnit.FindAllString(twoFigures.ReplaceAllString(text, "$1 $4$2$3 $4"), -1)
}

// knownNumbers are those that a paper says where they are from.
func knownNumbers(p *sheet.Paper) map[string]bool {
	out := map[string]bool{}
	for _, f := range p.Figures {
		out[f.Text] = true
		for _, n := range numbersIn(f.Text) {
			out[n] = true
		}
	}
	return out
}

// strangers are the numbers of a paper of which nobody says where they are from.
func strangers(j *sheet.Job, p *sheet.Paper) (out []string, seen int) {
	known := knownNumbers(p)
	for _, text := range texts(p) {
		if instruction(j, text) {
			continue
		}
		for _, number := range numbersIn(text) {
			seen++
			figure, _, _ := strings.Cut(number, " ")
			if !known[number] && !known[figure] {
				out = append(out, number+" in "+strconv.Quote(text))
			}
		}
	}
	return out, seen
}

var withUnit = regexp.MustCompile(`-?[0-9]+(?:\.[0-9]+)? (?:kPa|psi|Pa|inHg|inH2O|V|mV|A|mA|L/h|gal/h|mL|cu in|mm|m|in|ft|thou|rpm|degC|degF|mohm|ohm|AWG|mm2|%|ppm|s)\b`)

// Every number with a unit on every paper is one that the paper says where it is from, and every such number that is a derived
// value or a fact is that value, as near as it is printed; a sum is the sum.
func TestEveryNumberOnAPaperIsAValue(t *testing.T) {
	numbers, checked, sums, shown := 0, 0, 0, 0
	for i, file := range paperDesigns(t) {
		units := []quantity.System{quantity.Metric, quantity.US}[i%2]
		j := jobOf(t, file, units)
		for _, k := range sheet.Kinds() {
			p := sheet.Make(k.Name, j)
			for _, f := range p.Figures {
				switch v, one := valueAt(j, f.Paths); {
				case one:
					checked++
					assert.True(t, reads(f.Text, v), "%s, %s: %s is printed of %s, which is %v", file, k.Name, f.Text, f.Paths, v.SI())
				case len(f.Paths) > 1:
					if sum, ok := sumAt(j, f.Paths); ok {
						sums++
						assert.True(t, reads(f.Text, sum), "%s, %s: %s is printed of %s, which come to %v", file, k.Name, f.Text, f.Paths, sum.SI())
					}
				}
			}
			shown += pictures(t, file+", "+k.Name, p)
			strange, seen := strangers(j, p)
			numbers += seen
			assert.Empty(t, strange, "%s, %s: nobody says where these are from", file, k.Name)
		}
	}
	assert.Greater(t, numbers, 500)
	assert.Greater(t, checked, 500)
	assert.Greater(t, sums, 100)
	assert.Greater(t, shown, 100)
}

// A number that nobody put there is noticed, wherever on a paper it stands.
func TestANumberOfNobodyIsNoticed(t *testing.T) {
	j := jobOf(t, "../../designs/demo/six-return.yaml", quantity.Metric)
	const strange = "987.6 kPa"
	tried := 0
	j.Diagnose = nil // it takes long, and writes into none of these
	for _, k := range sheet.Kinds() {
		whole, _ := strangers(j, sheet.Make(k.Name, j))
		require.Empty(t, whole, k.Name)
		for n, plant := range []func(*sheet.Block) bool{
			func(b *sheet.Block) bool { b.Paras = append(b.Paras, strange); return true },
			func(b *sheet.Block) bool { b.Heading += strange; return true },
			func(b *sheet.Block) bool {
				if b.Table == nil || len(b.Table.Rows) == 0 || len(b.Table.Rows[0].Cells) == 0 {
					return false
				}
				b.Table.Rows[0].Note = strange
				return true
			},
			func(b *sheet.Block) bool {
				if b.Table == nil || len(b.Table.Rows) == 0 || len(b.Table.Rows[0].Cells) == 0 {
					return false
				}
				b.Table.Rows[0].Cells[0].Text = "9" + strange
				return true
			},
			func(b *sheet.Block) bool {
				if b.Way == nil {
					return false
				}
				b.Way.Legs[0].Note = "at most 12.3 to 987.6 kPa"
				return true
			},
			func(b *sheet.Block) bool {
				if b.Net == nil {
					return false
				}
				b.Net.Branches[0].Takes = "98.7 A"
				return true
			},
			func(b *sheet.Block) bool {
				if b.Plan == nil {
					return false
				}
				b.Plan.Things[0].Text = "987 mm"
				return true
			},
		} {
			p := sheet.Make(k.Name, j)
			if i := slices.IndexFunc(p.Blocks, func(b sheet.Block) bool { return plant(&b) }); i >= 0 {
				plant(&p.Blocks[i])
				tried++
				found, _ := strangers(j, p)
				assert.NotEmpty(t, found, "%s, block %d, %d", k.Name, i, n)
			}
		}
	}
	assert.Greater(t, tried, 40)
}

// pictures holds where something is drawn to the number that is written beside it, and returns how many there were.
func pictures(t *testing.T, where string, p *sheet.Paper) (n int) {
	see := func(text string, d quantity.Dimension, si float64) {
		found := withUnit.FindAllString(text, -1)
		if math.IsNaN(si) || len(found) == 0 || strings.Contains(text, " to ") {
			return
		}
		v, err := quantity.New(si, d)
		require.NoError(t, err, where)
		n++
		assert.True(t, reads(found[0], v), "%s: %q is drawn at %v", where, text, si)
	}
	for _, b := range p.Blocks {
		if c := b.Chart; c != nil && !c.X.Log {
			for _, l := range c.Levels {
				see(l.Name, map[bool]quantity.Dimension{true: quantity.DimPressure, false: quantity.DimFlow}[l.Across], l.At)
			}
		}
		if o := b.Outline; o != nil {
			for _, r := range o.Rounds {
				see(r.Name, quantity.DimLength, r.Diameter)
			}
			if f := o.Face; f != nil {
				_, after, _ := strings.Cut(f.Name, " by ")
				see(after, quantity.DimLength, f.Height)
			}
		}
		if b.Bars != nil {
			for _, r := range b.Bars.Rows {
				for _, d := range []quantity.Dimension{quantity.DimLength, quantity.DimVoltage, quantity.DimCurrent, quantity.DimPressure, quantity.DimShare} {
					if _, err := quantity.Parse(withUnit.FindString(r.Text), d); err == nil {
						see(r.Text, d, r.Got)
					}
				}
			}
		}
		if b.Plan != nil {
			for _, x := range b.Plan.Things {
				see(x.Text, quantity.DimLength, x.At)
			}
		}
		if b.Clock != nil && b.Clock.Known {
			see(b.Clock.Text, quantity.DimAngle, b.Clock.Angle)
		}
	}
	return n
}

// instruction reports whether a text is what a rule says to do, whose figures are the rule's own; of what is done where it is too
// high and where too low, both.
func instruction(j *sheet.Job, text string) bool {
	first, rest, both := strings.Cut(text, "Too high: ")
	high, low, _ := strings.Cut(rest, " Too low: ")
	for _, p := range j.Packs {
		for i := range p.Rules {
			mend := p.Rules[i].Mend
			if both && len(mend) == 2 && strings.HasPrefix(mend[0].Text, first) && strings.HasSuffix(mend[0].Text, high) && strings.HasPrefix(mend[1].Text, first) && strings.HasSuffix(mend[1].Text, low) {
				return true
			}
			for _, m := range mend {
				if text == m.Text {
					return true
				}
			}
		}
	}
	return false
}

// valueAt is the quantity at the one path of a figure.
func valueAt(j *sheet.Job, paths []string) (quantity.Value, bool) {
	if len(paths) != 1 {
		return quantity.Value{}, false
	}
	path := paths[0]
	if f := j.Design.FactAt(path); f != nil {
		if q, ok := f.Any().(interface{ SI() float64 }); ok && f.Known() {
			if d, ok := f.Any().(interface {
				QuantityDimension() quantity.Dimension
			}); ok {
				v, err := quantity.New(q.SI(), d.QuantityDimension())
				return v, err == nil
			}
		}
		return quantity.Value{}, false
	}
	part, name, point := any(j.Design), path, derive.NoPoint
	for _, p := range derive.Points() {
		if before, after, ok := strings.Cut(path, "at."+p.String()+"."); ok {
			name, point = after, p
			if before != "" {
				part = j.Design.At(strings.TrimSuffix(before, "."))
			}
		}
	}
	if point == derive.NoPoint {
		at := strings.LastIndex(path, ".")
		if at < 0 || !strings.HasPrefix(path, "design.") {
			return quantity.Value{}, false
		}
		part, name = j.Design.At(path[:at]), path[at+1:]
	}
	if part == nil {
		return quantity.Value{}, false
	}
	v, ok := j.Session.On(part, point, name).Value().(quantity.Value)
	return v, ok
}

// sumAt adds the facts at the paths of a figure; false where one of them is none.
func sumAt(j *sheet.Job, paths []string) (quantity.Value, bool) {
	sum, dim := 0.0, quantity.None
	for _, path := range paths {
		v, ok := valueAt(j, []string{path})
		if path == "allowance" {
			v, ok = j.Allowance, true
		}
		if !ok {
			return v, false
		}
		sum, dim = sum+v.SI(), v.Dimension()
	}
	v, err := quantity.New(sum, dim)
	return v, err == nil
}

// within reports whether a value lies between two that are printed.
func within(low, high string, v quantity.Value) bool {
	a, err := quantity.Parse(low, v.Dimension())
	b, also := quantity.Parse(high, v.Dimension())
	return err == nil && also == nil && a.SI() <= v.SI() && v.SI() <= b.SI()
}

// reads reports whether a text is a value as near as its digits tell. A text with two units in it is read by the first.
func reads(text string, v quantity.Value) bool {
	text, _, _ = strings.Cut(text, " (")
	text = strings.TrimPrefix(text, "about ")
	if low, high, bounded := strings.Cut(text, " to "); bounded { // a value known between two ends lies between them, or rounds to one
		return reads(low, v) || reads(high, v) || within(low, high, v)
	}
	got, err := quantity.Parse(text, v.Dimension())
	if err != nil {
		return strings.Contains(text, "..") || strings.Contains(text, "between") // a range
	}
	figure, _, _ := strings.Cut(text, " ")
	n, err := strconv.ParseFloat(figure, 64)
	if err != nil || n == 0 {
		return err != nil || math.Abs(v.SI()) < 5000
	}
	_, decimals, _ := strings.Cut(figure, ".")
	half := 0.5 * math.Pow(10, -float64(len(decimals)))
	if len(decimals) == 0 && len(strings.TrimRight(figure, "0")) >= 3 {
		half = 0.5 * math.Pow(10, float64(len(figure)-4))
	}
	return math.Abs(got.SI()-v.SI()) <= math.Abs(got.SI()/n)*math.Max(half, 0.51*math.Pow(10, -float64(len(decimals))))+1e-9*math.Abs(v.SI())
}
