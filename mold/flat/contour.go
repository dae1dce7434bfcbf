package flat

import (
	"errors"
	"math"
	"slices"

	"wheelmold/mesh/outline"
)

// snug is how near strokes meet on an outline, mm: sight does not tell apart what is
// nearer than 0.002 mm, such as a round side that stands out by 0.001 mm beyond where
// stock ends it.
const snug = 2.5e-3

// contour is the outline of all that is seen of a piece, counterclockwise: its lines, cut
// where they meet, and followed around the outside, at each meeting along the one
// farthest to the right. What is seen of a piece is all one.
func contour(strokes map[string][]outline.Path) (outline.Path, error) {
	all := slices.Clone(strokes[drilled])
	for _, l := range layers {
		all = append(all, strokes[l.Name]...)
	}
	return around(cutUp(all))
}

// cutUp breaks strokes into stretches that meet at their ends only.
func cutUp(strokes []outline.Path) []outline.Stretch {
	var whole []outline.Stretch
	for i := range strokes {
		whole = slices.AppendSeq(whole, strokes[i].Stretches())
	}
	boxes := make([]box, len(whole))
	for i := range whole {
		boxes[i] = boxOf(&whole[i])
	}
	var out []outline.Stretch
	for i := range whole {
		s := &whole[i]
		at := []float64{0, 1}
		for k := range whole {
			if k != i && boxes[i].meets(&boxes[k]) {
				at = append(at, meetings(s, &whole[k])...)
			}
		}
		slices.Sort(at)
		from := 0.0
		for _, to := range at {
			if (to-from)*s.Length() > snug {
				out = append(out, s.Part(from, to))
				from = to
			}
		}
	}
	return out
}

// box holds a stretch, with room for joints.
type box struct{ lo, hi outline.Point }

func boxOf(s *outline.Stretch) box {
	b := box{s.From, s.From}
	far := []outline.Point{s.To}
	if r := s.Radius; r > 0 { // the whole circle will do
		far = append(far, outline.Point{s.Center[0] - r, s.Center[1] - r}, outline.Point{s.Center[0] + r, s.Center[1] + r})
	}
	for _, p := range far {
		for i, x := range p {
			b.lo[i], b.hi[i] = min(b.lo[i], x-snug), max(b.hi[i], x+snug)
		}
	}
	return b
}

func (b *box) meets(c *box) bool {
	return b.lo[0] <= c.hi[0] && c.lo[0] <= b.hi[0] && b.lo[1] <= c.hi[1] && c.lo[1] <= b.hi[1]
}

func (b *box) join(c *box) {
	for i := range b.lo {
		b.lo[i], b.hi[i] = min(b.lo[i], c.lo[i]), max(b.hi[i], c.hi[i])
	}
}

// holds tells whether a point lies in the box or so near that a line seen there may be it.
func (b *box) holds(p outline.Point) bool {
	return p[0] > b.lo[0]-seenIn && p[0] < b.hi[0]+seenIn && p[1] > b.lo[1]-seenIn && p[1] < b.hi[1]+seenIn
}

// meetings are the shares of the length at which a stretch meets another.
func meetings(s, t *outline.Stretch) []float64 {
	var out []float64
	add := func(p outline.Point) {
		share, on := s.Bears(p, snug)
		if _, too := t.Bears(p, snug); on && too && share > 0 && share < 1 {
			out = append(out, share)
		}
	}
	add(t.From)
	add(t.To)
	for _, p := range outline.Crossings(s, t) {
		add(p)
	}
	return out
}

var errOpen = errors.New("what is seen of it has no closed outline")

// around follows stretches counterclockwise around the outside, from the lowest point on.
func around(parts []outline.Stretch) (outline.Path, error) {
	w := walk{&net{within: snug}, parts}
	low, lowest := 0, outline.Point{0, math.Inf(1)}
	for i := range parts {
		w.add(parts[i].From, parts[i].To)
		if p := bottom(&parts[i]); p[1] < lowest[1] {
			low, lowest = i, p
		}
	}
	if len(parts) == 0 {
		return outline.Path{}, errOpen
	}
	now := step{low, parts[low].Sweep > 0} // of a round bottom
	for _, e := range w.ends[low] {
		if dist(w.places[e], lowest) < snug {
			now = w.rightmost(e, -math.Pi/2, -1)
		}
	}
	first := now
	out := outline.Path{Start: w.places[w.from(now)], Closed: true}
	for range parts {
		out.Segments = append(out.Segments, w.segment(now))
		here := w.to(now)
		now = w.rightmost(here, w.heading(here, now.part, w.near(here)), now.part)
		if now == first {
			return joined(out), nil
		}
	}
	return out, errOpen
}

