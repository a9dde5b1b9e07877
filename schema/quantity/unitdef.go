package quantity

import (
	"math/big"
	"slices"
	"strings"
)

// pi to 60 decimals (OEIS A000796).
const pi = "3.141592653589793238462643383279502884197169399375105820974944"

// lin defines a unit by its factor to SI: a product and quotient of decimals read left to right, such as
// "0.45359237*9.80665/0.0254/0.0254", in which pi may stand.
func lin(symbol, cel, factor, gnu, doc string, aliases ...string) Unit {
	return Unit{Symbol: symbol, CEL: cel, GNU: gnu, Doc: doc, Aliases: aliases, factor: rational(factor)}
}

// shifted defines a unit with a zero of its own: SI = (number + offset) * factor.
func shifted(symbol, cel, factor, offset, gnu, doc string, aliases ...string) Unit {
	u := lin(symbol, cel, factor, gnu, doc, aliases...)
	u.offset = rational(offset)
	return u
}

// of gives a group of units its dimension.
func of(d Dimension, group ...Unit) []Unit {
	for i := range group {
		group[i].Dimension = d
	}
	return group
}

// over returns every spelling "a/b", for units of the form amount per time.
func over(above, below []string) []string {
	var all []string
	for _, a := range above {
		for _, b := range below {
			all = append(all, a+"/"+b)
		}
	}
	return all
}

// rational computes a factor expression exactly. The expressions are constants of this package: a bad one is a bug.
func rational(expr string) *big.Rat {
	result := big.NewRat(1, 1)
	op := byte('*')
	for expr != "" {
		term := expr
		next := byte(0)
		if i := strings.IndexAny(expr, "*/"); i >= 0 {
			term, next, expr = expr[:i], expr[i], expr[i+1:]
		} else {
			expr = ""
		}
		if term == "pi" {
			term = pi
		}
		x, ok := new(big.Rat).SetString(term)
		if !ok || x.Sign() == 0 {
			panic("bad unit factor: " + term)
		}
		if op == '*' {
			result.Mul(result, x)
		} else {
			result.Quo(result, x)
		}
		op = next
	}
	return result
}

func allUnits() []Unit {
	return slices.Concat(geometryUnits(), mechanicsUnits(), fluidUnits(), pressureUnits(), thermalUnits(),
		rotationUnits(), electricalUnits(), energyUnits(), sizeUnits(), heatingUnits())
}
