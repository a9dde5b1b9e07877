package diagnose

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
)

// Verdict is the answer in a sentence.
func (d *Diagnosis) Verdict() string {
	if len(d.Held) == 0 && len(d.Seen) == 0 {
		return "No reading is stated that could be held against what was computed."
	}
	first := &d.Candidates[0]
	these, are, explain := "these "+d.what(), "are those", "These "+d.what()
	switch n := len(d.Held); {
	case n == 1:
		these, are, explain = "this 1 reading", "is that", "This 1 reading"
	case n > 1:
		these = fmt.Sprintf("these %d readings", n)
		explain = capital(these)
	}
	same := d.Same(0)
	switch {
	case !d.Explained:
		return fmt.Sprintf("Nothing known here explains %s: not one of the %d troubles tried, nor any two together.", these, d.Tried)
	case len(first.Troubles) == 0 && d.Apart == 1:
		if d.Stretched() {
			return fmt.Sprintf("A sound vehicle can show %s, as far as it is known; to be sure state what is named next.", these)
		}
		return fmt.Sprintf("%s %s of a sound vehicle.", explain, are)
	case len(first.Troubles) == 0:
		return fmt.Sprintf("A sound vehicle explains %s; what else would is told below.", these)
	case len(same) == d.Apart && len(same) > 1:
		return fmt.Sprintf("Most likely: %s.", d.together(same))
	case len(same) > 1:
		return fmt.Sprintf("Most likely: %s; less so what else is told below.", d.together(same))
	case d.Apart > 1:
		leave := "leave"
		if len(d.Held) == 1 {
			leave = "leaves"
		}
		return fmt.Sprintf("Most likely: %s. %s %s %d possibilities.", first.Called(), explain, leave, d.Apart)
	}
	return fmt.Sprintf("Most likely: %s.", first.Called())
}

// Called is what a candidate is called.
func (c *Candidate) Called() string {
	if len(c.Troubles) == 0 {
		return "a sound vehicle"
	}
	var out []string
	for _, t := range c.Troubles {
		text := small(t.Title)
		if len(c.Troubles) > 1 && t.Together != "" { // one of those of which the same is said stands for all
			text = t.Together + ", such as " + text
		}
		if t.Say != "" {
			text += " (" + t.Say + ")"
		}
		out = append(out, text)
	}
	return strings.Join(out, " together with ")
}

// Same are the places of those of the first candidates that would show what one of them shows, itself first.
func (d *Diagnosis) Same(i int) []int {
	out := []int{i}
	for k := i + 1; k < min(d.Apart, len(d.Candidates)); k++ {
		if slices.Contains(d.Candidates[k].Alike, i) {
			out = append(out, k)
		}
	}
	return out
}

// Stretched reports whether only the spread of what is usual explains a reading.
func (d *Diagnosis) Stretched() bool {
	return slices.ContainsFunc(d.Held, func(h Held) bool {
		return h.Own != nil && math.Abs(h.Off) <= 1 && math.Abs(h.Measured.Value-h.Sound.Value) > h.Own.Value
	})
}

// what is what was found: readings, or signs alone.
func (d *Diagnosis) what() string {
	if len(d.Held) == 0 {
		return "signs"
	}
	return "readings"
}

// together names candidates that readings do not tell apart: by what they have in common, or by all their names.
func (d *Diagnosis) together(same []int) string {
	common, names, pairs := "", []string(nil), [][]string(nil)
	for n, i := range same {
		c := &d.Candidates[i]
		own := ""
		if len(c.Troubles) == 1 {
			own = c.Troubles[0].Together
		}
		if n == 0 {
			common = own
		} else if own != common {
			common = ""
		}
		var titles []string
		for _, t := range c.Troubles {
			title := small(t.Title)
			if len(c.Troubles) > 1 && t.Together != "" {
				title = t.Together
			}
			titles = append(titles, title)
		}
		names, pairs = append(names, strings.Join(titles, " with ")), append(pairs, titles)
	}
	if common != "" {
		return fmt.Sprintf("%s%s; in which of %d places these %s do not say", common, d.size(same), len(same), d.what())
	}
	if shared, others := inAll(pairs); shared != "" {
		return fmt.Sprintf("%s, together with one of these, which these %s cannot tell apart: %s", shared, d.what(), either(others))
	}
	return "one of these, which these " + d.what() + " cannot tell apart: " + either(names)
}

// inAll is the one of two titles that all pairs have, and the others; "" where there is none.
func inAll(pairs [][]string) (shared string, others []string) {
	for _, title := range pairs[0] {
		others = nil
		for _, pair := range pairs {
			at := slices.Index(pair, title)
			if len(pair) != 2 || at < 0 {
				others = nil
				break
			}
			others = append(others, pair[1-at])
		}
		if len(others) > 0 {
			return title, others
		}
	}
	return "", nil
}

// size is how large it is where all say the same.
func (d *Diagnosis) size(same []int) string {
	say := d.Candidates[same[0]].Troubles[0].Say
	if say == "" || slices.ContainsFunc(same, func(i int) bool { return d.Candidates[i].Troubles[0].Say != say }) {
		return ""
	}
	return " (" + say + ")"
}

// either lists what may be: a, b or c.
func either(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " or " + list[n-1]
	}
	return strings.Join(list, "")
}

// capital makes the first letter large.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// small makes the first letter small, unless the word is an abbreviation.
func small(s string) string {
	first := []rune(s)
	if len(first) < 2 || unicode.IsUpper(first[1]) {
		return s
	}
	return string(unicode.ToLower(first[0])) + string(first[1:])
}
