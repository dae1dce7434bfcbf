package step

import (
	"math"

	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// reachesAxis reports whether a torus's tube reaches its axis: such a one is written
// as a surface of revolution. The margin is above what readers take for no difference.
func reachesAxis(c *solid.Carrier) bool { return c.Kind == solid.Torus && c.R0 <= c.M+1e-6 }

// surface returns the face's surface, and whether its normal by the standard points
// out of the solid.
func (w *writer) surface(f *region.Face) (r ref, outward bool) {
	c := f.Carrier
	if c.Kind == solid.Plane {
		n := c.Frame.Z
		if f.Negative {
			n = n.Scale(-1)
		}
		return w.shared("PLANE", "", w.placement(c.Frame.Z.Scale(c.D), n, c.Frame.X)), true
	}
	x := around(&c.Frame, start(f))
	z, on := c.Frame.Z, func(h float64) Vec { return c.Frame.O.AddScaled(h, c.Frame.Z) }
	switch c.Kind {
	case solid.Cylinder:
		r = w.shared("CYLINDRICAL_SURFACE", "", w.placement(c.Frame.O, z, x), c.R0)
	case solid.Cone:
		if c.DR < 0 { // the standard's cones widen along their axis
			z = z.Scale(-1)
		}
		r = w.shared("CONICAL_SURFACE", "", w.placement(on(c.Z0), z, x), c.R0, math.Atan2(math.Abs(c.DR), c.DZ))
	case solid.Sphere:
		r = w.shared("SPHERICAL_SURFACE", "", w.placement(on(c.Z0), z, x), c.M)
	case solid.Torus:
		if reachesAxis(c) {
			r = w.revolution(f, on(c.Z0), x)
			break
		}
		r = w.shared("TOROIDAL_SURFACE", "", w.placement(on(c.Z0), z, x), c.R0, c.M)
	}
	return r, !f.Negative
}

// revolution returns the surface that a whole circle beside the axis makes when it
// turns. The circle begins off the face, and its normal is radial × axis, so that the
// surface's normal points away from the circle's middle, as a torus's does.
func (w *writer) revolution(f *region.Face, center, x Vec) ref {
	c := f.Carrier
	sn, cs := math.Sincos((f.V[0]+f.V[1])/2 + math.Pi)
	from := x.Scale(cs).AddScaled(sn, c.Frame.Z)
	circle := w.shared("CIRCLE", "", w.placement(center.AddScaled(c.R0, x), x.Cross(c.Frame.Z), from), c.M)
	axis := w.shared("AXIS1_PLACEMENT", "", w.point(center), w.direction(c.Frame.Z))
	return w.shared("SURFACE_OF_REVOLUTION", "", circle, axis)
}

// start is the angle u at which the surface's period begins: at the seam, or off a
// face that would cross it otherwise. Where u = 0 will do, it stays, and faces of one
// carrier share their surface.
func start(f *region.Face) float64 {
	if f.Around {
		return f.Seam
	}
	const turn = 2 * math.Pi
	if math.Floor(f.U[0]/turn+1e-9) == math.Floor(f.U[1]/turn-1e-9) {
		return 0
	}
	return (f.U[0]+f.U[1])/2 + math.Pi
}

// around is the frame's direction at the angle u about its Z.
func around(f *solid.Frame, u float64) Vec {
	if u == 0 {
		return f.X
	}
	sn, cs := math.Sincos(u)
	return f.X.Scale(cs).AddScaled(sn, f.Y)
}
