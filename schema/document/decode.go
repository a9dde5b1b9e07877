package document

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Reader is one file being read into Go values by their tags: packs, patterns, series, settings. (A design is read by
// its own plan, since each of its values is a fact.)
type Reader struct {
	// Path is the name of the file, Problems what is wrong with it.
	Path     string
	Problems Problems
	// Called is what messages call the whole of it: a pack.
	Called string
	// Hints say what to write for a required key, by the key.
	Hints map[string]string
	// Takes says what the value of a key may be; nil where messages speak of kinds alone.
	Takes func(key string) string
	lines []string
}

// Decode reads a file into a struct: its keys are the yaml tags of the fields, and the words required and enum=... of their
// jsonschema tags hold. Fields Place and Node, tagged "-", are set to where the struct was written. False when the text
// could not be used at all. What is wrong is in r.Problems.
func (r *Reader) Decode(data []byte, into any) bool {
	root, err := Parse(r.Path, data)
	if errors.As(err, &r.Problems); err != nil {
		return false
	}
	r.DecodeRoot(data, root, into)
	return true
}

// DecodeRoot is Decode for a document that Parse has read from data.
func (r *Reader) DecodeRoot(data []byte, root *yaml.Node, into any) {
	r.lines = strings.Split(string(data), "\n")
	r.DecodeInto(root, "", into)
}

// DecodeInto fills what a pointer points to from a node.
func (r *Reader) DecodeInto(n *yaml.Node, path string, into any) {
	r.decode(n, path, reflect.ValueOf(into).Elem())
}

// Decoder is a value that reads itself.
type Decoder interface {
	DecodeNode(r *Reader, n *yaml.Node, path string)
}

// Entry is one key of a mapping kept in its order, which Fill names and places; what it returns points to the value.
type Entry interface {
	Fill(key string, at Place) (value any)
}

// Hinter is a struct that knows what to write in its place, or for a key it lacks.
type Hinter interface {
	// Instead says how a text that stands in its place must be written; inList where a list of it belongs there.
	Instead(text string, inList bool) string
	// Lacking says what to write for a required key.
	Lacking(key string) string
}

// Checker is a struct that looks at each of its keys once it is read.
type Checker interface {
	CheckKey(r *Reader, n *yaml.Node, path, key string)
}

// Placer is a struct whose place is not that of its mapping.
type Placer interface {
	PlaceAt(r *Reader, n *yaml.Node)
}

// At is the place of a node; the file's beginning for none.
func (r *Reader) At(n *yaml.Node) Place {
	if n == nil {
		return Place{File: r.Path, Line: 1, Column: 1}
	}
	return Place{File: r.Path, Line: n.Line, Column: n.Column}
}

// Problem notes what is wrong with a node, and what was meant perhaps.
func (r *Reader) Problem(n *yaml.Node, path, message, suggest string) {
	text := ""
	if n != nil && n.Kind == yaml.ScalarNode {
		text = Cut(n.Value)
	}
	if suggest != "" {
		message += "; did you mean " + suggest + "?"
	}
	r.Problems = append(r.Problems, Problem{Place: r.At(n), Path: path, Text: text, Message: message, Suggest: suggest})
}

// Wrong notes a value that the key at path does not take; must says what it must be, where Takes does not.
func (r *Reader) Wrong(n *yaml.Node, path, must string) {
	if key, _, _ := strings.Cut(path, "["); r.Takes != nil {
		r.Problem(n, path, key+" takes "+r.Takes(key), "")
		return
	}
	r.Problem(n, path, path+" must be "+must, "")
}

var placeType = reflect.TypeFor[Place]()
var nodePointer = reflect.TypeFor[*yaml.Node]()

func (r *Reader) decode(n *yaml.Node, path string, v reflect.Value) {
	switch t := v.Addr().Interface().(type) {
	case **yaml.Node:
		*t = n
		return
	case Decoder:
		t.DecodeNode(r, n, path)
		return
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		r.decode(n, path, v.Elem())
		return
	}
	switch v.Kind() {
	case reflect.String:
		if r.Scalar(n, path, "a text") {
			v.SetString(strings.TrimSpace(n.Value))
		}
	case reflect.Bool:
		if n.Kind != yaml.ScalarNode || n.Value != "true" && n.Value != "false" {
			r.Wrong(n, path, "true or false")
			return
		}
		v.SetBool(n.Value == "true")
	case reflect.Int:
		i, err := strconv.Atoi(n.Value)
		if n.Kind != yaml.ScalarNode || err != nil {
			r.Wrong(n, path, "a whole number")
			return
		}
		v.SetInt(int64(i))
	case reflect.Struct:
		r.structure(n, path, v)
	case reflect.Slice:
		r.list(n, path, v)
	case reflect.Map:
		if n.Kind != yaml.MappingNode {
			r.Wrong(n, path, "a mapping")
			return
		}
		v.Set(reflect.MakeMap(v.Type()))
		for i := 0; i+1 < len(n.Content); i += 2 {
			e := reflect.New(v.Type().Elem()).Elem()
			r.decode(n.Content[i+1], Join(path, n.Content[i].Value), e)
			v.SetMapIndex(reflect.ValueOf(n.Content[i].Value), e)
		}
	}
}

// Scalar reports whether a node is a single value, and notes that it must be one.
func (r *Reader) Scalar(n *yaml.Node, path, what string) bool {
	if n.Kind == yaml.ScalarNode && n.Tag != "!!null" {
		return true
	}
	r.Wrong(n, path, what)
	return false
}

func (r *Reader) list(n *yaml.Node, path string, v reflect.Value) {
	element := v.Type().Elem()
	if _, entries := reflect.New(element).Interface().(Entry); entries {
		r.named(n, path, v)
		return
	}
	if n.Kind != yaml.SequenceNode {
		r.Wrong(n, path, "a list"+instead(n, element, true))
		return
	}
	for i, item := range n.Content {
		e := reflect.New(element).Elem()
		r.decode(item, fmt.Sprintf("%s[%d]", path, i), e)
		v.Set(reflect.Append(v, e))
	}
}

func (r *Reader) named(n *yaml.Node, path string, v reflect.Value) {
	if n.Kind != yaml.MappingNode {
		such := ""
		if n.Kind == yaml.ScalarNode && n.Value != "" {
			such = ": write {x: " + Cut(n.Value) + "}, with a name of your own for x"
		}
		r.Wrong(n, path, "a mapping of names"+such)
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		e := reflect.New(v.Type().Elem())
		key := n.Content[i]
		value := e.Interface().(Entry).Fill(key.Value, r.At(key))
		r.DecodeInto(n.Content[i+1], Join(path, key.Value), value)
		v.Set(reflect.Append(v, e.Elem()))
	}
}

// instead says how a text that stands where a struct must be is written as one.
func instead(n *yaml.Node, t reflect.Type, inList bool) string {
	hinter, is := reflect.New(t).Interface().(Hinter)
	if !is || n.Kind != yaml.ScalarNode || n.Value == "" {
		return ""
	}
	return hinter.Instead(Cut(n.Value), inList)
}

func (r *Reader) structure(n *yaml.Node, path string, v reflect.Value) {
	if n.Kind != yaml.MappingNode {
		r.Problem(n, path, fmt.Sprintf("%s must be a mapping", r.orWhole(path))+instead(n, v.Type(), false), "")
		return
	}
	keys := map[string]int{}
	var names, required []string
	for i := range v.NumField() {
		sf := v.Type().Field(i)
		switch key := sf.Tag.Get("yaml"); {
		case key == "-" && sf.Type == placeType:
			v.Field(i).Set(reflect.ValueOf(r.At(n)))
		case key == "-" && sf.Type == nodePointer:
			v.Field(i).Set(reflect.ValueOf(n))
		case key != "" && key != "-":
			keys[key] = i
			names = append(names, key)
			if slices.Contains(strings.Split(sf.Tag.Get("jsonschema"), ","), "required") {
				required = append(required, key)
			}
		}
	}
	self := v.Addr().Interface()
	if t, is := self.(Placer); is {
		t.PlaceAt(r, n)
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		child := Join(path, key.Value)
		index, ok := keys[key.Value]
		if !ok {
			message := fmt.Sprintf("%s has no key %q", r.orWhole(path), Cut(key.Value))
			if r.Takes != nil {
				message += "; its keys are " + strings.Join(names, ", ")
			}
			r.Problem(key, child, message, Nearest(key.Value, names))
			continue
		}
		seen[key.Value] = true
		r.decode(value, child, v.Field(index))
		r.enum(value, child, v.Type().Field(index), v.Field(index))
		if t, is := self.(Checker); is {
			t.CheckKey(r, value, child, key.Value)
		}
	}
	for _, key := range required {
		if !seen[key] {
			r.Problem(n, path, fmt.Sprintf("%s lacks %q%s", r.orWhole(path), key, r.lacking(self, key)), "")
		}
	}
}

// lacking says what to write for a key that is required.
func (r *Reader) lacking(of any, key string) string {
	if t, is := of.(Hinter); is {
		if hint := t.Lacking(key); hint != "" {
			return hint
		}
	}
	return r.Hints[key]
}

// enum refuses a word, or a whole number, that is none of those a field may hold.
func (r *Reader) enum(n *yaml.Node, path string, sf reflect.StructField, v reflect.Value) {
	var words []string
	for part := range strings.SplitSeq(sf.Tag.Get("jsonschema"), ",") {
		if w, ok := strings.CutPrefix(part, "enum="); ok {
			words = append(words, w)
		}
	}
	text := fmt.Sprint(v.Interface())
	if v.Kind() != reflect.String && v.Kind() != reflect.Int || len(words) == 0 || slices.Contains(words, text) || n.Kind != yaml.ScalarNode {
		return
	}
	if r.Takes != nil {
		r.Wrong(n, path, "")
		return
	}
	r.Problem(n, path, path+" must be "+OneOf(words), Nearest(text, words))
}

func (r *Reader) orWhole(path string) string {
	if path == "" {
		return r.Called
	}
	return path
}
