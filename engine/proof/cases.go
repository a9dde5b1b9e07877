package proof

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/internal/rule"
	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/document"
	"plumbline/schema/quantity"
)

// CaseResult is one thing found when a rule's cases were run. Problem is empty
// when the case gave what it must.
type CaseResult struct {
	Rule    string
	Case    string
	Place   schema.Place
	Got     engine.Outcome
	Problem string
}

// CheckCases runs the cases of every rule, and reports for every rule the
// outcomes it can reach but no case shows, and the bounds without a case on
// either side within two percent.
func Cases(l *engine.Library) []CaseResult {
	var out []CaseResult
	written := l.Written()
	for _, r := range written.Rules() {
		out = append(out, checkRule(written, r)...)
	}
	return out
}

func checkRule(l *engine.Library, r *rule.Rule) []CaseResult {
	var out []CaseResult
	shown := map[engine.Outcome]bool{}
	var margins []engine.BoundFound
	names, said := map[string]bool{}, map[int]bool{}
	unread := false
	for i := range r.Decl.Cases {
		c := &r.Decl.Cases[i]
		res := CaseResult{Rule: r.ID, Case: c.Name, Place: c.Place}
		findings, err := runCase(l, r, c)
		var places document.Problems
		switch {
		case errors.As(err, &places):
			// Each at its own place, and nothing of what the case would have shown.
			unread = true
			for _, p := range places {
				out = append(out, CaseResult{Rule: r.ID, Case: c.Name, Place: p.Place, Problem: p.Message})
			}
			continue
		case err != nil:
			res.Problem = err.Error()
		case names[c.Name]:
			res.Problem = "the rule has two cases of this name"
		default:
			worst := slices.MinFunc(findings, func(a, b engine.Finding) int { return a.Outcome.Rank() - b.Outcome.Rank() })
			res.Got = worst.Outcome
			shown[worst.Outcome] = true
			for _, f := range findings {
				margins = append(margins, f.Bounds...)
				if f.Outcome == engine.Fail || f.Outcome == engine.Warn {
					said[f.Which] = true
				}
			}
			res.Problem = verdict(c, &worst)
			for i := 0; i < len(findings) && res.Problem == ""; i++ {
				res.Problem = unspeakable(&findings[i], c)
			}
		}
		names[c.Name] = true
		out = append(out, res)
	}
	if unread {
		return out
	}
	for _, want := range reachable(r) {
		if !shown[want] {
			out = append(out, CaseResult{Rule: r.ID, Place: r.Decl.Place, Problem: fmt.Sprintf("no case shows the outcome %q", want)})
		}
	}
	for _, m := range unsaid(r, said) {
		out = append(out, CaseResult{Rule: r.ID, Place: r.Decl.Place, Problem: "no case brings about this remedy: " + m})
	}
	return append(out, boundCases(r, margins)...)
}

// verdict compares a case's outcome with what it expects.
func verdict(c *pack.Case, f *engine.Finding) string {
	if f.Fault != nil {
		return f.Fault.Message
	}
	if string(f.Outcome) != c.Expect {
		detail := strings.Join(append(slices.Clone(f.Missing), f.Unreachable...), ", ")
		if f.Measured != nil {
			detail = "measured " + f.Measured.Text
		}
		if detail != "" {
			detail = " (" + detail + ")"
		}
		return fmt.Sprintf("expected %s, got %s%s", c.Expect, f.Outcome, detail)
	}
	for _, ask := range c.Asks {
		if !slices.ContainsFunc(f.Missing, func(m string) bool { return asks(m, ask) }) {
			return fmt.Sprintf("it should ask for %s; it asks for %s", ask, strings.Join(f.Missing, ", "))
		}
	}
	return ""
}

