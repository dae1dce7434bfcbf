package params

import (
	"fmt"
	"math"
	"testing"
)

// Buckets by hand. A 90 x 40 wheel takes roughly 196 ml, 204 g: see
// TestDefaultsOfSealingAndPour. The others: 1.25·0.25·π·(D² - body²)·W.
func TestBucketScaleAndKitSuitTheWheel(t *testing.T) {
	for _, c := range []struct {
		d, w, body         float64
		add                string
		rough              float64 // cm³
		bucket, step, kit  float64
		bucketD, paddle    float64
		headRoom, kitPrice float64
	}{
		{90, 40, 55.8, "", 195.8, 500, 0.1, 1000, 81, 12, 0.33, 14},
		{90, 40, 55.8, "degas = 'vacuum'", 195.8, 1000, 0.1, 1000, 102, 15, 0.75, 14},
		{90, 40, 55.8, "batch_mass = '100 g'", 195.8, 250, 0.1, 1000, 64, 10, 0.33, 14}, // 96 ml
		{90, 40, 55.8, "bucket.head_room = '0 %'", 195.8, 250, 0.1, 1000, 64, 10, 0, 14},
		{30, 10, 18.6, "", 5.4, 50, 0.1, 1000, 38, 6, 0.33, 14},
		{150, 50, 93, "", 679.9, 2500, 1, 1000, 138, 21, 0.33, 14},
		{160, 60, 99.2, "", 928.3, 2500, 1, 8000, 138, 21, 0.33, 114},
		{280, 125, 102, "", 8344.3, 10000, 1, 8000, 220, 33, 0.33, 114},
		{280, 125, 102, "batch_mass = '8 kg'", 8344.3, 20000, 1, 8000, 277, 42, 0.33, 114}, // 7.7 l
		{280, 125, 102, "batch_mass = '50 kg'", 8344.3, 20000, 1, 8000, 277, 42, 0.33, 114},
		{500, 300, 102, "", 70569, 10000, 1, 8000, 220, 33, 0.33, 114},
	} {
		src := fmt.Sprintf("wheel = {diameter = '%g mm', width = '%g mm'}\nhub = {bore = '2 mm', body_diameter = '%g mm'}\n[pour]\n%s", c.d, c.w, c.body, c.add)
		j, _, err := Parse("f.toml", []byte(src))
		if err != nil {
			t.Errorf("%g x %g: %v", c.d, c.w, err)
			continue
		}
		p := &j.Pour
		if v := roughVolume(j); math.Abs(v/c.rough-1) > 0.01 {
			t.Errorf("%g x %g: takes %g cm³, want %g", c.d, c.w, v, c.rough)
		}
		got := [7]float64{p.Bucket.Volume, p.Scale.Resolution, p.Kit.Mass, p.Bucket.Diameter, p.Bucket.Paddle, p.Bucket.HeadRoom, p.Kit.Price}
		if want := [7]float64{c.bucket, c.step, c.kit, c.bucketD, c.paddle, c.headRoom, c.kitPrice}; got != want {
			t.Errorf("%g x %g %s: bucket, scale, kit %v, want %v", c.d, c.w, c.add, got, want)
		}
		if h := p.Bucket.height() / p.Bucket.Diameter; h < 1.1 || h > 1.3 {
			t.Errorf("%g x %g: the bucket is %g diameters high", c.d, c.w, h)
		}
	}
}

// What is stated moves what follows from it.
func TestDefaultsFollowTheUrethane(t *testing.T) {
	parse := func(add string) Pour {
		j, _, err := Parse("f.toml", []byte(sound90+"[pour]\n"+add))
		if err != nil {
			t.Fatal(err)
		}
		return j.Pour
	}
	if b := parse("density_a = '1.1 g/cm3'\nblend.with = 85").Blend; b != (Blend{85, 72.5, 1, 1, 1.1, 1.04}) {
		t.Errorf("blend with 85 A: %+v", b)
	}
	if p := parse("stir = '3 min'\nsettle = '90 s'"); p.Start != 270 {
		t.Errorf("starts after %g s", p.Start)
	}
	if p := parse("gel_time = '20 h'"); p.Demold != 40*3600 || p.Cure != 7*day {
		t.Errorf("a gel of 20 h: demold after %g s, cured after %g s", p.Demold, p.Cure)
	}
	if p := parse("demold = '10 d'"); p.Cure != 10*day {
		t.Errorf("demolded after 10 d, but cured after %g s", p.Cure)
	}
	for material, want := range map[string]float64{"nylon": 1.14, "acetal": 1.41, "printed": 1.24} {
		if j, _, err := Parse("f.toml", []byte(sound90+"material = '"+material+"'")); err != nil || j.Hub.Density != want {
			t.Errorf("%s: %v, %v", material, j, err)
		}
	}
	for _, p := range Processes {
		if j, err := Default(90, 40, 12, p.Name); err != nil || j.Process.Density != p.Density || p.Density < 1 {
			t.Errorf("%s: density %g, %v", p.Name, p.Density, err)
		}
	}
}

