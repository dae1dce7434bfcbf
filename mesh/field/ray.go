package field

import (
	"math"

	v3 "github.com/deadsy/sdfx/vec/v3"

	"wheelmold/mesh/solid"
)

// Steps of a ray, mm.
const (
	// margin: rays start and stop this far from a level, where a face may lie;
	// the field's rounding is about 1e-13 mm for solids up to 1 m.
	margin = 1e-9
	// leap: the shortest step, which carries a ray through a surface that it
	// nears. Material or a gap thinner than this along the ray may be missed.
	leap = 1e-5
	// stride: the longest step beyond what the field proves to be free.
	stride = 0.25
	// straightRun: slopes of the field over two steps that differ by less are
	// those of one straight wall. Rounding is 1e-13 mm over a leap, 1e-8; beside
	// a round of radius R the slope changes by step/R.
	straightRun = 1e-7
)

// levels returns the heights at which the leaf has a level face, a corner or a
// crest: between two of them it has no face normal to z.
func levels(l *solid.Leaf) []float64 {
	zs := []float64{l.Box.Lo[2], l.Box.Hi[2]}
	o, up := l.Frame.O[2], l.Frame.Z[2]
	for _, p := range leafStations(l) {
		if l.Extruded {
			z := o + p[0]*l.Frame.X[2] + p[1]*l.Frame.Y[2]
			zs = append(zs, z+l.Z0*up, z+l.Z1*up)
		} else {
			z, tilt := o+p[1]*up, p[0]*lean(l)
			zs = append(zs, z-tilt, z+tilt)
		}
	}
	return distinct(zs, l.Box.Lo[2], l.Box.Hi[2])
}

func leafStations(l *solid.Leaf) (pts []solid.Point2) {
	for i := range l.Elems {
		pts = append(pts, stations(&l.Elems[i])...)
	}
	return pts
}

// rays measures how much of the solid lies on lines parallel to z.
type rays struct {
	f      *Field
	leaves []*solid.Leaf
	levels [][]float64 // of each leaf
	shot   int         // rays so far
}

func newRays(f *Field) *rays {
	r := &rays{f: f, leaves: f.root.Leaves()}
	for _, l := range r.leaves {
		r.levels = append(r.levels, levels(l))
	}
	return r
}

// stops returns the sorted levels of every leaf that the vertical line through
// (x, y) may meet.
func (r *rays) stops(x, y float64) []float64 {
	var zs []float64
	for i, l := range r.leaves {
		if x >= l.Box.Lo[0] && x <= l.Box.Hi[0] && y >= l.Box.Lo[1] && y <= l.Box.Hi[1] {
			zs = append(zs, r.levels[i]...)
		}
	}
	return distinct(zs, r.f.box.Lo[2], r.f.box.Hi[2])
}

// inside returns the length of the vertical line through (x, y) that lies in
// the solid, mm.
func (r *rays) inside(x, y float64) float64 {
	r.shot++
	g := func(z float64) float64 { return r.f.sdf.Evaluate(v3.Vec{X: x, Y: y, Z: z}) }
	sum, stops := 0.0, r.stops(x, y)
	for i := 1; i < len(stops); i++ {
		sum += march(g, stops[i-1], stops[i])
	}
	return sum
}

// march returns the length of [a, b] where the 1-Lipschitz g is negative.
//
// It steps by |g|, which is free of surface. Along a wall that alone would take
// thousands of steps of the wall's distance. So where the last three samples
// lie on one line, as they do beside a cylinder, a plane or a cone and do not
// beside a round, it goes half way to where that line meets the surface, stride
// at most. Two crossings within such a step would be missed; levels see to it
// that neither is the edge of a leaf.
func march(g func(z float64) float64, a, b float64) float64 {
	if mid := g((a + b) / 2); math.Abs(mid) >= (b-a)/2 {
		return measure(mid, b-a)
	}
	z, end := a+margin, b-margin
	v := g(z)
	from, sum, slope, bend := a, 0.0, 1.0, 1.0
	for z < end {
		step := max(math.Abs(v), leap)
		if bend < straightRun {
			step = max(step, min(math.Abs(v/(2*slope)), stride))
		}
		next := min(z+step, end)
		w := g(next)
		if (v < 0) != (w < 0) {
			c := crossing(g, z, next, v, w)
			sum += measure(v, c-from)
			from = c
		}
		s := (math.Abs(w) - math.Abs(v)) / (next - z)
		slope, bend = s, math.Abs(s-slope)
		z, v = next, w
	}
	return sum + measure(v, b-from)
}

func measure(g, length float64) float64 {
	if g < 0 {
		return length
	}
	return 0
}

// crossing returns the zero of g between a and b, where g has values of
// different sign: false position, which halves the weight of an end that stays
// (the "Illinois" rule), with bisection where that stalls.
func crossing(g func(z float64) float64, a, b, ga, gb float64) float64 {
	const near = 1e-12 // mm, ten times the rounding of heights up to 1 m
	c := a
	for range 60 {
		last := c
		c = b - gb*(b-a)/(gb-ga)
		if !(c > a && c < b) {
			c = (a + b) / 2
		}
		gc := g(c)
		if gc == 0 || b-a < near || math.Abs(c-last) < near {
			break
		}
		if (gc < 0) == (ga < 0) {
			a, ga, gb = c, gc, gb/2
		} else {
			b, gb, ga = c, gc, ga/2
		}
	}
	return c
}
