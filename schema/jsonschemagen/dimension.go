package jsonschemagen

import (
	"slices"
	"strings"
	"unicode"

	"github.com/invopop/jsonschema"

	"plumbline/schema/quantity"
)

const (
	// numeral is a class of every character a number may be written with, and of what may stand before its unit.
	numeral = "[0-9 .,/+eE()*#\u00a0\u2002-\u200a\u202f\u2010-\u2013\u2212\u2044\u2215\u00bc-\u00be\u215b-\u215e\u00b7\u22c5\u2022\u00d7\t\ufe63\uff0d-]"

	// digit is a class of what a number has at least one of.
	digit = "[0-9\u00bc-\u00be\u215b-\u215e]"

	// mostCharacters is the longest quantity read, as quantity.Parse has it.
	mostCharacters = 100
)

// typographic lists the characters data sheets use for the first letter of a unit.
func typographic(letter rune) string {
	switch letter {
	case 'u':
		return "\u00b5\u03bc"
	case 'o':
		return "\u03a9\u2126"
	case 'd':
		return "\u00b0\u00ba\u02da\u2103\u2109"
	case '\'':
		return "\u2032\u2019\u2018"
	case '"':
		return "\u2033\u201d\u201c"
	}
	return ""
}

// dimensionSchema is the schema of a quantity of dimension d. Its pattern asks for a number and, behind it, the first
// letter of one of the units: it lets everything through that quantity.Parse reads, and catches a missing unit and
// most wrong ones while typing. The exact check is the loader's.
func dimensionSchema(d quantity.Dimension) *jsonschema.Schema {
	var symbols []string
	var firsts []rune
	for _, u := range quantity.Units() {
		if u.Dimension != d {
			continue
		}
		symbols = append(symbols, u.Symbol)
		for _, spelling := range append([]string{u.Symbol}, u.Aliases...) {
			for _, first := range spelling {
				firsts = append(firsts, unicode.ToLower(first), unicode.ToUpper(first))
				firsts = append(firsts, []rune(typographic(unicode.ToLower(first)))...)
				break
			}
		}
	}
	slices.Sort(firsts)
	firsts = slices.Compact(firsts)

	s := &jsonschema.Schema{
		Type:        "string",
		Pattern:     "^" + numeral + "*" + digit + numeral + "*" + class(firsts),
		MaxLength:   number(mostCharacters),
		Description: "A number and its unit: " + strings.Join(symbols, ", ") + ".",
		Examples:    []any{quantity.Example(d)},
	}
	switch d {
	case quantity.DimShare: // or the mark of a blend: E10
		s.Description += " Petrol blends also as E10."
		s.Pattern += "|^[ \t]*[eE] *[0-9]"
	case quantity.DimRatio:
		s.Description = "A plain number, or a text with its unit: " + strings.Join(symbols, ", ") + "."
		s.Pattern = digit
		s = &jsonschema.Schema{Description: s.Description, Examples: s.Examples,
			OneOf: []*jsonschema.Schema{{Type: "number"}, {Type: "string", Pattern: s.Pattern, MaxLength: s.MaxLength}}}
	case quantity.DimWireSize: // the name may stand before the size: AWG 12
		s.Pattern = digit + ".*[A-Za-z]|[A-Za-z].*" + digit
	case quantity.DimDashSize:
		s.Pattern = digit
	}
	for _, way := range append(slices.Clone(s.OneOf), s) {
		say(way, d.Expected()+"; the units are "+strings.Join(symbols, ", "))
	}
	return s
}

// class writes a character class; a hyphen goes last and brackets are escaped.
func class(chars []rune) string {
	var b strings.Builder
	b.WriteByte('[')
	for _, r := range chars {
		if strings.ContainsRune(`\]^[`, r) {
			b.WriteByte('\\')
		}
		if r != '-' {
			b.WriteRune(r)
		}
	}
	if slices.Contains(chars, '-') {
		b.WriteByte('-')
	}
	b.WriteByte(']')
	return b.String()
}
