package outline

import "wheelmold/mesh/brep"

// Edges returns the edges of a boundary that bear a face turned to the viewer
// (toward W), or those parts of them that do, projected on the view. Edges along
// which two faces run on smoothly are left out, and so are edges seen end-on; what
// is drawn over itself is drawn once. A whole circle is one closed path, a circle
// at an angle a curve. tol is as for Section.
//
// This is for a piece seen along its pull, where nothing that is turned to the
// viewer hides anything else but pockets in its sides: an edge is dropped where its
// middle lies behind material, and kept whole where it does not.
func Edges(b *brep.Boundary, v View, tol float64) []Path {
	var d strokes
	nearest := v.nearest(b)
	for _, e := range b.Edges {
		x := shown{b: b, e: e, w: v.W()}
		if x.smooth() {
			continue
		}
		for _, r := range x.parts() {
			if !x.hidden((r[0]+r[1])/2, nearest) {
				d.add(v.stroke(b, e, r[0], r[1], tol))
			}
		}
	}
	return d.paths()
}

// nearest is the height along W of the point nearest to the viewer.
func (v View) nearest(b *brep.Boundary) float64 {
	box, w := b.Root.Bounds(), v.W()
	h := w.Dot(box.Lo.Add(box.Hi).Scale(.5))
	for i := range w {
		h += abs(w[i]) * (box.Hi[i] - box.Lo[i]) / 2
	}
	return h
}

// shown asks where along an edge it bears a face turned to the viewer.
type shown struct {
	b *brep.Boundary
	e *brep.Edge
	w vec
}

const (
	// smoothSine: faces that meet at less than this angle go on smoothly. Rounding
	// to the lattice leaves tangent outlines off by 1e-4 or so.
	smoothSine = 1e-3
	// turnedSine: a face at less than this angle to the line of sight is seen
	// edge-on.
	turnedSine = 1e-6
	// beside is the step off an edge at which its faces are looked at, mm: at the
	// edge itself a round may still run along the line of sight.
	beside = .01
)

func (x *shown) smooth() bool {
	h := x.e.Half
	for _, k := range [3]float64{.21, .5, .83} {
		p := x.e.Curve.At(x.e.T0 + (x.e.T1-x.e.T0)*k)
		a, b := outward(x.b.Faces[h[0].Face], p), outward(x.b.Faces[h[1].Face], p)
		if a.Cross(b).Norm() > smoothSine || a.Dot(b) < 0 {
			return false
		}
	}
	return true
}

// turned returns a point beside the edge on that of its faces that is turned
// farther to the viewer, its outward normal, and whether it is turned at all.
func (x *shown) turned(t float64) (q, n vec, ok bool) {
	best, dt := turnedSine, (x.e.T1-x.e.T0)*1e-4
	p := x.e.Curve.At(t)
	along := x.e.Curve.At(t + dt).Sub(x.e.Curve.At(t - dt)).Unit()
	for _, h := range x.e.Half {
		f := x.b.Faces[h.Face]
		left := f.Carrier.N(p).Cross(along)
		if h.Reversed {
			left = left.Scale(-1)
		}
		at := f.Carrier.Project(p.AddScaled(beside, left))
		if m := outward(f, at); m.Dot(x.w) > best {
			best, q, n, ok = m.Dot(x.w), at, m, true
		}
	}
	return q, n, ok
}

// hidden reports whether material lies between the viewer and the face beside the
// edge at t. Material thinner than a step may be missed.
func (x *shown) hidden(t, nearest float64) bool {
	const off, step = .002, .5
	q, n, _ := x.turned(t)
	q = q.AddScaled(off, n)
	for s := off; s < nearest-q.Dot(x.w); s += min(s, step) {
		if x.b.Root.Contains(q.AddScaled(s, x.w)) {
			return true
		}
	}
	return false
}

// parts returns the ranges of the edge's parameter that are shown.
func (x *shown) parts() [][2]float64 {
	const n = 32
	on := func(t float64) bool {
		_, _, ok := x.turned(t)
		return ok
	}
	if x.e.Curve.Line { // normals are constant along it
		if !on((x.e.T0 + x.e.T1) / 2) {
			return nil
		}
		return [][2]float64{{x.e.T0, x.e.T1}}
	}
	var out [][2]float64
	sample := func(k int) float64 { return x.e.T0 + (x.e.T1-x.e.T0)*(float64(k)+.5)/n }
	from, was := x.e.T0, on(sample(0))
	for k := 1; k < n; k++ {
		if on(sample(k)) == was {
			continue
		}
		t := change(sample(k-1), sample(k), func(t float64) bool { return on(t) == was })
		if was {
			out = append(out, [2]float64{from, t})
		}
		from, was = t, !was
	}
	if was {
		out = append(out, [2]float64{from, x.e.T1})
	}
	return out
}

// change is where a condition that holds at a ceases to hold on the way to b.
func change(a, b float64, holds func(float64) bool) float64 {
	for range 50 {
		if m := (a + b) / 2; holds(m) {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// stroke draws the edge from t0 to t1. What is seen from the side of its own plane
// becomes a straight line.
func (v View) stroke(b *brep.Boundary, e *brep.Edge, t0, t1, tol float64) piece {
	from, to := e.Curve.At(t0), e.Curve.At(t1)
	if t0 == e.T0 {
		from = b.Vertices[e.V0]
	}
	if t1 == e.T1 {
		to = b.Vertices[e.V1]
	}
	p := v.curve(e.Curve, t0, t1, from, to, tol)
	if p.Via != nil {
		p.flatten()
	}
	return p
}

// flatten turns a curve whose points all lie on one line into that line. What is
// shown of a circle that is seen from its side ends at its farthest points, where
// its face turns away.
func (p *piece) flatten() {
	points := append([]Point{p.from, p.To}, p.Via...)
	far := p.from
	for _, q := range points {
		if dist(q, p.from) > dist(far, p.from) {
			far = q
		}
	}
	l := dist(far, p.from)
	if l == 0 {
		return
	}
	d := Point{(far[0] - p.from[0]) / l, (far[1] - p.from[1]) / l}
	along := func(q Point) float64 { return d[0]*(q[0]-p.from[0]) + d[1]*(q[1]-p.from[1]) }
	a, b := p.from, far
	for _, q := range points {
		if abs(d[0]*(q[1]-p.from[1])-d[1]*(q[0]-p.from[0])) > sameLine {
			return
		}
		if along(q) < along(a) {
			a = q
		}
	}
	*p = piece{from: a, Segment: Segment{To: b}}
}
