package page

import (
	"html/template"
	"io"
	"strconv"
	"strings"

	"plumbline/engine/report"
	"plumbline/schema/document"
)

// wideText is the width of text that a page breaks by itself.
var wideText = report.TextOptions{Width: 100000}

// saidBy are the paragraphs that a writer of text writes.
func saidBy(write func(w io.Writer) error) []string {
	var b strings.Builder
	if err := write(&b); err != nil {
		return []string{sentence(err.Error())}
	}
	var out []string
	for _, line := range strings.Split(b.String(), "\n") {
		if text := strings.TrimSpace(line); text != "" {
			out = append(out, text)
		}
	}
	return out
}

// functions are those of the templates.
var functions = template.FuncMap{
	"lower": strings.ToLower,
	"word":  func(text string) string { return strings.ReplaceAll(strings.ToLower(text), " ", "-") },
	"bundle": func(pairs ...any) map[string]any {
		out := map[string]any{}
		for i := 0; i+1 < len(pairs); i += 2 {
			out[pairs[i].(string)] = pairs[i+1]
		}
		return out
	},
}

// problemText is a problem of a file in a sentence with its place.
func problemText(p document.Problem) string {
	if p.Place.Line > 0 {
		return "Line " + strconv.Itoa(p.Place.Line) + ": " + sentence(p.Message)
	}
	return sentence(p.Message)
}
