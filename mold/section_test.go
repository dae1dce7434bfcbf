package mold

import (
	"fmt"
	"math"
	"math/rand"
	"path/filepath"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold/inparallel"
)

// sectionViews are the planes that drawings cut a mold by, and some that nobody
// would choose.
func sectionViews(m *Mold) map[string]outline.View {
	l := m.Layout
	axial := func(a float64) outline.View {
		s, c := math.Sincos(a)
		return outline.View{U: mesh.Vec{c, s, 0}, V: axisZ}
	}
	across := func(z float64) outline.View {
		return outline.View{O: mesh.Vec{0, 0, z}, U: axisX, V: axisY}
	}
	out := map[string]outline.View{
		"y = 0 from -y":      axial(0),
		"y = 0 from +y":      axial(math.Pi),
		"x = 0":              axial(math.Pi / 2),
		"axial at 0.7":       axial(.7),
		"parting of base":    across(0),
		"parting of lid":     across(l.Top),
		"middle":             across(l.Top / 2),
		"base from below":    {U: axisY, V: axisX},
		"hub's lower land":   across(l.LandLow),
		"hub's upper land":   across(l.LandTop),
		"hub's lower end":    across(m.Core.Z0),
		"hub's upper end":    across(m.Core.Z1()),
		"a bolt's axis":      {O: l.Bolts[0].At, U: axisX, V: axisZ},
		"beside a bolt hole": {O: l.Bolts[0].At.AddScaled(l.Bolts[0].R, axisY), U: axisX, V: axisZ},
		"askew":              {O: mesh.Vec{1, 2, l.Top / 3}, U: mesh.Vec{.6, .8, 0}, V: mesh.Vec{-.48, .36, .8}},
	}
	for i, g := range l.Gates {
		out[fmt.Sprintf("sprue %d", i+1)] = axial(math.Atan2(g[1], g[0]))
	}
	return out
}

// addUp cuts everything that the block is made of and checks that the sections
// make up the block's.
func addUp(t *testing.T, m *Mold, ev *brep.Evaluator, name string, v outline.View, tol float64) {
	t.Helper()
	area := func(part string, n *solid.Node) float64 {
		r, err := outline.Section(ev, n, v, 1e-4)
		if err != nil {
			t.Errorf("%s: %s: %v", name, part, err)
		}
		return r.Area()
	}
	sum := area("rubber", m.Rubber) + area("channels", m.Channels) + area("clearances", m.Clearances)
	for _, p := range m.Pieces {
		sum += area(p.Name, p.Root)
	}
	for i, o := range m.Overlaps {
		sum -= area(fmt.Sprint("overlap ", i+1), o)
	}
	if want := area("block", m.Block); math.Abs(sum-want) > tol*want {
		t.Errorf("%s: the sections of all parts add up to %.6f mm², that of the block is %.6f", name, sum, want)
	}
}

// Whatever plane cuts the examples, the sections of all parts fill the block's.
func TestSectionsOfExamples(t *testing.T) {
	for _, file := range examples(t) {
		m, err := New(example(t, file))
		if err != nil {
			t.Fatal(err)
		}
		ev := brep.NewEvaluator(m.Model)
		for name, v := range sectionViews(m) {
			addUp(t, m, ev, filepath.Base(file)+", "+name, v, 1e-6)
		}
	}
}

// So they do in random molds with coincidences on purpose.
func TestSectionsOfRandomJobs(t *testing.T) {
	ms, tags, _ := validJobs(few(30, 4))
	for i, m := range ms {
		ev := brep.NewEvaluator(m.Model)
		for name, v := range sectionViews(m) {
			addUp(t, m, ev, tags[i]+", "+name, v, 1e-6)
		}
	}
}

// Planes through vertices, a hair beside them, and through vertices at odd angles:
// those that pass too close for their section to close give way by lattice steps,
// and not all parts by as many.
func TestSectionsThroughVertices(t *testing.T) {
	ms, tags, _ := validJobs(few(12, 2))
	for i, m := range ms {
		ev := brep.NewEvaluator(m.Model)
		r := rand.New(rand.NewSource(int64(i)))
		var all []mesh.Vec
		for _, p := range m.Pieces {
			b, err := ev.Boundary(p.Root)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, b.Vertices...)
		}
		pick := func() mesh.Vec { return all[r.Intn(len(all))] }
		for range 24 {
			o, a, b := pick(), pick(), pick()
			n := [...]mesh.Vec{axisX, axisY, axisZ, axisZ.Cross(o), axisZ.Cross(a.Sub(o)), a.Sub(o).Cross(b.Sub(o))}[r.Intn(6)]
			if n.Norm() < 1 || math.Abs(n.Unit()[2]) > .999 && n != axisZ {
				continue
			}
			v := outline.View{O: o}
			v.U, v.V = solid.Across(n.Unit())
			shift := pickF(r, 0, 0, 0, solid.Lattice, -solid.Lattice, 1e-5, 1e-6, -1e-6, -3e-7)
			v.O = v.O.AddScaled(shift, v.W())
			name := fmt.Sprintf("%s, %g from %.4f across %.4f", tags[i], shift, o, v.W())
			addUp(t, m, ev, name, v, 1e-5)
		}
	}
}

// BenchmarkSection cuts the five pieces of the biggest example by the plane through
// its first sprue, on the machine's cores.
func BenchmarkSection(b *testing.B) {
	m, err := New(example(b, "../examples/albatross.toml"))
	if err != nil {
		b.Fatal(err)
	}
	v := sectionViews(m)["sprue 1"]
	for b.Loop() {
		ev := brep.NewEvaluator(m.Model)
		inparallel.Do(len(m.Pieces), func(i int) {
			if _, err := outline.Section(ev, m.Pieces[i].Root, v, .01); err != nil {
				b.Error(err)
			}
		})
	}
}
