package schema

import q "plumbline/schema/quantity"

// Ignition is the ignition system.
type Ignition struct {
	Node
	// Who decides when the spark comes.
	Mode Fact[Word] `json:"mode" words:"distributor_advance,controller_distributor_trigger,controller_crank_trigger" example:"distributor_advance"`
	// What switches the coil.
	Kind Fact[Word] `json:"kind" words:"points,electronic_inductive,capacitive_discharge,controller_driver" example:"electronic_inductive"`
	// The coil.
	Coil Coil `json:"coil"`
	// Series resistor of the coil; `none` states there is none.
	Ballast Maybe[Ballast] `json:"ballast"`
	// Mechanical advance of the distributor.
	MechanicalAdvance Fact[Word] `json:"mechanical_advance" words:"working,locked,no_distributor" example:"working"`
	// Vacuum advance of the distributor.
	VacuumAdvance Fact[Word] `json:"vacuum_advance" words:"working,disconnected_and_capped,locked,never_fitted" example:"working"`
	// Port the vacuum advance had on the carburettor.
	OldAdvancePort Fact[Word] `json:"old_advance_port" words:"ported,manifold,no_port" example:"ported"`
	// Port it has now.
	NewAdvancePort Fact[Word] `json:"new_advance_port" words:"ported,manifold,no_port" example:"ported"`
	// Least advance the controller commands, before top dead centre.
	LeastAdvance Fact[q.Angle] `json:"least_advance" range:"-30 deg..80 deg" example:"10 deg"`
	// Most advance the controller commands, before top dead centre.
	MostAdvance Fact[q.Angle] `json:"most_advance" range:"-30 deg..80 deg" example:"40 deg"`
	// Radius of the rotor tip.
	RotorRadius Fact[q.Length] `json:"rotor_radius" range:"5 mm..100 mm" example:"25 mm"`
	// Width of the rotor tip.
	RotorWidth Fact[q.Length] `json:"rotor_width" range:"1 mm..40 mm" example:"8 mm"`
	// Width of a cap terminal.
	TerminalWidth Fact[q.Length] `json:"terminal_width" range:"1 mm..40 mm" example:"5 mm"`
	// Rotor phase was set and seen at the middle of the advance range.
	RotorPhaseSet Fact[bool] `json:"rotor_phase_set" example:"true"`
	// Conductor of the plug wires.
	PlugWires Fact[Word] `json:"plug_wires" words:"solid_core,carbon_core,helical_core,no_plug_wires" example:"helical_core"`
	// Plugs have a built-in resistor.
	ResistorPlugs Fact[bool] `json:"resistor_plugs" example:"true"`
	// Total resistance of the longest secondary path.
	SecondaryResistance Fact[q.Resistance] `json:"secondary_resistance" range:"0 ohm..200 kohm" example:"12 kohm"`
	// Dwell variation of points over the speed range.
	DwellVariation Fact[q.Angle] `json:"dwell_variation" range:"0 deg..30 deg" example:"1 deg"`
	// Leads of the mode that is not used.
	UnusedLeads Fact[Word] `json:"unused_leads" words:"no_unused_leads,removed_at_connector,coiled_up,cut_and_capped,cut_bare" example:"removed_at_connector"`
	// Distance between coil or box and the controller.
	CoilToController Fact[q.Length] `json:"coil_to_controller" range:"0 m..6 m" example:"0.6 m"`
}

// Coil is the ignition coil.
type Coil struct {
	Node
	// Primary resistance.
	Resistance Fact[q.Resistance] `json:"resistance" range:"0.1 ohm..10 ohm" example:"1.5 ohm"`
	// Primary inductance.
	Inductance Fact[q.Inductance] `json:"inductance" range:"0.1 mH..50 mH" example:"8 mH"`
	// Current limit of the driver.
	CurrentLimit Fact[q.Current] `json:"current_limit" range:"1 A..20 A" example:"6 A"`
	// Fraction of each firing interval for which current flows (30 of 45 deg of points dwell are 66.7 %).
	DwellFraction Fact[q.Share] `json:"dwell_fraction" range:"0 %..100 %" example:"66.7 %" excludes:"dwell_time"`
	// Time for which current flows before each spark, where a driver holds it whatever the speed.
	DwellTime Fact[q.Time] `json:"dwell_time" range:"0.1 ms..50 ms" example:"3.5 ms" excludes:"dwell_fraction"`
	// Voltage that the switch (points, module or driver) keeps for itself while it conducts.
	DriverDrop Fact[q.Voltage] `json:"driver_drop" range:"0 V..4 V" example:"1.4 V"`
	// Number of coils.
	Count Fact[int] `json:"count" range:"1..16" example:"1"`
	// Hottest body temperature.
	BodyTemperature Fact[q.Temperature] `json:"body_temperature" range:"-40 degC..200 degC" example:"70 degC"`
}

// Ballast is a resistor between key switch and coil.
type Ballast struct {
	Node
	// Its resistance when hot.
	Resistance Fact[q.Resistance] `json:"resistance" range:"0.1 ohm..5 ohm" example:"1.5 ohm"`
	// It is bypassed while cranking.
	BypassedInStart Fact[bool] `json:"bypassed_in_start" example:"true"`
}
