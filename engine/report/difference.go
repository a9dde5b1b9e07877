package report

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"plumbline/engine"
	"plumbline/engine/sheet"
	"plumbline/engine/whatif"
	"plumbline/schema"
)

// The most facts, findings and values of a difference that are told unless all are asked for.
const (
	mostFactsDiffer, mostFindingsDiffer, mostValuesDiffer = 12, 12, 8
	mostCauses                                            = 3
)

// Difference writes what differs between two designs: first what is stated otherwise, then what is found otherwise and why, then what
// is computed otherwise.
func Difference(w io.Writer, before, after *schema.Design, x *whatif.Difference, o TextOptions) error {
	p := NewPrinter(w, o.Width, o.Colour)
	d := &differenceText{p, x, before, after, map[string]*whatif.FactDiffers{}, map[string]int{}}
	for i := range x.Facts {
		d.facts[x.Facts[i].Key] = &x.Facts[i]
		d.called[d.plainName(&x.Facts[i])]++
	}
	if x.Before.File != x.After.File {
		d.Para(0, 0, "Before is "+clean(x.Before.File)+", now is "+clean(x.After.File)+".")
	}
	worse := 0
	var telling []*whatif.FindingDiffers
	for i := range x.Findings {
		f := &x.Findings[i]
		if f.Worse {
			worse++
		}
		if telltale(f.Before) || telltale(f.After) {
			telling = append(telling, f)
		}
	}
	d.Para(0, 0, fmt.Sprintf("%s stated otherwise, %s otherwise by it: %d worse, %d not.",
		count(len(x.Facts), "thing is", "things are"), count(len(x.Findings), "finding comes out", "findings come out"), worse, len(x.Findings)-worse))
	if len(x.Facts) == 0 {
		d.Para(0, 0, "The two state the same.")
		return p.Flush()
	}
	stated := d.stated()
	d.section("What is stated otherwise", len(stated), mostFactsDiffer, o, func(i int) string { return stated[i] })
	d.section("What is found otherwise, what is worse first", len(telling), mostFindingsDiffer, o, func(i int) string { return d.finding(telling[i]) })
	if n := len(x.Findings) - len(telling); n > 0 {
		d.Para(0, indent, fmt.Sprintf("%s only to apply or not to apply any more, met where it applies.", count(n, "finding comes", "findings come")))
	}
	d.section("What is computed otherwise", len(x.Values), mostValuesDiffer, o, func(i int) string {
		v := &x.Values[i]
		return capital(cmp.Or(clean(v.Means), clean(v.Key))) + d.where(v) + ": " + fromTo(v.Before, v.After) + "."
	})
	return p.Flush()
}

type differenceText struct {
	*Printer
	x             *whatif.Difference
	before, after *schema.Design
	facts         map[string]*whatif.FactDiffers
	called        map[string]int // how many facts that differ have a name
}

// stated are the lines of what is stated otherwise: of a part that only one design has, that.
func (d *differenceText) stated() []string {
	var out []string
	told := map[*whatif.PartDiffers]bool{}
	for i := range d.x.Facts {
		f := &d.x.Facts[i]
		p := d.partOf(f.Key)
		switch {
		case p == nil:
			out = append(out, d.fact(f)+".")
		case !told[p]:
			told[p] = true
			text := ": there before, not now."
			if p.Come {
				text = ": there now, not before."
			}
			out = append(out, capital(d.partName(p))+text)
		}
	}
	return out
}

// partOf is the part that only one design has and that a fact belongs to, by its key; nil for none.
func (d *differenceText) partOf(key string) *whatif.PartDiffers {
	for i := range d.x.Parts {
		p := &d.x.Parts[i]
		if rest, of := strings.CutPrefix(key, p.Key); of && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return p
		}
	}
	return nil
}

// partName is what a part is called in the design that has it, with its key where others may be called so.
func (d *differenceText) partName(p *whatif.PartDiffers) string {
	of := d.before
	if p.Come {
		of = d.after
	}
	name := clean(sheet.NameOf(of, p.Path))
	same := 0
	for i := range d.x.Parts {
		other := d.before
		if d.x.Parts[i].Come {
			other = d.after
		}
		if clean(sheet.NameOf(other, d.x.Parts[i].Path)) == name {
			same++
		}
	}
	if same > 1 {
		name += " (" + clean(strings.TrimPrefix(p.Key, "design.")) + ")"
	}
	return name
}

