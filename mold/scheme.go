package mold

import (
	"math"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Side is one of the pieces that lie around the axis.
type Side struct {
	Name     string
	From, To float64 // degrees from +X, counterclockwise

	pose  Pose
	plate float64 // the flat side that carries its mark: 1 at +y, -1 at -y
	half  float64 // of which it has all (0), or what lies at x > 0 (1) or x < 0 (-1)
}

// middle is the direction in which it is drawn off.
func (s *Side) middle() mesh.Vec { return direction((s.From + s.To) / 2) }

// Parting is a half plane from the axis outward on which two sides meet.
type Parting struct {
	Line  string    // name of the parting line
	Angle float64   // degrees from +X
	Sides [2]string // the pieces that meet there
}

// Outward is the direction in the plane away from the axis.
func (p *Parting) Outward() mesh.Vec { return direction(p.Angle) }

// direction across the axis at an angle in degrees; multiples of a quarter turn are exact.
func direction(deg float64) mesh.Vec {
	s, c := math.Sincos(deg * math.Pi / 180)
	if quarter := math.Mod(deg, 90) == 0; quarter {
		s, c = math.Round(s), math.Round(c)
	}
	return mesh.Vec{c, s, 0}
}

// scheme is what the job's split consists of, before anything is measured. The pieces
// around the axis lie on a flat side that lets all of their cavity and of their
// parting faces look up.
func (l *Layout) scheme(m *params.Mold) {
	switch m.Split {
	case params.SplitClam:
		l.Sides = sides("half-", m.Segments)
	case params.SplitCup:
		l.Below, l.Above = "cup", "lid"
	case params.SplitOpen:
		l.Below, l.Above, l.Sides = "base", "strap", sides("shell-", m.Segments)
	default:
		l.Below, l.Above, l.Sides = "base", "lid", sides("shell-", m.Segments)
	}
	l.partings()
}

// sides are n equal pieces around the axis. No parting plane passes a corner, where
// balls and bolts are; two part on y = 0.
func sides(prefix string, n int) []Side {
	poses := map[int][]Side{
		2: {{pose: YDown, plate: 1}, {pose: MinusYDn, plate: -1}},
		3: {{pose: YDown, plate: 1}, {pose: MinusXDn, plate: -1, half: -1}, {pose: XDown, plate: -1, half: 1}},
		4: {{pose: YDown, plate: 1, half: 1}, {pose: YDown, plate: 1, half: -1}, {pose: MinusYDn, plate: -1, half: -1}, {pose: MinusYDn, plate: -1, half: 1}},
	}
	first := map[int]float64{2: 0, 3: 30, 4: 0}[n]
	out := poses[n]
	for i := range out {
		s := &out[i]
		s.Name = prefix + string(rune('a'+i))
		s.From, s.To = first+360*float64(i)/float64(n), first+360*float64(i+1)/float64(n)
	}
	return out
}

// partings are where one side ends and the next begins. Two meet twice.
func (l *Layout) partings() {
	n := len(l.Sides)
	for i := range l.Sides {
		a, b := &l.Sides[i], &l.Sides[(i+n-1)%n]
		if a.Name > b.Name {
			a, b = b, a
		}
		line := Title(a.Name) + "/" + Title(b.Name)
		if n == 2 && l.Below != "" {
			line += map[bool]string{true: " at +x", false: " at -x"}[i == 0]
		}
		l.Partings = append(l.Partings, Parting{line, l.Sides[i].From, [2]string{a.Name, b.Name}})
	}
}

// Around is what the pieces between the plates are called together: shells, halves, or
// the cup.
func (l *Layout) Around() string {
	switch {
	case len(l.Sides) == 0:
		return l.Below
	case l.Below == "":
		return "halves"
	}
	return "shells"
}

// OpenTop tells whether nothing covers the rubber but a strap's arms.
func (l *Layout) OpenTop() bool { return l.Above == "strap" }

// LineLow and LineTop name the parting lines of the lower and the upper plate; ""
// where there is none.
func (l *Layout) LineLow() string {
	if l.Below == "" || len(l.Sides) == 0 {
		return ""
	}
	return l.Below + "/" + l.Around()
}

// LineTop names the parting line of the upper plate; "" where there is none.
func (l *Layout) LineTop() string {
	if l.Above == "" {
		return ""
	}
	return l.Above + "/" + l.Around()
}

// SideLines names the parting lines along the axis.
func (l *Layout) SideLines() []string {
	var out []string
	for i := range l.Partings {
		out = append(out, l.Partings[i].Line)
	}
	return out
}

// level is a parting plane across the axis.
type level struct {
	line   string
	z      float64
	keeper string // the piece in whose pockets the balls stay
	odd    int    // corner of the ball off the pattern
}

// levels are the parting planes across the axis. The odd balls of two planes sit in
// different corners, so that neither plane fits the other's pattern. A strap only
// reaches the corners 0 and 2.
func (l *Layout) levels() []level {
	var out []level
	if line := l.LineLow(); line != "" {
		out = append(out, level{line, 0, l.Below, 0})
	}
	switch {
	case l.OpenTop():
		out = append(out, level{l.LineTop(), l.Part, "", 2})
	case l.Above != "":
		out = append(out, level{l.LineTop(), l.Part, "", 1})
	}
	return out
}

// reaches tells whether the plate of a level has a corner.
func (l *Layout) reaches(v *level, corner int) bool {
	return v.line != l.LineTop() || l.strapped(corner)
}

// strapped tells whether the upper plate covers a corner.
func (l *Layout) strapped(corner int) bool { return !l.OpenTop() || corner%2 == 0 }

// keeperAt is the side around the axis whose pocket holds a ball at an angle.
func (l *Layout) keeperAt(deg float64) string {
	for i := range l.Sides {
		s := &l.Sides[i]
		if d := math.Mod(deg-s.From+720, 360); d < s.To-s.From {
			return s.Name
		}
	}
	return l.Below
}

// Top of what the shells enclose, and the heights between which they lie.
func (p *placer) heights() {
	p.Part, p.SideLow, p.SideHigh = p.Top, 0, p.Top
	switch {
	case p.Below == "": // clam
		p.SideLow, p.SideHigh = p.Bottom, p.Ceil
	case len(p.Sides) == 0: // cup
		p.Part = p.t.widest()
		p.SideLow = p.Bottom
		p.SideHigh = p.Part
	case p.OpenTop():
		p.arch = solid.Round(min(strapArch, p.j.Mold.LidThickness-p.wall))
	}
}

// strapArch is how high the strap's arms clear the open rubber, mm: room for a
// brimful of it and for pouring; assumed.
const strapArch = 4.0

// widest is the height at which a cup ends, so that its cavity widens up to there:
// below the rounding of the upper edge, or in the middle of a crown, and not within
// a groove around the tread.
func (t *Tread) widest() float64 {
	const below = 0.25 // mm, clear of the rounding's end
	if t.CrownR > 0 {
		return t.clearOfGrooves(solid.Round(t.Width / 2))
	}
	if t.EdgeSize == 0 {
		return t.Top
	}
	return t.clearOfGrooves(solid.Round(t.Width - t.EdgeSize - below))
}

// clearOfGrooves moves a height upward out of grooves around the tread.
func (t *Tread) clearOfGrooves(z float64) float64 {
	const apart = 0.25 // mm
	for _, g := range t.Grooves {
		if lo, hi := g.Position-g.Width/2-apart, g.Position+g.Width/2+apart; z > lo && z < hi {
			z = solid.Round(hi)
		}
	}
	return min(z, t.Top)
}

// zones are the regions of the pieces.
func (b *builder) zones() []Zone {
	l := b.Layout
	far := l.OuterX + 10 // past every outer face, so that only parting planes cut
	box := func(name string, z0, z1 float64, pull mesh.Vec, pose Pose) Zone {
		n := b.Model.Box("parting face of "+name, RoleParting, mesh.Vec{-far, -far, z0}, mesh.Vec{far, far, z1})
		return Zone{Name: name, Kind: Plate, Body: n, Box: n.Leaf.Box, Pull: pull, Pose: pose}
	}
	var out []Zone
	if l.Below != "" {
		out = append(out, box(l.Below, l.Bottom-10, l.foot(), axisZ.Scale(-1), AsIs))
	}
	z0, z1 := l.foot(), l.Part
	if l.Below == "" {
		z0, z1 = l.Bottom-10, l.Ceil+10
	}
	for i := range l.Sides {
		out = append(out, b.sideZone(&l.Sides[i], far, z0, z1))
	}
	if l.Above != "" {
		z := box(l.Above, l.Part, l.Ceil+10, axisZ, OverX)
		if l.OpenTop() {
			z.Body = solid.Intersect(z.Body, b.strapShape())
		}
		out = append(out, z)
	}
	return out
}

// foot is the plane on which the lower plate ends.
func (l *Layout) foot() float64 {
	if len(l.Sides) == 0 {
		return l.Part
	}
	return 0
}

// sideZone is a sector between two half planes: a box where they lie along the axes.
func (b *builder) sideZone(s *Side, far, z0, z1 float64) Zone {
	name := "parting face of " + s.Name
	z := Zone{Name: s.Name, Kind: Shell, Pull: s.middle(), Pose: s.pose}
	from, to := direction(s.From), direction(s.To)
	if math.Mod(s.From, 90) == 0 && math.Mod(s.To, 90) == 0 {
		box := mesh.EmptyBox().Include(from.Scale(far)).Include(to.Scale(far)).Include(s.corner(far))
		box.Lo[2], box.Hi[2] = z0, z1
		z.Body = b.Model.Box(name, RoleParting, box.Lo, box.Hi)
	} else {
		reach := 4 * far // a third of a circle between chords this long holds the block
		p, q := hub.Polar(reach, s.From), hub.Polar(reach, s.To)
		z.Body = b.Model.Extrude(name, RoleParting, solid.AxisFrame(mesh.Vec{}, axisZ), z0, z1, solid.Poly(0, 0, p[0], p[1], q[0], q[1]))
	}
	z.Box = z.Body.Leaf.Box
	return z
}

// corner of the box around a half or a quarter.
func (s *Side) corner(far float64) mesh.Vec {
	m := s.middle()
	if s.To-s.From == 180 {
		return m.Scale(far)
	}
	return mesh.Vec{math.Copysign(far, m[0]), math.Copysign(far, m[1]), 0}
}

// strapShape is a bar along the diagonal through the corners 0 and 2, with a disk over
// the end of the hub.
func (b *builder) strapShape() *solid.Node {
	l := b.Layout
	const past = 20.0
	c := math.Sqrt2 / 2
	f := solid.Frame{X: mesh.Vec{c, c, 0}, Y: mesh.Vec{-c, c, 0}, Z: axisZ}
	far, w := 2*l.OuterX+past, l.strapHalf
	bar := b.Model.BoxIn("strap's bar", RoleOuter, f, mesh.Vec{-far, -w, l.Part - past}, mesh.Vec{far, w, l.Ceil + past})
	disk := b.Model.Cylinder("strap's disk", RoleOuter, mesh.Vec{}, axisZ, b.pedestalR(), l.Part-past, l.Ceil+past)
	return solid.Union(bar, disk)
}

// pedestalR is the radius of what the upper plate sets on the hub's end. Under an open
// top it gives way to the coats on it all the way up; in a lid, only below the ceiling.
func (b *builder) pedestalR() float64 {
	r := b.Core.EndR()
	if b.Layout.OpenTop() && b.Layout.LandTop < b.Layout.Top {
		r -= solid.Round(b.Job.Mold.Coats.Total())
	}
	return r
}

// openTop clears the strap's arms from the rubber and its land.
func (b *builder) openTop() {
	l := b.Layout
	if !l.OpenTop() {
		return
	}
	in, out := b.pedestalR(), solid.Round(l.begin-min(l.wall, l.land/2))
	n := b.Model.Revolve("open top", RoleOuter, solid.AxisFrame(mesh.Vec{}, axisZ), solid.Poly(in, l.Top, out, l.Top, out, l.Top+l.arch, in, l.Top+l.arch))
	b.cut("open top", groupOpen, "mold.lid_thickness", n)
	b.last().May = []string{groupCavity, groupRecess}
}

// sideLetter is the letter of a piece that lies around the axis.
func sideLetter(piece string) (string, bool) {
	for _, prefix := range []string{"shell-", "half-"} {
		if letter, ok := strings.CutPrefix(piece, prefix); ok {
			return strings.ToUpper(letter), true
		}
	}
	return "", false
}
