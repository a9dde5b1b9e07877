package schema

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/document"
)

const empty = "write the value, or leave the line out: an empty value is not a fact"

// Each text follows a first line "plumbline: 1", and each message stands on line 2 or below.
func TestLoadErrors(t *testing.T) {
	pumpKeys := "place, kind, curve, curve_voltage, motor_resistance, rated_flow, rated_pressure, dead_head_pressure, maximum_pressure, check_valve, " +
		"inlet_above_tank_bottom, ethanol_rating, rated_submersible, rated_outside, stop_control, prime_time, speed_control, inertia_switch, driver_shut_off, tank_stop, own_ground, guarded, isolated, inlet, outlet"
	for name, c := range map[string]struct{ text, want string }{
		"unknown key, misspelt":       {"pump: {pres: 1, plaec: in_tank}", "2:8: unknown key pres; the keys here are " + pumpKeys + "\nf:2:17: unknown key plaec; did you mean place?"},
		"unknown key, belongs to one": {"pump:\n  setting: 3 bar", "3:3: unknown key setting; setting belongs under regulator"},
		"unknown key, belongs to top": {"pump:\n  exhaust: {}", "3:3: unknown key exhaust; exhaust belongs under the top level, measured"},
		"unknown key, belongs to few": {"pump: {pressure_rating: 3 bar}", "2:8: unknown key pressure_rating; pressure_rating belongs under tank_selector, suction.runs, feed.runs and others"},
		"unknown key, both":           {"fuel: {fuel_density: 0.7 kg/L, leads: 0 g/L}", "2:8: unknown key fuel_density; did you mean density?\nf:2:32: unknown key leads; did you mean lead?; for leads write ignition.plug_wires"},
		"number without unit":         {"regulator: {setting: 58}", "2:22: 58: a pressure needs a unit; write 58 psi or 58 kPa or 58 bar"},
		"wrong unit":                  {"regulator: {setting: 58 mm}", "2:22: 58 mm is a length; a pressure is expected, e.g. 300 kPa"},
		"absolute for gauge":          {"regulator: {setting: 58 psia}", "2:22: 58 psia is an absolute pressure; a pressure above that of the air is expected: subtract the barometer, e.g. 300 kPa"},
		"unit unknown":                {"tank: {capacity: 3 firkin}", "2:18: 3 firkin: firkin is not a unit of volume; the units are m3, L, mL, cm3, cu in, ft3, gal, qt, imp gal"},
		"not a quantity":              {"regulator: {setting: high}", "2:22: high: does not start with a number; write it like 300 kPa"},
		"list for a quantity":         {"regulator: {setting: [58 psi]}", "2:22: one value is expected, such as 300 kPa, not a list or mapping"},
		"below the range":             {"regulator: {setting: -3 bar}", "2:22: -3 bar is out of range; 1 kPa to 1500 kPa is expected"},
		"above the range":             {"regulator: {setting: 1500.01 kPa}", "2:22: 1500.01 kPa is out of range; 1 kPa to 1500 kPa is expected"},
		"ratio out of range":          {"fuel: {ethanol: 850 %}", "2:17: 850 % is out of range; 0 % to 100 % is expected"},
		"share without its unit":      {"fuel: {ethanol: 85}", "2:17: 85: a share needs its unit; write 85 % for 85 in a hundred, or 85 ppm for 85 in a million"},
		"whole number out of range":   {"engine: {cylinders: 17}", "2:21: 17 is out of range; 1 to 16 is expected"},
		"huge whole number":           {"engine: {cylinders: 99999999999999999999}", "2:21: 99999999999999999999 is out of range; 1 to 16 is expected"},
		"half a cylinder":             {"engine: {cylinders: 6.0}", "2:21: a whole number without unit or quotes is expected, such as 6"},
		"whole number in quotes":      {"engine: {cylinders: \"6\"}", "2:21: a whole number without unit or quotes is expected, such as 6"},
		"whole number with unit":      {"engine: {cylinders: 6 pcs}", "2:21: a whole number without unit or quotes is expected, such as 6"},
		"word misspelt":               {"vehicle: {use: raod}", "2:16: raod is not one of road, road_limited, competition, off_road; did you mean road?"},
		"word in capitals":            {"vehicle: {use: Off-Road}", "2:16: Off-Road is not one of road, road_limited, competition, off_road; did you mean off_road?"},
		"word far off":                {"vehicle: {use: weddings}", "2:16: weddings is not one of road, road_limited, competition, off_road"},
		"yes":                         {"vehicle: {air_conditioning: yes}", "2:29: write true or false, without quotes; for yes write true"},
		"off":                         {"vehicle: {air_conditioning: Off}", "2:29: write true or false, without quotes; for Off write false"},
		"true in capitals":            {"vehicle: {air_conditioning: TRUE}", "2:29: write true or false, without quotes; for TRUE write true"},
		"true in quotes":              {"vehicle: {air_conditioning: 'true'}", "2:29: write true or false, without quotes; for true write true"},
		"one for true":                {"vehicle: {air_conditioning: 1}", "2:29: write true or false"},
		"day that is none":            {"vehicle: {first_use_date: 1971-02-30}", "2:27: 1971-02-30 is not a day of the calendar written year-month-day, such as 1971-12-01"},
		"day written otherwise":       {"vehicle: {first_use_date: 4/10/1971}", "2:27: 4/10/1971 is not a day of the calendar written year-month-day, such as 1971-12-01"},
		"day with time":               {"vehicle: {first_use_date: 1971-10-04T10:00:00Z}", "2:27: 1971-10-04T10:00:00Z is not a day of the calendar written year-month-day, such as 1971-12-01"},
		"empty text":                  {"title: ''", "2:8: " + empty},
		"blank text":                  {"title: '  '", "2:8: " + empty},
		"empty value":                 {"title:", "2:7: " + empty},
		"null":                        {"regulator: {setting: null}", "2:22: " + empty},
		"tilde":                       {"title: ~", "2:8: " + empty},
		"number as text":              {"title: 1972", "2:8: a text is expected; put it in quotes: \"1972\""},
		"long text":                   {"title: " + strings.Repeat("x", 2001), "2:8: the text has 2001 bytes; at most 2000 are read"},
		"word for a part":             {"pump: in_tank", "2:7: a mapping of keys to values is expected, such as {place: in_tank}"},
		"list for a part":             {"pump: [in_tank]", "2:7: a mapping of keys to values is expected, such as {place: in_tank}"},
		"nothing for a part":          {"pump:", "2:6: " + empty},
		"none for a part":             {"pump: none", "2:7: none is not an answer here: there is always one; state its facts, or leave the line out while nothing is known"},
		"yes for an optional part":    {"exhaust: {catalyst: true}", "2:21: none, or a mapping such as {distance: 1.2 m}, is expected; {} says there is one and nothing more is known"},
		"empty optional part":         {"surge_tank:", "2:12: " + empty + "; write none when there is none, {} when there is one and nothing more is known"},
		"mapping for a list":          {"circuits: {name: pump}", "2:11: a list is expected, each item on a line that begins with \"- \"; write none when there are none"},
		"value for a list":            {"regions: us-ca", "2:10: a list is expected, each item on a line that begins with \"- \"; write none when there are none"},
		"empty list value":            {"circuits:", "2:10: " + empty + "; write none when there are none"},
		"empty item":                  {"circuits:\n  -\n  - {}", "3:4: " + empty},
		"wrong item":                  {"circuits: [pump]", "2:12: a mapping of keys to values is expected, such as {name: fuel pump}"},
		"wrong item of facts":         {"regions: [us, {}]", "2:15: one value is expected, such as us-ca, not a list or mapping"},
		"none as an item":             {"circuits: [none]", "2:12: none is not an answer here: there is always one; state its facts, or leave the line out while nothing is known"},
		"wrong word in a list":        {"sensors: {manifold_pressure: {shared_with: [brake_boster]}}", "2:45: brake_boster is not one of brake_booster, crankcase_ventilation, vacuum_advance, regulator, accessory; did you mean brake_booster?"},
		"too many items":              {"regions: [" + strings.Repeat("us,", 65) + "]", "2:10: the list has 65 items; at most 64 are read"},
		"none for a fact":             {"regulator: {setting: none}", "2:22: none: does not start with a number; write it like 300 kPa"},
		"alias where a value goes":    {"title: &a x\nnotes: *a", "2:8: an anchor (&a) is not allowed; write the value where it is needed\nf:3:8: an alias (*a) is not allowed; write the value out"},
		"octal, said once":            {"engine: {cylinders: 06}", "2:21: some readers take 06 for an octal number; write 6, or put a text in quotes"},
		"merge key, said once":        {"pump: {<<: {place: in_tank}}", "2:8: a merge key (<<) is not allowed; write the values out"},
		"duplicate key":               {"title: a\ntitle: b", "3:1: key title is already on line 2; keep one of them"},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := Load("f", []byte("plumbline: 1\n"+c.text+"\n"))
			require.Error(t, err)
			assert.Nil(t, d)
			assert.Equal(t, "f:"+c.want, err.Error())
		})
	}
}

