package sight

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
)

// part is a part of a stroke that does not turn back in the view: one straight line,
// one arc of half a turn at most, or a curve.
type part struct {
	*stroke
	t0, t1 float64 // of the stroke's parameter
	outline.Stretch
	curve *curve // of what is neither straight nor round; its Stretch is not set
	// box holds the part in the view's coordinates, heights toward the viewer.
	box mesh.Box
	// cuts are where visibility may change: shares of the stretch, or parameters of
	// a curve.
	cuts []float64
}

const (
	// speck: what is shorter is a line seen end-on, mm.
	speck = 1e-6
	// flat: a curve whose points lie within this of a line is straight in the view, mm.
	flat = 1e-7
	// foldSteps samples a curve to see where it turns back in the view.
	foldSteps = 64
	halfTurn  = math.Pi * (1 + 1e-9) // with rounding
)

// local returns a point of space in the view's coordinates.
func (d *drawing) local(p vec) vec {
	q := d.v.At(p)
	return vec{q[0], q[1], d.w.Dot(p.Sub(d.v.O))}
}

// lay puts a stroke on the view.
func (d *drawing) lay(s *stroke) {
	switch c, r := d.round(s); {
	case s.line:
		d.stretch(s, s.t0, s.t1)
	case r > 0 && d.parallel(s):
		d.arcs(s, s.t0, s.t1, c, r)
	case r > 0:
		angle := func(a, b float64) float64 { return solid.WrapAngle(d.angle(s, c, b) - d.angle(s, c, a)) }
		fold(s, angle, func(a, b float64) { d.arcs(s, a, b, c, r) })
	default:
		u, far := d.level(s)
		switch {
		case far < speck: // end-on
		case u == point{}:
			d.curved(s)
		default:
			at := func(t float64) float64 { p := d.v.At(s.at(t)); return u[0]*p[0] + u[1]*p[1] }
			fold(s, func(a, b float64) float64 { return at(b) - at(a) }, func(a, b float64) { d.stretch(s, a, b) })
		}
	}
}

// end is where a parameter of the stroke is drawn, its ends exactly.
func (d *drawing) end(s *stroke, t float64) point {
	switch t {
	case s.t0:
		return d.v.At(s.from)
	case s.t1:
		return d.v.At(s.to)
	}
	return d.v.At(s.at(t))
}

func (d *drawing) angle(s *stroke, c point, t float64) float64 {
	p := d.v.At(s.at(t))
	return math.Atan2(p[1]-c[1], p[0]-c[0])
}

// parallel tells of a circle in a plane parallel to the view.
func (d *drawing) parallel(s *stroke) bool {
	return s.radius > 0 && s.normal.Cross(d.w).Norm() < edgeOn
}

// round returns the circle on which a stroke is seen, if it is: one that is parallel
// to the view, or lies on a cylinder that is seen along its axis.
func (d *drawing) round(s *stroke) (center point, radius float64) {
	if d.parallel(s) {
		return d.v.At(s.center), s.radius
	}
	for _, c := range s.carriers {
		if c.Kind == solid.Cylinder && c.Frame.Z.Cross(d.w).Norm() < edgeOn {
			return d.v.At(c.Frame.O), c.R0
		}
	}
	return point{}, 0
}

// level returns the direction of the line on which a stroke is seen, none where it is
// not straight in the view, and how far it reaches from its beginning.
func (d *drawing) level(s *stroke) (u point, far float64) {
	const n = 16
	var q [n + 1]point // from the beginning
	a := d.v.At(s.at(s.t0))
	for k := range q {
		p := d.v.At(s.at(s.t0 + (s.t1-s.t0)*float64(k)/n))
		q[k] = point{p[0] - a[0], p[1] - a[1]}
		if l := math.Hypot(q[k][0], q[k][1]); l > far {
			far, u = l, point{q[k][0] / l, q[k][1] / l}
		}
	}
	for _, p := range q {
		if math.Abs(u[0]*p[1]-u[1]*p[0]) > flat {
			return point{}, far
		}
	}
	return u, far
}

