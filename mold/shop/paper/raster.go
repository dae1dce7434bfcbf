package paper

import (
	"math"

	"wheelmold/mold/drawing"
)

// raster tells quickly where lines run: it counts the marked cells of any rectangle.
type raster struct {
	lo     Point
	nu, nv int
	sums   []int32 // of the cells below and left of each corner, once summed
}

// cell is the raster's pitch, mm of paper.
const cell = 0.5

func newRaster(b drawing.Box) *raster {
	w, h := sizeOf(b)
	r := &raster{lo: b.Lo, nu: int(w/cell) + 2, nv: int(h/cell) + 2}
	r.sums = make([]int32, (r.nu+1)*(r.nv+1))
	return r
}

// column and row of a point.
func (r *raster) column(u float64) int { return int(math.Floor((u - r.lo[0]) / cell)) }
func (r *raster) row(v float64) int    { return int(math.Floor((v - r.lo[1]) / cell)) }

func (r *raster) mark(p Point) {
	if i, j := r.column(p[0]), r.row(p[1]); i >= 0 && j >= 0 && i < r.nu && j < r.nv {
		r.sums[(j+1)*(r.nu+1)+i+1] = 1
	}
}

// line marks the cells along a line.
func (r *raster) line(a, b Point) {
	n := math.Ceil(dist(a, b)/(cell*0.7)) + 1
	for k := range int(n) + 1 {
		r.mark(plus(a, times(minus(b, a), float64(k)/n)))
	}
}

// sum makes the marks ready to be counted; none can be added then.
func (r *raster) sum() {
	w := r.nu + 1
	for j := 1; j <= r.nv; j++ {
		for i := 1; i <= r.nu; i++ {
			r.sums[j*w+i] += r.sums[j*w+i-1] + r.sums[(j-1)*w+i] - r.sums[(j-1)*w+i-1]
		}
	}
}

// meets tells whether a line runs through a box, or near it.
func (r *raster) meets(b drawing.Box) bool {
	clamp := func(k, n int) int { return min(max(k, 0), n) }
	i0, j0 := clamp(r.column(b.Lo[0]), r.nu), clamp(r.row(b.Lo[1]), r.nv)
	i1, j1 := clamp(r.column(b.Hi[0])+1, r.nu), clamp(r.row(b.Hi[1])+1, r.nv)
	w := r.nu + 1
	return r.sums[j1*w+i1]-r.sums[j0*w+i1]-r.sums[j1*w+i0]+r.sums[j0*w+i0] > 0
}

// along counts about how often a line is crossed.
func (r *raster) along(a, b Point) (n int) {
	const step = 1.0
	on := true
	for s := step; s < dist(a, b); s += step {
		p := plus(a, times(unit(minus(b, a)), s))
		is := r.meets(drawing.Box{Lo: p, Hi: p})
		if is && !on {
			n++
		}
		on = is
	}
	return n
}
