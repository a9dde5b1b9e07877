package engine

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"

	"plumbline/engine/internal/rule"
	"plumbline/engine/vocabulary"
	"plumbline/schema/quantity"
)

// number writes a CEL value as a Number.
func (j *judging) number(v ref.Val) Number {
	switch x := v.(type) {
	case vocabulary.Quantity:
		if x.Of.Dimension() == quantity.None {
			return Number{Text: x.String(), Value: x.SI()}
		}
		return Number{Text: j.text(x.Of), Value: x.Of.SI(), Dimension: x.Of.Dimension().String()}
	case types.Double:
		return Number{Text: plainNumber(float64(x)), Value: float64(x)}
	case types.Int:
		return Number{Text: strconv.FormatInt(int64(x), 10), Value: float64(x)}
	}
	return Number{Text: j.words(v)}
}

// text writes a quantity in the reader's units, once.
func (j *judging) text(q quantity.Value) string {
	text, ok := j.texts[q]
	if !ok {
		text = q.Format(j.options.Units)
		if j.texts != nil {
			j.texts[q] = text
		}
	}
	return text
}

// plainNumber writes a number to three or four significant digits.
func plainNumber(f float64) string {
	if f == math.Trunc(f) && math.Abs(f) < 1e6 {
		return strconv.FormatFloat(f, 'f', -1, 64)
	}
	if a := math.Abs(f); a >= 0.001 && a < 1e6 {
		digits := max(0, 2-int(math.Floor(math.Log10(a))))
		text := strconv.FormatFloat(f, 'f', digits, 64)
		if digits > 0 {
			text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
		}
		return text
	}
	return strconv.FormatFloat(f, 'g', 3, 64)
}

// words writes a value for a sentence.
func (j *judging) words(v ref.Val) string {
	switch x := v.(type) {
	case types.String:
		return spoken(string(x))
	case types.Bool:
		if x {
			return "yes"
		}
		return "no"
	case types.Timestamp:
		return x.Format("2006-01-02")
	case traits.Lister:
		return j.listed(x)
	case *types.Unknown:
		return nameless(x)
	case *types.Err:
		return rule.NoValue
	}
	return j.number(v).Text
}

// listed writes a list for a sentence: idle, cruise and full load.
func (j *judging) listed(list traits.Lister) string {
	n, _ := list.Size().(types.Int)
	var b strings.Builder
	for i := range n {
		switch {
		case i > 0 && i == n-1:
			b.WriteString(" and ")
		case i > 0:
			b.WriteString(", ")
		}
		b.WriteString(j.words(list.Get(i)))
	}
	if n == 0 {
		return "nothing"
	}
	return b.String()
}

// compareBound tests a measured value against a bound.
func compareBound(op string, measured, limit ref.Val) ref.Val {
	for _, v := range []ref.Val{measured, limit} {
		if types.IsUnknownOrError(v) {
			return v
		}
	}
	a, b := asDouble(measured), asDouble(limit)
	var c types.Int
	if x, ok := a.(types.Double); ok {
		y, _ := b.(types.Double)
		c = types.Int(vocabulary.CompareNumbers(float64(x), float64(y)))
	} else {
		order := a.(traits.Comparer).Compare(b)
		if types.IsUnknownOrError(order) {
			return order
		}
		c = order.(types.Int)
	}
	switch op {
	case "at_least":
		return types.Bool(c >= 0)
	case "at_most":
		return types.Bool(c <= 0)
	case "more_than":
		return types.Bool(c > 0)
	}
	return types.Bool(c < 0)
}

func asDouble(v ref.Val) ref.Val {
	if i, ok := v.(types.Int); ok {
		return types.Double(i)
	}
	return v
}

