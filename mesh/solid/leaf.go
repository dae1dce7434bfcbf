package solid

import "math"

// Patch is the part of a carrier that one segment or cap of a leaf covers.
type Patch struct {
	Leaf    *Leaf
	Carrier *Carrier
	// Elem is the segment of the outline, or one of CapLow and CapHigh.
	Elem int
	// Sign: the leaf's outward normal is Sign·N.
	Sign float64
	Role string
	Box  Box
}

// Caps of an extruded leaf, as values of Patch.Elem.
const (
	CapLow  = -1
	CapHigh = -2
)

// Joint is the line where two segments of an outline meet smoothly. Carriers on
// both sides agree there in direction, so that no crossing of surfaces marks
// it: curves on either must be cut where F vanishes and Dist is small.
type Joint struct {
	leaf *Leaf
	p, t Point2
	Box  Box
}

// F is the signed distance of p to the profile's normal through the joint.
func (j *Joint) F(p Vec) float64 {
	x, y, _ := j.leaf.flat(p)
	return (x-j.p[0])*j.t[0] + (y-j.p[1])*j.t[1]
}

// Dist is the distance of p to the joint, for p within the leaf's extent.
func (j *Joint) Dist(p Vec) float64 {
	x, y, _ := j.leaf.flat(p)
	return math.Hypot(x-j.p[0], y-j.p[1])
}

// Plane returns the plane n·p = d on which F vanishes, for an extruded leaf; a
// revolved one's is curved.
func (j *Joint) Plane() (n Vec, d float64, ok bool) {
	l := j.leaf
	if !l.Extruded {
		return Vec{}, 0, false
	}
	n = l.Frame.X.Scale(j.t[0]).AddScaled(j.t[1], l.Frame.Y)
	return n, n.Dot(l.Frame.Global(Vec{j.p[0], j.p[1], 0})), true
}

// Leaf is one primitive: an outline revolved about its frame's Z, or extruded
// along it from Z0 to Z1.
type Leaf struct {
	Name, Role string
	Frame      Frame
	Extruded   bool
	Z0, Z1     float64
	Elems      []Elem
	Patches    []Patch
	Joints     []Joint
	Box        Box

	rect   bool // an extruded axis-parallel rectangle, lo..hi in the frame
	lo, hi Vec
}

// flat returns p in the outline's plane, and its height for an extruded leaf.
func (l *Leaf) flat(p Vec) (x, y, z float64) {
	q := l.Frame.Local(p)
	if l.Extruded {
		return q[0], q[1], q[2]
	}
	return math.Sqrt(q[0]*q[0] + q[1]*q[1]), q[2], 0
}

// Dist is the exact signed distance to the leaf's surface, negative inside.
func (l *Leaf) Dist(p Vec) float64 {
	x, y, z := l.flat(p)
	if l.rect {
		return rectDist(Vec{x, y, z}, l.lo, l.hi)
	}
	d := SignedDist2(l.Elems, x, y)
	if !l.Extruded {
		return d
	}
	dz := max(l.Z0-z, z-l.Z1)
	if d > 0 && dz > 0 {
		return math.Sqrt(d*d + dz*dz)
	}
	return max(d, dz)
}

func rectDist(p, lo, hi Vec) float64 {
	m, o := math.Inf(-1), 0.0
	for i := range p {
		d := max(lo[i]-p[i], p[i]-hi[i])
		m = max(m, d)
		if d > 0 {
			o += d * d
		}
	}
	if m > 0 {
		return math.Sqrt(o)
	}
	return m
}

// Contains reports whether p lies strictly inside.
func (l *Leaf) Contains(p Vec) bool { return l.Box.Contains(p, 1e-9) && l.Dist(p) < 0 }

// Dist is the distance of q to the trimmed patch.
func (pa *Patch) Dist(q Vec) float64 {
	l := pa.Leaf
	x, y, z := l.flat(q)
	if pa.Elem >= 0 {
		d := l.Elems[pa.Elem].Dist(x, y)
		if l.Extruded {
			return math.Hypot(d, max(0, l.Z0-z, z-l.Z1))
		}
		return d
	}
	z -= l.Z0
	if pa.Elem == CapHigh {
		z += l.Z0 - l.Z1
	}
	var d float64
	if l.rect {
		d = math.Hypot(max(0, l.lo[0]-x, x-l.hi[0]), max(0, l.lo[1]-y, y-l.hi[1]))
	} else {
		d = max(0, SignedDist2(l.Elems, x, y))
	}
	return math.Sqrt(d*d + z*z)
}

// Holds reports whether q, already on the carrier, lies on the patch widened by eps.
func (pa *Patch) Holds(q Vec, eps float64) bool {
	return pa.Box.Contains(q, eps) && pa.Dist(q) <= eps
}

// globalBox bounds the box lo..hi of the frame in the world.
func globalBox(f *Frame, lo, hi Vec) Box {
	c := f.Global(lo.Add(hi).Scale(.5))
	h := hi.Sub(lo).Scale(.5)
	var b Box
	for i := range c {
		e := math.Abs(f.X[i])*h[0] + math.Abs(f.Y[i])*h[1] + math.Abs(f.Z[i])*h[2]
		b.Lo[i], b.Hi[i] = c[i]-e, c[i]+e
	}
	return b
}

// ringBox bounds what lies within r of the axis at heights z0..z1.
func ringBox(f *Frame, r, z0, z1 float64) Box {
	a, c := f.O.AddScaled(z0, f.Z), f.O.AddScaled(z1, f.Z)
	var b Box
	for i := range a {
		k := r * math.Sqrt(max(0, 1-sq(f.Z[i])))
		b.Lo[i], b.Hi[i] = min(a[i], c[i])-k, max(a[i], c[i])+k
	}
	return b
}

// At returns the point of the surface over segment i at fraction s along it and
// fraction t around the axis (revolved) or up the height (extruded).
func (l *Leaf) At(i int, s, t float64) Vec {
	e := &l.Elems[i]
	a, b := e.A[0]+s*(e.B[0]-e.A[0]), e.A[1]+s*(e.B[1]-e.A[1])
	if e.Arc {
		t0, t1 := e.Angles()
		sn, cs := math.Sincos(t0 + s*(t1-t0))
		a, b = e.C[0]+e.R*cs, e.C[1]+e.R*sn
	}
	if l.Extruded {
		return l.Frame.Global(Vec{a, b, l.Z0 + t*(l.Z1-l.Z0)})
	}
	sn, cs := math.Sincos(2 * math.Pi * t)
	return l.Frame.Global(Vec{a * cs, a * sn, b})
}
