package engine_test

import (
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"plumbline/engine"
	"plumbline/rules"
	"plumbline/schema"
)

func benchDesign(b *testing.B) (string, []byte) {
	b.Helper()
	data, err := os.ReadFile("../designs/demo/six-return.yaml")
	if err != nil {
		b.Fatal(err)
	}
	return "six-return.yaml", data
}

func benchLibrary(b *testing.B) *engine.Library {
	b.Helper()
	lib, err := engine.Load(rules.Files())
	if err != nil {
		b.Fatal(err)
	}
	return lib
}

// Reading, checking and compiling the whole library.
func BenchmarkLoadLibrary(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		benchLibrary(b)
	}
}

// Judging one complete design by the whole library, derived values included,
// on one core.
func BenchmarkJudge(b *testing.B) {
	lib := benchLibrary(b)
	name, data := benchDesign(b)
	d, err := schema.Load(name, data)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	findings := 0
	for b.Loop() {
		findings = len(lib.Judge(d, engine.Options{}).Findings)
	}
	b.ReportMetric(float64(findings), "findings")
}

// The same on all cores at once; ns/op is wall time per design.
func BenchmarkJudgeParallel(b *testing.B) {
	lib := benchLibrary(b)
	name, data := benchDesign(b)
	b.ReportMetric(float64(runtime.GOMAXPROCS(0)), "cores")
	b.RunParallel(func(pb *testing.PB) {
		d, err := schema.Load(name, data)
		if err != nil {
			b.Error(err)
			return
		}
		for pb.Next() {
			lib.Judge(d, engine.Options{})
		}
	})
}

// tenByHand are ten rules of the library written out in Go, for comparison.
// Each returns the outcome of its rule on a design that states what it reads.
func tenByHand() map[string]func(d *schema.Design) engine.Outcome {
	judge := func(ok bool, broken engine.Outcome) engine.Outcome {
		if ok {
			return engine.Pass
		}
		return broken
	}
	return map[string]func(d *schema.Design) engine.Outcome{
		"fuel/delivery.stops-with-engine": func(d *schema.Design) engine.Outcome {
			v, ok := d.Pump.StopControl.Get()
			if !ok {
				return engine.Open
			}
			return judge(v == "controller_speed_signal" || v == "oil_pressure_switch", engine.Fail)
		},
		"fuel/delivery.pump-ethanol": func(d *schema.Design) engine.Outcome {
			v, ok := d.Pump.EthanolRating.Get()
			w, ok2 := d.Fuel.Ethanol.Get()
			if !ok || !ok2 {
				return engine.Open
			}
			return judge(v.SI() >= w.SI(), engine.Fail)
		},
		"fuel/delivery.inertia-switch": func(d *schema.Design) engine.Outcome {
			switch d.Pump.InertiaSwitch.Presence() {
			case schema.Present:
				return engine.Pass
			case schema.Absent:
				return engine.Warn
			}
			return engine.Open
		},
		"throttle/control.full-opening": func(d *schema.Design) engine.Outcome {
			v, ok := d.ThrottleControl.OpeningAtFloor.Get()
			if !ok {
				return engine.Open
			}
			return judge(v.SI() >= 0.95, engine.Warn)
		},
		"throttle/control.pedal-stop": func(d *schema.Design) engine.Outcome {
			l, ok := d.ThrottleControl.Linkage.Get()
			if ok && l != "cable" && l != "rod" {
				return engine.NotApplicable
			}
			v, ok2 := d.ThrottleControl.PedalStop.Get()
			if !ok || !ok2 {
				return engine.Open
			}
			return judge(v, engine.Warn)
		},
		"fuel/delivery.pump-submersible": func(d *schema.Design) engine.Outcome {
			p, ok := d.Pump.Place.Get()
			if ok && p != "in_tank" && p != "in_surge_tank" {
				return engine.NotApplicable
			}
			v, ok2 := d.Pump.RatedSubmersible.Get()
			if !ok || !ok2 {
				return engine.Open
			}
			return judge(v, engine.Fail)
		},
		"electrical/fusing.fuse-dry": func(d *schema.Design) engine.Outcome {
			return worst(d.Circuits.Items, func(c *schema.Circuit) engine.Outcome {
				if c.Fuse.Presence() == schema.Absent {
					return engine.NotApplicable
				}
				v, ok := c.Fuse.Part.Place.Get()
				if !ok {
					return engine.Open
				}
				return judge(v != "engine_bay_open", engine.Warn)
			})
		},
		"electrical/fusing.fuse-fitted": func(d *schema.Design) engine.Outcome {
			return worst(d.Circuits.Items, func(c *schema.Circuit) engine.Outcome {
				if v, ok := c.Source.Get(); !ok {
					return engine.Open
				} else if v == "other_circuit" {
					return engine.NotApplicable
				}
				return judge(c.Fuse.Presence() == schema.Present, engine.Fail)
			})
		},
		"fuel/hose.hose-marked": func(d *schema.Design) engine.Outcome {
			return worst(d.Feed.Runs.Items, func(r *schema.Run) engine.Outcome {
				k, ok := r.Kind.Get()
				m, ok2 := r.Material.Get()
				if ok && k != "hose" || ok2 && m == "ptfe_braided" {
					return engine.NotApplicable
				}
				v, ok3 := r.Mark.Get()
				if !ok || !ok2 || !ok3 {
					return engine.Open
				}
				return judge(v != "unmarked" && v != "sae_j30_r13", engine.Fail)
			})
		},
		"throttle/control.harness-off-linkage": func(d *schema.Design) engine.Outcome {
			v, ok := d.ThrottleControl.HarnessClearance.Get()
			if !ok {
				return engine.Open
			}
			return judge(v.SI() >= 0.0127, engine.Fail)
		},
	}
}

