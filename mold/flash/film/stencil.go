package film

// rim is a cell with a link that is not open, as its row of the equations:
//
//	diag·w = Σ w[next] + A·feed - load
//
// Lengths are in cells and w in squares of cells. Next to an edge that takes no
// part in a problem, next is the cell without a place, where w = 0.
type rim struct {
	cell       int32
	next       [4]int32
	diag, feed float64
	load       float64
}

// rim returns the row of a cell with the crossings that hold a value: fixed is
// that value per unit of A, and hold says which of the classes hold one.
func (g *Grid) rim(c int, fixed []float64, hold func(k int) bool) rim {
	r := rim{cell: int32(c), load: g.load(c)}
	for dir, l := range g.link[4*c : 4*c+4] {
		r.next[dir] = int32(len(g.In))
		switch {
		case l == open:
			r.next[dir] = int32(c + g.step(dir))
			r.diag++
		case l >= 0 && hold(int(l)):
			theta := g.crossings[l].share
			r.diag += 1 / theta
			r.feed += fixed[l] / theta
		}
	}
	return r
}

// load returns the right side for ∇²w = 1 in a cell.
//
// Three points on a line with the distances θ and 1 give the second derivative
// exactly for a parabola, times (θ+1)/2. Near a straight seam w depends on the
// distance from it alone, so that the row's derivative is the square of the
// normal's component along the row, and the column's the rest.
func (g *Grid) load(c int) float64 {
	width := [2]float64{1, 1}
	for dir, l := range g.link[4*c : 4*c+4] {
		if l >= 0 && g.crossings[l].class == Seam {
			width[dir/2] += (g.crossings[l].share - 1) / 2
		}
	}
	rows, cols := g.facing(c)
	return rows*width[0] + cols*width[1]
}

// facing returns the squares of the components along rows and columns of the
// normal of the seam beside a cell; their sum is 1. In a corner both count alike.
func (g *Grid) facing(c int) (rows, cols float64) {
	var square [2]float64
	for dir, l := range g.link[4*c : 4*c+4] {
		if l >= 0 && g.crossings[l].class == Seam {
			x := &g.crossings[l]
			square[dir/2] = max(square[dir/2], x.across*x.across)
		}
	}
	rows, cols = square[0], square[1]
	switch {
	case rows+cols == 0:
		return 0.5, 0.5
	case cols == 0:
		return rows, 1 - rows
	case rows == 0:
		return 1 - cols, cols
	}
	return rows / (rows + cols), cols / (rows + cols)
}

// interior reports whether all links of a cell are open.
func (g *Grid) interior(c int) bool {
	l := g.link[4*c : 4*c+4]
	return l[0] == open && l[1] == open && l[2] == open && l[3] == open
}
