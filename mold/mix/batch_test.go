package mix

import (
	"slices"
	"strings"
	"testing"

	"wheelmold/params"
)

// deciding names the limits that set the number of batches.
func deciding(p *Plan) (out []string) {
	for _, l := range p.Limits {
		if l.Decides {
			out = append(out, l.Name)
		}
	}
	return out
}

// A bucket of 10 l of which a third stays free takes 6933 g: a wheel of some
// 7 kg takes two batches, as in common practice.
func TestBigWheelTakesTwoBatches(t *testing.T) {
	p := pour()
	plan := mustPlan(t, p, Input{Rubber: 6400, Channels: 150, Flash: 20})
	if plan.Batches != 2 || !slices.Equal(deciding(plan), []string{"bucket"}) {
		t.Errorf("%d batches by %v", plan.Batches, deciding(plan))
	}
	if !near(plan.Limits[0].Most, 10000*2/3.0*1.04, 1e-12) {
		t.Errorf("%+v", plan.Limits)
	}
	if len(plan.Warnings) > 0 {
		t.Errorf("warnings %v", plan.Warnings)
	}
}

// Each limit alone, just kept and just exceeded.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name   string
		set    func(p *params.Pour, in *Input)
		rubber float64
		n      int
	}{
		{"", func(p *params.Pour, in *Input) {}, 6900, 1},
		{"bucket", func(p *params.Pour, in *Input) {}, 6940, 2},
		{"scale", func(p *params.Pour, in *Input) { p.Scale.Limit = 2000 }, 5990, 3},
		{"scale", func(p *params.Pour, in *Input) { p.Scale.Limit = 2000 }, 6010, 4},
		{"batch mass", func(p *params.Pour, in *Input) { p.BatchMass = 500 }, 500.5, 2},
		{"", func(p *params.Pour, in *Input) { p.BatchMass = 500 }, 500, 1},
		{"pot life", func(p *params.Pour, in *Input) { in.Most = 999 }, 2000, 3},
		// A quarter of the bucket under vacuum: 2600 g.
		{"", func(p *params.Pour, in *Input) { p.Degas = "vacuum" }, 2600, 1},
		{"bucket", func(p *params.Pour, in *Input) { p.Degas = "vacuum" }, 2610, 2},
	} {
		p, in := plain(), Input{Rubber: c.rubber}
		c.set(&p, &in)
		plan := mustPlan(t, p, in)
		if plan.Batches != c.n || strings.Join(deciding(plan), ",") != c.name {
			t.Errorf("%s, %g g: %d batches by %v, want %d", c.name, c.rubber, plan.Batches, deciding(plan), c.n)
		}
	}
}

// What stays behind grows with the batches and makes for more of them: at 100 g
// for each, ten batches of 1000 g pour 9000 g, and nine would not.
func TestResidueCountsInEveryBatch(t *testing.T) {
	p := plain()
	p.BatchMass = 1000
	p.Bucket.Vessels = 1
	p.Bucket.Residue = 100 / (bottom(&p.Bucket) * p.Density / cubicCentimeter)
	plan := mustPlan(t, p, Input{Rubber: 8999})
	if plan.Batches != 10 || !near(plan.Need.Residue, 1000, 1e-9) {
		t.Errorf("%d batches, %+v", plan.Batches, plan.Need)
	}
}

// The pot life limits what is poured, not what stays behind.
func TestPotLifeCountsWhatIsPoured(t *testing.T) {
	p := plain()
	p.Waste = 0.5
	if plan := mustPlan(t, p, Input{Rubber: 1000, Most: 1000}); plan.Batches != 1 || plan.Batch.Mass != 2000 {
		t.Errorf("%d batches of %g g", plan.Batches, plan.Batch.Mass)
	}
}

func TestTooManyBatches(t *testing.T) {
	p := plain()
	p.Bucket.Volume, p.Scale.Limit = 500, 400
	f := faultsOf(t, p, Input{Rubber: 6000, Most: 10})
	var keys []string
	for _, f := range f {
		keys = append(keys, f.Path)
	}
	if !slices.Equal(keys, []string{"pour.bucket.volume", "pour.scale.limit", "pour.pot_life"}) {
		t.Errorf("refused with %v", f)
	}
	// 500 g in a bucket at 1.04 g/cm³ of which two thirds are filled: 721.2 cm³.
	if f[0].Allowed != "at least 722 cm3" || f[1].Allowed != "at least 500 g" {
		t.Errorf("refused with %v", f)
	}
	p.Bucket.Volume, p.Scale.Limit = 722, 500
	if plan := mustPlan(t, p, Input{Rubber: 6000}); plan.Batches != 12 {
		t.Errorf("%d batches", plan.Batches)
	}
}

