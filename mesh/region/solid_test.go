package region_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/region/regiontest"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

const pi = math.Pi

// Vec is a point or direction, mm.
type Vec = solid.Vec

var xAxis, yAxis, zAxis = Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}

// upright is the world's frame, odd one that shares no direction with it.
var upright, odd = solid.AxisFrame(Vec{}, zAxis), solid.AxisFrame(Vec{1, 2, 3}, Vec{1, 2, 2})

func boundary(t *testing.T, m *solid.Model, n *solid.Node) *brep.Boundary {
	t.Helper()
	b, err := brep.NewEvaluator(m).Boundary(n)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// handmade is a solid whose regions are counted and measured by hand.
type handmade struct {
	name   string
	build  func(m *solid.Model) *solid.Node
	counts region.Counts
	shapes [4]int                 // lines, circles, ellipses, others
	euler  int                    // 2 for every shell less 2 for every hole
	shells []float64              // mm³; none: not in closed form
	areas  map[solid.Kind]float64 // mm², of all faces of a kind
}

func box(m *solid.Model, lo, hi Vec) *solid.Node { return m.Box("box", "", lo, hi) }

// half is the block below a plane through (0, 0, z) that is tilted by a about y.
func half(m *solid.Model, z, a float64) *solid.Node {
	s, k := math.Sincos(a)
	return m.BoxIn("half", "", solid.Frame{O: Vec{0, 0, z}, X: Vec{k, 0, s}, Y: yAxis, Z: Vec{-s, 0, k}}, Vec{-50, -50, -50}, Vec{50, 50, 0})
}

// crownArea is the area of an arc of radius m about (r0, 0), between the heights ±h,
// turned about the axis: 2π∫ r ds = 2πm(2·r0·asin(h/m) + 2h).
func crownArea(r0, m, h float64) float64 { return 2 * pi * m * (2*r0*math.Asin(h/m) + 2*h) }

// shadow is the area, seen along the axis, of the ellipse in which a plane tilted by a
// cuts a cone of 45°, whose tip is h above it: r = h/(1 + tan a·cos u).
func shadow(a, h float64) float64 { return pi * h * h / math.Pow(1-math.Tan(a)*math.Tan(a), 1.5) }

var (
	deepCrown = 20 - math.Sqrt(225-36) // center of a crown of radius 15 mm, 12 mm wide, on a disc of 20 mm
	flatCrown = 20 - math.Sqrt(900-36) // the same of radius 30 mm: beyond the axis
)

// pierced is a tube with two rows of holes that leave no meridian free.
func pierced(name string, axis Vec) handmade {
	return handmade{name, func(m *solid.Model) *solid.Node {
		f := solid.AxisFrame(Vec{}, axis)
		tube := m.Revolve("", "", f, solid.Poly(8, 0, 10, 0, 10, 20, 8, 20)) // first, so that its seams meet whole rims
		var cut []*solid.Node
		for i := range 12 {
			s, c := math.Sincos(float64(i) * pi / 6)
			cut = append(cut, m.Cylinder("", "", f.Global(Vec{0, 0, 6 + 8*float64(i%2)}), f.X.Scale(c).AddScaled(s, f.Y), 3, 5, 20))
		}
		return solid.Minus(tube, cut...)
	}, region.Counts{Plane: 2, Cylinder: 14}, [4]int{0, 4, 0, 24}, -24, nil, nil}
}

var plain = []handmade{
	{"drilled plate", func(m *solid.Model) *solid.Node {
		return solid.Minus(box(m, Vec{-10, -10, 0}, Vec{10, 10, 4}), m.Cylinder("", "", Vec{}, zAxis, 3, 0, 4), m.Cylinder("", "", Vec{7, 7, 0}, zAxis, 1, 2, 4))
	}, region.Counts{Plane: 7, Cylinder: 2}, [4]int{12, 4}, 0, []float64{1600 - 36*pi - 2*pi},
		map[solid.Kind]float64{solid.Cylinder: 28 * pi, solid.Plane: 1120 - 18*pi}},
	{"plate with two voids", func(m *solid.Model) *solid.Node {
		return solid.Minus(box(m, Vec{-10, -10, -5}, Vec{10, 10, 5}), m.Ball("", "", Vec{5, 0, 0}, zAxis, 3), box(m, Vec{-8, -1, -1}, Vec{-6, 1, 1}))
	}, region.Counts{Plane: 12, Sphere: 1}, [4]int{24}, 6, []float64{4000, -36 * pi, -8}, map[solid.Kind]float64{solid.Sphere: 36 * pi}},
	{"two lumps on the same planes", func(m *solid.Model) *solid.Node {
		return solid.Union(box(m, Vec{0, 0, 0}, Vec{2, 2, 2}), box(m, Vec{3, 0, 0}, Vec{4, 2, 2}))
	}, region.Counts{Plane: 12}, [4]int{24}, 4, []float64{8, 4}, map[solid.Kind]float64{solid.Plane: 24 + 16}},
	{"bar cut at an angle", func(m *solid.Model) *solid.Node {
		return solid.Intersect(m.Cylinder("", "", Vec{}, zAxis, 3, 0, 30), half(m, 10, .5))
	}, region.Counts{Plane: 2, Cylinder: 1}, [4]int{0, 1, 1}, 2, []float64{90 * pi},
		map[solid.Kind]float64{solid.Cylinder: 60 * pi, solid.Plane: 9 * pi * (1 + 1/math.Cos(.5))}},
	{"cross-drilled bar", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Cylinder("", "", Vec{}, zAxis, 10, -20, 20), m.Cylinder("", "", Vec{}, xAxis, 4, -20, 20))
	}, region.Counts{Plane: 2, Cylinder: 2}, [4]int{0, 2, 0, 2}, 0, nil, nil},
	{"hole over the edge of a bar", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Cylinder("", "", Vec{}, zAxis, 10, -20, 20), m.Cylinder("", "", Vec{0, 8, 0}, xAxis, 4, -20, 20))
	}, region.Counts{Plane: 2, Cylinder: 2}, [4]int{0, 2, 0, 1}, 2, nil, nil},
	// Steinmetz: cylinders of one radius meet in two ellipses; what they have in common
	// has the area 16r².
	{"common part of two cylinders", func(m *solid.Model) *solid.Node {
		return solid.Intersect(m.Cylinder("", "", Vec{7, -3, 11}, zAxis, 3, -9, 9), m.Cylinder("", "", Vec{7, -3, 11}, xAxis, 3, -9, 9))
	}, region.Counts{Cylinder: 4}, [4]int{0, 0, 4}, 2, []float64{144}, map[solid.Kind]float64{solid.Cylinder: 144}},
	{"branch of a pipe", func(m *solid.Model) *solid.Node {
		return solid.Union(m.Cylinder("", "", Vec{}, zAxis, 3, -9, 9), m.Cylinder("", "", Vec{}, xAxis, 3, 0, 9))
	}, region.Counts{Plane: 3, Cylinder: 2}, [4]int{0, 3, 2}, 2, []float64{243*pi - 72},
		map[solid.Kind]float64{solid.Cylinder: 162*pi - 72}},
	{"tube with slots all around", func(m *solid.Model) *solid.Node {
		tube := m.Revolve("", "", upright, solid.Poly(8, 0, 10, 0, 10, 20, 8, 20))
		return solid.Minus(tube, box(m, Vec{-20, -1, 5}, Vec{20, 20, 7}), box(m, Vec{-20, -20, 12}, Vec{20, 1, 14}))
	}, region.Counts{Plane: 10, Cylinder: 2}, [4]int{16, 12}, -4, nil, nil},
	pierced("tube with round holes all around", zAxis),
	pierced("the same about x", xAxis),
	pierced("the same about y", yAxis),
	// Where the pipes touch, their border crosses itself; half of it has a corner there.
	{"branch that touches a pipe from inside", func(m *solid.Model) *solid.Node {
		return solid.Union(m.Cylinder("", "", Vec{}, zAxis, 3, -9, 9), m.Cylinder("", "", Vec{0, 1, 0}, xAxis, 2, 0, 9))
	}, region.Counts{Plane: 3, Cylinder: 2}, [4]int{0, 3, 0, 1}, 2, nil, nil},
}

