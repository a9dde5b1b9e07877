package vocabulary

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
	"time"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// Limits that keep one expression's evaluation under about a millisecond.
const (
	// maxExpressionBytes is the longest expression text.
	maxExpressionBytes = 4000
	// maxDepth is the deepest nesting of an expression.
	maxDepth = 64
)

// Vocabulary is the checked language of rules.
type Vocabulary struct {
	base   *cel.Env
	shapes shapes
	envs   map[string]*cel.Env
	// wide is base with the products that expressions were found to need.
	wide     *cel.Env
	products map[string]bool
	// done holds compiled expressions: texts repeat what tests say.
	done map[programKey]*Program
	// checked are expressions compiled before, if there are any, found those that were asked for.
	checked *Checked
	found   map[uint64]*Program
	// figures are the limits and tables of all packs by their full names, for what was meant by a wrong one.
	figures *[]string
}

// programKey tells expressions apart: by the names they know, what those can hold at most, and the text.
type programKey struct{ env, sizes, text string }

// New builds the vocabulary from the design's types, the derived values and the functions.
func New() (*Vocabulary, error) {
	s, err := buildShapes(derive.All())
	if err != nil {
		return nil, err
	}
	base, err := types.NewRegistry()
	if err != nil {
		return nil, err
	}
	opts := []cel.EnvOption{
		cel.CustomTypeProvider(&provider{Provider: base, shapes: s}),
		cel.ClearMacros(),
		cel.ParserExpressionSizeLimit(maxExpressionBytes),
		cel.ParserRecursionLimit(maxDepth),
		cel.Variable("design", types.NewObjectType(typePrefix+"Design")),
		cel.Variable("today", types.TimestampType),
	}
	if at, ok := s[typePrefix+"Design"].fields["at"]; ok {
		opts = append(opts, cel.Variable("at", at.typ))
	}
	opts = append(opts, operatorOptions()...)
	opts = append(opts, unitOptions()...)
	for _, f := range Functions() {
		opts = append(opts, f.option)
	}
	env, err := cel.NewEnv(opts...)
	if err != nil {
		return nil, err
	}
	return &Vocabulary{base: env, wide: env, products: map[string]bool{}, shapes: s, envs: map[string]*cel.Env{}, done: map[programKey]*Program{}, figures: new([]string)}, nil
}

// Trusting is a clone that takes expressions from those checked before; whatever they lack is compiled.
func (v *Vocabulary) Trusting(c *Checked) *Vocabulary {
	out := v.Clone()
	out.checked, out.found = c, map[uint64]*Program{}
	return out
}

// Variable is a name an expression may use beside design and at.
type Variable struct {
	Name string
	Type *types.Type
	// Words are the spellings a text variable can hold, when known.
	Words []string
	sum   uint64
	// size is how large its value can be, where that is known better than by its type.
	size *bulk
}

// Of says that the variable holds the value of an expression.
func (x Variable) Of(p *Program) Variable {
	x.size = p.size
	return x
}

// OfItem says that the variable holds an item of a list.
func (x Variable) OfItem(list *Program) Variable {
	if list.size != nil {
		x.size = list.size.inside()
	}
	return x
}

// Holding says that the variable holds a constant, such as a table.
func (x Variable) Holding(v ref.Val) Variable {
	x.size = bulkOfValue(v)
	return x
}

// NewVariable is a variable that many expressions will use.
func NewVariable(name string, t *types.Type, words []string) Variable {
	x := Variable{Name: name, Type: t, Words: words}
	x.sum = x.mark()
	return x
}

// mark tells variables apart.
func (x Variable) mark() uint64 {
	if x.sum != 0 {
		return x.sum
	}
	sum := mark(startMark, x.Name)
	sum = mark(sum, typeKey(x.Type))
	for _, w := range x.Words {
		sum = mark(sum, w)
	}
	return sum
}

// Program is one compiled expression.
type Program struct {
	Text string
	Type *types.Type
	// Words are the spellings of a text result, when known.
	Words []string
	// Facts are the design paths the expression mentions, as written.
	Facts []string
	// Fields are the fields it reads, by the type they belong to: Run.bore.
	Fields []string
	// Names are the variables it mentions.
	Names []string
	// Guarded are the parts that may be `none` whose fields it reads, Guards
	// those it asks `fitted` of.
	Guarded, Guards []string
	// Steps is what it costs at most; nothing is known of an expression compiled before.
	Steps uint64

	// size is how large its value can be.
	size *bulk
	// sum tells it apart from other expressions.
	sum        uint64
	vocabulary *Vocabulary
	// stored is the tree of an expression compiled before, not read yet; tree is the tree read.
	stored  *reader
	tree    *ast.AST
	planned sync.Once
	prog    cel.Program
	// chain is set when the whole expression is a chain of names.
	chain *chain
	// fault is what kept an expression compiled before from being planned.
	fault error
}

// plan makes the program ready to run.
func (p *Program) plan() {
	if p.prog != nil {
		return
	}
	if p.stored != nil {
		p.tree = p.stored.tree()
		if p.fault = p.stored.err; p.fault != nil {
			return
		}
		p.stored = nil
	}
	var more []cel.ProgramOption
	if p.size != nil { // one of the built-in library was found cheap when its image was made
		more = wall(p.tree)
	}
	p.prog, p.chain, p.fault = p.vocabulary.plan(p.tree, more...)
}

