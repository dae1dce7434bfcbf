package export

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
)

// bedGap is the free width between pieces on the bed, mm: room for a brim.
const bedGap = 8

// bedSlack is how much larger than the pieces together the bed they are spread
// over is taken: base and lid, the largest, then share a row.
const bedSlack = 1.4

// arrange places boxes that begin at the origin side by side in rows, the deepest
// first, on a bed that is about square. Places are whole millimeters, so that
// coordinates stay on the lattice.
func arrange(sizes []mesh.Vec) []mesh.Vec {
	area, width := 0.0, 0.0
	order := make([]int, len(sizes))
	for i, s := range sizes {
		area += (s[0] + bedGap) * (s[1] + bedGap)
		width = max(width, s[0])
		order[i] = i
	}
	width = max(width, math.Sqrt(bedSlack*area))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(sizes[b][1], sizes[a][1]) })
	at := make([]mesh.Vec, len(sizes))
	x, y, depth := 0.0, 0.0, 0.0
	for _, i := range order {
		s := sizes[i]
		if x > 0 && x+s[0] > width {
			x, y, depth = 0, y+depth+bedGap, 0
		}
		at[i] = mesh.Vec{x, y, 0}
		x += math.Ceil(s[0]) + bedGap
		depth = max(depth, math.Ceil(s[1]))
	}
	return at
}
