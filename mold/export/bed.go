package export

import (
	"math"

	"wheelmold/mesh"
)

// bedGap is the free width between pieces on the bed, mm: room for a brim. It is
// a whole number of lattice steps, as are the sizes, so that placing is exact.
const bedGap = 8

// arrange places boxes that begin at the origin side by side in rows, about as
// wide as they are deep together, in the order given. Places are whole
// multiples of a millimeter.
func arrange(sizes []mesh.Vec) []mesh.Vec {
	area := 0.0
	for _, s := range sizes {
		area += (s[0] + bedGap) * (s[1] + bedGap)
	}
	width := math.Sqrt(area)
	at := make([]mesh.Vec, len(sizes))
	x, y, depth := 0.0, 0.0, 0.0
	for i, s := range sizes {
		if x > 0 && x+s[0] > width {
			x, y, depth = 0, y+depth+bedGap, 0
		}
		at[i] = mesh.Vec{x, y, 0}
		x += math.Ceil(s[0]) + bedGap
		depth = max(depth, math.Ceil(s[1]))
	}
	return at
}
