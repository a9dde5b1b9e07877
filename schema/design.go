package schema

import q "plumbline/schema/quantity"

// Design is one conversion of one vehicle: everything the shop knows about it.
type Design struct {
	Node
	// Edition of this file format; this program reads edition 1.
	Plumbline Fact[int] `json:"plumbline" range:"1..1" example:"1"`
	// Short name of the job, printed on every report.
	Title Fact[string] `json:"title" example:"4.1 L in-line six truck, return-style"`
	// Free text for the shop's own use; never judged.
	Notes Fact[string] `json:"notes" example:"customer wants it before spring"`
	// Design file this one takes its facts from, as a path from its own folder; stage, registration, papers, condition, procedure, measured, concessions, title and notes are never taken.
	BasedOn Fact[string] `json:"based_on" example:"../templates/six-return.yaml"`
	// Facts of that file that do not hold here and are unknown again, each by its path; items of a list by their name.
	LeaveOut List[Fact[string]] `json:"leave_out" example:"circuits.fan"`
	// Lists of which everything is named: `all` for every one, or each by its name; what a list not named here leaves out is unknown.
	Complete List[Fact[Word]] `json:"complete" words:"all,suction,feed,return_line,second_suction,second_feed,second_return,oxygen_sensors,circuits,grounds,connectors,passages,gauges" example:"feed" whole:"all"`
	// How far the job is: what has been decided, bought, built or run.
	Stage Fact[Word] `json:"stage" words:"planned,ordered,built,started,handed_over" example:"planned"`
	// Where the vehicle is used, such as us, us-ca, gb or de; its parents count too.
	Regions List[Fact[string]] `json:"regions" example:"us-ca"`
	// The vehicle before the conversion.
	Vehicle Vehicle `json:"vehicle"`
	// How the vehicle is registered and what it was certified for.
	Registration Registration `json:"registration"`
	// Approvals, certificates and records for the conversion.
	Papers Papers `json:"papers"`
	// The engine and how it is run.
	Engine Engine `json:"engine"`
	// The fuel it will be filled with.
	Fuel Fuel `json:"fuel"`
	// Where and in what weather it is used.
	Climate Climate `json:"climate"`
	// The fuel tank; with two, the one that is drawn from first: the computed fuel path begins at it.
	Tank Tank `json:"tank"`
	// A second fuel tank that the engine runs from; `none` for a vehicle with one tank.
	SecondTank Maybe[Tank] `json:"second_tank"`
	// How the fuel of the second tank gets to the pump.
	SecondTankJoined Fact[Word] `json:"second_tank_joined" words:"by_selector,by_balance_line,not_joined" example:"by_selector"`
	// The valve that turns supply and return from one tank to the other.
	TankSelector Maybe[TankSelector] `json:"tank_selector"`
	// A small tank between the main tank and the injection pump, kept full so that the pump never draws air.
	SurgeTank Maybe[SurgeTank] `json:"surge_tank"`
	// The electric injection pump.
	Pump Pump `json:"pump"`
	// The fuel path from the tank to an external pump's inlet; `none` for a pump in the tank.
	Suction Maybe[Line] `json:"suction"`
	// The fuel path from the pump to the throttle body.
	Feed Line `json:"feed"`
	// The fuel path from the regulator back to the tank; `none` for a single-line system.
	ReturnLine Maybe[Line] `json:"return_line"`
	// The second tank's own piece of suction, from the tank to the selector; its rise is that of the whole way from tank to pump. `none` where a pump is in each tank or no selector joins them.
	SecondSuction Maybe[Line] `json:"second_suction"`
	// The second tank's own piece of feed, from the pump in it to the selector; its rise is that of the whole way to the throttle body. `none` where one pump stands outside or no selector joins the tanks.
	SecondFeed Maybe[Line] `json:"second_feed"`
	// The second tank's own piece of return, from the selector to the tank; its rise is that of the whole way from the regulator. `none` where nothing comes back to it.
	SecondReturn Maybe[Line] `json:"second_return"`
	// The fuel pressure regulator.
	Regulator Regulator `json:"regulator"`
	// The throttle body with its injectors.
	ThrottleBody ThrottleBody `json:"throttle_body"`
	// What is between throttle body, engine and outside air.
	Intake Intake `json:"intake"`
	// Pedal to throttle plate.
	ThrottleControl ThrottleControl `json:"throttle_control"`
	// Exhaust pipes, catalyst and air injection.
	Exhaust Exhaust `json:"exhaust"`
	// Exhaust oxygen sensors.
	OxygenSensors List[OxygenSensor] `json:"oxygen_sensors"`
	// The other sensors and the engine-speed signal.
	Sensors Sensors `json:"sensors"`
	// Ignition: who times the spark, and its parts.
	Ignition Ignition `json:"ignition"`
	// The injection controller and how it is mounted.
	Controller Controller `json:"controller"`
	// The battery.
	Battery Battery `json:"battery"`
	// The alternator or generator.
	Alternator Alternator `json:"alternator"`
	// Every circuit of the conversion and those that share its supply.
	Circuits List[Circuit] `json:"circuits"`
	// Ground paths: cables, straps and studs that lead back to the battery.
	Grounds List[Ground] `json:"grounds"`
	// The harness as a whole.
	Harness Harness `json:"harness"`
	// Connectors of the harness.
	Connectors List[Connector] `json:"connectors"`
	// Holes through which harness, hose or tube pass a panel.
	Passages List[Passage] `json:"passages"`
	// Gauges and senders that stay in use.
	Gauges List[Gauge] `json:"gauges"`
	// State of an old vehicle before fuel or spark.
	Condition Condition `json:"condition"`
	// How tank work, first start and learning are done.
	Procedure Procedure `json:"procedure"`
	// Values entered in the controller's set-up.
	Setup Setup `json:"setup"`
	// Values measured on the finished vehicle.
	Measured Measured `json:"measured"`
	// Facts that packs of the shop declare, each under the last word of its pack's name.
	Own Own `json:"own"`
	// Recorded permissions to leave a nonconformity.
	Concessions List[Concession] `json:"concessions"`

	// shelved are the parts of it that are parts of a shelf.
	shelved []*Shelved
}

