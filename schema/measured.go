package schema

import q "plumbline/schema/quantity"

// Measured are values taken on the finished vehicle.
type Measured struct {
	Node
	// Fuel pressure at idle.
	IdlePressure Fact[q.Pressure] `json:"idle_pressure" range:"0 kPa..1500 kPa" example:"300 kPa"`
	// Fuel pressure at full load.
	FullLoadPressure Fact[q.Pressure] `json:"full_load_pressure" range:"0 kPa..1500 kPa" example:"298 kPa"`
	// Voltage at the pump's terminals, running.
	PumpVoltage Fact[q.Voltage] `json:"pump_voltage" range:"0 V..18 V" example:"13.1 V"`
	// Pump current.
	PumpCurrent Fact[q.Current] `json:"pump_current" range:"0 A..60 A" example:"7.1 A"`
	// Voltage between controller ground and battery negative, all loads on.
	ControllerGroundDrop Fact[q.Voltage] `json:"controller_ground_drop" range:"0 V..5 V" example:"20 mV"`
	// Battery voltage at idle, all loads on.
	IdleBatteryVoltage Fact[q.Voltage] `json:"idle_battery_voltage" range:"0 V..60 V" example:"13.8 V"`
	// Manifold pressure with key on, engine stopped.
	KeyOnManifoldPressure Fact[q.AbsolutePressure] `json:"key_on_manifold_pressure" range:"40 kPa..120 kPa" example:"100 kPa"`
	// Barometer at the shop.
	Barometer Fact[q.AbsolutePressure] `json:"barometer" range:"40 kPa..120 kPa" example:"100.8 kPa"`
	// Coolant sensor reading, cold soaked.
	ColdCoolantReading Fact[q.Temperature] `json:"cold_coolant_reading" range:"-60 degC..80 degC" example:"18 degC"`
	// Air sensor reading, cold soaked.
	ColdAirReading Fact[q.Temperature] `json:"cold_air_reading" range:"-60 degC..80 degC" example:"18 degC"`
	// Timing seen with a light minus timing commanded.
	TimingError Fact[q.Angle] `json:"timing_error" range:"-60 deg..60 deg" example:"0.5 deg"`
	// Idle fuel correction.
	IdleCorrection Fact[q.Share] `json:"idle_correction" range:"-100 %..100 %" example:"3 %"`
	// Cruise fuel correction.
	CruiseCorrection Fact[q.Share] `json:"cruise_correction" range:"-100 %..100 %" example:"2 %"`
	// Manifold pressure at full load.
	FullLoadManifoldPressure Fact[q.AbsolutePressure] `json:"full_load_manifold_pressure" range:"20 kPa..350 kPa" example:"98 kPa"`
	// Gas analyser readings.
	Exhaust ExhaustReading `json:"exhaust"`
	// Fuel was seen or smelled outside the system, engine running and stopped.
	FuelLeak Fact[bool] `json:"fuel_leak" example:"false"`
	// Air leaks in between throttle body, adapter and manifold.
	InductionLeak Fact[bool] `json:"induction_leak" example:"false"`
	// Manifold vacuum below atmosphere at warm idle.
	IdleVacuum Fact[q.Pressure] `json:"idle_vacuum" range:"0 inHg..29 inHg" example:"18 inHg"`
	// Warm idle speed.
	IdleSpeed Fact[q.RotationalSpeed] `json:"idle_speed" range:"200 rpm..3000 rpm" example:"700 rpm"`
	// Timing at idle with the vacuum advance off, before top dead centre, seen with a light.
	BaseTiming Fact[q.Angle] `json:"base_timing" range:"-30 deg..60 deg" example:"8 deg"`
	// How the bank without a sensor of its own was checked; `none` states that it was not.
	OtherBank Maybe[OtherBank] `json:"other_bank"`
	// Carbon monoxide in the cabin, by volume.
	CabinCarbonMonoxide Fact[q.Share] `json:"cabin_carbon_monoxide" range:"0 ppm..1000000 ppm" example:"5 ppm"`
	// Fuel pressure with the pump running and the engine still: at key-on, or by the controller's test output.
	PrimePressure Fact[q.Pressure] `json:"prime_pressure" range:"0 kPa..1500 kPa" example:"300 kPa"`
	// Voltage at the pump's terminals, engine still.
	TestPumpVoltage Fact[q.Voltage] `json:"test_pump_voltage" range:"0 V..18 V" example:"12.0 V"`
	// Pump current, engine still.
	TestPumpCurrent Fact[q.Current] `json:"test_pump_current" range:"0 A..60 A" example:"6.4 A"`
	// Flow out of the return line's end into a can, pump running and engine still.
	CanFlow Fact[q.Flow] `json:"can_flow" range:"0 L/h..2000 L/h" example:"140 L/h"`
	// Fuel pressure while the regulator's outlet runs through a short wide hose into the can, pump running and engine still.
	FreeReturnPressure Fact[q.Pressure] `json:"free_return_pressure" range:"0 kPa..1500 kPa" example:"300 kPa"`
	// Pressure still held when the waiting time was over with the feed hose clamped behind the pump, as a share of that at the stop.
	HeldFeedClamped Fact[q.Share] `json:"held_feed_clamped" range:"0 %..120 %" example:"95 %"`
	// The same with the return hose clamped instead.
	HeldReturnClamped Fact[q.Share] `json:"held_return_clamped" range:"0 %..120 %" example:"95 %"`
	// Fuel pressure right behind the pump, at idle.
	PumpOutletPressure Fact[q.Pressure] `json:"pump_outlet_pressure" range:"0 kPa..2000 kPa" example:"312 kPa"`
	// Pressure lost over the filters of the feed together, at idle.
	FilterDrop Fact[q.Pressure] `json:"filter_drop" range:"0 kPa..1500 kPa" example:"6 kPa"`
	// Pressure in the return line at the regulator's outlet, at idle.
	ReturnPressure Fact[q.Pressure] `json:"return_pressure" range:"0 kPa..1500 kPa" example:"6 kPa"`
	// Vacuum at the inlet of a pump outside the tank, below the air's pressure, at idle.
	InletVacuum Fact[q.Pressure] `json:"inlet_vacuum" range:"0 kPa..100 kPa" example:"3 kPa"`
	// Pressure in the tank over the outside air, read before the cap is opened after a run; a vacuum is below nothing.
	TankPressure Fact[q.Pressure] `json:"tank_pressure" range:"-100 kPa..100 kPa" example:"-0.3 kPa"`
	// Fuel that comes out of the regulator's reference connection, pump running.
	HoseFuel Fact[q.Flow] `json:"hose_fuel" range:"0 mL/min..1000 mL/min" example:"0 mL/min"`
	// Flow of one injector held open into a measuring glass, brought to its test pressure.
	CupFlow Fact[q.Flow] `json:"cup_flow" range:"1 cc/min..5000 cc/min" example:"595 cc/min"`
	// Displacement as the controller shows it.
	DisplacementShown Fact[q.Volume] `json:"displacement_shown" range:"0.1 L..30 L" example:"4.1 L"`
	// Flow of one injector as the controller shows it.
	InjectorFlowShown Fact[q.Flow] `json:"injector_flow_shown" range:"20 cc/min..5000 cc/min" example:"600 cc/min"`
	// Fuel pressure entered, as the controller shows it.
	PressureShown Fact[q.Pressure] `json:"pressure_shown" range:"10 kPa..1500 kPa" example:"300 kPa"`
	// Voltage from battery positive to the pump's plus terminal, pump running at idle.
	PumpPlusDrop Fact[q.Voltage] `json:"pump_plus_drop" range:"0 V..18 V" example:"0.25 V"`
	// Voltage from the pump's minus terminal to battery negative, pump running at idle.
	PumpGroundDrop Fact[q.Voltage] `json:"pump_ground_drop" range:"0 V..18 V" example:"0.10 V"`
	// Voltage over the pump's fuse with its holder, at idle.
	PumpFuseDrop Fact[q.Voltage] `json:"pump_fuse_drop" range:"0 V..18 V" example:"0.05 V"`
	// Voltage over the contact of the pump's relay, at idle.
	PumpRelayDrop Fact[q.Voltage] `json:"pump_relay_drop" range:"0 V..18 V" example:"0.05 V"`
	// Battery voltage at a fast idle of about 2000 rpm, loads on.
	ChargingVoltage Fact[q.Voltage] `json:"charging_voltage" range:"0 V..60 V" example:"14.1 V"`
	// Battery voltage at about 2000 rpm with every load off and the battery full.
	UnloadedVoltage Fact[q.Voltage] `json:"unloaded_voltage" range:"0 V..60 V" example:"14.2 V"`
	// Manifold pressure at full load with the air cleaner's lid and element off.
	LidOffPressure Fact[q.AbsolutePressure] `json:"lid_off_pressure" range:"20 kPa..350 kPa" example:"99 kPa"`
	// Coolant sensor reading while a thermometer on the housing beside it shows 80 degC.
	WarmCoolantReading Fact[q.Temperature] `json:"warm_coolant_reading" range:"-60 degC..200 degC" example:"79 degC"`
	// Mixture at full load, measured lambda over the commanded one, less one; more is leaner.
	FullLoadCorrection Fact[q.Share] `json:"full_load_correction" range:"-100 %..100 %" example:"1 %"`
	// Air temperature by one thermometer beside the engine, cold soaked.
	SoakTemperature Fact[q.Temperature] `json:"soak_temperature" range:"-60 degC..60 degC" example:"18 degC"`
	// Ethanol content found in the tank's fuel with water in a measuring glass, by volume.
	EthanolFound Fact[q.Share] `json:"ethanol_found" range:"0 %..100 %" example:"9 %"`
	// Temperature of the fuel at the pump while it was measured.
	FuelTemperature Fact[q.Temperature] `json:"fuel_temperature" range:"-40 degC..80 degC" example:"25 degC"`
	// Day the values were taken.
	TakenOn Fact[Date] `json:"taken_on" example:"2026-11-25"`
	// What they were taken with.
	Instruments Instruments `json:"instruments"`
}

