package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// Fits writes what of a shelf would do: a paragraph for each thing that is wrong, with its choices and near misses.
func Fits(w io.Writer, d *schema.Design, x *whatif.Fitting, o TextOptions) error {
	f := &fits{NewPrinter(w, o.Width, o.Colour), d, map[string]bool{}}
	if len(x.Answers) == 0 && len(x.Left) == 0 {
		f.Para(0, indent, "Nothing is wrong that a part could mend.")
		return f.Flush()
	}
	for i := range x.Answers {
		if i > 0 {
			f.Blank()
		}
		f.answer(&x.Answers[i])
	}
	if len(x.Left) > 0 {
		f.Blank()
		f.Para(0, indent, "No part of the shelf bears on:")
		for _, c := range x.Left {
			f.complaint(indent, "", c)
		}
	}
	if t := x.Together; t != nil && (len(t.Changes) > 1 || len(t.Wrong) > 0) {
		f.Blank()
		f.together(t)
	}
	f.Blank()
	f.Para(0, indent, fmt.Sprintf("%d parts on the shelf; the design was judged %d times with other parts in it. Local codes come first, and work they reserve to licensed trades is left to those.", x.Parts, x.Tried))
	return f.Flush()
}

type fits struct {
	*Printer
	design *schema.Design
	// told are the complaints that were told, by rule and subject.
	told map[string]bool
}

func (f *fits) answer(a *whatif.Answer) {
	for _, c := range a.Mends {
		f.complaint(0, "Wrong: ", c)
	}
	for _, c := range a.Whatever {
		f.complaint(0, "Wrong with every part of the shelf: ", c)
	}
	switch {
	case len(a.Choices) > 0 && len(a.Choices[0].Changes) == 1:
		f.Para(indent, 2*indent, "Would do, the cheapest first:")
	case len(a.Choices) > 0:
		f.Para(indent, 2*indent, "No single part will do. Two at once would, the cheapest first:")
	default:
		f.Para(indent, 2*indent, "Nothing on the shelf will do, no two parts at once either.")
	}
	for i := range a.Choices {
		f.choice(i+1, &a.Choices[i])
	}
	if a.More > 0 {
		f.Para(2*indent, 3*indent, fmt.Sprintf("and up to %d more, which cost more (--choices)", a.More))
	}
	if a.Capped {
		f.Para(indent, 2*indent, "Not all pairs were tried: there are too many. Name the places to fill, or take parts off the shelf.")
	}
	for _, n := range a.Near {
		more := ""
		if n.Count > 1 {
			more = fmt.Sprintf(" And %d more.", n.Count-1)
		}
		f.Para(indent, 2*indent, "Not "+f.change(n.Change)+": "+uncapital(f.reason(n.Wrong))+more)
	}
}

// complaint says what is wrong.
func (f *fits) complaint(at int, lead string, c whatif.Complaint) {
	f.told[c.Rule+" "+c.Subject] = true
	f.Para(at, at+indent, lead+capital(clean(sheet.NameOf(f.design, c.Subject)))+": "+uncapital(f.reason(c)))
}

// reason is what is wrong, with how far it is from its bound.
func (f *fits) reason(c whatif.Complaint) string {
	text := clean(c.Text)
	if c.Usual {
		text = "with what is usual, " + uncapital(text)
	}
	if c.By != nil {
		text = strings.TrimSuffix(text, ".") + " (" + boundWords(*c.By) + ")."
	}
	return text
}

func (f *fits) choice(n int, x *whatif.Choice) {
	var parts []string
	for _, c := range x.Changes {
		parts = append(parts, f.change(c))
	}
	text := strconv.Itoa(n) + ". " + strings.Join(parts, " and ")
	if len(x.Changes) > 1 && x.Price != nil {
		text += "; together " + money(*x.Price)
	}
	if x.Usual {
		text += "; with what is usual of what nobody stated"
	}
	f.Para(2*indent, 3*indent, text)
	var silent []string
	for i, s := range x.Silent {
		if i == mostSilent {
			silent = append(silent, fmt.Sprintf("%d more", len(x.Silent)-i))
			break
		}
		silent = append(silent, clean(sheet.Label(s.Path)))
	}
	if len(silent) > 0 {
		lead := "Its label does not say: "
		if len(x.Opens) > 0 {
			lead = "As far as its label says; what could be judged before waits for: "
		}
		f.Para(3*indent, 4*indent, lead+strings.Join(silent, "; "))
	}
}

// mostSilent is how many facts are told that a label does not say.
const mostSilent = 4

// change says which part goes where, with its price and stock.
func (f *fits) change(c whatif.Exchanged) string {
	where := clean(sheet.NameOf(f.design, c.Path))
	if c.Part == "" {
		return where + " of " + clean(c.Size)
	}
	text := where + " " + clean(c.Part)
	if c.Title != "" {
		text += " (" + clean(c.Title) + ")"
	}
	if c.Price != nil {
		text += ", " + money(*c.Price)
	}
	if c.Stock != nil {
		text += ", " + map[bool]string{true: "none there", false: strconv.Itoa(*c.Stock) + " there"}[*c.Stock == 0]
	}
	return text
}

func (f *fits) together(t *whatif.Together) {
	var parts []string
	for _, c := range t.Changes {
		name := c.Part
		if name == "" {
			name = c.Size
		}
		parts = append(parts, clean(sheet.NameOf(f.design, c.Path))+" "+clean(name))
	}
	text := "All first choices at once: " + strings.Join(parts, ", ")
	if t.Price != nil {
		text += ", for " + money(*t.Price)
	}
	if len(t.Wrong) == 0 {
		f.Para(0, indent, text+". Then nothing is wrong.")
		return
	}
	f.Para(0, indent, text+fmt.Sprintf(". Wrong then still: %d.", len(t.Wrong)))
	for _, c := range t.Wrong {
		if !f.told[c.Rule+" "+c.Subject] {
			f.complaint(indent, "New: ", c)
		}
	}
}

// money writes a price as the shelf has it, to the hundredth.
func money(price float64) string { return strconv.FormatFloat(price, 'f', 2, 64) }
