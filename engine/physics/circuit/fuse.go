package circuit

import (
	"fmt"

	"plumbline/engine/physics/domain"
)

// FuseKind is the family of a fuse.
type FuseKind string

// The families with a time-current band here.
const (
	// Blade is a medium or miniature blade fuse: ISO 8820-3 types C and F, SAE J1284, SAE J2077.
	Blade FuseKind = "blade"
	// HighCurrentBlade is a large time-lag blade fuse: ISO 8820-3 type E, SAE J1888.
	HighCurrentBlade FuseKind = "high-current blade"
)

// Ratings returns the preferred ratings of a family in rising order, in A. The blade series
// is that of the ISO 8820-3 colour code; its 35 A and the high-current series are from memory.
func (k FuseKind) Ratings() ([]float64, error) {
	switch k {
	case Blade:
		return []float64{2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40}, nil
	case HighCurrentBlade:
		return []float64{20, 30, 40, 50, 60, 70, 80}, nil
	}
	return nil, fmt.Errorf("fuse kind %q is not known: give %q or %q", string(k), string(Blade), string(HighCurrentBlade))
}

type fusePoint struct {
	multiple float64 // of the rating
	min      float64 // s
	max      float64 // s, 0 where the fuse need not open
}

// bandPoints returns the opening-time limits at multiples of the rating, from memory of
// ISO 8820-3; where editions differ, the wider.
func (k FuseKind) bandPoints() ([]fusePoint, error) {
	switch k {
	case Blade:
		return []fusePoint{{1.10, 360000, 0}, {1.35, 0.75, 600}, {1.60, 0.25, 50}, {2.00, 0.15, 5}, {3.50, 0.04, 0.5}, {6.00, 0.02, 0.1}}, nil
	case HighCurrentBlade:
		return []fusePoint{{1.10, 360000, 0}, {1.35, 60, 1800}, {2.00, 2, 60}, {3.50, 0.2, 7}, {6.00, 0.04, 1}}, nil
	}
	_, err := k.Ratings()
	return nil, err
}

// Opening is when a fuse opens at a current: no earlier than Earliest, no later than Latest; Latest is 0 where it need not open.
type Opening struct{ Amps, Earliest, Latest float64 }

// Band returns the opening-time band of a fuse of a rating (A), by rising current, in A and s. From memory of ISO 8820-3.
func (k FuseKind) Band(rating float64) ([]Opening, error) {
	points, err := k.bandPoints()
	if err != nil {
		return nil, err
	}
	if err := checkLoadAmps("fuse rating", rating); err != nil {
		return nil, err
	}
	out := make([]Opening, len(points))
	for i, p := range points {
		out[i] = Opening{p.multiple * rating, p.min, p.max}
	}
	return out, nil
}

// LetThrough returns the most energy a fuse of a rating (A) lets through before it opens at a
// steady fault current (A), as I^2 t in A2 s. It is the least of two bounds over the
// points of the band at or below the current: the fault current squared times the latest opening
// time, and, as the I^2 t of a fuse falls with rising current because less heat escapes, the I^2 t
// of the point itself. A current at which the fuse is not bound to open is refused.
//
// The band is from memory of ISO 8820-3.
func (k FuseKind) LetThrough(rating, fault float64) (float64, error) {
	points, err := k.bandPoints()
	if err != nil {
		return 0, err
	}
	if err := domain.First(checkLoadAmps("fuse rating", rating), checkAmps("fault current", fault)); err != nil {
		return 0, err
	}
	least, found := 0.0, false
	for _, p := range points {
		amps := p.multiple * rating
		if p.max == 0 || !atLeast(fault, amps) {
			continue
		}
		if energy := amps * amps * p.max; !found || energy < least {
			least, found = energy, true
		}
	}
	if !found {
		return 0, &domain.RangeError{Quantity: fmt.Sprintf("fault current of a %g A fuse that is bound to open", rating),
			Value: fault, Low: 1.35 * rating, High: maxAmps, Unit: "A"}
	}
	return least, nil
}
