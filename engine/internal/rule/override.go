package rule

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// AsLimit reads a value that shall stand in the place of a limit's, which is now.
func AsLimit(is pack.Scalar, now ref.Val) (ref.Val, error) {
	want := quantity.None
	if q, ok := now.(vocabulary.Quantity); ok {
		want = q.Of.Dimension()
	}
	if is.Tag == "" {
		return nil, fmt.Errorf("what the limit is now is missing: write is")
	}
	v, err := Constant(is, want)
	_, bare := strconv.ParseFloat(is.Text, 64)
	switch {
	case err != nil && want == quantity.None && bare == nil:
		return nil, fmt.Errorf("a plain number stands without quotes: is: %s", document.Cut(is.Text))
	case err != nil:
		return nil, err
	case !SameMeasure(vocabulary.TypeOf(v), vocabulary.TypeOf(now)):
		return nil, fmt.Errorf("the limit is %s, this is %s", TypeName(vocabulary.TypeOf(now)), TypeName(vocabulary.TypeOf(v)))
	}
	return v, nil
}

// Cell is another value of one cell of a table.
type Cell struct {
	Row, Column string
	Value       ref.Val
	At          pack.Scalar
}

// Cells reads rows that shall stand in the place of some of a table of the pack; say tells what is wrong, where, and what was meant perhaps.
func (c *Compiler) Cells(table *pack.Table, of ref.Val, rows []map[string]pack.Scalar, say func(at pack.Scalar, message, near string)) []Cell {
	var out []Cell
	for _, row := range rows {
		key, there := row[table.Key]
		known := vocabulary.RowsOf(of)
		slices.Sort(known)
		switch {
		case !there:
			say(pack.Scalar{}, "a row needs its "+table.Key, "")
			continue
		case !slices.Contains(known, key.Text):
			say(key, fmt.Sprintf("the table has no row %s; it has %s", document.Cut(key.Text), document.OneOf(known)), document.Nearest(key.Text, known))
			continue
		}
		for _, column := range slices.Sorted(maps.Keys(row)) {
			if column == table.Key {
				continue
			}
			kind, there := table.Columns.Get(column)
			if !there {
				say(row[column], "the table has no column "+document.Cut(column), document.Nearest(column, table.Columns.Keys()))
				continue
			}
			t, d, ok := vocabulary.ColumnType(*kind)
			if !ok {
				continue // the table is wrong itself: that was told
			}
			v, err := cellValue(row[column], t, d)
			if err != nil {
				say(row[column], err.Error(), "")
				continue
			}
			out = append(out, Cell{Row: key.Text, Column: column, Value: v, At: row[column]})
		}
	}
	return out
}

// CitesLaw reports whether reasons hold a law in whose text, or a mirror of it, or a page that tells of it, a clause was read.
func (c *Compiler) CitesLaw(list []pack.Reason) bool {
	return slices.ContainsFunc(list, func(r pack.Reason) bool {
		s, ok := c.source(r.Source)
		return r.Source != "" && ok && s.Kind == Law && s.Read != "memory" && r.Where != ""
	})
}

// Undecided says what no design could decide any more if the rule read other figures; "" when all is well.
func (r *Rule) Undecided(c *Compiler, figures map[string]ref.Val) string {
	r.Ready()
	for _, p := range r.Programs() {
		if p != nil {
			p.Plan()
		}
	}
	own, reader := *c, *c.Reader
	reader.Problems = nil
	own.Reader, own.Names = &reader, maps.Clone(c.Names)
	for name, v := range figures {
		if own.Names[name] != nil {
			own.Names[name] = v
		}
	}
	own.lintReach(r.Decl, r, "rules."+r.Decl.ID)
	if len(own.Problems) == 0 {
		return ""
	}
	return own.Problems[0].Message
}
