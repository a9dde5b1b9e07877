package circuit

import (
	"plumbline/engine/physics/domain"
)

// CFRFuseCeiling is the highest fuse or breaker rating 33 CFR 183.455(c) allows below 50 V,
// as a multiple of the Table 5 current of the conductor.
const CFRFuseCeiling = 1.5

// FuseCeiling returns the highest fuse rating (A) allowed on a conductor of an ampacity (A) by
// a multiple of it (0.1 to 2): 1 to protect the insulation in continuous use, 1/1.35 where a
// blade fuse may carry 1.35 times its rating for ten minutes, CFRFuseCeiling for the outer
// limit of 33 CFR 183.455(c), which starts from the table value without derating.
func FuseCeiling(ampacity, multiple float64) (float64, error) {
	err := domain.First(checkLoadAmps("ampacity", ampacity),
		domain.Check("fuse rating as a multiple of ampacity", multiple, 0.1, 2, ""))
	if err != nil {
		return 0, err
	}
	return ampacity * multiple, nil
}
