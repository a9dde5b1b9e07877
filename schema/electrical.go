package schema

import q "plumbline/schema/quantity"

// Controller is the injection controller.
type Controller struct {
	Node
	// Where it is mounted.
	Place Fact[Word] `json:"place" words:"cabin,engine_bay_body,on_engine,on_throttle_body,boot" example:"cabin"`
	// Highest temperature its maker allows.
	TemperatureRating Fact[q.Temperature] `json:"temperature_rating" range:"0 degC..200 degC" example:"85 degC"`
	// Hottest place temperature after a hot stop.
	PlaceTemperature Fact[q.Temperature] `json:"place_temperature" range:"-40 degC..200 degC" example:"60 degC"`
	// Which way its connectors face.
	ConnectorsFace Fact[Word] `json:"connectors_face" words:"down,sideways,up" example:"down"`
	// Depth of the drip loop below the cable entry.
	DripLoop Fact[q.Length] `json:"drip_loop" range:"0 mm..1 m" example:"40 mm"`
	// Ingress class as printed, such as IP54 or IP6K7.
	IngressCode Fact[string] `json:"ingress_code" example:"IP67"`
	// Distance to exhaust parts.
	ExhaustClearance Fact[q.Length] `json:"exhaust_clearance" range:"0 mm..5 m" example:"600 mm"`
	// Its maker allows it on the engine.
	RatedForEngine Fact[bool] `json:"rated_for_engine" example:"false"`
	// Lowest supply at which it still works.
	LowestSupply Fact[q.Voltage] `json:"lowest_supply" range:"3 V..40 V" example:"6 V"`
	// Where its constant power comes from.
	PowerFrom Fact[Word] `json:"power_from" words:"battery_post,main_stud,fuse_panel,ignition_switch,coil_positive,alternator" example:"battery_post"`
	// Where its power ground goes.
	GroundTo Fact[Word] `json:"ground_to" words:"battery_negative,engine_block,chassis,engine_and_chassis" example:"battery_negative"`
	// Its own supply current.
	Current Fact[q.Current] `json:"current" range:"0 A..30 A" example:"1.5 A"`
	// It carries the approval mark of UN Regulation 10 on electromagnetic compatibility.
	InterferenceMark Fact[bool] `json:"interference_mark" example:"true"`
	// The switched (key) feed.
	SwitchedFeed SwitchedFeed `json:"switched_feed"`
	// What its injector outputs are: saturated ones switch the injector to the supply and leave the current to its coil, peak_and_hold ones limit it.
	InjectorDriver Fact[Word] `json:"injector_driver" words:"saturated,peak_and_hold" example:"saturated"`
	// Kind of oxygen sensor its input reads.
	OxygenInput Fact[Word] `json:"oxygen_input" words:"wide_band,narrow_band,either,no_input" example:"wide_band"`
	// How many injector outputs are used.
	InjectorOutputs Fact[int] `json:"injector_outputs" range:"1..16" example:"2"`
	// Highest current its maker allows through one injector output.
	InjectorOutputCurrent Fact[q.Current] `json:"injector_output_current" range:"0.1 A..30 A" example:"3 A"`
	// It corrects injector flow for manifold pressure.
	CorrectsForManifoldPressure Fact[bool] `json:"corrects_for_manifold_pressure" example:"false"`
	// Parts that get their supply out of the controller itself instead of from a circuit of their own; an empty list states that none does.
	Feeds List[Fact[Word]] `json:"feeds" words:"injectors,idle_valve,oxygen_heater,ignition_coil" example:"idle_valve"`
	// Inputs it has for air conditioning or other idle loads.
	IdleUpInput Fact[Word] `json:"idle_up_input" words:"wired,not_wired,not_needed" example:"not_needed"`
}

// SwitchedFeed is the wire that tells the controller the key is on.
type SwitchedFeed struct {
	Node
	// Where it comes from.
	Source Fact[Word] `json:"source" words:"ignition_run_and_start,accessory,start_only,coil_positive,ballasted_wire" example:"ignition_run_and_start"`
	// Voltage at the wire with the engine running or key on.
	RunVoltage Fact[q.Voltage] `json:"run_voltage" range:"0 V..60 V" example:"12.4 V"`
	// Voltage at the wire while cranking.
	CrankVoltage Fact[q.Voltage] `json:"crank_voltage" range:"0 V..60 V" example:"10.2 V"`
}

