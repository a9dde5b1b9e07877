package engine

import (
	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// What the packages beside this one take of a library: its compiled rules, and judging by any rule.

// Rules are the compiled rules of the library, in its order.
func (l *Library) Rules() []*rule.Rule { return l.rules }

// Compiler is the compiler of a pack.
func (l *Library) Compiler(pack string) *rule.Compiler { return l.compilers[pack] }

// Vocabulary is what the rules may say.
func (l *Library) Vocabulary() *vocabulary.Vocabulary { return l.vocabulary }

// Functions are what expressions of rules may call, Operators what joins their parts and goes through lists; each with an example.
func Functions() []vocabulary.Function { return vocabulary.Functions() }

// Operators are the operators and list functions of expressions.
func Operators() []vocabulary.Function { return vocabulary.Operators() }

// JudgeBy judges a design by some rules alone, with derived values set from outside.
func (l *Library) JudgeBy(d *schema.Design, o Options, values derive.Options, rules ...*rule.Rule) []Finding {
	return l.judge(d, o, values, rules).Findings
}

// Trial is a design made ready to be judged again and again by changed rules.
type Trial struct{ judging *judging }

// Try makes a design ready to be judged by changed rules.
func (l *Library) Try(d *schema.Design, o Options, values derive.Options) *Trial {
	return &Trial{l.open(d, o, values)}
}

// Judge judges the design by one rule, worst finding first.
func (t *Trial) Judge(r *rule.Rule) []Finding {
	t.judging.rules([]*rule.Rule{r})
	return t.judging.arrange()
}
