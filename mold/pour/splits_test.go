package pour

import (
	"math"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// planOf plans one wheel in a split.
func planOf(t testing.TB, w moldtest.Wheel, split string, sets ...string) (*mold.Mold, map[string]float64, *Plan) {
	t.Helper()
	m, volumes := made(t, w.Job(t, append(moldtest.SplitOf(t, split).Sets, sets...)...))
	p, err := New(m, volumes, 1.5, Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	return m, volumes, p
}

// In every split all that is mixed is accounted for, the level ends where rubber and
// channels are full, and the scale shows what is in the mold.
func TestMassBalanceOfEverySplit(t *testing.T) {
	for i, w := range moldtest.Wheels {
		for _, s := range moldtest.Splits {
			if testing.Short() && i > 0 {
				continue
			}
			t.Run(w.String()+", "+s.Name, func(t *testing.T) {
				m, volumes, p := planOf(t, w, s.Name)
				j, n := m.Job, p.Mix.Need
				near(t, "rubber and channels", n.Rubber+n.Channels, m.PouredMass(), 1e-9)
				near(t, "mixed", n.Rubber+n.Channels+n.Flash+n.Margin+n.Residue, n.Mixed, 1e-9)
				last := p.Filling[len(p.Filling)-1]
				near(t, "full", last.Mass, n.Rubber+n.Channels, 1e-9)
				near(t, "up to", last.Level, m.Tread.Top+j.Pour.Fill, 1e-12)
				lift := n.Rubber + n.Channels + volumes["hub"]/1000*j.Hub.Density
				for _, piece := range m.Pieces[:len(m.Pieces)-1] {
					lift += volumes[piece.Name] / 1000 * j.Process.Density
				}
				near(t, "full mold", p.Weights.Lift, lift, 1e-12)
				near(t, "wheel", p.Weights.Wheel, p.Weights.Hub+p.Weights.Rubber, 1e-12)
				if len(p.Air.Traps) > 0 || len(p.Air.Unmet) > 0 || p.Air.NoVents {
					t.Errorf("air: %+v", p.Air)
				}
				if s := p.Verdict(); s == Late {
					t.Errorf("%s", s)
				}
			})
		}
	}
}

// The wheel weighs the same out of every mold: an open top's layer is trimmed off, and
// weighs its height over a ring.
func TestTheWheelIsTheSameFromEverySplit(t *testing.T) {
	for _, w := range moldtest.Wheels[:2] {
		_, _, four := planOf(t, w, "four-piece")
		for _, split := range []string{"three shells", "open top", "clam", "cup and lid"} {
			m, _, p := planOf(t, w, split)
			near(t, w.String()+" rubber, "+split, p.Weights.Rubber, four.Weights.Rubber, 1e-9)
			tread := m.Tread
			layer := math.Pi * (tread.UpperOuter*tread.UpperOuter - m.Core.EndR()*m.Core.EndR()) * m.Job.Mold.TopAllowance / 1000 * m.Job.Pour.Density
			near(t, w.String()+" trimmed, "+split, p.Weights.Trim, layer*p.Weights.Rubber/four.Mix.Need.Rubber, 1e-4)
			if (p.Weights.Trim > 0) != (split == "open top") {
				t.Errorf("%s: %g g are trimmed", split, p.Weights.Trim)
			}
		}
	}
}

// What is trimmed is a ring under a cone: 2 mm of it, and the cone by Pappus.
func TestTrimmedVolume(t *testing.T) {
	j := moldtest.Wheels[1].Job(t, "mold.top_allowance=2mm", "mold.ceiling.shape=coned", "mold.ceiling.angle=3deg")
	m, err := mold.New(j)
	if err != nil {
		t.Fatal(err)
	}
	r0, r1, r2, h := m.Core.EndR(), m.Tread.RidgeR, m.Tread.UpperOuter, m.Tread.Ceiling
	ring := math.Pi * (r2*r2 - r0*r0) * (m.Tread.Top - m.Tread.Width)
	// Level from the hub to the ridge, and falling from there to the edge.
	cone := math.Pi*(r1*r1-r0*r0)*h + 2*math.Pi*(r2-r1)*h/2*(r1+(r2-r1)/3)
	near(t, "trimmed", m.TrimVolume(), ring+cone, 1e-9)
}

// An open top is poured straight in: nothing but pour.duration times it, up to the rim,
// and its surface is free. What would be of no use there is refused.
func TestOpenTopIsPouredStraightIn(t *testing.T) {
	w := moldtest.Wheels[2]
	_, _, p := planOf(t, w, "open top")
	j := w.Job(t, "mold.split=open top")
	if p.Sprue.Count != 0 || p.Sprue.Run != 0 || len(p.Sprue.Smallest) != 0 || p.Vent.Count != 0 || p.Forced() || p.Tight() {
		t.Errorf("%+v %+v", p.Sprue, p.Vent)
	}
	near(t, "end of the pour", p.Clock.PourEnd, j.Pour.Start+j.Pour.Duration, 1e-12)
	near(t, "latest begin", p.Clock.BeginBy, p.Clock.Due()-j.Pour.Duration, 1e-12)
	for _, f := range p.Filling {
		share := f.Volume / p.Filling[len(p.Filling)-1].Volume
		if p.Mix.Batches == 1 {
			near(t, "clock", f.Clock, j.Pour.Start+share*j.Pour.Duration, 1e-9)
		}
	}
	if a := p.Air; !a.OpenTop || a.Roof.Area != 0 || len(a.Vents) != 0 || len(a.Tries) != 0 {
		t.Errorf("%+v", a)
	}
	for _, f := range p.Warnings {
		if text := f.Error(); strings.Contains(text, "sprue") || strings.Contains(text, "vent") || strings.Contains(text, "lid") {
			t.Errorf("%s", text)
		}
	}
	for _, set := range []string{"pour.fill=1mm", "pour.funnel=10mm", "pour.tilt=2deg"} {
		x, _ := params.ParseSetting(set)
		y, _ := params.ParseSetting("mold.split=open top")
		src := "[wheel]\ndiameter = \"70 mm\"\nwidth = \"25 mm\"\n[hub]\nbore = \"8 mm\"\n"
		if _, _, err := params.Parse("job", []byte(src), y, x); err == nil || !strings.Contains(err.Error(), "open top") {
			t.Errorf("%s: %v", set, err)
		}
	}
}

// A pour that is too late is refused under an open top, too, and names no gate.
func TestLatePourIntoAnOpenTop(t *testing.T) {
	j := moldtest.Wheels[1].Job(t, "mold.split=open top", "pour.mold_temperature=60C", "pour.duration=30min")
	m, volumes := made(t, j)
	_, err := New(m, volumes, 0, Options{Wheels: 1, Molds: 1})
	if err == nil || !strings.Contains(err.Error(), "pour.duration") || strings.Contains(err.Error(), "gate") {
		t.Errorf("%v", err)
	}
}

// Clam halves are poured and vented on their parting plane, so that what cures there
// comes out with them. No vent is proposed that would lock a half: it lies on the plane
// or a wall clear of it.
func TestClamIsVentedOnItsPartingPlane(t *testing.T) {
	m, _, p := planOf(t, moldtest.Wheels[1], "clam")
	for _, at := range append(m.Layout.Gates, m.Layout.Vents...) {
		if math.Abs(at[1]) > 1e-9 {
			t.Errorf("a channel at %v", at)
		}
	}
	if len(m.Layout.Vents) != 1 || len(p.Air.Roof.Vents) != 1 || p.Air.Roof.Farthest < m.Tread.R {
		t.Errorf("one vent serves the roof: %+v", p.Air.Roof)
	}
	r, z := (m.Tread.InnerR+m.Tread.UpperOuter)/2, m.Tread.Top
	for _, c := range []struct {
		at   mesh.Vec
		want bool
	}{{mesh.Vec{0, r, z}, true}, {mesh.Vec{r, 0, z}, true}, {mesh.Vec{r, 2.9, z}, false}, {mesh.Vec{-r, -2.9, z}, false}, {mesh.Vec{-r, 3.1, z}, true}} {
		if got := parts(m, c.at, 3); got != c.want {
			t.Errorf("a vent at %v: %v, want %v", c.at, got, c.want)
		}
	}
	if !reachable(m, mesh.Vec{0, r, z}) {
		t.Error("no vent a quarter turn away")
	}
	lidded, _, _ := planOf(t, moldtest.Wheels[1], "cup and lid")
	if !parts(lidded, mesh.Vec{r, 2.9, z}, 3) {
		t.Error("a lid is drawn upward, whatever is bored through it")
	}
}
