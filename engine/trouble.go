package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
	"plumbline/schema/document"
)

// Trouble is a fault that can befall a vehicle, as a pack has it.
type Trouble = rule.Trouble

// TroubleChange is what a trouble does to a fact or a fault.
type TroubleChange = rule.Change

// Reading is something that can be measured on a vehicle, as a pack has it.
type Reading = rule.Reading

// Troubles are all of the library, Readings all that it can hold a measurement against.
func (l *Library) Troubles() []Trouble { return l.troubles }

// Readings are those of the library, in its order.
func (l *Library) Readings() []Reading { return l.readings }

// Sign is something that is seen, heard or smelled of troubles, as a pack has it.
type Sign = pack.Sign

// Signs are those of the library, in its order.
func (l *Library) Signs() []Sign {
	var out []Sign
	for _, p := range l.packs {
		out = append(out, p.Signs...)
	}
	return out
}

// Befalling are the troubles that can befall a design, and the readings that can be taken on it: those whose condition holds, or
// is not known.
func (l *Library) Befalling(d *schema.Design, o Options) ([]*Trouble, []*Reading) {
	j := l.open(d, o, l.values(o))
	var troubles []*Trouble
	for i := range l.troubles {
		if x := &l.troubles[i]; j.holds(x.When, x.From) {
			troubles = append(troubles, x)
		}
	}
	var readings []*Reading
	for i := range l.readings {
		if x := &l.readings[i]; j.holds(x.When, x.From) {
			readings = append(readings, x)
		}
	}
	return troubles, readings
}

// holds reports whether a condition may hold, in the region of its pack.
func (j *judging) holds(when *vocabulary.Program, from *rule.Compiler) bool {
	if !j.inRegion(from.Pack) {
		return false
	}
	if when == nil {
		return true
	}
	j.from(from.Names, from.Pack)
	v := when.Eval(&j.names)
	return faulty(v) == nil && v != types.False
}

// TakeCare are the cautions that go with work on parts of a design, by their paths, each once.
func (l *Library) TakeCare(d *schema.Design, o Options, parts []string) []CautionFound {
	j := l.open(d, o, l.values(o))
	var out []CautionFound
	for i := range l.cautions {
		x := &l.cautions[i]
		goes := slices.ContainsFunc(parts, func(part string) bool { return x.GoesWith("", "design."+part) })
		if !goes || !j.inRegion(x.From.Pack) {
			continue
		}
		if text := j.caution(x); text != "" && !slices.ContainsFunc(out, func(o CautionFound) bool { return o.Text == text }) {
			out = append(out, CautionFound{ID: x.ID, Text: text, Because: x.Grounds, Rules: []string{}})
		}
	}
	return out
}

// CautionsAt are the cautions that go with work on parts of some design, those with a condition as they are said while it is not
// known.
func (l *Library) CautionsAt(parts []string) []CautionFound {
	var out []CautionFound
	for i := range l.cautions {
		x := &l.cautions[i]
		goes := slices.ContainsFunc(parts, func(part string) bool { return x.GoesWith("", "design."+part) })
		if text := x.Unsettled(); goes && !slices.ContainsFunc(out, func(o CautionFound) bool { return o.Text == text }) {
			out = append(out, CautionFound{ID: x.ID, Text: text, Because: x.Grounds, Rules: []string{}})
		}
	}
	return out
}

// Marked is a session like that of Session, with marks on facts and on faults, and with what is wrong with the vehicle.
func (l *Library) Marked(d *schema.Design, o Options, marks map[string]uint64, faults map[string]float64) *derive.Session {
	values := l.values(o)
	values.Marks, values.Faults = marks, faults
	return derive.NewSession(d, values)
}

// checkTroubles refuses names of troubles that there are not, and readings of one fact.
func (l *Library) checkTroubles() document.Problems {
	var problems document.Problems
	known := map[string]bool{}
	for i := range l.troubles {
		known[l.troubles[i].ID] = true
	}
	for i := range l.troubles {
		x := &l.troubles[i]
		for _, m := range x.Decl.TakenFor {
			name := m.Trouble
			if !strings.Contains(name, ".") {
				name = x.From.Pack.Pack + "." + name
			}
			if !known[name] || name == x.ID {
				problems = append(problems, document.Problem{Place: x.Decl.Place, Path: "troubles." + x.Decl.ID + ".taken_for",
					Message: fmt.Sprintf("there is no other trouble %s", m.Trouble)})
			}
		}
	}
	problems = append(problems, l.checkSigns()...)
	held := map[string]bool{}
	for i := range l.readings {
		x := &l.readings[i]
		if held[x.Fact] {
			problems = append(problems, document.Problem{Place: x.Decl.Place, Path: "readings." + x.Decl.Fact, Message: x.Decl.Fact + " is held against something already"})
		}
		held[x.Fact] = true
	}
	return problems
}

// checkSigns refuses signs of one name, and names of signs that there are not.
func (l *Library) checkSigns() document.Problems {
	var problems document.Problems
	known := map[string]bool{}
	for _, s := range l.Signs() {
		if known[s.ID] {
			problems = append(problems, document.Problem{Place: s.Place, Path: "signs." + s.ID, Message: "there is a sign " + s.ID + " already"})
		}
		known[s.ID] = true
	}
	for i := range l.troubles {
		x := &l.troubles[i]
		for _, id := range x.Decl.Sees {
			if !known[id] {
				problems = append(problems, document.Problem{Place: x.Decl.Place, Path: "troubles." + x.Decl.ID + ".sees", Message: fmt.Sprintf("there is no sign %s", id)})
			}
		}
	}
	return problems
}
