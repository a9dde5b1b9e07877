package page

import (
	"cmp"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"plumbline/cmd/plumbline/internal/desk"
	"plumbline/engine"
	"plumbline/engine/interview"
	"plumbline/engine/report"
	"plumbline/engine/sheet"
	"plumbline/schema"
)

// card is a part, opened: what is printed on it, what is known, what would do.
type card struct {
	// Path is the part's, Title what it is called, Within the part it belongs to, with a link to that.
	Path, Title, Within, WithinLink string
	// Where says where to look.
	Where string
	// Word and Text are its verdict, Do what to do.
	Word, Text, Do string
	// Facts are the few that matter first, Rest the others; Parts are what it is made of.
	Facts []fact
	Rest  []rest
	Parts []rest
	// Items is the list that the card is of; nil for a part.
	Items *fact
	// Found is what is wrong or doubtful about it.
	Found []reason
	// Picture shows what decides, for a part that has one: the pump its curve with the need.
	Picture template.HTML
	// Shelf are parts of the shelf that may stand here; Fit which of them make it right, when that was asked for.
	Shelf []shelved
	Fit   []string
	// Sizes are the least that works, when that was asked for.
	Sizes []string
	// Asked says which of these was asked for; Links ask for them.
	Asked                               string
	FitLink, SizeLink, WhyLink, TryLink string
	Close                               string
}

// fact is one fact with how it is answered.
type fact struct {
	Path, Label string
	// Value is what is stated, "" for nothing; Ranged marks a range.
	Value string
	// Form is how it is answered: words, choice, yesno, presence, whole, items, count, number, text.
	Form    string
	Choices []choice
	Units   []string
	Example string
	// How says how to find the answer, Usual what one is usually like, Unknown what happens while it is not known.
	How, Usual, Unknown string
	Danger              string
	Listed              []string
	// Own is set where the design itself states it, so that it can be taken out.
	Own bool
	ID  string
}

// rest is a fact or part that is only named.
type rest struct{ Label, Value, Link string }

// reason is one finding in three depths.
type reason struct {
	Word, Text, Do string
	// Numbers holds it against its limit, Working how it came out, Because what the rule rests on.
	Numbers string
	Working []string
	Because []string
}

// shelved is a part of the shelf.
type shelved struct{ Number, Text string }

// mostFacts is how many facts of a part are asked on its card.
const mostFacts = 5

// cardOf opens a part; nil when the design has none at the path.
func (s *Server) cardOf(r *http.Request, view *desk.View, path string, habit url.Values) *card {
	d := view.Design
	field := schema.Describe(path).Field
	if path == "design" || field.Key == "" && schema.TypeAt(path) == "" {
		return nil
	}
	file, way := escapedFile(view.Name), r.FormValue("way")
	to := func(path string, more ...string) string {
		return link(file, append([]string{"way", way, "part", path}, more...)...) + "#card"
	}
	c := &card{Path: path, Title: sheet.NameOf(d, path), Close: link(file, "way", way), Asked: r.FormValue("more"), TryLink: "/try/" + file + "?" + url.Values{"part": {path}, "way": {way}}.Encode()}
	c.FitLink, c.SizeLink, c.WhyLink = to(path, "more", "fit"), to(path, "more", "size"), to(path, "more", "why")
	if parent := string(schema.Path(path).Parent()); parent != "design" && parent != "" {
		if list, _, ok := schema.Path(parent).Split(); ok && list == "" {
			parent = ""
		}
		c.Within, c.WithinLink = sheet.NameOf(d, parent), to(parent)
	}
	s.cardFacts(c, view, path, r.FormValue("fact"), habit, to)
	c.verdict(view)
	c.found(view)
	if path == "design.pump" {
		c.Picture = chartOf(view.Paper("pump"))
	}
	if field.Kind != schema.KindList || strings.HasSuffix(path, "]") {
		s.shelf(c, view, r.FormValue("more"))
	}
	return c
}

