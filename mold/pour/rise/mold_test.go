package rise

import (
	"fmt"
	"math"
	"math/rand"
	"runtime"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

func exampleMold(t testing.TB, name string, change ...func(*params.Job)) *mold.Mold {
	t.Helper()
	j := moldtest.Example(t, name)
	for _, f := range change {
		f(j)
	}
	m, err := mold.New(j)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func openings(m *mold.Mold) (out []Opening) {
	for i, p := range m.Layout.Gates {
		out = append(out, Opening{Name: fmt.Sprintf("sprue %d", i+1), At: p, R: m.Layout.GateR, Gate: true})
	}
	for i, p := range m.Layout.Vents {
		out = append(out, Opening{Name: fmt.Sprintf("vent %d", i+1), At: p, R: m.Layout.VentR})
	}
	return out
}

func moldCavity(t testing.TB, m *mold.Mold, cell float64) *Cavity {
	t.Helper()
	return cavity(t, m.Rubber, cell, openings(m)...)
}

// The examples keep no air at rest, and their columns add up to the rubber's volume
// in closed form.
func TestExamples(t *testing.T) {
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		m := exampleMold(t, name)
		c := moldCavity(t, m, 0)
		within(t, name+": volume", c.Volume(), m.RubberVolume(), 1e-3)
		if a := c.Traps(Tilt{}); len(a.Traps) > 0 {
			t.Errorf("%s: %s", name, a.summary())
		}
		a := c.Traps(Tilt{5, 20})
		for _, q := range c.Ceilings(Tilt{}) {
			t.Logf("%s: %+v", name, q)
		}
		t.Logf("%s, cell %.3g, %d runs: %s", name, c.Cell, len(c.runs), a.summary())
	}
}

// Results do not depend on the number of processors.
func TestProcessors(t *testing.T) {
	m := exampleMold(t, "kestrel")
	all := func() string {
		c := moldCavity(t, m, .8)
		a := c.Traps(Tilt{5, 20})
		return fmt.Sprintf("%x %+v %+v %+v", c.Volume(), a, c.Ceilings(Tilt{}), c.Drill(a, 0, 1, nil))
	}
	want := all()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if got := all(); got != want {
		t.Error("one processor gives other results than several")
	}
}

// A coned ceiling is level inside its ridge, so ribs that cut the ridge trap nothing;
// but a vent drilled onto a rib opens nowhere, and is told.
func TestConedCeilingWithRibs(t *testing.T) {
	m := exampleMold(t, "wren", func(j *params.Job) {
		j.Mold.Ceiling.Shape, j.Mold.Ceiling.Angle = "coned", 3
		j.Mold.Vents.Circle, j.Mold.Vents.Diameter = 40.4, .8
		j.Wheel.Edge, j.Wheel.EdgeSize = "square", 0
		j.Wheel.Cross.Depth = 1.25
	})
	c, err := New(m.Rubber, openings(m), Settings{Cell: .2})
	if err != nil {
		t.Fatal(err)
	}
	if u := c.Unmet(); len(u) != 1 || u[0] != "vent 2" {
		t.Errorf("%v meet nothing, want vent 2", u)
	}
	if a := c.Traps(Tilt{}); len(a.Traps) > 0 {
		t.Error(a.summary())
	}
}

// randomMold draws a job; nil if it is refused.
func randomMold(seed int64) *mold.Mold {
	r := rand.New(rand.NewSource(seed))
	u := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	one := func(k int) bool { return r.Intn(k) == 0 }
	d := u(25, 300)
	w := max(8, d*u(.25, .7))
	j, err := params.Default(d, w, max(2, d*u(.08, .2)), []string{"milled", "filament", "resin"}[r.Intn(3)])
	if err != nil {
		return nil
	}
	h := &j.Hub
	thick := d/2 - h.BodyDiameter/2
	if one(2) {
		j.Wheel.Crown = min(u(.2, 2), thick*.15, w*.08)
	}
	if one(2) {
		for i := range 2 {
			g := params.Groove{Shape: []string{"rectangular", "half-round"}[r.Intn(2)], Position: w * (.3 + .4*float64(i)), Width: min(w*.15, thick*.3)}
			g.Depth = g.Width / 2
			j.Wheel.Grooves = append(j.Wheel.Grooves, g)
		}
	}
	if one(2) {
		j.Wheel.Cross = params.CrossGrooves{Count: 6 + r.Intn(14), Width: d * .03, Depth: min(thick*.15, 1), Flank: 5 * float64(r.Intn(3))}
	}
	if one(2) {
		h.FlangeDiameter, h.FlangeThickness = h.BodyDiameter+2*thick*u(.1, .25), h.Length*u(.05, .15)
	}
	if one(2) {
		h.Offset += u(-.5, .5)
	}
	if one(2) {
		dia := min(5, h.Length*.12)
		h.LockHoles = params.LockHoles{Count: 2 + r.Intn(6), Diameter: dia, Depth: dia * 1.2, Position: h.Length * u(.3, .7)}
	}
	if one(3) {
		j.Mold.Ceiling.Shape, j.Mold.Ceiling.Angle = "coned", u(.5, 3)
	}
	if one(4) {
		j.Mold.FaceUp = "back"
	}
	m, err := mold.New(j)
	if err != nil {
		return nil
	}
	return m
}

// Random molds: columns add up to the closed form, what is trapped is part of the
// cavity, and a vent at every top lets it all out. The columns' volume errs where
// upright walls cut cells, by some h²·√n of n cut cells: about 1000 of them around an
// annulus of some 15 000, .002.
func TestRandomMolds(t *testing.T) {
	n, seeds := 0, int64(30)
	if testing.Short() {
		seeds = 8
	}
	for seed := range seeds {
		m := randomMold(seed)
		if m == nil {
			continue
		}
		n++
		c, err := New(m.Rubber, openings(m), Settings{Cell: m.Job.Wheel.Diameter / 200})
		if err != nil {
			t.Fatalf("mold %d: %v", seed, err)
		}
		within(t, fmt.Sprintf("mold %d: volume", seed), c.Volume(), m.RubberVolume(), 3e-3)
		for _, tilt := range []Tilt{{}, {float64(seed) / 3, 37 * float64(seed)}} {
			a := c.Traps(tilt)
			if a.Volume < 0 || a.Volume > c.Volume() {
				t.Errorf("mold %d: %s", seed, a.summary())
			}
			if tilt == (Tilt{}) && len(a.Traps) > 0 {
				t.Logf("mold %d, d %.0f, cell %.2f, offset %.2f, ceiling %s: %s", seed, m.Job.Wheel.Diameter, c.Cell, m.Job.Hub.Offset, m.Job.Mold.Ceiling.Shape, a.summary())
			}
			all := c
			for _, q := range a.Traps {
				for _, p := range q.Tops {
					all = all.With(Opening{Name: "more", At: p, R: .1})
				}
			}
			if b := all.Traps(tilt); b.Volume > 0 {
				t.Errorf("mold %d: with a vent at every top: %s\nbefore %s", seed, b.summary(), a.summary())
			}
		}
		for _, q := range c.Ceilings(Tilt{}) {
			sum := q.Stuck
			for _, b := range q.Bands {
				sum += b
			}
			within(t, fmt.Sprintf("mold %d: bands", seed), sum, q.Area, 1e-9)
		}
	}
	if n < int(seeds)/2 {
		t.Errorf("only %d molds", n)
	}
	t.Logf("%d molds", n)
}

func BenchmarkRise(b *testing.B) {
	m := exampleMold(b, "albatross")
	o := openings(m)
	b.Run("sampling", func(b *testing.B) {
		for b.Loop() {
			if _, err := New(m.Rubber, o, Settings{Cell: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
	c := moldCavity(b, m, 1)
	b.Run("traps at rest", func(b *testing.B) {
		for b.Loop() {
			c.Traps(Tilt{})
		}
	})
	b.Run("ceilings", func(b *testing.B) {
		for b.Loop() {
			c.Ceilings(Tilt{})
		}
	})
	b.Run("least tilt", func(b *testing.B) {
		// A dome on the roof that no tilt empties: the search climbs all of the ladder.
		top := m.Tread.Top + m.Tread.Ceiling
		dome := m.Model.Cylinder("dome", "", mesh.Vec{100, 0, top}, mesh.Vec{0, 0, 1}, 8, -1, 10)
		c, err := New(solid.Union(m.Rubber, dome), o, Settings{Cell: 1})
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if l := c.LeastTilt(); l.Clears {
				b.Fatal(l)
			}
		}
	})
	b.Run("traps tilted", func(b *testing.B) {
		for b.Loop() {
			c.Traps(Tilt{5, 20})
		}
	})
}

// Below a level there is what the cavity holds there: of plain drums as exactly as the
// cells count the disk, at every height; and never more at a lower one.
func TestBelow(t *testing.T) {
	const h = 20.0
	for i := range 40 {
		m := solid.NewModel()
		r := 10 + 0.173*float64(i)
		c := cavity(t, m.Cylinder("drum", "", mesh.Vec{3, 2, 5}, mesh.Vec{0, 0, 1}, r, 0, h), 0.5)
		area := c.Volume() / h
		if off := math.Abs(area - math.Pi*r*r); off > c.Cell/4*2*math.Pi*r {
			t.Errorf("radius %g: a disk of %g mm² counts as %g", r, math.Pi*r*r, area)
		}
		for _, z := range []float64{-1, 5, 6, 11.3, 24.9, 25, 40} {
			within(t, fmt.Sprintf("radius %g, below %g", r, z), c.Below(z), area*min(max(z-5, 0), h), 1e-12)
		}
	}
	m := exampleMold(t, "kestrel")
	c := moldCavity(t, m, 0)
	last := 0.0
	for z := 0.0; z <= m.Tread.Top; z += m.Tread.Top / 57 {
		if v := c.Below(z); v < last {
			t.Errorf("%g mm³ below %g mm, %g mm³ lower", v, z, last)
		} else {
			last = v
		}
	}
	within(t, "whole", c.Below(m.Tread.Top), c.Volume(), 1e-12)
}
