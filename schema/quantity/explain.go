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
	if near := p.nearest(low); near != "" {
		return p.fail(reason, "write "+digits+" "+near)
	}
	if p.want == None {
		return p.fail(reason, p.likeExample())
	}
	return p.fail(reason, "the units are "+p.want.unitList())
}

func (p parser) wrongDimension(u Unit) (Value, error) {
	expected := p.want.kind().phrase + " is expected"
	switch {
	case p.want == DimPressure && u.Dimension == DimAbsolutePressure:
		return p.fail("is an absolute pressure", "a pressure above that of the air is expected: subtract the barometer, e.g. "+Example(p.want))
	case p.want == DimAbsolutePressure && u.Dimension == DimPressure:
		return p.fail("is a gauge pressure", expected+": add the barometer, e.g. "+Example(p.want))
	}
	return p.fail("is "+u.Dimension.kind().phrase, expected+", e.g. "+Example(p.want))
}

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

// nearest returns the spelling least edits away from the lower-case key, "" when none is near.
func (p parser) nearest(low string) string {
	best, least := "", min(2, (len(low)+1)/2)+1
	for _, d := range p.among() {
		for _, u := range p.t.list {
			if u.Dimension != d {
				continue
			}
			for _, s := range u.spellings() {
				if n := edits(low, strings.ToLower(s), least); n < least {
					best, least = s, n
				}
			}
		}
	}
	return best
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
