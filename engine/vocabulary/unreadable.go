package vocabulary

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// instead says what to write for what other languages, word processors and mathematics write.
var instead = []struct {
	found *regexp.Regexp
	write string
}{
	{regexp.MustCompile(`^[“”„«»]`), "write straight quotes: '...'"},
	{regexp.MustCompile(`^[‘’‚‹›´` + "`" + `]`), "write straight quotes: '...'"},
	{regexp.MustCompile(`^[≤]`), "write <="},
	{regexp.MustCompile(`^[≥]`), "write >="},
	{regexp.MustCompile(`^[≠]`), "write !="},
	{regexp.MustCompile(`^[×·∙⋅]`), "write *"},
	{regexp.MustCompile(`^[÷∶]`), "write /"},
	{regexp.MustCompile(`^[–—−‐‑]`), "write -"},
	{regexp.MustCompile(`^=[<>]`), "write the = last: <= or >="},
	{regexp.MustCompile(`^<>`), "write !="},
	{regexp.MustCompile(`^===`), "write =="},
	{regexp.MustCompile(`^!==`), "write !="},
	{regexp.MustCompile(`^=`), "write =="},
	{regexp.MustCompile(`^&`), "write &&"},
	{regexp.MustCompile(`^\|`), "write ||"},
	{regexp.MustCompile(`(?i)^and\b`), "write &&"},
	{regexp.MustCompile(`(?i)^or\b`), "write ||"},
	{regexp.MustCompile(`(?i)^not\b`), "write ! before what is denied"},
	{regexp.MustCompile(`^(?:if|then|else)\b`), "write condition ? a : b"},
	{regexp.MustCompile(`^;`), "an expression is one: join conditions by && or ||"},
	{regexp.MustCompile(`^%[^0-9A-Za-z(]*$|^%\s*[&|)]`), "write percent(10)"},
}

// readable are the operators that a look for single characters must step over.
var readable = regexp.MustCompile(`^(?:==|!=|<=|>=|&&|\|\||'(?:[^'\\]|\\.)*'|"(?:[^"\\]|\\.)*"|[0-9]+(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?|\.?[A-Za-z_][A-Za-z0-9_]*)`)

var (
	notCall    = regexp.MustCompile(`(?i)^(?:and|or|not|if|then|else)\b`)
	numberUnit = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?)\s*([A-Za-z_µ°%][A-Za-z0-9_/%]*)`)
)

// unreadable finds what keeps an expression from being read that is known to be written elsewhere: curly quotes, a single =,
// the words and, or and not, a number with its unit behind it.
func unreadable(text string) (Fault, bool) {
	line, column := 1, 1
	for rest := text; rest != ""; {
		step := len(string([]rune(rest)[:1]))
		r := []rune(rest)[0]
		own := readable.FindString(rest)
		switch {
		case numberUnit.MatchString(rest):
			m := numberUnit.FindStringSubmatch(rest)
			if unit := unitNamed(m[2]); unit != "" {
				return Fault{line, column, fmt.Sprintf("a quantity is written with the unit first: write %s(%s)", unit, m[1])}, true
			}
			step = len(m[1])
		case own != "" && !notCall.MatchString(own):
			step = len(own)
		default:
			for _, x := range instead {
				if found := x.found.FindString(rest); found != "" {
					return Fault{line, column, fmt.Sprintf("%s is not of the language: %s", strings.TrimSpace(found), x.write)}, true
				}
			}
			if unicode.IsSpace(r) && r > unicode.MaxASCII || unicode.Is(unicode.Cf, r) {
				return Fault{line, column, fmt.Sprintf("here stands an invisible character, U+%04X: write a plain blank", r)}, true
			}
			if r > unicode.MaxASCII {
				return Fault{line, column, fmt.Sprintf("%c (U+%04X) is not of the language: put words and texts in straight quotes", r, r)}, true
			}
		}
		for _, c := range rest[:step] {
			if column++; c == '\n' {
				line, column = line+1, 1
			}
		}
		rest = rest[step:]
	}
	return Fault{}, false
}

var (
	listInBrackets = regexp.MustCompile(`\bin\s*\(\s*['"]`)
	closes         = map[rune]rune{')': '(', ']': '[', '}': '{'}
)

// unclosed finds a quote or bracket that has no other, a list in round brackets, and a ? without its :.
func unclosed(text string) (Fault, bool) {
	if at := listInBrackets.FindStringIndex(text); at != nil {
		return faultAt(text, at[0], "a list stands in square brackets: write in ['...', '...']"), true
	}
	type opened struct {
		r  rune
		at int
	}
	var open []opened
	asked := -1
	for at, rest := 0, text; rest != ""; {
		own := readable.FindString(rest)
		r, size := utf8.DecodeRuneInString(rest)
		switch {
		case own != "":
		case r == '\'' || r == '"':
			return faultAt(text, at, fmt.Sprintf("this quote is not closed: a word stands between two, %c...%c", r, r)), true
		case r == '(' || r == '[' || r == '{':
			open = append(open, opened{r, at})
		case closes[r] != 0:
			if len(open) == 0 || open[len(open)-1].r != closes[r] {
				return faultAt(text, at, fmt.Sprintf("this %c closes nothing: there is no %c for it before", r, closes[r])), true
			}
			open = open[:len(open)-1]
		case r == '?':
			asked = at
		case r == ':':
			asked = -1
		}
		step := max(len(own), size)
		at, rest = at+step, rest[step:]
	}
	switch {
	case len(open) > 0:
		last := open[len(open)-1]
		return faultAt(text, last.at, fmt.Sprintf("this %c is not closed", last.r)), true
	case asked >= 0:
		return faultAt(text, asked, "a ? needs its : too: write condition ? a : b"), true
	}
	return Fault{}, false
}

// faultAt is a fault at an offset in bytes.
func faultAt(text string, at int, message string) Fault {
	before := text[:at]
	return Fault{strings.Count(before, "\n") + 1, len([]rune(before[strings.LastIndexByte(before, '\n')+1:])) + 1, message}
}

// unitNamed is the function of a unit by one of its spellings.
func unitNamed(spelling string) string {
	near := nearUnit(spelling)
	if near == "" {
		return ""
	}
	for _, u := range unitsOf(near) {
		if strings.EqualFold(u, spelling) {
			return near
		}
	}
	return ""
}
