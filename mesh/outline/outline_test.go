package outline

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

var (
	xAxis = vec{1, 0, 0}
	yAxis = vec{0, 1, 0}
	zAxis = vec{0, 0, 1}
)

// level is the plan view at height z, from above.
func level(z float64) View { return View{O: vec{0, 0, z}, U: xAxis, V: yAxis} }

// upright is the view from the side of -y on the plane of that y, z upward.
func upright(y float64) View { return View{O: vec{0, y, 0}, U: xAxis, V: zAxis} }

// inclined is the view against the direction n through o.
func inclined(o, n vec) View {
	n = n.Unit()
	u, v := solid.Across(n)
	return View{O: o, U: u, V: v}
}

// section cuts a solid or fails the test, and checks what every section promises.
func section(t testing.TB, m *solid.Model, root *solid.Node, v View, tol float64) Region {
	t.Helper()
	r, err := Section(brep.NewEvaluator(m), root, v, tol)
	if err != nil {
		t.Fatalf("%v by %v: %v", root, v, err)
	}
	audit(t, root, v, r)
	return r
}

// audit checks that paths are closed, that every point of them lies on the surface
// of the solid, and that the area lies on the left.
func audit(t testing.TB, root *solid.Node, v View, r Region) {
	t.Helper()
	leaves := root.Leaves()
	for _, p := range r {
		if !p.Closed || p.Start != p.Segments[len(p.Segments)-1].To {
			t.Errorf("a path from %v is open", p.Start)
		}
		for _, q := range points(p) {
			x := v.O.AddScaled(q[0], v.U).AddScaled(q[1], v.V)
			off := math.Inf(1)
			for _, l := range leaves {
				off = min(off, math.Abs(l.Dist(x)))
			}
			if off > 1e-7 {
				t.Errorf("point %v of a section is %.2g mm off every surface", x, off)
			}
		}
	}
}

// points lists ends, middles of lines and arcs, and the points of other curves.
func points(p Path) []Point {
	var out []Point
	a := p.Start
	for _, s := range p.Segments {
		out = append(out, s.To)
		switch {
		case s.Radius > 0:
			out = append(out, onCircle(s.Center, s.Radius, angle(s.Center, a)+s.Sweep(a)/3))
		case s.Via == nil:
			out = append(out, Point{(a[0]*2 + s.To[0]) / 3, (a[1]*2 + s.To[1]) / 3})
		}
		out = append(out, s.Via...)
		a = s.To
	}
	return out
}

func near1(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g (off by %.3g)", what, got, want, got-want)
	}
}

func block(m *solid.Model) *solid.Node {
	return m.Box("block", "outer", mesh.Vec{-20, -20, 0}, mesh.Vec{20, 20, 20})
}

