package schema

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// OwnKey is the key of a design under which the facts stand that packs declare.
const OwnKey = "own"

// MaxOwnFacts is how many facts all packs together may declare; the schema itself has some seven hundred.
const MaxOwnFacts = 500

// OwnFact is one fact that a pack declares.
type OwnFact struct {
	// Key is its name in a design and in rules.
	Key  string
	Kind Kind
	// Dimension of a quantity, Words of a word, each with what people call it where that is not the word itself.
	Dimension quantity.Dimension
	Words     []string
	Called    map[string]string
	// Low and High are the ends of its range, as written; quantities and whole numbers have one.
	Low, High string
	Example   string
	// Doc is what it means, in a sentence; Label what people call it, Spoken what else.
	Doc, Label string
	Spoken     []string
	// Where and How say where the answer is found.
	Where words.Where
	How   string
	Place Place
}

// OwnGroup are the facts of one pack.
type OwnGroup struct {
	// Name is what they stand under: lift of own.lift.hoist_clearance.
	Name string
	// Pack declares them; Title is its title.
	Pack, Title string
	Facts       []OwnFact
}

// Declared are the facts that packs declare beside the schema's own. They stand under `own` in a design, each group under its
// name: own: {lift: {hoist_clearance: 40 mm}}. Nil declares none. It is not changed once made, and safe for concurrent use.
type Declared struct {
	groups []OwnGroup
	root   *typePlan
	types  map[string]*typePlan
	rows   map[string]*words.Row
}

// Own holds the declared facts of one design.
type Own struct {
	Node
	declared *Declared
	groups   []*Group
}

// Group holds the declared facts of one pack.
type Group struct {
	Node
	facts []factSetter
}

// OwnName is what may name a group or a fact: words joined by underscores, as rules can write them.
var OwnName = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

// ownType names the type of a group's part.
func ownType(group string) string { return OwnKey + "_" + group }

// Declare makes the facts of groups known. It refuses what Check does, the first of each group; names must not be doubled.
func Declare(groups []OwnGroup) (*Declared, error) {
	if len(groups) == 0 {
		return nil, nil
	}
	d := &Declared{groups: groups, types: map[string]*typePlan{}, rows: map[string]*words.Row{}}
	own := &typePlan{name: "Own", byKey: map[string]*fieldPlan{}}
	for _, g := range groups {
		plan := &typePlan{name: ownType(g.Name), byKey: map[string]*fieldPlan{}}
		for _, f := range g.Facts {
			if _, message := f.Check(); message != "" {
				return nil, fmt.Errorf("%s.%s: %s", g.Name, f.Key, message)
			}
			fact := f.plan()
			fact.said = f.row(plan.name)
			d.rows[plan.name+"."+f.Key] = fact.said
			if !plan.slot(&fieldPlan{key: f.Key, kind: f.Kind, fact: fact, doc: f.Doc}) {
				return nil, fmt.Errorf("%s.%s is declared twice", g.Name, f.Key)
			}
		}
		if !own.slot(&fieldPlan{key: g.Name, kind: KindPart, part: plan, doc: g.Title}) {
			return nil, fmt.Errorf("%s is declared twice", g.Name)
		}
		d.types[plan.name] = plan
	}
	d.root = designPlan().with(OwnKey, own)
	d.types[d.root.name], d.types[own.name] = d.root, own
	return d, nil
}

// slot adds a field that a Group or Own holds; false where there is one of its key.
func (p *typePlan) slot(f *fieldPlan) bool {
	f.index, f.slot = len(p.fields), true
	if p.byKey[f.key] != nil {
		return false
	}
	p.fields, p.keys, p.byKey[f.key] = append(p.fields, f), append(p.keys, f.key), f
	return true
}

// with is the plan with another part at a key.
func (p *typePlan) with(key string, part *typePlan) *typePlan {
	out := *p
	out.fields, out.byKey = slices.Clone(p.fields), map[string]*fieldPlan{}
	for i, f := range out.fields {
		if f.key == key {
			other := *f
			other.part = part
			out.fields[i] = &other
		}
		out.byKey[f.key] = out.fields[i]
	}
	return &out
}

// in is the field of a part: of one that a pack declared, what stands in its slot.
func (f *fieldPlan) in(part reflect.Value) reflect.Value {
	if !f.slot {
		return part.Field(f.index)
	}
	if own, is := part.Addr().Interface().(*Own); is {
		return reflect.ValueOf(own.groups[f.index]).Elem()
	}
	return reflect.ValueOf(part.Addr().Interface().(*Group).facts[f.index]).Elem()
}

// declare gives a design places for the declared facts, unless it has them; those of other declarations go.
func (d *Design) declare(declared *Declared) {
	if d.Own.declared == declared {
		return
	}
	d.Own = Own{declared: declared, Node: d.Own.Node}
	for _, group := range declared.plan().byKey[OwnKey].part.fields {
		g := &Group{}
		for _, f := range group.part.fields {
			g.facts = append(g.facts, reflect.New(f.fact.of).Interface().(factSetter))
		}
		d.Own.groups = append(d.Own.groups, g)
	}
	stampPart(d.plan().byKey[OwnKey].part, reflect.ValueOf(&d.Own).Elem(), rootPath+"."+OwnKey)
}

// apart gives a copied design groups and facts of its own.
func (o *Own) apart() {
	o.groups = slices.Clone(o.groups)
	for i, g := range o.groups {
		own := &Group{Node: g.Node, facts: slices.Clone(g.facts)}
		for n, f := range own.facts {
			copied := reflect.New(reflect.TypeOf(f).Elem())
			copied.Elem().Set(reflect.ValueOf(f).Elem())
			own.facts[n] = copied.Interface().(factSetter)
		}
		o.groups[i] = own
	}
}

// Declared are the facts that packs declared when the design was made.
func (d *Design) Declared() *Declared { return d.Own.declared }

// Group is the part that holds a group's facts; nil where the design was made without its declaration.
func (d *Design) Group(name string) *Group {
	f := d.plan().byKey[OwnKey].part.byKey[name]
	if f == nil {
		return nil
	}
	return d.Own.groups[f.index]
}

func (d *Design) plan() *typePlan { return d.Own.declared.plan() }

func (d *Declared) plan() *typePlan {
	if d == nil {
		return designPlan()
	}
	return d.root
}

// planOf is the plan of a type of part by its name.
func (d *Declared) planOf(part string) *typePlan {
	if d != nil && d.types[part] != nil {
		return d.types[part]
	}
	return planOf(part)
}

// Groups lists what is declared. It is not to be changed.
func (d *Declared) Groups() []OwnGroup {
	if d == nil {
		return nil
	}
	return d.groups
}

// Find is the declared fact at a path; nil when there is none.
func (d *Declared) Find(path string) *OwnFact {
	rest, is := strings.CutPrefix(path, rootPath+"."+OwnKey+".")
	group, key, _ := strings.Cut(rest, ".")
	for i := range d.Groups() {
		if g := &d.groups[i]; is && g.Name == group {
			at := slices.IndexFunc(g.Facts, func(f OwnFact) bool { return f.Key == key })
			if at >= 0 {
				return &g.Facts[at]
			}
		}
	}
	return nil
}

// Fact is a fact of the group by its key; it has one.
func (g *Group) Fact(key string) Reading {
	for _, f := range g.facts {
		if r := f.(Reading); Path(r.Path()).Key() == key {
			return r
		}
	}
	return nil
}

// PathOf is the path of a fact of a group.
func (g *OwnGroup) PathOf(key string) string {
	return rootPath + "." + OwnKey + "." + g.Name + "." + key
}
