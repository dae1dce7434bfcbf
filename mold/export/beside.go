package export

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
)

// besideGap is the free width in mm between pieces that are milled or turned: they are
// only shown beside each other, clearly apart. Assumed.
const besideGap = 8

// besideSlack is how much larger than the pieces together the square they are spread
// over is taken: base and lid, the largest, then share a row. Found by trial.
const besideSlack = 1.4

// arrange places boxes that begin at the origin side by side in rows, the deepest
// first, over about a square; no machine's bed bounds it. Places are whole
// millimeters, so that coordinates stay on the lattice.
func arrange(sizes []mesh.Vec) []mesh.Vec {
	area, width := 0.0, 0.0
	order := make([]int, len(sizes))
	for i, s := range sizes {
		area += (s[0] + besideGap) * (s[1] + besideGap)
		width = max(width, s[0])
		order[i] = i
	}
	width = max(width, math.Sqrt(besideSlack*area))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(sizes[b][1], sizes[a][1]) })
	at := make([]mesh.Vec, len(sizes))
	x, y, depth := 0.0, 0.0, 0.0
	for _, i := range order {
		s := sizes[i]
		if x > 0 && x+s[0] > width {
			x, y, depth = 0, y+depth+besideGap, 0
		}
		at[i] = mesh.Vec{x, y, 0}
		x += math.Ceil(s[0]) + besideGap
		depth = max(depth, math.Ceil(s[1]))
	}
	return at
}
