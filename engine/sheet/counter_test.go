package sheet_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"plumbline/designs"
	"plumbline/engine"
	"plumbline/engine/pattern"
	"plumbline/engine/sheet"
	"plumbline/rules"
	"plumbline/schema"
)

// counterList is a half-known list with what an experienced counter hand answers.
type counterList struct {
	Name   string               `yaml:"name"`
	List   string               `yaml:"list"`
	Design yaml.Node            `yaml:"design"`
	Expect map[string]yaml.Node `yaml:"expect"`
	Order  yaml.Node            `yaml:"order"`
	Add    []string             `yaml:"add"`
	Say    []string             `yaml:"must_say"`
	Why    string               `yaml:"why"`
}

// allowed are the verdicts that are right.
func allowed(n yaml.Node) []string {
	if n.Kind == yaml.SequenceNode {
		var out []string
		for _, c := range n.Content {
			out = append(out, c.Value)
		}
		return out
	}
	return []string{n.Value}
}

func lists(t *testing.T) []counterList {
	files, err := filepath.Glob("../../testdata/counter/*.yaml")
	require.NoError(t, err)
	var out []counterList
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		var l counterList
		require.NoError(t, yaml.Unmarshal(data, &l), f)
		out = append(out, l)
	}
	return out
}

// subjectOf is the path that an expectation's key names.
func subjectOf(d *schema.Design, key string) string {
	switch key {
	case "injectors":
		return "design.throttle_body.injectors"
	}
	list, name, named := strings.Cut(key, ".")
	if !named || list == "sensors" {
		return "design." + key
	}
	at := "design." + list
	if list == "feed" || list == "suction" || list == "return_line" {
		at += ".runs"
	}
	for i := range 64 {
		item := fmt.Sprintf("%s[%d]", at, i)
		if f := d.FactAt(item + ".name"); f != nil && f.Text() == name {
			return item
		}
	}
	return "design." + key
}

func TestCounterLists(t *testing.T) {
	lib, err := engine.OpenImage(rules.Files(), rules.Image())
	require.NoError(t, err)
	patterns, err := pattern.Read(designs.Patterns())
	require.NoError(t, err)
	right, all, falseNo, orders, ordersRight := 0, 0, 0, 0, 0
	for _, l := range lists(t) {
		text, err := yaml.Marshal(&l.Design)
		require.NoError(t, err)
		d, err := schema.Load(l.Name, text)
		if err != nil {
			t.Errorf("%s: %v", l.Name, err)
			continue
		}
		s := sheet.SlipOf(d, lib.Judge(d, engine.Options{Patterns: patterns, Regions: nil}))
		got := map[string]*sheet.Part{}
		for i := range s.Parts {
			got[s.Parts[i].Subject] = &s.Parts[i]
		}
		for key, want := range l.Expect {
			all++
			words := allowed(want)
			p := got[subjectOf(d, key)]
			word, why := "", ""
			if p != nil {
				word, why = string(p.Word), p.Text+" "+strings.Join(p.Rules[:min(3, len(p.Rules))], " ")
			}
			if slices.Contains(words, word) {
				right++
				continue
			}
			if word == "no" {
				falseNo++
			}
			t.Logf("%s %s: want %v, got %q: %s", l.Name, key, words, word, why)
		}
		if l.Order.Value == "" && len(l.Order.Content) == 0 {
			continue
		}
		orders++
		if slices.Contains(allowed(l.Order), string(s.Answer)) {
			ordersRight++
		} else {
			t.Logf("%s order: want %v, got %s", l.Name, allowed(l.Order), s.Answer)
		}
	}
	t.Logf("%d of %d verdicts right, %d false NO; %d of %d answers", right, all, falseNo, ordersRight, orders)
}
