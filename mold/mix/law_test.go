package mix

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"

	"wheelmold/params"
)

// drawPour draws a urethane, a bucket and a scale, from a cup for a small wheel
// to a drum.
func drawPour(t *rapid.T) params.Pour {
	between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	of := func(name string, v ...float64) float64 { return rapid.SampledFrom(v).Draw(t, name) }
	p := params.Pour{
		PartsA: between("parts a", 1, 100), PartsB: between("parts b", 1, 100),
		RatioBy:  rapid.SampledFrom([]string{"weight", "volume"}).Draw(t, "by"),
		DensityA: between("density a", 0.9, 1.3), DensityB: between("density b", 0.9, 1.3), Density: between("density", 0.9, 1.3),
		Hardness: between("hardness", 20, 50), Pigment: of("pigment", 0, 0.001, 0.02, 0.03), PigmentLimit: 0.03,
		BatchMass: of("batch mass", 0, 300, 5000), Waste: of("waste", 0, 0, 0.05, 0.9), Margin: of("margin", 0, 0.1, 1),
		Degas: rapid.SampledFrom([]string{"none", "vacuum"}).Draw(t, "degas"),
		Bucket: params.Bucket{
			Diameter: between("diameter", 40, 500), HeadRoom: between("head room", 0, 0.8), Film: of("film", 0, 0.3, 1),
			Residue: of("residue", 0, 0, 2), Paddle: of("paddle", 0, 30), Vessels: rapid.IntRange(0, 3).Draw(t, "vessels"),
		},
		Scale: params.Scale{Resolution: of("step", 0, 0.01, 0.1, 0.5, 1, 5), Limit: of("limit", 0, 500, 30000)},
		Kit:   params.Kit{Mass: of("kit", 0, 450, 7000), Price: of("price", 0, 90)},
	}
	p.Bucket.Volume = math.Pi / 4 * math.Pow(p.Bucket.Diameter, 3) / cubicCentimeter * between("slender", 0.5, 3)
	if rapid.Bool().Draw(t, "blend") {
		p.Blend = params.Blend{
			With: between("with", 60, 95), PartsA: between("other a", 1, 100), PartsB: between("other b", 1, 100),
			DensityA: between("other density a", 0.9, 1.3), DensityB: between("other density b", 0.9, 1.3),
		}
		p.Blend.Wanted = between("wanted", p.Hardness, p.Blend.With)
	}
	return p
}

func drawInput(t *rapid.T) Input {
	size := math.Pow(10, rapid.Float64Range(-2, 4.5).Draw(t, "size"))
	return Input{
		Rubber: size, Channels: size * rapid.Float64Range(0, 0.3).Draw(t, "channels"), Flash: size * rapid.Float64Range(0, 0.1).Draw(t, "flash"),
		Molds: rapid.IntRange(0, 4).Draw(t, "molds"), Wheels: rapid.IntRange(0, 30).Draw(t, "wheels"),
		Most: rapid.SampledFrom([]float64{0, 200, 4000}).Draw(t, "most"),
	}
}

// Whatever is asked, the answer is a plan that keeps all laws, or a refusal that
// names a value of the job.
func TestLawsOfPlans(t *testing.T) {
	plans := 0
	rapid.Check(t, func(t *rapid.T) {
		p, in := drawPour(t), drawInput(t)
		plan, err := New(&p, in)
		if err != nil {
			faults, ok := err.(params.Faults)
			if !ok || len(faults) == 0 || faults[0].Path == "" {
				t.Fatalf("refused with %v", err)
			}
			return
		}
		plans++
		if _, err := json.Marshal(plan); err != nil { // NaN and infinity have no JSON
			t.Fatal(err)
		}
		checkNeed(t, &p, &in, plan)
		checkBatch(t, &p, plan)
		checkLimits(t, plan)
		if plan.Kits != nil {
			checkKits(t, &p, &in, plan)
		}
	})
	if plans < 3 { // of 20 draws at least, many of them refused
		t.Errorf("only %d plans", plans)
	}
}

