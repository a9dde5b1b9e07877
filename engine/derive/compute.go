package derive

import (
	"fmt"
	"math"

	"plumbline/schema"
)

// result takes what a physics function returned; an error puts the value out
// of reach.
func (c *Calc) result(v float64, err error) float64 {
	c.Unreachable(err)
	return v
}

// unreachable is Unreachable with a formatted reason.
func (c *Calc) unreachable(format string, args ...any) {
	c.Unreachable(fmt.Errorf(format, args...))
}

// notThere makes the value absent: the design says that what it belongs to
// does not exist or does not work at this point.
func (c *Calc) notThere(path string) {
	if c.absent == "" {
		c.absent = path
	}
}

// ruledOut makes the value absent because another value of the design at the
// point leaves nothing for it: no flow without pressure. That other value is
// what a rule fails.
func (c *Calc) ruledOut(by string) { c.notThere("at." + c.point.String() + "." + by) }

// notCranking puts a value out of reach while the starter turns the engine,
// for what no model here covers.
func (c *Calc) notCranking(what string) bool {
	if c.point == Cranking {
		c.unreachable("%s is not modelled while cranking", what)
		return false
	}
	return true
}

// speed reads the engine speed of the operating point, in rad/s.
func speed(c *Calc) float64 {
	e := &c.Design().Engine
	switch c.point {
	case Cranking:
		return SI(c, &e.CrankingSpeed)
	case Idle:
		return SI(c, &e.IdleSpeed)
	case Cruise:
		return SI(c, &e.CruiseSpeed)
	}
	return SI(c, &e.PowerSpeed)
}

// revolutions is the engine speed of the operating point in rev/s.
func revolutions(c *Calc) float64 { return speed(c) / (2 * math.Pi) }

// word reads a fact with listed spellings.
func word(c *Calc, f *schema.Fact[schema.Word]) string { return string(Get(c, f)) }

// runsAt reports whether a list of operating points holds the one asked for.
func runsAt(c *Calc, l *schema.List[schema.Fact[schema.Word]], p Point) bool {
	runs := false
	items := Items(c, l)
	for i := range items {
		if word(c, &items[i]) == p.String() {
			runs = true
		}
	}
	return runs
}

// law names a statute or regulation.
func law(title, where string) Source { return Source{Kind: "law", Title: title, Where: where} }

// standard names a published standard.
func standard(title, where string) Source {
	return Source{Kind: "standard", Title: title, Where: where}
}

// handbook names a book, manual or paper.
func handbook(title, where string) Source {
	return Source{Kind: "handbook", Title: title, Where: where}
}

// practice names what the trade does without a document to point at.
func practice(title string) Source { return Source{Kind: "practice", Title: title} }

// physics gives the reasoning that makes it so, where no document is needed.
func physics(reason string) Source { return Source{Kind: "physics", Title: reason} }

// memory names a figure or formula no document was at hand for.
func memory(title string) Source { return Source{Kind: "memory", Title: title} }

// sources lists where a formula comes from.
func sources(list ...Source) []Source { return list }

// needs lists what a value reads.
func needs(list ...string) []string { return list }