// bottom is the lowest point of a stretch.
func bottom(s *outline.Stretch) outline.Point {
	low := s.From
	if s.To[1] < low[1] {
		low = s.To
	}
	if s.Radius > 0 {
		p := outline.Point{s.Center[0], s.Center[1] - s.Radius}
		if _, on := s.Bears(p, snug); on && p[1] < low[1] {
			return p
		}
	}
	return low
}

// walk goes along stretches from meeting to meeting.
type walk struct {
	*net
	parts []outline.Stretch
}

// step is the way along a stretch.
type step struct {
	part    int
	forward bool
}

func (w *walk) from(s step) int { return w.to(step{s.part, !s.forward}) }

func (w *walk) to(s step) int {
	if s.forward {
		return w.ends[s.part][1]
	}
	return w.ends[s.part][0]
}

// segment is the step as it is drawn, between the places that its ends share.
func (w *walk) segment(s step) outline.Segment {
	p := &w.parts[s.part]
	return outline.Segment{To: w.places[w.to(s)], Center: p.Center, Radius: p.Radius, CCW: p.Radius > 0 && p.Sweep > 0 == s.forward}
}

// near is a distance from a place within which no stretch from there turns back, mm.
func (w *walk) near(place int) float64 {
	r := math.Inf(1)
	for _, k := range w.at[place] {
		r = min(r, w.parts[k].Length()/4)
	}
	return r
}

// heading is the angle at which a stretch leaves a place, seen some way along it, where
// what is tangent has parted.
func (w *walk) heading(place, part int, away float64) float64 {
	s := &w.parts[part]
	share := away / s.Length()
	if w.ends[part][0] != place {
		share = 1 - share
	}
	p, q := w.places[place], s.At(share)
	return math.Atan2(q[1]-p[1], q[0]-p[0])
}

// rightmost is the step from a place that follows the way back, counterclockwise; came is
// the stretch that leads there, which is taken only where there is no other.
func (w *walk) rightmost(place int, back float64, came int) step {
	best, least := step{-1, true}, math.Inf(1)
	away := w.near(place)
	for _, k := range w.at[place] {
		turn := math.Mod(w.heading(place, k, away)-back+4*math.Pi, 2*math.Pi)
		if k == came {
			turn = 2 * math.Pi
		}
		if turn < least {
			best, least = step{k, w.ends[k][0] == place}, turn
		}
	}
	return best
}

// joined takes out the places where a line or a circle only goes on.
func joined(p outline.Path) outline.Path {
	all := slices.Collect(p.Stretches())
	first := 0
	for first < len(all) && goesOn(&all[(first+len(all)-1)%len(all)], &all[first]) {
		first++
	}
	if first == len(all) { // a whole circle
		return p
	}
	all = append(all[first:len(all):len(all)], all[:first]...)
	out := outline.Path{Start: all[0].From, Closed: true}
	for i := 0; i < len(all); {
		s := all[i]
		for i++; i < len(all) && goesOn(&s, &all[i]) && math.Abs(s.Sweep+all[i].Sweep) <= math.Pi*(1+1e-9); i++ {
			s.To, s.Sweep = all[i].To, s.Sweep+all[i].Sweep
		}
		out.Segments = append(out.Segments, outline.Segment{To: s.To, Center: s.Center, Radius: s.Radius, CCW: s.Sweep > 0})
	}
	return out
}

// goesOn tells whether t runs on along the line or circle of s, to rounding.
func goesOn(s, t *outline.Stretch) bool {
	const rounding = 1e-7
	if s.Radius > 0 || t.Radius > 0 {
		return dist(s.Center, t.Center) < rounding && math.Abs(s.Radius-t.Radius) < rounding && s.Sweep*t.Sweep > 0
	}
	a, b := s.Heading(1), t.Heading(0)
	across := math.Abs(a[0]*b[1] - a[1]*b[0])
	return a[0]*b[0]+a[1]*b[1] > 0 && across < rounding*max(math.Hypot(a[0], a[1]), math.Hypot(b[0], b[1]))
}
