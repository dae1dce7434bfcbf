package film

import (
	"math"

	"wheelmold/mesh/contact"
)

// Class says what an edge of the region does to the film.
type Class uint8

// The classes of edges.
const (
	Wall Class = iota // closed
	Seam              // the liquid enters here
	Exit              // the liquid may leave here
)

// Grid is a flat region as cells in rows and columns.
type Grid struct {
	Nx, Ny int     // cells in a row, cells in a column
	Cell   float64 // width of a cell and spacing of the lines, mm
	U0, V0 float64 // center of cell (0, 0), mm
	In     []bool  // whether the center of cell i of row j is inside, at j*Nx+i

	link       []int32 // four of each cell: open, closed or an index of crossings
	crossings  []crossing
	area       []float64 // of the part of the region that each cell stands for, mm²
	unresolved float64
}

// The links of a cell, in the order of directions west, east, south, north. An
// opposite direction differs in the last bit.
const (
	west = iota
	east
	south
	north
)

const (
	open   = -1 // to the next cell
	closed = -2 // without an edge that could be named
)

// crossing is where a line from a cell's center meets an edge first.
type crossing struct {
	cell   int32
	dir    uint8
	class  Class
	label  int
	share  float64  // distance from the center along the line, in cells
	across float64  // component of the edge's normal along the line, in [0, 1]
	next   [2]int32 // the crossings beside it on a smooth edge of its class, or -1
	depth  float64  // distance of the center from the edge, in cells
}

// shift moves the lines off the middle of a cell, in cells. Edges and vertices
// like round coordinates, and an irrational part of a cell meets none of them;
// it is well above rounding and well below what matters.
const shift = 1e-3 * (math.Sqrt2 - 1)

// nearest is the least distance between a center and an edge, in cells. It keeps
// the weight 1/θ finite; moving an edge by that much moves a front by as much.
const nearest = 1e-3

// farthest is how far an edge may be from the last center before it, in cells:
// 1 but where rows and columns disagree about the next center.
const farthest = 1.5

// mostCells bounds the memory; New takes larger cells rather than exceed it.
const mostCells = 1 << 26

// New returns the cells of a region, each about cell mm wide, with the class of
// every edge by its label. A region without extent gives a grid without cells.
func New(s contact.Section, cell float64, class func(label int) Class) *Grid {
	lo, hi := s.Bounds()
	width, height := hi[0]-lo[0], hi[1]-lo[1]
	if !(cell > 0 && width > 0 && height > 0) || math.IsInf(cell+width+height, 0) {
		return &Grid{Cell: cell}
	}
	for width/cell*(height/cell) > mostCells {
		cell *= 2
	}
	g := &Grid{Nx: int(math.Ceil(width / cell)), Ny: int(math.Ceil(height / cell)), Cell: cell}
	g.U0 = (lo[0]+hi[0])/2 - (float64(g.Nx-1)/2-shift)*cell
	g.V0 = (lo[1]+hi[1])/2 - (float64(g.Ny-1)/2-shift)*cell
	g.allocate()
	lines := g.lines(s)
	g.fill(lines)
	for i := range lines {
		g.thread(&lines[i], class)
	}
	g.finish()
	return g
}

func (g *Grid) allocate() {
	n := g.Nx * g.Ny
	g.In = make([]bool, n)
	g.link = make([]int32, 4*n)
	for i := range g.link {
		g.link[i] = closed
	}
}

// line is a row or column of centers and the runs of the region along it.
type line struct {
	first, stride, count int // its cells
	origin               float64
	back, ahead          uint8 // directions
	runs                 []contact.Span
}

// lines cuts the region along all rows and then all columns.
func (g *Grid) lines(s contact.Section) []line {
	lines := make([]line, 0, g.Nx+g.Ny)
	for j := range g.Ny {
		lines = append(lines, line{j * g.Nx, 1, g.Nx, g.U0, west, east, s.Row(g.V0 + float64(j)*g.Cell)})
	}
	for i := range g.Nx {
		lines = append(lines, line{i, g.Nx, g.Ny, g.V0, south, north, s.Col(g.U0 + float64(i)*g.Cell)})
	}
	return lines
}

// centers returns the range of centers strictly inside a run; empty if lo > hi.
func (l *line) centers(run contact.Span, cell float64) (lo, hi int) {
	a, b := (run.Lo.At-l.origin)/cell, (run.Hi.At-l.origin)/cell
	if !(a < b) {
		return 0, -1
	}
	lo = int(math.Floor(math.Max(a, -1))) + 1
	hi = int(math.Ceil(math.Min(b, float64(l.count)))) - 1
	return lo, hi
}

// fill marks the centers that lie inside by their row and by their column. The
// two can differ where a line grazes an edge; then the cell is left out.
func (g *Grid) fill(lines []line) {
	votes := make([]uint8, len(g.In))
	for i := range lines {
		l := &lines[i]
		bit := uint8(1) << (l.back / 2)
		for _, run := range l.runs {
			lo, hi := l.centers(run, g.Cell)
			for k := lo; k <= hi; k++ {
				votes[l.first+k*l.stride] |= bit
			}
		}
	}
	for c, v := range votes {
		g.In[c] = v == 3
	}
}

