package vocabulary

import (
	"fmt"
	"math"
	"time"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/schema/quantity"
)

// Function describes one function rules may call.
type Function struct {
	Name      string
	Signature string
	Doc       string
	Example   string
	option    cel.EnvOption
}

var paramD = types.NewTypeParamType("D")

// anyQuantity is quantity(D) for every dimension D.
func anyQuantity() *types.Type { return types.NewOpaqueType("quantity", paramD) }

// Functions lists what rules may call beside the operators and CEL's own
// all, exists, exists_one, map, filter, size, in and string tests.
func Functions() []Function {
	q := anyQuantity()
	return append([]Function{
		{
			Name: "within", Signature: "within(a, b, tolerance) -> bool", Example: "within(kPa(300), kPa(301), kPa(2))",
			Doc: "true when a and b differ by no more than the tolerance; quantities and plain numbers have no ==",
			option: cel.Function("within",
				cel.Overload("within_quantity", []*types.Type{q, q, q}, types.BoolType, cel.FunctionBinding(within)),
				cel.Overload("within_double", []*types.Type{types.DoubleType, types.DoubleType, types.DoubleType}, types.BoolType, cel.FunctionBinding(within))),
		},
		{
			Name: "smaller", Signature: "smaller(a, b) -> the smaller one", Example: "smaller(kPa(300), bar(2)) < kPa(201)",
			Doc:    "the smaller of two quantities of one dimension, or of two numbers",
			option: choose("smaller", -1),
		},
		{
			Name: "larger", Signature: "larger(a, b) -> the larger one", Example: "larger(1.5, 2.5) > 2.0",
			Doc:    "the larger of two quantities of one dimension, or of two numbers",
			option: choose("larger", 1),
		},
		{
			Name: "size_of_change", Signature: "size_of_change(a) -> a without its sign", Example: "size_of_change(deg(-3)) > deg(2)",
			Doc: "the absolute value of a quantity or a number",
			option: cel.Function("size_of_change",
				cel.Overload("size_of_change_quantity", []*types.Type{q}, q, cel.UnaryBinding(magnitude)),
				cel.Overload("size_of_change_double", []*types.Type{types.DoubleType}, types.DoubleType, cel.UnaryBinding(magnitude))),
		},
		{
			Name: "rise", Signature: "rise(from, to) -> temperature difference", Example: "rise(degC(20), degC(80)) > delta_K(59)",
			Doc: "how much warmer the second temperature is than the first; temperatures themselves cannot be added",
			option: cel.Function("rise", cel.Overload("rise_temperature",
				[]*types.Type{QuantityType(quantity.DimTemperature), QuantityType(quantity.DimTemperature)},
				QuantityType(quantity.DimTemperatureDifference), cel.BinaryBinding(func(a, b ref.Val) ref.Val {
					return newQuantity(b.(Quantity).Of.SI()-a.(Quantity).Of.SI(), quantity.DimTemperatureDifference)
				}))),
		},
		{
			Name: "difference", Signature: "difference(a, b) -> pressure", Example: "difference(kPa_abs(101.3), kPa_abs(80)) > kPa(20)",
			Doc: "the first absolute pressure less the second, as a pressure difference",
			option: cel.Function("difference", cel.Overload("difference_absolute",
				[]*types.Type{QuantityType(quantity.DimAbsolutePressure), QuantityType(quantity.DimAbsolutePressure)},
				QuantityType(quantity.DimPressure), cel.BinaryBinding(func(a, b ref.Val) ref.Val {
					return newQuantity(a.(Quantity).Of.SI()-b.(Quantity).Of.SI(), quantity.DimPressure)
				}))),
		},
		{
			Name: "date", Signature: "date('2006-01-02') -> day", Example: "date('1968-01-01') < date('1970-01-01')",
			Doc: "a calendar day, to compare with the design's dates",
			option: cel.Function("date", cel.Overload("date_string", []*types.Type{types.StringType}, types.TimestampType,
				cel.UnaryBinding(func(v ref.Val) ref.Val { return native(dateText(v)) }))),
		},
		{
			Name: "years", Signature: "years(from, to) -> whole years", Example: "years(date('1984-03-02'), date('2024-03-01')) == 39",
			Doc: "how many whole calendar years lie between two days, as an age is counted; today is the day of judging",
			option: cel.Function("years", cel.Overload("years_day_day", []*types.Type{types.TimestampType, types.TimestampType}, types.IntType,
				cel.BinaryBinding(func(from, to ref.Val) ref.Val {
					return types.Int(wholeYears(from.(types.Timestamp).Time, to.(types.Timestamp).Time))
				}))),
		},
		{
			Name: "year", Signature: "year(day) -> number of the year", Example: "year(date('1984-03-02')) == 1984",
			Doc: "the calendar year of a day",
			option: cel.Function("year", cel.Overload("year_day", []*types.Type{types.TimestampType}, types.IntType,
				cel.UnaryBinding(func(v ref.Val) ref.Val { return types.Int(v.(types.Timestamp).Year()) }))),
		},
	}, listFunctions()...)
}

