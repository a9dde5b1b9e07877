package engine

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"gopkg.in/yaml.v3"

	"plumbline/engine/derive"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// figures takes up the limits and tables of a pack.
func (c *compiler) figures() {
	for i := range c.pack.Limits {
		c.limit(&c.pack.Limits[i])
	}
	for i := range c.pack.Tables {
		c.table(&c.pack.Tables[i])
	}
}

func (c *compiler) limit(e *Entry[Limit]) {
	path := "limits." + e.Key
	if len(e.Value.Because) == 0 {
		c.problemAt(e.Place, path, "a limit needs a because", "")
	}
	c.reasons(e.Value.Because, path+".because", nil)
	want := quantity.None
	if e.Value.Of != "" {
		_, d, ok := vocabulary.ColumnType(e.Value.Of)
		if !ok {
			c.problemAt(e.Place, path+".of", e.Value.Of+" is no dimension", "")
			return
		}
		want = d
	}
	v, err := constant(e.Value.Is, want)
	if err != nil {
		c.problem(e.Value.Is.node, path, err.Error(), "")
		return
	}
	c.define("limit."+e.Key, vocabulary.TypeOf(v), v)
	c.base["limit."+e.Key] = v
}

func (c *compiler) define(name string, t *types.Type, v ref.Val) {
	c.names[name] = v
	c.vars = append(c.vars, vocabulary.Variable{Name: name, Type: t})
}

func (c *compiler) table(e *Entry[Table]) {
	path := "tables." + e.Key
	c.reasons(e.Value.Because, path+".because", nil)
	columns := map[string]*types.Type{}
	dimensions := map[string]quantity.Dimension{}
	for _, col := range e.Value.Columns {
		t, d, ok := vocabulary.ColumnType(col.Value)
		if !ok {
			c.problemAt(col.Place, path, col.Value+" is no column type: a dimension such as pressure, number, text or truth", "")
			return
		}
		columns[col.Key], dimensions[col.Key] = t, d
	}
	rows := map[string]map[string]ref.Val{}
	for i, row := range e.Value.Rows {
		key, ok := row[e.Value.Key]
		if !ok {
			c.problemAt(e.Place, fmt.Sprintf("%s.rows[%d]", path, i), "a row needs its "+e.Value.Key, "")
			continue
		}
		if _, dup := rows[key.Text]; dup {
			c.problem(key.node, path, "the table has two rows "+key.Text, "")
		}
		cells := map[string]ref.Val{}
		for name, cell := range row {
			if name == e.Value.Key {
				continue
			}
			if columns[name] == nil {
				c.problem(cell.node, path, "the table has no column "+name, document.Nearest(name, e.Value.Columns.Keys()))
				continue
			}
			if v, err := cellValue(cell, columns[name], dimensions[name]); err != nil {
				c.problem(cell.node, path, err.Error(), "")
			} else {
				cells[name] = v
			}
		}
		rows[key.Text] = cells
	}
	t, v := c.vocabulary.AddTable(c.pack.Pack+"."+e.Key, columns, e.Value.Columns.Keys(), rows)
	c.define("table."+e.Key, t, v)
}

func cellValue(s Scalar, t *types.Type, d quantity.Dimension) (ref.Val, error) {
	switch t.Kind() {
	case types.StringKind:
		return types.String(s.Text), nil
	case types.BoolKind:
		if s.tag != "!!bool" {
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

// assume takes up a pack's assumptions; each must read as the fact's own value.
func (l *Library) assume(p *Pack, shared Named[Source]) document.Problems {
	c := l.compiler(l.vocabulary, p, shared)
	for i := range p.Assumptions {
		a := &p.Assumptions[i]
		path := fmt.Sprintf("assumptions[%d]", i)
		v, err := assumedValue(a.Fact, a.Is.Text)
		switch {
		case err != nil:
			c.problem(a.Is.node, path, err.Error(), "")
		case l.assumptions[a.Fact] != nil:
			c.problemAt(a.place, path, a.Fact+" is already assumed in "+l.assumedBy[a.Fact]+"; a fact is assumed once", "")
		case len(a.Because) == 0:
			c.problemAt(a.place, path, "an assumption needs a because", "")
		}
		l.assumptions[a.Fact] = v
		l.assumedBy[a.Fact] = p.Pack
		if p.local {
			l.houseAssumed = append(l.houseAssumed, a.Fact)
		}
		l.grounds[a.Fact] = c.quietReasons(a.Because)
	}
	return c.problems
}

// assumedValue reads what is assumed for a fact: a value as the fact is written,
// or the path of a derived value of its kind.
func assumedValue(fact, text string) (any, error) {
	if !strings.HasPrefix(text, "design.") {
		return factValue(fact, text)
	}
	p := derive.Computed(text)
	e, field := p.Entry(), schema.Describe(fact)
	switch {
	case e == nil || e.PerPoint:
		return nil, fmt.Errorf("%s is no derived value that holds always", text)
	case e.Kind != derive.Quantity || e.Dimension != field.Field.Dimension:
		return nil, fmt.Errorf("%s is %s, which %s is not", text, e.Dimension, fact)
	}
	return p, nil
}

// factValue reads a value as the fact at a generic path would be read, by
// loading the smallest design that states it.
func factValue(path, text string) (any, error) {
	rest, ok := strings.CutPrefix(path, "design.")
	if !ok {
		return nil, fmt.Errorf("the path of a fact begins with design")
	}
	node := &yaml.Node{Kind: yaml.ScalarNode, Value: text, Line: 1, Column: 1}
	keys := strings.Split(rest, ".")
	for _, k := range slices.Backward(keys) {
		name, isItem := strings.CutSuffix(k, "[]")
		if isItem {
			node = &yaml.Node{Kind: yaml.SequenceNode, Content: []*yaml.Node{node}, Line: 1, Column: 1}
		}
		node = &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Content: []*yaml.Node{{Kind: yaml.ScalarNode, Tag: "!!str", Value: name, Line: 1, Column: 1}, node}, Line: 1, Column: 1}
	}
	d, err := schema.LoadNode(path, node)
	if err != nil {
		return nil, err
	}
	var out any
	schema.Walk(d, func(v schema.Visit) {
		if v.Reading.Known() && derive.Generic(v.Path) == path {
			out = v.Reading.Any()
		}
	})
	if out == nil {
		return nil, fmt.Errorf("there is no fact %s", path)
	}
	return reflect.ValueOf(out).Interface(), nil
}
