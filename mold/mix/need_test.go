package mix

import (
	"errors"
	"math"
	"strings"
	"testing"

	"wheelmold/params"
)

// pour is an invented urethane with an ordinary bucket and scale.
func pour() params.Pour {
	return params.Pour{
		PartsA: 1, PartsB: 1, RatioBy: "weight", DensityA: 1.05, DensityB: 1.01, Density: 1.04, Hardness: 60,
		PigmentLimit: 0.03, Margin: 0.05, Degas: "none", PotLife: 1200,
		Bucket: params.Bucket{Volume: 10000, Diameter: 240, HeadRoom: 1.0 / 3, Film: 0.5, Paddle: 60, Vessels: 2},
		Scale:  params.Scale{Resolution: 1},
		Kit:    params.Kit{Mass: 7000, Price: 100},
	}
}

// plain is a pour of which nothing stays behind and nothing is spare.
func plain() params.Pour {
	p := pour()
	p.Margin, p.Bucket.Film = 0, 0
	return p
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance*max(1, math.Abs(b)) }

func mustNeed(t *testing.T, p params.Pour, in Input, batches int) Need {
	t.Helper()
	n, err := Needed(&p, in, batches)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func mustPlan(t *testing.T, p params.Pour, in Input) *Plan {
	t.Helper()
	plan, err := New(&p, in)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// faultsOf is the faults for which a pour is refused.
func faultsOf(t *testing.T, p params.Pour, in Input) params.Faults {
	t.Helper()
	plan, err := New(&p, in)
	var faults params.Faults
	if !errors.As(err, &faults) || plan != nil {
		t.Fatalf("refused with %v, plan %+v", err, plan)
	}
	return faults
}

// wetted is the film left by a mix of so many g, from its areas one by one:
// reference: arithmetic.
func wetted(p params.Pour, mass float64) float64 {
	r := p.Bucket.Diameter / 2
	height := mass / p.Density * 1000 / (math.Pi * r * r)
	bottom, wall, paddle := math.Pi*r*r, 2*math.Pi*r*height, 2*p.Bucket.Paddle*height
	return p.Bucket.Film * (bottom + wall + paddle) / 1000 * p.Density * float64(max(p.Bucket.Vessels, 1))
}

// Reference: arithmetic, the film found as a fixed point.
func TestFilmInACup(t *testing.T) {
	p := plain()
	p.Bucket = params.Bucket{Volume: 200, Diameter: 70, Film: 0.5, Vessels: 1}
	mixed := 13.7
	for range 100 {
		mixed = 13.7 + wetted(p, mixed)
	}
	n := mustNeed(t, p, Input{Rubber: 13.7}, 1)
	if !near(n.Mixed, mixed, 1e-12) || !near(n.Residue, mixed-13.7, 1e-12) || n.By != "film" {
		t.Errorf("%+v, want %g g mixed", n, mixed)
	}
	if !near(n.Residue, 2.46, 0.005) { // worked by hand: (2.001+0.02857·13.7)/(1−0.02857)
		t.Errorf("%g g stay in the cup", n.Residue)
	}
}

// Every vessel and both sides of the paddle count.
func TestFilmInTwoVesselsWithPaddle(t *testing.T) {
	p := pour()
	for _, batches := range []int{1, 3} {
		n := mustNeed(t, p, Input{Rubber: 4000, Channels: 300, Flash: 12, Molds: 2}, batches)
		each := n.Mixed / float64(batches)
		if want := wetted(p, each) * float64(batches); !near(n.Residue, want, 1e-12) {
			t.Errorf("%d batches: %g g stay, want %g g", batches, n.Residue, want)
		}
	}
}

// Reference: arithmetic. Half an inch on the bottom of a bucket of 12 in is
// π/4·30.48²·1.27 = 926.67 cm³, 963.7 g at 1.04 g/cm³.
func TestDepthOnTheBottom(t *testing.T) {
	p := plain()
	p.Bucket = params.Bucket{Volume: 20000, Diameter: 304.8, Residue: 12.7, Film: 0.5}
	if n := mustNeed(t, p, Input{Rubber: 6000}, 1); !near(n.Residue, 963.7, 1e-4) || n.By != "depth" {
		t.Errorf("%g g stay by %s", n.Residue, n.By)
	}
	p.Density = 1
	if n := mustNeed(t, p, Input{Rubber: 6000}, 1); !near(n.Residue, 926.67, 1e-5) {
		t.Errorf("%g cm³ stay", n.Residue)
	}
	p.Density, p.Bucket.Vessels = 1.04, 2
	if n := mustNeed(t, p, Input{Rubber: 6000}, 3); !near(n.Residue, 6*963.7, 1e-4) {
		t.Errorf("%g g stay of 3 batches in 2 vessels each", n.Residue)
	}
}

// A stated share comes before bucket and film, and does not grow with batches.
func TestShareThatStays(t *testing.T) {
	p := pour()
	p.Waste, p.Margin, p.Bucket.Residue = 0.05, 0.1, 12.7
	for _, batches := range []int{1, 4} {
		n := mustNeed(t, p, Input{Rubber: 860, Channels: 80, Flash: 10}, batches)
		if !near(n.Mixed, 950*1.1/0.95, 1e-12) || !near(n.Residue, 55, 1e-12) || !near(n.Margin, 95, 1e-12) || n.By != "share" {
			t.Errorf("%d batches: %+v", batches, n)
		}
	}
}

func TestNothingToPour(t *testing.T) {
	p := pour()
	plan := mustPlan(t, p, Input{})
	if plan.Batches != 0 || plan.Need.Mixed != 0 || plan.Kits != nil || plan.Warnings != nil {
		t.Errorf("%+v", plan)
	}
}

func TestFiguresThatNoMoldHas(t *testing.T) {
	p := pour()
	for _, in := range []Input{{Rubber: -1}, {Rubber: math.NaN()}, {Flash: math.Inf(1)}, {Rubber: 1, Wheels: math.MaxInt}, {Rubber: 1, Molds: 5000}} {
		if _, err := New(&p, in); err == nil {
			t.Errorf("%+v was planned", in)
		}
	}
}

// Each figure is refused by its key; none gives a plan that is not finite.
func TestFiguresThatNoJobHas(t *testing.T) {
	for key, spoil := range map[string]func(p *params.Pour){
		"pour.parts_a":          func(p *params.Pour) { p.PartsA = 0 },
		"pour.parts_b":          func(p *params.Pour) { p.PartsB = math.Inf(1) },
		"pour.density":          func(p *params.Pour) { p.Density = 0 },
		"pour.waste":            func(p *params.Pour) { p.Waste = 1 },
		"pour.bucket.diameter":  func(p *params.Pour) { p.Bucket.Diameter = 0 },
		"pour.bucket.volume":    func(p *params.Pour) { p.Bucket.Volume = math.NaN() },
		"pour.bucket.head_room": func(p *params.Pour) { p.Bucket.HeadRoom = 1 },
		"pour.density_b":        func(p *params.Pour) { p.RatioBy, p.DensityB = "volume", 0 },
		"pour.scale.resolution": func(p *params.Pour) { p.Scale.Resolution = 1e-320 },
		"pour.kit.mass":         func(p *params.Pour) { p.Kit.Mass = 1e-300 },
		"pour.blend.wanted": func(p *params.Pour) {
			p.Blend = params.Blend{With: 80, Wanted: 85, PartsA: 1, PartsB: 1}
		},
		"pour.blend.parts_a": func(p *params.Pour) { p.Blend = params.Blend{With: 80, Wanted: 70, PartsB: 1} },
		"pour.blend.with":    func(p *params.Pour) { p.Blend = params.Blend{With: 60, Wanted: 60, PartsA: 1, PartsB: 1} },
		"pour.bucket.film":   func(p *params.Pour) { p.Bucket.Diameter, p.Bucket.Film = 5, 2 },
	} {
		p := pour()
		spoil(&p)
		if f := faultsOf(t, p, Input{Rubber: 500}); len(f) != 1 || f[0].Path != key {
			t.Errorf("%s: %v", key, f)
		}
		if _, err := Needed(&p, Input{Rubber: 500}, 1); err == nil || !strings.Contains(err.Error(), key) {
			t.Errorf("%s: needed with %v", key, err)
		}
	}
}

// The film that is said to be allowed is.
func TestNarrowBucket(t *testing.T) {
	p := pour()
	p.Bucket = params.Bucket{Volume: 2000, Diameter: 12, Film: 2, Paddle: 10, Vessels: 2, HeadRoom: 0.1}
	f := faultsOf(t, p, Input{Rubber: 20})[0]
	most, err := params.ParseLength(strings.TrimPrefix(f.Allowed, "up to "))
	if err != nil {
		t.Fatal(err)
	}
	p.Bucket.Film = most
	if n := mustNeed(t, p, Input{Rubber: 20}, 1); !near(wetted(p, n.Mixed), n.Residue, 1e-9) {
		t.Errorf("%+v", n)
	}
	p.Bucket.Film = most * 1.01
	if _, err := Needed(&p, Input{Rubber: 20}, 1); err == nil {
		t.Errorf("a film of %g mm was taken", p.Bucket.Film)
	}
}
