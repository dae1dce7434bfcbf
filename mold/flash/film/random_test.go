package film

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawRegion draws a box with a seam on its left and round holes of any class.
// Seams are larger than two cells: smaller ones are known too coarsely.
func drawRegion(t *rapid.T) (shape, float64) {
	cell := rapid.Float64Range(1, 1.8).Draw(t, "cell")
	s := shape{box(0, 0, 40, 30, 0, 2, 0, 1)}
	n := rapid.IntRange(0, 6).Draw(t, "holes")
	for i := range n {
		// One in each field of a raster, so that they keep apart.
		u := 8 + 12*float64(i%3) + rapid.Float64Range(-1, 1).Draw(t, fmt.Sprint("u", i))
		v := 8 + 14*float64(i/3) + rapid.Float64Range(-1, 1).Draw(t, fmt.Sprint("v", i))
		r := rapid.Float64Range(0.1, 4.8).Draw(t, fmt.Sprint("r", i))
		label := rapid.IntRange(0, 3).Draw(t, fmt.Sprint("label", i))
		if label == seamLabel {
			r = math.Max(r, 2.2*cell)
		}
		s = append(s, circle(u, v, r, label))
	}
	return s, cell
}

// toSeam is the distance from the seams as the crow flies.
func (s shape) toSeam(u, v float64) float64 {
	d := u
	for _, c := range s[1:] {
		if c.label == seamLabel {
			d = math.Min(d, math.Hypot(u-c.center[0], v-c.center[1])-c.radius)
		}
	}
	return d
}

// clear reports whether no hole is within a cell of the line between two places.
func (s shape) clear(u0, v0, u1, v1, cell float64) bool {
	du, dv := u1-u0, v1-v0
	for _, c := range s[1:] {
		x, y := c.center[0]-u0, c.center[1]-v0
		f := math.Min(math.Max(0, (x*du+y*dv)/(du*du+dv*dv)), 1)
		if math.Hypot(x-f*du, y-f*dv) < c.radius+cell {
			return false
		}
	}
	return true
}

func TestRandomRegions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, cell := drawRegion(t)
		g := New(s, cell, classOf)
		checkDistances(t, s, g)
		checkArrivals(t, g)
	})
}

func checkDistances(t *rapid.T, s shape, g *Grid) {
	d := g.FromSeam()
	cells := make([]int, 0, len(d))
	each(g, func(c int, u, v float64) {
		cells = append(cells, c)
		if d[c] < s.toSeam(u, v)-0.3*g.Cell {
			t.Fatalf("distance %g at %g, %g: nearer than as the crow flies", d[c], u, v)
		}
		for dir := range 4 {
			if g.link[4*c+dir] == open && d[c] > d[c+g.step(dir)]+1.01*g.Cell {
				t.Fatalf("distance %g beside %g", d[c], d[c+g.step(dir)])
			}
		}
	})
	for range 30 {
		a, b := rapid.SampledFrom(cells).Draw(t, "from"), rapid.SampledFrom(cells).Draw(t, "to")
		u0, v0 := g.U0+float64(a%g.Nx)*g.Cell, g.V0+float64(a/g.Nx)*g.Cell
		u1, v1 := g.U0+float64(b%g.Nx)*g.Cell, g.V0+float64(b/g.Nx)*g.Cell
		if a == b || !s.clear(u0, v0, u1, v1, g.Cell) {
			continue
		}
		if way := math.Hypot(u1-u0, v1-v0); math.Abs(d[a]-d[b]) > way+0.3*g.Cell {
			t.Fatalf("distances %g and %g, %g apart", d[a], d[b], way)
		}
	}
}

func checkArrivals(t *rapid.T, g *Grid) {
	most := rapid.Float64Range(1, 300).Draw(t, "most")
	at := g.Arrival(nil, most)
	weak := g.Arrival(func(u, v float64) float64 { return 0.5 }, most)
	last := 0.0
	for a := most / 100; a <= most/2; a *= 1.3 {
		wet, less, same := g.WetArea(at, a), g.WetArea(weak, a), g.WetArea(weak, 2*a)
		if wet < last || wet > g.Area()+1e-9 || less > wet*1.001 {
			t.Fatalf("at %g: %g mm² wet, %g at half the drive, %g before, of %g", a, wet, less, last, g.Area())
		}
		// Half the drive takes twice the A, but the levels lie differently, which
		// shows around holes of a cell or two.
		if math.Abs(same-wet) > 0.12*wet+g.Cell*g.Cell {
			t.Fatalf("%g mm² wet at %g, %g at twice that and half the drive", wet, a, same)
		}
		last = wet
	}
	sum, n := 0.0, 0.0
	each(g, func(c int, u, v float64) {
		if !math.IsInf(weak[c]+at[c], 1) {
			sum += math.Abs(math.Sqrt(weak[c]) - math.Sqrt(2*at[c]))
			n++
		}
	})
	if sum > 0.3*g.Cell*n {
		t.Fatalf("depths at half the drive differ by %g mm on average", sum/n)
	}
}
