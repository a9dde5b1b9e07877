package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/rules"
	"plumbline/schema"
)

func TestMissTmp(t *testing.T) {
	lib, _ := engine.OpenImage(rules.Files(), rules.Image())
	ps, err := pattern.Read(designs.Patterns())
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lists(t) {
		text, _ := yaml.Marshal(&l.Design)
		d, err := schema.Load(l.Name, text)
		if err != nil {
			continue
		}
		r := lib.Judge(d, engine.Options{Patterns: ps})
		for _, f := range r.Findings {
			if f.Outcome == engine.Open && f.Leaning == nil && (strings.HasPrefix(f.Rule, "fuel/delivery.flow-at") || strings.HasPrefix(f.Rule, "fuel/injectors.duty") || strings.HasPrefix(f.Rule, "fuel/vapour.inlet-stays")) {
				fmt.Println(l.Name, f.Rule, f.Still)
			}
		}
	}
}
