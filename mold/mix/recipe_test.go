package mix

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/params"
)

// sets is what to weigh of each component.
func sets(b *Batch) map[string]float64 {
	out := map[string]float64{}
	for _, c := range b.Components {
		out[c.Name] = c.Set
	}
	return out
}

func names(b *Batch) (out []string) {
	for _, c := range b.Components {
		out = append(out, c.Name)
	}
	return out
}

func parts(b *Batch) (out []Part) {
	for _, c := range b.Components {
		out = append(out, c.Part)
	}
	return out
}

// Reference: arithmetic. 6984 g at 100:75 are 3990.86 and 2993.14 g.
func TestRatioByWeight(t *testing.T) {
	p := plain()
	p.PartsA, p.PartsB, p.Bucket.Volume = 100, 75, 20000
	b := mustPlan(t, p, Input{Rubber: 6984}).Batch
	if s := sets(&b); s["A"] != 3991 || s["B"] != 2993 || b.Weighed != 6984 {
		t.Errorf("weighed %v, %g g in all", s, b.Weighed)
	}
	if a := b.Components[0]; !near(a.Mass, 6984*100/175.0, 1e-12) || a.Total != 3991 || !near(a.Volume, 3991/p.DensityA, 1e-12) {
		t.Errorf("%+v", a)
	}
	if !slices.Equal(names(&b), []string{"A", "B"}) {
		t.Errorf("weighed in the order %v", names(&b))
	}
}

// Reference: arithmetic. 26.6 in³/lb are 453.59237/(26.6·16.387064) g/cm³, and a
// pound of the mix fills 26.6 in³ of the bucket.
func TestDensityOfAPound(t *testing.T) {
	density := 453.59237 / (26.6 * 16.387064)
	if !near(density, 1.0406, 1e-4) {
		t.Errorf("%g g/cm³", density)
	}
	p := plain()
	p.Density, p.Scale.Resolution = density, 0
	b := mustPlan(t, p, Input{Rubber: 453.59237}).Batch
	if got := b.Share * p.Bucket.Volume / 16.387064; !near(got, 26.6, 1e-9) {
		t.Errorf("fills %g in³", got)
	}
	if got := b.Height * math.Pi / 4 * 240 * 240 / 16387.064; !near(got, 26.6, 1e-9) {
		t.Errorf("is as high as %g in³", got)
	}
}

// Reference: arithmetic. Equal volumes at 1.05 and 1.01 g/cm³ weigh 105:101; the
// masses over the densities give the volumes back.
func TestRatioByVolume(t *testing.T) {
	p := plain()
	p.RatioBy, p.Scale.Resolution = "volume", 0
	s := sets(&mustPlanBatch(t, p, 1000).Batch)
	if !near(s["A"], 1000*1.05/2.06, 1e-12) || !near(s["B"], 1000*1.01/2.06, 1e-12) {
		t.Errorf("weighed %v", s)
	}
	if a, b := s["A"]/p.DensityA, s["B"]/p.DensityB; !near(a, b, 1e-12) {
		t.Errorf("volumes %g and %g", a, b)
	}
	p.PartsA, p.PartsB = 2, 1
	s = sets(&mustPlanBatch(t, p, 1000).Batch)
	byWeight := p
	byWeight.RatioBy, byWeight.PartsA, byWeight.PartsB = "weight", s["A"], s["B"]
	if again := sets(&mustPlanBatch(t, byWeight, 1000).Batch); !near(again["A"], s["A"], 1e-12) {
		t.Errorf("by volume %v, by weight %v", s, again)
	}
}

func mustPlanBatch(t *testing.T, p params.Pour, rubber float64) *Plan {
	t.Helper()
	return mustPlan(t, p, Input{Rubber: rubber})
}

// Pigment is a share of A and B, and part of what is needed.
func TestPigment(t *testing.T) {
	p := plain()
	p.Pigment, p.Scale.Resolution = 0.01, 0.1
	plan := mustPlan(t, p, Input{Rubber: 1010})
	if s := sets(&plan.Batch); s["A"] != 500 || s["B"] != 500 || s["pigment"] != 10 || plan.Batch.Weighed != 1010 {
		t.Errorf("weighed %v", s)
	}
	if !slices.Equal(names(&plan.Batch), []string{"A", "B", "pigment"}) {
		t.Errorf("weighed in the order %v", names(&plan.Batch))
	}
	if got := parts(&plan.Batch); !slices.Equal(got, []Part{PartA, PartB, Neither}) {
		t.Errorf("parts %v", got)
	}
	if !near(plan.Scale.Pigment, 0.01, 1e-12) {
		t.Errorf("pigment of %g", plan.Scale.Pigment)
	}
}

