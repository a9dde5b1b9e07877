package explain_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"plumbline/engine/derive"
	"plumbline/engine/explain"
	"plumbline/schema/quantity"
)

// A reader who works a line out by its printed numbers gets what it says. Lines are read here as they are printed: numbers with
// their units, x, /, +, -, brackets, roots and squares; words between them are passed over. What has no sum in it is not read.
func TestPrintedSumsComeOut(t *testing.T) {
	read, seen := map[string]bool{}, map[string]bool{}
	for _, name := range complete(t)[:3] {
		s := opened(t, name)
		for _, e := range derive.All().Entries() {
			if e.Working == nil {
				continue
			}
			for _, part := range explain.Parts(s.Design(), e.On) {
				for _, p := range points(e) {
					for _, l := range s.Working(e, part, p, quantity.Metric).Lines {
						if seen[l.String()] {
							continue
						}
						seen[l.String()] = true
						got, ok := sumOf(l.Text)
						if !ok {
							continue
						}
						read[e.On+"."+e.Name] = true
						slack := 0.02*math.Max(math.Abs(l.Value), got.size) + 1e-12
						assert.InDelta(t, l.Value, got.value, slack, "%s: %s: %s", name, l.Path, l)
					}
				}
			}
		}
	}
	assert.GreaterOrEqual(t, len(read), 50, "too few workings were read as sums: %v", read)
}

type sum struct{ value, size float64 }

var (
	aside   = regexp.MustCompile(`(, | )(at|as|of|in|for|and) -?[0-9.]+ (degC|V at rest)[^x/+-]*| from [0-9.]+ degC up`)
	minutes = regexp.MustCompile(`60 / \(([0-9.]+) rpm`)
	number  = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?(e[+-]?[0-9]+)?`)
)

// sumOf works a printed text out; false where it is no sum.
func sumOf(text string) (sum, bool) {
	text = aside.ReplaceAllString(text, " ")
	// A turn a minute is read as so many a second.
	text = strings.ReplaceAll(minutes.ReplaceAllString(text, "1 / ($1 rpm"), " rpm / 60", " rpm")
	p := &reader{rest: text}
	v, ok := p.terms()
	return sum{v, p.size}, ok && p.operators > 0 && p.rest == ""
}

// reader reads a printed sum.
type reader struct {
	rest      string
	operators int
	// size is the largest term, by which the rounding of a difference is judged.
	size float64
}

// words passes over words up to a number, an operator or a bracket.
func (r *reader) words() {
	for {
		r.rest = strings.TrimLeft(r.rest, " ,")
		if r.rest == "" || number.MatchString(r.rest) || strings.ContainsAny(r.rest[:1], "()^") || strings.HasPrefix(r.rest, "sqrt(") {
			return
		}
		for _, op := range []string{"x ", "/ ", "+ ", "- "} {
			if strings.HasPrefix(r.rest, op) {
				return
			}
		}
		if i := strings.IndexAny(r.rest, " ()"); i > 0 {
			r.rest = r.rest[i:]
			continue
		}
		r.rest = ""
	}
}

func (r *reader) terms() (float64, bool) {
	total, ok := r.factors()
	r.size = max(r.size, math.Abs(total))
	for ok {
		r.words()
		if !strings.HasPrefix(r.rest, "+ ") && !strings.HasPrefix(r.rest, "- ") {
			break
		}
		sign := 1.0
		if r.rest[0] == '-' {
			sign = -1
		}
		r.rest, r.operators = r.rest[2:], r.operators+1
		var v float64
		v, ok = r.factors()
		r.size = max(r.size, math.Abs(v))
		total += sign * v
	}
	return total, ok
}

func (r *reader) factors() (float64, bool) {
	total, ok := r.factor()
	for ok {
		r.words()
		if !strings.HasPrefix(r.rest, "x ") && !strings.HasPrefix(r.rest, "/ ") {
			break
		}
		op := r.rest[0]
		r.rest, r.operators = r.rest[2:], r.operators+1
		var v float64
		if v, ok = r.factor(); op == 'x' {
			total *= v
		} else {
			total /= v
		}
	}
	return total, ok
}

func (r *reader) factor() (float64, bool) {
	r.words()
	root := strings.HasPrefix(r.rest, "sqrt(")
	if root {
		r.rest = r.rest[len("sqrt"):]
	}
	var v float64
	ok := true
	if strings.HasPrefix(r.rest, "(") {
		r.rest = r.rest[1:]
		if v, ok = r.terms(); !ok {
			return 0, false
		}
		r.words()
		if !strings.HasPrefix(r.rest, ")") {
			return 0, false
		}
		r.rest = r.rest[1:]
	} else if v, ok = r.quantity(); !ok {
		return 0, false
	}
	if root {
		v, r.operators = math.Sqrt(v), r.operators+1
	}
	if strings.HasPrefix(r.rest, "^2") {
		r.rest, r.operators = r.rest[2:], r.operators+1
		v *= v
	}
	return v, true
}

// quantity reads a number with its unit, the longest that is one.
func (r *reader) quantity() (float64, bool) {
	n := number.FindString(r.rest)
	if n == "" {
		return 0, false
	}
	after := r.rest[len(n):]
	ends := []int{}
	for i := range after + " " {
		if i > 0 && (i == len(after) || strings.ContainsRune(" ,)", rune(after[i]))) {
			ends = append(ends, i)
		}
		if len(ends) == 4 {
			break
		}
	}
	for i := len(ends) - 1; i >= 0; i-- {
		if v, ok := inSI(n + after[:ends[i]]); ok {
			r.rest = after[ends[i]:]
			return v, true
		}
	}
	r.rest = after
	v, err := strconv.ParseFloat(n, 64)
	return v, err == nil
}

func inSI(text string) (float64, bool) {
	v, err := quantity.ParseAny(text)
	if err != nil {
		return 0, false
	}
	if v.Dimension() == quantity.DimRotationalSpeed {
		return v.SI() / (2 * math.Pi), true // turns, as the formulas count
	}
	return v.SI(), true
}