// Vehicle is the vehicle before the conversion and its original emission equipment.
type Vehicle struct {
	Node
	// What it is, in words; no names needed.
	Description Fact[string] `json:"description" example:"half-ton truck, in-line six"`
	// Model year as certified.
	ModelYear Fact[int] `json:"model_year" range:"1900..2100" example:"1972"`
	// Day it was built.
	ManufactureDate Fact[Date] `json:"manufacture_date" example:"1971-10-04"`
	// Day it was first used on a road.
	FirstUseDate Fact[Date] `json:"first_use_date" example:"1971-12-01"`
	// Day it was first registered anywhere.
	FirstRegistrationDate Fact[Date] `json:"first_registration_date" example:"1971-12-01"`
	// What it was built as; a multipurpose vehicle on a truck's frame counts as a truck.
	Class Fact[Word] `json:"class" words:"passenger_car,truck_or_van,bus" example:"truck_or_van"`
	// Gross vehicle mass.
	GrossMass Fact[q.Mass] `json:"gross_mass" range:"100 kg..40000 kg" example:"2400 kg"`
	// What it is used for.
	Use Fact[Word] `json:"use" words:"road,road_limited,competition,off_road" example:"road"`
	// Where the engine sits.
	EnginePosition Fact[Word] `json:"engine_position" words:"front,mid,rear" example:"front"`
	// Emission equipment fitted when new; an empty list states that there was none.
	OriginalEmissionEquipment List[EmissionItem] `json:"original_emission_equipment"`
	// An automatic transmission that takes its load signal from the throttle.
	AutomaticTransmission Maybe[AutomaticTransmission] `json:"automatic_transmission"`
	// Air conditioning driven by the engine.
	AirConditioning Fact[bool] `json:"air_conditioning" example:"false"`
	// Brake booster working on engine vacuum.
	BrakeBooster Maybe[BrakeBooster] `json:"brake_booster"`
}

