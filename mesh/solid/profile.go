package solid

import "math"

// Point2 is a point of a profile: (r, z) of a revolved leaf, (x, y) of an
// extruded one, in the leaf's frame, mm.
type Point2 [2]float64

// Corner is one corner of a profile and the segment that leaves it.
type Corner struct {
	P Point2
	// Arc: the segment to the next corner is an arc about C.
	Arc bool
	C   Point2
	CCW bool
	// Role of the face that the segment makes; empty for the leaf's role.
	Role string
}

// Profile is a closed line/arc outline, counter-clockwise, material on the
// left; a clockwise loop is a hole. A full turn needs at least two corners.
type Profile []Corner

// Poly returns the profile with straight segments through the given pairs.
func Poly(xy ...float64) Profile {
	var p Profile
	for i := 0; i+1 < len(xy); i += 2 {
		p = append(p, Corner{P: Point2{xy[i], xy[i+1]}})
	}
	return p
}

// LineTo appends a corner.
func (p Profile) LineTo(a, b float64) Profile { return append(p, Corner{P: Point2{a, b}}) }

// ArcTo makes the segment that leaves the last corner an arc about (ca, cb)
// that ends at the new corner (a, b).
func (p Profile) ArcTo(a, b, ca, cb float64, ccw bool) Profile {
	last := &p[len(p)-1]
	last.Arc, last.C, last.CCW = true, Point2{ca, cb}, ccw
	return p.LineTo(a, b)
}

// CloseArc makes the last segment, back to the first corner, an arc.
func (p Profile) CloseArc(ca, cb float64, ccw bool) Profile {
	last := &p[len(p)-1]
	last.Arc, last.C, last.CCW = true, Point2{ca, cb}, ccw
	return p
}

// As gives the segment that leaves the last corner a role of its own.
func (p Profile) As(role string) Profile {
	p[len(p)-1].Role = role
	return p
}

// Circle returns the outline of a disc of radius r about (a, b).
func Circle(a, b, r float64) Profile {
	return Profile{}.LineTo(a+r, b).ArcTo(a-r, b, a, b, true).CloseArc(a, b, true)
}

// Flip returns the profile mirrored in its second coordinate about v = c/2
// (v becomes c - v), still with material on the left.
func (p Profile) Flip(c float64) Profile {
	n := len(p)
	out := make(Profile, n)
	for i := range p {
		// Corner i of the result is corner n-1-i of p; the segment leaving it is
		// the one that entered it, reversed: mirrored and reversed keeps CCW.
		k := n - 1 - i
		prev := p[(k-1+n)%n]
		out[i] = prev
		out[i].P = Point2{p[k].P[0], c - p[k].P[1]}
		out[i].C = Point2{prev.C[0], c - prev.C[1]}
	}
	return out
}

// Elem is one segment of a leaf's outline, arcs under 180°.
type Elem struct {
	A, B    Point2
	Arc     bool
	C       Point2
	R       float64
	CCW     bool
	Carrier *Carrier // nil where the segment makes no face (on the axis)
	Role    string
}

// Elems breaks a profile into segments: arcs of at most 120°, none of length 0.
func (p Profile) Elems() []Elem {
	var out []Elem
	for i, c := range p {
		b := p[(i+1)%len(p)].P
		e := Elem{A: c.P, B: b, Role: c.Role}
		if !c.Arc {
			if c.P != b {
				out = append(out, e)
			}
			continue
		}
		e.Arc, e.C, e.CCW = true, c.C, c.CCW
		e.R = math.Hypot(c.P[0]-c.C[0], c.P[1]-c.C[1])
		a0 := math.Atan2(c.P[1]-c.C[1], c.P[0]-c.C[0])
		sweep := math.Atan2(b[1]-c.C[1], b[0]-c.C[0]) - a0
		if c.CCW {
			for sweep <= 1e-12 {
				sweep += 2 * math.Pi
			}
		} else {
			for sweep >= -1e-12 {
				sweep -= 2 * math.Pi
			}
		}
		n := int(math.Ceil(math.Abs(sweep)/(2*math.Pi/3) - 1e-9))
		from := c.P
		for k := 1; k <= n; k++ {
			to := b
			if k < n {
				to = onCircle(c.C, e.R, a0+sweep*float64(k)/float64(n))
			}
			f := e
			f.A, f.B = from, to
			out = append(out, f)
			from = to
		}
	}
	return out
}

// onCircle keeps quarter turns exact, so that a half circle's crest lies where
// arithmetic on the radius puts it.
func onCircle(c Point2, r, a float64) Point2 {
	sn, cs := math.Sincos(a)
	for _, v := range []*float64{&sn, &cs} {
		if x := math.Round(*v); math.Abs(*v-x) < 1e-12 {
			*v = x
		}
	}
	return Point2{c[0] + r*cs, c[1] + r*sn}
}

