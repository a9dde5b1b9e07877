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

// Figure is a limit or table as packs of others read it, by its full name.
type Figure struct {
	variable vocabulary.Variable
	value    ref.Val
	limit    bool
}

// Shared are the limits and tables of the pack as others read them, by kind and full name.
func (c *Compiler) Shared(into map[string]Figure) {
	for _, x := range c.Vars {
		kind, own, _ := strings.Cut(x.Name, ".")
		name, v := vocabulary.FigureName(kind, c.Pack.Pack+"."+own), c.Names[x.Name]
		into[name] = Figure{vocabulary.NewVariable(name, x.Type, nil).Holding(v), v, kind == "limit"}
	}
}

// withForeign adds to the names that a text may use the limits and tables of other packs that it reads.
func (c *Compiler) withForeign(text string, vars []vocabulary.Variable) []vocabulary.Variable {
	for _, name := range vocabulary.FiguresIn(text) {
		f, there := c.Figured[name]
		if !there {
			continue
		}
		vars = append(vars[:len(vars):len(vars)], f.variable)
		if _, known := c.Names[name]; known {
			continue
		}
		c.read = append(c.read, f.variable)
		c.Names[name] = f.value
		if f.limit {
			c.Base[name] = f.value
		}
	}
	return vars
}

// AllVars are the limits and tables that the pack's rules use, those of other packs too.
func (c *Compiler) AllVars() []vocabulary.Variable {
	return append(c.Vars[:len(c.Vars):len(c.Vars)], c.read...)
}

// ReadsOthers reports whether the pack reads limits or tables of other packs.
func (c *Compiler) ReadsOthers() bool { return len(c.read) > 0 }
