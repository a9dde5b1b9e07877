package diagnose_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/diagnose"
	"plumbline/schema"
	"plumbline/testdata/shipped"
)

// diagnosed is what readings say of a vehicle of which little is known.
func diagnosed(t *testing.T, lines ...string) *diagnose.Diagnosis {
	t.Helper()
	d, err := schema.Load("d.yaml", []byte("plumbline: 1\ntitle: a truck in the bay\n"+strings.Join(lines, "\n")+"\n"))
	require.NoError(t, err)
	return diagnose.Run(shipped.Library(t), d, engine.Options{Patterns: shipped.Patterns(t)})
}

func leftOf(x *diagnose.Diagnosis) (out []string) {
	for _, c := range x.Candidates[:x.Apart] {
		name := "sound"
		for _, y := range c.Troubles {
			name = y.ID
		}
		out = append(out, name)
	}
	return out
}

// Of a vehicle of which nothing but readings is known two volts are lost on the way to the pump: a sound circuit loses half a volt
// or less (practice), however the vehicle is built, so it is a joint, and what is lost across each part tells which.
func TestReadingsSpeakOfAVehicleOfWhichNothingIsKnown(t *testing.T) {
	x := diagnosed(t, "measured: {idle_battery_voltage: 14.1 V, pump_voltage: 12.1 V}")
	require.True(t, x.Explained)
	assert.ElementsMatch(t, []string{"trouble/electric.pump-feed-joint", "trouble/electric.pump-fuse-holder", "trouble/electric.pump-relay-contact", "trouble/electric.pump-ground-joint"}, leftOf(x))
	require.NotNil(t, x.Usual)
	assert.NotEmpty(t, x.Usual.Ways)
	assert.NotEmpty(t, x.Usual.Facts)
	require.NotEmpty(t, x.Next)
	assert.Contains(t, x.Next[0].Fact, "drop")

	x = diagnosed(t, "measured: {idle_battery_voltage: 14.1 V, pump_voltage: 13.7 V}")
	assert.Equal(t, []string{"sound"}, leftOf(x))
}

// Whether 250 kPa are too little hangs on what the regulator is set to: while nobody says, what is usual explains it, and that is
// the fact to state.
func TestWhatIsUsualExplainsIsSaidToBeSo(t *testing.T) {
	measured := "measured: {idle_pressure: 250 kPa, full_load_pressure: 249 kPa}"
	x := diagnosed(t, "engine: {power: 160 hp, displacement: 4.1 L}", "pump: {place: frame_rail}", measured)
	assert.Equal(t, []string{"sound"}, leftOf(x))
	require.NotNil(t, x.Usual)
	assert.Equal(t, "design.regulator.setting", x.Usual.Facts[0].Path)
	for _, h := range x.Held {
		assert.Less(t, h.Off, 1.0)
		assert.NotNil(t, h.Own)
	}
	x = diagnosed(t, "engine: {power: 160 hp, displacement: 4.1 L}", "pump: {place: frame_rail}", "regulator: {setting: 300 kPa}", measured)
	assert.Equal(t, "trouble/fuel.regulator-low", leftOf(x)[0])
}

// After a night two sensors agree, whatever the shop's temperature was (practice: within 3 K).
func TestReadingsAreHeldAgainstEachOther(t *testing.T) {
	x := diagnosed(t, "measured: {cold_coolant_reading: 12 degC, cold_air_reading: 13 degC}")
	assert.Equal(t, []string{"sound"}, leftOf(x))
	x = diagnosed(t, "measured: {cold_coolant_reading: -9 degC, cold_air_reading: 16 degC}")
	assert.True(t, slices.Contains(leftOf(x), "trouble/sensor.coolant-curve-wrong"), leftOf(x))
	assert.False(t, slices.Contains(leftOf(x), "sound"))
}

// Stating what was taken as usual may only take candidates away that were left or name them more surely: it never brings back the
// sound vehicle that readings had ruled out.
func TestStatingTheUsualKeepsTheAnswer(t *testing.T) {
	measured := "measured: {idle_battery_voltage: 14.1 V, pump_voltage: 12.1 V, idle_pressure: 300 kPa}"
	for _, stated := range []string{"", "alternator: {regulated_voltage: 14.2 V}", "battery: {system_voltage: 12 V}\nengine: {power: 120 kW}", "pump: {place: in_tank}\nreturn_line: none"} {
		x := diagnosed(t, stated, measured)
		require.True(t, x.Explained, stated)
		assert.Contains(t, leftOf(x), "trouble/electric.pump-feed-joint", stated)
		assert.NotContains(t, leftOf(x), "sound", stated)
	}
}

// With one pressure at idle a worn pump stays hidden, as the regulator spills the rest of what it gives (physics); a regulator that
// holds too much does not.
func TestASoundVehicleSaysWhatItsReadingsWouldNotShow(t *testing.T) {
	x := diagnosed(t, "regulator: {setting: 300 kPa, style: return_style}", "pump: {place: frame_rail, rated_flow: 190 L/h, rated_pressure: 300 kPa}", "engine: {power: 90 kW}", "measured: {idle_pressure: 300 kPa}")
	assert.Equal(t, []string{"sound"}, leftOf(x))
	require.NotNil(t, x.Unseen)
	hidden := func(id string) bool {
		return slices.ContainsFunc(x.Unseen.Troubles, func(u diagnose.UnseenTrouble) bool { return u.ID == id })
	}
	assert.True(t, hidden("trouble/fuel.pump-worn"))
	assert.False(t, hidden("trouble/fuel.regulator-high"))
	assert.Positive(t, x.Unseen.Shows)
}

// An idle of 1300 for 700 rpm with 11 for 18 inHg of vacuum is air that leaks in (TM 5-4210-230: a steady low reading points to a
// leak at the intake or late timing; only the leak is fast), though engines differ in how much faster they run.
func TestAFastIdleWithLittleVacuumIsALeak(t *testing.T) {
	x := diagnosed(t, "engine: {idle_speed: 700 rpm, idle_vacuum: 18 inHg}", "measured: {idle_speed: 1300 rpm, idle_vacuum: 11 inHg}")
	require.True(t, x.Explained)
	assert.Equal(t, []string{"trouble/air.intake-leak"}, leftOf(x))
	x = diagnosed(t, "engine: {idle_speed: 700 rpm, idle_vacuum: 18 inHg}", "measured: {idle_speed: 560 rpm, idle_vacuum: 15 inHg}")
	assert.Equal(t, "trouble/air.spark-late", leftOf(x)[0])
}
