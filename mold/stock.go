package mold

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Stock for lapping: the faces on which a piece meets others come off the machine
// higher by mold.mating.stock and are lapped down on a plain plate to where the piece
// has its dimensions. Shells and halves carry it on all their parting faces, a cup on
// its rim. Out of base, lid and strap registers and pedestals stand, so that no plate
// laps them; the hub's lands are measured from their faces, too.

// raw is a zone's piece as it leaves the machine: block and cuts of the piece itself,
// the zone grown by the stock.
func (b *builder) raw(z *Zone, root *solid.Node) *solid.Node {
	stock := solid.Round(b.Job.Mold.Mating.Stock)
	if stock == 0 || !b.lapped(z) || len(b.faults) > 0 {
		return root
	}
	split := *b.Split
	split.Cuts = slices.Clone(split.Cuts)
	for i := range split.Cuts {
		c := &split.Cuts[i]
		if overlap(c.Box, z.Box) {
			c.Node = b.throughStock(c, z, stock)
		}
	}
	grown := *z
	grown.Body = b.grown(z.Body.Leaf, stock)
	return split.Piece(&grown)
}

// lapped tells whether a piece's parting faces can be lapped on a plain plate.
func (b *builder) lapped(z *Zone) bool {
	return z.Kind == Shell || b.Job.Mold.Split == params.SplitCup && z.Pull[2] < 0
}

// grown is a zone whose every face lies s further out. Faces outside the block part
// nothing, wherever they lie.
func (b *builder) grown(zone *solid.Leaf, s float64) *solid.Node {
	var outline solid.Profile
	for _, e := range zone.Elems {
		outline = append(outline, solid.Corner{P: e.A})
	}
	outline, _ = outline.Offset(s, true) // a convex outline only grows
	return b.Model.Extrude(zone.Name, RoleParting, zone.Frame, zone.Z0-s, zone.Z1+s, outline)
}

// throughStock is a cut as it also opens through the stock. Holes go through, so that
// these stay as they are. What ends at the plane or a little beyond goes on straight, so
// that stock of any height neither shuts it in nor just reaches its end.
func (b *builder) throughStock(c *Cut, z *Zone, stock float64) *solid.Node {
	if c.Group == groupCavity && !c.Last {
		return b.openCavity(c.Node, z, stock)
	}
	if j := c.Jack; j != nil {
		return b.Model.Cylinder(c.Name, RoleJack, j.At, j.Dir, j.R, -stock-beyond, j.Length)
	}
	l := c.Node.Leaf
	if l == nil {
		return c.Node
	}
	switch l.Role {
	case RoleSprue, RoleVent:
		if out, ok := b.outward(z, l.Frame.O); ok {
			return solid.Union(c.Node, b.beforeChannel(l, out, stock))
		}
	case RoleBall:
		if out, ok := b.outward(z, l.Frame.O); ok {
			r := 0.0
			for _, e := range l.Elems {
				r = max(r, e.A[0])
			}
			return solid.Union(c.Node, b.Model.Cylinder(l.Name, l.Role, l.Frame.O, out, r, 0, stock+beyond))
		}
	case RolePry:
		return b.openSlot(c, z, stock)
	}
	return c.Node
}

// outward is the direction out of a zone on that of its parting planes on which a point
// lies, if there is one.
func (b *builder) outward(z *Zone, at mesh.Vec) (out mesh.Vec, ok bool) {
	switch at[2] {
	case z.Box.Lo[2]:
		return axisZ.Scale(-1), true
	case z.Box.Hi[2]:
		return axisZ, true
	}
	for _, s := range b.Layout.Sides {
		for deg, turn := range map[float64]float64{s.From: -1, s.To: 1} {
			u := direction(deg)
			out = mesh.Vec{-turn * u[1], turn * u[0], 0}
			if s.Name == z.Name && at.Dot(u) > 0 && math.Abs(at.Dot(out)) < solid.Lattice {
				return out, true
			}
		}
	}
	return out, false
}

// beforeChannel is what lies in the stock before half a channel, a hair wider so that
// the two just touch nowhere.
func (b *builder) beforeChannel(channel *solid.Leaf, out mesh.Vec, stock float64) *solid.Node {
	const wider = 0.1 // mm
	at, w := channel.Frame.O, (channel.Box.Hi[0]-channel.Box.Lo[0])/2+wider
	f := solid.Frame{X: out.Cross(axisZ), Y: out, Z: axisZ}
	x := at.Dot(f.X)
	return b.Model.BoxIn(channel.Name, channel.Role, f, mesh.Vec{x - w, 0, at[2]}, mesh.Vec{x + w, stock + beyond, channel.Box.Hi[2]})
}

