package schema

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

const emptyValue = "write the value, or leave the line out: an empty value is not a fact"

// decoder turns a node tree into a design and collects every problem on the way.
type decoder struct {
	file string
	// declared are the facts that packs declare.
	declared *Declared
	// files are the files of the nodes that are from another one.
	files    map[*yaml.Node]string
	problems document.Problems
	reported map[Place]bool
	items    int
	// unclear is true when the text itself had problems.
	unclear bool
}

func newDecoder(declared *Declared, file string, found document.Problems) *decoder {
	d := &decoder{file: file, declared: declared, reported: map[Place]bool{}, unclear: len(found) > 0}
	for _, p := range found {
		d.problems = append(d.problems, p)
		d.reported[p.Place] = true
	}
	return d
}

func (d *decoder) design(root *yaml.Node) *Design {
	design := new(Design)
	design.declare(d.declared)
	d.part(root, root, d.declared.plan(), reflect.ValueOf(design).Elem(), rootPath)
	Stamp(design)
	settle(design)
	return design
}

func (d *decoder) place(n *yaml.Node) Place {
	file := d.file
	if other, from := d.files[n]; from {
		file = other
	}
	return Place{File: file, Line: max(n.Line, 1), Column: max(n.Column, 1)}
}

func (d *decoder) add(n *yaml.Node, path, message, suggest string) {
	at := d.place(n)
	d.reported[at] = true
	d.problems = append(d.problems, document.Problem{Place: at, Path: path, Text: document.Cut(n.Value), Message: message, Suggest: suggest})
}

// done reports whether n is an alias or a scalar that was already complained about.
func (d *decoder) done(n *yaml.Node) bool {
	return n.Kind == yaml.AliasNode || n.Kind == yaml.ScalarNode && d.reported[d.place(n)]
}

func (d *decoder) mentions(n *yaml.Node, key string) bool {
	for i := 0; n.Kind == yaml.MappingNode && i < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return true
		}
	}
	return false
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

func isNone(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Value == "none" }

// part reads a mapping into a part. at is the node the part is said to stand at: its key, where it has one.
func (d *decoder) part(n, at *yaml.Node, plan *typePlan, into reflect.Value, path string) {
	switch {
	case d.done(n):
		return
	case isNull(n):
		d.add(n, path, emptyValue, "")
		return
	case isNone(n):
		d.add(n, path, "none is not an answer here: there is always one; state its facts, or leave the line out while nothing is known", "")
		return
	case n.Kind != yaml.MappingNode:
		d.add(n, path, "a mapping of keys to values is expected, such as "+plan.sample(), "")
		return
	}
	node := into.Addr().Interface().(nodal).node()
	node.stated, node.place = true, d.place(at)
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		field := plan.byKey[key.Value]
		if key.Kind == yaml.ScalarNode && key.Value == partKey && field == nil && strings.HasPrefix(path, rootPath) && len(kindsFor(plan.name)) > 0 {
			d.partNamed(value, path+"."+partKey)
			continue
		}
		if key.Kind != yaml.ScalarNode || field == nil {
			if key.Kind == yaml.ScalarNode && !d.reportedKey(key) {
				message, suggest := d.unknownKey(key.Value, plan, path)
				d.add(key, path+"."+document.Cut(key.Value), message, suggest)
			}
			continue
		}
		before := len(d.problems)
		d.field(key, value, field, field.in(into), path+"."+field.key)
		if len(d.problems) == before+1 && value.Kind == yaml.ScalarNode {
			d.problems[before].Message += besides(value.Value, plan, field)
		}
		if field.excludes != "" && d.mentions(n, field.excludes) {
			d.add(key, path+"."+field.key, fmt.Sprintf("state %s or %s, not both: they are two ways to say one thing", field.key, field.excludes), "")
		}
	}
	d.undecided(n, plan, into)
}

