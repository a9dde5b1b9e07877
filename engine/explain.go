package engine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"

	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
	"plumbline/schema"
)

// Account is how one rule came out on one subject, with what each of its
// expressions gave.
type Account struct {
	Finding Finding `json:"finding"`
	Asked   []Asked `json:"asked,omitempty"`
}

// Asked is one expression of a rule, or one inside it, with its value.
type Asked struct {
	// Of says which it is: each, applies, let NAME, measure, must or should, and
	// with bounds must at_least; empty for those inside another.
	Of string `json:"of,omitempty"`
	// Expression is its text.
	Expression string `json:"expression"`
	// Value is true, false, unknown, absent (it reads a part the design says is not there) or a value with its unit.
	Value string `json:"value"`
	// Item is the item of a list it was asked of, with its name.
	Item     string `json:"item,omitempty"`
	ItemName string `json:"item_name,omitempty"`
	// Missing are the facts an unknown waits for, Why what else keeps it from a value.
	Missing []string `json:"missing,omitempty"`
	Why     []string `json:"why,omitempty"`
	// Path and Place are those of the fact a bare name read; a derived value has no place.
	Path    string        `json:"path,omitempty"`
	Place   *schema.Place `json:"place,omitempty"`
	Assumed bool          `json:"assumed,omitempty"`
	Inside  []Asked       `json:"inside,omitempty"`
}

// Session evaluates the derived values of a design as Judge sees them: with the packs' assumptions, unless they are left out.
func (l *Library) Session(d *schema.Design, o Options) *derive.Session {
	return derive.NewSession(d, l.values(o))
}

// values are what sessions are told.
func (l *Library) values(o Options) derive.Options {
	if o.NoAssumptions {
		return derive.Options{}
	}
	return derive.Options{Assumptions: l.assumptions}
}

// AssumedBecause are the grounds of the value that is assumed for a fact.
func (l *Library) AssumedBecause(path string) []rule.Ground {
	return l.grounds[string(schema.Path(path).Generic())]
}

// Account judges a design by one rule and accounts for every subject. It is
// empty when the rule applies only in other regions, or one of a narrower region takes its place.
func (l *Library) Account(d *schema.Design, o Options, name string) ([]Account, error) {
	i := slices.IndexFunc(l.rules, func(r *rule.Rule) bool { return r.ID == name })
	if i < 0 {
		return nil, fmt.Errorf("there is no rule %s", name)
	}
	o.Waiting = true
	r, values := l.rules[i].Ready(), l.values(o)
	opened := l.open(d, o, values)
	if opened.replaced(l.rules)[name] {
		return nil, nil
	}
	var out []Account
	for _, f := range l.judge(d, o, values, []*rule.Rule{r}).Findings {
		if f.Rule == name {
			out = append(out, Account{Finding: f})
		}
	}
	a := &accounting{judging: opened, rule: r, vocabulary: l.vocabulary.Clone(), vars: slices.Clone(l.compilers[r.Pack.Pack].AllVars())}
	slices.SortStableFunc(out, func(x, y Account) int { return x.Finding.Place.Compare(y.Finding.Place) })
	err := a.subjects(out)
	return out, err
}

// accounting traces one rule on one design.
type accounting struct {
	*judging
	rule       *rule.Rule
	vocabulary *vocabulary.Vocabulary
	vars       []vocabulary.Variable
	err        error
}

// subjects traces the rule on every subject.
func (a *accounting) subjects(out []Account) error {
	r := a.rule
	a.of(r)
	if r.Each == nil {
		for i := range out {
			a.at(&out[i])
			out[i].Asked = a.subject()
		}
		return a.err
	}
	list := r.Each.Eval(&a.names)
	items, listed := vocabulary.ItemsOf(list)
	vars := append(a.vars, vocabulary.Variable{Name: r.EachVar, Type: r.Each.Type.Parameters()[0], Words: r.Each.Words})
	// unlisted traces a finding about items nobody stated: what applies asks beside them may have ruled it out.
	unlisted := func(x *Account, unknown ref.Val) {
		each := a.ask("each", r.Each.Text)
		x.Asked = []Asked{each}
		if x.Finding.Outcome == NotApplicable && x.Finding.Absent == "" {
			a.vars, a.names.own = slices.Clone(vars), append(a.names.own[:0], ownName{r.EachVar, unknown})
			x.Asked = append(x.Asked, a.subject()...)
		}
	}
	if len(items) == 0 {
		for i := range out {
			if listed {
				out[i].Asked = []Asked{a.ask("each", r.Each.Text)}
			} else {
				unlisted(&out[i], list)
			}
		}
		return a.err
	}
	for _, item := range items {
		missing, _ := vocabulary.Missing(item)
		at := slices.IndexFunc(out, func(x Account) bool {
			return x.Finding.Subject == vocabulary.PathOf(item) || slices.Contains(missing, x.Finding.Subject)
		})
		switch {
		case at < 0:
			continue
		case len(missing) > 0:
			unlisted(&out[at], item)
			continue
		}
		a.at(&out[at])
		a.vars, a.names.own = slices.Clone(vars), append(a.names.own[:0], ownName{r.EachVar, item})
		out[at].Asked = a.subject()
	}
	for i := range out {
		if x := &out[i]; x.Finding.Absent == r.List() && len(x.Asked) == 0 {
			x.Asked = []Asked{a.ask("each", r.Each.Text)} // only a spare part was there, of which nothing is stated
		}
	}
	return a.err
}

// at takes up the figures of the place by which a finding came out.
func (a *accounting) at(x *Account) {
	if p := x.Finding.place; p != nil {
		a.place = p
		a.of(a.rule)
	}
}