// Battery is the vehicle's battery.
type Battery struct {
	Node
	// Nominal system voltage.
	SystemVoltage Fact[q.Voltage] `json:"system_voltage" range:"6 V..48 V" example:"12 V"`
	// Which pole is on the chassis.
	GroundedPole Fact[Word] `json:"grounded_pole" words:"negative,positive" example:"negative"`
	// Cold cranking current (SAE J537).
	ColdCranking Fact[q.Current] `json:"cold_cranking" range:"50 A..2000 A" example:"600 A"`
	// Capacity.
	Capacity Fact[q.Charge] `json:"capacity" range:"5 Ah..300 Ah" example:"70 Ah"`
	// Rest voltage.
	RestVoltage Fact[q.Voltage] `json:"rest_voltage" range:"0 V..60 V" example:"12.6 V"`
	// Current the starter draws in the workshop, at about 20 degC.
	StarterCurrent Fact[q.Current] `json:"starter_current" range:"30 A..1500 A" example:"180 A"`
	// Voltage at the posts while cranking, if measured.
	CrankingVoltage Fact[q.Voltage] `json:"cranking_voltage" range:"0 V..60 V" example:"10.4 V"`
	// Where it sits.
	Place Fact[Word] `json:"place" words:"engine_bay,boot,cabin,frame" example:"engine_bay"`
	// Where its gas goes: through a hose to the open air, held back by the valves of a sealed battery until it is overcharged, or into the place it sits in.
	GasOutlet Fact[Word] `json:"gas_outlet" words:"led_outside,valve_regulated,into_its_place" example:"into_its_place"`
	// What else was changed where the conversion changed the voltage or the grounded pole; `none` states that both are as they were.
	Changed Maybe[SupplyChange] `json:"changed"`
	// A switch that cuts all electricity; `none` states there is none.
	MasterSwitch Maybe[MasterSwitch] `json:"master_switch"`
	// The converter that makes the conversion's 12 V in a vehicle of another voltage; `none` states there is none.
	Converter Maybe[Converter] `json:"converter"`
}

// Converter makes 12 V for the conversion's circuits from a vehicle of another voltage.
type Converter struct {
	Node
	// Voltage it gives.
	OutputVoltage Fact[q.Voltage] `json:"output_voltage" range:"5 V..30 V" example:"13.6 V"`
	// Current it gives for ever.
	RatedCurrent Fact[q.Current] `json:"rated_current" range:"1 A..300 A" example:"30 A"`
	// Lowest voltage of the vehicle at which it still works.
	LowestInput Fact[q.Voltage] `json:"lowest_input" range:"3 V..60 V" example:"18 V"`
}

// SupplyChange is what a change of the vehicle's voltage or grounded pole needs elsewhere.
type SupplyChange struct {
	Node
	// Nominal voltage before.
	OldVoltage Fact[q.Voltage] `json:"old_voltage" range:"6 V..48 V" example:"12 V"`
	// Which pole was on the chassis before.
	OldGroundedPole Fact[Word] `json:"old_grounded_pole" words:"negative,positive" example:"positive"`
	// Leads of the ignition coil: with the negative pole on the chassis, positive goes to the key.
	CoilLeads Fact[Word] `json:"coil_leads" words:"suit,as_before" example:"suit"`
	// The ammeter.
	Ammeter Fact[Word] `json:"ammeter" words:"none_fitted,leads_swapped,as_before" example:"leads_swapped"`
	// The radio and other electronics that stay.
	Radio Fact[Word] `json:"radio" words:"none_fitted,made_for_it,switched_over,disconnected,as_before" example:"switched_over"`
	// What charges the battery: a generator is polarised anew with its regulator, or an alternator takes its place.
	Charging Fact[Word] `json:"charging" words:"alternator_fitted,generator_polarised,as_before" example:"generator_polarised"`
	// Lamps, flasher, wiper and blower motors, coil and gauges are made for the voltage there is now.
	LoadsSuit Fact[bool] `json:"loads_suit" example:"true"`
	// Motors with permanent magnets, and pumps, were tried and turn the right way.
	MotorsTurnRight Fact[bool] `json:"motors_turn_right" example:"true"`
}

