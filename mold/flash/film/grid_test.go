package film

import (
	"math"
	"testing"

	"wheelmold/mesh/contact"
)

func TestAreaAndLengths(t *testing.T) {
	tests := []struct {
		name       string
		curves     []curve
		area, seam float64
		tolerance  float64 // of both, relative
	}{
		{"box on the lines", []curve{box(0, 0, 40, 30, 0, 0, 0, 1)}, 1200, 30, 1e-12},
		{"box off the lines", []curve{box(0.3, 0.7, 40.1, 30.9, 1, 0, 0, 0)}, 39.8 * 30.2, 39.8, 0.006},
		{"box at 27°", []curve{turned(3, 2, 60, 40, 27, 1, 0, 0, 0)}, 2400, 60, 0.01},
		{"box at 45°", []curve{turned(3, 2, 60, 40, 45, 1, 0, 0, 0)}, 2400, 60, 0.015},
		{"ring", []curve{circle(0.3, 0.1, 40, 0), circle(0.3, 0.1, 21, 1)}, math.Pi * (1600 - 441), 42 * math.Pi, 0.002},
		{"plate", []curve{box(0, 0, 30, 30, 0, 0, 0, 0), circle(11, 17, 5, 1)}, 900 - 25*math.Pi, 10 * math.Pi, 0.012},
	}
	for _, test := range tests {
		g := grid(1, test.curves...)
		if got := g.Area(); math.Abs(got/test.area-1) > test.tolerance {
			t.Errorf("%s: area %.4f, want %.4f", test.name, got, test.area)
		}
		if got := g.SeamLength(); math.Abs(got/test.seam-1) > test.tolerance {
			t.Errorf("%s: seam %.4f, want %.4f", test.name, got, test.seam)
		}
		if got := g.Length(seamLabel); got != g.SeamLength() {
			t.Errorf("%s: length by label %v, seam %v", test.name, got, g.SeamLength())
		}
		if got := g.Unresolved(); got > 0.01*test.area {
			t.Errorf("%s: %.3f mm² unresolved", test.name, got)
		}
	}
}

// The area of boxes is exact wherever their edges lie between the lines: strips
// along the sides, and their overlap in the corners.
func TestAreaOfBox(t *testing.T) {
	for _, x := range []float64{0, 0.2, 0.5, 0.81} {
		g := grid(1, box(0, 0, 9+x, 7, 0, 0, 0, 0), box(12, 0.3, 20.4+x, 5.1+x/3, 0, 0, 0, 1))
		want := (9+x)*7 + (8.4+x)*(4.8+x/3)
		if got := g.Area(); math.Abs(got-want) > 1e-9 {
			t.Errorf("offset %g: area %.6f, want %.6f", x, got, want)
		}
	}
}

// A circle has no ends, so rows and columns together find its area and length
// with more than the first order.
func TestRingConverges(t *testing.T) {
	cells := []float64{2, 1, 0.5, 0.25}
	area, length := make([]float64, len(cells)), make([]float64, len(cells))
	for i, cell := range cells {
		for k := range 8 { // offsets of the lines
			x := 0.13 * float64(k) * cell
			g := grid(cell, circle(0, 0, 30, 0), circle(x, 0.7*x, 13, 1))
			area[i] += math.Abs(g.Area() - math.Pi*(900-169))
			length[i] += math.Abs(g.SeamLength() - 26*math.Pi)
		}
	}
	if p := order(cells, area); p < 1.3 {
		t.Errorf("order of area %.2f: %v", p, area)
	}
	if p := order(cells, length); p < 1.2 {
		t.Errorf("order of length %.2f: %v", p, length)
	}
}

func TestSplit(t *testing.T) {
	g := grid(1, box(0, 0, 10.2, 8, 0, 0, 0, 1), box(12, 0, 40, 20, 0, 2, 0, 1), circle(30, 30, 4, 1))
	parts := g.Split()
	want := []float64{28 * 20, 10.2 * 8, 16 * math.Pi}
	if len(parts) != len(want) {
		t.Fatalf("%d parts, want %d", len(parts), len(want))
	}
	sum, seam := 0.0, 0.0
	for i, p := range parts {
		if got := p.Area(); math.Abs(got/want[i]-1) > 0.03 {
			t.Errorf("part %d: area %.2f, want %.2f", i, got, want[i])
		}
		sum += p.Area()
		seam += p.SeamLength()
	}
	if math.Abs(sum-g.Area()) > 1e-9 || math.Abs(seam-g.SeamLength()) > 1e-9 {
		t.Errorf("parts: %.6f mm², %.6f mm; whole %.6f mm², %.6f mm", sum, seam, g.Area(), g.SeamLength())
	}
	each(parts[0], func(c int, u, v float64) {
		if u < 12 || u > 40 || v < 0 || v > 20 {
			t.Fatalf("cell %d of the largest part at %g, %g", c, u, v)
		}
	})
}

