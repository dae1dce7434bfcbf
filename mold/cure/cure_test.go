package cure

import (
	"math"
	"testing"

	"wheelmold/params"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

// Worked by hand for 280 mm on a core of 100 mm at 0.2 %: radii squared of 19600
// and 2500 mm²; 17100·0.994 + 2500 = 19497.4, 17100/0.994 + 2500 = 19703.22. With 40 K
// at 175 ppm/K more, 0.9 %: 17100·0.973 + 2500 = 19138.3.
func TestByHand(t *testing.T) {
	l := Layer{50, 140, 125}
	near(t, "free", 280-2*l.Free(.002).Outer, .560, 1e-9)
	near(t, "bonded", 280-2*l.Bonded(.002).Outer, .734, 5e-4)
	near(t, "cavity", 2*Cavity(50, 140, .002), 280.74, 5e-3)
	near(t, "cooling", 2*(l.Bonded(.002).Outer-l.Bonded(.002+40*175e-6).Outer), 2.58, 5e-3)
	near(t, "width", l.Bonded(.002).Width, 125, 0)
}

// Three shapes that need no solution: a thin layer on a large core, which is held
// around it, so that width and thickness share the loss; a ring on hardly any core,
// which shrinks as if it were free; and no shrinkage at all.
func TestLimits(t *testing.T) {
	const s = 1e-5
	thin := Layer{1000, 1001, 10}
	near(t, "thin, bonded", (1001-thin.Bonded(s).Outer)/s, 3, .01)
	near(t, "thin, free ends", (1001-thin.FreeEnds(s).Outer)/s, 1.5, .01)
	near(t, "thin, width", (10-thin.FreeEnds(s).Width)/10/s, 1.5, .01)
	bare := Layer{.01, 100, 10}
	near(t, "no core", (100-bare.FreeEnds(s).Outer)/100/s, 1, 1e-3)
	near(t, "no core, width", (10-bare.FreeEnds(s).Width)/10/s, 1, 1e-3)
	for _, l := range rings {
		for _, same := range []Layer{l.Bonded(0), l.FreeEnds(0), l.Free(0)} {
			near(t, "no shrinkage", same.Outer+same.Width, l.Outer+l.Width, 1e-12)
		}
		middle, ends := l.Cured(0)
		near(t, "no shrinkage", middle+ends, 2*l.Outer, 0)
	}
}

// Whatever the ends do, the rubber has lost 3s of its volume, and the cavity makes
// the wanted wheel.
func TestVolume(t *testing.T) {
	volume := func(l Layer) float64 { return math.Pi * (l.Outer*l.Outer - l.Core*l.Core) * l.Width }
	for _, l := range rings {
		for _, s := range []float64{-.01, .0005, .005, .02, .1} {
			for _, c := range []Layer{l.Bonded(s), l.FreeEnds(s)} {
				near(t, "volume", volume(c)/volume(l), 1-3*s, 1e-12)
			}
			cast := l
			cast.Outer = Cavity(l.Core, l.Outer, s)
			near(t, "cured", cast.Bonded(s).Outer, l.Outer, 1e-12*l.Outer)
			if d := l.FreeEnds(s).Outer - l.Bonded(s).Outer; d*s <= 0 {
				t.Errorf("%v: free ends change the diameter more than held ones at %v", l, s)
			}
		}
	}
}

func TestWhatIsNoLayer(t *testing.T) {
	for _, l := range []Layer{{}, {0, 10, 10}, {10, 10, 10}, {5, 10, 0}} {
		if middle, ends := l.Cured(.01); middle != l.Outer || ends != l.Outer {
			t.Errorf("%v moves to %v and %v", l, middle, ends)
		}
	}
}

func wheel(t *testing.T) *params.Job {
	t.Helper()
	j, err := params.Default(280, 125, 30, "milled")
	if err != nil {
		t.Fatal(err)
	}
	j.Hub.BodyDiameter, j.Mold.Shrinkage = 100, .002
	j.Pour.Expansion, j.Pour.GelTemperature, j.Pour.SheetTemperature = 175e-6, 63, 23
	j.Pour.MoldTemperature, j.Pour.MixTemperature = 23, 23
	return j
}

func TestForecast(t *testing.T) {
	j := wheel(t)
	f := NewForecast(j)
	near(t, "reaction", f.Reaction, .002, 1e-15)
	near(t, "cooling", f.Cooling, .007, 1e-15)
	cavity := 2 * math.Sqrt(2500+17100/.973)
	near(t, "cavity", f.Cavity.Diameter, cavity, 1e-9)
	near(t, "wanted", f.Bonded.Diameter, 280, 1e-9)
	near(t, "free", f.Free.Diameter, cavity*.991, 1e-9)
	near(t, "by the reaction", f.ByReaction, 2*math.Sqrt(2500+17100/.994)-280, 1e-9)
	near(t, "parts", f.ByReaction+f.ByCooling, cavity-280, 1e-9)
	// d(2b')/ds = -3(b²-a²)/b', to first order.
	near(t, "0.1 % more", f.PerThousandth, .001*3*(cavity*cavity/4-2500)/140, .001)
	if !(f.Bonded.Diameter < f.Middle && f.Middle < f.Ends.Diameter && f.Edges > f.Middle) {
		t.Errorf("middle %.3f, edges %.3f outside %.3f and %.3f", f.Middle, f.Edges, f.Bonded.Diameter, f.Ends.Diameter)
	}
	diameter := func(s float64) float64 { return 2 * math.Sqrt(2500+(cavity*cavity/4-2500)*(1-3*s)) }
	want := [][2]float64{
		{diameter(.002 + .0105), diameter(.002 + .0035)},
		{diameter(.005 + .007), diameter(.0005 + .007)},
		{280, f.Ends.Diameter},
		{diameter(.005 + .0105), 0},
	}
	for i, d := range f.Doubts {
		near(t, d.Of, d.Least, want[i][0], 1e-9)
		if i < 3 {
			near(t, d.Of, d.Most, want[i][1], 1e-9)
		}
		if d.Least > 280+1e-9 || d.Most < 280 || d.Least < f.Doubts[3].Least || d.Most > f.Doubts[3].Most {
			t.Errorf("%s: %.3f to %.3f", d.Of, d.Least, d.Most)
		}
	}

	j.Pour.GelTemperature = 13 // gelled in the cold, it grows in the room
	if f = NewForecast(j); f.Cooling >= 0 || f.ByCooling >= 0 {
		t.Errorf("cooling from 13 °C to 23 °C: %v, %v mm", f.Cooling, f.ByCooling)
	}
	for _, d := range f.Doubts {
		if d.Least > d.Most {
			t.Errorf("%s: %.3f to %.3f", d.Of, d.Least, d.Most)
		}
	}
}

// A day at 23 °C is half a day at 33 °C and two at 13 °C.
func TestWindow(t *testing.T) {
	j := wheel(t)
	j.Pour.Demold, j.Pour.Cure = 24*3600, 7*24*3600
	for mold, days := range map[float64]float64{13: 2, 23: 1, 33: .5} {
		j.Pour.MoldTemperature = mold
		w := NewWindow(j)
		near(t, "earliest", w.Earliest/86400, days, 1e-12)
		near(t, "latest", w.Latest/86400, 2*days, 1e-12)
		near(t, "full", w.Full/86400, 7*days, 1e-12)
	}
}

// Figures by hand: 23 °C and 52 K make 75 °C at most; a part must stay 10 K below
// where it softens, and may come up to that.
func TestHeat(t *testing.T) {
	j := wheel(t)
	j.Hub.Material = "printed"
	near(t, "peak", NewHeat(j).Peak, 75, 1e-12)
	for _, c := range []struct {
		gel, softens float64
		want         string
	}{
		{63, 57, TooHot}, {47.1, 57, TooHot}, {47, 57, AtRisk}, {40, 84.9, AtRisk}, {40, 85, Fine}, {40, 580, Fine}, {76, 85, TooHot},
	} {
		j.Pour.GelTemperature, j.Process.Softening, j.Hub.Softening = c.gel, 580, c.softens
		h := NewHeat(j)
		if got := h.Parts[1]; got.Verdict != c.want || !got.Printed || h.Parts[0].Verdict != Fine || h.Parts[0].Printed {
			t.Errorf("%v °C beside %v °C: %+v, want %s", c.gel, c.softens, h.Parts, c.want)
		}
		if n := len(h.Threatened(AtRisk)); (n == 1) != (c.want != Fine) || len(h.Threatened(TooHot)) > n || len(h.Threatened(Fine)) != 2 {
			t.Errorf("%v °C beside %v °C threatens %d parts", c.gel, c.softens, n)
		}
		near(t, "softens", h.Softens(), min(580, c.softens), 0)
	}
	// 83 kJ/mol by 1.2 mol/kg over 1.9 kJ/(kg·K).
	near(t, "rise", params.AdiabaticRise, 83*1.2/1.9, .5)
}

// Sized as expected, the elements give the wanted diameter back in the middle; sized
// never to be small, plane strain does.
func TestSizedFor(t *testing.T) {
	for _, d := range []struct{ wheel, width, body float64 }{{280, 125, 102}, {60, 20, 36}, {40, 30, 20}} {
		j, err := params.Default(d.wheel, d.width, 6, "milled")
		if err != nil {
			t.Fatal(err)
		}
		j.Hub.BodyDiameter = d.body
		reaction, cooling := Strain(j)
		s := reaction + cooling
		held := Layer{d.body / 2, Sized(j, d.body/2), d.width}
		near(t, "held", held.Bonded(s).Outer, d.wheel/2, 1e-9)
		j.Mold.Sizing = "expected"
		cast := Layer{d.body / 2, Sized(j, d.body/2), d.width}
		middle, _ := cast.Cured(s)
		near(t, "expected", middle, d.wheel/2, 1e-6)
		if cast.Outer >= held.Outer || cast.Outer <= d.wheel/2 {
			t.Errorf("%v: cavity %g, held %g", d, cast.Outer, held.Outer)
		}
		if f := NewForecast(j); f.Cavity.Diameter != 2*cast.Outer || f.Wanted != d.wheel {
			t.Errorf("%v: forecast %+v", d, f)
		}
	}
}
