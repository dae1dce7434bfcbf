package drawing

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
)

// stroke is a straight line or an arc of at most a quarter turn: part of a border
// that has its area on the left.
type stroke struct {
	outline.Stretch
	kind string // what lies beyond it, see flash.ExitKind
}

// touch in mm is how far apart two places may be that are one: edges merged in
// mesh/brep lie within 1e-7, the lattice of designed lengths is 6e-5.
const touch = 1e-6

// chord in mm is how far the chords of a curve that is neither straight nor round
// may lie from it: far below what can be drawn.
const chord = 1e-3

// strokesOf draws the use of an edge that lies in a plane parallel to the view's.
func strokesOf(v outline.View, b *brep.Boundary, e brep.FaceEdge, kind string) (out []stroke) {
	p := v.Edge(b, e, chord)
	for s := range p.Stretches() {
		if math.Abs(s.Sweep) > math.Pi/2+1e-9 {
			out = append(out, stroke{s.Part(0, .5), kind}, stroke{s.Part(.5, 1), kind})
		} else {
			out = append(out, stroke{s, kind})
		}
	}
	return out
}

// inside tells whether p, which lies on none of the strokes, lies in the area that
// they go round.
func inside(p Point, of []stroke) (in bool) {
	for i := range of {
		if of[i].Passes(p) {
			in = !in
		}
	}
	return in
}
