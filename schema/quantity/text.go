package quantity

import "strings"

// plainText turns the typographic forms found in data sheets into the ASCII ones: no-break spaces, minus signs,
// micro and ohm signs, degree signs, superscripts, primes and vulgar fractions.
func plainText(text string) string {
	ascii := true
	for i := 0; i < len(text); i++ {
		if text[i] >= 0x80 || text[i] == '\t' {
			ascii = false
			break
		}
	}
	if ascii {
		return strings.Trim(text, " ")
	}
	var b strings.Builder
	b.Grow(len(text) + 8)
	letter := false   // whether the character before is a letter of a unit
	digit := false    // whether it is a digit
	number := false   // whether a number has begun: AWG² is not 2 AWG
	fraction := false // whether it is a vulgar fraction
	for _, r := range text {
		if fraction && r >= '0' && r <= '9' {
			b.WriteByte(' ') // ½0 is not 1/20
		}
		switch r {
		case '\t', '\u00a0', '\u2007', '\u2008', '\u2009', '\u200a', '\u202f', '\u2002', '\u2003', '\u2005':
			b.WriteByte(' ')
		case '\u2212', '\u2010', '\u2011', '\u2012', '\u2013', '\ufe63', '\uff0d':
			b.WriteByte('-')
		case '\u00b5', '\u03bc':
			b.WriteByte('u')
		case '\u03a9', '\u2126':
			b.WriteString("ohm")
		case '\u00b0', '\u00ba', '\u02da':
			b.WriteString("deg")
		case '\u2103':
			b.WriteString("degC")
		case '\u2109':
			b.WriteString("degF")
		case '\u00b9', '\u00b2', '\u2082', '\u00b3':
			// Raised digits are powers of units: 10^3 mm must not become 103 mm.
			if !letter || !number {
				b.WriteRune(r)
				break
			}
			b.WriteByte(map[rune]byte{'\u00b9': '1', '\u00b2': '2', '\u2082': '2', '\u00b3': '3'}[r])
		case '\u00b7', '\u22c5', '\u2022', '\u00d7':
			b.WriteByte('*')
		case '\u212a':
			b.WriteByte('K')
		case '\u2032', '\u2019', '\u2018':
			b.WriteByte('\'')
		case '\u2033', '\u201d', '\u201c':
			b.WriteByte('"')
		case '\u2044', '\u2215':
			b.WriteByte('/')
		case '\u2236':
			b.WriteByte(':')
		case '\u00bc':
			b.WriteString(" 1/4")
		case '\u00bd':
			b.WriteString(" 1/2")
		case '\u00be':
			b.WriteString(" 3/4")
		case '\u215b':
			b.WriteString(" 1/8")
		case '\u215c':
			b.WriteString(" 3/8")
		case '\u215d':
			b.WriteString(" 5/8")
		case '\u215e':
			b.WriteString(" 7/8")
		default:
			b.WriteRune(r)
		}
		fraction = r >= '\u00bc' && r <= '\u00be' || r >= '\u215b' && r <= '\u215e'
		// The e of 1e² belongs to the number: a raised digit there is no power of ten.
		letter = (r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') && (!digit || r != 'e' && r != 'E')
		digit = r >= '0' && r <= '9'
		number = number || digit || fraction
	}
	return strings.Trim(b.String(), " ")
}

// carets drops the caret of a power, as in m^3.
var carets = strings.NewReplacer("^1", "1", "^2", "2", "^3", "3")

// unitKey brings a unit to the form the index holds: factors parted by one space, "per" as a slash, no brackets,
// no carets before powers, no abbreviation points; "kPa(a)" and "bar(g)" become "kPa abs" and "bar gauge". Case is kept.
func unitKey(text string) string {
	if plainKey(text) {
		return text
	}
	text = strings.ReplaceAll(text, "(a)", " abs")
	text = strings.ReplaceAll(text, "(abs)", " abs")
	text = strings.ReplaceAll(text, "(g)", " gauge")
	var b strings.Builder
	b.Grow(len(text))
	gap := false
	for word := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(" *-()", r) }) {
		word = strings.TrimRight(carets.Replace(word), ".")
		if strings.EqualFold(word, "per") {
			word = "/"
		}
		if word == "" {
			continue
		}
		if gap && word[0] != '/' {
			b.WriteByte(' ')
		}
		b.WriteString(word)
		gap = word[len(word)-1] != '/'
	}
	return b.String()
}

func plainKey(text string) bool {
	for i := 0; i < len(text); i++ {
		if strings.IndexByte(" *-()^.", text[i]) >= 0 {
			return false
		}
	}
	return true
}