// fold calls add for the ranges of the parameter over which the way from one place to
// the next, a length or an angle, has one sign.
func fold(s *stroke, way func(a, b float64) float64, add func(a, b float64)) {
	at := func(k int) float64 { return s.t0 + (s.t1-s.t0)*float64(k)/foldSteps }
	from, was := s.t0, 0.0
	for k := 1; k <= foldSteps; k++ {
		y := way(at(k-1), at(k))
		if y*was < 0 {
			a := at(k - 2)
			t := highest(a, at(k), func(t float64) float64 { return math.Copysign(1, was) * way(a, t) })
			add(from, t)
			from = t
		}
		if y != 0 {
			was = y
		}
	}
	add(from, s.t1)
}

// highest narrows the place of a maximum, which is found only to the root of rounding.
func highest(a, b float64, f func(float64) float64) float64 {
	t, _ := mesh.Least(func(x float64) float64 { return -f(x) }, a, b, 50)
	return t
}

// arcs adds what lies on a circle between two parameters, in halves where it turns
// by more than half a turn.
func (d *drawing) arcs(s *stroke, t0, t1 float64, c point, r float64) {
	const steps = 16
	sweep, was := 0.0, d.angle(s, c, t0)
	for k := 1; k <= steps; k++ {
		a := d.angle(s, c, t0+(t1-t0)*float64(k)/steps)
		sweep += solid.WrapAngle(a - was)
		was = a
	}
	if math.Abs(sweep) > halfTurn {
		m := (t0 + t1) / 2
		d.arcs(s, t0, m, c, r)
		d.arcs(s, m, t1, c, r)
		return
	}
	if math.Abs(sweep)*r > speck {
		d.add(&part{stroke: s, t0: t0, t1: t1, Stretch: outline.Stretch{From: d.end(s, t0), To: d.end(s, t1), Center: c, Radius: r, Sweep: sweep}})
	}
}

func (d *drawing) stretch(s *stroke, t0, t1 float64) {
	a, b := d.end(s, t0), d.end(s, t1)
	if dist(a, b) > speck {
		d.add(&part{stroke: s, t0: t0, t1: t1, Stretch: outline.Stretch{From: a, To: b}})
	}
}

func (d *drawing) curved(s *stroke) {
	d.add(&part{stroke: s, t0: s.t0, t1: s.t1, curve: d.sample(s.at, s.t0, s.t1, chordSag)})
}

// add puts a part on the view, with its box and the cuts that its stroke brings.
func (d *drawing) add(p *part) {
	p.box = mesh.EmptyBox()
	const steps = 8
	for k := 0; k <= steps; k++ {
		p.box = p.box.Include(d.local(p.at(p.t0 + (p.t1-p.t0)*float64(k)/steps)))
	}
	if !p.line { // what lies between: the chord over 1/16 turn sags by 2 % of the radius
		size := p.box.Hi.Sub(p.box.Lo)
		p.box = p.box.Grow(.1 * max(size[0], size[1], size[2]))
	}
	p.box = p.box.Grow(onIt)
	for _, t := range p.turns {
		if t > p.t0 && t < p.t1 {
			p.cuts = append(p.cuts, d.place(p, t))
		}
	}
	d.parts = append(d.parts, p)
}

// place turns a parameter of the stroke into one of cuts.
func (d *drawing) place(p *part, t float64) float64 {
	if p.curve != nil {
		return t
	}
	q := d.v.At(p.at(t))
	return p.Share(q)
}

// param turns one of cuts into a parameter of the stroke.
func (d *drawing) param(p *part, cut float64) float64 {
	switch {
	case p.curve != nil:
		return cut
	case p.line, d.parallel(p.stroke):
		return p.t0 + (p.t1-p.t0)*cut
	}
	return bisect(p.t0, p.t1, func(t float64) bool { return p.Share(d.v.At(p.at(t))) < cut })
}

func dist(p, q point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }
