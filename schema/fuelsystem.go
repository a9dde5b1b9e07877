package schema

import q "plumbline/schema/quantity"

// Tank is the fuel tank.
type Tank struct {
	Node
	// Usable capacity.
	Capacity Fact[q.Volume] `json:"capacity" range:"1 L..1000 L" example:"64 L"`
	// What it is made of.
	Material Fact[Word] `json:"material" words:"terne_steel,plated_steel,stainless_steel,aluminium,plastic" example:"terne_steel"`
	// Where it sits.
	Location Fact[Word] `json:"location" words:"outside_cabin,in_cabin,in_boot_sealed_off,in_boot_open" example:"outside_cabin"`
	// How air gets in as fuel is drawn.
	Vent Fact[Word] `json:"vent" words:"vented_cap,vent_line,canister,blocked" example:"vent_line"`
	// A valve that closes the vent when the vehicle rolls over.
	RolloverValve Fact[bool] `json:"rollover_valve" example:"true"`
	// Filler cap.
	Cap Fact[Word] `json:"cap" words:"sealed,vented" example:"sealed"`
	// What keeps the pickup covered in corners and on hills.
	Baffle Fact[Word] `json:"baffle" words:"nothing,baffle,swirl_pot,foam" example:"baffle"`
	// Where returned fuel enters; at_pickup it churns air and heat into what the pump draws.
	ReturnEntry Fact[Word] `json:"return_entry" words:"no_return,away_from_pickup,at_pickup,into_swirl_pot,above_fuel" example:"away_from_pickup"`
	// Strainer mesh at the pickup; `none` states there is none.
	Strainer Maybe[Filter] `json:"strainer"`
	// Height of the lowest fuel the pump draws from above the tank's bottom outside.
	PickupAboveBottom Fact[q.Length] `json:"pickup_above_bottom" range:"0 mm..600 mm" example:"10 mm"`
	// Seal of the sender and pump plate; left out while nobody knows what it is made of.
	PlateSeal Fact[Word] `json:"plate_seal" words:"new_fuel_rated,new_not_fuel_rated,reused" example:"new_fuel_rated"`
	// Metal shielding between tank and exhaust.
	ExhaustClearance Fact[q.Length] `json:"exhaust_clearance" range:"0 mm..3000 mm" example:"150 mm"`
	// A heat shield stands between tank and exhaust.
	HeatShield Fact[bool] `json:"heat_shield" example:"false"`
	// Tank shell is bonded to the chassis by a wire or strap.
	Bonded Fact[bool] `json:"bonded" example:"true"`
	// What the conversion does to it.
	Change Fact[Word] `json:"change" words:"unchanged,altered,replaced,moved,added" example:"unchanged"`
	// It carries a mark of approval as a fuel tank.
	ApprovalMark Fact[bool] `json:"approval_mark" example:"false"`
	// Overpressure it was tested at for a minute without a leak.
	TestPressure Fact[q.Pressure] `json:"test_pressure" range:"0 kPa..500 kPa" example:"30 kPa"`
	// Highest overpressure in it in use, as its cap or vent valve lets it build up; 0 kPa for an open vent.
	WorkingPressure Fact[q.Pressure] `json:"working_pressure" range:"0 kPa..100 kPa" example:"5 kPa"`
	// How its seams are made.
	Joints Fact[Word] `json:"joints" words:"welded,brazed,soldered_and_riveted,soft_soldered,moulded_in_one" example:"welded"`
	// Where the fuel is drawn: through a fitting above the full level, or below it.
	Draw Fact[Word] `json:"draw" words:"above_full_level,below_full_level" example:"above_full_level"`
	// A valve opens by itself against overpressure.
	PressureRelief Fact[bool] `json:"pressure_relief" example:"true"`
	// The vent keeps a flame from passing in.
	FlameGuard Fact[bool] `json:"flame_guard" example:"true"`
	// No fuel spills from cap or vent when it is tilted, cornered hard or upside down.
	SpillProof Fact[bool] `json:"spill_proof" example:"true"`
	// Frame, body or a panel keeps it from blows and from the ground.
	Guarded Fact[bool] `json:"guarded" example:"true"`
	// Where it reaches: within the body's sides and behind the front axle, beside the body, ahead of the axle, or both.
	Overhang Fact[Word] `json:"overhang" words:"within,beside_body,ahead_of_axle,ahead_and_beside" example:"within"`
	// It lies directly behind the panel that closes the vehicle in front.
	BehindFrontPanel Fact[bool] `json:"behind_front_panel" example:"false"`
	// A wall or distance parts it from the engine, so that fuel it loses in a crash is not expected to catch fire there.
	ApartFromEngine Fact[bool] `json:"apart_from_engine" example:"true"`
	// A wall that holds fire and liquid parts it, filler included, from the people inside.
	Bulkhead Fact[bool] `json:"bulkhead" example:"true"`
	// Where the filler ends.
	Filler Fact[Word] `json:"filler" words:"outside,in_boot,in_cabin" example:"outside"`
	// Fuel that leaks from it or its lines runs to the ground and gathers nowhere.
	LeakReachesGround Fact[bool] `json:"leak_reaches_ground" example:"true"`
	// Least distance of filler and vent from the exhaust's outlet.
	FillerToExhaust Fact[q.Length] `json:"filler_to_exhaust" range:"0 mm..10 m" example:"1.2 m"`
	// Least distance of filler and vent from bare electrical terminals and switches.
	FillerToTerminals Fact[q.Length] `json:"filler_to_terminals" range:"0 mm..10 m" example:"400 mm"`
	// How far behind the cabin the vent ends.
	VentBehindCabin Fact[q.Length] `json:"vent_behind_cabin" range:"0 mm..10 m" example:"300 mm"`
	// Least distance of relays, switches and other spark sources outside the tank from its openings.
	SparkDistance Fact[q.Length] `json:"spark_distance" range:"0 mm..10 m" example:"800 mm"`
	// Inside of the tank as found.
	Inside Fact[Word] `json:"inside" words:"clean,cleaned,new,rust,varnish,lined" example:"cleaned"`
	// Port an outside pump draws from.
	Outlet LineEnd `json:"outlet"`
	// Port the return line ends at.
	ReturnPort LineEnd `json:"return_port"`
}