// Plan makes the tree of an expression compiled before known, for those who look through it.
func (p *Program) Plan() { p.planned.Do(p.plan) }

// Eval evaluates the program with the given names.
func (p *Program) Eval(vars cel.Activation) ref.Val {
	p.planned.Do(p.plan)
	if p.fault != nil {
		return types.WrapErr(p.fault)
	}
	if p.chain != nil { // it takes a step for each of its names, as many as were written
		if v, ok := p.chain.value(vars); ok {
			return v
		}
	}
	if m, ok := vars.(Metered); ok && m.Meter() != nil {
		return p.metered(m.Meter(), vars)
	}
	v, _, err := p.prog.Eval(vars)
	return stopped(v, err)
}

// Fault is one thing wrong in an expression, with its place in the text.
type Fault struct {
	// Line and Column count from 1.
	Line, Column int
	Message      string
}

// Faults are the things wrong in one expression.
type Faults []Fault

// Error joins all faults.
func (f Faults) Error() string {
	var parts []string
	for _, x := range f {
		parts = append(parts, fmt.Sprintf("%d:%d: %s", x.Line, x.Column, x.Message))
	}
	return strings.Join(parts, "\n")
}

// Compile checks an expression and makes it ready to run; the error is Faults.
func (v *Vocabulary) Compile(text string, vars []Variable) (*Program, error) {
	if strings.TrimSpace(text) == "" {
		return nil, Faults{{1, 1, "an expression is empty"}}
	}
	sum := startMark
	for _, x := range vars {
		sum = (sum ^ x.mark()) * markPrime
	}
	sum = mark(sum, text)
	if p := v.compiledBefore(sum, text); p != nil {
		return p, nil
	}
	env, key, err := v.env(vars)
	if err != nil {
		return nil, err
	}
	done := programKey{key, sizesOf(vars), text}
	if p, ok := v.done[done]; ok {
		return p, nil
	}
	tree, iss := compile(env, text)
	for deep := 0; iss != nil && iss.Err() != nil && deep < maxDepth; deep++ {
		if more, err := v.meet(iss, key); err != nil {
			return nil, err
		} else if !more {
			break
		}
		if env, _, err = v.env(vars); err != nil {
			return nil, err
		}
		tree, iss = compile(env, text)
	}
	if iss != nil && iss.Err() != nil {
		return nil, v.faults(text, vars, iss)
	}
	check := v.inspect(tree, vars)
	steps, size := check.costs(vars)
	if len(check.faults) > 0 {
		return nil, check.faults
	}
	p := &Program{Text: text, Type: tree.OutputType(), Words: check.words, Facts: check.facts, Fields: check.fields, Names: check.names, Guarded: check.guarded, Guards: check.guards, vocabulary: v, tree: tree.NativeRep(), sum: sum, Steps: steps, size: size}
	p.planned.Do(p.plan)
	if p.fault != nil {
		return nil, Faults{{1, 1, p.fault.Error()}}
	}
	v.done[done] = p
	return p, nil
}

// env returns the environment that knows the given variables, and its key;
// equal sets share one.
func (v *Vocabulary) env(vars []Variable) (*cel.Env, string, error) {
	if len(vars) == 0 {
		return v.wide, "", nil
	}
	var b strings.Builder
	var opts []cel.EnvOption
	for _, x := range vars {
		fmt.Fprintf(&b, "%s:%s%v;", x.Name, x.Type, x.Words)
		opts = append(opts, cel.Variable(x.Name, x.Type))
	}
	key := b.String()
	if e, ok := v.envs[key]; ok {
		return e, key, nil
	}
	e, err := v.wide.Extend(opts...)
	if err != nil {
		return nil, key, Faults{{1, 1, err.Error()}}
	}
	v.envs[key] = e
	return e, key, nil
}

// sizesOf tells what variables can hold at most, of those that say it.
func sizesOf(vars []Variable) string {
	var b strings.Builder
	for _, x := range vars {
		if x.size != nil {
			fmt.Fprintf(&b, "%s:%s;", x.Name, x.size)
		}
	}
	return b.String()
}

// Root returns the values of design and at for a scope.
func (v *Vocabulary) Root(s *Scope) (design, at ref.Val) {
	o := v.Object(s, s.session.Design()).(*object)
	at = UnknownBecause("no values at operating points")
	if f, ok := o.shape.fields["at"]; ok {
		at = o.read(f)
	}
	return o, at
}

// Object gives a part of the design, such as a *schema.Run, to expressions.
func (v *Vocabulary) Object(s *Scope, part any) ref.Val {
	rv := reflect.ValueOf(part).Elem()
	return &object{shape: v.shapes[typePrefix+rv.Type().Name()], part: rv, scope: s}
}

// Day is the value of today; unknown when it is not given.
func Day(t time.Time) ref.Val {
	if t.IsZero() {
		return UnknownBecause("the day of judging is not given")
	}
	return types.Timestamp{Time: time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)}
}

func dateText(v ref.Val) schema.Date {
	s, _ := v.(types.String)
	return schema.Date(s)
}

// Clone returns a vocabulary for another goroutine to compile with. Tables must
// be added before cloning.
func (v *Vocabulary) Clone() *Vocabulary {
	return &Vocabulary{base: v.base, wide: v.base, products: map[string]bool{}, shapes: v.shapes, envs: map[string]*cel.Env{}, done: map[programKey]*Program{}, figures: v.figures}
}
