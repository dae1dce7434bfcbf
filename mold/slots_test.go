package mold

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh/brep"
)

// milledSplits are all ways to split a mold, as settings.
var milledSplits = [][]string{
	{"mold.split=four-piece"}, {"mold.split=four-piece", "mold.segments=3"}, {"mold.split=four-piece", "mold.segments=3", "mold.outline=octagon"},
	{"mold.split=four-piece", "mold.segments=4"}, {"mold.split=four-piece", "mold.outline=round"}, {"mold.split=open top"},
	{"mold.split=open top", "mold.segments=3"}, {"mold.split=clam"}, {"mold.split=cup and lid"},
}

// What a milled pry slot takes away is its box less two corners, by hand: a square of
// the radius less a quarter of a disc, along the slot's height.
func TestMilledSlotVolume(t *testing.T) {
	for _, set := range milledSplits {
		m, err := New(splitJob(t, 200, 60, 20, "milled", set...))
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Layout.Slots) == 0 {
			t.Fatalf("%v: no slots", set)
		}
		ev := brep.NewEvaluator(m.Model)
		for _, s := range m.Layout.Slots {
			d, r := s.Hi.Sub(s.Lo), s.Corner
			// The standard set's 10 mm cutter, a tenth rounder, in slots 10 mm deep.
			if math.Abs(r-5.5) > 1e-4 {
				t.Errorf("%v: %s has corners of %g mm, want 5.5", set, s.Name, r)
			}
			want := d[0]*d[1]*d[2] - 2*(1-math.Pi/4)*r*r*d[s.Normal]
			got := 0.0
			for _, c := range m.Split.Cuts {
				if at := s.Middle(); c.Name == s.Name && c.Node.Contains(at) {
					got = exactVolume(t, ev, s.Name, c.Node)
				}
			}
			if math.Abs(got/want-1) > 1e-12 {
				t.Errorf("%v: %s takes %.9f mm³, want %.9f", set, s.Name, got, want)
			}
		}
	}
}

// The corners lie at the inner end, and their edges run along the parting plane's normal:
// just inside a corner of the box there is metal at every height of the slot, and at the
// middle of each wall there is none.
func TestMilledSlotCorners(t *testing.T) {
	for _, set := range milledSplits {
		m, err := New(splitJob(t, 200, 60, 20, "milled", set...))
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range m.Layout.Slots {
			out, sense := s.Outward()
			across := 3 - out - s.Normal
			f := s.Frame()
			inner := s.Lo[out]
			if sense < 0 {
				inner = s.Hi[out]
			}
			for _, h := range []float64{.01, .3, .7, .99} {
				for _, w := range []float64{0, 1} {
					q := s.Lo
					q[s.Normal] += h * (s.Hi[s.Normal] - s.Lo[s.Normal])
					q[across] += w * (s.Hi[across] - s.Lo[across])
					q[out] = inner
					in := q
					in[out] += sense * s.Corner * .25 // the arc is .29 r from the corner
					in[across] += (1 - 2*w) * s.Corner * .25
					if !m.solidAt("", f.Global(in)) {
						t.Errorf("%v: %s: no metal in a corner at %v", set, s.Name, f.Global(in))
					}
					in[out] += sense * s.Corner * .1
					in[across] += (1 - 2*w) * s.Corner * .1
					if m.solidAt("", f.Global(in)) {
						t.Errorf("%v: %s: metal before a corner at %v", set, s.Name, f.Global(in))
					}
				}
			}
		}
	}
}

// Printed slots have sharp corners. A milled slot's are those of the largest cutter that
// leaves a wall to pry at, a tenth rounder; and one too wide for the slot counts nothing.
func TestSlotCornerRadius(t *testing.T) {
	for _, x := range []struct {
		process string
		set     []string
		r       float64
	}{
		{"filament", nil, 0},
		{"milled", []string{"machining.cutter[1].diameter=90mm", "machining.cutter[1].reach=90mm"}, 5.5},
		{"milled", []string{"mold.pry_slots.depth=5mm"}, 3.3}, // 5.5 is deeper than the slot
		{"milled", []string{"mold.pry_slots.width=5mm"}, 1.65},
	} {
		m, err := New(splitJob(t, 200, 60, 20, x.process, x.set...))
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range m.Layout.Slots {
			if math.Abs(s.Corner-x.r) > 1e-4 {
				t.Errorf("%s %v: %s has corners of %g mm, want %g", x.process, x.set, s.Name, s.Corner, x.r)
			}
		}
	}
}

// Random milled wheels in every split, with slots of random size: what is accepted is
// made, adds up to the block and passes the audit.
func TestRandomMilledSlots(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	u := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	made, refused := map[string]int{}, 0
	n := few(4, 1)
	for _, set := range milledSplits {
		for k := 0; made[fmt.Sprint(set)] < n && k < 20*n; k++ {
			d := u(60, 400)
			j := splitJob(t, d, d*u(.25, .5), d*u(.08, .15), "milled", set...)
			s := &j.Mold.PrySlots
			s.Depth, s.Width, s.Height = u(3, 10), u(4, 25), u(1.5, 6)
			if j.Mold.SideClamp.Kind == "strap" && k%2 == 0 { // its floor passes the corners' centers
				s.Depth = j.Mold.SideClamp.StrapDepth + j.SlotCorner(s.Height/2, min(s.Width, 2*s.Depth))
			}
			m, err := New(j)
			if err != nil {
				refused++
				continue
			}
			if m.Layout.Slots[0].Corner == 0 && s.Width > 5 && s.Depth > 3 {
				t.Errorf("%v: sharp slots, %g mm wide and %g deep", set, s.Width, s.Depth)
			}
			if _, err := m.Make(MakeOptions{Tolerance: .05}); err != nil {
				t.Errorf("%v, %+v: %v", set, *s, err)
			}
			made[fmt.Sprint(set)]++
		}
		if made[fmt.Sprint(set)] < n {
			t.Errorf("%v: only %d made", set, made[fmt.Sprint(set)])
		}
	}
	t.Logf("made %d, refused %d", len(milledSplits)*n, refused)
}

// A width of 0 asks for no pry slots, in any split.
func TestNoPrySlots(t *testing.T) {
	for i, set := range milledSplits {
		if i%4 > 0 && testing.Short() {
			continue
		}
		m, err := New(splitJob(t, 200, 60, 20, "milled", append([]string{"mold.pry_slots.width=0mm"}, set...)...))
		if err != nil {
			t.Errorf("%v: %v", set, err)
			continue
		}
		if len(m.Layout.Slots) > 0 {
			t.Errorf("%v: %d slots", set, len(m.Layout.Slots))
		}
		if _, err := m.Check(); err != nil {
			t.Errorf("%v: %v", set, err)
		}
	}
}