func worst[T any](items []T, judge func(*T) engine.Outcome) engine.Outcome {
	out := engine.NotApplicable
	for i := range items {
		if o := judge(&items[i]); o.Rank() < out.Rank() {
			out = o
		}
	}
	return out
}

// Ten rules written in Go give what the same rules as data give, on every
// demo and good design; so the comparison of their speed is fair.
func TestTenRulesByHandAgree(t *testing.T) {
	t.Parallel()
	lib := library(t).Only(slices.Collect(maps.Keys(tenByHand()))...)
	files, err := filepath.Glob("../designs/*/*.yaml")
	if err != nil || len(files) < 4 {
		t.Fatal("no designs", err)
	}
	for _, file := range files {
		if strings.HasPrefix(filepath.Base(file), ".") || filepath.Base(filepath.Dir(file)) == "patterns" {
			continue // no design
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d, err := schema.LoadBased(file, data, os.ReadFile)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]engine.Outcome{}
		for _, f := range lib.Judge(d, engine.Options{}).Findings {
			if have, ok := got[f.Rule]; !ok || f.Outcome.Rank() < have.Rank() {
				got[f.Rule] = f.Outcome
			}
		}
		for rule, byHand := range tenByHand() {
			if d.Circuits.Known() || !strings.HasPrefix(rule, "electrical/") {
				if want := byHand(d); got[rule] != want {
					t.Errorf("%s: %s is %q, by hand %q", file, rule, got[rule], want)
				}
			}
		}
	}
}

// The ten rules as data, without the derived values they do not read.
func BenchmarkTenRulesAsData(b *testing.B) {
	lib := benchLibrary(b)
	ten := lib.Only(slices.Collect(maps.Keys(tenByHand()))...)
	name, data := benchDesign(b)
	d, err := schema.Load(name, data)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		ten.Judge(d, engine.Options{})
	}
}

// The same ten rules by hand.
func BenchmarkTenRulesByHand(b *testing.B) {
	name, data := benchDesign(b)
	d, err := schema.Load(name, data)
	if err != nil {
		b.Fatal(err)
	}
	ten := tenByHand()
	for b.Loop() {
		for _, rule := range ten {
			rule(d)
		}
	}
}

// Judging by the packs of fuel path and power supply alone, which rest on nearly every derived value: what the
// computation costs a judging, apart from the size of the whole library.
func BenchmarkJudgeFuelAndPower(b *testing.B) {
	var wanted []string
	whole := benchLibrary(b)
	for _, p := range whole.Packs() {
		if slices.Contains([]string{"fuel/delivery", "fuel/pressure", "fuel/return", "fuel/vapour", "fuel/injectors", "electrical/power"}, p.Pack) {
			for i := range p.Rules {
				wanted = append(wanted, p.Pack+"."+p.Rules[i].ID)
			}
		}
	}
	lib := whole.Only(wanted...)
	name, data := benchDesign(b)
	d, err := schema.Load(name, data)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		lib.Judge(d, engine.Options{})
	}
	b.ReportMetric(float64(len(wanted)), "rules")
}
