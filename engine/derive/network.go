package derive

import (
	"strconv"

	"plumbline/engine/physics/circuit"
	"plumbline/schema"
)

// Node names of the supply network.
const (
	batteryNegative = "battery_negative"
	batteryPositive = "battery positive"
)

// groundIsland is the number of the island of all circuits that return through
// ground points, and of the ground points themselves.
const groundIsland = -1

// wiring says, for one operating point, which circuits run and hang together:
// circuits that share a feed wire or return through the ground points drop
// each other's voltage and form one island. Islands meet only at the battery
// posts, whose voltage is settled beforehand.
type wiring struct {
	circuits []schema.Circuit
	runs     []bool
	parent   []int // circuit whose feed wires come before, or -1
	island   []int // by circuit; meaningful for those that run or feed one that runs
	back     []string
	// complete is false while a fact of the structure is missing.
	complete bool
}

// wiringAt reads the structure of the supply at the point of the calculation.
func wiringAt(c *Calc, p Point) *wiring { return wiringIn(c, p, 0) }

// wiringIn reads it with the pumps of one turn running.
func wiringIn(c *Calc, p Point, t turn) *wiring {
	return Memo(c, "wiring", int(t), c.Design(), p, func(c *Calc) *wiring {
		d := c.Design()
		w := &wiring{circuits: Items(c, &d.Circuits)}
		n := len(w.circuits)
		w.runs, w.parent, w.island, w.back = make([]bool, n), make([]int, n), make([]int, n), make([]string, n)
		for i := range w.circuits {
			w.runs[i] = runsAt(c, &w.circuits[i].Load.RunsAt, p) && t.mayRun(c, w.circuits, i)
			w.parent[i] = -1
		}
		parents := parentsOf(c)
		for i := range w.circuits {
			if !w.runs[i] {
				continue
			}
			w.back[i] = Get(c, &w.circuits[i].ReturnsTo)
			for j, steps := i, 0; j >= 0; j, steps = parents.of(c, j), steps+1 {
				if steps > n {
					c.unreachable("circuit %s branches from itself", w.circuits[i].Path())
					break
				}
				w.parent[j] = parents.of(c, j)
			}
		}
		if c.Lacks() {
			return w
		}
		w.join()
		w.complete = true
		return w
	})
}

// join numbers the islands: by the circuit a family of branches starts from,
// or groundIsland when any of the family returns through a ground point.
func (w *wiring) join() {
	grounded := map[int]bool{}
	for i := range w.circuits {
		w.island[i] = w.first(i)
		if w.runs[i] && w.back[i] != batteryNegative {
			grounded[w.first(i)] = true
		}
	}
	for i := range w.circuits {
		if grounded[w.first(i)] {
			w.island[i] = groundIsland
		}
	}
}

// first is the circuit at the head of a family of branches.
func (w *wiring) first(i int) int {
	for w.parent[i] >= 0 {
		i = w.parent[i]
	}
	return i
}

// feeds reports whether circuit i carries current of circuit j at the point.
func (w *wiring) feeds(i, j int) bool {
	for ; j >= 0; j = w.parent[j] {
		if j == i {
			return true
		}
	}
	return false
}

// parentage finds the circuit another one branches from.
type parentage struct{ circuits []schema.Circuit }

func parentsOf(c *Calc) parentage { return parentage{Items(c, &c.Design().Circuits)} }

// of returns the index of the circuit that circuit i branches from, or -1 when
// it starts at the supply.
func (p parentage) of(c *Calc, i int) int {
	me := &p.circuits[i]
	if word(c, &me.Source) != "other_circuit" {
		return -1
	}
	name, found := Get(c, &me.BranchOf), -1
	for j := range p.circuits {
		if have := Get(c, &p.circuits[j].Name); have != name || name == "" {
			continue
		}
		if found >= 0 {
			c.unreachable("%s branches from %q, which is the name of two circuits", me.Path(), name)
			return -1
		}
		found = j
	}
	if found < 0 && !c.Lacks() {
		c.unreachable("%s branches from %q, which is not among the circuits", me.Path(), name)
	}
	return found
}

// networkParts are the facts of one island: its elements and the voltage of its
// supply. The injection pumps, whose current their curve gives, draw nothing yet.
type networkParts struct {
	island   int
	elements []circuit.Element
	supply   float64
	pumps    []pumpElement
}

