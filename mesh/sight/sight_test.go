package sight

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
)

// view returns what a view shows of a solid.
func view(t testing.TB, m *solid.Model, n *solid.Node, v outline.View) []Line {
	t.Helper()
	b, err := brep.NewEvaluator(m).Boundary(n)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := Lines(b, v, .01)
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// text is a line as a test states it, to 1e-6 mm, from the lower end.
func text(l *Line) string {
	s := "visible"
	if l.Hidden {
		s = "hidden"
	}
	if l.Silhouette {
		s += " silhouette"
	}
	round := func(x float64) float64 { return math.Round(x*1e6)/1e6 + 0 }
	pt := func(p point) string { return fmt.Sprintf("(%g,%g)", round(p[0]), round(p[1])) }
	g := l.Path.Segments[0]
	a, b := l.Path.Start, l.Path.Segments[len(l.Path.Segments)-1].To
	switch {
	case g.Radius > 0 && l.Path.Closed:
		return fmt.Sprintf("%s circle %s %g", s, pt(g.Center), round(g.Radius))
	case g.Radius > 0:
		return fmt.Sprintf("%s arc %s %g from %s to %s", s, pt(g.Center), round(g.Radius), pt(a), pt(b))
	case g.Via != nil:
		return s + " curve"
	}
	if a[0] > b[0]+1e-6 || a[0] > b[0]-1e-6 && a[1] > b[1] {
		a, b = b, a
	}
	return fmt.Sprintf("%s line %s %s", s, pt(a), pt(b))
}

// want compares lines with texts in any order.
func want(t *testing.T, name string, lines []Line, texts ...string) {
	t.Helper()
	got := map[string]int{}
	for i := range lines {
		got[text(&lines[i])]++
	}
	for _, w := range texts {
		if got[w]--; got[w] < 0 {
			t.Errorf("%s: no %s", name, w)
		}
	}
	for g, n := range got {
		if n > 0 {
			t.Errorf("%s: unwanted: %s", name, g)
		}
	}
}

var up = solid.Vec{0, 0, 1}

func TestBox(t *testing.T) {
	m := solid.NewModel()
	n := m.Box("box", "", solid.Vec{1, 2, 3}, solid.Vec{11, 22, 33})
	for _, c := range []struct {
		name           string
		v              outline.View
		x0, y0, x1, y1 float64
	}{
		{"top", Top, 1, 2, 11, 22}, {"bottom", Bottom, 1, -22, 11, -2}, {"front", Front, 1, 3, 11, 33},
		{"back", Back, -11, 3, -1, 33}, {"right", Right, 2, 3, 22, 33}, {"left", Left, -22, 3, -2, 33},
	} {
		want(t, c.name, view(t, m, n, c.v),
			fmt.Sprintf("visible line (%g,%g) (%g,%g)", c.x0, c.y0, c.x1, c.y0), fmt.Sprintf("visible line (%g,%g) (%g,%g)", c.x0, c.y1, c.x1, c.y1),
			fmt.Sprintf("visible line (%g,%g) (%g,%g)", c.x0, c.y0, c.x0, c.y1), fmt.Sprintf("visible line (%g,%g) (%g,%g)", c.x1, c.y0, c.x1, c.y1))
	}
	// From a corner: nine edges show, three are hidden.
	seen := map[bool]int{}
	corner := outline.View{U: solid.Vec{-1, 1, 0}.Unit(), V: solid.Vec{-1, -1, 2}.Unit()}
	for _, l := range view(t, m, n, corner) {
		seen[l.Hidden]++
	}
	if seen[false] != 9 || seen[true] != 3 {
		t.Errorf("from a corner: %d visible, %d hidden", seen[false], seen[true])
	}
}

// A block 40 by 30 by 20 with a through hole and a counterbored one, along z.
func TestDrilledBlock(t *testing.T) {
	m := solid.NewModel()
	n := solid.Minus(m.Box("block", "", solid.Vec{0, 0, 0}, solid.Vec{40, 30, 20}),
		m.Cylinder("through", "", solid.Vec{10, 10, 0}, up, 3, -1, 21),
		m.Cylinder("hole", "", solid.Vec{28, 10, 0}, up, 3, -1, 21),
		m.Cylinder("bore", "", solid.Vec{28, 10, 0}, up, 6, 12, 21))
	frame := func(x, y float64) []string {
		return []string{fmt.Sprintf("visible line (0,0) (%g,0)", x), fmt.Sprintf("visible line (0,%g) (%g,%g)", y, x, y),
			fmt.Sprintf("visible line (0,0) (0,%g)", y), fmt.Sprintf("visible line (%g,0) (%g,%g)", x, x, y)}
	}
	want(t, "top", view(t, m, n, Top), append(frame(40, 30),
		"visible circle (10,10) 3", "visible circle (28,10) 3", "visible circle (28,10) 6")...)
	want(t, "front", view(t, m, n, Front), append(frame(40, 20),
		"hidden silhouette line (7,0) (7,20)", "hidden silhouette line (13,0) (13,20)",
		"hidden silhouette line (25,0) (25,12)", "hidden silhouette line (31,0) (31,12)",
		"hidden silhouette line (22,12) (22,20)", "hidden silhouette line (34,12) (34,20)",
		"hidden line (22,12) (34,12)")...)
	// From the right both holes lie behind each other.
	want(t, "right", view(t, m, n, Right), append(frame(30, 20),
		"hidden silhouette line (7,0) (7,20)", "hidden silhouette line (13,0) (13,20)",
		"hidden silhouette line (4,12) (4,20)", "hidden silhouette line (16,12) (16,20)",
		"hidden line (4,12) (16,12)")...)
	want(t, "bottom", view(t, m, n, Bottom),
		"visible line (0,-30) (0,0)", "visible line (40,-30) (40,0)", "visible line (0,0) (40,0)", "visible line (0,-30) (40,-30)",
		"visible circle (10,-10) 3", "visible circle (28,-10) 3", "hidden circle (28,-10) 6")
}

func TestCylinderConeBall(t *testing.T) {
	m := solid.NewModel()
	o := solid.Vec{5, 0, 0}
	want(t, "cylinder", view(t, m, m.Cylinder("cylinder", "", o, up, 4, 1, 11), Front),
		"visible line (1,1) (9,1)", "visible line (1,11) (9,11)", "visible silhouette line (1,1) (1,11)", "visible silhouette line (9,1) (9,11)")
	want(t, "cone", view(t, m, m.Cone("cone", "", o, up, 4, 1, 0, 11), Front),
		"visible line (1,1) (9,1)", "visible silhouette line (1,1) (5,11)", "visible silhouette line (5,11) (9,1)")
	want(t, "cone, top", view(t, m, m.Cone("cone", "", o, up, 4, 1, 2, 11), Top), "visible circle (5,0) 4", "visible circle (5,0) 2")
	want(t, "ball", view(t, m, m.Ball("ball", "", solid.Vec{1, 2, 3}, up, 4), Right), "visible silhouette circle (2,3) 4")
}

// A torus of radii 20 and 5. From the side its rims are lines, and of the inner halves
// of the sections nothing shows.
func TestTorus(t *testing.T) {
	m := solid.NewModel()
	ring := m.Revolve("ring", "", solid.AxisFrame(solid.Vec{}, up), solid.Circle(20, 0, 5))
	want(t, "top", view(t, m, ring, Top), "visible silhouette circle (0,0) 25", "visible silhouette circle (0,0) 15")
	want(t, "front", view(t, m, ring, Front),
		"visible silhouette line (-20,5) (20,5)", "visible silhouette line (-20,-5) (20,-5)",
		"visible silhouette arc (20,0) 5 from (20,-5) to (20,5)", "visible silhouette arc (-20,0) 5 from (-20,5) to (-20,-5)",
		"hidden silhouette arc (20,0) 5 from (20,5) to (20,-5)", "hidden silhouette arc (-20,0) 5 from (-20,-5) to (-20,5)")
}

// A tilted cylinder: the near rim is a whole ellipse, half of the far one shows.
func TestTiltedCylinder(t *testing.T) {
	m := solid.NewModel()
	n := m.Cylinder("cylinder", "", solid.Vec{}, up, 10, 0, 30)
	sn, cs := math.Sincos(math.Pi / 6)
	v := outline.View{U: solid.Vec{1, 0, 0}, V: solid.Vec{0, sn, cs}} // from 30° above the front
	var lines, whole, half, hidden int
	for _, l := range view(t, m, n, v) {
		g := l.Path.Segments[0]
		for _, p := range append(append([]point{l.Path.Start}, g.Via...), g.To) {
			for _, z := range []float64{0, 30} { // both ellipses, half axes 10 and 10·sin 30°
				if g.Via != nil && (z > 0) == (p[1] > 12) {
					if off := math.Hypot(p[0]/10, (p[1]-z*cs)/(10*sn)) - 1; math.Abs(off) > 1e-9 {
						t.Errorf("%v is %g off the ellipse", p, off)
					}
				}
			}
		}
		switch {
		case g.Via == nil:
			lines++
			if a, b := l.Path.Start, g.To; math.Abs(math.Abs(a[0])-10) > 1e-9 || math.Abs(dist(a, b)-30*cs) > 1e-9 || l.Hidden {
				t.Errorf("silhouette %s", text(&l))
			}
		case l.Path.Closed:
			whole++
		case l.Hidden:
			hidden++
		default:
			half++
			if a, b := l.Path.Start, g.To; math.Abs(dist(a, b)-20) > 1e-6 {
				t.Errorf("the visible half ends %v %v", a, b)
			}
		}
	}
	if lines != 2 || whole != 1 || half != 1 || hidden != 1 {
		t.Errorf("%d lines, %d ellipses, %d visible and %d hidden halves", lines, whole, half, hidden)
	}
}

// A rail in front hides part of a line behind it, exactly as far as it is high; one
// that stands aslant, as far as its slope says.
func TestPartlyHidden(t *testing.T) {
	m := solid.NewModel()
	wall := m.Box("wall", "", solid.Vec{0, 10, 0}, solid.Vec{50, 20, 30})
	post := m.Extrude("post", "", solid.Frame{X: solid.Vec{1, 0, 0}, Y: up, Z: solid.Vec{0, -1, 0}}, -8, 0, solid.Poly(10, 0, 20, 0, 26, 36, 16, 36))
	lines := view(t, m, solid.Union(wall, post), Front)
	want(t, "front", lines,
		"visible line (0,0) (50,0)", "visible line (0,0) (0,30)", "visible line (50,0) (50,30)",
		"visible line (0,30) (15,30)", "visible line (25,30) (50,30)", "hidden line (15,30) (25,30)",
		"visible line (10,0) (16,36)", "visible line (20,0) (26,36)", "visible line (16,36) (26,36)")
}

// A shaft of radius 10 with a half round groove of radius 2: its edges run along rims
// of the torus, and its sections at both sides are half circles.
func TestHalfRoundGroove(t *testing.T) {
	m := solid.NewModel()
	n := solid.Minus(m.Cylinder("shaft", "", solid.Vec{}, up, 10, 0, 20),
		m.Revolve("groove", "", solid.AxisFrame(solid.Vec{}, up), solid.Circle(10, 8, 2)))
	var texts []string
	for _, x := range []float64{-10, 10} {
		for _, z := range [][2]float64{{0, 6}, {10, 20}} {
			texts = append(texts, fmt.Sprintf("visible silhouette line (%g,%g) (%g,%g)", x, z[0], x, z[1]))
		}
	}
	for _, z := range []float64{0, 6, 10, 20} {
		texts = append(texts, fmt.Sprintf("visible line (-10,%g) (10,%g)", z, z))
	}
	texts = append(texts, "visible silhouette arc (10,8) 2 from (10,10) to (10,6)", "visible silhouette arc (-10,8) 2 from (-10,6) to (-10,10)")
	want(t, "front", view(t, m, n, Front), texts...)
	want(t, "left", view(t, m, n, Left), texts...)
}

// Two discs from 30° above, the nearer one lower: their rims are equal ellipses that
// cross halfway between their centers, and a bar's straight edge crosses the far one.
func TestCrossingEllipses(t *testing.T) {
	m := solid.NewModel()
	sn, cs := math.Sincos(math.Pi / 6)
	v := outline.View{U: solid.Vec{1, 0, 0}, V: solid.Vec{0, sn, cs}}
	far := m.Cylinder("far", "", solid.Vec{0, 40, 0}, up, 10, 0, 1e-2)
	// In the view, with heights stretched to circles: centers 12 apart along x, at one
	// height. The near disc covers the far one's rim beyond x = 6, at
	// 8·sin 30° above.
	near := m.Cylinder("near", "", solid.Vec{12, 40 - 20*cs, 20 * sn}, up, 10, 0, 1e-2)
	bar := m.Box("bar", "", solid.Vec{-30, 0, 0}, solid.Vec{-5, 2, 60})
	ends := map[point]bool{{6, 8 * sn}: false, {-5, math.Sqrt(75) * sn}: false, {-5, -math.Sqrt(75) * sn}: false}
	for _, l := range view(t, m, solid.Union(far, near, bar), v) {
		n := len(l.Path.Segments) - 1
		for _, p := range []point{l.Path.Start, l.Path.Segments[n].To} {
			for e := range ends {
				c := point{e[0], e[1] + 40*sn + 1e-2*cs} // of the far disc's upper rim
				if dist(p, c) < 1e-9 && l.Path.Segments[0].Via != nil {
					ends[e] = true
				}
			}
		}
	}
	for e, found := range ends {
		if !found {
			t.Errorf("no curve ends at %v from the far rim's center", e)
		}
	}
}
