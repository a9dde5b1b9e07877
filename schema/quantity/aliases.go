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
	Share                 = Of[shareDim]
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
	shareDim                 struct{}
	ratioDim                 struct{}
	wireSizeDim              struct{}
	dashSizeDim              struct{}
	heatingValueDim          struct{}
)

func (lengthDim) dimension() Dimension                { return DimLength }
func (areaDim) dimension() Dimension                  { return DimArea }
func (volumeDim) dimension() Dimension                { return DimVolume }
func (massDim) dimension() Dimension                  { return DimMass }
func (timeDim) dimension() Dimension                  { return DimTime }
func (velocityDim) dimension() Dimension              { return DimVelocity }
func (accelerationDim) dimension() Dimension          { return DimAcceleration }
func (forceDim) dimension() Dimension                 { return DimForce }
func (torqueDim) dimension() Dimension                { return DimTorque }
func (flowDim) dimension() Dimension                  { return DimFlow }
func (massFlowDim) dimension() Dimension              { return DimMassFlow }
func (densityDim) dimension() Dimension               { return DimDensity }
func (kinematicViscosityDim) dimension() Dimension    { return DimKinematicViscosity }
func (pressureDim) dimension() Dimension              { return DimPressure }
func (absolutePressureDim) dimension() Dimension      { return DimAbsolutePressure }
func (temperatureDim) dimension() Dimension           { return DimTemperature }
func (temperatureDifferenceDim) dimension() Dimension { return DimTemperatureDifference }
func (angleDim) dimension() Dimension                 { return DimAngle }
func (rotationalSpeedDim) dimension() Dimension       { return DimRotationalSpeed }
func (frequencyDim) dimension() Dimension             { return DimFrequency }
func (voltageDim) dimension() Dimension               { return DimVoltage }
func (currentDim) dimension() Dimension               { return DimCurrent }
func (resistanceDim) dimension() Dimension            { return DimResistance }
func (resistancePerLengthDim) dimension() Dimension   { return DimResistancePerLength }
func (inductanceDim) dimension() Dimension            { return DimInductance }
func (capacitanceDim) dimension() Dimension           { return DimCapacitance }
func (chargeDim) dimension() Dimension                { return DimCharge }
func (energyDim) dimension() Dimension                { return DimEnergy }
func (powerDim) dimension() Dimension                 { return DimPower }
func (specificConsumptionDim) dimension() Dimension   { return DimSpecificConsumption }
func (shareDim) dimension() Dimension                 { return DimShare }
func (ratioDim) dimension() Dimension                 { return DimRatio }
func (wireSizeDim) dimension() Dimension              { return DimWireSize }
func (dashSizeDim) dimension() Dimension              { return DimDashSize }
func (heatingValueDim) dimension() Dimension          { return DimHeatingValue }
