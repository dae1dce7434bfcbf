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
	n := &net{within: joint}
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
	within float64 // mm
	places []outline.Point
	at     [][]int  // strokes that end in a place
	ends   [][2]int // places where a stroke begins and ends
	used   []bool
}

func (n *net) place(p outline.Point) int {
	for i, q := range n.places {
		if dist(p, q) < n.within {
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

// off are those parts of strokes that do not lie on a contour.
func off(strokes []outline.Path, contour outline.Path) []outline.Path {
	var out []outline.Path
	for _, p := range strokes {
		if p.Segments[0].Via != nil {
			out = append(out, p)
			continue
		}
		for s := range p.Stretches() {
			for _, part := range cutAt(s, corners(contour)) {
				if !liesOn(&part, contour) {
					out = append(out, pathOf(&part))
				}
			}
		}
	}
	return out
}

// corners are where the stretches of a path meet.
func corners(p outline.Path) []outline.Point {
	var out []outline.Point
	for s := range p.Stretches() {
		out = append(out, s.From)
	}
	return out
}

// cutAt cuts a stretch at those of some places that lie on it.
func cutAt(s outline.Stretch, places []outline.Point) []outline.Stretch {
	at := []float64{1}
	for _, p := range places {
		if share, on := s.Bears(p, joint); on && share > 0 && share < 1 {
			at = append(at, share)
		}
	}
	slices.Sort(at)
	var out []outline.Stretch
	from := 0.0
	for _, to := range at {
		if (to-from)*s.Length() > joint {
			out = append(out, s.Part(from, to))
			from = to
		}
	}
	return out
}

func pathOf(s *outline.Stretch) outline.Path {
	return outline.Path{Start: s.From, Segments: []outline.Segment{{To: s.To, Center: s.Center, Radius: s.Radius, CCW: s.Sweep > 0}}}
}

func liesOn(s *outline.Stretch, on outline.Path) bool {
	at := s.At(.5)
	for o := range on.Stretches() {
		if _, hit := o.Bears(at, joint); hit {
			return true
		}
	}
	return false
}

func dist(p, q outline.Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }
