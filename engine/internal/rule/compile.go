package rule

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Compiler compiles the rules of one pack.
type Compiler struct {
	*document.Reader
	Vocabulary *vocabulary.Vocabulary
	Pack       *pack.Pack
	sources    pack.Named[pack.Source]
	Vars       []vocabulary.Variable
	Names      map[string]ref.Val
	Base       map[string]ref.Val // limits as the pack itself sets them
	Used       map[string]bool
	Bindings   map[*pack.Source]*Binding // of the laws cited
	// Trusted packs come from an image: they were found right when it was made.
	Trusted bool
	// Compiling is held while one of them is compiled late.
	Compiling *sync.Mutex
	// Changed rules are copies of one that was found right: what can come out of them is not asked.
	Changed bool
	// refused are the tables that are wrong, hidden counts what was not told for that.
	refused map[string]bool
	hidden  int
	// Wrong are the derived values of packs that are wrong themselves, by their paths: what reads them would only repeat it.
	Wrong []string
	// filling is the rule that is being compiled.
	filling *Rule
	// Declared are the facts that packs declare.
	Declared *schema.Declared
	// Figured are the limits and tables of all packs, read those of others that this one reads.
	Figured map[string]Figure
	read    []vocabulary.Variable
	// Room is what the local packs share; nil for the library's own.
	Room *Room
	// full is set once there was no room.
	full bool
}

// NewCompiler makes the compiler of a pack, which may cite the shared sources too; faults are noted in a copy of its reader.
func NewCompiler(v *vocabulary.Vocabulary, p *pack.Pack, reader *document.Reader, shared pack.Named[pack.Source]) *Compiler {
	own := *reader
	own.Problems = nil
	return &Compiler{Reader: &own, Vocabulary: v, Pack: p, sources: shared, Names: map[string]ref.Val{}, Base: map[string]ref.Val{}, Used: map[string]bool{}, Bindings: map[*pack.Source]*Binding{}}
}

// PackRules compiles the rules of a pack.
func (c *Compiler) PackRules() []*Rule {
	var out []*Rule
	seen := map[string]bool{}
	for i := range c.Pack.Rules {
		if len(c.Problems) >= MaxProblems {
			break
		}
		r := &c.Pack.Rules[i]
		path := "rules." + r.ID
		if seen[r.ID] {
			c.ProblemAt(r.Place, path, "the pack has two rules named "+r.ID, "")
		}
		seen[r.ID] = true
		if rule := c.Compile(r, path); rule != nil {
			out = append(out, rule)
		}
	}
	for i := range c.Pack.Assumptions {
		c.checkReasons(c.Pack.Assumptions[i].Because, "assumptions")
	}
	if len(c.Problems) == 0 && c.hidden == 0 && !c.Trusted {
		c.lintPack()
	}
	return out
}

// program compiles an expression, reporting faults at their place in the file.
func (c *Compiler) program(e *pack.Expression, path string, vars []vocabulary.Variable) *vocabulary.Program {
	return c.text(e.Text, e.Node, 0, path, vars)
}

// text compiles an expression that begins at a rune offset of a node's value.
func (c *Compiler) text(text string, n *yaml.Node, offset int, path string, vars []vocabulary.Variable) *vocabulary.Program {
	if n == nil && !c.Trusted {
		return nil // no text was there; the reader said so
	}
	if !c.Trusted && !c.room(n, path) {
		return nil
	}
	if slices.ContainsFunc(c.Wrong, func(path string) bool { return strings.Contains(text, path) }) {
		c.hidden++
		return nil
	}
	p, err := c.Vocabulary.Compile(text, c.withForeign(text, vars))
	if err == nil {
		if c.filling != nil {
			c.filling.stands(p, textPlace{n, offset, path})
		}
		for _, f := range p.Facts {
			c.Used[f] = true
		}
		for _, f := range p.Names {
			c.Used[f] = true
		}
		return p
	}
	var faults vocabulary.Faults
	if !errors.As(err, &faults) {
		c.Problem(n, path, err.Error(), "")
		return nil
	}
	for _, f := range faults {
		if name, is := f.Table(text); is && c.refused[name] {
			c.hidden++
			continue // the table is wrong itself: that was told
		}
		c.fault(n, offset, path, text, f)
	}
	return nil
}

// fault reports one in a text that begins at a rune offset of a node's value, at its own place in the file.
func (c *Compiler) fault(n *yaml.Node, offset int, path, text string, f vocabulary.Fault) {
	at := len(c.Problems)
	c.Problem(n, path, f.Message, "")
	last := &c.Problems[at]
	last.Text = strings.TrimSpace(lineOf(text, f.Line))
	if n != nil && n.Kind == yaml.ScalarNode {
		line, column := f.Line, f.Column
		if line == 1 {
			column += offset
		}
		last.Place = c.Place(n, line, column)
	}
}

