package vocabulary

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"

	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// mistaken is an expression that does not compile: it makes cel-go's messages plain and says what to write.
type mistaken struct {
	*Vocabulary
	text string
	vars []Variable
	tree *Tree
	// told are expressions in which nothing more is told.
	told []ast.Expr
}

// faults are what is wrong with an expression, one for each mistake.
func (v *Vocabulary) faults(text string, vars []Variable, iss *cel.Issues) Faults {
	m := &mistaken{Vocabulary: v, text: text, vars: vars}
	m.tree, _ = ParseTree(text)
	if m.tree == nil {
		if f, ok := unreadable(text); ok {
			return Faults{f}
		}
		if f, ok := unclosed(text); ok {
			return Faults{f}
		}
	}
	var out Faults
	for _, e := range iss.Errors() {
		if len(out) > 0 && strings.Contains(e.Message, "!error!") {
			continue // it comes of a part that was told
		}
		f := Fault{e.Location.Line(), e.Location.Column() + 1, ""}
		if m.inTold(&f) {
			continue
		}
		if rest, is := strings.CutPrefix(e.Message, "Syntax error: "); is {
			f.Message = "this cannot be read from here on: " + rest
			return append(out, f) // what follows comes of it
		}
		f.Message = m.plain(e.Message, &f)
		out = append(out, f)
	}
	return out
}

var (
	overloadPattern = regexp.MustCompile(`found no matching overload for '([^']+)' applied to '(.+)'`)
	fieldPattern    = regexp.MustCompile(`undefined field '([^']+)'`)
	identPattern    = regexp.MustCompile(`undeclared reference to '([^']+)'`)
	dimensionInText = regexp.MustCompile(`quantity\(((?:[^()]|\([^()]*\))+)\)`)
)

// plain makes a message of cel-go plain; at may be moved to the place of the mistake.
func (m *mistaken) plain(message string, at *Fault) string {
	message = strings.ReplaceAll(message, typePrefix, "")
	message = dimensionInText.ReplaceAllString(message, "$1")
	message = strings.TrimSuffix(message, " (in container '')")
	if x := overloadPattern.FindStringSubmatch(message); x != nil {
		return m.overload(message, x[1], strings.TrimPrefix(x[2], "("), at)
	}
	if x := fieldPattern.FindStringSubmatch(message); x != nil {
		return message + m.field(x[1], at)
	}
	if x := identPattern.FindStringSubmatch(message); x != nil {
		return m.ident(message, x[1], at)
	}
	return message
}

// part is the call or selection that stands at a place, as it is written.
func (m *mistaken) part(at *Fault, kind ast.ExprKind, name string) ast.Expr {
	if m.tree == nil {
		return nil
	}
	var out ast.Expr
	ast.PreOrderVisit(m.tree.root, ast.NewExprVisitor(func(e ast.Expr) {
		loc := m.tree.info.GetStartLocation(e.ID())
		if e.Kind() != kind || loc.Line() != at.Line || loc.Column()+1 != at.Column {
			return
		}
		if kind == ast.CallKind && e.AsCall().FunctionName() == name || kind == ast.SelectKind && e.AsSelect().FieldName() == name {
			out = e
		}
	}))
	return out
}

// ofList is what to write where a function over a list is written as one of the list, runs.sum(r, r.length); "" where a call is none
// such. What stands in its brackets is told with it.
func (m *mistaken) ofList(function string, at *Fault) string {
	call := m.part(at, ast.CallKind, function)
	if call == nil || !call.AsCall().IsMemberFunction() || !slices.ContainsFunc(listFunctions(), func(f Function) bool { return f.Name == function }) {
		return ""
	}
	list, args := m.tree.Text(call.AsCall().Target()), call.AsCall().Args()
	switch {
	case len(args) == 2 && args[0].Kind() == ast.IdentKind:
		list += ".map(" + args[0].AsIdent() + ", " + m.tree.Text(args[1]) + ")"
	case len(args) > 0:
		return ""
	}
	m.told = append(m.told, args...)
	return function + " stands before its list: write " + function + "(" + list + ")"
}

// ofParts is what to write where a function over a list of numbers is given a list of parts; "" where it is not.
func (m *mistaken) ofParts(function string, kinds []string, args []ast.Expr) string {
	if len(kinds) != 1 || len(args) != 1 || !slices.ContainsFunc(listFunctions(), func(f Function) bool { return f.Name == function }) {
		return ""
	}
	s := m.shapes[typePrefix+strings.TrimSuffix(strings.TrimPrefix(kinds[0], "list("), ")")]
	if s == nil {
		return ""
	}
	for _, key := range s.order {
		if DimensionOf(s.fields[key].typ) != quantity.None {
			list := m.tree.Text(args[0])
			return fmt.Sprintf("%s takes quantities or numbers, and %s holds parts: say what of each, such as %s(%s.map(x, x.%s))", function, list, function, list, key)
		}
	}
	return ""
}