func TestLoadNeedsTheEdition(t *testing.T) {
	for text, want := range map[string]string{
		"title: x\n":     "f:1:1: the edition of the file format is missing; write plumbline: 1 as the first line",
		"plumbline: 2\n": "f:1:12: 2 is not known to this program; write 1",
		"plumbline: x\n": "f:1:12: a whole number without unit or quotes is expected, such as 1",
		"plumbline:\n":   "f:1:11: " + empty,
		"{}":             "f:1:1: the edition of the file format is missing; write plumbline: 1 as the first line",
		"":               "f:1:1: the file is empty; a mapping of keys to values is expected",
	} {
		_, err := Load("f", []byte(text))
		assert.EqualError(t, err, want, "%q", text)
	}
}

func TestLoadReportsEverythingAtOnce(t *testing.T) {
	_, err := Load("van.yaml", []byte(`titel: x
stage: plannd
engine:
  cylinders: 0x6
  power: 90
pump:
  curve:
    - {pressure: 300 kPa, flow: 3 mm}
    - {pressure: 900 bar, pressure: 1 bar}
`))
	require.EqualError(t, err, strings.Join([]string{
		"van.yaml:1:1: the edition of the file format is missing; write plumbline: 1 as the first line",
		"van.yaml:1:1: unknown key titel; did you mean title?",
		"van.yaml:2:8: plannd is not one of planned, ordered, built, started, handed_over; did you mean planned?",
		"van.yaml:4:14: a decimal number is expected, not 0x6; put a text in quotes",
		"van.yaml:5:10: 90: a power needs a unit; write 90 W or 90 kW or 90 hp",
		"van.yaml:8:33: 3 mm is a length; a flow is expected, e.g. 190 L/h",
		"van.yaml:9:18: 900 bar is out of range; 0 kPa to 1500 kPa is expected",
		"van.yaml:9:27: key pressure is already on line 9; keep one of them",
	}, "\n"))
	var problems document.Problems
	require.ErrorAs(t, err, &problems)
	assert.Equal(t, "design.pump.curve[0].flow", problems[5].Path)
	assert.Equal(t, "design.engine.cylinders", problems[3].Path, "the document's problems have the design's paths")
	assert.Equal(t, "planned", problems[2].Suggest)
	assert.Equal(t, "plannd", problems[2].Text)
}

