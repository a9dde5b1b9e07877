package sheet

import (
	"slices"
	"strings"

	"plumbline/engine/derive"
	"plumbline/schema"
)

// net is the whole power and ground net: every circuit with its fuse and relay on what it hangs on, and the places of ground with
// their straps; nil for a design without circuits.
func (m *maker) net() *Net {
	d := m.Design
	if len(d.Circuits.Items) == 0 {
		return nil
	}
	n := &Net{Title: "Power and grounds, the whole net", Describes: "What each source feeds through which fuse and relay, where each circuit is grounded, and the straps between the places of ground"}
	var sources []string
	for i := range d.Circuits.Items {
		if c := &d.Circuits.Items[i]; m.hangsOn(c) == nil && !slices.Contains(sources, m.sourceWords(c)) {
			sources = append(sources, m.sourceWords(c))
		}
	}
	for _, source := range sources {
		named := source
		for i := range d.Circuits.Items {
			if c := &d.Circuits.Items[i]; m.hangsOn(c) == nil && m.sourceWords(c) == source {
				m.branches(n, c, named, 0)
				named = ""
			}
		}
	}
	for i := range d.Grounds.Items {
		g := &d.Grounds.Items[i]
		from, to := n.ground(g.Name.Text()), n.ground(g.To.Text())
		if from < 0 || to < 0 {
			continue
		}
		text := listOf([]string{m.fact(&g.Size).Text, "length " + m.fact(&g.Length).Text}, 2)
		n.Straps = append(n.Straps, Strap{Name: "G" + itoa(i+1), Text: strings.ReplaceAll(text, ";", ","), From: from, To: to, Bad: first(m.badAt(g.Path()))})
	}
	return n
}

// branches adds a circuit and those that hang on it.
func (m *maker) branches(n *Net, c *schema.Circuit, source string, depth int) {
	if depth > mostDeep {
		return // circles are told by a rule
	}
	b := Branch{Name: m.circuitName(c), Source: source, Depth: depth, Ground: -1, Bad: first(m.badAt(c.Path()))}
	switch c.Fuse.Presence() {
	case schema.Present:
		b.Fuse = m.fact(&c.Fuse.Part.Rating).Text
	case schema.NotStated:
		b.Fuse = "____"
	}
	switch c.Relay.Presence() {
	case schema.Present:
		b.Relay = "relay"
	case schema.NotStated:
		b.Relay = "____"
	}
	if takes := m.value(c, derive.NoPoint, "steady_current"); !takes.Unknown {
		b.Takes = takes.Text
	}
	if to, ok := c.ReturnsTo.Get(); ok {
		b.Ground = n.ground(to)
	}
	n.Branches = append(n.Branches, b)
	for i := range m.Design.Circuits.Items {
		if x := &m.Design.Circuits.Items[i]; m.hangsOn(x) == c {
			m.branches(n, x, "", depth+1)
		}
	}
}

// mostDeep is how many circuits may hang one on the other.
const mostDeep = 2

// hangsOn is the circuit that feeds another; nil for one with a source of its own.
func (m *maker) hangsOn(c *schema.Circuit) *schema.Circuit {
	if c.Source.Text() != "other_circuit" || !c.BranchOf.Known() {
		return nil
	}
	for i := range m.Design.Circuits.Items {
		if x := &m.Design.Circuits.Items[i]; x.Path() != c.Path() && x.Name.Known() && x.Name.Text() == c.BranchOf.Text() {
			return x
		}
	}
	return nil
}

// sourceWords are where a circuit begins.
func (m *maker) sourceWords(c *schema.Circuit) string {
	if text := m.factText(&c.Source); text != "" {
		return text
	}
	return "source not known: ______"
}

// ground is the place of a ground among those of a net, which it joins where it is new; -1 for one without a name.
func (n *Net) ground(name string) int {
	if name == "" {
		return -1
	}
	name = strings.ReplaceAll(name, "_", " ")
	if i := slices.Index(n.Grounds, name); i >= 0 {
		return i
	}
	n.Grounds = append(n.Grounds, name)
	return len(n.Grounds) - 1
}
