// Package solid is the labeled CSG tree from which everything else is read:
// mesh/field reads it as a distance field, mesh/brep as exact trimmed faces.
//
// A leaf is a line/arc outline revolved about, or extruded along, the Z of its
// own frame; every segment of the outline makes a patch of one carrier surface.
// Equal surfaces of all leaves of a Model are one *Carrier, so that flush faces
// of different leaves are known to be flush by identity, not by comparing
// numbers. Leaves carry names and roles that end up on faces and in messages.
//
// The package guarantees exact signed distances per leaf and exact orientation
// per patch. It does not check that a tree is sensible: an empty intersection or
// a self-crossing outline is the caller's fault.
package solid

import "math"

// Lattice is the grid on which meshes are written, mm: a power of two, so that
// float32 holds every multiple up to 1024 mm exactly. Dimensions that place
// planes are rounded to it (Round), which puts parting faces on their plane to
// the bit in every file.
const Lattice = 1.0 / 16384

// Round returns x rounded to the lattice.
func Round(x float64) float64 { return math.Round(x/Lattice) * Lattice }

// Model owns carriers and leaves. Build every leaf before reading any tree:
// carriers collect what of them is in use.
type Model struct {
	Carriers []*Carrier
	Leaves   []*Leaf
}

// NewModel returns an empty model.
func NewModel() *Model { return &Model{} }

// intern returns the model's carrier equal to c, adding it if it is new.
func (m *Model) intern(c Carrier) *Carrier {
	for _, t := range m.Carriers {
		if t.same(&c) {
			t.use(&c)
			return t
		}
	}
	c.ID = len(m.Carriers)
	m.Carriers = append(m.Carriers, &c)
	return &c
}

// plane interns the plane through the point o with outward normal n and returns
// the sign of n against the carrier's normal.
func (m *Model) plane(o, n Vec) (*Carrier, float64) {
	k, turned := canonical(n)
	x, y := Across(k)
	c := m.intern(Carrier{Kind: Plane, Frame: Frame{X: x, Y: y, Z: k}, D: k.Dot(o)})
	if turned {
		return c, -1
	}
	return c, 1
}

// PlaneNear returns the plane through o across the unit vector n: the model's own
// where one lies within tol of it, mm, else a new one that no leaf uses, with the
// ID -1. turned: its normal runs against n. The model stays as it is.
func (m *Model) PlaneNear(o, n Vec, tol float64) (c *Carrier, turned bool) {
	for i := range n { // exact axes stay exact
		if math.Abs(n[i]) < 1e-15 {
			n[i] = 0
		}
	}
	k, turned := canonical(n)
	x, y := Across(k)
	c = &Carrier{Kind: Plane, ID: -1, Frame: Frame{X: x, Y: y, Z: k}, D: k.Dot(o)}
	d := c.D
	for _, t := range m.Carriers {
		if t.Kind == Plane && t.Frame.Z.Dist(k) <= dirTol && math.Abs(t.D-d) < tol {
			c, tol = t, math.Abs(t.D-d)
		}
	}
	return c, turned
}

func (m *Model) add(l *Leaf) *Node {
	for i := range l.Patches {
		l.Patches[i].Leaf = l
	}
	m.Leaves = append(m.Leaves, l)
	return &Node{Op: OpLeaf, Leaf: l}
}

// Revolve turns the outlines, given in (r, z) with r >= 0, about f.Z.
func (m *Model) Revolve(name, role string, f Frame, outlines ...Profile) *Node {
	if z, turned := canonical(f.Z); turned {
		x, y := Across(z)
		f = Frame{O: f.O, X: x, Y: y, Z: z}
		flipped := make([]Profile, len(outlines))
		for i, p := range outlines {
			flipped[i] = p.Flip(0)
		}
		outlines = flipped
	}
	l := &Leaf{Name: name, Role: role, Frame: f}
	rmax, z0, z1 := 0.0, math.Inf(1), math.Inf(-1)
	for _, p := range outlines {
		first := len(l.Elems)
		for _, e := range p.Elems() {
			sign := m.revolvedCarrier(&e, f)
			lo, hi := e.bounds()
			rmax, z0, z1 = max(rmax, hi[0]), min(z0, lo[1]), max(z1, hi[1])
			l.Elems = append(l.Elems, e)
			if e.Carrier != nil {
				l.Patches = append(l.Patches, Patch{Carrier: e.Carrier, Elem: len(l.Elems) - 1, Sign: sign, Role: roleOf(e.Role, role), Box: ringBox(&f, hi[0], lo[1], hi[1])})
			}
		}
		l.joints(first, func(p Point2) Box { return ringBox(&f, p[0], p[1], p[1]) })
	}
	l.Box = ringBox(&f, rmax, z0, z1)
	return m.add(l)
}