func lineOf(text string, line int) string {
	lines := strings.Split(text, "\n")
	if line < 1 || line > len(lines) {
		return text
	}
	return lines[line-1]
}

// doubts checks that each value a rule casts doubt on is the name of a derived one.
func (c *Compiler) doubts(r *pack.Rule, path string, vars []vocabulary.Variable) {
	for _, name := range r.Doubts {
		p, err := c.Vocabulary.Compile(name, vars)
		bare := regexp.MustCompile(`^(at|design)(\.[a-z_]+)+$`).MatchString(name)
		if err != nil || !bare || p == nil || c.Declared.Describe(name).Doc != "" {
			c.Problem(pack.ChildOf(r.Node, "doubts"), path+".doubts", name+" is no derived value: write its path, such as at.idle.pump_voltage", "")
		}
	}
}

// Compile compiles one rule; nil when something is wrong with it.
func (c *Compiler) Compile(r *pack.Rule, path string) *Rule {
	out := &Rule{ID: c.Pack.Pack + "." + r.ID, Pack: c.Pack, Decl: r, Names: c.Names}
	if c.Trusted {
		out.late = &late{compile: func() {
			c.Compiling.Lock()
			defer c.Compiling.Unlock()
			c.fill(out, path)
		}}
		return out
	}
	if c.fill(out, path); out.broken {
		return nil
	}
	return out
}

// fill compiles the rest of a rule.
func (c *Compiler) fill(out *Rule, path string) {
	r, before := out.Decl, len(c.Problems)
	out.broken, c.filling = true, out
	hidden := c.hidden
	defer func() { c.filling = nil }()
	if !c.Trusted && !c.bounded(r, path) {
		return
	}
	if n := pack.ChildOf(r.Node, "each"); len(r.Each) == 0 && n != nil && n != r.Node {
		return // the reader said what is wrong with it, and the rest speaks of its items
	}
	vars := slices.Clone(c.Vars)
	if len(r.Each) > 1 {
		c.Problem(r.Node, path+".each", "each names one list", "")
	}
	for _, e := range r.Each {
		out.EachVar = e.Key
		out.Each = c.program(&e.Value, path+".each."+e.Key, vars)
		if out.Each == nil {
			return
		}
		if out.Each.Type.Kind() != types.ListKind {
			c.Problem(e.Value.Node, path+".each."+e.Key, "each needs a list; this is "+TypeName(out.Each.Type), "")
			return
		}
		vars = append(vars, vocabulary.NewVariable(e.Key, out.Each.Type.Parameters()[0], out.Each.Words).OfItem(out.Each))
	}
	for _, l := range r.Let {
		p := c.program(&l.Value, path+".let."+l.Key, vars)
		if p == nil {
			return
		}
		out.Lets = append(out.Lets, Let{l.Key, p})
		vars = append(vars, vocabulary.NewVariable(l.Key, p.Type, p.Words).Of(p))
	}
	if !c.Trusted {
		c.doubts(r, path, vars)
	}
	if r.Applies != nil {
		out.Applies = c.condition(r.Applies, path+".applies", vars)
	}
	if r.Measure != nil {
		out.Measure = c.program(r.Measure, path+".measure", vars)
		if out.Measure != nil && !measurable(out.Measure.Type) {
			c.Problem(r.Measure.Node, path+".measure", "a measure is a quantity or a number; this is "+TypeName(out.Measure.Type), "")
			out.Measure = nil // what bounds it would only repeat it
		}
	}
	out.Must = c.test(r, r.Must, path+".must", out.Measure, vars)
	out.Should = c.test(r, r.Should, path+".should", out.Measure, vars)
	out.Say = c.segments(pack.ChildOf(r.Node, "say"), "rules."+r.ID+".say", r.Say, vars)
	if r.Met != "" {
		out.Met = c.segments(pack.ChildOf(r.Node, "met"), "rules."+r.ID+".met", r.Met, vars)
	}
	out.Mend = c.mends(r, vars)
	out.Grounds = c.grounds(r, out)
	out.KnownFrom = c.knownFrom(r)
	if !c.Trusted && c.hidden == hidden {
		c.lint(r, out, path)
		c.costs(r, out, path)
		if len(c.Problems) == before && !c.Changed && out.whole() {
			c.lintReach(r, out, path)
		}
	}
	out.broken = len(c.Problems) > before || c.hidden > hidden
}

