package raster

import (
	"math"

	"wheelmold/mesh"
)

// Corners are snapped to a grid of 1/256 sample. All decisions about coverage
// are taken on the grid in integers, so that facets which share an edge cover a
// sample on it exactly once, or both or neither where the surface folds over:
// along any ray a closed mesh is entered as often as it is left.
const (
	gridBits = 8
	grid     = 1 << gridBits
)

// facet is a triangle as the camera sees it.
type facet struct {
	at     [3]mesh.Vec // corners, mm
	normal [3]mesh.Vec // at the corners, of any length
	surf   int32

	x, y   [3]int64 // on the grid
	depth  [3]float64
	tone   [3]float64
	height [][3]float64 // above each cutting plane, mm
	area   int64        // twice the area, grid cells; positive
	away   bool         // seen from within, if at all
}

// snap puts the facet on the camera's grid and orders its corners so that they
// run the same way round for all facets. It reports whether anything is left.
func (f *facet) snap(c *camera) bool {
	f.place(c)
	if f.area > 0 { // y runs downward: one that faces the viewer has less
		f.away = true
	} else {
		f.at[1], f.at[2] = f.at[2], f.at[1]
		f.normal[1], f.normal[2] = f.normal[2], f.normal[1]
		f.place(c)
	}
	return f.area != 0
}

// place finds the corners on the grid.
func (f *facet) place(c *camera) {
	for k, p := range f.at {
		x, y, t := c.project(p)
		f.x[k], f.y[k], f.depth[k] = int64(math.Round(x*grid)), int64(math.Round(y*grid)), t
	}
	f.area = f.side(0, f.x[2], f.y[2])
}

// side is twice the area between the edge from corner k to the next and (x, y):
// positive on the facet's side.
func (f *facet) side(k int, x, y int64) int64 {
	n := (k + 1) % 3
	return (f.x[n]-f.x[k])*(y-f.y[k]) - (f.y[n]-f.y[k])*(x-f.x[k])
}

// run is a row of samples x0..x1-1 within a facet. weight are twice the areas
// opposite to the corners at x0, step what they change by from sample to sample.
type run struct {
	y, x0, x1    int
	weight, step [3]int64
}

// ramp is a quantity that changes evenly along a run.
type ramp struct{ first, step float64 }

// at is the quantity at the run's sample n.
func (r ramp) at(n int) float64 { return r.first + float64(n)*r.step }

// ramp interpolates between the values at the corners of a facet of twice the
// given area. Every weight stays between 0 and that area along the run, so that
// rounding is that of the values, however thin the facet.
func (r *run) ramp(v *[3]float64, area int64) ramp {
	var out ramp
	for k := range v {
		out.first += float64(r.weight[k]) * v[k]
		out.step += float64(r.step[k]) * v[k]
	}
	return ramp{out.first / float64(area), out.step / float64(area)}
}

// rows calls each with the facet's runs in rows y0..y1-1 of a picture of the
// given width.
func (f *facet) rows(y0, y1, width int, each func(*run)) {
	top, bottom := min(f.y[0], f.y[1], f.y[2]), max(f.y[0], f.y[1], f.y[2])
	y0, y1 = max(y0, int(top>>gridBits)), min(y1, int(bottom>>gridBits)+1)
	for y := y0; y < y1; y++ {
		if r, ok := f.row(y, width); ok {
			each(&r)
		}
	}
}

// row returns the samples of one row whose middles the facet covers.
func (f *facet) row(y, width int) (run, bool) {
	r := run{y: y, x1: width}
	py := int64(y)<<gridBits + grid/2
	var edge [3]int64
	for k := range 3 {
		n := (k + 1) % 3
		dx, dy := f.x[n]-f.x[k], f.y[n]-f.y[k]
		edge[k] = f.side(k, grid/2, py)
		v, step := edge[k], -dy*grid
		// A sample on the edge counts as if it lay a little to the right, and
		// less so further down.
		if !(dy < 0 || dy == 0 && dx > 0) {
			v--
		}
		switch { // v + step·x >= 0
		case step > 0:
			r.x0 = max(r.x0, int(ceilDiv(-v, step)))
		case step < 0:
			r.x1 = min(r.x1, int(floorDiv(v, -step))+1)
		case v < 0:
			return r, false
		}
		r.step[(k+2)%3] = step
	}
	if r.x0 >= r.x1 {
		return r, false
	}
	for k := range 3 {
		o := (k + 2) % 3
		r.weight[o] = edge[k] + r.step[o]*int64(r.x0)
	}
	return r, true
}

// floorDiv and ceilDiv divide by b > 0, rounding down and up.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func ceilDiv(a, b int64) int64 { return -floorDiv(-a, b) }
