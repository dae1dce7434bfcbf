package outline

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// Edges returns the edges of a boundary that bear a face turned to the viewer
// (toward W), or those parts of them that do, projected on the view. Edges along
// which two faces run on smoothly are left out, and so are edges seen end-on; what
// is drawn over itself is drawn once. A whole circle is one closed path, a circle
// at an angle a curve. Hidden lines are not removed: this is for a piece seen
// along its pull, where nothing that is turned to the viewer hides anything else.
// tol is as for Section.
func Edges(b *brep.Boundary, v View, tol float64) []Path {
	var d strokes
	for _, e := range b.Edges {
		x := shown{b: b, e: e, w: v.W()}
		if x.smooth() {
			continue
		}
		for _, r := range x.parts() {
			d.add(v.stroke(b, e, r[0], r[1], tol))
		}
	}
	return d.paths()
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
)

func (x *shown) normals(t float64) (a, b vec) {
	p := x.e.Curve.At(t)
	h := x.e.Half
	return outward(x.b.Faces[h[0].Face], p), outward(x.b.Faces[h[1].Face], p)
}

func (x *shown) smooth() bool {
	for _, k := range [3]float64{.21, .5, .83} {
		a, b := x.normals(x.e.T0 + (x.e.T1-x.e.T0)*k)
		if a.Cross(b).Norm() > smoothSine || a.Dot(b) < 0 {
			return false
		}
	}
	return true
}

func (x *shown) at(t float64) bool {
	a, b := x.normals(t)
	return max(a.Dot(x.w), b.Dot(x.w)) > turnedSine
}

// parts returns the ranges of the edge's parameter that are shown.
func (x *shown) parts() [][2]float64 {
	const n = 32
	even := x.b.Faces[x.e.Half[0].Face].Carrier.Kind == solid.Plane && x.b.Faces[x.e.Half[1].Face].Carrier.Kind == solid.Plane
	if even || x.e.Curve.Line { // normals are constant along both
		if !x.at((x.e.T0 + x.e.T1) / 2) {
			return nil
		}
		return [][2]float64{{x.e.T0, x.e.T1}}
	}
	var out [][2]float64
	sample := func(k int) float64 { return x.e.T0 + (x.e.T1-x.e.T0)*(float64(k)+.5)/n }
	from, on := x.e.T0, x.at(sample(0))
	for k := 1; k < n; k++ {
		if x.at(sample(k)) == on {
			continue
		}
		t := x.change(sample(k-1), sample(k), on)
		if on {
			out = append(out, [2]float64{from, t})
		}
		from, on = t, !on
	}
	if on {
		out = append(out, [2]float64{from, x.e.T1})
	}
	return out
}

func (x *shown) change(a, b float64, on bool) float64 {
	for range 50 {
		if m := (a + b) / 2; x.at(m) == on {
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
		p.flatten(v.crests(e.Curve, t0, t1))
	}
	return p
}

// crests are the points of a circle that lie farthest out along the trace of its
// plane, as far as they lie between t0 and t1.
func (v View) crests(c *brep.Curve, t0, t1 float64) []Point {
	if c.Radius == 0 {
		return nil
	}
	x, y := c.At(0).Sub(c.Center), c.At(math.Pi/2).Sub(c.Center)
	d := c.Normal.Cross(v.W())
	t := math.Atan2(y.Dot(d), x.Dot(d))
	var out []Point
	for k := -4; k <= 4; k++ {
		if u := t + float64(k)*math.Pi; u > t0 && u < t1 {
			out = append(out, v.At(c.At(u)))
		}
	}
	return out
}

// flatten turns a curve whose points, and crests, all lie on one line into that line.
func (p *piece) flatten(crests []Point) {
	points := append(append([]Point{p.from, p.To}, p.Via...), crests...)
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