// TankSelector is the valve that chooses between two fuel tanks.
type TankSelector struct {
	Node
	// What turns it.
	Kind Fact[Word] `json:"kind" words:"manual,electric" example:"manual"`
	// Which side of the pump it stands on: `suction` before one pump outside the tanks, `pressure` behind a pump in each tank.
	Side Fact[Word] `json:"side" words:"suction,pressure" example:"suction"`
	// Where it is mounted.
	Place Fact[Word] `json:"place" words:"frame_rail,engine_bay,boot,in_cabin" example:"frame_rail"`
	// What comes back, by the return line or a surge tank's overflow, goes to the tank that is drawn from.
	SwitchesReturn Fact[bool] `json:"switches_return" example:"true"`
	// Highest pressure its maker allows.
	PressureRating Fact[q.Pressure] `json:"pressure_rating" range:"0 kPa..3000 kPa" example:"100 kPa"`
	// What an electric one does without current.
	PositionFail Fact[Word] `json:"position_fail" words:"stays,goes_to_one_tank,closes,parts_supply_and_return" example:"stays"`
	// The pump in each tank is of the same kind; false where they differ.
	PumpsAlike Fact[bool] `json:"pumps_alike" example:"true"`
	// While it turns, for a moment neither tank is open to the pump.
	PassesDeadSpot Fact[bool] `json:"passes_dead_spot" example:"false"`
	// Port that the second tank's own supply ends at.
	SecondInlet LineEnd `json:"second_inlet"`
	// Port that the second tank's own return begins at.
	SecondOutlet LineEnd `json:"second_outlet"`
	// Height of the pump's inlet above the second tank's bottom; negative when below it.
	PumpAboveSecondTank Fact[q.Length] `json:"pump_above_second_tank" range:"-2 m..3 m" example:"-50 mm"`
}

// SurgeTank is a small tank kept full by a lift pump.
type SurgeTank struct {
	Node
	// Its volume.
	Volume Fact[q.Volume] `json:"volume" range:"0.2 L..20 L" example:"1.5 L"`
	// What brings the fuel into it.
	LiftedBy Fact[Word] `json:"lifted_by" words:"electric_pump,engine_driven_pump,gravity" example:"electric_pump"`
	// Flow the lift pump delivers into it.
	LiftFlow Fact[q.Flow] `json:"lift_flow" range:"1 L/h..1000 L/h" example:"130 L/h"`
	// Where it sits.
	Location Fact[Word] `json:"location" words:"engine_bay,frame_rail,in_cabin,in_boot_sealed_off,in_boot_open" example:"frame_rail"`
	// What it is made of.
	Material Fact[Word] `json:"material" words:"terne_steel,plated_steel,stainless_steel,aluminium,plastic" example:"aluminium"`
	// It carries a mark of approval as a fuel tank.
	ApprovalMark Fact[bool] `json:"approval_mark" example:"false"`
	// Where the regulator's return enters: this tank, or the main tank.
	ReturnTo Fact[Word] `json:"return_to" words:"surge_tank,main_tank" example:"surge_tank"`
	// Its top is vented back to the main tank.
	VentedToTank Fact[bool] `json:"vented_to_tank" example:"true"`
	// Port a pump outside it draws from.
	Outlet LineEnd `json:"outlet"`
	// Port the return line ends at, when it ends here.
	ReturnPort LineEnd `json:"return_port"`
}

