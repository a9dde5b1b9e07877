package sheet

import "plumbline/schema"

// lines are the fuel lines that the design has, in the order of flow.
func (m *maker) lines() []*schema.Line {
	d := m.Design
	out := []*schema.Line{}
	for _, l := range []struct {
		line  *schema.Line
		there schema.Presence
	}{{&d.Suction.Part, d.Suction.Presence()}, {&d.Feed, schema.Present}, {&d.ReturnLine.Part, d.ReturnLine.Presence()},
		{&d.SecondSuction.Part, d.SecondSuction.Presence()}, {&d.SecondFeed.Part, d.SecondFeed.Presence()}, {&d.SecondReturn.Part, d.SecondReturn.Presence()}} {
		if l.there == schema.Present {
			out = append(out, l.line)
		}
	}
	return out
}
