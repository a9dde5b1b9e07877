package lines

import "strings"

// pieces are the whole text of a line by what became of it.
func pieces(text string, tokens []token) (out []Piece) {
	add := func(part string, kind PieceKind) {
		if part == "" {
			return
		}
		if n := len(out); n > 0 && out[n-1].Kind == kind {
			out[n-1].Text += part
			return
		}
		out = append(out, Piece{part, kind})
	}
	done := 0
	for _, t := range tokens {
		add(text[done:t.from], Between)
		add(text[t.from:t.to], t.used)
		done = t.to
	}
	add(text[done:], Between)
	return out
}

// left are the tokens that were not understood; those side by side with one reason are one.
func left(text string, tokens []token) (out []Left) {
	begin, end, why := 0, -1, ""
	var could []string
	flush := func() {
		if end > begin {
			out = append(out, Left{Text: strings.TrimSpace(text[begin:end]), Why: why, Could: could})
		}
		end = -1
	}
	for _, t := range tokens {
		if t.used != NotTaken {
			flush()
			continue
		}
		if end < 0 || t.why != why {
			flush()
			begin, why, could = t.from, t.why, t.could
		}
		end = t.to
	}
	flush()
	return out
}
