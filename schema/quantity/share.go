package quantity

import (
	"math/big"
	"strconv"
	"strings"
)

// A share is a part of a whole: ethanol in fuel, carbon monoxide in air, open time in a period. Inside it is the plain
// fraction. It always carries its unit, since 5 may be five in a hundred or five in a million. A factor, such as a
// volumetric efficiency or a lambda, is a Ratio and may be bare.

// blend reads the mark of a petrol and ethanol blend: E10 is ten percent ethanol by volume. The last result is false
// when the text is not of that form.
func (p parser) blend(text string) (Value, error, bool) {
	rest, ok := strings.CutPrefix(strings.ToUpper(text), "E")
	rest = strings.TrimLeft(rest, " ")
	if !ok || rest == "" || len(rest) > 3 || strings.ContainsFunc(rest, func(r rune) bool { return r < '0' || r > '9' }) {
		return Value{}, nil, false
	}
	n, _ := strconv.Atoi(rest)
	if n > 100 {
		v, err := p.fail("is more than the whole", "E0 to E100 name the ethanol in a fuel")
		return v, err, true
	}
	u, _ := UnitByCEL("percent")
	v, err := p.finish(u, big.NewRat(int64(n), 1))
	return v, err, true
}

// bareShare refuses a share without its unit and gives the two ways to write it, each with what it means; a number up to
// one may be the fraction or the percentage, a larger one is in a hundred or in a million.
func (p parser) bareShare(number *big.Rat, digits string) (Value, error) {
	size := new(big.Rat).Abs(number)
	if size.Sign() > 0 && size.Cmp(big.NewRat(1, 1)) <= 0 {
		hundredfold, _ := new(big.Rat).Mul(number, big.NewRat(100, 1)).Float64()
		return p.fail("a share needs its unit", "write "+strconv.FormatFloat(hundredfold, 'f', -1, 64)+" % for "+digits+" of the whole, or "+digits+" % for "+digits+" in a hundred")
	}
	return p.fail("a share needs its unit", "write "+digits+" % for "+digits+" in a hundred, or "+digits+" ppm for "+digits+" in a million")
}
