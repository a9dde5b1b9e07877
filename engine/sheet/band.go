package sheet

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"plumbline/engine/pack"
	"plumbline/schema"
	"plumbline/schema/quantity"
)

// band is where a reading is fine and where work stops, in SI; NaN where there is no such end. By names the rules that say so.
type band struct {
	fineLow, fineHigh, stopLow, stopHigh float64
	by                                   []string
}

func noBand() band {
	none := math.NaN()
	return band{none, none, none, none, nil}
}

// rule is a rule of the library by its full name; nil for none.
func (m *maker) rule(name string) *pack.Rule {
	in, id, _ := strings.Cut(name, ".")
	for _, p := range m.Packs {
		if p.Pack != in {
			continue
		}
		for i := range p.Rules {
			if p.Rules[i].ID == id {
				return &p.Rules[i]
			}
		}
	}
	return nil
}

// limits are what a rule of the library allows its measure: the bounds of its should and its must, in SI. A rule that is not
// there, or whose bound is more than a figure, gives NaN.
func (m *maker) limits(name string) (out band) {
	out = noBand()
	r := m.rule(name)
	if r == nil {
		return out
	}
	out.by = []string{name}
	in, _, _ := strings.Cut(name, ".")
	for _, test := range []struct {
		of        *pack.Test
		low, high *float64
	}{{r.Should, &out.fineLow, &out.fineHigh}, {r.Must, &out.stopLow, &out.stopHigh}} {
		if test.of == nil {
			continue
		}
		for _, b := range test.of.Bounds {
			end := test.low
			if b.Op == "at_most" || b.Op == "less_than" {
				end = test.high
			}
			*end = m.figure(in, b.Value.Text)
		}
	}
	return out
}

var (
	inUnit  = regexp.MustCompile(`^([A-Za-z_0-9]+)\(([0-9.]+)\)$`)
	ofTwelv = regexp.MustCompile(`^design\.battery\.system_voltage / ([0-9.]+)$`)
)

// figure reads a bound that is a figure: 10 %, 0.9, V(1), a limit of the pack, or a share of the system's voltage.
func (m *maker) figure(in, text string) float64 {
	if n, err := strconv.ParseFloat(text, 64); err == nil {
		return n
	}
	if x := inUnit.FindStringSubmatch(text); x != nil {
		if u, ok := quantity.UnitByCEL(x[1]); ok {
			if n, err := strconv.ParseFloat(x[2], 64); err == nil {
				if v, err := u.Value(n); err == nil {
					return v.SI()
				}
			}
		}
	}
	if x := ofTwelv.FindStringSubmatch(text); x != nil {
		if n, err := strconv.ParseFloat(x[1], 64); err == nil {
			if volts, ok := m.Design.Battery.SystemVoltage.Get(); ok {
				return volts.SI() / n
			}
		}
	}
	if limit, ok := strings.CutPrefix(text, "limit."); ok {
		for _, p := range m.Packs {
			for i := range p.Limits {
				if p.Pack == in && p.Limits[i].Key == limit {
					return m.figure(in, p.Limits[i].Value.Is.Text)
				}
			}
		}
	}
	if v, err := quantity.ParseAny(text); err == nil {
		return v.SI()
	}
	return math.NaN()
}

// none reports whether a band has no end at all.
func (b band) none() bool {
	return math.IsNaN(b.fineLow) && math.IsNaN(b.fineHigh) && math.IsNaN(b.stopLow) && math.IsNaN(b.stopHigh)
}

// around sets a band about a value: shares of it.
func (b band) around(value float64) band {
	by := func(share, sign float64) float64 { return value * (1 + sign*share) }
	return band{by(b.fineHigh, -1), by(b.fineHigh, 1), by(b.stopHigh, -1), by(b.stopHigh, 1), b.by}
}

// below sets a band under a value: so much may be missing, no matter how much more there is.
func (b band) below(value float64) band {
	return band{value - b.fineHigh, math.NaN(), value - b.stopHigh, math.NaN(), b.by}
}

// times sets a band as shares of a value.
func (b band) times(value float64) band {
	return band{value * b.fineLow, value * b.fineHigh, value * b.stopLow, value * b.stopHigh, b.by}
}

// clipped takes off an end that lies at or beyond what the thing read can be at all: a share ends at all of it, a flow at none.
func (b band) clipped(f schema.Reading) band {
	if f == nil {
		return b
	}
	field := schema.Describe(f.Path()).Field
	if low, err := quantity.ParseAny(field.Low); err == nil {
		for _, end := range []*float64{&b.fineLow, &b.stopLow} {
			if *end <= low.SI() {
				*end = math.NaN()
			}
		}
	}
	if high, err := quantity.ParseAny(field.High); err == nil {
		for _, end := range []*float64{&b.fineHigh, &b.stopHigh} {
			if *end >= high.SI() {
				*end = math.NaN()
			}
		}
	}
	return b
}

// says is what to do at a reading: STOP, find out why, or nothing where it is fine. A comparison with NaN is false: no such end.
// Where there are upper ends only, what lies as far below nought counts the same.
func (b band) says(x float64) string {
	if math.IsNaN(b.fineLow) && math.IsNaN(b.stopLow) {
		x = math.Abs(x)
	}
	switch {
	case x < b.stopLow, x > b.stopHigh:
		return "STOP"
	case x < b.fineLow, x > b.fineHigh:
		return "find out why"
	}
	return ""
}

// withoutUnit is the number of a text whose unit the text behind it repeats; the whole text where units differ: 316 uV to 82 mV.
func withoutUnit(text, behind string) string {
	number, unit, _ := strings.Cut(text, " ")
	if _, other, _ := strings.Cut(behind, " "); unit != other {
		return text
	}
	return number
}

// words prints the fine and the stop part of a band with what is expected, in one unit. The expected value may be none.
func (m *maker) words(expect *quantity.Value, d quantity.Dimension, b band) (expected, fine, stop string) {
	ends := []float64{b.fineLow, b.fineHigh, b.stopLow, b.stopHigh}
	var values []quantity.Value
	if expect != nil {
		values = append(values, *expect)
	}
	for _, x := range ends {
		if q, err := quantity.New(x, d); err == nil {
			values = append(values, q)
		}
	}
	texts := make([]string, len(values))
	for i, v := range values {
		texts[i] = v.Format(m.Units) // it stands for itself, and was chosen round
	}
	if expect != nil {
		texts = quantity.Column(m.Units == quantity.US, values...)
	}
	if expect != nil {
		expected, texts = texts[0], texts[1:]
	}
	at := make([]string, len(ends))
	for i, x := range ends {
		if !math.IsNaN(x) {
			at[i], texts = m.note(texts[0], b.by...), texts[1:]
		}
	}
	switch {
	case at[0] != "" && at[1] != "":
		fine = withoutUnit(at[0], at[1]) + " to " + at[1]
	case at[0] != "":
		fine = "at least " + at[0]
	case at[1] != "":
		fine = "at most " + at[1]
	}
	switch {
	case at[2] != "" && at[3] != "":
		stop = "under " + withoutUnit(at[2], at[3]) + " or over " + at[3]
	case at[2] != "":
		stop = "under " + at[2]
	case at[3] != "":
		stop = "over " + at[3]
	}
	return expected, fine, stop
}