var cones = []handmade{
	{"cone with its tip", func(m *solid.Model) *solid.Node { return m.Revolve("", "", odd, solid.Poly(0, 0, 3, 0, 0, 4)) },
		region.Counts{Plane: 1, Cone: 1}, [4]int{0, 1}, 2, []float64{12 * pi}, map[solid.Kind]float64{solid.Cone: 15 * pi}},
	{"cone on its tip", func(m *solid.Model) *solid.Node { return m.Revolve("", "", upright, solid.Poly(0, 0, 3, 4, 0, 4)) },
		region.Counts{Plane: 1, Cone: 1}, [4]int{0, 1}, 2, []float64{12 * pi}, map[solid.Kind]float64{solid.Cone: 15 * pi}},
	{"half a cone, its tip on the border", func(m *solid.Model) *solid.Node {
		return solid.Intersect(m.Revolve("", "", upright, solid.Poly(0, 0, 3, 0, 0, 4)), box(m, Vec{-9, 0, -9}, Vec{9, 9, 9}))
	}, region.Counts{Plane: 2, Cone: 1}, [4]int{3, 1}, 2, nil, map[solid.Kind]float64{solid.Cone: 7.5 * pi}},
	{"three quarters of a cone on its tip", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Revolve("", "", upright, solid.Poly(0, 0, 3, 4, 0, 4)), box(m, Vec{0, 0, -9}, Vec{9, 9, 9}))
	}, region.Counts{Plane: 3, Cone: 1}, [4]int{5, 1}, 2, []float64{9 * pi}, map[solid.Kind]float64{solid.Cone: 45. / 4 * pi}},
	{"frustum", func(m *solid.Model) *solid.Node { return m.Cone("", "", Vec{1, 2, 3}, Vec{1, 2, 2}, 5, 0, 2, 4) },
		region.Counts{Plane: 2, Cone: 1}, [4]int{0, 2}, 2, []float64{52 * pi}, map[solid.Kind]float64{solid.Cone: 35 * pi}},
	{"cone cut at an angle", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Revolve("", "", upright, solid.Poly(0, -20, 20, -20, 0, 0)), half(m, -10, .3))
	}, region.Counts{Plane: 1, Cone: 1}, [4]int{0, 0, 1}, 2, []float64{shadow(.3, 10) * 10 / 3},
		map[solid.Kind]float64{solid.Cone: shadow(.3, 10) * math.Sqrt2, solid.Plane: shadow(.3, 10) / math.Cos(.3)}},
	{"cone cut along its axis", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Revolve("", "", upright, solid.Poly(0, -20, 20, -20, 0, 0)), box(m, Vec{5, -50, -50}, Vec{50, 50, 50}))
	}, region.Counts{Plane: 2, Cone: 1}, [4]int{1, 1, 0, 1}, 2, nil, nil},
}

