package steptest

import "math"

// integrate returns ∬ (p - center)·n over the face, n pointing out of the solid. In
// the surface's parameters it is ∬ g du dv with g = (p - center)·(Pu × Pv), and by
// Green's theorem -∮ G du along the borders, with G the integral of g over v, from some v
// of the face on: on a face of large radii all else would cancel. Borders
// are followed in u and v without jumps and must close there: a face that is not cut
// open as it should be shows. Where n is against Pu × Pv, borders run clockwise in u and
// v, and the sign is right by itself.
func (f *face) integrate(center Vec) float64 {
	total := 0.0
	_, ref := f.surface.parameters(f.loops[0][0].p0)
	for i, l := range f.loops {
		b := border{face: f, center: center, ref: ref}
		b.follow(l)
		if !f.same {
			b.area = -b.area
		}
		if (b.area > 0) != (i == 0) {
			wrong("#%d: border %d runs the wrong way around", f.id, i)
		}
		total += b.sum
	}
	return total
}

// border follows a loop in the parameters of its face's surface.
type border struct {
	face      *face
	center    Vec
	begun     bool
	ref       float64    // from where G is taken
	u, v      float64    // where it is
	lo, hi    [2]float64 // of u and v so far
	pole      bool       // it comes from the axis, where u may be anything
	poleV     float64
	sum, area float64 // -∮ G du, -∮ v du
}

func (b *border) follow(l []use) {
	s := b.face.surface
	var u0, v0 float64
	for _, x := range l {
		x.samples(func(p, d Vec, step float64) {
			b.to(p)
			if !b.begun {
				b.begun, u0, v0 = true, b.u, b.v
				b.lo, b.hi = [2]float64{u0, v0}, [2]float64{u0, v0}
			}
			b.lo = [2]float64{min(b.lo[0], b.u), min(b.lo[1], b.v)}
			b.hi = [2]float64{max(b.hi[0], b.u), max(b.hi[1], b.v)}
			du := s.turn(p, d) * step
			b.sum -= b.inner(b.u, b.v) * du
			b.area -= (b.v - b.ref) * du
		})
		if _, b.pole = s.widens(x.p1); b.pole {
			_, b.poleV = s.parameters(x.p1)
		}
	}
	first := true
	l[0].samples(func(p, _ Vec, _ float64) {
		if first {
			b.to(p)
		}
		first = false
	})
	if math.Abs(b.u-u0) > 1e-6*(1+math.Abs(u0)) || math.Abs(b.v-v0) > 1e-6*(1+math.Abs(v0)) {
		wrong("#%d: a border does not close in u and v, by %g and %g", b.face.id, b.u-u0, b.v-v0)
	}
	b.withinPeriod()
}

// withinPeriod: readers take a face in one turn of its surface's parameters. A ring's v
// begins on its outside by the standard, whatever face crosses there.
func (b *border) withinPeriod() {
	u, v := b.face.surface.periods()
	if b.face.kind == "torus" {
		v = 0
	}
	for i, period := range [2]float64{u, v} {
		if period > 0 && b.hi[i] > (math.Floor(b.lo[i]/period+1e-7)+1)*period+1e-6 {
			wrong("#%d: a border crosses the surface's own seam: from %g to %g", b.face.id, b.lo[i], b.hi[i])
		}
	}
}

// to moves on to a point, the shortest way around a period; at a pole, the way that
// keeps the face on the left: onward in u where the surface widens with v, else back.
func (b *border) to(p Vec) {
	s := b.face.surface
	u, v := s.parameters(p)
	if !b.begun {
		b.u, b.v = u, v
		return
	}
	pu, pv := s.periods()
	u, v = near(u, b.u, pu), near(v, b.v, pv)
	if b.pole {
		sign, _ := s.widens(b.at(b.poleV))
		if !b.face.same {
			sign = -sign
		}
		switch {
		case sign > 0 && u < b.u+1e-6:
			u += pu
		case sign < 0 && u > b.u-1e-6:
			u -= pu
		}
		const steps = 32
		h := (u - b.u) / steps
		for k := range steps {
			for _, n := range gauss {
				b.sum -= b.inner(b.u+h*(float64(k)+n.x), b.poleV) * h * n.w
			}
		}
		b.area -= (b.poleV - b.ref) * (u - b.u)
		b.pole = false
	}
	b.u, b.v = u, v
}

func (b *border) at(v float64) Vec {
	p, _, _ := b.face.surface.at(b.u, v)
	return p
}

// inner is the integral of g from the reference on.
func (b *border) inner(u, v float64) float64 {
	t, turns := b.face.surface.(turned)
	if !turns { // g is the same everywhere
		p, du, dv := b.face.surface.at(u, v)
		return p.Sub(b.center).Dot(du.Cross(dv)) * (v - b.ref)
	}
	n := int(math.Ceil(math.Abs(v - b.ref)))
	if _, round := t.profile.(arc); !round {
		n = 1 // g is a cubic in v at most
	}
	sum, h := 0.0, (v-b.ref)/float64(n)
	for k := range n {
		for _, x := range gauss {
			p, du, dv := b.face.surface.at(u, b.ref+h*(float64(k)+x.x))
			sum += p.Sub(b.center).Dot(du.Cross(dv)) * h * x.w
		}
	}
	return sum
}

// near is x moved by whole periods to where it is next to y.
func near(x, y, period float64) float64 {
	if period == 0 {
		return x
	}
	return x + period*math.Round((y-x)/period)
}

// samples visits the points of the Gauss rule along the edge as the loop runs, with
// the curve's derivative and the step in its parameter.
func (x use) samples(visit func(p, d Vec, step float64)) {
	n := len(x.stations) - 1
	for k := range n {
		from, to := x.stations[k], x.stations[k+1]
		if !x.forward {
			from, to = x.stations[n-k], x.stations[n-k-1]
		}
		for _, g := range gauss {
			p, d := x.curve.at(from + (to-from)*g.x)
			visit(p, d, (to-from)*g.w)
		}
	}
}

// gauss is the Gauss-Legendre rule of eight points on [0, 1] (Abramowitz and Stegun,
// table 25.4).
var gauss = func() (rule [8]struct{ x, w float64 }) {
	half := [4][2]float64{
		{.1834346424956498, .3626837833783620},
		{.5255324099163290, .3137066458778873},
		{.7966664774136267, .2223810344533745},
		{.9602898564975363, .1012285362903763},
	}
	for i, h := range half {
		rule[3-i].x, rule[3-i].w = (1-h[0])/2, h[1]/2
		rule[4+i].x, rule[4+i].w = (1+h[0])/2, h[1]/2
	}
	return rule
}()
