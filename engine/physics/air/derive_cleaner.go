package air

// OpeningDischarge is the discharge coefficient taken for the openings of an air
// cleaner and its snorkel, that of a sharp edge. Source: White, Fluid Mechanics,
// section 6.12 (0.61 for a sharp orifice).
const OpeningDischarge = 0.61

// Viscosity is the dynamic viscosity of air at 20 degC, Pa s. Source: White,
// Fluid Mechanics, table A.2.
const Viscosity = 1.80e-5

// SoundSpeed is the speed of sound in air at 20 degC, m/s. Source: sqrt(k R T).
const SoundSpeed = 343.2
