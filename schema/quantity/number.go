package quantity

import (
	"math/big"
	"strings"
)

const (
	mostBytes    = 100 // longest text read
	mostDigits   = 40  // most digits of one number
	mostExponent = 30  // largest power of ten, either sign
)

// flaw is what is wrong with a number, and what to write instead.
type flaw struct{ reason, suggest string }

// scanNumber reads a number at the start of s: decimal (-1.5e3), fraction (3/8) or mixed number (1 1/2, 1-1/2).
// It returns the exact value and the rest of the text. The size limits keep the work small on any input.
func scanNumber(s string) (*big.Rat, string, *flaw) {
	sign, rest := "", s
	if rest != "" && (rest[0] == '-' || rest[0] == '+') {
		sign, rest = rest[:1], strings.TrimLeft(rest[1:], " ")
	}
	whole, rest := cutDigits(rest)
	decimal := whole
	if len(rest) > 1 && rest[0] == '.' && isDigit(rest[1]) {
		part, after := cutDigits(rest[1:])
		decimal, rest = whole+"."+part, after
	}
	if decimal == "" {
		return nil, s, &flaw{"does not start with a number", ""}
	}
	if f := checkDigits(whole, decimal, rest); f != nil {
		return nil, s, f
	}

	// A power of ten only counts as one when digits follow the e.
	power, rest := cutExponent(rest)
	if f := checkExponent(power); f != nil {
		return nil, s, f
	}
	if decimal == whole && power == "" {
		if r, after, f := scanFraction(sign, whole, rest); r != nil || f != nil {
			return r, after, f
		}
	}
	if f := checkTail(rest); f != nil {
		return nil, s, f
	}
	r, ok := new(big.Rat).SetString(sign + decimal + power)
	if !ok {
		return nil, s, &flaw{"is not a number that can be read", ""}
	}
	return r, rest, nil
}

// scanFraction reads the rest of "3/8", "1 1/2" or "1-1/2" after the leading whole number. It returns nil, nil when
// there is no fraction.
func scanFraction(sign, whole, rest string) (*big.Rat, string, *flaw) {
	base, above, below := "0", whole, ""
	after := rest
	if len(rest) > 1 && rest[0] == '/' && isDigit(rest[1]) {
		below, after = cutDigits(rest[1:])
	} else {
		gap := strings.TrimLeft(rest, " ")
		if gap != "" && gap[0] == '-' {
			gap = gap[1:]
		} else if len(gap) == len(rest) {
			return nil, rest, nil
		}
		base = whole
		above, after = cutDigits(gap)
		if above == "" || len(after) < 2 || after[0] != '/' || !isDigit(after[1]) {
			return nil, rest, nil
		}
		below, after = cutDigits(after[1:])
	}
	for _, digits := range []string{above, below} {
		if len(digits) > mostDigits {
			return nil, rest, tooLong()
		}
		if len(digits) > 1 && digits[0] == '0' {
			return nil, rest, &flaw{"a fraction with leading zeros is not read", "write it like 3/8"}
		}
	}
	if below == "0" {
		return nil, rest, &flaw{"a fraction over zero has no value", "write it like 3/8"}
	}
	if f := checkTail(after); f != nil {
		return nil, rest, f
	}
	if after != "" && (after[0] == '/' || after[0] == '.') {
		return nil, rest, &flaw{"a fraction has one whole number over another", "write it like 3/8 or 1 1/2"}
	}
	r, ok1 := new(big.Rat).SetString(above + "/" + below)
	w, ok2 := new(big.Rat).SetString(base)
	if !ok1 || !ok2 {
		return nil, rest, &flaw{"is not a number that can be read", ""}
	}
	r.Add(r, w)
	if sign == "-" {
		r.Neg(r)
	}
	return r, after, nil
}

func checkDigits(whole, decimal, rest string) *flaw {
	switch {
	case len(decimal) > mostDigits:
		return tooLong()
	case len(whole) > 1 && whole[0] == '0':
		plain := strings.TrimLeft(decimal, "0")
		if plain == "" || plain[0] == '.' {
			plain = "0" + plain
		}
		return &flaw{"a number with leading zeros can be read in two ways", "write " + plain}
	case rest != "" && rest[0] == ',':
		return commaFlaw(whole, decimal, rest)
	case rest != "" && rest[0] == '_':
		return &flaw{"an underscore in a number is not read", "write the digits without it"}
	}
	return nil
}

// commaFlaw answers a comma: between thousands, as a decimal point, or stray.
func commaFlaw(whole, decimal, rest string) *flaw {
	after, more := cutDigits(rest[1:])
	switch {
	case after == "":
		return &flaw{"a comma has no meaning here", "write " + decimal}
	case decimal != whole || strings.HasPrefix(more, ","):
		return &flaw{"a number has no commas and at most one point", "write it like 1234567 or 1234.5"}
	case len(after) == 3:
		return &flaw{"a comma in a number can be read in two ways", "write " + whole + after + " without a comma, or " + whole + "." + after + " with a point"}
	}
	return &flaw{"a comma in a number can be read in two ways", "write " + whole + "." + after + " with a point"}
}

// checkTail refuses what looks like more of the number: grouped digits, a second point, a comma or underscore.
func checkTail(rest string) *flaw {
	if rest == "" {
		return nil
	}
	switch rest[0] {
	case ',', '_':
		return &flaw{"a number has no commas or underscores", "write the digits without them"}
	case '.':
		if len(rest) == 1 || rest[1] == ' ' || isDigit(rest[1]) {
			return &flaw{"a decimal point needs digits after it, and there is only one", "write it like 1.5 or 2"}
		}
	case ' ':
		// "4500 1/min" goes on with a unit that begins with a digit.
		if digits, after := cutDigits(strings.TrimLeft(rest, " ")); digits != "" && !strings.HasPrefix(after, "/") {
			return &flaw{"a space inside a number is not read", "write 1000 for 1 000, or 1 1/2 for one and a half"}
		}
	}
	return nil
}

func checkExponent(power string) *flaw {
	digits := strings.TrimLeft(strings.TrimLeft(power, "eE"), "+-")
	digits = strings.TrimLeft(digits, "0")
	n := 0
	for i := 0; i < len(digits) && n <= mostExponent; i++ {
		n = 10*n + int(digits[i]-'0')
	}
	if n > mostExponent {
		return &flaw{"the power of ten is beyond 30", "use a larger or smaller unit"}
	}
	return nil
}

func tooLong() *flaw { return &flaw{"a number has at most 40 digits", "round it"} }

// cutExponent splits "e3", "E-6" off the start of s.
func cutExponent(s string) (power, rest string) {
	if s == "" || (s[0] != 'e' && s[0] != 'E') {
		return "", s
	}
	i := 1
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	digits, after := cutDigits(s[i:])
	if digits == "" {
		return "", s
	}
	return s[:i] + digits, after
}

func cutDigits(s string) (digits, rest string) {
	i := 0
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	return s[:i], s[i:]
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
