package tess

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

var xAxis, yAxis, zAxis = Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}

func mustMesh(t *testing.T, b *brep.Boundary, tol float64) *mesh.Mesh {
	t.Helper()
	m, err := Mesh(b, Settings{tol})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Euler numbers: 2 - 2·genus per shell. The lid has eleven holes through it: four
// bolt holes, the sprue, six vents. The half shell has eight: four cross bolts,
// two axial bolts, the vent and the drill into the round; and the drill through
// the axial bolt, which adds a ninth.
func TestReferenceSolids(t *testing.T) {
	for _, c := range []struct {
		name  string
		build func(*solid.Model) *solid.Node
		chi   int
		most  map[float64]int // triangles at a tolerance
	}{
		{"lid", solidtest.ReferenceLid, 2 - 2*11, map[float64]int{.1: 2500, .01: 11450}},
		{"half shell", solidtest.HalfShell, 2 - 2*9, map[float64]int{.1: 4500, .01: 32300}},
	} {
		b := boundaryOf(t, c.build)
		for tol, most := range c.most {
			m := mustMesh(t, b, tol)
			if chi := audit(t, b, m, tol); chi != c.chi {
				t.Errorf("%s at %g: Euler number %d, want %d", c.name, tol, chi, c.chi)
			}
			if len(m.T) > most {
				t.Errorf("%s at %g: %d triangles, used to be below %d", c.name, tol, len(m.T), most)
			}
		}
	}
}

// block is 40 × 40 × 20 mm, on z = 0.
func block(m *solid.Model) *solid.Node {
	return m.Box("block", "outer", Vec{-20, -20, 0}, Vec{20, 20, 20})
}

// cavity of radius 10 with a half-round ridge at z = 10 and a square one at z = 15.
func cavity(m *solid.Model) *solid.Node {
	p := solid.Poly(0, -1, 10, -1, 10, 8).ArcTo(10, 12, 10, 10, false)
	p = append(p, solid.Poly(10, 14, 8, 14, 8, 16, 10, 16, 10, 21, 0, 21)...)
	return m.Revolve("cavity", "cavity", solid.AxisFrame(Vec{}, zAxis), p)
}

type namedCase struct {
	name  string
	chi   int
	build func(*solid.Model) *solid.Node
}

func plainCases() []namedCase {
	z := solid.AxisFrame(Vec{}, zAxis)
	drill := func(m *solid.Model, o, dir Vec, r, z0, z1 float64) *solid.Node {
		return m.Cylinder("drill", "", o, dir, r, z0, z1)
	}
	return []namedCase{
		{"block", 2, block},
		{"stadium slot", 0, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Box("slot", "", Vec{-5, -2, 0}, Vec{5, 2, 20}),
				drill(m, Vec{-5, 0, 0}, zAxis, 2, 0, 20), drill(m, Vec{5, 0, 0}, zAxis, 2, 0, 20))
		}},
		{"ball pocket", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{3, 4, 20}, zAxis, 6))
		}},
		{"shallow ball pocket", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{3, 4, 24}, zAxis, 6))
		}},
		{"ball pocket cut by two faces", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{18, 4, 18}, zAxis, 6))
		}},
		{"ball pocket at a corner", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{20, 20, 20}, zAxis, 6))
		}},
		{"ball pocket and drill", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{0, 0, 20}, zAxis, 6), drill(m, Vec{1, 2, 0}, zAxis, 1.5, 3, 20))
		}},
		{"whole ball inside", 4, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{1, 2, 10}, Vec{1, 2, 3}, 5))
		}},
		{"ball with a drill into it", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{0, 0, 9}, zAxis, 6), drill(m, Vec{0, 0, 9}, xAxis, 2, 0, 20))
		}},
		{"ball cut in two by a slot lower than a band", 4, func(m *solid.Model) *solid.Node {
			return solid.Minus(m.Ball("ball", "", Vec{}, zAxis, 5), m.Box("slot", "", Vec{-6, -6, .11}, Vec{6, 6, .2}))
		}},
		{"slice of a ball lower than a band", 2, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Ball("ball", "", Vec{}, zAxis, 5), m.Box("slice", "", Vec{-6, -6, .11}, Vec{6, 6, .2}))
		}},
		{"slice of a ring lower than a band", 0, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Revolve("ring", "", z, solid.Circle(12, 0, 3)), m.Box("slice", "", Vec{-16, -16, .05}, Vec{16, 16, .1}))
		}},
		{"knob", 2, func(m *solid.Model) *solid.Node {
			return solid.Union(block(m), m.Ball("knob", "", Vec{0, 0, 20}, zAxis, 8))
		}},
		{"whole ring inside", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("ring", "", solid.AxisFrame(Vec{0, 0, 10}, zAxis), solid.Circle(12, 0, 3)))
		}},
		{"ring with a drill into it", 0, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("ring", "", solid.AxisFrame(Vec{0, 0, 10}, zAxis), solid.Circle(12, 0, 3)),
				drill(m, Vec{11, 3, 0}, zAxis, 1, 10, 20))
		}},
		{"half ring", 2, func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Revolve("ring", "", solid.AxisFrame(Vec{}, zAxis), solid.Circle(12, 0, 3)),
				m.Box("half", "", Vec{-20, 0, -5}, Vec{20, 20, 5}))
		}},
		{"edge round tangent to wall and floor", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("pocket", "", z,
				solid.Poly(0, 8, 9, 8).ArcTo(12, 11, 9, 11, true).LineTo(12, 20).LineTo(0, 20)))
		}},
		{"edge round with a drill", 0, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("pocket", "", z,
				solid.Poly(0, 8, 9, 8).ArcTo(12, 11, 9, 11, true).LineTo(12, 20).LineTo(0, 20)),
				drill(m, Vec{0, 0, 9.5}, yAxis, .8, 9, 20))
		}},
		{"coned ceiling of 1° with a sprue", 0, func(m *solid.Model) *solid.Node {
			rise := 10 * math.Tan(math.Pi/180)
			return solid.Minus(block(m), m.Revolve("pocket", "", z, solid.Poly(2, 0, 12, 0, 12, 8, 2, 8+rise)),
				drill(m, Vec{7, 0, 0}, zAxis, 1, 5, 20))
		}},
		{"blind drill with a tip", 2, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("drill", "", z, solid.Poly(0, 7, 3, 10, 3, 20, 0, 20)))
		}},
		{"half of a drill with a tip", 2, func(m *solid.Model) *solid.Node {
			return solid.Intersect(
				solid.Minus(block(m), m.Revolve("drill", "", z, solid.Poly(0, 7, 3, 10, 3, 20, 0, 20))),
				m.Box("half", "", Vec{-20, 0, 0}, Vec{20, 20, 20}))
		}},
		{"counterbore and countersink", 0, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("hole", "", z, solid.Poly(0, 0, 3, 0, 3, 8, 5, 8, 5, 12, 8, 20, 0, 20)))
		}},
		{"bar cut in two by a drill, leaving acute edges", 4, func(m *solid.Model) *solid.Node {
			return solid.Minus(m.Cylinder("bar", "", Vec{0, 0, 1.6642}, xAxis, 1.899, -15, 15),
				m.Cylinder("drill", "", Vec{-1.9645, -.388, 3.4295}, zAxis, 2.7362, -15, 15))
		}},
		{"oblique drill", 0, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), drill(m, Vec{0, 0, 10}, Vec{.3, .2, 1}, 2.5, -30, 30))
		}},
		{"turned block", 2, func(m *solid.Model) *solid.Node {
			s, c := math.Sincos(.3)
			f := solid.Frame{X: Vec{c, s, 0}, Y: Vec{-s, c, 0}, Z: zAxis}
			return solid.Minus(m.BoxIn("block", "", f, Vec{-9, -7, 0}, Vec{9, 7, 5}), m.Ball("ball", "", Vec{2, 1, 5}, zAxis, 3))
		}},
	}
}