// inTold reports whether a fault lies in what was told already.
func (m *mistaken) inTold(at *Fault) bool {
	for _, e := range m.told {
		in := false
		ast.PreOrderVisit(e, ast.NewExprVisitor(func(e ast.Expr) {
			loc := m.tree.info.GetStartLocation(e.ID())
			in = in || loc.Line() == at.Line && loc.Column()+1 == at.Column
		}))
		if in {
			return true
		}
	}
	return false
}

// overload explains an operator or function between what does not go together.
func (m *mistaken) overload(message, function, given string, at *Fault) string {
	kinds := strings.Split(strings.TrimSuffix(given, ")"), ", ")
	if says := m.ofList(function, at); says != "" {
		return says
	}
	var args []ast.Expr
	if call := m.part(at, ast.CallKind, function); call != nil {
		args = call.AsCall().Args()
	}
	for _, f := range Functions() {
		if f.Name == function {
			message += "; it is " + f.Signature
		}
	}
	if d := dimensionNamed(kinds[len(kinds)-1]); function == unitTimes && d != quantity.None {
		return "a unit has a plain number in its brackets, and this is " + d.Phrase() + ": write it without the unit"
	}
	if says := m.ofParts(function, kinds, args); says != "" {
		return says
	}
	if len(kinds) != 2 || len(args) != 2 {
		return message
	}
	is := func(i int, list ...string) bool { return slices.Contains(list, kinds[i]) }
	said := func(i int) string { return m.tree.Text(args[i]) }
	for i, other := range []int{1, 0} {
		switch {
		case is(i, "null"):
			return "nothing is null: while " + said(other) + " is not stated the rule stays open by itself"
		case is(other, "string") && strings.HasPrefix(kinds[i], "Maybe") && said(other) == "'none'":
			return fmt.Sprintf("%s is a part: write !%s.fitted", said(i), said(i))
		}
	}
	for i, other := range []int{1, 0} {
		d := dimensionNamed(kinds[i])
		switch {
		case is(i, "bool") && is(other, "string"):
			return fmt.Sprintf("%s is true or false: write %s, or !%s", said(i), said(i), said(i))
		case is(i, "timestamp") && is(other, "string"):
			return fmt.Sprintf("%s is a day, and a day is written date('1970-01-31')", said(i))
		case is(i, "string") && is(other, "int", "double"):
			return fmt.Sprintf("%s is a word or text: write it in quotes", said(i))
		case d != quantity.None && is(other, "int", "double"):
			return m.needsUnit(message, d, args[other], said(i))
		case is(i, "int") && is(other, "double") && args[i].Kind() == ast.LiteralKind:
			return message + "; write " + decimal(args[i], said(i)) + " instead of " + said(i)
		case is(i, "int") && is(other, "double") && args[other].Kind() == ast.LiteralKind && strings.HasSuffix(said(other), ".0"):
			return fmt.Sprintf("%s is a whole number: write %s instead of %s", said(i), strings.TrimSuffix(said(other), ".0"), said(other))
		case is(i, "int") && is(other, "double"):
			return message + "; " + said(i) + " is a whole number: write double(" + said(i) + ")"
		}
	}
	if says := m.noProduct(function, kinds, said); says != "" {
		return says
	}
	if a, b := dimensionNamed(kinds[0]), dimensionNamed(kinds[1]); a != quantity.None && b != quantity.None && a != b {
		message += fmt.Sprintf("; %s is %s, %s is %s", said(0), a.Phrase(), said(1), b.Phrase())
		for i, d := range []quantity.Dimension{b, a} { // mm2(2.5) beside a wire size
			if args[i].Kind() == ast.CallKind && len(args[i].AsCall().Args()) == 1 && args[i].AsCall().Args()[0].Kind() == ast.LiteralKind && len(unitsOf(args[i].AsCall().FunctionName())) > 0 {
				if forms := Written(m.tree.Text(args[i].AsCall().Args()[0]), d); forms != "" {
					message += ": write " + forms
				}
			}
		}
	}
	return message
}

