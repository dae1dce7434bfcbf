package region

import (
	"math"

	"wheelmold/mesh/solid"
)

// link strings the uses of edges on one carrier to closed loops.
func (s *Solid) link(c *solid.Carrier, uses []Use) ([]Loop, error) {
	leaving := make(map[int][]int, len(uses))
	for i, u := range uses {
		from, _ := s.Ends(u)
		leaving[from] = append(leaving[from], i)
	}
	used := make([]bool, len(uses))
	var out []Loop
	for first := range uses {
		if used[first] {
			continue
		}
		var loop Loop
		for i := first; !used[i]; {
			used[i] = true
			loop = append(loop, uses[i])
			_, to := s.Ends(uses[i])
			next, ok := s.next(c, to, uses, leaving[to], i)
			if !ok {
				return nil, s.fail("the border of a face is open", c, s.Vertices[to])
			}
			if used[next] && next != first {
				return nil, s.fail("a face's border runs into another", c, s.Vertices[to])
			}
			i = next
		}
		out = append(out, loop)
	}
	return out, nil
}

// next picks from the uses that leave vertex v the one that follows use i: the first
// one clockwise from the way back, so that no loop crosses another, and the edge itself
// last of all.
func (s *Solid) next(c *solid.Carrier, v int, uses []Use, leaving []int, i int) (int, bool) {
	if len(leaving) <= 1 {
		if len(leaving) == 0 {
			return 0, false
		}
		return leaving[0], true
	}
	x, y := s.tangentPlane(c, v)
	best, clear := s.clockwise(uses, leaving, i, func(u Use) float64 {
		d := s.heading(u, 0)
		return math.Atan2(d.Dot(y), d.Dot(x))
	})
	if clear {
		return best, true
	}
	// Some are tangent: what counts is how they part.
	r := s.reach(uses[i])
	for _, k := range leaving {
		r = min(r, s.reach(uses[k]))
	}
	best, _ = s.clockwise(uses, leaving, i, func(u Use) float64 {
		d := s.leave(u, r).Sub(s.Vertices[v])
		return math.Atan2(d.Dot(y), d.Dot(x))
	})
	return best, true
}

// clockwise returns the use whose angle is the first one clockwise from the way back of
// use i, and whether none is tangent to it or to the way back.
func (s *Solid) clockwise(uses []Use, leaving []int, i int, angle func(u Use) float64) (best int, clear bool) {
	back := angle(Use{uses[i].Edge, !uses[i].Reversed})
	least, second, last := math.Inf(1), math.Inf(1), 0.0
	for _, k := range leaving {
		turn := 2 * math.Pi // of the edge itself
		if uses[k].Edge != uses[i].Edge || uses[k].Reversed == uses[i].Reversed {
			turn = math.Mod(back-angle(uses[k])+4*math.Pi, 2*math.Pi)
			last = max(last, turn)
		}
		if turn < least {
			best, least, second = k, turn, least
		} else {
			second = min(second, turn)
		}
	}
	return best, least > tangentAngle && second-least > tangentAngle && last < 2*math.Pi-tangentAngle
}

// tangentAngle: edges that leave a vertex at less than this between them are told apart
// farther off, radians.
const tangentAngle = .01

// tangentPlane returns unit vectors x and y in the carrier's tangent plane at a vertex,
// with x × y along N. At a pole or tip the plane across the axis takes its place.
func (s *Solid) tangentPlane(c *solid.Carrier, v int) (x, y Vec) {
	p := s.Vertices[v]
	if k := tipAt(c, p); k != 0 {
		return solid.Across(c.Frame.Z.Scale(k))
	}
	return solid.Across(c.N(p))
}

// reach is a distance from a use's start within which it does not turn back, mm.
func (s *Solid) reach(u Use) float64 {
	m := s.at(u, .5)
	return min(m.Dist(s.at(u, 0)), m.Dist(s.at(u, 1))) / 4
}

// leave is where a use leaves the ball of radius r about its start.
func (s *Solid) leave(u Use, r float64) Vec {
	o := s.at(u, 0)
	a, b := 0.0, .5
	for range 40 {
		if m := (a + b) / 2; s.at(u, m).Dist(o) < r {
			a = m
		} else {
			b = m
		}
	}
	return s.at(u, b)
}
