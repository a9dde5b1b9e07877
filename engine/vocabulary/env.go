package vocabulary

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
	"time"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/checker"
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
	// maxStaticCost is the largest estimated cost of an expression, in CEL's
	// units; 1000 units take about a tenth of a millisecond here.
	maxStaticCost = 200_000
	// assumedListSize is the list length the estimate reckons with: the longest a design may have.
	assumedListSize = schema.MaxItems
	// maxDepth is the deepest nesting of an expression.
	maxDepth = 64
)

// Vocabulary is the checked language of rules.
type Vocabulary struct {
	base   *cel.Env
	shapes shapes
	envs   map[string]*cel.Env
	// done holds compiled expressions: texts repeat what tests say.
	done map[programKey]*Program
	// checked are expressions compiled before, if there are any, found those that were asked for.
	checked *Checked
	found   map[uint64]*Program
}

type programKey struct{ env, text string }

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
	return &Vocabulary{base: env, shapes: s, envs: map[string]*cel.Env{}, done: map[programKey]*Program{}}, nil
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
	p.prog, p.chain, p.fault = p.vocabulary.plan(p.tree)
}

// Eval evaluates the program with the given names.
func (p *Program) Eval(vars cel.Activation) ref.Val {
	p.planned.Do(p.plan)
	if p.fault != nil {
		return types.WrapErr(p.fault)
	}
	if p.chain != nil {
		if v, ok := p.chain.value(vars); ok {
			return v
		}
	}
	v, _, err := p.prog.Eval(vars)
	if err != nil && (v == nil || !types.IsUnknownOrError(v)) {
		return types.WrapErr(err)
	}
	return v
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
	done := programKey{key, text}
	if p, ok := v.done[done]; ok {
		return p, nil
	}
	tree, iss := compile(env, text)
	if iss != nil && iss.Err() != nil {
		return nil, v.faults(text, vars, iss)
	}
	check := v.inspect(tree, vars)
	if len(check.faults) > 0 {
		return nil, check.faults
	}
	cost, err := env.EstimateCost(tree, estimator{})
	if err == nil && cost.Max > maxStaticCost {
		return nil, Faults{{1, 1, fmt.Sprintf("the expression may cost %d steps, more than the %d allowed: nest fewer lists", cost.Max, maxStaticCost)}}
	}
	// No cost is counted while it runs: the estimate holds for the longest lists a design may have.
	p := &Program{Text: text, Type: tree.OutputType(), Words: check.words, Facts: check.facts, Fields: check.fields, Names: check.names, Guarded: check.guarded, Guards: check.guards, vocabulary: v, tree: tree.NativeRep(), sum: sum}
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
		return v.base, "", nil
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
	e, err := v.base.Extend(opts...)
	if err != nil {
		return nil, key, Faults{{1, 1, err.Error()}}
	}
	v.envs[key] = e
	return e, key, nil
}

// estimator bounds the sizes CEL cannot know.
type estimator struct{}

// EstimateSize takes every list and text to be as long as a list may be.
func (estimator) EstimateSize(n checker.AstNode) *checker.SizeEstimate {
	return &checker.SizeEstimate{Min: 0, Max: assumedListSize}
}

// EstimateCallCost leaves calls to CEL's own estimate, but for those named here.
func (estimator) EstimateCallCost(function, _ string, _ *checker.AstNode, _ []checker.AstNode) *checker.CallEstimate {
	if function == seenFunction {
		return &checker.CallEstimate{} // watching is not the rule's cost
	}
	return nil
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
	return &Vocabulary{base: v.base, shapes: v.shapes, envs: map[string]*cel.Env{}, done: map[programKey]*Program{}}
}
