package mold

import (
	"fmt"
	"math"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// halfChord is half the chord of a circle of radius r at distance y from its
// center; not rounded, since an arc must end on its circle.
func halfChord(r, y float64) float64 { return math.Sqrt(r*r - y*y) }

// recesses and pedestals bring the mold's hub lands to the hub's ends: a hub
// that ends inside the tread meets a pedestal, one that stands out a recess.
func (b *builder) recesses() {
	l, r := b.Layout, b.Core.EndR()
	clear := solid.Round(b.Job.Process.Clearance / 2)
	root := 1.0                                   // mm into the plate, so that no face of the two is flush
	ped := func(zone string, r, z0, z1 float64) { // a clam has none: its hub stands out
		n := b.Model.Cylinder("pedestal of "+zone, RoleLand, mesh.Vec{}, axisZ, r, z0, z1)
		b.Split.Adds = append(b.Split.Adds, Added{zone, n})
	}
	rec := func(zone string, z0, z1 float64) {
		n := b.Model.Cylinder("hub recess of "+zone, RoleLand, mesh.Vec{}, axisZ, r+clear, z0, z1)
		b.cut("hub recess of "+zone, groupRecess, "hub.offset", n)
		b.last().May = []string{groupCavity}
	}
	switch {
	case l.LandLow > 0:
		ped(l.Below, r, -root, l.LandLow)
	case l.LandLow < 0:
		rec(orSides(l.Below), l.LandLow, 0)
	}
	switch {
	case l.LandTop < l.Top:
		ped(l.Above, b.pedestalR(), l.LandTop, l.Top+b.Tread.Ceiling+root)
	case l.LandTop > l.Top:
		rec(orSides(l.Above), l.Top, l.LandTop)
	}
}

// orSides names the plate, or the halves that stand in for it.
func orSides(plate string) string {
	if plate == "" {
		return "the halves"
	}
	return plate
}

// registers adds the plugs that key into the hub.
func (b *builder) registers() {
	lower, upper := b.Job.Mold.Registers()
	lowerPath, upperPath := "mold.register_back", "mold.register_front"
	if b.Job.Mold.FaceUp == "back" {
		lowerPath, upperPath = upperPath, lowerPath
	}
	b.register(b.Layout.Below, lowerPath, lower, false)
	b.register(b.Layout.Above, upperPath, upper, true)
}

func (b *builder) register(zone, path string, r params.Register, up bool) {
	c, rd := b.Core, solid.Round
	end, land, face := c.Lower, b.Layout.LandLow, c.Z0
	if up {
		end, land, face = c.Upper, b.Layout.LandTop, c.Z1()
	}
	open := map[string]float64{"bore": c.BoreR, "bearing": end.PocketR, "seat": end.SeatR}[r.Opening]
	if open <= 0 {
		return
	}
	const root = 1.0
	eng := rd(r.Engagement)
	top := math.Abs(face-land) + eng // from the land to the plug's end
	r0 := rd(open - r.Clearance/2)
	lead := rd(r.LeadIn)
	slope := math.Tan(r.Draft * math.Pi / 180)
	r1 := rd(r0 - slope*(top-lead))
	if r1-lead <= 0.5 || lead >= top {
		b.faults = append(b.faults, params.Fault{Path: path + ".lead_in", Value: mm(r.LeadIn), Allowed: "less than the register's length and radius", Cause: "the register would end in a point"})
		return
	}
	slope = (r0 - r1) / (top - lead)
	p := solid.Poly(0, -root, r0+slope*root, -root, r1, top-lead, r1-lead, top, 0, top)
	o, dir := mesh.Vec{0, 0, land}, axisZ
	if up {
		p = p.Flip(0)
	}
	n := b.Model.Revolve("register of "+zone, RoleRegister, solid.AxisFrame(o, dir), p)
	b.Split.Adds = append(b.Split.Adds, Added{zone, n})
	if r.Clearance < 0 {
		b.pressed = append(b.pressed, n)
	}
}

// balls cuts each ball's pair of pockets in one go. The pocket is a drilled
// cylinder with a 45° bottom that ends in a flat: it prints without support, any
// drill and chamfer cutter makes it, and the ball rests on the flat, not on the
// cone (the flat is wider than r·(√2-1), where a ball would touch both).
func (b *builder) balls() {
	for i, p := range b.Layout.Balls {
		flat := solid.Round(max(p.Diameter/2*.45, p.R-p.Depth*.8)) // a wide pocket keeps a wall
		d, c := p.Depth, p.R-flat
		prof := solid.Poly(0, -d, flat, -d, p.R, c-d, p.R, d-c, flat, d, 0, d)
		name := fmt.Sprintf("ball pocket %d of %s", i+1, p.Line)
		axis := axisZ
		if p.Axis == 1 {
			axis = axisY
		}
		b.cut(name, name, "mold.balls.diameter", b.Model.Revolve(name, RoleBall, solid.AxisFrame(p.At, axis), prof))
	}
}

func (b *builder) bolts() {
	l := b.Layout
	const past = 1.0
	for i, p := range l.Bolts {
		name := fmt.Sprintf("bolt hole %d", i+1)
		b.cut(name, name, "mold.bolts.size", b.Model.Cylinder(name, RoleBolt, p.At, axisZ, p.R, l.Bottom-past, l.Ceil+past))
		if p.HeadR > 0 {
			b.cut("counterbore of "+name, name, "mold.bolts.head", b.Model.Cylinder("counterbore of "+name, RoleBolt, p.At, axisZ, p.HeadR, p.Top-p.HeadD, l.Ceil+past))
		}
		if p.NutR > 0 {
			b.cut("nut recess of "+name, name, "mold.bolts.nut", b.Model.Extrude("nut recess of "+name, RoleBolt, solid.AxisFrame(p.At, axisZ), l.Bottom-past, l.Bottom+p.NutD, p.nutShape()))
		}
	}
	for i, p := range l.Cross {
		name := fmt.Sprintf("cross bolt hole %d", i+1)
		o := mesh.Vec{p.X, 0, p.Z}
		far := max(l.B, p.Grip) + past
		b.cut(name, name, "mold.side_clamp.size", b.Model.Cylinder(name, RoleBolt, o, axisY, p.R, -far, far))
		b.last().Sides = true
		if p.RecessR > p.R {
			for _, s := range []float64{1, -1} {
				y0, y1 := order(s*p.Grip, s*far)
				n := fmt.Sprintf("counterbore %+g of %s", s, name)
				b.cut(n, name, "mold.side_clamp.grip", b.Model.Cylinder(n, RoleBolt, o, axisY, p.RecessR, y0, y1))
				b.last().Sides = true
			}
		}
	}
	for _, p := range l.Jacks {
		o := p.At
		b.cut(p.Name, p.Name, "mold.jacks.size", b.Model.Cylinder(p.Name, RoleJack, o, p.Dir, p.R, 0, p.Length))
		b.last().Jack = &p
		side := p.Dir != axisZ && p.Dir != axisZ.Scale(-1)
		b.last().Sides = side
		if p.Wide > 0 {
			n := "clearance of " + p.Name
			b.cut(n, p.Name, "mold.jacks.size", b.Model.Cylinder(n, RoleJack, o, p.Dir, p.Wide, p.Thread, p.Length))
			b.last().Sides = side
		}
	}
}

// hexagon has its flats a from the center, two of them across y.
func hexagon(a float64) solid.Profile {
	e := 2 * a / math.Sqrt(3)
	h := e / 2
	return solid.Poly(e, 0, h, a, -h, a, -e, 0, -h, -a, h, -a)
}

// turned is the frame about the axis whose X lies at an angle in degrees from +X.
func turned(deg float64) solid.Frame {
	x := direction(deg)
	return solid.Frame{X: x, Y: mesh.Vec{-x[1], x[0], 0}, Z: axisZ}
}

func (b *builder) pry() {
	l := b.Layout
	for _, s := range l.Slots {
		b.cut(s.Name, s.Name, "mold.pry_slots.depth", b.slot(&s))
		// A strap bridges the slots that its groove runs across.
		b.last().Sides, b.last().May = true, []string{groupStrap}
	}
	if s := l.Strap; s != nil {
		far := l.B + 1
		ring := b.Model.Extrude("strap groove", RoleStrap, solid.AxisFrame(mesh.Vec{}, axisZ), s.Z0, s.Z1,
			solid.Poly(-far, -far, far, -far, far, far, -far, far), l.outlineProfile(s.Depth).Reversed())
		b.cut("strap groove", groupStrap, "mold.side_clamp.strap_depth", ring)
		b.last().Sides = true
	}
}

func (b *builder) channels() {
	l, t := b.Layout, b.Tread
	const past = 1.0
	var all []*solid.Node
	for i, p := range l.Gates {
		name := fmt.Sprintf("sprue %d", i+1)
		h := l.Ceil - t.Top
		grow := (l.MouthR - l.GateR) / h * past
		n := b.Model.Cone(name, RoleSprue, p, axisZ, l.GateR, 0, l.MouthR+grow, h+past)
		b.cut(name, name, "mold.sprue.gate", n)
		b.last().May, b.last().Last = []string{groupCavity}, true
		all = append(all, n)
	}
	for i, p := range l.Vents {
		name := fmt.Sprintf("vent %d", i+1)
		n := b.Model.Cylinder(name, RoleVent, p, axisZ, l.VentR, 0, l.Ceil-t.Top+past)
		b.cut(name, name, "mold.vents.diameter", n)
		b.last().May, b.last().Last = []string{groupCavity}, true
		all = append(all, n)
	}
	if len(all) == 0 {
		all = append(all, b.Model.Box("no channels", "", mesh.Vec{}, mesh.Vec{1, 1, 1}))
		b.Channels = solid.Minus(all[0], all[0])
		return
	}
	b.Channels = solid.Minus(solid.Intersect(b.Block, solid.Union(all...)), b.Split.Cuts[0].Node)
}

// seals fill the designed gap between a land and the hub's end, from the widest
// opening of that end to its rim; none if the job names no seal.
func (b *builder) seals() []*solid.Node {
	l, c := b.Layout, b.Core
	var out []*solid.Node
	if b.Job.Mold.Stack.Seal == "none" {
		return nil
	}
	ring := func(name string, in, z0, z1 float64) {
		out = append(out, b.Model.Revolve(name, RoleSeal, solid.AxisFrame(mesh.Vec{}, axisZ), solid.Poly(in, z0, c.EndR(), z0, c.EndR(), z1, in, z1)))
	}
	if l.GapLow > 0 {
		ring("lower hub seal", sealInner(c, c.Lower), l.LandLow, c.Z0)
	}
	if l.GapTop > 0 {
		ring("upper hub seal", sealInner(c, c.Upper), c.Z1(), l.LandTop)
	}
	return out
}

// sealInner is the seal's inner radius: a little outside the widest opening,
// whose bolt holes it would else just touch.
func sealInner(c *hub.Core, e hub.End) float64 {
	open := c.OpeningR(e)
	return solid.Round(open + (c.EndR()-open)/8)
}
