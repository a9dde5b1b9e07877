package proof

import (
	"fmt"
	"math/rand/v2"

	"plumbline/engine/physics/circuit"
)

// harness is one generated network. Curves holds the points of its motors,
// straight between them.
type harness struct {
	name     string
	elements []circuit.Element
	curves   map[string][][2]float64
	random   *rand.Rand
}

const (
	seeds    = 4
	negative = "battery negative"
	positive = "battery positive"
	chassis  = "chassis"
	block    = "engine block"
)

// harnesses returns the networks: each style with each seed.
func harnesses() []harness {
	styles := []struct {
		name  string
		build func(*harness)
	}{
		{"series", (*harness).series},
		{"parallel", (*harness).parallel},
		{"shared-ground", (*harness).sharedGround},
		{"mixed-loads", (*harness).mixedLoads},
		{"motors", (*harness).motors},
		{"charging", (*harness).charging},
		{"overloaded-alternator", (*harness).overloaded},
		{"ring", (*harness).ring},
		{"corroded", (*harness).corroded},
	}
	var all []harness
	for i, style := range styles {
		for seed := 1; seed <= seeds; seed++ {
			h := harness{name: fmt.Sprintf("%s-%d", style.name, seed), curves: map[string][][2]float64{},
				random: rand.New(rand.NewPCG(uint64(seed), uint64(i)))}
			h.battery()
			style.build(&h)
			all = append(all, h)
		}
	}
	return all
}

// between draws a value of four figures.
func (h *harness) between(low, high float64) float64 {
	return figures(low+(high-low)*h.random.Float64(), 4)
}

func (h *harness) add(e circuit.Element) { h.elements = append(h.elements, e) }

// wire is copper of a drawn gauge, length and temperature.
func (h *harness) wire(name, from, to string, gauges ...int) {
	conductor, err := circuit.AWGConductor(gauges[h.random.IntN(len(gauges))])
	if err != nil {
		panic(err)
	}
	ohms, err := conductor.Resistance(h.between(0.2, 5), circuit.CelsiusToKelvin(h.between(0, 90)))
	if err != nil {
		panic(err)
	}
	h.add(circuit.Resistor(name, from, to, figures(ohms, 6)))
}

// contact is a fuse, joint, relay or ground stud.
func (h *harness) contact(name, from, to string) {
	h.add(circuit.Resistor(name, from, to, h.between(0.2e-3, 12e-3)))
}

// battery brings the battery and the grounds every harness has.
func (h *harness) battery() {
	h.add(circuit.Battery("battery", positive, negative, h.between(11.8, 12.8), h.between(4e-3, 25e-3)))
	h.wire("battery ground cable", block, negative, 1, 2, 4)
	h.contact("engine ground stud", chassis, block)
}

// load puts a load of a drawn kind between two nodes.
func (h *harness) load(name, from, to string) {
	switch h.random.IntN(4) {
	case 0:
		h.add(circuit.ConstantCurrentLoad(name, from, to, h.between(0.2, 12), h.between(5, 8)))
	case 1:
		h.add(circuit.ResistiveLoad(name, from, to, 12, h.between(0.2, 12)))
	case 2:
		h.add(circuit.ConstantPowerLoad(name, from, to, h.between(2, 120), h.between(5, 8)))
	case 3:
		h.motor(name, from, to)
	}
}

// motor draws more current at more voltage, by a curve of four points.
func (h *harness) motor(name, from, to string) {
	amps := h.between(2, 10)
	points := [][2]float64{{6, figures(0.6*amps, 4)}, {9, figures(0.85*amps, 4)}, {12, amps}, {16, figures(1.15*amps, 4)}}
	h.curves[name] = points
	curve := func(volts float64) float64 {
		i := 1
		for i < len(points)-1 && volts > points[i][0] {
			i++
		}
		a, b := points[i-1], points[i]
		return a[1] + (b[1]-a[1])*(volts-a[0])/(b[0]-a[0])
	}
	h.add(circuit.Motor(name, from, to, curve, points[0][0], points[len(points)-1][0]))
}

// branch is fuse, wire, load and ground wire.
func (h *harness) branch(name, from, ground string, load func(name, from, to string)) {
	h.contact(name+" fuse", from, name+" fused")
	h.wire(name+" feed", name+" fused", name+" plus", 10, 12, 14, 16)
	load(name, name+" plus", name+" minus")
	h.wire(name+" ground", name+" minus", ground, 10, 12, 14, 16)
}

// series is one load behind many joints in a row, one of them of no resistance.
func (h *harness) series() {
	at := positive
	for i := range 3 + h.random.IntN(6) {
		next := fmt.Sprintf("joint %d", i+1)
		if i == 1 {
			h.add(circuit.Resistor(fmt.Sprintf("link %d", i+1), at, next, 0))
		} else {
			h.contact(fmt.Sprintf("contact %d", i+1), at, next)
		}
		at = next
	}
	h.branch("pump", at, chassis, h.load)
}

