package castlog

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// quantity makes casts whose true ratio is known; its spread is what the method says that
// it assumes.
type quantity struct {
	name   string
	spread float64
	cast   func(rng *rand.Rand, ratio, shared float64) Record
	of     func(*Lesson) *Finding
}

// byMass weighs flash that goes with a power of the gap, which the log tells, or not.
func byMass(power float64, told Measure) func(*rand.Rand, float64, float64) Record {
	return func(_ *rand.Rand, ratio, _ float64) Record {
		return Record{ExpectedFlash: Of(4), FlashPower: told, FlashMass: Of(4 * math.Pow(ratio, power))}
	}
}

var quantities = []quantity{
	{"gap", 0.35, func(rng *rand.Rand, ratio, _ float64) Record {
		// 45 µm were expected with the ratio 1.5 in force: 30 µm without. A micrometer that
		// is off reads hundredths.
		read := math.Round(100*(0.030*ratio+FlashError*rng.NormFloat64())) / 100
		return Record{ExpectedGap: Of(45), GapRatio: Of(1.5), Flash: Of(max(0.01, read))}
	}, func(l *Lesson) *Finding { return &l.Gap }},
	{"gap by mass, power told", 0.35, byMass(1.6, Of(1.6)), func(l *Lesson) *Finding { return &l.Gap }},
	{"gap by mass, power a little off", 0.35, byMass(1.85, Of(1.6)), func(l *Lesson) *Finding { return &l.Gap }},
	{"gap by mass, power not told", 0.35, byMass(2, Measure{}), func(l *Lesson) *Finding { return &l.Gap }},
	{"residue", 0.25, func(_ *rand.Rand, ratio, _ float64) Record {
		return Record{Result: "failed", ExpectedResidue: Of(8), ResidueRatio: Of(0.5), Residue: Of(16 * ratio)}
	}, func(l *Lesson) *Finding { return &l.Residue }},
	{"shrinkage", 0.3, func(rng *rand.Rand, ratio, shared float64) Record {
		return Record{Cavity: Of(120), ExpectedCured: Of(119.5), Diameter: Of(120 + CavityError*shared - 0.5*ratio + CaliperError*rng.NormFloat64())}
	}, func(l *Lesson) *Finding { return &l.Shrinkage }},
}

// trials counts how often the interval holds the true ratio, and the mean width as a
// factor from end to end.
func trials(q quantity, n int, noise float64) (held int, width float64) {
	for i := range 200 {
		rng := rand.New(rand.NewPCG(uint64(i), uint64(n)))
		truth := 0.5 * math.Pow(6, rng.Float64()) // 0.5 to 3
		shared := rng.NormFloat64()
		var l Log
		for range n {
			r := q.cast(rng, truth*math.Exp(noise*q.spread*rng.NormFloat64()), shared)
			r.Kind = Cast
			l.Records = append(l.Records, r)
		}
		f := q.of(Learn(&l))
		if f.Low <= truth && truth <= f.High {
			held++
		}
		width += math.Log(f.High/f.Low) / 200
	}
	return held, math.Exp(width)
}

// Known ratios are recovered within the stated interval in nine of ten trials, for casts
// that vary as much as assumed, less, and somewhat more; and the interval is of use: it
// narrows with every cast, and four casts as assumed tell a factor of 2 from 1.
func TestIntervalHoldsTheTruth(t *testing.T) {
	for _, q := range quantities {
		for _, noise := range []float64{0.25, 0.5, 1, 1.25} {
			before := math.Inf(1)
			for n := 1; n <= 4; n++ {
				held, width := trials(q, n, noise)
				t.Logf("%s, noise %.2f, %d casts: %d of 200, factor %.2f wide", q.name, noise, n, held, width)
				if held < 180 {
					t.Errorf("%s, noise %.2f, %d casts: %d of 200 intervals hold the truth", q.name, noise, n, held)
				}
				if width >= 1.1*before && noise <= 1 { // three casts as assumed may refute two
					t.Errorf("%s, noise %.2f: %d casts give a factor of %.2f, one less gave %.2f", q.name, noise, n, width, before)
				}
				before = width
			}
			if before > 4 {
				t.Errorf("%s, noise %.2f: four casts leave a factor of %.2f", q.name, noise, before)
			}
		}
	}
}

