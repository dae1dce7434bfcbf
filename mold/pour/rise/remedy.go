package rise

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mold/inparallel"
)

// Drilling is vents that let a trap's air out, tried on the same columns.
type Drilling struct {
	Vents   []Opening  // one for each local top, or as high below it as can be reached
	Blocked []mesh.Vec // local tops that no upright bore reaches
	Left    float64    // air of the trap that then stays
	Clears  bool       // nothing of at least Settings.Least stays
}

// Drill tries vents of radius r at the tops of trap i of what Traps returned. Free
// tells whether an upright bore from a point of the roof to the open hurts nothing; nil
// means that all do. Where a top is level, its middle is taken.
func (c *Cavity) Drill(a Air, i int, r float64, free func(at mesh.Vec) bool) Drilling {
	if free == nil {
		free = func(mesh.Vec) bool { return true }
	}
	s := c.along(a.Tilt)
	trap := &a.Traps[i]
	inside := map[int]bool{}
	for _, k := range trap.runs {
		inside[k] = true
	}
	var d Drilling
	drilled := map[int]bool{}
	for _, top := range trap.topRuns {
		k := s.middle(top)
		if !free(s.top(k)) {
			d.Blocked = append(d.Blocked, s.top(top))
			if k = s.nextBest(top, inside, free); k < 0 {
				continue
			}
		}
		if drilled[k] {
			continue // it serves two tops
		}
		drilled[k] = true
		d.Vents = append(d.Vents, Opening{Name: "new vent", At: s.top(k), R: r})
	}
	if len(d.Vents) == 0 {
		d.Left = trap.Volume
		return d
	}
	for _, q := range c.With(d.Vents...).Traps(a.Tilt).Traps {
		if slices.ContainsFunc(q.runs, func(k int) bool { return inside[k] }) {
			d.Left += q.Volume
		}
	}
	d.Clears = d.Left == 0
	return d
}

// middle returns, of the runs that are as high as run top and connected to it on that
// height, one farthest from the edge, and of these the one nearest to their centroid.
func (s *surface) middle(top int) int {
	level := s.roof[top] - rounding
	depth := map[int]int{top: 0}
	flat := []int{top}
	var center mesh.Vec
	for i := 0; i < len(flat); i++ {
		center = center.Add(s.top(flat[i]))
		for _, l := range s.linked(flat[i]) {
			if _, ok := depth[int(l.to)]; !ok && s.roof[l.to] >= level {
				depth[int(l.to)] = 0
				flat = append(flat, int(l.to))
			}
		}
	}
	center = center.Scale(1 / float64(len(flat)))
	ring := []int{}
	for _, k := range flat { // the edge: fewer than eight neighbors as high
		n := 0
		for _, l := range s.linked(k) {
			if s.roof[l.to] >= level {
				n++
			}
		}
		if n < len(around) {
			depth[k] = 1
			ring = append(ring, k)
		}
	}
	for i := 0; i < len(ring); i++ {
		for _, l := range s.linked(ring[i]) {
			if d, ok := depth[int(l.to)]; ok && d == 0 {
				depth[int(l.to)] = depth[ring[i]] + 1
				ring = append(ring, int(l.to))
			}
		}
	}
	return slices.MinFunc(flat, func(a, b int) int {
		return cmp.Or(depth[b]-depth[a], cmp.Compare(s.top(a).Dist(center), s.top(b).Dist(center)), a-b)
	})
}

// nextBest floods the trap from a top, the highest first, until a run is free; -1 if
// none is.
func (s *surface) nextBest(top int, inside map[int]bool, free func(mesh.Vec) bool) int {
	var h heap
	seen := map[int]bool{top: true}
	for h.push(-s.roof[top], top); len(h) > 0; {
		k := h.pop()
		if free(s.top(k)) {
			return k
		}
		for _, l := range s.linked(k) {
			if n := int(l.to); inside[n] && !seen[n] {
				seen[n] = true
				h.push(-s.roof[n], n)
			}
		}
	}
	return -1
}

// Lean is the least tilt that leaves no trap, or else the one that leaves least air.
type Lean struct {
	Tilt   Tilt
	Before float64 // air that stays at rest
	Left   float64 // air that stays so
	Clears bool    // no trap of at least Settings.Least stays
}

