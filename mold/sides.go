package mold

import (
	"fmt"
	"math"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// sides lays out the faces of the pieces around the axis against each other: the
// balls, what clamps them, and room for the pry slots; and from that the outline's
// size. More than two are located by the plates alone: each is drawn off along its
// own middle, at an angle to its faces, where a ball would lock it.
func (p *placer) sides(corner float64) {
	m := &p.j.Mold
	rd := solid.Round
	slot := rd(m.PrySlots.Depth)
	reach, rb := p.begin, 0.0
	if len(p.Sides) == 2 {
		reach, rb = p.sideBalls()
	}
	if t, ok := params.FastenerOf(m.Jacks.Size); ok && len(p.Sides) > 0 {
		reach = max(reach, p.begin+t.Hole("medium")+2*p.comp)
	}
	if m.SideClamp.Kind == "counterbore" {
		reach = p.crossBolts(reach, rb)
	}
	if p.cornerAngles()[0] == 90 { // where a pry slot is
		corner += slot
	}
	need := max(corner, p.begin+slot)
	if len(p.Sides) > 0 {
		need = max(need, reach+p.wall+slot)
	}
	if m.SideClamp.Kind == "strap" {
		need = p.strap(need, corner, reach)
	}
	p.outline(need, slot)
	if m.SideClamp.Kind == "lugs" {
		p.lugs()
	}
}

// sideBalls puts a ball at x > 0 and one at x < 0, the first moved outward, so that a
// shell turned end for end or upside down does not fit. It returns the reach along x
// that they need, and the radius of their pockets.
func (p *placer) sideBalls() (reach, rb float64) {
	m := &p.j.Mold
	rd := solid.Round
	height := p.SideHigh - p.SideLow
	ball := p.fitBall(m.Balls.Diameter, height)
	if ball < m.Balls.Diameter {
		p.warn("mold.balls.diameter", mm(m.Balls.Diameter), "", "the "+p.Around()+" are too low for such a ball between them; there it is "+mm(ball))
	}
	rb = rd((ball+m.Balls.Clearance)/2 + p.comp)
	x := p.begin + rb
	off := rd(m.Balls.Offset)
	for i, s := range []float64{1, -1} {
		b := Ball{
			At: mesh.Vec{s * rd(x), 0, rd((p.SideLow + p.SideHigh) / 2)}, Axis: 1, Keeper: p.Sides[0].Name, Line: p.Partings[i].Line,
			Diameter: ball, R: rb, Depth: rd((ball + m.Balls.Spare) / 2), Odd: s > 0,
		}
		if b.Odd {
			b.At[0] += off
		}
		p.Balls = append(p.Balls, b)
	}
	return x + rb + off, rb
}

// strap puts a groove around the sides, and returns the outline that it needs.
func (p *placer) strap(need, corner, reach float64) float64 {
	m := &p.j.Mold
	rd := solid.Round
	d := rd(m.SideClamp.StrapDepth)
	need = max(need, corner+d, reach+p.wall+max(rd(m.PrySlots.Depth), d))
	height := p.SideHigh - p.SideLow
	w := rd(min(m.SideClamp.StrapWidth, height-2*p.wall))
	if w <= 0 {
		p.fault("mold.side_clamp.strap_width", mm(m.SideClamp.StrapWidth), "at most the height of the "+p.Around()+" less two walls", "no room for a strap groove; use side_clamp.kind = \"lugs\" or a wider wheel")
		return need
	}
	z := rd(p.SideLow + (height-w)/2)
	p.Strap = &Strap{Z0: z, Z1: z + w, Depth: d}
	return need
}

// outline sets the size of the block: as asked, or the least that holds all.
func (p *placer) outline(need, slot float64) {
	m := &p.j.Mold
	rd := solid.Round
	// The flats at ±y must leave land and slot too.
	flat := map[string]float64{"square": 1, "octagon": 1, "round": roundFlat}[p.Outline]
	need = max(need, (p.begin+slot)/flat)
	b := math.Ceil(need*2) / 2
	if m.Size > 0 {
		if m.Size/2 < need-1e-9 {
			p.fault("mold.size", mm(m.Size), "at least "+mm(math.Ceil(2*need*10)/10), "the corners hold land, ball and bolt; leave it out to get the smallest size, or lower mold.land, mold.wall, mold.balls.diameter or mold.bolts.size")
		}
		b = m.Size / 2
	}
	p.B = rd(b)
	p.FaceY = rd(p.B * flat)
	p.OuterX = p.B
}

// roundFlat is where the flats of a round outline lie, as a part of its radius:
// wide enough to stand on and to engrave.
const roundFlat = 0.94

// crossBolts places bolts along y through both shells, in recesses that start
// a grip's length from the parting plane. It returns the reach along x.
func (p *placer) crossBolts(reach, rb float64) float64 {
	m := &p.j.Mold
	rd := solid.Round
	t, ok := params.FastenerOf(m.SideClamp.Size)
	if !ok {
		return reach
	}
	b := CrossBolt{R: rd(t.Hole(m.Bolts.Fit)/2 + p.comp), RecessR: rd(t.EitherRecess()/2 + p.comp), Grip: rd(m.SideClamp.Grip)}
	x := p.begin + b.RecessR
	for _, a := range p.Bolts { // clear of the bolts along the axis
		x = max(x, math.Abs(a.At[0])+max(a.R, 0)+p.wall+b.RecessR)
	}
	n, height, mid := 0, p.SideHigh-p.SideLow, (p.SideLow+p.SideHigh)/2
	// Bolts above and below the ball where the height allows, else beside it.
	if room := height/2 - rb - 2*p.wall; room >= 2*b.RecessR {
		n = 2
	} else {
		x = max(x, reach+p.wall+b.RecessR)
		if height >= 2*b.RecessR+2*p.wall {
			n = 1
		} else {
			p.fault("mold.side_clamp.kind", m.SideClamp.Kind, "a wheel at least "+mm(2*b.RecessR+2*p.wall)+" wide", "the bolts' recesses do not fit in the shells' height; use \"strap\" or \"lugs\", a smaller mold.side_clamp.size, or a wider wheel")
			return reach
		}
	}
	for _, s := range []float64{1, -1} {
		for k := 0; k < n; k++ {
			b.X, b.Z = s*rd(x), rd(mid)
			if n == 2 {
				d := (height/2 + rb) / 2 // midway between ball and end face
				b.Z = rd(mid + (2*float64(k)-1)*d)
			}
			p.Cross = append(p.Cross, b)
		}
	}
	return max(reach, x+b.RecessR)
}

// lugs puts an ear with a bolt on each side of the shells.
func (p *placer) lugs() {
	m := &p.j.Mold
	rd := solid.Round
	t, ok := params.FastenerOf(m.SideClamp.Size)
	if !ok {
		return
	}
	b := CrossBolt{R: rd(t.Hole(m.Bolts.Fit)/2 + p.comp), Grip: rd(m.SideClamp.Grip)}
	b.RecessR = b.R // the ear's faces carry head and nut
	head := t.EitherRecess() / 2
	x := p.B + p.wall + head
	p.OuterX = rd(x + head + p.wall + m.PrySlots.Depth)
	h, mid := 2*(head+p.wall), (p.SideLow+p.SideHigh)/2
	z0, z1 := rd(mid-h/2), rd(mid+h/2)
	if z0 < p.SideLow+p.wall {
		z0, z1 = p.SideLow, p.SideHigh
	}
	for _, s := range []float64{1, -1} {
		b.X, b.Z = s*rd(x), rd(mid)
		p.Cross = append(p.Cross, b)
		in, out := s*p.begin, s*p.OuterX
		p.Lugs = append(p.Lugs, Lug{mesh.Vec{rd(min(in, out)), -b.Grip, z0}, mesh.Vec{rd(max(in, out)), b.Grip, z1}})
	}
}

func order(a, b float64) (float64, float64) { return min(a, b), max(a, b) }

// jackPast is how far the hole of a jack screw runs on beyond the outer face, mm.
const jackPast = 1.0

// jacks puts tapped holes in opposed pairs: in lid and base over the shells, and in
// one of two shells against the other.
func (p *placer) jacks() {
	t, ok := params.FastenerOf(p.j.Mold.Jacks.Size)
	if !ok {
		return
	}
	rd := solid.Round
	r := rd(t.TapDrill / 2)
	at := p.begin + r
	for k := 0; k < 2; k++ {
		for _, v := range p.levels() {
			q := hub.Polar(at, 67.5+180*float64(k))
			q[2] = v.z
			switch {
			case v.line == p.LineLow():
				p.Jacks = append(p.Jacks, Jack{fmt.Sprintf("jack hole base %d", k+1), q, mesh.Vec{0, 0, -1}, r, -p.Bottom + jackPast, 0, 0})
			case p.Above == "lid":
				p.Jacks = append(p.Jacks, Jack{fmt.Sprintf("jack hole lid %d", k+1), q, axisZ, r, p.Ceil - v.z + jackPast, 0, 0})
			}
		}
	}
	if len(p.Sides) == 2 {
		p.sideJacks(t, r)
	}
}

// sideJacks puts one tapped hole in shell A beside the ball of either side,
// where strap and bolts leave room.
func (p *placer) sideJacks(t params.Fastener, r float64) {
	rd := solid.Round
	wide := rd(t.Hole("medium")/2 + p.comp)
	thread := rd(2 * t.Diameter) // ample in aluminum, and as deep as a tap goes
	for _, b := range p.Balls {
		if b.Axis != 1 {
			continue
		}
		up := map[bool]float64{true: 1, false: -1}[b.Odd]
		at := mesh.Vec{rd(math.Copysign(max(math.Abs(b.At[0]), p.begin+wide), b.At[0])), 0, b.At[2] + up*rd(b.R+p.wall+wide)}
		if !p.roomForJack(at, wide) {
			p.warn("mold.jacks.size", p.j.Mold.Jacks.Size, "", "no room for a jack screw beside the ball on "+b.Line+"; open it at the pry slot")
			continue
		}
		p.Jacks = append(p.Jacks, Jack{fmt.Sprintf("jack hole shells %d", len(p.Jacks)+1), at, mesh.Vec{0, 1, 0}, r, p.B + jackPast, thread, wide})
	}
}

// roomForJack: a hole along y keeps its walls from the shells' ends, the strap
// that would cover it, the bolts both ways, and the pry slot.
func (p *placer) roomForJack(at mesh.Vec, r float64) bool {
	if at[2]-r < p.SideLow+p.wall || at[2]+r > p.SideHigh-p.wall || p.Strap != nil {
		return false
	}
	for _, c := range p.Cross {
		if c.X*at[0] > 0 && math.Hypot(c.X-at[0], c.Z-at[2]) < c.RecessR+r+p.wall {
			return false
		}
	}
	for _, b := range p.Bolts {
		if math.Abs(b.At[0]-at[0]) < b.R+r+p.wall {
			return false
		}
	}
	return math.Abs(at[0])+r+p.wall <= p.OuterX-p.j.Mold.PrySlots.Depth
}

// channels places sprue gates and vents around the top of the rubber.
func (p *placer) channels() {
	m := &p.j.Mold
	rd := solid.Round
	p.GateR, p.MouthR = rd(m.Sprue.Gate/2), rd(m.Sprue.Mouth/2)
	p.VentR = rd(m.Vents.Diameter/2 + p.comp)
	cover := p.j.Hub.CoverDiameter / 2
	scar := func(reach float64) {
		if reach <= cover {
			p.Hidden++
		} else {
			p.Visible++
		}
	}
	at := func(circle, angle float64) mesh.Vec {
		q := hub.Polar(circle/2, angle)
		q[2] = p.Top
		return q
	}
	for _, a := range p.j.GateAngles() {
		p.Gates = append(p.Gates, at(m.Sprue.Circle, a))
		scar(m.Sprue.Circle/2 + p.GateR)
	}
	for _, a := range p.j.VentAngles() {
		p.Vents = append(p.Vents, at(m.Vents.Circle, a))
		scar(m.Vents.Circle/2 + p.VentR)
	}
	scars := fmt.Sprintf("%d stubs of gates and vents lie outside the cover and leave visible scars", p.Visible)
	if p.Visible == 1 {
		scars = "a stub of a gate or vent lies outside the cover and leaves a visible scar"
	}
	if cover > 0 && p.Visible > 0 {
		p.warn("hub.cover_diameter", mm(2*cover), "at least "+mm(2*max(m.Sprue.Circle/2+p.GateR, m.Vents.Circle/2+p.VentR)), scars)
	}
}
