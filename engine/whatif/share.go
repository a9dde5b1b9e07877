package whatif

import "gonum.org/v1/gonum/mathext"

// Share is how many of so many builds something holds of, and between which shares of all such builds that lies with 95 %
// confidence.
type Share struct {
	Count int     `json:"count"`
	Of    int     `json:"of"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// confidence of a Share.
const confidence = 0.95

func shareFrom(count, of int) Share {
	low, high := binomial(count, of, confidence)
	return Share{count, of, low, high}
}

// binomial are the ends between which the share lies that a count among so many comes from, with a confidence: those at which half
// of the rest lies beyond the count (Clopper and Pearson, Biometrika 26, 1934; NIST/SEMATECH e-Handbook of Statistical Methods,
// section 7.2.4.1), by the inverse of the incomplete beta function.
func binomial(count, of int, confidence float64) (low, high float64) {
	k, n, tail := float64(count), float64(of), (1-confidence)/2
	high = 1
	if count > 0 {
		low = mathext.InvRegIncBeta(k, n-k+1, tail)
	}
	if count < of {
		high = mathext.InvRegIncBeta(k+1, n-k, 1-tail)
	}
	return low, high
}
