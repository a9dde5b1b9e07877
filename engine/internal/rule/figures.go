package rule

import (
	"fmt"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// Figures takes up the limits and tables of a pack.
func (c *Compiler) Figures() {
	for i := range c.Pack.Limits {
		c.limit(&c.Pack.Limits[i])
	}
	for i := range c.Pack.Tables {
		c.table(&c.Pack.Tables[i])
	}
}

func (c *Compiler) limit(e *pack.Entry[pack.Limit]) {
	path := "limits." + e.Key
	if len(e.Value.Because) == 0 {
		c.ProblemAt(e.Place, path, "a limit needs a because", "")
	}
	c.checkReasons(e.Value.Because, path+".because")
	want := quantity.None
	if e.Value.Of != "" {
		_, d, ok := vocabulary.ColumnType(e.Value.Of)
		if !ok {
			c.ProblemAt(e.Place, path+".of", e.Value.Of+" is no dimension", "")
			return
		}
		want = d
	}
	v, err := Constant(e.Value.Is, want)
	if err != nil {
		c.Problem(e.Value.Is.Node, path, err.Error(), "")
		return
	}
	c.define("limit."+e.Key, vocabulary.TypeOf(v), v)
	c.Base["limit."+e.Key] = v
}

func (c *Compiler) define(name string, t *types.Type, v ref.Val) {
	c.Names[name] = v
	c.Vars = append(c.Vars, vocabulary.NewVariable(name, t, nil).Holding(v))
}

func (c *Compiler) table(e *pack.Entry[pack.Table]) {
	path := "tables." + e.Key
	c.checkReasons(e.Value.Because, path+".because")
	columns := map[string]*types.Type{}
	dimensions := map[string]quantity.Dimension{}
	for _, col := range e.Value.Columns {
		t, d, ok := vocabulary.ColumnType(col.Value)
		if !ok {
			near, list := document.Nearest(col.Value, vocabulary.ColumnTypes()), ""
			if near == "" {
				list = "; they are " + strings.Join(vocabulary.ColumnTypes(), ", ")
			}
			c.Problem(pack.ChildOf(pack.ChildOf(e.Value.Node, "columns"), col.Key), path, col.Value+" is no column type: write number, text, truth or a dimension"+list, near)
			if c.refused == nil {
				c.refused = map[string]bool{}
			}
			c.refused[e.Key] = true
			return
		}
		columns[col.Key], dimensions[col.Key] = t, d
	}
	rows := map[string]map[string]ref.Val{}
	for i, row := range e.Value.Rows {
		key, ok := row[e.Value.Key]
		if !ok {
			c.ProblemAt(e.Place, fmt.Sprintf("%s.rows[%d]", path, i), "a row needs its "+e.Value.Key, "")
			continue
		}
		if _, dup := rows[key.Text]; dup {
			c.Problem(key.Node, path, "the table has two rows "+key.Text, "")
		}
		cells := map[string]ref.Val{}
		for name, cell := range row {
			if name == e.Value.Key {
				continue
			}
			if columns[name] == nil {
				c.Problem(cell.Node, path, "the table has no column "+name, document.Nearest(name, e.Value.Columns.Keys()))
				continue
			}
			if v, err := cellValue(cell, columns[name], dimensions[name]); err != nil {
				c.Problem(cell.Node, path, err.Error(), "")
			} else {
				cells[name] = v
			}
		}
		rows[key.Text] = cells
	}
	t, v := c.Vocabulary.AddTable(c.Pack.Pack+"."+e.Key, columns, e.Value.Columns.Keys(), rows)
	c.define("table."+e.Key, t, v)
}

func cellValue(s pack.Scalar, t *types.Type, d quantity.Dimension) (ref.Val, error) {
	switch t.Kind() {
	case types.StringKind:
		return types.String(s.Text), nil
	case types.BoolKind:
		if s.Tag != "!!bool" {
			return nil, fmt.Errorf("write true or false")
		}
		return types.Bool(s.Text == "true"), nil
	}
	v, err := quantity.Parse(s.Text, d)
	if err != nil {
		return nil, err
	}
	return vocabulary.Value(v), nil
}
