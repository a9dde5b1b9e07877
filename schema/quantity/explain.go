package quantity

import (
	"slices"
	"strings"
)

// noUnit says why a unit was not found: it measures something else, its case is wrong, it is misspelt, or the text
// is not one quantity at all.
func (p parser) noUnit(key, digits, unit string) (Value, error) {
	digits = strings.Trim(digits, " ")
	low := strings.ToLower(key)
	if u, ok := p.t.findAny(key); ok && p.want != None {
		return p.wrongDimension(u)
	}
	if strings.HasPrefix(low, "ga") && (p.want == DimWireSize || p.want == None) {
		return p.fail("a gauge may be AWG or SAE, whose areas differ", "write "+digits+" AWG or "+digits+" SAE")
	}
	if strings.HasSuffix(low, " vac") || strings.HasSuffix(low, " vacuum") {
		return p.fail("a vacuum is a pressure below zero", "write -18 inHg for 18 inHg of vacuum, or the absolute pressure")
	}
	if after := strings.TrimLeft(strings.TrimPrefix(low, "to"), " "); after != "" && isDigit(after[0]) && (unit[0] == '-' || low != after) {
		return p.fail("one value is expected, not a range", p.likeExample())
	}
	if near := p.caseMates(low); len(near) > 0 {
		for i := range near {
			near[i] = digits + " " + near[i]
		}
		return p.fail("the case of "+clip(unit)+" matters (m is milli, M is mega)", "write "+strings.Join(near, " or "))
	}
	reason := clip(unit) + " is not a unit known here"
	if p.want != None {
		reason = clip(unit) + " is not a unit of " + p.want.words()
	}
	if near := p.nearest(key); near != "" {
		return p.fail(reason, "write "+digits+" "+near)
	}
	if p.want == None {
		return p.fail(reason, p.likeExample())
	}
	return p.fail(reason, "the units are "+p.want.unitList())
}

func (p parser) wrongDimension(u Unit) (Value, error) {
	switch {
	case p.want == DimPressure && u.Dimension == DimAbsolutePressure:
		return p.fail("is an absolute pressure", "a pressure above that of the air is expected: subtract the barometer, e.g. "+Example(p.want))
	case p.want == DimAbsolutePressure && u.Dimension == DimPressure:
		return p.fail("is a gauge pressure", p.want.kind().phrase+" is expected: add the barometer, e.g. "+Example(p.want))
	}
	return p.fail("is "+u.Dimension.kind().phrase, p.want.Expected())
}

// Expected says what is written for a quantity of the dimension.
func (d Dimension) Expected() string { return d.kind().phrase + " is expected, e.g. " + Example(d) }

// words returns the dimension in words without an article.
func (d Dimension) words() string {
	_, words, _ := strings.Cut(d.kind().phrase, " ")
	return words
}

// unitList returns the symbols of a dimension for a message.
func (d Dimension) unitList() string {
	var symbols []string
	for _, u := range units().list {
		if u.Dimension == d {
			symbols = append(symbols, u.Symbol)
		}
	}
	return strings.Join(symbols, ", ")
}

// caseMates returns the symbols of the units that differ from the lower-case key in case only.
func (p parser) caseMates(low string) []string {
	var mates []string
	for _, d := range p.among() {
		for _, s := range p.t.folded[d][low] {
			if symbol := p.t.list[s.unit].Symbol; !slices.Contains(mates, symbol) {
				mates = append(mates, symbol)
			}
		}
	}
	return mates
}

// nearest returns the spelling least edits away from the lower-case key, "" when none is within one. A hint must not turn the
// number into another magnitude: another letter in a word of less than four, two units equally near and a unit with a prefix of its
// own get no hint but the list.
func (p parser) nearest(key string) string {
	low := strings.ToLower(key)
	best, from, least, tied := "", -1, 2, false
	for i, u := range p.t.list {
		if p.want != None && u.Dimension != p.want {
			continue
		}
		for _, s := range u.spellings() {
			switch n := edits(low, strings.ToLower(s), least+1); {
			case n < least:
				best, from, least, tied = s, i, n, false
			case n == least && from >= 0 && from != i:
				tied = true
			}
		}
	}
	if len(low) < 4 && !sameLetters(low, best) {
		return ""
	}
	if tied || best == "" || p.t.prefixed(key) || strings.ToLower(best[:1]) != low[:1] {
		return ""
	}
	return best
}

// sameLetters reports whether two words differ only in the order of their letters.
func sameLetters(a, b string) bool {
	x, y := []byte(a), []byte(strings.ToLower(b))
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// prefixes are those of the SI, as symbols and as names.
var prefixes = strings.Fields("Y Z E P T G M k h da d c m u n p f a z y yotta zetta exa peta tera giga mega kilo hecto deca deka deci centi milli micro nano pico femto atto")

// prefixed reports whether the key is a known unit behind a prefix that makes it a unit of its own: hPa, decibar, nF.
func (t *table) prefixed(key string) bool {
	for _, prefix := range prefixes {
		if rest, ok := strings.CutPrefix(key, prefix); ok && len(rest) > 0 {
			if _, known := t.findAny(rest); known {
				return true
			}
		}
	}
	return false
}

func (p parser) among() []Dimension {
	if p.want == None {
		return Dimensions()
	}
	return []Dimension{p.want}
}

// edits returns the number of letters to insert, delete, change or swap with a neighbour to turn a into b (optimal
// string alignment), or most when it is at least that.
func edits(a, b string, most int) int {
	if d := len(a) - len(b); d >= most || -d >= most {
		return most
	}
	older, old, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range old {
		old[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(old[j]+1, row[j-1]+1, old[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
		older, old, row = old, row, older
	}
	return min(old[len(b)], most)
}