// asks reports whether a missing path is the one a case names, or lies below it.
func asks(missing, named string) bool {
	rest, is := strings.CutPrefix(missing, named)
	return is && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// reachable lists the outcomes a rule can have.
func reachable(r *rule.Rule) []engine.Outcome {
	out := []engine.Outcome{engine.Pass, engine.Open}
	if r.Must != nil {
		out = append(out, engine.Fail)
	}
	if r.Should != nil {
		out = append(out, engine.Warn)
	}
	if r.Applies != nil {
		out = append(out, engine.NotApplicable)
	}
	return out
}

// boundCases wants, for every bound, a case within two percent of it on either side.
func boundCases(r *rule.Rule, found []engine.BoundFound) []CaseResult {
	var out []CaseResult
	for _, t := range []struct {
		of   string
		test *rule.Test
	}{{"must", r.Must}, {"should", r.Should}} {
		if t.test == nil {
			continue
		}
		for _, b := range t.test.Bounds {
			var inside, outside, any bool
			for _, f := range found {
				if f.Of != t.of || f.Op != b.Op {
					continue
				}
				any = true
				if f.Margin == nil {
					// No fraction of zero or of a temperature: either side counts.
					inside, outside = inside || f.Met, outside || !f.Met
					continue
				}
				inside = inside || f.Met && *f.Margin <= 0.02
				outside = outside || !f.Met && *f.Margin >= -0.02
			}
			for side, ok := range map[string]bool{"inside": inside, "outside": outside} {
				if !any || !ok {
					out = append(out, CaseResult{Rule: r.ID, Place: r.Decl.Place, Problem: fmt.Sprintf("no case within 2 percent %s %s %s", side, t.of, b.Op)})
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b CaseResult) int { return strings.Compare(a.Problem, b.Problem) })
	return out
}

// badCase is what is wrong with how a case is written, at the place of one of its keys.
func badCase(l *engine.Library, r *rule.Rule, n *yaml.Node, path, message string) error {
	return document.Problems{{Place: l.Compiler(r.Pack.Pack).Reader.At(n), Path: path, Message: message}}
}

// checkAsks refuses what a case says is asked where no design has such a fact.
func checkAsks(l *engine.Library, r *rule.Rule, c *pack.Case) error {
	for i, ask := range c.Asks {
		if !strings.HasPrefix(ask, "design.") || l.Declared().Describe(ask).Field.Key != "" {
			continue
		}
		message := "there is no fact " + document.Cut(ask)
		if near := l.Compiler(r.Pack.Pack).Vocabulary.NearestPath(ask); near != "" {
			message += "; did you mean " + near + "?"
		}
		return badCase(l, r, pack.ItemOf(pack.ChildOf(c.Node, "asks"), i), "asks", message)
	}
	return nil
}

// runCase judges one case's partial design by one rule.
func runCase(l *engine.Library, r *rule.Rule, c *pack.Case) ([]engine.Finding, error) {
	d, values, err := loadCase(l, r, c)
	if err != nil {
		return nil, err
	}
	options, err := caseOptions(r, c)
	if err != nil {
		return nil, badCase(l, r, pack.ChildOf(c.Node, "today"), "today", err.Error())
	}
	if err := checkAsks(l, r, c); err != nil {
		return nil, err
	}
	return l.JudgeBy(d, options, values, r), nil
}

// caseOptions are those a case is judged with: in the first region of the rule's pack, on the day it names.
func caseOptions(r *rule.Rule, c *pack.Case) (engine.Options, error) {
	o := engine.Options{Regions: r.Pack.Regions[:min(1, len(r.Pack.Regions))], Waiting: true}
	if c.Today == "" {
		return o, nil
	}
	var err error
	if o.Today, err = time.Parse(time.DateOnly, c.Today); err != nil {
		return o, fmt.Errorf("today is a day such as 2026-01-31, not %q", document.Cut(c.Today))
	}
	return o, nil
}

// openCase loads a case's partial design and the derived values it sets.
func loadCase(l *engine.Library, r *rule.Rule, c *pack.Case) (*schema.Design, derive.Options, error) {
	none := derive.Options{}
	file := l.Compiler(r.Pack.Pack).Reader.Path
	d := l.Declared().Empty()
	if c.Given != nil && !(c.Given.Kind == yaml.MappingNode && len(c.Given.Content) == 0) {
		var err error
		if d, err = l.Declared().LoadNode(file, c.Given); err != nil {
			return nil, none, err
		}
	}
	overrides := map[string]any{}
	for _, a := range c.Assume {
		path, e, err := derivedPath(l, r, d, a.Key)
		if err != nil {
			return nil, none, document.Problems{{Place: a.Place, Path: a.Key, Message: err.Error()}}
		}
		v, err := overrideValue(e, a.Value)
		if err != nil {
			return nil, none, document.Problems{{Place: a.Place, Path: a.Key, Message: err.Error()}}
		}
		overrides[path] = v
	}
	return d, derive.Options{Overrides: overrides}, nil
}

// derivedPath finds the derived value a case names: at.idle.x, design.fuel.x,
// or run.at.idle.x where run is the rule's each, which then means its first item.
func derivedPath(l *engine.Library, r *rule.Rule, d *schema.Design, key string) (string, *derive.Entry, error) {
	path := key
	if rest, ok := strings.CutPrefix(key, r.EachVar+"."); ok && r.EachVar != "" {
		path = r.FirstItem(d) + "." + rest
	}
	part, name := path, path
	if i := strings.Index("."+path, ".at."); i >= 0 {
		part = strings.TrimSuffix(path[:i], ".")
		name = path[strings.LastIndex(path, ".")+1:]
	} else if i := strings.LastIndex(path, "."); i >= 0 {
		part, name = path[:i], path[i+1:]
	}
	if part == "" {
		part = "design"
	}
	e := l.ValueAt(part, name)
	if e == nil {
		var names []string
		for _, e := range derive.All().Of(l.Declared().TypeAt(part)) {
			names = append(names, e.Name)
		}
		near := document.Nearest(name, names)
		if near != "" {
			near = "; did you mean " + strings.TrimSuffix(key, name) + near + "?"
		}
		return "", nil, fmt.Errorf("there is no derived value %s%s", key, near)
	}
	return path, e, nil
}

func overrideValue(e *derive.Entry, s pack.Scalar) (any, error) {
	switch e.Kind {
	case derive.Quantity:
		return quantity.Parse(s.Text, e.Dimension)
	case derive.Number:
		v, err := quantity.Parse(s.Text, quantity.DimRatio)
		if err != nil {
			return nil, err
		}
		return v.SI(), nil
	case derive.Truth:
		if s.Text != "true" && s.Text != "false" {
			return nil, fmt.Errorf("write true or false")
		}
		return s.Text == "true", nil
	}
	return s.Text, nil
}

// unsaid lists the remedies that no case of a rule brought about.
func unsaid(r *rule.Rule, said map[int]bool) []string {
	var out []string
	for i := range r.Decl.Mend {
		if len(r.Decl.Mend) > 1 && !said[i] {
			out = append(out, strings.TrimSpace(r.Decl.Mend.Lines()[i]))
		}
	}
	return out
}

// unspeakable tells what a finding of a case says that a reader cannot use: a word as only a design file writes it, or
// in the sentence of a pass a value that a pass does not need. Values that a case sets instead of computing them leave
// others unknown; there only the words count.
func unspeakable(f *engine.Finding, c *pack.Case) string {
	if f.Outcome != engine.Pass && f.Outcome != engine.Warn && f.Outcome != engine.Fail {
		return ""
	}
	for _, text := range []string{f.Text, f.Remedy} {
		switch word := rule.RawWord.FindString(text); {
		case word != "":
			return fmt.Sprintf("it says %q, which only a design file writes: %s", word, text)
		case f.Outcome == engine.Pass && len(c.Assume) == 0 && (strings.Contains(text, rule.NotKnown) || strings.Contains(text, rule.NoValue)):
			return "its met names what need not be known for a pass: " + text
		}
	}
	return ""
}
