package flash

import (
	"strings"
	"testing"

	"wheelmold/mold/moldtest"
)

// A shallow front on a wide land, without capillarity: its depth goes with the gap, and so
// does the volume per area, so that twice the gap holds four times the flash.
func TestCalibratedGapHoldsMoreFlash(t *testing.T) {
	c, s := ringLine(t, ring{140, 155}, 125, 2)
	c.setGap(0.01)
	x := expected(c)
	one := c.cast(s, x)
	c.job.Calibration.Gap = 2
	two := c.cast(s, x)
	near(t, "gap", two.gap, 2*one.gap, 1e-12)
	near(t, "depth", two.depth, 2*one.depth, 1e-9)
	near(t, "flash", two.flash, 4*one.flash, 0.05)
	if one.flash == 0 || two.leak > 0 {
		t.Errorf("%g g of flash, %g g of leak: the case is not the one that was meant", one.flash, two.leak)
	}
}

// Every line's gap is multiplied, expected, worst and in each draw; what makes it still adds
// up to it, and the reason says so. A ratio of 1 leaves no trace.
func TestCalibrationMultipliesEveryGap(t *testing.T) {
	s := stock(t, "albatross")
	plain, wide := s.conditions(), s.conditions()
	wide.job.Calibration.Gap = 1.7
	draws := drawAll(plain, Options{Draws: 20, Seed: 1})
	for i, x := range s.geometry.sites {
		a, b := plain.explain(x), wide.explain(x)
		near(t, x.name+" expected", b.Expected, 1.7*a.Expected, 1e-12)
		near(t, x.name+" worst", b.Worst, 1.7*a.Worst, 1e-12)
		if len(b.Parts) != len(a.Parts)+1 || b.Parts[len(a.Parts)].Kind != Casts {
			t.Errorf("%s: %+v", x.name, b.Parts)
		}
		for _, y := range draws.of(i) {
			near(t, x.name+" drawn", wide.gap(x, &y), 1.7*plain.gap(x, &y), 1e-12)
		}
		l := Line{Gap: b, Expected: Result{Gap: b.Expected}}
		if why := reason(&l, 1.7); b.Expected > 0 && !strings.HasSuffix(why, "; x 1.7, calibrated by casts (calibration.gap)") {
			t.Errorf("%s: %s", x.name, why)
		}
		l.Gap = a
		if why := reason(&l, 1); strings.Contains(why, "calibrat") {
			t.Errorf("%s: %s", x.name, why)
		}
	}
}

// The estimate's reason tells what casts showed of a line that gapes; one that stays closed
// is closed whatever they showed.
func TestEstimateTellsCalibration(t *testing.T) {
	s := surveyOf(t, moldtest.Example(t, "wren"))
	c := s.conditions()
	c.job.Calibration.Gap = 1.7
	c.wet(drawAll(c, Options{Draws: 2, Seed: 1}))
	open := 0
	for _, x := range s.geometry.sites {
		l := c.line(x, []outcome{c.cast(x, expected(c))})
		if told := strings.Contains(l.Reason, "x 1.7, calibrated"); told != (l.Expected.Gap > 0) {
			t.Errorf("%s, gap %g mm: %s", x.name, l.Expected.Gap, l.Reason)
		}
		if l.Expected.Gap > 0 {
			open++
		}
	}
	if open == 0 {
		t.Error("every line is closed")
	}
	if why := reason(&Line{}, 1.7); strings.Contains(why, "calibrat") {
		t.Errorf("a closed line: %s", why)
	}
	if got := c.castsTerm([]term{{value: -1}}); got[len(got)-1].value != 0 {
		t.Errorf("casts open a line that is pressed shut: %+v", got)
	}
}
