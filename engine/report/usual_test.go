package report

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// halfKnown are designs of which little is known: one whose parts are right with anything usual, and one of which some is wrong
// with that, some depends, and a number is stated between two ends.
var halfKnown = map[string]string{
	"counter-half-known.yaml": "",
	"depends.yaml": "plumbline: 1\ntitle: V8\nengine: {displacement: 5.0 L, cylinders: 8, power: 150..350 hp}\nregulator: {style: return_style, setting: 3 bar}\n" +
		"throttle_body: {injectors: {count: 4, static_mass_flow: 45 lb/h, test_pressure: 3 bar}}\npump: {place: in_tank, rated_flow: 90 L/h, rated_pressure: 3 bar}\n" +
		"circuits: [{name: fuel pump, purpose: fuel_pump, source: battery_post, feed_wires: [{size: 20 AWG, length: 16 ft}], load: {kind: fuel_pump, current: 9 A, rated_voltage: 13.5 V}}]\n",
}

// leant is a half-known design judged with what is usual.
func leant(t *testing.T, name, text string) Item {
	lib := shipped.Library(t)
	patterns := shipped.Patterns(t)
	if text == "" {
		data, err := os.ReadFile("../../designs/demo/" + name)
		require.NoError(t, err)
		text = string(data)
	}
	d, err := schema.Load(name, []byte(text))
	require.NoError(t, err)
	return Item{Name: name, Design: d, Report: lib.Judge(d, engine.Options{Patterns: patterns, Stage: "planned"})}
}

// in writes an item in a format, in one line: paragraphs are broken anywhere.
func in(t *testing.T, format string, x Item, o TextOptions) string {
	var b bytes.Buffer
	form := NewForm(format, about(), o)
	require.NoError(t, form.Head(&b))
	require.NoError(t, form.Add(&b, form.Piece(x)))
	require.NoError(t, form.Tail(&b))
	return strings.Join(strings.Fields(b.String()), " ")
}

// said are the first words of a text as any format prints them, whatever comes before.
func said(text string) string {
	text = clause(text)
	return strings.Join(strings.Fields(clean(text[min(1, len(text)):])), " ")
}

// onlyLeant are the texts of leanings that no decided finding says too.
func onlyLeant(r *engine.Report) map[string]*engine.Finding {
	out, stated := map[string]*engine.Finding{}, map[string]bool{}
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Outcome != engine.Open {
			stated[said(f.Text)] = true
		}
	}
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Leaning != nil {
			for _, text := range []string{f.Leaning.Text, f.Leaning.AtUsual} {
				if text = said(text); len(text) > 20 && strings.ContainsAny(text, "0123456789") && !stated[text] {
					out[text] = f
				}
			}
		}
	}
	return out
}

// What is usual and what was stated is told apart in every format: where a text prints what an open finding would become, it
// says before it, in the same sentence, that this rests on what is usual; where it does not say so, it does not print it.
func TestWhatIsUsualIsNeverReadAsStated(t *testing.T) {
	for name, text := range halfKnown {
		t.Run(name, func(t *testing.T) { usualApart(t, leant(t, name, text)) })
	}
}

func usualApart(t *testing.T, x Item) {
	texts := onlyLeant(x.Report)
	require.Greater(t, len(texts), 10)
	apart := 0
	for _, format := range Formats {
		for _, verbose := range []bool{false, true} {
			if format == "json" {
				continue // a document; its fields are looked at below
			}
			out := in(t, format, x, TextOptions{Verbose: verbose, Width: 100})
			for text := range texts {
				for at := strings.Index(out, text); at >= 0; {
					from := max(0, at-130)
					assert.Regexp(t, `(?i)with (anything|most that is|some that is) usual[^.]*$`, out[from:at+1], "%s says of what is usual: %s", format, text)
					apart++
					next := strings.Index(out[at+1:], text)
					if next < 0 {
						break
					}
					at += 1 + next
				}
			}
		}
	}
	assert.Greater(t, apart, 10, "some are printed")
	for _, format := range []string{"markdown", "sarif", "lines"} {
		out := in(t, format, x, TextOptions{})
		assert.NotContains(t, out, "usual it would", format+" tells findings only")
		plain := x
		plain.Report = withoutLeanings(x.Report)
		assert.Equal(t, in(t, format, plain, TextOptions{}), out, format+" is the same without what is usual")
	}
}

// withoutLeanings is a report as it is without patterns.
func withoutLeanings(r *engine.Report) *engine.Report {
	out := *r
	out.Findings = append([]engine.Finding{}, r.Findings...)
	for i := range out.Findings {
		out.Findings[i].Leaning = nil
	}
	return &out
}

// In JSON what is usual stands apart: a finding never has the outcome it leans to, every leaning names the patterns it is
// from, no fact is both stated and usual, and each verdict of the slip says how far it holds.
func TestJSONTellsUsualFromStated(t *testing.T) {
	for name, text := range halfKnown {
		t.Run(name, func(t *testing.T) { jsonApart(t, leant(t, name, text)) })
	}
}

func jsonApart(t *testing.T, x Item) {
	for _, verbose := range []bool{false, true} {
		var doc struct {
			Reports []Report
		}
		require.NoError(t, json.Unmarshal([]byte(in(t, "json", x, TextOptions{Verbose: verbose})), &doc))
		require.Len(t, doc.Reports, 1)
		r := doc.Reports[0]
		require.NotEmpty(t, r.Leanings)
		require.NotEmpty(t, r.Usual)
		decided := map[string]bool{}
		for _, f := range r.Findings {
			if f.Outcome != "open" {
				decided[f.Rule+" "+f.Subject] = true
			}
		}
		for _, j := range r.Rest {
			for _, rule := range j.Rules {
				for _, met := range j.Met {
					decided[rule+" "+met] = true
				}
			}
		}
		for _, l := range r.Leanings {
			assert.NotEmpty(t, slices.Concat(l.Patterns, r.Patterns), l.Rule)
			assert.False(t, decided[l.Rule+" "+l.Subject], "%s leans and is decided", l.Rule)
		}
		for _, path := range r.Usual {
			assert.NotContains(t, r.Facts, path)
			assert.False(t, !strings.Contains(path, "[]") && schema.IsStated(x.Design.FactAt(path)), "%s is stated", path)
		}
		leaning := map[string]bool{}
		for _, l := range r.Leanings {
			leaning[l.Rule] = true
		}
		rests := 0
		for _, p := range r.Slip.Parts {
			if len(p.Rules) == 0 || p.Text == "" || p.Holds == "" {
				continue
			}
			if p.Holds != sheet.Whatever {
				rests++
				assert.True(t, leaning[p.Rules[0]], "%s holds %s by %s", p.Name, p.Holds, p.Rules[0])
			} else {
				_, usual := onlyLeant(x.Report)[said(p.Text)]
				assert.False(t, usual, "%s is said to hold whatever the rest is", p.Name)
			}
		}
		assert.Positive(t, rests)
	}
}
