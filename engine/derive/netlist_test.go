package derive

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"plumbline/schema"
)

// netlist is a whole vehicle at an operating point in the language of ngspice, written from the facts of its design alone: every
// wire, joint, fuse and relay contact a resistor of its own, battery and alternator behind the posts, the converter between them
// and the conversion's circuits. The arithmetic of resistances is done here again. The fuel pump's current is given, since its
// curve and the fuel path set it.
type netlist struct {
	d     *schema.Design
	point Point
	// limited says that the alternator gives all it has; it holds its voltage else.
	limited bool
	// output is what it has, A.
	output float64
	text   strings.Builder
	parts  int
	// loads are the vectors of the voltage over each circuit's load; nil for one that does not run.
	loads map[int]string
	// feeds counts the pieces of a circuit's feed, reach is the node where a circuit's feed ends.
	feeds map[int]int
	reach map[int]string
}

func newNetlist(d *schema.Design, p Point, pumpAmps float64, limited bool) *netlist {
	n := &netlist{d: d, point: p, limited: limited, loads: map[int]string{}, reach: map[int]string{}, feeds: map[int]int{}}
	n.line("* generated from a design")
	n.sources()
	n.grounds()
	for i := range d.Circuits.Items {
		if n.live(i) {
			n.circuit(i, pumpAmps)
		}
	}
	n.line(".options reltol=1e-9 abstol=1e-12 vntol=1e-12 itl1=1000 gmin=1e-15")
	// A start for the search: without it the limits and knees send it astray.
	n.line(".nodeset v(posts)=12 v(supply)=12")
	for i := range d.Circuits.Items {
		for k := range n.feeds[i] {
			n.line(fmt.Sprintf(".nodeset v(c%df%d)=12", i, k))
		}
	}
	n.line(".control\nset numdgt=15\nop\nprint v(posts)")
	if p != Cranking && !limited {
		n.line("print i(valternator)")
	}
	for i := range d.Circuits.Items {
		if vector := n.loads[i]; vector != "" {
			n.line("print " + vector)
		}
	}
	n.line("quit 0\n.endc\n.end")
	return n
}

func (n *netlist) line(text string) { n.text.WriteString(text + "\n") }

// add writes an element with a number of its own.
func (n *netlist) add(letter, from, to, value string) {
	n.parts++
	n.line(fmt.Sprintf("%s%d %s %s %s", letter, n.parts, from, to, value))
}

// ohms is a resistance between two nodes; none is a wire without one.
func (n *netlist) ohms(from, to string, ohms float64) {
	if ohms == 0 {
		n.add("V", from, to, "0")
		return
	}
	n.add("R", from, to, figure(ohms))
}

