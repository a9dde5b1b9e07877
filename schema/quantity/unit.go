package quantity

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Unit is one unit of one dimension. The same spelling may be a unit of several dimensions; the CEL name is unique.
type Unit struct {
	Symbol    string    // the spelling used in printing
	Aliases   []string  // further spellings read; not to be changed
	Dimension Dimension // what it measures
	CEL       string    // identifier of the function that makes it in rules, such as "psi" or "L_per_h"
	GNU       string    // expression the program GNU units understands, "tempC" and "tempF" being functions; "" if none
	Doc       string    // one line: what it is, with the definition where it is not obvious

	factor *big.Rat // SI = (number + offset) * factor; nil for the units made by a function
	offset *big.Rat // nil for none
	toSI   func(number float64) (float64, error)
	fromSI func(si float64) (float64, error)

	// scale and shift are factor and offset rounded, for printing a few digits.
	scale, shift float64
}

// Value returns n of this unit. n is taken as its shortest decimal, so Value(0.1) equals the parsed "0.1".
// Errors: NaN, infinities, and numbers outside the domain of a wire gauge or dash size.
func (u Unit) Value(n float64) (Value, error) {
	if math.IsNaN(n) || math.IsInf(n, 0) {
		return Value{}, fmt.Errorf("%v %s is not %s; a finite number is expected", n, u.Symbol, u.Dimension.kind().phrase)
	}
	if u.toSI != nil {
		si, err := u.toSI(n)
		if err != nil {
			return Value{}, err
		}
		return New(si, u.Dimension)
	}
	r := new(big.Rat)
	if n == math.Trunc(n) && math.Abs(n) < 1<<53 {
		r.SetInt64(int64(n))
	} else if _, ok := r.SetString(strconv.FormatFloat(n, 'g', -1, 64)); !ok {
		return Value{}, fmt.Errorf("%v %s: a finite number is expected", n, u.Symbol)
	}
	return u.value(r)
}

// value converts an exact number with one rounding.
func (u Unit) value(r *big.Rat) (Value, error) {
	if u.toSI != nil {
		n, _ := r.Float64()
		return u.Value(n)
	}
	x := new(big.Rat)
	if u.offset != nil {
		x.Mul(x.Add(r, u.offset), u.factor)
	} else {
		x.Mul(r, u.factor)
	}
	si, _ := x.Float64()
	return New(si, u.Dimension)
}

// number converts from SI, exactly but for one rounding.
func (u Unit) number(si float64) (float64, error) {
	if u.toSI != nil {
		return u.fromSI(si)
	}
	x := new(big.Rat)
	x.SetFloat64(si)
	x.Quo(x, u.factor)
	if u.offset != nil {
		x.Sub(x, u.offset)
	}
	n, _ := x.Float64()
	return n, nil
}

// shown converts from SI for printing: exactly where more than six digits may
// be printed, else in floating point, which is right to far more than six.
func (u Unit) shown(si float64, digits int) (float64, error) {
	if u.toSI != nil || digits > 6 || math.Abs(si/u.scale) > 1e6 {
		return u.number(si)
	}
	// Twelve digits and no more, so that 58 psi does not print as 57.9.
	return strconv.ParseFloat(strconv.FormatFloat(si/u.scale-u.shift, 'e', 11, 64), 64)
}

// spellings returns the symbol and the aliases.
func (u Unit) spellings() []string { return append([]string{u.Symbol}, u.Aliases...) }

// Units returns every unit, grouped by dimension in the order of Dimensions.
func Units() []Unit { return slices.Clone(units().list) }

// IsUnit reports whether a text is a unit in one of its spellings, capitals as they are written.
func IsUnit(text string) bool {
	t, key := units(), unitKey(text)
	return key != "" && slices.ContainsFunc(Dimensions(), func(d Dimension) bool {
		_, ok := t.exact[d][key]
		return ok
	})
}

// UnitByCEL returns the unit with the given CEL identifier.
func UnitByCEL(id string) (Unit, bool) {
	i, ok := units().byCEL[id]
	if !ok {
		return Unit{}, false
	}
	return units().list[i], true
}

// table is the index over all units; it is built once and never changed.
type table struct {
	list   []Unit
	byCEL  map[string]int
	exact  [dimensionCount]map[string]int        // unit key -> unit
	folded [dimensionCount]map[string][]spelling // lower-case unit key -> spellings
}

// spelling is one way of writing a unit. A prefixed one starts with m for milli or M for mega, whose case decides.
type spelling struct {
	key      string
	unit     int
	prefixed bool
}

var units = sync.OnceValue(buildTable)

func buildTable() *table {
	t := &table{list: allUnits(), byCEL: map[string]int{}}
	for i, u := range t.list {
		if u.factor != nil {
			t.list[i].scale, _ = u.factor.Float64()
		}
		if u.offset != nil {
			t.list[i].shift, _ = u.offset.Float64()
		}
		if _, twice := t.byCEL[u.CEL]; twice {
			panic("two units have the CEL name " + u.CEL)
		}
		t.byCEL[u.CEL] = i
		if t.exact[u.Dimension] == nil {
			t.exact[u.Dimension] = map[string]int{}
			t.folded[u.Dimension] = map[string][]spelling{}
		}
		for _, s := range u.spellings() {
			key := unitKey(s)
			if j, twice := t.exact[u.Dimension][key]; twice && j != i {
				panic(fmt.Sprintf("%s is a spelling of two units of %s", s, u.Dimension))
			}
			t.exact[u.Dimension][key] = i
		}
	}
	for i, u := range t.list {
		seen := map[string]bool{}
		for _, s := range u.spellings() {
			key := unitKey(s)
			if seen[key] {
				continue
			}
			seen[key] = true
			prefixed := false
			if key != "" && (key[0] == 'm' || key[0] == 'M') {
				_, prefixed = t.exact[u.Dimension][key[1:]]
			}
			low := strings.ToLower(key)
			t.folded[u.Dimension][low] = append(t.folded[u.Dimension][low], spelling{key, i, prefixed})
		}
	}
	return t
}

// find looks a unit key up in one dimension: by exact case, then ignoring case when that leaves one unit and
// does not turn milli into mega or back.
func (t *table) find(key string, d Dimension) (Unit, bool) {
	if i, ok := t.exact[d][key]; ok {
		return t.list[i], true
	}
	found := -1
	for _, s := range t.folded[d][strings.ToLower(key)] {
		if s.prefixed && s.key[0] != key[0] {
			continue
		}
		if found >= 0 && found != s.unit {
			return Unit{}, false
		}
		found = s.unit
	}
	if found < 0 {
		return Unit{}, false
	}
	return t.list[found], true
}

// findAny looks a unit key up in every dimension, exact case before any case, earlier dimensions first.
func (t *table) findAny(key string) (Unit, bool) {
	for _, d := range Dimensions() {
		if i, ok := t.exact[d][key]; ok {
			return t.list[i], true
		}
	}
	for _, d := range Dimensions() {
		if u, ok := t.find(key, d); ok {
			return u, true
		}
	}
	return Unit{}, false
}
