package schema

import q "plumbline/schema/quantity"

// Papers are the approvals, certificates and records the law of a place may ask of a conversion.
type Papers struct {
	Node
	// Who does the work: the vehicle's owner, or a business for pay.
	DoneBy Fact[Word] `json:"done_by" words:"owner,business" example:"business"`
	// Day the conversion is or will be finished.
	DoneOn Fact[Date] `json:"done_on" example:"2026-12-10"`
	// Best paper there is for the conversion parts; parts_report is an expert's report on the part, single_report one on this vehicle.
	PartApproval Fact[Word] `json:"part_approval" words:"nothing,type_approval,un_approval,national_permit,parts_report,single_report" example:"parts_report"`
	// That paper names this vehicle, and its conditions are kept.
	ApprovalCoversVehicle Fact[bool] `json:"approval_covers_vehicle" example:"true"`
	// The finished fitting was inspected by a recognised expert or the authority.
	FittingInspected Fact[bool] `json:"fitting_inspected" example:"true"`
	// Approval or inspection papers are carried in the vehicle.
	Carried Fact[bool] `json:"carried" example:"true"`
	// The change stands in the registration document.
	RegistrationUpdated Fact[bool] `json:"registration_updated" example:"true"`
	// A state's order that exempts the conversion part from the ban on altering emission equipment; `none` states there is none.
	ExemptionOrder Maybe[ExemptionOrder] `json:"exemption_order"`
	// What a written belief that emissions are no worse rests on.
	ReasonableBasis Fact[Word] `json:"reasonable_basis" words:"nothing,same_as_certified,tested_after_treatment,new_after_treatment,emission_test,certificate,exemption_order" example:"emission_test"`
	// A written analysis shows that the fuel system holds in a crash as well as it did.
	CrashAnalysis Fact[bool] `json:"crash_analysis" example:"true"`
	// A certificate of an engineer or approved signatory for the modification.
	EngineerCertificate Fact[bool] `json:"engineer_certificate" example:"true"`
	// A plate or label of the authority's modification scheme is on the vehicle.
	ModificationPlate Fact[bool] `json:"modification_plate" example:"true"`
	// A measurement shows that the emission class in the registration is still met.
	EmissionClassProved Fact[bool] `json:"emission_class_proved" example:"true"`
	// Evidence that this change was customary on the type within ten years of its first use.
	PeriodEvidence Fact[bool] `json:"period_evidence" example:"false"`
	// The assessor of the historic status agreed to the change beforehand.
	AssessorAgreed Fact[bool] `json:"assessor_agreed" example:"false"`
	// The registering authority agreed in writing before the change was made.
	AuthorityAgreed Fact[bool] `json:"authority_agreed" example:"true"`
	// What a certifier of the authority's modification scheme says about this change.
	CertifierView Fact[Word] `json:"certifier_view" words:"not_asked,no_plate_needed,plate_needed" example:"no_plate_needed"`
	// Dated papers or photographs prove the day of the change.
	DayProved Fact[bool] `json:"day_proved" example:"true"`
	// The insurer was told.
	InsurerTold Fact[bool] `json:"insurer_told" example:"true"`
	// A sale or transfer of the vehicle is planned.
	SalePlanned Fact[bool] `json:"sale_planned" example:"false"`
}

// ExemptionOrder is a state's order for one part on named vehicles.
type ExemptionOrder struct {
	Node
	// Its number.
	Number Fact[string] `json:"number" example:"D-000-0"`
	// It names this part.
	CoversPart Fact[bool] `json:"covers_part" example:"true"`
	// It names this vehicle, model year and engine.
	CoversVehicle Fact[bool] `json:"covers_vehicle" example:"true"`
	// Its label is fixed under the bonnet.
	LabelFitted Fact[bool] `json:"label_fitted" example:"true"`
	// What it asks of settings, ports and the other emission equipment is done.
	ConditionsKept Fact[bool] `json:"conditions_kept" example:"true"`
}

