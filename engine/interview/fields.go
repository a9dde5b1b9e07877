package interview

import (
	"strings"
	"sync"

	"plumbline/schema"
)

// fields are the fields of every type of part: where each is declared, and which says the same as another in other
// units, all by "Type.key".
type fields struct {
	types map[string]schema.TypeInfo
	place map[string]int
	twins map[string]string
}

var known = sync.OnceValue(func() fields {
	k := fields{map[string]schema.TypeInfo{}, map[string]int{}, map[string]string{}}
	for _, t := range schema.Types() {
		k.types[t.Name] = t
		simple := map[string]bool{}
		for i, f := range t.Fields {
			k.place[t.Name+"."+f.Key] = i
			simple[f.Key] = f.Kind <= schema.KindQuantity
		}
		for _, f := range t.Fields {
			if f.Excludes != "" && simple[f.Key] && simple[f.Excludes] {
				k.twins[t.Name+"."+f.Key], k.twins[t.Name+"."+f.Excludes] = f.Excludes, f.Key
			}
		}
	}
	return k
})

// field is the field at a path; of an item of a list, the list.
func (s *Session) field(path string) schema.FieldInfo {
	return s.o.Declared.Describe(path).Field
}

// twin is the path of the other fact that says the same in other units, such as a flow by mass; "" when there is none.
func twin(path string) string {
	at := strings.LastIndexByte(path, '.')
	key := known().twins[schema.TypeAt(path[:at])+"."+path[at+1:]]
	if key == "" {
		return ""
	}
	return path[:at+1] + key
}

// itemKey is the fact by which the items of a list of parts are told: their name, or their kind where that is the first
// thing said of them; "" when there is none.
func itemKey(f schema.FieldInfo) string {
	if f.Kind != schema.KindList || f.Part == "" {
		return ""
	}
	for at, field := range known().types[f.Part].Fields {
		if field.Key == "name" || at == 0 && field.Key == "kind" && len(field.Words) > 0 {
			return field.Key
		}
	}
	return ""
}
