package engine

import (
	"slices"
	"strings"
	"sync"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// Which facts a rule may read can be told before any design is there: those its expressions name, and those that the derived
// values it names need, down to the facts. A fact is named by the type of its part and its key, Run.bore; so what is told of
// one piece of line holds for all, and is rather too much than too little.

// fields are facts by type and key.
type fields map[string]bool

func (f fields) join(other fields) {
	for name := range other {
		f[name] = true
	}
}

// whole adds all facts of a type of part and of the parts below it.
func (f fields) whole(part string) {
	for _, x := range schema.FieldsOf(part) {
		if name := part + "." + x.Key; !f[name] {
			f[name] = true
			if x.Part != "" {
				f.whole(x.Part)
			}
		}
	}
}

// valueFields are the facts that every derived value may rest on, by its type and name.
var valueFields = sync.OnceValue(func() map[string]fields {
	direct, uses := map[string]fields{}, map[string][]string{}
	for _, e := range derive.All().Entries() {
		name := e.On + "." + e.Name
		direct[name] = fields{}
		for _, need := range e.Needs {
			for _, way := range ways(need) {
				facts, value := along(way)
				direct[name].join(facts)
				if value != "" {
					uses[name] = append(uses[name], value)
				}
			}
		}
		if e.On == "LineEnd" || e.On == "Joint" {
			direct[name].joints()
		}
	}
	for changed := true; changed; {
		changed = false
		for name, list := range uses {
			before := len(direct[name])
			for _, other := range list {
				direct[name].join(direct[other])
			}
			changed = changed || len(direct[name]) != before
		}
	}
	return direct
})

// points adds the points of a curve that is handed on as a whole.
func (f fields) points(part, key string) {
	for _, x := range schema.FieldsOf(part) {
		if x.Key == key && (x.Part == "CurvePoint" || x.Part == "ThermistorPoint") {
			f.whole(x.Part)
		}
	}
}

// joints adds what joints of lines are made of: the ends of two pieces, found through their lists.
func (f fields) joints() {
	for _, part := range []string{"Run", "LineEnd", "Line"} {
		f.whole(part)
	}
	f["SurgeTank.return_to"] = true
}

// ways are the paths that a need names: one, or several joined by or.
func ways(need string) []string {
	first, rest, several := strings.Cut(need, " or ")
	if !several {
		return []string{need}
	}
	at := strings.LastIndexByte(first, '.')
	return []string{first, first[:at+1] + rest}
}

// along follows what a derived value says it needs: to a fact, to a part and so all of it, or to another value.
func along(need string) (facts fields, value string) {
	facts = fields{}
	var steps []string
	for step := range strings.SplitSeq(need, ".") {
		switch step {
		case "at", "<point>", "cranking", "idle", "cruise", "full_load":
		default:
			steps = append(steps, step)
		}
	}
	part := "Design"
	if steps[0] == "design" {
		steps = steps[1:]
	} else if len(steps) > 1 {
		part, steps = partCalled(steps[0]), steps[1:]
	}
	for i, step := range steps {
		at := slices.IndexFunc(schema.FieldsOf(part), func(f schema.FieldInfo) bool { return f.Key == step })
		if at < 0 {
			return facts, part + "." + step
		}
		facts[part+"."+step] = true
		next := schema.FieldsOf(part)[at].Part
		if next != "" && i == len(steps)-1 {
			facts.whole(next)
		}
		part = next
	}
	return facts, ""
}

// partCalled is the type of part that needs call by a word: its own name, or the key it has in a design.
func partCalled(word string) string {
	if word == "joint" {
		return "Joint"
	}
	for _, t := range schema.Types() {
		if strings.EqualFold(strings.ReplaceAll(word, "_", ""), t.Name) {
			return t.Name
		}
	}
	for _, t := range schema.Types() {
		for _, f := range t.Fields {
			if f.Key == word && f.Part != "" {
				return f.Part
			}
		}
	}
	return ""
}

// fieldsOf are the facts that decide a rule.
func fieldsOf(r *rule.Rule) fields { return fieldsIn(r.Ready().Deciding()) }

// fieldsIn are the facts that some expressions may rest on.
func fieldsIn(list []*vocabulary.Program) fields {
	out := fields{}
	for _, p := range list {
		for _, field := range p.Fields {
			part, key, _ := strings.Cut(field, ".")
			part = strings.TrimSuffix(part, "Point")
			if part == "LineEnd" || part == "Joint" {
				out.joints()
			}
			out[part+"."+key] = true
			out.join(valueFields()[part+"."+key])
			out.points(part, key)
		}
	}
	return out
}
