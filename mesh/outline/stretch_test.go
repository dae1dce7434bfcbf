package outline

import (
	"math"
	"testing"
)

func line(a, b Point) Stretch { return Stretch{From: a, To: b} }

// arc turns about a center from an angle, radians.
func arc(c Point, r, from, sweep float64) Stretch {
	at := func(a float64) Point { return Point{c[0] + r*math.Cos(a), c[1] + r*math.Sin(a)} }
	return Stretch{at(from), at(from + sweep), c, r, sweep}
}

// Places along a quarter of a circle and a line, by trigonometry: their shares, and the
// headings there, at right angles to the radius.
func TestPlacesAlongStretches(t *testing.T) {
	l := line(Point{1, 1}, Point{4, 5})
	near1(t, "length of a line", l.Length(), 5, 1e-15)
	for _, sweep := range []float64{math.Pi / 2, -math.Pi / 2, math.Pi} {
		a := arc(Point{1, 2}, 3, .4, sweep)
		near1(t, "length of an arc", a.Length(), 3*math.Abs(sweep), 1e-12)
		for _, f := range []float64{0, .2, .7, 1} {
			sin, cos := math.Sincos(.4 + f*sweep)
			p, want := a.At(f), Point{1 + 3*cos, 2 + 3*sin}
			near1(t, "place", dist(p, want), 0, 1e-12)
			share, on := a.Bears(p, 1e-6)
			if near1(t, "share", share, f, 1e-9); !on {
				t.Errorf("an arc does not bear its place at %g", f)
			}
			h := a.Heading(f)
			near1(t, "heading", math.Atan2(cross(Point{-sin * sweep, cos * sweep}, h), dot(Point{-sin * sweep, cos * sweep}, h)), 0, 1e-9)
			if q := l.At(f); l.Share(q) < f-1e-12 || l.Share(q) > f+1e-12 {
				t.Errorf("share %g of a line at %v", l.Share(q), q)
			}
		}
		part := a.Part(.25, .75)
		near1(t, "part", dist(part.From, a.At(.25))+dist(part.To, a.At(.75))+math.Abs(part.Sweep-sweep/2), 0, 1e-12)
	}
	for _, p := range []Point{{1, 1.1}, {4.1, 5.1}, {.9, .9}} {
		if _, on := l.Bears(p, 1e-2); on {
			t.Errorf("a line bears %v", p)
		}
	}
}

// A path's stretches are its lines, its arcs in halves where they turn more, and the
// chords of its curves; to stop early is no fault.
func TestStretches(t *testing.T) {
	p := Path{Start: Point{1, 0}, Segments: []Segment{
		{To: Point{1, 0}, Radius: 1, CCW: true}, // a whole turn
		{To: Point{3, 0}},
		{To: Point{3, 3}, Via: []Point{{4, 1}, {4, 2}}},
	}}
	at, n, turned := p.Start, 0, 0.0
	for s := range p.Stretches() {
		if dist(s.From, at) > 1e-15 || math.Abs(s.Sweep) > math.Pi*(1+1e-9) {
			t.Errorf("stretch %d: %+v", n, s)
		}
		at, turned = s.To, turned+s.Sweep
		n++
	}
	if n != 6 || at != (Point{3, 3}) || math.Abs(turned-2*math.Pi) > 1e-12 {
		t.Errorf("%d stretches to %v that turn by %g", n, at, turned)
	}
	for k := 1; k < n; k++ {
		seen := 0
		for range p.Stretches() {
			if seen++; seen == k {
				break
			}
		}
		if seen != k {
			t.Errorf("%d stretches before the stop at %d", seen, k)
		}
	}
}