var balls = []handmade{
	{"ball", func(m *solid.Model) *solid.Node { return m.Ball("", "", Vec{1, 2, 3}, Vec{1, 2, 2}, 3) },
		region.Counts{Sphere: 1}, [4]int{}, 2, []float64{36 * pi}, map[solid.Kind]float64{solid.Sphere: 36 * pi}},
	{"ball with three holes", func(m *solid.Model) *solid.Node { // each leaves a cap of height 1 off the ball
		return solid.Minus(m.Ball("", "", Vec{}, Vec{1, 2, 3}, 5), m.Cylinder("", "", Vec{}, xAxis, 3, 3, 9), m.Cylinder("", "", Vec{}, yAxis, 3, 3.5, 9), m.Cylinder("", "", Vec{}, xAxis, 3, -9, -3))
	}, region.Counts{Plane: 3, Cylinder: 3, Sphere: 1}, [4]int{0, 6}, 2,
		[]float64{500*pi/3 - 3*pi*14/3 - 9*pi*2.5}, map[solid.Kind]float64{solid.Sphere: 70 * pi, solid.Cylinder: 15 * pi, solid.Plane: 27 * pi}},
	{"bead", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Ball("", "", Vec{}, zAxis, 5), m.Cylinder("", "", Vec{}, zAxis, 3, -9, 9))
	}, region.Counts{Cylinder: 1, Sphere: 1}, [4]int{0, 2}, 0, []float64{pi / 6 * 512}, map[solid.Kind]float64{solid.Sphere: 80 * pi, solid.Cylinder: 48 * pi}},
	{"cap", func(m *solid.Model) *solid.Node {
		return solid.Intersect(m.Ball("", "", Vec{}, xAxis, 10), box(m, Vec{-20, -20, 6}, Vec{20, 20, 20}))
	}, region.Counts{Plane: 1, Sphere: 1}, [4]int{0, 1}, 2, []float64{pi * 16 * 26 / 3}, map[solid.Kind]float64{solid.Sphere: 80 * pi}},
	{"two caps of one ball", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Ball("", "", Vec{}, zAxis, 10), box(m, Vec{-20, -20, -6}, Vec{20, 20, 8}))
	}, region.Counts{Plane: 2, Sphere: 2}, [4]int{0, 2}, 4, []float64{pi * 16 * 26 / 3, pi * 4 * 28 / 3}, map[solid.Kind]float64{solid.Sphere: 120 * pi}},
	{"eighth of a ball", func(m *solid.Model) *solid.Node {
		return solid.Intersect(m.Ball("", "", Vec{}, zAxis, 10), box(m, Vec{}, Vec{20, 20, 20}))
	}, region.Counts{Plane: 3, Sphere: 1}, [4]int{3, 3}, 2, []float64{pi / 6 * 1000}, map[solid.Kind]float64{solid.Sphere: 50 * pi}},
	{"ball less an eighth", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Ball("", "", Vec{}, zAxis, 10), box(m, Vec{}, Vec{20, 20, 20}))
	}, region.Counts{Plane: 3, Sphere: 1}, [4]int{3, 3}, 2, []float64{pi / 6 * 7000}, map[solid.Kind]float64{solid.Sphere: 350 * pi}},
	{"ball in a hollow ball", func(m *solid.Model) *solid.Node {
		return solid.Union(solid.Minus(m.Ball("", "", Vec{}, zAxis, 10), m.Ball("", "", Vec{}, zAxis, 8)), m.Ball("", "", Vec{1, 0, 0}, zAxis, 5))
	}, region.Counts{Sphere: 3}, [4]int{}, 6, []float64{4000 * pi / 3, -2048 * pi / 3, 500 * pi / 3}, nil},
}