// undecided takes back both of two ways to say one thing: which is right is not known.
func (d *decoder) undecided(n *yaml.Node, plan *typePlan, into reflect.Value) {
	for _, f := range plan.fields {
		if other := plan.byKey[f.excludes]; other != nil && d.mentions(n, f.key) && d.mentions(n, other.key) {
			f.in(into).SetZero()
			other.in(into).SetZero()
		}
	}
}

// reportedKey tells keys the document check has already refused, such as a merge key.
func (d *decoder) reportedKey(key *yaml.Node) bool { return key.Value == "" || key.Value == "<<" }

func (d *decoder) field(key, n *yaml.Node, plan *fieldPlan, into reflect.Value, path string) {
	pointer := into.Addr().Interface()
	switch plan.kind {
	case KindPart:
		d.part(n, key, plan.part, into, path)
	case KindMaybe:
		d.maybe(key, n, plan.part, pointer.(maybeSetter), path)
	case KindList:
		d.list(key, n, plan, pointer.(listSetter), path)
	default:
		d.fact(n, plan.fact, pointer.(factSetter), path)
	}
}

func (d *decoder) maybe(key, n *yaml.Node, plan *typePlan, into maybeSetter, path string) {
	switch {
	case d.done(n):
	case isNone(n):
		into.setPresence(Absent, d.place(n))
	case n.Kind == yaml.MappingNode:
		into.setPresence(Present, d.place(key))
		d.part(n, key, plan, reflect.ValueOf(into.partPointer()).Elem(), path)
	case isNull(n):
		d.add(n, path, emptyValue+"; write none when there is none, {} when there is one and nothing more is known", "")
	default:
		d.add(n, path, "none, or a mapping such as "+plan.sample()+", is expected; {} says there is one and nothing more is known", "")
	}
}

func (d *decoder) list(key, n *yaml.Node, plan *fieldPlan, into listSetter, path string) {
	switch {
	case d.done(n):
		return
	case isNone(n):
		into.setKnown(d.place(n))
		return
	case isNull(n):
		d.add(n, path, emptyValue+"; write none when there are none", "")
		return
	case plan.whole != "" && n.Kind == yaml.ScalarNode && n.Value == plan.whole:
		into.setKnown(d.place(key))
		d.fact(n, plan.fact, into.grow().(factSetter), path+"[0]")
		return
	case n.Kind != yaml.SequenceNode:
		d.add(n, path, "a list is expected, each item on a line that begins with \"- \"; write none when there are none", "")
		return
	case len(n.Content) > plan.most:
		d.add(n, path, fmt.Sprintf("the list has %d items; at most %d are read", len(n.Content), plan.most), "")
		return
	}
	if d.items += len(n.Content); d.items > MaxItemsInAll {
		if d.items-len(n.Content) <= MaxItemsInAll {
			d.add(n, path, fmt.Sprintf("the design has more than %d list items in all; no more are read", MaxItemsInAll), "")
		}
		return
	}
	into.setKnown(d.place(key))
	for i, item := range n.Content {
		at := path + "[" + strconv.Itoa(i) + "]"
		if plan.fact != nil {
			d.fact(item, plan.fact, into.grow().(factSetter), at)
		} else {
			d.part(item, item, plan.part, reflect.ValueOf(into.grow()).Elem(), at)
		}
	}
}

// sample shows how a mapping of this type begins: {place: in_tank}.
func (p *typePlan) sample() string {
	for _, f := range p.fields {
		if f.kind <= KindQuantity && f.fact.example != "" {
			example := f.fact.example
			if strings.ContainsAny(example, ",:{}[]#\"") {
				example = strconv.Quote(example)
			}
			return "{" + f.key + ": " + example + "}"
		}
	}
	if len(p.keys) == 0 { // no pack that is loaded declares a fact of its own
		return "{lift: {clearance: 200 mm}}"
	}
	return "{" + p.keys[0] + ": ...}"
}
