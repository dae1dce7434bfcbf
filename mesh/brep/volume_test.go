package brep

import (
	"fmt"
	"math"
	"reflect"
	"sync"
	"testing"

	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

const pi = math.Pi

// upright is the world's frame.
func upright() solid.Frame { return solid.AxisFrame(Vec{}, zAxis) }

// roundRemoved is what an edge round of radius r takes off the edge of a disc of
// radius R: the spandrel, of area r²(1-π/4), by Pappus-Guldin.
func roundRemoved(R, r float64) float64 {
	return 2 * pi * (R*r*r*(1-pi/4) - r*r*r*(10-3*pi)/12)
}

// TestClosedForms measures solids whose volumes are textbook formulas: Pappus and
// Guldin for solids of revolution, caps and frustums, Steinmetz for crossing
// cylinders (16r³/3).
func TestClosedForms(t *testing.T) {
	odd := Vec{1, 2, 3}.Unit()
	at := Vec{7, -3, 11}
	for _, c := range []struct {
		name  string
		want  float64
		build func(m *solid.Model) *solid.Node
	}{
		{"ball", 4 * pi / 3 * 27, func(m *solid.Model) *solid.Node { return m.Ball("", "", at, odd, 3) }},
		{"torus", 2 * pi * pi * 20 * 25, func(m *solid.Model) *solid.Node {
			return m.Revolve("", "", solid.AxisFrame(at, odd), solid.Circle(20, 0, 5))
		}},
		{"cone with its tip", pi * 9 * 7 / 3, func(m *solid.Model) *solid.Node {
			return m.Revolve("", "", solid.AxisFrame(at, odd), solid.Poly(0, 0, 3, 0, 0, 7))
		}},
		{"half a cone, its tip on the border", pi * 9 * 4 / 6, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Cone("", "", Vec{}, zAxis, 3, 0, 0, 4), m.Box("", "", Vec{0, -5, -5}, Vec{5, 5, 5}))
		}},
		{"frustum", pi * 12 * (100 + 60 + 36) / 3, func(m *solid.Model) *solid.Node { return m.Cone("", "", at, odd, 10, 0, 6, 12) }},
		{"frustum of a steep carrier", pi * 12 * (100 + 10*9.999 + 9.999*9.999) / 3, func(m *solid.Model) *solid.Node { return m.Cone("", "", at, zAxis, 10, 0, 9.999, 12) }},
		{"disc with a rounded edge", pi*900*10 - roundRemoved(30, 3), func(m *solid.Model) *solid.Node {
			return m.Revolve("", "", solid.AxisFrame(at, odd), solid.Poly(0, 0, 30, 0, 30, 7).ArcTo(27, 10, 27, 7, true).LineTo(0, 10))
		}},
		{"disc rounded to its axis", pi*100*10 - pi*1000/3, func(m *solid.Model) *solid.Node {
			return m.Revolve("", "", upright(), solid.Poly(0, 0, 10, 0).ArcTo(0, 10, 0, 0, true))
		}},
		{"rounded tread ring", pi*20*(3600-1600) - 2*roundRemoved(60, 3), func(m *solid.Model) *solid.Node {
			return m.Revolve("", "", upright(), solid.Poly(40, 0, 57, 0).ArcTo(60, 3, 57, 3, true).LineTo(60, 17).ArcTo(57, 20, 57, 17, true).LineTo(40, 20))
		}},
		{"half-round groove in a cylinder", pi*900*40 - pi*pi*16*(30-16/(3*pi)), func(m *solid.Model) *solid.Node {
			return m.Revolve("", "", upright(), solid.Poly(0, 0, 30, 0, 30, 16).ArcTo(30, 24, 30, 20, false).LineTo(30, 40).LineTo(0, 40))
		}},
		{"the same groove cut with a whole ring", pi*900*40 - pi*pi*16*(30-16/(3*pi)), func(m *solid.Model) *solid.Node {
			return solid.Minus(m.Cylinder("", "", Vec{}, zAxis, 30, 0, 40), m.Revolve("", "", solid.AxisFrame(Vec{0, 0, 20}, zAxis), solid.Circle(30, 0, 4)))
		}},
		{"spherical cap", pi * 16 * (30 - 4) / 3, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Ball("", "", Vec{}, xAxis, 10), m.Box("", "", Vec{-20, -20, 6}, Vec{20, 20, 20}))
		}},
		{"cap with the cut through its poles' axis", pi * 16 * (30 - 4) / 3, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Ball("", "", Vec{}, zAxis, 10), m.Box("", "", Vec{-20, -20, 6}, Vec{20, 20, 20}))
		}},
		{"half ball with both poles on its edge", 2 * pi / 3 * 1000, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Ball("", "", Vec{}, xAxis, 10), m.Box("", "", Vec{-20, -20, 0}, Vec{20, 20, 20}))
		}},
		{"eighth of a ball", pi / 6 * 1000, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Ball("", "", Vec{}, zAxis, 10), m.Box("", "", Vec{}, Vec{20, 20, 20}))
		}},
		{"upper half of a torus", pi * pi * 20 * 25, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Revolve("", "", upright(), solid.Circle(20, 0, 5)), m.Box("", "", Vec{-30, -30, 0}, Vec{30, 30, 9}))
		}},
		{"quarter turn of a torus", pi * pi * 20 * 25 / 2, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Revolve("", "", upright(), solid.Circle(20, 0, 5)), m.Box("", "", Vec{0, 0, -9}, Vec{30, 30, 9}))
		}},
		{"eighth of a torus", pi * pi * 20 * 25 / 4, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Revolve("", "", upright(), solid.Circle(20, 0, 5)), m.Box("", "", Vec{0, 0, 0}, Vec{30, 30, 9}))
		}},
		{"Steinmetz bicylinder", 16. / 3 * 27, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Cylinder("", "", at, zAxis, 3, -9, 9), m.Cylinder("", "", at, xAxis, 3, -9, 9))
		}},
		{"bicylinder at 40 degrees", 16. / 3 * 27 / math.Sin(40*pi/180), func(m *solid.Model) *solid.Node {
			s, k := math.Sincos(40 * pi / 180)
			return solid.Intersect(m.Cylinder("", "", at, zAxis, 3, -20, 20), m.Cylinder("", "", at, Vec{s, 0, k}, 3, -20, 20))
		}},
		{"cylinder cut by an oblique plane", pi * 9 * 10, func(m *solid.Model) *solid.Node {
			s, k := math.Sincos(.5)
			f := solid.Frame{O: Vec{0, 0, 10}, X: Vec{k, 0, s}, Y: yAxis, Z: Vec{-s, 0, k}}
			return solid.Minus(m.Cylinder("", "", Vec{}, zAxis, 3, 0, 30), m.BoxIn("", "", f, Vec{-50, -50, 0}, Vec{50, 50, 50}))
		}},
		{"stadium", 5 * (12*6 + pi*9), func(m *solid.Model) *solid.Node {
			p := solid.Poly(-6, -3, 6, -3).ArcTo(6, 3, 6, 0, true).LineTo(-6, 3).CloseArc(-6, 0, true)
			return m.Extrude("", "", solid.AxisFrame(at, odd), 0, 5, p)
		}},
		{"plate with rounded corners and a hole", 4 * (400 - 4*4*(1-pi/4) - pi*9), func(m *solid.Model) *solid.Node {
			p := solid.Poly(-8, -10, 8, -10).ArcTo(10, -8, 8, -8, true).LineTo(10, 8).ArcTo(8, 10, 8, 8, true).
				LineTo(-8, 10).ArcTo(-10, 8, -8, 8, true).LineTo(-10, -8)
			p = p.CloseArc(-8, -8, true)
			hole := solid.Profile{}.LineTo(3, 0).ArcTo(-3, 0, 0, 0, false).CloseArc(0, 0, false)
			return m.Extrude("", "", solid.AxisFrame(at, odd), -1, 3, p, hole)
		}},
		{"scalloped plate", 4 * (400 - 4*pi*4/2), func(m *solid.Model) *solid.Node {
			p := solid.Poly(-10, -10, -2, -10).ArcTo(2, -10, 0, -10, false).LineTo(10, -10).LineTo(10, -2).ArcTo(10, 2, 10, 0, false).
				LineTo(10, 10).LineTo(2, 10).ArcTo(-2, 10, 0, 10, false).LineTo(-10, 10).LineTo(-10, 2).ArcTo(-10, -2, -10, 0, false)
			return m.Extrude("", "", solid.AxisFrame(at, odd), -1, 3, p)
		}},
	} {
		m := solid.NewModel()
		v, err := volumes(m, c.build(m))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		near(t, c.name, v[0], c.want, 1e-12)
	}
}