// cardFacts sorts the facts of a part: the few that matter first, the others by name.
func (s *Server) cardFacts(c *card, view *desk.View, path, first string, habit url.Values, to func(string, ...string) string) {
	d := view.Design
	typeName := schema.TypeAt(path)
	field := schema.Describe(path).Field
	if q := view.Question(path); q != nil && (typeName == "" || field.Kind == schema.KindMaybe || field.Kind == schema.KindList) {
		f := factOf(view, q, habit)
		if _, _, item := schema.Path(path).Split(); !item {
			if field.Kind == schema.KindList {
				c.Items = &f
			} else {
				c.Facts = append(c.Facts, f)
			}
		}
		c.Where = f.How
	}
	if typeName == "" || field.Kind == schema.KindList && !strings.HasSuffix(path, "]") {
		s.cardItems(c, view, path, to)
		return
	}
	if o, ok := d.At(path).(schema.Optional); ok && o.Presence() == schema.Absent {
		return
	}
	fields, asked := schema.FieldsOf(typeName), map[string]int{}
	for i, x := range engine.Rank(view.Report, func(missing string) string { return missing }) {
		asked[x.Path] = i + 1
	}
	rank := func(f schema.FieldInfo) int { // what it is bought by, what is stated, what decides most, the rest
		at := path + "." + f.Key
		row, n := schema.Said(at), asked[at]
		switch {
		case f.Key == first:
			return -4
		case row != nil && row.Figure && f.Kind != schema.KindList:
			return -3
		case f.Key != "name" && stated(d, at) != "":
			return -2
		case n > 0:
			return n
		}
		return len(asked) + 1
	}
	for _, f := range fields {
		if row := schema.Said(path + "." + f.Key); c.Where == "" && row != nil && row.Figure && f.Kind != schema.KindList {
			c.Where = row.How
		}
	}
	slices.SortStableFunc(fields, func(x, y schema.FieldInfo) int {
		return cmp.Compare(rank(x), rank(y))
	})
	for _, f := range fields {
		at := path + "." + f.Key
		if f.Kind == schema.KindPart || f.Kind == schema.KindMaybe || f.Kind == schema.KindList && f.Part != "" {
			c.Parts = append(c.Parts, rest{Label: sheet.Label(at), Value: presence(d, at), Link: to(at)})
			continue
		}
		if len(c.Facts) < mostFacts {
			if q := view.Question(at); q != nil {
				one := factOf(view, q, habit)
				one.Label = sheet.Label(at)
				c.Facts = append(c.Facts, one)
				continue
			}
		}
		c.Rest = append(c.Rest, rest{Label: sheet.Label(at), Value: stated(d, at), Link: to(path, "fact", f.Key)})
	}
}

// cardItems lists what a list or line holds.
func (s *Server) cardItems(c *card, view *desk.View, path string, to func(string, ...string) string) {
	list, ok := view.Design.At(path).(schema.Listing)
	if !ok {
		return
	}
	if part := schema.Describe(path).Field.Part; part == "" {
		return
	}
	for i := range list.Len() {
		at := fmt.Sprintf("%s[%d]", path, i)
		c.Parts = append(c.Parts, rest{Label: sheet.NameOf(view.Design, at), Link: to(at)})
	}
}

// presence says whether a part is there, and how many items a list has.
func presence(d *schema.Design, path string) string {
	switch at := d.At(path).(type) {
	case schema.Optional:
		switch at.Presence() {
		case schema.Present:
			return "there"
		case schema.Absent:
			return "none"
		}
		return "not known"
	case schema.Listing:
		switch {
		case at.Len() > 0:
			return fmt.Sprintf("%d named", at.Len())
		case at.Known():
			return "none"
		}
		return "not known"
	}
	return ""
}

// stated is a fact as the design states it, words as people say them; "" for nothing.
func stated(d *schema.Design, path string) string {
	f := d.FactAt(path)
	if f == nil {
		if at, ok := d.At(path).(schema.Listing); ok && at.Len() > 0 {
			var out []string
			for i := range at.Len() {
				out = append(out, stated(d, fmt.Sprintf("%s[%d]", path, i)))
			}
			return strings.Join(out, ", ")
		}
		return ""
	}
	if !schema.IsStated(f) {
		return ""
	}
	if row := schema.Said(path); row != nil && row.Value(f.Text()) != nil {
		return row.Value(f.Text()).Label
	}
	switch f.Text() {
	case "true":
		return "yes"
	case "false":
		return "no"
	}
	return strings.ReplaceAll(f.Text(), "_", " ")
}

// mostTapped is how many words are keys; more are a list to choose from.
const mostTapped = 6

// factOf is a question as a form.
func factOf(view *desk.View, q *interview.Question, habit url.Values) fact {
	f := fact{Path: q.Path, Value: stated(view.Design, q.Path), Danger: dangerWords(q), Own: view.Own(q.Path), ID: idOf(q.Path)}
	f.Label = sheet.NameOf(view.Design, q.Path)
	if q.Words != nil {
		f.How, f.Usual, f.Unknown = sentence(q.Words.How), q.Words.Normal, sentence(q.Words.Unknown)
	} else {
		f.How = sentence(q.Fact.Doc)
	}
	if n := len(q.Rules); f.Unknown == "" && n > 0 {
		f.Unknown = fmt.Sprintf("While it is not known %d rules cannot be judged.", n)
		if n == 1 {
			f.Unknown = "While it is not known, 1 rule cannot be judged: " + q.Rules[0].Title + "."
		}
	}
	if len(q.Examples) > 0 {
		f.Example = q.Examples[0]
	}
	f.Listed = q.Listed
	word := ""
	if at := view.Design.FactAt(q.Path); at != nil && at.Known() {
		word = at.Text()
	}
	for _, c := range q.Choices {
		f.Choices = append(f.Choices, choice{c.Word, cmp.Or(c.Said, c.Meaning, strings.ReplaceAll(c.Word, "_", " ")), c.Word == word})
	}
	switch field := q.Fact.Field; {
	case q.Form == interview.Presence:
		f.Form, f.Value = "presence", presence(view.Design, q.Path)
		f.Choices = []choice{{Word: "yes", Said: "there is one", Now: f.Value == "there"}, {Word: "none", Said: "there is none", Now: f.Value == "none"}}
		if f.Value == "not known" {
			f.Value = ""
		}
	case q.Form == interview.Whole:
		f.Form, f.Label = "whole", sentenceless(q.Whole)
		f.Choices = []choice{{Word: "yes", Said: "yes, that is all"}}
	case q.Form == interview.Items:
		f.Form = "items"
		if len(f.Choices) > mostTapped {
			f.Form = "itemchoice"
		}
	case q.Form == interview.Count:
		f.Form = "number"
	case field.Kind == schema.KindBool:
		f.Form = "words"
		f.Choices = []choice{{Word: "true", Said: "yes", Now: word == "true"}, {Word: "false", Said: "no", Now: word == "false"}}
	case len(f.Choices) > mostTapped:
		f.Form = "choice"
	case len(f.Choices) > 0:
		f.Form = "words"
	case field.Kind == schema.KindQuantity:
		f.Form, f.Units = "number", unitsFor(field, habit, f.Value, view.Units)
	case field.Kind == schema.KindInt:
		f.Form = "number"
	default:
		f.Form = "text"
	}
	return f
}

