package schema

import q "plumbline/schema/quantity"

// ThrottleBody is the throttle body with its injectors.
type ThrottleBody struct {
	Node
	// Number of throttle bores.
	Bores Fact[int] `json:"bores" range:"1..8" example:"2"`
	// Diameter of one throttle plate.
	BoreDiameter Fact[q.Length] `json:"bore_diameter" range:"15 mm..120 mm" example:"43 mm"`
	// Rated air flow.
	AirRating Fact[q.Flow] `json:"air_rating" range:"50 cfm..3000 cfm" example:"350 cfm"`
	// Depression at which the rating holds: 3.0 inHg for one and two barrels, 1.5 inHg for four by custom.
	AirRatingDepression Fact[q.Pressure] `json:"air_rating_depression" range:"0.1 inHg..10 inHg" example:"3.0 inHg"`
	// Its place relative to a compressor: before it (draw-through) or after it (blow-through).
	CompressorSide Fact[Word] `json:"compressor_side" words:"no_compressor,before_compressor,after_compressor" example:"no_compressor"`
	// Lowest fuel pressure it works at.
	LowestPressure Fact[q.Pressure] `json:"lowest_pressure" range:"10 kPa..1500 kPa" example:"290 kPa"`
	// Highest fuel pressure it works at.
	HighestPressure Fact[q.Pressure] `json:"highest_pressure" range:"10 kPa..1500 kPa" example:"420 kPa"`
	// Its injectors.
	Injectors Injectors `json:"injectors"`
	// Idle air.
	IdleAir Fact[Word] `json:"idle_air" words:"stepper_valve,solenoid_valve,fixed_screw,throttle_motor" example:"stepper_valve"`
	// Idle valve position when warm, as a share of its travel.
	IdleValvePosition Fact[q.Share] `json:"idle_valve_position" range:"0 %..100 %" example:"15 %"`
	// Idle air is taken after the air filter.
	IdleAirFiltered Fact[bool] `json:"idle_air_filtered" example:"true"`
	// Outside diameter of its air-cleaner flange.
	CleanerFlange Fact[q.Length] `json:"cleaner_flange" range:"30 mm..300 mm" example:"130 mm"`
	// What warms it, so that the plates do not ice: nothing, coolant that runs through it always, coolant that a valve shuts off when it
	// is warm, or current.
	Heating Fact[Word] `json:"heating" words:"nothing,coolant,coolant_when_cold,electric" example:"nothing"`
	// It lets its pressure fall after the pump stops, by design, through a bleed in its regulator.
	BleedsDown Fact[bool] `json:"bleeds_down" example:"false"`
	// Where fuel goes that drips from it or its joints: runs off clear of everything, gathers, or meets hot or electrical parts.
	DripsOnto Fact[Word] `json:"drips_onto" words:"nothing,gathers,hot_parts,electrical_parts" example:"nothing"`
	// Highest temperature of fuel at the body after a hot stop.
	HotSoakFuel Fact[q.Temperature] `json:"hot_soak_fuel" range:"0 degC..120 degC" example:"50 degC"`
	// Port the feed ends at.
	FuelInlet LineEnd `json:"fuel_inlet"`
	// Port the return line begins at, when the regulator is part of the body.
	FuelOutlet LineEnd `json:"fuel_outlet"`
}

