package lines

import (
	"regexp"
	"slices"
	"strings"

	"plumbline/schema/quantity"
	"plumbline/schema/words"
)

// number is a figure with its unit, or without one.
type number struct {
	// core is the number alone as it is read for a dimension: 300 hp of about 300 hp; text is what the design states.
	core, text string
	// bare has no unit; whole is a bare whole number.
	bare, whole bool
	// taken says what was taken by custom.
	taken string
	// size is true for a wire size.
	size bool
	// date is a day of the calendar.
	date bool
	// wheel is a count of teeth with some left out: 36-1.
	wheel bool
}

const plainNumber = `(?:\d+[ -]\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+|[\x{bc}-\x{be}\x{215b}-\x{215e}])`

var (
	aboutAt  = regexp.MustCompile(`^(?i)(?:about|approx\.?|approximately|around|roughly|circa|ca\.|some|~)\s*`)
	numberRe = regexp.MustCompile(`^[-+]?` + plainNumber)
	rangeAt  = regexp.MustCompile(`^(\d+(?:\.\d+)?)\s*(?:\.\.|-|\x{2013}|to)\s*(\d+(?:\.\d+)?)(?:\s*)`)
	spreadAt = regexp.MustCompile(`^\s*(?:\+-|\+/-|\x{b1})\s*\d+(?:\.\d+)?\s*(?:%|[A-Za-z]+)`)
	dateAt   = regexp.MustCompile(`^\d{4}-\d\d-\d\d\b`)
	blendAt  = regexp.MustCompile(`^[Ee]\d{1,3}\b`)
	gaugeAt  = regexp.MustCompile(`^(?i)#?\s*(\d{1,2}|[1-4]/0)\s*-?(?:gauge|ga)\b\.?`)
	reelAt   = regexp.MustCompile(`^#(\d{1,2})\b(?:\s*(?i:AWG|gauge|ga\b))?`)
	dashAt   = regexp.MustCompile(`^(?i)(?:#?-?\d{1,2}\s*-?an\b|an\s*-?\d{1,2}\b|dash\s*\d{1,2}\b|-\d{1,2}\s+(?:hose|fitting|line)\b)`)
	unitWord = regexp.MustCompile(`^[^\s,;:!?=|@]+`)
	spelt    = regexp.MustCompile(`^(?i)(one half|half|one quarter|quarter|three quarters?|three[ -]eighths?|five[ -]eighths?|five[ -]sixteenths?|one|two|three|four)(?:[ -](?:an )?(inch(?:es)?|in)\b|$|\b)`)
	ratioAt  = regexp.MustCompile(`^\d+(?:\.\d+)?\s*(?::|to)\s*1\b`)
	wheelAt  = regexp.MustCompile(`^(\d{2,3})-([1-4])(?:[\s,;]|$)`)
	shortAge = regexp.MustCompile(`^'(\d\d)\b`)
)

// unitOf are the names of facts that are the unit as well: 650 CCA.
var unitOf = map[string]string{"cca": "A", "cold cranking amps": "A", "cranking amps": "A", "cold crank": "A",
	"max rpm": "rpm", "maximum rpm": "rpm", "redline": "rpm", "red line": "rpm", "rev limit": "rpm", "revs to": "rpm", "idle rpm": "rpm", "idles at": "rpm"}

// inATime is a volume or mass as the flow that is meant when an injector is spoken of: 650 cc, 42 lb.
func (n *number) inATime() *number {
	m := ofInjector.FindStringSubmatch(n.core)
	if m == nil || n.core != n.text {
		return n
	}
	unit := "cc/min"
	if m[2][0] == 'l' || m[2][0] == 'L' {
		unit = "lb/h"
	}
	return &number{core: m[1] + " " + unit, text: m[1] + " " + unit, taken: n.core + " taken as " + unit}
}

var ofInjector = regexp.MustCompile(`^(?i)(\d+(?:\.\d+)?) ?(cc|lbs?)$`)

// withUnit is a bare number with the unit that the name of its fact brings.
func (n *number) withUnit(name string) *number {
	unit := unitOf[strings.ToLower(name)]
	if unit == "" || !n.whole {
		return n
	}
	return &number{core: n.core + " " + unit, text: n.core + " " + unit, taken: n.core + " " + name + " taken as " + n.core + " " + unit}
}

// litres is a bare number with a point as the displacement that is meant before the cylinders: 2.3 four, 5.7 V8.
func (n *number) litres(next *token) *number {
	cylinders := func(h words.Hit) bool { return h.Value != nil && h.Row.Name() == "Engine.cylinders" }
	if !strings.Contains(n.core, ".") || n.core != n.text || !slices.ContainsFunc(next.hits, cylinders) {
		return n
	}
	return &number{core: n.core + " L", text: n.core + " L", taken: n.core + " taken in litres"}
}

// inches are the sizes people say in words.
var inches = map[string]string{"half": "1/2", "one half": "1/2", "quarter": "1/4", "one quarter": "1/4", "three quarter": "3/4", "three quarters": "3/4",
	"three eighth": "3/8", "three eighths": "3/8", "five eighth": "5/8", "five eighths": "5/8", "five sixteenth": "5/16", "five sixteenths": "5/16",
	"one": "1", "two": "2", "three": "3", "four": "4"}