// nearCases have features that miss, touch or cross each other by d.
func nearCases(d float64) []namedCase {
	vent := func(z, r float64, dir Vec) func(*solid.Model) *solid.Node {
		return func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), cavity(m), m.Cylinder("vent", "", Vec{0, 0, z + d}, dir, r, 0, 30))
		}
	}
	cases := []namedCase{
		{"slot ends on the hole's axis", 0, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("hole", "", Vec{}, zAxis, 3, 0, 20), m.Box("slot", "", Vec{d, -1, 0}, Vec{20, 1, 4}))
		}},
		{"crossing equal holes", -4, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("along x", "", Vec{0, 0, 10}, xAxis, 3, -20, 20), m.Cylinder("along y", "", Vec{0, 0, 10}, yAxis, 3+d, -20, 20))
		}},
		{"counterbore of nearly one size", 0, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("hole", "", Vec{}, zAxis, 3, 0, 20), m.Cylinder("bore", "", Vec{}, zAxis, 3+d, 10, 20))
		}},
		{"bolt hole across the cavity's edge", -4, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), cavity(m), m.Cylinder("bolt", "", Vec{11 + d, 0, 0}, zAxis, 2, 0, 20))
		}},
	}
	if d != 0 && math.Abs(d) < solid.Lattice { // a step lower than the lattice
		cases = slices.DeleteFunc(cases, func(c namedCase) bool { return c.name == "counterbore of nearly one size" })
	}
	for _, dir := range []Vec{xAxis, yAxis, {math.Cos(.7), math.Sin(.7), 0}} {
		n := fmt.Sprintf(" along (%.1f, %.1f)", dir[0], dir[1])
		cases = append(cases,
			namedCase{"vent beside the half-round shoulder" + n, -2, vent(12+.7, .7, dir)},
			namedCase{"vent inside the half-round shoulder" + n, -2, vent(12-.7, .7, dir)},
			namedCase{"vent on the shoulder" + n, -2, vent(12, .7, dir)},
			namedCase{"vent beside the square ridge" + n, -2, vent(14-.7, .7, dir)},
			namedCase{"vent as wide as the half-round" + n, -2, vent(10, 2, dir)})
		if d != 0 { // at 0 no material is left between
			cases = append(cases,
				namedCase{"vent inside the square ridge" + n, -2, vent(14+.7, .7, dir)},
				namedCase{"vent as wide as the square ridge" + n, -2, vent(15, 1, dir)})
		}
	}
	return cases
}

