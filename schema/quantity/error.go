package quantity

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// ParseError says why a text is not the quantity that was wanted and what to write instead.
type ParseError struct {
	Text    string    // the text as it was read, cut when long
	Want    Dimension // the dimension expected, None when any would do
	Reason  string    // what is wrong; a reason starting with "is " reads on from the text
	Suggest string    // what to write, may be empty
}

// Error returns "text: reason; suggestion", or "text is reason; suggestion".
func (e *ParseError) Error() string {
	var b strings.Builder
	b.WriteString(e.Text)
	if !strings.HasPrefix(e.Reason, "is ") {
		b.WriteByte(':')
	}
	b.WriteByte(' ')
	b.WriteString(e.Reason)
	if e.Suggest != "" {
		b.WriteString("; ")
		b.WriteString(e.Suggest)
	}
	return b.String()
}

// clip makes a text safe to show in a one-line message: short, printable and never empty.
func clip(text string) string {
	const most = 40
	text = strings.TrimSpace(text)
	if text == "" {
		return `""`
	}
	cut := text
	if len(cut) > most {
		cut = cut[:most]
		for len(cut) > 0 && !utf8.ValidString(cut[len(cut)-1:]) {
			cut = cut[:len(cut)-1]
		}
		cut += "..."
	}
	if !utf8.ValidString(cut) || strings.ContainsFunc(cut, func(r rune) bool { return !strconv.IsPrint(r) }) {
		return strconv.Quote(cut)
	}
	return cut
}
