package brep

import (
	"math"
	"slices"
)

// workEdge is an edge whose faces are not yet known: it belongs to all carriers
// whose curves run along it.
type workEdge struct {
	*Edge
	sides []side
}

// side is one face's border along an edge.
type side struct {
	faceKey
	reversed bool
	q        Vec // a point of the face beside the edge's middle
}

// faceKey names a face: a carrier, and whether its outward normal is -N.
type faceKey struct {
	carrier  *carrier
	negative bool
}

func (e *workEdge) lieOn(c *carrier) {
	if !slices.Contains(e.Carriers, c) {
		e.Carriers = append(e.Carriers, c)
	}
}

// cell is a cube of a grid by which points are looked up.
type cell [3]int32

// cellSize is far above the largest tolerance of a look-up (touchTol).
const cellSize = 1e-3

// cellsNear returns the cell of p and the offsets to those neighbors that lie
// within 0.06 cells of p.
func cellsNear(p Vec) (c, lo, hi cell) {
	for i, x := range p {
		x /= cellSize
		f := math.Floor(x)
		c[i] = int32(f)
		if x-f < .06 {
			lo[i] = -1
		} else if x-f > .94 {
			hi[i] = 1
		}
	}
	return c, lo, hi
}

// visit calls f on every cell near p until it returns true.
func visit(p Vec, f func(cell) bool) bool {
	c, lo, hi := cellsNear(p)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				if f(cell{c[0] + x, c[1] + y, c[2] + z}) {
					return true
				}
			}
		}
	}
	return false
}

// pointIndex merges points that are one vertex.
type pointIndex struct {
	points []Vec
	cells  map[cell][]int32
}

func newPointIndex() pointIndex {
	return pointIndex{points: make([]Vec, 0, 128), cells: make(map[cell][]int32, 128)}
}

// at returns the index of the vertex within tol of p, adding one if there is none.
func (x *pointIndex) at(p Vec, tol float64) int {
	found := -1
	visit(p, func(c cell) bool {
		for _, i := range x.cells[c] {
			if x.points[i].Dist(p) < tol {
				found = int(i)
				return true
			}
		}
		return false
	})
	if found >= 0 {
		return found
	}
	c, _, _ := cellsNear(p)
	x.points = append(x.points, p)
	x.cells[c] = append(x.cells[c], int32(len(x.points)-1))
	return len(x.points) - 1
}

// edgeIndex finds edges by their middle.
type edgeIndex map[cell][]*workEdge

func (x edgeIndex) add(e *workEdge) {
	c, _, _ := cellsNear(e.Mid)
	x[c] = append(x[c], e)
}

func (x edgeIndex) find(mid Vec, v0, v1 int, tol float64) *workEdge {
	var found *workEdge
	visit(mid, func(c cell) bool {
		for _, e := range x[c] {
			if (e.V0 == v0 && e.V1 == v1 || e.V0 == v1 && e.V1 == v0) && e.Mid.Dist(mid) < tol {
				found = e
				return true
			}
		}
		return false
	})
	return found
}
