package flash

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/contact"
	"wheelmold/mesh/solid"
	"wheelmold/mold/flash/film"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// ring is a flat ring, known by the lines through it; its inner edge is label 0.
type ring struct{ in, out float64 }

func (r ring) Bounds() (lo, hi [2]float64) {
	return [2]float64{-r.out, -r.out}, [2]float64{r.out, r.out}
}

func (r ring) Row(v float64) []contact.Span {
	end := func(radius, sign float64, label int) contact.End {
		x := math.Sqrt(radius*radius - v*v)
		return contact.End{At: sign * x, Label: label, Across: x / radius}
	}
	switch v = math.Abs(v); {
	case v >= r.out:
		return nil
	case v >= r.in:
		return []contact.Span{{Lo: end(r.out, -1, 1), Hi: end(r.out, 1, 1)}}
	}
	return []contact.Span{{Lo: end(r.out, -1, 1), Hi: end(r.in, -1, 0)}, {Lo: end(r.in, 1, 0), Hi: end(r.out, 1, 1)}}
}

func (r ring) Col(u float64) []contact.Span { return r.Row(u) }

// ringLine is a base line of a wheel whose seam is a circle, with the outer face
// a land further out, under so much head, without capillarity, over all of the
// mobility between 8 min and gel at 40 min.
func ringLine(t *testing.T, r ring, height, growth float64) (*conditions, *site) {
	t.Helper()
	g := *stock(t, "albatross").geometry
	l := *g.layout
	l.Top, g.layout = height, &l
	c := newConditions(&g, g.mold.Job)
	p := &c.job.Pour
	p.Density, p.Viscosity, p.PotLife, p.GelTime, p.Growth = 1.04, 0.8, 1200, 2400, growth
	p.Start, p.Duration, p.Fill, p.SurfaceTension = 480, 0, 0, 0
	class := func(label int) film.Class { return [...]film.Class{film.Seam, film.Exit}[label] }
	s := &site{
		name: "ring", at: atBase, low: []string{"base"}, high: []string{"shell-a"}, size: 2 * r.out, least: r.out - r.in,
		sheet: &contact.Sheet{Frame: solid.AxisFrame(mesh.Vec{}, mesh.Vec{0, 0, 1})},
		grid:  film.New(r, (r.out-r.in)/10, class), exits: []string{"", ExitOuter},
	}
	s.seam, s.lands, s.fromSeam = s.grid.SeamLength(), s.grid.Lands(), s.grid.FromSeam()
	s.wetting = newWetting(c, s, 1e6)
	return c, s
}

// setGap makes the expected gap of a line so many mm, by a feeler gauge.
func (c *conditions) setGap(h float64) {
	c.setFeeler(h / expected(c).mean)
}

// setFeeler states one feeler gauge for every line.
func (c *conditions) setFeeler(h float64) {
	m := &c.job.Mold.Mating
	m.Feeler, m.FeelerBase, m.FeelerLid, m.FeelerSides = h, h, h, h
}

// A wheel of 280 mm on a land of 15 mm, 125 mm of head at 1.04 g/cm³, ∫dt/μ =
// 1099 /Pa: h³ΔP/(12L)·seam·∫·ρ is 0.0570 g at 20 µm and 57.0 g at 200 µm (worked
// by hand, for a straight slit that flows all the time). A round land spreads the
// flow: its conductance is 2π/ln(R1/R0) in place of 2πR0/L. What really leaks is
// less, since the land fills first.
func TestLeakIsBoundedByTheSteadyFlow(t *testing.T) {
	c, s := ringLine(t, ring{140, 155}, 125, 2)
	for _, k := range []struct{ gap, straight float64 }{{0.02, 0.0570}, {0.2, 57.0}} {
		c.setGap(k.gap)
		o := c.cast(s, expected(c))
		_, flux := s.wetting.left(toOutside, 1e6, o.share)
		bound := c.job.Pour.Density / 1000 * k.gap * k.gap * k.gap / 12 * o.head * o.mobility * flux
		round := k.straight * 15 / 140 / math.Log(155./140)
		near(t, "steady leak", bound, round, 0.01)
		if o.leak >= bound {
			t.Errorf("%g mm: %g g leak, more than %g g of a flow from the start", k.gap, o.leak, bound)
		}
		if deep := math.Sqrt(2 * o.reach); (deep > 15) != (o.leak > 0) {
			t.Errorf("%g mm: a front %g mm deep leaks %g g over a land of 15 mm", k.gap, deep, o.leak)
		}
	}
}

