package mix

import (
	"testing"

	"wheelmold/params"
)

// Reference: arithmetic. Kits of 1000 g, 300 g for a wheel: 10 wheels take 3 kits
// of 1000 g, each is enough for 3.
func TestKits(t *testing.T) {
	p := plain()
	p.Kit = params.Kit{Mass: 1000, Price: 15}
	k := mustPlan(t, p, Input{Rubber: 300, Wheels: 10}).Kits
	s := k.Systems[0]
	if k.Mixes != 10 || s.Kits != 3 || s.Used != 3000 || s.Left != 0 || s.Wheels != 3 {
		t.Errorf("%+v", k)
	}
	if !near(k.Material, 4.5, 1e-12) || !near(k.Bought, 4.5, 1e-12) || !near(k.PerGram, 0.015, 1e-12) {
		t.Errorf("%+v", k)
	}
	k = mustPlan(t, p, Input{Rubber: 300, Wheels: 4}).Kits
	if s := k.Systems[0]; s.Kits != 2 || s.Left != 800 || !near(k.Material, 4.5, 1e-12) || !near(k.Bought, 7.5, 1e-12) {
		t.Errorf("%+v", k)
	}
}

// Two molds for each mix: five wheels take three mixes, of which one kit holds one.
func TestKitsForSeveralMolds(t *testing.T) {
	p := plain()
	p.Kit = params.Kit{Mass: 1000, Price: 20}
	k := mustPlan(t, p, Input{Rubber: 300, Molds: 2, Wheels: 5}).Kits
	if s := k.Systems[0]; k.Mixes != 3 || s.Used != 1800 || s.Kits != 2 || s.Wheels != 2 || !near(k.Material, 6, 1e-12) || !near(k.Bought, 8, 1e-12) {
		t.Errorf("%+v", k)
	}
	if k := mustPlan(t, p, Input{Rubber: 300, Molds: 2}).Kits; k.Mixes != 1 || !near(k.Bought, 10, 1e-12) {
		t.Errorf("%+v", k)
	}
}

// Batches count, pigment does not.
func TestKitsForBatches(t *testing.T) {
	p := plain()
	p.Kit.Mass, p.BatchMass, p.Pigment = 1000, 600, 0.01
	k := mustPlan(t, p, Input{Rubber: 1010, Wheels: 2}).Kits
	if s := k.Systems[0]; s.Used != 2000 || s.Kits != 2 || s.Wheels != 1 {
		t.Errorf("%+v", k)
	}
}

// Some 6 to 7 of a currency a pound, as an invented kit of 15.4 lb for 100:
// reference: arithmetic, 1 lb = 453.59237 g.
func TestPriceOfAPound(t *testing.T) {
	p := plain()
	p.Kit = params.Kit{Mass: 15.4 * 453.59237, Price: 100}
	k := mustPlan(t, p, Input{Rubber: 454}).Kits
	if pound := k.PerGram * 453.59237; !near(pound, 100/15.4, 1e-12) || pound < 6 || pound > 7 {
		t.Errorf("%g a pound", pound)
	}
	if !near(k.Material, 454*k.PerGram, 1e-12) {
		t.Errorf("%+v", k)
	}
}

// Kits of both urethanes of a blend: 250 and 750 g.
func TestKitsOfABlend(t *testing.T) {
	p := plain()
	p.Kit = params.Kit{Mass: 500, Price: 10}
	p.Blend = params.Blend{With: 80, Wanted: 75, PartsA: 1, PartsB: 1}
	k := mustPlan(t, p, Input{Rubber: 1000}).Kits
	if len(k.Systems) != 2 || k.Systems[0] != (Supply{"60 A", 250, 1, 250, 2}) || k.Systems[1] != (Supply{"80 A", 750, 2, 250, 0}) {
		t.Errorf("%+v", k)
	}
	if !near(k.Material, 20, 1e-12) || !near(k.Bought, 30, 1e-12) {
		t.Errorf("%+v", k)
	}
}
