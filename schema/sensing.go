package schema

import q "plumbline/schema/quantity"

// Exhaust is the exhaust as far as the oxygen sensor sees it.
type Exhaust struct {
	Node
	// Inside diameter of the pipe at the sensor.
	PipeBore Fact[q.Length] `json:"pipe_bore" range:"15 mm..200 mm" example:"57 mm"`
	// Volume of the manifold before the pipe.
	ManifoldVolume Fact[q.Volume] `json:"manifold_volume" range:"0.1 L..20 L" example:"2.5 L"`
	// A catalyst; `none` states there is none.
	Catalyst Maybe[Catalyst] `json:"catalyst"`
	// Air pump or reed valves that blow air into the exhaust.
	AirInjection Maybe[AirInjection] `json:"air_injection"`
	// What the conversion does to the silencer.
	Silencer Fact[Word] `json:"silencer" words:"kept,equivalent,louder,removed" example:"kept"`
	// Where its outlet points: rear_left at up to 45 deg from the vehicle's length, side beyond that.
	Outlet Fact[Word] `json:"outlet" words:"up,rear,rear_down,rear_left,rear_right,side,down,front" example:"rear"`
	// Heat shields of tank, lines and body against the exhaust.
	HeatShields Fact[Word] `json:"heat_shields" words:"kept,missing,never_fitted" example:"kept"`
	// Leaks between ports and sensor.
	Leaks Fact[Word] `json:"leaks" words:"tested_tight,not_tested,leaking" example:"tested_tight"`
	// Exhaust can leak into the cabin.
	CabinLeak Fact[Word] `json:"cabin_leak" words:"checked_tight,not_checked,leaking" example:"checked_tight"`
}

// Catalyst is an exhaust catalyst.
type Catalyst struct {
	Node
	// Distance from the exhaust port.
	Distance Fact[q.Length] `json:"distance" range:"0.1 m..6 m" example:"1.2 m"`
}

// AirInjection blows air into the exhaust.
type AirInjection struct {
	Node
	// Where the air enters.
	Entry Fact[Word] `json:"entry" words:"ports,after_sensor,disabled" example:"ports"`
	// Air mass blown in at idle.
	Flow Fact[q.MassFlow] `json:"flow" range:"0 g/s..50 g/s" example:"0.5 g/s"`
}

// OxygenSensor is one exhaust oxygen sensor.
type OxygenSensor struct {
	Node
	// Short name.
	Name Fact[string] `json:"name" example:"left bank"`
	// Wide- or narrow-band.
	Kind Fact[Word] `json:"kind" words:"wide_band,narrow_band" example:"wide_band"`
	// Angle of its axis away from straight up, looking along the pipe; 90 deg is level, more hangs down.
	AngleFromTop Fact[q.Angle] `json:"angle_from_top" range:"0 deg..180 deg" example:"45 deg"`
	// Distance along the pipe from the nearest exhaust port.
	DistanceFromPort Fact[q.Length] `json:"distance_from_port" range:"0 m..5 m" example:"0.6 m"`
	// Distance from where the last cylinder of its bank joins.
	DistanceAfterMerge Fact[q.Length] `json:"distance_after_merge" range:"-2 m..5 m" example:"0.2 m"`
	// Distance from the sensor to the open end of the exhaust.
	DistanceToOpenEnd Fact[q.Length] `json:"distance_to_open_end" range:"0 m..10 m" example:"2.8 m"`
	// Which gas it sees.
	Sees Fact[Word] `json:"sees" words:"one_cylinder,one_bank,all_cylinders" example:"all_cylinders"`
	// Its place relative to the catalyst.
	CatalystSide Fact[Word] `json:"catalyst_side" words:"no_catalyst,before,after" example:"no_catalyst"`
	// Its place relative to a turbine.
	TurbineSide Fact[Word] `json:"turbine_side" words:"no_turbine,before,after" example:"no_turbine"`
	// How it is fixed.
	Fixing Fact[Word] `json:"fixing" words:"welded_bush,clamp_on_band,in_manifold,pipe_probe" example:"welded_bush"`
	// The bush or band was checked for leaks.
	FixingTight Fact[bool] `json:"fixing_tight" example:"true"`
	// Hottest exhaust gas at the sensor.
	GasTemperature Fact[q.Temperature] `json:"gas_temperature" range:"100 degC..1200 degC" example:"750 degC"`
	// Hottest hexagon temperature.
	HexagonTemperature Fact[q.Temperature] `json:"hexagon_temperature" range:"0 degC..900 degC" example:"450 degC"`
	// Distance of its cable from the exhaust.
	CableExhaustClearance Fact[q.Length] `json:"cable_exhaust_clearance" range:"0 mm..2 m" example:"100 mm"`
	// Name of the circuit that feeds its heater.
	HeaterCircuit Fact[string] `json:"heater_circuit" refers:"circuits" example:"oxygen heater"`
	// It is unpowered while the engine runs, for instance because it is only fitted for tuning.
	LeftUnpowered Fact[bool] `json:"left_unpowered" example:"false"`
	// Sealants used near it are safe for such sensors.
	SealantsSafe Fact[bool] `json:"sealants_safe" example:"true"`
}

