package params

// Gravity is the standard acceleration of free fall, m/s² (ISO 80000-3).
const Gravity = 9.80665

// Atmosphere is the pressure of the air at sea level, Pa (standard atmosphere, ISO 2533).
const Atmosphere = 101325
