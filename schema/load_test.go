package schema

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/schema/document"
)

const small = `plumbline: 1
title: "4.1 L in-line six truck"
stage: built
regions: [us, us-ca]
vehicle:
  model_year: 1972
  first_use_date: 1971-12-01
  air_conditioning: false
  original_emission_equipment: none
engine:
  volumetric_efficiency: 0.8
pump:
  curve:
    - {pressure: 300 kPa, flow: 50.2 gal/h}
    - pressure: 400 kPa
return_line: none
regulator:
  setting: 58 psi
exhaust:
  catalyst: {}
circuits: []
`

func TestLoadReadsFacts(t *testing.T) {
	d, err := Load("van.yaml", []byte(small))
	require.NoError(t, err)

	setting, known := d.Regulator.Setting.Get()
	require.True(t, known)
	assert.InDelta(t, 58*6894.757, setting.SI(), 0.1) // NIST SP 811 (2008), appendix B.8: 1 psi = 6.894 757 E+03 Pa
	assert.Equal(t, "58 psi", d.Regulator.Setting.Text())
	assert.Equal(t, Place{File: "van.yaml", Line: 18, Column: 12}, d.Regulator.Setting.Place())
	assert.Equal(t, "design.regulator.setting", d.Regulator.Setting.Path())

	stage, _ := d.Stage.Get()
	assert.Equal(t, Word("built"), stage)
	year, _ := d.Vehicle.ModelYear.Get()
	assert.Equal(t, 1972, year)
	day, _ := d.Vehicle.FirstUseDate.Get()
	assert.Equal(t, Date("1971-12-01"), day)
	cold, known := d.Vehicle.AirConditioning.Get()
	assert.True(t, known && !cold, "false is stated, not unknown")
	efficiency, _ := d.Engine.VolumetricEfficiency.Get()
	assert.Equal(t, 0.8, efficiency.SI())
	assert.Equal(t, "us-ca", d.Regions.Items[1].Any())
	assert.Equal(t, "design.regions[1]", d.Regions.Items[1].Path())

	require.Len(t, d.Pump.Curve.Items, 2)
	point := d.Pump.Curve.Items[1]
	assert.Equal(t, "design.pump.curve[1].flow", point.Flow.Path())
	assert.False(t, point.Flow.Known())
	assert.Nil(t, point.Flow.Any())
	assert.Equal(t, Place{}, point.Flow.Place())
}

func TestLoadTellsAbsentFromUnknown(t *testing.T) {
	d, err := Load("van.yaml", []byte(small))
	require.NoError(t, err)

	assert.Equal(t, Absent, d.ReturnLine.Presence())
	assert.Equal(t, Place{File: "van.yaml", Line: 16, Column: 14}, d.ReturnLine.Place())
	assert.Equal(t, Present, d.Exhaust.Catalyst.Presence(), "an empty mapping says there is one")
	assert.Equal(t, "design.exhaust.catalyst.distance", d.Exhaust.Catalyst.Part.Distance.Path())
	assert.Equal(t, NotStated, d.SurgeTank.Presence())
	assert.Equal(t, "design.surge_tank.volume", d.SurgeTank.Part.Volume.Path())

	assert.True(t, d.Circuits.Known())
	assert.Empty(t, d.Circuits.Items)
	assert.True(t, d.Vehicle.OriginalEmissionEquipment.Known(), "none is a known empty list")
	assert.False(t, d.Grounds.Known())
}

func TestLoadPlacesParts(t *testing.T) {
	d, err := Load("van.yaml", []byte(small))
	require.NoError(t, err)

	assert.Equal(t, Place{File: "van.yaml", Line: 1, Column: 1}, d.Place())
	assert.Equal(t, Place{File: "van.yaml", Line: 12, Column: 1}, d.Pump.Node.Place(), "a part stands at its key")
	assert.Equal(t, Place{File: "van.yaml", Line: 15, Column: 7}, d.Pump.Curve.Items[1].Place(), "an item at its beginning")
	assert.Equal(t, Place{File: "van.yaml", Line: 13, Column: 3}, d.Pump.Curve.Place())
	assert.Equal(t, "design.pump.curve[1]", d.Pump.Curve.Items[1].Path())
	assert.True(t, d.Pump.Stated())
	assert.False(t, d.Tank.Stated())
	assert.Equal(t, "design.tank", d.Tank.Path())
	assert.Equal(t, "design", d.Path())
}