// openSlot is a pry slot that goes on through the stock.
func (b *builder) openSlot(c *Cut, z *Zone, stock float64) *solid.Node {
	i := slices.IndexFunc(b.Layout.Slots, func(s Slot) bool { // on both sides of halves one has the same name
		at := s.Middle()
		return s.Name == c.Name && c.Box.Overlaps(mesh.Box{Lo: at, Hi: at}, 0)
	})
	if i < 0 {
		return c.Node
	}
	s := b.Layout.Slots[i]
	out, ok := b.outward(z, s.Middle())
	if !ok {
		return c.Node
	}
	f := s.Frame()
	for k, d := range []float64{out.Dot(f.X), out.Dot(f.Y), out.Dot(f.Z)} {
		past := (s.Lo[k]+s.Hi[k])/2 + d*(stock+beyond)
		switch {
		case d > .5:
			s.Hi[k] = max(s.Hi[k], past)
		case d < -.5:
			s.Lo[k] = min(s.Lo[k], past)
		}
	}
	return b.slot(&s)
}

// beyond is how far cuts reach past the stock, mm.
const beyond = 1.0

// openCavity is the cavity that goes on straight, as wide as at its parting planes,
// through the stock at the ends of a piece; its ribs do so anyway.
func (b *builder) openCavity(cavity *solid.Node, z *Zone, stock float64) *solid.Node {
	low, high := z.Box.Lo[2], z.Box.Hi[2]
	if high >= b.Layout.Ceil { // halves have no ends to lap
		return cavity
	}
	t := b.Tread
	coats := solid.Round(b.Job.Mold.Coats.Total())
	run, _ := t.coatedRun(coats) // coats has asked whether there is room
	p := t.lowerLand(coats)
	if low > b.Layout.Bottom {
		at, k := crossing(run, low, true)
		p = solid.Profile{}.LineTo(0, low-stock-beyond).LineTo(at[0], low-stock-beyond).As(RoleTread)
		run = slices.Clone(run[k:])
		run[0].P = at
	}
	at, k := crossing(run, high, false)
	p = append(p, run[:k+1]...).LineTo(at[0], high).As(RoleTread)
	p = p.LineTo(at[0], high+stock+beyond).LineTo(0, high+stock+beyond)
	n := b.Model.Revolve(cavity.Leaves()[0].Name, RoleTread, solid.AxisFrame(mesh.Vec{}, axisZ), p)
	if cavity.Op == solid.OpMinus {
		n = solid.Minus(n, cavity.Kids[1:]...)
	}
	return n
}

// crossing is the outermost point at height z of a run from a cavity's floor to its
// ceiling, and the first or last segment that it lies on.
func crossing(run solid.Profile, z float64, last bool) (at solid.Point2, segment int) {
	at[0] = math.Inf(-1)
	for i := range len(run) - 1 {
		for _, r := range radiiAt(solid.Profile{run[i], {P: run[i+1].P}}, z) {
			if r > at[0] || r == at[0] && last {
				at, segment = solid.Point2{r, z}, i
			}
		}
	}
	return at, segment
}

// radiiAt are the radii at which a segment passes height z; of a level one its ends.
// An arc that ends level there would cross it once more beside its end, by rounding.
func radiiAt(segment solid.Profile, z float64) (out []float64) {
	el := segment.Elems()
	for _, e := range el[:len(el)-1] { // the last one leads back
		for _, p := range []solid.Point2{e.A, e.B} {
			if p[1] == z {
				out = append(out, p[0])
			}
		}
		if !e.Arc {
			if (e.A[1]-z)*(e.B[1]-z) < 0 {
				out = append(out, e.A[0]+(z-e.A[1])/(e.B[1]-e.A[1])*(e.B[0]-e.A[0]))
			}
			continue
		}
		t0, t1 := e.Angles()
		if up := (z - e.C[1]) / e.R; math.Abs(up) < 1 {
			for _, a := range []float64{math.Asin(up), math.Pi - math.Asin(up)} {
				p := solid.Point2{e.C[0] + e.R*math.Cos(a), z}
				if s := solid.WrapAngle(a-t0) / (t1 - t0); s > 0 && s < 1 && !atOne(p, e.A, e.B) {
					out = append(out, p[0])
				}
			}
		}
	}
	return out
}

// atOne tells whether a point is one of an arc's ends but for the root of rounding,
// which is what a height that is off by rounding moves it by where the arc is level.
func atOne(p solid.Point2, ends ...solid.Point2) bool {
	const root = 1e-5 // mm
	return slices.ContainsFunc(ends, func(q solid.Point2) bool { return math.Hypot(p[0]-q[0], p[1]-q[1]) < root })
}
