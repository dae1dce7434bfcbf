package brep

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// findSides asks, on both sides of the edge along carrier c, whether the solid
// has a face there: a point of c beside which material lies on one side only.
func (b *builder) findSides(e *workEdge, c *carrier) {
	s := b.byID[c.ID]
	t := (e.T0 + e.T1) / 2
	dt := (e.T1 - e.T0) * 1e-4
	along := e.Curve.At(t + dt).Sub(e.Curve.At(t - dt)).Unit()
	h := b.clearStep(e)
	for _, sign := range [2]float64{1, -1} {
		left := c.N(e.Mid).Cross(along).Scale(sign)
		q := stepOff(e, c, left, h)
		if !s.holds(q, 1e-9) {
			continue
		}
		bits := b.root.Beside(c, q)
		if bits == solid.Below || bits == solid.Above {
			e.sides = append(e.sides, side{
				faceKey:  faceKey{c, bits == solid.Above},
				reversed: sign < 0,
				q:        q,
			})
		}
	}
}

// rolesAt lists the roles of the patches that hold q.
func (s *surface) rolesAt(q Vec) []string {
	var out []string
	for _, p := range s.patches {
		if p.Role != "" && !slices.Contains(out, p.Role) && p.Holds(q, carrierTol) {
			out = append(out, p.Role)
		}
	}
	return out
}

// clearStep is a step off the middle of the edge that stays well clear of every
// patch which does not hold it.
func (b *builder) clearStep(e *workEdge) float64 {
	start := e.Curve.At(e.T0)
	h := e.Mid.Dist(start) / 4
	if !e.Curve.Line {
		q := e.Curve.At(e.T0 + .25*(e.T1-e.T0))
		h = (e.Mid.Dist(q) + q.Dist(start)) / 4
	}
	return b.clearOf(e.Mid, min(h, maxSide))
}

// clearOf is at most h, and a quarter of the distance from q to every patch that
// does not hold q.
func (b *builder) clearOf(q Vec, h float64) float64 {
	for _, l := range b.leaves {
		if !l.Box.Contains(q, 4*h) {
			continue
		}
		for i := range l.Patches {
			p := &l.Patches[i]
			if !p.Box.Contains(q, 4*h) {
				continue
			}
			if d := p.Dist(q); d > contactTol && d < 4*h {
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