func TestLoadReadsJSON(t *testing.T) {
	d, err := Load("van.json", []byte(`{"plumbline": 1, "engine": {"cylinders": 6, "volumetric_efficiency": 0.8},
	"return_line": "none", "regulator": {"setting": "58 psi"}, "vehicle": {"air_conditioning": true}}`))
	require.NoError(t, err)
	assert.Equal(t, Absent, d.ReturnLine.Presence())
	assert.Equal(t, Place{File: "van.json", Line: 2, Column: 50}, d.Regulator.Setting.Place())
}

func TestLoadNodeNeedsNothing(t *testing.T) {
	root, err := document.Parse("pack.yaml", []byte("cases:\n  - given: {pump: {place: in_tank}}\n  - given: {pump: {place: in_tnak}}\n  - given: {}\n"))
	require.NoError(t, err)
	cases := root.Content[1].Content

	d, err := LoadNode("pack.yaml", cases[0].Content[1])
	require.NoError(t, err)
	assert.Equal(t, Place{File: "pack.yaml", Line: 2, Column: 27}, d.Pump.Place.Place())
	assert.Equal(t, "design.pump.place", d.Pump.Place.Path())

	_, err = LoadNode("pack.yaml", cases[1].Content[1])
	assert.EqualError(t, err, "pack.yaml:3:27: in_tnak is not one of in_tank, in_surge_tank, frame_rail, engine_bay, boot, in_cabin; did you mean in_tank?")

	d, err = LoadNode("pack.yaml", cases[2].Content[1])
	require.NoError(t, err)
	assert.False(t, d.Pump.Place.Known())
}

func TestEmptyIsUnknownAndStamped(t *testing.T) {
	paths := map[string]bool{}
	Walk(Empty(), func(v Visit) {
		assert.False(t, v.Reading.Known(), v.Path)
		assert.Equal(t, v.Path, v.Reading.Path())
		assert.False(t, paths[v.Path], "%s is visited once", v.Path)
		paths[v.Path] = true
	})
	assert.True(t, paths["design.pump.place"])
	assert.True(t, paths["design.return_line.rise"], "facts of a part that may be absent can be asked for")
}

func TestWalkSkipsTheAbsentAndKeepsTheOrder(t *testing.T) {
	d, err := Load("van.yaml", []byte(small))
	require.NoError(t, err)
	var known []string
	Walk(d, func(v Visit) {
		assert.False(t, strings.HasPrefix(v.Path, "design.return_line"), "there is none")
		assert.Equal(t, v.Path, v.Reading.Path())
		if v.Reading.Known() {
			known = append(known, strings.TrimPrefix(v.Path, "design."))
		}
	})
	assert.Equal(t, []string{"plumbline", "title", "stage", "regions[0]", "regions[1]", "vehicle.model_year",
		"vehicle.first_use_date", "vehicle.air_conditioning", "engine.volumetric_efficiency", "pump.curve[0].pressure",
		"pump.curve[0].flow", "pump.curve[1].pressure", "regulator.setting"}, known)

	var structure []string
	WalkAll(d, func(v Visit) {
		switch {
		case v.Optional != nil && v.Optional.Presence() != NotStated, v.Listing != nil && v.Listing.Known():
			structure = append(structure, v.Key)
		}
	})
	assert.Equal(t, []string{"regions", "original_emission_equipment", "curve", "return_line", "catalyst", "circuits"}, structure)
}

func TestDesignsBuiltInGo(t *testing.T) {
	d := new(Design)
	d.Stage = Stated(Word("planned"))
	d.ReturnLine = Without[Line]()
	d.SurgeTank = Having(SurgeTank{Location: Stated(Word("frame_rail"))})
	d.Pump.Curve = ListOf(CurvePoint{}, CurvePoint{})
	Stamp(d)
	assert.Equal(t, "design.pump.curve[1].current", d.Pump.Curve.Items[1].Current.Path())
	assert.Equal(t, Absent, d.ReturnLine.Presence())
	location, known := d.SurgeTank.Part.Location.Get()
	assert.True(t, known)
	assert.Equal(t, Word("frame_rail"), location)
	assert.True(t, d.Pump.Curve.Known())
}

func TestPlaceOfPartsWithAPlaceFact(t *testing.T) {
	d, err := Load("van.yaml", []byte(small))
	require.NoError(t, err)
	assert.Equal(t, 12, d.PlaceOf("design.pump.rated_flow").Line, "a pump has a fact named place")
	assert.Equal(t, 15, d.PlaceOf("design.pump.curve[1].flow").Line)
	assert.Equal(t, 18, d.PlaceOf("design.regulator.setting").Line)
	assert.Equal(t, 16, d.PlaceOf("design.return_line.rise").Line)
	assert.Equal(t, 1, d.PlaceOf("design.tank.capacity").Line)
}
