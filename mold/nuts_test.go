package mold

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/params"
)

// A milled hexagonal recess takes the largest nut that the standard allows and holds the
// smallest against turning, and the cutter gets into its corners. Widths across flats
// are those of ISO 4032; across corners a nut has 2/√3 of its width at most, and of M4
// 7.66 mm at least, of M6 11.05, of M10 17.77 (all from memory of the standard).
func TestMilledNutRecess(t *testing.T) {
	for _, x := range []struct {
		size            string
		flats, smallest float64
	}{{"M4", 7, 7.66}, {"M6", 10, 11.05}, {"M10", 16, 17.77}} {
		m, err := New(splitJob(t, 160, 50, 16, "milled", "mold.bolts.nut=hex", "mold.bolts.size="+x.size, "mold.lid_thickness=20mm", "mold.base_thickness=20mm"))
		if err != nil {
			t.Fatal(err)
		}
		b := m.Layout.Bolts[0]
		if math.Abs(b.NutCorner-1.65) > 1e-4 { // the 3 mm cutter, a tenth rounder
			t.Errorf("%s: corners of %g mm, want 1.65", x.size, b.NutCorner)
		}
		solidAt := func(r, deg float64) bool {
			u := direction(deg)
			return m.solidAt("", b.At.Add(mesh.Vec{r * u[0], r * u[1], m.Layout.Bottom + b.NutD/2 - b.At[2]}))
		}
		turned := 0.0
		for deg := range 60 {
			if largest := x.flats / math.Sqrt(3); deg == 0 && solidAt(largest+.04, 0) {
				t.Errorf("%s: no room for the nut's corners", x.size)
			}
			if solidAt(x.smallest/2, float64(deg)) {
				turned++
			}
			r := b.NutReach(float64(deg))
			if !solidAt(r+1e-4, float64(deg)) || solidAt(r-1e-4, float64(deg)) {
				t.Errorf("%s: the recess does not end %.4f mm from its middle at %d°", x.size, r, deg)
			}
		}
		if turned == 0 {
			t.Errorf("%s: the nut turns", x.size)
		}
		// A regular hexagon less six corners, each of a kite less a sixth of a disc.
		a, r := b.NutR, b.NutCorner
		want := (2*math.Sqrt(3)*a*a - 6*r*r*(1/math.Sqrt(3)-math.Pi/6)) * (b.NutD + 1) // cut 1 mm past the face
		ev := brep.NewEvaluator(m.Model)
		for _, c := range m.Split.Cuts {
			if c.Name == "nut recess of bolt hole 1" {
				if got := exactVolume(t, ev, c.Name, c.Node); math.Abs(got/want-1) > 1e-12 {
					t.Errorf("%s: takes %.9f mm³, want %.9f", x.size, got, want)
				}
			}
		}
		if _, err := m.Make(MakeOptions{Tolerance: .05}); err != nil {
			t.Errorf("%s: %v", x.size, err)
		}
	}
}

// Nuts too small for the shop's cutters keep sharp recesses, and the job is told; printed
// recesses are sharp without a word.
func TestNutRecessNeedsCutter(t *testing.T) {
	for _, x := range []struct {
		process, size string
		set           string
		warns         bool
	}{
		{"milled", "M3", "wheel.diameter=160mm", true},
		{"milled", "M8", "machining.cutter[5].diameter=8mm", false}, // 4 mm is the next
		{"milled", "M8", "machining.cutter[5].corner_radius=1.5mm", false},
		{"filament", "M6", "wheel.diameter=160mm", false},
	} {
		m, err := New(splitJob(t, 160, 50, 16, x.process, "mold.bolts.nut=hex", "mold.bolts.size="+x.size, "mold.lid_thickness=20mm", "mold.base_thickness=20mm", x.set))
		if err != nil {
			t.Fatal(err)
		}
		warned := false
		for _, w := range m.Warnings {
			warned = warned || w.Path == "mold.bolts.nut"
		}
		b := m.Layout.Bolts[0]
		if warned != x.warns || b.NutCorner > 0 != (x.process == "milled" && !x.warns) {
			t.Errorf("%v: corners of %g mm, warned: %t", x, b.NutCorner, warned)
		}
		f, _ := params.FastenerOf(x.size)
		if b.NutCorner == 0 && math.Abs(b.nutReach()-2/math.Sqrt(3)*b.NutR) > 1e-12 || b.NutR < f.NutFlats/2+.15-1e-4 {
			t.Errorf("%s: the recess reaches %.4f mm", fmt.Sprint(x), b.nutReach())
		}
	}
}
