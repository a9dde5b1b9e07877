package sheet_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

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
	data, _ := os.ReadFile(os.Getenv("DESIGN"))
	d, err := schema.Load("a.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	r := lib.Judge(d, engine.Options{Patterns: ps})
	for _, f := range r.Findings {
		if f.Outcome == engine.Open && f.Numeric && (f.Due == "ordered" || f.Due == "planned") && f.Region == "" && !f.Sense {
			if l := f.Leaning; l != nil {
				lo := ""
				if l.Low != nil {
					lo = l.Low.Text + ".." + l.High.Text
				}
				fmt.Println("LEAN", f.Rule, f.Subject, l.Lean, l.Worst, lo, l.Turn, l.Points)
			} else {
				fmt.Println("open", f.Rule, f.Subject, strings.Join(f.Missing, " "), f.Unreachable, "STILL", f.Still)
			}
		}
	}
}
