package service

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

func treadLoad(t *testing.T, j *params.Job) *TreadLoad {
	t.Helper()
	l, err := OfTread(j)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// What carries is the width less grooves and edges, and of lugs their share of the way
// around: by hand for the examples.
func TestWidthThatCarries(t *testing.T) {
	for _, c := range []struct {
		name string
		sets []string
		want float64
	}{
		{"kestrel", nil, 40 - 2*3 - 10}, // grooves of 3, 4 and 3 mm
		{"kestrel", []string{"wheel.edge=square"}, 40 - 10},
		{"albatross", nil, 125 - 3*6 - 2*3},
		{"kestrel", []string{"wheel.cross.count=8", "wheel.cross.width=5mm", "wheel.cross.depth=3mm", "wheel.cross.flank=0deg"}, 24 * (1 - 40/(math.Pi*110))},
		{"kestrel", []string{"wheel.cross.count=8", "wheel.cross.width=5mm", "wheel.cross.depth=3mm", "wheel.cross.flank=20deg"}, 24 * (1 - 8*(5+6*math.Tan(math.Pi/9))/(math.Pi*110))},
	} {
		l := treadLoad(t, moldtest.Example(t, c.name, c.sets...))
		within(t, c.name+strings.Join(c.sets, " "), l.Carries(), c.want, 1e-9)
		within(t, "load", l.Rest.PerWidth*c.want, l.Rest.Load, 1e-9)
	}
}

// The figures are those of the layer for that load, and their band is that of modulus and
// compressibility, whose ends lie outside those of the modulus alone.
func TestContactOfAnExample(t *testing.T) {
	j := moldtest.Example(t, "kestrel", "duty.mass=20kg", "duty.share=25%", "duty.impact=1")
	l := treadLoad(t, j)
	within(t, "load", l.Rest.Load, 5*9.80665, 1e-9)
	want, err := layers[0].press(5*9.80665/24, 55, 20, gent(60))
	if err != nil {
		t.Fatal(err)
	}
	r := &l.Rest
	within(t, "deflection", r.Deflection.Mid, want.deflection, 1e-12)
	within(t, "length", r.Length.Mid, 2*want.half, 1e-12)
	within(t, "share", r.Share, want.deflection/20, 1e-12)
	within(t, "mean pressure on the contact", r.Mean/1e6*r.Length.Mid*24, r.Load, 1e-9)
	if l.Hit != l.Rest {
		t.Errorf("a hit of once the weight: %+v, want %+v", l.Hit, l.Rest)
	}
	soft, _ := layers[0].press(r.PerWidth, 55, 20, errorFunction(60))
	hard, _ := layers[0].press(r.PerWidth, 55, 20, logLinear(60))
	if d := r.Deflection; !(d.Least <= hard.deflection && d.Mid < soft.deflection && soft.deflection < d.Most) {
		t.Errorf("band %+v around %g and %g", d, hard.deflection, soft.deflection)
	}
}

// A blend is as hard as it is wanted to be.
func TestBlendIsAsHardAsWanted(t *testing.T) {
	l := treadLoad(t, moldtest.Example(t, "kestrel", "pour.hardness=60", "pour.blend.with=80", "pour.blend.wanted=72"))
	if l.Shore != 72 || l.Modulus != Modulus(72) {
		t.Errorf("%g A, %+v", l.Shore, l.Modulus)
	}
}

// What cannot be reckoned says so and gives no figures; what is too much proposes changes
// that are enough.
func TestOverloadIsToldAndMended(t *testing.T) {
	heavy := []string{"duty.mass=260kg", "duty.share=50%"}
	l := treadLoad(t, moldtest.Example(t, "kestrel", heavy...))
	if l.Rest.State != BeyondSmall || len(l.Faults) != 1 || l.Faults[0].Path != "pour.hardness" {
		t.Fatalf("%+v", l)
	}
	if l.Hit.State != BeyondSmall && l.Hit.State != BeyondTable || l.Hit.Deflection != (Span{}) || l.Hit.Peak != 0 {
		t.Errorf("a hit of ten times that: %+v", l.Hit)
	}
	ways := strings.Split(strings.TrimPrefix(l.Faults[0].Hint, "either "), ", or ")
	if len(ways) < 2 {
		t.Errorf("proposes %q", l.Faults[0].Hint)
	}
	for _, way := range ways {
		key, value, _ := strings.Cut(way, " = ")
		value, _, _ = strings.Cut(value, " for thicker")
		j := moldtest.Example(t, "kestrel", heavy...)
		v, err := strconv.ParseFloat(strings.TrimSuffix(value, " mm"), 64)
		if err != nil {
			t.Fatal(err)
		}
		switch key {
		case "pour.hardness":
			j.Pour.Hardness = v
		case "wheel.width":
			j.Wheel.Width = v
		case "hub.body_diameter":
			j.Hub.BodyDiameter = v
		default:
			t.Errorf("proposes %s", way)
		}
		if l := treadLoad(t, j); len(l.Faults) != 0 {
			t.Errorf("%s is not enough: %v", way, l.Faults)
		}
	}
	if l := treadLoad(t, moldtest.Example(t, "kestrel")); len(l.Faults) != 0 {
		t.Errorf("the example: %v", l.Faults)
	}
	// A thin tread is pressed hard before it is pressed far.
	thin := moldtest.Example(t, "kestrel", "duty.mass=90kg")
	thin.Hub.BodyDiameter = 107
	if l := treadLoad(t, thin); l.Rest.State != Reckoned || l.Rest.Soft.Peak <= MostPeak*l.Modulus.Low || len(l.Faults) != 1 || !strings.Contains(l.Faults[0].Cause, "peak") {
		t.Errorf("thin: %+v", l)
	}
	thin.Duty.Mass *= 1000
	if l := treadLoad(t, thin); l.Rest.State != BeyondTable || len(l.Faults) != 1 {
		t.Errorf("thin and overloaded: %+v", l)
	}
	if l := treadLoad(t, moldtest.Example(t, "kestrel", "duty.share=0%")); l.Rest.State != NoLoad || len(l.Faults) != 0 {
		t.Errorf("without load: %+v", l)
	}
}

// Guidance by hardness changes where practice has it.
func TestGripByHardness(t *testing.T) {
	for _, c := range []struct {
		shore float64
		says  string
	}{{44, "very soft"}, {45, "big wheels"}, {60, "big wheels"}, {70, "compromise"}, {80, "lasts longest"}} {
		if got := gripOf(c.shore); !strings.Contains(got, c.says) {
			t.Errorf("%g A: %q, want %q", c.shore, got, c.says)
		}
	}
}
