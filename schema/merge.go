package schema

import (
	"fmt"
	"slices"

	"gopkg.in/yaml.v3"

	"plumbline/schema/document"
)

// mergePart adds to a mapping what the template's states and it does not.
func (d *decoder) mergePart(own, base *yaml.Node, plan *typePlan, path string) {
	stated := &yaml.Node{Kind: yaml.MappingNode, Content: own.Content}
	for i := 0; i+1 < len(base.Content); i += 2 {
		key, value := base.Content[i], base.Content[i+1]
		field := plan.byKey[key.Value]
		if named, _ := entry(stated, partKey); field == nil && key.Value == partKey && named == nil && len(kindsFor(plan.name)) > 0 {
			own.Content = append(own.Content, key, value)
		}
		if field == nil || path == rootPath && slices.Contains(ownFacts(), key.Value) {
			continue
		}
		switch _, mine := entry(stated, key.Value); {
		case mine != nil:
			d.mergeField(mine, value, field, path+"."+key.Value)
		case !plan.saidOtherwise(key.Value, stated):
			own.Content = append(own.Content, key, value)
		}
	}
}

// saidOtherwise reports whether a mapping says by another key what key would say.
func (p *typePlan) saidOtherwise(key string, n *yaml.Node) bool {
	return slices.ContainsFunc(p.fields, func(f *fieldPlan) bool {
		other := ""
		switch {
		case f.excludes == "":
			return false
		case f.key == key:
			other = f.excludes
		case f.excludes == key:
			other = f.key
		}
		at, _ := entry(n, other)
		return at != nil
	})
}

// mergeField puts two values of one field together in the first. Where they are not of a kind the first one stays.
func (d *decoder) mergeField(own, base *yaml.Node, field *fieldPlan, path string) {
	switch {
	case field.part == nil || own.Kind != base.Kind:
	case own.Kind == yaml.MappingNode:
		d.mergePart(own, base, field.part, path)
	case own.Kind == yaml.SequenceNode && field.part.byKey["name"] != nil:
		d.mergeNamed(own, base, field, path)
	}
}

// mergeNamed puts two lists of parts together by the names of the items. A list without names replaces the other, as
// one does that replaces a list without names.
func (d *decoder) mergeNamed(own, base *yaml.Node, field *fieldPlan, path string) {
	mine, theirs := byName(own), byName(base)
	if len(mine) == 0 || len(theirs) == 0 {
		return
	}
	if !d.allNamed(own, base, field, path) {
		return
	}
	for i, item := range own.Content {
		_, name := entry(item, "name")
		if two := doubled(mine[name.Value], theirs[name.Value]); two != nil {
			d.add(name, fmt.Sprintf("%s[%d].name", path, i), fmt.Sprintf("it cannot be told which %s is meant: two items have that name (%s and %s); give each its own, or leave the template's list out (leave_out: [%s])",
				document.Cut(name.Value), d.place(two[0]), d.place(two[1]), short(path)), "")
			return
		}
	}

	merged := make([]*yaml.Node, 0, len(own.Content)+len(base.Content))
	for _, item := range base.Content {
		_, name := entry(item, "name")
		if changes := mine[name.Value]; changes != nil {
			d.mergePart(changes[0], item, field.part, path)
			item = changes[0]
		}
		merged = append(merged, item)
	}
	for _, item := range own.Content {
		if _, name := entry(item, "name"); theirs[name.Value] == nil {
			merged = append(merged, item)
		}
	}
	own.Content = merged
}

// allNamed complains when a list of named items holds one without a name: it cannot be told whether that is another
// one or a change.
func (d *decoder) allNamed(own, base *yaml.Node, field *fieldPlan, path string) bool {
	for i, item := range own.Content {
		if at, _ := entry(item, "name"); at == nil {
			d.add(item, fmt.Sprintf("%s[%d]", path, i), fmt.Sprintf("this item has no name, and the list is put together with the template's by name; name every item, or leave the template's list out (leave_out: [%s])", short(path)), "")
			return false
		}
	}
	for _, item := range base.Content {
		if at, _ := entry(item, "name"); at == nil {
			d.add(own, path, fmt.Sprintf("the template's %s cannot be put together with these by name: its item at %s has none; name it, or leave the template's list out (leave_out: [%s])", field.key, d.place(item), short(path)), "")
			return false
		}
	}
	return true
}

// doubled is the first of two lists of items of one name that has two, where both have any.
func doubled(mine, theirs []*yaml.Node) []*yaml.Node {
	switch {
	case len(mine) == 0 || len(theirs) == 0:
		return nil
	case len(mine) > 1:
		return mine
	case len(theirs) > 1:
		return theirs
	}
	return nil
}

// byName lists the items of a list that have a name, by it.
func byName(list *yaml.Node) map[string][]*yaml.Node {
	named := map[string][]*yaml.Node{}
	for _, item := range list.Content {
		if _, name := entry(item, "name"); name != nil {
			named[name.Value] = append(named[name.Value], item)
		}
	}
	return named
}
