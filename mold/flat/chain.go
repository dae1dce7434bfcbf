package flat

import (
	"math"
	"slices"

	"wheelmold/mesh/outline"
)

// joint is how near ends meet, mm: edges end on exact vertices, and strokes that were
// joined of several end on them to rounding.
const joint = 1e-5

// chained joins strokes end to end where just two meet, so that a pocket is one closed
// path. The order follows the first stroke of each.
func chained(strokes []outline.Path) []outline.Path {
	n := newNet()
	for _, p := range strokes {
		if !p.Closed {
			n.add(p.Start, end(p))
		}
	}
	var out []outline.Path
	i := 0
	for _, p := range strokes {
		if p.Closed {
			out = append(out, p)
			continue
		}
		if !n.used[i] {
			out = append(out, n.run(strokes, i))
		}
		i++
	}
	return out
}

func end(p outline.Path) outline.Point { return p.Segments[len(p.Segments)-1].To }

// net is which strokes meet in which place.
type net struct {
	places []outline.Point
	at     [][]int  // strokes that end in a place
	ends   [][2]int // places where a stroke begins and ends
	used   []bool
}

func newNet() *net { return &net{} }

func (n *net) place(p outline.Point) int {
	for i, q := range n.places {
		if dist(p, q) < joint {
			return i
		}
	}
	n.places, n.at = append(n.places, p), append(n.at, nil)
	return len(n.places) - 1
}

func (n *net) add(from, to outline.Point) {
	a, b := n.place(from), n.place(to)
	k := len(n.ends)
	n.ends, n.used = append(n.ends, [2]int{a, b}), append(n.used, false)
	n.at[a], n.at[b] = append(n.at[a], k), append(n.at[b], k)
}

// next is the other stroke in a place where just two meet; -1 elsewhere.
func (n *net) next(place, stroke int) int {
	if s := n.at[place]; len(s) == 2 && s[0] != s[1] {
		return s[0] + s[1] - stroke
	}
	return -1
}

// run joins all strokes that go on from stroke i, both ways.
func (n *net) run(strokes []outline.Path, i int) outline.Path {
	open := slices.DeleteFunc(slices.Clone(strokes), func(p outline.Path) bool { return p.Closed })
	// Back to where the run begins, or once around.
	at, k := n.ends[i][0], i
	for {
		m := n.next(at, k)
		if m < 0 || m == i {
			break
		}
		at, k = n.ends[m][0]+n.ends[m][1]-at, m
	}
	first, here := at, at
	out := outline.Path{Start: n.places[at]}
	for k >= 0 && !n.used[k] {
		n.used[k] = true
		p := open[k]
		if n.ends[k][0] != here {
			p = reversed(p)
		}
		if len(out.Segments) == 0 {
			out.Start = p.Start
		}
		out.Segments = append(out.Segments, p.Segments...)
		here = n.ends[k][0] + n.ends[k][1] - here
		k = n.next(here, k)
	}
	out.Closed = here == first && len(out.Segments) > 1
	return out
}

// reversed is the path run the other way.
func reversed(p outline.Path) outline.Path {
	out := outline.Path{Start: end(p), Closed: p.Closed}
	for i := len(p.Segments) - 1; i >= 0; i-- {
		s := p.Segments[i]
		s.CCW = !s.CCW && s.Radius > 0
		s.To = p.Start
		if i > 0 {
			s.To = p.Segments[i-1].To
		}
		s.Via = slices.Clone(s.Via)
		slices.Reverse(s.Via)
		out.Segments = append(out.Segments, s)
	}
	return out
}

// lieOn tells whether all of a path lies on parts of another.
func lieOn(p, on outline.Path) bool {
	for s := range p.Stretches() {
		for _, share := range [3]float64{.01, .5, .99} {
			at, hit := s.At(share), false
			for o := range on.Stretches() {
				if _, hit = o.Bears(at, joint); hit {
					break
				}
			}
			if !hit {
				return false
			}
		}
	}
	return true
}

func dist(p, q outline.Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }
