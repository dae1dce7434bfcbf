package flash

import (
	"math"
	"math/rand/v2"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// Midway between two clamps 100 mm apart, each with a reach of 20 mm, 60 mm of
// face are free; beside a clamp the least; without one the whole face.
func TestSpanBetweenTwoClamps(t *testing.T) {
	reach := clamp{head: 20}
	a, b := reach, reach
	b.at = mesh.Vec{100, 0, 0}
	clamps := []clamp{a, b}
	for _, c := range []struct{ x, want float64 }{{50, 60}, {40, 40}, {0, leastSpan}, {100, leastSpan}, {500, 300}} {
		if got := span(mesh.Vec{c.x, 0, 0}, clamps, 300); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("at %g: %g, want %g", c.x, got, c.want)
		}
	}
	if got := span(mesh.Vec{}, nil, 300); got != 300 {
		t.Errorf("no clamp: %g", got)
	}
}

// The 10, 50 and 90 % of the numbers 0 to 100 are 10, 50 and 90.
func TestBand(t *testing.T) {
	var o []outcome
	for i := range 101 {
		o = append(o, outcome{flash: float64((i * 37) % 101)})
	}
	if b := band(o, flashOf); b != (Band{10, 50, 90}) {
		t.Errorf("%+v", b)
	}
	if c := chance(o, func(o *outcome) bool { return o.flash > 89.5 }); math.Abs(c-11./101) > 1e-12 {
		t.Errorf("chance %g", c)
	}
	if b := band(o[:1], flashOf); b.P10 != b.P90 {
		t.Errorf("one draw: %+v", b)
	}
	if b := band(nil, flashOf); b != (Band{}) {
		t.Errorf("no draw: %+v", b)
	}
}

// Half of the weight lies below the median.
func TestWeightedMedian(t *testing.T) {
	if m := weightedMedian([]float64{5, 1, 3}, []float64{1, 1, 1}); m != 3 {
		t.Errorf("%g", m)
	}
	if m := weightedMedian([]float64{5, 1, 3}, []float64{10, 1, 1}); m != 5 {
		t.Errorf("%g", m)
	}
}

// Draws are what they are said to be: growth between its ends with its mode in
// the logarithm (mean of a triangle: the mean of its three corners), tolerances
// within one and a quarter of themselves and none on average, multipliers with a
// median of 1.
func TestDraws(t *testing.T) {
	const n = 20000
	r := rand.New(rand.NewPCG(1, 1))
	var growth, hub, heat, moisture, share, angle, step float64
	var above, aboveWave int
	for range n {
		s, o := drawShared(r, 10), drawOwn(r)
		if s.growth < growthLeast || s.growth > growthMost || math.Abs(s.hub) > 1.25 || math.Abs(s.lands) > 1.25 || s.step < 0 ||
			o.mean < 0.3 || o.mean > 0.5 || o.bow < 0 || o.bow > 1 || o.ring < 0 || o.ring > 1 || o.filled < 0.5 || o.filled > 1 || o.aligned || o.far != 0 {
			t.Fatalf("out of range: %+v %+v", s, o)
		}
		growth += math.Log(s.growth) / n
		hub, heat, moisture, share, angle, step = hub+s.hub/n, heat+s.heat/n, moisture+s.moisture/n, share+o.mean/n, angle+s.angle/n, step+s.step/n
		if s.viscosity > 1 {
			above++
		}
		if o.wave[0] > 1 {
			aboveWave++
		}
	}
	for what, x := range map[string][2]float64{
		"ln growth": {growth, (math.Log(2) + math.Log(10) + math.Log(30)) / 3},
		"hub":       {hub, 0}, "heat": {heat, params.HubWarmth}, "moisture": {moisture, params.MoistureShare}, "share": {share, 0.4}, "angle": {angle, 0},
		"step": {step, 0.4}, "viscosity above 1": {float64(above) / n, 0.5}, "waviness above 1": {float64(aboveWave) / n, 0.5},
	} {
		if math.Abs(x[0]-x[1]) > 0.03*max(1, x[1]) {
			t.Errorf("%s: %g on average, want %g", what, x[0], x[1])
		}
	}
}

// The draws of a line do not depend on how many other lines there are.
func TestLinesDrawOnTheirOwn(t *testing.T) {
	s := stock(t, "wren")
	c := s.conditions()
	all := drawAll(c, Options{Draws: 5, Seed: 3})
	g := *s.geometry
	g.sites = g.sites[:2]
	few := drawAll(newConditions(&g, s.mold.Job), Options{Draws: 5, Seed: 3})
	for i := range few.own {
		for k := range few.own[i] {
			if few.own[i][k] != all.own[i][k] {
				t.Fatalf("line %d, draw %d differs", i, k)
			}
		}
	}
	if all.own[0][0] == all.own[1][0] {
		t.Error("two lines share their own draws")
	}
}

