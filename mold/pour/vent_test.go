package pour

import (
	"math"
	"testing"
)

// Air of 1.8e-5 Pa·s and 1.2 kg/m³ through one vent of 3 mm, 20 mm long, at
// 12435 mm³/s, worked by hand: 8μLQ/(πR⁴) = 2.252 Pa, and 1.5·ρv²/2 with
// v = 1.759 m/s = 2.785 Pa.
func TestAirTakesTheWorkedPressure(t *testing.T) {
	v := Vents{1, 3, 20}
	linear, square := v.resistance()
	near(t, "viscous", linear*12435, 2.252, 1e-3)
	near(t, "ends", square*12435*12435, 2.785, 1e-3)
	near(t, "both", v.Loss(12435), 5.037, 1e-3)
	near(t, "three share the flow", Vents{3, 3, 20}.Loss(3*12435), 5.037, 1e-3)
}

// The smallest vents lose what they may, and smaller ones more.
func TestSmallestVentsLoseWhatTheyMay(t *testing.T) {
	for _, flow := range []float64{10, 1e3, 1e5} {
		v := Vents{Count: 4, Length: 25}
		d, ok := v.Smallest(flow, 30)
		if !ok {
			t.Fatal("none")
		}
		v.Diameter = d
		near(t, "loss", v.Loss(flow), 30, 1e-9)
		if v.Diameter = 0.95 * d; v.Loss(flow) <= 30 {
			t.Error("smaller ones lose no more")
		}
	}
	if _, ok := (Vents{Length: 20}).Smallest(10, 30); ok {
		t.Error("no vents are wide enough")
	}
	if _, ok := (Vents{Count: 1, Length: 20}).Smallest(10, 0); ok {
		t.Error("no loss is little enough")
	}
}

// Gate and vents together: what the air takes and what the liquid takes add up to
// the head, and vents of the smallest diameter cost less than a tenth of it.
func TestAirPushesBack(t *testing.T) {
	p := Pouring{Liquid: casting(), Sprues: Sprues{2, 14, 20, 20}, Head: 30, Vents: &Vents{3, 1, 20}}
	free := p
	free.Vents = nil
	if !(p.Flow(480) < free.Flow(480)) {
		t.Error("narrow vents slow nothing")
	}
	mu := p.Liquid.ViscosityAt(480)
	liquid := p.Sprues.resistance()*mu*p.Flow(480) + p.Inertia(480)*p.Liquid.Head(30)
	near(t, "head", liquid+p.AirLoss(480), p.Liquid.Head(30), 1e-9)

	d, ok := free.SmallestVents(Vents{Count: 3, Length: 20}, 480)
	if !ok {
		t.Fatal("none")
	}
	p.Vents = &Vents{3, d, 20}
	if share := p.AirLoss(480) / p.Liquid.Head(30); share > AirShare || share < 0.8*AirShare {
		t.Errorf("vents of %g mm cost %g of the head", d, share)
	}
	near(t, "flow is slowed by less than that", p.Flow(480), free.Flow(480), AirShare)
}

// The limits at Shore A 60 are the stated ones; with Gent's moduli of 3.6051 MPa
// there and 9.3514 at 80 (worked from the formula) they fall to 4.967 and 12.42 mm.
// Harder rubber never gets easier to cut, nor a thicker stub.
func TestCuts(t *testing.T) {
	near(t, "modulus at 60", gent(60), 3.6051, 2e-5)
	near(t, "modulus at 80", gent(80), 9.3514, 2e-5)
	for _, c := range []struct {
		diameter, hardness float64
		want               Cut
	}{
		{8, 60, CutOnce}, {8.1, 60, CutRepeats}, {20, 60, CutRepeats}, {20.1, 60, CutSawn},
		{4.9, 80, CutOnce}, {5, 80, CutRepeats}, {12.4, 80, CutRepeats}, {12.5, 80, CutSawn}, {11, 40, CutOnce},
	} {
		if got := CutOf(c.diameter, c.hardness); got != c.want {
			t.Errorf("%g mm at Shore A %g: %s, want %s", c.diameter, c.hardness, got, c.want)
		}
	}
	last := math.Inf(1)
	for h := 0.0; h <= 120; h += 5 {
		once, repeats := CutLimits(h)
		if !(once > 0 && once <= last && repeats > once) {
			t.Errorf("Shore A %g: %g and %g mm", h, once, repeats)
		}
		last = once
	}
}
