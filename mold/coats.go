package mold

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Coats of sealer lie on the faces that shape the rubber. The cavity of the coated
// mold is the tread (tread.go): rubber, volumes, pour and air are reckoned with it.
// The cavity that is cut into the pieces is larger by the coats, so that what is cut,
// coated and closed has the tread's dimensions. Mating faces and the lands that meet
// the hub stay bare: beside a land the floor lies deeper by the coats.

// coats puts the cavity below the coats in the place of the tread's among the cuts.
func (b *builder) coats(hub *solid.Node) {
	t := solid.Round(b.Job.Mold.Coats.Total())
	if t == 0 {
		return
	}
	run, ok := b.Tread.coatedRun(t)
	if f := b.tooThick(t, run, ok); len(f) > 0 {
		b.faults = append(b.faults, f...)
		return
	}
	n := b.Model.Revolve("tread cavity below its coats", RoleTread, solid.AxisFrame(mesh.Vec{}, axisZ), b.Tread.below(run, t))
	n = solid.Minus(n, b.Tread.coatedRibs(b.Model, t, run)...)
	cut := &b.Split.Cuts[0]
	coats := solid.Minus(n, cut.Node)
	cut.Node, cut.Box = n, n.Bounds()
	b.Coats = solid.Minus(solid.Union(append(b.coatPedestals(t), coats)...), b.Channels)
	if b.Tread.Ceiling > 0 { // a hub that stands out may fill what comes down to the land
		b.Coats = solid.Minus(b.Coats, hub)
	}
}

// filled is what fills the closed mold between its pieces and the hub.
func (b *builder) filled() []*solid.Node {
	if b.Coats == nil {
		return []*solid.Node{b.Rubber, b.Channels}
	}
	return []*solid.Node{b.Rubber, b.Channels, b.Coats}
}

// rubberRun is the part of the cavity's outline that shapes the rubber: from the hub's
// lower end out, up, and back in to its upper end.
func (t *Tread) rubberRun() solid.Profile {
	p := t.Cavity()
	p[0].P[0] = t.InnerR
	if t.Ceiling > 0 { // a coned ceiling comes down to the land itself
		return p[:len(p)-1]
	}
	p[len(p)-1].P[0] = t.InnerR
	return p
}

// coatedRun is the run below coats; not ok where a rib between grooves of the tread
// has no room for them.
func (t *Tread) coatedRun(coats float64) (solid.Profile, bool) {
	if coats == 0 {
		return t.rubberRun(), true
	}
	run, ok := t.rubberRun().Offset(coats, false)
	if ok && t.Slope > 0 {
		run = t.upright(run)
	}
	return run, ok
}

// upright lets the run of a drafted tread go straight up where it still widens above the
// upper face: what makes that face would be undercut there, and reach out over the faces
// that it mates with.
func (t *Tread) upright(run solid.Profile) solid.Profile {
	i := slices.IndexFunc(run, func(c solid.Corner) bool { return c.Role == RoleCeiling })
	edge, next := run[i].P, run[i+1].P
	seam, _ := crossing(run, t.Top, false)
	if edge[0] <= seam[0] {
		return run
	}
	run[i].P = solid.Point2{seam[0], edge[1] + (seam[0]-edge[0])*(next[1]-edge[1])/(next[0]-edge[0])}
	return slices.Insert(run, i, solid.Corner{P: seam, Role: RoleTread})
}

// below closes the run below coats to a cavity whose lands lie where the tread's do.
func (t *Tread) below(run solid.Profile, coats float64) solid.Profile {
	p := append(t.lowerLand(coats), run...)
	if coats > 0 && t.Ceiling == 0 {
		p = p.As(RoleCeiling).LineTo(t.InnerR, t.Top)
	}
	return p.As(RoleLand).LineTo(0, t.Top)
}

// lowerLand is the outline of the cavity from the axis to where the run begins.
func (t *Tread) lowerLand(coats float64) solid.Profile {
	p := solid.Profile{}.LineTo(0, 0).As(RoleLand)
	if coats > 0 {
		p = p.LineTo(t.InnerR, 0).As(RoleTreadFace)
	}
	return p
}

// coatedRib is the outline of a cross groove's rib below coats: flanks and foot drawn
// in. It too reaches past the tread surface into the shell.
func (t *Tread) coatedRib(coats, foot float64) solid.Profile {
	_, half, slope := t.ribSection()
	at := func(x float64) float64 { // the flank, drawn in square to itself
		return half + (x-t.CrossFoot())*slope - coats*math.Hypot(1, slope)
	}
	end := t.rib()[1].P[0] + coats
	return solid.Poly(foot, -at(foot), end, -at(end), end, at(end), foot, at(foot))
}