// Alternator is the alternator or generator.
type Alternator struct {
	Node
	// Alternating current machine or direct current generator.
	Kind Fact[Word] `json:"kind" words:"alternator,generator" example:"alternator"`
	// Rated output (at 6000 rpm of its shaft, ISO 8854).
	RatedOutput Fact[q.Current] `json:"rated_output" range:"5 A..400 A" example:"63 A"`
	// Output at engine idle, hot.
	IdleOutput Fact[q.Current] `json:"idle_output" range:"0 A..300 A" example:"28 A"`
	// Output at cruise, hot.
	CruiseOutput Fact[q.Current] `json:"cruise_output" range:"0 A..400 A" example:"55 A"`
	// Regulated voltage.
	RegulatedVoltage Fact[q.Voltage] `json:"regulated_voltage" range:"5 V..60 V" example:"14.0 V"`
	// What the rest of the vehicle draws: lamps, fan, wipers.
	OtherLoad Fact[q.Current] `json:"other_load" range:"0 A..300 A" example:"22 A"`
	// The wire from its output stud to the battery.
	ChargeCable ChargeCable `json:"charge_cable"`
}

// ChargeCable is the wire from the alternator's output stud to the battery.
type ChargeCable struct {
	Node
	// Conductor size; say AWG, SAE or mm2.
	Size Fact[q.WireSize] `json:"size" range:"0.3 mm2..120 mm2" example:"6 AWG"`
	// Length along the cable.
	Length Fact[q.Length] `json:"length" range:"0 mm..15 m" example:"1.2 m"`
	// Insulation temperature class.
	InsulationRating Fact[q.Temperature] `json:"insulation_rating" range:"60 degC..250 degC" example:"125 degC"`
	// Hottest air around it.
	Ambient Fact[q.Temperature] `json:"ambient" range:"-40 degC..250 degC" example:"80 degC"`
	// Its fuse; `none` states there is none.
	Fuse Maybe[ChargeFuse] `json:"fuse"`
}

// ChargeFuse protects the charge cable against a short that the battery feeds.
type ChargeFuse struct {
	Node
	// Rating.
	Rating Fact[q.Current] `json:"rating" range:"5 A..500 A" example:"80 A"`
	// Length of cable between the battery and the fuse.
	DistanceFromBattery Fact[q.Length] `json:"distance_from_battery" range:"0 mm..15 m" example:"150 mm"`
}

// Circuit is one supply wire from a source through protection to a load and back.
type Circuit struct {
	Node
	// Short name; other parts refer to it.
	Name Fact[string] `json:"name" example:"fuel pump"`
	// What it supplies: a parallel pump is one of the same kind that runs beside the injection pump into the same line, a standby
	// pump one that runs in its place, as the pump in the second tank or a spare does.
	Purpose Fact[Word] `json:"purpose" words:"fuel_pump,controller_power,controller_switched,main_relay,injectors,oxygen_heater,ignition_coil,idle_valve,cooling_fan,lift_pump,parallel_pump,standby_pump,other" example:"fuel_pump"`
	// Where its current comes from.
	Source Fact[Word] `json:"source" words:"battery_post,main_stud,fuse_panel,ignition_switch,alternator,other_circuit" example:"battery_post"`
	// Name of the circuit it branches from, when the source is other_circuit.
	BranchOf Fact[string] `json:"branch_of" refers:"circuits" example:"main relay"`
	// Its fuse; `none` states there is none.
	Fuse Maybe[Fuse] `json:"fuse"`
	// Its relay; `none` states there is none.
	Relay Maybe[Relay] `json:"relay"`
	// Wires from source to load, in order.
	FeedWires List[Wire] `json:"feed_wires"`
	// Wires from load to the place of ground, in order.
	ReturnWires List[Wire] `json:"return_wires"`
	// Where the return wires end: battery_negative or the name of a ground point.
	ReturnsTo Fact[string] `json:"returns_to" refers:"grounds,battery_negative" example:"chassis"`
	// What it drives.
	Load CircuitLoad `json:"load"`
	// Other loads on the same fuse.
	SharesFuseWith List[Fact[string]] `json:"shares_fuse_with" refers:"circuits" example:"horn"`
	// Highest voltage drop allowed by the part's maker.
	AllowedDrop Fact[q.Voltage] `json:"allowed_drop" range:"0 V..6 V" example:"0.5 V"`
}

