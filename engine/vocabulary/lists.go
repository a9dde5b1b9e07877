package vocabulary

import (
	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/schema/quantity"
)

// listFunctions are those that make one value of the values of a list. They go through all of it, so an item that is not known,
// and what nobody named of an open list, leaves the result unknown.
func listFunctions() []Function {
	return []Function{
		{
			Name: "sum", Signature: "sum(list) -> the sum", Example: "sum([mm(20), mm(30)]) > mm(49)",
			Doc:    "the sum of a list of quantities of one dimension, or of numbers; of an empty list nothing, 0",
			option: cel.Function("sum", sums()...),
		},
		{
			Name: "least", Signature: "least(list) -> the least of it", Example: "least([1.5, 2.5]) < 2.0",
			Doc:    "the least of a list of quantities of one dimension, or of numbers; where the list is empty the rule does not apply",
			option: extreme("least", -1),
		},
		{
			Name: "greatest", Signature: "greatest(list) -> the greatest of it", Example: "greatest([bar(2), kPa(300)]) > kPa(299)",
			Doc:    "the greatest of a list of quantities of one dimension, or of numbers; where the list is empty the rule does not apply",
			option: extreme("greatest", 1),
		},
	}
}

// sums are the overloads of sum, one for each dimension whose values can be added: only so an empty list has a sum.
func sums() []cel.FunctionOpt {
	out := []cel.FunctionOpt{cel.Overload("sum_double", []*types.Type{types.NewListType(types.DoubleType)}, types.DoubleType, cel.UnaryBinding(func(list ref.Val) ref.Val {
		return sum(list, func(total float64) ref.Val { return finite(total) })
	}))}
	for _, d := range quantity.Dimensions() {
		if !d.Valid() || d == quantity.DimRatio || d == quantity.DimTemperature || d == quantity.DimAbsolutePressure {
			continue
		}
		q := QuantityType(d)
		out = append(out, cel.Overload("sum_"+d.String(), []*types.Type{types.NewListType(q)}, q, cel.UnaryBinding(func(list ref.Val) ref.Val {
			return sum(list, func(total float64) ref.Val { return newQuantity(total, d) })
		})))
	}
	return out
}

func sum(list ref.Val, whole func(float64) ref.Val) ref.Val {
	items, _ := ItemsOf(list)
	total, unknown := 0.0, (*types.Unknown)(nil)
	for _, x := range items {
		switch x := x.(type) {
		case Quantity:
			total += x.SI()
		case types.Double:
			total += float64(x)
		case *types.Unknown:
			unknown = types.MergeUnknowns(unknown, x)
		default:
			return x
		}
	}
	if unknown != nil {
		return unknown
	}
	return whole(total)
}

// extreme is the item of a list that is the furthest one way.
func extreme(name string, sign types.Int) cel.EnvOption {
	pick := cel.UnaryBinding(func(list ref.Val) ref.Val {
		items, _ := ItemsOf(list)
		unknown := (*types.Unknown)(nil)
		var out ref.Val
		for _, x := range items {
			switch x := x.(type) {
			case *types.Unknown:
				unknown = types.MergeUnknowns(unknown, x)
			case Quantity:
				if out == nil || x.Compare(out) == sign {
					out = x
				}
			case types.Double:
				if out == nil || x.Compare(out) == sign {
					out = x
				}
			default:
				return x
			}
		}
		switch {
		case unknown != nil:
			return unknown
		case out == nil:
			return types.WrapErr(ErrAbsent{"the list that " + name + " is asked of"})
		}
		return out
	})
	q := anyQuantity()
	return cel.Function(name,
		cel.Overload(name+"_of_quantities", []*types.Type{types.NewListType(q)}, q, pick),
		cel.Overload(name+"_of_doubles", []*types.Type{types.NewListType(types.DoubleType)}, types.DoubleType, pick))
}