// checkNeed: nothing is lost or made.
func checkNeed(t *rapid.T, p *params.Pour, in *Input, plan *Plan) {
	n, b, molds := plan.Need, plan.Batch, float64(max(in.Molds, 1))
	if sum := n.Rubber + n.Channels + n.Flash + n.Margin + n.Residue; !near(n.Mixed, sum, 1e-9) {
		t.Fatalf("%g g mixed, parts of %g g", n.Mixed, sum)
	}
	flows := molds * (in.Rubber + in.Channels + in.Flash)
	if !near(n.Rubber+n.Channels+n.Flash, flows, 1e-9) || !near(n.Margin, p.Margin*flows, 1e-9) {
		t.Fatalf("%+v for %g g", n, flows)
	}
	if !near(b.Mass*float64(plan.Batches), n.Mixed, 1e-9) || !near(b.Mass, b.Poured+b.Residue, 1e-9) {
		t.Fatalf("%d batches %+v of %g g", plan.Batches, b, n.Mixed)
	}
	left := wetted(*p, b.Mass)
	switch n.By {
	case "share":
		left = p.Waste * b.Mass
	case "depth":
		left = p.Bucket.Residue * math.Pi * math.Pow(p.Bucket.Diameter/2, 2) * p.Density / 1000 * float64(max(p.Bucket.Vessels, 1))
	}
	if !near(b.Residue, left, 1e-9) {
		t.Fatalf("%g g stay by %s, want %g g", b.Residue, n.By, left)
	}
}

// checkBatch: components in their ratio, whole steps, nothing short.
func checkBatch(t *rapid.T, p *params.Pour, plan *Plan) {
	b, step := plan.Batch, p.Scale.Resolution
	exact, set := 0.0, 0.0
	for _, c := range b.Components {
		exact, set = exact+c.Mass, set+c.Set
		if steps := c.Set / step; step > 0 && !near(steps, math.Round(steps), 1e-9) {
			t.Fatalf("%s of %g g on a scale of %g g", c.Name, c.Set, step)
		}
		if !near(c.Total, set, 1e-9) || c.Set < 0 || c.Mass < 0 {
			t.Fatalf("%+v, %g g weighed so far", c, set)
		}
	}
	systems := 1.0
	if p.Blend.With != 0 {
		systems = 2
	}
	most := (1+moreSteps)*systems + 1
	if !near(exact, b.Mass, 1e-9) || !near(b.Weighed, set, 1e-9) || set < b.Mass*(1-1e-8) || set > b.Mass*(1+1e-8)+most*step {
		t.Fatalf("%g g of components, %g g weighed, %g g needed", exact, set, b.Mass)
	}
	for name, ratio := range ratios(p) {
		checkRatio(t, p, plan, name, ratio)
	}
	if e := plan.Scale; e.Ratio > mostRatio || e.Pigment > p.PigmentLimit*(1+1e-9) {
		t.Fatalf("%+v", e)
	}
}

// ratios A to B by mass of the urethanes, by what their components' names end in.
func ratios(p *params.Pour) map[string]float64 {
	by := func(a, b, densityA, densityB float64) float64 {
		if p.RatioBy == "volume" {
			return a * densityA / (b * densityB)
		}
		return a / b
	}
	own := by(p.PartsA, p.PartsB, p.DensityA, p.DensityB)
	if p.Blend.With == 0 {
		return map[string]float64{"": own}
	}
	return map[string]float64{
		" of " + number(p.Hardness) + " A":   own,
		" of " + number(p.Blend.With) + " A": by(p.Blend.PartsA, p.Blend.PartsB, p.Blend.DensityA, p.Blend.DensityB),
	}
}

// checkRatio: exact masses in the exact ratio, weighed ones as good as said, and
// each within the steps that rounding may add.
func checkRatio(t *rapid.T, p *params.Pour, plan *Plan, name string, ratio float64) {
	var a, b Component
	for _, c := range plan.Batch.Components {
		switch c.Name {
		case "A" + name:
			a = c
		case "B" + name:
			b = c
		}
	}
	if b.Mass == 0 {
		return // a blend of one
	}
	if !near(a.Mass/b.Mass/ratio, 1, 1e-9) {
		t.Fatalf("%g to %g g%s, want %g", a.Mass, b.Mass, name, ratio)
	}
	if off := math.Abs(a.Set/b.Set/ratio - 1); off > plan.Scale.Ratio+1e-9 {
		t.Fatalf("%g to %g g%s is off by %g, said %g", a.Set, b.Set, name, off, plan.Scale.Ratio)
	}
	if room := (moreSteps + 2) * p.Scale.Resolution; math.Abs(a.Set-a.Mass) > room+1e-6 || math.Abs(b.Set-b.Mass) > room+1e-6 {
		t.Fatalf("%+v and %+v", a, b)
	}
}