// ladder are the tilts that are tried, degrees; between two of them the least is found
// to a tenth. A mold that leans more than the last spills its funnel.
var ladder = []float64{.5, 1, 2, 3, 5, 7, 10, 14, 20}

const (
	azimuths = 16
	tenth    = 0.1
	// coarse: a search of the whole ladder on this many runs takes about half a second.
	// Where there are more, wider cells are searched, and what is found is judged on
	// the full columns.
	coarse = 10000
)

// LeastTilt searches all around and toward every vent for the least tilt that lets out
// all air. What it returns was computed on the cavity's own columns. Where none does,
// it is the best of those tried: nine angles in each direction.
func (c *Cavity) LeastTilt() Lean {
	rest := Lean{Before: c.Traps(Tilt{}).Volume}
	rest.Left = rest.Before
	if rest.Clears = rest.Before == 0; rest.Clears {
		return rest
	}
	tries := c.coarser().search(c.directions())
	tries = tries[:min(len(tries), 3)]
	best := rest
	for _, t := range tries {
		for range 4 { // the full columns may ask for a little more
			l := Lean{Tilt: t.tilt, Before: rest.Before, Left: c.Traps(t.tilt).Volume}
			if l.Clears = l.Left == 0; l.Clears {
				return l
			}
			if l.Left < best.Left {
				best = l
			}
			if t.left > 0 {
				break
			}
			t.tilt.Angle += 2 * tenth
		}
	}
	return best
}

// coarser is the same cavity in cells of at least c's size, few enough for a search.
func (c *Cavity) coarser() *Cavity {
	if len(c.runs) <= coarse {
		return c
	}
	out := &Cavity{Settings: c.Settings, solid: c.solid}
	out.Cell = c.Cell * max(1, math.Sqrt(float64(len(c.runs))/coarse))
	out.columns = sample(c.solid, out.Cell)
	if len(out.runs) == 0 {
		return c
	}
	for i := range c.mouths {
		out = out.With(c.mouths[i].Opening)
	}
	return out
}

// directions are azimuths all around, and those of the vents from the middle.
func (c *Cavity) directions() (out []float64) {
	for i := range azimuths {
		out = append(out, 360*float64(i)/azimuths)
	}
	b := c.solid.Bounds()
	mid := b.Lo.Add(b.Hi).Scale(.5)
	for i := range c.mouths {
		if m := &c.mouths[i]; !m.Gate {
			a := math.Atan2(m.At[1]-mid[1], m.At[0]-mid[0]) * 180 / math.Pi
			if a < 0 {
				a += 360
			}
			if !slices.ContainsFunc(out, func(o float64) bool { return math.Abs(o-a) < 1 }) {
				out = append(out, a)
			}
		}
	}
	return out
}

// try is a tilt and the air that stays under it.
type try struct {
	tilt Tilt
	left float64
}

// search climbs the ladder in all directions at once and stops on the first rung that
// clears. It returns the tilts that do, the least first; or the one that leaves least.
func (c *Cavity) search(directions []float64) []try {
	least := try{left: math.Inf(1)}
	from := 0.0
	for _, angle := range ladder {
		rung := make([]try, len(directions))
		inparallel.Do(len(rung), func(i int) {
			t := Tilt{angle, directions[i]}
			rung[i] = try{t, c.Traps(t).Volume}
		})
		for _, t := range rung {
			if t.left < least.left {
				least = t
			}
		}
		if least.left == 0 {
			return c.refine(rung, from)
		}
		from = angle
	}
	return []try{least}
}

// refine halves down from a rung's tilts that clear to the least ones that do.
func (c *Cavity) refine(rung []try, from float64) []try {
	rung = slices.DeleteFunc(rung, func(t try) bool { return t.left > 0 })
	inparallel.Do(len(rung), func(i int) {
		lo, hi := from, rung[i].tilt.Angle
		for hi-lo > 1.5*tenth {
			mid := tenth * math.Round((lo+hi)/2/tenth)
			if c.Traps(Tilt{mid, rung[i].tilt.Toward}).Volume == 0 {
				hi = mid
			} else {
				lo = mid
			}
		}
		rung[i].tilt.Angle = hi
	})
	slices.SortStableFunc(rung, func(a, b try) int { return cmp.Compare(a.tilt.Angle, b.tilt.Angle) })
	return rung
}