// A large batch has less pot life than a data sheet says; who states a time of
// their own knows.
func TestWarnsOfLargeBatches(t *testing.T) {
	large := "[wheel]\ndiameter = '160 mm'\nwidth = '60 mm'\n[hub]\nbore = '12 mm'\n"
	for add, want := range map[string]string{
		"": "",
		"[pour]\ndensity = '1.2 g/cm3'\nbatch_mass = '900 g'":   "",
		"[pour]\ndensity = '1.2 g/cm3'":                         "f.toml: pour.pot_life = 20 min: a batch of some 1100 g warms itself and has less than the cup for which data sheets state it: time one, or allow a margin, and state it",
		"[pour]\nbucket.volume = '1.2 l'":                       "",
		"[pour]\ndensity = '1.2 g/cm3'\nbatch_mass = '1.02 kg'": "f.toml:8:1: pour.pot_life = 20 min: a batch of some 1000 g warms itself and has less than the cup for which data sheets state it: time one, or allow a margin, and state it",
		"[pour]\ndensity = '1.2 g/cm3'\npot_life = '18 min'":    "",
	} {
		_, warnings, err := Parse("f.toml", []byte(large+add))
		if got := warnings.Error(); err != nil || got != want {
			t.Errorf("%q: %v\n%s\nwant\n%s", add, err, got, want)
		}
	}
}

// The estimate of self-heating by hand: 52 K · 0.65 · τ/t · (1 - exp(-t/τ)),
// τ = 4 L² / (π² · 0.1 mm²/s).
func TestSelfHeatingFigures(t *testing.T) {
	for _, c := range []struct{ thickness, gel, want float64 }{
		{17.1, 2400, 14.487}, // τ 1185 s
		{10, 2400, 5.692},    // τ 405.3 s
		{89, 2400, 32.567},   // τ 32102 s
		{2, 2400, 0.228},     // τ 16.2 s
		{17.1, 120, 32.15},
	} {
		if got := selfHeating(c.thickness, c.gel); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%g mm, %g s: %g K, want %g", c.thickness, c.gel, got, c.want)
		}
	}
	for _, c := range []struct {
		process string
		want    float64 // °C: 23 + 14.49 for 17.1 mm in metal, 23 + 19.92 for 17.1 + 5.4 mm in a print
	}{{"milled", 37}, {"resin", 43}, {"filament", 43}} {
		if j, err := Default(90, 40, 12, c.process); err != nil || j.Pour.GelTemperature != c.want {
			t.Errorf("%s: gels at %v °C, %v, want %v", c.process, j.Pour.GelTemperature, err, c.want)
		}
	}
}

// One time constant in place of a slab's many: the estimate lies between the
// slab's mean and its hottest temperature, which finite differences find.
func TestSelfHeatingOfASlab(t *testing.T) {
	for _, thickness := range []float64{3, 10, 17.1, 30, 60} {
		for _, gel := range []float64{300, 2400} {
			mean, hottest := heatedSlab(thickness, gel)
			if got := selfHeating(thickness, gel); got < mean || got > hottest {
				t.Errorf("%g mm, %g s: %g K, but the slab's mean is %g and its hottest %g", thickness, gel, got, mean, hottest)
			}
		}
	}
}

// heatedSlab solves ∂T/∂t = α ∂²T/∂x² + q by explicit steps: no flow at x = 0,
// T = 0 at the other face.
func heatedSlab(thickness, gel float64) (mean, hottest float64) {
	const cells = 60
	dx := thickness / cells
	steps := math.Ceil(gel / (0.4 * dx * dx / diffusivity))
	dt := gel / steps
	r, q := diffusivity*dt/(dx*dx), AdiabaticRise*gelConversion/gel*dt
	var now, next [cells]float64 // at the middles of the cells
	for range int(steps) {
		for i, v := range now {
			inner, outer := v, -v // insulated; mirrored about 0
			if i > 0 {
				inner = now[i-1]
			}
			if i < cells-1 {
				outer = now[i+1]
			}
			next[i] = v + r*(inner-2*v+outer) + q
		}
		now = next
	}
	for _, v := range now {
		mean += v / cells
		hottest = max(hottest, v)
	}
	return mean, hottest
}