// wholeYears counts birthdays: a day born on 29 February ages on 1 March.
func wholeYears(from, to time.Time) int {
	n := to.Year() - from.Year()
	if to.Before(from.AddDate(n, 0, 0)) {
		n--
	}
	return n
}

func within(args ...ref.Val) ref.Val {
	if a, ok := args[0].(Quantity); ok {
		return types.Bool(math.Abs(a.SI()-args[1].(Quantity).SI()) <= args[2].(Quantity).SI())
	}
	return types.Bool(math.Abs(float64(args[0].(types.Double)-args[1].(types.Double))) <= float64(args[2].(types.Double)))
}

func magnitude(v ref.Val) ref.Val {
	if a, ok := v.(Quantity); ok {
		return a.with(math.Abs(a.SI()))
	}
	return types.Double(math.Abs(float64(v.(types.Double))))
}

func choose(name string, sign types.Int) cel.EnvOption {
	pick := cel.BinaryBinding(func(a, b ref.Val) ref.Val {
		var order ref.Val
		if x, ok := a.(Quantity); ok {
			order = x.Compare(b)
		} else {
			order = a.(types.Double).Compare(b)
		}
		if order == sign {
			return a
		}
		return b
	})
	q := anyQuantity()
	return cel.Function(name,
		cel.Overload(name+"_quantity", []*types.Type{q, q}, q, pick),
		cel.Overload(name+"_double", []*types.Type{types.DoubleType, types.DoubleType}, types.DoubleType, pick))
}

// operatorOptions declares the operators on quantities once, for every dimension.
// They have no bindings: cel-go dispatches them by the traits of Quantity.
func operatorOptions() []cel.EnvOption {
	q := anyQuantity()
	var out []cel.EnvOption
	for _, op := range []string{operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals} {
		out = append(out, cel.Function(op, cel.Overload("quantity"+op, []*types.Type{q, q}, types.BoolType)))
	}
	return append(out,
		cel.Function(operators.Add, cel.Overload("add_quantity", []*types.Type{q, q}, q)),
		cel.Function(operators.Subtract, cel.Overload("subtract_quantity", []*types.Type{q, q}, q)),
		cel.Function(operators.Negate, cel.Overload("negate_quantity", []*types.Type{q}, q)),
		cel.Function(operators.Multiply,
			cel.Overload("scale_quantity", []*types.Type{q, types.DoubleType}, q),
			cel.Overload("scale_quantity_int", []*types.Type{q, types.IntType}, q),
			cel.Overload("scale_by_double", []*types.Type{types.DoubleType, q}, q),
			cel.Overload("scale_by_int", []*types.Type{types.IntType, q}, q)),
		cel.Function(unitTimes,
			cel.Overload("unit_times_double", []*types.Type{q, types.DoubleType}, q, cel.BinaryBinding(multiply)),
			cel.Overload("unit_times_int", []*types.Type{q, types.IntType}, q, cel.BinaryBinding(multiply))),
		cel.Function(operators.Divide, append(ratios(),
			cel.Overload("divide_quantity", []*types.Type{q, types.DoubleType}, q),
			cel.Overload("divide_quantity_int", []*types.Type{q, types.IntType}, q))...))
}

