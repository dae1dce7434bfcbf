package release

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// plain is a smooth cylinder of 100 x 40 mm on a plain hub of 60 mm, its edges square.
func plain(t *testing.T, split string) *params.Job {
	t.Helper()
	j, _, err := params.Parse("plain", fmt.Appendf(nil, `
name = "plain"
[wheel]
diameter = "100 mm"
width = "40 mm"
edge = "square"
[hub]
bore = "12 mm"
body_diameter = "60 mm"
[process]
name = "milled"
[mold]
split = %q
`, split))
	if err != nil {
		t.Fatal(err)
	}
	j.Hub.Grooves = nil
	j.Mold.Shrinkage, j.Pour.GelTemperature = 0, j.Pour.SheetTemperature // the cavity is the wheel
	return j
}

// made lays out a job's mold. Where top is set its cup ends at the tread's top.
func made(t *testing.T, j *params.Job, top bool) *mold.Mold {
	t.Helper()
	m, err := mold.New(j)
	if err != nil {
		t.Fatal(err)
	}
	if top {
		for i := range m.Split.Zones {
			switch z := &m.Split.Zones[i]; z.Name {
			case "cup":
				z.Box.Hi[2] = m.Tread.Top
			case "lid":
				z.Box.Lo[2] = m.Tread.Top
			}
		}
	}
	return m
}

