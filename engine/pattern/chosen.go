package pattern

import (
	"slices"
	"strings"

	"plumbline/schema"
)

// Choice is a fact that the choice of a pattern among those of its group decides, as a design writes it: none, or {} for a part that is
// there.
type Choice struct{ Path, Value string }

// Chosen is what is stated by choosing a pattern: how its way runs, where another of its group runs otherwise. What all ways of the
// group have in common, numbers, what may be otherwise in such a way, and all of the pieces of its lines is not chosen.
func Chosen(all []*Pattern, name string) []Choice {
	at := slices.IndexFunc(all, func(p *Pattern) bool { return p.Name == name })
	if at < 0 {
		return nil
	}
	chosen := all[at]
	own, order := chosen.said()
	differs := func(key string) bool {
		return slices.ContainsFunc(all, func(p *Pattern) bool {
			if p == chosen || p.Group != chosen.Group {
				return false
			}
			said, _ := p.said()
			return said[key] != "" && said[key] != own[key]
		})
	}
	var out []Choice
	for _, key := range order {
		if !slices.Contains(chosen.Otherwise, schema.Path(key).Short()) && differs(key) {
			out = append(out, Choice{key, own[key]})
		}
	}
	return out
}

// said are the words of a pattern, and which parts it has and has not, by their paths.
func (p *Pattern) said() (said map[string]string, order []string) {
	said = map[string]string{}
	schema.WalkAll(p.Design, func(v schema.Visit) {
		value := ""
		switch {
		case strings.Contains(v.Path, "["):
		case v.Optional != nil && v.Optional.Presence() == schema.Absent:
			value = "none"
		case v.Optional != nil && v.Optional.Presence() == schema.Present:
			value = "{}"
		case v.Reading != nil && v.Reading.Known() && (v.Kind == schema.KindWord || v.Kind == schema.KindBool):
			value = v.Reading.Text()
		}
		if value != "" {
			said[v.Path] = value
			order = append(order, v.Path)
		}
	})
	return said, order
}
