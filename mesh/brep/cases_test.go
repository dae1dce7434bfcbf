package brep

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"wheelmold/mesh/solid"
)

// block is 40 × 40 × 20 mm, on z = 0.
func block(m *solid.Model) *solid.Node {
	return m.Box("block", "outer", Vec{-20, -20, 0}, Vec{20, 20, 20})
}

// cavity of radius 10 with a half-round ridge at z = 10 and a square one at z = 15.
func cavity(m *solid.Model) *solid.Node {
	p := solid.Poly(0, -1, 10, -1, 10, 8).
		ArcTo(10, 12, 10, 10, false)
	p = append(p, solid.Poly(10, 14, 8, 14, 8, 16, 10, 16, 10, 21, 0, 21)...)
	return m.Revolve("cavity", "cavity", solid.AxisFrame(Vec{}, zAxis), p)
}

var tiny = []float64{0, 1e-3, -1e-3, 1e-4, -1e-4}

// TestVentsOnRidges drills radially into the cavity at, beside and within 0.01 µm
// of the ridges' shoulders, where surfaces touch or nearly so.
func TestVentsOnRidges(t *testing.T) {
	cases := []struct {
		name     string
		z, r     float64
		vanishes bool // at offset 0 the wall has no thickness
	}{
		{"beside the half-round shoulder", 12 + .7, .7, false},
		{"inside the half-round shoulder", 12 - .7, .7, false},
		{"on the shoulder", 12, .7, false},
		{"beside the square ridge", 14 - .7, .7, false},
		{"inside the square ridge", 14 + .7, .7, true},
		{"as wide as the square ridge", 15, 1, true},
		{"as wide as the half-round ridge", 10, 2, false},
	}
	for _, c := range cases {
		for _, dir := range []Vec{xAxis, yAxis, {math.Cos(.7), math.Sin(.7), 0}} {
			for _, d := range append(tiny, 1e-5, -1e-5) {
				m := solid.NewModel()
				vent := m.Cylinder("vent", "vent", Vec{0, 0, c.z + d}, dir, c.r, 0, 19)
				left, err := laws(m, block(m), cavity(m), vent, 1e-10)
				if c.vanishes && d == 0 {
					wantRefusal(t, c.name, err, "cavity", "vent")
					continue
				}
				if err != nil {
					t.Errorf("vent %s %+g along %.2f: %v", c.name, d, dir, err)
				}
				if left <= 0 || left > 32000 {
					t.Errorf("vent %s %+g: volume %g", c.name, d, left)
				}
			}
		}
	}
}

func wantRefusal(t *testing.T, what string, err error, names ...string) {
	t.Helper()
	var r *Refusal
	if !errors.As(err, &r) {
		t.Errorf("%s: not refused: %v", what, err)
		return
	}
	got := slices.Clone(r.Names)
	slices.Sort(got)
	slices.Sort(names)
	if !slices.Equal(got, names) {
		t.Errorf("%s: names %q, want %q", what, r.Names, names)
	}
}

// TestNearCoincidences: volumes by hand where a formula is at hand, by the laws
// elsewhere.
func TestNearCoincidences(t *testing.T) {
	for _, d := range tiny {
		for name, build := range map[string]func(m *solid.Model) (a, b *solid.Node){
			"bolt hole crossing the cavity's edge": func(m *solid.Model) (a, b *solid.Node) {
				return cavity(m), m.Cylinder("bolt", "", Vec{11 + d, 0, 0}, zAxis, 2, 0, 20)
			},
			"slot ends on the hole's axis": func(m *solid.Model) (a, b *solid.Node) {
				return m.Cylinder("hole", "", Vec{}, zAxis, 3, 0, 20), m.Box("slot", "", Vec{d, -1, 0}, Vec{20, 1, 4})
			},
			"crossing holes of one size": func(m *solid.Model) (a, b *solid.Node) {
				return m.Cylinder("along x", "", Vec{0, 0, 10}, xAxis, 3, -20, 20), m.Cylinder("along y", "", Vec{0, 0, 10}, yAxis, 3+d, -20, 20)
			},
			"counterbore of nearly one size": func(m *solid.Model) (a, b *solid.Node) {
				return m.Cylinder("hole", "", Vec{}, zAxis, 3, 0, 20), m.Cylinder("counterbore", "", Vec{}, zAxis, 3+d, 10, 20)
			},
			"ball on a face": func(m *solid.Model) (a, b *solid.Node) {
				return m.Ball("ball", "", Vec{5, 5, 20 + d}, zAxis, 3), m.Box("slot", "", Vec{5, 5, 18}, Vec{20, 6, 20})
			},
		} {
			m := solid.NewModel()
			a, b := build(m)
			if _, err := laws(m, block(m), a, b, 1e-10); err != nil {
				t.Errorf("%s %+g: %v", name, d, err)
			}
		}
	}
}

