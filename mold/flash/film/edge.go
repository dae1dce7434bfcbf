package film

import "math"

// smooth is how far the normal of a chord between two crossings may be from the
// normals at both, by their components along the lines. On a circle they differ
// by at most the chord's half angle, asin(√2/2R): 0.28 on a radius of 2.5 cells.
// At a right corner between rows and columns the larger of both is 1-1/√2 = 0.29
// at least.
const smooth = 0.28

// beside returns the next crossing along the edge of a crossing, on one of its
// two sides, or -1 where the edge ends, turns, or changes its class.
//
// It walks around the square of centers beside the crossing: the edge must leave
// that square through one of the other three links.
func (g *Grid) beside(k, side int) int32 {
	x := &g.crossings[k]
	ahead := int(x.dir)
	aside := (2 - ahead/2*2) | side
	c := int(x.cell)
	l := g.link[4*c+aside]
	if l == open {
		c += g.step(aside)
		l = g.link[4*c+ahead]
	}
	if l == open {
		c += g.step(ahead)
		l = g.link[4*c+(aside^1)]
	}
	if l < 0 || g.crossings[l].class != x.class || !g.straight(k, int(l)) {
		return -1
	}
	return l
}

// straight reports whether the chord between two crossings fits both normals.
func (g *Grid) straight(k, l int) bool {
	x0, y0 := g.place(k)
	x1, y1 := g.place(l)
	length := math.Hypot(x1-x0, y1-y0)
	if length == 0 {
		return true
	}
	normal := [2]float64{math.Abs(y1-y0) / length, math.Abs(x1-x0) / length}
	for _, i := range [2]int{k, l} {
		x := &g.crossings[i]
		if math.Abs(normal[x.dir/2]-x.across) > smooth {
			return false
		}
	}
	return true
}

// distance returns how far the center of cell c, one of those around crossing k,
// is from the edge there, in cells. It is firm unless the nearest place may lie
// past the last crossing of an edge.
func (g *Grid) distance(k, c int) (d float64, firm bool) {
	x := &g.crossings[k]
	px, py := g.place(k)
	cx, cy := float64(c%g.Nx)-px, float64(c/g.Nx)-py
	d, firm = math.Hypot(cx, cy), true
	onChord := false
	for _, next := range x.next {
		if next < 0 {
			firm = false
			continue
		}
		qx, qy := g.place(int(next))
		qx, qy = qx-px, qy-py
		along, square := cx*qx+cy*qy, qx*qx+qy*qy
		if along <= 0 || square == 0 {
			continue
		}
		s := math.Min(along/square, 1)
		if near := math.Hypot(cx-s*qx, cy-s*qy); near < d {
			d, onChord = near, true
		}
	}
	if firm || onChord {
		return d, true
	}
	if c == int(x.cell) { // the edge goes on straight for the rest of a cell
		return x.share * x.across, true
	}
	return d, false
}
