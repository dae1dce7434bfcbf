package pour

import (
	"errors"
	"math"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// What runs into a hot mold cures there: 37 K warmer than the sheet, 13 times as fast.
// A pour of six minutes that starts after eight is refused, with the time that is left,
// (40 - 8) min / 13; half of that is poured, with a warning, as it hardly levels.
func TestHotMoldGelsFirst(t *testing.T) {
	hot := func(duration string, sets ...string) (*Plan, error) {
		m, c := moldtest.Checked(t, moldtest.Example(t, "wren", append(sets, "pour.mold_temperature=60C", "pour.duration="+duration)...))
		return New(m, c.Volumes, 0, Options{})
	}
	_, err := hot("6min")
	var faults params.Faults
	if !errors.As(err, &faults) || faults[0].Path != "pour.duration" || faults[0].Allowed != "less than 2.45 min" {
		t.Fatalf("refused with %v", err)
	}
	p, err := hot("74s")
	if err != nil {
		t.Fatal(err)
	}
	if p.Clock.BeginBy > max(p.Clock.PourStart, p.Clock.Due()-p.Sprue.Run) {
		t.Errorf("begun as late as allowed it is not over in time: %+v", p.Clock)
	}
	near(t, "time left", p.Clock.Gel-p.Clock.PourStart, 32*60/math.Exp2(3.7), 1e-9)
	if p.Clock.PourEnd >= p.Clock.Gel || !strings.Contains(p.Warnings.Error(), "too thick to fill the mold") {
		t.Errorf("%+v: %v", p.Clock, p.Warnings)
	}
	if p, err = hot("40s", "pour.funnel=80mm"); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(p.Warnings.Error(), "too thick") || p.Clock.Due() != p.Clock.TopUp {
		t.Errorf("in time: %+v: %v", p.Clock, p.Warnings)
	}
}

// Gates through which the mold never fills before it gels are refused with ones that
// do: the proposed ones are tried.
func TestGatesForAHotMold(t *testing.T) {
	build := func(gate float64) error {
		j := moldtest.Example(t, "wren", "pour.mold_temperature=60C", "pour.duration=30s")
		j.Mold.Sprue.Gate, j.Mold.Sprue.Mouth = gate, 1.5*gate
		m, volumes := made(t, j)
		_, err := New(m, volumes, 0, Options{})
		return err
	}
	var faults params.Faults
	if err := build(2.5); !errors.As(err, &faults) || faults[0].Path != "mold.sprue.gate" {
		t.Fatalf("refused with %v", err)
	}
	gate, err := params.ParseLength(strings.TrimPrefix(faults[0].Allowed, "at least "))
	if err != nil {
		t.Fatal(err)
	}
	if err := build(gate); err != nil {
		t.Errorf("the proposed gate of %g mm: %v", gate, err)
	}
}

// The proposed gate pours all in one batch, spare included.
func TestProposedGatePoursOneBatch(t *testing.T) {
	j := handbook(t)
	j.Mold.Sprue.Gate, j.Mold.Sprue.Mouth = 6, 6
	j.Pour.Bucket.Volume, j.Pour.Bucket.Diameter, j.Pour.Margin = 60000, 400, 0.5
	m, volumes := made(t, j)
	_, err := New(m, volumes, 0, Options{})
	var faults params.Faults
	if !errors.As(err, &faults) {
		t.Fatalf("refused with %v", err)
	}
	gate, err := params.ParseLength(strings.TrimPrefix(faults[0].Allowed, "at least "))
	if err != nil {
		t.Fatal(err)
	}
	flow := pouringOf(m, planned(t, handbook(t), 0, Options{}).Liquid)
	flow.Sprues.Gate, flow.Sprues.Mouth, flow.Vents = gate, gate, nil
	if got, want := flow.Volume(j.Pour.Start, j.Pour.PotLife)*1.04/1000, 1.5*m.PouredMass(); got < want || got > 1.05*want {
		t.Errorf("%g mm pours %g g of %g g", gate, got, want)
	}
}

// Any gate that the job allows can be reckoned with: tens of tons would run through.
func TestWideGatesAreNoError(t *testing.T) {
	planned(t, moldtest.Example(t, "albatross", "mold.sprue.count=4", "pour.viscosity=0.02Pa*s", "pour.pot_life=4h"), 0, Options{})
}

// The urethane rises as high as it stands in the funnel above the lowest sprue. With
// sprue and raised side on opposite sides, a lid of 20 mm and 10 mm in the funnel hold
// it up to where tan(angle) is 30 mm over the distance between both.
func TestMostTilt(t *testing.T) {
	j := handbook(t)
	m, _ := made(t, j)
	g := m.Layout.Gates[0]
	away := math.Atan2(-g[1], -g[0]) * 180 / math.Pi
	reach := m.Tread.UpperOuter + math.Hypot(g[0], g[1])
	near(t, "away from the gate", math.Tan(MostTilt(m, away)*math.Pi/180), 30/reach, 1e-9)
	near(t, "toward the gate", math.Tan(MostTilt(m, away+180)*math.Pi/180), 30/(m.Tread.UpperOuter-math.Hypot(g[0], g[1])), 1e-9)

	for tilt, spills := range map[float64]bool{MostTilt(m, away) - .1: false, MostTilt(m, away) + .1: true} {
		j := handbook(t)
		j.Pour.Tilt, j.Pour.TiltToward = tilt, away
		if p := planned(t, j, 0, Options{}); strings.Contains(p.Warnings.Error(), "runs over at the sprue") != spills {
			t.Errorf("%g degrees: %v", tilt, p.Warnings)
		}
	}
}

// What is proposed as settings is read by the command line as it stands, as one word.
func TestProposedSettingsAreReadable(t *testing.T) {
	p := planned(t, moldtest.Example(t, "kestrel", "mold.ceiling.shape=flat", "mold.ceiling.angle=0deg"), 0, Options{})
	c := p.Air.Roof.Coned
	if c == nil {
		t.Fatal("no cone proposed for a level roof")
	}
	for _, s := range c.Sets {
		if strings.ContainsAny(s, " \t") {
			t.Errorf("%q is two words", s)
		}
	}
	if _, err := mold.New(moldtest.Example(t, "kestrel", c.Sets...)); err != nil {
		t.Error(err)
	}
}

// Where standing the mold level frees all air, its tilt is to blame, and not the vents.
func TestTiltIsToBlame(t *testing.T) {
	m, c := moldtest.Checked(t, moldtest.Example(t, "kestrel", "pour.tilt=5deg"))
	p, err := New(m, c.Volumes, 0, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range p.Warnings {
		if strings.Contains(f.Cause, "of air stay") {
			if f.Path != "pour.tilt" || !strings.HasPrefix(f.Hint, "stand the mold level") {
				t.Errorf("%v", f)
			}
			return
		}
	}
	t.Errorf("no warning of air: %v", p.Warnings)
}

// One vent that serves two tops is proposed once.
func TestVentsAreProposedOnce(t *testing.T) {
	for _, tilt := range []string{"5deg", "10deg", "20deg"} {
		m, c := moldtest.Checked(t, moldtest.Example(t, "albatross", "pour.tilt="+tilt, "pour.tilt_toward=90deg"))
		p, err := New(m, c.Volumes, 0, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, trap := range p.Air.Traps {
			seen := map[[3]float64]bool{}
			for _, v := range trap.Drill.Vents {
				if seen[v.At] {
					t.Errorf("tilt %s: a vent at %v twice", tilt, v.At)
				}
				seen[v.At] = true
			}
		}
	}
}