var tori = []handmade{
	{"ring", func(m *solid.Model) *solid.Node { return m.Revolve("", "", odd, solid.Circle(20, 0, 5)) },
		region.Counts{Torus: 1}, [4]int{}, 0, []float64{1000 * pi * pi}, map[solid.Kind]float64{solid.Torus: 400 * pi * pi}},
	{"ring for a void", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Cylinder("", "", Vec{}, zAxis, 30, -9, 9), m.Revolve("", "", upright, solid.Circle(20, 0, 5)))
	}, region.Counts{Plane: 2, Cylinder: 1, Torus: 1}, [4]int{0, 2}, 2, []float64{16200 * pi, -1000 * pi * pi}, nil},
	{"ring with a blind hole", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Revolve("", "", upright, solid.Circle(20, 0, 5)), m.Cylinder("", "", Vec{0, 20, 0}, zAxis, 1, 3, 9))
	}, region.Counts{Plane: 1, Cylinder: 1, Torus: 1}, [4]int{0, 1, 0, 1}, 0, nil, nil},
	{"ring with three blind holes", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Revolve("", "", upright, solid.Circle(20, 0, 5)), m.Cylinder("", "", Vec{0, 20, 0}, zAxis, 1, 3, 9),
			m.Cylinder("", "", Vec{0, 20.2, 0}, zAxis, 1, -9, -3), m.Cylinder("", "", Vec{0, -20, 0}, zAxis, 1, 3, 9))
	}, region.Counts{Plane: 3, Cylinder: 3, Torus: 1}, [4]int{0, 3, 0, 3}, 0, nil, nil},
	// The groove's border runs over the ring's crest, where one branch goes on as another.
	{"ring with a groove across it", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Revolve("", "", upright, solid.Circle(20, 0, 5)), m.Cylinder("", "", Vec{0, 0, 4}, xAxis, 3, 0, 40))
	}, region.Counts{Cylinder: 1, Torus: 1}, [4]int{0, 0, 0, 1}, 0, nil, nil},
	{"upper half of a ring", func(m *solid.Model) *solid.Node {
		return solid.Intersect(m.Revolve("", "", upright, solid.Circle(20, 0, 5)), box(m, Vec{-30, -30, 0}, Vec{30, 30, 9}))
	}, region.Counts{Plane: 1, Torus: 1}, [4]int{0, 2}, 0, []float64{500 * pi * pi}, map[solid.Kind]float64{solid.Torus: 200 * pi * pi}},
	{"groove in a plate", func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Cylinder("", "", Vec{}, zAxis, 30, -9, 0), m.Revolve("", "", upright, solid.Circle(20, 0, 5)))
	}, region.Counts{Plane: 3, Cylinder: 1, Torus: 1}, [4]int{0, 4}, 2, []float64{8100*pi - 500*pi*pi}, map[solid.Kind]float64{solid.Torus: 200 * pi * pi}},
	{"disc with a rounded edge", func(m *solid.Model) *solid.Node { // Pappus: length of the arc times the way of its middle
		return m.Revolve("", "", odd, solid.Poly(0, 0, 30, 0, 30, 7).ArcTo(27, 10, 27, 7, true).LineTo(0, 10))
	}, region.Counts{Plane: 2, Cylinder: 1, Torus: 1}, [4]int{0, 3}, 2, nil,
		map[solid.Kind]float64{solid.Torus: 2 * pi * (27 + 3*2/pi) * 3 * pi / 2, solid.Cylinder: 420 * pi}},
	{"eighth of a ring", func(m *solid.Model) *solid.Node {
		return solid.Intersect(m.Revolve("", "", upright, solid.Circle(20, 0, 5)), box(m, Vec{0, 0, 0}, Vec{30, 30, 9}))
	}, region.Counts{Plane: 3, Torus: 1}, [4]int{2, 4}, 2, []float64{125 * pi * pi}, map[solid.Kind]float64{solid.Torus: 50 * pi * pi}},
	{"crown before the axis", func(m *solid.Model) *solid.Node {
		return m.Revolve("", "", upright, solid.Poly(0, -6, 20, -6).ArcTo(20, 6, deepCrown, 0, true).LineTo(0, 6))
	}, region.Counts{Plane: 2, Revolution: 1}, [4]int{0, 2}, 2, nil, map[solid.Kind]float64{solid.Torus: crownArea(deepCrown, 15, 6)}},
	{"crown beyond the axis", func(m *solid.Model) *solid.Node {
		return m.Revolve("", "", upright, solid.Poly(0, -6, 20, -6).ArcTo(20, 6, flatCrown, 0, true).LineTo(0, 6))
	}, region.Counts{Plane: 2, Revolution: 1}, [4]int{0, 2}, 2, nil, map[solid.Kind]float64{solid.Torus: crownArea(flatCrown, 30, 6)}},
	{"lemon with one tip", func(m *solid.Model) *solid.Node {
		return m.Revolve("", "", upright, solid.Poly(0, 0, 4, 0).ArcTo(0, 8, -6, 0, true))
	}, region.Counts{Plane: 1, Revolution: 1}, [4]int{0, 1}, 2, nil, map[solid.Kind]float64{solid.Torus: crownArea(-6, 10, 8) / 2}},
}

