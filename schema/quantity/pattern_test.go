package quantity

import (
	"sort"
	"strings"
)

// Character classes of the patterns.
const (
	blanks   = " \t\u00a0\u2002\u2003\u2005\u2007\u2008\u2009\u200a\u202f"
	minuses  = "\u2212\u2010\u2011\u2012\u2013\ufe63\uff0d"
	blank    = "[" + blanks + "]*"
	joint    = "[" + blanks + ".()*\u00b7\u22c5\u2022\u00d7" + minuses + "-]*" // what may stand between the factors of a unit
	hyphen   = "[" + minuses + "-]"
	slash    = "[/\u2044\u2215]"
	vulgar   = "[\u00bc\u00bd\u00be\u215b-\u215e]"
	decimals = "(?:[0-9]+(?:\\.[0-9]+)?|\\.[0-9]+)(?:[eE][+" + minuses + "-]?[0-9]+)?"
	fraction = "(?:[0-9]+(?:" + blank + hyphen + "|[" + blanks + "]+))?[0-9]+" + slash + "[0-9]+|(?:[0-9]+" + blank + hyphen + "?)?" + vulgar
	unsigned = "(?:" + fraction + "|" + decimals + ")"
	signed   = "[+" + minuses + "-]?" + blank + unsigned
)

// Pattern is what a quantity looks like, told a second time and apart from the parser, which is held to it: a text that
// Parse accepts for d matches. It also lets through what only Parse can refuse (the case of m and M, leading zeros,
// out-of-range gauges). It is "" for None.
func Pattern(d Dimension) string {
	var body string
	switch d {
	case None:
		return ""
	case DimDashSize:
		names := anyCase("dash") + "|" + anyCase("AN") + "|" + anyCase("JIC")
		size := "0?[0-9]{1,2}"
		body = hyphen + "?" + blank + "(?:" + hyphen + size + "|(?:" + names + ")" + joint + size + "|" + size + joint + "(?:" + names + "))" + joint
	case DimShare:
		body = "(?:" + anyCase("E") + blank + "[0-9]{1,3}|" + signed + blank + unitPattern(d) + ")"
	case DimRatio:
		body = signed + blank + "(?:[:\u2236]" + blank + unsigned + "|" + unitPattern(d) + ")?"
	case DimWireSize:
		names := "(?:" + anyCase("AWG") + "|" + anyCase("SAE") + ")"
		size := "#?" + blank + "(?:[0-9]{1,2}|0{3,4}|[1-4]" + slash + "0)"
		after := "(?:" + joint + "(?:" + anyCase("gauge") + "|" + anyCase("ga") + "|" + anyCase("size") + "))?" + joint
		body = "(?:" + names + joint + size + "|" + size + joint + names + after + "|" + signed + blank + unitPattern(d) + ")"
	case DimLength, DimMass, DimTime:
		unit := blank + unitPattern(d)
		body = signed + unit + "(?:" + joint + unsigned + unit + ")?"
	default:
		body = signed + blank + unitPattern(d)
	}
	return "^" + blank + body + blank + "$"
}

// unitPattern matches every spelling of the units of d in any case.
func unitPattern(d Dimension) string {
	seen := map[string]bool{}
	var all []string
	for _, u := range units().list {
		if u.Dimension != d || u.toSI != nil {
			continue
		}
		for _, s := range u.spellings() {
			if p := spellingPattern(unitKey(s)); !seen[p] && s != ":1" {
				seen[p] = true
				all = append(all, p)
			}
		}
	}
	// Longer ones first keeps the matching short; the order is otherwise that of the letters.
	sort.Slice(all, func(i, j int) bool {
		if len(all[i]) != len(all[j]) {
			return len(all[i]) > len(all[j])
		}
		return all[i] < all[j]
	})
	return joint + "(?:" + strings.Join(all, "|") + ")" + joint
}

// spellingPattern matches one unit key with the typographic variants that plainText and unitKey accept.
func spellingPattern(key string) string {
	switch key {
	case "degC":
		return "(?:" + spellingPattern("deg C") + "|\u2103)"
	case "degF":
		return "(?:" + spellingPattern("deg F") + "|\u2109)"
	}
	var b strings.Builder
	for key != "" {
		low := strings.ToLower(key)
		switch {
		case key == " abs":
			b.WriteString(joint + "(?:" + anyCase("abs") + "|\\(a\\))")
			key = ""
		case key == " gauge":
			b.WriteString(joint + "(?:" + anyCase("gauge") + "|\\(g\\))")
			key = ""
		case strings.HasPrefix(low, "ohm"):
			b.WriteString("(?:" + anyCase("ohm") + "|[\u03a9\u2126])")
			key = key[3:]
		case strings.HasPrefix(low, "deg"):
			b.WriteString("(?:" + anyCase("deg") + "|[\u00b0\u00ba\u02da])")
			key = key[3:]
		default:
			b.WriteString(characterPattern(key[0]))
			key = key[1:]
		}
	}
	return b.String()
}

func characterPattern(c byte) string {
	switch c {
	case ' ':
		return joint
	case '/':
		return joint + "(?:" + slash + "|" + anyCase("per") + ")" + joint
	case '1':
		return "\\^?[1\u00b9]"
	case '2':
		return "\\^?[2\u00b2\u2082]"
	case '3':
		return "\\^?[3\u00b3]"
	case 'u', 'U':
		return "[uU\u00b5\u03bc]"
	case 'k', 'K':
		return "[kK\u212a]"
	case '\'':
		return "['\u2032\u2019\u2018]"
	case '"':
		return "[\"\u2033\u201d\u201c]"
	case '.', '^', '$', '*', '+', '?', '(', ')', '[', ']', '{', '}', '|', '\\':
		return "\\" + string(c)
	}
	return anyCase(string(c))
}

// anyCase matches a word in upper or lower case, letter by letter.
func anyCase(word string) string {
	var b strings.Builder
	for _, r := range word {
		lower, upper := strings.ToLower(string(r)), strings.ToUpper(string(r))
		if lower == upper {
			b.WriteString(lower)
		} else {
			b.WriteString("[" + lower + upper + "]")
		}
	}
	return b.String()
}
