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
		name := map[string]string{"base": "base", "lid": "lid", "shell-a": "A", "shell-b": "B"}[p.piece]
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

// plates finds the free rectangles: under the base and on the lid in the middle,
// on the shells' flat sides beside or between the pry slots.
func (b *builder) plates() []plate {
	l := b.Layout
	x, y, z := axisX, axisY, axisZ
	neg := func(v mesh.Vec) mesh.Vec { return v.Scale(-1) }
	ring := b.Tread.R
	for _, c := range b.Split.Cuts { // what opens in the lid's middle
		if c.Name != "tread cavity" && c.Box.Hi[2] > l.Ceil && c.Box.Lo[2] >= l.Top-1 {
			at := c.Box.Lo.Add(c.Box.Hi).Scale(.5)
			ring = min(ring, math.Hypot(at[0], at[1])-(c.Box.Hi[0]-c.Box.Lo[0])/2)
		}
	}
	square := func(r float64) (w, h float64) { // a wide rectangle in a circle
		r -= l.wall
		return 1.8 * r, .87 * r
	}
	lw, lh := square(ring)
	bw, bh := square(b.Tread.R)
	out := []plate{
		{"base", solid.Frame{O: mesh.Vec{0, 0, l.Bottom}, X: x, Y: neg(y), Z: neg(z)}, bw, bh},
		{"lid", solid.Frame{O: mesh.Vec{0, 0, l.Ceil}, X: x, Y: y, Z: z}, lw, lh},
	}
	for _, s := range []float64{1, -1} {
		out = append(out, b.sidePlate(s))
	}
	return out
}

// sidePlate is the place on a shell's side: the floor of the strap groove, or
// the wider of the strip between the pry slots and the field beside them.
func (b *builder) sidePlate(s float64) plate {
	l := b.Layout
	p := plate{piece: "shell-a", frame: solid.Frame{X: axisX.Scale(-1), Y: axisZ, Z: axisY}}
	if s < 0 {
		p = plate{piece: "shell-b", frame: solid.Frame{X: axisX, Y: axisZ, Z: axisY.Scale(-1)}}
	}
	face := l.FaceY
	half := map[string]float64{"square": l.B, "octagon": l.B * math.Tan(math.Pi/8), "round": halfChord(l.B, l.FaceY)}[l.Outline]
	half -= l.wall
	if l.Strap != nil {
		face -= l.Strap.Depth
		half -= l.Strap.Depth
		p.width, p.height = 2*half, l.Strap.Z1-l.Strap.Z0-2*l.wall/2
		p.frame.O = mesh.Vec{0, s * face, (l.Strap.Z0 + l.Strap.Z1) / 2}
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
		if q.Lo[2] < 0 && q.Hi[2] > 0 { // across z = 0; the one at the top is its twin
			slotH, slotW = q.Hi[2], q.Hi[0]
		}
	}
	between := plate{p.piece, p.frame, 2 * half, l.Top - 2*(slotH+l.wall)}
	beside := plate{p.piece, p.frame, half - slotW - l.wall, l.Top - 2*l.wall}
	if between.height*2 >= beside.height {
		between.frame.O = mesh.Vec{0, s * face, l.Top / 2}
		return between
	}
	beside.frame.O = beside.frame.X.Scale((slotW + l.wall + half) / 2).Add(mesh.Vec{0, s * face, l.Top / 2})
	return beside
}
