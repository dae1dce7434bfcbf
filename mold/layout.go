package mold

import (
	"math"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Layout is where everything of the mold goes: the result of self-placement
// from the job's numbers. Lengths in mm on the lattice; the frame is the mold's.
type Layout struct {
	Outline          string
	B                float64 // half the side, or radius, of the outline
	FaceY            float64 // distance of the flat faces at ±y
	OuterX           float64 // reach along x at the shells' parting plane, lugs included
	Top              float64 // of the cavity; it stands on z = 0
	Part             float64 // the parting plane of the upper plate; as Top unless below a cup's lid
	Bottom, Ceil     float64 // underside and top of the block
	SideLow          float64 // ends of the pieces around the axis, or of the cup
	SideHigh         float64
	Below, Above     string    // names of the plates; "" where there is none
	Sides            []Side    // pieces around the axis; a cup has none
	Partings         []Parting // on which they meet
	LandLow, LandTop float64   // the mold's faces that meet the hub's ends
	GapLow, GapTop   float64   // between land and hub

	Balls   []Ball
	Bolts   []Bolt
	Cross   []CrossBolt
	Lugs    []Lug
	Slots   []Slot
	Jacks   []Jack
	Strap   *Strap
	Gates   []mesh.Vec // at the ceiling
	Vents   []mesh.Vec
	GateR   float64
	MouthR  float64
	VentR   float64
	Hidden  int // gates and vents whose scars the cover hides
	Visible int // the others

	wall, land float64
	begin      float64 // radius outside of which features may lie
	strapHalf  float64 // half the width of a strap's bar
	arch       float64 // by which its arms clear the open rubber
}

// Reach is how far the block reaches from the axis in a direction across it, lugs
// aside, mm.
func (l *Layout) Reach(dir mesh.Vec) float64 {
	r := math.Inf(1)
	for _, e := range l.outlineProfile(0).Elems() {
		if e.Arc { // about the axis
			r = min(r, e.R)
			continue
		}
		// The outline is convex and counterclockwise: n points out.
		n := [2]float64{e.B[1] - e.A[1], e.A[0] - e.B[0]}
		if along := n[0]*dir[0] + n[1]*dir[1]; along > 0 {
			r = min(r, (n[0]*e.A[0]+n[1]*e.A[1])/along)
		}
	}
	return r
}

// Ball is one locating ball: two facing round pockets across a parting plane.
type Ball struct {
	At       mesh.Vec // on the parting plane
	Axis     int      // normal of the parting plane: 1 (y) or 2 (z)
	Keeper   string   // the piece in whose pocket it stays
	Diameter float64  // of the ball, ISO 3290
	R        float64  // of the pocket
	Depth    float64  // of each pocket
	Line     string   // parting line
	Odd      bool     // off the pattern
}

// TowardSprue is the direction in the plan from the axis to the first sprue; +y where
// there is none, or it stands on the axis.
func (l *Layout) TowardSprue() mesh.Vec {
	if len(l.Gates) > 0 && math.Hypot(l.Gates[0][0], l.Gates[0][1]) > 0 {
		return mesh.Vec{l.Gates[0][0], l.Gates[0][1], 0}.Unit()
	}
	return axisY
}

// Bolt is one clamp bolt along the axis.
type Bolt struct {
	At           mesh.Vec
	Top          float64 // of the piece that its head bears on
	R            float64 // clearance hole
	HeadR, HeadD float64 // counterbore for the head
	NutR, NutD   float64 // recess in the base: radius, or half the width across flats
	NutHex       bool
	NutCorner    float64 // radius in the corners of a hexagon; 0: sharp
}

// Length is the least length of the bolt under its head that fills its nut, mm.
func (b *Bolt) Length(l *Layout, nut float64) float64 {
	return b.Top - b.HeadD - l.Bottom - b.NutD + nut
}

// nutReach is the nut recess's largest radius.
func (b *Bolt) nutReach() float64 {
	switch {
	case b.NutCorner > 0:
		return b.NutReach(0)
	case b.NutHex:
		return b.NutR * 2 / math.Sqrt(3)
	}
	return b.NutR
}

// CrossBolt is one bolt across the shells, along y.
type CrossBolt struct {
	X, Z    float64
	R       float64
	RecessR float64
	Grip    float64 // the recess starts this far from the parting plane
}

// Lug is an ear on the shells that carries a cross bolt outside the outline.
type Lug struct{ Lo, Hi mesh.Vec }

// Jack is a tapped hole whose screw pushes on the facing piece.
type Jack struct {
	Name   string
	At     mesh.Vec // on the parting plane
	Dir    mesh.Vec // away from the parting plane, through the tapped piece
	R      float64  // tap drill
	Length float64
	// Beyond Thread the hole is as wide as the screw passes; Wide 0: tapped through.
	Thread, Wide float64
}

// Strap is a groove around the shells for a band or hose clamp.
type Strap struct{ Z0, Z1, Depth float64 }

// placer carries what placement needs and collects what does not fit.
type placer struct {
	*Layout
	j      *params.Job
	t      *Tread
	core   *hub.Core
	faults params.Faults
	warns  params.Faults
	comp   float64 // added to hole radii by the making process
}

func (p *placer) fault(path, value, allowed, cause string) {
	p.faults = append(p.faults, params.Fault{Path: path, Value: value, Allowed: allowed, Cause: cause})
}

func (p *placer) warn(path, value, allowed, cause string) {
	p.warns = append(p.warns, params.Fault{Path: path, Value: value, Allowed: allowed, Cause: cause})
}

// place lays the mold out around the cavity.
func place(j *params.Job, t *Tread, core *hub.Core) (*Layout, params.Faults, params.Faults) {
	m := &j.Mold
	rd := solid.Round
	l := &Layout{Outline: m.Outline, Top: t.Top, Bottom: -rd(m.BaseThickness), Ceil: t.Top + rd(m.LidThickness), wall: m.Wall, land: m.Land, begin: t.MaxR(m.Coats.Total()) + m.Land}
	p := &placer{Layout: l, j: j, t: t, core: core, comp: j.Process.HoleCompensation / 2}
	l.scheme(m)
	p.heights()
	p.stack()
	p.channels()
	corner := p.corners()
	p.sides(corner)
	p.slots()
	p.jacks()
	return l, p.faults, p.warns
}

// stack puts the lands. The hub is shorter than the distance between them by
// the gap, which the seal fills.
func (p *placer) stack() {
	p.GapLow, p.GapTop = gaps(p.j)
	p.LandLow, p.LandTop = p.core.Z0-p.GapLow, p.core.Z1()+p.GapTop
}

// corners places, in each corner of the block, from the cavity outward: the
// land, a ball per parting plane, and a clamp bolt. It returns the reach along x
// that the corners need.
func (p *placer) corners() float64 {
	m := &p.j.Mold
	rd := solid.Round
	if len(p.levels()) == 0 {
		return 0
	}
	ball := p.fitBall(m.Balls.Diameter, math.Inf(1))
	rb := rd((ball+m.Balls.Clearance)/2 + p.comp)
	depth := rd((ball + m.Balls.Spare) / 2)
	var b Bolt
	if t, ok := params.FastenerOf(m.Bolts.Size); ok {
		b.R = rd(t.Hole(m.Bolts.Fit)/2 + p.comp)
		if m.Bolts.Head == "socket" {
			b.HeadR, b.HeadD = rd(t.Counterbore()/2+p.comp), rd(t.HeadHeight+.2)
		}
		switch m.Bolts.Nut {
		case "hex":
			b.NutR, b.NutD, b.NutHex = rd(t.NutFlats/2+.15+p.comp), rd(t.NutHeight+.2), true
			p.relieve(&b, t.NutFlats)
		case "round":
			b.NutR, b.NutD = rd(t.EitherRecess()/2+p.comp), rd(t.NutHeight+.2)
		}
	}
	recess := max(b.R, b.HeadR, b.nutReach())
	ballAt := p.begin + rb
	boltAt := ballAt
	pitch := rb + p.wall + recess // ball to bolt, center to center
	if p.Outline == "square" && b.R > 0 {
		boltAt += pitch
	}
	// On a square both lie on the diagonal; on the others side by side around it.
	turn := 0.0
	if p.Outline != "square" && b.R > 0 {
		boltAt = max(ballAt, p.begin+recess)
		turn = math.Asin(min(1, pitch/2/ballAt)) * 180 / math.Pi
	}
	p.strapHalf = rd(max(recess, rb+m.Balls.Offset) + p.wall + ballAt*math.Sin(turn*math.Pi/180))
	for i, mid := range p.cornerAngles() {
		if b.R > 0 {
			b.At, b.Top = hub.Polar(boltAt, mid-turn), p.Ceil
			if !p.strapped(i) {
				b.Top = p.Top
			}
			p.Bolts = append(p.Bolts, b)
		}
		p.cornerBalls(i, ballAt, mid+turn, Ball{Axis: 2, Diameter: ball, R: rb, Depth: depth})
	}
	switch {
	case p.Outline == "square" && b.R > 0:
		return boltAt/math.Sqrt2 + recess + p.wall
	case p.Outline == "square":
		return (ballAt+rb+p.wall)/math.Sqrt2 + rb
	}
	return max(ballAt+rb, boltAt+recess) + p.wall
}

// cornerAngles are where balls and bolts lie, degrees: on the diagonals, or in the
// middle of each of three shells where no corner of a square asks for them.
func (p *placer) cornerAngles() []float64 {
	if len(p.Sides) == 3 && p.Outline != "square" && !p.OpenTop() {
		return []float64{90, 210, 330}
	}
	return []float64{45, 135, 225, 315}
}

// cornerBalls puts a ball into each parting plane across the axis that the corner
// has, the odd one moved away from the bolt.
func (p *placer) cornerBalls(corner int, at, angle float64, b Ball) {
	off := p.j.Mold.Balls.Offset / at * 180 / math.Pi
	for _, v := range p.levels() {
		if !p.reaches(&v, corner) {
			continue
		}
		a := angle
		if b.Odd = corner == v.odd; b.Odd {
			a += off
		}
		b.At, b.Line, b.Keeper = hub.Polar(at, a), v.line, v.keeper
		b.At[2] = v.z
		if b.Keeper == "" {
			b.Keeper = p.keeperAt(a)
		}
		p.Balls = append(p.Balls, b)
	}
}

// fitBall returns the largest standard ball up to want whose pockets leave walls
// behind them in the pieces below and above, and within a face of the given width.
func (p *placer) fitBall(want, width float64) float64 {
	m := &p.j.Mold
	for i := len(params.BallSizes) - 1; i >= 0; i-- {
		d := params.BallSizes[i]
		if d > want+1e-9 || metric(want) != metric(d) {
			continue
		}
		pocket := d + m.Balls.Clearance + 2*p.comp
		if pocket+2*p.wall <= width && p.holds(d+m.Balls.Spare) {
			return d
		}
	}
	p.fault("mold.balls.diameter", mm(want), "a standard ball whose two pockets leave walls of "+mm(p.wall),
		"the pieces are too thin for locating balls between them; raise wheel.width, mold.base_thickness or mold.lid_thickness, or lower mold.wall")
	return want
}

// holds tells whether pockets that are together so deep leave walls in the pieces on
// both sides of each plane across the axis; those of two planes lie above each other.
func (p *placer) holds(deep float64) bool {
	levels := p.levels()
	if len(levels) == 0 {
		return true
	}
	above, below := p.Ceil-p.Part, p.Part-p.Bottom
	if p.OpenTop() {
		above -= p.arch // at its arms' ends it is whole, but it bends there
	}
	if len(levels) == 2 {
		if deep+p.wall > p.Top {
			return false
		}
		below = -p.Bottom
	}
	return deep/2+p.wall <= min(below, above)
}

// metric reports whether a ball size is of the metric series (halves of a
// millimeter), so that a smaller one is bought in the same shop.
func metric(d float64) bool { return d*2 == math.Round(d*2) }