// The whole model against the closed form of a radial slit: (R²/2)·ln(R/R0) -
// (R²-R0²)/4 = h²ΔP·∫dt/μ/12. The case R0 30 mm, h 100 µm, 412.02 Pa, 600 s at
// 1 Pa·s gives 18.675 mm of flash; here with the standard's gravity.
func TestRadialSlit(t *testing.T) {
	c, s := ringLine(t, ring{30, 60}, 40, 2)
	p := &c.job.Pour
	// A viscosity that hardly grows, over 600 s.
	p.Density, p.Viscosity, p.Growth, p.PotLife, p.GelTime, p.Start = 1.05, 1, 1.0000001, 1200, 600, 0
	c.setGap(0.1)
	x := expected(c)
	o := c.cast(s, x)
	near(t, "drive", o.head*o.mobility, 412.02*9.80665/9.81*600, 1e-4)
	near(t, "radius of the front", math.Sqrt(o.area/math.Pi+30*30), 30+18.675, 0.003)
	near(t, "mass", o.flash, 1.05e-3*0.1*math.Pi*(48.675*48.675-30*30), 0.01)
}

// With the gap, with the root of the time's mobility, and with the root of the
// pressure goes the depth of a front that is shallow beside the seam's radius; so
// does the wet area of every line of a real mold, as far as no edge is near.
func TestScalingLaws(t *testing.T) {
	s := stock(t, "albatross")
	c := s.conditions()
	c.job.Pour.SurfaceTension = 0
	for _, name := range []string{"base/shells", "lid/shells", "base/hub"} {
		x := s.site(t, name)
		w := newWetting(c, x, 200)
		first := w.area(0.125, 1) // 0.5 mm deep
		for _, k := range []float64{1, 2, 4} {
			near(t, name+" area", w.area(0.125*k*k, 1)/first, k, 0.03)
		}
		near(t, name+" area over seam", first/x.seam, 0.5, 0.03)
	}
	x := s.site(t, "base/shells")
	reach := func(change func(c *conditions)) float64 {
		n := *c
		n.setGap(0.05)
		change(&n)
		o, _ := n.reach(x, expected(&n))
		return o.depth
	}
	one := reach(func(*conditions) {})
	near(t, "twice the gap", reach(func(c *conditions) { c.setGap(0.1) })/one, 2, 1e-9)
	near(t, "twice the pressure", reach(func(c *conditions) { c.job.Pour.Density *= 2 })/one, math.Sqrt2, 1e-9)
	near(t, "half the viscosity", reach(func(c *conditions) { c.job.Pour.Viscosity /= 2 })/one, math.Sqrt2, 1e-9)
}

// No gap, no pressure, or a liquid that does not wet: nothing enters.
func TestNothingEnters(t *testing.T) {
	s := stock(t, "albatross")
	x := s.site(t, "lid/shells")
	cases := map[string]func(c *conditions, y *state){
		"no gap":                  func(c *conditions, y *state) { c.setGap(1e-300) },
		"no head, no capillarity": func(c *conditions, y *state) { c.job.Pour.Fill, c.job.Pour.SurfaceTension = 0, 0 },
		"no wetting":              func(c *conditions, y *state) { c.job.Pour.Fill = 1; y.angle = 5 }, // 70° + 5·10°
		"no clamp, no head, no wetting": func(c *conditions, y *state) {
			c.job.Mold.Bolts.Torque, c.job.Pour.Fill = 0, 0
			c.setFeeler(0)
			y.angle = 5
		},
		"gelled before": func(c *conditions, y *state) { c.job.Pour.Start = c.job.Pour.GelTime },
	}
	for what, change := range cases {
		c := s.conditions()
		y := expected(c)
		c.setGap(0.05)
		change(c, y)
		x.wetting = newWetting(c, x, 500)
		if o := c.cast(x, y); o.flash > 1e-12 || o.leak > 0 {
			t.Errorf("%s: %g g of flash, %g g of leak", what, o.flash, o.leak)
		}
	}
}

