package quantity

import (
	"math/big"
	"slices"
	"strings"
	"unicode/utf8"
)

// Range is a quantity known between two ends; Usual is its likely value, the middle where none is written.
type Range struct{ Low, Usual, High Value }

// aboutWidth is the relative width of "about": plus or minus 10 %. Source: common practice; whoever says about 300 hp
// would not be surprised by 275 or 325.
func aboutWidth() *big.Rat { return big.NewRat(1, 10) }

// ParseRange reads a text as a range of dimension want; is reports whether it is written as one, and is false for all
// that Parse reads. The forms are
//
//	280..320 hp, 280 hp..320 hp     between two ends; a unit behind the last number serves them all
//	280..300..320 hp                with the likely value in the middle
//	300 hp +- 5 %, 300 hp ± 15 hp   a width on either side, of the value or in a unit of its own
//	300 +- 15 hp                    the same with one unit
//	about 300 hp, approx., ca., ~   plus or minus 10 % (common practice)
//
// The ends are read by Parse, or computed exactly and rounded once. A width in percent is of the value: it is refused for
// a temperature, whose nought is anywhere, and for a share, of which it could be points. Sizes of a series (wire, dash)
// have no width. Every error is a *ParseError.
func ParseRange(text string, want Dimension) (r Range, is bool, err error) {
	form, plain := formOf(text)
	if form == single {
		return Range{}, false, nil
	}
	p := ranger{parser{clip(text), want, units()}}
	switch {
	case !want.Valid():
		return p.refuse("no dimension to read it as was given", "")
	case !utf8.ValidString(text):
		return p.refuse("is not valid UTF-8 text", p.likeExample())
	}
	switch form {
	case dotted:
		return p.between(plain)
	case widened:
		return p.widened(plain)
	case guessed:
		return p.about(plain)
	}
	// What other hands write between two numbers is only a range where it is no single value.
	if _, err := Parse(text, want); err == nil {
		return Range{}, false, nil
	}
	for _, dots := range withDots(plain) {
		if _, _, err := p.between(dots); err == nil {
			return p.refuse("a range is written with two dots", "write "+dots)
		}
	}
	return Range{}, false, nil
}

// form is how a text is written.
type form int

const (
	single   form = iota
	dotted        // two dots, or what a telephone makes of them
	widened       // plus or minus
	guessed       // about
	doubtful      // a hyphen or "to" between two numbers
)

// formOf tells the form and the text in plain characters, with one spelling of each mark.
func formOf(text string) (form, string) {
	if len(text) > mostBytes || !marked(text) { // Parse refuses a long one
		return single, ""
	}
	plain := rangeMarks.Replace(plainText(text))
	switch {
	case strings.Contains(plain, ".."):
		return dotted, plain
	case strings.Contains(plain, "+-"):
		return widened, plain
	case afterAbout(plain) != "":
		return guessed, plain
	case len(withDots(plain)) > 0:
		return doubtful, plain
	}
	return single, ""
}

// marked looks, cheaply, for anything that a range is written with.
func marked(text string) bool {
	first := true // no character but blanks before
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c >= 0x80, c == '+', c == '-' && !first:
			return true
		case c == '.' && i+1 < len(text) && text[i+1] == '.':
			return true
		case c == 't' && i > 0 && text[i-1] == ' ':
			return true
		case first && (c == '~' || c == 'a' || c == 'A' || c == 'c' || c == 'C'):
			return true
		case c != ' ' && c != '\t':
			first = false
		}
	}
	return false
}

var rangeMarks = strings.NewReplacer("\u2026", "..", "\u00b1", "+-", "+/-", "+-", "\u2248", "~", "\u223c", "~")

// afterAbout is the text behind a word or sign for about; "" when it begins with none.
func afterAbout(plain string) string {
	if rest, ok := strings.CutPrefix(plain, "~"); ok {
		return strings.Trim(rest, " ")
	}
	low := strings.ToLower(plain)
	for _, word := range []string{"about", "approximately", "approx.", "approx", "circa", "ca.", "ca"} {
		rest, ok := strings.CutPrefix(low, word)
		if ok && (strings.HasSuffix(word, ".") || strings.HasPrefix(rest, " ")) && strings.Trim(rest, " ") != "" {
			return strings.Trim(plain[len(word):], " ")
		}
	}
	return ""
}

// withDots are the texts with dots that one with "to" or a hyphen between two numbers may stand for.
func withDots(plain string) []string {
	var out []string
	if low, high, ok := strings.Cut(plain, " to "); ok {
		out = append(out, strings.Trim(low, " ")+".."+strings.Trim(high, " "))
	}
	if dots := hyphenToDots(plain); dots != "" {
		out = append(out, dots)
	}
	return out
}

// hyphenToDots is a text with dots for its hyphen, where that stands between a number or unit and a number: 280-320 hp.
func hyphenToDots(plain string) string {
	for i := 1; i < len(plain)-1; i++ {
		if plain[i] != '-' {
			continue
		}
		before, after := strings.TrimRight(plain[:i], " "), strings.TrimLeft(plain[i+1:], " ")
		if before != "" && after != "" && isDigit(after[0]) && before[len(before)-1] != '-' && before[len(before)-1] != 'e' {
			return before + ".." + after
		}
	}
	return ""
}

// ranger reads one range.
type ranger struct{ parser }

func (p ranger) refuse(reason, suggest string) (Range, bool, error) {
	return Range{}, true, &ParseError{p.text, p.want, reason, suggest}
}

// likeRange is how to write a range of the dimension, by its example.
func (p ranger) likeRange() string { return "write it like " + RangeExample(p.want) }

