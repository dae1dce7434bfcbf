package rise

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
)

// Ceiling is a connected part of the roof that is level, or nearly: no air is trapped
// there, but bubbles that reach it stay, and leave pits. Where air walks along it to
// the next way out, distances tell how far; they are in plan.
type Ceiling struct {
	Area   float64 // mm²
	Height float64 // mean, along up
	Slope  float64 // mean, degrees against gravity
	// Inner: no vent opens in it; air leaves over its free edges, where the roof
	// steps up or rises more steeply.
	Inner bool
	Vents []string // that open in it
	// Bands are areas by distance to the nearest vent or free edge, by BandEnds.
	Bands    [4]float64
	Farthest float64  // largest such distance
	Where    mesh.Vec // and its place
	Stuck    float64  // area from which no way leads to any
}

// BandEnds are the distances, mm, that part one band of a ceiling from the next; the
// last band has no end.
var BandEnds = [3]float64{10, 20, 40}

// fewest columns that make a ceiling: three by three. Less is the crest of a round
// ridge, or a rim of the grid's making.
const fewest = 9

// Ceilings returns the level parts of the roof when the mold lies so, the largest
// first.
func (c *Cavity) Ceilings(t Tilt) []Ceiling {
	f := newFlats(c.along(t))
	var out []Ceiling
	for k := range f.runs {
		if f.slope[k] >= 0 && f.part[k] == 0 {
			if p := f.spread(k); len(p) >= fewest {
				out = append(out, f.ceiling(p))
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Ceiling) int { return cmp.Compare(b.Area, a.Area) })
	return out
}

// flats are the level runs of a surface.
type flats struct {
	*surface
	rise  float64   // tangent of the steepest level slope
	slope []float64 // of each run's roof, radians against gravity; -1 where not level
	area  []float64 // of its roof
	part  []int32   // ceiling that the run belongs to, from 1
	parts int32
	dist  []float64
	final []bool
	front heap
}

func newFlats(s *surface) *flats {
	n := len(s.runs)
	f := &flats{surface: s, rise: math.Tan(s.Level * math.Pi / 180), slope: make([]float64, n), area: make([]float64, n), part: make([]int32, n), dist: make([]float64, n), final: make([]bool, n)}
	for k := range n {
		f.dist[k] = math.Inf(1)
		f.slope[k] = -1
		if gx, gy, ok := f.gradient(k); ok {
			// The roof z = gx·x + gy·y has the normal (-gx, -gy, 1).
			h := math.Sqrt(1 + gx*gx + gy*gy)
			a := math.Acos(min(1, (s.up[2]-gx*s.up[0]-gy*s.up[1])/h))
			if a <= s.Level*math.Pi/180+1e-9 {
				f.slope[k], f.area[k] = a, s.Cell*s.Cell*h
			}
		}
	}
	return f
}

// gradient is the slope of run k's roof along x and y, each toward the neighbor whose
// roof is nearer in height, so that a level roof stays level up to its edge. A run
// with no neighbor along one axis has none.
func (f *flats) gradient(k int) (gx, gy float64, ok bool) {
	best := [2]float64{math.Inf(1), math.Inf(1)}
	var g [2]float64
	for _, l := range f.linked(k) {
		if l.way%2 == 1 {
			continue
		}
		axis := int(l.way) / 2 % 2
		if d := math.Abs(f.roof[l.to] - f.roof[k]); d < best[axis] {
			best[axis] = d
			g[axis] = (f.runs[l.to].Hi - f.runs[k].Hi) / (f.Cell * float64(around[l.way][axis]))
		}
	}
	return g[0], g[1], !math.IsInf(best[0]+best[1], 1)
}

func (f *flats) length(l link) float64 {
	if l.way%2 == 1 {
		return f.Cell * math.Sqrt2
	}
	return f.Cell
}

// flush reports whether the roof goes on level from run k over a link.
func (f *flats) flush(k int, l link) bool {
	return f.slope[l.to] >= 0 && math.Abs(f.roof[l.to]-f.roof[k]) <= f.rise*f.length(l)*(1+1e-9)+rounding
}

// spread marks and returns the runs of the ceiling that holds run k.
func (f *flats) spread(k int) []int {
	f.parts++
	f.part[k] = f.parts
	runs := []int{k}
	for i := 0; i < len(runs); i++ {
		for _, l := range f.linked(runs[i]) {
			if f.part[l.to] == 0 && f.flush(runs[i], l) {
				f.part[l.to] = f.parts
				runs = append(runs, int(l.to))
			}
		}
	}
	return runs
}

func (f *flats) ceiling(runs []int) Ceiling {
	var c Ceiling
	part := f.part[runs[0]]
	for i := range f.mouths {
		if m := &f.mouths[i]; !m.Gate && f.source(m, part) {
			c.Vents = append(c.Vents, m.Name)
		}
	}
	c.Inner = len(c.Vents) == 0
	for _, k := range runs {
		f.edge(k)
	}
	f.march()
	for _, k := range runs {
		a := f.area[k]
		c.Area += a
		c.Height += f.roof[k] * a
		c.Slope += f.slope[k] * a
		d := f.dist[k]
		if math.IsInf(d, 1) {
			c.Stuck += a
			continue
		}
		band := 0
		for band < len(BandEnds) && d >= BandEnds[band] {
			band++
		}
		c.Bands[band] += a
		if d >= c.Farthest {
			c.Farthest, c.Where = d, f.top(k)
		}
	}
	c.Height /= c.Area
	c.Slope *= 180 / math.Pi / c.Area
	return c
}

// nearSource: within so many cells around a vent distances are taken straight, because
// a front that starts from few points is marched poorly.
const nearSource = 4

// source starts the front at a mouth, if it opens in the part.
func (f *flats) source(m *mouth, part int32) bool {
	var at []int
	set := func(k int) {
		d := max(0, m.from(f.point(k, 0))-m.R)
		if f.part[k] == part && d < nearSource*f.Cell && d < f.dist[k] {
			f.dist[k] = d
			f.front.push(d, k)
			at = append(at, k)
		}
	}
	for _, t := range m.runs {
		set(t.run)
	}
	for i := 0; i < len(at); i++ {
		for _, l := range f.linked(at[i]) {
			set(int(l.to))
		}
	}
	return len(at) > 0
}

// edge starts the front at run k if the roof rises beside it.
func (f *flats) edge(k int) {
	for _, l := range f.linked(k) {
		if f.part[l.to] == f.part[k] || f.roof[l.to]-f.roof[k] <= f.rise*f.length(l)+rounding {
			continue
		}
		d := f.length(l) / 2
		if l.lip >= 0 {
			p := f.lips[l.lip].at
			q := f.point(k, p[2])
			d = p.Dist(q)
		}
		if d < f.dist[k] {
			f.dist[k] = d
			f.front.push(d, k)
		}
	}
}

// march carries the front over the ceiling: the fast marching method.
func (f *flats) march() {
	for len(f.front) > 0 {
		k := f.front.pop()
		if f.final[k] {
			continue
		}
		f.final[k] = true
		for _, l := range f.linked(k) {
			n := int(l.to)
			if f.part[n] != f.part[k] || f.final[n] {
				continue
			}
			if d := min(f.arrival(n), f.dist[k]+f.length(l)); d < f.dist[n] {
				f.dist[n] = d
				f.front.push(d, n)
			}
		}
	}
}

// arrival solves |∇d| = 1 at run k from the neighbors that the front has passed, with
// one-sided differences of second order where it has passed two in a row, which else
// overrate distances aslant by some percent.
func (f *flats) arrival(k int) float64 {
	inf := math.Inf(1)
	d := [2]float64{inf, inf} // of the nearer neighbor along each axis
	var weight, from [2]float64
	for _, l := range f.linked(k) {
		axis := l.way / 2 % 2
		if l.way%2 == 1 || !f.passed(k, l) || f.dist[l.to] >= d[axis] {
			continue
		}
		d[axis] = f.dist[l.to]
		weight[axis], from[axis] = 1, d[axis]
		if e := f.beyond(l); e <= d[axis] {
			weight[axis], from[axis] = 9./4, (4*d[axis]-e)/3
		}
	}
	// Σ weight·(x - from)² = cell², over both axes if that lies past both, else one.
	one := inf
	for i := range d {
		if weight[i] > 0 {
			one = min(one, from[i]+f.Cell/math.Sqrt(weight[i]))
		}
	}
	if weight[0] == 0 || weight[1] == 0 {
		return one
	}
	a := weight[0] + weight[1]
	b := weight[0]*from[0] + weight[1]*from[1]
	c := weight[0]*from[0]*from[0] + weight[1]*from[1]*from[1] - f.Cell*f.Cell
	if q := b*b - a*c; q >= 0 {
		if x := (b + math.Sqrt(q)) / a; x >= max(d[0], d[1]) {
			return x
		}
	}
	return one
}

func (f *flats) passed(k int, l link) bool { return f.final[l.to] && f.part[l.to] == f.part[k] }

// beyond is the distance of the run one further along a link, +Inf if not passed.
func (f *flats) beyond(l link) float64 {
	for _, m := range f.linked(int(l.to)) {
		if m.way == l.way && f.passed(int(l.to), m) {
			return f.dist[m.to]
		}
	}
	return math.Inf(1)
}

// heap is a binary heap of runs, the smallest key on top; of equal keys the run with
// the smaller index.
type heap []entry

type entry struct {
	key float64
	run int
}

func (e entry) less(o entry) bool { return e.key < o.key || e.key == o.key && e.run < o.run }

func (h *heap) push(key float64, run int) {
	s := append(*h, entry{key, run})
	i := len(s) - 1
	for i > 0 && s[i].less(s[(i-1)/2]) {
		s[i], s[(i-1)/2] = s[(i-1)/2], s[i]
		i = (i - 1) / 2
	}
	*h = s
}

func (h *heap) pop() int {
	s := *h
	top, n := s[0].run, len(s)-1
	s[0] = s[n]
	s = s[:n]
	for i := 0; ; {
		k := 2*i + 1
		if k >= n {
			break
		}
		if k+1 < n && s[k+1].less(s[k]) {
			k++
		}
		if !s[k].less(s[i]) {
			break
		}
		s[i], s[k] = s[k], s[i]
		i = k
	}
	*h = s
	return top
}
