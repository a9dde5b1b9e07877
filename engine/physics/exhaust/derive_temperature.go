package exhaust

// Temperatures (K) of the exhaust gas between port and sensor of a four-stroke
// petrol engine, for estimates of transport time: 350 degC at idle, 500 degC at
// cruise, 800 degC at full load. Common practice; engines differ by 100 K and more.
const (
	IdleGas     = 623.15
	CruiseGas   = 773.15
	FullLoadGas = 1073.15
)
