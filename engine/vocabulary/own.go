package vocabulary

import (
	"fmt"
	"github.com/google/cel-go/cel"
	"reflect"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// IsWord reports whether a name is one that expressions keep for themselves.
func IsWord(name string) bool { return celWords.MatchString(name) }

// Declare makes the facts that packs declare known to expressions, as design.own.GROUP.FACT. It comes before anything is
// compiled, and before Clone.
func (v *Vocabulary) Declare(d *schema.Declared) error {
	own := v.shapes[typePrefix+d.TypeAt("design."+schema.OwnKey)]
	empty := d.Empty()
	for i := range d.Groups() {
		g := &d.Groups()[i]
		base := "design." + schema.OwnKey + "." + g.Name
		s := &shape{name: typePrefix + d.TypeAt(base), fields: map[string]*field{}}
		for n := range g.Facts {
			if err := s.add(ownFact(d, g, &g.Facts[n])); err != nil {
				return err
			}
		}
		v.shapes[s.name] = s
		unstated := empty.Group(g.Name)
		err := own.add(&field{name: g.Name, typ: types.NewObjectType(s.name), open: func(o *object) cell {
			part := unstated
			if design := o.scope.session.Design(); design.Declared() == d {
				part = design.Group(g.Name)
			}
			return cell{value: &object{shape: s, part: reflect.ValueOf(part).Elem(), scope: o.scope}}
		}})
		if err != nil {
			return err
		}
	}
	return nil
}

func ownFact(d *schema.Declared, g *schema.OwnGroup, f *schema.OwnFact) *field {
	out := &field{name: f.Key, typ: factType(f.Type()), words: f.Words}
	out.low, out.high, out.ranged = d.RangeOf(d.TypeAt("design."+schema.OwnKey+"."+g.Name), f.Key)
	out.open = func(o *object) cell {
		return o.scope.fact(o.part.Addr().Interface().(*schema.Group).Fact(f.Key))
	}
	return out
}

// AddValue makes a derived value of a pack known as design.own.GROUP.NAME. What it is computed by may be set later, but
// before anything is judged.
func (v *Vocabulary) AddValue(group string, e *derive.Entry) error {
	own := v.shapes[typePrefix+"Own"].fields[group]
	if own == nil {
		return fmt.Errorf("nothing is declared under %s", group)
	}
	return v.shapes[own.typ.TypeName()].add(&field{name: e.Name, typ: derivedType(e), words: e.Words, derived: e, open: func(o *object) cell {
		r := o.scope.session.Evaluate(e, o.part.Addr().Interface(), derive.NoPoint)
		if r.Fault != nil {
			return cell{value: types.WrapErr(r.Fault), derived: r, turn: -1}
		}
		return derivedCell(r)
	}})
}

// Holds notes how long the text of a derived value of a pack can be.
func (v *Vocabulary) Holds(group, name string, p *Program) {
	own := v.shapes[typePrefix+"Own"].fields[group]
	if f := v.shapes[own.typ.TypeName()].fields[name]; p.size != nil && p.Type.Kind() == types.StringKind {
		f.longest, f.words = int(p.size.n), p.Words
	}
}

// Sums gives a calculation what an expression comes to that a pack computes a value by, and what it read on the way.
func (v *Vocabulary) Sums(c *derive.Calc, p *Program, fixed map[string]ref.Val) any {
	s := NewScope(c.Session())
	design, at := v.Root(s)
	s.Start()
	out := p.Eval(valueNames{design: design, at: at, fixed: fixed})
	reads := s.Reads()
	c.Took(reads.Facts, reads.Derived, reads.Assumed)
	switch x := out.(type) {
	case *types.Unknown:
		facts, reasons := Missing(x)
		for _, f := range facts {
			c.Miss(f)
		}
		for _, r := range reasons {
			c.Unreachable(fmt.Errorf("%s", r))
		}
		return nil
	case *types.Err:
		if part, is := AbsentPart(x); is {
			c.Absent(part)
		} else {
			c.Break(x)
		}
		return nil
	case Quantity:
		return x.SI()
	case types.Double:
		return float64(x)
	case types.Int:
		return float64(x)
	case types.Bool:
		return bool(x)
	case types.String:
		return string(x)
	}
	return nil
}

// valueNames are the names that the expression of a value may use.
type valueNames struct {
	design, at ref.Val
	fixed      map[string]ref.Val
}

// ResolveName finds a name's value.
func (n valueNames) ResolveName(name string) (any, bool) {
	switch name {
	case "design":
		return n.design, true
	case "at":
		return n.at, true
	}
	v, ok := n.fixed[name]
	return v, ok
}

// Parent is none.
func (n valueNames) Parent() cel.Activation { return nil }
