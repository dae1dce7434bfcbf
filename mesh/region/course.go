package region

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// course is a loop in its carrier's parameters, both run through without a jump.
type course struct {
	loop         Loop
	places       []place // in order; both ends of every use
	around, tube int     // whole turns of u and of v
	area         float64 // on the left of one that goes around neither: an outline, or a hole if negative
}

// place is a point of a course: at the fraction x along a use of the loop.
type place struct {
	u, v float64
	use  int
	x    float64
}

// widest is how far an angle may turn from one place to the next, radians.
const widest = 1.2

// atTip is the fraction of a use off a tip at which u is read.
const atTip = 1e-5

// course follows a loop on its carrier.
func (s *Solid) course(c *solid.Carrier, loop Loop) *course {
	w := &course{loop: loop}
	for i, u := range loop {
		first := s.read(c, u, i, 0)
		if i > 0 {
			last := w.places[len(w.places)-1]
			first = first.after(c, last, s.turnAtTip(c, u, last.u, first.u))
		}
		w.places = append(w.places, first)
		n := s.steps(c, u)
		for k := range n {
			s.follow(c, w, u, i, float64(k+1)/float64(n), 10)
		}
	}
	last, first := w.places[len(w.places)-1], w.places[0]
	first = first.after(c, last, s.turnAtTip(c, loop[0], last.u, first.u))
	if c.Kind != solid.Plane {
		w.around = int(math.Round((first.u - w.places[0].u) / (2 * math.Pi)))
	}
	if c.Kind == solid.Torus {
		w.tube = int(math.Round((first.v - w.places[0].v) / (2 * math.Pi)))
	}
	if w.around == 0 && w.tube == 0 {
		w.area = s.loopArea(c, w, w.places[0].v)
	}
	return w
}

// steps is in how many parts a use is followed.
func (s *Solid) steps(c *solid.Carrier, u Use) int {
	e := s.Edges[u.Edge]
	switch e.Shape {
	case Line:
		return 1
	case Free:
		return samples
	}
	return max(4, int(math.Ceil((e.T1-e.T0)/(2*math.Pi)*samples)))
}

// read is the place at the fraction x of a use, each parameter up to whole turns.
func (s *Solid) read(c *solid.Carrier, u Use, use int, x float64) place {
	p := s.at(u, x)
	q := place{use: use, x: x}
	q.u, q.v = c.UV(p)
	if (x == 0 || x == 1) && tipAt(c, p) != 0 {
		q.u, _ = c.UV(s.at(u, math.Abs(x-atTip)))
	}
	return q
}

// follow adds the place at x, and places between if an angle turns far.
func (s *Solid) follow(c *solid.Carrier, w *course, u Use, use int, x float64, depth int) {
	last := w.places[len(w.places)-1]
	next := s.read(c, u, use, x).after(c, last, math.NaN())
	if c.Kind != solid.Plane && depth > 0 &&
		(math.Abs(next.u-last.u) > widest || c.Kind == solid.Torus && math.Abs(next.v-last.v) > widest) {
		s.follow(c, w, u, use, (last.x+x)/2, depth-1)
		s.follow(c, w, u, use, x, depth-1)
		return
	}
	w.places = append(w.places, next)
}

// after is the place with whole turns added, so that it follows p; turn is by how much
// u turns, if that is known.
func (q place) after(c *solid.Carrier, p place, turn float64) place {
	if c.Kind == solid.Plane {
		return q
	}
	if math.IsNaN(turn) {
		turn = solid.WrapAngle(q.u - p.u)
	}
	q.u = p.u + turn
	if c.Kind == solid.Torus {
		q.v = p.v + solid.WrapAngle(q.v-p.v)
	}
	return q
}

// turnAtTip is by how much u turns where a loop passes a tip, from the angle in to the
// angle out: the face lies on the left of the ruling that comes, and of the one that
// goes. NaN where use u begins anywhere else.
func (s *Solid) turnAtTip(c *solid.Carrier, u Use, in, out float64) float64 {
	k := tipAt(c, s.at(u, 0))
	if k == 0 {
		return math.NaN()
	}
	turn := -k * (out - in)
	turn -= 2 * math.Pi * math.Floor(turn/(2*math.Pi))
	if turn < 1e-9 { // up a seam and down again
		turn = 2 * math.Pi
	}
	return -k * turn
}

// extent widens the ranges by those of the course, with extremes between places.
func (s *Solid) extent(c *solid.Carrier, w *course, lo, hi *[2]float64) {
	for k := range 2 {
		for _, sign := range [2]float64{1, -1} {
			best, at := math.Inf(-1), 0
			for i := range w.places {
				if h := sign * w.places[i].coordinate(k); h > best {
					best, at = h, i
				}
			}
			if p := w.places[at]; p.x > 0 && p.x < 1 {
				best = s.peak(c, w, at, k, sign)
			}
			if sign > 0 {
				hi[k] = max(hi[k], best)
			} else {
				lo[k] = min(lo[k], -best)
			}
		}
	}
}

func (q place) coordinate(k int) float64 {
	if k == 0 {
		return q.u
	}
	return q.v
}

// peak is the largest value of sign times a coordinate between the neighbors of place i.
func (s *Solid) peak(c *solid.Carrier, w *course, i, k int, sign float64) float64 {
	u := w.loop[w.places[i].use]
	_, v := mesh.Least(func(x float64) float64 {
		return -sign * s.read(c, u, 0, x).after(c, w.places[i], math.NaN()).coordinate(k)
	}, w.places[i-1].x, w.places[i+1].x, 20)
	return max(-v, sign*w.places[i].coordinate(k))
}
