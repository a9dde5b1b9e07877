package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
	"plumbline/schema/words"
)

// mostFailing is how many findings of a spread are told unless all are asked for.
const mostFailing = 8

// Spread writes what becomes of many builds of a design.
func Spread(w io.Writer, d *schema.Design, s *whatif.Spread, o TextOptions) error {
	p := NewPrinter(w, o.Width, o.Colour)
	if s.Title != "" {
		p.Heading(clean(s.Title))
	}
	p.Para(0, indent, fmt.Sprintf("Of %d builds like this one, with parts, work and fuel as they really scatter, %d meet everything (%s of all such builds, with 95 %% confidence). In %d nothing fails (%s); something may fall short there of what should be.",
		s.Passes.Of, s.Passes.Count, between(s.Passes), s.Holds.Count, between(s.Holds)))
	if s.Wrong > 0 {
		p.Para(0, indent, fmt.Sprintf("As it is stated %s not met already: mend that first, scatter only comes on top.", count(s.Wrong, "thing is", "things are")))
	}
	if s.Usual {
		p.Para(0, indent, "What nobody stated is taken at its usual value.")
	}
	if len(s.Failing) > 0 {
		p.Blank()
		p.Heading("What is not met in the others, the most frequent first")
	}
	for i := range s.Failing {
		if i == mostFailing && !o.Verbose {
			p.Para(0, indent, fmt.Sprintf("%s more, rarer ones; --all lists them.", count(len(s.Failing)-i, "finding is", "findings are")))
			break
		}
		p.Para(0, indent, failingWords(d, &s.Failing[i]))
	}
	p.Blank()
	numbers := 0
	for _, x := range s.Drawn {
		numbers += x.Numbers
	}
	p.Para(0, indent, fmt.Sprintf("%s drawn anew for each build, %s as stated. The draws begin from seed %d; the same seed gives the same builds.",
		count(numbers, "number was", "numbers were"), count(s.Fixed, "other stayed", "others stayed"), s.Seed))
	if o.Verbose {
		for _, x := range s.Drawn {
			why := ""
			if len(x.Because) > 0 {
				b := x.Because[0]
				switch {
				case b.Practice != "":
					why = " (practice: " + b.Practice + ")"
				case b.Memory != "":
					why = " (memory: " + b.Memory + ")"
				default:
					why = " (" + b.Physics + b.Source + ")"
				}
			}
			p.Para(indent, 2*indent, clean(factWords(x.Facts))+", "+count(x.Numbers, "number", "numbers")+": "+clean(x.Scatter)+clean(why)+".")
		}
	} else {
		p.Para(0, indent, "--all tells how much each scatters, and how we know.")
	}
	return p.Flush()
}

// between are the ends of a share, in the whole per cent around them; where it is near all or nothing, in tenths.
func between(s whatif.Share) string {
	digits := 0
	if s.Low > 0.95 || s.High < 0.05 {
		digits = 1
	}
	shift := math.Pow(10, float64(digits)+2)
	low, high := math.Floor(s.Low*shift)/shift*100, math.Ceil(s.High*shift)/shift*100
	return fmt.Sprintf("%.*f to %.*f %%", digits, low, digits, high)
}

func failingWords(d *schema.Design, f *whatif.Failing) string {
	text := fmt.Sprintf("In %d of %d (%s): %s", f.Builds.Count, f.Builds.Of, between(f.Builds), clean(f.Text))
	if f.Fails < f.Builds.Count {
		switch {
		case f.Fails == 0:
			text += " It falls short of what should be, and fails in none."
		default:
			text += fmt.Sprintf(" It fails in %d of them and falls short in the others.", f.Fails)
		}
	}
	switch {
	case f.Stated == engine.Fail || f.Stated == engine.Warn:
		text += " It is not met in the design as it is stated either."
	case f.Drives != nil:
		text += fmt.Sprintf(" What drives it most: %s, stated %s, in these builds about %s. Were that alone as stated, %d of %d of them that were tried would be mended.",
			clean(sheet.NameOf(d, f.Drives.Facts[0])), f.Drives.Stated.Text, f.Drives.Usual.Text, f.Drives.Mends, f.Drives.Tried)
	default:
		text += " No one number alone drives it."
	}
	return text
}

// factWords names kinds of facts as the table of words does.
func factWords(facts []string) string {
	var out []string
	for _, f := range facts {
		part, key, _ := strings.Cut(f, ".")
		if row := words.Of(part, key); row != nil && !slices.Contains(out, row.Label) {
			out = append(out, row.Label)
		}
	}
	return capital(joined(out, "and"))
}