// numberAt reads a number at the beginning of a text, with its unit, and how long it is; nil when there is none.
func numberAt(text string) (*number, int) {
	if lead := aboutAt.FindString(text); lead != "" {
		n, length := numberAt(text[len(lead):])
		if n == nil || n.bare || n.date {
			return nil, 0
		}
		n.text = "about " + n.text
		return n, length + len(lead)
	}
	if m := dateAt.FindString(text); m != "" {
		return &number{core: m, text: m, bare: true, date: true}, len(m)
	}
	if m := gaugeAt.FindStringSubmatch(text); m != nil {
		return &number{core: m[1] + " AWG", text: m[1] + " AWG", size: true, taken: m[0] + " taken as AWG"}, len(m[0])
	}
	if m := reelAt.FindStringSubmatch(text); m != nil {
		return &number{core: m[1] + " AWG", text: m[1] + " AWG", size: true, taken: m[0] + " taken as AWG"}, len(m[0])
	}
	if m := wheelAt.FindStringSubmatch(text); m != nil {
		said := m[1] + "-" + m[2]
		return &number{core: m[1], text: m[1], bare: true, whole: true, wheel: true, taken: said + " taken as " + m[1] + " teeth with " + m[2] + " left out"}, len(said)
	}
	if m := blendAt.FindString(text); m != "" {
		if _, err := quantity.Parse(m, quantity.DimShare); err == nil {
			return &number{core: m, text: m}, len(m)
		}
	}
	if m := shortAge.FindStringSubmatch(text); m != nil && m[1] >= "20" {
		return &number{core: "19" + m[1], text: "19" + m[1], bare: true, whole: true, taken: m[0] + " taken as 19" + m[1]}, len(m[0])
	}
	if n, length := speltInches(text); n != nil {
		return n, length
	}
	if m := ratioAt.FindString(text); m != "" {
		return &number{core: m, text: m}, len(m)
	}
	if n, length := spanAt(text); n != nil {
		return n, length
	}
	digits := numberRe.FindString(text)
	if digits == "" {
		return nil, 0
	}
	if length := unitEnd(text, len(digits)); length > 0 {
		n := &number{core: text[:length], text: text[:length], size: isA(text[:length], quantity.DimWireSize)}
		if s := spreadAt.FindString(text[length:]); s != "" {
			n.text, length = text[:length+len(s)], length+len(s)
		}
		return n, length
	}
	if after := text[len(digits):]; after != "" && isLetter(after[0]) {
		return nil, 0 // 30R7 is no number
	}
	n := &number{core: digits, text: digits, bare: true}
	n.whole = !strings.ContainsAny(digits, "./ -+") && digits[0] < 0x80
	if strings.Contains(digits, "/") || digits[0] >= 0x80 {
		n.taken = digits + " taken in inches"
		n.core, n.text = digits+" in", digits+" in"
	}
	return n, len(digits)
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// speltInches reads half inch, three eighths.
func speltInches(text string) (*number, int) {
	m := spelt.FindStringSubmatch(text)
	if m == nil {
		return nil, 0
	}
	size := inches[strings.ReplaceAll(strings.ToLower(m[1]), "-", " ")]
	if size == "" || m[2] == "" && !strings.Contains(size, "/") {
		return nil, 0
	}
	n := &number{core: size + " in", text: size + " in"}
	if m[2] == "" {
		n.bare, n.taken = true, m[1]+" taken in inches"
	}
	return n, len(m[0])
}

// spanAt reads 280..320 hp, 280-320 hp, 280 to 320 hp.
func spanAt(text string) (*number, int) {
	m := rangeAt.FindStringSubmatch(text)
	if m == nil || strings.HasPrefix(text[len(m[0]):], "/") {
		return nil, 0
	}
	second := strings.LastIndex(text[:len(m[0])], m[2])
	end := unitEnd(text[second:], len(m[2]))
	if end == 0 {
		return nil, 0
	}
	high := text[second : second+end]
	return &number{core: high, text: m[1] + ".." + high, size: isA(high, quantity.DimWireSize)}, second + end
}

// mostUnitWords is how many words a unit has at most, as in 14 ft 6 in.
const mostUnitWords = 4

// unitEnd is where the longest quantity ends whose number has so many bytes; 0 when no unit follows.
func unitEnd(text string, digits int) int {
	var ends []int
	i := digits
	for range mostUnitWords {
		gap := len(text[i:]) - len(strings.TrimLeft(text[i:], " \t-"))
		m := unitWord.FindString(text[i+gap:])
		if m == "" || len(m) > 20 {
			break
		}
		i += gap + len(m)
		if bare := strings.TrimRight(m, ".)"); bare != m && bare != "" {
			ends = append(ends, i-len(m)+len(bare))
		}
		ends = append(ends, i)
	}
	for _, end := range slices.Backward(ends) {
		if text[end-1] == '.' || text[end-1] == ' ' {
			continue
		}
		for _, d := range quantity.Dimensions() {
			if d != quantity.DimDashSize && isA(text[:end], d) {
				return end
			}
		}
	}
	return 0
}

func isA(text string, d quantity.Dimension) bool {
	_, err := quantity.Parse(text, d)
	return err == nil
}

// wholeOf is the whole number that a token is, in digits or as a word; nil for none.
func wholeOf(t *token) *number {
	if t.kind == figure && t.num.whole {
		return t.num
	}
	if digits := counted[strings.ToLower(t.text)]; digits != "" {
		return &number{core: digits, text: digits, bare: true, whole: true}
	}
	return nil
}

// counted are the whole numbers that people write as words.
var counted = map[string]string{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "eight": "8"}
