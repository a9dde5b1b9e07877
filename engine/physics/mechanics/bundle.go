package mechanics

import (
	"fmt"
	"math"

	"plumbline/engine/physics/domain"
)

// Wires is a number of equal wires and their outside diameter (m).
type Wires struct {
	Count    int
	Diameter float64
}

// BundleFactor is the allowance for the spaces between the wires of a hand-laid bundle, a common
// practice figure; published values run from 1.15 to 1.45.
const BundleFactor = 1.2

const maxDiameter = 0.5 // m

// BundleDiameter estimates the outside diameter (m) of a bundle: 1.2 sqrt(sum n d^2). A bundle of
// one wire has that wire's diameter. Source: common practice.
func BundleDiameter(wires ...Wires) (float64, error) {
	total, sum, err := bundleSum(wires)
	if err != nil {
		return 0, err
	}
	if total == 1 {
		return math.Sqrt(sum), nil
	}
	return BundleFactor * math.Sqrt(sum), nil
}

func bundleSum(wires []Wires) (total int, sum float64, err error) {
	for _, w := range wires {
		err := domain.First(domain.Check("number of wires", float64(w.Count), 0, 1e5, ""),
			domain.Check("outside diameter of a wire", w.Diameter, 1e-5, maxDiameter, "m"))
		if err != nil {
			return 0, 0, err
		}
		total += w.Count
		sum += float64(w.Count) * w.Diameter * w.Diameter
	}
	if total == 0 {
		return 0, 0, fmt.Errorf("bundle has no wires: give at least one")
	}
	return total, sum, nil
}

// BundleHole returns the hole (m) for a bundle (m) in a grommet of a wall thickness (m) with a clearance
// (m): bundle + 2 wall + clearance. A clearance of 3 mm is a judgement.
func BundleHole(bundle, grommetWall, clearance float64) (float64, error) {
	err := domain.First(domain.Check("bundle diameter", bundle, 1e-5, maxDiameter, "m"),
		domain.Check("grommet wall", grommetWall, 0, maxDiameter, "m"),
		domain.Check("clearance in the hole", clearance, 0, maxDiameter, "m"))
	if err != nil {
		return 0, err
	}
	return bundle + 2*grommetWall + clearance, nil
}

// ConnectorDiagonal returns the diagonal (m) of the face of a connector (m): sqrt(w^2 + h^2).
func ConnectorDiagonal(width, height float64) (float64, error) {
	err := domain.First(domain.Check("connector width", width, 1e-4, maxDiameter, "m"),
		domain.Check("connector height", height, 1e-4, maxDiameter, "m"))
	if err != nil {
		return 0, err
	}
	return math.Hypot(width, height), nil
}

// BendMultiple is the least bend radius of a wire or cable over its outside diameter: Army TM
// 1-1500-204-23-4.
const BendMultiple = 10.0

// BendRadius returns the least bend radius (m) of a cable of an outside diameter (m): multiple times
// the diameter (1 to 50), BendMultiple unless the maker allows less.
func BendRadius(diameter, multiple float64) (float64, error) {
	err := domain.First(domain.Check("outside diameter of the cable", diameter, 1e-5, maxDiameter, "m"),
		domain.Check("bend radius as a multiple of the diameter", multiple, 1, 50, ""))
	if err != nil {
		return 0, err
	}
	return multiple * diameter, nil
}