// EmissionItem is one piece of original emission equipment and what becomes of it.
type EmissionItem struct {
	Node
	// Which equipment.
	Kind Fact[Word] `json:"kind" words:"crankcase_ventilation,evaporative_canister,tank_vent_line,sealed_cap,exhaust_gas_recirculation,air_injection,heated_intake,throttle_positioner,spark_control,catalyst,oxygen_sensor,diagnostics" example:"crankcase_ventilation"`
	// What the conversion does with it.
	After Fact[Word] `json:"after" words:"kept,moved,equivalent,removed" example:"kept"`
}

// AutomaticTransmission holds what the throttle must still move.
type AutomaticTransmission struct {
	Node
	// How the transmission senses throttle opening.
	ThrottleSignal Fact[Word] `json:"throttle_signal" words:"rod,cable,vacuum,electric" example:"cable"`
	// Cable or rod travel from closed to wide open on the old carburettor.
	OldTravel Fact[q.Length] `json:"old_travel" range:"1 mm..300 mm" example:"48 mm"`
	// The same travel on the new throttle body.
	NewTravel Fact[q.Length] `json:"new_travel" range:"1 mm..300 mm" example:"48 mm"`
	// Full travel is reached at wide-open throttle and not before.
	FullAtWideOpen Fact[bool] `json:"full_at_wide_open" example:"true"`
}

// BrakeBooster is the vacuum supply of the brakes.
type BrakeBooster struct {
	Node
	// Its hose has a port of its own on full manifold vacuum.
	OwnPort Fact[bool] `json:"own_port" example:"true"`
	// A check valve holds vacuum when the engine stops.
	CheckValve Fact[bool] `json:"check_valve" example:"true"`
	// A vacuum reservoir or an electric vacuum pump helps at low engine vacuum.
	Reserve Fact[Word] `json:"reserve" words:"nothing,reservoir,vacuum_pump" example:"nothing"`
	// Bore of the vacuum hose.
	HoseBore Fact[q.Length] `json:"hose_bore" range:"3 mm..30 mm" example:"10 mm"`
}

