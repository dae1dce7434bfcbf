package flash

import (
	"math"
	"testing"
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
// of it, but not of the seal, and says nothing of the hub's ends.
func TestFeelerGauge(t *testing.T) {
	s := stock(t, "kestrel")
	c := s.conditions()
	c.job.Mold.Mating.Feeler = 0.1
	base, hub := s.site(t, "base/shells"), s.site(t, "lid/hub")
	near(t, "gap", c.gap(base, expected(c)), 0.04, 1e-12)
	near(t, "worst", c.gap(base, worst(base)), 0.05, 1e-12)
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
		"more bolts": func(c *conditions) { c.bolts = 2 },
		"flatter":    func(c *conditions) { c.job.Process.Flatness /= 2 },
		"smoother":   func(c *conditions) { c.job.Process.Roughness /= 2 },
		"cleaner":    func(c *conditions) { c.job.Mold.Mating.Dirt /= 2 },
		"lapped":     func(c *conditions) { c.lapped = true },
		"tolerance":  func(c *conditions) { c.job.Process.Tolerance = 0; c.job.Hub.LengthTolerance = 0 },
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
	j := example(t, "kestrel", "mold.bolts.size=none")
	s := surveyOf(t, j)
	x := s.site(t, "lid/shells")
	if math.Abs(x.span-x.size) > 1e-9 {
		t.Errorf("span %g of a face of %g", x.span, x.size)
	}
	if f := s.conditions().force(x); f != 0 {
		t.Errorf("a force of %g N from no bolt", f)
	}
}
