package params

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Limits of ISO 286-2 in µm, upper/lower, as computed by hand from the printed
// tables of standard tolerances and fundamental deviations.
const fitTable = `
mm      g6       h6    k6     n6      p6      H7    N6      N7     P6      P7      R6      R7
18      -6/-17   0/-11 12/1   23/12   29/18   18/0  -9/-20  -5/-23 -15/-26 -11/-29 -20/-31 -16/-34
30      -7/-20   0/-13 15/2   28/15   35/22   21/0  -11/-24 -7/-28 -18/-31 -14/-35 -24/-37 -20/-41
50      -9/-25   0/-16 18/2   33/17   42/26   25/0  -12/-28 -8/-33 -21/-37 -17/-42 -29/-45 -25/-50
65      -10/-29  0/-19 21/2   39/20   51/32   30/0  -14/-33 -9/-39 -26/-45 -21/-51 -35/-54 -30/-60
80      -10/-29  0/-19 21/2   39/20   51/32   30/0  -14/-33 -9/-39 -26/-45 -21/-51 -37/-56 -32/-62
100     -12/-34  0/-22 25/3   45/23   59/37   35/0  -16/-38 -10/-45 -30/-52 -24/-59 -44/-66 -38/-73
120     -12/-34  0/-22 25/3   45/23   59/37   35/0  -16/-38 -10/-45 -30/-52 -24/-59 -47/-69 -41/-76`

func TestFitMatchesTheTable(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(fitTable), "\n")
	classes := strings.Fields(lines[0])[1:]
	for _, line := range lines[1:] {
		cells := strings.Fields(line)
		var d float64
		fmt.Sscan(cells[0], &d)
		for i, class := range classes {
			var hi, lo float64
			fmt.Sscanf(cells[i+1], "%g/%g", &hi, &lo)
			gotLo, gotHi, err := Fit(d, class)
			if err != nil || gotLo != lo/1000 || gotHi != hi/1000 {
				t.Errorf("Fit(%v, %s) = %v, %v, %v, want %v, %v µm", d, class, gotLo*1000, gotHi*1000, err, lo, hi)
			}
		}
	}
}

// Worked by hand from the same tables: 30 H7/g6 has 7 to 41 µm of clearance, 30
// H7/p6 1 to 35 µm of interference.
func TestFitWorkedExamples(t *testing.T) {
	for _, c := range []struct {
		shaft       string
		least, most float64
	}{{"g6", 7, 41}, {"p6", -35, -1}} {
		holeLo, holeHi, _ := Fit(30, "H7")
		lo, hi, err := Fit(30, c.shaft)
		least, most := 1000*(holeLo-hi), 1000*(holeHi-lo)
		if err != nil || math.Abs(least-c.least) > 1e-9 || math.Abs(most-c.most) > 1e-9 {
			t.Errorf("30 H7/%s: clearance %v to %v µm (%v), want %v to %v", c.shaft, least, most, err, c.least, c.most)
		}
	}
}

// The printed tolerances follow i = 0.45·D^⅓ + 0.001·D (ISO 286-1:1988, annex
// A) up to the standard's rounding, which is largest for small diameters.
func TestToleranceFollowsTheFormula(t *testing.T) {
	over := 3.0
	for _, r := range toleranceGrades[1:] {
		mean := math.Sqrt(over * r.upTo)
		unit := 0.45*math.Cbrt(mean) + 0.001*mean
		for g, multiple := range map[int]float64{6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100} {
			got, ok := Tolerance(r.upTo, g)
			if want := multiple * unit / 1000; !ok || math.Abs(got/want-1) > 0.1 {
				t.Errorf("IT%d up to %v mm: %v, the formula gives %v", g, r.upTo, got, want)
			}
		}
		over = r.upTo
	}
}

func TestFitRefuses(t *testing.T) {
	for _, c := range []struct {
		d     float64
		class string
	}{{30, ""}, {30, "7"}, {30, "H"}, {30, "H4"}, {30, "H12"}, {30, "x6"}, {30, "R8"}, {30, "N9"}, {600, "H7"}, {0, "H7"}, {math.NaN(), "H7"}, {5, "g6"}, {30, "HH7"}} {
		if lo, hi, err := Fit(c.d, c.class); err == nil {
			t.Errorf("Fit(%v, %q) = %v, %v", c.d, c.class, lo, hi)
		}
	}
}

