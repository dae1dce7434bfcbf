package mold

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// plainTread is a smooth tread of 280 × 125 mm on a plain hub of 100 mm.
func plainTread(t *testing.T) *params.Job {
	t.Helper()
	j, err := params.Default(280, 125, 30, "milled")
	if err != nil {
		t.Fatal(err)
	}
	j.Wheel.Edge, j.Wheel.EdgeSize = "square", 0
	j.Hub.BodyDiameter, j.Hub.FlangeDiameter, j.Hub.Grooves = 100, 100, nil
	j.Mold.Shrinkage, j.Pour.GelTemperature = 0, j.Pour.SheetTemperature // the cavity is the wheel
	j.Pour.Waste, j.Pour.Density, j.Pour.PartsA, j.Pour.PartsB = 0, 1.04, 1, 1
	return j
}

// Worked by hand: π/4·(28²-10²)·12.5 cm³ = 6715 cm³, 6984 g at 1.04 g/cm³,
// 3492 g of each part at 1:1; with both outer edges rounded to 3 mm, by the
// handbook's formula for the rounded edge of a cylinder, 6980 g.
func TestHandbookTread(t *testing.T) {
	j := plainTread(t)
	m, err := New(j)
	if err != nil {
		t.Fatal(err)
	}
	c := m.Charge()
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if math.Abs(got-want) > tol {
			t.Errorf("%s: %.4f, want %.4f", what, got, want)
		}
	}
	near("rubber, cm³", c.Rubber, math.Pi/4*(28*28-10*10)*12.5, 1e-6)
	near("rubber, cm³", c.Rubber, 6715, .5)
	channels := c.Channels * 1.04
	near("mass, g", c.Mixed-channels, 6984, .5)
	near("part A, g", c.A-channels/2, 3492, .5)
	near("part B, g", c.B-channels/2, 3492, .5)

	j.Wheel.Edge, j.Wheel.EdgeSize = "round", 3
	if m, err = New(j); err != nil {
		t.Fatal(err)
	}
	r, e := 140., 3.
	round := 2 * math.Pi * (r*e*e*(1-math.Pi/4) - e*e*e*(10-3*math.Pi)/12) // one edge
	near("rounded, mm³", m.RubberVolume(), math.Pi/4*(280*280-100*100)*125-2*round, 1e-4)
	near("rounded, g", m.RubberVolume()/1000*1.04, 6980, .5)
}

// The batch is set against what one pour takes: enough, short, how many wheels.
func TestChargeAgainstBatch(t *testing.T) {
	j := plainTread(t)
	j.Pour.Waste = .05
	j.Pour.PartsA, j.Pour.PartsB = 100, 75
	j.Pour.BatchMass = 16000
	m, err := New(j)
	if err != nil {
		t.Fatal(err)
	}
	c := m.Charge()
	if want := (c.Rubber + c.Channels) * 1.04 / .95; math.Abs(c.Mixed-want) > 1e-9 {
		t.Errorf("mixed %v, want %v", c.Mixed, want)
	}
	if math.Abs(c.A/c.B-100./75) > 1e-12 || math.Abs(c.A+c.B-c.Mixed) > 1e-9 {
		t.Errorf("parts %v and %v", c.A, c.B)
	}
	if c.Wheels != 2 || math.Abs(c.Spare-(16000-c.Mixed)) > 1e-9 {
		t.Errorf("%d wheels, spare %v", c.Wheels, c.Spare)
	}
	j.Pour.BatchMass = 7000
	if m, err = New(j); err != nil {
		t.Fatal(err)
	}
	if c = m.Charge(); c.Wheels != 0 || c.Spare >= 0 {
		t.Errorf("7 kg should be short: %d wheels, spare %v", c.Wheels, c.Spare)
	}
}

// The sprue's and vents' closed forms against the exact boundary.
func TestChannelVolume(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		got := exactVolume(t, brep.NewEvaluator(m.Model), "channels", m.Channels)
		if d := m.ChannelVolume()/got - 1; d < -1e-9 || d > .05 || m.Tread.Ceiling == 0 && d > 1e-9 {
			t.Errorf("%s: closed form %.4f, boundary %.4f", name, m.ChannelVolume(), got)
		}
	}
}

