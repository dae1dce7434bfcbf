package region

import (
	"math"

	"wheelmold/mesh/solid"
)

// A tip is where a surface of revolution comes to its axis: a pole of a sphere, the
// point of a cone, or where the circle of a torus crosses the axis. Around it u means
// nothing.

// tips returns the parameters v of a carrier's lower and upper tip, and whether it has
// them.
func tips(c *solid.Carrier) (v [2]float64, has [2]bool) {
	switch c.Kind {
	case solid.Sphere:
		return [2]float64{-math.Pi / 2, math.Pi / 2}, [2]bool{true, true}
	case solid.Cone:
		tip := -c.R0 / c.DR
		return [2]float64{tip, tip}, [2]bool{c.DR > 0, c.DR < 0}
	case solid.Torus:
		if math.Abs(c.R0) < c.M {
			mid, half := math.Atan2(c.VY, c.VX), math.Acos(-c.R0/c.M)
			return [2]float64{mid + solid.WrapAngle(-half-mid), mid + solid.WrapAngle(half-mid)}, [2]bool{true, true}
		}
	}
	return v, has
}

// tipTol: a vertex this near to the axis is on it, mm.
const tipTol = 1e-6

// tipAt is 1 where p is the carrier's upper tip, -1 where it is the lower one, else 0:
// the side of the axis' direction that N turns to there.
func tipAt(c *solid.Carrier, p Vec) float64 {
	if c.Kind == solid.Plane || c.Kind == solid.Cylinder {
		return 0
	}
	r, z, _ := c.RZ(p)
	switch {
	case r > tipTol:
		return 0
	case c.Kind == solid.Cone:
		return -math.Copysign(1, c.DR)
	}
	return math.Copysign(1, z-c.Z0)
}

// tipPoint is the point of the tip at v.
func tipPoint(c *solid.Carrier, v float64) Vec {
	z := c.Z0 + v*c.DZ
	if c.Kind != solid.Cone {
		z = c.Z0 + c.M*math.Sin(v)
	}
	return c.Frame.O.AddScaled(z, c.Frame.Z)
}
