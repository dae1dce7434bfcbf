package solid

import (
	"math"

	"wheelmold/mesh"
)

// Vec is a point or direction, mm.
type Vec = mesh.Vec

// Box is an axis-aligned box, mm.
type Box = mesh.Box

// Kind is the kind of an unbounded surface.
type Kind uint8

// The five kinds of carrier.
const (
	Plane Kind = iota
	Cylinder
	Cone
	Torus
	Sphere
)

// String returns the trade's word for the kind.
func (k Kind) String() string {
	return [...]string{"plane", "cylinder", "cone", "torus", "sphere"}[k]
}

// Frame is a right-handed orthonormal frame with its origin.
type Frame struct{ O, X, Y, Z Vec }

// Local returns p in the frame's coordinates.
func (f *Frame) Local(p Vec) Vec {
	q := p.Sub(f.O)
	return Vec{q.Dot(f.X), q.Dot(f.Y), q.Dot(f.Z)}
}

// Global returns the point with local coordinates q.
func (f *Frame) Global(q Vec) Vec {
	return f.O.AddScaled(q[0], f.X).AddScaled(q[1], f.Y).AddScaled(q[2], f.Z)
}

var axes = [3]Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

// canonical returns n or -n, whichever has its first significant component
// positive, and whether it was turned.
func canonical(n Vec) (Vec, bool) {
	for _, c := range n {
		if math.Abs(c) > 1e-9 {
			if c < 0 {
				return n.Scale(-1), true
			}
			break
		}
	}
	return n, false
}

// Across returns unit vectors x and y with x × y = n, for a unit vector n. They
// depend on the direction of n alone, so that a circle found from two pairs of
// carriers starts at the same point both times; along a coordinate axis they
// are coordinate axes.
func Across(n Vec) (x, y Vec) {
	for i, a := range axes {
		if math.Abs(n[i]) > 1-1e-12 {
			x, y = axes[(i+1)%3], axes[(i+2)%3]
			if n.Dot(a) < 0 {
				x, y = y, x
			}
			return x, y
		}
	}
	least := 0
	for k := 1; k < 3; k++ {
		if math.Abs(n[k]) < math.Abs(n[least])-1e-9 {
			least = k
		}
	}
	x = n.Cross(axes[least]).Unit()
	return x, n.Cross(x)
}

// AxisFrame returns the frame at o whose Z runs along dir.
func AxisFrame(o, dir Vec) Frame {
	n := dir.Unit()
	for i := range n { // exact axes stay exact
		if math.Abs(n[i]) < 1e-15 {
			n[i] = 0
		}
	}
	x, y := Across(n)
	return Frame{O: o, X: x, Y: y, Z: n}
}

// Carrier is an unbounded surface. A plane is the set n·p = D with n = Frame.Z
// (its frame's origin is the world's). The others are surfaces of revolution
// about Frame.Z, described in the half plane (r, z) of their frame:
//
//	Cylinder  r = R0
//	Cone      the line through (R0, Z0) with unit direction (DR, DZ), DZ > 0
//	Torus     the circle of radius M about (R0, Z0), R0 != 0
//	Sphere    the same with R0 = 0
//
// Equal surfaces of all leaves of a model are one Carrier (see Model).
type Carrier struct {
	Kind   Kind
	ID     int
	Frame  Frame
	D      float64
	R0, Z0 float64
	DR, DZ float64
	M      float64

	// What of the surface the model's leaves use; it sets where facets part.
	MaxR   float64 // largest distance from the axis, mm
	H0, H1 float64 // range of heights along Frame.Z
	VX, VY float64 // torus: sum of the arcs' middle directions; v is unwrapped about it
}

// RZ returns the distance from the axis, the height, and the radial unit vector.
func (c *Carrier) RZ(p Vec) (r, z float64, e Vec) {
	q := p.Sub(c.Frame.O)
	a, b := q.Dot(c.Frame.X), q.Dot(c.Frame.Y)
	r, z = math.Sqrt(a*a+b*b), q.Dot(c.Frame.Z)
	if r > 1e-300 {
		return r, z, c.Frame.X.Scale(a/r).AddScaled(b/r, c.Frame.Y)
	}
	return r, z, c.Frame.X
}

// F is the signed distance to the unbounded surface: positive on the side that
// N points to, 1-Lipschitz everywhere.
func (c *Carrier) F(p Vec) float64 {
	if c.Kind == Plane {
		return c.Frame.Z.Dot(p) - c.D
	}
	q := p.Sub(c.Frame.O)
	a, b, z := q.Dot(c.Frame.X), q.Dot(c.Frame.Y), q.Dot(c.Frame.Z)
	r := math.Sqrt(a*a + b*b)
	switch c.Kind {
	case Cylinder:
		return r - c.R0
	case Cone:
		return (r-c.R0)*c.DZ - (z-c.Z0)*c.DR
	}
	return math.Sqrt(sq(r-c.R0)+sq(z-c.Z0)) - c.M
}

