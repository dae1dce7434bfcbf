package sight

import (
	"math"

	"wheelmold/mesh/solid"
)

// contour is a curve of an unbounded surface along which it turns from the viewer.
// The parameter of a closed one runs over a whole turn.
type contour struct {
	stroke
	closed bool
	param  func(p vec) float64 // of a point on it
	starts []float64           // where it begins without a border: a cone's tip
}

// edgeOn: a surface at less than this sine to the line of sight is seen edge-on.
const edgeOn = 1e-9

// contours returns where the normal of a surface is square to the line of sight w.
// Where all of the surface is, as of a cylinder seen along its axis, its borders show
// it and there is none.
func contours(c *solid.Carrier, w vec) []contour {
	f := &c.Frame
	x, y, z := w.Dot(f.X), w.Dot(f.Y), w.Dot(f.Z)
	across, toward := math.Hypot(x, y), math.Atan2(y, x)
	switch c.Kind {
	case solid.Cylinder, solid.Cone:
		return rulings(c, across, toward, z)
	case solid.Sphere:
		return []contour{circle(c, f.O.AddScaled(c.Z0, f.Z), w, c.M)}
	case solid.Torus:
		return tube(c, w, across, toward, z)
	}
	return nil
}

// rulings: with the normal e(u)·dz - Z·dr, w·N = 0 where cos(u - toward) is
// dr/dz · z/across.
func rulings(c *solid.Carrier, across, toward, z float64) []contour {
	cos := 0.0
	if c.Kind == solid.Cone {
		cos = c.DR / c.DZ * z / across
	}
	if across < edgeOn || math.Abs(cos) > 1-edgeOn {
		return nil
	}
	var out []contour
	for _, side := range [2]float64{1, -1} {
		u := toward + side*math.Acos(cos)
		k := contour{param: func(p vec) float64 {
			_, v := c.UV(p)
			return v
		}}
		k.line, k.at = true, func(v float64) vec { return c.P(u, v) }
		if c.Kind == solid.Cone {
			k.starts = []float64{-c.R0 / c.DR}
		}
		out = append(out, k)
	}
	return out
}

// circle is the circle of radius r about o across n.
func circle(c *solid.Carrier, o, n vec, r float64) contour {
	x, y := solid.Across(n)
	k := contour{closed: true, param: func(p vec) float64 { return math.Atan2(p.Sub(o).Dot(y), p.Sub(o).Dot(x)) }}
	k.at = func(t float64) vec {
		sn, cs := math.Sincos(t)
		return o.AddScaled(r*cs, x).AddScaled(r*sn, y)
	}
	k.radius, k.center, k.normal = r, o, n
	return k
}

// tube: with the normal e(u)·cos v + Z·sin v, w·N = 0 where
// tan v = -across/z · cos(u - toward), twice around the axis. Seen along the axis
// these are the widest and the narrowest circle, across it the two rims and the two
// sections of the tube.
func tube(c *solid.Carrier, w vec, across, toward, z float64) []contour {
	f := &c.Frame
	o := f.O.AddScaled(c.Z0, f.Z)
	var out []contour
	switch {
	case across < edgeOn:
		out = append(out, circle(c, o, f.Z, math.Abs(c.R0+c.M)))
		if c.R0 != c.M {
			out = append(out, circle(c, o, f.Z, math.Abs(c.R0-c.M)))
		}
	case math.Abs(z) < edgeOn:
		for _, side := range [2]float64{1, -1} {
			out = append(out, circle(c, o.AddScaled(side*c.M, f.Z), f.Z, math.Abs(c.R0)))
			e := w.Cross(f.Z).Scale(side)
			out = append(out, circle(c, o.AddScaled(c.R0, e), w, c.M))
		}
	default:
		for _, half := range [2]float64{1, -1} {
			k := contour{closed: true, param: func(p vec) float64 {
				u, _ := c.UV(p)
				return u
			}}
			k.at = func(u float64) vec {
				return c.P(u, math.Atan2(-half*across*math.Cos(u-toward), half*z))
			}
			out = append(out, k)
		}
	}
	return out
}

// factors are what changes sign on a surface where a contour is passed: as a rule the
// normal along the line of sight. On a torus that is seen across its axis that is a
// product, and an edge that runs along a rim crosses the sections of the tube.
func factors(c *solid.Carrier, w vec) []func(p vec) float64 {
	if c.Kind == solid.Torus && math.Abs(c.Frame.Z.Dot(w)) < edgeOn {
		return []func(p vec) float64{
			func(p vec) float64 { return p.Sub(c.Frame.O).Dot(w) / c.M },
			func(p vec) float64 { r, _, _ := c.RZ(p); return (r - c.R0) / c.M },
		}
	}
	return []func(p vec) float64{func(p vec) float64 { return c.N(p).Dot(w) }}
}
