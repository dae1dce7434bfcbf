package plumb

import (
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh/field"
	"wheelmold/mesh/solid"
)

// sights are frames to look along: both ways along every axis, at 30° and 45° in the
// plan, and leaning.
func sights() []solid.Frame {
	var out []solid.Frame
	for _, d := range []solid.Vec{{1}, {-1}, {0, 1}, {0, -1}, {0, 0, 1}, {0, 0, -1}, {math.Sqrt(3) / 2, .5}, {-math.Sqrt2 / 2, math.Sqrt2 / 2}, {2, -1, 3}} {
		out = append(out, solid.AxisFrame(solid.Vec{4, -7, 2}, d))
	}
	return out
}

// Runs along any line against the distance field, as for upright ones.
func TestAlongAgainstField(t *testing.T) {
	for _, f := range sights() {
		for stand, dir := range axes {
			for name, n := range shapes(dir) {
				s, err := NewAlong(n, f)
				if err != nil {
					t.Fatal(err)
				}
				dist, err := field.New(n)
				if err != nil {
					t.Fatal(err)
				}
				if found := againstField(t, s, func(p solid.Vec) float64 { return dist.Distance(f.Global(p)) }); found < 30 || t.Failed() {
					t.Fatalf("along %v: %s, %s: %d runs met", f.Z, stand, name, found)
				}
			}
		}
	}
}

func againstField(t *testing.T, s *Solid, d func(solid.Vec) float64) (found int) {
	line, r, b := s.Line(), rand.New(rand.NewSource(1)), s.Bounds()
	for range 100 {
		x, y := b.Lo[0]+r.Float64()*(b.Hi[0]-b.Lo[0]), b.Lo[1]+r.Float64()*(b.Hi[1]-b.Lo[1])
		from := b.Lo[2] - 1
		for _, run := range append(line.Runs(x, y), Run{b.Hi[2] + 1, b.Hi[2] + 2}) {
			if d(solid.Vec{x, y, (from + run.Lo) / 2}) < -1e-7 {
				t.Errorf("(%g, %g): inside in the gap below %g", x, y, run.Lo)
			}
			if run.Lo > b.Hi[2] {
				break
			}
			found++
			if lo, hi := d(solid.Vec{x, y, run.Lo}), d(solid.Vec{x, y, run.Hi}); math.Abs(lo) > 1e-7 || math.Abs(hi) > 1e-7 || d(solid.Vec{x, y, (run.Lo + run.Hi) / 2}) > 1e-7 {
				t.Errorf("(%g, %g): run %v ends %g and %g off the surface", x, y, run, lo, hi)
			}
			from = run.Hi
		}
	}
	return found
}

// A drilled block, looked at along the hole, across it, and from a corner.
func TestAlongDrilledBlock(t *testing.T) {
	m := solid.NewModel()
	n := solid.Minus(m.Box("block", "", solid.Vec{0, 0, 0}, solid.Vec{10, 20, 30}),
		m.Cylinder("hole", "", solid.Vec{0, 8, 12}, solid.Vec{1, 0, 0}, 3, -1, 11))
	c := math.Sqrt2 / 2
	for _, k := range []struct {
		name string
		f    solid.Frame
		x, y float64
		want []Run
	}{
		{"in the hole", solid.Frame{X: solid.Vec{0, 1}, Y: solid.Vec{0, 0, 1}, Z: solid.Vec{1}}, 8, 12, nil},
		{"beside it", solid.Frame{X: solid.Vec{0, 1}, Y: solid.Vec{0, 0, 1}, Z: solid.Vec{1}}, 8, 15.5, []Run{{0, 10}}},
		{"from the other side", solid.Frame{X: solid.Vec{0, -1}, Y: solid.Vec{0, 0, 1}, Z: solid.Vec{-1}}, -8, 15.5, []Run{{-10, 0}}},
		{"across it", solid.Frame{X: solid.Vec{0, 0, 1}, Y: solid.Vec{1}, Z: solid.Vec{0, 1}}, 12, 4, []Run{{0, 5}, {11, 20}}},
		{"across it, off its middle", solid.Frame{O: solid.Vec{0, 8}, X: solid.Vec{0, 0, 1}, Y: solid.Vec{1}, Z: solid.Vec{0, 1}}, 10.2, 4, []Run{{-8, -2.4}, {2.4, 12}}},
		{"at 45°", solid.Frame{X: solid.Vec{c, -c}, Y: solid.Vec{0, 0, -1}, Z: solid.Vec{c, c}}, -4 * c, -1, []Run{{4 * c, 24 * c}}},
	} {
		s, err := NewAlong(n, k.f)
		if err != nil {
			t.Fatal(err)
		}
		got := s.Line().Runs(k.x, k.y)
		ok := len(got) == len(k.want)
		for i := range min(len(got), len(k.want)) {
			ok = ok && math.Abs(got[i].Lo-k.want[i].Lo) < 1e-9 && math.Abs(got[i].Hi-k.want[i].Hi) < 1e-9
		}
		if !ok {
			t.Errorf("%s: %v, want %v", k.name, got, k.want)
		}
	}
}

// The box in the frame is as tight as the shapes themselves: a ball's, and a
// cylinder's from a corner.
func TestAlongBounds(t *testing.T) {
	m := solid.NewModel()
	c := math.Sqrt2 / 2
	f := solid.Frame{O: solid.Vec{1, 2, 3}, X: solid.Vec{c, -c}, Y: solid.Vec{0, 0, -1}, Z: solid.Vec{c, c}}
	for name, k := range map[string]struct {
		n      *solid.Node
		lo, hi solid.Vec
	}{
		"ball":     {m.Ball("ball", "", solid.Vec{1, 2, 3}, solid.Vec{1, 2, 2}, 4), solid.Vec{-4, -4, -4}, solid.Vec{4, 4, 4}},
		"cylinder": {m.Cylinder("cylinder", "", solid.Vec{1, 2, 3}, solid.Vec{1}, 4, 0, 10), solid.Vec{-4 * c, -4, -4 * c}, solid.Vec{14 * c, 4, 14 * c}},
		"box":      {m.Box("box", "", solid.Vec{1, 2, 3}, solid.Vec{3, 5, 7}), solid.Vec{-3 * c, -4, 0}, solid.Vec{2 * c, 0, 5 * c}},
	} {
		s, err := NewAlong(k.n, f)
		if err != nil {
			t.Fatal(err)
		}
		if b := s.Bounds(); b.Lo.Dist(k.lo) > 1e-9 || b.Hi.Dist(k.hi) > 1e-9 {
			t.Errorf("%s: %v, want %v to %v", name, b, k.lo, k.hi)
		}
	}
}