// noProduct says why two sides neither multiply nor go together where one of them is a product without a name; "" otherwise.
func (m *mistaken) noProduct(function string, kinds []string, said func(int) string) string {
	a, okA := factorIn("quantity(" + kinds[0] + ")")
	b, okB := factorIn("quantity(" + kinds[1] + ")")
	for i, kind := range kinds {
		if kind == "int" || kind == "double" {
			*[]*factor{&a, &b}[i], *[]*bool{&okA, &okB}[i] = factor{}, true
		}
	}
	product := function == operators.Multiply || function == operators.Divide
	switch {
	case product && (!okA && dimensionNamed(kinds[0]) == quantity.DimDashSize || !okB && dimensionNamed(kinds[1]) == quantity.DimDashSize):
		return "a dash size is a name of fittings: it is neither multiplied nor divided"
	case !okA || !okB:
		return ""
	case product:
		return fmt.Sprintf("%s is %s, %s is %s: a product of powers beyond %d means nothing", said(0), a.words(), said(1), b.words(), quantity.MostPower)
	case a.dim == quantity.None && !a.isNumber() || b.dim == quantity.None && !b.isNumber():
		return fmt.Sprintf("%s is %s, %s is %s: they do not go together", said(0), a.words(), said(1), b.words())
	}
	return ""
}

// decimal writes a number with a point; what is no number as it is.
func decimal(e ast.Expr, text string) string {
	if e.Kind() == ast.LiteralKind && !strings.ContainsAny(text, ".e") {
		return text + ".0"
	}
	return text
}

// needsUnit says how a number is written as a quantity, in the units of its dimension that people use.
func (m *mistaken) needsUnit(message string, d quantity.Dimension, number ast.Expr, of string) string {
	if number.Kind() != ast.LiteralKind {
		return message + "; " + of + " is " + d.Phrase() + ", " + m.tree.Text(number) + " a plain number"
	}
	if forms := Written(m.tree.Text(number), d); forms != "" {
		return fmt.Sprintf("%s is %s and needs a unit: write %s", of, d.Phrase(), forms)
	}
	return message + "; a quantity needs its unit, such as q('" + quantity.Example(d) + "')"
}

// Written lists the ways to write a number of a dimension in an expression: s(3) or min(3).
func Written(number string, d quantity.Dimension) string {
	_, err := quantity.Parse(number, d)
	if err == nil {
		return ""
	}
	_, list, _ := strings.Cut(err.Error(), "write ")
	var out []string
	for way := range strings.SplitSeq(list, " or ") {
		way, _, _ = strings.Cut(strings.Trim(way, " ,"), " for ")
		symbol := strings.TrimSpace(strings.TrimPrefix(strings.Trim(way, " ,"), number))
		for _, u := range quantity.Units() {
			if u.Dimension == d && u.Symbol == symbol && u.CEL != "" {
				out = append(out, u.CEL+"("+number+")")
			}
		}
	}
	return strings.Join(out, " or ")
}

func dimensionNamed(name string) quantity.Dimension {
	for _, d := range quantity.Dimensions() {
		if d.Name() == name {
			return d
		}
	}
	return quantity.None
}

// mostListed is how many names are listed where none is near.
const mostListed = 14

// field adds the nearest field of the part at hand, or all of a few.
func (m *mistaken) field(name string, at *Fault) string {
	e := m.part(at, ast.SelectKind, name)
	if e == nil {
		return m.nearest(name)
	}
	if name == "today" {
		return "; today stands by itself: write today"
	}
	of, err := m.Compile(m.tree.Text(e.AsSelect().Operand()), m.vars)
	if err != nil || m.shapes[of.Type.TypeName()] == nil {
		return m.nearest(name)
	}
	list := m.shapes[of.Type.TypeName()].order
	if near := document.Nearest(name, list); near != "" {
		return "; did you mean '" + near + "'?"
	}
	if len(list) <= mostListed {
		return "; " + of.Text + " has " + strings.Join(list, ", ")
	}
	return m.nearest(name)
}

// ident explains a name that stands for nothing.
func (m *mistaken) ident(message, name string, at *Fault) string {
	if line := []rune(lineAt(m.text, at.Line)); strings.HasSuffix(string(line[:min(len(line), at.Column-1)]), name) {
		at.Column -= len([]rune(name)) // a call stands at its bracket
	}
	if out, is := m.foreign(name); is {
		return out
	}
	switch name {
	case "has":
		return "there is no has(): a fact that is not stated is unknown, and the rule stays open until it is"
	case "limit", "table":
		return m.figure(name, at)
	case "max", "min", "abs", "if":
		return message + "; " + map[string]string{"max": "write larger(a, b), or greatest(list)", "min": "write smaller(a, b), or least(list)", "abs": "write size_of_change(a)",
			"if": "write condition ? a : b"}[name]
	}
	if isWord(name) && !strings.HasPrefix(m.after(at), name+"(") {
		return fmt.Sprintf("%s is a word: write it in quotes, '%s'", name, name)
	}
	if unit := nearUnit(name); unit != "" && strings.HasPrefix(m.after(at), name+"(") {
		return message + "; did you mean " + unit + "? plumbline explain units lists the units"
	}
	if item := m.itemWith(name); item != "" {
		return message + "; did you mean " + item + "." + name + "?"
	}
	return message + m.nearest(name)
}