// A bucket that what stays behind alone overfills.
func TestBucketTooSmallForAnyBatch(t *testing.T) {
	p := plain()
	p.Bucket.Volume, p.Bucket.Residue = 100, 5
	if f := faultsOf(t, p, Input{Rubber: 50}); f[0].Path != "pour.bucket.volume" || !strings.Contains(f[0].Cause, "stay behind") {
		t.Errorf("refused with %v", f)
	}
}

// No batch is shared out: where two would hold the urethane of three molds, it takes
// three.
func TestBatchesFillWholeMolds(t *testing.T) {
	p := plain()
	p.BatchMass = 1000
	for _, c := range []struct {
		molds, batches int
		rubber         float64
	}{{3, 3, 660}, {4, 2, 495}, {4, 4, 600}, {2, 4, 1900}, {3, 1, 330}} {
		if plan := mustPlan(t, p, Input{Rubber: c.rubber, Molds: c.molds}); plan.Batches != c.batches {
			t.Errorf("%d molds of %g g: %d batches, want %d", c.molds, c.rubber, plan.Batches, c.batches)
		}
	}
	// A twelfth of seven such molds would fit, but no number of whole batches up to 12.
	if f := faultsOf(t, p, Input{Rubber: 1200, Molds: 7}); len(f) != 1 || f[0].Path != "pour.batch_mass" || !strings.Contains(f[0].Cause, "each of 7 batches") {
		t.Errorf("refused with %v", f)
	}
}

// Where every batch fills whole molds, no wheel has layers; nor where nothing but A
// and B is mixed, for then all batches are alike.
func TestLayers(t *testing.T) {
	p := plain()
	p.BatchMass = 1000
	if plan := mustPlan(t, p, Input{Rubber: 1980}); plan.Batches != 2 || warned(plan, "pour.batch_mass", "layers") {
		t.Errorf("%d batches of A and B alone: %v", plan.Batches, plan.Warnings)
	}
	p.Pigment = 0.001
	for _, c := range []struct {
		molds, batches int
		layers         bool
	}{{1, 1, false}, {2, 2, false}, {3, 3, false}, {1, 2, true}, {4, 2, false}, {2, 4, true}} {
		rubber := 990 * float64(c.batches) / float64(c.molds)
		plan := mustPlan(t, p, Input{Rubber: rubber, Molds: c.molds})
		if plan.Batches != c.batches || warned(plan, "pour.batch_mass", "layers") != c.layers {
			t.Errorf("%d molds: %d batches, warnings %v", c.molds, plan.Batches, plan.Warnings)
		}
	}
}

// A plan says what it takes for granted, and only that.
func TestAssumed(t *testing.T) {
	p := plain()
	p.Bucket.Vessels, p.Kit.Mass = 1, 0
	if a := mustPlan(t, p, Input{Rubber: 500}).Assumed; a != nil {
		t.Errorf("assumed %v", a)
	}
	p.Scale.Limit, p.Degas, p.Kit.Mass, p.Bucket.Vessels = 5000, "vacuum", 1000, 2
	p.Blend = params.Blend{With: 80, Wanted: 70, PartsA: 1, PartsB: 1}
	all := strings.Join(mustPlan(t, p, Input{Rubber: 500}).Assumed, "\n")
	for _, text := range []string{"as wet as the first", "vessel's mass", "foams", "within 4 Shore A", "fills all molds", "same price"} {
		if !strings.Contains(all, text) {
			t.Errorf("does not say %q:\n%s", text, all)
		}
	}
}

// Wide gates and a long pot life let tons through: that is no limit, and no error.
func TestGatesThatLetTonsThrough(t *testing.T) {
	p := plain()
	if plan := mustPlan(t, p, Input{Rubber: 1000, Most: 3e7}); plan.Batches != 1 {
		t.Errorf("%d batches", plan.Batches)
	}
}

// A pot life cannot be stated so that it is long enough without the gates: the fault
// says that it has to be longer, and what the gates let through.
func TestPotLifeTooShortSaysSo(t *testing.T) {
	p := plain()
	f := faultsOf(t, p, Input{Rubber: 6000, Most: 10})[0]
	if !strings.HasPrefix(f.Allowed, "more than ") || !strings.Contains(f.Cause, "the gates let through only 10 g") {
		t.Errorf("%v", f)
	}
}
