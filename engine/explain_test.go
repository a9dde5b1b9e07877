package engine_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/engine/derive"
	"plumbline/schema"
	"plumbline/schema/quantity"
	"plumbline/testdata/proofs"
)

// accounts judges a design by one rule and accounts for it.
func accounts(t *testing.T, lib *engine.Library, name, text, rule string) []engine.Account {
	t.Helper()
	design, err := schema.Load(name, []byte(text))
	require.NoError(t, err)
	out, err := lib.Account(design, engine.Options{Units: quantity.Both}, rule)
	require.NoError(t, err)
	return out
}

// Every rule of the library can be accounted for on every demo design, and what its expressions gave agrees with the outcome.
func TestAccountsAgreeWithOutcomes(t *testing.T) {
	t.Parallel()
	lib := library(t)
	for _, name := range proofs.Sample([]string{"demo/four-faulty.yaml", "demo/six-return.yaml", "demo/van-v6-in-tank.yaml", "demo/counter-half-known.yaml", "good/rear-flat-four.yaml"}, 3) {
		text := designText(t, name)
		judgedAs := map[string]engine.Outcome{}
		for _, f := range judged(t, lib, name, text).Findings {
			judgedAs[f.Rule+" "+f.Subject] = f.Outcome
		}
		design, err := schema.Load(name, text)
		require.NoError(t, err)
		for _, p := range lib.Packs() {
			for i := range p.Rules {
				list, err := lib.Account(design, engine.Options{}, p.Pack+"."+p.Rules[i].ID)
				require.NoError(t, err)
				for j := range list {
					f := &list[j].Finding
					if !f.Sense || f.Outcome != engine.Open { // a check of sense that waits stands in no report
						assert.Equal(t, judgedAs[f.Rule+" "+f.Subject], f.Outcome, "%s on %s of %s", f.Rule, f.Subject, name)
					}
					agrees(t, &list[j])
				}
			}
		}
	}
}

func agrees(t *testing.T, a *engine.Account) {
	t.Helper()
	require.NotEmpty(t, a.Asked, a.Finding.Rule)
	last := a.Asked[len(a.Asked)-1]
	where := a.Finding.Rule + " on " + a.Finding.Subject + ": " + last.Of + ": " + last.Expression
	switch a.Finding.Outcome {
	case engine.Pass:
		for _, x := range a.Asked {
			if x.Of == "applies" || strings.HasPrefix(x.Of, "must") || strings.HasPrefix(x.Of, "should") {
				assert.Equal(t, "true", x.Value, where)
			}
		}
	case engine.Fail, engine.Warn:
		of := map[engine.Outcome]string{engine.Fail: "must", engine.Warn: "should"}[a.Finding.Outcome]
		broken := 0
		for _, x := range a.Asked {
			if strings.HasPrefix(x.Of, of) && x.Value == "false" {
				broken++
			}
		}
		assert.Positive(t, broken, where)
	case engine.Open:
		assert.Contains(t, values(a.Asked, nil), "unknown", where)
	case engine.NotApplicable:
		assert.Contains(t, []string{"false", "absent", "0 items", spare(a)}, last.Value, where)
	}
}

func values(list []engine.Asked, out []string) []string {
	for _, x := range list {
		out = values(x.Inside, append(out, x.Value))
	}
	return out
}

// find returns the expression with this text.
func find(t *testing.T, list []engine.Asked, text string) *engine.Asked {
	t.Helper()
	var look func(list []engine.Asked) *engine.Asked
	look = func(list []engine.Asked) *engine.Asked {
		for i := range list {
			if list[i].Expression == text {
				return &list[i]
			}
			if x := look(list[i].Inside); x != nil {
				return x
			}
		}
		return nil
	}
	x := look(list)
	require.NotNil(t, x, "%s is not among %+v", text, list)
	return x
}

func TestAccountShowsWhatDecided(t *testing.T) {
	lib := library(t)
	list := accounts(t, lib, "springs.yaml", `plumbline: 1
throttle_control:
  linkage: cable
  return_springs: 2
  sensor_spring_counted: true
`, "throttle/control.two-springs")
	require.Len(t, list, 1)
	a := list[0]
	assert.Equal(t, engine.Fail, a.Finding.Outcome)
	assert.Equal(t, "applies", a.Asked[0].Of)
	assert.Equal(t, "true", a.Asked[0].Value)
	springs := find(t, a.Asked, "design.throttle_control.return_springs >= 2")
	assert.Equal(t, "true", springs.Value)
	counted := find(t, a.Asked, "!design.throttle_control.sensor_spring_counted")
	assert.Equal(t, "false", counted.Value)
	require.Len(t, counted.Inside, 1)
	assert.Equal(t, "true", counted.Inside[0].Value)
	assert.Equal(t, "design.throttle_control.sensor_spring_counted", counted.Inside[0].Path)
	require.NotNil(t, counted.Inside[0].Place)
	assert.Equal(t, 5, counted.Inside[0].Place.Line)
	_, err := json.Marshal(list)
	require.NoError(t, err)
}