// Rounded up, the pigment would spoil the cure: the limit is 0.81 g of 27 g.
func TestPigmentStaysWithinItsLimit(t *testing.T) {
	p := plain()
	p.Pigment, p.Scale.Resolution = 0.03, 0.5
	plan := mustPlan(t, p, Input{Rubber: 27 * 1.03})
	if s := sets(&plan.Batch); s["pigment"] != 0.5 || plan.Scale.Pigment > p.PigmentLimit {
		t.Errorf("weighed %v", s)
	}
}

func TestPigmentTooLittleToWeigh(t *testing.T) {
	p := plain()
	p.Pigment = 0.002
	plan := mustPlan(t, p, Input{Rubber: 150})
	if s := sets(&plan.Batch); s["pigment"] != 0 || plan.Batch.Weighed < 150 {
		t.Errorf("weighed %v", s)
	}
	if !warned(plan, "pour.pigment", "left out") {
		t.Errorf("warnings %v", plan.Warnings)
	}
}

func warned(p *Plan, key, text string) bool {
	return slices.ContainsFunc(p.Warnings, func(f params.Fault) bool { return f.Path == key && strings.Contains(f.Error(), text) })
}

// Reference: arithmetic. Equal masses of 60 A and 80 A make 70 A; 65 A takes a
// quarter of the harder one. Each at its own ratio.
func TestBlend(t *testing.T) {
	p := plain()
	p.PartsA, p.PartsB, p.Scale.Resolution = 100, 75, 0
	p.Blend = params.Blend{With: 80, Wanted: 70, PartsA: 1, PartsB: 3, DensityA: 1.1, DensityB: 1}
	plan := mustPlan(t, p, Input{Rubber: 700})
	want := map[string]float64{"60 A, part A": 200, "60 A, part B": 150, "80 A, part A": 87.5, "80 A, part B": 262.5}
	for name, set := range sets(&plan.Batch) {
		if !near(set, want[name], 1e-12) {
			t.Errorf("%s: %g g, want %g g", name, set, want[name])
		}
	}
	if !slices.Equal(names(&plan.Batch), []string{"60 A, part A", "80 A, part A", "60 A, part B", "80 A, part B"}) {
		t.Errorf("weighed in the order %v", names(&plan.Batch))
	}
	if got := parts(&plan.Batch); !slices.Equal(got, []Part{PartA, PartA, PartB, PartB}) {
		t.Errorf("parts %v", got)
	}
	if b := plan.Blend; b.Share != [2]float64{0.5, 0.5} || b.Uncertainty != 4 || !near(b.Weighed, 70, 1e-12) {
		t.Errorf("%+v", b)
	}
	p.Blend.Wanted = 65
	if b := mustPlan(t, p, Input{Rubber: 700}).Blend; b.Share != [2]float64{0.75, 0.25} {
		t.Errorf("%+v", b)
	}
}

// The second urethane's volumes count with its own densities.
func TestBlendByVolume(t *testing.T) {
	p := plain()
	p.RatioBy, p.Scale.Resolution = "volume", 0
	p.Blend = params.Blend{With: 80, Wanted: 70, PartsA: 1, PartsB: 2, DensityA: 1.2, DensityB: 0.9}
	s := sets(&mustPlan(t, p, Input{Rubber: 1000}).Batch)
	if !near(s["80 A, part A"]/1.2*2, s["80 A, part B"]/0.9, 1e-12) || !near(s["60 A, part A"]/1.05, s["60 A, part B"]/1.01, 1e-12) {
		t.Errorf("weighed %v", s)
	}
}

func TestBlendOfOne(t *testing.T) {
	p := plain()
	p.Blend = params.Blend{With: 80, Wanted: 80, PartsA: 1, PartsB: 1}
	plan := mustPlan(t, p, Input{Rubber: 1000})
	if !slices.Equal(names(&plan.Batch), []string{"80 A, part A", "80 A, part B"}) || !warned(plan, "pour.blend.wanted", "nothing is blended") {
		t.Errorf("weighed %v, warnings %v", names(&plan.Batch), plan.Warnings)
	}
}