// A filling of 200 Pa over 15 mm in 0.2 mm holds 2·τ·L/h = 30 kPa back, twenty
// times the head of a tall mold (worked by hand); two fifths of it are not relied
// on, as 0.2 mm are two fifths of the widest film that holds at all. In 0.6 mm
// nothing holds.
func TestGreaseHolds(t *testing.T) {
	c, s := ringLine(t, ring{140, 155}, 125, 10)
	c.setGap(0.2)
	c.job.Mold.Seals.Base = "grease"
	x := expected(c)
	x.filled = 1
	o := c.cast(s, x)
	near(t, "held", o.held, 30000*(1-0.2/0.5), 1e-9)
	if o.flash != 0 || o.held < 10*o.head {
		t.Errorf("%+v", o)
	}
	c.setGap(0.6)
	if o := c.cast(s, x); o.held != 0 || o.leak == 0 {
		t.Errorf("a film of 0.6 mm: %+v", o)
	}
	c.setGap(0.2)
	c.job.Mold.Seals.GreaseYield = 13 // as thin as this it gives way
	if o := c.cast(s, x); o.flash == 0 || o.flash >= (&conditions{geometry: c.geometry, job: dry(c.job), bolts: 1, stack: c.stack}).cast(s, x).flash {
		t.Errorf("%+v", o)
	}
}

func dry(j params.Job) params.Job {
	j.Mold.Seals.Base = "dry"
	return j
}

// Wet to the edge is not dripping: where capillarity alone brings the liquid to
// the edge, with next to no head, nothing runs out.
func TestWetToTheEdgeDoesNotDrip(t *testing.T) {
	c, s := ringLine(t, ring{140, 145}, 125, 2)
	c.job.Pour.SurfaceTension = 0.035
	l := *c.geometry.layout
	l.Top = 1e-9
	c.geometry.layout = &l
	c.setGap(0.03)
	o := c.cast(s, expected(c))
	if !o.reached || o.leak > 1e-9 {
		t.Errorf("reached %t, %g g leak", o.reached, o.leak)
	}
	near(t, "area", o.area, math.Pi*(145*145-140*140), 0.01)
}

// The channel in a corner is a right isosceles triangle with legs √2·e. Its
// conductance is that of slow flow, ∇²u = -1 with u = 0 on its sides, here by
// relaxation on a grid.
func TestCornerConductance(t *testing.T) {
	const n = 120 // cells along a leg
	u := make([]float64, (n+1)*(n+1))
	h := math.Sqrt2 / n
	over := 2 / (1 + math.Sin(math.Pi/n))
	for range 400 {
		for j := 1; j < n; j++ {
			for i := 1; i+j < n; i++ {
				k := j*(n+1) + i
				u[k] += over * ((u[k-1]+u[k+1]+u[k-n-1]+u[k+n+1]+h*h)/4 - u[k])
			}
		}
	}
	flow := 0.0
	for _, v := range u {
		flow += v * h * h
	}
	near(t, "mean velocity", flow/1, conductance, 0.003) // the area is e² = 1
}

// A straight channel: depth² = 2·k·e²·P·∫dt/μ, mass e²·ρ·depth.
func TestCornerFills(t *testing.T) {
	s := stock(t, "albatross")
	c := s.conditions()
	c.job.Pour.SurfaceTension = 0
	k := &s.geometry.corners[0]
	x := expected(c)
	o := c.castCorner(k, &x.shared)
	e := c.job.Process.Edge
	l := c.liquid(&x.shared)
	m := l.Left(ageAt(&c.job.Pour, k.from[2], s.mold.Layout.Top))
	near(t, "depth", o.depth, math.Sqrt(2*conductance*e*e*l.Head(c.fillHeight()-k.from[2])*m), 1e-9)
	near(t, "mass", o.flash, 1.04e-3*e*e*o.depth, 1e-9)
}

// A register behind the land fills before anything gets into the hub.
func TestRegisterFillsFirst(t *testing.T) {
	s := stock(t, "kestrel")
	x := s.site(t, "base/hub")
	v := 0.0
	for _, r := range x.after {
		v += r.Volume()
	}
	kept, passed := pastRegister(x.after, v/3, 0.05, 20, 0)
	if passed > 1e-12 || math.Abs(kept-v/3) > 1e-12 {
		t.Errorf("%g kept, %g passed of %g", kept, passed, v/3)
	}
	kept, passed = pastRegister(x.after, 10*v, 0.05, 20, 0)
	if kept > v+1e-9 || passed <= 0 || passed >= 10*v-kept {
		t.Errorf("%g kept, %g passed of %g", kept, passed, 10*v)
	}
	_, off := pastRegister(x.after, 10*v, 0.05, 20, 1)
	if off <= passed {
		t.Errorf("an eccentric register passes %g, a centered one %g", off, passed)
	}
}