// Fuse is an overcurrent device.
type Fuse struct {
	Node
	// Rating.
	Rating Fact[q.Current] `json:"rating" range:"0.5 A..500 A" example:"15 A"`
	// Kind of device.
	Kind Fact[Word] `json:"kind" words:"blade,mini_blade,glass,bolt_down,fusible_link,breaker" example:"blade"`
	// Length of wire between source and fuse.
	DistanceFromSource Fact[q.Length] `json:"distance_from_source" range:"0 mm..10 m" example:"150 mm"`
	// The wire before the fuse lies in a sleeve or conduit for its whole length.
	UnfusedWireSheathed Fact[bool] `json:"unfused_wire_sheathed" example:"true"`
	// Where it sits.
	Place Fact[Word] `json:"place" words:"cabin,engine_bay_sealed,engine_bay_open,boot" example:"engine_bay_sealed"`
	// Resistance of the fuse with the contacts of its holder, when measured or given.
	Resistance Fact[q.Resistance] `json:"resistance" range:"0 ohm..10 ohm" example:"6 mohm"`
}

// Relay switches a load.
type Relay struct {
	Node
	// Continuous rating of the contact used.
	ContactRating Fact[q.Current] `json:"contact_rating" range:"1 A..300 A" example:"30 A"`
	// Coil suppression.
	Suppression Fact[Word] `json:"suppression" words:"nothing,resistor,diode" example:"resistor"`
	// Where its coil is fed from.
	CoilFeed Fact[Word] `json:"coil_feed" words:"main_relay,ignition_run_and_start,battery_post,accessory,coil_positive" example:"main_relay"`
	// Where it sits.
	Place Fact[Word] `json:"place" words:"cabin,engine_bay_sealed,engine_bay_open,boot" example:"engine_bay_sealed"`
	// Resistance of the closed contact from blade to blade, with those of its base, when measured or given.
	ContactResistance Fact[q.Resistance] `json:"contact_resistance" range:"0 ohm..10 ohm" example:"4 mohm"`
}

// Wire is one length of wire.
type Wire struct {
	Node
	// Conductor size; say AWG, SAE or mm2.
	Size Fact[q.WireSize] `json:"size" range:"0.05 mm2..120 mm2" example:"14 AWG"`
	// Length along the wire.
	Length Fact[q.Length] `json:"length" range:"0 mm..30 m" example:"4.5 m"`
	// Insulation temperature class.
	InsulationRating Fact[q.Temperature] `json:"insulation_rating" range:"60 degC..250 degC" example:"125 degC"`
	// Outside diameter over the insulation.
	OutsideDiameter Fact[q.Length] `json:"outside_diameter" range:"0.5 mm..40 mm" example:"2.9 mm"`
	// Where it lies.
	Zone Fact[Word] `json:"zone" words:"engine_bay,under_dash,under_floor,boot,in_tank" example:"under_floor"`
	// Hottest air around it.
	Ambient Fact[q.Temperature] `json:"ambient" range:"-40 degC..250 degC" example:"50 degC"`
	// Current-carrying wires in the same bundle, this one included.
	BundleCount Fact[int] `json:"bundle_count" range:"1..300" example:"4"`
	// Conductor.
	Conductor Fact[Word] `json:"conductor" words:"stranded_copper,tinned_stranded_copper,solid_copper,copper_clad_aluminium" example:"stranded_copper"`
	// Joints and terminals along it, ends included.
	Joints List[Joint] `json:"joints"`
	// Distance to exhaust parts.
	ExhaustClearance Fact[q.Length] `json:"exhaust_clearance" range:"0 mm..5 m" example:"200 mm"`
	// Heat sleeve or shield between wire and exhaust.
	HeatShield Fact[bool] `json:"heat_shield" example:"false"`
	// Its maker allows the insulation to lie in fuel.
	RatedSubmersible Fact[bool] `json:"rated_submersible" example:"true"`
}

