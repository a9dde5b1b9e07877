package engine_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plumbline/engine"
	"plumbline/schema"
)

// theDay is the day the designs of these tests are judged on.
var theDay = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// judgedIn judges a design given as text for a region, or for none.
func judgedIn(t testing.TB, lib *engine.Library, text, region string) *engine.Report {
	t.Helper()
	design, err := schema.Load("d.yaml", []byte(text))
	require.NoError(t, err)
	options := engine.Options{Today: theDay}
	if region != "" {
		options.Regions = []string{region}
	}
	return lib.Judge(design, options)
}

// expected is what a rule must come to, what it must ask for, and words its text or its line to confirm must hold.
type expected struct {
	outcome     engine.Outcome
	asks, words string
}

// Each row is a vehicle at an edge of the law of its region; what must follow
// is read from the clause the rule itself cites. Dates stand on either side of
// the day a rule begins.
func TestVehiclesAtTheEdgesOfTheirLaw(t *testing.T) {
	t.Parallel()
	const fail, warn, open, pass, out = engine.Fail, engine.Warn, engine.Open, engine.Pass, engine.NotApplicable
	lib := library(t)
	for _, row := range []struct {
		name, region, design string
		want                 map[string]expected
	}{
		{"US car of 1967 without emission equipment", "us",
			`{vehicle: {use: road, model_year: 1967, original_emission_equipment: []}, registration: {certified_for: us_federal}, papers: {reasonable_basis: nothing}}`,
			map[string]expected{"regions/us.reasonable-basis": {outcome: out}, "regions/us-emissions.small-engine-of-1968": {outcome: out}}},
		{"US car of 1967, crankcase valve removed", "us",
			`{vehicle: {use: road, model_year: 1967, original_emission_equipment: [{kind: crankcase_ventilation, after: removed}]}, registration: {certified_for: us_federal}}`,
			map[string]expected{"regions/us-emissions.crankcase-ventilation-kept": {outcome: out}}},
		{"US car of 1968, 1.6 L, crankcase valve removed", "us",
			`{vehicle: {use: road, model_year: 1968, original_emission_equipment: [{kind: crankcase_ventilation, after: removed}]}, registration: {certified_for: us_federal}, engine: {displacement: 1.6 L}}`,
			map[string]expected{"regions/us-emissions.crankcase-ventilation-kept": {outcome: fail}, "regions/us-emissions.crankcase-vapour-drawn-in": {outcome: out}}},
		{"US car of 1968 with an engine of 45 cubic inches", "us",
			`{vehicle: {use: road, model_year: 1968, original_emission_equipment: [{kind: crankcase_ventilation, after: removed}]}, registration: {certified_for: us_federal}, engine: {displacement: 45 cu in}, papers: {reasonable_basis: nothing}}`,
			map[string]expected{"regions/us-emissions.small-engine-of-1968": {outcome: warn, words: "has to be asked"}, "regions/us-emissions.crankcase-ventilation-kept": {outcome: out}, "regions/us.reasonable-basis": {outcome: out}}},
		{"US car of 1970, carburettor replaced without a document", "us",
			`{vehicle: {use: road, model_year: 1970}, registration: {certified_for: us_federal}, papers: {reasonable_basis: nothing}}`,
			map[string]expected{"regions/us.reasonable-basis": {outcome: warn, words: "one of enforcement, not an exemption"}}},
		{"US car of 1971, canister kept, purge port unknown", "us",
			`{vehicle: {class: passenger_car, use: road, model_year: 1971, original_emission_equipment: [{kind: evaporative_canister, after: kept}]}, registration: {certified_for: us_federal}}`,
			map[string]expected{"regions/us-emissions.canister-purge-port": {outcome: open, asks: "design.intake.canister_purge"}}},
		{"US truck of 11,500 lb of 1972, canister removed", "us",
			`{vehicle: {class: truck_or_van, gross_mass: 11500 lb, use: road, model_year: 1972, original_emission_equipment: [{kind: evaporative_canister, after: removed}]}, registration: {certified_for: us_federal}, papers: {reasonable_basis: nothing}}`,
			map[string]expected{"regions/us-emissions.evaporative-equipment-kept": {outcome: out}, "regions/us-emissions.before-its-standard": {outcome: warn, words: "has to be asked"}, "regions/us.reasonable-basis": {outcome: warn}}},
		{"US truck of 11,500 lb of 1968", "us",
			`{vehicle: {class: truck_or_van, gross_mass: 11500 lb, use: road, model_year: 1968, original_emission_equipment: [{kind: crankcase_ventilation, after: removed}]}, registration: {certified_for: us_federal}, engine: {displacement: 6 L}, papers: {reasonable_basis: nothing}}`,
			map[string]expected{"regions/us.reasonable-basis": {outcome: out}, "regions/us-emissions.crankcase-ventilation-kept": {outcome: fail}}},
		{"US truck of 1972 of unknown mass, canister removed", "us",
			`{vehicle: {class: truck_or_van, use: road, model_year: 1972, original_emission_equipment: [{kind: evaporative_canister, after: removed}]}, registration: {certified_for: us_federal}}`,
			map[string]expected{"regions/us-emissions.evaporative-equipment-kept": {outcome: open, asks: "design.vehicle.gross_mass"}}},
		{"New York vehicle of 1969 built for another market, crankcase valve removed", "us-ny",
			`{vehicle: {use: road, model_year: 1969, original_emission_equipment: [{kind: crankcase_ventilation, after: removed}]}, registration: {certified_for: other_market}, intake: {crankcase_ventilation: draught_tube}}`,
			map[string]expected{"regions/us-ny.crankcase-ventilation": {outcome: fail, words: "whatever market"}, "regions/us-emissions.crankcase-ventilation-kept": {outcome: out}}},
		{"New York car of 1965, before the federal limits", "us-ny",
			`{vehicle: {use: road, model_year: 1965}, registration: {certified_for: us_federal}, intake: {crankcase_ventilation: draught_tube}}`,
			map[string]expected{"regions/us-ny.crankcase-ventilation": {outcome: fail}}},
		{"Maryland car of 1968, air pump removed", "us-md",
			`{vehicle: {class: passenger_car, use: road, model_year: 1968, original_emission_equipment: [{kind: air_injection, after: removed}]}, registration: {certified_for: us_federal}}`,
			map[string]expected{"regions/us-md.maker-fitted-equipment-kept": {outcome: fail}}},
		{"Colorado car of 1968 with an engine of 45 cubic inches, crankcase valve removed", "us-co",
			`{vehicle: {class: passenger_car, use: road, model_year: 1968, original_emission_equipment: [{kind: crankcase_ventilation, after: removed}]}, registration: {certified_for: us_federal, plate: normal}, engine: {displacement: 45 cu in}}`,
			map[string]expected{"regions/us-co.maker-fitted-equipment-kept": {outcome: fail}, "regions/us-emissions.crankcase-ventilation-kept": {outcome: out}}},
		{"private Utah car that leaks, muffler removed", "us-ut",
			`{vehicle: {class: passenger_car, gross_mass: 1500 kg, use: road, model_year: 1972}, registration: {commercial: false}, measured: {fuel_leak: true}, exhaust: {silencer: removed}}`,
			map[string]expected{"regions/us-ut.light-fuel-system-tight": {outcome: out}, "regions/us-ut.muffler": {outcome: fail}, "whole/leaks.no-leak-seen": {outcome: fail}}},
		{"California car of 1967 with 1.6 L, no order and no air pump any more", "us-ca",
			`{vehicle: {use: road, model_year: 1967, original_emission_equipment: [{kind: air_injection, after: removed}]}, registration: {certified_for: us_california}, engine: {displacement: 1.6 L}, papers: {exemption_order: none}}`,
			map[string]expected{"regions/us-ca.order-held": {outcome: warn, words: "Air Resources Board"}, "regions/us-ca-equipment.early-exhaust-control-kept": {outcome: warn, words: "names no size"}}},
		{"Maryland bus, tank beside the body but behind the axle", "us-md",
			`{vehicle: {class: bus, use: road}, tank: {overhang: beside_body}}`,
			map[string]expected{"regions/us-md.tank-within-bus": {outcome: warn}}},
		{"California car of 1975 without an order", "us-ca",
			`{vehicle: {use: road, model_year: 1975}, papers: {exemption_order: none}}`,
			map[string]expected{"regions/us-ca.order-held": {outcome: fail, words: "excused from the inspection, not from this"}, "regions/us-ca-inspection.visual-check": {outcome: out}}},
		{"California car of 1976, order for another engine", "us-ca",
			`{vehicle: {use: road, model_year: 1976}, registration: {collector_insured: false}, papers: {exemption_order: {number: D-000-0, covers_part: true, covers_vehicle: false}}}`,
			map[string]expected{"regions/us-ca.order-names-vehicle": {outcome: fail}, "regions/us-ca-inspection.visual-check": {outcome: fail}}},
		{"federal car of 1966 in California, device against oxides of nitrogen unknown", "us-ca",
			`{vehicle: {use: road, model_year: 1966, gross_mass: 4000 lb}, registration: {certified_for: us_federal}}`,
			map[string]expected{"regions/us-ca-equipment.nitrogen-oxide-device": {outcome: open, asks: "design.registration.retrofit_devices", words: "Air Resources Board"}}},
		{"Colorado collector's car of 1975, recirculation removed", "us-co",
			`{vehicle: {use: road_limited, model_year: 1975, original_emission_equipment: [{kind: exhaust_gas_recirculation, after: removed}]}, registration: {certified_for: us_federal, plate: collector, emission_test_area: true}}`,
			map[string]expected{"regions/us-co.historic-equipment-works": {outcome: fail, words: "may be spared the test"}, "regions/us-emissions.exhaust-recirculation-kept": {outcome: fail}, "regions/us-co.collector-tested": {outcome: out}}},
		{"Texas car 25 years old in a programme county", "us-tx",
			`{vehicle: {use: road, model_year: 2001}, registration: {plate: normal, emission_test_area: true}}`,
			map[string]expected{"regions/us-tx.emission-test-passed": {outcome: out}}},
		{"Texas car 24 years old in a programme county", "us-tx",
			`{vehicle: {use: road, model_year: 2002}, registration: {plate: normal, emission_test_area: true}}`,
			map[string]expected{"regions/us-tx.emission-test-passed": {outcome: open, asks: "design.registration.last_emission_test"}}},
		{"British car first used on 31 July 1975", "gb",
			`{vehicle: {use: road, first_use_date: 1975-07-31}, registration: {plate: normal}, engine: {cycle: four_stroke, origin: original}, measured: {exhaust: {idle_carbon_monoxide: 6 %}}}`,
			map[string]expected{"regions/gb-emissions.idle-monoxide": {outcome: out}, "regions/gb-emissions.smoke": {outcome: open, asks: "design.measured.exhaust.smoke_time"}}},
		{"British car first used on 1 August 1975 at 4.6 percent", "gb",
			`{vehicle: {use: road, first_use_date: 1975-08-01}, registration: {plate: normal}, engine: {cycle: four_stroke, origin: original}, measured: {exhaust: {idle_carbon_monoxide: 4.6 %}}}`,
			map[string]expected{"regions/gb-emissions.idle-monoxide": {outcome: fail, words: "allows 4.5 %"}}},
		{"British car first used on 1 August 1986 at 4.0 percent", "gb",
			`{vehicle: {use: road, first_use_date: 1986-08-01}, registration: {plate: normal}, engine: {cycle: four_stroke, origin: original}, measured: {exhaust: {idle_carbon_monoxide: 4.0 %}}}`,
			map[string]expected{"regions/gb-emissions.idle-monoxide": {outcome: fail, words: "allows 3.5 %"}}},
		{"British car first used on 1 July 1973 with a plastic surge tank", "gb",
			`{vehicle: {use: road, first_use_date: 1973-07-01}, surge_tank: {material: plastic, approval_mark: false}}`,
			map[string]expected{"regions/gb.surge-tank-metal": {outcome: warn, words: "whether a surge tank counts"}}},
		{"British car first used on 30 June 1973 with a plastic tank that leaks", "gb",
			`{vehicle: {use: road, first_use_date: 1973-06-30}, tank: {material: plastic, approval_mark: false}, measured: {fuel_leak: true}}`,
			map[string]expected{"regions/gb.tank-metal": {outcome: out}, "regions/gb.fuel-tight": {outcome: fail}}},
		{"British historic car registered 41 years ago, converted this year, original engine", "gb",
			`{vehicle: {use: road, first_registration_date: 1985-11-25}, registration: {plate: historic}, engine: {origin: original}, papers: {done_on: 2026-11-20}}`,
			map[string]expected{"regions/gb-identity.historic-age": {outcome: pass}, "regions/gb-identity.historic-engine": {outcome: pass, words: "may still declare historic status"}}},
		{"German car first in traffic on 30 June 1969", "de",
			`{vehicle: {use: road, first_use_date: 1969-06-30}, papers: {part_approval: nothing}, pump: {stop_control: ignition_key_only, driver_shut_off: false}, measured: {exhaust: {idle_carbon_monoxide: 6 %}}}`,
			map[string]expected{"regions/de-inspection.idle-monoxide": {outcome: out}, "regions/de.part-approved": {outcome: fail}, "regions/de-construction.shut-off": {outcome: fail}}},
		{"German car of 1972, pump on the key alone", "de",
			`{vehicle: {use: road, first_use_date: 1972-04-10}, pump: {stop_control: ignition_key_only, driver_shut_off: false}}`,
			map[string]expected{"regions/de-construction.shut-off": {outcome: fail}}},
		{"German car of 1972, parts report without inspection", "de",
			`{vehicle: {use: road, first_use_date: 1972-04-10}, papers: {part_approval: parts_report, fitting_inspected: false}}`,
			map[string]expected{"regions/de.fitting-inspected": {outcome: fail}, "regions/de.part-approved": {outcome: pass}}},
		{"German historic plate, injection fitted today", "de",
			`{vehicle: {use: road, first_use_date: 1972-04-10}, registration: {plate: historic}, papers: {done_on: 2026-11-25, period_evidence: false, assessor_agreed: false}}`,
			map[string]expected{"regions/de.historic-change": {outcome: warn, words: "who assesses the historic status"}, "regions/de.historic-age": {outcome: pass}}},
		{"South Australian car of December 1971, pump in the boot", "au-sa",
			`{vehicle: {use: road, class: passenger_car, manufacture_date: 1971-12-01, original_emission_equipment: []}, pump: {place: boot}, measured: {exhaust: {idle_carbon_monoxide: 6 %}}}`,
			map[string]expected{"regions/au-sa-fuel.pump-outside-cabin-and-boot": {outcome: fail}, "regions/au-sa.idle-monoxide": {outcome: out}, "regions/au-sa.canister-fitted": {outcome: out}}},
		{"Australian car of 1 July 1976, canister removed", "au",
			`{vehicle: {use: road, class: passenger_car, manufacture_date: 1976-07-01, original_emission_equipment: [{kind: evaporative_canister, after: removed}]}}`,
			map[string]expected{"regions/au-changes.canister-kept": {outcome: warn}, "regions/au-changes.original-equipment-kept": {outcome: out}}},
		{"South Australian car of 1 July 1976, canister removed", "au-sa",
			`{vehicle: {use: road, class: passenger_car, manufacture_date: 1976-07-01, original_emission_equipment: [{kind: evaporative_canister, after: removed}]}}`,
			map[string]expected{"regions/au-sa.canister-fitted": {outcome: fail}}},
		{"Australian car of 15 January 1986", "au",
			`{vehicle: {use: road, class: passenger_car, manufacture_date: 1986-01-15}}`,
			map[string]expected{"regions/au.plate-suits-date": {outcome: open, asks: "design.registration.design_rule", words: "compliance plate"}, "regions/au.idle-monoxide-27a": {outcome: open, asks: "design.registration.design_rule"}}},
		{"New Zealand car with its own tank and a new pump in the engine bay", "nz",
			`{vehicle: {use: road}, tank: {change: unchanged}, pump: {place: engine_bay}, papers: {certifier_view: not_asked}}`,
			map[string]expected{"regions/nz.certifier-asked": {outcome: warn, words: "low volume vehicle (LVV) certifier"}, "regions/nz.new-tank-spill-proof": {outcome: out}}},
		{"Ontario vehicle of 1979, air pump removed", "ca-on",
			`{vehicle: {use: road, model_year: 1979, original_emission_equipment: [{kind: air_injection, after: removed}]}}`,
			map[string]expected{"regions/ca-on.exhaust-control-kept": {outcome: fail, words: "exceptions by age"}}},
		{"Japanese vehicle with a breather 250 mm from the tailpipe", "jp",
			`{vehicle: {use: road}, tank: {filler_to_exhaust: 250 mm}}`,
			map[string]expected{"regions/jp.filler-from-exhaust": {outcome: fail}}},
		{"competition car with a connector inside the cockpit", "sport",
			`{vehicle: {use: competition}, suction: none, return_line: none, feed: {runs: [{kind: fitting, fitting: elbow_90, zone: cabin}]}}`,
			map[string]expected{"regions/sport-lines.joint-in-cockpit": {outcome: warn}}},
		{"low-pressure hose behind the pump", "",
			`{regulator: {setting: 300 kPa}, feed: {runs: [{kind: hose, zone: engine_bay, mark: sae_j30_r7}]}}`,
			map[string]expected{"fuel/hose.injection-grade": {outcome: fail}}},
		{"hose without a readable mark", "",
			`{feed: {runs: [{kind: hose, zone: engine_bay, material: rubber, mark: unmarked}]}}`,
			map[string]expected{"fuel/hose.hose-marked": {outcome: fail}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := judgedIn(t, lib, "{plumbline: 1, "+strings.TrimPrefix(row.design, "{"), row.region)
			for rule, want := range row.want {
				i := slices.IndexFunc(r.Findings, func(f engine.Finding) bool { return f.Rule == rule })
				require.GreaterOrEqual(t, i, 0, rule)
				f := r.Findings[i]
				assert.Equal(t, want.outcome, f.Outcome, "%s: %s %v", rule, f.Text, f.Missing)
				assert.Contains(t, f.Text+" "+f.Confirm, want.words, rule)
				if want.asks != "" {
					assert.Contains(t, f.Missing, want.asks, rule)
				}
			}
		})
	}
}
