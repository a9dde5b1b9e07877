package derive

import (
	"reflect"
	"strings"

	"plumbline/schema"
)

// ByFacts is an assumption that other facts decide: a fuse's resistance by its kind and rating. Of its rows, the last
// counts whose words are those of the facts and whose quantities are not above theirs. While a deciding fact is not
// stated nothing is assumed, and that fact is what is missing.
type ByFacts struct {
	// By are the paths of the deciding facts, list indices written []; each stands beside the fact.
	By   []string
	Rows []AssumedRow
}

// AssumedRow is one row of a ByFacts: a string or a float64 (in SI units) for each deciding fact, and the value in
// the Go type of the fact.
type AssumedRow struct {
	When []any
	Is   any
}

// choose is the value of the row that counts; nil when none does.
func (a *ByFacts) choose(facts []any) any {
	var out any
	for _, row := range a.Rows {
		if row.holds(facts) {
			out = row.Is
		}
	}
	return out
}

func (r *AssumedRow) holds(facts []any) bool {
	for i, want := range r.When {
		switch want := want.(type) {
		case string:
			if reflect.ValueOf(facts[i]).String() != want {
				return false
			}
		case float64:
			q, ok := facts[i].(interface{ SI() float64 })
			if !ok || q.SI() < want*(1-1e-9) {
				return false
			}
		}
	}
	return true
}

// standIn is what is assumed for a fact that is not stated.
type standIn struct {
	value any
	// by are the stated facts that decided, missing is the first that is not stated.
	by      []schema.Reading
	missing string
}

// assumption finds what is assumed for the fact at a path.
func (s *Session) assumption(path string) (standIn, bool) {
	if len(s.options.Assumptions) == 0 {
		return standIn{}, false
	}
	v, ok := s.options.Assumptions[string(schema.Path(path).Generic())]
	by, decided := v.(*ByFacts)
	if !ok || !decided {
		return standIn{value: v}, ok
	}
	var out standIn
	facts := make([]any, len(by.By))
	for i, generic := range by.By {
		at := indexed(generic, path)
		fact := s.design.FactAt(at)
		if fact == nil || !fact.Known() {
			return standIn{missing: at, by: out.by}, false
		}
		facts[i], out.by = fact.Any(), append(out.by, fact)
	}
	out.value = by.choose(facts)
	return out, out.value != nil
}

// indexed gives a path without indices those of another path that begins alike.
func indexed(generic, like string) string {
	keys, have := strings.Split(generic, "."), strings.Split(like, ".")
	for i, key := range keys {
		name, isItem := strings.CutSuffix(key, "[]")
		if isItem && i < len(have) && strings.HasPrefix(have[i], name+"[") {
			keys[i] = have[i]
		}
	}
	return strings.Join(keys, ".")
}

// Assumption returns the value assumed for a fact that is not stated. Where there is none because a fact that would
// decide it is not stated, missing is that fact.
func (s *Session) Assumption(path string) (value any, missing string, ok bool) {
	a, ok := s.assumption(path)
	return a.value, a.missing, ok
}

// AssumptionBy is Assumption with what has read the stated facts that decide; nil where none do.
func (s *Session) AssumptionBy(path string) (value any, missing string, by *Result, ok bool) {
	a, ok := s.assumption(path)
	if len(a.by) > 0 {
		by = &Result{}
		for _, fact := range a.by {
			by.reads = append(by.reads, fact)
		}
	}
	return a.value, a.missing, by, ok
}