// A radial hole takes the same volume at every angle.
func TestRadialHolesAtOddAngles(t *testing.T) {
	tread := func(m *solid.Model) *solid.Node {
		return m.Revolve("tread", "", upright(), solid.Poly(30, 0, 57, 0).ArcTo(60, 3, 57, 3, true).LineTo(60, 9).
			ArcTo(60, 15, 60, 12, false).LineTo(60, 20).LineTo(30, 20))
	}
	var want float64
	for i, a := range []float64{0, 90, 17, 45, 123.456, 270.001} {
		s, k := math.Sincos(a * pi / 180)
		for _, z := range []float64{10, 2, 12} {
			m := solid.NewModel()
			v, err := volumes(m, solid.Minus(tread(m), m.Cylinder("hole", "", Vec{0, 0, z}, Vec{k, s, 0}, 2.5, 40, 70)))
			if err != nil {
				t.Errorf("hole at %g°, z %g: %v", a, z, err)
				continue
			}
			if z == 10 && i == 0 {
				want = v[0]
			}
			if z == 10 {
				near(t, fmt.Sprintf("hole at %g°", a), v[0], want, 1e-12)
			}
		}
	}
}

// TestRigidMotion: an assembly of every kind of carrier keeps its volume in any
// pose.
func TestRigidMotion(t *testing.T) {
	build := func(m *solid.Model, f solid.Frame) *solid.Node {
		at := func(x, y, z float64) Vec { return f.Global(Vec{x, y, z}) }
		along := func(d Vec) solid.Frame { return solid.AxisFrame(f.O, d) }
		ring := solid.Poly(12, 0, 18, 0).ArcTo(20, 2, 18, 2, true).LineTo(20, 6).ArcTo(20, 10, 20, 8, false).LineTo(20, 15).LineTo(12, 15)
		return solid.Minus(
			solid.Union(m.BoxIn("block", "", f, Vec{-25, -25, -5}, Vec{25, 25, 2}), m.Revolve("ring", "", along(f.Z), ring)),
			m.Cylinder("drill", "", at(0, 3, 8), f.X, 2, 5, 30),
			m.Cylinder("bore", "", f.O, f.Z, 7, -10, 20),
			m.Cone("sink", "", at(20, 20, 0), f.Z, 1, -3, 3, 4),
			m.Ball("pocket", "", at(-20, -20, 2), f.Y, 3),
			m.BoxIn("slot", "", f, Vec{-25, -3, -1}, Vec{-10, 3, 6}),
		)
	}
	var want float64
	for i, f := range []solid.Frame{
		upright(),
		solid.AxisFrame(Vec{100, -30, 7}, xAxis),
		solid.AxisFrame(Vec{1, 2, 3}, Vec{-1, -2, -2}),
		solid.AxisFrame(Vec{-300, 200, 100}, Vec{.1, 1, -.3}),
	} {
		m := solid.NewModel()
		v, err := volumes(m, build(m, f))
		if err != nil {
			t.Errorf("pose %d: %v", i, err)
			continue
		}
		if i == 0 {
			want = v[0]
		}
		near(t, fmt.Sprintf("pose %d", i), v[0], want, 1e-12)
	}
}

