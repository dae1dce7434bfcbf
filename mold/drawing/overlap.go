package drawing

import (
	"math"
	"slices"

	"wheelmold/mesh/outline"
)

// overlap is the border of what two areas have in common. Where both have an edge at
// one place, what lies beyond it is what ranks higher: the seam, then a way out, then
// a neighboring parting line.
func overlap(a, b []stroke) []stroke {
	out := within(a, b, true)
	return append(out, within(b, a, false)...)
}

// within are the parts of one area's border that lie in the other area; those on a
// border of both only where asked for.
func within(a, b []stroke, shared bool) []stroke {
	var out []stroke
	for i := range a {
		for _, s := range cut(&a[i], b) {
			m := s.At(.5)
			k := slices.IndexFunc(b, func(t stroke) bool { _, on := t.Bears(m, touch); return on })
			switch {
			case k >= 0:
				f, _ := b[k].Bears(m, touch)
				if shared && dot(s.Heading(.5), b[k].Heading(f)) > 0 {
					s.kind = higher(s.kind, b[k].kind)
					out = append(out, s)
				}
			case inside(m, b):
				out = append(out, s)
			}
		}
	}
	return out
}

// cut parts a stroke wherever one of the others meets it.
func cut(s *stroke, others []stroke) []stroke {
	at := []float64{0, 1}
	slack := touch / s.Length()
	add := func(p Point) {
		if f, on := s.Bears(p, touch); on && f > slack && f < 1-slack {
			at = append(at, f)
		}
	}
	for i := range others {
		t := &others[i]
		add(t.From)
		for _, p := range outline.Crossings(&s.Stretch, &t.Stretch) {
			if _, on := t.Bears(p, touch); on {
				add(p)
			}
		}
	}
	slices.Sort(at)
	at = slices.CompactFunc(at, func(f, g float64) bool { return math.Abs(g-f) < slack })
	at[len(at)-1] = 1
	var out []stroke
	for i := range len(at) - 1 {
		out = append(out, stroke{s.Part(at[i], at[i+1]), s.kind})
	}
	return out
}

// runs chains strokes that follow each other, in their order: open runs from their
// beginning first, then closed ones.
func runs(strokes []stroke) [][]stroke {
	used := make([]bool, len(strokes))
	next := func(p Point) int {
		for i := range strokes {
			if !used[i] && dist(strokes[i].From, p) < 10*touch {
				return i
			}
		}
		return -1
	}
	var out [][]stroke
	follow := func(i int) {
		var run []stroke
		for ; i >= 0; i = next(strokes[i].To) {
			used[i] = true
			run = append(run, strokes[i])
			if closed(run) {
				break
			}
		}
		out = append(out, run)
	}
	for i := range strokes {
		before := slices.ContainsFunc(strokes, func(s stroke) bool { return dist(s.To, strokes[i].From) < 10*touch })
		if !used[i] && !before {
			follow(i)
		}
	}
	for i := range strokes {
		if !used[i] {
			follow(i)
		}
	}
	return out
}

func closed(run []stroke) bool { return dist(run[0].From, run[len(run)-1].To) < 10*touch }

// pathOf is a run as a path. Arcs of one circle that follow each other are one
// segment; a whole circle is one that ends where it starts.
func pathOf(run []stroke) outline.Path {
	p := outline.Path{Start: run[0].From, Closed: closed(run)}
	for i := range run {
		s := &run[i]
		if n := len(p.Segments); n > 0 {
			q := &p.Segments[n-1]
			if s.Radius > 0 && q.Radius == s.Radius && dist(q.Center, s.Center) < touch && q.CCW == (s.Sweep > 0) {
				q.To = s.To
				continue
			}
		}
		p.Segments = append(p.Segments, outline.Segment{To: s.To, Center: s.Center, Radius: s.Radius, CCW: s.Sweep > 0})
	}
	if p.Closed {
		p.Segments[len(p.Segments)-1].To = p.Start
	}
	return p
}

func pathsOf(strokes []stroke) []outline.Path {
	var out []outline.Path
	for _, r := range runs(strokes) {
		out = append(out, pathOf(r))
	}
	return out
}
