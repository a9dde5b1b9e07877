package engine

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
	"plumbline/rules"
	"plumbline/schema"
)

// listed reads a list of the rules folder: lines of so many cells with tabs between, by their first cell.
func listed(t *testing.T, name string, cells int) map[string][]string {
	t.Helper()
	data, err := pack.ReadFile(rules.Files(), name)
	require.NoError(t, err)
	out := map[string][]string{}
	for line := range strings.SplitSeq(strings.TrimSpace(string(data)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		row := strings.Split(line, "\t")
		require.Len(t, row, cells, line)
		require.NotContains(t, out, row[0])
		require.NotEmpty(t, row[cells-1], line)
		out[row[0]] = row
	}
	return out
}

// Whatever a design can say there is none of stands in the list, with the rules that hold other facts against it
// or the reason why none can.
func TestAbsentParts(t *testing.T) {
	rows := listed(t, "whole/absent.txt", 3)
	lib, err := Load(rules.Files())
	require.NoError(t, err)
	for _, part := range schema.Types() {
		for _, f := range part.Fields {
			field := part.Name + "." + f.Key
			if f.Kind != schema.KindMaybe && f.Kind != schema.KindList {
				continue
			}
			row, found := rows[field]
			if !assert.True(t, found, "%s may be none; say in rules/whole/absent.txt which facts contradict that", field) {
				continue
			}
			delete(rows, field)
			if row[1] == "-" {
				continue
			}
			for name := range strings.SplitSeq(row[1], " ") {
				i := slices.IndexFunc(lib.rules, func(r *rule.Rule) bool { return r.ID == name })
				if assert.GreaterOrEqual(t, i, 0, "%s: there is no rule %s", field, name) {
					assert.True(t, judges(lib.rules[i], f.Key), "%s does not read %s", name, field)
				}
			}
		}
	}
	assert.Empty(t, rows, "these are no fields that may be none")
}

// judges reports whether a fact's key is read by an expression that decides the rule.
func judges(r *rule.Rule, key string) bool {
	return slices.ContainsFunc(r.Deciding(), func(p *vocabulary.Program) bool {
		return slices.ContainsFunc(slices.Concat(p.Facts, strings.FieldsFunc(p.Text, func(c rune) bool { return !(c == '_' || c >= 'a' && c <= 'z') })), func(f string) bool {
			return f == key || strings.HasSuffix(f, "."+key) || strings.Contains(f, "."+key+".") || strings.Contains(f, "."+key+"[")
		})
	})
}
