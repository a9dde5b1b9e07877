package report

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// jsonLines writes JSON with a line for every key of an object, and for every item of a list or table of objects; what is
// inside an item stands on its line. A report is read and compared by line, and indentation would be a third of it.
type jsonLines struct{ bytes.Buffer }

// compact writes a value on one line.
func (b *jsonLines) compact(v any) {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic(err) // the engine makes no number that JSON has not
	}
	b.Truncate(b.Len() - 1)
}

func (b *jsonLines) key(name string) {
	b.compact(name)
	b.WriteString(": ")
}

// value writes a struct, a list or a table.
func (b *jsonLines) value(v any) {
	r := reflect.ValueOf(v)
	switch {
	case r.Kind() == reflect.Struct:
		b.object(r)
	case r.Len() == 0:
		b.compact(v)
	case r.Kind() == reflect.Map:
		table := map[string]reflect.Value{}
		for _, key := range r.MapKeys() {
			table[key.String()] = r.MapIndex(key)
		}
		keys := slices.Sorted(maps.Keys(table))
		b.many('{', '}', len(keys), func(i int) {
			b.key(keys[i])
			b.compact(table[keys[i]].Interface())
		})
	default:
		b.many('[', ']', r.Len(), func(i int) { b.compact(r.Index(i).Interface()) })
	}
}

func (b *jsonLines) many(open, end byte, n int, one func(i int)) {
	b.WriteByte(open)
	for i := range n {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
		one(i)
	}
	b.WriteByte('\n')
	b.WriteByte(end)
}

// object writes a struct; keys that may be left out are left out when there is nothing in them, as encoding/json does.
func (b *jsonLines) object(r reflect.Value) {
	var keys []string
	var values []reflect.Value
	for i := range r.NumField() {
		key, options, _ := strings.Cut(r.Type().Field(i).Tag.Get("json"), ",")
		if f := r.Field(i); !strings.Contains(options, "omitempty") || !empty(f) {
			keys, values = append(keys, key), append(values, f)
		}
	}
	b.many('{', '}', len(keys), func(i int) {
		b.key(keys[i])
		if v := values[i]; (v.Kind() == reflect.Slice || v.Kind() == reflect.Map) && v.Type().Elem().Kind() == reflect.Struct {
			b.value(v.Interface())
		} else {
			b.compact(v.Interface())
		}
	})
}

func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map, reflect.String:
		return v.Len() == 0
	}
	return v.IsZero()
}