func TestContactsWithVolume(t *testing.T) {
	bx := 40. * 40 * 20
	for _, c := range []struct {
		name  string
		want  float64
		build func(m *solid.Model) *solid.Node
	}{
		{"slot through two faces", bx - 10*6*5, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Box("slot", "", Vec{10, -3, 15}, Vec{20, 3, 20}))
		}},
		{"slot past two faces", bx - 10*6*5, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Box("slot", "", Vec{10, -3, 15}, Vec{25, 3, 22}))
		}},
		{"stadium slot", bx - 20*(10*4+4*math.Pi), func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Box("slot", "", Vec{-5, -2, 0}, Vec{5, 2, 20}),
				m.Cylinder("end", "", Vec{-5, 0, 0}, zAxis, 2, 0, 20), m.Cylinder("end", "", Vec{5, 0, 0}, zAxis, 2, 0, 20))
		}},
		{"ball outside, touching a face", bx, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{0, 0, 25}, zAxis, 5))
		}},
		{"ball inside", bx - 4*math.Pi*125/3, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Ball("ball", "", Vec{1, 2, 10}, Vec{1, 2, 3}, 5))
		}},
		{"ring inside", bx - 2*math.Pi*math.Pi*12*9, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("ring", "", solid.AxisFrame(Vec{0, 0, 10}, zAxis), solid.Circle(12, 0, 3)))
		}},
		{"coaxial cone into a drill", bx - math.Pi*9*10 - math.Pi*10*(25+15+9)/3, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("hole", "", Vec{}, zAxis, 3, 0, 20), m.Cone("sink", "", Vec{}, zAxis, 3, 10, 5, 20))
		}},
		{"blind drill with a tip", bx - math.Pi*9*10 - math.Pi*9*3/3, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("drill", "", solid.AxisFrame(Vec{}, zAxis), solid.Poly(0, 7, 3, 10, 3, 20, 0, 20)))
		}},
		{"half of a drill with a tip", bx/2 - math.Pi*9*10/2 - math.Pi*9*3/6, func(m *solid.Model) *solid.Node {
			return solid.Intersect(
				solid.Minus(block(m), m.Revolve("drill", "", solid.AxisFrame(Vec{}, zAxis), solid.Poly(0, 7, 3, 10, 3, 20, 0, 20))),
				m.Box("half", "", Vec{-20, 0, 0}, Vec{20, 20, 20}))
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

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name  string
		kind  RefusalKind
		names []string
		build func(m *solid.Model) *solid.Node
	}{
		{"hole tangent to an outer face", TouchLine, []string{"block", "hole"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("hole", "", Vec{17, 0, 0}, zAxis, 3, 0, 20))
		}},
		{"hole tangent to a slot's wall", TouchLine, []string{"slot", "hole"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Box("slot", "", Vec{5, -20, 10}, Vec{12, 20, 20}), m.Cylinder("hole", "", Vec{2, 0, 0}, zAxis, 3, 0, 20))
		}},
		{"two holes tangent", TouchLine, []string{"left", "right"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("left", "", Vec{-3, 0, 0}, zAxis, 3, 0, 20), m.Cylinder("right", "", Vec{3, 0, 0}, zAxis, 3, 0, 20))
		}},
		{"two holes tangent at an odd angle", TouchLine, []string{"left", "right"}, func(m *solid.Model) *solid.Node {
			s, k := math.Sincos(.4)
			return solid.Minus(block(m), m.Cylinder("left", "", Vec{0, 0, 0}, zAxis, 3, 0, 20), m.Cylinder("right", "", Vec{5 * k, 5 * s, 0}, zAxis, 2, 0, 20))
		}},
		{"crossed drills tangent", TouchPoint, []string{"x drill", "y drill"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("x drill", "", Vec{0, 0, 7}, xAxis, 3, -20, 20), m.Cylinder("y drill", "", Vec{0, 0, 13}, yAxis, 3, -20, 20))
		}},
		{"ball tangent to a face from inside", TouchPoint, []string{"block", "ball"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cylinder("hole", "", Vec{}, zAxis, 1, 0, 8), m.Ball("ball", "", Vec{0, 0, 15}, xAxis, 5))
		}},
		{"drill's tip touches a face", TouchPoint, []string{"block", "drill"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Revolve("drill", "", solid.AxisFrame(Vec{}, zAxis), solid.Poly(0, 0, 3, 3, 3, 20, 0, 20)))
		}},
		{"hole tangent to the cavity", TouchLine, []string{"cavity", "hole"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), cavity(m), m.Cylinder("hole", "", Vec{12, 0, 0}, zAxis, 2, 0, 20))
		}},
		{"blocks that share an edge", TouchLine, []string{"low", "high"}, func(m *solid.Model) *solid.Node {
			return solid.Union(m.Box("low", "", Vec{0, 0, 0}, Vec{1, 1, 1}), m.Box("high", "", Vec{1, 0, 1}, Vec{2, 1, 2}))
		}},
		{"radial cone into a torus", NoClosedForm, []string{"cavity", "cone"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), cavity(m), m.Cone("cone", "", Vec{0, 0, 10.3}, yAxis, .5, 5, 1, 20))
		}},
		{"radial cone into an upright cone", NoClosedForm, []string{"upright", "radial"}, func(m *solid.Model) *solid.Node {
			return solid.Minus(block(m), m.Cone("upright", "", Vec{}, zAxis, 5, 0, 8, 20), m.Cone("radial", "", Vec{0, 0, 10.3}, xAxis, .5, 3, 1, 20))
		}},
	} {
		m := solid.NewModel()
		root := c.build(m)
		_, err := NewEvaluator(m).Boundary(root)
		wantRefusal(t, c.name, err, c.names...)
		var r *Refusal
		if errors.As(err, &r) && r.Kind != c.kind {
			t.Errorf("%s: %v", c.name, err)
		}
		t.Log(err)
	}
}