// What each seal does, beside the laws: wax holds more than grease, dry faces suck
// more than wiped ones, tape keeps in what would leave by the outer face and a cord
// what would pass the middle of the land.
func TestSeals(t *testing.T) {
	c, s := ringLine(t, ring{140, 155}, 125, 2)
	c.job.Pour.SurfaceTension = 0.035
	with := func(seal string, gap float64) outcome {
		n := *c
		n.job.Mold.Seals.Base = seal
		n.setGap(gap)
		return n.cast(s, expected(&n))
	}
	near(t, "wax over grease", with("wax", 0.1).held/with("grease", 0.1).held, c.job.Mold.Seals.WaxYield/c.job.Mold.Seals.GreaseYield, 1e-9)
	near(t, "dry over wiped", with("dry", 0.05).capillary/with("wiped", 0.05).capillary, math.Cos(30*math.Pi/180)/math.Cos(70*math.Pi/180), 1e-9)
	if open, taped := with("wiped", 0.2), with("tape", 0.2); open.leak == 0 || taped.leak != 0 || taped.flash != open.flash {
		t.Errorf("tape takes a leak of %g g to %g g, flash from %g g to %g g", open.leak, taped.leak, open.flash, taped.flash)
	}
	o := with("cord", 0.2)
	near(t, "depth at a cord", o.depth, 7.5, 1e-9)
	if o.leak != 0 {
		t.Errorf("%g g pass a cord", o.leak)
	}
}

// A hub that stands 3 mm out of the tread lies in a recess whose clearance fills
// also where the land behind it is closed by its gasket.
func TestClearanceBeforeTheLandFills(t *testing.T) {
	s := surveyOf(t, moldtest.Example(t, "kestrel", "hub.offset=-3mm"))
	x := s.site(t, "base/hub")
	if len(x.entry) == 0 {
		t.Fatal("no clearance around the hub's end")
	}
	c := s.conditions()
	o := c.cast(x, expected(c))
	r := x.entry[0]
	full := c.job.Pour.Density / 1000 * r.Volume()
	if o.gap != 0 || o.flash <= 0 || o.flash > full*1.001 {
		t.Errorf("gap %g mm, flash %g g, clearance %g g", o.gap, o.flash, full)
	}
	near(t, "clearance", r.Volume(), 2*math.Pi*s.mold.Core.EndR()*3*s.mold.Job.Process.Clearance/2, 0.05)
}

// A seam above the liquid stays dry, and one at its very level only sucks.
func TestSeamsAboveTheLiquidStayDry(t *testing.T) {
	s := stock(t, "albatross")
	c := s.conditions()
	x := *s.site(t, "lid/shells")
	c.job.Pour.Fill = 0
	c.setGap(0.05)
	x.wetting = newWetting(c, &x, 500)
	if o := c.cast(&x, expected(c)); o.flash <= 0 || o.leak != 0 || o.head != 0 {
		t.Errorf("at the level: %+v", o)
	}
	x.lowest += 1
	x.highest += 1
	if o := c.cast(&x, expected(c)); o.flash != 0 || o.leak != 0 {
		t.Errorf("above the level: %+v", o)
	}
}

