// Package bed sorts pieces onto the bed of a printer, as few loads as it finds.
//
// Pieces are taken as upright boxes. Within a load they lie inside the bed, no
// nearer to each other than the gap, turned by a quarter about z or not at all;
// that is certain, for it is computed in whole steps. That no other way takes
// fewer loads is not: several greedy ways are tried, and the best is taken. A
// piece that fits only askew counts as one that does not fit.
package bed

import (
	"math"

	"wheelmold/mesh"
)

// Bed is the room in which a printer builds, and how far pieces keep apart, mm.
// All are finite.
type Bed struct{ X, Y, Z, Gap float64 }

// Place is where a piece lies on the bed.
type Place struct {
	Item   int      // index of the piece
	At     mesh.Vec // lower corner of its box as it lies, mm; on the bed, so z is 0
	Turned bool     // by a quarter about z, so that its size in x lies along y
}

// Load is what is printed together, in the order of the pieces.
type Load struct{ Places []Place }

// Sorting is what of some pieces lies where, by their names: what a plan of printing
// and the files for the printer share.
type Sorting struct {
	Loads   [][]Spot // each in the pieces' order
	Misfits []string // pieces that the bed does not hold
}

// Spot is where a named piece lies on the bed.
type Spot struct {
	Piece  string
	At     mesh.Vec // as in [Place]
	Turned bool
}

// Pack sorts pieces of these sizes, in mm, onto as few loads as it finds, each
// load in the middle of the bed, where beds are flattest. Misfits are the pieces
// that do not fit even alone. The same input gives the same loads.
func Pack(sizes []mesh.Vec, b Bed) (loads []Load, misfits []int) {
	gap := stepsUp(max(0, b.Gap))
	var list []item
	for i, s := range sizes {
		if !b.Holds(s) {
			misfits = append(misfits, i)
			continue
		}
		list = append(list, item{i, stepsUp(s[0]) + gap, stepsUp(s[1]) + gap})
	}
	// With a gap behind each piece and behind the bed, gaps need no more thought.
	room := rect{0, 0, stepsDown(b.X) + gap, stepsDown(b.Y) + gap}
	for _, s := range fewest(list, room) {
		loads = append(loads, s.load(gap))
	}
	return loads, misfits
}

// Holds reports whether a piece of this size fits on the bed alone, turned by a
// quarter or not.
func (b Bed) Holds(size mesh.Vec) bool {
	x, y := stepsDown(b.X), stepsDown(b.Y)
	if !(size[0] <= math.Max(b.X, b.Y) && size[1] <= math.Max(b.X, b.Y) && size[2] <= b.Z) {
		return false
	}
	w, d := stepsUp(size[0]), stepsUp(size[1])
	return w <= x && d <= y || d <= x && w <= y
}

// step is the grid of places, mm: that of posed pieces' coordinates, a power of
// two, so that sums of steps are exact.
const step = 1. / (1 << 14)

func stepsUp(mm float64) int   { return int(math.Ceil(mm / step)) }
func stepsDown(mm float64) int { return int(math.Floor(mm / step)) }