// Joint is one joint or terminal in a wire.
type Joint struct {
	Node
	// How it is made.
	Kind Fact[Word] `json:"kind" words:"crimp_terminal,sealed_crimp_splice,crimp_splice,solder_splice_supported,solder_splice,insulation_piercing_tap,twisted_and_taped,ring_terminal" example:"sealed_crimp_splice"`
	// Tool used.
	Tool Fact[Word] `json:"tool" words:"ratchet,plier,hydraulic,soldering_iron" example:"ratchet"`
	// Conductor and insulation, or the wire's seal, are gripped apart.
	InsulationGripped Fact[bool] `json:"insulation_gripped" example:"true"`
	// Strands were tinned with solder before crimping.
	TinnedBeforeCrimp Fact[bool] `json:"tinned_before_crimp" example:"false"`
	// Pull test done.
	PullTested Fact[bool] `json:"pull_tested" example:"true"`
	// Resistance, when measured or given: of a terminal with its half of the plug, of a splice of its side.
	Resistance Fact[q.Resistance] `json:"resistance" range:"0 ohm..10 ohm" example:"1 mohm"`
	// Distance from the nearest connector or bend.
	DistanceFromConnector Fact[q.Length] `json:"distance_from_connector" range:"0 mm..10 m" example:"150 mm"`
}

// CircuitLoad is what a circuit drives.
type CircuitLoad struct {
	Node
	// How its current follows its voltage; of a fuel pump as the injection pump is one, its curve tells.
	Kind Fact[Word] `json:"kind" words:"fuel_pump,motor,resistive,electronic,constant_current" example:"fuel_pump"`
	// Current at the rated voltage; a fuel pump's comes from its curve when there is one.
	Current Fact[q.Current] `json:"current" range:"0 A..300 A" example:"8 A"`
	// Voltage at which the current holds.
	RatedVoltage Fact[q.Voltage] `json:"rated_voltage" range:"3 V..60 V" example:"13.5 V"`
	// Current in the first seconds, for heaters and motors.
	StartCurrent Fact[q.Current] `json:"start_current" range:"0 A..600 A" example:"3 A"`
	// Lowest voltage at which the load does its work.
	LowestVoltage Fact[q.Voltage] `json:"lowest_voltage" range:"0 V..60 V" example:"11 V"`
	// When it draws current.
	RunsAt List[Fact[Word]] `json:"runs_at" words:"cranking,idle,cruise,full_load" example:"idle"`
}

// Ground is one path of a ground point towards battery negative.
type Ground struct {
	Node
	// Name of the point, such as chassis or engine_block; circuits refer to it.
	Name Fact[string] `json:"name" example:"chassis"`
	// What the point is.
	Point Fact[Word] `json:"point" words:"battery_negative,engine_block,chassis,body,sensor_stud" example:"chassis"`
	// The point its cable leads to; battery_negative ends the path.
	To Fact[string] `json:"to" refers:"grounds,battery_negative" example:"battery_negative"`
	// Size of the cable or strap.
	Size Fact[q.WireSize] `json:"size" range:"0.3 mm2..120 mm2" example:"6 AWG"`
	// Length of the cable or strap.
	Length Fact[q.Length] `json:"length" range:"0 mm..15 m" example:"400 mm"`
	// Resistance of both end joints together.
	JointResistance Fact[q.Resistance] `json:"joint_resistance" range:"0 ohm..10 ohm" example:"1 mohm"`
	// Hottest air around the cable or strap.
	Ambient Fact[q.Temperature] `json:"ambient" range:"-40 degC..250 degC" example:"80 degC"`
	// Surface under the terminal.
	Surface Fact[Word] `json:"surface" words:"bare_metal_sealed,bare_metal,painted,rusty,self_tapping_screw" example:"bare_metal_sealed"`
	// Number of ring terminals on the stud.
	TerminalsOnStud Fact[int] `json:"terminals_on_stud" range:"1..20" example:"2"`
	// Starter current returns through it.
	CarriesStarter Fact[bool] `json:"carries_starter" example:"false"`
}