// Engine is the engine and how it is run.
type Engine struct {
	Node
	// Total swept volume.
	Displacement Fact[q.Volume] `json:"displacement" range:"0.1 L..30 L" example:"4.1 L"`
	// Number of cylinders.
	Cylinders Fact[int] `json:"cylinders" range:"1..16" example:"6"`
	// Number of cylinder banks with an exhaust of their own.
	Banks Fact[int] `json:"banks" range:"1..2" example:"1"`
	// How air gets in.
	Aspiration Fact[Word] `json:"aspiration" words:"natural,turbocharged,supercharged" example:"natural"`
	// Volume of a cylinder over that left when its piston is at the top, such as 8.5 for 8.5 to 1.
	CompressionRatio Fact[q.Ratio] `json:"compression_ratio" range:"4..18" example:"8.5"`
	// Highest boost above outside air in the manifold, of a turbocharged or supercharged engine.
	Boost Fact[q.Pressure] `json:"boost" range:"0 kPa..400 kPa" example:"50 kPa"`
	// Temperature of the charge in the manifold at full load, behind compressor and cooler, of a turbocharged or supercharged engine.
	ChargeTemperature Fact[q.Temperature] `json:"charge_temperature" range:"-20 degC..250 degC" example:"60 degC"`
	// What cools it.
	Cooling Fact[Word] `json:"cooling" words:"liquid,air" example:"liquid"`
	// What draws air through the radiator or over the engine.
	Fan Fact[Word] `json:"fan" words:"engine_driven,electric,both,no_fan" example:"engine_driven"`
	// Rated power with the new throttle body, at sea level as power is stated: in air of 25 degC and 99 kPa.
	Power Fact[q.Power] `json:"power" range:"1 kW..1500 kW" example:"90 kW"`
	// How the power was measured: net at the crankshaft with everything the engine drives in the vehicle, gross at the
	// crankshaft without it (as before 1972 in the United States), or at the driven wheels.
	PowerAs Fact[Word] `json:"power_as" words:"net,gross,at_wheels" example:"net"`
	// Net power at the crankshaft as a share of the power stated, where that is gross (some 70 to 85 % of it) or at the
	// driven wheels (some 114 to 128 % of it).
	NetShare Fact[q.Share] `json:"net_share" range:"50 %..150 %" example:"80 %"`
	// Engine speed at which the rated power is made.
	PowerSpeed Fact[q.RotationalSpeed] `json:"power_speed" range:"500 rpm..12000 rpm" example:"4200 rpm"`
	// Highest speed the engine is run to.
	MaximumSpeed Fact[q.RotationalSpeed] `json:"maximum_speed" range:"500 rpm..12000 rpm" example:"4800 rpm"`
	// Fuel mass used per unit of work at rated power, on the fuel named by consumption_ethanol.
	SpecificConsumption Fact[q.SpecificConsumption] `json:"specific_consumption" range:"150 g/kWh..800 g/kWh" example:"0.50 lb/(hp h)"`
	// Ethanol content, as a volume fraction, of the fuel the specific consumption was given for; 0 % for a petrol figure.
	ConsumptionEthanol Fact[q.Share] `json:"consumption_ethanol" range:"0 %..100 %" example:"0 %"`
	// Lambda the controller holds at full load.
	FullLoadLambda Fact[q.Ratio] `json:"full_load_lambda" range:"0.5..1.3" example:"0.88"`
	// Volumetric efficiency at rated power: against outside air without a compressor, with one against the charge in the manifold.
	VolumetricEfficiency Fact[q.Ratio] `json:"volumetric_efficiency" range:"0.2..2" example:"0.80"`
	// Warm idle speed.
	IdleSpeed Fact[q.RotationalSpeed] `json:"idle_speed" range:"200 rpm..3000 rpm" example:"700 rpm"`
	// Manifold vacuum below atmosphere at warm idle, as read at vacuum_altitude.
	IdleVacuum Fact[q.Pressure] `json:"idle_vacuum" range:"0 inHg..29 inHg" example:"18 inHg"`
	// Fuel used at warm idle, if measured.
	IdleFuel Fact[q.Flow] `json:"idle_fuel" range:"0.1 L/h..20 L/h" example:"2.0 L/h"`
	// Engine speed at steady cruise.
	CruiseSpeed Fact[q.RotationalSpeed] `json:"cruise_speed" range:"500 rpm..8000 rpm" example:"2200 rpm"`
	// Power at steady cruise.
	CruisePower Fact[q.Power] `json:"cruise_power" range:"1 kW..500 kW" example:"22 kW"`
	// Manifold vacuum below atmosphere at cruise, as read at vacuum_altitude.
	CruiseVacuum Fact[q.Pressure] `json:"cruise_vacuum" range:"0 inHg..29 inHg" example:"13 inHg"`
	// Altitude of the place where idle and cruise vacuum were read.
	VacuumAltitude Fact[q.Length] `json:"vacuum_altitude" range:"-430 m..5000 m" example:"200 m"`
	// Speed at which the starter turns it in the workshop, at about 20 degC.
	CrankingSpeed Fact[q.RotationalSpeed] `json:"cranking_speed" range:"30 rpm..600 rpm" example:"180 rpm"`
	// What warms it before the coldest start; a block heater is plugged in overnight.
	Preheating Fact[Word] `json:"preheating" words:"nothing,block_heater" example:"nothing"`
	// How it works.
	Cycle Fact[Word] `json:"cycle" words:"four_stroke,two_stroke,rotary" example:"four_stroke"`
	// Where it comes from: the one the vehicle was built with, another of the same basic engine, or a different one.
	Origin Fact[Word] `json:"origin" words:"original,same_basic_engine,different" example:"original"`
	// Year it was made, where it is not the vehicle's original one.
	ManufactureYear Fact[int] `json:"manufacture_year" range:"1900..2100" example:"1972"`
	// It is larger or stronger than every engine the maker offered for this vehicle with these brakes.
	BeyondOptions Fact[bool] `json:"beyond_options" example:"false"`
	// Rated power of the engine the vehicle was built with.
	OriginalPower Fact[q.Power] `json:"original_power" range:"1 kW..1500 kW" example:"85 kW"`
	// It has as many cylinders as the original one.
	CylindersAsOriginal Fact[bool] `json:"cylinders_as_original" example:"true"`
	// Number and capacity in the registration document are those of the engine as it is.
	Registered Fact[bool] `json:"registered" example:"true"`
	// Whether its maker states carbon monoxide at idle, in its papers or workshop data.
	MakerIdleFigure Fact[Word] `json:"maker_idle_figure" words:"stated,not_stated" example:"not_stated"`
	// Carbon monoxide at idle its maker states, by volume.
	MakerIdleCarbonMonoxide Fact[q.Share] `json:"maker_idle_carbon_monoxide" range:"0 %..15 %" example:"3 %"`
	// Camshaft class.
	Camshaft Fact[Word] `json:"camshaft" words:"stock,warm,hot,race" example:"stock"`
	// The old engine-driven fuel pump.
	OldMechanicalPump Fact[Word] `json:"old_mechanical_pump" words:"never_fitted,removed_and_blanked,in_series,left_unconnected,fills_surge_tank" example:"removed_and_blanked"`
	// A cylinder is known to misfire.
	Misfire Fact[bool] `json:"misfire" example:"false"`
}

