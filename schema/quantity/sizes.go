package quantity

import (
	"math/big"
	"strconv"
	"strings"
)

// gauge reads the wire sizes that are not a number and a unit: "12 AWG", "AWG 12", "#12 AWG", "1/0 AWG", "0000 AWG",
// "12 SAE", "SAE 12". The last result is false when the text names no gauge.
func (p parser) gauge(text string) (Value, error, bool) {
	for _, cel := range []string{"AWG", "SAE_wire"} {
		u, _ := UnitByCEL(cel)
		size, ok := cutName(withoutGauge(text), u.Symbol)
		if !ok {
			continue
		}
		size = strings.TrimLeft(strings.TrimPrefix(size, "gauge"), " ")
		n, ok := gaugeNumber(strings.TrimLeft(strings.TrimPrefix(size, "#"), " "))
		if !ok {
			v, err := p.fail("is not "+u.Symbol+" and a size", "write it like 12 "+u.Symbol+" or 1/0 "+u.Symbol)
			return v, err, true
		}
		v, err := p.finish(u, new(big.Rat).SetInt64(int64(n)))
		return v, err, true
	}
	return Value{}, nil, false
}

// withoutGauge drops "gauge", "ga" or "size" at the end, which add nothing once AWG or SAE is named.
func withoutGauge(text string) string {
	text = strings.TrimRight(text, " .")
	for _, word := range []string{"gauge", "size", "ga"} {
		if n := len(text) - len(word); n > 0 && strings.EqualFold(text[n:], word) {
			return strings.TrimRight(text[:n], " .")
		}
	}
	return text
}

// cutName removes a name at the start or the end of text, ignoring case, and the hyphen after a leading one.
func cutName(text, name string) (rest string, ok bool) {
	low, name := strings.TrimRight(strings.ToLower(text), " ."), strings.ToLower(name)
	if rest, ok = strings.CutSuffix(low, name); ok {
		return strings.TrimRight(rest, " "), true
	}
	rest, ok = strings.CutPrefix(low, name)
	return strings.Trim(rest, " -"), ok
}

// gaugeNumber reads 12, 0, 00, 000, 0000, 1/0, 2/0, 3/0, 4/0.
func gaugeNumber(s string) (int, bool) {
	if s != "" && len(s) <= 4 && strings.Trim(s, "0") == "" {
		return 1 - len(s), true
	}
	if len(s) == 3 && s[1:] == "/0" && s[0] >= '1' && s[0] <= '4' {
		return 1 - int(s[0]-'0'), true
	}
	return wholeNumber(s)
}

// dash reads "-6", "dash 6", "-6 AN", "AN-6", "6 JIC" when a dash size is wanted; in texts of any dimension the word or
// letters are needed. The last result is false when the text is no dash size.
func (p parser) dash(text string) (Value, error, bool) {
	size, named := "", false
	for _, name := range []string{"dash", "an", "jic"} {
		rest, ok := cutName(text, name)
		rest = strings.TrimRight(strings.TrimPrefix(rest, "-"), " -")
		if ok && !strings.ContainsFunc(rest, func(r rune) bool { return r < '0' || r > '9' }) {
			size, named = rest, true
		}
	}
	if !named {
		rest, ok := strings.CutPrefix(text, "-")
		if p.want == None || !ok {
			return p.notDash(text)
		}
		size = rest
	}
	n, ok := wholeNumber(strings.TrimPrefix(size, "0"))
	if !ok {
		return p.notDash(text)
	}
	u, _ := UnitByCEL("dash")
	v, err := p.finish(u, new(big.Rat).SetInt64(int64(n)))
	return v, err, true
}

// notDash answers a length given where a dash size is wanted with the dash size of that tube.
func (p parser) notDash(text string) (Value, error, bool) {
	if p.want != DimDashSize {
		return Value{}, nil, false
	}
	if v, err := Parse(text, DimLength); err == nil {
		suggest := "write it like -6"
		if n, _ := dashNumber(v.si); n >= dashLeast && n <= dashMost && near(n, float64(int(n+0.5)), 1e-9) {
			suggest = "write " + dashLiteral(strconv.Itoa(int(n+0.5))) + " for a tube of that outside diameter"
		}
		w, err := p.fail("is a length; a dash size is expected", suggest)
		return w, err, true
	}
	return Value{}, nil, false
}

func dashLiteral(digits string) string { return "-" + strings.TrimLeft(digits, "+-") }

// wholeNumber reads up to three digits without leading zeros.
func wholeNumber(s string) (int, bool) {
	if s == "" || len(s) > 3 || s[0] == '0' || strings.Trim(s, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}
