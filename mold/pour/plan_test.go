package pour

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// handbook is the job of a smooth tread of 280 × 125 mm on a hub of 100 mm, poured
// through a straight gate of 20 mm under 30 mm of head, with air that is no
// hindrance and a urethane that does not thicken much.
func handbook(t testing.TB) *params.Job {
	t.Helper()
	j, err := params.Default(280, 125, 30, "milled")
	if err != nil {
		t.Fatal(err)
	}
	j.Wheel.Edge, j.Wheel.EdgeSize = "square", 0
	j.Hub.BodyDiameter, j.Hub.FlangeDiameter, j.Hub.Grooves = 100, 100, nil
	j.Mold.Shrinkage, j.Pour.GelTemperature = 0, j.Pour.SheetTemperature
	j.Mold.LidThickness, j.Pour.Fill, j.Pour.Funnel = 20, 20, 10
	j.Mold.Sprue.Gate, j.Mold.Sprue.Mouth = 20, 20
	return j
}

func planned(t testing.TB, j *params.Job, lost float64, o Options) *Plan {
	t.Helper()
	m, volumes := made(t, j)
	p, err := New(m, volumes, lost, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func made(t testing.TB, j *params.Job) (*mold.Mold, map[string]float64) {
	t.Helper()
	m, c := moldtest.Checked(t, j)
	return m, c.Volumes
}

// All that is mixed is accounted for, and what goes into the mold is what the
// closed forms of cavity and channels say: 6715 cm³ and 6984 g of rubber.
func TestMassBalance(t *testing.T) {
	j := handbook(t)
	m, volumes := made(t, j)
	p, err := New(m, volumes, 12.5, Options{Wheels: 3, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	n := p.Mix.Need
	near(t, "rubber", n.Rubber, math.Pi/4*(28*28-10*10)*12.5*1.04, 1e-9)
	near(t, "rubber and channels", n.Rubber+n.Channels, m.PouredMass(), 1e-9)
	near(t, "flash", n.Flash, 12.5, 1e-12)
	near(t, "mixed", n.Rubber+n.Channels+n.Flash+n.Margin+n.Residue, n.Mixed, 1e-9)
	near(t, "batches", float64(p.Mix.Batches)*p.Mix.Batch.Mass, n.Mixed, 1e-9)
	if p.Mix.Batches != 2 {
		t.Errorf("%d batches: common practice takes two for a wheel of 7 kg", p.Mix.Batches)
	}
	sum := 0.0
	for _, c := range p.Mix.Batch.Components {
		sum += c.Set
	}
	near(t, "weighed", sum, p.Mix.Batch.Weighed, 1e-9)
}

// The time to pour against a plain integration in time of Hagen and Poiseuille's
// law with the end loss of a short tube and the jet, all written out here, SI.
func TestRunAgainstIntegration(t *testing.T) {
	j := handbook(t)
	p := planned(t, j, 0, Options{Wheels: 1, Molds: 1})
	const r, length, head, rho, g = .010, .020, .030, 1040.0, 9.80665
	area := math.Pi * r * r
	poured := func(clock float64) float64 {
		filled, dt := 0.0, .05
		for filled < p.Sprue.Volume*1e-9 {
			mu := .8 * math.Pow(10, clock/1200)
			a, b, c := rho/(area*area), mu*(8*length/(math.Pi*r*r*r*r)+3/(r*r*r)), rho*g*head
			filled += dt * (-b + math.Sqrt(b*b+4*a*c)) / (2 * a) // ρ(Q/A)² + bQ = c
			clock += dt
		}
		return clock
	}
	near(t, "seconds", p.Sprue.Run, poured(j.Pour.Start)-j.Pour.Start, .005) // air counts a little, too
	near(t, "begun as late as may be", poured(p.Clock.BeginBy), 1200, .005)
	if p.Clock.BeginBy > 1200-p.Sprue.Run-30 {
		t.Errorf("begins at %g s and pours no longer than at %g s", p.Clock.BeginBy, j.Pour.Start)
	}
	if p.Sprue.Run < 60 || p.Clock.PourEnd != j.Pour.Start+max(p.Sprue.Run, j.Pour.Duration) {
		t.Errorf("clock %+v for a run of %g s", p.Clock, p.Sprue.Run)
	}
}

// A single gate of 6 mm takes more than three hours for 6.7 l, and is refused, with
// a gate that does. That gate does, and one a little smaller does not in one batch.
func TestNarrowGateIsRefused(t *testing.T) {
	j := handbook(t)
	j.Mold.Sprue.Gate, j.Mold.Sprue.Mouth = 6, 6
	m, volumes := made(t, j)
	_, err := New(m, volumes, 0, Options{Wheels: 1, Molds: 1})
	var faults params.Faults
	if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Path != "mold.sprue.gate" {
		t.Fatalf("refused with %v", err)
	}
	text := faults[0].Error()
	for _, want := range []string{"6 mm", "at least", "h to fill through one gate"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in %s", want, text)
		}
	}
	gate, err := params.ParseLength(strings.TrimPrefix(faults[0].Allowed, "at least "))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		gate float64
		fits bool
	}{{gate, true}, {gate - .2, false}} {
		flow := pouringOf(m, planned(t, handbook(t), 0, Options{}).Liquid)
		flow.Sprues.Gate, flow.Sprues.Mouth, flow.Vents = c.gate, c.gate, nil
		whole := m.PouredMass() * (1 + j.Pour.Margin) / 1.04 * 1000
		if got := flow.Volume(j.Pour.Start, j.Pour.PotLife) >= whole; got != c.fits {
			t.Errorf("%g mm: pours in time: %v", c.gate, got)
		}
	}
}

// What no longer pours when the pour starts is refused: a mix 20 K warmer lives a
// quarter as long.
func TestWarmMixIsRefused(t *testing.T) {
	j := handbook(t)
	j.Pour.MixTemperature = 43
	m, volumes := made(t, j)
	_, err := New(m, volumes, 0, Options{})
	var faults params.Faults
	if !errors.As(err, &faults) || faults[0].Path != "pour.start" || faults[0].Allowed != "less than 5 min" {
		t.Errorf("refused with %v", err)
	}
}

// The rule of thumb: 10 K warmer, half the time. What has cured in the bucket stays
// cured in a cooler mold.
func TestClockFollowsTemperature(t *testing.T) {
	p := handbook(t).Pour
	p.Stir, p.Settle, p.Start = 60, 60, 120
	p.MixTemperature, p.MoldTemperature = 33, 23
	c := clockOf(&p, 90, sameMold)
	near(t, "pour by", c.PourBy, 600, 1e-9)
	near(t, "top up", c.TopUp, 120+(1200-240), 1e-9)
	near(t, "gel", c.Gel, 120+(2400-240), 1e-9)
	near(t, "next until", c.NextUntil, c.TopUp-120, 1e-9)
	near(t, "no joint", c.JointAt, c.Gel-120, 1e-9)
	if c.PourEnd != 120+p.Duration || !c.InTime() || c.StirEnd != 60 {
		t.Errorf("%+v", c)
	}
	if c = clockOf(&p, 2000, sameMold); c.InTime() {
		t.Error("hands are free before they have poured")
	}
	if c = clockOf(&p, 90, otherMold); c.NextFrom == 0 || c.NextUntil != 0 || c.JointAt != 0 {
		t.Errorf("into another mold: %+v", c)
	}
	p.People = 2 // ready when the one before is poured
	if c = clockOf(&p, 90, sameMold); c.NextFrom != c.PourEnd-120 {
		t.Errorf("two people: %+v", c)
	}
	if c = clockOf(&p, 90, nothing); c.NextFrom != 0 || c.NextUntil != 0 || c.JointAt != 0 {
		t.Errorf("after the last batch: %+v", c)
	}
}

// Weights by hand: volumes of plain bodies times densities of handbooks.
func TestWeights(t *testing.T) {
	j := handbook(t)
	m, volumes := made(t, j)
	p, err := New(m, volumes, 0, Options{})
	if err != nil {
		t.Fatal(err)
	}
	w := p.Weights
	near(t, "hub", w.Hub, volumes["hub"]/1000*1.14, 1e-9)
	near(t, "wheel", w.Wheel, w.Hub+math.Pi/4*(28*28-10*10)*12.5*1.04, 1e-9)
	lift := w.Wheel + p.Mix.Need.Channels
	for _, name := range []string{"base", "shell-a", "shell-b", "lid"} {
		lift += volumes[name] / 1000 * 2.70
	}
	near(t, "full mold", w.Lift, lift, 1e-9)
	if math.Abs(w.Void-.035*w.Rubber-1) > 1e-9 {
		t.Errorf("a void shows from %g g of %g", w.Void, w.Rubber)
	}
}

// In the bucket bubbles rise while the mix settles, in the mold from the end of the
// pour to gel; a pressure pot at 60 psi shrinks them by Boyle's law.
func TestBubblesOfThePlan(t *testing.T) {
	j := handbook(t)
	j.Pour.Degas, j.Pour.PotPressure = "pressure", 60*6894.757293168
	p := planned(t, j, 0, Options{})
	b := p.Bubbles
	tau := 1200 / math.Log(10)
	in := func(from, to float64) float64 { return tau / .8 * (math.Exp(-from/tau) - math.Exp(-to/tau)) }
	near(t, "settling", b.Mobility[0], in(j.Pour.Stir, j.Pour.Start), 1e-9)
	near(t, "in the mold", b.Mobility[1], in(p.Clock.PourEnd, 2400), 1e-6)
	j.Pour.MoldTemperature = 33 // twice as fast, and thinner by E/R = 4970 K
	w := planned(t, j, 0, Options{})
	age := 480 + 2*(w.Clock.PourEnd-480)
	near(t, "in a warm mold", w.Bubbles.Mobility[1], in(age, 2400)/2/math.Exp(4970*(1/306.15-1/296.15)), 1e-6)
	d := math.Sqrt(18 * b.Height * 1e-3 / (1040 * 9.80665 * b.Mobility[0])) // Stokes, m
	near(t, "out of the bucket", b.Bucket.Most, d*1000, 1e-9)
	near(t, "squeezed", 1/b.SqueezedDiameter, 1.7194, 1e-4)
	if b.Bucket.Least >= b.Bucket.Most || b.Mold.Least >= b.Mold.Most || b.Tall != 125 {
		t.Errorf("%+v", b)
	}
}

// Level, no example keeps air; leaning, the high side of the rim does, and the
// report tells that level is the cure.
func TestAirOfTheExamples(t *testing.T) {
	names := []string{"wren", "kestrel", "albatross"}
	if testing.Short() {
		names = names[:1]
	}
	for _, name := range names {
		p := planned(t, moldtest.Example(t, name), 0, Options{})
		if len(p.Air.Traps) > 0 || len(p.Air.Unmet) > 0 || p.Air.Roof.Area == 0 {
			t.Errorf("%s: %+v", name, p.Air)
		}
		if c := p.Air.Roof.Coned; name == "wren" && (c == nil || c.Sets[1] != "mold.ceiling.angle=3deg") {
			t.Errorf("a print is proposed %+v: half a degree is less than a layer", c)
		}
		if coned := name == "albatross"; p.Air.Roof.Level == coned {
			t.Errorf("%s: the roof slopes by %g degrees", name, p.Air.Roof.Slope)
		}
	}
	p := planned(t, moldtest.Example(t, "kestrel", "pour.tilt=5deg"), 0, Options{})
	if len(p.Air.Traps) == 0 || p.Air.Lean.Tilt.Angle != 0 || !p.Air.Lean.Clears {
		t.Fatalf("leaning: %+v", p.Air)
	}
	if c := p.Air.Traps[0]; c.Cause != "under the lid" || c.Top.Dist(c.Way) > 60 {
		t.Errorf("the largest trap: %+v", c)
	}
	if !strings.Contains(p.Warnings.Error(), "air stay in the mold") {
		t.Errorf("warnings %v", p.Warnings)
	}
}

// A vent that a rib covers opens nowhere, and is told.
func TestBlindVentIsTold(t *testing.T) {
	j := moldtest.Example(t, "wren")
	j.Mold.Ceiling.Shape, j.Mold.Ceiling.Angle = "coned", 3
	j.Mold.Vents.Circle, j.Mold.Vents.Diameter = 40.4, .8
	j.Wheel.Edge, j.Wheel.EdgeSize = "square", 0
	j.Wheel.Cross.Depth = 1.25
	p := planned(t, j, 0, Options{})
	if len(p.Air.Unmet) != 1 || !strings.Contains(p.Warnings.Error(), "opens nowhere") {
		t.Errorf("unmet %v, warnings %v", p.Air.Unmet, p.Warnings)
	}
}

// Without vents nothing is told of traps, for all air leaves by the sprue.
func TestNoVents(t *testing.T) {
	j := moldtest.Example(t, "kestrel", "mold.vents.count=0")
	p := planned(t, j, 0, Options{})
	if !p.Air.NoVents || len(p.Air.Traps) > 0 || p.Vent.Count > 0 {
		t.Errorf("%+v", p.Air)
	}
}

// The new vent for a trap keeps clear of hub, rim, sprue and vents, and is under the
// lid.
func TestReachable(t *testing.T) {
	m, _ := made(t, moldtest.Example(t, "kestrel"))
	l := m.Layout
	at := func(r, deg, z float64) bool {
		sn, cs := math.Sincos(deg * math.Pi / 180)
		return reachable(m, [3]float64{r * cs, r * sn, z})
	}
	middle := math.Hypot(l.Vents[0][0], l.Vents[0][1])
	between := (math.Atan2(l.Vents[2][1], l.Vents[2][0]) + math.Atan2(l.Vents[3][1], l.Vents[3][0])) / 2 * 180 / math.Pi
	for _, c := range []struct {
		what      string
		r, deg, z float64
		want      bool
	}{
		{"between two vents", middle, between, m.Tread.Top, true},
		{"inside", middle, between, m.Tread.Top - 5, false},
		{"over the hub", m.Tread.InnerR - 1, between, m.Tread.Top, false},
		{"outside", m.Tread.UpperOuter, between, m.Tread.Top, false},
		{"at the sprue", middle, 90, m.Tread.Top, false},
		{"under its mouth", middle, 90 + (l.MouthR+.5)/middle*180/math.Pi, m.Tread.Top, false},
	} {
		if got := at(c.r, c.deg, c.z); got != c.want {
			t.Errorf("%s: %v", c.what, got)
		}
	}
}

// Every second of the plan but the air traps' is closed form.
func BenchmarkPlan(b *testing.B) {
	for _, name := range []string{"albatross", "kestrel", "wren"} {
		m, volumes := made(b, moldtest.Example(b, name))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := New(m, volumes, 1, Options{Wheels: 1, Molds: 1}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	m, _ := made(b, moldtest.Example(b, "albatross"))
	b.Run("albatross/air at 1 mm", func(b *testing.B) {
		for b.Loop() {
			c, err := cavityOf(m, 1)
			if err != nil {
				b.Fatal(err)
			}
			airOf(m, c)
		}
	})
	volumes := map[string]float64{}
	b.Run("albatross/all but air", func(b *testing.B) {
		for b.Loop() {
			if _, err := settled(m, volumes, 1, Options{Wheels: 1, Molds: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// What one batch can pour within its pot life by hand: ΔP/K times ∫dt/μ from the
// start of the pour, Hagen and Poiseuille with the end loss of a short tube; and the
// figures of the report follow from it.
func TestPotLifeLimitsTheBatch(t *testing.T) {
	j := handbook(t)
	j.Mold.Sprue.Gate, j.Mold.Sprue.Mouth = 13, 13
	p := planned(t, j, 0, Options{Wheels: 1, Molds: 1})
	tau := 1200 / math.Log(10)
	mobility := tau / .8 * (math.Exp(-480/tau) - math.Exp(-1200/tau))
	k := 8*20/(math.Pi*math.Pow(6.5, 4)) + 3/math.Pow(6.5, 3)
	most := 1040 * 9.80665 * .030 * mobility / k / 1000 * 1.04
	decides := false
	for _, l := range p.Mix.Limits {
		if l.Name == "pot life" {
			decides = l.Decides
			near(t, "most that pours, g", l.Most, most, .03) // less the stream's velocity
		}
	}
	if !decides || p.Mix.Batches != int(math.Ceil(p.Mix.Need.Mixed/most)) {
		t.Errorf("%d batches, limits %+v", p.Mix.Batches, p.Mix.Limits)
	}
	var told float64
	if _, after, ok := strings.Cut(p.Warnings.Error(), "so narrow that only "); ok {
		fmt.Sscan(after, &told)
	}
	near(t, "most that pours, g, as told", told, most, .03)
	near(t, "volume", p.Sprue.Volume, p.Mix.Batch.Poured/1.04*1000, 1e-9)
	near(t, "left", p.Sprue.Left, 720, 1e-9)
	near(t, "head", p.Sprue.Head, 1040*9.80665*.030, 1e-9)
	if p.Unhurried.Batches != 2 || p.Verdict() != Restricted || !strings.Contains(p.Warnings.Error(), "batches in place of 2") {
		t.Errorf("narrow gates: %s, %v", p.Verdict(), p.Warnings)
	}
	if p.Sprue.Run > p.Sprue.Left || len(p.Sprue.Smallest) != 4 {
		t.Errorf("%+v", p.Sprue)
	}
	m, _ := made(t, j)
	easy := pouringOf(m, p.Liquid)
	easy.Vents, easy.Sprues.Gate, easy.Sprues.Mouth = nil, p.Sprue.Easy, p.Sprue.Easy
	near(t, "in half of the time", easy.Volume(480, 480+360), p.Unhurried.Batch.Poured/1.04*1000, 1e-6)
	for _, g := range p.Sprue.Smallest {
		flow := pouringOf(m, p.Liquid)
		flow.Vents, flow.Sprues.Count = nil, g.Count
		for end, gate := range map[float64]float64{j.Pour.Start + j.Pour.Duration: g.Wanted, j.Pour.PotLife: g.InPotLife} {
			flow.Sprues.Gate, flow.Sprues.Mouth = gate, gate
			near(t, "just poured", flow.Volume(j.Pour.Start, end), p.Unhurried.Batch.Poured/1.04*1000, 1e-6)
		}
	}
}

// Vents far too small for the air are told, with the diameter that does; stubs are
// cut by their own size.
func TestVentsAreJudged(t *testing.T) {
	j := handbook(t)
	j.Mold.Vents.Count, j.Mold.Vents.Diameter = 1, .8
	p := planned(t, j, 0, Options{Wheels: 1, Molds: 1})
	near(t, "share", p.Vent.Share, p.Vent.Loss/p.Sprue.Head, 1e-12)
	if p.Vent.Share < AirShare || p.Vent.Smallest <= .8 || p.Vent.Knife != CutOnce || p.Sprue.Knife == CutOnce {
		t.Errorf("%+v", p.Vent)
	}
	if !strings.Contains(p.Warnings.Error(), "mold.vents.diameter") {
		t.Errorf("warnings %v", p.Warnings)
	}
	j.Mold.Vents.Diameter = ceilTenth(p.Vent.Smallest)
	p = planned(t, j, 0, Options{Wheels: 1, Molds: 1})
	if p.Vent.Share > AirShare || strings.Contains(p.Warnings.Error(), "mold.vents.diameter") {
		t.Errorf("after following it: %+v, %v", p.Vent, p.Warnings)
	}
}

// What may spoil a pour is told: hands that are not free, prints that soften.
func TestPlanWarns(t *testing.T) {
	j := handbook(t)
	j.Pour.Duration = 600
	if p := planned(t, j, 0, Options{Wheels: 1, Molds: 1}); !strings.Contains(p.Warnings.Error(), "more people") || p.Clock.NextUntil != 720 || p.Clock.JointAt != 1920 {
		t.Errorf("slow hands: %v, %+v", p.Warnings, p.Clock)
	}
	j = moldtest.Example(t, "wren", "pour.gel_temperature=60C", "pour.pigment=1%", "pour.bucket.volume=15ml", "pour.bucket.diameter=25mm")
	p := planned(t, j, 0, Options{Wheels: 1, Molds: 1})
	for _, want := range []string{"too hot for the mold, which softens from 60", "too hot for the hub, which softens from 60", "print it of a plastic that stands more", "layers"} {
		if !strings.Contains(p.Warnings.Error(), want) {
			t.Errorf("%q is missing in %v", want, p.Warnings)
		}
	}
	// A turned hub is not printed of anything.
	p = planned(t, moldtest.Example(t, "kestrel", "hub.softening=60C", "pour.gel_temperature=60C"), 0, Options{Wheels: 1, Molds: 1})
	if w := p.Warnings.Error(); !strings.Contains(w, "too hot for the hub") || !strings.Contains(w, "make it of a material that stands more") || strings.Contains(w, "print it") {
		t.Errorf("a turned hub: %v", p.Warnings)
	}
}

// A trap's doubt is the change with columns twice as wide, the roof's figures follow
// from its area: pits under the cover do not show, a layer to trim weighs what its
// volume does, and a mold that leans keeps air at its rim.
func TestRoof(t *testing.T) {
	p := planned(t, moldtest.Example(t, "kestrel"), 0, Options{Wheels: 1, Molds: 1})
	m, _ := made(t, moldtest.Example(t, "kestrel"))
	r, inner, outer := &p.Air.Roof, m.Tread.InnerR, m.Tread.UpperOuter
	annulus := math.Pi * (outer*outer - inner*inner)
	near(t, "area", r.Area, annulus, .03) // and the level foot of the round edge
	near(t, "covered", r.Covered, math.Pi*(49*49-inner*inner), .03)
	near(t, "layer", r.Layer, r.Area*2/1000*1.04, 1e-9)
	near(t, "bands", r.Bands[0]+r.Bands[1]+r.Bands[2]+r.Bands[3], r.Area, 1e-9)
	if r.Tilted < 20 || r.Tilted > 500 || r.Coned == nil || r.Coned.Volume != 0 || r.Coned.Error != "" {
		t.Errorf("%+v", r)
	}
	// Two grooves' roofs and two undercuts' of the hub, and the half-round one's crest.
	if p.Air.Inner < 2000 || p.Air.Inner > 3000 {
		t.Errorf("inner roofs %g mm²", p.Air.Inner)
	}
	lean := planned(t, moldtest.Example(t, "kestrel", "pour.tilt=4deg", "pour.tilt_toward=30deg"), 0, Options{Wheels: 1, Molds: 1})
	a := &lean.Air
	if len(a.Traps) == 0 || a.Traps[0].Top[0] < 40 || a.Traps[0].Top[1] < 20 || a.Doubt > .1*a.Volume || a.Volume < a.Traps[0].Volume {
		t.Errorf("leaning to 30°: %+v", a)
	}
}

// A sprue that the urethane fills lets no air out: what gathers there stays, or
// bubbles out against the stream.
func TestSpruesDrainNothing(t *testing.T) {
	a := planned(t, moldtest.Example(t, "kestrel", "pour.tilt=4deg", "pour.tilt_toward=90deg"), 0, Options{}).Air
	if len(a.Traps) == 0 || len(a.Traps[0].Gates) != 1 || a.Traps[0].Gates[0] != "sprue 1" {
		t.Errorf("leaning to the sprue: %+v", a.Traps)
	}
}

// A stated density is trusted more, and a batch for another mold does not hurry.
func TestStatedDensityAndMolds(t *testing.T) {
	p := planned(t, moldtest.Example(t, "kestrel", "pour.density=1.05g/cm3"), 0, Options{Wheels: 2, Molds: 2})
	cast := p.Mix.Need.Rubber / 2
	near(t, "void", p.Weights.Void, (.01+1.5*p.Shrinkage.Cooling)*cast+.1, 1e-9)
	// What has shrunk to the wheel's size, by the forecast's own diameters and widths.
	volume := func(s cure.Size) float64 {
		return (s.Diameter*s.Diameter - p.Shrinkage.Core*p.Shrinkage.Core) * s.Width
	}
	near(t, "rubber", p.Weights.Rubber/cast, volume(p.Shrinkage.Bonded)/volume(p.Shrinkage.Cavity), 1e-9)
	if p.Weights.Rubber > .985*cast {
		t.Errorf("%g g cast weigh %g g once cured", cast, p.Weights.Rubber)
	}
	if p.Mix.Batches != 2 || p.Clock.NextUntil != 0 || p.Clock.NextFrom != p.Clock.PourEnd {
		t.Errorf("%d batches for 2 molds, %+v", p.Mix.Batches, p.Clock)
	}
}
