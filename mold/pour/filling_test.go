package pour

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"wheelmold/mold/moldtest"
	"wheelmold/mold/urethane"
)

// A smooth annulus under a flat lid, poured through a straight gate, fills evenly: its
// section times the level, and above the lid the gate's section. Two batches share it.
func TestFillingOfAnAnnulus(t *testing.T) {
	j := handbook(t)
	j.Mold.Vents.Count = 0
	p := planned(t, j, 30, Options{Wheels: 1, Molds: 1})
	ring, gate := math.Pi/4*(280*280-100*100), math.Pi/4*20*20
	for i, f := range p.Filling {
		want := ring*min(f.Level, 125) + gate*max(0, f.Level-125)
		near(t, fmt.Sprintf("point %d, %.1f mm: volume", i, f.Level), f.Volume, want, 1e-9)
		near(t, fmt.Sprintf("point %d: mass", i), f.Mass, want/1000*1.04, 1e-9)
	}
	n := len(p.Filling)
	if first, last := p.Filling[0], p.Filling[n-1]; first.Level != 0 || first.Volume != 0 || last.Level != 145 || last.Batch != 2 {
		t.Errorf("from %+v to %+v", first, last)
	}
	k := slices.IndexFunc(p.Filling, func(f Fill) bool { return f.Batch == 2 })
	half := (ring*125 + gate*20) / 2
	for _, f := range p.Filling[k-1 : k+1] {
		near(t, "level between the batches", f.Level, half/ring, 1e-9)
		near(t, "volume between the batches", f.Volume, half, 1e-9)
	}
	near(t, "the second batch begins", p.Filling[k].Clock, j.Pour.Start, 1e-12)
}

// Whatever the mold, the points rise from nothing to all of rubber and channels, which
// is reached when the batch is poured; and each says what the urethane is by then.
func TestFilling(t *testing.T) {
	for _, c := range []struct {
		name  string
		molds int
		sets  []string
	}{
		{"wren", 1, nil}, {"kestrel", 1, nil}, {"albatross", 1, nil}, {"wren", 3, nil},
		{"wren", 1, []string{"mold.vents.count=0", "pour.fill=0mm"}},
		{"kestrel", 1, []string{"mold.ceiling.shape=coned", "mold.ceiling.angle=3deg", "pour.fill=0mm"}},
		{"kestrel", 1, []string{"pour.duration=4min", "pour.mold_temperature=35C"}},
		{"albatross", 2, []string{"pour.bucket.volume=4l", "pour.bucket.diameter=180mm"}},
		{"albatross", 1, []string{"mold.sprue.gate=9mm"}},
	} {
		name := fmt.Sprint(c.name, c.molds, c.sets)
		j := moldtest.Example(t, c.name, c.sets...)
		m, volumes := made(t, j)
		p, err := New(m, volumes, 3, Options{Wheels: c.molds, Molds: c.molds})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		liquid := urethane.Of(&j.Pour).At(j.Pour.MixTemperature)
		for i, f := range p.Filling {
			near(t, name+": viscosity", f.Viscosity, liquid.ViscosityAt(f.Clock), 1e-12)
			near(t, name+": pot life", f.Clock+f.Left, p.Clock.PourBy, 1e-12)
			if m.Tread.Ceiling == 0 && f.Level == m.Tread.Top {
				near(t, name+": volume at the top", f.Volume, m.RubberVolume(), 1e-9)
			}
			if i == 0 {
				continue
			}
			switch e := p.Filling[i-1]; {
			case e.Batch == f.Batch && !(f.Level > e.Level && f.Volume > e.Volume && f.Clock > e.Clock):
				t.Errorf("%s: after %+v there is %+v", name, e, f)
			case e.Batch < f.Batch:
				near(t, name+": a batch is poured", e.Clock, p.Clock.PourEnd, 1e-9)
			}
		}
		last := p.Filling[len(p.Filling)-1]
		near(t, name+": volume", last.Volume, m.RubberVolume()+m.FilledChannels(), 1e-9)
		near(t, name+": full", last.Clock, p.Clock.PourEnd, 1e-9)
		near(t, name+": level", last.Level, m.Tread.Top+max(j.Pour.Fill, m.Tread.Ceiling), 1e-12)
		near(t, name+": batches", float64(last.Batch), max(1, float64(p.Mix.Batches)/float64(c.molds)), 0)
	}
}

