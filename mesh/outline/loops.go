package outline

import (
	"math"

	"wheelmold/mesh/brep"
)

// loops chains edges to closed loops, each with the area on its left. Where several
// loops meet in a vertex each turns as sharply to the left as it can, so that none
// crosses another: parts that touch in a point are loops of their own.
func (v View) loops(vertices []vec, uses []brep.FaceEdge) [][]brep.FaceEdge {
	leaving := map[int][]int{}
	for i := range uses {
		from, _ := uses[i].Ends()
		leaving[from] = append(leaving[from], i)
	}
	used := make([]bool, len(uses))
	var out [][]brep.FaceEdge
	for first := range uses {
		if used[first] {
			continue
		}
		var loop []brep.FaceEdge
		for i := first; !used[i]; {
			used[i] = true
			loop = append(loop, uses[i])
			_, to := uses[i].Ends()
			if next := v.next(vertices[to], uses, leaving[to], i); next >= 0 {
				i = next
			}
		}
		out = append(out, loop)
	}
	return out
}

// next picks from the edges that leave the vertex the one that follows edge i: the
// first one clockwise from the way back.
func (v View) next(at vec, uses []brep.FaceEdge, leaving []int, i int) int {
	if len(leaving) <= 1 {
		if len(leaving) == 0 {
			return -1
		}
		return leaving[0]
	}
	r := near(&uses[i])
	for _, k := range leaving {
		r = min(r, near(&uses[k]))
	}
	back := v.heading(at, uses[i], r, true)
	best, least := -1, math.Inf(1)
	for _, k := range leaving {
		turn := math.Mod(back-v.heading(at, uses[k], r, false)+4*math.Pi, 2*math.Pi)
		if turn < least {
			best, least = k, turn
		}
	}
	return best
}

// near is a distance from the edge's ends within which it does not turn back, mm.
func near(e *brep.FaceEdge) float64 {
	c := e.Edge.Curve
	return min(e.Edge.Mid.Dist(c.At(e.Edge.T0)), e.Edge.Mid.Dist(c.At(e.Edge.T1))) / 4
}

// heading is the direction from an end of the edge to where it leaves the circle of
// radius r about that end.
func (v View) heading(at vec, e brep.FaceEdge, r float64, end bool) float64 {
	t, m := e.Edge.T0, (e.Edge.T0+e.Edge.T1)/2
	if end != e.Reversed {
		t = e.Edge.T1
	}
	a, b := t, m
	for range 40 {
		if k := (a + b) / 2; e.Edge.Curve.At(k).Dist(at) < r {
			a = k
		} else {
			b = k
		}
	}
	return angle(v.At(at), v.At(e.Edge.Curve.At(b)))
}