// Harness is the loom as a whole.
type Harness struct {
	Node
	// Longest distance between two supports.
	SupportSpacing Fact[q.Length] `json:"support_spacing" range:"10 mm..5 m" example:"450 mm"`
	// Hand deflection between supports.
	Slack Fact[q.Length] `json:"slack" range:"0 mm..500 mm" example:"10 mm"`
	// Distance to fuel lines and tank.
	FuelLineClearance Fact[q.Length] `json:"fuel_line_clearance" range:"0 mm..5 m" example:"160 mm"`
	// Where closer than 152 mm it is clamped so that no single failure lets it touch.
	FuelLineClamped Fact[bool] `json:"fuel_line_clamped" example:"true"`
	// It is clipped to a fuel line.
	ClippedToFuelLine Fact[bool] `json:"clipped_to_fuel_line" example:"false"`
	// Runs above or below the fuel lines.
	RelativeToFuelLine Fact[Word] `json:"relative_to_fuel_line" words:"above,level,below,far_apart" example:"above"`
	// Distance to plug wires and coil where it runs alongside.
	HighVoltageClearance Fact[q.Length] `json:"high_voltage_clearance" range:"0 mm..3 m" example:"150 mm"`
	// Distance to exhaust parts.
	ExhaustClearance Fact[q.Length] `json:"exhaust_clearance" range:"0 mm..3 m" example:"160 mm"`
	// Heat sleeve or shield where close to the exhaust.
	HeatShield Fact[bool] `json:"heat_shield" example:"true"`
	// Distance to steering and other moving controls over their travel.
	MovingControlsClearance Fact[q.Length] `json:"moving_controls_clearance" range:"0 mm..3 m" example:"30 mm"`
	// Distance to belts, fan and pulleys.
	BeltClearance Fact[q.Length] `json:"belt_clearance" range:"0 mm..3 m" example:"60 mm"`
	// Spare length where it crosses from body to engine.
	EngineMovementSlack Fact[q.Length] `json:"engine_movement_slack" range:"0 mm..1 m" example:"40 mm"`
	// Engine movement at that place.
	EngineMovement Fact[q.Length] `json:"engine_movement" range:"0 mm..200 mm" example:"15 mm"`
	// Unused wires with voltage on them.
	UnusedLiveWires Fact[Word] `json:"unused_live_wires" words:"no_live_wires,removed,capped_and_fused,capped,bare" example:"no_live_wires"`
	// Tightest bend radius of the bundle.
	BendRadius Fact[q.Length] `json:"bend_radius" range:"1 mm..1 m" example:"120 mm"`
	// Diameter of the bundle.
	BundleDiameter Fact[q.Length] `json:"bundle_diameter" range:"1 mm..150 mm" example:"16 mm"`
	// How it is covered in the engine bay.
	Covering Fact[Word] `json:"covering" words:"nothing,vinyl_tape,harness_tape,convoluted_tube,braid,heat_sleeve" example:"convoluted_tube"`
	// The last turn of vinyl tape lies without tension.
	TapeEndsUnstretched Fact[bool] `json:"tape_ends_unstretched" example:"true"`
	// Where branches leave the loom: beside what they feed, or together at one place.
	Breakouts Fact[Word] `json:"breakouts" words:"at_their_loads,together" example:"at_their_loads"`
	// Least spare length at connectors and terminals, beyond drip loop and engine movement, to make an end anew.
	ServiceSlack Fact[q.Length] `json:"service_slack" range:"0 mm..1 m" example:"50 mm"`
	// Terminals that were taken out of a connector and put in again.
	ReleasedTerminals Fact[Word] `json:"released_terminals" words:"none_released,tabs_bent_back,as_released" example:"none_released"`
	// The pump feed runs from its relay to the pump the shortest way.
	PumpFeedDirect Fact[bool] `json:"pump_feed_direct" example:"true"`
	// Excess length.
	ExcessWire Fact[Word] `json:"excess_wire" words:"no_excess,folded_and_tied_clear,coiled_near_belts,coiled" example:"no_excess"`
}

