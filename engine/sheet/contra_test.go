package sheet_test

import (
	"fmt"
	"testing"

	"gopkg.in/yaml.v3"

	"plumbline/designs"
	"plumbline/engine/pattern"
	"plumbline/schema"
)

func TestContraTmp(t *testing.T) {
	ps, _ := pattern.Read(designs.Patterns())
	for _, l := range lists(t) {
		text, _ := yaml.Marshal(&l.Design)
		d, err := schema.Load(l.Name, text)
		if err != nil {
			continue
		}
		s, ok, n := "", map[string]int{}, map[string]bool{}
		for _, p := range ps {
			n[p.Group] = true
			if c := p.Contradicts(d); c != "" {
				s += " " + p.Name + "(" + c[7:] + ")"
			} else {
				ok[p.Group]++
			}
		}
		for g := range n {
			if ok[g] == 0 {
				fmt.Println(l.Name, "NONE OF", g, s)
			}
		}
		fmt.Println(l.Name, ok)
	}
}
