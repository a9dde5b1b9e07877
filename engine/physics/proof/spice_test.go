package proof

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/circuit"

	"plumbline/testdata/proofs"
)

// The least values a difference is taken relative to: a ground offset of a
// microvolt and a current of a microampere mean nothing on a vehicle.
const (
	voltsFloor = 1e-6
	ampsFloor  = 1e-6
)

// netlist is a network in the language of ngspice.
type netlist struct {
	text string
	// nodes and sources give the ngspice vector of a node or source.
	nodes, sources map[string]string
}

// spice writes a harness as a netlist that prints every node voltage and the
// current of every voltage source. Loads that are not linear are behavioural
// current sources with the same law as in package circuit.
func (h harness) spice(net *circuit.Network) netlist {
	list := netlist{nodes: map[string]string{}, sources: map[string]string{}}
	var b strings.Builder
	fmt.Fprintf(&b, "* harness %s, generated: run ngspice -b on it\n", h.name)
	numbers := map[string]string{}
	for i, node := range net.Nodes() {
		id := strconv.Itoa(i)
		numbers[node] = id
		fmt.Fprintf(&b, "* node %s: %s\n", id, node)
		if i > 0 {
			list.nodes[node] = "v(" + id + ")"
		}
	}
	for i, e := range net.Elements() {
		h.spiceElement(&b, e, i+1, numbers[e.From], numbers[e.To])
		if e.Kind == circuit.KindVoltageSource {
			list.sources[e.Name] = fmt.Sprintf("i(v%d)", i+1)
		}
	}
	b.WriteString(".options reltol=1e-9 abstol=1e-12 vntol=1e-12\n.control\nset numdgt=15\nop\n")
	for _, node := range net.Nodes()[1:] {
		b.WriteString("print " + list.nodes[node] + "\n")
	}
	for _, e := range net.Elements() {
		if vector, ok := list.sources[e.Name]; ok {
			b.WriteString("print " + vector + "\n")
		}
	}
	b.WriteString("quit 0\n.endc\n.end\n")
	list.text = b.String()
	return list
}

// spiceElement writes one element, number i, between two numbered nodes. A
// current source of ngspice drives its current from its first node to its second.
func (h harness) spiceElement(b *strings.Builder, e circuit.Element, i int, from, to string) {
	fmt.Fprintf(b, "* %s\n", e.Name)
	across := fmt.Sprintf("V(%s,%s)", from, to)
	switch e.Kind {
	case circuit.KindResistor, circuit.KindResistive:
		if e.Ohms == 0 {
			fmt.Fprintf(b, "V%d %s %s 0\n", i, from, to)
			return
		}
		fmt.Fprintf(b, "R%d %s %s %s\n", i, from, to, number(e.Ohms))
	case circuit.KindVoltageSource:
		fmt.Fprintf(b, "V%d s%d %s %s\nR%d s%d %s %s\n", i, i, to, number(e.Volts), i, i, from, number(e.Ohms))
	case circuit.KindCurrentSource:
		fmt.Fprintf(b, "I%d %s %s %s\n", i, from, to, number(e.Amps))
	case circuit.KindRegulatedSource:
		fmt.Fprintf(b, "B%d %s %s I=min(max((%s-%s)/%s,0),%s)\n", i, to, from, number(e.Volts), across, number(e.Ohms), number(e.Amps))
	case circuit.KindConstantCurrent:
		fmt.Fprintf(b, "B%d %s %s I=%s*min(max(%s/%s,-1),1)\n", i, from, to, number(e.Amps), across, number(e.Knee))
	case circuit.KindConstantPower:
		fmt.Fprintf(b, "B%d %s %s I=%s*%s/max(%s*%s,%s)\n", i, from, to, number(e.Watts), across, across, across, number(figures(e.Knee*e.Knee, 10)))
	case circuit.KindMotor:
		var points []string
		for _, p := range h.curves[e.Name] {
			points = append(points, number(p[0]), number(p[1]))
		}
		fmt.Fprintf(b, "B%d %s %s I=pwl(%s,%s)\n", i, from, to, across, strings.Join(points, ","))
	default:
		panic(fmt.Sprintf("%s %q has no form in ngspice", e.Kind, e.Name))
	}
}

func (h harness) network(t *testing.T) *circuit.Network {
	net, err := circuit.NewNetwork(negative, h.elements...)
	require.NoError(t, err, h.name)
	return net
}

func TestNetlistsAreCurrent(t *testing.T) {
	want := map[string]string{}
	for _, h := range harnesses() {
		want[h.name+".cir"] = h.spice(h.network(t)).text
	}
	assertFiles(t, filepath.Join("testdata", "spice"), ".cir", want)
}

// Alternators must be seen both holding their voltage and at their limit, and
// loads on both sides of their knee, or half of their law would go untried.
func TestHarnessesReachBothStates(t *testing.T) {
	for _, h := range harnesses() {
		state, err := h.network(t).Solve()
		require.NoError(t, err, h.name)
		starved := 0
		if strings.HasPrefix(h.name, "corroded") {
			starved = 2
		}
		assert.Len(t, state.Starved, starved, h.name)
		alternator, err := state.Branch("alternator")
		if err != nil {
			continue
		}
		limited := -alternator.Amps >= alternator.Element.Amps
		assert.Equal(t, strings.HasPrefix(h.name, "overloaded"), limited, "%s delivers %g A", h.name, -alternator.Amps)
	}
}

func TestHarnessesAgainstNgspice(t *testing.T) {
	tool := proofs.Program(t, "ngspice", "Debian package ngspice")
	proofs.Ran(t, "ngspice")
	var volts, amps tally
	cases := harnesses()
	for _, h := range cases {
		net := h.network(t)
		state, err := net.Solve()
		require.NoError(t, err, h.name)
		list := h.spice(net)
		path := filepath.Join("testdata", "spice", h.name+".cir")
		output, err := exec.Command(tool, "-b", path).CombinedOutput()
		require.NoError(t, err, "%s: %s", path, output)
		vectors := printedVectors(string(output))
		for _, node := range net.Nodes()[1:] {
			there, ok := vectors[list.nodes[node]]
			require.True(t, ok, "%s: ngspice gave no voltage of %s: %s", path, node, output)
			here, err := state.Voltage(node)
			require.NoError(t, err)
			volts.add(h.name+", "+node, here, there, voltsFloor)
		}
		for _, b := range state.Branches() {
			vector, ok := list.sources[b.Element.Name]
			if !ok {
				continue
			}
			there, ok := vectors[vector]
			require.True(t, ok, "%s: ngspice gave no current of %s: %s", path, b.Element.Name, output)
			amps.add(h.name+", "+b.Element.Name, b.Amps, there, ampsFloor)
		}
	}
	volts.settle(t, rowNodes, "ngspice", len(cases), 1e-3)
	amps.settle(t, rowSources, "ngspice", len(cases), 1e-3)
}

// printedVectors reads the lines "v(3) = 1.2e+01" of an ngspice run.
func printedVectors(output string) map[string]float64 {
	vectors := map[string]float64{}
	for _, line := range strings.Split(output, "\n") {
		name, value, found := strings.Cut(line, " = ")
		if !found {
			continue
		}
		if x, err := strconv.ParseFloat(strings.TrimSpace(value), 64); err == nil {
			vectors[strings.TrimSpace(name)] = x
		}
	}
	return vectors
}