// Fuel is what the vehicle will be filled with.
type Fuel struct {
	Node
	// Highest ethanol content by volume; E10 is 10 %.
	Ethanol Fact[q.Share] `json:"ethanol" range:"0 %..100 %" example:"10 %"`
	// Reid vapour pressure (absolute, at 37.8 degC) of the most volatile fuel it will get.
	ReidVapourPressure Fact[q.AbsolutePressure] `json:"reid_vapour_pressure" range:"10 kPa..110 kPa" example:"9.0 psi"`
	// Lead content.
	Lead Fact[q.Density] `json:"lead" range:"0 g/L..2 g/L" example:"0 g/L"`
	// Density at 15 degC, if known.
	Density Fact[q.Density] `json:"density" range:"0.6 kg/L..0.9 kg/L" example:"0.745 kg/L"`
}

// Climate is where and in what weather the vehicle is used.
type Climate struct {
	Node
	// Highest road it is driven on.
	Altitude Fact[q.Length] `json:"altitude" range:"-430 m..5000 m" example:"1500 m"`
	// Hottest day.
	HotAmbient Fact[q.Temperature] `json:"hot_ambient" range:"0 degC..60 degC" example:"38 degC"`
	// Coldest start.
	ColdAmbient Fact[q.Temperature] `json:"cold_ambient" range:"-60 degC..40 degC" example:"-15 degC"`
	// Hottest fuel in the tank.
	HotFuel Fact[q.Temperature] `json:"hot_fuel" range:"0 degC..80 degC" example:"45 degC"`
	// Air under the bonnet, hot, engine running.
	UnderBonnet Fact[q.Temperature] `json:"under_bonnet" range:"0 degC..150 degC" example:"80 degC"`
}

// Concession is a recorded permission to leave one nonconformity.
type Concession struct {
	Node
	// The rule it is granted for, such as wiring/drop.pump-circuit.
	Rule Fact[string] `json:"rule" example:"fuel/return.back-pressure"`
	// The subject's path, when the rule judges several.
	Subject Fact[string] `json:"subject" example:"design.circuits[0]"`
	// Why it may stay.
	Reason Fact[string] `json:"reason" example:"measured 6 kPa at the car, line to be replaced at next service"`
	// Who granted it: a role or initials.
	GrantedBy Fact[string] `json:"granted_by" example:"workshop lead"`
	// Last day it holds.
	Until Fact[Date] `json:"until" example:"2027-03-31"`
}
