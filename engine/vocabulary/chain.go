package vocabulary

import (
	"regexp"
	"strings"

	"github.com/google/cel-go/cel"
	expr "google.golang.org/genproto/googleapis/api/expr/v1alpha1"
)

// chainPattern is a bare chain of names: design.pump.place, run.at.idle.loss.
var chainPattern = regexp.MustCompile(`^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)+$`)

// celWords cannot be names in CEL.
var celWords = regexp.MustCompile(`\b(true|false|null|in|as|break|const|continue|else|for|function|if|import|let|loop|package|namespace|return|var|void|while)\b`)

// compile parses and checks a text. Half of all expressions are bare chains of
// names, in placeholders and measures; those are put together here, since the
// general parser takes longer over them than everything else together.
func compile(env *cel.Env, text string) (*cel.Ast, *cel.Issues) {
	if !chainPattern.MatchString(text) || celWords.MatchString(text) {
		return env.Compile(text)
	}
	names := strings.Split(text, ".")
	id, end := int64(1), len(names[0])
	info := &expr.SourceInfo{Location: "<input>", LineOffsets: []int32{int32(len(text) + 1)}, Positions: map[int64]int32{1: 0}}
	e := &expr.Expr{Id: id, ExprKind: &expr.Expr_IdentExpr{IdentExpr: &expr.Expr_Ident{Name: names[0]}}}
	for _, n := range names[1:] {
		id++
		// A select stands at its dot.
		info.Positions[id] = int32(end)
		end += 1 + len(n)
		e = &expr.Expr{Id: id, ExprKind: &expr.Expr_SelectExpr{SelectExpr: &expr.Expr_Select{Operand: e, Field: n}}}
	}
	return env.Check(cel.ParsedExprToAst(&expr.ParsedExpr{Expr: e, SourceInfo: info}))
}
