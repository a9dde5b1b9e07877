package schema

import (
	"fmt"
	"reflect"

	"gopkg.in/yaml.v3"

	"plumbline/schema/quantity"
)

// span is a value known between two ends, with the likely one. It is not changed once made.
type span[T any] struct{ low, usual, high T }

// Between makes a fact that is known between two ends, the smaller first, for designs built in Go. T is a quantity or
// int; it panics for any other, and where usual is not between the ends.
func Between[T any](low, usual, high T) Fact[T] {
	a, b, c := amount(low), amount(usual), amount(high)
	if !(a <= b && b <= c && a < c) {
		panic(fmt.Sprintf("schema: %v..%v..%v is no range", low, usual, high))
	}
	return Fact[T]{span: &span[T]{low, usual, high}, text: textOf(low) + ".." + textOf(usual) + ".." + textOf(high)}
}

// amount is the number of what may be a range: in SI units, or whole.
func amount(value any) float64 {
	switch value := value.(type) {
	case int:
		return float64(value)
	case interface{ SI() float64 }:
		return value.SI()
	}
	panic(fmt.Sprintf("schema: a %T has no range", value))
}

// Span returns the ends of a fact that is stated as a range, and the likely value: the middle where none is written.
// ok is false for a fact that is stated as one value, or not at all.
func (f Fact[T]) Span() (low, usual, high T, ok bool) {
	if f.span == nil {
		return low, usual, high, false
	}
	return f.span.low, f.span.usual, f.span.high, true
}

// Ranged reports whether the fact is stated as a range. It is not known then.
func (f Fact[T]) Ranged() bool { return f.span != nil }

// Ends are those of Span without their type; nil when the fact is no range.
func (f Fact[T]) Ends() (low, usual, high any) {
	if f.span == nil {
		return nil, nil, nil
	}
	return f.span.low, f.span.usual, f.span.high
}

func (f *Fact[T]) stateRange(low, usual, high any, text string, at Place) {
	var none T
	f.value, f.known = none, false
	f.span = &span[T]{low.(T), usual.(T), high.(T)}
	f.text, f.place = text, at
}

// IsStated reports whether a design says anything of a fact: one value, or a range.
func IsStated(r Reading) bool { return r != nil && (r.Known() || r.Ranged()) }

// Ranges lists the facts of a design that are stated as ranges, in the order of declaration.
func (d *Design) Ranges() []Reading {
	var out []Reading
	Walk(d, func(v Visit) {
		if v.Reading.Ranged() {
			out = append(out, v.Reading)
		}
	})
	return out
}

// valueIn is the value in a quantity.Of[D].
func valueIn(q any) quantity.Value {
	return reflect.ValueOf(q).FieldByName("Value").Interface().(quantity.Value)
}

// readRange reads a scalar that is written as a range into a fact; false for any other, which readFact reads.
func readRange(n *yaml.Node, plan *factPlan, into factSetter, at Place) (ranged bool, wrong complaint) {
	if n.Kind != yaml.ScalarNode || n.Tag != "!!str" {
		return false, complaint{}
	}
	switch plan.kind {
	case KindQuantity:
		r, is, err := quantity.ParseRange(n.Value, plan.dimension)
		if !is {
			return false, complaint{}
		}
		if err != nil {
			return true, complaint{message: plan.quantityMessage(err)}
		}
		if wrong := plan.outOfEnds(n.Value, r.Low.SI(), r.High.SI()); wrong.message != "" {
			return true, wrong
		}
		of := reflect.TypeOf(into.valuePointer()).Elem()
		into.stateRange(typed(of, r.Low), typed(of, r.Usual), typed(of, r.High), n.Value, at)
		return true, complaint{}
	case KindInt:
		low, usual, high, is, err := quantity.ParseWholeRange(n.Value)
		if !is {
			return false, complaint{}
		}
		if err != nil {
			return true, complaint{message: err.Error()}
		}
		if wrong := plan.outOfEnds(n.Value, float64(low), float64(high)); wrong.message != "" {
			return true, wrong
		}
		into.stateRange(low, usual, high, n.Value, at)
		return true, complaint{}
	}
	return false, complaint{}
}

// typed is a value in the Go type of its fact, a quantity.Of[D].
func typed(of reflect.Type, v quantity.Value) any {
	out := reflect.New(of).Elem()
	out.FieldByName("Value").Set(reflect.ValueOf(v))
	return out.Interface()
}

// outOfEnds says what is wrong with a range that does not lie within what the fact may be.
func (f *factPlan) outOfEnds(text string, low, high float64) complaint {
	if low >= f.low && high <= f.high {
		return complaint{}
	}
	wrong := f.outOfRange(text)
	if f.lowText != f.highText {
		wrong.message += "; write both ends of a range within that"
	}
	return wrong
}
