package derive

// intakePlace is a place on the way of the air where an injector sprays or a
// regulator breathes.
type intakePlace int

const (
	outsideAir    intakePlace = iota
	behindCleaner             // inside the air cleaner
	aboveThrottle             // just before the throttle plates
	belowThrottle             // just behind them
	inManifold                // behind throttle and compressor
)

// airAt is the pressure of the air at a place of the intake against the outside
// air, Pa. A compressor before the throttle (after_compressor) sets everything
// behind it under boost, one behind the throttle (before_compressor) only the
// manifold. Boost counts at full load; below it a compressor is taken to add
// nothing. What a cleaner loses is counted at full load. At idle and cruise the
// manifold keeps its absolute pressure, so that its vacuum shrinks with the
// barometer.
func airAt(c *Calc, at intakePlace) float64 {
	full := c.point == FullLoad
	switch at {
	case behindCleaner:
		if full {
			return -c.ValueAt(FullLoad, "cleaner_drop")
		}
	case aboveThrottle:
		switch {
		case !behindCompressor(c):
			return airAt(c, behindCleaner)
		case full:
			return SI(c, &c.Design().Engine.Boost) + c.ValueAt(FullLoad, "throttle_drop")
		}
	case belowThrottle:
		if full && boosted(c) && !behindCompressor(c) {
			return airAt(c, behindCleaner) - c.ValueAt(FullLoad, "throttle_drop")
		}
		return airAt(c, inManifold)
	case inManifold:
		switch {
		case full && boosted(c):
			return SI(c, &c.Design().Engine.Boost)
		case full:
			return airAt(c, behindCleaner) - c.ValueAt(FullLoad, "throttle_drop")
		case c.point == Idle || c.point == Cruise:
			return c.Value("manifold_pressure") - c.Value("barometer")
		}
		// While cranking the manifold is within a few kPa of the outside air.
	}
	return 0
}

// behindCompressor reports whether the throttle body stands behind a compressor.
func behindCompressor(c *Calc) bool {
	if !boosted(c) {
		return false
	}
	side := word(c, &c.Design().ThrottleBody.CompressorSide)
	if side == "no_compressor" {
		c.unreachable("an engine with a compressor has its throttle body before or behind it: state compressor_side")
	}
	return side == "after_compressor"
}

// referencePlace is where the regulator's spring chamber breathes. One with its
// spring at the outlet has no chamber to connect.
func referencePlace(c *Calc) intakePlace {
	r := &c.Design().Regulator
	if word(c, &r.Construction) != "diaphragm" {
		return outsideAir
	}
	switch reference := word(c, &r.Reference); reference {
	case "atmosphere", "unconnected", "":
	case "air_cleaner":
		return behindCleaner
	case "throttle_inlet":
		return aboveThrottle
	case "manifold_vacuum":
		return inManifold
	default:
		c.unreachable("what the regulator sees at %s is not known: connect it to the atmosphere or to full manifold vacuum", reference)
	}
	return outsideAir
}

// nozzleAir is the pressure at the injectors' tips against the outside air, Pa.
// Above a throttle without boost the cleaner's depression is counted where the
// regulator breathes it too, so that both see the same air; with the regulator
// open to outside air it would add less than a fifth of a per cent to the flow.
func nozzleAir(c *Calc) float64 {
	if word(c, &c.Design().ThrottleBody.Injectors.Location) == "below_throttle" {
		return airAt(c, belowThrottle)
	}
	if breathes := referencePlace(c); breathes != behindCleaner && breathes != aboveThrottle && !behindCompressor(c) {
		return 0
	}
	return airAt(c, aboveThrottle)
}