// No more is lost than is poured, whatever the gap.
func TestNoMoreIsLostThanIsPoured(t *testing.T) {
	s := surveyOf(t, moldtest.Example(t, "kestrel", "mold.mating.feeler=3mm"))
	e, err := Analyze(s.mold, s.faces, Options{Draws: 40, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	poured := s.mold.PouredMass()
	for _, l := range e.Lines {
		if l.Flash.P90 > poured || l.Leak.P90 > poured {
			t.Errorf("%s: %+v, %+v of %g g", l.Name, l.Flash, l.Leak, poured)
		}
	}
	if e.Leak.P50 > poured || e.Grade != Flood {
		t.Errorf("%g g of %g g, %s", e.Leak.P50, poured, e.Grade)
	}
}

// A corner obeys the seal between the shells.
func TestCornersObeySeals(t *testing.T) {
	s := stock(t, "albatross")
	leak := func(seal string) outcome {
		c := s.conditions()
		c.job.Process.Edge = 0.45
		c.job.Pour.Growth = 2
		c.job.Mold.Seals.Sides = seal
		return c.castCorner(&s.geometry.corners[0], &expected(c).shared)
	}
	open := leak("wiped")
	if open.leak <= 0 {
		t.Fatalf("%+v", open)
	}
	for _, seal := range []string{"tape", "clay", "cord"} {
		if o := leak(seal); o.leak != 0 || o.flash <= 0 || o.flash > open.flash {
			t.Errorf("%s: %+v", seal, o)
		}
	}
	if o := leak("wax"); o.leak >= open.leak {
		t.Errorf("wax: %+v", o)
	}
}

// The bolt holes of a hub's end have no register in them: what reaches them is in
// the hub, while the bore's register holds back its part.
func TestOpeningsWithAndWithoutARegister(t *testing.T) {
	s := stock(t, "albatross")
	x := s.site(t, "lid/hub")
	holes, bore := 0, 0
	for _, o := range x.grid.Exits() {
		p := x.sheet.Frame.Global(mesh.Vec{o.U, o.V, 0})
		onRim := math.Abs(math.Hypot(p[0], p[1])-s.mold.Core.BoreR) < 0.1
		switch x.way(o) {
		case toRegister:
			bore++
			if !onRim {
				t.Fatalf("a register at %v", p)
			}
		case toOpening:
			holes++
			if onRim {
				t.Fatalf("no register in the bore at %v", p)
			}
		}
	}
	if holes == 0 || bore == 0 {
		t.Errorf("%d crossings of bolt holes, %d of the bore", holes, bore)
	}
	c := s.conditions()
	x.wetting = newWetting(c, x, 1e5)
	y := expected(c)
	c.job.Hub.Flatness = 1
	if o := c.cast(x, y); o.inOpening <= 0 || o.inOpening > o.leak+1e-12 {
		t.Errorf("%+v", o)
	}
}

// Straight fronts of the whole model against worked values. 412.02 Pa (40 mm of
// 1050 kg/m³, here with the standard's gravity) for 600 s at 1 Pa·s: L² = h²ΔP·t/6
// gives 5.0746, 10.1491, 20.2983 and 40.5966 mm at 25, 50, 100 and 200 µm. With a
// viscosity that grows by e in 300 s ∫dt/μ is 259.399 s/(Pa·s), and 50 µm let
// 6.6733 mm in. Without head capillarity alone gives L² = γ·h·cosθ·t/(3μ).
func TestStraightSlit(t *testing.T) {
	c, s := ringLine(t, ring{140, 155}, 40, 2)
	p := &c.job.Pour
	p.Density, p.Viscosity, p.PotLife, p.GelTime, p.Start = 1.05, 1, 300, 600, 0
	gravities := math.Sqrt(9.80665 / 9.81)
	depth := func(gap, growth float64) float64 {
		c.setGap(gap)
		x := expected(c)
		x.growth = growth
		o, _ := c.reach(s, x)
		return o.depth
	}
	for i, want := range []float64{5.0746, 10.1491, 20.2983, 40.5966} {
		near(t, "constant viscosity", depth(0.025*math.Exp2(float64(i)), 1+1e-9), want*gravities, 1e-4)
	}
	near(t, "rising viscosity", depth(0.05, math.E), 6.6733*gravities, 1e-4)
	l := *c.geometry.layout
	l.Top = 0
	c.geometry.layout = &l
	p.SurfaceTension = 0.035
	want := math.Sqrt(0.035 * 0.05e-3 * math.Cos(70*math.Pi/180) * 600 / 3)
	near(t, "capillarity alone", depth(0.05, 1+1e-9)/1000, want, 1e-6)
}

// Until it wets a seam the urethane is as warm as the mix: 10 K more, and it has
// cured twice as far by then.
func TestAgeOfAWarmMix(t *testing.T) {
	p := moldtest.Example(t, "wren").Pour
	near(t, "as warm as the sheet", ageAt(&p, 5, 10), p.Start+p.Duration/2, 1e-12)
	p.MixTemperature += 10
	near(t, "10 K warmer", ageAt(&p, 5, 10), 2*(p.Start+p.Duration/2), 1e-12)
	near(t, "above the top", ageAt(&p, 20, 10), 2*(p.Start+p.Duration), 1e-12)
}
