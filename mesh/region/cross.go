package region

import (
	"math"

	"wheelmold/mesh/solid"
)

// slack widens the range of an edge in which crossings are looked for, mm or radians:
// one at a vertex must not be lost between two edges.
const slack = 1e-9

// crossings are the parameters at which an edge meets the plane n·p = d; not those of
// one that lies in it.
func (e *Edge) crossings(n Vec, d float64) []float64 {
	switch e.Shape {
	case Line:
		k := n.Dot(e.X)
		if math.Abs(k) < 1e-12 {
			return nil
		}
		return e.within((d - n.Dot(e.Center)) / k)
	case Free:
		return e.search(func(t float64) float64 { return n.Dot(e.At(t)) - d })
	}
	a, b, c := e.A*n.Dot(e.X), e.B*n.Dot(e.Y), d-n.Dot(e.Center)
	r := math.Hypot(a, b)
	if r < 1e-9 || math.Abs(c) > r+slack {
		return nil
	}
	mid, half := math.Atan2(b, a), math.Acos(max(-1, min(1, c/r)))
	return append(e.within(mid-half), e.within(mid+half)...)
}

// within is t, on a circle or ellipse any of its turns, where the edge has it.
func (e *Edge) within(t float64) []float64 {
	if e.Shape != Line {
		t -= 2 * math.Pi * math.Floor((t-e.T0+slack)/(2*math.Pi))
	}
	if t < e.T0-slack || t > e.T1+slack {
		return nil
	}
	return []float64{max(e.T0, min(e.T1, t))}
}

// search finds the zeros of a smooth function over the edge between samples.
func (e *Edge) search(f func(t float64) float64) []float64 {
	var out []float64
	a, fa := e.T0, f(e.T0)
	for k := 1; k <= samples; k++ {
		b := e.T0 + (e.T1-e.T0)*float64(k)/samples
		fb := f(b)
		switch {
		case fb == 0:
			out = append(out, b)
		case fa*fb < 0:
			out = append(out, zero(f, a, b, fa))
		case k == 1 && math.Abs(fa) < slack:
			out = append(out, a)
		case k == samples && math.Abs(fb) < slack:
			out = append(out, b)
		}
		a, fa = b, fb
	}
	return out
}

// zero halves the range in which f changes its sign.
func zero(f func(float64) float64, a, b, fa float64) float64 {
	for range 60 {
		m := (a + b) / 2
		if m == a || m == b {
			break
		}
		if fm := f(m); (fm < 0) == (fa < 0) {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// meridian is a plane of constant u on a carrier: on one of revolution the half beyond
// the axis is not meant.
type meridian struct {
	c       *solid.Carrier
	n, dir  Vec
	d, from float64
}

func meridianAt(c *solid.Carrier, u float64) meridian {
	if c.Kind == solid.Plane {
		return meridian{c: c, n: c.Frame.X, d: u}
	}
	s, k := math.Sincos(u)
	m := meridian{c: c, n: c.Frame.X.Scale(-s).AddScaled(k, c.Frame.Y), dir: c.Frame.X.Scale(k).AddScaled(s, c.Frame.Y)}
	m.d, m.from = m.n.Dot(c.Frame.O), m.dir.Dot(c.Frame.O)
	return m
}

// crossings are the parameters at which an edge meets the meridian.
func (m *meridian) crossings(e *Edge) []float64 {
	all := e.crossings(m.n, m.d)
	if m.c.Kind == solid.Plane {
		return all
	}
	kept := all[:0]
	for _, t := range all {
		if m.dir.Dot(e.At(t)) > m.from {
			kept = append(kept, t)
		}
	}
	return kept
}