// CurvePoint is one line of the flow curve printed with a pump.
type CurvePoint struct {
	Node
	// Pressure across the pump.
	Pressure Fact[q.Pressure] `json:"pressure" range:"0 kPa..1500 kPa" example:"300 kPa"`
	// Flow at that pressure.
	Flow Fact[q.Flow] `json:"flow" range:"0 L/h..2000 L/h" example:"190 L/h"`
	// Current at that pressure.
	Current Fact[q.Current] `json:"current" range:"0 A..60 A" example:"7.2 A"`
}

// Pump is the electric injection pump.
type Pump struct {
	Node
	// Where it is mounted.
	Place Fact[Word] `json:"place" words:"in_tank,in_surge_tank,frame_rail,engine_bay,boot,in_cabin" example:"in_tank"`
	// How it moves fuel.
	Kind Fact[Word] `json:"kind" words:"turbine,roller_vane,gear,gerotor,plunger" example:"turbine"`
	// Flow and current against pressure, from the box or a bench test; at least two points.
	Curve List[CurvePoint] `json:"curve"`
	// Voltage the curve holds for.
	CurveVoltage Fact[q.Voltage] `json:"curve_voltage" range:"6 V..16 V" example:"13.5 V"`
	// Resistance of the motor between its terminals, standing still; turn it to five positions and take the mean.
	MotorResistance Fact[q.Resistance] `json:"motor_resistance" range:"10 mohm..10 ohm" example:"0.35 ohm"`
	// A single printed flow figure, when there is no curve.
	RatedFlow Fact[q.Flow] `json:"rated_flow" range:"1 L/h..2000 L/h" example:"190 L/h"`
	// Pressure at which the single flow figure holds.
	RatedPressure Fact[q.Pressure] `json:"rated_pressure" range:"0 kPa..1500 kPa" example:"300 kPa"`
	// Highest pressure it makes with the outlet closed (its relief valve setting).
	DeadHeadPressure Fact[q.Pressure] `json:"dead_head_pressure" range:"10 kPa..2000 kPa" example:"700 kPa"`
	// Highest steady pressure its maker allows.
	MaximumPressure Fact[q.Pressure] `json:"maximum_pressure" range:"10 kPa..2000 kPa" example:"500 kPa"`
	// A check valve at the outlet keeps the line full.
	CheckValve Fact[bool] `json:"check_valve" example:"true"`
	// Height of the pump inlet above the tank's bottom; negative when below it.
	InletAboveTankBottom Fact[q.Length] `json:"inlet_above_tank_bottom" range:"-2 m..3 m" example:"-50 mm"`
	// Highest ethanol content its maker allows, by volume; E85 is 85 %.
	EthanolRating Fact[q.Share] `json:"ethanol_rating" range:"0 %..100 %" example:"85 %"`
	// Its maker allows it to be submerged in fuel.
	RatedSubmersible Fact[bool] `json:"rated_submersible" example:"true"`
	// Its maker allows it outside the tank: the housing is closed, with ports for lines at both ends and covered terminals.
	RatedOutside Fact[bool] `json:"rated_outside" example:"true"`
	// What stops it when the engine stops turning.
	StopControl Fact[Word] `json:"stop_control" words:"controller_speed_signal,oil_pressure_switch,ignition_key_only,always_on" example:"controller_speed_signal"`
	// Time it runs to fill the line at key-on.
	PrimeTime Fact[q.Time] `json:"prime_time" range:"0 s..60 s" example:"2 s"`
	// What slows the pump when the engine needs little; `none` states that it runs at full voltage.
	SpeedControl Maybe[SpeedControl] `json:"speed_control"`
	// A switch that cuts the pump in a crash; `none` states there is none.
	InertiaSwitch Maybe[InertiaSwitch] `json:"inertia_switch"`
	// A valve or switch the driver can work while driving stops the fuel.
	DriverShutOff Fact[bool] `json:"driver_shut_off" example:"false"`
	// Something at the tank stops the fuel when the feed line is cut: a valve, a check or a siphon break.
	TankStop Fact[bool] `json:"tank_stop" example:"true"`
	// It has a ground wire of its own to the chassis or to battery negative.
	OwnGround Fact[bool] `json:"own_ground" example:"true"`
	// Frame, body or a shield keeps it from blows, stones and heat.
	Guarded Fact[bool] `json:"guarded" example:"true"`
	// Rubber or similar isolates it from the frame.
	Isolated Fact[bool] `json:"isolated" example:"true"`
	// Port the suction line ends at.
	Inlet LineEnd `json:"inlet"`
	// Port the feed begins at.
	Outlet LineEnd `json:"outlet"`
}