// telltale reports whether an outcome asks for anything.
func telltale(o engine.Outcome) bool {
	return o == engine.Fail || o == engine.Warn || o == engine.Open
}

func (d *differenceText) section(title string, n, most int, o TextOptions, line func(i int) string) {
	if n == 0 {
		return
	}
	d.Blank()
	d.Heading(title)
	for i := range n {
		if i == most && !o.Verbose {
			d.Para(0, indent, fmt.Sprintf("%d more; --all lists them.", n-i))
			return
		}
		d.Para(0, indent, line(i))
	}
}

// where says of which part, and at which operating point, a value is.
func (d *differenceText) where(v *whatif.ValueDiffers) string {
	text := ""
	if v.Point != "" {
		text = ", at " + stageWords(v.Point)
	}
	if i := strings.LastIndexByte(v.Key, ']'); i >= 0 {
		text += " (" + clean(strings.TrimPrefix(v.Key[:i+1], "design.")) + ")"
	}
	return text
}

// fromTo says what a text was and is.
func fromTo(before, after string) string {
	switch {
	case before == "":
		return "now " + clean(after) + ", nothing before"
	case after == "":
		return clean(before) + " before, nothing now"
	}
	return clean(before) + " before, now " + clean(after)
}

// fact says what is stated otherwise; of two things of one name, the key tells which.
func (d *differenceText) fact(f *whatif.FactDiffers) string {
	return d.name(f) + ": " + fromTo(f.Before, f.After)
}

func (d *differenceText) name(f *whatif.FactDiffers) string {
	text := d.plainName(f)
	if d.called[text] > 1 {
		text += " (" + clean(strings.TrimPrefix(f.Key, "design.")) + ")"
	}
	return text
}

func (d *differenceText) plainName(f *whatif.FactDiffers) string {
	of := d.after
	if f.After == "" {
		of = d.before
	}
	return capital(clean(sheet.NameOf(of, f.Path)))
}

// finding says how a finding stands now and before, what it says, and why.
func (d *differenceText) finding(f *whatif.FindingDiffers) string {
	text := strings.ToUpper(OutcomeWord(f.After)) + ", before " + OutcomeWord(f.Before) + ": " + clean(f.Text)
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	switch {
	case f.After == engine.Open && f.Before == engine.NotApplicable:
		text += " It cannot be told yet (" + f.Rule + ")."
	case f.After == engine.Open:
		text += " It can no longer be told (" + f.Rule + ")."
	}
	if len(f.Causes) == 0 {
		return text + " No one of the things that are stated otherwise was found to do it."
	}
	var alone, rests []string
	tried := true
	for _, c := range f.Causes {
		name := d.causeName(c.Fact)
		switch {
		case c.Alone != nil && *c.Alone:
			alone = append(alone, name)
		default:
			tried = tried && c.Alone != nil
			rests = append(rests, name)
		}
	}
	if len(alone) > 0 {
		return text + " " + capital(few(alone)) + " alone " + verb(len(alone), "does", "do") + " it."
	}
	text += " It rests on " + few(rests)
	if tried && len(rests) > 1 {
		text += "; none of them alone does it"
	}
	return text + "."
}

func (d *differenceText) causeName(key string) string {
	if p := d.partOf(key); p != nil {
		if p.Come {
			return uncapital(d.partName(p)) + ", which is new,"
		}
		return uncapital(d.partName(p)) + ", which is gone,"
	}
	f := d.facts[key]
	text := uncapital(d.name(f))
	if f.Before == "" || f.After == "" {
		return text
	}
	return text + " (" + clean(f.Before) + " to " + clean(f.After) + ")"
}

// few lists the first of some names, and says how many there are more.
func few(names []string) string {
	if len(names) > mostCauses {
		names = append(names[:mostCauses:mostCauses], count(len(names)-mostCauses, "more", "more"))
	}
	return joined(names, "and")
}
