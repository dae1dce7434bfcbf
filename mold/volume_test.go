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

// Worked by hand: π/4·(28²-10²)·12.5 cm³ = 6715 cm³, 6984 g at 1.04 g/cm³; with
// both outer edges rounded to 3 mm, by the handbook's formula for the rounded edge
// of a cylinder, 6980 g.
func TestHandbookTread(t *testing.T) {
	j := plainTread(t)
	m, err := New(j)
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if math.Abs(got-want) > tol {
			t.Errorf("%s: %.4f, want %.4f", what, got, want)
		}
	}
	near("rubber, cm³", m.RubberVolume()/1000, math.Pi/4*(28*28-10*10)*12.5, 1e-6)
	near("rubber, cm³", m.RubberVolume()/1000, 6715, .5)
	near("mass, g", m.PouredMass()-m.ChannelVolume()/1000*1.04, 6984, .5)

	j.Wheel.Edge, j.Wheel.EdgeSize = "round", 3
	if m, err = New(j); err != nil {
		t.Fatal(err)
	}
	r, e := 140., 3.
	round := 2 * math.Pi * (r*e*e*(1-math.Pi/4) - e*e*e*(10-3*math.Pi)/12) // one edge
	near("rounded, mm³", m.RubberVolume(), math.Pi/4*(280*280-100*100)*125-2*round, 1e-4)
	near("rounded, g", m.RubberVolume()/1000*1.04, 6980, .5)
}

// Filled half way up, a straight sprue and straight vents hold half as much; a
// cone holds what the frustum formula of any handbook says.
func TestFilledChannels(t *testing.T) {
	j := plainTread(t)
	j.Mold.Sprue.Mouth = j.Mold.Sprue.Gate
	j.Pour.Fill = j.Mold.LidThickness / 2
	m, err := New(j)
	if err != nil {
		t.Fatal(err)
	}
	if got := m.FilledChannels() / m.ChannelVolume(); math.Abs(got-.5) > 1e-12 {
		t.Errorf("half full: %g of the whole", got)
	}
	if got, want := m.PouredMass(), (m.RubberVolume()+m.ChannelVolume()/2)/1000*1.04; math.Abs(got-want) > 1e-9 {
		t.Errorf("poured %g g, want %g", got, want)
	}
	j.Mold.Sprue.Mouth, j.Mold.Vents.Count = 24, 0
	if m, err = New(j); err != nil {
		t.Fatal(err)
	}
	r0, h := j.Mold.Sprue.Gate/2, j.Mold.LidThickness
	r := r0 + (12-r0)/2
	if got, want := m.FilledChannels(), math.Pi*h/2/3*(r0*r0+r0*r+r*r); math.Abs(got/want-1) > 1e-4 { // radii lie on the lattice
		t.Errorf("half-full cone %g mm³, want %g", got, want)
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
			if m.Tread.Width != 125 || math.Abs(m.Tread.SurfaceR(62.5)-m.Tread.R) > 1e-9 {
				t.Errorf("%+v, crown %v: %v wide, %.4f in the middle", c, crown, m.Tread.Width, m.Tread.SurfaceR(62.5))
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