func judged(t *testing.T, m *mold.Mold) *Verdict {
	t.Helper()
	v, err := Of(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range v.Pieces {
		t.Logf("%s: %v: %s %v", p.Name, p.Grade, p.Text, p.Stubs)
	}
	return v
}

func (v *Verdict) of(t *testing.T, name string) *Piece {
	t.Helper()
	for i := range v.Pieces {
		if v.Pieces[i].Name == name {
			return &v.Pieces[i]
		}
	}
	t.Fatalf("no %s", name)
	return nil
}

// What a cup that ends at the tread's top squeezes: an edge by what it takes off the
// radius, a crown by its sagitta, a groove by its depth, nothing where the tread leans
// out upward by more; and the thickness is from the widest rubber to the hub.
func TestCupSqueezesByWhatStandsIn(t *testing.T) {
	const r, hub = 50., 30.
	lean := func(mm float64) float64 { return mm * math.Tan(math.Pi/180) }
	for name, c := range map[string]struct {
		change   func(w *params.Wheel)
		by, from float64 // squeeze, and radius of the rubber that gives way
		past     string
	}{
		"round":   {func(w *params.Wheel) { w.Edge, w.EdgeSize = "round", 2 }, 2, r, "the upper edge"},
		"chamfer": {func(w *params.Wheel) { w.Edge, w.EdgeSize = "chamfer", 1.5 }, 1.5, r, "the upper edge"},
		"crown":   {func(w *params.Wheel) { w.Crown = 1 }, 1, r, "the crown's narrow end"},
		"crown and round": {func(w *params.Wheel) { w.Crown, w.Edge, w.EdgeSize = 1, "round", 2 },
			1 + 2 - crownLift(1, 40, 2), r, "the upper edge"},
		"groove": {func(w *params.Wheel) {
			w.Grooves = []params.Groove{{Shape: "rectangular", Position: 30, Width: 4, Depth: 3}}
		}, 3, r, "groove 1"},
		"half-round": {func(w *params.Wheel) {
			w.Grooves = []params.Groove{{Shape: "half-round", Position: 10, Width: 4, Depth: 2}}
		}, 2, r, "groove 1"},
		"the deeper groove, if it lies above": {func(w *params.Wheel) {
			w.Grooves = []params.Groove{{Shape: "rectangular", Position: 30, Width: 4, Depth: 2}, {Shape: "rectangular", Position: 12, Width: 4, Depth: 1}}
		}, 2, r, "groove 1"},
		"groove, leaning": {func(w *params.Wheel) {
			w.Draft = 1
			w.Grooves = []params.Groove{{Shape: "rectangular", Position: 20, Width: 4, Depth: 3}}
		}, 3, r - lean(2), "groove 1"}, // past the groove's lower rim; its floor leans as well
	} {
		t.Run(name, func(t *testing.T) {
			j := plain(t, params.SplitCup)
			c.change(&j.Wheel)
			p := judged(t, made(t, j, true)).of(t, "cup")
			if math.Abs(p.Squeeze.By-c.by) > 1e-3 || math.Abs(p.Squeeze.Of-(c.from-hub)) > 1e-3 {
				t.Errorf("squeezed by %.4f of %.4f mm, want %.4f of %.4f", p.Squeeze.By, p.Squeeze.Of, c.by, c.from-hub)
			}
			if p.Grade != Squeezes || p.Squeeze.Past != c.past || !p.Drawn {
				t.Errorf("%v past %q", p.Grade, p.Squeeze.Past)
			}
		})
	}
}

// crownLift is by how much less than the edge's radius a round on a crown takes off
// the radius at the face: geometry of a circle inside another, in a tread w wide.
func crownLift(crown, w, e float64) float64 {
	arc := (w*w/4 + crown*crown) / (2 * crown)
	center := math.Sqrt((arc-e)*(arc-e) - (w/2-e)*(w/2-e)) // of the round, from the crown's
	return center - (arc - crown - e)
}

// A draft of a degree lets the wheel go; a straight tread slides; and below the upper
// edge, where a cup ends, its round is the lid's, which lifts off.
func TestDraftLetsTheWheelGo(t *testing.T) {
	j := plain(t, params.SplitCup)
	p := judged(t, made(t, j, false)).of(t, "cup")
	if least, wall := p.Draft(); p.Grade != Slides || least != 0 || wall != "the tread" {
		t.Errorf("straight: %v, %v° at %s", p.Grade, least, wall)
	}
	for _, edge := range []string{"square", "round"} {
		for _, deg := range []float64{.5, 1, 5} {
			j.Wheel.Draft, j.Wheel.Edge, j.Wheel.EdgeSize = deg, edge, 2
			if edge == "square" {
				j.Wheel.EdgeSize = 0
			}
			v := judged(t, made(t, j, false))
			if least, _ := v.of(t, "cup").Draft(); math.Abs(least-deg) > 1e-6 || v.Grade != Free || len(v.Faults()) > 0 {
				t.Errorf("%s, %v°: %s, least draft %v°: %s", edge, deg, v.Words(), least, v.Reason)
			}
			if v.Pieces[0].Name != "lid" || v.Pieces[1].Name != "cup" {
				t.Errorf("opens with %s", v.Pieces[0].Name)
			}
		}
	}
	j.Wheel.Draft, j.Wheel.Edge, j.Wheel.EdgeSize, j.Wheel.Cross = 1, "square", 0, params.CrossGrooves{Count: 12, Width: 6, Depth: 3, Flank: 10}
	if least, wall := judged(t, made(t, j, false)).of(t, "cup").Draft(); least != 0 || wall != "the ribs of the cross grooves" {
		t.Errorf("ribs along the axis: %v° at %s", least, wall)
	}
}

// Where a flange holds the rubber it is thinner, and less of it can give way.
func TestSqueezeCountsTheFlange(t *testing.T) {
	j := plain(t, params.SplitCup)
	j.Hub.FlangeDiameter, j.Hub.FlangeThickness = 80, 5
	j.Mold.Sprue.Circle, j.Mold.Vents.Circle = 90, 90
	j.Wheel.Grooves = []params.Groove{{Shape: "rectangular", Position: 20, Width: 4, Depth: 3}}
	m := made(t, j, true)
	p := judged(t, m).of(t, "cup")
	if math.Abs(p.Squeeze.By-3) > 1e-3 || math.Abs(p.Squeeze.Of-10) > 1e-3 || p.Squeeze.At > m.Core.Z0+5 {
		t.Errorf("%.4f of %.4f mm at height %.3f, want 3 of 10 at the lower flange", p.Squeeze.By, p.Squeeze.Of, p.Squeeze.At)
	}
}

// Up to the limit a squeeze is no fault, above it is, naming what to change and to
// what: with that value it is none.
func TestFaultsAboveTheLimit(t *testing.T) {
	j := plain(t, params.SplitCup)
	at := func(depth float64) *Verdict {
		j.Wheel.Grooves = []params.Groove{
			{Shape: "rectangular", Position: 30, Width: 4, Depth: 1}, {Shape: "rectangular", Position: 15, Width: 4, Depth: depth},
		}
		return judged(t, made(t, j, true))
	}
	if v := at(3.99); len(v.Faults()) > 0 || v.Grade != Squeezes || v.Words() != "squeezes 20 %" {
		t.Errorf("%s: %v", v.Words(), v.Faults())
	}
	f := at(4.6).Faults()
	if len(f) != 1 || f[0].Path != "wheel.groove[2].depth" || f[0].Allowed != "up to 4 mm" && f[0].Allowed != "up to 3.99 mm" || !strings.Contains(f[0].Error(), "4.6 mm = 23 %") {
		t.Errorf("%v", f)
	}
}

// Shells around a smooth tread come off; ribs drag on lugs less the narrower the
// sector that a shell covers; a part that keys in along the axis locks.
func TestShells(t *testing.T) {
	j := plain(t, params.SplitFour)
	v := judged(t, made(t, j, false))
	if v.Grade != Free || v.Pieces[0].Name != "lid" || v.Pieces[1].Name != "base" || len(v.Pieces) != 4 {
		t.Errorf("%s: %s", v.Words(), v.Reason)
	}
	j.Wheel.Cross = params.CrossGrooves{Count: 12, Width: 10, Depth: 3, Flank: 10}
	sin := func(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }
	lug := 2*math.Pi*47/12 - 10
	for n, drag := range map[int]float64{2: 3 * sin(75-10), 3: 3 * sin(45-10), 4: 3 * sin(30-10)} {
		k := *j
		k.Mold.Segments = n
		if n > 2 {
			k.Mold.SideClamp.Kind, k.Mold.Outline = "none", "square"
		}
		v := judged(t, made(t, &k, false))
		s := &v.of(t, "shell-a").Squeeze
		if math.Abs(s.By-drag) > 1e-3 || math.Abs(s.Share()-drag/lug) > 1e-4 || v.Grade != Squeezes {
			t.Errorf("%d shells: %.4f mm, %.2f %%; want %.4f, %.2f %%", n, s.By, 100*s.Share(), drag, 100*drag/lug)
		}
	}
	m := made(t, plain(t, params.SplitFour), false)
	reshape(t, m, "shell-a", with(m.Model.Cylinder("register of shell-a", mold.RoleRegister, solid.Vec{}, solid.Vec{0, 0, 1}, 5, 10, 30)))
	v = judged(t, m)
	if f := v.Faults(); v.Grade != Locked || len(v.of(t, "shell-a").Locks) != 1 || len(f) != 1 || f[0].Path != "mold.split" || !strings.Contains(v.Reason, "shell A") {
		t.Errorf("a plug in a shell: %s, %v", v.Words(), f)
	}
}

// Balls that stand out of a face at an angle to the pull lock the shell that is first off,
// each told once; they go with it, and the other is free.
func TestSlantedBallLocks(t *testing.T) {
	m := made(t, plain(t, params.SplitFour), false)
	for i := range m.Split.Zones {
		if z := &m.Split.Zones[i]; z.Name == "shell-a" {
			z.Pull = solid.Vec{math.Sqrt2 / 2, math.Sqrt2 / 2, 0}
		}
	}
	v := judged(t, m)
	locks := v.of(t, "shell-a").Locks
	if v.of(t, "shell-a").Grade != Locked || v.of(t, "shell-b").Grade != Free || len(locks) != 1 || !strings.Contains(locks[0], "ball") {
		t.Errorf("%+v", locks)
	}
	m.Split.Zones[0].Pull = solid.Vec{1, 0, 1}
	if _, err := Of(m); err == nil {
		t.Error("a slanted pull is judged")
	}
}

// Stubs: a tapered sprue tears off, an upright vent draws out, and between clam halves
// those on the parting line come out whole while the others shear.
func TestStubs(t *testing.T) {
	j := plain(t, params.SplitFour)
	lid := judged(t, made(t, j, false)).of(t, "lid")
	want := []Stub{{"sprue", j.Mold.Sprue.Count, tapered}, {"vent", j.Mold.Vents.Count, upright}}
	if len(lid.Stubs) != 2 || lid.Stubs[0] != want[0] || lid.Stubs[1] != want[1] {
		t.Errorf("%+v, want %+v", lid.Stubs, want)
	}
	j = plain(t, params.SplitClam)
	v := judged(t, made(t, j, false))
	n := map[string]int{}
	for _, p := range v.Pieces {
		for _, s := range p.Stubs {
			n[s.Channel+" "+s.Fate] += s.Count
		}
	}
	on := 0
	for _, a := range append(j.GateAngles(), j.VentAngles()...) {
		if math.Abs(math.Sin(a*math.Pi/180)) < 1e-9 {
			on++
		}
	}
	// Each half has its side of a channel on the parting line.
	if got := n["sprue "+halved] + n["vent "+halved]; got != 2*on || on == 0 {
		t.Errorf("%d sides of channels on the parting line, want %d", got, 2*on)
	}
	if got, all := n["sprue "+sheared]+n["vent "+sheared], j.Mold.Sprue.Count+j.Mold.Vents.Count; got != all-on {
		t.Errorf("%d shear, want %d", got, all-on)
	}
}

// Every split of the examples gets a verdict on every piece of the mold, and no more.
func TestEverySplitIsJudged(t *testing.T) {
	for _, name := range []string{"kestrel", "wren"} {
		for _, split := range params.Splits {
			m, err := mold.New(moldtest.Example(t, name, "mold.split="+split))
			if err != nil {
				t.Logf("%s, %s: %v", name, split, err)
				continue
			}
			v := judged(t, m)
			if len(v.Pieces) != len(m.Pieces)-1 || v.Reason == "" || v.Words() == "" {
				t.Errorf("%s, %s: %+v", name, split, v)
			}
			t.Logf("%s, %s: %s: %s; faults: %v", name, split, v.Words(), v.Reason, v.Faults())
		}
	}
}