// ratios are the quotients of two quantities of one dimension, a plain number, for each dimension.
func ratios() []cel.FunctionOpt {
	var out []cel.FunctionOpt
	for _, d := range quantity.Dimensions() {
		if d != quantity.DimRatio {
			q := QuantityType(d)
			out = append(out, cel.Overload("ratio_"+d.String(), []*types.Type{q, q}, types.DoubleType))
		}
	}
	return out
}

// unitTimes is what a unit does with a number that is not written out: psi(x). It is no product, so that no quantity stands there.
const unitTimes = "of_the_unit"

// unitOptions makes every unit a macro, psi(100), and q('3/8 in') one that
// reads any quantity text: both become constants when the rule loads.
func unitOptions() []cel.EnvOption {
	var out []cel.EnvOption
	macros := []cel.Macro{
		cel.AllMacro, cel.ExistsMacro, cel.ExistsOneMacro, cel.MapMacro, cel.MapFilterMacro, cel.FilterMacro,
		cel.GlobalMacro("q", 1, expandLiteral), cel.GlobalMacro("limit", 1, expandFigure("limit")), cel.GlobalMacro("table", 1, expandFigure("table")),
	}
	for _, u := range quantity.Units() {
		if u.CEL != "" && u.Dimension != quantity.DimRatio {
			macros = append(macros, cel.GlobalMacro(u.CEL, 1, func(eh cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *cel.Error) {
				if u.CEL == yearOf && args[0].Kind() != ast.LiteralKind {
					return nil, nil
				}
				return expandUnit(u, eh, args[0])
			}))
		}
	}
	for _, d := range quantity.Dimensions() {
		out = append(out, cel.Function(literalFunction(d), cel.Overload(literalFunction(d),
			[]*types.Type{types.DoubleType}, QuantityType(d), cel.UnaryBinding(func(v ref.Val) ref.Val {
				n, _ := number(v)
				return newQuantity(n, d)
			}))))
	}
	return append(out, cel.Macros(macros...))
}

// yearOf is a unit's name and a function's: year(10) is a time, year(today) the calendar year of a day.
const yearOf = "year"

// literalPrefix begins the names of the functions that make constants.
const literalPrefix = "si_"

func literalFunction(d quantity.Dimension) string { return literalPrefix + d.String() }

// expandUnit turns psi(100) into a constant. A number that is not written out
// scales the unit, which units with a zero point of their own (degC) cannot do.
func expandUnit(u quantity.Unit, eh cel.MacroExprFactory, arg ast.Expr) (ast.Expr, *cel.Error) {
	if arg.Kind() == ast.LiteralKind {
		n, ok := number(arg.AsLiteral())
		if !ok {
			return nil, eh.NewError(arg.ID(), fmt.Sprintf("%s takes a number such as %s(3), or say q('3 %s')", u.CEL, u.CEL, u.Symbol))
		}
		v, err := u.Value(n)
		if err != nil {
			return nil, eh.NewError(arg.ID(), err.Error())
		}
		return eh.NewCall(literalFunction(u.Dimension), eh.NewLiteral(types.Double(v.SI()))), nil
	}
	zero, errZero := u.Value(0)
	one, errOne := u.Value(1)
	if errZero != nil || errOne != nil || zero.SI() != 0 {
		return nil, eh.NewError(arg.ID(), u.CEL+" takes a number written out")
	}
	return eh.NewCall(unitTimes, eh.NewCall(literalFunction(u.Dimension), eh.NewLiteral(types.Double(one.SI()))), arg), nil
}

func expandLiteral(eh cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *cel.Error) {
	if args[0].Kind() != ast.LiteralKind {
		return nil, eh.NewError(args[0].ID(), "q takes a text such as q('3/8 in')")
	}
	text, ok := args[0].AsLiteral().(types.String)
	if !ok {
		return nil, eh.NewError(args[0].ID(), "q takes a text such as q('3/8 in')")
	}
	v, err := quantity.ParseAny(string(text))
	if err != nil {
		return nil, eh.NewError(args[0].ID(), err.Error())
	}
	if v.Dimension() == quantity.DimRatio {
		return eh.NewLiteral(types.Double(v.SI())), nil
	}
	return eh.NewCall(literalFunction(v.Dimension()), eh.NewLiteral(types.Double(v.SI()))), nil
}