// inSpan reports whether the direction (dx, dy) from the arc's center points
// into the arc, widened by eps (a cross product, mm²).
func (e *Elem) inSpan(dx, dy, eps float64) bool {
	c1 := (e.A[0]-e.C[0])*dy - (e.A[1]-e.C[1])*dx
	c2 := dx*(e.B[1]-e.C[1]) - dy*(e.B[0]-e.C[0])
	if !e.CCW {
		c1, c2 = -c1, -c2
	}
	return c1 >= -eps && c2 >= -eps
}

// Dist is the distance of (x, y) to the segment.
func (e *Elem) Dist(x, y float64) float64 {
	if e.Arc {
		dx, dy := x-e.C[0], y-e.C[1]
		if e.inSpan(dx, dy, 0) {
			return math.Abs(math.Sqrt(dx*dx+dy*dy) - e.R)
		}
		return math.Sqrt(min(sq(x-e.A[0])+sq(y-e.A[1]), sq(x-e.B[0])+sq(y-e.B[1])))
	}
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	t := ((x-e.A[0])*dx + (y-e.A[1])*dy) / (dx*dx + dy*dy)
	t = max(0, min(1, t))
	return math.Sqrt(sq(x-e.A[0]-t*dx) + sq(y-e.A[1]-t*dy))
}

// winding adds the segment's share of the winding number about (x, y): that of
// its chord, and of the circular segment between chord and arc. Both ask one
// question, on which side of the chord the point lies, and a point on the chord
// itself must get one answer: the side where a point just above it would lie,
// or just right of it on a chord that is not level.
func (e *Elem) winding(x, y float64) int {
	w := 0
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	cross := dx*(y-e.A[1]) - (x-e.A[0])*dy
	right := cross < 0 || cross == 0 && (dy > 0 || dy == 0 && dx < 0)
	if e.A[1] <= y {
		if e.B[1] > y && !right {
			w++
		}
	} else if e.B[1] <= y && right {
		w--
	}
	if e.Arc && sq(x-e.C[0])+sq(y-e.C[1]) < e.R*e.R {
		if e.CCW && right {
			w++
		}
		if !e.CCW && !right {
			w--
		}
	}
	return w
}

// tangent is the unit direction of travel at an end of the segment.
func (e *Elem) tangent(p Point2) Point2 {
	if e.Arc {
		x, y := (p[0]-e.C[0])/e.R, (p[1]-e.C[1])/e.R
		if e.CCW {
			return Point2{-y, x}
		}
		return Point2{y, -x}
	}
	h := math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1])
	return Point2{(e.B[0] - e.A[0]) / h, (e.B[1] - e.A[1]) / h}
}

// bounds of the segment, extremes of the arc included.
func (e *Elem) bounds() (lo, hi Point2) {
	lo = Point2{min(e.A[0], e.B[0]), min(e.A[1], e.B[1])}
	hi = Point2{max(e.A[0], e.B[0]), max(e.A[1], e.B[1])}
	if e.Arc {
		for _, d := range []Point2{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			if e.inSpan(d[0], d[1], 0) {
				x, y := e.C[0]+e.R*d[0], e.C[1]+e.R*d[1]
				lo[0], lo[1], hi[0], hi[1] = min(lo[0], x), min(lo[1], y), max(hi[0], x), max(hi[1], y)
			}
		}
	}
	return lo, hi
}

// SignedDist2 is the signed distance of (x, y) to the outline, negative inside.
func SignedDist2(el []Elem, x, y float64) float64 {
	best, w := math.Inf(1), 0
	for i := range el {
		e := &el[i]
		// A segment on the axis of revolution bounds nothing: space goes on beyond.
		if e.Carrier != nil {
			best = min(best, e.Dist(x, y))
		}
		w += e.winding(x, y)
	}
	if w != 0 {
		return -best
	}
	return best
}

// Reversed returns the outline run the other way: a hole where it was solid.
func (p Profile) Reversed() Profile {
	n := len(p)
	out := make(Profile, n)
	for i := range p {
		k := n - 1 - i
		out[i] = p[(k-1+n)%n]
		out[i].P, out[i].CCW = p[k].P, !out[i].CCW
	}
	return out
}

// Shifted returns the outline moved by (a, b).
func (p Profile) Shifted(a, b float64) Profile {
	out := append(Profile(nil), p...)
	for i := range out {
		out[i].P[0] += a
		out[i].P[1] += b
		out[i].C[0] += a
		out[i].C[1] += b
	}
	return out
}