// Stress areas to three decimals from As = π/4·((d2+d3)/2)² of ISO 898-1, and
// as printed there to three digits.
func TestThreadStressArea(t *testing.T) {
	want := []float64{5.031, 8.779, 14.183, 20.123, 36.609, 57.990, 84.267}
	for i, f := range Fasteners {
		if got := ThreadStressArea(f.Diameter, f.Pitch); math.Abs(got-want[i]) > 0.0005 {
			t.Errorf("%s: %v mm², want %v", f.Size, got, want[i])
		}
		if math.Abs(f.StressArea/want[i]-1) > 0.005 {
			t.Errorf("%s: printed %v mm², formula %v", f.Size, f.StressArea, want[i])
		}
		// ISO 898-1: class 8.8 has a proof stress of 580 MPa and a strength of
		// 800 MPa up to M16; the table rounds to three digits.
		if math.Abs(f.Proof88/(580*f.StressArea)-1) > 0.006 || math.Abs(f.Tensile88/(800*f.StressArea)-1) > 0.006 {
			t.Errorf("%s: loads %v and %v N do not follow from %v mm²", f.Size, f.Proof88, f.Tensile88, f.StressArea)
		}
		// A tap drill is the nominal diameter less the pitch, within 0.05 mm.
		if math.Abs(f.TapDrill-(f.Diameter-f.Pitch)) > 0.051 {
			t.Errorf("%s: tap drill %v", f.Size, f.TapDrill)
		}
		if !(f.Diameter < f.Fine && f.Fine < f.Medium && f.Medium < f.Coarse && f.Coarse < f.HeadDiameter && f.HeadDiameter < f.HeadKnurled) {
			t.Errorf("%s: holes and head out of order: %+v", f.Size, f)
		}
	}
}

// A published worked example: M12 of class 8.8 to 34.2 kN with K = 0.2 takes 82
// N·m. Back from the torque comes the force.
func TestTorqueWorkedExample(t *testing.T) {
	m12, _ := FastenerOf("M12")
	if got := m12.Torque(34200); math.Abs(got-82) > 0.1 {
		t.Errorf("M12 to 34.2 kN: %v N·m, want 82", got)
	}
	for _, f := range Fasteners {
		if got := f.Tension(f.Torque(1234)); math.Abs(got-1234) > 1e-9 {
			t.Errorf("%s: 1234 N by way of the torque: %v", f.Size, got)
		}
	}
}

// Worked by hand, M8 with a medium hole (head 13 mm, hole 9 mm, ring 69.115
// mm²): 150 MPa carry 10367 N, less than half of 21200 N; 200 MPa carry more.
func TestSafeTension(t *testing.T) {
	m8, _ := FastenerOf("M8")
	for _, c := range []struct{ bearing, want float64 }{{150e6, 10367.3}, {15e6, 1036.73}, {200e6, 10600}} {
		if got := m8.SafeTension("medium", c.bearing); math.Abs(got-c.want) > 0.1 {
			t.Errorf("M8 on %v Pa: %v N, want %v", c.bearing, got, c.want)
		}
	}
	if fine, coarse := m8.BearingForce("fine", 150e6), m8.BearingForce("coarse", 150e6); fine <= coarse {
		t.Errorf("a wider hole bears more: %v N, fine %v N", coarse, fine)
	}
}

func TestFastenerHole(t *testing.T) {
	f, ok := FastenerOf("M5")
	if !ok || f.Hole("fine") != 5.3 || f.Hole("medium") != 5.5 || f.Hole("coarse") != 5.8 { // ISO 273
		t.Errorf("M5: %+v", f)
	}
	if _, ok := FastenerOf("M7"); ok {
		t.Error("M7 found")
	}
}

func TestBallSizes(t *testing.T) {
	for i := 1; i < len(BallSizes); i++ {
		if BallSizes[i] <= BallSizes[i-1] {
			t.Errorf("ball sizes out of order at %v", BallSizes[i])
		}
	}
	// Fractions of an inch in ISO 3290-1, as builders write them.
	for _, s := range []string{"1/16 in", "3/32 in", "7/64 in", "1/8 in", "5/32 in", "3/16 in", "7/32 in", "1/4 in", "9/32 in",
		"5/16 in", "11/32 in", "3/8 in", "13/32 in", "7/16 in", "15/32 in", "1/2 in", "17/32 in", "9/16 in", "5/8 in", "3/4 in", "1 in"} {
		if v, err := ParseLength(s); err != nil || !IsBallSize(v) {
			t.Errorf("%s = %v mm is no ball size (%v)", s, v, err)
		}
	}
	for _, v := range []float64{0, 3.1, 5.5, 6.36, math.NaN(), math.Inf(1)} {
		if IsBallSize(v) {
			t.Errorf("%v mm is a ball size", v)
		}
	}
}
