package params

import "math"

// Self-heating of a tread until it gels: a slab that is cooled on one side.
const (
	// AdiabaticRise is by how many kelvin the whole reaction would warm urethane
	// that loses no heat: 83 kJ per mol of isocyanate, 1.2 mol/kg, 1.9 kJ/(kg·K),
	// all from memory.
	AdiabaticRise = 52.0
	// gelConversion is the share of the reaction that is done at the gel point, and
	// so of the heat (Castro and Macosko, 1982).
	gelConversion = 0.65
	// diffusivity of heat in mm²/s: 0.2 W/(m·K) by 1040 kg/m³ and 1900 J/(kg·K),
	// from memory.
	diffusivity = 0.1
)

// gelTemperature is the estimate in °C of the rubber's temperature when it gels,
// for a mold and a bucket at room temperature.
func gelTemperature(j *Job) float64 {
	return math.Round(j.Pour.MoldTemperature + selfHeating(coolingPath(j), j.Pour.GelTime))
}

// coolingPath is how far in mm the heat has to go from the hub to where it is
// taken away: through the tread into a metal mold; plastic insulates like the
// rubber, up to the width of its land.
func coolingPath(j *Job) float64 {
	tread := (j.Wheel.Diameter - j.Hub.BodyDiameter) / 2
	if !j.Printed() {
		return tread
	}
	return tread + j.Mold.Land
}

// selfHeating is by how many kelvin a slab of a thickness in mm, insulated on one
// side and held at the mold's temperature on the other, warms itself until it
// gels after so many s. The heat is taken to come evenly, and to leave with the
// slowest time constant of the slab, 4 L²/(π² α).
func selfHeating(thickness, gel float64) float64 {
	tau := 4 * thickness * thickness / (math.Pi * math.Pi * diffusivity)
	return AdiabaticRise * gelConversion * tau / gel * -math.Expm1(-gel/tau)
}
