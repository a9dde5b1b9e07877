package rule

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types/ref"
	"gopkg.in/yaml.v3"

	"plumbline/engine/derive"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// Rule is a rule ready to judge.
type Rule struct {
	ID      string
	Order   int // among the rules by name
	Pack    *pack.Pack
	Decl    *pack.Rule
	Names   map[string]ref.Val // limits and tables of the pack
	Each    *vocabulary.Program
	EachVar string
	Lets    []Let
	Applies *vocabulary.Program
	Measure *vocabulary.Program
	Must    *Test
	Should  *Test
	Say     []Segment
	Met     []Segment
	Mend    []Remedy
	Grounds []Ground
	// KnownFrom says how a regional rule is known no text of which was read, else empty.
	KnownFrom string
	// A local pack raised its should to a must, or made its must milder, a should.
	Raised, Milder bool
	// places are where its expressions stand in the pack.
	places map[*vocabulary.Program][]textPlace
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

// Ready compiles the rule if it is not yet.
func (r *Rule) Ready() *Rule {
	if r.late != nil {
		r.late.once.Do(r.late.compile)
	}
	return r
}

// textPlace is where an expression stands: the node of its text, the rune offset there, and its path.
type textPlace struct {
	node   *yaml.Node
	offset int
	path   string
}

// stands notes where an expression stands.
func (r *Rule) stands(p *vocabulary.Program, at textPlace) {
	if r.places == nil {
		r.places = map[*vocabulary.Program][]textPlace{}
	}
	r.places[p] = append(r.places[p], at)
}

// placeOf is where an expression stands: of one that is written more than once, the place at or below a path, or the first.
func (r *Rule) placeOf(p *vocabulary.Program, path string) textPlace {
	list := r.places[p]
	for _, at := range list {
		if path != "" && strings.HasPrefix(at.path, path) {
			return at
		}
	}
	if len(list) == 0 {
		return textPlace{}
	}
	return list[0]
}

// Let is a name for a shared expression of a rule.
type Let struct {
	Name string
	Prog *vocabulary.Program
}

// Test is a must or should: one condition, or bounds on the measure.
type Test struct {
	Condition *vocabulary.Program
	Bounds    []Bound
}

// Bound is one bound on the measure: Op is at_least, at_most, more_than or less_than.
type Bound struct {
	Op    string
	Value ref.Val             // a constant
	Prog  *vocabulary.Program // or an expression
}

// Segment is a piece of a sentence: plain text, or a placeholder, which has a program.
type Segment struct {
	Text string
	Prog *vocabulary.Program
	// Expr is the placeholder as written.
	Expr string
}

// List is the list a rule judges, as written in its each.
func (r *Rule) List() string {
	if len(r.Each.Facts) > 0 {
		return slices.MaxFunc(r.Each.Facts, func(a, b string) int { return cmp.Compare(len(a), len(b)) })
	}
	return "design"
}

// FirstItem is the path of the first item a rule judges in a design. The items
// of a view have paths of their own.
func (r *Rule) FirstItem(d *schema.Design) string {
	if v := derive.ViewAt(r.List()); v != nil {
		for _, x := range v.Gather(d) {
			if part, ok := x.Part.(interface{ Path() string }); ok {
				return part.Path()
			}
		}
	}
	return r.List() + "[0]"
}
