package drawing

import (
	"math"
	"math/bits"
)

// borders traces the cells of a grid that belong to a set: the corners of each
// border in units of cells, (0, 0) the lower left corner of cell (0, 0). The set
// lies on the left, so that outer borders run counterclockwise and holes clockwise;
// corners in a straight run are left out. Cells that touch in a corner alone have
// borders of their own there.
func borders(columns, rows int, in func(i, j int) bool) [][][2]int {
	// Bit d of a corner: a border leaves it in direction d, a quarter turn each.
	leaves := make([]uint8, (columns+1)*(rows+1))
	at := func(i, j int) *uint8 { return &leaves[j*(columns+1)+i] }
	inside := func(i, j int) bool { return i >= 0 && j >= 0 && i < columns && j < rows && in(i, j) }
	for j := range rows {
		for i := range columns {
			if !in(i, j) {
				continue
			}
			for d, corner := range [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}} {
				next := steps[(d+3)%4] // the neighbor to the right of the border
				if !inside(i+next[0], j+next[1]) {
					*at(corner[0], corner[1]) |= 1 << d
				}
			}
		}
	}
	var out [][][2]int
	for k := range leaves {
		for leaves[k] != 0 {
			out = append(out, trace([2]int{k % (columns + 1), k / (columns + 1)}, at))
		}
	}
	return out
}

// steps in the four directions, each a quarter turn left of the one before.
var steps = [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

// trace takes one border out of the corners' bits. Where two leave a corner, each
// turns left, around its own cell.
func trace(start [2]int, at func(i, j int) *uint8) [][2]int {
	first := bits.TrailingZeros8(*at(start[0], start[1]))
	out := [][2]int{start}
	for c, d := start, first; ; {
		*at(c[0], c[1]) &^= 1 << d
		c = [2]int{c[0] + steps[d][0], c[1] + steps[d][1]}
		leaves, left := *at(c[0], c[1]), (d+1)%4
		if c == start && (leaves == 0 || left == first) {
			if d == first { // the start lies in a straight run
				out = out[1:]
			}
			return out
		}
		last := d
		if d = bits.TrailingZeros8(leaves); leaves&(1<<left) != 0 {
			d = left
		}
		if d != last {
			out = append(out, c)
		}
	}
}

// contour is where values at the centers of a grid's cells equal the level, by
// linear interpolation along the lines between neighboring centers: runs of places
// in units of cells, (0, 0) the center of cell (0, 0). A run that closes ends where
// it starts. Next to a value that is not finite there is no contour.
func contour(columns, rows int, value []float64, level float64) [][]Point {
	c := contours{columns: columns, value: value, level: level, next: make([][2]int32, 2*columns*rows)}
	for i := range c.next {
		c.next[i] = [2]int32{-1, -1}
	}
	for j := range rows - 1 {
		for i := range columns - 1 {
			c.square(j*columns + i)
		}
	}
	var out [][]Point
	for _, open := range []bool{true, false} { // runs with ends before those without
		for k := range c.next {
			if a := c.next[k]; a[0] >= 0 && (a[1] < 0) == open {
				out = append(out, c.run(int32(k)))
			}
		}
	}
	return out
}

// contours links the crossings of grid lines with a level. Crossing 2k lies between
// center k and the next of its row, 2k+1 between k and the next of its column.
type contours struct {
	columns int
	value   []float64
	level   float64
	next    [][2]int32 // the crossings that a crossing is linked to, -1: none
}

func (c *contours) link(a, b int32) {
	for _, p := range [2][2]int32{{a, b}, {b, a}} {
		n := &c.next[p[0]]
		if n[0] < 0 {
			n[0] = p[1]
		} else {
			n[1] = p[1]
		}
	}
}

// square links the crossings around the square between center k and the next ones.
func (c *contours) square(k int) {
	corners := [4]int{k, k + 1, k + 1 + c.columns, k + c.columns}
	sides := [4]int32{int32(2 * k), int32(2*(k+1) + 1), int32(2 * (k + c.columns)), int32(2*k + 1)}
	sum := 0.0
	for _, q := range corners {
		sum += c.value[q]
	}
	if math.IsInf(sum, 0) || math.IsNaN(sum) {
		return
	}
	above := func(q int) bool { return c.value[q] >= c.level }
	var crossed []int32
	for s := range 4 {
		if above(corners[s]) != above(corners[(s+1)%4]) {
			crossed = append(crossed, sides[s])
		}
	}
	switch {
	case len(crossed) == 2:
		c.link(crossed[0], crossed[1])
	case len(crossed) == 4 && above(corners[0]) == (sum/4 >= c.level): // the middle goes with the first corner
		c.link(crossed[0], crossed[1])
		c.link(crossed[2], crossed[3])
	case len(crossed) == 4:
		c.link(crossed[3], crossed[0])
		c.link(crossed[1], crossed[2])
	}
}

// run follows a contour from one crossing and takes its links out.
func (c *contours) run(start int32) []Point {
	out := []Point{c.at(start)}
	for k := start; ; {
		n := c.next[k][0]
		if n < 0 {
			return out
		}
		c.unlink(k, n)
		c.unlink(n, k)
		out = append(out, c.at(n))
		k = n
	}
}

func (c *contours) unlink(a, b int32) {
	n := &c.next[a]
	if n[0] == b {
		n[0] = n[1]
	}
	n[1] = -1
}

// at is the place of a crossing.
func (c *contours) at(k int32) Point {
	a := int(k / 2)
	b := a + 1
	if k%2 == 1 {
		b = a + c.columns
	}
	t := (c.level - c.value[a]) / (c.value[b] - c.value[a])
	u, v := float64(a%c.columns), float64(a/c.columns)
	if k%2 == 1 {
		return Point{u, v + t}
	}
	return Point{u + t, v}
}