// Instruments are what values were measured with: how far each may be off.
type Instruments struct {
	Node
	// Full scale of the pressure gauge.
	GaugeFullScale Fact[q.Pressure] `json:"gauge_full_scale" range:"10 kPa..4000 kPa" example:"600 kPa"`
	// Class of the pressure gauge: how far it may be off, as a share of full scale.
	GaugeClass Fact[q.Share] `json:"gauge_class" range:"0.05 %..10 %" example:"1.6 %"`
	// How far the meter may be off at about 13 V.
	MeterError Fact[q.Voltage] `json:"meter_error" range:"0 V..2 V" example:"0.1 V"`
	// How far the clamp or ammeter may be off at the pump's current.
	AmmeterError Fact[q.Current] `json:"ammeter_error" range:"0 A..10 A" example:"0.3 A"`
}

// OtherBank is a check by hand of the bank that no oxygen sensor sees, warm, at idle and at a steady light load.
type OtherBank struct {
	Node
	// What it was checked with.
	By Fact[Word] `json:"by" words:"wide_band_probe,gas_analyser,plugs_alone" example:"wide_band_probe"`
	// Its mixture over that of the bank with the sensor: 1.00 is the same, more is leaner.
	Mixture Fact[q.Ratio] `json:"mixture" range:"0.5..2" example:"1.01"`
}
