package schema

import (
	"slices"
	"strings"
	"sync"

	"plumbline/schema/document"
	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// mostHomes is how many other places of a misplaced key are named.
const mostHomes = 3

// unknownKey says what to write instead of a key that the part at path does not have: the fact here, or else elsewhere,
// that people call so, a key here that is spelt nearly so, or the parts that have such a key.
func (d *decoder) unknownKey(key string, plan *typePlan, path string) (message, suggest string) {
	message = "unknown key " + document.Cut(key)
	if key == partKey && strings.HasPrefix(path, shelfPath) {
		return message + "; a part of the shelf names no other: write the facts out", ""
	}
	if plan.name == "Own" && len(plan.keys) == 0 {
		return message + "; no pack that is loaded here declares facts of its own: name the shop's packs with --rules or in its settings", ""
	}
	here, elsewhere := calledSo(key, plan.name)
	for _, g := range d.declared.Groups() {
		for _, f := range g.Facts {
			switch at := "own." + g.Name; {
			case f.Key == key && path != rootPath+"."+at:
				elsewhere = append(elsewhere, document.Join(at, f.Key))
			case f.Key == key || !d.declared.rows[ownType(g.Name)+"."+f.Key].CalledSo(key):
			case path == rootPath+"."+at:
				here = append(here, f.Key)
			default:
				elsewhere = append(elsewhere, document.Join(at, f.Key))
			}
		}
	}
	if len(here) == 1 {
		return message + "; did you mean " + here[0] + "?", here[0]
	}
	if len(here) > 1 {
		return message + "; did you mean " + orList(here) + "?", ""
	}
	homes := slices.DeleteFunc(slices.Clone(keyHomes()[key]), func(home string) bool { return home == path })
	near := document.Nearest(key, plan.keys)
	if len(elsewhere)+len(homes) > 0 && !strings.Contains(key, near) && !strings.Contains(near, key) {
		near = "" // what is called so is likelier than another word that is spelt alike
	}
	if near != "" {
		message += "; did you mean " + near + "?"
	}
	if len(elsewhere) > 0 {
		message += "; for " + document.Cut(key) + " write " + orList(elsewhere)
	}
	if n := len(homes); n > 0 {
		more := ""
		if n > mostHomes {
			homes, more = homes[:mostHomes], " and others"
		}
		message += "; " + key + " belongs under " + strings.Join(homes, ", ") + more
	}
	if near == "" && len(elsewhere) == 0 && len(homes) == 0 {
		message += "; the keys here are " + strings.Join(plan.keys, ", ")
	}
	return message, near
}

// calledSo lists the keys of a type of part, and the paths elsewhere in a design, of what people call by a name. Of
// several types that have it the ways to each are named, the first of its homes.
func calledSo(name, part string) (here, elsewhere []string) {
	for _, hit := range words.Said(name) {
		switch {
		case !hit.Own || hit.Value != nil || hit.Row.Key == name:
		case hit.Row.Part == part:
			here = append(here, hit.Row.Key)
		default:
			if homes := typeHomes()[hit.Row.Part]; len(homes) > 0 {
				elsewhere = append(elsewhere, document.Join(homes[0], hit.Row.Key))
			}
		}
	}
	return here, elsewhere
}

// orList joins names by commas and a last or, no more than mostHomes of them.
func orList(names []string) string {
	if len(names) > mostHomes {
		names = append(slices.Clone(names[:mostHomes]), "others")
	}
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// typeHomes lists the paths of every type of part in the order of the design: Run at suction.runs, feed.runs and so on.
// The root has none.
var typeHomes = sync.OnceValue(func() map[string][]string {
	homes := map[string][]string{"Design": {""}}
	var visit func(plan *typePlan, path string)
	visit = func(plan *typePlan, path string) {
		for _, f := range plan.fields {
			if f.part != nil {
				at := document.Join(path, f.key)
				homes[f.part.name] = append(homes[f.part.name], at)
				visit(f.part, at)
			}
		}
	}
	visit(designPlan(), "")
	return homes
})

// besides says in which other fact of the same part a quantity belongs that is of another dimension than its own: a
// flow by mass where one by volume is stated. Where more than two would take it none is named.
func besides(text string, plan *typePlan, f *fieldPlan) string {
	if f.kind != KindQuantity {
		return ""
	}
	if _, err := quantity.Parse(text, f.fact.dimension); err == nil {
		return ""
	}
	var takes []string
	for _, other := range plan.fields {
		if other.kind != KindQuantity || other.fact.dimension == f.fact.dimension {
			continue
		}
		if v, err := quantity.Parse(text, other.fact.dimension); err == nil && v.SI() >= other.fact.low && v.SI() <= other.fact.high {
			takes = append(takes, other.key)
		}
	}
	if len(takes) == 0 || len(takes) > 2 {
		return ""
	}
	return "; " + orList(takes) + " takes it"
}

// keyHomes lists, for every key, the parts that have it, in the order of the design: regulator, feed.runs.
// Keys of the root have the home "the top level".
var keyHomes = sync.OnceValue(func() map[string][]string {
	homes := map[string][]string{}
	var visit func(plan *typePlan, path string)
	visit = func(plan *typePlan, path string) {
		home := path
		if home == "" {
			home = "the top level"
		}
		for _, f := range plan.fields {
			homes[f.key] = append(homes[f.key], home)
			if f.part != nil {
				visit(f.part, document.Join(path, f.key))
			}
		}
	}
	visit(designPlan(), "")
	return homes
})