func roleOf(own, leaf string) string {
	if own != "" {
		return own
	}
	return leaf
}

// revolvedCarrier interns the surface that e sweeps about f.Z, sets e.Carrier,
// and returns the sign of the outward normal.
func (m *Model) revolvedCarrier(e *Elem, f Frame) float64 {
	lo, hi := e.bounds()
	c := Carrier{Frame: f, MaxR: hi[0], H0: lo[1], H1: hi[1]}
	switch {
	case e.Arc:
		c.Kind, c.R0, c.Z0, c.M = Torus, e.C[0], e.C[1], e.R
		if e.C[0] == 0 {
			c.Kind = Sphere
		}
		x, y := (e.A[0]+e.B[0])/2-e.C[0], (e.A[1]+e.B[1])/2-e.C[1]
		h := math.Hypot(x, y)
		c.VX, c.VY = x/h, y/h
		e.Carrier = m.intern(c)
		if e.CCW {
			return 1
		}
		return -1
	case e.A[0] == 0 && e.B[0] == 0:
		return 0
	case e.A[1] == e.B[1]:
		out := f.Z
		if e.B[0] > e.A[0] { // travelling outward, material above
			out = out.Scale(-1)
		}
		var s float64
		e.Carrier, s = m.plane(f.O.AddScaled(e.A[1], f.Z), out)
		return s
	case e.A[0] == e.B[0]:
		c.Kind, c.R0 = Cylinder, e.A[0]
		e.Carrier = m.intern(c)
		if e.B[1] < e.A[1] {
			return -1
		}
		return 1
	}
	h := math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1])
	c.Kind, c.R0, c.Z0 = Cone, e.A[0], e.A[1]
	c.DR, c.DZ = (e.B[0]-e.A[0])/h, (e.B[1]-e.A[1])/h
	s := 1.0
	if c.DZ < 0 {
		c.DR, c.DZ, s = -c.DR, -c.DZ, -1
	}
	e.Carrier = m.intern(c)
	return s
}

// Extrude sweeps the outlines, given in (x, y) of f, along f.Z from z0 to z1.
func (m *Model) Extrude(name, role string, f Frame, z0, z1 float64, outlines ...Profile) *Node {
	l := &Leaf{Name: name, Role: role, Frame: f, Extruded: true, Z0: z0, Z1: z1}
	lo, hi := Vec{math.Inf(1), math.Inf(1), z0}, Vec{math.Inf(-1), math.Inf(-1), z1}
	for _, p := range outlines {
		first := len(l.Elems)
		for _, e := range p.Elems() {
			sign := m.extrudedCarrier(&e, f, z0, z1)
			a, b := e.bounds()
			lo[0], lo[1], hi[0], hi[1] = min(lo[0], a[0]), min(lo[1], a[1]), max(hi[0], b[0]), max(hi[1], b[1])
			l.Elems = append(l.Elems, e)
			l.Patches = append(l.Patches, Patch{Carrier: e.Carrier, Elem: len(l.Elems) - 1, Sign: sign, Role: roleOf(e.Role, role),
				Box: globalBox(&f, Vec{a[0], a[1], z0}, Vec{b[0], b[1], z1})})
		}
		l.joints(first, func(p Point2) Box { return globalBox(&f, Vec{p[0], p[1], z0}, Vec{p[0], p[1], z1}) })
	}
	for _, q := range []struct {
		elem int
		z, s float64
	}{{CapLow, z0, -1}, {CapHigh, z1, 1}} {
		c, s := m.plane(f.O.AddScaled(q.z, f.Z), f.Z.Scale(q.s))
		l.Patches = append(l.Patches, Patch{Carrier: c, Elem: q.elem, Sign: s, Role: role,
			Box: globalBox(&f, Vec{lo[0], lo[1], q.z}, Vec{hi[0], hi[1], q.z})})
	}
	l.Box = globalBox(&f, lo, hi)
	return m.add(l)
}