func log(casts ...Record) *Log {
	l := &Log{}
	for i, r := range casts {
		r.Kind, r.Date, r.Line = Cast, "2026-05-01", i+2
		l.Records = append(l.Records, r)
	}
	return l
}

func near(a, b float64) bool { return math.Abs(a-b) < 5e-4*math.Abs(b) }

// One cast: t of two degrees of freedom is 2.91999 at 95 % (tables of Student's t), times
// the assumed spread, to which a micrometer that is off by a third of the flash adds.
func TestOneCast(t *testing.T) {
	f, wide := Learn(log(Record{ExpectedGap: Of(40), Flash: Of(0.06)})).Gap, math.Exp(2.91999*math.Sqrt(0.35*0.35+0.02*0.02/0.06/0.06))
	if !near(f.Ratio, 1.5) || !near(f.High/1.5, wide) || !near(1.5/f.Low, wide) || f.N != 1 {
		t.Errorf("%+v", f)
	}
}

// A caliper that is off by a quarter of what is measured adds 0.25 to the spread of 0.3, as
// independent errors add; a cavity that is off by as much adds 1.64485 times that, the
// normal distribution's 95 %, to the half width.
func TestCaliperWidens(t *testing.T) {
	f := Learn(log(Record{Cavity: Of(120), ExpectedCured: Of(119.8), Diameter: Of(119.8)})).Shrinkage
	if want := math.Exp(math.Sqrt(2.91999*2.91999*(0.3*0.3+0.25*0.25) + 1.64485*1.64485*0.25*0.25)); !near(f.Ratio, 1) || !near(f.High, want) {
		t.Errorf("%+v, want a factor of %.3f", f, want)
	}
}

// Casts that vary far more than assumed have the interval of the textbook: mean ±
// 2.91999 s/√3 for three of them.
func TestThreeWildCasts(t *testing.T) {
	var casts []Record
	for _, y := range []float64{-1.2, 0, 1.2} {
		casts = append(casts, Record{ExpectedResidue: Of(10), Residue: Of(10 * math.Exp(y))})
	}
	f := Learn(log(casts...)).Residue
	if want := math.Exp(2.91999 * 1.2 / math.Sqrt(3)); !near(f.Ratio, 1) || !near(f.High, want) || !near(1/f.Low, want) {
		t.Errorf("%+v, want a factor of %.3f", f, want)
	}
	if len(f.Notes) != 2 || !strings.Contains(f.Notes[0], "line 2") || !strings.Contains(f.Notes[1], "line 4") {
		t.Errorf("two of three casts are odd, but: %q", f.Notes)
	}
}

// The ratio is that to the prediction without calibration: what was in force at the cast
// changes nothing.
func TestRatioInForce(t *testing.T) {
	plain := Learn(log(Record{ExpectedResidue: Of(10), Residue: Of(15)})).Residue
	calibrated := Learn(log(Record{ExpectedResidue: Of(15), ResidueRatio: Of(1.5), Residue: Of(15)})).Residue
	if !near(plain.Ratio, 1.5) || !near(calibrated.Ratio, 1.5) {
		t.Errorf("%g and %g, want 1.5", plain.Ratio, calibrated.Ratio)
	}
}