func TestSectionAreas(t *testing.T) {
	s, k := math.Sincos(.3)
	for _, c := range []struct {
		name  string
		build func(m *solid.Model) *solid.Node
		v     View
		want  float64
		tol   float64
		paths int
	}{
		{"block with holes", func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("a", "", vec{5, 5, 0}, zAxis, 3, -1, 21), m.Cylinder("b", "", vec{-5, 5, 0}, zAxis, 4, -1, 12))
		}, level(7), 1600 - 25*math.Pi, 1e-10, 3},
		{"above the blind hole", func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("a", "", vec{5, 5, 0}, zAxis, 3, -1, 21), m.Cylinder("b", "", vec{-5, 5, 0}, zAxis, 4, -1, 12))
		}, level(13), 1600 - 9*math.Pi, 1e-10, 2},
		{"at the blind hole's floor, from above", func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("b", "", vec{-5, 5, 0}, zAxis, 4, -1, 12))
		}, level(12), 1600 - 16*math.Pi, 1e-10, 2},
		{"at the blind hole's floor, from below", func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("b", "", vec{-5, 5, 0}, zAxis, 4, -1, 12))
		}, View{O: vec{0, 0, 12}, U: yAxis, V: xAxis}, 1600, 1e-10, 1},
		{"at the block's top, from above", block, level(20), 1600, 1e-10, 1},
		{"at the block's floor, from above: nothing behind", block, level(0), 0, 0, 0},
		{"beside the block", block, level(21), 0, 0, 0},
		{"along a hole's axis", func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("a", "", vec{5, 0, 0}, zAxis, 3, -1, 12))
		}, upright(0), 800 - 6*12, 1e-10, 1},
		{"tangent to a hole", func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("a", "", vec{5, 3, 0}, zAxis, 3, -1, 12))
		}, upright(0), 800, 1e-10, 1},
		{"tangent to a level hole", func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("a", "", vec{0, 0, 10}, xAxis, 3, -30, 30))
		}, level(13), 1600, 1e-10, 1},
		{"a stadium slot along its wall", func(m *solid.Model) *solid.Node {
			p := solid.Poly(-5, -2, 5, -2).ArcTo(5, 2, 5, 0, true).LineTo(-5, 2).CloseArc(-5, 0, true)
			return solid.Minus(block(m), m.Extrude("slot", "", solid.AxisFrame(vec{}, zAxis), -1, 8, p))
		}, upright(-2), 800 - 80, 1e-10, 1},
		{"a stadium slot across", func(m *solid.Model) *solid.Node {
			p := solid.Poly(-5, -2, 5, -2).ArcTo(5, 2, 5, 0, true).LineTo(-5, 2).CloseArc(-5, 0, true)
			return solid.Minus(block(m), m.Extrude("slot", "", solid.AxisFrame(vec{}, zAxis), -1, 8, p))
		}, level(3), 1600 - 40 - 4*math.Pi, 1e-10, 2},
		{"diagonal of a block, through its edges", block,
			View{O: vec{0, 0, 0}, U: vec{math.Sqrt2 / 2, math.Sqrt2 / 2, 0}, V: zAxis}, 20 * 40 * math.Sqrt2, 1e-10, 1},
		{"sphere", func(m *solid.Model) *solid.Node { return m.Ball("ball", "", vec{1, 2, 3}, xAxis, 5) }, level(6), 16 * math.Pi, 1e-10, 1},
		{"sphere cut askew", func(m *solid.Model) *solid.Node { return m.Ball("ball", "", vec{1, 2, 3}, xAxis, 5) },
			inclined(vec{1, 2, 3}, vec{1, 2, 3}), 25 * math.Pi, 1e-10, 1},
		{"torus across", func(m *solid.Model) *solid.Node {
			return m.Revolve("ring", "", solid.AxisFrame(vec{}, zAxis), solid.Circle(10, 0, 3))
		}, level(0), math.Pi * (169 - 49), 1e-10, 2},
		{"torus through its axis", func(m *solid.Model) *solid.Node {
			return m.Revolve("ring", "", solid.AxisFrame(vec{}, zAxis), solid.Circle(10, 0, 3))
		}, upright(0), 2 * 9 * math.Pi, 1e-10, 2},
		{"oblique cylinder", func(m *solid.Model) *solid.Node { return m.Cylinder("rod", "", vec{}, zAxis, 3, -30, 30) },
			inclined(vec{1, 2, 3}, vec{s, 0, k}), math.Pi * 9 / k, 1e-4, 1},
		{"steep ellipse", func(m *solid.Model) *solid.Node { return m.Cylinder("rod", "", vec{}, zAxis, 3, -400, 400) },
			inclined(vec{0, 2, 3}, vec{1, 0, .01}), math.Pi * 9 * math.Hypot(1, .01) / .01, 1e-2, 1},
		{"nearly along a rod's axis, past small holes in its side", func(m *solid.Model) *solid.Node {
			cut := []*solid.Node{m.Cylinder("rod", "", vec{}, zAxis, 3, -400, 400)}
			for _, z := range []float64{-317, -40, 3, 101.5} {
				cut = append(cut, m.Cylinder("hole", "", vec{0, 2.9, z}, xAxis, .5, -5, 5))
			}
			return solid.Minus(cut[0], cut[1:]...)
		}, inclined(vec{}, vec{1, 0, 1e-6}), 4800 - 4*(math.Pi/4-segment(.5, .1)), 1e-4, 1},
		{"oblique cone", func(m *solid.Model) *solid.Node { return m.Cone("cone", "", vec{}, zAxis, 10, 0, 5, 20) },
			inclined(vec{0, 0, 8}, vec{s, 0, k}), coneEllipse(8, .25, .3), 1e-4, 1},
		{"hyperbola of a cone", func(m *solid.Model) *solid.Node { return m.Cone("cone", "", vec{}, zAxis, 10, 0, 0, 10) },
			View{O: vec{0, 4, 0}, U: xAxis, V: zAxis}, hyperbolaArea(10, 4), 1e-4, 1},
		{"through a cone's tip", func(m *solid.Model) *solid.Node { return m.Cone("cone", "", vec{}, zAxis, 10, 0, 0, 10) },
			upright(0), 100, 1e-9, 1},
		{"blocks that share an edge, across it", func(m *solid.Model) *solid.Node {
			return solid.Union(m.Box("low", "", vec{0, 0, 0}, vec{1, 1, 1}), m.Box("high", "", vec{1, 0, 1}, vec{2, 1, 2}))
		}, upright(.5), 2, 1e-12, 2},
		{"revolved ring through its axis", ring, upright(0), 2 * ringProfile.Area(), 1e-9, 2},
		{"revolved ring across its groove", ring, level(5), math.Pi * (sq(10-math.Sqrt(4-1)) - 25), 1e-9, 2},
	} {
		m := solid.NewModel()
		r := section(t, m, c.build(m), c.v, 1e-6)
		near1(t, c.name, r.Area(), c.want, c.tol)
		if len(r) != c.paths {
			t.Errorf("%s: %d paths, want %d", c.name, len(r), c.paths)
		}
	}
}

// segment is what a straight line at the distance d from its middle cuts off a disc.
func segment(r, d float64) float64 { return r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d) }

func sq(x float64) float64 { return x * x }

var ringProfile = solid.Poly(5, 0, 10, 0, 10, 4).ArcTo(10, 8, 10, 6, false).LineTo(10, 12).LineTo(5, 12)

func ring(m *solid.Model) *solid.Node {
	return m.Revolve("ring", "", solid.AxisFrame(vec{}, zAxis), ringProfile)
}

// coneEllipse is the area of the section of a cone of radius r at the height of the
// plane's point on the axis, narrowing by slope per mm of height, by a plane tilted
// by a: the chord along the slope is the major axis, and the minor follows from the
// radius and the offset at the chord's middle.
func coneEllipse(r, slope, a float64) float64 {
	tan := math.Tan(a) // the plane rises by -tan per mm of x
	x1, x2 := r/(1-slope*tan), -r/(1+slope*tan)
	if tan < 0 {
		x1, x2 = x2, x1
	}
	xm := (x1 + x2) / 2
	rm := r + slope*tan*xm
	return math.Pi * math.Abs(x1-x2) / 2 / math.Cos(a) * math.Sqrt(rm*rm-xm*xm)
}

// hyperbolaArea is the section of a cone of radius and height r at the distance d
// from its axis: ∫ 2√(ρ²-d²) dρ from d to r.
func hyperbolaArea(r, d float64) float64 {
	s := math.Sqrt(r*r - d*d)
	return r*s - d*d*math.Log((r+s)/d)
}