func TestLoadCapsItsProblems(t *testing.T) {
	var b strings.Builder
	b.WriteString("plumbline: 1\n")
	for i := range 200 {
		fmt.Fprintf(&b, "qqqqqq%d: 1\n", i)
	}
	_, err := Load("f", []byte(b.String()))
	problems := err.(document.Problems)
	require.Len(t, problems, document.MaxProblems+1)
	assert.Equal(t, "150 more problems are not shown; mend these first", problems[document.MaxProblems].Message)
}

func TestTwoWaysToSayOneThing(t *testing.T) {
	_, err := Load("d.yaml", []byte("plumbline: 1\npassages:\n  - bundle_diameter: 12 mm\n    wires: []\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "d.yaml:3:5: state bundle_diameter or wires, not both")
}

func TestTooManyItemsInAll(t *testing.T) {
	item := "{feed_wires: [" + strings.Repeat("{},", 60) + "]},"
	_, err := Load("d.yaml", []byte("plumbline: 1\ncircuits: ["+strings.Repeat(item, 40)+"]\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "the design has more than 2000 list items in all")
}

// A dash number names the outside diameter of the tube (SAE J514: -6 is 3/8 in), not the bore.
func TestDashNumberIsNoBore(t *testing.T) {
	_, err := Load("d.yaml", []byte("plumbline: 1\nfeed: {runs: [{bore: -6}]}\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "d.yaml:2:22: -6 is a dash number: it names the outside diameter of the tube it fits (0.375 in (9.53 mm)), and no bore or length; write the length, such as 8.1 mm")
}
