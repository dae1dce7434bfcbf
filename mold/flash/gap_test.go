package flash

import (
	"math"
	"strings"
	"testing"

	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// A nylon hub of 125 mm, 100 mm outside and 30 mm inside, that stands proud by
// 0.1 mm needs 7 to 15 kN to be pressed flush: EA/L with 1.3 GPa (moist) to
// 2.6 GPa (dry, which is assumed here as the worse).
func TestProudHubNeedsKilonewtons(t *testing.T) {
	g := *stock(t, "albatross").geometry
	core := *g.core
	core.FlangeR, core.BoreR, core.Length = 50, 15, 125
	g.core = &core
	s := stackOf(&g, g.mold.Job)
	if f := s.Stiffness * 0.1; f < 7000 || f > 15000 {
		t.Errorf("%.0f N", f)
	}
	near(t, "stiffness", s.Stiffness, 2600*math.Pi/4*(100*100-30*30)/125, 1e-9)
}

// The stack by hand: gap less 81e-6/K·5 K·L and 30 % of moisture's growth; at
// worst 30 K, all of the moisture and both tolerances.
func TestStackByHand(t *testing.T) {
	s := stock(t, "kestrel")
	j := s.mold.Job
	k := stackOf(s.geometry, j)
	l := s.mold.Core.Length
	gap := s.mold.Layout.GapLow + s.mold.Layout.GapTop
	near(t, "slack", k.Slack, gap-81e-6*5*l-0.3*j.Hub.Moisture*l, 1e-9)
	if k.Room != 0 {
		t.Errorf("a hub that has room wants %g mm", k.Room)
	}
	tight := *s.geometry
	l2 := *tight.layout
	l2.GapLow, tight.layout = 0.01, &l2
	if k := stackOf(&tight, j); k.Room+k.Slack-0.01 < leastSlack-1e-9 || k.Room+k.Slack-0.01 > leastSlack+0.01 {
		t.Errorf("with a gap of %g mm the hub is %g mm short", k.Room, k.Room+k.Slack-0.01)
	}
	tol := j.Hub.LengthTolerance + j.Process.Tolerance
	near(t, "least", k.Least, gap-81e-6*30*l-j.Hub.Moisture*l-tol, 1e-9)
	near(t, "most", k.Most, gap+tol, 1e-9)
	if !(k.Least < k.LeastRSS && k.LeastRSS < k.Slack && k.Slack < k.MostRSS && k.MostRSS < k.Most) {
		t.Errorf("root sum of squares lies outside the worst case: %+v", k)
	}
}

// A screw M8 at 17 N·m pulls with 10.6 kN (T = K·d·F, K 0.2), and its clamp
// reaches as far as its head and a 30° cone through the plate.
func TestClampReach(t *testing.T) {
	s := stock(t, "albatross")
	c := s.conditions()
	c.job.Mold.Bolts.Torque = 17
	near(t, "force", c.force(s.site(t, "base/shells")), 17/(0.2*0.008), 1e-9)
	k := clamp{head: 6.5, through: 20}
	near(t, "reach", k.reach(), 6.5+20*0.57735, 1e-5)
}

// F·S³/(192·E·I): 1000 N on a beam held at both ends, 100 mm long and wide, 10 mm
// thick, of 70 GPa: 0.00893 mm (handbooks' formula).
func TestFlattening(t *testing.T) {
	near(t, "bow", flattening(1000, 70e9, 10, 100), 1000*1e6/(192*70000*100*1000/12.), 1e-9)
}

// What makes the gap adds up to it, and every contribution is told twice.
func TestContributionsAddUp(t *testing.T) {
	for _, name := range examples {
		s := stock(t, name)
		c := s.conditions()
		for _, x := range s.geometry.sites {
			g := c.explain(x)
			var e, w float64
			for _, p := range g.Parts {
				e, w = e+p.Expected, w+p.Worst
				if p.Name == "" || p.Note == "" {
					t.Errorf("%s %s: unnamed contribution %+v", name, x.name, p)
				}
			}
			if math.Abs(max(0, e)-g.Expected) > 1e-12 || math.Abs(max(0, w)-g.Worst) > 1e-12 {
				t.Errorf("%s %s: %g, %g add up to %g, %g", name, x.name, g.Expected, g.Worst, e, w)
			}
			if g.Worst < g.Expected {
				t.Errorf("%s %s: worst %g is less than expected %g", name, x.name, g.Worst, g.Expected)
			}
		}
	}
}

// A measured figure takes the place of everything that it contains, at 0.3 to 0.5
// of it and at worst all of it, but not of the seal, and says nothing of the hub's
// ends.
func TestFeelerGauge(t *testing.T) {
	s := stock(t, "kestrel")
	c := s.conditions()
	c.setFeeler(0.1)
	base, hub := s.site(t, "base/shells"), s.site(t, "lid/hub")
	near(t, "gap", c.gap(base, expected(c)), 0.04, 1e-12)
	near(t, "worst", c.gap(base, worst(base)), 0.1, 1e-12)
	if before := s.conditions(); c.gap(hub, expected(c)) != before.gap(hub, expected(before)) {
		t.Error("a feeler gauge between the shells says something of the hub's end")
	}
}

// More clamp force, more clamps, flatter or cleaner faces and a better fit never
// open a gap, in any state that is drawn.
func TestGapIsMonotone(t *testing.T) {
	closer := map[string]func(c *conditions){
		"torque": func(c *conditions) {
			c.job.Mold.Bolts.Torque *= 1.5
			c.job.Mold.SideClamp.Torque *= 1.5
			c.job.Mold.SideClamp.StrapForce *= 1.5
		},
		"more bolts":  func(c *conditions) { c.bolts = 2 },
		"flatter":     func(c *conditions) { c.job.Mold.Mating.ShellsFlatness /= 2; c.job.Hub.Flatness /= 2 },
		"flat plates": func(c *conditions) { c.job.Mold.Mating.PlatesFlatness = 0 },
		"smoother":    func(c *conditions) { c.job.Mold.Mating.ShellsRoughness /= 2; c.job.Mold.Mating.PlatesRoughness /= 2 },
		"cleaner":     func(c *conditions) { c.job.Mold.Mating.Dirt /= 2 },
		"tolerance":   func(c *conditions) { c.job.Process.Tolerance = 0; c.job.Hub.LengthTolerance = 0 },
	}
	for _, name := range examples {
		s := stock(t, name)
		was := s.conditions()
		d := drawAll(was, Options{Draws: 200, Seed: 7})
		for what, change := range closer {
			now := s.conditions()
			change(now)
			now.stack = stackOf(now.geometry, &now.job)
			for i, x := range s.geometry.sites {
				if what == "tolerance" && x.at == atHub {
					continue // a hub that is less long closes one end and opens the other
				}
				for k, y := range d.of(i) {
					if what == "tolerance" {
						y.hub, y.lands = math.Abs(y.hub), -math.Abs(y.lands)
					}
					if a, b := was.gap(x, &y), now.gap(x, &y); b > a+1e-12 {
						t.Fatalf("%s %s, draw %d: %s opens the gap from %g to %g", name, x.name, k, what, a, b)
					}
				}
			}
		}
	}
}

// Without bolts nothing holds the lid's whole face.
func TestNoClampLeavesTheWholeFaceFree(t *testing.T) {
	j := moldtest.Example(t, "kestrel", "mold.bolts.size=none")
	s := surveyOf(t, j)
	x := s.site(t, "lid/shells")
	if math.Abs(x.span-x.size) > 1e-9 {
		t.Errorf("span %g of a face of %g", x.span, x.size)
	}
	if f := s.conditions().force(x); f != 0 {
		t.Errorf("a force of %g N from no bolt", f)
	}
}

// Every contribution by hand, in a state with round numbers: faces of 100 mm
// between clamps with waviness 0.03 and 0.04 mm and Ra 0.003 and 0.004 mm.
func TestContributionsByHand(t *testing.T) {
	s := stock(t, "kestrel")
	c := s.conditions()
	m := &c.job.Mold.Mating
	m.PlatesFlatness, m.PlatesRoughness, m.ShellsFlatness, m.ShellsRoughness, m.Dirt = 0.03, 0.003, 0.04, 0.004, 0.006
	c.job.Process.Tolerance = 0.08
	x := *s.site(t, "base/shells")
	x.span, x.widest = 100, 100
	y := &state{
		shared{nut: params.NutFactor, step: 0.5, hub: 0, lands: 0, viscosity: 1, potLife: 1, growth: 10},
		own{wave: [2]float64{1, 1}, mean: 0.4, rough: 2, dirt: 1.5, proud: 0.5},
	}
	want := map[Kind]float64{
		// Root of squares 0.05, of which 0.4; shared as the squares are.
		WaveLow: 0.4 * 0.03 * 0.03 / 0.05, WaveHigh: 0.4 * 0.04 * 0.04 / 0.05,
		Rough: 2 * 0.005, Dirt: 0.009, Step: 0.5 * 0.08 / 2, Proud: 0, Clamps: 0,
	}
	check := func(what string) {
		t.Helper()
		for _, k := range c.terms(&x, y) {
			if math.Abs(k.value-want[k.kind]) > 1e-12 {
				t.Errorf("%s: %s: %g, want %g", what, k.name, k.value, want[k.kind])
			}
		}
	}
	check("no clamp bears")
	// Crests on crests: waviness adds up.
	y.aligned = true
	want[WaveLow], want[WaveHigh] = 0.4*0.03, 0.4*0.04
	check("crests on crests")
	// A bow of 0.07 mm against a force that flattens d mm keeps 1 - d/(0.07+d).
	y.bow = 1
	d := flattening(c.force(&x), c.job.Process.Modulus, -s.mold.Layout.Bottom, 100) + flattening(c.force(&x), c.job.Process.Modulus, s.mold.Layout.Top, 100)
	want[Clamps] = -0.4 * 0.07 * d / (0.07 + d)
	bend := flattening(2*c.force(&x), c.job.Process.Modulus, min(-s.mold.Layout.Bottom, s.mold.Layout.Ceil-s.mold.Layout.Top), 2*s.mold.Layout.B)
	want[Step] -= want[Step] * bend / (want[Step] + bend)
	check("clamps bear")
}

// A hub that is longer than its place by 0.2 mm: bolts press away what they can,
// and base and lid share the rest.
func TestProudHubOpensBaseAndLid(t *testing.T) {
	s := stock(t, "kestrel")
	c := s.conditions()
	c.job.Hub.LengthTolerance, c.job.Process.Tolerance = 0.2+s.mold.Layout.GapLow, 0
	c.stack = stackOf(c.geometry, &c.job)
	y := &state{shared{nut: params.NutFactor, hub: 1}, own{proud: 0.5}}
	for _, name := range []string{"base/shells", "lid/shells"} {
		for _, k := range c.terms(s.site(t, name), y) {
			if k.kind == Proud {
				near(t, name, k.value, (0.2-c.stack.Clamp/c.stack.Stiffness)/2, 1e-9)
			}
		}
	}
	y.hub = -1 // as much too short, it opens none
	for _, k := range c.terms(s.site(t, "base/shells"), y) {
		if k.kind == Proud && k.value != 0 {
			t.Errorf("a short hub opens the base by %g mm", k.value)
		}
	}
}

// A hub that is too short by 0.3 mm: with a gasket it lies on the end that is
// designed to touch, with grease anywhere between; a gasket closes twice its gap.
func TestShortHubOpensItsEnds(t *testing.T) {
	s := stock(t, "kestrel")
	for seal, rest := range map[string]float64{"gasket": 0, "grease": 0.3} {
		c := s.conditions()
		c.job.Mold.Stack.Seal = seal
		gap := s.mold.Layout.GapLow
		c.job.Hub.LengthTolerance, c.job.Process.Tolerance = 0.3-gap, 0
		y := &state{shared{nut: params.NutFactor, hub: -1}, own{rests: 0.3}}
		for name, want := range map[string]float64{"base/hub": 0.3 * (1 - rest), "lid/hub": 0.3 * rest} {
			for _, k := range c.terms(s.site(t, name), y) {
				switch {
				case k.kind == Short:
					near(t, seal+" "+name, k.value, want, 1e-9)
				case k.kind == Seal:
					near(t, seal+" "+name+" closes", k.value, -2*gap, 1e-9)
				}
			}
		}
	}
}

// A clamp through a lid of 20 mm under a counterbore of 8 mm bears on a cone from
// 12 mm up.
func TestClampsPressThroughWhatIsUnderTheHead(t *testing.T) {
	s := stock(t, "albatross")
	l := s.mold.Layout
	for name, want := range map[string]float64{
		"lid/shells":            l.Ceil - l.Top - l.Bolts[0].HeadD,
		"base/shells":           -l.Bottom - l.Bolts[0].NutD,
		"shell A/shell B at +x": l.Cross[0].Grip,
	} {
		for _, k := range s.geometry.clamps(s.site(t, name)) {
			near(t, name, k.through, want, 1e-9)
		}
	}
}

// A hub that is expected to stand proud is warned of, with the gap that gives it room;
// with that gap nothing is said any more.
func TestProudHubIsWarnedOf(t *testing.T) {
	of := func(gap string) *Estimate {
		s := surveyOf(t, moldtest.Example(t, "kestrel", "hub.moisture=1%", "mold.stack.gap="+gap))
		return &Estimate{Stack: s.conditions().stack}
	}
	e := of("0mm")
	f := e.Warnings()
	if e.Stack.Slack >= 0 || len(f) != 1 || f[0].Path != "mold.stack.gap" || !strings.Contains(f[0].Cause, "holds the mold open") {
		t.Fatalf("slack %g mm: %v", e.Stack.Slack, f)
	}
	gap, ok := strings.CutPrefix(f[0].Allowed, "from ")
	if !ok {
		t.Fatalf("allowed %q", f[0].Allowed)
	}
	if e := of(strings.ReplaceAll(gap, " ", "")); e.Stack.Slack < 0 || len(e.Warnings()) > 0 {
		t.Errorf("with the gap of %s still %g mm: %v", gap, e.Stack.Slack, e.Warnings())
	}
}
