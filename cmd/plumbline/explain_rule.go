package main

import (
	"fmt"
	"slices"
	"strings"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/engine/report"
)

// account writes how a rule came out on one subject.
func (w *writer) account(a *engine.Account) {
	f := &a.Finding
	where := short(f.Subject)
	if f.SubjectName != "" {
		where += ", " + f.SubjectName
	}
	w.line(1, where+": "+report.OutcomeWord(f.Outcome)+" "+bracket(&f.Place))
	w.line(2, f.Text)
	if n := report.Numbers(f); n != "" {
		w.line(2, n)
	}
	told := map[string]bool{}
	for i := range a.Asked {
		w.asked(&a.Asked[i], 2, told)
	}
	for _, path := range f.Assumed {
		value, _, _ := w.session.Assumption(path)
		w.line(2, "Rests on an assumption: "+short(path)+" = "+derive.FactText(value, "", w.options.Units)+groundsOf(w.library.AssumedBecause(path)))
	}
	for i, path := range f.Missing {
		if i == 0 {
			w.line(2, "To settle it, state:")
		}
		w.line(3, w.howToState(path))
	}
	if f.Remedy != "" {
		w.line(2, "Do: "+f.Remedy)
	}
}

// ofWords say which expression of a rule it is.
var ofWords = strings.NewReplacer("at_least", "be at least", "at_most", "be at most", "more_than", "be more than", "less_than", "be less than", "let ", "with ")

// asked writes an expression with its value and those inside it; told is what was said
// already: facts with their lines, and what keeps expressions from a value.
func (w *writer) asked(a *engine.Asked, depth int, told map[string]bool) {
	text := a.Expression + " is " + a.Value
	if a.Of != "" {
		text = ofWords.Replace(a.Of) + ": " + text
	}
	if a.Item != "" {
		text = "of " + strings.TrimSuffix(short(a.Item)+", "+a.ItemName, ", ") + ": " + text
	}
	if a.Path != "" && !told[a.Path] {
		told[a.Path] = true
		switch {
		case a.Place != nil:
			text += " " + bracket(a.Place)
		case strings.HasPrefix(a.Path, "design.") && w.design.Declared().Describe(a.Path).Doc != "":
			text += " [assumed]"
		default:
			text += " [worked out"
			if a.Assumed {
				text += " with an assumption"
			}
			text += "]"
			if w.workedOut == "" {
				w.workedOut = a.Path
			}
		}
	}
	// What keeps it from a value is said where it arises.
	if !slices.ContainsFunc(a.Inside, func(x engine.Asked) bool { return len(x.Missing)+len(x.Why) > 0 }) {
		if missing := w.waitsFor(a.Missing); missing != "" && !told[missing] {
			told[missing] = true
			text += "; " + missing
		}
		for _, why := range a.Why {
			if !told[why] {
				told[why] = true
				text += "; " + why
			}
		}
	}
	w.line(depth, text)
	usual, count := usualItem(a.Inside)
	if count > 0 {
		w.line(depth+1, fmt.Sprintf("%s of %s", usual, itemsWords(a.Inside, usual, count)))
	}
	for i := range a.Inside {
		in := &a.Inside[i]
		if in.Item == "" || count == 0 || in.Value != usual {
			w.asked(in, depth+1, told)
		}
	}
}

// mostFacts are named in a line, the others counted.
const mostFacts = 6

func shortList(paths []string) string {
	var out []string
	for i, p := range paths {
		if i == mostFacts {
			out = append(out, fmt.Sprintf("%d more", len(paths)-mostFacts))
			break
		}
		out = append(out, short(p))
	}
	return strings.Join(out, ", ")
}

// usualItem is the value that most items of a list gave and how many did; none when they are few.
func usualItem(inside []engine.Asked) (value string, n int) {
	count := map[string]int{}
	for _, a := range inside {
		if a.Item == "" {
			continue
		}
		if count[a.Value]++; count[a.Value] > n {
			value, n = a.Value, count[a.Value]
		}
	}
	if n < 3 {
		return "", 0
	}
	return value, n
}

func itemsWords(inside []engine.Asked, value string, n int) string {
	items := 0
	var names []string
	for _, a := range inside {
		if a.Item == "" {
			continue
		}
		items++
		if a.Value == value {
			names = append(names, strings.TrimSuffix(short(a.Item)+", "+a.ItemName, ", "))
		}
	}
	if items == n {
		return fmt.Sprintf("all %d: %s", n, strings.Join(names, "; "))
	}
	return strings.Join(names, "; ")
}
