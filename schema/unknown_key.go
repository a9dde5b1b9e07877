package schema

import (
	"slices"
	"strings"
	"sync"

	"plumbline/schema/document"
)

// mostHomes is how many other places of a misplaced key are named.
const mostHomes = 3

// unknownKey says what to write instead of a key that the part at path does not have.
func unknownKey(key string, plan *typePlan, path string) (message, suggest string) {
	var b strings.Builder
	b.WriteString("unknown key ")
	b.WriteString(document.Cut(key))
	suggest = document.Nearest(key, plan.keys)
	if suggest != "" {
		b.WriteString("; did you mean " + suggest + "?")
	}
	homes := slices.DeleteFunc(slices.Clone(keyHomes()[key]), func(home string) bool { return home == path })
	if n := len(homes); n > 0 {
		more := ""
		if n > mostHomes {
			homes, more = homes[:mostHomes], " and others"
		}
		b.WriteString("; " + key + " belongs under " + strings.Join(homes, ", ") + more)
	}
	if suggest == "" && len(homes) == 0 {
		b.WriteString("; the keys here are " + strings.Join(plan.keys, ", "))
	}
	return b.String(), suggest
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