// Sensors are the other sensors and the speed signal.
type Sensors struct {
	Node
	// Coolant temperature sensor (head temperature on an air-cooled engine).
	Coolant CoolantSensor `json:"coolant"`
	// Intake air temperature sensor.
	IntakeAir IntakeAirSensor `json:"intake_air"`
	// Manifold absolute pressure sensor.
	ManifoldPressure ManifoldPressureSensor `json:"manifold_pressure"`
	// Throttle position sensor.
	ThrottlePosition ThrottlePositionSensor `json:"throttle_position"`
	// Where the controller gets engine speed from.
	SpeedSignal SpeedSignal `json:"speed_signal"`
	// Supply of the analogue sensors.
	ReferenceVoltage Fact[q.Voltage] `json:"reference_voltage" range:"0 V..15 V" example:"5.00 V"`
	// Where the sensor ground wire ends.
	SensorGround Fact[Word] `json:"sensor_ground" words:"controller_pin,engine,chassis,battery_negative" example:"controller_pin"`
	// Other loads share the sensor ground wire.
	SensorGroundShared Fact[bool] `json:"sensor_ground_shared" example:"false"`
}

// CoolantSensor measures engine temperature.
type CoolantSensor struct {
	Node
	// Where it is screwed in.
	Place Fact[Word] `json:"place" words:"engine_side_of_thermostat,radiator_side,heater_hose,steam_pocket,cylinder_head_metal" example:"engine_side_of_thermostat"`
	// Coolant moves past it with the thermostat closed.
	InFlow Fact[bool] `json:"in_flow" example:"true"`
	// The dash gauge uses the same sensor.
	SharedWithGauge Fact[bool] `json:"shared_with_gauge" example:"false"`
	// Number of wires.
	Wires Fact[int] `json:"wires" range:"1..4" example:"2"`
	// Thread sealed with tape although the body is its ground.
	BodyGroundTaped Fact[bool] `json:"body_ground_taped" example:"false"`
	// Extra resistance measured in its wiring.
	SeriesResistance Fact[q.Resistance] `json:"series_resistance" range:"0 ohm..10 kohm" example:"0.5 ohm"`
	// Resistance by temperature, from its data sheet or measured: two or three points.
	Curve List[ThermistorPoint] `json:"curve"`
	// Resistor in the controller from its reference voltage to this input.
	PullUp Fact[q.Resistance] `json:"pull_up" range:"50 ohm..100 kohm" example:"2.49 kohm"`
}

// ThermistorPoint is the resistance of a thermistor at one temperature.
type ThermistorPoint struct {
	Node
	// Temperature of the thermistor.
	Temperature Fact[q.Temperature] `json:"temperature" range:"-60 degC..200 degC" example:"20 degC"`
	// Its resistance at that temperature.
	Resistance Fact[q.Resistance] `json:"resistance" range:"1 ohm..1000 kohm" example:"2.5 kohm"`
}

// IntakeAirSensor measures the temperature of entering air.
type IntakeAirSensor struct {
	Node
	// Where it is.
	Place Fact[Word] `json:"place" words:"air_cleaner,before_throttle,in_throttle_body,manifold_runner,manifold_floor,under_bonnet" example:"air_cleaner"`
	// Extra resistance measured in its wiring.
	SeriesResistance Fact[q.Resistance] `json:"series_resistance" range:"0 ohm..10 kohm" example:"0.5 ohm"`
	// Resistance by temperature, from its data sheet or measured: two or three points.
	Curve List[ThermistorPoint] `json:"curve"`
	// Resistor in the controller from its reference voltage to this input.
	PullUp Fact[q.Resistance] `json:"pull_up" range:"50 ohm..100 kohm" example:"2.49 kohm"`
}