// parallel is several loads on one fuse box, each with its own ground wire.
func (h *harness) parallel() {
	h.wire("main feed", positive, "fuse box", 6, 8, 10)
	for i := range 3 + h.random.IntN(5) {
		h.branch(fmt.Sprintf("load %d", i+1), "fuse box", chassis, h.load)
	}
}

// sharedGround is several loads whose return current shares one ground wire.
func (h *harness) sharedGround() {
	h.wire("main feed", positive, "fuse box", 6, 8, 10)
	h.wire("shared ground", "splice", chassis, 12, 14, 16)
	h.wire("sensor ground", "sensor", "splice", 18, 20)
	h.branch("controller", "fuse box", "splice", func(name, from, to string) {
		h.add(circuit.ConstantPowerLoad(name, from, to, h.between(5, 20), 6))
	})
	for i := range 2 + h.random.IntN(3) {
		h.branch(fmt.Sprintf("load %d", i+1), "fuse box", "splice", h.load)
	}
	h.add(circuit.ResistiveLoad("sensor", "controller plus", "sensor", 12, h.between(1e-3, 20e-3)))
}

// mixedLoads has each kind of load at two levels of distribution.
func (h *harness) mixedLoads() {
	h.wire("main feed", positive, "fuse box", 6, 8, 10)
	h.wire("second feed", "fuse box", "relay box", 8, 10, 12)
	h.branch("lamps", "fuse box", chassis, func(name, from, to string) {
		h.add(circuit.ResistiveLoad(name, from, to, 12, h.between(4, 12)))
	})
	h.branch("coil driver", "relay box", block, func(name, from, to string) {
		h.add(circuit.ConstantCurrentLoad(name, from, to, h.between(2, 9), 6))
	})
	h.branch("controller", "relay box", block, func(name, from, to string) {
		h.add(circuit.ConstantPowerLoad(name, from, to, h.between(5, 60), 6))
	})
	h.branch("pump", "relay box", chassis, h.motor)
	h.add(circuit.CurrentSource("leak", "relay box", chassis, h.between(1e-3, 0.2)))
}

// motors has a pump and fans on their operating points.
func (h *harness) motors() {
	h.wire("main feed", positive, "fuse box", 6, 8, 10)
	for _, name := range []string{"pump", "fan", "blower"} {
		h.branch(name, "fuse box", chassis, h.motor)
	}
}

// alternator sits on the engine block and feeds the battery.
func (h *harness) alternator(limit float64) {
	h.wire("charge cable", "alternator output", positive, 4, 6, 8)
	h.contact("alternator case", block, "alternator case")
	h.add(circuit.RegulatedSource("alternator", "alternator output", "alternator case", h.between(13.8, 14.6), h.between(2e-3, 20e-3), limit))
}

// charging is an alternator that holds its voltage.
func (h *harness) charging() {
	h.alternator(400)
	h.parallel()
}

// overloaded is an alternator at its current limit.
func (h *harness) overloaded() {
	h.alternator(h.between(5, 25))
	h.parallel()
}

// ring feeds and grounds the loads from both ends of a loop.
func (h *harness) ring() {
	h.wire("left feed", positive, "box 1", 8, 10)
	h.wire("right feed", positive, "box 4", 8, 10)
	for i := 1; i <= 4; i++ {
		h.branch(fmt.Sprintf("load %d", i), fmt.Sprintf("box %d", i), fmt.Sprintf("stud %d", i), h.load)
		if i < 4 {
			h.wire(fmt.Sprintf("ring feed %d", i), fmt.Sprintf("box %d", i), fmt.Sprintf("box %d", i+1), 10, 12)
			h.contact(fmt.Sprintf("ring ground %d", i), fmt.Sprintf("stud %d", i), fmt.Sprintf("stud %d", i+1))
		}
	}
	h.wire("left ground", "stud 1", chassis, 8, 10)
	h.wire("right ground", "stud 4", block, 8, 10)
}

// corroded has a joint so bad that the loads behind it fall below their knees.
func (h *harness) corroded() {
	h.add(circuit.Resistor("corroded joint", positive, "fuse box", h.between(2, 4)))
	h.branch("coil driver", "fuse box", chassis, func(name, from, to string) {
		h.add(circuit.ConstantCurrentLoad(name, from, to, h.between(4, 9), h.between(7, 9)))
	})
	h.branch("lamps", "fuse box", chassis, func(name, from, to string) {
		h.add(circuit.ResistiveLoad(name, from, to, 12, h.between(1, 4)))
	})
	h.branch("controller", "fuse box", block, func(name, from, to string) {
		h.add(circuit.ConstantPowerLoad(name, from, to, h.between(5, 20), h.between(7, 9)))
	})
}
