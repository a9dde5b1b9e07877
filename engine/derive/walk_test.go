package derive

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

// six loads the invented in-line six of the tests.
func six(t testing.TB) *schema.Design {
	t.Helper()
	data, err := os.ReadFile("testdata/six.yaml")
	require.NoError(t, err)
	d, err := schema.Load("six.yaml", data)
	require.NoError(t, err)
	return d
}

// load reads a design of a few lines that names all there is.
func load(t testing.TB, yaml string) *schema.Design {
	t.Helper()
	complete := ""
	if !strings.Contains(yaml, "\ncomplete:") {
		complete = "\ncomplete: all\n"
	}
	d, err := schema.Load("test.yaml", []byte("plumbline: 1\n"+yaml+complete))
	require.NoError(t, err)
	return d
}

// parts visits every part of a design that a derived value can belong to.
func parts(d *schema.Design, visit func(part any)) { walkParts(reflect.ValueOf(d), visit) }

func walkParts(pointer reflect.Value, visit func(part any)) {
	v := pointer.Elem()
	if v.Kind() != reflect.Struct {
		return
	}
	if _, ok := pointer.Interface().(interface{ Path() string }); ok && v.NumField() > 0 && v.Type().Field(0).Name == "Node" {
		visit(pointer.Interface())
	}
	for i := range v.NumField() {
		f := v.Field(i)
		if !v.Type().Field(i).IsExported() || f.Kind() != reflect.Struct {
			continue
		}
		if items := f.FieldByName("Items"); items.IsValid() {
			for j := range items.Len() {
				walkParts(items.Index(j).Addr(), visit)
			}
			continue
		}
		if part := f.FieldByName("Part"); part.IsValid() {
			walkParts(part.Addr(), visit)
			continue
		}
		walkParts(f.Addr(), visit)
	}
}

// ask is one derived value of one part at one point.
type ask struct {
	entry *Entry
	part  any
	point Point
}

// asks lists all derived values of all parts at all points.
func asks(d *schema.Design) []ask {
	var out []ask
	parts(d, func(part any) {
		for _, e := range All().Of(reflect.TypeOf(part).Elem().Name()) {
			if !e.PerPoint {
				out = append(out, ask{e, part, NoPoint})
				continue
			}
			for _, p := range Points() {
				out = append(out, ask{e, part, p})
			}
		}
	})
	return out
}

// everything evaluates all derived values of all parts at all points.
func everything(s *Session) []*Result {
	var out []*Result
	for _, a := range asks(s.Design()) {
		out = append(out, s.Evaluate(a.entry, a.part, a.point))
	}
	return out
}