func TestHandmadeSolids(t *testing.T) {
	for _, x := range slices.Concat(plain, cones, balls, tori) {
		t.Run(x.name, func(t *testing.T) {
			m := solid.NewModel()
			s, cut := read(t, x.name, boundary(t, m, x.build(m)))
			if s.Counts() != x.counts || cut.Counts() != x.counts {
				t.Errorf("%+v, cut %+v, want %+v", s.Counts(), cut.Counts(), x.counts)
			}
			if got := shapes(s); got != x.shapes {
				t.Errorf("%v lines, circles, ellipses and others, want %v", got, x.shapes)
			}
			if got := regiontest.Euler(s); got != x.euler {
				t.Errorf("Euler number %d, want %d", got, x.euler)
			}
			measure(t, s, &x)
			if x.name != "lemon with one tip" { // which no mesh shows
				against(t, x.name, s, .01)
			}
		})
	}
}

func shapes(s *region.Solid) (n [4]int) {
	for _, e := range s.Edges {
		n[e.Shape]++
	}
	return n
}

func measure(t *testing.T, s *region.Solid, x *handmade) {
	t.Helper()
	got := map[solid.Kind]float64{}
	for i, f := range s.Faces {
		got[f.Carrier.Kind] += s.Area(i)
	}
	for k, want := range x.areas {
		if math.Abs(got[k]-want) > 1e-10*want {
			t.Errorf("%.12f mm² of %v, want %.12f", got[k], k, want)
		}
	}
	var v []float64
	for _, sh := range s.Shells {
		v = append(v, sh.Volume)
	}
	slices.Sort(v)
	if want := slices.Sorted(slices.Values(x.shells)); want != nil && fmt.Sprintf("%.8f", v) != fmt.Sprintf("%.8f", want) {
		t.Errorf("shells of %.8f mm³, want %.8f", v, want)
	}
}

