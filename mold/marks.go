package mold

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold/engrave"
)

// plate is a flat outer face to engrave: a rectangle about the frame's origin,
// Z outward.
type plate struct {
	piece         string
	frame         solid.Frame
	width, height float64
}

// Largest letters, mm: big enough to read at arm's length.
const tallestMark = 12

// marks engraves what each piece is, and the job's text where it fits. A face
// too small for letters that can be read and cut gets no mark, and a warning.
func (b *builder) marks() {
	depth := solid.Round(b.Job.Mold.Engraving.Depth)
	if depth <= 0 {
		return
	}
	for _, p := range b.plates() {
		name, ok := sideLetter(p.piece)
		if !ok {
			name = p.piece
		}
		var lines [][]string
		if text := b.Job.Mold.Engraving.Text; text != "" {
			if p.height > p.width/2 {
				lines = append(lines, []string{name, text})
			}
			lines = append(lines, []string{name + "  " + text})
		}
		lines = append(lines, []string{name})
		if !b.engrave(p, lines, depth) {
			b.Warnings = append(b.Warnings, b.note("mold.engraving.text", b.Job.Mold.Engraving.Text, fmt.Sprintf("no room for a mark on %s that can be read and cut; mark it by hand", p.piece)))
		}
	}
}

// engrave cuts the first of the settings whose letters are tall enough.
func (b *builder) engrave(p plate, settings [][]string, depth float64) bool {
	const past = 1.0
	for _, lines := range settings {
		h, stroke := b.letterSize(p, lines)
		if h < engrave.LeastHeight {
			continue
		}
		pitch := solid.Round(h * 1.6)
		y := solid.Round(float64(len(lines)-1)*pitch/2 - h/2)
		// A leaf per stroke: a query then concerns the few that are near.
		var strokes []*solid.Node
		name := "mark of " + p.piece
		for _, s := range lines {
			out, w, err := engrave.Text(s, h, stroke)
			if err != nil {
				return false
			}
			for _, o := range out {
				strokes = append(strokes, b.Model.Extrude(name, RoleMark, p.frame, -depth, past, o.Shifted(solid.Round(-w/2), y)))
			}
			y -= pitch
		}
		b.cut(name, groupMark, "mold.engraving.text", solid.Union(strokes...))
		b.last().Sides, b.last().May = true, []string{groupStrap}
		return true
	}
	return false
}

// letterSize is the height and stroke of letters that fill the plate with the
// given lines; 0 if they cannot be cut.
func (b *builder) letterSize(p plate, lines []string) (h, stroke float64) {
	n := float64(len(lines))
	h = min(tallestMark, p.height/(1+1.6*(n-1)))
	for range 20 { // the width depends on the stroke, and that on the height
		h = math.Floor(h*8) / 8
		stroke = solid.Round(max(h*(engrave.ThinnestStroke+engrave.ThickestStroke)/2, b.Job.Process.MinFeature))
		if h < engrave.LeastHeight || stroke > h*engrave.ThickestStroke {
			return 0, 0
		}
		widest := 0.0
		for _, s := range lines {
			_, w, err := engrave.Text(s, h, stroke)
			if err != nil {
				return 0, 0
			}
			widest = max(widest, w)
		}
		if widest <= p.width {
			return h, stroke
		}
		h = min(h*p.width/widest, h-1./8)
	}
	return 0, 0
}

