package quantity

import (
	"math/big"
	"strings"
	"unicode/utf8"
)

// Parse reads the whole text as a quantity of dimension want. A unit that serves several dimensions takes the meaning
// of want; a bare number is only read as a ratio. Every error is a *ParseError.
func Parse(text string, want Dimension) (Value, error) {
	if !want.Valid() {
		return Value{}, &ParseError{clip(text), want, "no dimension to read it as was given", ""}
	}
	return parse(text, want)
}

// ParseAny reads the whole text as a quantity of the dimension its unit tells. Units of several dimensions take their
// usual meaning: psi is a Pressure, degF a Temperature, % a Share, mm2 an Area. A bare number is refused.
func ParseAny(text string) (Value, error) { return parse(text, None) }

// parser reads one text; want is None when any dimension will do.
type parser struct {
	text string // for messages
	want Dimension
	t    *table
}

func parse(text string, want Dimension) (Value, error) {
	p := parser{clip(text), want, units()}
	switch {
	case len(text) > mostBytes:
		return p.fail("is longer than the 100 bytes read as a quantity", p.likeExample())
	case !utf8.ValidString(text):
		return p.fail("is not valid UTF-8 text", p.likeExample())
	}
	plain := plainText(text)
	if plain == "" {
		return p.fail("a quantity is expected, not an empty text", p.likeExample())
	}
	if p.want == DimWireSize || p.want == None {
		if v, err, ok := p.gauge(plain); ok {
			return v, err
		}
	}
	if p.want == DimDashSize || p.want == None {
		if v, err, ok := p.dash(plain); ok {
			return v, err
		}
	}
	if p.want == DimShare || p.want == None {
		if v, err, ok := p.blend(plain); ok {
			return v, err
		}
	}
	number, rest, bad := scanNumber(plain)
	if bad != nil {
		if bad.suggest == "" {
			bad.suggest = p.likeExample()
		}
		return p.fail(bad.reason, bad.suggest)
	}
	return p.withUnit(number, plain[:len(plain)-len(rest)], strings.Trim(rest, " "))
}

// withUnit finishes a quantity from its number, the number's text, and the unit that follows.
func (p parser) withUnit(number *big.Rat, digits, unit string) (Value, error) {
	if unit == "" {
		return p.bare(number, strings.Trim(digits, " "))
	}
	if unit[0] == ':' && (p.want == DimRatio || p.want == None) {
		return p.colon(number, unit[1:])
	}
	key := unitKey(unit)
	if u, ok := p.find(key); ok {
		// Gauge and dash sizes in their own forms have been read before.
		if u.toSI != nil {
			return p.fail("is not a whole "+u.Symbol+" size without a sign", "write it like "+Example(u.Dimension))
		}
		return p.finish(u, number)
	}
	if v, err, ok := p.compound(number, digits, unit); ok {
		return v, err
	}
	return p.noUnit(key, digits, unit)
}

func (p parser) find(key string) (Unit, bool) {
	if key == "" || key[0] == ':' {
		return Unit{}, false
	}
	if p.want == None {
		return p.t.findAny(key)
	}
	return p.t.find(key, p.want)
}

// finish converts and refuses what no such quantity can be.
func (p parser) finish(u Unit, number *big.Rat) (Value, error) {
	v, err := u.value(number)
	if err != nil {
		return p.fail(err.Error(), p.likeExample())
	}
	switch {
	case v.dim == DimTemperature && v.si < 0:
		return p.fail("is below absolute zero, -273.15 degC", p.likeExample())
	case v.dim == DimAbsolutePressure && v.si < 0:
		return p.fail("is below a perfect vacuum; absolute pressures are not negative", p.likeExample())
	case v.dim == DimWireSize && v.si <= 0:
		return p.fail("is not a wire size; a cross-section is more than zero", p.likeExample())
	}
	return v, nil
}

// bare takes a number without a unit, which only a ratio may be.
func (p parser) bare(number *big.Rat, digits string) (Value, error) {
	if p.want == DimRatio {
		u, _ := UnitByCEL("ratio")
		return p.finish(u, number)
	}
	if p.want == DimShare {
		return p.bareShare(number, digits)
	}
	if p.want == DimDashSize {
		return p.fail("a dash size is written with its dash", "write "+dashLiteral(digits))
	}
	if p.want == None {
		return p.fail("a quantity needs a unit", "write "+digits+" psi or "+digits+" mm, a share as "+digits+" %, and a plain factor as "+digits+":1")
	}
	return p.fail(p.want.kind().phrase+" needs a unit", "write "+strings.ReplaceAll(p.want.kind().write, "#", digits))
}

// colon takes a ratio of two numbers, as in 14.7:1.
func (p parser) colon(number *big.Rat, text string) (Value, error) {
	second, rest, bad := scanNumber(strings.Trim(text, " "))
	if bad != nil || rest != "" || second.Sign() <= 0 {
		return p.fail("a ratio has a number above zero after the colon and nothing else", "write it like 14.7:1")
	}
	u, _ := UnitByCEL("ratio")
	return p.finish(u, new(big.Rat).Quo(number, second))
}

// compoundPairs are the units that may follow each other in one quantity, by CEL name.
func compoundPairs() [][2]string {
	return [][2]string{{"ft", "inch"}, {"lb", "oz"}, {"h", "min"}, {"min", "s"}, {"year", "month"}}
}

// compound takes a number in two units: 14 ft 6 in, 14' 6 1/2", 1 h 30 min. The last result is false when the text is
// not of that form.
func (p parser) compound(first *big.Rat, digits, text string) (Value, error, bool) {
	split := strings.IndexAny(text, "0123456789")
	if split <= 0 {
		return Value{}, nil, false
	}
	big1, ok := p.find(unitKey(strings.TrimRight(text[:split], " -")))
	if !ok {
		return Value{}, nil, false
	}
	for _, pair := range compoundPairs() {
		if big1.CEL != pair[0] {
			continue
		}
		small, _ := UnitByCEL(pair[1])
		second, rest, bad := scanNumber(text[split:])
		if bad != nil {
			v, err := p.fail(bad.reason, bad.suggest)
			return v, err, true
		}
		u, ok := p.t.find(unitKey(strings.Trim(rest, " ")), big1.Dimension)
		if !ok || u.CEL != small.CEL {
			v, err := p.fail("after "+big1.Symbol+" only "+small.Symbol+" may follow", p.likeExample())
			return v, err, true
		}
		inBig := new(big.Rat).Quo(new(big.Rat).Mul(second, small.factor), big1.factor)
		if !first.IsInt() || inBig.Cmp(big.NewRat(1, 1)) >= 0 {
			v, err := p.fail("in two units the first number is whole and the second less than one of the first unit", p.likeExample())
			return v, err, true
		}
		if strings.HasPrefix(digits, "-") {
			inBig.Neg(inBig)
		}
		v, err := p.finish(big1, inBig.Add(first, inBig))
		return v, err, true
	}
	return Value{}, nil, false
}

func (p parser) fail(reason, suggest string) (Value, error) {
	return Value{}, &ParseError{p.text, p.want, reason, suggest}
}

// likeExample is the suggestion when nothing nearer is known.
func (p parser) likeExample() string {
	if p.want == None {
		return "write a number and a unit, e.g. 58 psi"
	}
	return "write it like " + Example(p.want)
}
