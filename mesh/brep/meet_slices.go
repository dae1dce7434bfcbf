package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// slices intersects cones, tori and spheres with parallel axes: at each height
// a circle of a meets a circle of b.
func (m *meeting) slices(a, b *carrier) {
	e := a.Frame.Z
	if b.Kind == solid.Sphere { // any axis will do: take a's
		c := *b
		c.Frame = solid.Frame{O: onAxis(b, b.Z0), X: a.Frame.X, Y: a.Frame.Y, Z: e}
		c.Z0 = 0
		c.H0, c.H1 = -b.M, b.M
		b = &c
	}
	if e.Cross(b.Frame.Z).Norm() > dirTol {
		m.unsolved = true
		return
	}
	w := b.Frame.O.Sub(a.Frame.O)
	shift := w.Dot(e)
	w = w.AddScaled(-shift, e)
	d := w.Norm()
	if d < carrierTol {
		m.coaxial(a, b)
		return
	}
	lo, hi := commonHeights(a, b, shift, d)
	if lo >= hi {
		return
	}
	x := w.Scale(1 / d)
	y := e.Cross(x)
	f := family{lo: lo, hi: hi}
	for _, sa := range radiusSigns(a) {
		for _, sb := range radiusSigns(b) {
			ra := func(h float64) float64 { return radiusAt(a, h, sa) }
			rb := func(h float64) float64 { return radiusAt(b, h-shift, sb) }
			s := sheet{gaps: []func(float64) float64{
				func(h float64) float64 { return ra(h) + rb(h) - d },
				func(h float64) float64 { return d - math.Abs(ra(h)-rb(h)) },
			}}
			if reachesAxis(a) {
				s.gaps = append(s.gaps, ra)
			}
			if reachesAxis(b) {
				s.gaps = append(s.gaps, rb)
			}
			for _, sign := range []float64{1, -1} {
				s.at = append(s.at, func(h float64) Vec {
					p, q := ra(h), rb(h)
					k := (d*d + p*p - q*q) / (2 * d)
					return onAxis(a, h).AddScaled(k, x).AddScaled(sign*math.Sqrt(max(0, p*p-k*k)), y)
				})
			}
			f.sheets = append(f.sheets, s)
		}
	}
	m.trace(f)
}

// commonHeights bounds the heights of a's frame at which the two can meet; b's
// frame lies shift higher and its axis d aside.
func commonHeights(a, b *carrier, shift, d float64) (lo, hi float64) {
	lo, hi = heights(a)
	l, h := heights(b)
	lo, hi = max(lo, l+shift), min(hi, h+shift)
	for _, q := range []struct {
		c, other *carrier
		shift    float64
	}{{a, b, 0}, {b, a, shift}} {
		c := q.c
		switch {
		case c.Kind != solid.Cone:
			lo, hi = max(lo, c.Z0+q.shift-c.M), min(hi, c.Z0+q.shift+c.M)
		case math.Abs(c.DR) > math.Abs(c.DZ):
			// A flat cone: only where its circle can reach the other's patch;
			// else a ceiling of one degree hides the sprue between two samples.
			reach := 1.02 * q.other.MaxR
			z := c.Z0 + q.shift
			u, v := z+(d-reach-c.R0)*c.DZ/c.DR, z+(d+reach-c.R0)*c.DZ/c.DR
			lo, hi = max(lo, min(u, v)), min(hi, max(u, v))
		}
	}
	return lo, hi
}