// plates finds the free rectangles: under the lower plate and on the upper one in the
// middle, on the flat sides of the pieces around the axis beside or between the pry
// slots.
func (b *builder) plates() []plate {
	l := b.Layout
	x, y, z := axisX, axisY, axisZ
	neg := func(v mesh.Vec) mesh.Vec { return v.Scale(-1) }
	square := func(r float64) (w, h float64) { // a wide rectangle in a circle
		r -= l.wall
		return 1.8 * r, .87 * r
	}
	var out []plate
	if l.Below != "" {
		w, h := square(b.Tread.R)
		out = append(out, plate{l.Below, solid.Frame{O: mesh.Vec{0, 0, l.Bottom}, X: x, Y: neg(y), Z: neg(z)}, w, h})
	}
	if l.Above != "" {
		w, h := square(b.topRing())
		out = append(out, plate{l.Above, solid.Frame{O: mesh.Vec{0, 0, l.Ceil}, X: x, Y: y, Z: z}, w, h})
	}
	for i := range l.Sides {
		out = append(out, b.sidePlate(&l.Sides[i]))
	}
	return out
}

// topRing is the radius within which nothing opens in the upper plate's top.
func (b *builder) topRing() float64 {
	l := b.Layout
	ring := b.Tread.R
	if l.OpenTop() {
		ring = b.Core.EndR()
	}
	for _, c := range b.Split.Cuts {
		if c.Name != "tread cavity" && c.Box.Hi[2] > l.Ceil && c.Box.Lo[2] >= l.Top-1 {
			at := c.Box.Lo.Add(c.Box.Hi).Scale(.5)
			ring = min(ring, math.Hypot(at[0], at[1])-(c.Box.Hi[0]-c.Box.Lo[0])/2)
		}
	}
	return ring
}

// sidePlate is the place on a shell's side: the floor of the strap groove, or
// the wider of the strip between the pry slots and the field beside them.
func (b *builder) sidePlate(side *Side) plate {
	l, s := b.Layout, side.plate
	p := plate{piece: side.Name, frame: solid.Frame{X: axisX.Scale(-s), Y: axisZ, Z: axisY.Scale(s)}}
	face := l.FaceY
	half := map[string]float64{"square": l.B, "octagon": l.B * math.Tan(math.Pi/8), "round": halfChord(l.B, l.FaceY)}[l.Outline]
	half -= l.wall
	mid := (l.SideLow + l.SideHigh) / 2
	if l.Strap != nil {
		face -= l.Strap.Depth
		half -= l.Strap.Depth
		p.width, p.height = 2*half, l.Strap.Z1-l.Strap.Z0-2*l.wall/2
		p.frame.O = mesh.Vec{0, s * face, (l.Strap.Z0 + l.Strap.Z1) / 2}
		if side.half != 0 { // from the pry slot across the parting plane outward
			in := b.Job.Mold.PrySlots.Height/2 + l.wall
			p.width = half - in
			p.frame.O[0] = side.half * (half + in) / 2
		}
		return p
	}
	for _, c := range l.Cross { // their recesses open in this face
		half = min(half, math.Abs(c.X)-c.RecessR-l.wall)
	}
	for _, j := range l.Jacks {
		if j.Dir[1]*s > 0 {
			half = min(half, math.Abs(j.At[0])-j.R-l.wall)
		}
	}
	slotH, slotW := 0.0, 0.0
	for _, q := range l.Slots {
		if q.Turned == 0 && q.Lo[1] < s*l.FaceY && s*l.FaceY < q.Hi[1] {
			slotH, slotW = max(slotH, (q.Hi[2]-q.Lo[2])/2), max(slotW, q.Hi[0])
		}
	}
	height := l.SideHigh - l.SideLow
	between := plate{p.piece, p.frame, 2 * half, height - 2*(slotH+l.wall)}
	beside := plate{p.piece, p.frame, half - slotW - l.wall, height - 2*l.wall}
	if side.half == 0 && between.height*2 >= beside.height {
		between.frame.O = mesh.Vec{0, s * face, mid}
		return between
	}
	away := (slotW + l.wall + half) / 2
	if side.half == 0 {
		beside.frame.O = beside.frame.X.Scale(away)
	} else {
		beside.frame.O = axisX.Scale(side.half * away)
	}
	beside.frame.O = beside.frame.O.Add(mesh.Vec{0, s * face, mid})
	return beside
}
