package engine

import (
	"slices"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// A share is a plain number that people read in percent, such as the ethanol
// content of a fuel or the time injectors are open. Rules reckon with 0.1; people read 10 %.

// shares knows the names of a rule that matter to whether an expression is a share.
type shares struct {
	pack *Pack
	// each is the rule's variable, item the schema type of what it stands for.
	each, item string
	lets       map[string]bool
}

// findShares notes which names and whether the measure of a rule are shares.
func (r *compiled) findShares() {
	r.shares = shares{pack: r.pack, each: r.eachVar, lets: map[string]bool{}}
	if r.each != nil {
		r.shares.item = vocabulary.PartOf(r.each.Type.Parameters()[0])
	}
	for _, l := range r.lets {
		r.shares.lets[l.name] = r.shares.is(l.prog)
	}
	r.measured = r.shares.is(r.measure)
}

// is tells a share: a fact whose example is in percent, a derived value that is one, a limit set in percent,
// what chooses between such, and the size of one.
func (s *shares) is(p *vocabulary.Program) bool {
	if p == nil || p.Type.Kind() != types.DoubleKind {
		return false
	}
	tree, err := vocabulary.ParseTree(p.Text)
	return err == nil && s.expr(tree.Root())
}

func (s *shares) expr(e ast.Expr) bool {
	switch e.Kind() {
	case ast.IdentKind:
		return s.lets[e.AsIdent()]
	case ast.SelectKind:
		path, ok := vocabulary.Dotted(e)
		return ok && s.path(path)
	case ast.CallKind:
		args := e.AsCall().Args()
		switch e.AsCall().FunctionName() {
		case operators.Conditional:
			return s.expr(args[1]) && s.expr(args[2])
		case "smaller", "larger":
			return s.expr(args[0]) && s.expr(args[1])
		case "size_of_change":
			return s.expr(args[0])
		}
	}
	return false
}

func (s *shares) path(path string) bool {
	if name, ok := strings.CutPrefix(path, "limit."); ok {
		l, found := s.pack.Limits.Get(name)
		return found && l.inPercent()
	}
	if rest, ok := strings.CutPrefix(path, s.each+"."); ok && s.each != "" {
		return strings.HasSuffix(schema.DescribeIn(s.item, rest).Example, "%")
	}
	return strings.HasSuffix(schema.Describe(path).Example, "%") || derivedShare(path)
}

// derivedShare tells a derived value that is a share; its name alone says which it is.
func derivedShare(path string) bool {
	name := path[strings.LastIndexByte(path, '.')+1:]
	return slices.ContainsFunc(derive.All().Entries(), func(e *derive.Entry) bool { return e.Share && e.Name == name })
}

// inPercent tells a limit that is set in percent.
func (l *Limit) inPercent() bool { return strings.HasSuffix(l.Is.Text, "%") }

// inShares writes a plain number in percent where it is a share.
func (n Number) inShares(share bool) Number {
	if share && n.Dimension == "" {
		n.Text = plainNumber(n.Value*100) + " %"
	}
	return n
}

// shareWords writes a share for a sentence.
func (j *judging) shareWords(v ref.Val) string {
	if _, ok := v.(types.Double); ok {
		return j.number(v).inShares(true).Text
	}
	return j.words(v)
}
