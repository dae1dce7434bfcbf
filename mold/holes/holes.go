package holes

import (
	"math"

	"wheelmold/mesh"
)

// Hole is one round hole with all that lies on its axis, as one drills it: in a row
// of the hole table.
type Hole struct {
	Mark string // in the table: a letter for holes that are alike, and a number
	Name string // "bolt hole 1"
	Role string // of its faces (mold.Role…, hub.Role…)

	At  mesh.Vec // where the axis meets the face that it is drilled from, mold's frame
	Dir mesh.Vec // from there into the material, of length 1

	Steps   []Step // from the opening inward
	Through bool

	Thread      string  // "M6" where it is tapped
	ThreadDepth float64 // mm from the opening; 0 where it is not

	// Half: only part of the hole is in this piece; the rest is in its neighbor.
	Half bool
}

// Step is one part of a hole: a cylinder, or a cone where the diameters differ. A flat
// floor has no step of its own.
type Step struct {
	From, To float64 // depth from the opening, mm
	D0, D1   float64 // diameter at From and at To, mm
}

// Depth is how deep the hole is, mm.
func (h *Hole) Depth() float64 { return h.Steps[len(h.Steps)-1].To }

// Central tells whether the hole lies on the wheel's axis.
func (h *Hole) Central() bool {
	return math.Hypot(h.At[0], h.At[1]) < 1e-6 && math.Hypot(h.Dir[0], h.Dir[1]) < 1e-6
}

// Least is the hole's least diameter, mm: that of the drill that goes all the way.
func (h *Hole) Least() float64 {
	d := h.Steps[0].D0
	for _, s := range h.Steps {
		d = min(d, max(s.D0, s.D1))
	}
	return d
}
