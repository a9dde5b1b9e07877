package quantity

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// sizeUnits are the shares, the factor, the wire sizes and the dash sizes. A circular mil is the area of a circle of one
// thousandth of an inch diameter, NIST SP 811 (2008) App. B.
func sizeUnits() []Unit {
	return slices.Concat(
		of(DimShare,
			lin("%", "percent", "1/100", "%", "hundredth of the whole", "percent", "per cent", "pct", "% vol", "vol %", "vol%"),
			lin("ppm", "ppm", "1/1000000", "ppm", "millionth of the whole, by volume for gases", "ppmv", "ppm vol", "vol ppm"),
			lin("ppb", "ppb", "1/1000000000", "ppb", "thousand-millionth of the whole", "ppbv"),
		),
		of(DimRatio,
			lin(":1", "ratio", "1", "1", "plain factor, written bare or as 14.7:1"),
			lin("%", "ratio_percent", "1/100", "%", "hundredth", "percent", "per cent", "pct"),
		),
		of(DimWireSize,
			lin("mm2", "wire_mm2", "0.000001", "mm^2", "square millimetre of conductor", "sq mm", "qmm"),
			Unit{Symbol: "AWG", CEL: "AWG", Doc: "American wire gauge: d = 0.005 in * 92^((36-n)/39), ASTM B258; 1/0 is 0, 2/0 is -1",
				toSI: awgArea, fromSI: awgNumber},
			Unit{Symbol: "SAE", CEL: "SAE_wire", Doc: "SAE wire size: conductor area by the circular-mil list used with the ABYC rule; 1/0 is 0, 2/0 is -1",
				Aliases: []string{"SAE gauge"}, toSI: saeArea, fromSI: saeNumber},
			lin("cmil", "cmil", "pi*0.0000254*0.0000254/4", "circularmil", "circular mil of conductor", "circular mil", "circular mils", "CM"),
		),
		of(DimDashSize,
			Unit{Symbol: "dash", CEL: "dash", Doc: "dash size: nominal tube outside diameter in sixteenths of an inch (SAE J514, from memory)",
				toSI: dashDiameter, fromSI: dashNumber},
		),
	)
}

const (
	awgSmallest = 40 // thinnest gauge read
	awgLargest  = -3 // 4/0
	inch        = 0.0254
)

// awgArea returns the cross-section in m2 of a solid round conductor of AWG number n: pi/4 d^2 with
// d = 0.005 in * 92^((36-n)/39) (ASTM B258). n is whole, -3 (4/0) to 40.
func awgArea(n float64) (float64, error) {
	if n != math.Trunc(n) || n < awgLargest || n > awgSmallest {
		return 0, fmt.Errorf("%v is not an AWG size; a whole number from 4/0 to %d is expected", n, awgSmallest)
	}
	d := 0.005 * inch * math.Pow(92, (36-n)/39)
	return math.Pi / 4 * d * d, nil
}

// awgNumber is the inverse of awgArea, as a real number. Non-positive areas are refused.
func awgNumber(area float64) (float64, error) {
	if !(area > 0) {
		return 0, fmt.Errorf("a conductor of %v m2 has no AWG size", area)
	}
	d := math.Sqrt(4 * area / math.Pi)
	return 36 - 39*math.Log(d/(0.005*inch))/math.Log(92), nil
}

// saeSize is one SAE wire size with its conductor area in circular mils.
type saeSize struct{ number, cmil float64 }

// saeSizes lists the conductor areas of SAE wire sizes (SAE J1127 and J1128) in circular mils, as the list used with
// the ABYC circular-mil rule gives them; sizes 8, 1 and 3/0 are known only from cable sellers' tables.
// They are 3 to 11 percent below the AWG areas of the same number.
func saeSizes() []saeSize {
	return []saeSize{{18, 1537}, {16, 2336}, {14, 3702}, {12, 5833}, {10, 9343}, {8, 14810}, {6, 24538}, {4, 37360},
		{2, 62450}, {1, 77790}, {0, 98980}, {-1, 125100}, {-2, 158600}, {-3, 205500}}
}

func saeArea(n float64) (float64, error) {
	var names []string
	for _, s := range saeSizes() {
		if s.number == n {
			return s.cmil * math.Pi / 4 * inch * inch / 1e6, nil
		}
		names = append(names, gaugeName(s.number))
	}
	return 0, fmt.Errorf("%v is not an SAE wire size; the sizes are %s", n, strings.Join(names, ", "))
}

// saeNumber returns the SAE size whose area is within a part in a million; between the sizes there is no number.
func saeNumber(area float64) (float64, error) {
	for _, s := range saeSizes() {
		if a, _ := saeArea(s.number); math.Abs(area-a) <= 1e-6*a {
			return s.number, nil
		}
	}
	return 0, fmt.Errorf("a conductor of %.4g mm2 has no SAE size; use mm2", area*1e6)
}

// gaugeName writes a gauge number as on a reel: 12, 1/0, 4/0.
func gaugeName(n float64) string {
	if n <= 0 {
		return fmt.Sprintf("%d/0", 1-int(n))
	}
	return fmt.Sprintf("%d", int(n))
}

const (
	dashLeast = 2
	dashMost  = 32
)

// dashDiameter returns the nominal tube outside diameter in m of dash size n, n sixteenths of an inch.
func dashDiameter(n float64) (float64, error) {
	if n != math.Trunc(n) || n < dashLeast || n > dashMost {
		return 0, fmt.Errorf("%v is not a dash size; a whole number from %d to %d is expected, such as -6", n, dashLeast, dashMost)
	}
	return n * 254 / 160000, nil
}

// dashNumber is the inverse of dashDiameter, as a real number.
func dashNumber(diameter float64) (float64, error) { return diameter * 160000 / 254, nil }
