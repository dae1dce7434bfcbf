package brep

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh/solid"
)

// shapes of every kind of carrier, of size s, about o along dir.
var shapes = []struct {
	name  string
	build func(m *solid.Model, o, dir Vec, s float64) *solid.Node
}{
	{"cylinder", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		return m.Cylinder("cylinder", "", o, dir, s, -15, 15)
	}},
	{"cone", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		return m.Cone("cone", "", o, dir, s, -9, s*1.9, 9)
	}},
	{"flat cone", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		return m.Cone("flat cone", "", o, dir, 2*s, -.05, s, .05)
	}},
	{"torus", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		return m.Revolve("torus", "", solid.AxisFrame(o, dir),
			solid.Poly(0, -.6*s, 2*s, -.6*s).ArcTo(2*s, .6*s, 2*s, 0, true).LineTo(0, .6*s))
	}},
	{"ring", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		return m.Revolve("ring", "", solid.AxisFrame(o, dir), solid.Circle(2*s, 0, .6*s))
	}},
	{"ball", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		return m.Ball("ball", "", o, dir, 1.5*s)
	}},
	{"octagon", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		return m.BoxIn("box", "", solid.AxisFrame(o, dir), Vec{-s, -2 * s, -s}, Vec{2 * s, s, s})
	}},
	{"stadium", func(m *solid.Model, o, dir Vec, s float64) *solid.Node {
		p := solid.Poly(-s, -s, s, -s).ArcTo(s, s, s, 0, true).LineTo(-s, s).CloseArc(-s, 0, true)
		return m.Extrude("stadium", "", solid.AxisFrame(o, dir), -2*s, 3*s, p)
	}},
}

// TestPairs meets every two shapes at every angle of axes that molds use, at
// random and at coincident places.
func TestPairs(t *testing.T) {
	n := 2
	if testing.Short() {
		n = 1
	}
	dirs := []Vec{xAxis, yAxis, zAxis, {math.Cos(.6), math.Sin(.6), 0}}
	total, refused := 0, map[string]int{}
	for ia, a := range shapes {
		for ib, b := range shapes {
			for id, dir := range dirs {
				for i := 0; i < n; i++ {
					total++
					r := rand.New(rand.NewSource(int64(i*1000 + ia*100 + ib*10 + id)))
					err := randomPair(r, a.build, b.build, dir)
					var ref *Refusal
					switch {
					case errors.As(err, &ref):
						refused[a.name+" × "+b.name]++
					case err != nil:
						t.Errorf("%s along %.2f × %s, %d: %v", a.name, dir, b.name, i, err)
					}
				}
			}
		}
	}
	t.Logf("%d pairs, refused %v", total, refused)
}

type builderFunc = func(m *solid.Model, o, dir Vec, s float64) *solid.Node

func randomPair(r *rand.Rand, a, b builderFunc, dir Vec) error {
	coordinate := func(x float64) float64 {
		switch r.Intn(4) {
		case 0:
			return math.Round(x)
		case 1:
			return 0
		}
		return solid.Round(x)
	}
	place := func(w float64) Vec {
		var p Vec
		for i := range p {
			p[i] = coordinate(w * (2*r.Float64() - 1))
		}
		return p
	}
	m := solid.NewModel()
	block := m.Box("block", "", Vec{-20, -20, -20}, Vec{20, 20, 20})
	na := a(m, place(2), dir, solid.Round(1+r.Float64()*2))
	nb := b(m, place(4), zAxis, solid.Round(1+r.Float64()*2))
	_, err := laws(m, block, na, nb, 1e-10)
	return err
}
