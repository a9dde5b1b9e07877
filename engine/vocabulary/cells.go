package vocabulary

import (
	"maps"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// CellOf is a cell of a table; not ok when it has no such row, or no figure there.
func CellOf(of ref.Val, row, column string) (v ref.Val, ok bool) {
	if t, is := of.(*table); is {
		if r, there := t.rows[row].(*object); there {
			v, ok = r.row[column]
		}
	}
	return v, ok
}

// RowsOf are the keys of a table's rows, in no order.
func RowsOf(of ref.Val) []string {
	var out []string
	if t, is := of.(*table); is {
		for key := range t.rows {
			out = append(out, key)
		}
	}
	return out
}

// WithCell is a table with another value in one cell; the table itself stays as it is.
func WithCell(of ref.Val, row, column string, v ref.Val) ref.Val {
	t, is := of.(*table)
	if !is {
		return of
	}
	old, there := t.rows[row].(*object)
	if !there {
		return of
	}
	cells := maps.Clone(old.row)
	if cells == nil {
		cells = map[string]ref.Val{}
	}
	cells[column] = v
	out := &table{name: t.name, rows: maps.Clone(t.rows)}
	out.rows[row] = &object{shape: old.shape, row: cells}
	// A longer text costs more wherever the column is read.
	if text, is := v.(types.String); is && old.shape.fields[column] != nil {
		old.shape.fields[column].longest = max(old.shape.fields[column].longest, len(text))
	}
	return out
}