func checkLimits(t *rapid.T, plan *Plan) {
	decided := false
	for _, l := range plan.Limits {
		decided = decided || l.Decides
		m := plan.Batch.Weighed
		if l.Name == "pot life" {
			m = plan.Batch.Poured
		}
		if m > l.Most*(1+1e-8) {
			t.Fatalf("%g g exceed %+v", m, l)
		}
	}
	if plan.Batches < 1 || plan.Batches > MostBatches || decided != (plan.Batches > 1) {
		t.Fatalf("%d batches by %+v", plan.Batches, plan.Limits)
	}
}

// checkKits: enough, but not one too many; bought is never less than used.
func checkKits(t *rapid.T, p *params.Pour, in *Input, plan *Plan) {
	molds := max(in.Molds, 1)
	wheels := in.Wheels
	if wheels < 1 {
		wheels = molds
	}
	resin := 0.0
	for _, c := range plan.Batch.Components {
		if c.Name != "pigment" {
			resin += c.Set
		}
	}
	used := 0.0
	for _, s := range plan.Kits.Systems {
		used += s.Used
		if float64(s.Kits)*p.Kit.Mass < s.Used*(1-1e-8) || float64(s.Kits-1)*p.Kit.Mass >= s.Used || !near(float64(s.Kits)*p.Kit.Mass-s.Left, s.Used, 1e-8) {
			t.Fatalf("%+v", s)
		}
	}
	mixes := math.Ceil(float64(wheels) / float64(molds))
	if !near(used, resin*float64(plan.Batches)*mixes, 1e-9) || !near(plan.Kits.Material*mixes*float64(molds), used*plan.Kits.PerGram, 1e-9) {
		t.Fatalf("%g g of %+v", used, plan.Kits)
	}
	if plan.Kits.Bought*float64(wheels) < used*plan.Kits.PerGram*(1-1e-8) {
		t.Fatalf("bought for less than used: %+v", plan.Kits)
	}
}

// What leaves more behind, or takes more, is never mixed less.
func TestMoreIsNeverLess(t *testing.T) {
	more := map[string]func(p *params.Pour, in *Input, batches *int){
		"film":     func(p *params.Pour, _ *Input, _ *int) { p.Bucket.Film *= 1.1 },
		"residue":  func(p *params.Pour, _ *Input, _ *int) { p.Bucket.Residue *= 1.1 },
		"paddle":   func(p *params.Pour, _ *Input, _ *int) { p.Bucket.Paddle++ },
		"vessels":  func(p *params.Pour, _ *Input, _ *int) { p.Bucket.Vessels = max(p.Bucket.Vessels, 1) + 1 },
		"margin":   func(p *params.Pour, _ *Input, _ *int) { p.Margin += 0.01 },
		"flash":    func(_ *params.Pour, in *Input, _ *int) { in.Flash++ },
		"channels": func(_ *params.Pour, in *Input, _ *int) { in.Channels++ },
		"molds":    func(_ *params.Pour, in *Input, _ *int) { in.Molds = max(in.Molds, 1) + 1 },
		"batches":  func(_ *params.Pour, _ *Input, n *int) { *n++ },
	}
	// These must take more, not only no less, where the residue is a film.
	strict := []string{"film", "paddle", "vessels", "batches"}
	rapid.Check(t, func(t *rapid.T) {
		p, in, n := drawPour(t), drawInput(t), rapid.IntRange(1, MostBatches).Draw(t, "batches")
		name := rapid.SampledFrom([]string{"film", "residue", "paddle", "vessels", "margin", "flash", "channels", "molds", "batches"}).Draw(t, "more")
		was, err := Needed(&p, in, n)
		more[name](&p, &in, &n)
		now, err2 := Needed(&p, in, n)
		if err != nil || err2 != nil {
			return // hardly anything gets out
		}
		if now.Mixed < was.Mixed*(1-1e-12) {
			t.Fatalf("more %s takes the mix from %g to %g g", name, was.Mixed, now.Mixed)
		}
		for _, s := range strict {
			if s == name && was.By == "film" && p.Bucket.Film > 0 && now.Mixed <= was.Mixed {
				t.Fatalf("more %s does nothing", name)
			}
		}
	})
}

// The flash is all that the mix without it lacks, residue and margin included.
func TestWithoutFlash(t *testing.T) {
	p := pour()
	in := Input{Rubber: 900, Channels: 80, Flash: 20}
	with := mustNeed(t, p, in, 1)
	in.Flash = 0
	if without := mustNeed(t, p, in, 1); !near(with.Mixed-without.Mixed, 20*1.05/(1-residueOf(&p).share), 1e-9) {
		t.Errorf("%g g with, %g g without", with.Mixed, without.Mixed)
	}
}