// Verdicts by the chance to drip.
func TestVerdict(t *testing.T) {
	for chance, want := range map[float64]string{0: "unlikely to drip", 0.09: "unlikely to drip", 0.1: "may drip", 0.5: "likely to drip", 1: "likely to drip"} {
		if got := (&Line{Drips: chance}).Verdict(); got != want {
			t.Errorf("%g: %q", chance, got)
		}
	}
	for chance, want := range map[float64]Risk{0: Unlikely, 0.0999: Unlikely, 0.1: May, 0.4999: May, 0.5: Likely, 1: Likely} {
		if got := RiskOf(chance); got != want {
			t.Errorf("%g: %v", chance, got)
		}
	}
	if got := (&Line{Drips: 0.2, Pieces: []string{"base", "hub"}}).Verdict(); got != "may enter the hub" {
		t.Errorf("at the hub: %q", got)
	}
}

// With one draw the mold's figures are the sums over its lines and corners.
func TestTotalsAddUp(t *testing.T) {
	s := surveyOf(t, moldtest.Example(t, "kestrel", "process.name=filament", "mold.register_back.opening=none", "mold.register_front.opening=none"))
	e, err := Analyze(s.mold, s.faces, Options{Draws: 1, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	var flash, leak float64
	for _, l := range e.Lines {
		flash, leak = flash+l.Flash.P50, leak+l.Leak.P50
		if l.Mass != l.Flash.P50+l.Leak.P50 {
			t.Errorf("%s: %g g of %g and %g", l.Name, l.Mass, l.Flash.P50, l.Leak.P50)
		}
	}
	for _, c := range e.Corners {
		flash, leak = flash+c.Flash.P50, leak+c.Leak.P50
	}
	near(t, "flash", e.Flash.P50, flash, 1e-9)
	near(t, "leak", e.Leak.P50, leak, 1e-9)
	near(t, "lost", e.Lost.P50, flash+leak, 1e-9)
	near(t, "share", e.Share, (flash+leak)/s.mold.PouredMass(), 1e-9)
	if leak == 0 {
		t.Error("a printed mold that is not lapped does not leak")
	}
}

// Rubber that passes the land of a hub without a register is in its opening: all
// of that line's leak is.
func TestChanceOfRubberInTheHub(t *testing.T) {
	s := surveyOf(t, moldtest.Example(t, "kestrel", "process.name=filament", "mold.register_back.opening=none", "mold.register_front.opening=none"))
	e, err := Analyze(s.mold, s.faces, Options{Draws: 100, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range e.Lines {
		switch l.Name {
		case "base/hub", "lid/hub":
			if l.Opening != l.Drips {
				t.Errorf("%s: %g of the draws leak, %g into the hub", l.Name, l.Drips, l.Opening)
			}
		default:
			if l.Opening != 0 {
				t.Errorf("%s: %g of the draws leak into the hub", l.Name, l.Opening)
			}
		}
	}
	if hub := e.Lines[len(e.Lines)-1]; hub.Opening == 0 {
		t.Errorf("nothing gets past the land of %s: %+v", hub.Name, hub.Gap)
	}
}

// Base and lid share what a proud hub opens; the hub lies at one place.
func TestDrawsOfTwoLinesGoTogether(t *testing.T) {
	s := stock(t, "kestrel")
	d := drawAll(s.conditions(), Options{Draws: 20, Seed: 1})
	at := map[string]int{}
	for i, x := range s.geometry.sites {
		at[x.name] = i
	}
	for k := range d.shared {
		if p, q := d.own[at["base/shells"]][k].proud, d.own[at["lid/shells"]][k].proud; math.Abs(p+q-1) > 1e-12 {
			t.Fatalf("base gets %g and lid %g of the opening", p, q)
		}
		if p, q := d.own[at["base/hub"]][k].rests, d.own[at["lid/hub"]][k].rests; p != q {
			t.Fatalf("the hub rests at %g and at %g", p, q)
		}
	}
}

// Twice as many clamps leave half the span.
func TestMoreBoltsHalveTheSpan(t *testing.T) {
	s := stock(t, "albatross")
	c := s.conditions()
	x := s.site(t, "lid/shells")
	before, force := c.span(x, expected(c))
	if _, _, ok := moreBolts(c, x); !ok {
		t.Fatal("no bolts")
	}
	after, same := c.span(x, expected(c))
	near(t, "span", after, before/2, 1e-12)
	near(t, "force of each", same, force, 1e-12)
}
