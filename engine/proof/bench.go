package proof

import (
	"plumbline/engine"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/engine/vocabulary"
)

// openCase is a case whose partial design is ready to be judged again and again.
type openCase struct {
	decl  *pack.Case
	trial *engine.Trial
	// given is what the rule itself makes of it.
	given string
}

// openCases opens the cases of a rule that can be judged at all.
func openCases(l *engine.Library, r *rule.Rule) []*openCase {
	var out []*openCase
	for i := range r.Decl.Cases {
		c := &r.Decl.Cases[i]
		d, values, err := loadCase(l, r, c)
		options, wrong := caseOptions(r, c)
		if err != nil || wrong != nil {
			continue // CheckCases says so
		}
		o := &openCase{decl: c, trial: l.Try(d, options, values)}
		o.given = o.outcome(r)
		out = append(out, o)
	}
	return out
}

// judge judges the case's design by a rule, worst finding first.
func (o *openCase) judge(r *rule.Rule) []engine.Finding {
	return o.trial.Judge(r)
}

// outcome is the verdict on the case: its worst outcome, and what is wrong with it.
func (o *openCase) outcome(r *rule.Rule) string {
	worst := &o.judge(r)[0]
	return string(worst.Outcome) + ": " + verdict(o.decl, worst)
}

// bench compiles changed copies of rules. It belongs to one goroutine.
type bench struct {
	library              *engine.Library
	vocabulary, watching *vocabulary.Vocabulary
	seen                 []Part
}

// bench makes a bench; it fails only when the vocabulary cannot be extended.
func newBench(l *engine.Library) (*bench, error) {
	b := &bench{library: l, vocabulary: l.Vocabulary().Clone()}
	watching, err := l.Vocabulary().Watching(func(part int, value bool) {
		p := &b.seen[part]
		p.True, p.False = p.True || value, p.False || !value
	})
	b.watching = watching
	return b, err
}

// compile compiles a changed declaration of a rule. The error holds what was
// refused, as document.Problems.
func (b *bench) compile(v *vocabulary.Vocabulary, r *rule.Rule, decl *pack.Rule) (*rule.Rule, error) {
	c := *b.library.Compiler(r.Pack.Pack)
	own := *c.Reader
	own.Problems = nil
	c.Reader, c.Vocabulary, c.Used, c.Changed = &own, v, map[string]bool{}, true
	if out := c.Compile(decl, "rules."+decl.ID); out != nil {
		return out, nil
	}
	return nil, own.Problems.Tidy()
}
