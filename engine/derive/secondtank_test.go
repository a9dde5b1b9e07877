package derive

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine/physics/fluid"
	"plumbline/schema"
)

// On the second tank of a motorhome the pump draws through its own pieces and, from the selector on, the first tank's.
func TestSecondTankHasItsOwnLines(t *testing.T) {
	d := vehicle(t, "good/motorhome-two-tanks")
	s, second := NewSession(d, Options{}), &d.SecondTank.Part
	for _, p := range []Point{Idle, Cruise, FullLoad} {
		// The loss of a second tank's suction is that of its strainer, its pieces and the two it shares, each at the flow of the pump.
		flow := number(t, s.On(second, p, "pump_flow"))
		c := s.begin(nil, d, p)
		strainer, _ := filterElement(c, "strainer", &second.Strainer.Part)
		elements := []fluid.Element{strainer}
		shared := d.Suction.Part.Runs.Items
		require.Len(t, shared, 5)
		for _, runs := range [][]schema.Run{d.SecondSuction.Part.Runs.Items, shared[3:]} {
			for i := range runs {
				e, ok := runElement(c, &runs[i])
				require.True(t, ok)
				elements = append(elements, e)
			}
		}
		drop, err := fluid.LineLoss(elements, flow, liquid(c))
		require.NoError(t, err)
		assert.InEpsilon(t, drop.Friction, number(t, s.On(second, p, "suction_loss")), 1e-6)
		assert.Greater(t, number(t, s.On(second, p, "suction_loss")), number(t, s.On(&d.Tank, p, "suction_loss")), "a metre of tube more")
		assert.InDelta(t, number(t, s.At(p, "throttle_body_pressure")), number(t, s.On(&d.Tank, p, "throttle_body_pressure")), 1e-9)
		assert.InDelta(t, flow, number(t, s.On(second, p, "return_flow"))+number(t, s.At(p, "fuel_demand")), 1e-12)
	}
	// The inlet of the pump lies 65 mm below the second tank's bottom and its fuel ends 15 mm above it: 80 mm of fuel; below the
	// first tank 70 mm and that tank's pickup.
	pickup, _ := d.Tank.PickupAboveBottom.Get()
	own, _ := second.PickupAboveBottom.Get()
	below, _ := d.Pump.InletAboveTankBottom.Get()
	under, _ := d.TankSelector.Part.PumpAboveSecondTank.Get()
	head := func(metres float64) float64 {
		return number(t, s.On(&d.Fuel, NoPoint, "hot_density")) * 9.80665 * metres
	}
	first := number(t, s.At(FullLoad, "vapour_margin")) - head(pickup.SI()-below.SI()) + number(t, s.At(FullLoad, "suction_loss"))
	assert.InDelta(t, first, number(t, s.On(second, FullLoad, "vapour_margin"))-head(own.SI()-under.SI())+number(t, s.On(second, FullLoad, "suction_loss")), 1e-6)
}

// Two tanks with the same lines are the same tank, and more length in the second's never helps.
func TestSecondTankLikeTheFirst(t *testing.T) {
	d := vehicle(t, "good/motorhome-two-tanks")
	// The pieces before the selector in the suction and behind it in the return, and the heights of the first tank.
	d.SecondSuction.Part.Runs.Items, d.SecondSuction.Part.Rise = d.Suction.Part.Runs.Items[:3], d.Suction.Part.Rise
	d.SecondReturn.Part.Runs.Items, d.SecondReturn.Part.Rise = d.ReturnLine.Part.Runs.Items[4:], d.ReturnLine.Part.Rise
	d.SecondTank.Part.Strainer = d.Tank.Strainer
	s := NewSession(d, Options{})
	for _, p := range []Point{Idle, Cruise, FullLoad} {
		for _, name := range []string{"throttle_body_pressure", "pump_flow", "return_flow", "suction_loss"} {
			assert.InDelta(t, number(t, s.On(&d.Tank, p, name)), number(t, s.On(&d.SecondTank.Part, p, name)), 1e-9, "%s at %s", name, p)
		}
	}
	at := func(length string) (loss, pressure float64) {
		d, err := vehicle(t, "good/motorhome-two-tanks").Instead("design.second_suction.runs[3].length", length)
		require.NoError(t, err)
		s := NewSession(d, Options{})
		return number(t, s.On(&d.SecondTank.Part, FullLoad, "suction_loss")), number(t, s.On(&d.SecondTank.Part, FullLoad, "throttle_body_pressure"))
	}
	before, held := at("0.2 m")
	for _, length := range []string{"0.5 m", "1 m", "2 m", "4 m", "8 m"} {
		loss, pressure := at(length)
		assert.Greater(t, loss, before)
		assert.LessOrEqual(t, pressure, held*(1+1e-9))
		before, held = loss, pressure
	}
}

// With a pump in each tank the fuel of the second comes through its own feed up to the selector and the first tank's from there:
// by hand, the friction of those pieces at the pump's flow, and the pressure of the regulator where the pump holds it.
func TestSecondTankWithAPumpOfItsOwn(t *testing.T) {
	d := vehicle(t, "good/truck-six-two-pumps")
	s, second := NewSession(d, Options{}), &d.SecondTank.Part
	shared := d.Feed.Runs.Items
	require.Equal(t, "tank selector", called(&shared[3]))
	for _, p := range []Point{Idle, Cruise, FullLoad} {
		flow := number(t, s.On(second, p, "pump_flow"))
		c := s.begin(nil, d, p)
		var elements []fluid.Element
		for _, runs := range [][]schema.Run{d.SecondFeed.Part.Runs.Items, shared[3:]} {
			for i := range runs {
				e, ok := runElement(c, &runs[i])
				require.True(t, ok)
				elements = append(elements, e)
			}
		}
		drop, err := fluid.LineLoss(elements, flow, liquid(c))
		require.NoError(t, err)
		state := secondSupply(c, p).state
		assert.InEpsilon(t, drop.Friction, state.FeedLoss, 1e-6)
		assert.Greater(t, state.FeedLoss, number(t, s.At(p, "feed_loss")), "a metre of tube more")
		assert.InDelta(t, flow, number(t, s.On(second, p, "return_flow"))+number(t, s.At(p, "fuel_demand")), 1e-12)
		// The pieces before the selector carry what the second tank's pump gives.
		assert.InDelta(t, flow, runFlow(c, &d.SecondFeed.Part.Runs.Items[0]), 1e-12)
	}
	// A second feed like the first is the same tank.
	d.SecondFeed.Part.Runs.Items, d.SecondFeed.Part.Rise = shared[:3], d.Feed.Rise
	d.SecondReturn.Part.Runs.Items, d.SecondReturn.Part.Rise = d.ReturnLine.Part.Runs.Items[4:], d.ReturnLine.Part.Rise
	s = NewSession(d, Options{})
	for _, name := range []string{"throttle_body_pressure", "pump_flow", "return_flow", "suction_loss", "vapour_margin"} {
		assert.InDelta(t, number(t, s.On(&d.Tank, FullLoad, name)), number(t, s.On(second, FullLoad, name)), 1e-9, name)
	}
}
