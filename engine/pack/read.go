package pack

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"plumbline/schema"
	"plumbline/schema/document"
)

// Reader is one pack file being read.
type Reader struct {
	// Path is the name of the file, Problems what is wrong with it.
	Path     string
	Problems document.Problems
	lines    []string
}

// At is the place of a node; the file's beginning for none.
func (r *Reader) At(n *yaml.Node) schema.Place {
	if n == nil {
		return schema.Place{File: r.Path, Line: 1, Column: 1}
	}
	return schema.Place{File: r.Path, Line: n.Line, Column: n.Column}
}

// Problem notes what is wrong with a node, and what was meant perhaps.
func (r *Reader) Problem(n *yaml.Node, path, message, suggest string) {
	text := ""
	if n != nil && n.Kind == yaml.ScalarNode {
		text = document.Cut(n.Value)
	}
	if suggest != "" {
		message += "; did you mean " + suggest + "?"
	}
	r.Problems = append(r.Problems, document.Problem{Place: r.At(n), Path: path, Text: text, Message: message, Suggest: suggest})
}

// Read reads a pack file. What is wrong with it is in the reader; without a pack it cannot be used at all.
func Read(file string, data []byte) (*Pack, *Reader) {
	p := &Pack{}
	r, ok := ReadAs(file, data, p)
	if !ok {
		return nil, r
	}
	return p, r
}

// ReadAs reads a file into a struct by its yaml tags, as packs are read; false when it cannot be used at all.
func ReadAs(file string, data []byte, into any) (*Reader, bool) {
	r := &Reader{Path: file, lines: strings.Split(string(data), "\n")}
	root, err := document.Parse(file, data)
	if errors.As(err, &r.Problems); err != nil {
		return r, false
	}
	r.decode(root, "", reflect.ValueOf(into).Elem())
	return r, true
}

// decode fills a Go value from a node by its yaml tags.
func (r *Reader) decode(n *yaml.Node, path string, v reflect.Value) {
	switch t := v.Addr().Interface().(type) {
	case **yaml.Node:
		*t = n
		return
	case *Expression:
		if r.scalar(n, path, "an expression") {
			t.Text, t.Node = n.Value, n
		}
		return
	case *Scalar:
		if r.scalar(n, path, "a value") {
			t.Text, t.Tag, t.Node = n.Value, n.Tag, n
		}
		return
	case *Test:
		r.test(n, path, t)
		return
	case *Mend:
		r.mend(n, path, t)
		return
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		r.decode(n, path, v.Elem())
		return
	}
	switch v.Kind() {
	case reflect.String:
		if r.scalar(n, path, "a text") {
			v.SetString(strings.TrimSpace(n.Value))
		}
	case reflect.Bool:
		if n.Kind != yaml.ScalarNode || n.Value != "true" && n.Value != "false" {
			r.Problem(n, path, path+" must be true or false", "")
			return
		}
		v.SetBool(n.Value == "true")
	case reflect.Int:
		i, err := strconv.Atoi(n.Value)
		if n.Kind != yaml.ScalarNode || err != nil {
			r.Problem(n, path, path+" must be a whole number", "")
			return
		}
		v.SetInt(int64(i))
	case reflect.Struct:
		r.structure(n, path, v)
	case reflect.Slice:
		if isNamed(v.Type()) {
			r.named(n, path, v)
			return
		}
		if n.Kind != yaml.SequenceNode {
			r.Problem(n, path, path+" must be a list"+likeReason(n, v.Type().Elem(), "[{practice: %s}]"), "")
			return
		}
		for i, item := range n.Content {
			e := reflect.New(v.Type().Elem()).Elem()
			r.decode(item, fmt.Sprintf("%s[%d]", path, i), e)
			v.Set(reflect.Append(v, e))
		}
	case reflect.Map:
		if n.Kind != yaml.MappingNode {
			r.Problem(n, path, path+" must be a mapping", "")
			return
		}
		v.Set(reflect.MakeMap(v.Type()))
		for i := 0; i+1 < len(n.Content); i += 2 {
			e := reflect.New(v.Type().Elem()).Elem()
			r.decode(n.Content[i+1], document.Join(path, n.Content[i].Value), e)
			v.SetMapIndex(reflect.ValueOf(n.Content[i].Value), e)
		}
	}
}

func (r *Reader) scalar(n *yaml.Node, path, what string) bool {
	if n.Kind == yaml.ScalarNode && n.Tag != "!!null" {
		return true
	}
	r.Problem(n, path, path+" must be "+what, "")
	return false
}

func isNamed(t reflect.Type) bool {
	return t.Elem().Kind() == reflect.Struct && strings.HasPrefix(t.Elem().Name(), "Entry[")
}

func (r *Reader) named(n *yaml.Node, path string, v reflect.Value) {
	if n.Kind != yaml.MappingNode {
		such := ""
		if n.Kind == yaml.ScalarNode && n.Value != "" {
			such = ": write {x: " + document.Cut(n.Value) + "}, with a name of your own for x"
		}
		r.Problem(n, path, path+" must be a mapping of names"+such, "")
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		e := reflect.New(v.Type().Elem()).Elem()
		key := n.Content[i]
		e.Field(0).SetString(key.Value)
		e.Field(1).Set(reflect.ValueOf(r.At(key)))
		r.decode(n.Content[i+1], document.Join(path, key.Value), e.Field(2))
		v.Set(reflect.Append(v, e))
	}
}

// likeReason says how a text that stands where a reason must is written as one.
func likeReason(n *yaml.Node, t reflect.Type, form string) string {
	if t != reflect.TypeFor[Reason]() || n.Kind != yaml.ScalarNode || n.Value == "" {
		return ""
	}
	return ": write " + fmt.Sprintf(form, document.Cut(n.Value)) + " for common practice, or source, physics or memory in its place"
}