// Connector is one connector of the harness.
type Connector struct {
	Node
	// Short name.
	Name Fact[string] `json:"name" example:"controller A"`
	// Number of cavities.
	Cavities Fact[int] `json:"cavities" range:"1..200" example:"24"`
	// Cavities with a wire.
	Wired Fact[int] `json:"wired" range:"0..200" example:"21"`
	// Cavities closed with a plug.
	Plugged Fact[int] `json:"plugged" range:"0..200" example:"3"`
	// Sealed type.
	Sealed Fact[bool] `json:"sealed" example:"true"`
	// Where it sits.
	Zone Fact[Word] `json:"zone" words:"engine_bay,cabin,under_floor,boot" example:"engine_bay"`
	// Secondary lock.
	SecondaryLock Fact[Word] `json:"secondary_lock" words:"closed,will_not_close,missing,never_fitted" example:"closed"`
	// Every terminal was pulled lightly and held.
	TugTested Fact[bool] `json:"tug_tested" example:"true"`
	// Distance to the first clamp of its loom.
	FirstClamp Fact[q.Length] `json:"first_clamp" range:"0 mm..3 m" example:"120 mm"`
	// Width of the smallest face that can lead through a hole.
	Width Fact[q.Length] `json:"width" range:"1 mm..300 mm" example:"38 mm"`
	// Height of that face.
	Height Fact[q.Length] `json:"height" range:"1 mm..300 mm" example:"24 mm"`
	// Current through its most loaded terminal.
	TerminalCurrent Fact[q.Current] `json:"terminal_current" range:"0 A..300 A" example:"8 A"`
	// Rating of that terminal.
	TerminalRating Fact[q.Current] `json:"terminal_rating" range:"0.1 A..400 A" example:"14 A"`
	// Names of the circuits that pass through it, each with its whole current on one terminal; an empty list states that none does, as where only signals pass.
	Circuits List[Fact[string]] `json:"circuits" refers:"circuits" example:"fuel pump"`
}

// Passage is a hole through a panel.
type Passage struct {
	Node
	// Short name.
	Name Fact[string] `json:"name" example:"firewall, harness"`
	// What passes.
	Carries Fact[Word] `json:"carries" words:"harness,fuel_hose,fuel_tube,cable" example:"harness"`
	// Hole diameter in the panel.
	Hole Fact[q.Length] `json:"hole" range:"2 mm..200 mm" example:"50 mm"`
	// Bore of the grommet.
	GrommetBore Fact[q.Length] `json:"grommet_bore" range:"1 mm..200 mm" example:"40 mm"`
	// Lining of the hole.
	Lining Fact[Word] `json:"lining" words:"grommet,split_grommet,bulkhead_fitting,edge_trim,nothing" example:"grommet"`
	// Its grommet or trim was in place before the loom was pulled tight.
	LinedBeforePull Fact[bool] `json:"lined_before_pull" example:"true"`
	// Edge is deburred and painted.
	EdgeFinished Fact[bool] `json:"edge_finished" example:"true"`
	// Diameter of what passes.
	BundleDiameter Fact[q.Length] `json:"bundle_diameter" range:"1 mm..150 mm" example:"16 mm" excludes:"wires"`
	// Wires that pass, when the diameter is not measured.
	Wires List[PassingWire] `json:"wires"`
	// Name of the largest connector that must pass; `nothing` states that none does.
	LargestConnector Fact[string] `json:"largest_connector" refers:"connectors,nothing" example:"controller A"`
	// Least distance between bundle and hole edge.
	EdgeClearance Fact[q.Length] `json:"edge_clearance" range:"0 mm..100 mm" example:"12 mm"`
	// A clamp beside the hole holds what passes in its middle.
	Clamped Fact[bool] `json:"clamped" example:"true"`
	// Drill that guides the cutter or punch of the hole.
	PilotDrill Fact[q.Length] `json:"pilot_drill" range:"1 mm..50 mm" example:"8 mm"`
}

// PassingWire counts equal wires of a bundle.
type PassingWire struct {
	Node
	// How many.
	Count Fact[int] `json:"count" range:"1..300" example:"24"`
	// Outside diameter over the insulation.
	OutsideDiameter Fact[q.Length] `json:"outside_diameter" range:"0.5 mm..40 mm" example:"2.0 mm"`
}

// Gauge is an instrument or sender that stays in use.
type Gauge struct {
	Node
	// What it shows.
	Kind Fact[Word] `json:"kind" words:"fuel_level,coolant_temperature,tachometer,oil_pressure" example:"fuel_level"`
	// Its sender has a ground wire of its own to the chassis.
	OwnGround Fact[bool] `json:"own_ground" example:"true"`
	// Its sender lead goes to the old gauge wire.
	OldWireUsed Fact[bool] `json:"old_wire_used" example:"true"`
	// Sender resistance range suits the gauge.
	RangeMatches Fact[bool] `json:"range_matches" example:"true"`
}
