package brep

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Volume returns the enclosed volume in mm³, to about 1e-12 of it.
//
// By the divergence theorem it is a third of ∬ p·N over the faces, with p
// measured from the middle of the solid. On a plane p·N is constant and the
// integral is an area; on the others the integral over v is known in closed
// form (see fiber), so that Green's theorem leaves line integrals over the
// edges: closed forms on straight lines and on circles about the face's axis,
// adaptive Gauss-Kronrod quadrature on the rest. Every edge is continued by a
// chord from the curve's end to its exact vertex, so that the loops close.
func (b *Boundary) Volume() float64 {
	box := b.box()
	w := integration{center: box.Lo.Add(box.Hi).Scale(.5)}
	d := box.Hi.Dist(box.Lo)
	w.scale = d * d * d / 8 // of a plate, about its volume
	total := 0.0
	for _, f := range b.Faces {
		sum := w.face(b, f)
		if f.Negative {
			sum = -sum
		}
		total += sum
	}
	return total / 3
}

// box holds the vertices, the middles of edges, and whole faces.
func (b *Boundary) box() Box {
	box := mesh.EmptyBox()
	for _, p := range b.Vertices {
		box = box.Include(p)
	}
	for _, e := range b.Edges {
		box = box.Include(e.Mid)
	}
	for _, f := range b.Faces {
		if c := f.Carrier; len(f.Edges) == 0 {
			center, r := onAxis(c, c.Z0), c.R0+c.M
			box = box.Join(Box{Lo: center, Hi: center}.Grow(r))
		}
	}
	return box
}

// integration holds what the line integrals of one solid share.
type integration struct {
	center Vec
	scale  float64 // mm³, for the quadrature's tolerance
}

// face returns ∬ (p - center)·N dA over the face.
func (w *integration) face(b *Boundary, f *Face) float64 {
	if f.Carrier.Kind == solid.Plane {
		return w.planeFace(b, f)
	}
	r := newFiber(f, w.center)
	sum := r.around
	for _, e := range f.Edges {
		i := w.edge(r, e.Edge) +
			r.chord(b.Vertices[e.Edge.V0], e.Edge.point(e.Edge.T0)) +
			r.chord(e.Edge.point(e.Edge.T1), b.Vertices[e.Edge.V1])
		if e.Reversed {
			i = -i
		}
		sum += i
	}
	return sum
}

// fiber is a face of revolution as seen by the volume: the integral of
// (p - center)·N |Pu × Pv| over v, at the angle u, from ref to v. With the
// center's offset along the radius, o(u) = ox·cos u + oy·sin u, it is
// fixed(v) + o(u)·swing(v).
type fiber struct {
	c          *carrier
	ox, oy, oz float64
	ref        float64
	refFixed   float64
	refSwing   float64
	mid        float64 // torus: v is unwrapped about it
	cuts       bool    // torus: v jumps inside the face
	// around is what Green's theorem misses: the whole surface where the face
	// holds the upper pole, the turns of the tube where it holds v's jump.
	around float64
}

func newFiber(f *Face, center Vec) *fiber {
	c := f.Carrier
	q := c.Frame.O.Sub(center)
	r := &fiber{c: c, ox: q.Dot(c.Frame.X), oy: q.Dot(c.Frame.Y), oz: q.Dot(c.Frame.Z)}
	switch c.Kind {
	case solid.Sphere:
		r.ref = -math.Pi / 2
		if f.Poles[1] {
			r.around = 4 * math.Pi * c.M * c.M * c.M
		}
	case solid.Cone:
		if f.Apex {
			r.ref = -c.R0 / c.DR
		}
	case solid.Torus:
		r.mid = math.Atan2(c.VY, c.VX)
		r.ref, r.cuts = r.mid, len(f.inside) > 0
		for _, a := range f.inside {
			s0, k0 := math.Sincos(a.from)
			s1, k1 := math.Sincos(a.to)
			r.around += c.M * c.M * math.Pi * (3*c.R0*(a.to-a.from) + r.ox*(s1-s0) - r.oy*(k1-k0))
		}
	}
	r.refFixed, r.refSwing = r.raw(r.ref)
	return r
}

// at returns the two parts of the integral from ref to v.
func (r *fiber) at(v float64) (fixed, swing float64) {
	fixed, swing = r.raw(v)
	return fixed - r.refFixed, swing - r.refSwing
}

// raw is an antiderivative over v of the two parts.
func (r *fiber) raw(v float64) (fixed, swing float64) {
	c := r.c
	switch c.Kind {
	case solid.Cylinder: // p·N = o + R0, |Pu × Pv| = R0
		return c.R0 * c.R0 * v, c.R0 * v
	case solid.Cone: // N = (DZ, -DR), |Pu × Pv| = R0 + v·DR
		area := c.R0*v + c.DR*v*v/2
		return (c.R0*c.DZ - (r.oz+c.Z0)*c.DR) * area, c.DZ * area
	}
	// p·N = (o+R0)cos v + (oz+Z0)sin v + M, |Pu × Pv| = M(R0 + M cos v).
	s, k := math.Sincos(v)
	z, m := r.oz+c.Z0, c.M
	cos := m * (c.R0*s + m*(v/2+s*k/2)) // ∫ cos v |Pu × Pv|
	sin := m * (-c.R0*k + m*s*s/2)      // ∫ sin v |Pu × Pv|
	one := m * (c.R0*v + m*s)           // ∫ |Pu × Pv|
	return c.R0*cos + z*sin + m*one, cos
}

