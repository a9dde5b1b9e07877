package schema

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// typePlan is what reading, walking and describing need to know of one part's type, worked out once.
type typePlan struct {
	name   string
	fields []*fieldPlan
	byKey  map[string]*fieldPlan
	keys   []string
}

// fieldPlan is one field of a part. fact is set for facts and lists of facts, part for the rest.
type fieldPlan struct {
	index int
	key   string
	kind  Kind
	fact  *factPlan
	part  *typePlan
	// excludes is the key of another way to say the same; only one of the two may be stated.
	excludes string
	// whole is a word that may stand for the whole list.
	whole string
	// most is how many items a list may have.
	most int
	// slot is set for what packs declare, which a Group or Own holds by its index; doc is its meaning.
	slot bool
	doc  string
	// refers is the key of the list of parts whose names it takes, and other words it takes.
	refers []string
}

// factPlan is what a fact may hold, from its type and tags.
type factPlan struct {
	// of is the Fact type.
	of        reflect.Type
	kind      Kind
	dimension quantity.Dimension
	words     []string
	example   string
	// said is how people speak of the fact; nil for one that the table of words does not have.
	said *words.Row
	// The range tag: its text, and both ends in SI units or as whole numbers.
	lowText, highText string
	low, high         float64
}

// plans are those of a design and of a shelf's file, which share their parts. It panics on a malformed tag; a test loads it.
var plans = sync.OnceValue(func() planner {
	p := planner{}
	p.plan(reflect.TypeFor[Design]())
	p.plan(reflect.TypeFor[ShelfFile]())
	return p
})

// designPlan is the plan of Design.
var designPlan = sync.OnceValue(func() *typePlan { return plans()[reflect.TypeFor[Design]()] })

// shelfPlan is the plan of a shelf's file.
var shelfPlan = sync.OnceValue(func() *typePlan { return plans()[reflect.TypeFor[ShelfFile]()] })

// planOf is the plan of a type of part by its name; nil when a design has none of it.
func planOf(part string) *typePlan { return plansByName()[part] }

var plansByName = sync.OnceValue(func() map[string]*typePlan {
	out := map[string]*typePlan{}
	var visit func(plan *typePlan)
	visit = func(plan *typePlan) {
		if out[plan.name] != nil {
			return
		}
		out[plan.name] = plan
		for _, f := range plan.fields {
			if f.part != nil {
				visit(f.part)
			}
		}
	}
	visit(designPlan())
	return out
})

// planner holds the plans made so far, by type.
type planner map[reflect.Type]*typePlan

var (
	nodeType   = reflect.TypeFor[Node]()
	nodalType  = reflect.TypeFor[nodal]()
	setterType = reflect.TypeFor[factSetter]()
	maybeType  = reflect.TypeFor[maybeSetter]()
	listType   = reflect.TypeFor[listSetter]()
)

func (p planner) plan(t reflect.Type) *typePlan {
	if known := p[t]; known != nil {
		return known
	}
	plan := &typePlan{name: t.Name(), byKey: map[string]*fieldPlan{}}
	p[t] = plan
	if t == reflect.TypeFor[Own]() {
		return plan // its fields are those that packs declare
	}
	for i := range t.NumField() {
		if t.Field(i).Type == nodeType || !t.Field(i).IsExported() {
			continue
		}
		field := p.field(t.Field(i))
		field.index = i
		if field.fact != nil {
			field.fact.said = words.Of(t.Name(), field.key)
		}
		if field.key == "" || plan.byKey[field.key] != nil {
			panic(fmt.Sprintf("schema: %s.%s has no json name of its own", t.Name(), t.Field(i).Name))
		}
		plan.fields = append(plan.fields, field)
		plan.byKey[field.key] = field
		plan.keys = append(plan.keys, field.key)
	}
	return plan
}

func (p planner) field(f reflect.StructField) *fieldPlan {
	field := &fieldPlan{key: f.Tag.Get("json"), excludes: f.Tag.Get("excludes"), whole: f.Tag.Get("whole"), most: MaxItems}
	if most := f.Tag.Get("most"); most != "" {
		field.most, _ = strconv.Atoi(most)
	}
	if list := f.Tag.Get("refers"); list != "" {
		field.refers = strings.Split(list, ",")
	}
	pointer := reflect.PointerTo(f.Type)
	switch {
	case pointer.Implements(setterType):
		field.fact = planFact(f.Type, f.Tag)
		field.kind = field.fact.kind
	case pointer.Implements(maybeType):
		part, _ := f.Type.FieldByName("Part")
		field.kind, field.part = KindMaybe, p.plan(part.Type)
	case pointer.Implements(listType):
		field.kind = KindList
		items, _ := f.Type.FieldByName("Items")
		if item := items.Type.Elem(); reflect.PointerTo(item).Implements(setterType) {
			field.fact = planFact(item, f.Tag)
		} else {
			field.part = p.plan(item)
		}
	case pointer.Implements(nodalType):
		field.kind, field.part = KindPart, p.plan(f.Type)
	default:
		panic(fmt.Sprintf("schema: field %s is no fact, part, maybe or list", f.Name))
	}
	return field
}

func planFact(t reflect.Type, tag reflect.StructTag) *factPlan {
	fact := &factPlan{of: t, example: tag.Get("example")}
	switch value := reflect.New(t).Interface().(factSetter).valuePointer().(type) {
	case *string:
		fact.kind = KindText
	case *Word:
		fact.kind = KindWord
		fact.words = strings.Split(tag.Get("words"), ",")
	case *Date:
		fact.kind = KindDate
	case *int:
		fact.kind = KindInt
	case *bool:
		fact.kind = KindBool
	case interface {
		QuantityDimension() quantity.Dimension
	}:
		fact.kind, fact.dimension = KindQuantity, value.QuantityDimension()
	default:
		panic(fmt.Sprintf("schema: no fact may hold a %T", value))
	}
	fact.setRange(tag.Get("range"))
	return fact
}

// setRange reads "low..high" of whole numbers and quantities, which must have a range.
func (f *factPlan) setRange(text string) {
	if f.kind != KindInt && f.kind != KindQuantity {
		return
	}
	var whole bool
	if f.lowText, f.highText, whole = strings.Cut(text, ".."); !whole {
		panic(fmt.Sprintf("schema: range %q is not low..high", text))
	}
	f.low, f.high = f.bound(f.lowText), f.bound(f.highText)
	if f.low > f.high {
		panic(fmt.Sprintf("schema: range %q is upside down", text))
	}
}

func (f *factPlan) bound(text string) float64 {
	if f.kind == KindInt {
		n, err := strconv.Atoi(text)
		if err != nil {
			panic("schema: " + err.Error())
		}
		return float64(n)
	}
	v, err := quantity.Parse(text, f.dimension)
	if err != nil {
		panic("schema: " + err.Error())
	}
	return v.SI()
}
