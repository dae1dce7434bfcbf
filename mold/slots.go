package mold

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Slot is a pry slot; it reaches past the outer face. Its box is turned about the axis.
// The two edges at its inner end that run along the parting plane's normal are round
// where it is milled: the tool comes along them, half the height deep into each piece.
type Slot struct {
	Name   string
	Line   string // parting line
	Lo, Hi mesh.Vec
	Turned float64 // degrees
	Normal int     // axis of the box along the parting plane's normal
	Corner float64 // radius of the two edges; 0: sharp
}

// slots cuts a pair of pry slots, on opposite sides, across each parting plane of a
// plate, and one across each parting plane along the axis. A strap is lifted by its
// arms.
func (p *placer) slots() {
	s := &p.j.Mold.PrySlots
	if s.Width <= 0 || s.Depth <= 0 {
		return // none are asked for
	}
	rd := solid.Round
	h, w := rd(s.Height/2), rd(s.Width/2)
	for _, v := range p.levels() {
		if p.OpenTop() && v.line == p.LineTop() {
			continue
		}
		for i, side := range []float64{1, -1} {
			y0, y1 := order(side*(p.FaceY-rd(s.Depth)), side*(p.FaceY+pastFace))
			p.Slots = append(p.Slots, Slot{Name: fmt.Sprintf("pry slot %s %d", v.line, i+1), Line: v.line, Normal: 2, Lo: mesh.Vec{-w, y0, v.z - h}, Hi: mesh.Vec{w, y1, v.z + h}, Corner: p.slotCorner(2 * w)})
		}
	}
	if len(p.Partings) == 0 {
		return
	}
	height := p.SideHigh - p.SideLow
	wz := min(w, rd(height/2-p.wall))
	if len(p.Sides) > 2 { // the plates' slots lie above and below one of them
		wz = min(wz, rd(height/2-p.wall-h))
	}
	if 2*wz < p.j.Process.MinFeature {
		p.fault("mold.pry_slots.width", mm(s.Width), "", "no pry slot fits between the ends of the "+p.Around()+" on their parting line; a wider wheel or a smaller mold.wall makes room")
		return
	}
	z := rd((p.SideLow + p.SideHigh) / 2)
	for i := range p.Partings {
		p.Slots = append(p.Slots, p.sideSlot(&p.Partings[i], h, z-wz, z+wz))
	}
}

// pastFace is how far a pry slot is cut beyond the outer face, mm.
const pastFace = 1.0

// sideSlot is the pry slot across a parting plane along the axis, between two heights.
func (p *placer) sideSlot(at *Parting, h, z0, z1 float64) Slot {
	rd := solid.Round
	s := Slot{Name: "pry slot " + at.Line, Line: at.Line, Normal: 1, Corner: p.slotCorner(z1 - z0)}
	depth, u := rd(p.j.Mold.PrySlots.Depth), at.Outward()
	switch {
	case u[0] == 1 || u[0] == -1:
		x0, x1 := order(u[0]*(p.OuterX-depth), u[0]*(p.OuterX+pastFace))
		s.Lo, s.Hi = mesh.Vec{x0, -h, z0}, mesh.Vec{x1, h, z1}
	case u[1] == 1 || u[1] == -1:
		y0, y1 := order(u[1]*(p.FaceY-depth), u[1]*(p.FaceY+pastFace))
		s.Normal, s.Lo, s.Hi = 0, mesh.Vec{-h, y0, z0}, mesh.Vec{h, y1, z1}
	default: // the face runs obliquely across the slot
		r := rd(p.Reach(u))
		s.Lo, s.Hi, s.Turned = mesh.Vec{r - depth, -h, z0}, mesh.Vec{r + pastFace + h, h, z1}, at.Angle
	}
	return s
}

// slotCorner is the radius in the inner corners of a pry slot of the given clear width. It
// leaves an inner wall to pry at, and ends short of the outer face.
func (p *placer) slotCorner(width float64) float64 {
	s := &p.j.Mold.PrySlots
	return solid.Round(p.j.SlotCorner(s.Height/2+p.j.Mold.Mating.Stock, min(width, 2*s.Depth)))
}

// Frame is that of a slot's box.
func (s *Slot) Frame() solid.Frame { return turned(s.Turned) }

// Middle of a slot, which lies on its parting plane.
func (s *Slot) Middle() mesh.Vec {
	f := s.Frame()
	return f.Global(s.Lo.Add(s.Hi).Scale(.5))
}

// Outward is the axis of a slot's box along which it opens, and its sense.
func (s *Slot) Outward() (axis int, sense float64) {
	axis = 1
	if s.Normal == 1 {
		axis = 0
	}
	return axis, math.Copysign(1, s.Lo[axis]+s.Hi[axis])
}

// slot is the solid that a pry slot takes away.
func (b *builder) slot(s *Slot) *solid.Node {
	f := s.Frame()
	if s.Corner == 0 {
		return b.Model.BoxIn(s.Name, RolePry, f, s.Lo, s.Hi)
	}
	axes := [3]mesh.Vec{f.X, f.Y, f.Z}
	x, y := (s.Normal+1)%3, (s.Normal+2)%3
	g := solid.Frame{X: axes[x], Y: axes[y], Z: axes[s.Normal]}
	return b.Model.Extrude(s.Name, RolePry, g, s.Lo[s.Normal], s.Hi[s.Normal], s.outline(x, y))
}

// outline is a slot as the tool sees it, in the given axes of its box, which follow its
// normal in turn.
func (s *Slot) outline(x, y int) solid.Profile {
	p := solid.Poly(s.Lo[x], s.Lo[y], s.Hi[x], s.Lo[y], s.Hi[x], s.Hi[y], s.Lo[x], s.Hi[y])
	radii := make([]float64, len(p))
	out, sense := s.Outward()
	middle := (s.Lo[out] + s.Hi[out]) / 2
	for i, c := range p {
		at := c.P[0]
		if out == y {
			at = c.P[1]
		}
		if (at-middle)*sense < 0 {
			radii[i] = s.Corner
		}
	}
	return rounded(p, radii...)
}

// rounded is a convex polygon, counterclockwise, with corners of the given radii; 0
// leaves one sharp. Between sides along the axes a corner on the lattice stays there.
func rounded(polygon solid.Profile, radii ...float64) solid.Profile {
	var p solid.Profile
	el := polygon.Elems()
	for i, r := range radii {
		at := polygon[i].P
		u, v := heading(el[(i+len(el)-1)%len(el)]), heading(el[i])
		if r == 0 {
			p = p.LineTo(at[0], at[1])
			continue
		}
		back := r * (u[0]*v[1] - u[1]*v[0]) / (1 + u[0]*v[0] + u[1]*v[1]) // r·tan(φ/2) of a turn φ
		from := solid.Point2{at[0] - back*u[0], at[1] - back*u[1]}
		p = p.LineTo(from[0], from[1]).ArcTo(at[0]+back*v[0], at[1]+back*v[1], from[0]-r*u[1], from[1]+r*u[0], true)
	}
	return p
}

// heading is the unit vector along a straight segment.
func heading(e solid.Elem) solid.Point2 {
	x, y := e.B[0]-e.A[0], e.B[1]-e.A[1]
	d := math.Hypot(x, y)
	return solid.Point2{x / d, y / d}
}
