package main

import (
	"plumbline/cmd/plumbline/internal/exit"
	"plumbline/cmd/plumbline/internal/shop"
	"plumbline/engine"
	"plumbline/engine/explain"
	"plumbline/engine/glossary"
	"plumbline/engine/report"
	"plumbline/schema/quantity"
)

// explainNumber explains the findings that a job sheet tells under a number, rule by rule.
func (c *Command) explainNumber(n int, args []string, lib *shop.Library, units quantity.System, f explainFlags, g *glossary.Glossary) error {
	in, err := c.inDesign(args[1], lib, units, f)
	if err != nil {
		return err
	}
	told := report.Numbered(in.library.Judge(in.design, in.options))
	switch {
	case len(told) == 0:
		return exit.InputError("the job sheet of %s tells of nothing wrong or doubtful, so there is no finding %d", args[1], n)
	case n < 1 || n > len(told):
		return exit.InputError("the job sheet of %s numbers its findings 1 to %d: there is no finding %d", args[1], len(told), n)
	}
	var list []explanation
	for _, rule := range rulesOf(told[n-1]) {
		for _, x := range explanations(g.Find(rule)) {
			if x.Kind != "rule" {
				continue
			}
			if x.Here, err = in.here(&x, rule, f.tree); err != nil {
				return exit.Failure(err)
			}
			x.Here.only(told[n-1])
			list = append(list, x)
		}
	}
	if f.asJSON {
		return c.printJSON(list)
	}
	return c.printExplanations(list, in, f, args)
}

// rulesOf are the rules of findings, each once.
func rulesOf(list []*engine.Finding) []string {
	var out []string
	seen := map[string]bool{}
	for _, f := range list {
		if !seen[f.Rule] {
			seen[f.Rule] = true
			out = append(out, f.Rule)
		}
	}
	return out
}

// only keeps the findings of a rule that are among some.
func (h *here) only(list []*engine.Finding) {
	among := func(f *engine.Finding) bool {
		for _, o := range list {
			if o.Rule == f.Rule && o.Subject == f.Subject {
				return true
			}
		}
		return false
	}
	if h.Rule != nil {
		var kept []explain.Judged
		for i := range h.Rule.Judged {
			if among(&h.Rule.Judged[i].Finding) {
				kept = append(kept, h.Rule.Judged[i])
			}
		}
		h.Rule = &explain.Rule{Judged: kept}
	}
	var kept []engine.Account
	for i := range h.Rules {
		if among(&h.Rules[i].Finding) {
			kept = append(kept, h.Rules[i])
		}
	}
	h.Rules = kept
}