// subject traces the expressions of the rule in the order they are judged: no
// further than the one that settles the outcome.
func (a *accounting) subject() []Asked {
	r, lets := a.rule, []Asked{}
	for _, l := range r.Lets {
		lets = append(lets, a.ask("let "+l.Name, l.Prog.Text))
		a.names.own = append(a.names.own, ownName{l.Name, l.Prog.Eval(&a.names)})
		a.vars = append(a.vars, vocabulary.Variable{Name: l.Name, Type: l.Prog.Type, Words: l.Prog.Words})
	}
	if r.Applies != nil {
		applies := a.ask("applies", r.Applies.Text)
		if applies.Value != "true" {
			return append(a.mentioned(lets, r.Applies), applies)
		}
		lets = append(lets, applies)
	}
	out := lets
	if r.Measure != nil {
		out = append(out, a.ask("measure", r.Measure.Text))
	}
	must, met := a.test("must", r.Must)
	out = append(out, must...)
	if met {
		should, _ := a.test("should", r.Should)
		out = append(out, should...)
	}
	return out
}

// mentioned keeps the lets that an expression, or a let it mentions, mentions.
func (a *accounting) mentioned(lets []Asked, p *vocabulary.Program) []Asked {
	needed := slices.Clone(p.Names)
	var out []Asked
	for i, l := range slices.Backward(a.rule.Lets) {
		if slices.Contains(needed, l.Name) {
			needed = append(needed, l.Prog.Names...)
			out = append(out, lets[i])
		}
	}
	slices.Reverse(out)
	return out
}

// test traces must or should and reports whether it is met.
func (a *accounting) test(of string, t *rule.Test) ([]Asked, bool) {
	switch {
	case t == nil:
		return nil, true
	case t.Condition != nil:
		asked := a.ask(of, t.Condition.Text)
		return []Asked{asked}, asked.Value == "true"
	}
	measured, out, all := a.rule.Measure.Eval(&a.names), []Asked(nil), true
	for _, b := range t.Bounds {
		bound := Asked{Of: of + " " + b.Op, Expression: a.rule.Measure.Text + " " + boundSigns[b.Op] + " "}
		limit := b.Value
		if b.Prog != nil {
			limit = b.Prog.Eval(&a.names)
			bound.Expression += b.Prog.Text
			bound.Inside = []Asked{a.ask("", b.Prog.Text)}
		} else {
			bound.Expression += a.number(limit).Text
		}
		a.valued(&bound, compareBound(b.Op, measured, limit))
		all = all && bound.Value == "true"
		out = append(out, bound)
	}
	return out, all
}

var boundSigns = map[string]string{"at_least": ">=", "at_most": "<=", "more_than": ">", "less_than": "<"}

// ask traces one expression.
func (a *accounting) ask(of, text string) Asked {
	t, err := a.vocabulary.Trace(a.scope, text, a.vars, &a.names)
	if err != nil {
		if a.err == nil {
			a.err = fmt.Errorf("%s: %s: %w", a.rule.ID, text, err)
		}
		return Asked{Of: of, Expression: text}
	}
	out := a.asked(t)
	out.Of = of
	return out
}

func (a *accounting) asked(t *vocabulary.Trace) Asked {
	out := Asked{Expression: t.Text, Item: t.Item, ItemName: t.Name}
	a.valued(&out, t.Value)
	for _, p := range t.Parts {
		out.Inside = append(out.Inside, a.asked(p))
	}
	switch r := t.Reads; {
	case len(r.Facts) > 0:
		fact := r.Facts[0]
		out.Path, out.Value = fact.Path(), derive.FactText(fact.Any(), fact.Text(), a.options.Units)
		if place := fact.Place(); !place.IsZero() {
			out.Place = &place
		}
	case len(r.Derived) > 0:
		out.Path, out.Assumed = r.Derived[0].Path, len(r.Assumed) > 0
	case len(r.Assumed) > 0:
		out.Path, out.Assumed = r.Assumed[0], true
	}
	return out
}

// valued gives an expression its value in words, and what keeps it from one.
func (a *accounting) valued(out *Asked, v ref.Val) {
	switch x := v.(type) {
	case types.Bool:
		out.Value = fmt.Sprint(bool(x))
	case *types.Unknown:
		out.Value = "unknown"
		var why []string
		out.Missing, why = vocabulary.Missing(v)
		out.Why = inUnits(why, a.options)
	case *types.Err:
		out.Value = "unknown"
		if part, ok := vocabulary.AbsentPart(v); ok {
			out.Value, out.Why = "absent", []string{absence(part)}
		} else {
			out.Why = []string{x.Error()}
		}
	case traits.Lister:
		items, _ := vocabulary.ItemsOf(v)
		out.Value = fmt.Sprintf("%d items", len(items))
		for _, item := range items {
			missing, _ := vocabulary.Missing(item)
			out.Missing = append(out.Missing, missing...)
		}
		if len(out.Missing) > 0 {
			out.Value = "unknown" // some of its lists are not stated, or not all of one is named
		}
	case types.String:
		out.Value = string(x)
	case vocabulary.Quantity, types.Double, types.Int, types.Timestamp:
		out.Value = a.words(v)
	default:
		out.Value = strings.TrimSuffix(vocabulary.PathOf(v)+", "+vocabulary.NameOf(v), ", ")
	}
}

func inUnits(reasons []string, o Options) []string {
	var out []string
	for _, r := range reasons {
		out = append(out, derive.InUnits(r, o.Units))
	}
	return out
}
