package vocabulary

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"

	"plumbline/engine/derive"
)

// Name is a name that may be written at a place of an expression.
type Name struct {
	Name string
	Type *types.Type
	// Words are the spellings of a text, when known.
	Words []string
	// Part is the type of part it belongs to, such as Run; Derived is set for a derived value.
	Part    string
	Derived *derive.Entry
}

// Apart is a vocabulary to which tables may be added without the original knowing them.
func (v *Vocabulary) Apart() *Vocabulary {
	out := v.Clone()
	out.shapes = maps.Clone(v.shapes)
	base, err := v.base.Extend(cel.CustomTypeProvider(&provider{Provider: v.base.CELTypeProvider(), shapes: out.shapes}))
	if err == nil {
		out.base, out.wide = base, base
	}
	return out
}

// indexed is what stands in brackets in a chain of names.
var indexed = regexp.MustCompile(`\[[^\[\]]*\]`)

// After lists what may stand behind a chain of names and a dot: after run, the facts and values of a run. After nothing come
// the names that an expression may begin with. The chain need not be one that compiles.
func (v *Vocabulary) After(chain string, vars []Variable) []Name {
	if chain == "" {
		return v.first(vars)
	}
	n := v.Find(chain, vars)
	if n == nil {
		return v.dotted(chain, vars)
	}
	return v.fields(n.Type)
}

// fields are the names that a part or a row has.
func (v *Vocabulary) fields(t *types.Type) []Name {
	s := v.shapes[t.TypeName()]
	if s == nil {
		return nil
	}
	part := strings.TrimPrefix(strings.TrimPrefix(s.name, typePrefix), maybePrefix)
	var out []Name
	for _, name := range s.order {
		f := s.fields[name]
		out = append(out, Name{Name: name, Type: f.typ, Words: f.words, Part: part, Derived: f.derived})
	}
	return out
}

// Find is the last name of a chain; nil when it leads nowhere.
func (v *Vocabulary) Find(chain string, vars []Variable) *Name {
	chain = indexed.ReplaceAllLiteralString(chain, "[]")
	var at *Name
	begun := "" // of a variable with a dot in its name
	for step := range strings.SplitSeq(chain, ".") {
		name, among := strings.TrimRight(step, "[]"), []Name(nil)
		if at != nil {
			among = v.fields(at.Type)
		} else {
			name, among = begun+name, v.variables(vars)
		}
		i := slices.IndexFunc(among, func(n Name) bool { return n.Name == name })
		if i < 0 && at != nil {
			return nil
		}
		if i < 0 {
			begun = name + "."
			continue
		}
		found := among[i]
		at = &found
		for range strings.Count(step, "[]") {
			inner := at.Type.Parameters()
			if len(inner) == 0 {
				return nil
			}
			at.Type = inner[len(inner)-1] // of a list its item, of a table its row
		}
	}
	return at
}

// variables are the names that stand for something by themselves, some with a dot in them.
func (v *Vocabulary) variables(vars []Variable) []Name {
	out := []Name{{Name: "design", Type: types.NewObjectType(typePrefix + "Design")}, {Name: "today", Type: types.TimestampType}}
	if f := v.shapes[typePrefix+"Design"].fields["at"]; f != nil {
		out = append(out, Name{Name: "at", Type: f.typ})
	}
	for _, x := range vars {
		out = append(out, Name{Name: x.Name, Type: x.Type, Words: x.Words})
	}
	return out
}

// first are the names an expression may begin with.
func (v *Vocabulary) first(vars []Variable) []Name {
	var out []Name
	for _, n := range v.variables(vars) {
		if begin, _, dotted := strings.Cut(n.Name, "."); dotted {
			n = Name{Name: begin, Type: types.DynType}
		}
		if !slices.ContainsFunc(out, func(o Name) bool { return o.Name == n.Name }) {
			out = append(out, n)
		}
	}
	return out
}

// dotted are the variables whose names go on behind a dot: limit.NAME.
func (v *Vocabulary) dotted(chain string, vars []Variable) []Name {
	var out []Name
	for _, x := range vars {
		if rest, is := strings.CutPrefix(x.Name, chain+"."); is {
			out = append(out, Name{Name: rest, Type: x.Type, Words: x.Words})
		}
	}
	return out
}