// sentenceless is what all of a list is, as a question.
func sentenceless(whole string) string { return "Is that all of " + whole + "?" }

// dangerWords says what is at stake while an answer is missing.
func dangerWords(q *interview.Question) string {
	if !q.Danger.Grave() {
		return ""
	}
	return q.Danger.Words()
}

// idOf is a path as the name of an element.
func idOf(path string) string {
	return "f-" + strings.NewReplacer(".", "-", "[", "-", "]", "").Replace(strings.TrimPrefix(path, "design."))
}

// verdict gives the card the line that the slip has of its part.
func (c *card) verdict(view *desk.View) {
	slip := slipOf(view)
	if slip == nil {
		return
	}
	for i := range slip.Parts {
		if p := &slip.Parts[i]; p.Subject == c.Path {
			c.Word, c.Text, c.Do = report.WordOf(p.Word), sentence(report.PartText(p)), report.PartDo(p)
		}
	}
}

// mostReasons is how many findings are told on a card.
const mostReasons = 6

// found lists what is wrong, doubtful, or would be with what is usual, about the part.
func (c *card) found(view *desk.View) {
	for i := range view.Report.Findings {
		f := &view.Report.Findings[i]
		if !schema.Path(c.Path).Holds(schema.Path(f.Subject)) || f.Conceded != nil {
			continue
		}
		x := reason{Word: report.OutcomeWord(f.Outcome), Text: sentence(f.Text), Do: sentence(f.Remedy), Numbers: report.Numbers(f)}
		switch lean := f.Leaning; {
		case f.Outcome == engine.Fail, f.Outcome == engine.Warn:
		case f.Outcome == engine.Open && lean != nil && lean.Lean != engine.WouldPass:
			x.Word, x.Text, x.Do = "ASK", sentence(report.LeaningWords(lean)), sentence(lean.Remedy)
		default:
			continue
		}
		for _, g := range f.Because {
			x.Because = append(x.Because, sentence(report.GroundWords(g)))
		}
		if c.Asked == "why" && len(c.Found) < mostReasons {
			for _, l := range view.Working(f) {
				x.Working = append(x.Working, sentence(l.String()))
			}
		}
		if len(c.Found) < mostReasons {
			c.Found = append(c.Found, x)
		}
	}
}

// chartOf are the charts of a paper.
func chartOf(paper *sheet.Paper) (out template.HTML) {
	for i := range paper.Blocks {
		if b := &paper.Blocks[i]; b.Chart != nil {
			out += pictures(b, "chart"+strconv.Itoa(i))
		}
	}
	return out
}

// shelf lists the parts that may stand here, and what of the shelf and of the sizes that are made would do.
func (s *Server) shelf(c *card, view *desk.View, asked string) {
	if parts, err := s.Desk.ShelfParts(c.Path); err == nil {
		for _, p := range parts {
			c.Shelf = append(c.Shelf, shelved{p.Name.Text(), shelfText(p)})
		}
	}
	switch asked {
	case "size":
		c.Sizes = saidBy(func(w io.Writer) error { return report.Sizes(w, view.Design, view.Sizes(c.Path), wideText) })
		if len(c.Sizes) == 0 {
			c.Sizes = []string{"Nothing about it is made in sizes as far as it is stated."}
		}
	case "fit":
		found, err := view.Fit(5, c.Path)
		if err != nil {
			c.Fit = wordsOf(err)
			return
		}
		c.Fit = saidBy(func(w io.Writer) error { return report.Fits(w, view.Design, found, wideText) })
	}
}

// shelfText is a part of the shelf in a line: what it is, what it costs, how many are there.
func shelfText(p *schema.Part) string {
	out := []string{p.Called()}
	if facts := p.Facts(); facts != "" {
		out = append(out, facts)
	}
	if p.Price.Known() {
		out = append(out, "costs "+p.Price.Text())
	}
	if p.Stock.Known() {
		out = append(out, p.Stock.Text()+" there")
	}
	return strings.Join(out, ", ")
}
