package derive

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema"
)

// Every joint of the six's three lines, read off the design by hand. A hose on a spigot grows by the volume of its rubber:
// outside^2 - bore^2 stays, sqrt(16^2 - 9.5^2 + 9.5^2) = 16 and sqrt(14^2 - 8^2 + 8^2) = 14 mm where the sizes are alike.
// Of a tube the spigot is the tube's own outside; a step of bore is the smaller over the larger, 7.5/8, 6.5/8, 6.5/7.
// Places in order: in the tank, at its side, frame, engine bay; a return runs the other way.
func TestJointsOfTheSix(t *testing.T) {
	s := loaded(t, variant(t))
	for i, want := range []struct {
		called, line, fit     string
		spigot, bore, clamped float64 // mm; 0 where there is none
		step                  float64 // 0 where there is none
		zone                  float64 // -9 where there is none
	}{
		{"tank to tank hose", "suction", "hose_on_spigot", 9.5, 9.5, 16, 0, -9},
		{"tank hose to suction filter", "suction", "hose_on_spigot", 9.5, 9.5, 16, 0, 1},
		{"suction filter to pump", "suction", "screwed", 0, 0, 0, 0, -9},
		{"pump to pressure filter", "feed", "screwed", 0, 0, 0, 0, -9},
		{"pressure filter to frame tube", "feed", "flared", 0, 0, 0, 0, 0},
		{"frame tube to elbows", "feed", "flared", 0, 0, 0, 7.5 / 8, 1},
		{"elbows to engine hose", "feed", "hose_on_spigot", 8, 8, 14, 7.5 / 8, 0},
		{"engine hose to throttle body", "feed", "hose_on_spigot", 8, 8, 14, 0, -9},
		{"regulator to return hose", "return", "hose_on_spigot", 8, 8, 14, 0, -9},
		{"return hose to return tube", "return", "hose_on_spigot", 8, 8, 14, 6.5 / 8, 1},
		{"return tube to check valve", "return", "flared", 0, 0, 0, 6.5 / 7, 1},
		{"check valve to tank", "return", "screwed", 0, 0, 0, 0, -9},
	} {
		joints := s.Joints()
		require.Len(t, joints, 12)
		j := joints[i]
		require.Equal(t, want.called, j.Called())
		assert.Equal(t, want.line, j.Line, want.called)
		// The joint is named after the end behind it, at a port after the piece's.
		end := j.After.End
		if j.After.Run == nil {
			end = j.Before.End
		}
		on := func(name string) *Result { return s.On(end, NoPoint, name) }
		assert.Equal(t, want.line, on("line").Value(), want.called)
		assert.Equal(t, want.fit, on("fit").Value(), want.called)
		number := func(name, unit string, want float64, absent bool) {
			r := on(name)
			if absent {
				assert.NotEmpty(t, r.Absent, "%s of %s", name, j.Called())
				return
			}
			assert.InDelta(t, want, in(t, r, unit), 1e-9, "%s of %s", name, j.Called())
		}
		number("spigot_outside", "mm", want.spigot, want.spigot == 0)
		number("hose_bore", "mm", want.bore, want.bore == 0)
		number("clamped_outside", "mm", want.clamped, want.clamped == 0)
		number("bore_step", "", want.step, want.step == 0)
		number("zone_step", "", want.zone, want.zone == -9)
		// The same joint is found from either of its ends.
		for _, end := range []*schema.LineEnd{j.Before.End, j.After.End} {
			other := s.JointAt(end)
			require.NotNil(t, other, want.called)
			assert.Equal(t, want.called, other.Called())
		}
	}
}

// A hose of 8 mm on a spigot of 9.5 mm: sqrt(14^2 - 8^2 + 9.5^2) = sqrt(222.25) = 14.908 mm under the clamp. A return
// that goes back to the surge tank, a suction that begins at it, a body with the regulator in it.
func TestJointsElsewhere(t *testing.T) {
	s := loaded(t, variant(t, "outlet: {kind: spigot, size: 8 mm, beaded: true}}\n    - {name: engine hose", "outlet: {kind: spigot, size: 9.5 mm, beaded: true}}\n    - {name: engine hose"))
	end := &s.Design().Feed.Runs.Items[3].Inlet
	assert.InDelta(t, 9.5, in(t, s.On(end, NoPoint, "spigot_outside"), "mm"), 1e-9)
	assert.InDelta(t, 8, in(t, s.On(end, NoPoint, "hose_bore"), "mm"), 1e-9)
	assert.InDelta(t, 14.908, in(t, s.On(end, NoPoint, "clamped_outside"), "mm"), 5e-4)
	for _, c := range []struct{ to, last string }{{"surge_tank", "check valve to surge tank"}, {"main_tank", "check valve to tank"}} {
		s := loaded(t, variant(t, "surge_tank: none", "surge_tank: {return_to: "+c.to+"}", "style: return_style", "style: in_throttle_body"))
		joints := s.Joints()
		require.Len(t, joints, 12)
		assert.Equal(t, "surge tank to tank hose", joints[0].Called())
		assert.Equal(t, "throttle body to return hose", joints[8].Called())
		assert.Equal(t, c.last, joints[11].Called())
	}
	s = loaded(t, variant(t, "surge_tank: none\n", ""))
	assert.Nil(t, s.Joints()[0].Before.End, "nobody said where the suction begins")
	assert.Nil(t, s.Joints()[11].After.End, "nobody said where the return ends")
}

// A feed of one piece has two joints, and each is found from the port at its end.
func TestJointsOfOnePiece(t *testing.T) {
	text := variant(t)
	first, rest := strings.Index(text, "    - {name: frame tube"), strings.Index(text, "return_line:")
	s := loaded(t, text[:first]+text[rest:])
	d := s.Design()
	for port, want := range map[*schema.LineEnd]string{&d.Pump.Outlet: "pump to pressure filter", &d.ThrottleBody.FuelInlet: "pressure filter to throttle body"} {
		j := s.JointAt(port)
		require.NotNil(t, j, want)
		assert.Equal(t, want, j.Called())
	}
}

// A hose goes over a spigot, a nut draws a flare against a cone, a male thread screws into a female one, a banjo is bolted
// into a thread, a quick connector goes over its pipe, a compression fitting grips a plain tube, two ends are soldered:
// nothing else goes together, whichever of the two is named first.
func TestWhatGoesTogether(t *testing.T) {
	kinds := []string{"hose", "spigot", "flare_37deg_nut", "flare_37deg_cone", "inverted_flare_nut", "inverted_flare_seat", "thread_male", "thread_female",
		"banjo", "quick_connector", "quick_connector_pipe", "compression", "soldered"}
	want := map[string]string{
		"hose spigot": "hose_on_spigot", "flare_37deg_nut flare_37deg_cone": "flared", "inverted_flare_nut inverted_flare_seat": "flared",
		"flare_37deg_nut inverted_flare_seat": "flared", "inverted_flare_nut flare_37deg_cone": "flared",
		"thread_male thread_female": "screwed", "banjo thread_female": "banjo_bolted", "quick_connector quick_connector_pipe": "quick_connected",
		"compression spigot": "compressed", "soldered soldered": "soldered",
	}
	for _, a := range kinds {
		for _, b := range kinds {
			fit := "no_fit"
			for _, pair := range []string{a + " " + b, b + " " + a} {
				if known, ok := want[pair]; ok {
					fit = known
				}
			}
			assert.Equal(t, fit, fitOf(a, b), fmt.Sprintf("%s and %s", a, b))
		}
	}
}