// itemName finds the names that all, map and the like give the items of their lists.
var itemName = regexp.MustCompile(`\.(?:all|exists|exists_one|map|filter)\(\s*([a-z][a-z0-9_]*)\s*,`)

// itemWith is the name of an item, of the rule's list or the last one that the text goes through, that has a fact or value of
// this name; "" when none has.
func (m *mistaken) itemWith(name string) string {
	for _, x := range m.vars {
		if s := m.shapes[x.Type.TypeName()]; s != nil && s.fields[name] != nil && !strings.Contains(x.Name, ".") {
			return x.Name
		}
	}
	items := itemName.FindAllStringSubmatch(m.text, -1)
	if len(items) == 0 {
		return ""
	}
	for _, s := range m.shapes {
		if s.fields[name] != nil && name != "at" {
			return items[len(items)-1][1]
		}
	}
	return ""
}

// isWord reports whether some fact or derived value may be this word.
func isWord(name string) bool {
	for _, t := range schema.Types() {
		for _, f := range t.Fields {
			if slices.Contains(f.Words, name) {
				return true
			}
		}
	}
	return slices.ContainsFunc(derive.All().Entries(), func(e *derive.Entry) bool { return slices.Contains(e.Words, name) })
}

// after is what follows a place in the text.
func (m *mistaken) after(at *Fault) string {
	line := []rune(lineAt(m.text, at.Line))
	return string(line[min(len(line), at.Column-1):])
}

// nearUnit is the function of a unit whose name, symbol or spelling is near.
func nearUnit(name string) string {
	var names []string
	of := map[string]string{}
	for _, u := range quantity.Units() {
		if u.CEL == "" {
			continue
		}
		for _, spelling := range append([]string{u.CEL, u.Symbol}, u.Aliases...) {
			if of[spelling] == "" {
				of[spelling] = u.CEL
				names = append(names, spelling)
			}
		}
	}
	for _, n := range names {
		if strings.EqualFold(n, name) {
			return of[n]
		}
	}
	return of[document.Nearest(name, names)]
}

// Table is the name of the table that a fault says the pack lacks.
func (f Fault) Table(text string) (string, bool) {
	if !strings.HasPrefix(f.Message, "the pack has no table") {
		return "", false
	}
	m := &mistaken{text: text}
	return figureName.FindString(strings.TrimPrefix(m.after(&f), "table.")), true
}

var figureName = regexp.MustCompile(`^[A-Za-z0-9_]*`)

// figure explains a limit or table that the pack lacks.
func (m *mistaken) figure(kind string, at *Fault) string {
	rest := strings.TrimPrefix(m.after(at), kind+".")
	name := figureName.FindString(rest)
	var all []string
	for _, x := range m.vars {
		if own, is := strings.CutPrefix(x.Name, kind+"."); is {
			all = append(all, own)
		}
	}
	out := fmt.Sprintf("the pack has no %s of this name", kind)
	if near := document.Nearest(name, all); near != "" {
		return out + "; did you mean " + kind + "." + near + "?"
	}
	out += "; one of another pack is read by its full name, " + map[string]string{"limit": "limit('fuel/delivery.flow_reserve')", "table": "table('fuel/hose.marks')"}[kind]
	if len(all) > 0 && len(all) <= mostListed {
		return out + "; it has " + kind + "." + strings.Join(all, ", "+kind+".")
	}
	return out
}

// nearest suggests a field, function or variable name.
func (m *mistaken) nearest(name string) string {
	var all []string
	for _, s := range m.shapes {
		all = append(all, s.order...)
	}
	for _, f := range Functions() {
		all = append(all, f.Name)
	}
	for _, x := range m.vars {
		if !strings.Contains(x.Name, ".") {
			all = append(all, x.Name)
		}
	}
	all = append(all, "design", "at", "limit", "table", "today")
	slices.Sort(all)
	last := name[strings.LastIndex(name, ".")+1:]
	if near := document.Nearest(last, slices.Compact(all)); near != "" && near != last {
		return "; did you mean '" + near + "'?"
	}
	return ""
}

// unitsOf lists the spellings of a unit by its function.
func unitsOf(function string) []string {
	for _, u := range quantity.Units() {
		if u.CEL == function {
			return append([]string{u.CEL, u.Symbol}, u.Aliases...)
		}
	}
	return nil
}
