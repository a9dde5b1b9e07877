package vocabulary

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"

	"plumbline/schema/document"
)

// A rule reads a limit or table of its own pack by its short name, limit.flow_reserve, and one of another pack by its full
// name, limit('fuel/delivery.flow_reserve'). Both are variables of constants; the second is one named by kind and full name.

// FigureName is the variable of a limit or table of another pack.
func FigureName(kind, full string) string { return kind + "." + full }

// figureCall finds the limits and tables of other packs that a text may read.
var figureCall = regexp.MustCompile(`\b(limit|table)\s*\(\s*['"]([^'"\n]*)['"]`)

// KnowFigures tells the names of the limits and tables of all packs, for what was meant by a wrong one.
func (v *Vocabulary) KnowFigures(names []string) { *v.figures = names }

// FiguresIn lists the variables of limits and tables of other packs that a text may read, each once.
func FiguresIn(text string) []string {
	if !strings.Contains(text, "(") {
		return nil
	}
	var out []string
	for _, m := range figureCall.FindAllStringSubmatch(text, -1) {
		if name := FigureName(m[1], m[2]); !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

func expandFigure(kind string) cel.MacroFactory {
	return func(eh cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *cel.Error) {
		full, ok := types.String(""), false
		if args[0].Kind() == ast.LiteralKind {
			full, ok = args[0].AsLiteral().(types.String)
		}
		if !ok {
			return nil, eh.NewError(args[0].ID(), fmt.Sprintf("%s takes the full name of a %s of another pack, such as %s('fuel/delivery.flow_reserve')", kind, kind, kind))
		}
		return eh.NewIdent(FigureName(kind, string(full))), nil
	}
}

// figureOf is the variable that a call means which reads a limit or table of another pack.
func figureOf(c ast.CallExpr) (string, bool) {
	if kind := c.FunctionName(); (kind == "limit" || kind == "table") && !c.IsMemberFunction() && len(c.Args()) == 1 && c.Args()[0].Kind() == ast.LiteralKind {
		full, ok := c.Args()[0].AsLiteral().(types.String)
		return FigureName(kind, string(full)), ok
	}
	return "", false
}

// foreign explains a limit or table of another pack that is not there; all are the full names there are.
func (m *mistaken) foreign(name string) (string, bool) {
	kind, full, _ := strings.Cut(name, ".")
	if kind != "limit" && kind != "table" || !slices.Contains(FiguresIn(m.text), name) {
		return "", false
	}
	out := fmt.Sprintf("there is no %s %s in the packs", kind, document.Cut(full))
	var all []string
	for _, n := range *m.figures {
		if other, is := strings.CutPrefix(n, kind+"."); is {
			all = append(all, other)
		}
	}
	own := full[strings.LastIndexByte(full, '.')+1:]
	near := document.Nearest(full, all)
	for _, n := range all {
		if near == "" && strings.HasSuffix(n, "."+own) {
			near = n
		}
	}
	if near != "" {
		out += "; did you mean " + kind + "('" + near + "')?"
	}
	return out, true
}