// islandParts reads the facts of an island.
func islandParts(c *Calc, p Point, island int, t turn) *networkParts {
	return Memo(c, "parts of island", island+int(t)*turnStride, c.Design(), p, func(c *Calc) *networkParts {
		w, parts := wiringIn(c, p, t), &networkParts{island: island}
		if c.Lacks() {
			return parts
		}
		parts.supply = c.ValueAt(p, "supply_voltage")
		parts.elements = append(make([]circuit.Element, 0, 3*len(w.circuits)+4),
			circuit.Battery("battery", batteryPositive, batteryNegative, parts.supply, 0))
		for i := range w.circuits {
			if w.island[i] != island || !w.live(i) {
				continue
			}
			circuitElements(c, w, i, parts)
		}
		if island == groundIsland {
			groundElements(c, p, parts)
		}
		return parts
	})
}

// live reports whether the circuit runs or feeds one that does.
func (w *wiring) live(i int) bool {
	for j := range w.circuits {
		if w.runs[j] && w.feeds(i, j) {
			return true
		}
	}
	return false
}

func circuitElements(c *Calc, w *wiring, i int, parts *networkParts) {
	ct, names := &w.circuits[i], *c.session.labelsOf(i)
	from := batteryPositive
	if w.parent[i] >= 0 {
		from = c.session.labelsOf(w.parent[i]).feedEnd
	}
	parts.elements = append(parts.elements, circuit.Resistor(names.feed, from, names.feedEnd, feedOhms(c, ct)))
	if !w.runs[i] {
		return
	}
	back := pointNode(w.back[i])
	parts.elements = append(parts.elements, circuit.Resistor(names.back, names.loadEnd, back, wireSum(c, &ct.ReturnWires)))
	if w.back[i] != batteryNegative {
		checkGround(c, ct, w.back[i])
	}
	switch kind := word(c, &ct.Load.Kind); kind {
	case "":
	case "fuel_pump":
		if roleOf(c, ct) == otherLoad {
			loadElement(c, ct, names, kind, parts)
			return
		}
		parts.pumps = append(parts.pumps, pumpElement{circuit: i, labels: names})
		parts.elements = append(parts.elements, circuit.ConstantCurrentLoad(names.load, names.feedEnd, names.loadEnd, 0, 0))
	default:
		loadElement(c, ct, names, kind, parts)
	}
}

// kneeShare is the share of its rated voltage below which a load no longer
// draws its full current, a judgement; it only keeps a collapsed supply finite.
const kneeShare = 0.5

// loadElement adds a load. A motor's torque is set by what it drives, so its
// current is held; so is that of a load stated as constant_current.
func loadElement(c *Calc, ct *schema.Circuit, names labels, kind string, parts *networkParts) {
	amps, volts := SI(c, &ct.Load.Current), SI(c, &ct.Load.RatedVoltage)
	if c.Lacks() || amps == 0 {
		return
	}
	var e circuit.Element
	switch kind {
	case "resistive":
		e = circuit.ResistiveLoad(names.load, names.feedEnd, names.loadEnd, volts, amps)
	case "electronic":
		e = circuit.ConstantPowerLoad(names.load, names.feedEnd, names.loadEnd, volts*amps, kneeShare*volts)
	default:
		e = circuit.ConstantCurrentLoad(names.load, names.feedEnd, names.loadEnd, amps, kneeShare*volts)
	}
	parts.elements = append(parts.elements, e)
}

func circuitName(ct *schema.Circuit) string {
	if name, ok := ct.Name.Get(); ok {
		return name
	}
	return ct.Path()
}

// labels are the names of a circuit's elements and nodes in a network.
type labels struct{ feed, feedEnd, back, loadEnd, load string }

// labelsOf names the elements and nodes of a circuit by its index.
func (s *Session) labelsOf(circuit int) *labels {
	for i := len(s.labels); i <= circuit; i++ {
		n := strconv.Itoa(i)
		s.labels = append(s.labels, labels{feed: "feed " + n, feedEnd: "feed " + n + " end", back: "return " + n,
			loadEnd: "load " + n + " negative", load: "load " + n})
	}
	return &s.labels[circuit]
}

func groundName(i int) string { return "ground " + strconv.Itoa(i) }

// pointNode is the node of a ground point.
func pointNode(name string) string {
	if name == batteryNegative {
		return name
	}
	return "point " + name
}
