package lines

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"plumbline/schema/words"
)

// token is one word, number or sign of a line, or several words that the table has together.
type token struct {
	from, to int
	text     string
	kind     tokenKind
	// hits are the meanings of a phrase; a number may have some too, such as 12 volt.
	hits []words.Hit
	num  *number
	// used says what became of it.
	used PieceKind
	why  string
	// could are the facts it may mean.
	could []string
	// told is true for a noun that told the line or circuit of another thing.
	told bool
}

type tokenKind int

const (
	unknown tokenKind = iota
	phrase
	figure
	quoted
	filler
	prep // to, from: the noun behind it says where, and is not what is spoken of
	at   // at, @: the number behind it goes with the number before
	no
	with // a comma, and: what follows is another thing
	times
	notKnown
)

// small words, and what they do.
var small = map[string]tokenKind{
	"to": prep, "from": prep, "in": prep, "on": prep, "off": prep, "behind": prep, "before": prep, "after": prep, "near": prep,
	"for": prep, "into": prep, "under": prep, "by": prep, "between": prep, "ahead of": prep, "in front of": prep, "upstream of": prep, "downstream of": prep,
	"at": at, "@": at, "no": no, "not": no, "without": no, "none": no, "w/o": no, "never": no, "isn't": no,
	",": with, ";": with, "and": with, "&": with, "with": with, "plus": with, "+": with, "/": with, "|": with,
	"x": times, "\u00d7": times, "*": times,
	"unknown": notKnown, "dunno": notKnown, "don't know": notKnown, "not known": notKnown, "unsure": notKnown, "not sure": notKnown,
}

var fillers = strings.Fields("the a an is are was were be has have had it its it's that this there of our your i we he got will can fitted installed mounted used using " +
	"each yes only just about. : = - . ( ) ! one's as fed")

var (
	wordAt   = regexp.MustCompile(`^(?:[,;:()!?=|]|[^\s,;:()!?=|]+)`)
	timesAt  = regexp.MustCompile(`^(\d{1,2})[xX\x{d7}]\d`)
	crossAt  = regexp.MustCompile(`^([xX\x{d7}])\d`)
	quotedAt = regexp.MustCompile(`^"[A-Za-z][^"]*"`)
)

// tokens cuts a line into its words, numbers and phrases; ok is false for a line with more than are read.
func tokens(line string) (out []token, ok bool) {
	for i := 0; i < len(line); {
		r, size := utf8.DecodeRuneInString(line[i:])
		if unicode.IsSpace(r) {
			i += size
			continue
		}
		if len(out) == mostTokens {
			return out, false
		}
		t := nextToken(line, i)
		if t.to <= i {
			t.to = i + size
		}
		t.from, t.text = i, line[i:t.to]
		out = append(out, t)
		i = t.to
	}
	return out, true
}

// nextToken reads the longest phrase or number at a place.
func nextToken(line string, i int) token {
	rest := line[i:]
	begins := i == 0 || !isWordEnd(line[:i])
	if begins {
		if m := quotedAt.FindString(rest); m != "" {
			return token{kind: quoted, to: i + len(m)}
		}
	}
	if m := dashAt.FindString(rest); m != "" && begins {
		return token{kind: unknown, to: i + len(m), why: "a dash number names the outside diameter of the tube that fits, not a bore; write the bore, such as 3/8"}
	}
	if m := timesAt.FindStringSubmatch(rest); m != nil && begins { // 4x80 lb/h
		return token{kind: figure, to: i + len(m[1]), num: &number{core: m[1], text: m[1], bare: true, whole: true}}
	}
	if m := crossAt.FindStringSubmatch(rest); m != nil {
		return token{kind: times, to: i + len(m[1])}
	}
	num, length := numberAt(rest)
	hits, small, long := phraseAt(rest)
	switch {
	case num != nil && length >= long:
		t := token{kind: figure, to: i + length, num: num}
		if length == long {
			t.hits = hits
		}
		return t
	case len(hits) > 0:
		return token{kind: phrase, to: i + long, hits: hits}
	case long > 0:
		return token{kind: small, to: i + long}
	}
	return token{kind: unknown, to: i + len(wordAt.FindString(rest))}
}

func isWordEnd(before string) bool {
	r, _ := utf8.DecodeLastRuneInString(before)
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

// phraseAt is the longest form of the table, or small word, that a text begins with.
func phraseAt(text string) (hits []words.Hit, kind tokenKind, length int) {
	ends := wordEnds(text, words.MostWords()+1)
	for _, end := range slices.Backward(ends) {
		form := words.Plain(text[:end])
		found := words.Said(form)
		if found == nil {
			found = words.Said(strings.ReplaceAll(form, "-", " "))
		}
		if found == nil && len(form) > 4 {
			found = words.Said(strings.TrimSuffix(form, "s"))
		}
		if k, ok := small[form]; ok && (!own(found) || k == no || k == with) {
			return nil, k, end
		}
		if slices.Contains(fillers, form) {
			return nil, filler, end
		}
		if first, _, more := strings.Cut(form, " "); more && small[first] == no && !own(found) {
			continue // no return says that there is none
		}
		if found != nil {
			return found, phrase, end
		}
	}
	return nil, unknown, 0
}

// doubts leaves what stands on either side of an or, and what a question mark follows: which is meant nobody can tell.
func doubts(list []token) {
	leave := func(i int, why string) {
		if i >= 0 && i < len(list) && (list[i].kind == figure || list[i].kind == phrase) {
			list[i].kind, list[i].why = unknown, why
		}
	}
	for i := range list {
		switch strings.ToLower(list[i].text) {
		case "or":
			list[i].kind, list[i].why = unknown, "one of two cannot be stated; say which, or write a range"
			leave(i-1, list[i].why)
			leave(i+1, list[i].why)
		case "between": // between tank and pump
			for k := i + 1; k < len(list) && k < i+5; k++ {
				if list[k].kind == with && strings.EqualFold(list[k].text, "and") {
					list[k].kind = filler
					break
				}
			}
		case "?":
			list[i].kind, list[i].why = unknown, "a doubt cannot be stated; write a range, such as 240..270 lph, or leave it out"
			leave(i-1, list[i].why)
		}
	}
}

// own reports whether a form stands in the table's own column of some row.
func own(hits []words.Hit) bool {
	return slices.ContainsFunc(hits, func(h words.Hit) bool { return h.Own })
}

// wordEnds are the ends of the first words of a text, with and without what clings to them, such as a comma.
func wordEnds(text string, most int) []int {
	var ends []int
	i := 0
	for n := 0; n < most && i < len(text); n++ {
		m := wordAt.FindString(text[i:])
		if m == "" {
			break
		}
		if bare := strings.TrimRight(m, ".'\""); bare != "" && bare != m {
			ends = append(ends, i+len(bare))
		}
		i += len(m)
		ends = append(ends, i)
		gap := len(text[i:]) - len(strings.TrimLeft(text[i:], " \t"))
		if gap == 0 {
			break
		}
		i += gap
	}
	return ends
}
