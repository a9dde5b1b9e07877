package engine

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"gopkg.in/yaml.v3"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// compiled is a rule ready to judge.
type compiled struct {
	id      string
	order   int // among the rules by name
	pack    *pack.Pack
	decl    *pack.Rule
	names   map[string]ref.Val // limits and tables of the pack
	each    *vocabulary.Program
	eachVar string
	lets    []named
	applies *vocabulary.Program
	measure *vocabulary.Program
	must    *test
	should  *test
	say     []segment
	met     []segment
	mend    []remedy
	grounds []Ground
	// knownFrom says how a regional rule is known no text of which was read, else empty.
	knownFrom string
	// A local pack raised its should to a must, or made its must milder, a should.
	raised, milder bool
	// broken rules had problems.
	broken bool
	// late compiles the rest of a rule that was found right before, when it is first needed.
	late *late
}

// late is what is done once for a rule, by one goroutine of all at a time.
type late struct {
	once    sync.Once
	compile func()
}

// ready compiles the rule if it is not yet.
func (r *compiled) ready() *compiled {
	if r.late != nil {
		r.late.once.Do(r.late.compile)
	}
	return r
}

// ready compiles all rules that are not yet.
func (l *Library) ready() []*compiled {
	for _, r := range l.rules {
		r.ready()
	}
	return l.rules
}

type named struct {
	name string
	prog *vocabulary.Program
}

type test struct {
	condition *vocabulary.Program
	bounds    []bound
}

type bound struct {
	op    string
	value ref.Val             // a constant
	prog  *vocabulary.Program // or an expression
}

type segment struct {
	text string
	prog *vocabulary.Program
	// expr is the placeholder as written.
	expr string
}

// compiler compiles the rules of one pack.
type compiler struct {
	*pack.Reader
	vocabulary *vocabulary.Vocabulary
	pack       *pack.Pack
	sources    pack.Named[pack.Source]
	vars       []vocabulary.Variable
	names      map[string]ref.Val
	base       map[string]ref.Val // limits as the pack itself sets them
	used       map[string]bool
	bindings   map[*pack.Source]*binding // of the laws cited
	// trusted packs come from an image: they were found right when it was made.
	trusted bool
	// compiling is held while one of them is compiled late.
	compiling *sync.Mutex
}

// newCompiler makes the compiler of a pack, which may cite the shared sources too; faults are noted in a copy of its reader.
func newCompiler(v *vocabulary.Vocabulary, p *pack.Pack, reader *pack.Reader, shared pack.Named[pack.Source]) *compiler {
	own := *reader
	own.Problems = nil
	return &compiler{Reader: &own, vocabulary: v, pack: p, sources: shared, names: map[string]ref.Val{}, base: map[string]ref.Val{}, used: map[string]bool{}, bindings: map[*pack.Source]*binding{}}
}

// packRules compiles the rules of a pack.
func (c *compiler) packRules() []*compiled {
	var out []*compiled
	seen := map[string]bool{}
	for i := range c.pack.Rules {
		r := &c.pack.Rules[i]
		path := "rules." + r.ID
		if seen[r.ID] {
			c.problemAt(r.Place, path, "the pack has two rules named "+r.ID, "")
		}
		seen[r.ID] = true
		if rule := c.rule(r, path); rule != nil {
			out = append(out, rule)
		}
	}
	for i := range c.pack.Assumptions {
		c.checkReasons(c.pack.Assumptions[i].Because, "assumptions")
	}
	if len(c.Problems) == 0 && !c.trusted {
		c.lintPack()
	}
	return out
}

// program compiles an expression, reporting faults at their place in the file.
func (c *compiler) program(e *pack.Expression, path string, vars []vocabulary.Variable) *vocabulary.Program {
	return c.text(e.Text, e.Node, 0, path, vars)
}

// text compiles an expression that begins at a rune offset of a node's value.
func (c *compiler) text(text string, n *yaml.Node, offset int, path string, vars []vocabulary.Variable) *vocabulary.Program {
	if n == nil && !c.trusted {
		return nil // no text was there; the reader said so
	}
	p, err := c.vocabulary.Compile(text, vars)
	if err == nil {
		for _, f := range p.Facts {
			c.used[f] = true
		}
		for _, f := range p.Names {
			c.used[f] = true
		}
		return p
	}
	var faults vocabulary.Faults
	if !errors.As(err, &faults) {
		c.Problem(n, path, err.Error(), "")
		return nil
	}
	for _, f := range faults {
		before := c.Reader.Problems
		c.Problem(n, path, f.Message, "")
		last := &c.Reader.Problems[len(before)]
		last.Text = strings.TrimSpace(lineOf(text, f.Line))
		if n.Kind == yaml.ScalarNode {
			line, column := f.Line, f.Column
			if line == 1 {
				column += offset
			}
			last.Place = c.Place(n, line, column)
		}
	}
	return nil
}

