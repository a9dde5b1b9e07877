package engine

import (
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
)

// outcome decides between pass, warn, fail, open and not applicable.
func (j *judging) outcome(r *rule.Rule, f *Finding) {
	if r.Applies != nil {
		switch v := r.Applies.Eval(&j.names); v {
		case types.True:
		case types.False:
			f.Outcome = NotApplicable
			return
		default:
			j.unsettled(f, v)
			return
		}
	}
	var measured ref.Val
	if r.Measure != nil {
		measured = r.Measure.Eval(&j.names)
		if types.IsUnknownOrError(measured) {
			if r.Must == nil || r.Must.Condition == nil {
				j.unsettled(f, measured)
				return
			}
		} else {
			n := j.number(measured)
			f.Measured = &n
		}
	}
	strong, weak := "must", "should"
	if r.Milder {
		strong = "should"
	}
	if r.Raised {
		weak = "must"
	}
	must := j.test(r.Must, strong, measured, f)
	if must == types.False {
		f.Outcome = broken(strong)
		return
	}
	if must != types.True {
		j.unsettled(f, must)
		return
	}
	switch should := j.test(r.Should, weak, measured, f); should {
	case types.True:
		f.Outcome = Pass
	case types.False:
		f.Outcome = broken(weak)
	default:
		j.unsettled(f, should)
	}
}

// broken is the outcome when a must or a should is not met.
func broken(of string) Outcome {
	if of == "must" {
		return Fail
	}
	return Warn
}

// test evaluates must or should: true, false, or what keeps it from both.
func (j *judging) test(t *rule.Test, of string, measured ref.Val, f *Finding) ref.Val {
	switch {
	case t == nil:
		return types.True
	case t.Condition != nil:
		return t.Condition.Eval(&j.names)
	}
	out := ref.Val(types.True)
	for _, b := range t.Bounds {
		limit := b.Value
		if b.Prog != nil {
			limit = b.Prog.Eval(&j.names)
		}
		met := compareBound(b.Op, measured, limit)
		if types.IsUnknownOrError(met) {
			if out == types.True {
				out = met
			}
			continue
		}
		f.Bounds = append(f.Bounds, j.boundFound(of, b.Op, measured, limit, met == types.True))
		if met == types.False {
			out = types.False
		}
	}
	return out
}

// absence says why something is absent: the design says that a part is not
// there, or a derived value leaves nothing for it.
func absence(path string) string {
	if strings.HasPrefix(path, "at.") {
		return "there is nothing to judge, with the " + path + " there is"
	}
	return "the design says there is none: " + path
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// unsettled makes a finding open, or not applicable when a part is absent.
func (j *judging) unsettled(f *Finding, v ref.Val) {
	f.Outcome = Open
	if path, ok := vocabulary.AbsentPart(v); ok {
		f.Outcome, f.Absent = NotApplicable, path
		f.Text = capital(absence(path)) + "."
		return
	}
	if e := faulty(v); e != nil {
		f.Unreachable = append(f.Unreachable, e.Error())
		if !j.trial {
			f.Fault = j.fault(j.judged, j.judged.Deciding(), e, f.Subject)
		}
		return
	}
	f.Missing, f.Unreachable = vocabulary.Missing(v)
	for i, reason := range f.Unreachable {
		f.Unreachable[i] = derive.InUnits(reason, j.options.Units)
	}
	if len(f.Missing) == 0 {
		j.blame(f)
	}
}

// blame makes the facts that a value failed on the question of a finding that
// lacks none: what is stated there is to be looked at again.
func (j *judging) blame(f *Finding) {
	if j.trial {
		return
	}
	reads := j.scope.Reads()
	for _, d := range reads.Derived {
		for _, path := range d.Blamed() {
			if !slices.Contains(f.Missing, path) {
				f.Missing = append(f.Missing, path)
			}
		}
	}
	for i := 0; i < len(reads.Facts) && len(f.Missing) == 0; i++ {
		f.Missing = append(f.Missing, reads.Facts[i].Path())
	}
	slices.Sort(f.Missing)
}