func figure(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// said is a stated quantity in SI units.
func said[Q interface{ SI() float64 }](v Q, known bool) float64 {
	if !known {
		panic("a fact of the design is not stated")
	}
	return v.SI()
}

// straight reads a rising series of points, held at its ends.
func straight(x float64, points ...[2]float64) float64 {
	if x <= points[0][0] {
		return points[0][1]
	}
	for i := 1; i < len(points); i++ {
		if a, b := points[i-1], points[i]; x <= b[0] {
			return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
		}
	}
	return points[len(points)-1][1]
}

// copper is 1/58 ohm mm2/m at 20 degC and 0.00393 more for each kelvin (IEC 60228, NBS Handbook 100); of nominal sizes in mm2 the
// maximum of IEC 60228 class 5; tinned stranded wire of those sizes by its own column.
func copper(area, length, kelvin float64, kind string) float64 {
	perMetre := 1 / 58.0 / (area * 1e6)
	for _, row := range [][3]float64{{0.5, 39.0, 40.1}, {0.75, 26.0, 26.7}, {1, 19.5, 20.0}, {1.5, 13.3, 13.7}, {2.5, 7.98, 8.21}, {4, 4.95, 5.09},
		{6, 3.30, 3.39}, {10, 1.91, 1.95}, {16, 1.21, 1.24}, {25, 0.780, 0.795}, {35, 0.554, 0.565}, {50, 0.386, 0.393}, {70, 0.272, 0.277}} {
		if math.Abs(area*1e6/row[0]-1) < 0.005 {
			perMetre = row[1] / 1000
			if kind == "tinned_stranded_copper" {
				perMetre = row[2] / 1000
			}
		}
	}
	return perMetre * length * (1 + 0.00393*(kelvin-293.15))
}

// sources writes battery, alternator, starter, the rest of the vehicle, and the converter; supply is where the circuits begin.
func (n *netlist) sources() {
	b, a := &n.d.Battery, &n.d.Alternator
	nominal, rest := said(b.SystemVoltage.Get()), said(b.RestVoltage.Get())
	cold := said(n.d.Climate.ColdAmbient.Get()) - 273.15
	// SAE J537: 12.6 V less 7.2 V at the rated current; charge and cold by memory, the starter's current by practice.
	ohms := 5.4 / said(b.ColdCranking.Get()) * nominal / 12 *
		straight(rest*12/nominal, [2]float64{11.7, 2.5}, [2]float64{12.0, 1.7}, [2]float64{12.2, 1.3}, [2]float64{12.4, 1.1}, [2]float64{12.6, 1})
	if n.point == Cranking {
		ohms *= straight(cold, [2]float64{-40, 1.67}, [2]float64{-29, 1.33}, [2]float64{-18, 1})
		n.add("V", "emf", "0", figure(rest))
		n.ohms("emf", "posts", ohms)
		engine := cold
		if word, _ := n.d.Engine.Preheating.Get(); word == "block_heater" {
			engine += 25
		}
		amps := said(b.StarterCurrent.Get()) * straight(engine, [2]float64{-40, 2.8}, [2]float64{-29, 2.3}, [2]float64{-18, 1.8}, [2]float64{0, 1.3}, [2]float64{20, 1})
		n.add("I", "posts", n.starterEnters(), figure(amps))
	} else {
		regulated := said(a.RegulatedVoltage.Get())
		output := said(a.IdleOutput.Get())
		if n.point != Idle {
			hot := said(n.d.Climate.UnderBonnet.Get()) - 273.15
			output = min(said(a.CruiseOutput.Get()), said(a.RatedOutput.Get())*max(0.5, min(1, 1-0.0025*(hot-23))))
		}
		n.output = output
		if n.limited {
			// The battery helps below its rest voltage; what charges it is not counted.
			n.add("B", "0", "posts", fmt.Sprintf("I=max(0,(%s-V(posts))/%s)", figure(rest), figure(ohms)))
			n.add("I", "0", "posts", figure(output))
		} else {
			n.line("Valternator posts 0 " + figure(regulated))
		}
		if other := said(a.OtherLoad.Get()); other > 0 {
			n.ohms("posts", "0", regulated/other)
		}
	}
	if (nominal < 11.5 || nominal > 14.5) && b.Converter.Presence() == schema.Present {
		out := said(b.Converter.Part.OutputVoltage.Get())
		n.add("V", "supply", "0", figure(out))
		n.add("B", "posts", "0", fmt.Sprintf("I=-i(V%d)*%s/(0.9*V(posts))", n.parts, figure(out)))
		return
	}
	n.ohms("posts", "supply", 0)
}

// ground is the node of a ground point.
func ground(name string) string {
	if name == batteryNegative {
		return "0"
	}
	return "g_" + strings.ReplaceAll(name, " ", "_")
}

func (n *netlist) grounds() {
	for i := range n.d.Grounds.Items {
		g := &n.d.Grounds.Items[i]
		name, _ := g.Name.Get()
		to, _ := g.To.Get()
		ohms := copper(said(g.Size.Get()), said(g.Length.Get()), said(g.Ambient.Get()), "") + said(g.JointResistance.Get())
		n.ohms(ground(name), ground(to), ohms)
	}
}

// starterEnters is the ground point where the starter's current enters: the flagged path that no other flagged one leads to.
func (n *netlist) starterEnters() string {
	led := map[string]bool{}
	for i := range n.d.Grounds.Items {
		if flagged, _ := n.d.Grounds.Items[i].CarriesStarter.Get(); flagged {
			to, _ := n.d.Grounds.Items[i].To.Get()
			led[to] = true
		}
	}
	for i := range n.d.Grounds.Items {
		name, _ := n.d.Grounds.Items[i].Name.Get()
		if flagged, _ := n.d.Grounds.Items[i].CarriesStarter.Get(); flagged && !led[name] {
			return ground(name)
		}
	}
	return "0"
}

// parent is the circuit that one branches from, or -1.
func (n *netlist) parent(i int) int {
	if source, _ := n.d.Circuits.Items[i].Source.Get(); source != "other_circuit" {
		return -1
	}
	of, _ := n.d.Circuits.Items[i].BranchOf.Get()
	for j := range n.d.Circuits.Items {
		if name, _ := n.d.Circuits.Items[j].Name.Get(); name == of {
			return j
		}
	}
	panic(of + " is not among the circuits")
}

func (n *netlist) runs(i int) bool {
	for _, f := range n.d.Circuits.Items[i].Load.RunsAt.Items {
		if word, _ := f.Get(); string(word) == n.point.String() {
			return true
		}
	}
	return false
}

// live says that a circuit runs, or one that branches from it.
func (n *netlist) live(i int) bool {
	for j := range n.d.Circuits.Items {
		for k := j; k >= 0 && n.runs(j); k = n.parent(k) {
			if k == i {
				return true
			}
		}
	}
	return false
}

// way writes fuse, contact, wires and joints in a row and returns the node they end at.
func (n *netlist) way(from, prefix string, ohms []float64) string {
	for i, x := range ohms {
		to := prefix + strconv.Itoa(i)
		n.ohms(from, to, x)
		from = to
	}
	return from
}

func wiresOf(l []schema.Wire) []float64 {
	var out []float64
	for i := range l {
		w := &l[i]
		kind, _ := w.Conductor.Get()
		out = append(out, copper(said(w.Size.Get()), said(w.Length.Get()), said(w.Ambient.Get()), string(kind)))
		for j := range w.Joints.Items {
			out = append(out, said(w.Joints.Items[j].Resistance.Get()))
		}
	}
	return out
}

// circuit writes one circuit, those it branches from first.
func (n *netlist) circuit(i int, pumpAmps float64) {
	if n.reach[i] != "" {
		return
	}
	ct, id := &n.d.Circuits.Items[i], "c"+strconv.Itoa(i)
	from := "supply"
	if up := n.parent(i); up >= 0 {
		n.circuit(up, pumpAmps)
		from = n.reach[up]
	}
	var feed []float64
	if ct.Fuse.Presence() == schema.Present {
		feed = append(feed, said(ct.Fuse.Part.Resistance.Get()))
	}
	if ct.Relay.Presence() == schema.Present {
		feed = append(feed, said(ct.Relay.Part.ContactResistance.Get()))
	}
	feed = append(feed, wiresOf(ct.FeedWires.Items)...)
	plus := n.way(from, id+"f", feed)
	n.feeds[i], n.reach[i] = len(feed), plus
	if !n.runs(i) {
		return
	}
	to, _ := ct.ReturnsTo.Get()
	minus := id + "m"
	n.ohms(n.way(minus, id+"r", wiresOf(ct.ReturnWires.Items)), ground(to), 0)
	n.loads[i] = fmt.Sprintf("v(%s,%s)", plus, minus)
	n.load(ct, plus, minus, pumpAmps)
}

// load writes what a circuit drives: motors and loads of constant current draw their current down to half their voltage.
func (n *netlist) load(ct *schema.Circuit, plus, minus string, pumpAmps float64) {
	across := fmt.Sprintf("V(%s,%s)", plus, minus)
	kind, _ := ct.Load.Kind.Get()
	if kind == "fuel_pump" {
		n.add("I", plus, minus, figure(pumpAmps))
		return
	}
	amps, volts := said(ct.Load.Current.Get()), said(ct.Load.RatedVoltage.Get())
	switch {
	case amps == 0:
		n.add("I", plus, minus, "0")
	case kind == "resistive":
		n.ohms(plus, minus, volts/amps)
	case kind == "electronic":
		n.add("B", plus, minus, fmt.Sprintf("I=%s*%s/max(%s*%s,%s)", figure(amps*volts), across, across, across, figure(volts*volts/4)))
	default:
		n.add("B", plus, minus, fmt.Sprintf("I=%s*min(max(%s/%s,-1),1)", figure(amps), across, figure(volts/2)))
	}
}
