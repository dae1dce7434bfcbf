package step_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
	"wheelmold/mesh/step"
	"wheelmold/mesh/step/steptest"
)

type Vec = solid.Vec

var xAxis, yAxis, zAxis = Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}

// shape is a solid with what is known of it without any program.
type shape struct {
	name   string
	build  func(m *solid.Model) *solid.Node
	volume float64 // mm³; 0: known from the boundary only
	census step.Census
	lumps  int
	voids  int
	// edges that are neither lines nor circles
	ellipses, splines int
}

// crossing is the volume that a round pin of radius a shares with one of radius r > a
// that it crosses square, by Simpson's rule in x = a sin t.
func crossing(a, r float64) float64 {
	const n = 2000
	f := func(t float64) float64 {
		s, k := math.Sincos(t)
		return 4 * a * a * k * k * math.Sqrt(r*r-a*a*s*s)
	}
	sum := f(-math.Pi/2) + f(math.Pi/2)
	for i := 1; i < n; i++ {
		sum += f(-math.Pi/2+math.Pi*float64(i)/n) * float64(2+2*(i%2))
	}
	return sum * math.Pi / n / 3
}

// barrel is a wheel of 60 mm with a crown of radius 200, more than its own.
func barrel(m *solid.Model) *solid.Node {
	return m.Revolve("wheel", "tread", solid.AxisFrame(Vec{}, zAxis),
		solid.Poly(0, -10, 30, -10).ArcTo(30, 10, 30-math.Sqrt(200*200-100), 0, true).LineTo(0, 10))
}

// barrelVolume is π∫r² dz over the arc.
func barrelVolume() float64 {
	c, m := 30-math.Sqrt(200*200-100), 200.0
	// r = c + √(m²-z²): r² = c² + 2c√(m²-z²) + m² - z², from -10 to 10
	root := 10*math.Sqrt(m*m-100) + m*m*math.Asin(10/m)
	return math.Pi * (20*c*c + 2*c*root + 20*m*m - 2000./3)
}

