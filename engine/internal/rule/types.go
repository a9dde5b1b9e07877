package rule

import (
	"strconv"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema/quantity"
)

// Constant reads a pack's plain value: a number or a quantity text, of the
// wanted dimension where the unit leaves it open (10 degC may be a temperature
// or a difference).
func Constant(s pack.Scalar, want quantity.Dimension) (ref.Val, error) {
	if s.Tag == "!!int" || s.Tag == "!!float" {
		f, err := strconv.ParseFloat(s.Text, 64)
		return types.Double(f), err
	}
	if want != quantity.None && want != quantity.DimRatio {
		if v, err := quantity.Parse(s.Text, want); err == nil {
			return vocabulary.Value(v), nil
		}
	}
	v, err := quantity.ParseAny(s.Text)
	if err != nil {
		return nil, err
	}
	return vocabulary.Value(v), nil
}

// measurable reports whether a value can be measured, bounded and printed: a number, or a quantity whose dimension has a name.
func measurable(t *types.Type) bool {
	return vocabulary.DimensionOf(t) != quantity.None || t.Kind() == types.DoubleKind || t.Kind() == types.IntKind
}

// SameMeasure reports whether values of two types can be held against each other: both plain numbers, or quantities of one
// dimension.
func SameMeasure(a, b *types.Type) bool {
	plain := func(t *types.Type) bool { return t.Kind() == types.DoubleKind || t.Kind() == types.IntKind }
	return plain(a) && plain(b) || a.IsExactType(b) && measurable(a)
}

// TypeName says a CEL type in the words of designs.
func TypeName(t *types.Type) string {
	switch {
	case t == nil:
		return "unknown"
	case t.TypeName() == "quantity" && len(t.Parameters()) == 1:
		return dimensionWords(t.Parameters()[0].TypeName())
	case t.Kind() == types.BoolKind:
		return "true or false"
	case t.Kind() == types.StringKind:
		return "a text"
	case t.Kind() == types.DoubleKind:
		return "a number"
	case t.Kind() == types.IntKind:
		return "a whole number"
	case t.Kind() == types.ListKind:
		return "a list"
	}
	return strings.TrimPrefix(t.TypeName(), "plumbline.")
}

// dimensionWords say what a quantity is, such as a pressure.
func dimensionWords(name string) string {
	for _, d := range quantity.Dimensions() {
		if d.Name() == name {
			return d.Phrase()
		}
	}
	if p, err := quantity.ParsePowers(name); err == nil {
		return "a product in " + p.String() + ", which has no name"
	}
	return "a quantity of any dimension"
}

// printable tells what a placeholder can hold: a value, or a list of values.
func printable(t *types.Type) bool {
	if t.Kind() == types.ListKind {
		t = t.Parameters()[0]
	}
	return measurable(t) || t.Kind() == types.StringKind || t.Kind() == types.BoolKind || t.Kind() == types.TimestampKind
}
