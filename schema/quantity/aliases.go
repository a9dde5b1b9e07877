package quantity

// Quantities typed by dimension, for struct fields.
type (
	Length                = Of[lengthDim]
	Area                  = Of[areaDim]
	Volume                = Of[volumeDim]
	Mass                  = Of[massDim]
	Time                  = Of[timeDim]
	Velocity              = Of[velocityDim]
	Acceleration          = Of[accelerationDim]
	Force                 = Of[forceDim]
	Torque                = Of[torqueDim]
	Flow                  = Of[flowDim]
	MassFlow              = Of[massFlowDim]
	Density               = Of[densityDim]
	KinematicViscosity    = Of[kinematicViscosityDim]
	Pressure              = Of[pressureDim]
	AbsolutePressure      = Of[absolutePressureDim]
	Temperature           = Of[temperatureDim]
	TemperatureDifference = Of[temperatureDifferenceDim]
	Angle                 = Of[angleDim]
	RotationalSpeed       = Of[rotationalSpeedDim]
	Frequency             = Of[frequencyDim]
	Voltage               = Of[voltageDim]
	Current               = Of[currentDim]
	Resistance            = Of[resistanceDim]
	ResistancePerLength   = Of[resistancePerLengthDim]
	Inductance            = Of[inductanceDim]
	Capacitance           = Of[capacitanceDim]
	Charge                = Of[chargeDim]
	Energy                = Of[energyDim]
	Power                 = Of[powerDim]
	SpecificConsumption   = Of[specificConsumptionDim]
	Ratio                 = Of[ratioDim]
	WireSize              = Of[wireSizeDim]
	DashSize              = Of[dashSizeDim]
	HeatingValue          = Of[heatingValueDim]
)

type (
	lengthDim                struct{}
	areaDim                  struct{}
	volumeDim                struct{}
	massDim                  struct{}
	timeDim                  struct{}
	velocityDim              struct{}
	accelerationDim          struct{}
	forceDim                 struct{}
	torqueDim                struct{}
	flowDim                  struct{}
	massFlowDim              struct{}
	densityDim               struct{}
	kinematicViscosityDim    struct{}
	pressureDim              struct{}
	absolutePressureDim      struct{}
	temperatureDim           struct{}
	temperatureDifferenceDim struct{}
	angleDim                 struct{}
	rotationalSpeedDim       struct{}
	frequencyDim             struct{}
	voltageDim               struct{}
	currentDim               struct{}
	resistanceDim            struct{}
	resistancePerLengthDim   struct{}
	inductanceDim            struct{}
	capacitanceDim           struct{}
	chargeDim                struct{}
	energyDim                struct{}
	powerDim                 struct{}
	specificConsumptionDim   struct{}
	ratioDim                 struct{}
	wireSizeDim              struct{}
	dashSizeDim              struct{}
	heatingValueDim          struct{}
)

func (lengthDim) Dimension() Dimension                { return DimLength }
func (areaDim) Dimension() Dimension                  { return DimArea }
func (volumeDim) Dimension() Dimension                { return DimVolume }
func (massDim) Dimension() Dimension                  { return DimMass }
func (timeDim) Dimension() Dimension                  { return DimTime }
func (velocityDim) Dimension() Dimension              { return DimVelocity }
func (accelerationDim) Dimension() Dimension          { return DimAcceleration }
func (forceDim) Dimension() Dimension                 { return DimForce }
func (torqueDim) Dimension() Dimension                { return DimTorque }
func (flowDim) Dimension() Dimension                  { return DimFlow }
func (massFlowDim) Dimension() Dimension              { return DimMassFlow }
func (densityDim) Dimension() Dimension               { return DimDensity }
func (kinematicViscosityDim) Dimension() Dimension    { return DimKinematicViscosity }
func (pressureDim) Dimension() Dimension              { return DimPressure }
func (absolutePressureDim) Dimension() Dimension      { return DimAbsolutePressure }
func (temperatureDim) Dimension() Dimension           { return DimTemperature }
func (temperatureDifferenceDim) Dimension() Dimension { return DimTemperatureDifference }
func (angleDim) Dimension() Dimension                 { return DimAngle }
func (rotationalSpeedDim) Dimension() Dimension       { return DimRotationalSpeed }
func (frequencyDim) Dimension() Dimension             { return DimFrequency }
func (voltageDim) Dimension() Dimension               { return DimVoltage }
func (currentDim) Dimension() Dimension               { return DimCurrent }
func (resistanceDim) Dimension() Dimension            { return DimResistance }
func (resistancePerLengthDim) Dimension() Dimension   { return DimResistancePerLength }
func (inductanceDim) Dimension() Dimension            { return DimInductance }
func (capacitanceDim) Dimension() Dimension           { return DimCapacitance }
func (chargeDim) Dimension() Dimension                { return DimCharge }
func (energyDim) Dimension() Dimension                { return DimEnergy }
func (powerDim) Dimension() Dimension                 { return DimPower }
func (specificConsumptionDim) Dimension() Dimension   { return DimSpecificConsumption }
func (ratioDim) Dimension() Dimension                 { return DimRatio }
func (wireSizeDim) Dimension() Dimension              { return DimWireSize }
func (dashSizeDim) Dimension() Dimension              { return DimDashSize }
func (heatingValueDim) Dimension() Dimension          { return DimHeatingValue }
