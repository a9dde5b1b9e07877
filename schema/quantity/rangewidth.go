package quantity

import (
	"math/big"
	"strings"
)

// measure is a number with its unit; the unit is zero where none is written.
type measure struct {
	number *big.Rat
	unit   Unit
	text   string // the unit as written
}

func (m measure) bare() bool { return m.text == "" }

// measured reads a number and one unit of a dimension, in either of two where a width has another.
func (p ranger) measured(text string, dims ...Dimension) (measure, bool) {
	number, rest, bad := scanNumber(text)
	if bad != nil {
		return measure{}, false
	}
	m := measure{number: number, text: strings.Trim(rest, " ")}
	if m.text == "" {
		return m, true
	}
	if m.text == ":1" && dims[0] == DimRatio {
		m.unit, _ = UnitByCEL("ratio")
		return m, true
	}
	for _, d := range dims {
		if u, ok := p.t.find(unitKey(m.text), d); ok && m.text[0] != ':' && u.factor != nil {
			m.unit = u
			return m, true
		}
	}
	return measure{}, false
}

// about reads a value with a word for about before it.
func (p ranger) about(plain string) (Range, bool, error) {
	text := afterAbout(plain)
	value, ok := p.value(text)
	if wrong := p.noWidth(text, value, ok); wrong != nil {
		return Range{}, true, wrong
	}
	if value.bare() && p.want != DimRatio {
		_, err := parse(text, p.want)
		return Range{}, true, err
	}
	return p.around(value, new(big.Rat).Mul(new(big.Rat).Abs(value.number), aboutWidth()))
}

// value reads the value of a width; false when that is no number with one unit.
func (p ranger) value(text string) (measure, bool) { return p.measured(text, p.want) }

// noWidth is why a value can have no relative width; nil when it can.
func (p ranger) noWidth(text string, value measure, ok bool) *ParseError {
	refuse := func(reason, suggest string) *ParseError {
		return &ParseError{p.text, p.want, reason, suggest}
	}
	switch {
	case p.want == DimWireSize, p.want == DimDashSize:
		return refuse("is a size of a series, which has no width", "write the two sizes it may be, such as "+RangeExample(p.want))
	case !ok:
		if _, err := parse(text, p.want); err != nil {
			return err.(*ParseError)
		}
		return refuse("a width goes with one number and its unit", "write the two ends, such as "+RangeExample(p.want))
	case p.want == DimTemperature:
		five := big.NewRat(5, 1)
		unit := value.text
		if unit == "" {
			unit = "degC"
		}
		return refuse("a temperature has no width in percent: the nought of its scale is anywhere",
			"write the two ends, such as "+shownRat(new(big.Rat).Sub(value.number, five))+".."+shownRat(new(big.Rat).Add(value.number, five))+" "+unit)
	}
	return nil
}

// widened reads a value and the width on either side of it.
func (p ranger) widened(plain string) (Range, bool, error) {
	left, right, _ := strings.Cut(plain, "+-")
	left, right = strings.Trim(left, " "), strings.Trim(right, " ")
	switch {
	case strings.Contains(right, "+-") || afterAbout(left) != "":
		return p.refuse("a value has one width", p.likeWidth())
	case left == "", right == "":
		return p.refuse("a width stands behind the value it belongs to", p.likeWidth())
	}
	value, ok := p.value(left)
	share, relative := p.measured(right, DimShare)
	if relative = relative && !share.bare(); relative && p.want != DimShare && (p.want != DimRatio || value.text == "" || value.text[0] == ':') {
		return p.relative(left, value, ok, share)
	}
	width, fits := p.measured(right, p.widthDimensions()...)
	switch {
	case p.want == DimWireSize, p.want == DimDashSize, !ok:
		return Range{}, true, p.noWidth(left, value, ok)
	case !fits:
		return p.notAWidth(right)
	case relative:
		return p.points(value, width)
	case width.bare() && !value.bare():
		return p.refuse("the width needs a unit", "write "+left+" +- "+right+" "+value.text)
	case width.bare() && p.want != DimRatio:
		_, err := parse(left, p.want)
		return Range{}, true, err
	case value.bare() && !width.bare():
		u, found := p.find(unitKey(width.text))
		if !found {
			_, err := parse(left, p.want)
			return Range{}, true, err
		}
		value.unit, value.text = u, width.text
	}
	wide := width.number
	if !width.bare() {
		// The width in the unit of the value.
		wide = new(big.Rat).Quo(new(big.Rat).Mul(width.number, width.unit.factor), value.unit.factor)
	}
	return p.around(value, wide)
}