func (m *Model) extrudedCarrier(e *Elem, f Frame, z0, z1 float64) float64 {
	if e.Arc {
		g := AxisFrame(f.Global(Vec{e.C[0], e.C[1], 0}), f.Z)
		h0, h1 := z0, z1
		if z, turned := canonical(g.Z); turned {
			g.X, g.Y = Across(z)
			g.Z = z
			h0, h1 = -z1, -z0
		}
		e.Carrier = m.intern(Carrier{Kind: Cylinder, Frame: g, R0: e.R, MaxR: e.R, H0: h0, H1: h1})
		if e.CCW {
			return 1
		}
		return -1
	}
	t := e.tangent(e.A)
	out := f.X.Scale(t[1]).AddScaled(-t[0], f.Y)
	for i := range out { // a sum of exact axes stays exact
		if math.Abs(out[i]) < 1e-15 {
			out[i] = 0
		}
	}
	var s float64
	e.Carrier, s = m.plane(f.Global(Vec{e.A[0], e.A[1], 0}), out)
	return s
}

// smoothSine: segments that turn by less than this are joined smoothly for the
// purpose of cutting; a little too many joints do no harm.
const smoothSine = 0.02

// joints records the smooth corners of the outline whose segments start at first.
func (l *Leaf) joints(first int, box func(Point2) Box) {
	n := len(l.Elems) - first
	for i := 0; i < n; i++ {
		e, g := &l.Elems[first+i], &l.Elems[first+(i+1)%n]
		if e.Carrier == nil || g.Carrier == nil || e.Carrier == g.Carrier {
			continue
		}
		a, b := e.tangent(e.B), g.tangent(g.A)
		if math.Abs(a[0]*b[1]-a[1]*b[0]) < smoothSine {
			l.Joints = append(l.Joints, Joint{leaf: l, p: e.B, t: a, Box: box(e.B)})
		}
	}
}

// Box is the block lo..hi.
func (m *Model) Box(name, role string, lo, hi Vec) *Node {
	return m.BoxIn(name, role, Frame{X: axes[0], Y: axes[1], Z: axes[2]}, lo, hi)
}

// BoxIn is the block lo..hi of a frame of its own.
func (m *Model) BoxIn(name, role string, f Frame, lo, hi Vec) *Node {
	n := m.Extrude(name, role, f, lo[2], hi[2], Poly(lo[0], lo[1], hi[0], lo[1], hi[0], hi[1], lo[0], hi[1]))
	n.Leaf.rect, n.Leaf.lo, n.Leaf.hi = true, lo, hi
	return n
}

// Cylinder is the drill of radius r about the line through o along dir, from z0
// to z1 measured along dir from o.
func (m *Model) Cylinder(name, role string, o, dir Vec, r, z0, z1 float64) *Node {
	return m.Cone(name, role, o, dir, r, z0, r, z1)
}

// Cone is the frustum with radius r0 at z0 and r1 at z1 along dir from o.
func (m *Model) Cone(name, role string, o, dir Vec, r0, z0, r1, z1 float64) *Node {
	return m.Revolve(name, role, AxisFrame(o, dir), Poly(0, z0, r0, z0, r1, z1, 0, z1))
}

// Ball is the ball of radius r about o; its poles lie on the line along dir.
func (m *Model) Ball(name, role string, o, dir Vec, r float64) *Node {
	p := Profile{}.LineTo(0, -r).ArcTo(0, r, 0, 0, true)
	return m.Revolve(name, role, AxisFrame(o, dir), p)
}