// coatedFoot is where the ribs below coats end, mm from the axis: as far out as the
// coats are thick, or a little more where the flat foot would just touch the round of a
// seam, an edge or a groove (as in clearFoot).
func (t *Tread) coatedFoot(coats float64, run solid.Profile) float64 {
	const apart = 0.02 // mm
	var radii []float64
	for _, z := range []float64{0, t.Top} { // where the parting planes pass the coats
		seam, _ := crossing(run, z, true)
		radii = append(radii, seam[0])
	}
	for _, c := range run {
		radii = append(radii, c.P[0])
	}
	foot := t.CrossFoot() + coats
	for slices.ContainsFunc(radii, func(r float64) bool { return math.Abs(foot-r) < apart }) {
		foot += apart
	}
	return foot
}

// coatedRibs are the ribs of the cross grooves below coats. They go on through floor
// and ceiling, where their ends mate bare.
func (t *Tread) coatedRibs(m *solid.Model, coats float64, run solid.Profile) []*solid.Node {
	var ribs []*solid.Node
	for i := range t.Cross.Count {
		name := fmt.Sprintf("cross groove %d below its coats", i+1)
		ribs = append(ribs, m.Extrude(name, RoleTread, t.ribFrame(i), -1-coats, t.Top+t.Ceiling+1+coats, t.coatedRib(coats, t.coatedFoot(coats, run))))
	}
	return ribs
}

// coatPedestals takes the coats off the sides of the pedestals that stand in the
// rubber, and returns them; their lands keep their height.
func (b *builder) coatPedestals(t float64) (coats []*solid.Node) {
	l, out := b.Layout, b.Core.EndR()
	ring := func(name string, z0, z1 float64) {
		n := b.Model.Revolve(name, RoleTreadFace, solid.AxisFrame(mesh.Vec{}, axisZ), solid.Poly(out-t, z0, out, z0, out, z1, out-t, z1))
		b.cut(name, groupCavity, "mold.coats.thickness", n)
		b.last().May, b.last().Last = []string{groupRecess}, true
		coats = append(coats, n)
	}
	if l.LandLow > 0 {
		ring("coats of the lower pedestal", -t, l.LandLow)
	}
	if l.LandTop < l.Top {
		ring("coats of the upper pedestal", l.LandTop, l.Top+b.Tread.Ceiling+t)
	}
	return coats
}

// tooThick is what has no room for coats so thick.
func (b *builder) tooThick(t float64, run solid.Profile, ok bool) params.Faults {
	const path = "mold.coats.thickness"
	var out params.Faults
	refuse := func(path, value, allowed, cause string) {
		out = append(out, params.Fault{Path: path, Value: value, Allowed: allowed, Cause: cause})
	}
	thin := b.Job.Process.MinFeature
	rib := func(width float64, what string) {
		if room := (width - thin) / 2; t > room {
			refuse(path, mm(t)+" in all", "at most "+mm(max(0, room))+" in all",
				"the mold's rib that makes "+what+" would be thinner before it is coated than this process makes, "+mm(thin))
		}
	}
	for i, g := range b.Tread.Grooves {
		rib(g.Width, fmt.Sprintf("groove %d of the tread", i+1))
	}
	if b.Tread.Cross.Count > 0 {
		rib(b.Tread.Cross.Width, "a cross groove")
	}
	if len(out) > 0 {
		return out
	}
	if !ok {
		refuse(path, mm(t)+" in all", "less", "the tread's edges and grooves leave no room for the coats")
		return out
	}
	b.channelsUnder(t, run, refuse)
	return out
}

// channelsUnder: the ceiling below the coats lies higher, where a sprue is wider. It may
// run over the ceiling's borders there as it does further up, but not just touch them.
func (b *builder) channelsUnder(t float64, run solid.Profile, refuse func(path, value, allowed, cause string)) {
	l := b.Layout
	edge := run[slices.IndexFunc(run, func(c solid.Corner) bool { return c.Role == RoleCeiling })].P[0]
	check := func(path string, circle, r float64) {
		if math.Abs(circle-r-b.Tread.InnerR) < touch || math.Abs(circle+r-edge) < touch {
			refuse(path, mm(2*circle), "moved by 0.1 mm", "the channel just touches the border of the ceiling below the coats")
		}
	}
	if len(l.Gates) > 0 {
		check("mold.sprue.circle", b.Job.Mold.Sprue.Circle/2, l.SprueR(t, l.Top))
	}
	if len(l.Vents) > 0 {
		check("mold.vents.circle", b.Job.Mold.Vents.Circle/2, l.VentR)
	}
}