func lineOf(text string, line int) string {
	lines := strings.Split(text, "\n")
	if line < 1 || line > len(lines) {
		return text
	}
	return lines[line-1]
}

// rule compiles one rule; nil when something is wrong with it.
// doubts checks that each value a rule casts doubt on is the name of a derived one.
func (c *compiler) doubts(r *pack.Rule, path string, vars []vocabulary.Variable) {
	for _, name := range r.Doubts {
		p, err := c.vocabulary.Compile(name, vars)
		bare := regexp.MustCompile(`^(at|design)(\.[a-z_]+)+$`).MatchString(name)
		if err != nil || !bare || p == nil || schema.Describe(name).Doc != "" {
			c.Problem(pack.ChildOf(r.Node, "doubts"), path+".doubts", name+" is no derived value: write its path, such as at.idle.pump_voltage", "")
		}
	}
}

func (c *compiler) rule(r *pack.Rule, path string) *compiled {
	out := &compiled{id: c.pack.Pack + "." + r.ID, pack: c.pack, decl: r, names: c.names}
	if c.trusted {
		out.late = &late{compile: func() {
			c.compiling.Lock()
			defer c.compiling.Unlock()
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
func (c *compiler) fill(out *compiled, path string) {
	r, before := out.decl, len(c.Problems)
	out.broken = true
	vars := slices.Clone(c.vars)
	if len(r.Each) > 1 {
		c.Problem(r.Node, path+".each", "each names one list", "")
	}
	for _, e := range r.Each {
		out.eachVar = e.Key
		out.each = c.program(&e.Value, path+".each."+e.Key, vars)
		if out.each == nil {
			return
		}
		if out.each.Type.Kind() != types.ListKind {
			c.Problem(e.Value.Node, path+".each."+e.Key, "each needs a list; this is "+typeName(out.each.Type), "")
			return
		}
		vars = append(vars, vocabulary.NewVariable(e.Key, out.each.Type.Parameters()[0], out.each.Words))
	}
	for _, l := range r.Let {
		p := c.program(&l.Value, path+".let."+l.Key, vars)
		if p == nil {
			return
		}
		out.lets = append(out.lets, named{l.Key, p})
		vars = append(vars, vocabulary.NewVariable(l.Key, p.Type, p.Words))
	}
	if !c.trusted {
		c.doubts(r, path, vars)
	}
	if r.Applies != nil {
		out.applies = c.condition(r.Applies, path+".applies", vars)
	}
	if r.Measure != nil {
		out.measure = c.program(r.Measure, path+".measure", vars)
		if out.measure != nil && !measurable(out.measure.Type) {
			c.Problem(r.Measure.Node, path+".measure", "a measure is a quantity or a number; this is "+typeName(out.measure.Type), "")
		}
	}
	out.must = c.test(r, r.Must, path+".must", out.measure, vars)
	out.should = c.test(r, r.Should, path+".should", out.measure, vars)
	out.say = c.segments(pack.ChildOf(r.Node, "say"), "rules."+r.ID+".say", r.Say, vars)
	if r.Met != "" {
		out.met = c.segments(pack.ChildOf(r.Node, "met"), "rules."+r.ID+".met", r.Met, vars)
	}
	out.mend = c.mends(r, vars)
	out.grounds = c.grounds(r, out)
	out.knownFrom = c.knownFrom(r)
	if !c.trusted {
		c.lint(r, out, path)
	}
	out.broken = len(c.Problems) > before
}

func (c *compiler) condition(e *pack.Expression, path string, vars []vocabulary.Variable) *vocabulary.Program {
	p := c.program(e, path, vars)
	if p != nil && p.Type.Kind() != types.BoolKind {
		c.Problem(e.Node, path, "this must be true or false; it is "+typeName(p.Type), "")
		return nil
	}
	return p
}

func (c *compiler) test(r *pack.Rule, t *pack.Test, path string, measure *vocabulary.Program, vars []vocabulary.Variable) *test {
	switch {
	case t == nil:
		return nil
	case t.Condition != nil:
		return &test{condition: c.condition(t.Condition, path, vars)}
	case r.Measure == nil:
		c.Problem(t.Node, path, "bounds need a measure", "")
		return nil
	case measure == nil:
		return nil
	}
	out := &test{}
	for _, b := range t.Bounds {
		if x, ok := c.bound(b, path, measure, vars); ok {
			out.bounds = append(out.bounds, x)
		}
	}
	return out
}

func (c *compiler) bound(b pack.Bound, path string, measure *vocabulary.Program, vars []vocabulary.Variable) (bound, bool) {
	path += "." + b.Op
	if v, err := constant(b.Value, vocabulary.DimensionOf(measure.Type)); err == nil {
		if !sameMeasure(measure.Type, vocabulary.TypeOf(v)) {
			c.Problem(b.Value.Node, path, fmt.Sprintf("the bound is %s, the measure %s", typeName(vocabulary.TypeOf(v)), typeName(measure.Type)), "")
			return bound{}, false
		}
		return bound{op: b.Op, value: v}, true
	}
	p := c.text(b.Value.Text, b.Value.Node, 0, path, vars)
	if p == nil {
		return bound{}, false
	}
	if !sameMeasure(measure.Type, p.Type) {
		c.Problem(b.Value.Node, path, fmt.Sprintf("the bound is %s, the measure %s", typeName(p.Type), typeName(measure.Type)), "")
		return bound{}, false
	}
	return bound{op: b.Op, prog: p}, true
}

// constant reads a pack's plain value: a number or a quantity text, of the
// wanted dimension where the unit leaves it open (10 degC may be a temperature
// or a difference).
func constant(s pack.Scalar, want quantity.Dimension) (ref.Val, error) {
	if s.Tag == "!!int" || s.Tag == "!!float" {
		f, err := strconv.ParseFloat(s.Text, 64)
		return types.Double(f), err
	}
	if want != quantity.None && want != quantity.DimRatio {
		if v, err := quantity.Parse(s.Text, want); err == nil {
			return vocabulary.Value(v), nil
		}
	}
	v, err := quantity.ParseAny(s.Text)
	if err != nil {
		return nil, err
	}
	return vocabulary.Value(v), nil
}

func measurable(t *types.Type) bool {
	return t.TypeName() == "quantity" || t.Kind() == types.DoubleKind || t.Kind() == types.IntKind
}

func sameMeasure(a, b *types.Type) bool {
	plain := func(t *types.Type) bool { return t.Kind() == types.DoubleKind || t.Kind() == types.IntKind }
	return plain(a) && plain(b) || a.IsExactType(b) && measurable(a)
}

// typeName says a CEL type in the words of designs.
func typeName(t *types.Type) string {
	switch {
	case t == nil:
		return "unknown"
	case t.TypeName() == "quantity" && len(t.Parameters()) == 1:
		return "a quantity of " + t.Parameters()[0].TypeName()
	case t.Kind() == types.BoolKind:
		return "true or false"
	case t.Kind() == types.StringKind:
		return "a text"
	case t.Kind() == types.DoubleKind:
		return "a number"
	case t.Kind() == types.IntKind:
		return "a whole number"
	case t.Kind() == types.ListKind:
		return "a list"
	}
	return strings.TrimPrefix(t.TypeName(), "plumbline.")
}

// segments splits a text at its {placeholders} and compiles them.
func (c *compiler) segments(node *yaml.Node, path, text string, vars []vocabulary.Variable) []segment {
	var out []segment
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
		end := strings.IndexByte(rest[open:], '}')
		if end < 0 {
			c.Problem(node, path, "a { has no }", "")
			return out
		}
		expr := rest[open+1 : open+end]
		begin := offset + len([]rune(rest[:open])) + 1
		p := c.text(expr, node, begin, path, vars)
		if p != nil && !printable(p.Type) {
			c.Problem(node, path, "a placeholder holds a value; "+expr+" is "+typeName(p.Type), "")
		}
		out = append(out, segment{text: rest[:open]}, segment{prog: p, expr: expr})
		offset = begin + len([]rune(expr)) + 1
		rest = rest[open+end+1:]
	}
	if strings.Contains(rest, "}") {
		c.Problem(node, path, "a } has no {", "")
	}
	return append(out, segment{text: rest})
}

// printable tells what a placeholder can hold: a value, or a list of values.
func printable(t *types.Type) bool {
	if t.Kind() == types.ListKind {
		t = t.Parameters()[0]
	}
	return measurable(t) || t.Kind() == types.StringKind || t.Kind() == types.BoolKind || t.Kind() == types.TimestampKind
}
