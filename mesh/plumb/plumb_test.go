package plumb

import (
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh/field"
	"wheelmold/mesh/solid"
)

var axes = map[string]solid.Vec{"up": {0, 0, 1}, "down": {0, 0, -1}, "level": {1, 0, 0}, "level across": {.6, .8, 0}, "leaning": {1, 2, 3}}

// shapes returns solids with every kind of surface, about an axis that stands as told.
func shapes(dir solid.Vec) map[string]*solid.Node {
	m := solid.NewModel()
	o := solid.Vec{3, -2, 5}
	f := solid.AxisFrame(o, dir)
	ring := solid.Profile{}.LineTo(20, -6).LineTo(30, -6).ArcTo(30, 6, 30, 0, true).LineTo(20, 6).ArcTo(20, -6, 20, 0, false)
	bar := solid.Profile{}.LineTo(-9, -4).LineTo(9, -4).ArcTo(9, 4, 9, 0, true).LineTo(0, 7).LineTo(-9, 4)
	tube := m.Revolve("ring", "", f, ring)
	beam := m.Extrude("bar", "", f, -11, 8, bar, solid.Circle(0, 0, 2).Reversed())
	return map[string]*solid.Node{
		"ring":     tube,
		"bar":      beam,
		"cylinder": m.Cylinder("cylinder", "", o, dir, 7, -9, 12),
		"cone":     m.Cone("cone", "", o, dir, 9, -8, 2, 14),
		"ball":     m.Ball("ball", "", o, dir, 11),
		"tree": solid.Minus(solid.Union(tube, m.Ball("core", "", o, dir, 25)), beam,
			solid.Intersect(m.Cylinder("bore", "", o, dir, 12, -40, 40), m.Cone("taper", "", o, dir, 3, -30, 18, 30))),
	}
}

// Runs against the distance field, which is made of other code: their ends lie on
// the surface, they are inside, and what is between them is outside.
func TestRunsAgainstField(t *testing.T) {
	for stand, dir := range axes {
		for name, n := range shapes(dir) {
			s, err := New(n)
			if err != nil {
				t.Fatal(err)
			}
			f, err := field.New(n)
			if err != nil {
				t.Fatal(err)
			}
			line, r, b := s.Line(), rand.New(rand.NewSource(1)), n.Bounds()
			found := 0
			for range 400 {
				x, y := b.Lo[0]+r.Float64()*(b.Hi[0]-b.Lo[0]), b.Lo[1]+r.Float64()*(b.Hi[1]-b.Lo[1])
				d := func(z float64) float64 { return f.Distance(solid.Vec{x, y, z}) }
				from := b.Lo[2] - 1
				for _, run := range append(line.Runs(x, y), Run{b.Hi[2] + 1, b.Hi[2] + 2}) {
					if mid := d((from + run.Lo) / 2); mid < -1e-7 {
						t.Fatalf("%s, %s: (%g, %g): %g mm inside in the gap below %g", name, stand, x, y, -mid, run.Lo)
					}
					if run.Lo > b.Hi[2] {
						break
					}
					found++
					if math.Abs(d(run.Lo)) > 1e-7 || math.Abs(d(run.Hi)) > 1e-7 || d((run.Lo+run.Hi)/2) > 1e-7 {
						t.Fatalf("%s, %s: (%g, %g): run %v: distances %g, %g at its ends, %g inside", name, stand, x, y, run, d(run.Lo), d(run.Hi), d((run.Lo+run.Hi)/2))
					}
					from = run.Hi
				}
			}
			if found < 100 {
				t.Errorf("%s, %s: only %d runs met", name, stand, found)
			}
		}
	}
}

// Volumes by columns against closed forms. Where upright faces run along the grid, a
// part of a column too many or too few is h/2 of some 20 mm, 0.75 %.
func TestVolumes(t *testing.T) {
	half := math.Pi * math.Pi * 36 * (30 + 6*4/(3*math.Pi)) // half tube outward, Pappus-Guldin
	inner := math.Pi * math.Pi * 36 * (20 + 6*4/(3*math.Pi))
	want := map[string]float64{
		"cylinder": math.Pi * 49 * 21,
		"cone":     math.Pi * 22 * (81 + 18 + 4) / 3,
		"ball":     math.Pi * 4 / 3 * 1331,
		"ring":     math.Pi*(900-400)*12 + half - inner,
		"bar":      19 * (18*8 + math.Pi*8 + 9*3 - 4*math.Pi), // a rectangle, a half disc, a gable, less a hole
	}
	for stand, dir := range axes {
		for name, n := range shapes(dir) {
			w, ok := want[name]
			if !ok {
				continue
			}
			s, err := New(n)
			if err != nil {
				t.Fatal(err)
			}
			const h = .3
			line, b, v := s.Line(), n.Bounds(), 0.0
			for x := b.Lo[0] + h/2; x < b.Hi[0]; x += h {
				for y := b.Lo[1] + h/2; y < b.Hi[1]; y += h {
					for _, r := range line.Runs(x, y) {
						v += (r.Hi - r.Lo) * h * h
					}
				}
			}
			if math.Abs(v/w-1) > 1e-2 {
				t.Errorf("%s, %s: %.3f mm³, want %.3f", name, stand, v, w)
			}
		}
	}
}

// Flush faces leave neither slivers nor seams.
func TestFlushFaces(t *testing.T) {
	m := solid.NewModel()
	up := solid.Vec{0, 0, 1}
	low := m.Cylinder("low", "", solid.Vec{}, up, 5, 0, .1+.2)
	high := m.Cylinder("high", "", solid.Vec{0, 0, .3}, up, 5, 0, 1)
	for _, c := range []struct {
		name string
		n    *solid.Node
		want []Run
	}{
		{"union", solid.Union(low, high), []Run{{0, 1.3}}},
		{"difference", solid.Minus(low, m.Cylinder("same", "", solid.Vec{}, up, 5, 0, .3)), nil},
	} {
		s, err := New(c.n)
		if err != nil {
			t.Fatal(err)
		}
		got := s.Line().Runs(1, 1)
		if len(got) != len(c.want) || len(got) == 1 && math.Abs(got[0].Hi-c.want[0].Hi) > Thin {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// What makes no solid is refused by name.
func TestRefusals(t *testing.T) {
	m := solid.NewModel()
	for _, n := range []*solid.Node{nil, solid.Union(), m.Box("endless", "", solid.Vec{}, solid.Vec{1, math.Inf(1), 1})} {
		if _, err := New(n); err == nil {
			t.Errorf("%v: not refused", n)
		}
	}
}