// SpeedControl slows the pump when the engine needs little fuel.
type SpeedControl struct {
	Node
	// How.
	Kind Fact[Word] `json:"kind" words:"series_resistor,pulsed_module,controller_output" example:"pulsed_module"`
	// Steady current it is made for.
	Rating Fact[q.Current] `json:"rating" range:"1 A..100 A" example:"20 A"`
	// The pump gets the full voltage while cranking, priming and at full load.
	FullWhenNeeded Fact[bool] `json:"full_when_needed" example:"true"`
	// Resistance of a series resistor, as printed or measured cold.
	Resistance Fact[q.Resistance] `json:"resistance" range:"50 mohm..20 ohm" example:"0.8 ohm"`
	// Voltage that a module or output gives the pump while it is slowed, at idle and light load, as a meter shows it.
	ReducedVoltage Fact[q.Voltage] `json:"reduced_voltage" range:"2 V..16 V" example:"9 V"`
	// Fuel pressure at the throttle body while it is slowed, as measured.
	ReducedPressure Fact[q.Pressure] `json:"reduced_pressure" range:"0 kPa..1500 kPa" example:"298 kPa"`
	// Heat it gives off for ever where it sits; of a resistor the watts printed on it.
	HeatRating Fact[q.Power] `json:"heat_rating" range:"1 W..2000 W" example:"50 W"`
	// It sits on metal in moving air.
	Cooled Fact[bool] `json:"cooled" example:"true"`
}

// InertiaSwitch cuts the pump in a crash.
type InertiaSwitch struct {
	Node
	// What it opens.
	Opens Fact[Word] `json:"opens" words:"pump_feed,pump_relay_coil" example:"pump_relay_coil"`
	// Current its contacts carry for ever.
	Rating Fact[q.Current] `json:"rating" range:"0.1 A..100 A" example:"15 A"`
	// Reset by hand within the driver's reach.
	ManualReset Fact[bool] `json:"manual_reset" example:"true"`
}

// Filter is one strainer or filter element.
type Filter struct {
	Node
	// Nominal pore size.
	Mesh Fact[q.Length] `json:"mesh" range:"1 um..2 mm" example:"70 um"`
	// Pressure drop when clean at the rated flow.
	RatedDrop Fact[q.Pressure] `json:"rated_drop" range:"0 kPa..100 kPa" example:"2 kPa"`
	// Flow at which the drop holds.
	RatedFlow Fact[q.Flow] `json:"rated_flow" range:"1 L/h..2000 L/h" example:"190 L/h"`
}

// Line is one fuel path: its runs in the order the fuel meets them.
type Line struct {
	Node
	// Hoses, tubes, filters and fittings in order of flow.
	Runs List[Run] `json:"runs"`
	// Height of the line's end above its beginning; negative when it falls.
	Rise Fact[q.Length] `json:"rise" range:"-3 m..3 m" example:"300 mm"`
}

