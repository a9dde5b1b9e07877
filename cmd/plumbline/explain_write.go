package main

import (
	"strings"

	"plumbline/schema"
)

// howToState says what a missing fact, part or list is and how to write it, with the line of the
// part it belongs to.
func (d *inDesign) howToState(path string) string {
	text := short(path)
	if list, open := d.design.OpenListAt(path); open {
		return text + ": " + list.Question()
	}
	if about := d.design.Declared().Describe(path).Doc; about != "" {
		text += ": " + strings.TrimSuffix(about, ".") + "."
	}
	if stated := d.design.FactAt(path); stated != nil && stated.Ranged() {
		text += " Stated as " + stated.Text() + "; narrow it."
	} else {
		text += " " + d.howToWrite(path)
	}
	if place := d.design.PlaceOf(path); place.Line > 0 && place != d.design.Place() {
		text += " " + bracket(&place)
	}
	return text
}

// waitsFor names the facts that keep something from a value: those not stated, and those to be narrowed.
func (d *inDesign) waitsFor(paths []string) string {
	var missing, ranged []string
	for _, path := range paths {
		if stated := d.design.FactAt(path); stated != nil && stated.Ranged() {
			ranged = append(ranged, short(path)+", stated as "+stated.Text())
		} else {
			missing = append(missing, path)
		}
	}
	var words []string
	if len(missing) > 0 {
		words = append(words, "not stated: "+shortList(missing))
	}
	if len(ranged) > 0 {
		words = append(words, "to be narrowed: "+strings.Join(ranged, ", "))
	}
	return strings.Join(words, "; ")
}

// howToWrite says how the fact, part or list at a path is written.
func (d *inDesign) howToWrite(path string) string {
	key := schema.Path(path).Key()
	field, of := d.fieldAt(path)
	switch {
	case len(field.Words) > 0:
		return "Write " + key + ": with one of " + strings.Join(field.Words, ", ") + "."
	case field.Kind == schema.KindList && field.Part == "":
		return "Write " + key + ": [" + field.Example + "]."
	case field.Kind == schema.KindList:
		return "List them, each with " + strings.Join(of, ", ") + ", or write " + key + ": none."
	case field.Kind == schema.KindMaybe:
		return "Describe it by " + strings.Join(of, ", ") + ", or write " + key + ": none."
	case field.Example != "":
		return "Write " + key + ": " + field.Example + "."
	case field.Part != "":
		return "Describe it by " + strings.Join(of, ", ") + "."
	}
	return "Write " + key + ": and its value."
}

// fieldAt describes the field at a path and, when it is a part, names the keys of that.
func (d *inDesign) fieldAt(path string) (field schema.FieldInfo, keys []string) {
	field = d.design.Declared().Describe(path).Field
	for _, f := range d.design.Declared().FieldsOf(field.Part) {
		keys = append(keys, f.Key)
	}
	return field, keys
}
