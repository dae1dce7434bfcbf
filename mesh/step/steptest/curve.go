package steptest

import (
	"math"

	"wheelmold/mesh"
)

// Vec is a point or direction, mm.
type Vec = mesh.Vec

// frame is an AXIS2_PLACEMENT_3D.
type frame struct{ o, x, y, z Vec }

func (f *frame) local(p Vec) Vec {
	d := p.Sub(f.o)
	return Vec{d.Dot(f.x), d.Dot(f.y), d.Dot(f.z)}
}

func (f *frame) point(a, b, c float64) Vec {
	return f.o.AddScaled(a, f.x).AddScaled(b, f.y).AddScaled(c, f.z)
}

// curve is a parametric curve.
type curve interface {
	at(t float64) (p, derivative Vec)
	// between returns the parameters at which the curve runs from p to q, and those in
	// between where it is less smooth.
	between(p, q Vec) []float64
}

type line struct{ o, d Vec }

func (l line) at(t float64) (p, d Vec) { return l.o.AddScaled(t, l.d), l.d }

func (l line) between(p, q Vec) []float64 {
	at := func(p Vec) float64 { return p.Sub(l.o).Dot(l.d) / l.d.Dot(l.d) }
	return even(at(p), at(q), 4)
}

// conic is a circle or an ellipse.
type conic struct {
	frame
	a, b float64
}

func (c conic) at(t float64) (p, d Vec) {
	s, k := math.Sincos(t)
	return c.point(c.a*k, c.b*s, 0), c.x.Scale(-c.a*s).AddScaled(c.b*k, c.y)
}

func (c conic) between(p, q Vec) []float64 {
	at := func(p Vec) float64 { l := c.local(p); return math.Atan2(l[1]/c.b, l[0]/c.a) }
	t0, t1 := at(p), at(q)
	if p == q {
		t1 = t0 + 2*math.Pi
	}
	for t1 <= t0 {
		t1 += 2 * math.Pi
	}
	return even(t0, t1, 24)
}

// bspline is a B_SPLINE_CURVE_WITH_KNOTS.
type bspline struct {
	degree  int
	control []Vec
	knots   []float64 // as often as they count
}

// at is de Boor's algorithm.
func (b bspline) at(t float64) (p, d Vec) {
	k := b.degree
	for k+1 < len(b.control) && t >= b.knots[k+1] {
		k++
	}
	c := append([]Vec(nil), b.control[k-b.degree:k+1]...)
	for r := 1; r <= b.degree; r++ {
		if r == b.degree {
			d = c[b.degree].Sub(c[b.degree-1]).Scale(float64(b.degree) / (b.knots[k+1] - b.knots[k]))
		}
		for j := b.degree; j >= r; j-- {
			lo, hi := b.knots[j+k-b.degree], b.knots[j+1+k-r]
			a := (t - lo) / (hi - lo)
			c[j] = c[j-1].Scale(1-a).AddScaled(a, c[j])
		}
	}
	return c[b.degree], d
}

// between is the whole curve, knot by knot: it is clamped.
func (b bspline) between(_, _ Vec) []float64 {
	out := b.knots[:1:1]
	for _, t := range b.knots {
		if t > out[len(out)-1] {
			out = append(out, t)
		}
	}
	return out
}

// even returns n equal steps from a to b.
func even(a, b float64, n int) []float64 {
	out := make([]float64, n+1)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(n)
	}
	return out
}
