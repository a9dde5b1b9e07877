// Package air gives the standard atmosphere, the air and fuel an engine takes,
// the pressure lost in a throttle or opening, the air a hole leaks, and how
// injectors follow pressure.
//
// All values are SI: Pa, K, m3/s, kg/s, m2, J/kg. Engine speed is in
// revolutions per second (rpm/60), displacement in m3, specific fuel
// consumption in kg/J (1 g/kWh is 1/3.6e9 kg/J). Engines are four-stroke: each
// cylinder fills once in two revolutions.
//
//	q, err := air.EngineVolumeFlow(5.7e-3, 5500.0/60, 0.85)
package air