// Injectors are the throttle body's fuel injectors.
type Injectors struct {
	Node
	// How many.
	Count Fact[int] `json:"count" range:"1..16" example:"2"`
	// Flow of one injector held open, by volume, at the test pressure.
	StaticFlow Fact[q.Flow] `json:"static_flow" range:"20 cc/min..5000 cc/min" example:"600 cc/min" excludes:"static_mass_flow"`
	// The same by mass, when the label gives mass.
	StaticMassFlow Fact[q.MassFlow] `json:"static_mass_flow" range:"1 lb/h..600 lb/h" example:"55 lb/h"`
	// Pressure drop across the nozzle at which the static flow holds.
	TestPressure Fact[q.Pressure] `json:"test_pressure" range:"10 kPa..1500 kPa" example:"300 kPa"`
	// Where the fuel leaves: into the air above the throttle plates or below them.
	Location Fact[Word] `json:"location" words:"above_throttle,below_throttle" example:"above_throttle"`
	// Coil resistance of one injector.
	Resistance Fact[q.Resistance] `json:"resistance" range:"0.5 ohm..30 ohm" example:"12 ohm"`
	// Resistor in series with each injector; 0 ohm where there is none.
	SeriesResistance Fact[q.Resistance] `json:"series_resistance" range:"0 ohm..30 ohm" example:"0 ohm"`
	// Smallest pulse that repeats well.
	SmallestPulse Fact[q.Time] `json:"smallest_pulse" range:"0.1 ms..10 ms" example:"1.2 ms"`
	// Time lost in opening at 13.5 V.
	DeadTime Fact[q.Time] `json:"dead_time" range:"0 ms..5 ms" example:"0.8 ms"`
	// Injections of one injector per engine revolution.
	PulsesPerRevolution Fact[q.Ratio] `json:"pulses_per_revolution" range:"0.25..8" example:"1.5"`
	// Highest ethanol content their maker allows, by volume; E85 is 85 %.
	EthanolRating Fact[q.Share] `json:"ethanol_rating" range:"0 %..100 %" example:"85 %"`
}

// Intake is the air path around the throttle body and what hangs on the manifold.
type Intake struct {
	Node
	// An adapter plate or spacer under the throttle body.
	Adapter Maybe[Adapter] `json:"adapter"`
	// Least width of gasket land round any hole.
	GasketLand Fact[q.Length] `json:"gasket_land" range:"0 mm..50 mm" example:"5 mm"`
	// Flatness of the manifold flange.
	FlangeFlatness Fact[q.Length] `json:"flange_flatness" range:"0 mm..3 mm" example:"0.08 mm"`
	// All unused vacuum ports are capped and the caps held.
	PortsCapped Fact[bool] `json:"ports_capped" example:"true"`
	// Open area of air cleaner and snorkel.
	CleanerArea Fact[q.Area] `json:"cleaner_area" range:"5 cm2..2000 cm2" example:"120 cm2"`
	// Where the air cleaner takes its air: under the bonnet, from outside by a duct, warmed at the exhaust by a flap that closes when it
	// is warm, or warmed there always.
	InletAir Fact[Word] `json:"inlet_air" words:"under_bonnet,outside,warm_air_flap,warm_air_always" example:"under_bonnet"`
	// Inside diameter of the cleaner's seat.
	CleanerSeat Fact[q.Length] `json:"cleaner_seat" range:"30 mm..300 mm" example:"130 mm"`
	// Height from the throttle body's flange to the top of the air cleaner's lid.
	StackHeight Fact[q.Length] `json:"stack_height" range:"30 mm..1 m" example:"150 mm"`
	// Height from the manifold's flange to the top of the air cleaner's lid as it was, on the carburettor.
	OldStackHeight Fact[q.Length] `json:"old_stack_height" range:"30 mm..1 m" example:"155 mm"`
	// Distance between air cleaner lid and bonnet as it was, engine at rest.
	OldBonnetClearance Fact[q.Length] `json:"old_bonnet_clearance" range:"0 mm..1 m" example:"55 mm"`
	// Distance between air cleaner lid and bonnet, engine rocked.
	BonnetClearance Fact[q.Length] `json:"bonnet_clearance" range:"0 mm..500 mm" example:"25 mm"`
	// Crankcase ventilation.
	CrankcaseVentilation Fact[Word] `json:"crankcase_ventilation" words:"valve_to_manifold,valve_above_throttle,draught_tube,removed" example:"valve_to_manifold"`
	// Where the canister that holds the tank's vapour is emptied into the intake.
	CanisterPurge Fact[Word] `json:"canister_purge" words:"no_canister,throttle_body_port,manifold_port,air_cleaner,unconnected" example:"throttle_body_port"`
	// Heat from exhaust or coolant under the plenum.
	ManifoldHeat Fact[Word] `json:"manifold_heat" words:"exhaust_crossover,coolant,electric,blocked" example:"exhaust_crossover"`
}