// Run is one piece of a fuel path.
type Run struct {
	Node
	// Short name of the piece.
	Name Fact[string] `json:"name" example:"frame tube"`
	// What it is.
	Kind Fact[Word] `json:"kind" words:"hose,tube,filter,fitting" example:"tube"`
	// Inside diameter; a dash number is not a bore.
	Bore Fact[q.Length] `json:"bore" range:"1 mm..40 mm" example:"8.1 mm"`
	// Length along the run.
	Length Fact[q.Length] `json:"length" range:"0 mm..15 m" example:"3.6 m"`
	// What it is made of.
	Material Fact[Word] `json:"material" words:"steel,coated_steel,stainless_steel,copper,copper_nickel,aluminium,nylon,rubber,fluoroelastomer_lined,ptfe_braided,brass" example:"coated_steel"`
	// Standard printed on a hose or tube.
	Mark Fact[Word] `json:"mark" words:"sae_j30_r2,sae_j30_r3,sae_j30_r5,sae_j30_r6,sae_j30_r7,sae_j30_r8,sae_j30_r9,sae_j30_r10,sae_j30_r11,sae_j30_r12,sae_j30_r13,sae_j30_r14,sae_j2045,sae_j2260,din_73379,iso_19013_2,sae_j1527_a1,sae_j1527_a2,sae_j526,sae_j527,sae_j525,astm_a254,unmarked" example:"sae_j30_r9"`
	// Working pressure printed on it or given by its maker.
	PressureRating Fact[q.Pressure] `json:"pressure_rating" range:"1 kPa..50000 kPa" example:"690 kPa"`
	// Highest temperature its maker allows.
	TemperatureRating Fact[q.Temperature] `json:"temperature_rating" range:"0 degC..300 degC" example:"135 degC"`
	// Highest ethanol content its maker allows, by volume; E85 is 85 %.
	EthanolRating Fact[q.Share] `json:"ethanol_rating" range:"0 %..100 %" example:"15 %"`
	// Its maker allows it to lie in fuel.
	RatedSubmersible Fact[bool] `json:"rated_submersible" example:"false"`
	// Where it lies.
	Zone Fact[Word] `json:"zone" words:"in_tank,tank_side,frame,engine_bay,cabin,boot" example:"frame"`
	// The end that the fuel enters by.
	Inlet LineEnd `json:"inlet"`
	// The end that the fuel leaves by.
	Outlet LineEnd `json:"outlet"`
	// Kind of fitting; a dead-head regulator and the valve that selects a tank stand in the line as fittings.
	Fitting Fact[Word] `json:"fitting" words:"union,elbow_90,elbow_45,tee_run,tee_branch,banjo,quick_connector,check_valve,bulkhead,tank_selector,pressure_regulator" example:"elbow_90"`
	// Number of such fittings in a row.
	Count Fact[int] `json:"count" range:"1..50" example:"2"`
	// The filter element of a filter.
	Filter Filter `json:"filter"`
	// Nearest distance to exhaust parts.
	ExhaustClearance Fact[q.Length] `json:"exhaust_clearance" range:"0 mm..5 m" example:"150 mm"`
	// A metal heat shield stands between.
	HeatShield Fact[bool] `json:"heat_shield" example:"false"`
	// Nearest distance to moving parts over their whole travel.
	MovingPartsClearance Fact[q.Length] `json:"moving_parts_clearance" range:"0 mm..5 m" example:"60 mm"`
	// Longest distance between two clips.
	ClipSpacing Fact[q.Length] `json:"clip_spacing" range:"10 mm..5 m" example:"400 mm"`
	// How far it hangs below the tank, sump or frame without protection.
	BelowFrame Fact[q.Length] `json:"below_frame" range:"0 mm..500 mm" example:"0 mm"`
	// Passes a panel hole with a grommet or bulkhead fitting.
	PanelProtected Fact[bool] `json:"panel_protected" example:"true"`
	// Tightest bend, measured to the inside of the bend.
	BendRadius Fact[q.Length] `json:"bend_radius" range:"1 mm..2 m" example:"100 mm"`
	// Outside diameter.
	OutsideDiameter Fact[q.Length] `json:"outside_diameter" range:"2 mm..60 mm" example:"15 mm"`
	// Pressure at which it bursts, given by its maker.
	BurstPressure Fact[q.Pressure] `json:"burst_pressure" range:"0 kPa..200000 kPa" example:"7000 kPa"`
	// An outer braid resists abrasion and flame.
	FlameBraid Fact[bool] `json:"flame_braid" example:"true"`
	// It is the vehicle's own, as built.
	Original Fact[bool] `json:"original" example:"false"`
	// Metal that rubber or plastic parts from the body is joined to it by a wire.
	Bonded Fact[bool] `json:"bonded" example:"true"`
	// Frame, floor or a panel keeps it from stones and the ground.
	Guarded Fact[bool] `json:"guarded" example:"true"`
	// Age of a rubber part.
	Age Fact[q.Time] `json:"age" range:"0 s..100 years" example:"0 years"`
}

