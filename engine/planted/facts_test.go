package planted

import (
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
	"plumbline/testdata/proofs"
)

// silentFacts reads the list of facts that move nothing, with the reason of each.
func silentFacts(t *testing.T) map[string]string {
	t.Helper()
	text, err := fs.ReadFile(rules.Files(), "silent-facts.txt")
	require.NoError(t, err)
	out := map[string]string{}
	for line := range strings.SplitSeq(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		name, reason, ok := strings.Cut(line, "\t")
		require.True(t, ok && len(reason) > 10, line)
		require.NotContains(t, out, name)
		out[name] = reason
	}
	return out
}

// moved lists what a stated fact is moved to: the ends of its range, some values between, every other word.
func moved(v schema.Visit, f schema.FieldInfo) []string {
	var out []string
	if len(f.Words) > 0 {
		for _, w := range f.Words {
			if w != v.Reading.Text() {
				out = append(out, w)
			}
		}
		return out
	}
	switch v.Reading.Any().(type) {
	case bool:
		return []string{"true", "false"}
	case int:
		return slices.Compact([]string{f.Low, f.High, "1", "2", "3"})
	case schema.Date:
		return []string{"1905-01-01", "1969-06-01", "1979-06-01", "1999-06-01", "2026-01-01"}
	case string:
		return []string{"something else"}
	}
	for _, end := range []string{f.Low, f.High} {
		if end != "" {
			out = append(out, end)
		}
	}
	return out
}

// signature is everything that judging a design gives: outcomes, numbers and the derived values behind them.
func signature(r *engine.Report) string {
	var b strings.Builder
	for _, f := range r.Findings {
		fmt.Fprint(&b, f.Rule, f.Subject, f.Outcome, f.Missing)
		if f.Measured != nil {
			fmt.Fprint(&b, f.Measured.Value)
		}
		for _, d := range f.Derived {
			fmt.Fprint(&b, d.Path, d.Text)
		}
	}
	return b.String()
}

// Every stated fact counts: moved over its range and words, in complete designs and for all regions at once, it changes
// the outcome or the number of some finding, or a value behind one; or a rule reads it that needs other facts beside it. The few that only a person or a paper reads stand
// in rules/silent-facts.txt with the reason. With -short a part of the facts is tried.
func TestEveryFactCounts(t *testing.T) {
	t.Parallel()
	lib, err := engine.Load(rules.Files())
	require.NoError(t, err)
	var regions []string
	for _, r := range lib.Regions() {
		regions = append(regions, r.Name)
	}
	options := engine.Options{Regions: regions, Today: time.Date(2026, 11, 27, 0, 0, 0, 0, time.UTC)}
	designs := os.DirFS("../../designs")
	names, err := fs.Glob(designs, "good/*.yaml")
	require.NoError(t, err)
	names = append(names, "demo/six-return.yaml", "demo/van-v6-in-tank.yaml")
	fields := map[string]schema.FieldInfo{}
	for _, part := range schema.Types() {
		for _, f := range part.Fields {
			if f.Part == "" {
				fields[part.Name+"."+f.Key] = f
			}
		}
	}
	silent, field := silentFacts(t), New(lib, designs)
	// What each fact is tried on: a few places in a few builds, those of other words first.
	type place struct {
		build, path string
		visit       schema.Visit
	}
	places, words := map[string][]place{}, map[string]map[string]bool{}
	texts, bases := map[string][]byte{}, map[string]string{}
	for _, name := range names {
		text, err := field.text(name)
		require.NoError(t, err)
		d, err := schema.Load(name, text)
		require.NoError(t, err)
		texts[name] = text
		schema.Walk(d, func(v schema.Visit) {
			key := v.Type + "." + v.Key
			if _, ok := fields[key]; !ok || !v.Reading.Known() || len(places[key]) >= 12 {
				return
			}
			if words[key] == nil {
				words[key] = map[string]bool{}
			}
			if seen := words[key][v.Reading.Text()]; seen && len(places[key]) >= 3 {
				return
			}
			words[key][v.Reading.Text()] = true
			places[key] = append(places[key], place{name, strings.TrimPrefix(v.Path, "design."), v})
		})
	}
	keys := make([]string, 0, len(places))
	for key := range places {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	tried := 0
	for i, key := range keys {
		if !proofs.Whole() && i%32 != 0 {
			continue
		}
		live := false
		for _, p := range places[key] {
			if _, ok := bases[p.build]; !ok {
				d, err := schema.Load(p.build, texts[p.build])
				require.NoError(t, err)
				bases[p.build] = signature(lib.Judge(d, options))
			}
			for _, value := range moved(p.visit, fields[key]) {
				text, err := Change(texts[p.build], p.path+"="+value)
				if err != nil {
					continue
				}
				d, err := schema.Load(p.build, text)
				if err != nil {
					continue
				}
				tried++
				if live = signature(lib.Judge(d, options)) != bases[p.build]; live {
					break
				}
			}
			if live {
				break
			}
		}
		if !live {
			// What counts only beside other facts is shown by the cases of the rule that reads it: each part of it is seen both ways.
			part, name, _ := strings.Cut(key, ".")
			read, _ := lib.Readers(part, name)
			live = len(read) > 0
		}
		_, listed := silent[key]
		assert.True(t, live != listed, "%s: moves something %v, listed as silent %v", key, live, listed)
	}
	t.Logf("%d facts, %d moves", len(keys), tried)
	for key := range silent {
		assert.Contains(t, fields, key, "rules/silent-facts.txt names a fact that is not there")
	}
}
