package schema

import q "plumbline/schema/quantity"

// ShelfFile is one file of a shelf: parts the shop has or may buy, each with the facts that are printed on it.
type ShelfFile struct {
	Node
	// Edition of this file format; this program reads edition 1.
	Shelf Fact[int] `json:"shelf" range:"1..1" example:"1"`
	// The parts.
	Parts List[ShelfPart] `json:"parts" most:"200"`
}

// ShelfPart is one part: its name, where its facts were read, and under the key of its kind the facts themselves.
//
// A kind is a type of part of a design. The tag `facts` lists the keys that belong to the part and go with it; what else
// the type holds is of how it is fitted and stays with the design. `as` is what every part of the kind is, `also` are other
// types of a design that such a part may stand for, with those of its facts that they have.
type ShelfPart struct {
	Node
	// Name by which designs name it; letters, digits, dots, dashes and the like.
	Name Fact[string] `json:"name" example:"frame-155"`
	// What it is, in words.
	Title Fact[string] `json:"title" example:"roller vane pump for the frame, 8 mm ends"`
	// Where its facts were read: on the part itself, its box, its maker's sheet, a supplier's list, or measured on the bench.
	ReadFrom Fact[Word] `json:"read_from" words:"part,box,sheet,list,bench" example:"box"`
	// Day they were read.
	ReadOn Fact[Date] `json:"read_on" example:"2026-11-20"`
	// What one costs, or a metre of what is sold by length, in the shop's own money.
	Price Fact[q.Ratio] `json:"price" range:"0..1000000" example:"84.50"`
	// How many are there; whole metres of what is sold by length.
	Stock Fact[int] `json:"stock" range:"0..1000000" example:"3"`
	// Free text for the shop's own use; never judged.
	Notes Fact[string] `json:"notes" example:"came back once, tested on the bench"`

	// An electric fuel pump.
	Pump Pump `json:"pump" facts:"kind,curve,curve_voltage,motor_resistance,rated_flow,rated_pressure,dead_head_pressure,maximum_pressure,check_valve,ethanol_rating,rated_submersible,rated_outside,inlet,outlet"`
	// A fuel pressure regulator.
	Regulator Regulator `json:"regulator" facts:"style,setting,construction,seat_drop,maximum_flow,gauge_port,outlet"`
	// Hose, sold by the metre.
	Hose Run `json:"hose" as:"kind=hose" sold:"length" facts:"bore,material,mark,pressure_rating,temperature_rating,ethanol_rating,rated_submersible,outside_diameter,burst_pressure,flame_braid"`
	// Tube, sold by the metre.
	Tube Run `json:"tube" as:"kind=tube" sold:"length" facts:"bore,material,mark,pressure_rating,temperature_rating,ethanol_rating,rated_submersible,outside_diameter,burst_pressure"`
	// A filter in the line.
	Filter Run `json:"filter" as:"kind=filter" facts:"bore,material,pressure_rating,temperature_rating,ethanol_rating,rated_submersible,filter,inlet,outlet,outside_diameter"`
	// A fitting in the line.
	Fitting Run `json:"fitting" as:"kind=fitting" facts:"fitting,bore,material,pressure_rating,temperature_rating,ethanol_rating,rated_submersible,inlet,outlet"`
	// A strainer for the pickup.
	Strainer Filter `json:"strainer" facts:"mesh,rated_drop,rated_flow"`
	// A clamp for a hose's end.
	Clamp LineEnd `json:"clamp" facts:"held,clamp_from,clamp_to"`
	// A fuel tank.
	Tank Tank `json:"tank" facts:"capacity,material,rollover_valve,cap,baffle,approval_mark,test_pressure,working_pressure,joints,pressure_relief,flame_guard,outlet,return_port"`
	// A surge tank.
	SurgeTank SurgeTank `json:"surge_tank" facts:"volume,material,approval_mark,outlet,return_port"`
	// A valve that chooses between two tanks.
	TankSelector TankSelector `json:"tank_selector" facts:"kind,pressure_rating,position_fail,passes_dead_spot,switches_return,second_inlet,second_outlet"`
	// What slows a pump that is needed little.
	SpeedControl SpeedControl `json:"speed_control" facts:"kind,rating,heat_rating"`
	// A switch that cuts the pump in a crash.
	InertiaSwitch InertiaSwitch `json:"inertia_switch" facts:"rating,manual_reset"`
	// A throttle body, with its injectors.
	ThrottleBody ThrottleBody `json:"throttle_body" facts:"bores,bore_diameter,air_rating,air_rating_depression,lowest_pressure,highest_pressure,injectors,idle_air,cleaner_flange,bleeds_down,fuel_inlet,fuel_outlet"`
	// A set of injectors.
	Injectors Injectors `json:"injectors" facts:"count,static_flow,static_mass_flow,test_pressure,location,resistance,smallest_pulse,dead_time,ethanol_rating"`
	// A plate between manifold and throttle body.
	Adapter Adapter `json:"adapter" facts:"height,bore,material"`
	// An air cleaner.
	AirCleaner Intake `json:"air_cleaner" facts:"cleaner_area,cleaner_seat"`
	// An ignition coil.
	Coil Coil `json:"coil" facts:"resistance,inductance"`
	// A series resistor for an ignition coil.
	Ballast Ballast `json:"ballast" facts:"resistance"`
	// An exhaust oxygen sensor.
	OxygenSensor OxygenSensor `json:"oxygen_sensor" facts:"kind"`
	// A sensor of the engine's temperature.
	CoolantSensor CoolantSensor `json:"coolant_sensor" facts:"wires,curve"`
	// A sensor of the intake air's temperature.
	AirSensor IntakeAirSensor `json:"air_sensor" facts:"curve"`
	// A pickup for the engine's speed, with its wheel.
	SpeedPickup SpeedSignal `json:"speed_pickup" facts:"pickup,teeth"`
	// An injection controller.
	Controller Controller `json:"controller" facts:"temperature_rating,ingress_code,rated_for_engine,lowest_supply,current,interference_mark,injector_driver,oxygen_input,injector_output_current,corrects_for_manifold_pressure"`
	// A battery.
	Battery Battery `json:"battery" facts:"system_voltage,cold_cranking,capacity"`
	// A converter that makes 12 V from another voltage.
	Converter Converter `json:"converter" facts:"output_voltage,rated_current,lowest_input"`
	// An alternator or generator.
	Alternator Alternator `json:"alternator" facts:"kind,rated_output,idle_output,cruise_output,regulated_voltage"`
	// A fuse.
	Fuse Fuse `json:"fuse" also:"ChargeFuse" facts:"rating,kind,resistance"`
	// A relay.
	Relay Relay `json:"relay" facts:"contact_rating,suppression,contact_resistance"`
	// Wire or cable, sold by the metre.
	Wire Wire `json:"wire" also:"Ground,ChargeCable" sold:"length" facts:"size,insulation_rating,outside_diameter,conductor,rated_submersible"`
	// A connector with its terminals.
	Connector Connector `json:"connector" facts:"cavities,sealed,width,height,terminal_rating"`
	// A grommet, with the hole it is made for.
	Grommet Passage `json:"grommet" facts:"hole,grommet_bore,lining"`
}
