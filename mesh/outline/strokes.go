package outline

import (
	"cmp"
	"math"
	"slices"
)

// strokes gathers lines, arcs and curves without doubles: parts of one line or one
// circle are joined where they overlap or touch.
type strokes struct {
	groups []*group
	byKey  map[[4]int64]*group
	curves []piece
}

// group is all that lies on one line or one circle, as ranges along it.
type group struct {
	dir    Point   // of a line
	off    float64 // of a line, to the left of the origin
	c      Point
	r      float64 // of a circle
	ranges []span
}

const turn = 2 * math.Pi

type span struct{ from, to float64 }

const (
	// grain is within what lines and circles are one, mm; quarter of grain moves the
	// borders between its steps off the lattice, on which most numbers lie.
	grain        = 1e-5
	quarterGrain = grain * .2718
	// touching parts are joined, mm.
	touching = 1e-6
	// speck: a stroke shorter than this is a line seen end-on, mm.
	speck = 1e-6
)

func step(x float64) int64 { return int64(math.Floor((x + quarterGrain) / grain)) }

func (d *strokes) add(p piece) {
	switch {
	case p.Radius > 0:
		d.addArc(p)
	case p.Via != nil:
		d.addCurve(p)
	case dist(p.from, p.To) > speck:
		d.addLine(p)
	}
}

func (d *strokes) group(key [4]int64, g group) *group {
	if d.byKey == nil {
		d.byKey = map[[4]int64]*group{}
	}
	if d.byKey[key] == nil {
		d.byKey[key] = &g
		d.groups = append(d.groups, &g)
	}
	return d.byKey[key]
}

func (d *strokes) addLine(p piece) {
	l := dist(p.from, p.To)
	u := Point{(p.To[0] - p.from[0]) / l, (p.To[1] - p.from[1]) / l}
	if u[0] < -1e-9 || u[0] < 1e-9 && u[1] < 0 {
		u = Point{-u[0], -u[1]}
	}
	off := u[0]*p.from[1] - u[1]*p.from[0]
	g := d.group([4]int64{step(u[0]), step(u[1]), step(off), -1}, group{dir: u, off: off})
	a, b := u[0]*p.from[0]+u[1]*p.from[1], u[0]*p.To[0]+u[1]*p.To[1]
	g.ranges = append(g.ranges, span{min(a, b), max(a, b)})
}

func (d *strokes) addArc(p piece) {
	g := d.group([4]int64{step(p.Center[0]), step(p.Center[1]), step(p.Radius), 1}, group{c: p.Center, r: p.Radius})
	a := angle(p.Center, p.from)
	b := a + p.sweep
	if a > b {
		a, b = b, a
	}
	shift := turn * math.Floor(a/turn)
	for _, lap := range [3]float64{-turn, 0, turn} {
		g.ranges = append(g.ranges, span{a - shift + lap, b - shift + lap})
	}
}

// addCurve drops one that runs through the same points as one that is there.
func (d *strokes) addCurve(p piece) {
	middle := func(p *piece) Point { return p.Via[len(p.Via)/2] }
	for i := range d.curves {
		q := &d.curves[i]
		same := dist(q.from, p.from) < grain && dist(q.To, p.To) < grain
		turned := dist(q.from, p.To) < grain && dist(q.To, p.from) < grain
		if (same || turned) && q.passes(middle(&p)) && p.passes(middle(q)) {
			return
		}
	}
	d.curves = append(d.curves, p)
}

// passes reports whether the curve, by its chords, comes near q.
func (p *piece) passes(q Point) bool {
	a := p.from
	for _, b := range append(slices.Clone(p.Via), p.To) {
		if chordDist(q, a, b) < 1e-3*dist(a, b)+grain {
			return true
		}
		a = b
	}
	return false
}

func (d *strokes) paths() []Path {
	var out []Path
	for _, g := range d.groups {
		if g.r > 0 {
			out = append(out, g.arcs()...)
		} else {
			out = append(out, g.lines()...)
		}
	}
	for _, p := range d.curves {
		out = append(out, Path{Start: p.from, Segments: []Segment{p.Segment}, Closed: dist(p.from, p.To) < touching})
	}
	return out
}

// merged joins ranges that overlap or lie within eps.
func (g *group) merged(eps float64) []span {
	slices.SortFunc(g.ranges, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var out []span
	for _, r := range g.ranges {
		if n := len(out) - 1; n >= 0 && r.from <= out[n].to+eps {
			out[n].to = max(out[n].to, r.to)
		} else {
			out = append(out, r)
		}
	}
	return out
}

func (g *group) lines() []Path {
	at := func(s float64) Point { return Point{s*g.dir[0] - g.off*g.dir[1], s*g.dir[1] + g.off*g.dir[0]} }
	var out []Path
	for _, r := range g.merged(touching) {
		out = append(out, Path{Start: at(r.from), Segments: []Segment{{To: at(r.to)}}})
	}
	return out
}

// arcs turns the ranges, each of which is there on three laps, into arcs that start
// on the middle one.
func (g *group) arcs() []Path {
	const eps = 1e-9
	var out []Path
	for _, r := range g.merged(touching / g.r) {
		if r.to-r.from >= turn-eps {
			return []Path{g.arc(span{0, turn}, true)}
		}
		if r.from >= -eps && r.from < turn-eps {
			out = append(out, g.arc(r, false))
		}
	}
	return out
}

func (g *group) arc(r span, closed bool) Path {
	p := piece{from: onCircle(g.c, g.r, r.from), sweep: r.to - r.from}
	p.Segment = Segment{To: onCircle(g.c, g.r, r.to), Center: g.c, Radius: g.r, CCW: true}
	if closed {
		p.To = p.from
	}
	out := Path{Start: p.from, Closed: closed}
	out.add(p)
	return out
}
