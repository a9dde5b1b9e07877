package report

import (
	"strings"

	"plumbline/engine/whatif"
)

// withSizes adds to what to do the sizes that would: each by itself, with what is wrong with the one next to it.
func withSizes(do string, sizes []whatif.Instead) string {
	if len(sizes) == 0 {
		return do
	}
	var does []string
	for i := range sizes {
		if sizes[i].Called != "" {
			does = append(does, sizeWords(&sizes[i]))
		}
	}
	text := "Would do: " + strings.Join(does, ", or ")
	if len(does) == 0 {
		text = "No size of the series does by itself"
	}
	if do == "" {
		return text
	}
	return do + ". " + text
}

// sizeWords say what would do.
func sizeWords(x *whatif.Instead) string {
	text := clean(x.Called)
	if x.Not != nil && x.Not.Text != "" {
		worst := " "
		if x.Not.Worst {
			worst = ", at the usual worst, "
		}
		text += " (with " + clean(x.Not.Size) + worst + uncapital(shortly(x.Not.Text)) + ")"
	}
	return text
}

// shortly is the first statement of a text, without what it is made of.
func shortly(text string) string {
	text, _, _ = strings.Cut(clause(text), ": ")
	return text
}