// N is the unit normal at p, the gradient of F.
func (c *Carrier) N(p Vec) Vec {
	if c.Kind == Plane {
		return c.Frame.Z
	}
	r, z, e := c.RZ(p)
	switch c.Kind {
	case Cylinder:
		return e
	case Cone:
		return e.Scale(c.DZ).AddScaled(-c.DR, c.Frame.Z)
	}
	h := math.Sqrt(sq(r-c.R0) + sq(z-c.Z0))
	return e.Scale((r-c.R0)/h).AddScaled((z-c.Z0)/h, c.Frame.Z)
}

// Project returns the foot of p on the surface, for p near it.
func (c *Carrier) Project(p Vec) Vec {
	for i := 0; i < 4; i++ {
		f := c.F(p)
		p = p.AddScaled(-f, c.N(p))
		if math.Abs(f) < 1e-14 {
			break
		}
	}
	return p
}

// UV returns the surface parameters of a point on the surface: lengths on a
// plane; elsewhere u is the angle about the axis and v the height (cylinder),
// the length along the ruling from (R0, Z0) (cone), or the angle about the
// circle's center (torus, sphere).
func (c *Carrier) UV(p Vec) (u, v float64) {
	q := p.Sub(c.Frame.O)
	if c.Kind == Plane {
		return q.Dot(c.Frame.X), q.Dot(c.Frame.Y)
	}
	a, b, z := q.Dot(c.Frame.X), q.Dot(c.Frame.Y), q.Dot(c.Frame.Z)
	u = math.Atan2(b, a)
	switch c.Kind {
	case Cylinder:
		return u, z
	case Cone:
		r := math.Sqrt(a*a + b*b)
		return u, (r-c.R0)*c.DR + (z-c.Z0)*c.DZ
	}
	r := math.Sqrt(a*a + b*b)
	v = math.Atan2(z-c.Z0, r-c.R0)
	if c.Kind == Torus {
		m := math.Atan2(c.VY, c.VX)
		v = m + WrapAngle(v-m)
	}
	return u, v
}

// P returns the point with parameters u, v (see UV).
func (c *Carrier) P(u, v float64) Vec {
	f := &c.Frame
	if c.Kind == Plane {
		return f.X.Scale(u).AddScaled(v, f.Y).AddScaled(c.D, f.Z)
	}
	var r, z float64
	switch c.Kind {
	case Cylinder:
		r, z = c.R0, v
	case Cone:
		r, z = c.R0+v*c.DR, c.Z0+v*c.DZ
	default:
		sn, cs := math.Sincos(v)
		r, z = c.R0+c.M*cs, c.Z0+c.M*sn
	}
	sn, cs := math.Sincos(u)
	return f.O.AddScaled(r*cs, f.X).AddScaled(r*sn, f.Y).AddScaled(z, f.Z)
}

// WrapAngle returns x less the multiple of 2π that brings it to [-π, π].
func WrapAngle(x float64) float64 { return x - 2*math.Pi*math.Round(x/(2*math.Pi)) }

// Coaxial reports whether two carriers of revolution share their axis line.
func Coaxial(a, b *Carrier) bool {
	if a.Kind == Plane || b.Kind == Plane {
		return false
	}
	return a.Frame.Z.Cross(b.Frame.Z).Norm() < dirTol &&
		b.Frame.O.Sub(a.Frame.O).Cross(a.Frame.Z).Norm() < mergeTol
}

func sq(x float64) float64 { return x * x }

// Two surfaces are the same within these: far above the rounding error of a
// leaf placed by arithmetic (about 1e-12 mm for molds up to 1 m), far below the
// lattice on which leaf parameters lie (Lattice, 6e-5 mm).
const (
	mergeTol = 1e-7 // mm
	dirTol   = 1e-9 // sine of the angle between directions
)

func near(a, b float64) bool { return math.Abs(a-b) < mergeTol }

// same reports whether c and d are one surface; frames have canonical
// directions, so opposite senses need no case of their own.
func (c *Carrier) same(d *Carrier) bool {
	// Numbers first: they tell most carriers apart at little cost.
	switch {
	case c.Kind != d.Kind:
		return false
	case c.Kind == Plane:
		return near(c.D, d.D) && c.Frame.Z.Dist(d.Frame.Z) <= dirTol
	case c.Kind == Cylinder && !near(c.R0, d.R0), c.Frame.Z.Dist(d.Frame.Z) > dirTol, !Coaxial(c, d):
		return false
	}
	o := d.Frame.O.Sub(c.Frame.O).Dot(c.Frame.Z)
	switch c.Kind {
	case Cylinder:
		return true
	case Cone:
		return math.Abs(c.DR*d.DZ-c.DZ*d.DR) < dirTol &&
			math.Abs((d.R0-c.R0)*c.DZ-(d.Z0+o-c.Z0)*c.DR) < mergeTol
	}
	return near(c.R0, d.R0) && near(c.Z0, d.Z0+o) && near(c.M, d.M)
}

// use widens what the model uses of c by what d uses.
func (c *Carrier) use(d *Carrier) {
	o := d.Frame.O.Sub(c.Frame.O).Dot(c.Frame.Z)
	c.MaxR = max(c.MaxR, d.MaxR)
	c.H0, c.H1 = min(c.H0, d.H0+o), max(c.H1, d.H1+o)
	c.VX, c.VY = c.VX+d.VX, c.VY+d.VY
}
