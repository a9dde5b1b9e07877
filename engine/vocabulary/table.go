package vocabulary

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"

	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// TypeOf is the checked type of a constant.
func TypeOf(v ref.Val) *types.Type {
	if q, ok := v.(Quantity); ok {
		return QuantityType(q.Of.Dimension())
	}
	if t, ok := v.Type().(*types.Type); ok {
		return t
	}
	return types.DynType
}

// Value turns a quantity into a constant; a ratio becomes a plain number.
func Value(v quantity.Value) ref.Val { return native(v) }

// DimensionOf is the dimension of a checked type; None when it is no quantity.
func DimensionOf(t *types.Type) quantity.Dimension {
	if t.TypeName() != "quantity" || len(t.Parameters()) != 1 {
		return quantity.None
	}
	for _, d := range quantity.Dimensions() {
		if d.Name() == t.Parameters()[0].TypeName() {
			return d
		}
	}
	return quantity.None
}

// ColumnType is the CEL type of a table column: a dimension's name, number,
// text or truth.
func ColumnType(name string) (*types.Type, quantity.Dimension, bool) {
	switch name {
	case "number":
		return types.DoubleType, quantity.DimRatio, true
	case "text":
		return types.StringType, quantity.None, true
	case "truth":
		return types.BoolType, quantity.None, true
	}
	for _, d := range quantity.Dimensions() {
		if d.String() == name {
			return dimensionType(d), d, true
		}
	}
	return nil, quantity.None, false
}

// ColumnTypes are the names of all types of columns.
func ColumnTypes() []string {
	out := []string{"number", "text", "truth"}
	for _, d := range quantity.Dimensions() {
		out = append(out, d.String())
	}
	return out
}

// tablePrefix begins the names of the types of rows.
const tablePrefix = typePrefix + "table."

// AddTable makes a table known: its CEL type and its value. Columns maps
// column names to types, rows maps keys to cells; a cell left out has no figure.
func (v *Vocabulary) AddTable(name string, columns map[string]*types.Type, order []string, rows map[string]map[string]ref.Val) (*types.Type, ref.Val) {
	s := &shape{name: tablePrefix + name, fields: map[string]*field{}}
	for _, c := range order {
		longest := 0
		for _, cells := range rows {
			text, _ := cells[c].(types.String)
			longest = max(longest, len(text))
		}
		_ = s.add(&field{name: c, typ: columns[c], longest: longest, open: func(o *object) cell {
			if v, ok := o.row[c]; ok {
				return cell{value: v}
			}
			return cell{value: UnknownBecause("table " + name + " has no " + c + " for this row")}
		}})
	}
	v.shapes[s.name] = s
	t := &table{name: name, rows: map[string]ref.Val{}}
	for key, cells := range rows {
		t.rows[key] = &object{shape: s, row: cells}
	}
	return types.NewMapType(types.StringType, types.NewObjectType(s.name)), t
}

// table is a pack's reference data as a CEL map.
type table struct {
	name string
	rows map[string]ref.Val
}

// ConvertToNative refuses: rules only look rows up.
func (t *table) ConvertToNative(reflect.Type) (any, error) {
	return nil, fmt.Errorf("a table has no other form")
}

// ConvertToType refuses, for the same reason.
func (t *table) ConvertToType(ref.Type) ref.Val { return types.NewErr("a table has no other form") }

// Equal is true of the table itself alone.
func (t *table) Equal(other ref.Val) ref.Val { return types.Bool(other == ref.Val(t)) }

// Type is a CEL map.
func (t *table) Type() ref.Type { return types.MapType }

// Value is the rows by key.
func (t *table) Value() any { return t.rows }

// Size is the number of rows.
func (t *table) Size() ref.Val { return types.Int(len(t.rows)) }

// Iterator goes over the keys.
func (t *table) Iterator() traits.Iterator {
	return types.NewDynamicMap(types.DefaultTypeAdapter, t.rows).Iterator()
}

// Contains reports whether the table has a row.
func (t *table) Contains(key ref.Val) ref.Val {
	s, ok := key.(types.String)
	_, found := t.rows[string(s)]
	return types.Bool(ok && found)
}

// Find looks a row up; a missing row is a slip of the pack, which is refused when it loads as far as the words are known.
func (t *table) Find(key ref.Val) (ref.Val, bool) {
	s, _ := key.(types.String)
	if row, ok := t.rows[string(s)]; ok {
		return row, true
	}
	return types.NewErr("table %s has no row %q", t.name, string(s)), true
}

// Get looks a row up.
func (t *table) Get(key ref.Val) ref.Val {
	v, _ := t.Find(key)
	return v
}

// NearestPath is the path of a fact that was meant by one that leads nowhere: the nearest key of the part where it goes wrong.
func (v *Vocabulary) NearestPath(path string) string {
	steps := strings.Split(path, ".")
	for i := 1; i < len(steps); i++ {
		if v.HasPath(strings.Join(steps[:i+1], ".")) {
			continue
		}
		part := typePrefix + schema.TypeAt(strings.Join(steps[:i], "."))
		for _, prefix := range []string{"", maybePrefix} {
			s := v.shapes[typePrefix+prefix+strings.TrimPrefix(part, typePrefix)]
			if s == nil {
				continue
			}
			if near := document.Nearest(strings.TrimSuffix(steps[i], "[]"), s.order); near != "" {
				return strings.Join(append(append(slices.Clone(steps[:i]), near), steps[i+1:]...), ".")
			}
		}
		return ""
	}
	return ""
}

// HasPath reports whether a design has a part or list of this path, written
// with [] for list items.
func (v *Vocabulary) HasPath(path string) bool {
	rest, ok := strings.CutPrefix(path, "design")
	if !ok {
		return false
	}
	t := types.NewObjectType(typePrefix + "Design")
	for rest != "" {
		rest, ok = strings.CutPrefix(rest, ".")
		if !ok {
			return false
		}
		key := rest
		if i := strings.IndexAny(rest, ".["); i >= 0 {
			key = rest[:i]
		}
		rest = rest[len(key):]
		s := v.shapes[t.TypeName()]
		if s == nil || s.fields[key] == nil || s.fields[key].derived != nil {
			return false
		}
		t = s.fields[key].typ
		if after, ok := strings.CutPrefix(rest, "[]"); ok {
			if t.Kind() != types.ListKind {
				return false
			}
			rest, t = after, t.Parameters()[0]
		}
	}
	return true
}