// between reads two or three parts with dots between them.
func (p ranger) between(plain string) (Range, bool, error) {
	if strings.Contains(plain, "+-") || afterAbout(plain) != "" {
		return p.refuse("a range has two ends, or a value and a width, not both", p.likeRange())
	}
	if strings.Contains(plain, "...") {
		return p.refuse("two dots stand between the ends of a range, and a nought before a decimal point", p.likeRange())
	}
	parts := strings.Split(plain, "..")
	for i := range parts {
		if parts[i] = strings.Trim(parts[i], " "); parts[i] == "" {
			return p.refuse("a range has a number on either side of its dots", p.likeRange())
		}
	}
	if len(parts) > 3 {
		return p.refuse("a range has two ends, and at most the likely value between them", p.likeRange())
	}
	if wrong := p.shareUnit(parts); wrong != nil {
		return Range{}, true, wrong
	}
	values := make([]Value, len(parts))
	for i, part := range slices.Backward(parts) {
		v, err := parse(part, p.want)
		if err != nil {
			return Range{}, true, err
		}
		values[i] = v
	}
	return p.ordered(parts, values)
}

// shareUnit gives the unit behind the last number to those that have none.
func (p ranger) shareUnit(parts []string) *ParseError {
	last := len(parts) - 1
	_, unit, bad := scanNumber(parts[last])
	unit = strings.Trim(unit, " ")
	for i, part := range parts[:last] {
		_, own, alone := scanNumber(part)
		switch _, known := p.find(unitKey(unit)); {
		case alone != nil || strings.Trim(own, " ") != "":
		case bad != nil, unit != "" && !known && unit != ":1":
			if _, err := parse(parts[last], p.want); err != nil || p.want == DimDashSize {
				continue // the last is read first, and Parse says what is wrong with it
			}
			return &ParseError{p.text, p.want, "the unit of the last number does not serve the others", "write the unit behind each number, as in " + twice(Example(p.want))}
		case unit == "":
			// None has a unit, which only a ratio may.
		case unit[0] == ':':
			parts[i] = part + unit
		default:
			parts[i] = part + " " + unit
		}
	}
	if bad != nil || unit != "" || p.want == DimRatio || p.want == DimDashSize || p.want == None {
		return nil
	}
	if _, own, _ := scanNumber(parts[0]); strings.Trim(own, " ") != "" {
		return &ParseError{p.text, p.want, "the unit stands behind the last number, or behind each", "write " + strings.Join(bareParts(parts), "..") + " " + strings.Trim(own, " ")}
	}
	return &ParseError{p.text, p.want, p.want.kind().phrase + " needs a unit", "write " + strings.ReplaceAll(p.want.kind().write, "#", strings.Join(parts, ".."))}
}

// bareParts are the parts of a range without their units.
func bareParts(parts []string) []string {
	out := make([]string, len(parts))
	for i, part := range parts {
		_, rest, _ := scanNumber(part)
		out[i] = strings.Trim(part[:len(part)-len(rest)], " ")
	}
	return out
}

// ordered makes a range of two or three values that stand in the order of their texts.
func (p ranger) ordered(parts []string, values []Value) (Range, bool, error) {
	low, high := values[0], values[len(values)-1]
	switch {
	case low.si == high.si:
		return p.refuse("the two ends of a range are the same", "write the value alone: "+parts[0])
	case low.si > high.si:
		back := strings.Join(turned(parts), "..")
		if p.want == DimWireSize {
			return p.refuse("a range begins with the smaller end, and a larger gauge is a thinner wire", "write "+back)
		}
		return p.refuse("a range begins with the smaller end", "write "+back)
	}
	r := Range{Low: low, High: high}
	if len(values) == 3 {
		if r.Usual = values[1]; r.Usual.si < low.si || r.Usual.si > high.si {
			return p.refuse("the likely value in the middle of a range lies between its ends", "write it between "+parts[0]+" and "+parts[2]+", or leave it out: "+parts[0]+".."+parts[2])
		}
		return r, true, nil
	}
	middle, err := New(low.si+(high.si-low.si)/2, low.dim)
	if err != nil {
		return p.refuse(err.Error(), p.likeRange())
	}
	r.Usual = middle
	return r, true, nil
}

func turned(parts []string) []string {
	out := make([]string, len(parts))
	for i, part := range parts {
		out[len(parts)-1-i] = part
	}
	return out
}

// RangeExample is the example of a dimension, written as a range.
func RangeExample(d Dimension) string {
	switch d {
	case DimWireSize:
		return "14 AWG..12 AWG"
	case DimDashSize:
		return "-6..-8"
	}
	example := Example(d)
	number, unit, bad := scanNumber(example)
	if bad != nil {
		return twice(example)
	}
	if first, rest, two := strings.Cut(strings.TrimSpace(unit), " "); two && strings.ContainsAny(rest, "0123456789") {
		return shownRat(number) + " " + first + ".." + example // in two units, such as 14 ft 6 in
	}
	more := new(big.Rat).Mul(number, big.NewRat(11, 10))
	return shownRat(number) + ".." + shownRat(more) + unit
}

func twice(example string) string { return example + ".." + example }

// shownRat writes a number with at most six decimals.
func shownRat(r *big.Rat) string { return trimZeros(r.FloatString(6)) }

// RangeWithin is RangeExample for a fact of which both ends may be known: the ends themselves where the example lies beyond them.
func RangeWithin(d Dimension, low, high string) string {
	example := RangeExample(d)
	r, _, err := ParseRange(example, d)
	least, errLow := Parse(low, d)
	most, errHigh := Parse(high, d)
	if err != nil || errLow == nil && r.Low.SI() < least.SI() || errHigh == nil && r.High.SI() > most.SI() {
		return low + ".." + high
	}
	return example
}