// A small wheel on a kitchen scale. Reference: arithmetic; 17 g at 100:75 are
// 9.71 and 7.29 g: of 17, 18 and 19 g in whole grams, 11:8 is nearest to 4:3.
func TestRoundingOfASmallWheel(t *testing.T) {
	p := plain()
	p.PartsA, p.PartsB = 100, 75
	plan := mustPlan(t, p, Input{Rubber: 17})
	if s := sets(&plan.Batch); s["A"] != 11 || s["B"] != 8 {
		t.Errorf("weighed %v", s)
	}
	if e := plan.Scale; !near(e.Ratio, 11.0/8/(4.0/3)-1, 1e-12) || !near(e.HalfStep, 0.5/(17*3/7.0), 1e-12) || e.Smallest != "B" {
		t.Errorf("%+v", e)
	}
	if !warned(plan, "pour.scale.resolution", "off by 3.1 % (keep within 1 to 2 %); one step is 14 % of B") {
		t.Errorf("warnings %v", plan.Warnings)
	}
}

// What the scale shows has no stray digits: 11.7 and 19.9, not 11.700000000000001. 11.7 to 8.2
// is 0.1 % off, 11.6 to 8.1 would be 0.2 %.
func TestDecimalSteps(t *testing.T) {
	p := plain()
	p.PartsA, p.PartsB, p.Scale.Resolution = 100, 70, 0.1
	b := mustPlan(t, p, Input{Rubber: 19.64}).Batch
	if s := sets(&b); s["A"] != 11.7 || s["B"] != 8.2 || b.Weighed != 19.9 {
		t.Errorf("weighed %v, %v g in all", s, b.Weighed)
	}
}

// A good ratio does not make up for steps that are large.
func TestCoarseScaleWithAnEvenRatio(t *testing.T) {
	p := plain()
	plan := mustPlan(t, p, Input{Rubber: 40})
	if plan.Scale.Ratio != 0 || !warned(plan, "pour.scale.resolution", "one step is 5 % of A") {
		t.Errorf("%+v, warnings %v", plan.Scale, plan.Warnings)
	}
	p.Scale.Resolution = 0.1
	if w := mustPlan(t, p, Input{Rubber: 40}).Warnings; w != nil {
		t.Errorf("warnings %v", w)
	}
}

// 600 g are weighed well enough in steps of 5 g, but not in batches of 60 g: twelve
// are 9:3 steps each, for 10:3.
func TestScaleTooCoarseForSmallBatches(t *testing.T) {
	p := plain()
	p.PartsA, p.PartsB, p.Scale.Resolution = 100, 30, 5
	if b := mustPlan(t, p, Input{Rubber: 600}).Batches; b != 1 {
		t.Errorf("%d batches", b)
	}
	p.BatchMass = 60
	if f := faultsOf(t, p, Input{Rubber: 600}); f[0].Path != "pour.scale.resolution" || !strings.Contains(f[0].Hint, "larger batches") {
		t.Errorf("refused with %v", f)
	}
}

func TestScaleThatSpoilsTheRatio(t *testing.T) {
	p := plain()
	p.PartsA, p.PartsB, p.Scale.Resolution = 100, 10, 5
	if f := faultsOf(t, p, Input{Rubber: 20}); len(f) != 1 || f[0].Path != "pour.scale.resolution" {
		t.Errorf("refused with %v", f)
	}
	p.Scale.Resolution = 500
	if f := faultsOf(t, p, Input{Rubber: 20}); f[0].Allowed != "up to 0.0363 g" { // 2 % of 20/11 g
		t.Errorf("refused with %v", f)
	}
}

// Equal parts stay equal, at the cost of a step.
func TestEqualPartsStayEqual(t *testing.T) {
	p := plain()
	p.PartsA, p.PartsB, p.Bucket.Volume = 1, 1, 20000
	b := mustPlan(t, p, Input{Rubber: 3797}).Batch
	if s := sets(&b); s["A"] != 1899 || s["B"] != 1899 {
		t.Errorf("weighed %v", s)
	}
}

// A hardness that was converted or averaged is named as finely as anybody measures it.
func TestBlendNamesAreShort(t *testing.T) {
	p := pour()
	p.Hardness, p.Blend = 60, params.Blend{With: 14.405161087105258, Wanted: 40, PartsA: 1, PartsB: 1, DensityA: 1, DensityB: 1}
	for _, c := range mustPlan(t, p, Input{Rubber: 1000}).Batch.Components {
		if len(c.Name) > len("14.41 A, part A") {
			t.Errorf("%q", c.Name)
		}
	}
}