// thread opens the links between neighbors of one run and records its ends.
func (g *Grid) thread(l *line, class func(int) Class) {
	for _, run := range l.runs {
		lo, hi := l.centers(run, g.Cell)
		head, tail := -1, -1
		for k := lo; k <= hi; k++ {
			c := l.first + k*l.stride
			if !g.In[c] {
				continue
			}
			if head < 0 {
				head = k
			}
			if k > lo && tail == k-1 {
				g.link[4*c+int(l.back)], g.link[4*(c-l.stride)+int(l.ahead)] = open, open
			}
			tail = k
		}
		if head < 0 {
			g.unresolved += thin(run) * g.Cell
			continue
		}
		g.end(l, head, run.Lo, l.back, class)
		g.end(l, tail, run.Hi, l.ahead, class)
	}
}

// thin returns the part of a run without cells that counts as lost: like cells
// at an edge, rows count with the square of the normal's component along them
// and columns with the rest.
func thin(run contact.Span) float64 {
	length := run.Hi.At - run.Lo.At
	if !(length > 0) {
		return 0
	}
	a, b := unit(run.Lo.Across), unit(run.Hi.Across)
	return length * (a*a + b*b) / 2
}

// end records where a run leaves its last cell.
func (g *Grid) end(l *line, k int, end contact.End, dir uint8, class func(int) Class) {
	c := l.first + k*l.stride
	share := math.Abs(l.origin+float64(k)*g.Cell-end.At) / g.Cell
	if g.link[4*c+int(dir)] != closed || !(share <= farthest) {
		return
	}
	g.link[4*c+int(dir)] = int32(len(g.crossings))
	g.crossings = append(g.crossings, crossing{
		cell: int32(c), dir: dir, class: class(end.Label), label: end.Label,
		share: math.Max(share, nearest), across: unit(end.Across),
	})
}

// unit returns x within [0, 1], and 0 for what is no number.
func unit(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return math.Min(x, 1)
}

// finish derives what follows from links and crossings.
func (g *Grid) finish() {
	for k := range g.crossings {
		g.crossings[k].next = [2]int32{g.beside(k, 0), g.beside(k, 1)}
	}
	for k := range g.crossings {
		x := &g.crossings[k]
		x.depth, _ = g.distance(k, int(x.cell))
	}
	full := g.Cell * g.Cell
	g.area = make([]float64, len(g.In))
	for c, in := range g.In {
		if in {
			g.area[c] = full
		}
	}
	for k := range g.crossings {
		c := int(g.crossings[k].cell)
		g.area[c] = full * g.part(c)
	}
}

// part returns how much of the region a cell stands for, in cells.
//
// Between the steps of the cells' outline and the edge lies a strip. Measured
// along the rows it has an area, and along the columns the same area: any mix of
// the two with weights of sum 1 will do. The squares of the normal's components
// count rows where they cross the edge well and columns likewise, and nothing
// where they graze it. In a right corner between two edges the strips overlap.
func (g *Grid) part(c int) float64 {
	var strip, weight [2]float64
	for dir, l := range g.link[4*c : 4*c+4] {
		if l < 0 {
			continue
		}
		x := &g.crossings[l]
		p := x.across * x.across
		strip[dir/2] += p * (x.share - 0.5)
		weight[dir/2] = math.Max(weight[dir/2], p)
	}
	both := math.Max(0, weight[0]+weight[1]-1)
	return math.Max(0, 1+strip[0]+strip[1]+both*strip[0]*strip[1])
}

// step returns the difference of index to the next cell in a direction.
func (g *Grid) step(dir int) int {
	return [4]int{-1, 1, -g.Nx, g.Nx}[dir]
}

// point returns where a crossing lies, mm.
func (g *Grid) point(k int) (u, v float64) {
	x, y := g.place(k)
	return g.U0 + x*g.Cell, g.V0 + y*g.Cell
}

// place returns where a crossing lies, in cells from the center of cell (0, 0).
func (g *Grid) place(k int) (x, y float64) {
	p := &g.crossings[k]
	x, y = float64(int(p.cell)%g.Nx), float64(int(p.cell)/g.Nx)
	switch p.dir {
	case west:
		x -= p.share
	case east:
		x += p.share
	case south:
		y -= p.share
	case north:
		y += p.share
	}
	return x, y
}

// Area returns the area of all cells, mm². It is what WetArea comes to when all
// is wet; the region has Unresolved more.
func (g *Grid) Area() float64 {
	sum := 0.0
	for _, a := range g.area {
		sum += a
	}
	return sum
}

// Unresolved returns about how much of the region falls between the lines, mm².
// A part without cells has neither distances nor flow: smaller cells find it.
func (g *Grid) Unresolved() float64 { return g.unresolved }

// SeamLength returns the length of all seams, mm.
func (g *Grid) SeamLength() float64 {
	sum := 0.0
	for k := range g.crossings {
		if g.crossings[k].class == Seam {
			sum += g.weight(k)
		}
	}
	return sum
}

// Length returns the length of the edges of one label, mm.
func (g *Grid) Length(label int) float64 {
	sum := 0.0
	for k := range g.crossings {
		if g.crossings[k].label == label {
			sum += g.weight(k)
		}
	}
	return sum
}

// weight returns the length of edge that a crossing stands for, mm. A line alone
// would stand for Cell/across; the squares of the normal's components, whose sum
// is 1, share an edge among rows and columns without a jump at 45°.
func (g *Grid) weight(k int) float64 { return g.Cell * g.crossings[k].across }