func runCase(t *testing.T, c namedCase, tol float64) {
	t.Helper()
	m := solid.NewModel()
	root := c.build(m)
	b, err := brep.NewEvaluator(m).Boundary(root)
	if err != nil {
		t.Fatalf("boundary: %v", err)
	}
	if chi := audit(t, b, mustMesh(t, b, tol), tol); chi != c.chi {
		t.Errorf("Euler number %d, want %d", chi, c.chi)
	}
}

func TestNamedCases(t *testing.T) {
	for _, tol := range []float64{.1, .013} {
		for _, c := range plainCases() {
			t.Run(fmt.Sprintf("%s at %g", c.name, tol), func(t *testing.T) { runCase(t, c, tol) })
		}
	}
}

// A cone whose tip lies on the face's outline, above it. Volume of the cylinder
// and the cone on it.
func TestQuarterOfAPeg(t *testing.T) {
	b := boundaryOf(t, func(m *solid.Model) *solid.Node {
		peg := m.Revolve("peg", "", solid.AxisFrame(Vec{}, zAxis), solid.Poly(0, 0, 3, 0, 3, 8, 0, 12))
		return solid.Intersect(peg, m.Box("quarter", "", Vec{}, Vec{20, 20, 20}))
	})
	m := mustMesh(t, b, .01)
	if chi := auditTopology(t, m); chi != 2 {
		t.Errorf("Euler number %d", chi)
	}
	auditFacets(t, b, m, .01)
	auditEdges(t, b, m, .01)
	auditVolume(t, b, m, .01, math.Pi/4*9*(8+4./3))
}

func TestNearCoincidences(t *testing.T) {
	for _, d := range []float64{0, 1e-3, -1e-3, 1e-4, -1e-4, 1e-5, -1e-5} {
		for _, c := range nearCases(d) {
			t.Run(fmt.Sprintf("%s %+g", c.name, d), func(t *testing.T) { runCase(t, c, .02) })
		}
	}
}

// A finer mesh makes up for a failed attempt, so that a fault in the method would
// show in the number of facets only. None of these cases needs one.
func TestFirstAttemptSuffices(t *testing.T) {
	cases := append(plainCases(), nearCases(1e-4)...)
	for _, tol := range []float64{.1, .02, .004} {
		for _, c := range cases {
			w := work{b: boundaryOf(t, c.build), tol: tol - rounding}
			if _, err := w.mesh(); err != nil {
				t.Errorf("%s at %g: %v", c.name, tol, err)
			}
		}
	}
}

