package engine_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/rules"
	"plumbline/schema"
)

func TestTryLean(t *testing.T) {
	lib, err := engine.OpenImage(rules.Files(), rules.Image())
	if err != nil {
		t.Fatal(err)
	}
	ps, err := pattern.Read(os.DirFS(os.Getenv("PATTERNS")))
	if err != nil {
		t.Fatal(err)
	}
	data, _ := os.ReadFile(os.Getenv("DESIGN"))
	d, err := schema.Load("a.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		start := time.Now()
		r := lib.Judge(d, engine.Options{})
		fmt.Println("plain", time.Since(start), len(r.Findings))
		start = time.Now()
		r = lib.Judge(d, engine.Options{Patterns: ps})
		fmt.Println("lean", time.Since(start))
		n := 0
		for _, f := range r.Findings {
			if f.Leaning != nil {
				n++
				if os.Getenv("SHOW") != "" && f.Leaning.Measured != nil {
					lo, hi := "", ""
					if f.Leaning.Low != nil {
						lo, hi = f.Leaning.Low.Text, f.Leaning.High.Text
					}
					fmt.Println(f.Leaning.Lean, f.Due, f.Rule, f.Subject, f.Leaning.Measured.Text, "[", lo, hi, "]", f.Leaning.Text)
				}
			}
		}
		fmt.Println(n, "lean")
	}
}