func TestWhatACastSays(t *testing.T) {
	shrunk := Record{Cavity: Of(120), ExpectedCured: Of(119.5), Diameter: Of(119.25)}
	failed := shrunk
	failed.Result = "failed"
	small := shrunk
	small.ExpectedCured = Of(119.86)
	swollen := shrunk
	swollen.Diameter = Of(120.02)
	gap, residue, shrinkage := quantities[0].of, quantities[len(quantities)-2].of, quantities[len(quantities)-1].of
	for _, c := range []struct {
		name  string
		cast  Record
		of    func(*Lesson) *Finding
		n     int
		ratio float64
		note  string
	}{
		{"nothing measured", Record{ExpectedGap: Of(40), ExpectedFlash: Of(3)}, gap, 0, 1, ""},
		{"nothing predicted", Record{Flash: Of(0.04), FlashMass: Of(3)}, gap, 0, 1, ""},
		{"thickness before mass", Record{ExpectedGap: Of(40), Flash: Of(0.08), ExpectedFlash: Of(3), FlashMass: Of(3)}, gap, 1, 2, ""},
		{"mass alone", Record{ExpectedFlash: Of(3), FlashPower: Of(2.5), FlashMass: Of(96)}, gap, 1, 4, "power 2.5"},
		{"no flash", Record{ExpectedGap: Of(40), Flash: Of(0)}, gap, 0, 1, "no flash"},
		{"failed, gap", Record{ExpectedGap: Of(40), Flash: Of(0.08), Result: "failed"}, gap, 0, 1, "failed"},
		{"out of range", Record{ExpectedGap: Of(40), Flash: Of(0.8)}, gap, 1, 20, "say 20, beyond the range of calibration.gap, 0.2 to 5"},
		{"mixed less poured less spare", Record{ExpectedResidue: Of(8), Mixed: Of(500), Poured: Of(480), Spare: Of(8)}, residue, 1, 1.5, "mixed less poured less spare"},
		{"spare unknown", Record{ExpectedResidue: Of(8), Mixed: Of(500), Poured: Of(488)}, residue, 0, 1, "holds the margin"},
		{"nothing left", Record{ExpectedResidue: Of(8), Residue: Of(0)}, residue, 0, 1, "nothing left"},
		{"shrunk", shrunk, shrinkage, 1, 1.5, ""},
		{"failed, shrinkage", failed, shrinkage, 0, 1, "failed"},
		{"too small to tell", small, shrinkage, 0, 1, "three times"},
		{"not shrunk", swollen, shrinkage, 1, 0.1, "counted as 0.05 mm"},
	} {
		f := c.of(Learn(log(c.cast)))
		if f.N != c.n || !near(f.Ratio, c.ratio) || (c.note == "") != (len(f.Notes) == 0) || c.note != "" && !strings.Contains(f.Notes[0], c.note) || f.Method == "" {
			t.Errorf("%s: %+v", c.name, *f)
		}
		if f.Low > f.Ratio || f.N > 0 && f.High < f.Ratio {
			t.Errorf("%s: %g outside of %g to %g", c.name, f.Ratio, f.Low, f.High)
		}
	}
}

// One cast a little off is not sure; three far off and alike are; and what lies beyond the
// key's range (20) is said to.
func TestSureAndBeyond(t *testing.T) {
	for _, x := range []struct {
		left         []float64
		sure, beyond bool
	}{{[]float64{9}, false, false}, {[]float64{16, 17, 16}, true, false}, {[]float64{170, 170}, true, true}} {
		var l Log
		for _, g := range x.left {
			l.Records = append(l.Records, Record{Kind: Cast, Date: "2026-05-01", ExpectedResidue: Of(8), Residue: Of(g)})
		}
		if f := Learn(&l).Residue; f.Sure() != x.sure || f.Beyond != x.beyond {
			t.Errorf("%v: sure %v, beyond %v: %+v", x.left, f.Sure(), f.Beyond, f)
		}
	}
}

// A cast that says the same again is found by its line; one that differs is not, and a
// calibration may be accepted again.
func TestRepeats(t *testing.T) {
	a := Record{Kind: Cast, Date: "2026-05-01", Residue: Of(8), Line: 4}
	b := a
	b.Residue = Of(9)
	c := Record{Kind: Calibration, Date: "2026-05-01", GapRatio: Of(1.2), Line: 5}
	l := Log{Records: []Record{a, c}}
	if l.Repeats(a) != 4 || l.Repeats(b) != 0 || l.Repeats(c) != 0 {
		t.Error(l.Repeats(a), l.Repeats(b), l.Repeats(c))
	}
}

// A ratio that was accepted by mistake, and leaves hardly any shrinkage to expect, does not
// bar the casts that show the mistake.
func TestWrongRatioIsUnlearned(t *testing.T) {
	f := Learn(log(Record{Cavity: Of(110.6), ExpectedCured: Of(110.55), ShrinkageRatio: Of(0.1), Diameter: Of(110.1)})).Shrinkage
	if f.N != 1 || !near(f.Ratio, 1) {
		t.Errorf("%+v", f)
	}
}
