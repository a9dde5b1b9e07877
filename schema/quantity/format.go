package quantity

import (
	"math"
	"strconv"
	"strings"
)

// System chooses the units of printing.
type System uint8

// Both prints US units with the metric ones in brackets, once where they are the same.
const (
	Metric System = iota
	US
	Both
)

// Format prints the value with three significant digits, four when the first is 1, and whole numbers up to 9999 in
// full. The unit follows the dimension, the system and the magnitude. What is printed parses back to the same value
// within the digits shown. The zero Value prints as "not stated".
func (v Value) Format(s System) string { return v.FormatDigits(s, 3) }

// FormatDigits is Format with at least the given number of significant digits (1 to 15), to tell close values apart.
func (v Value) FormatDigits(s System, digits int) string {
	digits = min(max(digits, 1), 15)
	if s != Both {
		return v.render(s == US, digits)
	}
	us, metric := v.render(true, digits), v.render(false, digits)
	if us == metric {
		return us
	}
	return us + " (" + metric + ")"
}

// Row writes values that stand in one row in one unit: that the first would be written in, else that of the largest;
// nothing takes the unit of what it stands beside. Where one of them would be too small or too large a number in either,
// each keeps its own.
func Row(s System, values ...Value) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = v.Format(s)
	}
	if len(values) < 2 {
		return out
	}
	largest := values[0]
	for _, v := range values[1:] {
		if v.dim != largest.dim {
			return out
		}
		if math.Abs(v.si) > math.Abs(largest.si) {
			largest = v
		}
	}
	switch largest.dim {
	case None, DimRatio, DimDashSize, DimWireSize, DimTemperature:
		return out
	}
	for _, like := range []Value{values[0], largest} {
		us, usFits := inUnitOf(like, true, values)
		metric, metricFits := inUnitOf(like, false, values)
		switch {
		case like.si == 0 || s != Metric && !usFits || s != US && !metricFits:
			continue
		case s == US:
			return us
		case s == Metric:
			return metric
		}
		for i := range us {
			if out[i] = us[i]; us[i] != metric[i] {
				out[i] += " (" + metric[i] + ")"
			}
		}
		return out
	}
	return out
}

// inUnitOf writes values in the unit one is written in, and says whether they read well so.
func inUnitOf(like Value, us bool, values []Value) (texts []string, fit bool) {
	choice := like.dim.shown(us, like.si)
	u, fit := UnitByCEL(choice.cel)
	for _, v := range values {
		if !fit {
			return nil, false
		}
		n, err := u.shown(v.si, 3)
		a := math.Abs(n)
		fit = err == nil && (a == 0 || a >= 0.01 && a < 10_000)
		texts = append(texts, v.renderIn(choice, us, 3))
	}
	return texts, fit
}

func (v Value) render(us bool, digits int) string {
	switch v.dim {
	case None:
		return "not stated"
	case DimRatio:
		return decimal(v.si, digits)
	case DimDashSize:
		if n, _ := dashNumber(v.si); n >= dashLeast-0.5 && n <= dashMost+0.5 && near(n, math.Round(n), 0.01) {
			return "-" + strconv.Itoa(int(math.Round(n)))
		}
		return MustNew(v.si, DimLength).render(us, digits)
	case DimWireSize:
		if n, err := awgNumber(v.si); us && err == nil && math.Round(n) >= awgLargest && math.Round(n) <= awgSmallest {
			if area, _ := awgArea(math.Round(n)); near(v.si, area, 0.01) {
				return gaugeName(math.Round(n)) + " AWG"
			}
		}
	}
	return v.renderIn(v.dim.shown(us, v.si), us, digits)
}