// With the mouths kept full, a share of a batch is through when the gates have let it
// through; where the hand is slower, the shares take equal times.
func TestFillingFollowsTheGates(t *testing.T) {
	j := handbook(t)
	m, volumes := made(t, j)
	p, err := New(m, volumes, 30, Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	if p.Sprue.Run <= j.Pour.Duration {
		t.Fatalf("runs in within %g s", p.Sprue.Run)
	}
	full := p.Filling[len(p.Filling)-1].Volume
	flow := pouringOf(m, p.Liquid)
	for _, f := range p.Filling[1:12] {
		near(t, "through the gates", flow.Volume(j.Pour.Start, f.Clock), 2*f.Volume/full*p.Sprue.Volume, 1e-8)
	}
	j.Pour.Duration = 3 * p.Sprue.Run
	p = planned(t, j, 30, Options{Wheels: 1, Molds: 1})
	for _, f := range p.Filling[1:12] {
		near(t, "by hand", f.Clock-j.Pour.Start, 2*f.Volume/full*j.Pour.Duration, 1e-9)
	}
}

// Of three molds that one batch fills the last is shown: it is begun when two thirds
// of the batch are out.
func TestFillingTheLastMold(t *testing.T) {
	j := moldtest.Example(t, "wren", "pour.duration=9min", "pour.pot_life=30min", "pour.gel_time=50min", "pour.bucket.volume=2l")
	p := planned(t, j, 1, Options{Wheels: 3, Molds: 3})
	if p.Mix.Batches != 1 || p.Sprue.Run >= j.Pour.Duration {
		t.Fatalf("%d batches, %g s", p.Mix.Batches, p.Sprue.Run)
	}
	near(t, "begun", p.Filling[0].Clock, j.Pour.Start+360, 1e-9)
	near(t, "empty yet", p.Filling[0].Volume, 0, 0)
}

// The mix thickens as the data sheet says: in the bucket from first mixing, in the
// mold from the pour on at the mold's warmth, each until it gels.
func TestThickening(t *testing.T) {
	j := moldtest.Example(t, "kestrel", "pour.mold_temperature=35C")
	p := planned(t, j, 1, Options{Wheels: 1, Molds: 1})
	liquid := urethane.Of(&j.Pour).At(j.Pour.MixTemperature)
	var bucket, mold float64
	for i, x := range p.Thickening {
		if x.Clock <= liquid.Gels() {
			bucket = x.Clock
			near(t, "in the bucket", x.Bucket, liquid.ViscosityAt(x.Clock), 1e-12)
		} else if x.Bucket != 0 {
			t.Errorf("gelled, and %g Pa·s", x.Bucket)
		}
		switch in := x.Clock >= j.Pour.Start && x.Clock <= p.Clock.Gel; {
		case !in && x.Mold != 0:
			t.Errorf("at %g s there is %g Pa·s in the mold", x.Clock, x.Mold)
		case x.Clock == j.Pour.Start: // as old, but as thin as it is warm
			near(t, "poured", x.Mold/x.Bucket, math.Exp(4970*(1/(35+273.15)-1/(j.Pour.MixTemperature+273.15))), 1e-9)
		case in:
			mold = x.Clock
			// From first mixing to gel the data sheet's viscosity grows by Growth^(gel/pot life).
			if x.Clock == p.Clock.Gel {
				thin := math.Exp(4970 * (1/(35+273.15) - 1/(j.Pour.SheetTemperature+273.15)))
				near(t, "at gel", x.Mold, j.Pour.Viscosity*math.Pow(j.Pour.Growth, j.Pour.GelTime/j.Pour.PotLife)*thin, 1e-9)
			}
		}
		if i > 0 && x.Clock <= p.Thickening[i-1].Clock {
			t.Errorf("%g s after %g s", x.Clock, p.Thickening[i-1].Clock)
		}
	}
	near(t, "gels in the bucket", bucket, liquid.Gels(), 1e-12)
	near(t, "gels in the mold", mold, p.Clock.Gel, 1e-12)
	if p.Clock.Gel >= liquid.Gels() {
		t.Error("a warm mold gels no sooner than a cool bucket")
	}
}

// BenchmarkFilling is the biggest example's; its columns are cut already.
func BenchmarkFilling(b *testing.B) {
	m, volumes := made(b, moldtest.Example(b, "albatross"))
	p, err := settled(m, volumes, 1, Options{Wheels: 1, Molds: 1})
	if err != nil {
		b.Fatal(err)
	}
	c, err := cavityOf(m, 0)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		p.filling(m, c)
	}
}
