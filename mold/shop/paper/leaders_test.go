package paper

import (
	"math"
	"testing"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// walled is a cut through walls of a thickness around a square cavity.
func walled(cavity, wall float64) View {
	ring := func(a float64) outline.Path {
		return outline.Path{Start: Point{-a, -a}, Closed: true, Segments: []outline.Segment{
			{To: Point{a, -a}}, {To: Point{a, a}}, {To: Point{-a, a}}, {To: Point{-a, -a}}}}
	}
	hole := ring(cavity / 2)
	hole.Segments[0], hole.Segments[2] = hole.Segments[2], hole.Segments[0] // the other way around
	return View{Caption: "cut", Areas: []drawing.Area{{Look: drawing.Cut, Of: "x", Region: outline.Region{ring(cavity/2 + wall), hole}}}}
}

// elbowOf is where the leader of the view's one call-out bends.
func elbowOf(t *testing.T, v View, c Callout) Point {
	t.Helper()
	v.Callouts = []Callout{c}
	g := layView(&v, 1, false)
	if len(g.lines) != 2 || len(g.missed) > 0 {
		t.Fatalf("%d lines, missed %v", len(g.lines), g.missed)
	}
	if tip := g.lines[0][0]; dist(tip, c.Tip) > 1e-9 {
		t.Fatalf("the leader ends at %v, not at %v", tip, c.Tip)
	}
	return g.lines[0][1]
}

// A leader comes to a face from where the tool does, not through what is cut: from without
// to an outer face, and out of the cavity to an inner one although beyond the thin wall
// there is more room. Only where the cavity is full it runs
// through the wall.
func TestLeadersComeFromOutsideTheMaterial(t *testing.T) {
	const cavity, wall = 60., 4.
	for _, d := range []Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		for _, c := range []struct {
			what  string
			face  float64
			datum bool
			out   bool // the elbow lies beyond the face as seen from the middle
		}{
			{"datum on an outer face", 30 + wall, true, true},
			{"datum on an inner face", 30, true, false},
			{"note on an outer face", 30 + wall, false, true},
			{"note on an inner face", 30, false, false},
		} {
			x := Callout{Tip: times(d, c.face), Text: "f"}
			if c.datum {
				x.Text, x.Datum = "", "A"
			}
			e := elbowOf(t, walled(cavity, wall), x)
			if r := e[0]*d[0] + e[1]*d[1]; r > c.face != c.out {
				t.Errorf("%s, toward %v: the elbow lies %.1f mm from the middle, the face %g", c.what, d, r, c.face)
			}
		}
	}
	v := walled(cavity, wall)
	g := layView(&v, 1, false)
	g.take("t", drawing.Box{Lo: Point{-cavity / 2, -cavity / 2}, Hi: Point{cavity/2 - 1, cavity / 2}})
	g.callout(&Callout{Tip: Point{cavity / 2, 0}, Datum: "A"})
	if len(g.lines) != 2 || g.lines[0][1][0] < cavity/2+wall {
		t.Errorf("with the cavity full: %v", g.lines)
	}
}

// A leader that crosses no dimension's line may be some millimeters longer for that, not
// many; and one that covers what is drawn or written is none.
func TestLeadersCrossLittle(t *testing.T) {
	right, left := tipAt{Point{10, 0}, []Point{{math.Sqrt2 / 2, math.Sqrt2 / 2}}, 0, false}, tipAt{Point{-10, 0}, []Point{{-math.Sqrt2 / 2, math.Sqrt2 / 2}}, 0, false}
	var grid [][2]Point // upright lines that begin beside the elbow of the shortest leader
	for x := 15.; x < 150; x++ {
		grid = append(grid, [2]Point{{x, 0}, {x, 150}})
	}
	for _, c := range []struct {
		what  string
		worth float64 // mm of leader by which the place on the right is the better one
		in    func(g *ground)
		left  bool
	}{
		{"nothing in the way", 3, func(*ground) {}, false},
		{"a line across", 3, func(g *ground) { g.lines = append(g.lines, [2]Point{{10, 2}, {13, 2}}) }, true},
		{"a line across, the other place far worse", 20, func(g *ground) { g.lines = append(g.lines, [2]Point{{10, 2}, {13, 2}}) }, false},
		{"an extension across", 3, func(g *ground) { g.extensions = append(g.extensions, [2]Point{{10, 2}, {13, 2}}) }, true},
		{"a text across", 200, func(g *ground) { g.take("t", drawing.Box{Lo: Point{11, 0}, Hi: Point{13, 4}}) }, true},
		{"dimension lines wherever it could stand", 200, func(g *ground) { g.lines = append(g.lines, grid...) }, true},
		{"extensions wherever it could stand", 200, func(g *ground) { g.extensions = append(g.extensions, grid...) }, true},
		{"texts wherever it could stand", 200, func(g *ground) { g.take("t", drawing.Box{Lo: Point{14, -9}, Hi: Point{150, 150}}) }, true},
	} {
		g := layView(&View{Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{through(Point{-10, 0}, Point{10, 0})}}}}, 1, false)
		c.in(g)
		s := &said{"call-out", rowsOf(&Callout{Text: "f"})}
		left.cost = c.worth
		l, ok := g.leader(s, []tipAt{right, left})
		if !ok || l.tip != map[bool]Point{true: left.p, false: right.p}[c.left] || l.left != c.left {
			t.Errorf("%s: placed %v, at %v", c.what, ok, l.tip)
		}
	}
}

// Words stand outside the view's outline although there they make the view larger; within
// it they do where they have no room outside.
func TestWordsStandOutsideTheOutline(t *testing.T) {
	for _, full := range []bool{false, true} {
		g := layView(&View{Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(60, 60, 1)}}}}, 1, false)
		if full {
			g.take("t", drawing.Box{Lo: Point{-200, -200}, Hi: Point{-33, 200}})
		}
		s := &said{"call-out", rowsOf(&Callout{Text: "f"})}
		tip := Point{-30, 0}
		l, ok := g.leader(s, []tipAt{{tip, []Point{{1, 0}, {-1, 0}}, 0, false}})
		if in := l.elbow[0] > tip[0]; !ok || in != full {
			t.Errorf("outside full %v: placed %v, within %v", full, ok, in)
		}
	}
}
