package sheet_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/engine/sheet"
	"plumbline/rules"
	"plumbline/schema"
)

func TestTry(t *testing.T) {
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
	start := time.Now()
	r := lib.Judge(d, engine.Options{Patterns: ps})
	fmt.Println("lean", time.Since(start))
	s := sheet.SlipOf(d, r)
	fmt.Println(s.Vehicle, "|", s.Answer)
	for _, p := range s.Parts {
		fmt.Println(p.Word, "|", p.Name, p.Stated, "|", p.Text, "->", p.Do, p.Whatever, p.Turn, p.Rules[:min(3, len(p.Rules))], p.More)
	}
	for _, a := range s.Add {
		fmt.Println("ADD", a.Do, a.Rules[:min(3, len(a.Rules))])
	}
	for _, a := range s.Ask {
		fmt.Println("?", a)
	}
	fmt.Println(s.NotLooked)
}