func TestReferenceSolids(t *testing.T) {
	m := solid.NewModel()
	s, _ := read(t, "lid", boundary(t, m, solidtest.ReferenceLid(m)))
	if n := (region.Counts{Plane: 26, Cylinder: 14, Cone: 2, Sphere: 4}); s.Counts() != n {
		t.Errorf("lid: %+v, want %+v", s.Counts(), n)
	}
	against(t, "lid", s, .02)
	m = solid.NewModel()
	s, _ = read(t, "half-shell", boundary(t, m, solidtest.HalfShell(m)))
	against(t, "half-shell", s, .02)
}

// Faces on one carrier have the roles of their own leaves.
func TestRoles(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(m.Box("a", "left", Vec{0, 0, 0}, Vec{2, 2, 2}), m.Box("b", "middle", Vec{3, 0, 0}, Vec{4, 2, 2}), m.Box("c", "right", Vec{4, 0, 0}, Vec{6, 2, 2}))
	s, _ := read(t, "lumps", boundary(t, m, n))
	got := map[string]int{}
	for _, f := range s.Faces {
		got[fmt.Sprint(f.Roles)]++
	}
	if want := map[string]int{"[left]": 6, "[middle right]": 4, "[middle]": 1, "[right]": 1}; !maps.Equal(got, want) {
		t.Errorf("faces by roles: %v, want %v", got, want)
	}
}

// A seam leaves no splinter of an edge beside a vertex that it just misses.
func TestSeamsKeepClear(t *testing.T) {
	m := solid.NewModel()
	notch := func(y, z float64) *solid.Node { // a square on its corner
		return m.BoxIn("", "", solid.Frame{O: Vec{0, y, z}, X: xAxis, Y: Vec{0, 1, 1}.Unit(), Z: Vec{0, -1, 1}.Unit()}, Vec{5, -1, -1}, Vec{20, 1, 1})
	}
	n := solid.Minus(m.Cylinder("", "", Vec{}, zAxis, 10, 0, 4), notch(0, 4), notch(.004, 0))
	_, cut := read(t, "notched disc", boundary(t, m, n))
	for i, e := range cut.Edges {
		if d := e.At((e.T0 + e.T1) / 2).Dist(e.At(e.T0)); d < .02 {
			t.Errorf("edge %d is %.3g mm long from end to middle", i, d)
		}
	}
}