// Where lines and circles meet, by Pythagoras.
func TestCrossings(t *testing.T) {
	for _, c := range []struct {
		name string
		s, t Stretch
		want []Point
	}{
		{"two lines, beyond their ends", line(Point{0, 0}, Point{1, 0}), line(Point{3, 1}, Point{3, 2}), []Point{{3, 0}}},
		{"parallel lines", line(Point{0, 0}, Point{1, 0}), line(Point{0, 1}, Point{1, 1}), nil},
		{"a line through a circle", line(Point{0, 3}, Point{1, 3}), arc(Point{1, 0}, 5, 0, 1), []Point{{5, 3}, {-3, 3}}},
		{"a line past a circle", line(Point{0, 6}, Point{1, 6}), arc(Point{1, 0}, 5, 0, 1), nil},
		{"two circles", arc(Point{0, 0}, 5, 0, 1), arc(Point{6, 0}, 5, 0, 1), []Point{{3, 4}, {3, -4}}},
		{"circles apart", arc(Point{0, 0}, 2, 0, 1), arc(Point{6, 0}, 2, 0, 1), nil},
		{"one circle", arc(Point{0, 0}, 2, 0, 1), arc(Point{0, 0}, 2, 2, 1), nil},
	} {
		for _, pair := range [][2]Stretch{{c.s, c.t}, {c.t, c.s}} {
			got := Crossings(&pair[0], &pair[1])
			if len(got) != len(c.want) {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
				continue
			}
			for _, w := range c.want {
				off := math.Inf(1)
				for _, g := range got {
					off = min(off, dist(g, w))
				}
				near1(t, c.name, off, 0, 1e-12)
			}
		}
	}
}

// Distances of stretches in closed form.
func TestApart(t *testing.T) {
	quarter := arc(Point{}, 1, 0, math.Pi/2) // from (1, 0) to (0, 1)
	for _, c := range []struct {
		name string
		s, t Stretch
		want float64
	}{
		{"a line beside an arc", line(Point{3, -1}, Point{-1, 3}), quarter, math.Sqrt2 - 1},
		{"a line that ends before it is abreast", line(Point{3, -1}, Point{2.6, -.6}), quarter, math.Hypot(1.6, .6)},
		{"an arc that ends before it is abreast", line(Point{-4, -.5}, Point{-4, .5}), quarter, math.Hypot(4, .5)},
		{"two circles", arc(Point{3, 4}, 2, math.Pi, math.Pi/2), quarter, 2},
		{"two lines askew", line(Point{0, 0}, Point{4, 0}), line(Point{1, 1}, Point{3, 3}), 1},
		{"lines beyond their ends", line(Point{0, 0}, Point{1, 0}), line(Point{2, 1}, Point{3, 1}), math.Sqrt2},
		{"an arc and its center", quarter, line(Point{0, 0}, Point{-1, -1}), 1},
	} {
		for _, pair := range [][2]Stretch{{c.s, c.t}, {c.t, c.s}} {
			p, q := Apart(&pair[0], &pair[1])
			if math.Abs(dist(p, q)-c.want) > 1e-6 {
				t.Errorf("%s: %.9f from %.3f to %.3f, want %.9f", c.name, dist(p, q), p, q, c.want)
			}
		}
	}
}

// How far points lie from a ring's border, from inside, outside and between; from one
// that is a point, and from none.
func TestAway(t *testing.T) {
	ring := Region{disc(Point{3, 4}, 5, true), disc(Point{3, 4}, 2, false)}
	for p, want := range map[Point]float64{{3, 4}: 2, {3, 5}: 1, {6, 8}: 0, {6, 4}: 1, {3, 11}: 2, {7.5, 10}: 2.5, {0, 0}: 0} {
		near1(t, "away from a ring", ring.Away(p), want, 1e-12)
	}
	quarter := Region{{Start: Point{2, 0}, Segments: []Segment{{To: Point{0, 2}, Radius: 2, CCW: true}}}}
	near1(t, "beyond the end of an arc", quarter.Away(Point{3, -4}), math.Hypot(1, 4), 1e-12)
	near1(t, "behind an arc", quarter.Away(Point{-3, -3}), math.Hypot(3, 5), 1e-12)
	near1(t, "a point", Region{{Start: Point{1, 1}, Segments: []Segment{{To: Point{1, 1}}}}}.Away(Point{4, 5}), 5, 1e-12)
	if d := (Region{}).Away(Point{}); !math.IsInf(d, 1) {
		t.Errorf("nothing is %g mm away", d)
	}
}