func (c *Compiler) condition(e *pack.Expression, path string, vars []vocabulary.Variable) *vocabulary.Program {
	p := c.program(e, path, vars)
	if p != nil && p.Type.Kind() != types.BoolKind {
		c.Problem(e.Node, path, "this must be true or false; it is "+TypeName(p.Type), "")
		return nil
	}
	return p
}

func (c *Compiler) test(r *pack.Rule, t *pack.Test, path string, measure *vocabulary.Program, vars []vocabulary.Variable) *Test {
	switch {
	case t == nil:
		return nil
	case t.Condition != nil:
		return &Test{Condition: c.condition(t.Condition, path, vars)}
	case r.Measure == nil:
		c.Problem(t.Node, path, "bounds need a measure", "")
		return nil
	case measure == nil:
		return nil
	}
	out := &Test{}
	for _, b := range t.Bounds {
		if x, ok := c.bound(b, path, measure, vars); ok {
			out.Bounds = append(out.Bounds, x)
		}
	}
	return out
}

func (c *Compiler) bound(b pack.Bound, path string, measure *vocabulary.Program, vars []vocabulary.Variable) (Bound, bool) {
	path += "." + b.Op
	if v, err := Constant(b.Value, vocabulary.DimensionOf(measure.Type)); err == nil {
		if !SameMeasure(measure.Type, vocabulary.TypeOf(v)) {
			c.Problem(b.Value.Node, path, fmt.Sprintf("the bound is %s, the measure %s", TypeName(vocabulary.TypeOf(v)), TypeName(measure.Type))+toWrite(b.Value, measure.Type), "")
			return Bound{}, false
		}
		return Bound{Op: b.Op, Value: v}, true
	}
	p := c.text(b.Value.Text, b.Value.Node, 0, path, vars)
	if p == nil {
		return Bound{}, false
	}
	if !SameMeasure(measure.Type, p.Type) {
		c.Problem(b.Value.Node, path, fmt.Sprintf("the bound is %s, the measure %s", TypeName(p.Type), TypeName(measure.Type)), "")
		return Bound{}, false
	}
	return Bound{Op: b.Op, Prog: p}, true
}

// toWrite says how a bound is written that does not go with the measure.
func toWrite(s pack.Scalar, measure *types.Type) string {
	d := vocabulary.DimensionOf(measure)
	if d == quantity.None {
		return ": write a plain number"
	}
	if _, err := quantity.Parse(s.Text, d); err != nil && (s.Tag == "!!int" || s.Tag == "!!float") {
		if _, write, found := strings.Cut(err.Error(), "write "); found {
			return ": write " + write
		}
	}
	return ": write " + d.Phrase() + " such as " + quantity.Example(d)
}

// segments splits a text at its {placeholders} and compiles them.
func (c *Compiler) segments(node *yaml.Node, path, text string, vars []vocabulary.Variable) []Segment {
	var out []Segment
	rest, offset := text, 0
	if node != nil {
		// Leading blanks were trimmed from the text but not from the node.
		offset = len([]rune(node.Value)) - len([]rune(strings.TrimLeft(node.Value, " \n")))
	}
	for {
		open := strings.IndexByte(rest, '{')
		if open < 0 {
			break
		}
		if len(out) >= 2*maxPlaceholders {
			c.Problem(node, path, fmt.Sprintf("a text has at most %d placeholders", maxPlaceholders), "")
			return out
		}
		end := strings.IndexByte(rest[open:], '}')
		if end < 0 {
			c.brace(node, path, "a { has no }: a value stands in {...}", offset+len([]rune(rest[:open])))
			return out
		}
		expr := rest[open+1 : open+end]
		begin := offset + len([]rune(rest[:open])) + 1
		p := c.text(expr, node, begin, path, vars)
		if p != nil && !printable(p.Type) {
			c.Problem(node, path, "a placeholder holds a value; "+expr+" is "+TypeName(p.Type), "")
		}
		out = append(out, Segment{Text: rest[:open]}, Segment{Prog: p, Expr: expr})
		offset = begin + len([]rune(expr)) + 1
		rest = rest[open+end+1:]
	}
	if at := strings.IndexByte(rest, '}'); at >= 0 {
		c.brace(node, path, "a } has no {: a value stands in {...}", offset+len([]rune(rest[:at])))
	}
	return append(out, Segment{Text: rest})
}

// brace says what is wrong with a brace, at its place in a text.
func (c *Compiler) brace(node *yaml.Node, path, message string, before int) {
	c.Problem(node, path, message, "")
	if node != nil {
		last := &c.Problems[len(c.Problems)-1]
		last.Place, last.Text = c.Place(node, 1, before+1), ""
	}
}