// ManifoldPressureSensor measures manifold absolute pressure.
type ManifoldPressureSensor struct {
	Node
	// Where its port is.
	Port Fact[Word] `json:"port" words:"built_in_below_throttle,plenum_below_throttle,single_runner,ported_above_throttle" example:"plenum_below_throttle"`
	// What shares its hose.
	SharedWith List[Fact[Word]] `json:"shared_with" words:"brake_booster,crankcase_ventilation,vacuum_advance,regulator,accessory" example:"accessory"`
	// Length of its hose.
	HoseLength Fact[q.Length] `json:"hose_length" range:"0 m..5 m" example:"0.3 m"`
	// Bore of its hose.
	HoseBore Fact[q.Length] `json:"hose_bore" range:"0.5 mm..20 mm" example:"4 mm"`
	// Height of the sensor above its port; negative when below.
	HeightAbovePort Fact[q.Length] `json:"height_above_port" range:"-1 m..1 m" example:"80 mm"`
}

// ThrottlePositionSensor measures throttle opening.
type ThrottlePositionSensor struct {
	Node
	// Signal with the throttle closed.
	ClosedVoltage Fact[q.Voltage] `json:"closed_voltage" range:"0 V..6 V" example:"0.60 V"`
	// Signal wide open.
	OpenVoltage Fact[q.Voltage] `json:"open_voltage" range:"0 V..6 V" example:"4.50 V"`
}

// SpeedSignal is where the controller gets engine speed from.
type SpeedSignal struct {
	Node
	// What the wire carries.
	Source Fact[Word] `json:"source" words:"coil_negative,tach_output,crank_sensor,distributor_pickup,coil_positive,capacitive_discharge_coil" example:"coil_negative"`
	// What the controller's input takes.
	InputRating Fact[Word] `json:"input_rating" words:"coil_primary,square_wave_12v,square_wave_5v,variable_reluctance" example:"coil_primary"`
	// A filter or resistor as its maker says is in the wire.
	Filtered Fact[bool] `json:"filtered" example:"true"`
	// Kind of pickup.
	Pickup Fact[Word] `json:"pickup" words:"no_pickup,variable_reluctance,hall,optical" example:"no_pickup"`
	// Teeth of the wheel, those left out counted: signals in one turn of the part that carries it.
	Teeth Fact[int] `json:"teeth" range:"1..400" example:"36"`
	// Part that carries the wheel.
	WheelOn Fact[Word] `json:"wheel_on" words:"crankshaft,camshaft_or_distributor" example:"crankshaft"`
	// Highest frequency the controller's input counts.
	HighestFrequency Fact[q.Frequency] `json:"highest_frequency" range:"1 Hz..100 kHz" example:"10 kHz"`
	// Gap between pickup and wheel.
	Gap Fact[q.Length] `json:"gap" range:"0 mm..10 mm" example:"0.8 mm"`
	// Peak voltage of a reluctance pickup while the starter turns the engine in the workshop, at the controller's input.
	CrankingSignal Fact[q.Voltage] `json:"cranking_signal" range:"1 mV..100 V" example:"1.2 V"`
	// Lowest peak voltage of a reluctance pickup that the controller's input counts.
	LowestSignal Fact[q.Voltage] `json:"lowest_signal" range:"1 mV..20 V" example:"0.4 V"`
	// Cable of the signal.
	Cable Fact[Word] `json:"cable" words:"single_wire,twisted_pair,shielded_twisted_pair" example:"single_wire"`
	// Ends of the shield that are grounded.
	ShieldGroundedEnds Fact[int] `json:"shield_grounded_ends" range:"0..2" example:"1"`
	// Polarity of a reluctance pickup was checked.
	PolarityChecked Fact[bool] `json:"polarity_checked" example:"true"`
	// Least distance of the signal cable from plug wires and coil.
	HighVoltageClearance Fact[q.Length] `json:"high_voltage_clearance" range:"0 mm..3 m" example:"150 mm"`
	// Cylinders the controller is told for this signal.
	ConfiguredCylinders Fact[int] `json:"configured_cylinders" range:"1..16" example:"6"`
}
