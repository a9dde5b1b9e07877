package editor

import (
	"regexp"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/report"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// expressions are the keys of a pack that hold an expression, sentences those that hold some in braces.
var (
	expressions = []string{"about", "each", "let", "applies", "measure", "must", "should", "at_least", "at_most", "more_than", "less_than", "between", "when", "binds", "doubts", "asks", "assume", "fact", "also"}
	sentences   = []string{"say", "met", "mend", "text"}
)

// expressionAt is the expression a cursor stands in, up to it.
func expressionAt(at *Spot) (string, bool) {
	key := lastKey(at.Way)
	if n := len(at.Way); n > 1 && slices.Contains([]string{"each", "let", "assume"}, at.Way[n-2].Key) {
		key = at.Way[n-2].Key
		if key == "assume" {
			return "", false // the value that is assumed
		}
	}
	if slices.Contains(expressions, key) {
		return at.Text, true
	}
	from := strings.LastIndexByte(at.Text, '{')
	return at.Text[from+1:], slices.Contains(sentences, key) && from > strings.LastIndexByte(at.Text, '}')
}

// packOf reads as much of a pack as can be; an empty one when that is nothing.
func packOf(text string) *pack.Pack {
	if p, _ := pack.Read("", []byte(text)); p != nil {
		return p
	}
	return &pack.Pack{}
}

// said is what an expression may name at a place: the vocabulary with the tables of the pack, its figures, and the names of the
// rule around it.
type said struct {
	*vocabulary.Vocabulary
	vars []vocabulary.Variable
	pack *pack.Pack
}

// say works out what an expression at a cursor may name. What is broken of the pack is left out.
func (s *Shop) say(at *Spot, text string) *said {
	p, reader := pack.Read("", []byte(text))
	if p == nil { // it is broken: what stands before the cursor counts
		p, reader = pack.Read("", []byte(at.closed))
	}
	if p == nil {
		p = &pack.Pack{}
	}
	c := rule.NewCompiler(s.library.Vocabulary().Apart(), p, reader, s.library.Shared())
	c.Figures()
	out := &said{c.Vocabulary, c.Vars, p}
	if len(at.Way) == 0 || at.Way[0].Key != "rules" || at.Way[0].Index >= len(p.Rules) || !at.Way[0].Item {
		return out
	}
	r := &p.Rules[at.Way[0].Index]
	for _, e := range r.Each {
		if n := out.Find(e.Value.Text, out.vars); n != nil && n.Type.Kind() == types.ListKind {
			out.vars = append(out.vars, vocabulary.NewVariable(e.Key, n.Type.Parameters()[0], n.Words))
		}
	}
	for _, l := range r.Let {
		if program, err := out.Compile(l.Value.Text, out.vars); err == nil {
			out.vars = append(out.vars, vocabulary.NewVariable(l.Key, program.Type, program.Words))
		}
	}
	return out
}

// chain is the chain of names at the end of an expression, inQuotes a word that is being written, goesThrough a name that
// stands for the items of a list.
var (
	chain       = regexp.MustCompile(`((?:[A-Za-z_]\w*(?:\[[^\[\]]*\])?\.)*)([A-Za-z_]\w*)?$`)
	inQuotes    = regexp.MustCompile(`((?:[A-Za-z_]\w*(?:\[[^\[\]]*\])?\.)*[A-Za-z_]\w*)\s*(?:(?:==|!=)\s*|in\s*\[[^\]]*|\[)['"](\w*)$`)
	goesThrough = regexp.MustCompile(`([\w.\[\]]+)\.(?:all|exists|exists_one|filter|map)\(\s*(\w+)\s*,`)
)

// within adds the names that all, exists and their like give in a text.
func (s *said) within(text string) {
	for _, m := range goesThrough.FindAllStringSubmatch(text, 20) {
		if n := s.Find(m[1], s.vars); n != nil && n.Type.Kind() == types.ListKind {
			s.vars = append([]vocabulary.Variable{vocabulary.NewVariable(m[2], n.Type.Parameters()[0], n.Words)}, s.vars...)
		}
	}
}

// inExpression completes the name or word at the end of an expression.
func (s *Shop) inExpression(text string, names *said, offset int) Completion {
	names.within(text)
	if m := inQuotes.FindStringSubmatch(text); m != nil {
		return Completion{offset - len(m[2]), wordItems(names.wordsOf(m[1]))}
	}
	m := chain.FindStringSubmatch(text)
	out := Completion{From: offset - len(m[2])}
	before := strings.TrimSuffix(m[1], ".")
	for _, n := range names.After(before, names.vars) {
		of := Reference
		if before != "" {
			of = Key
		}
		out.Items = append(out.Items, Item{Label: n.Name, Of: of, Detail: typeName(n.Type), Doc: s.means(&n)})
	}
	list := before != "" && names.isList(before)
	for _, f := range slices.Concat(engine.Operators(), engine.Functions()) {
		name, _, call := strings.Cut(f.Signature, "(")
		of, method := "", strings.Contains(name, ".")
		if method {
			of, _, _ = strings.Cut(name, ".")
		}
		if call && (before == "" && !method && nameOnly.MatchString(f.Name) || list && of == "list") {
			out.Items = append(out.Items, Item{Label: f.Name, Of: Function, Detail: f.Signature, Doc: f.Doc})
		}
	}
	if before == "" {
		for _, u := range quantity.Units() {
			if u.CEL != "" && u.Dimension != quantity.DimRatio {
				out.Items = append(out.Items, Item{Label: u.CEL, Insert: u.CEL + "(", Of: Quantity, Detail: u.Dimension.Phrase(), Doc: u.CEL + "(1) is 1 " + u.Symbol})
			}
		}
	}
	return out
}

// typeName says a type in a few words; a part is told by its name already.
func typeName(t *types.Type) string {
	switch t.Kind() {
	case types.StructKind, types.DynKind:
		return ""
	case types.TimestampKind:
		return "a day"
	}
	return rule.TypeName(t)
}

var nameOnly = regexp.MustCompile(`^[a-z_]+$`)

func (s *said) isList(chain string) bool {
	n := s.Find(chain, s.vars)
	return n != nil && n.Type.Kind() == types.ListKind
}

// wordsOf are the words that a chain of names may come out as, or the rows of a table.
func (s *said) wordsOf(chain string) []string {
	if name, is := strings.CutPrefix(chain, "table."); is {
		t, found := s.pack.Tables.Get(name)
		var out []string
		for i := 0; found && i < len(t.Rows); i++ {
			out = append(out, t.Rows[i][t.Key].Text)
		}
		return out
	}
	if n := s.Find(chain, s.vars); n != nil {
		return n.Words
	}
	return nil
}

// means is what a name of an expression means.
func (s *Shop) means(n *vocabulary.Name) string {
	if n.Derived != nil {
		return n.Derived.Meaning
	}
	if text := schema.Doc(n.Part, n.Name); text != "" {
		return text
	}
	for _, v := range derive.Views() {
		if n.Part == "Design" && v.Name == n.Name {
			return v.Meaning
		}
	}
	for _, l := range derive.Links() {
		if l.On == n.Part && l.Name == n.Name {
			return l.Meaning
		}
	}
	for _, p := range derive.Points() {
		if p.String() == n.Name {
			return p.Meaning()
		}
	}
	return fixedNames[n.Name]
}

// fixedNames are the names that every expression may begin with.
var fixedNames = map[string]string{
	"design": "What the design states, and what follows from it.",
	"at":     "The derived values of the vehicle, by operating point.",
	"today":  "The day of judging.",
	"limit":  "The limits of this pack.",
	"table":  "The tables of this pack.",
	"fitted": "Whether the part, which may be none, is there.",
}

// tellName says what the name at the end of an expression is.
func (s *Shop) tellName(text string, names *said) string {
	names.within(text)
	m := chain.FindStringSubmatch(text)
	if name := m[0]; m[1] == "" {
		for _, f := range slices.Concat(engine.Operators(), engine.Functions()) {
			if f.Name == name {
				return "**" + report.MarkdownText(f.Signature) + "**: " + report.MarkdownText(f.Doc+"; "+f.Example)
			}
		}
		if u, is := quantity.UnitByCEL(name); is {
			if v, err := u.Value(1); err == nil {
				return report.MarkdownText("a unit: " + name + "(1) is " + inUnits(v))
			}
		}
	}
	if figure, is := names.figure(m[0]); is {
		return report.MarkdownText(m[0] + ": " + figure)
	}
	n := names.Find(m[0], names.vars)
	if n == nil {
		return report.MarkdownText(fixedNames[m[0]])
	}
	if n.Derived != nil {
		return s.tell(n.Part + "." + n.Name)
	}
	if path := s.twins[n.Part+"."+n.Name]; path != "" {
		return s.tellAs(path, m[0])
	}
	return report.MarkdownText(strings.TrimRight(m[0]+": "+typeName(n.Type), ": ") + ". " + s.means(n))
}

// figure says what a limit or table of the pack is.
func (s *said) figure(name string) (string, bool) {
	if key, is := strings.CutPrefix(name, "limit."); is {
		if l, found := s.pack.Limits.Get(key); found {
			return l.Is.Text, true
		}
	}
	if key, is := strings.CutPrefix(name, "table."); is {
		if t, found := s.pack.Tables.Get(key); found {
			return counted(len(t.Rows), "row") + " by " + t.Key + ", with " + strings.Join(t.Columns.Keys(), ", "), true
		}
	}
	return "", false
}