// renderIn writes the value in a unit of its dimension.
func (v Value) renderIn(choice choice, us bool, digits int) string {
	u, ok := UnitByCEL(choice.cel)
	if !ok {
		panic("no unit " + choice.cel)
	}
	n, err := u.shown(v.si, digits)
	if err != nil {
		panic(err)
	}
	label := u.Symbol
	if choice.label != "" {
		label = choice.label
	}
	if v.dim == DimTemperature {
		places := 1
		if digits > 3 || v.si < 0.1 {
			places = max(2, digits-2)
		}
		return trimZeros(strconv.FormatFloat(n, 'f', places, 64)) + " " + label
	}
	text := decimal(n, digits)
	if choice.cel == "inch" && digits <= 3 && math.Abs(n) < 1 {
		text = trimZeros(strconv.FormatFloat(n, 'f', 3, 64)) // nobody reads more than thousandths of an inch
	}
	return text + " " + label
}

// decimal writes x with the given significant digits, one more when the first is 1, without an exponent between
// 1e-9 and 1e15, and without trailing zeros after the point.
func decimal(x float64, digits int) string {
	if x == 0 {
		return "0"
	}
	if strconv.FormatFloat(math.Abs(x), 'e', -1, 64)[0] == '1' {
		digits++
	}
	// The exponent is that of the rounded number: 9.996 is 10.
	mantissa, power, _ := strings.Cut(strconv.FormatFloat(x, 'e', digits-1, 64), "e")
	exponent, _ := strconv.Atoi(power)
	switch {
	case exponent < -9 || exponent > 15:
		return trimZeros(mantissa) + "e" + strconv.Itoa(exponent)
	case exponent >= 4 && exponent >= digits:
		rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', max(digits, 4)-1, 64), 64)
		return strconv.FormatFloat(rounded, 'f', 0, 64)
	}
	return trimZeros(strconv.FormatFloat(x, 'f', max(0, digits-1-exponent), 64))
}

// trimZeros drops the zeros after the last digit of the decimals, and a minus before nothing.
func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// near reports whether a is within the relative tolerance of b.
func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance*math.Abs(b) }

// Exact returns the text of the value that parses back to it bit for bit, in SI units or a power of ten of them.
// Errors: the zero Value, a dash size that is not one, and numbers beyond what Parse reads.
func (v Value) Exact() (string, error) {
	k := v.dim.kind()
	if v.IsZero() {
		return "", &ParseError{"\"\"", None, "a quantity never stated has no text", ""}
	}
	if v.dim == DimDashSize {
		text := v.render(false, 3)
		if back, err := Parse(text, DimDashSize); err != nil || back != v {
			return "", &ParseError{text, v.dim, "is not a dash size", "use a dash size from -2 to -32"}
		}
		return text, nil
	}
	power := 0
	switch v.dim {
	case DimWireSize:
		power = 6
	case DimShare:
		power = 2
	}
	text := shifted10(v.si, power)
	if k.exact != "" {
		text += " " + k.exact
	}
	if back, err := Parse(text, v.dim); err != nil || back != v {
		return "", &ParseError{text, v.dim, "is beyond what can be written", ""}
	}
	return text, nil
}

// shifted10 writes the shortest decimal of x with its point moved right by power places.
func shifted10(x float64, power int) string {
	text := strconv.FormatFloat(x, 'e', -1, 64)
	mantissa, exponent, _ := strings.Cut(text, "e")
	n, _ := strconv.Atoi(exponent)
	if x == 0 {
		return "0"
	}
	n += power
	if n < -9 || n > 15 {
		return mantissa + "e" + strconv.Itoa(n)
	}
	sign := ""
	if mantissa[0] == '-' {
		sign, mantissa = "-", mantissa[1:]
	}
	digits := strings.Replace(mantissa, ".", "", 1)
	switch {
	case n < 0:
		return sign + "0." + strings.Repeat("0", -n-1) + digits
	case n+1 >= len(digits):
		return sign + digits + strings.Repeat("0", n+1-len(digits))
	}
	return sign + digits[:n+1] + "." + digits[n+1:]
}