// LineEnd is one end of a piece of a fuel path, or a port where a path begins or ends.
type LineEnd struct {
	Node
	// What it joins by: a hose goes over a spigot, a nut draws its flare against a cone or seat of the same system, a compression fitting holds a plain tube, a quick connector snaps over a pipe made for it.
	Kind Fact[Word] `json:"kind" words:"hose,spigot,flare_37deg_nut,flare_37deg_cone,flare_45deg_nut,flare_45deg_cone,inverted_flare_nut,inverted_flare_seat,thread_male,thread_female,banjo,quick_connector,quick_connector_pipe,compression,soldered" example:"spigot"`
	// What holds a hose on: on the spigot it is pushed over, or on the connector at its own end.
	Held Fact[Word] `json:"held" words:"crimped_ferrule,screwed_on,injection_clamp,rolled_edge_clamp,perforated_worm_clamp,spring_clip" example:"injection_clamp"`
	// Smallest outside diameter its clamp closes on.
	ClampFrom Fact[q.Length] `json:"clamp_from" range:"2 mm..80 mm" example:"13 mm"`
	// Largest outside diameter its clamp opens to.
	ClampTo Fact[q.Length] `json:"clamp_to" range:"2 mm..80 mm" example:"15 mm"`
	// Outside diameter of a spigot beside its bead, or of the pipe that a quick connector is made for; a tube's plain end has the tube's own.
	Size Fact[q.Length] `json:"size" range:"2 mm..60 mm" example:"9.5 mm"`
	// A spigot has a bead, flare or serrations under the clamp.
	Beaded Fact[bool] `json:"beaded" example:"true"`
	// Thread of a nut, a cone, a port or a banjo's bolt.
	Thread Fact[Word] `json:"thread" words:"unf_5_16_24,unf_3_8_24,unf_7_16_20,unf_1_2_20,unf_9_16_18,unf_5_8_18,unf_3_4_16,unf_7_8_14,unf_7_16_24,unf_11_16_16,unf_3_4_18,un_1_1_16_12,un_1_1_16_14,m8_1,m10_1,m12_1_5,m14_1_5,m16_1_5,m18_1_5,m22_1_5,npt_1_8,npt_1_4,npt_3_8,npt_1_2,bsp_1_8,bsp_1_4,bsp_3_8,bsp_1_2" example:"unf_9_16_18"`
}

// Regulator is the fuel pressure regulator.
type Regulator struct {
	Node
	// return_style: after the throttle body, spilling to the tank. in_tank: at the pump, one line.
	// dead_head: before the throttle body, no spill. in_throttle_body: part of it, spilling to the tank.
	Style Fact[Word] `json:"style" words:"return_style,in_throttle_body,in_tank,dead_head" example:"return_style"`
	// Gauge pressure it holds.
	Setting Fact[q.Pressure] `json:"setting" range:"1 kPa..1500 kPa" example:"300 kPa"`
	// What its spring chamber sees; throttle_inlet is the air just before the throttle plates, under boost in a blow-through intake.
	Reference Fact[Word] `json:"reference" words:"atmosphere,manifold_vacuum,ported_vacuum,crankcase_ventilation,air_cleaner,throttle_inlet,unconnected" example:"atmosphere"`
	// How its spring and diaphragm sit: outlet_spring adds the return pressure to the setting.
	Construction Fact[Word] `json:"construction" words:"diaphragm,outlet_spring" example:"diaphragm"`
	// Where it is mounted.
	Place Fact[Word] `json:"place" words:"in_tank,frame_rail,firewall,on_engine,in_throttle_body" example:"firewall"`
	// Least pressure drop across the wide-open seat, at the rated flow.
	SeatDrop Fact[q.Pressure] `json:"seat_drop" range:"0 kPa..100 kPa" example:"5 kPa"`
	// Largest flow it can spill at its setting.
	MaximumFlow Fact[q.Flow] `json:"maximum_flow" range:"1 L/h..2000 L/h" example:"300 L/h"`
	// Number of regulators active in the path, this one included.
	ActiveCount Fact[int] `json:"active_count" range:"0..10" example:"1"`
	// The old low-pressure carburettor regulator is still in the line.
	OldRegulatorInLine Fact[bool] `json:"old_regulator_in_line" example:"false"`
	// There is a place to connect a pressure gauge.
	GaugePort Fact[bool] `json:"gauge_port" example:"true"`
	// Port the return line begins at.
	Outlet LineEnd `json:"outlet"`
}
