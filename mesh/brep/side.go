package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// findSides asks, on both sides of the edge along each of its carriers, whether
// the solid has a face there: a point of the carrier beside which material lies
// on one side only.
func (b *builder) findSides(e *workEdge) {
	along, h := e.direction(), b.clearStep(e)
	for _, c := range e.Carriers {
		s := b.byID[c.ID]
		left := c.N(e.Mid).Cross(along)
		for _, reversed := range [2]bool{false, true} {
			if reversed {
				left = left.Scale(-1)
			}
			q := stepOff(e, c, left, h)
			if !s.holds(q, 1e-9) {
				continue
			}
			if bits := b.root.Beside(c, q); bits == solid.Below || bits == solid.Above {
				e.sides = append(e.sides, side{faceKey{c, bits == solid.Above}, reversed, q})
			}
		}
	}
}

// direction is that of the edge in its middle, from V0 to V1.
func (e *Edge) direction() Vec {
	t, dt := (e.T0+e.T1)/2, (e.T1-e.T0)*1e-4
	return e.Curve.At(t + dt).Sub(e.Curve.At(t - dt)).Unit()
}

// clearStep is a step off the middle of the edge that stays well clear of every
// patch which does not hold it.
func (b *builder) clearStep(e *workEdge) float64 {
	return b.clearOf(e.Mid, b.stepLimit(e), touching)
}

// stepLimit is the largest step off the edge: a quarter of its half at most.
func (b *builder) stepLimit(e *workEdge) float64 {
	start := e.Curve.At(e.T0)
	h := e.Mid.Dist(start) / 4
	if !e.Curve.Line {
		q := e.Curve.At(e.T0 + .25*(e.T1-e.T0))
		h = (e.Mid.Dist(q) + q.Dist(start)) / 4
	}
	return min(h, maxSide)
}

// touching: at the distance d the patch holds the point.
func touching(_ *solid.Patch, d float64) bool { return d <= contactTol }

// clearOf is at most h, and a quarter of the distance d from q to every patch for
// which holds is false.
func (b *builder) clearOf(q Vec, h float64, holds func(p *solid.Patch, d float64) bool) float64 {
	for _, l := range b.leaves {
		if !l.Box.Contains(q, 4*h) {
			continue
		}
		for i := range l.Patches {
			p := &l.Patches[i]
			if !p.Box.Contains(q, 4*h) {
				continue
			}
			if d := p.Dist(q); d < 4*h && !holds(p, d) {
				h = d / 4
			}
		}
	}
	return h
}

// stepOff moves h from the middle of the edge along c, less where another
// carrier of the edge bends back within h (a lens thinner than the step): each
// of them must keep close to its value of first order.
func stepOff(e *workEdge, c *carrier, dir Vec, h float64) Vec {
	q := c.Project(e.Mid.AddScaled(h, dir))
	for k := 0; k < 8 && !nearLinear(e, c, dir, h, q); k++ {
		h /= 4
		q = c.Project(e.Mid.AddScaled(h, dir))
	}
	return q
}

func nearLinear(e *workEdge, c *carrier, dir Vec, h float64, q Vec) bool {
	for _, x := range e.Carriers {
		if x == c {
			continue
		}
		if g := x.N(e.Mid).Dot(dir) * h; math.Abs(g) > 1e-5*h && math.Abs(x.F(q)-g) >= .5*math.Abs(g) {
			return false
		}
	}
	return true
}