// What && and || need not look at is shown all the same: here the second half of the must.
func TestAccountShowsWhatIsUnknown(t *testing.T) {
	list := accounts(t, library(t), "springs.yaml", "plumbline: 1\nthrottle_control: {linkage: rod, return_springs: 3}\n", "throttle/control.two-springs")
	require.Len(t, list, 1)
	assert.Equal(t, engine.Pass, list[0].Finding.Outcome)
	counted := find(t, list[0].Asked, "design.throttle_control.sensor_spring_counted")
	assert.Equal(t, "unknown", counted.Value)
	assert.Equal(t, []string{"design.throttle_control.sensor_spring_counted"}, counted.Missing)
}

// A list is shown item by item, each with its name.
func TestAccountShowsItems(t *testing.T) {
	list := accounts(t, library(t), "grounds.yaml", `plumbline: 1
complete: [grounds]
grounds:
  - {name: block strap, point: engine_block}
  - {name: stud strap, point: sensor_stud}
`, "electrical/grounds.engine-and-body-tied")
	require.Len(t, list, 1)
	assert.Equal(t, engine.Fail, list[0].Finding.Outcome)
	exists := find(t, list[0].Asked, "design.grounds.exists(g, g.point == 'engine_block')")
	assert.Equal(t, "true", exists.Value)
	require.Len(t, exists.Inside, 2)
	for i, want := range []struct{ item, name, value string }{
		{"design.grounds[0]", "block strap", "true"},
		{"design.grounds[1]", "stud strap", "false"},
	} {
		x := exists.Inside[i]
		assert.Equal(t, want.item, x.Item)
		assert.Equal(t, want.name, x.ItemName)
		assert.Equal(t, want.value, x.Value)
		assert.Equal(t, want.item+".point", x.Inside[0].Path)
	}
}

func TestAccountOfNoRule(t *testing.T) {
	_, err := library(t).Account(schema.Empty(), engine.Options{}, "fuel/none.such")
	assert.EqualError(t, err, "there is no rule fuel/none.such")
}

// Reasons that keep a finding open are in the reader's units: a pump asked for a pressure its curve does not reach.
func TestAccountReasonsInTheReadersUnits(t *testing.T) {
	text := string(designText(t, "demo/six-return.yaml"))
	text = strings.Replace(text, sixCurve+"  curve_voltage: 13.5 V\n  motor_resistance: 0.35 ohm\n  rated_flow: 160 L/h\n",
		"    - {pressure: 100 kPa, flow: 52 L/h, current: 4 A}\n    - {pressure: 200 kPa, flow: 51 L/h, current: 4.9 A}\n  curve_voltage: 13.5 V\n  motor_resistance: 0.35 ohm\n", 1)
	design, err := schema.Load("six.yaml", []byte(text))
	require.NoError(t, err)
	for units, want := range map[quantity.System]string{
		quantity.Metric: "the pressure across it is 300 kPa, which must be from 100 kPa to 200 kPa",
		quantity.US:     "the pressure across it is 43.5 psi, which must be from 14.5 psi to 29 psi",
	} {
		list, err := library(t).Account(design, engine.Options{Units: units}, "fuel/delivery.flow-at-full-load")
		require.NoError(t, err)
		require.Len(t, list, 1)
		require.NotEmpty(t, list[0].Finding.Unreachable)
		assert.Contains(t, list[0].Finding.Unreachable[0], want)
		assert.NotContains(t, list[0].Finding.Unreachable[0], " Pa")
	}
}

// A session of the library assumes what the packs assume, unless told not to.
func TestSessionAssumes(t *testing.T) {
	lib := library(t)
	var path string
	for _, p := range lib.Packs() {
		for _, a := range p.Assumptions {
			if len(a.By) == 0 {
				path = a.Fact
			}
		}
	}
	require.NotEmpty(t, path, "the library assumes something")
	_, _, assumed := lib.Session(schema.Empty(), engine.Options{}).Assumption(path)
	assert.True(t, assumed)
	assert.NotEmpty(t, lib.AssumedBecause(path))
	_, _, assumed = lib.Session(schema.Empty(), engine.Options{NoAssumptions: true}).Assumption(path)
	assert.False(t, assumed)
}

// spare is the value of a list that holds only a part most vehicles do without, while nobody said whether it is there.
func spare(a *engine.Account) string {
	if v := derive.ViewAt(a.Finding.Absent); v != nil && v.Spare != "" {
		return "unknown"
	}
	return "absent"
}
