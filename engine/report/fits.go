package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// Fits writes what of a shelf would do: a paragraph for each thing that is wrong, with its choices and near misses.
func Fits(w io.Writer, d *schema.Design, x *whatif.Fitting, o TextOptions) error {
	f := &fits{NewPrinter(w, o.Width, o.Colour), d}
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
		if len(x.Answers) > 0 {
			f.Blank()
		}
		f.Para(0, indent, "No part of the shelf bears on:")
		for _, c := range x.Left {
			f.complaint(indent, "", c)
		}
	}
	if t := x.Together; t != nil && (len(x.Answers) > 1 || len(t.New) > 0) {
		f.Blank()
		f.together(x)
	}
	f.Blank()
	f.Para(0, indent, fmt.Sprintf("%d parts on the shelf; %d changes were looked at. Local codes come first, and work they reserve to licensed trades is left to those.", x.Parts, x.Tried))
	return f.Flush()
}

type fits struct {
	*Printer
	design *schema.Design
}

func (f *fits) answer(a *whatif.Answer) {
	for _, c := range a.Mends {
		f.complaint(0, "Wrong: ", c)
	}
	for _, c := range a.Whatever {
		f.complaint(0, "Wrong with every part of the shelf: ", c)
	}
	f.Para(indent, 2*indent, lead(a))
	for i := range a.Choices {
		f.choice(i+1, &a.Choices[i])
	}
	if a.More > 0 {
		f.Para(2*indent, 3*indent, fmt.Sprintf("and up to %d more (--choices)", a.More))
	}
	if a.Capped {
		f.Para(indent, 2*indent, "Not all pairs were tried, there are too many: another may do too, or cost less. Name the places to fill to have fewer.")
	}
	for _, n := range a.Near {
		more := ""
		if n.Count > 1 {
			more = fmt.Sprintf(" And %d more.", n.Count-1)
		}
		why := uncapital(f.reason(n.Wrong))
		if slices.ContainsFunc(a.Mends, func(c whatif.Complaint) bool { return c.Text == n.Wrong.Text && c.Subject == n.Wrong.Subject }) {
			why = "the same is wrong with it."
		}
		f.Para(indent, 2*indent, "Not "+f.change(n.Change)+": "+why+more)
	}
}

// lead says before the choices how many changes they take.
func lead(a *whatif.Answer) string {
	if a.Bare {
		return "The shelf holds nothing for it."
	}
	if len(a.Choices) == 0 {
		if a.Capped {
			return "No single part of the shelf will do, nor any two at once that were tried."
		}
		return "Nothing on the shelf will do, no two parts at once either."
	}
	order := ":"
	if len(a.Choices) > 1 && priced(a) {
		order = ", the cheapest first:"
	}
	switch n := len(a.Choices[0].Changes); {
	case n == 1:
		return "Would do" + order
	case n == 2:
		return "No single part will do. Two at once would" + order
	case a.Few:
		return "No single part will do, nor any two at once that were tried. Three at once would" + order
	}
	return "No two parts at once will do. Three would" + order
}

// priced reports whether any choice has a price.
func priced(a *whatif.Answer) bool {
	return slices.ContainsFunc(a.Choices, func(c whatif.Choice) bool { return c.Price != nil })
}

// complaint says what is wrong.
func (f *fits) complaint(at int, lead string, c whatif.Complaint) {
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
	if c.Price == nil {
		text += ", no price"
	}
	if c.Stock != nil {
		text += ", " + map[bool]string{true: "none there", false: strconv.Itoa(*c.Stock) + " there"}[*c.Stock == 0]
	}
	return text
}

func (f *fits) together(x *whatif.Fitting) {
	t := x.Together
	var parts []string
	for _, c := range t.Changes {
		what := clean(c.Part)
		if c.Part == "" {
			what = "of " + clean(c.Size)
		}
		parts = append(parts, clean(sheet.NameOf(f.design, c.Path))+" "+what)
	}
	text := "All at once: " + strings.Join(parts, "; ")
	if t.Price != nil {
		text += "; for " + money(*t.Price)
	}
	switch stay := len(t.Wrong) - len(t.New); {
	case len(t.New) > 0:
		text += ". Together they make wrong what none of them does alone:"
	case stay == 0:
		text += ". Then nothing is wrong."
	case stay <= len(x.Left):
		text += ". Then only that is wrong on which no part of the shelf bears."
	default:
		text += fmt.Sprintf(". Then %s still wrong that %s wrong now.", count(stay, "thing is", "things are"), map[bool]string{true: "is", false: "are"}[stay == 1])
	}
	f.Para(0, indent, text)
	for _, c := range t.New {
		f.complaint(indent, "", c)
	}
}

// money writes a price as the shelf has it, to the hundredth.
func money(price float64) string { return strconv.FormatFloat(price, 'f', 2, 64) }