// A slot between two centers closes the link between them.
func TestSlotBetweenCenters(t *testing.T) {
	g := grid(1, box(0, 0, 20, 10, 0, 0, 0, 1), box(10.2, -1, 10.3, 11, 0, 0, 0, 0))
	if parts := g.Split(); len(parts) != 2 {
		t.Errorf("%d parts, want 2", len(parts))
	}
	d := g.FromSeam()
	each(g, func(c int, u, v float64) {
		if math.IsInf(d[c], 1) != (u > 10.25) {
			t.Fatalf("distance %g at %g, %g", d[c], u, v)
		}
	})
}

// What is narrower than a cell may be missed, but not silently.
func TestUnresolved(t *testing.T) {
	g := grid(2, box(0, 0, 40, 20, 0, 0, 0, 0), box(40, 9.2, 60, 9.8, 0, 0, 0, 1))
	if got := g.Area() + g.Unresolved(); math.Abs(got/812-1) > 0.01 {
		t.Errorf("area and unresolved %.3f, want 812", got)
	}
	if g.Unresolved() < 11 {
		t.Errorf("unresolved %.3f, want about 12", g.Unresolved())
	}
}

// odd is a section that no region could have.
type odd struct{ lo, hi [2]float64 }

func (o odd) Bounds() (lo, hi [2]float64) { return o.lo, o.hi }

func (o odd) Row(v float64) []contact.Span {
	end := func(at float64) contact.End { return contact.End{At: at, Label: 1, Across: math.NaN()} }
	return []contact.Span{{Lo: end(1), Hi: end(5)}, {Lo: end(4), Hi: end(9)}, {Lo: end(3), Hi: end(2)}, {Lo: end(math.NaN()), Hi: end(7)}}
}

func (o odd) Col(u float64) []contact.Span {
	if math.Mod(math.Abs(u), 3) < 1 {
		return nil
	}
	return o.Row(u)
}

func TestNothingToDo(t *testing.T) {
	inf := math.Inf(1)
	grids := map[string]*Grid{
		"empty":          New(shape{}, 1, classOf),
		"no cell":        grid(0, box(0, 0, 4, 4, 0, 0, 0, 1)),
		"nan cell":       grid(math.NaN(), box(0, 0, 4, 4, 0, 0, 0, 1)),
		"flat":           grid(1, box(0, 0, 4, 0, 0, 0, 0, 1)),
		"infinite":       New(odd{[2]float64{0, 0}, [2]float64{inf, 3}}, 1, classOf),
		"odd":            New(odd{[2]float64{0, 0}, [2]float64{10, 10}}, 1, classOf),
		"one cell":       grid(3, box(0, 0, 2, 2, 1, 2, 0, 0)),
		"no seam":        grid(1, box(0, 0, 9, 9, 0, 2, 0, 0)),
		"no exit":        grid(1, box(0, 0, 9, 9, 0, 1, 0, 0)),
		"walls":          grid(1, box(0, 0, 9, 9, 0, 0, 0, 0)),
		"thin as a cell": grid(1, box(0, 0, 30, 1, 1, 0, 2, 0)),
	}
	for name, g := range grids {
		one := func(u, v float64) float64 { return 1 }
		at := g.Arrival(nil, 50)
		if len(at) != len(g.In) || len(g.FromSeam()) != len(g.In) {
			t.Errorf("%s: lengths differ", name)
		}
		for _, o := range g.Outflow(one, nil) {
			if math.IsNaN(o.Flux) || name == "no seam" && o.Flux != 0 {
				t.Errorf("%s: flux %g", name, o.Flux)
			}
		}
		for _, l := range g.Lands() {
			if (l.Exit < 0) != math.IsInf(l.Distance, 1) || math.IsNaN(l.Distance) {
				t.Errorf("%s: land %+v", name, l)
			}
		}
		wet := g.WetArea(at, 50)
		if !(wet >= 0 && wet <= g.Area()+1e-9) || name == "no seam" && wet != 0 {
			t.Errorf("%s: wet area %g of %g", name, wet, g.Area())
		}
		g.Split()
	}
}
