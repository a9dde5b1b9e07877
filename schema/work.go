package schema

import q "plumbline/schema/quantity"

// Condition is the state of an old vehicle before fuel or spark.
type Condition struct {
	Node
	// Time the vehicle stood unused.
	Standing Fact[q.Time] `json:"standing" range:"0 s..100 years" example:"3 months"`
	// Age of the fuel in it.
	FuelAge Fact[q.Time] `json:"fuel_age" range:"0 s..100 years" example:"1 month"`
	// Age of the oldest tyre.
	TyreAge Fact[q.Time] `json:"tyre_age" range:"0 s..100 years" example:"4 years"`
	// Age of the brake fluid.
	BrakeFluidAge Fact[q.Time] `json:"brake_fluid_age" range:"0 s..100 years" example:"1 year"`
	// Engine was turned one full turn by hand.
	TurnedByHand Fact[bool] `json:"turned_by_hand" example:"true"`
	// Oil and coolant were renewed or found good.
	FluidsGood Fact[bool] `json:"fluids_good" example:"true"`
	// Spark plugs were taken out, read and found good, or renewed.
	PlugsGood Fact[bool] `json:"plugs_good" example:"true"`
	// How the engine ran as it came, on its carburettor; `none` states that it did not run.
	RanBefore Maybe[RanBefore] `json:"ran_before"`
	// Old rubber fuel hose that stays in the path.
	OldHoseKept Fact[bool] `json:"old_hose_kept" example:"false"`
}

// RanBefore is how the engine ran before the conversion, warm.
type RanBefore struct {
	Node
	// Manifold vacuum below atmosphere at warm idle.
	IdleVacuum Fact[q.Pressure] `json:"idle_vacuum" range:"0 inHg..29 inHg" example:"18 inHg"`
	// Warm idle speed.
	IdleSpeed Fact[q.RotationalSpeed] `json:"idle_speed" range:"200 rpm..3000 rpm" example:"700 rpm"`
	// Timing at idle with the vacuum advance off, before top dead centre, seen with a light.
	BaseTiming Fact[q.Angle] `json:"base_timing" range:"-30 deg..60 deg" example:"8 deg"`
}

// Procedure is how the dangerous and the learned steps are done.
type Procedure struct {
	Node
	// Welding or heating on the tank.
	TankHotWork Fact[Word] `json:"tank_hot_work" words:"no_hot_work,purged_and_tested,by_specialist,not_purged" example:"no_hot_work"`
	// Fuel joints were checked for leaks at full pressure before the ignition was connected.
	LeakTestBeforeSpark Fact[bool] `json:"leak_test_before_spark" example:"true"`
	// Pressure still held when the waiting time after the pump stops was over, as a share of the setting.
	HeldPressure Fact[q.Share] `json:"held_pressure" range:"0 %..120 %" example:"95 %"`
	// How long was waited after the pump stopped before the held pressure was read.
	HeldFor Fact[q.Time] `json:"held_for" range:"10 s..24 h" example:"5 min"`
	// A fire extinguisher for liquids stands at the vehicle.
	ExtinguisherAtHand Fact[bool] `json:"extinguisher_at_hand" example:"true"`
	// Exhaust is led outside while running indoors.
	ExhaustLedOutside Fact[bool] `json:"exhaust_led_outside" example:"true"`
	// Fuel learning is allowed.
	LearningOn Fact[bool] `json:"learning_on" example:"false"`
	// Fixed timing was commanded while setting base timing.
	FixedTimingMode Fact[bool] `json:"fixed_timing_mode" example:"true"`
	// Cold start and acceleration fuel were tuned by hand.
	ColdStartTuned Fact[bool] `json:"cold_start_tuned" example:"true"`
	// Idle holds with the air conditioning on and off.
	IdleHoldsWithLoads Fact[bool] `json:"idle_holds_with_loads" example:"true"`
}

// Setup is what was entered in the controller.
type Setup struct {
	Node
	// Displacement entered.
	Displacement Fact[q.Volume] `json:"displacement" range:"0.1 L..30 L" example:"4.1 L"`
	// Cylinders entered.
	Cylinders Fact[int] `json:"cylinders" range:"1..16" example:"6"`
	// Flow of one injector entered.
	InjectorFlow Fact[q.Flow] `json:"injector_flow" range:"20 cc/min..5000 cc/min" example:"600 cc/min"`
	// Pressure at which the controller wants that flow: the one really across the nozzle, or the injector's test pressure.
	InjectorFlowAt Fact[Word] `json:"injector_flow_at" words:"system_pressure,test_pressure" example:"system_pressure"`
	// Fuel pressure entered.
	FuelPressure Fact[q.Pressure] `json:"fuel_pressure" range:"10 kPa..1500 kPa" example:"300 kPa"`
	// Ethanol content entered, by volume; E10 is 10 %.
	Ethanol Fact[q.Share] `json:"ethanol" range:"0 %..100 %" example:"10 %"`
	// Load signal it fuels by.
	LoadSignal Fact[Word] `json:"load_signal" words:"manifold_pressure,throttle_position,blend" example:"manifold_pressure"`
}
