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

// throughStock is a cut as it also opens through the stock. Pockets and slots lie
// evenly on both sides of a parting plane and holes go through, so that these stay as
// they are, but for the channels of halves, which open through it to their middles. What
// ends at the plane goes on straight: the cavity, and a jack's hole.
func (b *builder) throughStock(c *Cut, z *Zone, stock float64) *solid.Node {
	if c.Group == groupCavity && !c.Last {
		return b.openCavity(c.Node, z, stock)
	}
	if j := c.Jack; j != nil {
		return b.Model.Cylinder(c.Name, RoleJack, j.At, j.Dir, j.R, -stock-beyond, j.Length)
	}
	if l := c.Node.Leaf; l != nil && (l.Role == RoleSprue || l.Role == RoleVent) {
		return b.openChannel(c.Node, z, stock)
	}
	return c.Node
}

// openChannel is a channel together with what lies before it in the stock, if it lies
// on one of the zone's parting planes: else a wide one would leave lips there, a narrow
// one be shut in, and one as wide as the stock is high just touch its face.
func (b *builder) openChannel(channel *solid.Node, z *Zone, stock float64) *solid.Node {
	i := slices.IndexFunc(b.Layout.Sides, func(s Side) bool { return s.Name == z.Name })
	if i < 0 {
		return channel
	}
	leaf := channel.Leaf
	at := leaf.Frame.O
	const wider = 0.1 // mm, than the channel, so that the two touch nowhere
	w := (leaf.Box.Hi[0]-leaf.Box.Lo[0])/2 + wider
	for _, deg := range []float64{b.Layout.Sides[i].From, b.Layout.Sides[i].To} {
		u := direction(deg)
		out := mesh.Vec{-u[1], u[0], 0}
		if deg == b.Layout.Sides[i].From {
			out = out.Scale(-1)
		}
		if along := at.Dot(u); along > 0 && math.Abs(at.Dot(out)) < solid.Lattice {
			f := solid.Frame{X: u, Y: axisZ.Cross(u), Z: axisZ}
			y0, y1 := order(0, out.Dot(f.Y)*(stock+beyond))
			before := b.Model.BoxIn(leaf.Name, leaf.Role, f, mesh.Vec{along - w, y0, at[2]}, mesh.Vec{along + w, y1, leaf.Box.Hi[2]})
			return solid.Union(channel, before)
		}
	}
	return channel
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