// uv is the carrier's UV with v unwrapped about mid.
func (r *fiber) uv(p Vec) (u, v float64) {
	u, v = r.c.UV(p)
	if r.c.Kind == solid.Torus {
		v = r.mid + solid.WrapAngle(v-r.mid)
	}
	return u, v
}

// chord is -∫ fiber du along the short straight way from p to q, near the surface.
func (r *fiber) chord(p, q Vec) float64 {
	if p == q {
		return 0
	}
	u0, v0 := r.uv(p)
	u1, v1 := r.uv(q)
	if math.Hypot(r.c.Frame.X.Dot(q.Sub(r.c.Frame.O)), r.c.Frame.Y.Dot(q.Sub(r.c.Frame.O))) < touchTol {
		return 0 // at the pole or the tip, where u means nothing
	}
	du := solid.WrapAngle(u1 - u0)
	fixed, swing := r.at((v0 + v1) / 2)
	s, k := math.Sincos(u0 + du/2)
	return -(fixed + swing*(r.ox*k+r.oy*s)) * du
}

// edge is -∫ fiber du along the edge, from V0 to V1.
func (w *integration) edge(r *fiber, e *Edge) float64 {
	c := e.Curve
	if c.Line && r.ruling(c) {
		return 0
	}
	if c.Radius > 0 && r.latitude(c) {
		return r.latitudeArc(e)
	}
	form := func(p Vec) (float64, float64) {
		u, v := r.uv(p)
		fixed, swing := r.at(v)
		s, k := math.Sincos(u)
		return fixed + swing*(r.ox*k+r.oy*s), u
	}
	if !r.cuts {
		return -w.along(e, e.T0, e.T1, true, form)
	}
	sum, from := 0.0, e.T0
	skip := (e.T1 - e.T0) * 1e-11 // to be on the right side of the jump
	for _, t := range e.crossings(func(p Vec) float64 { _, v := r.uv(p); return v }, r.mid+math.Pi) {
		sum -= w.along(e, from, t-skip, true, form)
		from = t + skip
	}
	return sum - w.along(e, from, e.T1, true, form)
}

// ruling reports whether u is constant along a line.
func (r *fiber) ruling(c *Curve) bool {
	return math.Abs(c.dir.Dot(r.c.Frame.Z.Cross(r.c.N(c.At((c.T0+c.T1)/2))))) < dirTol*.1
}

// latitude reports whether a circle runs about the face's axis, to rounding.
func (r *fiber) latitude(c *Curve) bool {
	return c.Normal.Cross(r.c.Frame.Z).Norm() < 1e-13 &&
		offAxis(c.Center, r.c.Frame.O, r.c.Frame.Z).Norm() < 1e-11
}

func (r *fiber) latitudeArc(e *Edge) float64 {
	c := e.Curve
	u0, v := r.uv(c.At(e.T0))
	du := e.T1 - e.T0
	if c.Normal.Dot(r.c.Frame.Z) < 0 {
		du = -du
	}
	s0, k0 := math.Sincos(u0)
	s1, k1 := math.Sincos(u0 + du)
	fixed, swing := r.at(v)
	return -(fixed*du + swing*(r.ox*(s1-s0)-r.oy*(k1-k0)))
}

// planeFace is the distance of the plane from the center times the area.
func (w *integration) planeFace(b *Boundary, f *Face) float64 {
	c := f.Carrier
	x, y := c.Frame.X, c.Frame.Y
	o := w.center
	// twice the area under a straight piece
	chord := func(p, q Vec) float64 {
		p, q = p.Sub(o), q.Sub(o)
		return p.Dot(x)*q.Dot(y) - q.Dot(x)*p.Dot(y)
	}
	area2 := 0.0
	for _, fe := range f.Edges {
		e := fe.Edge
		i := 0.0
		switch k := e.Curve; {
		case k.Line:
			i = chord(b.Vertices[e.V0], b.Vertices[e.V1])
		default:
			p, q := e.point(e.T0), e.point(e.T1)
			i = chord(b.Vertices[e.V0], p) + chord(q, b.Vertices[e.V1])
			if k.Radius > 0 {
				// The segment between the arc and its chord, and the chord.
				s := k.Radius * k.Radius * (e.T1 - e.T0 - math.Sin(e.T1-e.T0))
				if k.Normal.Dot(c.Frame.Z) < 0 {
					s = -s
				}
				i += s + chord(p, q)
			} else {
				i -= 2 * w.along(e, e.T0, e.T1, false, func(p Vec) (float64, float64) {
					p = p.Sub(o)
					return p.Dot(y), p.Dot(x)
				})
				// ∮ x dy - y dx is -2∮ y dx but for the ends of this piece.
				p, q = p.Sub(o), q.Sub(o)
				i += q.Dot(x)*q.Dot(y) - p.Dot(x)*p.Dot(y)
			}
		}
		if fe.Reversed {
			i = -i
		}
		area2 += i
	}
	return (c.D - c.Frame.Z.Dot(o)) * area2 / 2
}