// Adapter is a plate between manifold and throttle body.
type Adapter struct {
	Node
	// Its height.
	Height Fact[q.Length] `json:"height" range:"1 mm..150 mm" example:"25 mm"`
	// Smallest bore below one throttle plate.
	Bore Fact[q.Length] `json:"bore" range:"15 mm..200 mm" example:"46 mm"`
	// Least distance between an open plate's edge and adapter or divider.
	PlateClearance Fact[q.Length] `json:"plate_clearance" range:"0 mm..50 mm" example:"4 mm"`
	// Largest step into the flow.
	LargestStep Fact[q.Length] `json:"largest_step" range:"0 mm..30 mm" example:"0.5 mm"`
	// What it is made of.
	Material Fact[Word] `json:"material" words:"aluminium,phenolic,fibre,plastic,steel" example:"aluminium"`
}

// ThrottleControl is everything from pedal to plate.
type ThrottleControl struct {
	Node
	// How the pedal moves the throttle.
	Linkage Fact[Word] `json:"linkage" words:"cable,rod,electric" example:"cable"`
	// How the old carburettor was moved.
	OldLinkage Fact[Word] `json:"old_linkage" words:"cable,rod" example:"cable"`
	// Pedal, cable or rod, bracket and lever were replaced together by a set whose parts belong together.
	WholeSetReplaced Fact[bool] `json:"whole_set_replaced" example:"false"`
	// Return springs at the throttle, each able to close it alone; a position sensor's spring does not count.
	ReturnSprings Fact[int] `json:"return_springs" range:"0..6" example:"2"`
	// Every spring was tried alone and closed the throttle.
	EachSpringCloses Fact[bool] `json:"each_spring_closes" example:"true"`
	// The throttle position sensor's spring is counted among the return springs.
	SensorSpringCounted Fact[bool] `json:"sensor_spring_counted" example:"false"`
	// Time from wide open to idle after letting go.
	ReturnTime Fact[q.Time] `json:"return_time" range:"0 s..20 s" example:"0.3 s"`
	// The same with one spring disconnected.
	ReturnTimeOneSpring Fact[q.Time] `json:"return_time_one_spring" range:"0 s..20 s" example:"0.6 s"`
	// Smallest angle between cable or rod and lever over the travel.
	SmallestLeverAngle Fact[q.Angle] `json:"smallest_lever_angle" range:"0 deg..180 deg" example:"50 deg"`
	// Largest angle between cable or rod and lever over the travel.
	LargestLeverAngle Fact[q.Angle] `json:"largest_lever_angle" range:"0 deg..180 deg" example:"120 deg"`
	// Throttle opening with the pedal on the floor.
	OpeningAtFloor Fact[q.Share] `json:"opening_at_floor" range:"0 %..100 %" example:"99 %"`
	// A stop takes the driver's foot before the throttle shaft does.
	PedalStop Fact[bool] `json:"pedal_stop" example:"true"`
	// Slack in the cable at idle.
	CableSlack Fact[q.Length] `json:"cable_slack" range:"0 mm..50 mm" example:"2 mm"`
	// Distance of the cable from exhaust parts.
	ExhaustClearance Fact[q.Length] `json:"exhaust_clearance" range:"0 mm..2 m" example:"80 mm"`
	// Distance of the harness from linkage and pedal over the whole travel.
	HarnessClearance Fact[q.Length] `json:"harness_clearance" range:"0 mm..2 m" example:"20 mm"`
}
