package jsonschemagen

import (
	"strings"

	"github.com/invopop/jsonschema"

	"plumbline/schema/quantity"
)

const (
	// wholeRange lets through what quantity.ParseWholeRange reads: 6..8, 7 +- 1.
	wholeRange = "[0-9].*(?:\\.\\.|\u2026|\u00b1|[+]/?[-\u2010-\u2013\u2212\ufe63\uff0d]).*[0-9]"

	// about is a word or sign for about, which may stand before a number.
	about = "(?:[ \t\u00a0\u2002-\u200a\u202f]*(?:[aA][bB][oO][uU][tT]|[aA][pP][pP][rR][oO][xX](?:[iI][mM][aA][tT][eE][lL][yY])?|[cC](?:[iI][rR][cC])?[aA]|[~\u2248\u223c]))?"

	// rangeMarks may stand among numbers where there is a range.
	rangeMarks = "\u2026\u00b1~\u2248\u223c"
)

// statedSchema is the schema of a quantity that a design states, which may be a range.
func statedSchema(d quantity.Dimension) *jsonschema.Schema {
	s := dimensionSchema(d)
	s.Description += " May be a range, as 280..320 hp is one."
	if d == quantity.DimRatio {
		return s // any digit will do
	}
	wider := "[" + rangeMarks + numeral[1:]
	s.Pattern = strings.Replace(strings.ReplaceAll(s.Pattern, numeral, wider), "^"+wider, "^"+about+wider, 1)
	return s
}