// oneUnit writes what a finding measured and its bounds in one unit.
func (j *judging) oneUnit(f *Finding) {
	if f.Measured == nil || len(f.Bounds) == 0 {
		return
	}
	numbers := []*Number{f.Measured}
	for i := range f.Bounds {
		numbers = append(numbers, &f.Bounds[i].Bound)
	}
	if !slices.ContainsFunc(numbers, func(n *Number) bool { return unitsIn(n.Text) != unitsIn(f.Measured.Text) }) {
		return
	}
	values := make([]quantity.Value, len(numbers))
	for i, n := range numbers {
		dim, ok := dimensions()[n.Dimension]
		if !ok {
			return
		}
		v, err := quantity.New(n.Value, dim)
		if err != nil {
			return
		}
		values[i] = v
	}
	for i, text := range quantity.Row(j.options.Units, values...) {
		numbers[i].Text = text
	}
}

// unitsIn is a text without its figures.
func unitsIn(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '.' || r == '-' {
			return -1
		}
		return r
	}, text)
}

var dimensions = sync.OnceValue(func() map[string]quantity.Dimension {
	out := map[string]quantity.Dimension{}
	for _, d := range quantity.Dimensions() {
		out[d.String()] = d
	}
	return out
})

func (j *judging) boundFound(of, op string, measured, limit ref.Val, met bool) BoundFound {
	m, l := j.number(measured), j.number(limit)
	b := BoundFound{Of: of, Op: op, Bound: l, Met: met}
	if l.Value != 0 && l.Dimension != quantity.DimTemperature.String() {
		margin := (m.Value - l.Value) / math.Abs(l.Value)
		if op == "at_most" || op == "less_than" {
			margin = -margin
		}
		b.Margin = &margin
	}
	return b
}

// standards are the bodies whose marks a design writes in small letters: sae_j30_r7 is SAE J30 R7.
var standards = []string{"sae_", "din_", "iso_", "astm_", "adr_"}

// part is the part of a numbered standard, degrees an angle, within a word of the vocabulary.
var (
	part    = regexp.MustCompile(`(\d)_(\d)`)
	degrees = regexp.MustCompile(`(\d)deg(_|$)`)
)

// Threads as a design writes them: by the inch with a count of turns, metric, and pipe threads.
var (
	inchThread   = regexp.MustCompile(`^(unf?)_(?:(1)_)?(\d+)_(\d+)_(\d+)$`)
	metricThread = regexp.MustCompile(`^m(\d+)_(\d)(?:_(\d))?$`)
	pipeThread   = regexp.MustCompile(`^(npt|bsp)_(\d)_(\d)$`)
)

// spokenThread writes a thread as it stands on a gauge: 9/16-18 UNF, M14 x 1.5, 1/4 NPT.
func spokenThread(word string) (string, bool) {
	if m := inchThread.FindStringSubmatch(word); m != nil {
		return strings.TrimSpace(m[2]+" "+m[3]) + "/" + m[4] + "-" + m[5] + " " + strings.ToUpper(m[1]), true
	}
	if m := metricThread.FindStringSubmatch(word); m != nil {
		return strings.TrimSuffix("M"+m[1]+" x "+m[2]+"."+m[3], "."), true
	}
	if m := pipeThread.FindStringSubmatch(word); m != nil {
		return m[2] + "/" + m[3] + " " + strings.ToUpper(m[1]), true
	}
	return "", false
}

// spoken writes a word of the vocabulary as people write it.
func spoken(word string) string {
	if !strings.ContainsAny(word, "0123456789") {
		if rest, ok := strings.CutPrefix(word, "un_"); ok {
			word = "UN_" + rest // the United Nations' regulations
		}
		return strings.ReplaceAll(word, "_", " ")
	}
	if thread, ok := spokenThread(word); ok {
		return thread
	}
	word = degrees.ReplaceAllString(word, "$1 deg$2")
	if slices.ContainsFunc(standards, func(s string) bool { return strings.HasPrefix(word, s) }) {
		word = strings.ToUpper(part.ReplaceAllString(word, "$1-$2"))
	}
	return strings.ReplaceAll(word, "_", " ")
}