func (r *Reader) structure(n *yaml.Node, path string, v reflect.Value) {
	if n.Kind != yaml.MappingNode {
		r.Problem(n, path, fmt.Sprintf("%s must be a mapping", orRoot(path))+likeReason(n, v.Type(), "{practice: %s}"), "")
		return
	}
	keys := map[string]int{}
	var names, required []string
	for i := range v.NumField() {
		sf := v.Type().Field(i)
		if key := sf.Tag.Get("yaml"); key != "" && key != "-" {
			keys[key] = i
			names = append(names, key)
			if strings.Contains(sf.Tag.Get("jsonschema"), "required") {
				required = append(required, key)
			}
		}
	}
	if n := n; v.Addr().Interface() != nil {
		r.setPlace(n, v)
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		index, ok := keys[key.Value]
		if !ok {
			r.Problem(key, document.Join(path, key.Value), fmt.Sprintf("%s has no key %q", orRoot(path), document.Cut(key.Value)), document.Nearest(key.Value, names))
			continue
		}
		seen[key.Value] = true
		child := document.Join(path, key.Value)
		r.decode(n.Content[i+1], child, v.Field(index))
		r.enum(n.Content[i+1], child, v.Type().Field(index), v.Field(index))
		if s, ok := v.Addr().Interface().(*Source); ok {
			r.sourceValue(n.Content[i+1], child, key.Value, s)
		}
	}
	for _, key := range required {
		if !seen[key] {
			r.Problem(n, path, fmt.Sprintf("%s lacks %q%s", orRoot(path), key, lacking(v.Addr().Interface(), key)), "")
		}
	}
}

// lacking says what to write for a key that is required.
func lacking(of any, key string) string {
	if s, ok := of.(*Source); ok {
		return s.lacking(key)
	}
	if key == "because" {
		return ": a source, or the honest words practice, memory or physics"
	}
	return ""
}

func (r *Reader) enum(n *yaml.Node, path string, sf reflect.StructField, v reflect.Value) {
	var words []string
	for part := range strings.SplitSeq(sf.Tag.Get("jsonschema"), ",") {
		if w, ok := strings.CutPrefix(part, "enum="); ok {
			words = append(words, w)
		}
	}
	if len(words) > 0 && v.Kind() == reflect.String && !slices.Contains(words, v.String()) {
		r.Problem(n, path, path+" must be "+document.OneOf(words), document.Nearest(v.String(), words))
	}
}

func (r *Reader) setPlace(n *yaml.Node, v reflect.Value) {
	switch t := v.Addr().Interface().(type) {
	case *Limit:
		t.Place = r.At(n)
	case *Pack:
		t.Node = n
	case *Fact:
		t.Node, t.Place = n, r.At(n)
	case *Value:
		t.Node, t.Place = n, r.At(n)
	case *Table:
		t.Node, t.Place = n, r.At(n)
	case *Assumption:
		t.Node, t.Place = n, r.At(n)
	case *Source:
		t.Place = r.At(n)
	case *Reason:
		t.Place = r.At(ChildOf(n, "source"))
	case *Case:
		t.Node, t.Place = n, r.At(n)
	case *Caution:
		t.Place = r.At(n)
	case *Sign:
		t.Place = r.At(n)
	case *Trouble:
		t.Place = r.At(n)
	case *Reading:
		t.Place = r.At(n)
	case *Adjustment:
		t.Node, t.Place = n, r.At(n)
	case *Override:
		t.Node, t.Place = n, r.At(n)
	case *Region:
		t.Place = r.At(n)
	case *Rule:
		t.Node, t.Place = n, r.At(n)
	}
}

var boundOps = []string{"at_least", "at_most", "more_than", "less_than", "between"}

func (r *Reader) test(n *yaml.Node, path string, t *Test) {
	t.Node = n
	if n.Kind == yaml.ScalarNode {
		t.Condition = &Expression{Text: n.Value, Node: n}
		return
	}
	if n.Kind != yaml.MappingNode || len(n.Content) == 0 {
		r.Problem(n, path, path+" must be a condition or bounds such as {at_least: 1.0}", "")
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		switch {
		case !slices.Contains(boundOps, key.Value):
			r.Problem(key, path, fmt.Sprintf("%s has no bound %q; bounds are %s", path, key.Value, strings.Join(boundOps, ", ")), document.Nearest(key.Value, boundOps))
		case key.Value == "between":
			if value.Kind != yaml.SequenceNode || len(value.Content) != 2 {
				r.Problem(value, path, path+".between must be a list of two: [low, high]", "")
				continue
			}
			t.Bounds = append(t.Bounds, r.bound("at_least", value.Content[0], path), r.bound("at_most", value.Content[1], path))
		default:
			t.Bounds = append(t.Bounds, r.bound(key.Value, value, path))
		}
	}
}

func (r *Reader) bound(op string, n *yaml.Node, path string) Bound {
	b := Bound{Op: op}
	r.decode(n, path+"."+op, reflect.ValueOf(&b.Value).Elem())
	return b
}

func orRoot(path string) string {
	if path == "" {
		return "a pack"
	}
	return path
}

// ChildOf is the node of a key of a mapping; the mapping itself when it lacks the key.
func ChildOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n != nil && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return n
}

// ItemOf is the node of an item of a list; the node itself when it has no such item.
func ItemOf(n *yaml.Node, at int) *yaml.Node {
	if n != nil && n.Kind == yaml.SequenceNode && at < len(n.Content) {
		return n.Content[at]
	}
	return n
}

// ReadFile reads a file, but no more than a pack may be.
func ReadFile(folder fs.FS, name string) ([]byte, error) {
	f, err := folder.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, document.MaxBytes+1))
}
