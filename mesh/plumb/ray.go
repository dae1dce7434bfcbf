package plumb

import (
	"math"

	"wheelmold/mesh/solid"
)

// ray is an upright line in the coordinates of a leaf's frame: o + t·d, with t the
// height above the point that it was made from, |t| <= reach.
type ray struct {
	o, d  solid.Vec
	reach float64
}

func newRay(f *solid.Frame, p solid.Vec, reach float64) ray {
	return ray{f.Local(p), solid.Vec{f.X[2], f.Y[2], f.Z[2]}, reach}
}

// A poly is a polynomial in t, lowest power first.
type poly []float64

func (p poly) at(t float64) float64 {
	v := 0.0
	for i := len(p) - 1; i >= 0; i-- {
		v = v*t + p[i]
	}
	return v
}

func plus(a, b poly, k float64) poly {
	out := make(poly, max(len(a), len(b)))
	copy(out, a)
	for i, v := range b {
		out[i] += k * v
	}
	return out
}

func times(a, b poly) poly {
	out := make(poly, len(a)+len(b)-1)
	for i, u := range a {
		for j, v := range b {
			out[i+j] += u * v
		}
	}
	return out
}

// coordinate i along the ray, less c.
func (r *ray) coordinate(i int, c float64) poly { return poly{r.o[i] - c, r.d[i]} }

// level appends where the ray meets the plane at height z of the frame.
func (r *ray) level(z float64, at []float64) []float64 {
	return r.roots(r.coordinate(2, z), at)
}

// wall appends where the ray meets what a segment sweeps along the frame's Z.
func (r *ray) wall(e *solid.Elem, at []float64) []float64 {
	if e.Arc {
		x, y := r.coordinate(0, e.C[0]), r.coordinate(1, e.C[1])
		return r.roots(plus(plus(times(x, x), times(y, y), 1), poly{e.R * e.R}, -1), at)
	}
	x, y := r.coordinate(0, e.A[0]), r.coordinate(1, e.A[1])
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	h := math.Hypot(dx, dy)
	return r.roots(plus(times(x, poly{dy / h}), y, -dx/h), at)
}

// round appends where the ray meets what a segment sweeps about the frame's Z. With
// ρ² = x² + y², a polynomial, the surfaces are
//
//	cone, cylinder  ρ·dz = a·dz + (z - b)·dr, squared
//	sphere, torus   ρ² + c² + (z - b)² - R² = 2·c·ρ, squared where c > 0
//
// Squaring adds the surface's mirror image, whose meetings do no harm.
func (r *ray) round(e *solid.Elem, at []float64) []float64 {
	x, y := r.coordinate(0, 0), r.coordinate(1, 0)
	rho2 := plus(times(x, x), times(y, y), 1)
	if e.Arc {
		z := r.coordinate(2, e.C[1])
		k := plus(plus(rho2, times(z, z), 1), poly{e.C[0]*e.C[0] - e.R*e.R}, 1)
		if e.C[0] == 0 {
			return r.roots(k, at)
		}
		return r.roots(plus(times(k, k), rho2, -4*e.C[0]*e.C[0]), at)
	}
	dr, dz := e.B[0]-e.A[0], e.B[1]-e.A[1]
	h := math.Hypot(dr, dz)
	dr, dz = dr/h, dz/h
	z := r.coordinate(2, e.A[1])
	if dz == 0 {
		return r.roots(z, at)
	}
	side := plus(poly{e.A[0] * dz}, z, dr)
	return r.roots(plus(times(rho2, poly{dz * dz}), times(side, side), -1), at)
}

// roots appends the places within reach where p changes sign, from those of its
// derivative: between two of them p only grows or only falls.
func (r *ray) roots(p poly, at []float64) []float64 {
	switch n := len(p); {
	case n < 2:
		return at
	case n == 2:
		if t := -p[0] / p[1]; p[1] != 0 && math.Abs(t) < r.reach {
			at = append(at, t)
		}
		return at
	}
	slope := make(poly, len(p)-1)
	for i := range slope {
		slope[i] = float64(i+1) * p[i+1]
	}
	a, pa := -r.reach, p.at(-r.reach)
	for _, b := range append(r.roots(slope, nil), r.reach) {
		pb := p.at(b)
		if (pa < 0) != (pb < 0) {
			at = append(at, bisect(p, a, b, pa))
		}
		a, pa = b, pb
	}
	return at
}

func bisect(p poly, a, b, pa float64) float64 {
	for range 100 {
		c := (a + b) / 2
		if c == a || c == b {
			break
		}
		if pc := p.at(c); (pc < 0) == (pa < 0) {
			a, pa = c, pc
		} else {
			b = c
		}
	}
	return (a + b) / 2
}