func TestAllowedCones(t *testing.T) {
	for name, build := range map[string]func(m *solid.Model) (a, b *solid.Node){
		"radial cone into an upright hole": func(m *solid.Model) (a, b *solid.Node) {
			return m.Cylinder("hole", "", Vec{}, zAxis, 5, 0, 20), m.Cone("vent", "", Vec{0, 0, 10.3}, xAxis, .5, 3, 1, 20)
		},
		"radial cone beside an upright cone": func(m *solid.Model) (a, b *solid.Node) {
			return m.Cone("sprue", "", Vec{}, zAxis, 5, 0, 8, 20), m.Cone("vent", "", Vec{0, 0, 10.3}, xAxis, .5, 13, 1, 20)
		},
	} {
		m := solid.NewModel()
		a, b := build(m)
		if _, err := laws(m, block(m), a, b, 1e-10); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func ExampleRefusal() {
	m := solid.NewModel()
	root := solid.Minus(m.Box("block", "", Vec{-20, -20, 0}, Vec{20, 20, 20}), m.Cylinder("bolt hole", "", Vec{17, 0, 0}, zAxis, 3, 0, 20))
	_, err := NewEvaluator(m).Boundary(root)
	fmt.Println(err)
	// Output: block and bolt hole touch in a line at (20.000, 0.000, 10.000) mm
}