// widthDimensions are what a width may be of: a temperature is wide by a difference, an absolute pressure by either.
func (p ranger) widthDimensions() []Dimension {
	switch p.want {
	case DimTemperature:
		return []Dimension{DimTemperatureDifference}
	case DimAbsolutePressure:
		return []Dimension{DimAbsolutePressure, DimPressure}
	}
	return []Dimension{p.want}
}

// notAWidth says what is wrong with the text of a width.
func (p ranger) notAWidth(right string) (Range, bool, error) {
	if _, err := parse(right, p.widthDimensions()[0]); err != nil {
		return Range{}, true, err
	}
	return p.refuse("a width is one number with its unit", p.likeWidth())
}

// relative reads a width in percent of the value.
func (p ranger) relative(left string, value measure, ok bool, share measure) (Range, bool, error) {
	if wrong := p.noWidth(left, value, ok); wrong != nil {
		return Range{}, true, wrong
	}
	if value.bare() && p.want != DimRatio {
		_, err := parse(left, p.want)
		return Range{}, true, err
	}
	part := new(big.Rat).Mul(share.number, share.unit.factor)
	return p.around(value, part.Mul(part, new(big.Rat).Abs(value.number)))
}

// points refuses percent of percent, with both that it may mean.
func (p ranger) points(value, width measure) (Range, bool, error) {
	unit := value.text
	if unit == "" {
		unit = width.text
	}
	ends := func(wide *big.Rat) string {
		return shownRat(new(big.Rat).Sub(value.number, wide)) + ".." + shownRat(new(big.Rat).Add(value.number, wide)) + " " + unit
	}
	wide := width.number
	if !value.bare() {
		wide = new(big.Rat).Quo(new(big.Rat).Mul(wide, width.unit.factor), value.unit.factor)
	}
	part := new(big.Rat).Mul(width.number, width.unit.factor)
	return p.refuse("a width in percent of a share can be read in two ways", "write "+ends(wide)+" or "+ends(part.Mul(part, new(big.Rat).Abs(value.number))))
}

// around makes the range of a value and its width, both in the unit of the value, each end rounded once.
func (p ranger) around(value measure, wide *big.Rat) (Range, bool, error) {
	if wide.Sign() <= 0 {
		return p.refuse("a width is more than nothing", "write the value alone, or the two ends, such as "+RangeExample(p.want))
	}
	u := value.unit
	if value.bare() {
		u, _ = UnitByCEL("ratio")
	}
	var r Range
	for _, end := range []struct {
		into   *Value
		number *big.Rat
	}{
		{&r.Low, new(big.Rat).Sub(value.number, wide)}, {&r.Usual, value.number}, {&r.High, new(big.Rat).Add(value.number, wide)},
	} {
		v, err := p.finish(u, end.number)
		if err != nil {
			return Range{}, true, err
		}
		*end.into = v
	}
	if !(r.Low.si < r.High.si) {
		return p.refuse("the width is too small to tell the two ends apart", "write the value alone")
	}
	return r, true, nil
}

func (p ranger) likeWidth() string {
	example := Example(p.want)
	switch p.want {
	case DimTemperature:
		return "write it like " + example + " +- 5 K"
	case DimShare, DimRatio, DimWireSize, DimDashSize:
		return p.likeRange()
	}
	return "write it like " + example + " +- 5 %"
}
