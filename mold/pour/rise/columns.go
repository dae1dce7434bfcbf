package rise

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/plumb"
	"wheelmold/mold/inparallel"
)

// columns are the runs of the cavity on a square grid. The grid is centered on the
// cavity, so that a cavity turned by a quarter gets the same columns turned.
type columns struct {
	cell   float64
	nx, ny int
	x0, y0 float64     // middle of the first cell
	first  []int32     // cell i's runs are first[i] to first[i+1]-1
	cellOf []int32     // of each run
	runs   []plumb.Run // heights, from the lowest up in each cell
	links  []link      // run i's links are from[i] to from[i+1]-1
	from   []int32
	lips   []lip
}

// link leads to a run in one of the eight cells around that overlaps in height: air
// passes between the two as soon as it has reached the lower of both tops.
//
// Eight, not four: along a ridge that runs slantwise, columns that touch in a corner
// follow it within half a cell (see pocket.wide), those that share a side only within
// 0.7 cells and with a trap in every step. The price is that air gets through slanting
// walls thinner than 1.4 cells instead of 0.7.
type link struct {
	to  int32
	lip int32 // index of the lip between the two, -1 if there is none
	way uint8 // index into around
}

// around are the eight ways, counter-clockwise from +x; odd ones are diagonal.
var around = [8][2]int{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}}

func sample(s *plumb.Solid, cell float64) *columns {
	b := s.Bounds()
	count := func(k int) int { return max(1, int(math.Ceil((b.Hi[k]-b.Lo[k])/cell-1e-9))) }
	c := &columns{cell: cell, nx: count(0), ny: count(1)}
	c.x0 = (b.Lo[0]+b.Hi[0])/2 - float64(c.nx-1)/2*cell
	c.y0 = (b.Lo[1]+b.Hi[1])/2 - float64(c.ny-1)/2*cell
	type row struct {
		runs []plumb.Run
		ends []int32
	}
	rows := make([]row, c.ny)
	inparallel.Do(c.ny, func(j int) {
		r, line := &rows[j], s.Line()
		for i := range c.nx {
			r.runs = append(r.runs, line.Runs(c.x0+float64(i)*cell, c.y0+float64(j)*cell)...)
			r.ends = append(r.ends, int32(len(r.runs)))
		}
	})
	c.first = make([]int32, 1, c.nx*c.ny+1)
	for _, r := range rows {
		start := int32(len(c.runs))
		c.runs = append(c.runs, r.runs...)
		for _, e := range r.ends {
			c.first = append(c.first, start+e)
		}
	}
	c.cellOf = make([]int32, len(c.runs))
	for i := range c.nx * c.ny {
		for k := c.first[i]; k < c.first[i+1]; k++ {
			c.cellOf[k] = int32(i)
		}
	}
	c.link()
	c.findLips(s)
	return c
}

// link finds the links of every run, row by row.
func (c *columns) link() {
	rows := make([][]link, c.ny)
	ends := make([]int32, len(c.runs))
	inparallel.Do(c.ny, func(j int) {
		for k := c.first[j*c.nx]; k < c.first[(j+1)*c.nx]; k++ {
			rows[j] = c.linksOf(k, rows[j])
			ends[k] = int32(len(rows[j]))
		}
	})
	c.links = slices.Concat(rows...)
	c.from = make([]int32, 1, len(c.runs)+1)
	start := int32(0)
	for j := range c.ny {
		for k := c.first[j*c.nx]; k < c.first[(j+1)*c.nx]; k++ {
			c.from = append(c.from, start+ends[k])
		}
		start += int32(len(rows[j]))
	}
}

func (c *columns) linksOf(k int32, out []link) []link {
	i, j := int(c.cellOf[k])%c.nx, int(c.cellOf[k])/c.nx
	r := c.runs[k]
	for w, d := range around {
		x, y := i+d[0], j+d[1]
		if x < 0 || y < 0 || x >= c.nx || y >= c.ny {
			continue
		}
		for m := c.first[y*c.nx+x]; m < c.first[y*c.nx+x+1]; m++ {
			if q := c.runs[m]; min(r.Hi, q.Hi)-max(r.Lo, q.Lo) > plumb.Thin {
				out = append(out, link{m, -1, uint8(w)})
			}
		}
	}
	return out
}

func (c *columns) linked(k int) []link { return c.links[c.from[k]:c.from[k+1]] }

// point is the point at height z in run k's column.
func (c *columns) point(k int, z float64) mesh.Vec {
	i := int(c.cellOf[k])
	return mesh.Vec{c.x0 + float64(i%c.nx)*c.cell, c.y0 + float64(i/c.nx)*c.cell, z}
}

// top is the upper end of run k.
func (c *columns) top(k int) mesh.Vec { return c.point(k, c.runs[k].Hi) }

// span is the range of cells, within the grid, whose middles may lie within r of x
// (axis 0) or y (axis 1).
func (c *columns) span(axis int, at, r float64) (lo, hi int) {
	o, n := c.x0, c.nx
	if axis == 1 {
		o, n = c.y0, c.ny
	}
	return max(0, int(math.Ceil((at-r-o)/c.cell))), min(n-1, int(math.Floor((at+r-o)/c.cell)))
}
