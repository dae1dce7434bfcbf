package sight

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/outline"
)

// same: lines that lie nearer to each other all along are drawn once, mm. Rounding to
// the lattice, 6e-5 mm, moves apart what is flush.
const same = 1e-4

// group is all that lies on one line or one circle, as ranges of the length along it
// or of the angle.
type group struct {
	outline.Stretch // the longest of its parts
	// Of visible and of hidden ones, those that are edges and silhouettes.
	spans [2][2][]span
}

type span struct{ from, to float64 }

// merge joins what lies on each other or goes on, and makes lines of it.
func (d *drawing) merge(tol float64, hidden bool) []Line {
	straight := slices.DeleteFunc(slices.Clone(d.parts), func(p *part) bool { return p.curve != nil })
	slices.SortStableFunc(straight, func(a, b *part) int { return cmp.Compare(b.Length(), a.Length()) })
	var groups []*group
	for _, p := range straight {
		i := slices.IndexFunc(groups, func(g *group) bool { return g.holds(&p.Stretch) })
		if i < 0 {
			i = len(groups)
			groups = append(groups, &group{Stretch: p.Stretch})
		}
		for _, x := range d.seen(p) {
			groups[i].add(p, x)
		}
	}
	var out []Line
	for _, g := range groups {
		out = append(out, g.lines()...)
	}
	out = append(out, d.curves(tol)...)
	slices.SortStableFunc(out, func(a, b Line) int { return cmp.Compare(number(a.Hidden), number(b.Hidden)) })
	if !hidden {
		out = slices.DeleteFunc(out, func(l Line) bool { return l.Hidden })
	}
	return out
}

func number(b bool) int {
	if b {
		return 1
	}
	return 0
}

// holds reports whether a stretch lies on the group's line or circle.
func (g *group) holds(s *outline.Stretch) bool {
	if (g.Radius > 0) != (s.Radius > 0) {
		return false
	}
	if g.Radius > 0 {
		return dist(g.Center, s.Center) < same && math.Abs(g.Radius-s.Radius) < same
	}
	return g.off(s.From) < same && g.off(s.To) < same
}

func (g *group) off(p point) float64 { return dist(p, g.Stretch.At(g.Share(p))) }

// place is the length along the line, or the angle.
func (g *group) place(p point) float64 {
	if g.Radius > 0 {
		return math.Atan2(p[1]-g.Center[1], p[0]-g.Center[0])
	}
	return g.Share(p) * g.Length()
}

func (g *group) add(p *part, x piece) {
	s := p.Part(x.from, x.to)
	a, b := g.place(s.From), g.place(s.To)
	list := &g.spans[number(x.hidden)][number(p.silhouette)]
	if g.Radius == 0 {
		*list = append(*list, span{min(a, b), max(a, b)})
		return
	}
	if s.Sweep < 0 {
		a, b = b, b+math.Abs(s.Sweep)
	} else {
		b = a + s.Sweep
	}
	if b > math.Pi { // cut where the angle jumps
		*list = append(*list, span{-math.Pi, b - 2*math.Pi})
		b = math.Pi
	}
	*list = append(*list, span{a, b})
}

// joined sorts ranges and joins those that overlap or lie within eps.
func joined(eps float64, lists ...[]span) []span {
	all := slices.Concat(lists...)
	slices.SortFunc(all, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var out []span
	for _, r := range all {
		if n := len(out) - 1; n >= 0 && r.from <= out[n].to+eps {
			out[n].to = max(out[n].to, r.to)
		} else {
			out = append(out, r)
		}
	}
	return out
}

// without takes joined ranges away, and what they leave of less than eps.
func without(rs, taken []span, eps float64) []span {
	var out []span
	for _, r := range rs {
		for _, t := range taken {
			if t.to <= r.from || t.from >= r.to {
				continue
			}
			if t.from-r.from > eps {
				out = append(out, span{r.from, t.from})
			}
			r.from = t.to
		}
		if r.to-r.from > eps {
			out = append(out, r)
		}
	}
	return out
}

func (g *group) lines() []Line {
	eps := same
	if g.Radius > 0 {
		eps /= g.Radius
	}
	var out []Line
	visible := joined(eps, g.spans[0][:]...)
	for h, rs := range [2][]span{visible, without(joined(eps, g.spans[1][:]...), visible, eps)} {
		edges := joined(eps, g.spans[h][0])
		for _, r := range g.around(rs, eps) {
			out = append(out, Line{Path: g.path(r), Hidden: h == 1, Silhouette: !meets(r, edges, eps, g.Radius > 0)})
		}
	}
	return out
}

// around joins what was cut where the angle jumps.
func (g *group) around(rs []span, eps float64) []span {
	n := len(rs) - 1
	if g.Radius == 0 || n < 1 || rs[0].from > -math.Pi+eps || rs[n].to < math.Pi-eps {
		return rs
	}
	rs = slices.Clone(rs)
	rs[n].to = rs[0].to + 2*math.Pi
	return rs[1:]
}

func meets(r span, edges []span, eps float64, round bool) bool {
	for _, e := range edges {
		if min(r.to, e.to)-max(r.from, e.from) > eps || round && r.to > math.Pi && min(r.to, e.to+2*math.Pi)-e.from-2*math.Pi > eps {
			return true
		}
	}
	return false
}

// path draws a range; arcs of more than half a turn in two halves.
func (g *group) path(r span) outline.Path {
	if g.Radius == 0 {
		l := g.Length()
		return outline.Path{Start: g.Stretch.At(r.from / l), Segments: []outline.Segment{{To: g.Stretch.At(r.to / l)}}}
	}
	c := outline.Stretch{Center: g.Center, Radius: g.Radius, From: point{g.Center[0] + g.Radius, g.Center[1]}, Sweep: 1}
	seg := func(a float64) outline.Segment {
		return outline.Segment{To: c.At(a), Center: g.Center, Radius: g.Radius, CCW: true}
	}
	if r.to-r.from > 2*math.Pi-same/g.Radius {
		r = span{0, 2 * math.Pi}
		return outline.Path{Start: c.From, Segments: []outline.Segment{seg(math.Pi), {To: c.From, Center: g.Center, Radius: g.Radius, CCW: true}}, Closed: true}
	}
	out := outline.Path{Start: c.At(r.from)}
	if r.to-r.from > halfTurn {
		out.Segments = append(out.Segments, seg((r.from+r.to)/2))
	}
	out.Segments = append(out.Segments, seg(r.to))
	return out
}
