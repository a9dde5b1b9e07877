package vocabulary

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// extent is what a part of an expression can come out as: numbers, in SI units, between
// two ends, and words, those of a list or any. A truth is the words true and false, a day
// the number of its second.
type extent struct {
	low, high float64
	// whole numbers have nothing between them.
	whole bool
	// words are those it can be, known to be so, where anyWord is not set.
	words   []string
	anyWord bool
}

// anything is the extent of which nothing is known.
func anything() extent { return extent{low: math.Inf(-1), high: math.Inf(1), anyWord: true} }

func numbers(low, high float64) extent { return extent{low: low, high: high, anyWord: true} }

func wholes(low, high float64) extent {
	return extent{low: low, high: high, whole: true, anyWord: true}
}

func words(list []string) extent {
	return extent{low: math.Inf(-1), high: math.Inf(1), words: list}
}

func word(w string) extent { return words([]string{w}) }

// truth is the extent of a condition that comes out as told.
func truth(v bool) extent { return word(strconv.FormatBool(v)) }

// eitherWay is the extent of a condition of which nothing is known.
func eitherWay() extent { return words([]string{"false", "true"}) }

// empty reports whether nothing is left.
func (e extent) empty() bool {
	return order(e.low, e.high) > 0 || !e.anyWord && len(e.words) == 0
}

// order is CompareNumbers where a number may be endless.
func order(a, b float64) int {
	if math.IsInf(a, 0) || math.IsInf(b, 0) {
		return cmp.Compare(a, b)
	}
	return CompareNumbers(a, b)
}

// one reports whether it can be one thing only.
func (e extent) one() bool {
	return e.anyWord && e.low == e.high || !e.anyWord && len(e.words) == 1
}

// bounded reports whether both ends of its numbers are known.
func (e extent) bounded() bool { return !math.IsInf(e.low, 0) && !math.IsInf(e.high, 0) }

// meet is what is in both.
func (e extent) meet(o extent) extent {
	out := extent{low: max(e.low, o.low), high: min(e.high, o.high), whole: e.whole || o.whole, anyWord: e.anyWord && o.anyWord}
	switch {
	case e.anyWord:
		out.words = o.words
	case o.anyWord:
		out.words = e.words
	default:
		for _, w := range e.words {
			if slices.Contains(o.words, w) {
				out.words = append(out.words, w)
			}
		}
	}
	return out
}

// hull is what is in either, and the numbers between.
func (e extent) hull(o extent) extent {
	out := extent{low: min(e.low, o.low), high: max(e.high, o.high), whole: e.whole && o.whole, anyWord: e.anyWord || o.anyWord}
	if !out.anyWord {
		out.words = slices.Clone(e.words)
		for _, w := range o.words {
			if !slices.Contains(out.words, w) {
				out.words = append(out.words, w)
			}
		}
	}
	return out
}

// without takes one thing away.
func (e extent) without(o extent) extent {
	switch {
	case !e.anyWord && !o.anyWord:
		e.words = slices.DeleteFunc(slices.Clone(e.words), func(w string) bool { return slices.Contains(o.words, w) })
	case e.anyWord && o.anyWord && o.low == o.high && !math.IsInf(o.low, 0):
		if e.low == o.low && e.high == o.low {
			return words(nil)
		}
		if e.whole && e.low == o.low {
			e.low++
		}
		if e.whole && e.high == o.low {
			e.high--
		}
	}
	return e
}

// Arithmetic on the numbers; a corner that is no number leaves all open.

func (e extent) plus(o extent) extent  { return corners(e.low+o.low, e.high+o.high) }
func (e extent) minus(o extent) extent { return corners(e.low-o.high, e.high-o.low) }
func (e extent) negated() extent       { return numbers(-e.high, -e.low) }

func (e extent) times(o extent) extent {
	return corners(product0(e.low, o.low), product0(e.low, o.high), product0(e.high, o.low), product0(e.high, o.high))
}

// over divides; all is open where the divisor may be zero.
func (e extent) over(o extent) extent {
	if o.low <= 0 && o.high >= 0 {
		if e.low >= 0 && o.low >= 0 || e.high <= 0 && o.high <= 0 {
			return numbers(0, math.Inf(1))
		}
		return anything()
	}
	return corners(e.low/o.low, e.low/o.high, e.high/o.low, e.high/o.high)
}

// product0 takes nothing of however much as nothing.
func product0(a, b float64) float64 {
	if a == 0 || b == 0 {
		return 0
	}
	return a * b
}

func corners(all ...float64) extent {
	if slices.ContainsFunc(all, math.IsNaN) {
		return anything()
	}
	return numbers(slices.Min(all), slices.Max(all))
}

func plain(n float64) string { return strconv.FormatFloat(n, 'g', -1, 64) }