// The order in which solids are asked for, and by how many goroutines, must not
// show.
func TestSharedEvaluator(t *testing.T) {
	m := solid.NewModel()
	lid := solidtest.ReferenceLid(m)
	shell := solidtest.HalfShell(m)
	roots := []*solid.Node{lid, shell, solid.Minus(lid, shell), solid.Intersect(lid, shell), solid.Union(shell, lid)}
	type answer struct {
		vertices []Vec
		volume   float64
		err      string
	}
	ask := func(ev *Evaluator, n *solid.Node) (a answer) {
		b, err := ev.Boundary(n)
		if err != nil {
			return answer{err: err.Error()}
		}
		return answer{b.Vertices, b.Volume(), ""}
	}
	var want []answer
	for _, n := range roots {
		want = append(want, ask(NewEvaluator(m), n))
	}
	ev := NewEvaluator(m)
	got := make([]answer, 4*len(roots))
	var wg sync.WaitGroup
	for i := range got {
		wg.Go(func() { got[i] = ask(ev, roots[(i*3)%len(roots)]) })
	}
	wg.Wait()
	for i := range got {
		if w := want[(i*3)%len(roots)]; !reflect.DeepEqual(got[i], w) {
			t.Errorf("solid %d differs when the evaluator is shared: %v %v", (i*3)%len(roots), got[i].volume-w.volume, got[i].err)
		}
	}
}

// A ball whose pole lies on an edge gets another axis, off every edge.
func TestPolesKeepOffEdges(t *testing.T) {
	for _, dir := range []Vec{xAxis, yAxis, zAxis, {1, 1, 0}, {1, 1, 1}} {
		m := solid.NewModel()
		n := solid.Intersect(m.Ball("ball", "", Vec{}, dir, 10), m.Box("box", "", Vec{}, Vec{20, 20, 20}))
		b := boundary(t, m, n)
		for _, f := range b.Faces {
			if f.Carrier.Kind != solid.Sphere {
				continue
			}
			for _, s := range []float64{-1, 1} {
				pole := f.Carrier.P(0, s*pi/2)
				for _, e := range f.Edges {
					e.Edge.walk(func(p Vec) {
						if p.Dist(pole) < .1 {
							t.Errorf("axis %.2f: pole %.3f on the edge at %.3f", dir, pole, p)
						}
					})
				}
			}
		}
		near(t, "eighth of a ball", b.Volume(), pi/6*1000, 1e-12)
	}
}