func shapes() []shape {
	block := func(m *solid.Model) *solid.Node {
		return m.Box("block", "block", Vec{-20, -15, 0}, Vec{20, 15, 10})
	}
	pin := func(m *solid.Model) *solid.Node { return m.Cylinder("pin", "pin", Vec{}, zAxis, 5, -20, 20) }
	return []shape{
		{name: "block", build: block, volume: 12000, census: step.Census{Plane: 6}},
		{name: "plate with a hole", build: func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("bolt hole", "bolt hole", Vec{}, zAxis, 4, -1, 11))
		}, volume: 12000 - 160*math.Pi, census: step.Census{Plane: 6, Cylinder: 1}},
		{name: "ball", build: func(m *solid.Model) *solid.Node { return m.Ball("ball", "ball", Vec{3, 2, 1}, zAxis, 6) },
			volume: 4 * math.Pi * 216 / 3, census: step.Census{Sphere: 1}},
		{name: "half a ball", build: func(m *solid.Model) *solid.Node {
			return solid.Intersect(block(m), m.Ball("ball", "ball", Vec{3, 2, 0}, zAxis, 6))
		}, volume: 2 * math.Pi * 216 / 3, census: step.Census{Plane: 1, Sphere: 1}},
		{name: "ball seat", build: func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "ball", Vec{3, 2, 12}, zAxis, 6))
		}, volume: 12000 - math.Pi*16*(18-4)/3, census: step.Census{Plane: 6, Sphere: 1}},
		{name: "ring", build: func(m *solid.Model) *solid.Node {
			return m.Revolve("ring", "ring", solid.AxisFrame(Vec{1, 2, 3}, zAxis),
				solid.Poly(13, 0).ArcTo(7, 0, 10, 0, true).ArcTo(13, 0, 10, 0, true))
		}, volume: 2 * math.Pi * math.Pi * 10 * 9, census: step.Census{Torus: 1}},
		{name: "tip", build: func(m *solid.Model) *solid.Node {
			return m.Revolve("tip", "tip", solid.AxisFrame(Vec{}, zAxis), solid.Poly(0, 0, 6, 0, 0, 9))
		}, volume: math.Pi * 36 * 9 / 3, census: step.Census{Plane: 1, Cone: 1}},
		{name: "countersink with a tip", build: func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("drill", "drill", solid.AxisFrame(Vec{5, 5, 0}, zAxis), solid.Poly(0, 5, 4, 11, 0, 11)))
		}, volume: 12000 - math.Pi*100/9*5/3, census: step.Census{Plane: 6, Cone: 1}},
		{name: "bushing", build: func(m *solid.Model) *solid.Node {
			return m.Revolve("bushing", "bushing", solid.AxisFrame(Vec{}, yAxis), solid.Poly(4, 0, 9, 0, 9, 7, 6, 12, 4, 12))
		}, volume: math.Pi * (81*7 + (81+54+36)*5./3 - 16*12), census: step.Census{Plane: 2, Cylinder: 2, Cone: 1}},
		{name: "slanted pin", build: func(m *solid.Model) *solid.Node {
			cut := m.Extrude("cut", "cut", solid.AxisFrame(Vec{0, 0, 10}, Vec{.3, .2, 1}.Unit()), 0, 40, solid.Poly(-40, -40, 40, -40, 40, 40, -40, 40))
			return solid.Minus(m.Cylinder("pin", "pin", Vec{}, zAxis, 5, 0, 30), cut)
		}, volume: math.Pi * 25 * 10, census: step.Census{Plane: 2, Cylinder: 1}, ellipses: 1},
		{name: "half pin", build: func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Cylinder("pin", "pin", Vec{}, zAxis, 5, 0, 8), m.Box("half", "half", Vec{0, -9, -9}, Vec{9, 9, 9}))
		}, volume: math.Pi * 25 * 8 / 2, census: step.Census{Plane: 3, Cylinder: 1}},
		{name: "pin with a cross hole", build: func(m *solid.Model) *solid.Node {
			return solid.Minus(pin(m), m.Cylinder("hole", "hole", Vec{0, 0, 2}, xAxis, 2, -10, 10))
		}, volume: math.Pi*25*40 - crossing(2, 5), census: step.Census{Plane: 2, Cylinder: 2}, splines: 2},
		{name: "pin with holes all around", build: func(m *solid.Model) *solid.Node {
			cut := []*solid.Node{}
			for k := range 16 { // blind, and so close that every seam meets one
				s, c := math.Sincos(float64(k) * math.Pi / 8)
				z := float64(6 * (k % 2))
				cut = append(cut, m.Cylinder(fmt.Sprint("hole ", k), "hole", Vec{0, 0, z}, Vec{c, s, 0}, 2.2, 9, 20))
			}
			return solid.Minus(m.Cylinder("pin", "pin", Vec{}, zAxis, 10, -20, 20), cut...)
		}, census: step.Census{Plane: 2 + 16, Cylinder: 1 + 16}, splines: 16 + 2}, // the seam cuts two,
		{name: "hollow block", build: func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("bubble", "bubble", Vec{5, 5, 5}, zAxis, 3),
				m.Box("gap", "gap", Vec{-10, -10, 2}, Vec{-5, -5, 8}))
		}, volume: 12000 - 4*math.Pi*9 - 150, census: step.Census{Plane: 12, Sphere: 1}, voids: 2},
		{name: "two blocks", build: func(m *solid.Model) *solid.Node {
			return solid.Union(block(m), m.Box("other", "other", Vec{-20, -15, 20}, Vec{20, 15, 30}))
		}, volume: 24000, census: step.Census{Plane: 12}, lumps: 2},
		{name: "crowned wheel", build: barrel, volume: barrelVolume(), census: step.Census{Plane: 2, Revolution: 1}},
		{name: "crowned wheel with a drilled tread", build: func(m *solid.Model) *solid.Node {
			return solid.Minus(barrel(m), m.Cylinder("flat", "hole", Vec{0, 0, 3}, xAxis, 2, 20, 40))
		}, census: step.Census{Plane: 3, Cylinder: 1, Revolution: 1}, splines: 1},
		{name: "lid", build: solidtest.ReferenceLid, volume: solidtest.ReferenceLidVolume,
			census: step.Census{Plane: 26, Cylinder: 14, Cone: 2, Sphere: 4}},
		{name: "half-shell", build: solidtest.HalfShell,
			census: step.Census{Plane: 21, Cylinder: 17, Sphere: 6, Torus: 3}, splines: 4},
	}
}

// regions reads a solid.
func regions(t testing.TB, build func(*solid.Model) *solid.Node) *region.Solid {
	t.Helper()
	m := solid.NewModel()
	root := build(m)
	b, err := brep.NewEvaluator(m).Boundary(root)
	if err != nil {
		t.Fatal(err)
	}
	s, err := region.Of(b)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// written writes a part.
func written(t testing.TB, p step.Part, o step.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := step.Write(&b, p, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func audited(t *testing.T, src []byte) *steptest.Model {
	t.Helper()
	m, err := steptest.Audit(src)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