// The error of the volume must fall with the tolerance itself, since sagitta and
// missing volume are both quadratic in the facet size.
func TestConvergence(t *testing.T) {
	for _, build := range []func(*solid.Model) *solid.Node{solidtest.ReferenceLid, solidtest.HalfShell} {
		b := boundaryOf(t, build)
		exact := b.Volume()
		var last float64
		for i, tol := range []float64{.32, .08, .02} {
			e := math.Abs(mustMesh(t, b, tol).Volume() - exact)
			if i > 0 {
				if order := math.Log(last/e) / math.Log(4); order < .85 || order > 1.2 {
					t.Errorf("volume error %g after %g at a quarter of the tolerance: order %.2f, want 1", e, last, order)
				}
			}
			last = e
		}
	}
}

func TestSameForAnyThreadCount(t *testing.T) {
	b := boundaryOf(t, solidtest.HalfShell)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := mustMesh(t, b, .03)
	for _, n := range []int{2, 5} {
		runtime.GOMAXPROCS(n)
		if !reflect.DeepEqual(one, mustMesh(t, b, .03)) {
			t.Fatalf("the mesh differs between 1 and %d threads", n)
		}
	}
}

// Two halves of one part meet in their parting plane: along every edge there
// that both have, vertices must be the same.
func TestPartingEdgesMeet(t *testing.T) {
	m := solid.NewModel()
	round := solid.Poly(0, 3, 9, 3).ArcTo(12, 6, 9, 6, true).LineTo(12, 10).ArcTo(12, 14, 12, 12, false)
	round = append(round, solid.Poly(12, 14, 12, 20, 0, 20)...)
	part := solid.Minus(block(m), m.Revolve("pocket", "", solid.AxisFrame(Vec{}, zAxis), round),
		m.Ball("ball", "", Vec{16, 0, 10}, yAxis, 2), m.Cylinder("bolt", "", Vec{-16, 0, 5}, yAxis, 1.6, -20, 20))
	ev := brep.NewEvaluator(m)
	half := func(name string, lo, hi Vec) map[Vec]bool {
		b, err := ev.Boundary(solid.Intersect(part, m.Box(name, "", lo, hi)))
		if err != nil {
			t.Fatal(err)
		}
		x := mustMesh(t, b, .02)
		on := map[Vec]bool{}
		for i, v := range x.T {
			if b.Faces[x.Label[i]].Carrier.Kind == solid.Plane {
				continue
			}
			for _, k := range v {
				if x.V[k][1] == 0 {
					on[x.V[k]] = true
				}
			}
		}
		return on
	}
	front := half("front", Vec{-20, 0, 0}, Vec{20, 20, 20})
	back := half("back", Vec{-20, -20, 0}, Vec{20, 0, 20})
	if len(front) < 50 || !reflect.DeepEqual(front, back) {
		t.Errorf("%d and %d vertices of curved faces in the parting plane, not the same", len(front), len(back))
	}
}

func TestPinchIsRefused(t *testing.T) {
	m := solid.NewModel()
	root := solid.Union(m.Box("low", "", Vec{0, 0, 0}, Vec{1, 1, 1}), m.Box("high", "", Vec{1, 1, 1}, Vec{2, 2, 2}))
	b, err := brep.NewEvaluator(m).Boundary(root)
	if err == nil {
		_, err = Mesh(b, Settings{.01})
	}
	var r *brep.Refusal
	if !errors.As(err, &r) || r.Kind != brep.TouchPoint || !reflect.DeepEqual(r.Names, []string{"high", "low"}) || r.At != (Vec{1, 1, 1}) {
		t.Errorf("boxes that share a corner: %v", err)
	}
}

func TestSettings(t *testing.T) {
	b := boundaryOf(t, block)
	for _, tol := range []float64{0, -1, 1e-5, math.NaN()} {
		if _, err := Mesh(b, Settings{tol}); err == nil {
			t.Errorf("tolerance %g accepted", tol)
		}
	}
	for name, build := range map[string]func(*solid.Model) *solid.Node{
		"long box":  func(m *solid.Model) *solid.Node { return m.Box("far", "", Vec{}, Vec{1100, 1, 1}) },
		"ball":      func(m *solid.Model) *solid.Node { return m.Ball("far", "", Vec{1020, 0, 0}, zAxis, 5) },
		"wide disc": func(m *solid.Model) *solid.Node { return m.Cylinder("far", "", Vec{}, zAxis, 1025, 0, 5) },
	} {
		if _, err := Mesh(boundaryOf(t, build), Settings{1}); !errors.Is(err, errReach) {
			t.Errorf("%s beyond the reach of the lattice: %v", name, err)
		}
	}
}