// Registration is how the vehicle is registered and what it was certified for.
type Registration struct {
	Node
	// Market it was certified for when new.
	CertifiedFor Fact[Word] `json:"certified_for" words:"us_federal,us_california,other_market,no_certification" example:"us_federal"`
	// Kind of registration; q_plate is the British mark of a vehicle whose age or identity is not known, amateur_built a kit or a build of one's own
	// with a dated mark, reconstructed a vehicle put together again from old parts.
	Plate Fact[Word] `json:"plate" words:"normal,historic,collector,antique,street_rod,q_plate,amateur_built,reconstructed,conditional" example:"normal"`
	// Registered where a periodic exhaust test is asked of some vehicles.
	EmissionTestArea Fact[bool] `json:"emission_test_area" example:"true"`
	// Insured as a collector's vehicle.
	CollectorInsured Fact[bool] `json:"collector_insured" example:"false"`
	// Distance driven in a year.
	YearlyDistance Fact[q.Length] `json:"yearly_distance" range:"0 km..500000 km" example:"4000 mi"`
	// Day of the last passed exhaust test.
	LastEmissionTest Fact[Date] `json:"last_emission_test" example:"2026-03-14"`
	// Used for hire, reward or goods for a business.
	Commercial Fact[bool] `json:"commercial" example:"false"`
	// Day it was imported into the country of use; unstated for one sold new there.
	ImportDate Fact[Date] `json:"import_date" example:"2019-06-02"`
	// Emission devices fitted after sale because a law asked for it; an empty list states that there is none.
	RetrofitDevices List[RetrofitDevice] `json:"retrofit_devices"`
	// Points kept under the identity rule for altered vehicles: original chassis 5, axles, suspension, steering, transmission and engine the rest.
	IdentityPoints Fact[int] `json:"identity_points" range:"0..20" example:"14"`
	// Exhaust limits its type was approved under: before any, or with limits at idle alone, or of a drive cycle.
	EmissionLimits Fact[Word] `json:"emission_limits" words:"before_any,idle_limits,drive_cycle" example:"idle_limits"`
	// The inspection authority publishes emission figures of its own for this model.
	EmissionsListed Fact[bool] `json:"emissions_listed" example:"false"`
	// Year of the exhaust rule its type was approved under.
	ExhaustRuleYear Fact[int] `json:"exhaust_rule_year" range:"1960..2100" example:"1978"`
	// Emission rule on its Australian compliance plate; before_any states that the plate names none.
	DesignRule Fact[Word] `json:"design_rule" words:"before_any,adr_26,adr_27,adr_27a,adr_27b,adr_27c,adr_37" example:"adr_27a"`
}

// RetrofitDevice is an emission device fitted after sale.
type RetrofitDevice struct {
	Node
	// What it controls.
	Kind Fact[Word] `json:"kind" words:"crankcase,exhaust,oxides_of_nitrogen,evaporation" example:"oxides_of_nitrogen"`
	// What the conversion does with it.
	After Fact[Word] `json:"after" words:"kept,moved,equivalent,removed" example:"kept"`
}

// MasterSwitch cuts the vehicle's electricity.
type MasterSwitch struct {
	Node
	// It stops the fuel pump.
	CutsPump Fact[bool] `json:"cuts_pump" example:"true"`
	// It stops the engine.
	StopsEngine Fact[bool] `json:"stops_engine" example:"true"`
	// It can be worked from outside as well.
	OutsideHandle Fact[bool] `json:"outside_handle" example:"true"`
}

// ExhaustReading is what a gas analyser read on the finished vehicle.
type ExhaustReading struct {
	Node
	// Carbon monoxide at idle, by volume.
	IdleCarbonMonoxide Fact[q.Share] `json:"idle_carbon_monoxide" range:"0 %..20 %" example:"1.5 %"`
	// Hydrocarbons at idle, by volume.
	IdleHydrocarbons Fact[q.Share] `json:"idle_hydrocarbons" range:"0 %..10 %" example:"400 ppm"`
	// Carbon monoxide at raised idle speed, by volume.
	FastIdleCarbonMonoxide Fact[q.Share] `json:"fast_idle_carbon_monoxide" range:"0 %..20 %" example:"0.2 %"`
	// Hydrocarbons at about 2000 rpm without load, by volume.
	FastIdleHydrocarbons Fact[q.Share] `json:"fast_idle_hydrocarbons" range:"0 %..10 %" example:"300 ppm"`
	// Excess air ratio at raised idle speed.
	FastIdleLambda Fact[q.Ratio] `json:"fast_idle_lambda" range:"0.5..2" example:"1.0"`
	// Oil temperature while it was read.
	OilTemperature Fact[q.Temperature] `json:"oil_temperature" range:"-40 degC..180 degC" example:"75 degC"`
	// Longest time visible smoke was seen.
	SmokeTime Fact[q.Time] `json:"smoke_time" range:"0 s..10 min" example:"0 s"`
	// Darkness of that smoke on the Ringelmann chart: 0 is clear, 5 is black.
	SmokeShade Fact[int] `json:"smoke_shade" range:"0..5" example:"0"`
}
