package quantity

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Dim is implemented by the empty marker types that carry a dimension in a type.
type Dim interface{ dimension() Dimension }

// Of is a quantity whose dimension is fixed by its type, for struct fields. Its zero value was never stated.
// Text, JSON and YAML forms are what Parse reads; the text written is exact and reads back to the same value.
type Of[D Dim] struct{ Value }

// As returns v typed by D. A value of another dimension, or one never constructed, is an error.
func As[D Dim](v Value) (Of[D], error) {
	var d D
	if v.dim != d.dimension() {
		return Of[D]{}, fmt.Errorf("%s is %s; %s is expected", v, v.dim.kind().phrase, d.dimension().kind().phrase)
	}
	return Of[D]{v}, nil
}

// QuantityDimension returns the dimension of the type, also on the zero value.
func (Of[D]) QuantityDimension() Dimension {
	var d D
	return d.dimension()
}

// MarshalText writes the exact form. A quantity never stated is an error; use omitzero or omitempty.
func (o Of[D]) MarshalText() ([]byte, error) {
	text, err := o.Exact()
	return []byte(text), err
}

// UnmarshalText reads what Parse accepts for the dimension.
func (o *Of[D]) UnmarshalText(text []byte) error {
	v, err := Parse(string(text), o.QuantityDimension())
	if err != nil {
		return err
	}
	o.Value = v
	return nil
}

// UnmarshalJSON reads a JSON string, or a JSON number where the dimension allows a bare number.
func (o *Of[D]) UnmarshalJSON(data []byte) error {
	data = bytes.TrimSpace(data)
	if len(data) == 0 || data[0] != '"' {
		return o.UnmarshalText(data)
	}
	var text string
	if err := json.Unmarshal(data, &text); err != nil {
		return err
	}
	return o.UnmarshalText([]byte(text))
}