// Cured, the wheel has the wanted diameter in the middle, whatever its surface, if
// the ends hold: the rubber's section loses three times the free linear shrinkage, by
// reaction and by cooling to the data sheet's temperature. Its width is the wheel's.
func TestShrinkageAllowance(t *testing.T) {
	j := plainTread(t)
	j.Pour.Expansion, j.Pour.SheetTemperature, j.Pour.MoldTemperature = 175e-6, 21, 25
	j.Hub.FlangeDiameter, j.Hub.FlangeThickness = 110, 5
	for _, c := range []struct{ shrinkage, gel, strain float64 }{
		{0, 21, 0}, {.004, 21, .004}, {.002, 61, .009}, {0, 61, .007}, {.002, 15, .002 - .00105},
	} {
		for _, crown := range []float64{0, 1.5} {
			j.Mold.Shrinkage, j.Pour.GelTemperature, j.Wheel.Crown = c.shrinkage, c.gel, crown
			m, err := New(j)
			if err != nil {
				t.Fatal(err)
			}
			left := (m.Tread.R*m.Tread.R - 50*50) * (1 - 3*c.strain)
			if got := math.Sqrt(50*50 + left); math.Abs(got-140) > solid.Lattice {
				t.Errorf("%+v, crown %v: cured radius %.4f, want 140", c, crown, got)
			}
			if m.Tread.Width != 125 || math.Abs(m.Tread.surfaceR(62.5)-m.Tread.R) > 1e-9 {
				t.Errorf("%+v, crown %v: %v wide, %.4f in the middle", c, crown, m.Tread.Width, m.Tread.surfaceR(62.5))
			}
		}
	}
}

// Drilled and recessed features against the standards' tables, not the code's.
func TestStandardsInTheMold(t *testing.T) {
	holes := map[string]float64{"M3": 3.4, "M4": 4.5, "M5": 5.5, "M6": 6.6, "M8": 9, "M10": 11} // ISO 273, medium
	heads := map[string]float64{"M3": 5.5, "M4": 7, "M5": 8.5, "M6": 10, "M8": 13, "M10": 16}   // ISO 4762 dk; k is the nominal diameter
	for size, hole := range holes {
		j := plainTread(t)
		j.Mold.Bolts.Size, j.Mold.Bolts.Torque = size, 0 // as far as geometry cares
		m, err := New(j)
		if err != nil {
			t.Fatalf("%s: %v", size, err)
		}
		var k float64
		fmt.Sscanf(size, "M%g", &k)
		for _, b := range m.Layout.Bolts {
			if math.Abs(2*b.R-hole) > 2*solid.Lattice {
				t.Errorf("%s: hole %.4f, ISO 273 medium says %.2f", size, 2*b.R, hole)
			}
			if 2*b.HeadR < heads[size]+.2 || 2*b.HeadR > heads[size]*1.25+.5 || b.HeadD < k {
				t.Errorf("%s: counterbore %.2f × %.2f does not take a head of %.1f × %.0f", size, 2*b.HeadR, b.HeadD, heads[size], k)
			}
		}
		if n := len(m.Layout.Bolts); n != 4 {
			t.Errorf("%s: %d bolts", size, n)
		}
		for _, p := range m.Layout.Balls { // ISO 3290: 12 mm; together at least 0.2 mm deeper than the ball
			if p.Diameter != 12 || 2*p.Depth < 12.2-1e-4 || 2*p.R <= 12 {
				t.Errorf("ball %v in pockets of %.3f × %.3f", p.Diameter, 2*p.R, p.Depth)
			}
		}
	}
}

// A register keys into its opening with the stated fit: 22 mm pocket, from
// clearance to a light interference that ISO 286 would call H7/n6 at its
// tightest (28 µm for 18-30 mm).
func TestRegisterFit(t *testing.T) {
	for _, fit := range []float64{.2, .05, .007, -.01, -.028} {
		j := plainTread(t)
		j.Hub.BearingBack = params.Pocket{Diameter: 22, Depth: 12}
		j.Hub.Bore = 16
		j.Mold.RegisterBack = params.Register{Opening: "bearing", Engagement: 6, Clearance: fit, LeadIn: .5}
		m, err := New(j)
		if err != nil {
			t.Fatalf("fit %v: %v", fit, err)
		}
		base, _ := m.Piece("base")
		at := func(d float64) bool { return base.Root.Contains(solid.Vec{0, d / 2, m.Core.Z0 + 3}) }
		if want := 22 - fit; !at(want-.001) || at(want+.001) {
			t.Errorf("fit %v: the register's diameter is not %.3f", fit, want)
		}
	}
}
