package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// ErrNoReport says that a text is JSON but no report: it lacks the keys every report has.
var ErrNoReport = errors.New("it lacks the keys format and reports")

// OtherFormat is the error for a report of another edition of the format than this program reads.
type OtherFormat int

// Error names both editions.
func (f OtherFormat) Error() string {
	return fmt.Sprintf("it is of format %d, and this program reads format %d", int(f), Format)
}

// Read reads a report that JSON wrote. It is strict, as the JSON Schema of reports is: by the Go types alone, every key
// must be known, those that are always written must be there, and words with a list must be of it. The error names the
// first place that does not fit.
func Read(data []byte) (*Document, error) {
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.UseNumber()
	var value any
	if err := decoder.Decode(&value); err != nil {
		return nil, errors.New("it cannot be read as JSON")
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("it cannot be read as JSON")
	}
	keys, _ := value.(map[string]any)
	number, _ := keys["format"].(json.Number)
	format, err := strconv.Atoi(number.String())
	switch {
	case keys["reports"] == nil || err != nil || format < 1:
		return nil, ErrNoReport
	case format != Format:
		return nil, OtherFormat(format)
	}
	var doc Document
	if err := fill(reflect.ValueOf(&doc).Elem(), value, ""); err != nil {
		return nil, err
	}
	return &doc, nil
}

// fill puts a JSON value into a Go value; at is its place, such as /reports/0/counts.
func fill(into reflect.Value, value any, at string) error {
	switch into.Kind() {
	case reflect.Pointer:
		into.Set(reflect.New(into.Type().Elem()))
		return fill(into.Elem(), value, at)
	case reflect.Struct:
		if m, ok := value.(map[string]any); ok {
			return fillStruct(into, m, at)
		}
	case reflect.Slice:
		if list, ok := value.([]any); ok {
			into.Set(reflect.MakeSlice(into.Type(), len(list), len(list)))
			for i, item := range list {
				if err := fill(into.Index(i), item, fmt.Sprintf("%s/%d", at, i)); err != nil {
					return err
				}
			}
			return nil
		}
	case reflect.Map:
		if m, ok := value.(map[string]any); ok {
			return fillMap(into, m, at)
		}
	case reflect.String:
		if s, ok := value.(string); ok {
			into.SetString(s)
			return nil
		}
	case reflect.Bool:
		if b, ok := value.(bool); ok {
			into.SetBool(b)
			return nil
		}
	case reflect.Int:
		if n, ok := value.(json.Number); ok {
			if i, err := strconv.Atoi(n.String()); err == nil {
				into.SetInt(int64(i))
				return nil
			}
		}
	case reflect.Float64:
		if n, ok := value.(json.Number); ok {
			if f, err := n.Float64(); err == nil {
				into.SetFloat(f)
				return nil
			}
		}
	}
	return fmt.Errorf("at %s: %s is expected, not %s", at, kindWords(into.Kind()), jsonWords(value))
}

func fillMap(into reflect.Value, m map[string]any, at string) error {
	into.Set(reflect.MakeMap(into.Type()))
	for _, key := range sortedKeys(m) {
		item := reflect.New(into.Type().Elem()).Elem()
		if err := fill(item, m[key], at+"/"+key); err != nil {
			return err
		}
		into.SetMapIndex(reflect.ValueOf(key), item)
	}
	return nil
}

func fillStruct(into reflect.Value, m map[string]any, at string) error {
	known, missing := 0, []string{}
	t := into.Type()
	for i := range t.NumField() {
		key, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		value, there := m[key]
		if !there {
			if !strings.Contains(options, "omit") {
				missing = append(missing, key)
			}
			continue
		}
		known++
		if err := fill(into.Field(i), value, at+"/"+key); err != nil {
			return err
		}
		if words := wordsOf(t.Field(i)); words != nil && !slices.Contains(words, into.Field(i).String()) {
			return fmt.Errorf("at %s/%s: one of %s is expected", at, key, strings.Join(words, ", "))
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("at %s: missing %s", at+"/", strings.Join(missing, ", "))
	}
	if known < len(m) {
		for _, key := range sortedKeys(m) {
			if !slices.ContainsFunc(reflect.VisibleFields(t), func(f reflect.StructField) bool {
				name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
				return name == key
			}) {
				return fmt.Errorf("at %s: a report has no key %q here", at+"/", key)
			}
		}
	}
	return nil
}

// wordsOf lists the words a field may hold, from the tag that the JSON Schema takes them from; nil for any.
func wordsOf(f reflect.StructField) []string {
	var words []string
	for part := range strings.SplitSeq(f.Tag.Get("jsonschema"), ",") {
		if word, ok := strings.CutPrefix(part, "enum="); ok {
			words = append(words, word)
		}
	}
	return words
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

func kindWords(k reflect.Kind) string {
	switch k {
	case reflect.Struct, reflect.Map:
		return "an object"
	case reflect.Slice:
		return "a list"
	case reflect.String:
		return "a text"
	case reflect.Bool:
		return "true or false"
	case reflect.Int:
		return "a whole number"
	}
	return "a number"
}

func jsonWords(value any) string {
	switch value.(type) {
	case nil:
		return "null"
	case map[string]any:
		return "an object"
	case []any:
		return "a list"
	case string:
		return "a text"
	case bool:
		return "true or false"
	}
	return "a number"
}
