package worth

import (
	"slices"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/printing"
	"wheelmold/mold/printing/bed"
)

// A count that is whole but for rounding takes no further thing: 0.7·10 casts over 7 and the
// like, for which floating point has a hair more.
func TestWholeButForRounding(t *testing.T) {
	for v, want := range map[float64]int{3: 3, 3 * (1 + 2e-16*4): 3, 3.001: 4, 0.1: 1, 0: 0} {
		if got := whole(v); got != want {
			t.Errorf("%.17g are %d, want %d", v, got, want)
		}
	}
	if got := (&Inputs{Failures: .1, MoldLife: 1}).molds((&Inputs{Failures: .1}).casts(9)); got != 10 {
		t.Errorf("nine wheels with one of ten failed take %d molds of one cast, want 10", got)
	}
}

// A bought wheel that lasts half as long may cost half as much, at each end of the band.
func TestMatchedAtBothEnds(t *testing.T) {
	in := plain()
	in.BoughtLife = .5
	v := Of(in)
	near(t, "low", v.Matched.Low, 645./8/2)
	near(t, "high", v.Matched.High, 1470./8/2)
}

// Hours of a printer count for every mold: nine wheels of 11.25 casts take two.
func TestPrinterHoursOfEveryMold(t *testing.T) {
	in := plain()
	in.Wheels, in.Mold.Printer = 9, 18
	near(t, "printer", Of(in).Wanted.Printer, (2*18+11.25*2)/9)
}

// The chart goes on to four times the break-even, tells it, and the number before it.
func TestCurveReachesPastTheBreakEven(t *testing.T) {
	in := plain()
	in.BoughtPrice, in.BoughtLife = 105, 1
	v := Of(in)
	even := v.Even.From
	if even < 100 {
		t.Fatalf("even from %d on", even)
	}
	for _, n := range []int{1, in.Wheels, even - 1, even, 4 * even} {
		if !slices.ContainsFunc(v.Curve, func(p Point) bool { return p.Wheels == n }) {
			t.Errorf("the chart leaves out %d wheels", n)
		}
	}
}

// Urethane that costs nothing is told as such, whether the mass of a kit is stated or not.
func TestFreeUrethaneIsTold(t *testing.T) {
	for _, c := range []struct {
		mass, price float64
		told        bool
	}{{1000, 30, false}, {1000, 0, true}, {0, 30, true}} {
		in := plain()
		in.KitMass, in.KitPrice = c.mass, c.price
		if said := strings.Join(Of(in).Assumed, "; "); strings.Contains(said, "urethane counts nothing") != c.told {
			t.Errorf("%g g for %g: %s", c.mass, c.price, said)
		}
	}
}

// How a hub is printed is told of printed ones alone.
func TestLoadOfAHubIsTold(t *testing.T) {
	for _, hours := range []float64{0, 2} {
		in := plain()
		in.Hub.Printer = hours
		if said := strings.Join(Of(in).Assumed, "; "); strings.Contains(said, "a load of its own") != (hours > 0) {
			t.Errorf("%g h of printer: %s", hours, said)
		}
	}
}

// The printer is at the mold for all of the time but a hub's that has a load of its own, with
// that load's setup; of a hub beside other pieces, only its plastic takes time.
func TestPrinterAtTheMold(t *testing.T) {
	j := moldtest.Wheel{Diameter: 49, Width: 16, Bore: 5, Process: "filament"}.Job(t)
	j.Printing.Setup = 60
	alone := []printing.Load{{Places: make([]bed.Place, 1)}, {Places: make([]bed.Place, 1)}}
	alone[1].Places[0].Item = 1
	beside := []printing.Load{{Places: make([]bed.Place, 2)}}
	beside[0].Places[1].Item = 1
	for _, c := range []struct {
		loads []printing.Load
		resin bool
		want  float64
	}{{alone, false, 1000 - 300 - 60}, {alone, true, 1000 - 300 - 60}, {beside, false, 1000 - 300}, {beside, true, 1000}} {
		p := &printing.Plan{Resin: c.resin, Time: 1000, Loads: c.loads, Pieces: []printing.Piece{{Name: "lid"}, {Name: "hub", Kind: mold.Hub, Time: 300}}}
		if got := moldTime(j, p); got != c.want {
			t.Errorf("%d loads, resin %v: %g s, want %g", len(c.loads), c.resin, got, c.want)
		}
	}
}

// A fact is told of what is made that way, and of nothing else: a printed hub in a milled
// mold, and the reverse.
func TestFactsOfWhatIsMade(t *testing.T) {
	j := moldtest.Example(t, "kestrel")
	for _, c := range []struct {
		mold, hub Making
		want      []string
	}{
		{Making{Shop: 1}, Making{Printer: 1}, []string{"worth.plastic_price", "worth.printer_price", "machining.hourly_rate", "machining.stock_price"}},
		{Making{Printer: 1}, Making{Shop: 1}, []string{"worth.plastic_price", "worth.printer_price", "machining.hourly_rate", "hub.stock_price"}},
	} {
		var got []string
		for _, f := range facts(j, &Inputs{Mold: c.mold, Hub: c.hub})[10:] {
			if f.Source != Reckoned {
				got = append(got, f.Key)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("mold %+v, hub %+v: %v, want %v", c.mold, c.hub, got, c.want)
		}
	}
}
