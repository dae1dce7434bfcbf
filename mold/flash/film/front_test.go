package film

import (
	"math"
	"testing"
)

// radial returns A for a front at r that started from a round seam at r0, outward
// or inward: ∇²w = 1 with w = w' = 0 at r, see the package comment.
func radial(r0, r float64) float64 { return r*r/2*math.Log(r/r0) - (r*r-r0*r0)/4 }

// The numbers of a published slit: h 100 µm, 412.02 Pa, 1 Pa·s, 600 s give
// A = 206.01 mm², a straight front at 20.298 mm and one at 18.675 mm around a
// radius of 30 mm.
func TestRadialNumbers(t *testing.T) {
	a := 0.1 * 0.1 / 12 * 412.02 * 600
	if l := math.Sqrt(2 * a); math.Abs(l-20.298) > 0.001 {
		t.Errorf("straight front %.4f", l)
	}
	if got := radial(30, 48.675); math.Abs(got/a-1) > 1e-4 {
		t.Errorf("radial %.4f, want %.4f", got, a)
	}
	g := grid(0.7, circle(0.3, 0.7, 60, 2), circle(0.3, 0.7, 30, 1))
	wet := g.WetArea(g.Arrival(nil, a), a)
	if r := math.Sqrt(900 + wet/math.Pi); math.Abs(r-48.675) > 0.05 {
		t.Errorf("front at %.4f, want 48.675", r)
	}
}

// fronts are regions whose fronts are known in closed form.
var fronts = []struct {
	name   string
	curves []curve
	at     func(u, v float64) (a float64, ok bool) // arrival, where it is known
	area   func(a float64) float64
	most   float64
}{
	{
		"straight", []curve{box(0.3, 0.7, 60.3, 40.7, 1, 0, 0, 0)},
		func(u, v float64) (float64, bool) { return (v - 0.7) * (v - 0.7) / 2, v < 36 },
		func(a float64) float64 { return 60 * math.Sqrt(2*a) }, 36 * 36 / 2,
	}, {
		"straight at 27°", []curve{turned(0.3, 0.7, 60, 40, 27, 1, 0, 0, 0)},
		func(u, v float64) (float64, bool) {
			sin, cos := math.Sincos(27 * math.Pi / 180)
			d, along := (v-0.7)*cos-(u-0.3)*sin, (u-0.3)*cos+(v-0.7)*sin
			return d * d / 2, d < 30 && along > 15 && along < 45
		},
		func(a float64) float64 { return 60 * math.Sqrt(2*a) }, 30 * 30 / 2,
	}, {
		"outward", []curve{circle(0.3, 0.7, 62, 2), circle(0.3, 0.7, 30, 1)},
		func(u, v float64) (float64, bool) {
			r := math.Hypot(u-0.3, v-0.7)
			return radial(30, r), r < 56
		},
		nil, radial(30, 56),
	}, {
		"inward", []curve{circle(0.3, 0.7, 40, 1)},
		func(u, v float64) (float64, bool) {
			r := math.Hypot(u-0.3, v-0.7)
			return radial(40, r), r > 15
		},
		nil, radial(40, 15),
	},
}

// The depth at which fronts arrive is right within a thirtieth of a cell on all
// grids. What is left falls more slowly than the cell, as the levels stay.
func TestArrivalConverges(t *testing.T) {
	cells := []float64{3, 2, 1.2, 0.7}
	for _, test := range fronts {
		rms := make([]float64, len(cells))
		for i, cell := range cells {
			n := 0.0
			for k := range 4 { // offsets of the lines
				g := grid(cell*(1-0.037*float64(k)), test.curves...)
				at := g.Arrival(nil, test.most)
				each(g, func(c int, u, v float64) {
					if want, ok := test.at(u, v); ok {
						d := math.Sqrt(2*at[c]) - math.Sqrt(2*want)
						rms[i] += d * d
						n++
					}
				})
			}
			rms[i] = math.Sqrt(rms[i] / n)
		}
		p := order(cells, rms)
		t.Logf("%s: order %.2f, depth in error by %.4f mm", test.name, p, rms)
		for i, cell := range cells {
			if rms[i] > 0.03*cell {
				t.Errorf("%s: cells of %g mm, depth in error by %.4f mm", test.name, cell, rms[i])
			}
		}
		if p < 0.5 {
			t.Errorf("%s: order %.2f, depth in error by %.4f mm", test.name, p, rms)
		}
	}
}

// The wet area is right within a percent on the finest grid, for fronts from a
// tenth of a cell on.
func TestWetArea(t *testing.T) {
	const cell = 0.8
	for _, test := range fronts {
		g := grid(cell, test.curves...)
		at := g.Arrival(nil, test.most)
		for _, depth := range []float64{0.05, 0.2, 0.5, 0.8, 1.2, 2, 3, 5, 8, 13, 20} {
			var a, want float64
			switch test.name {
			case "outward":
				a, want = radial(30, 30+depth), math.Pi*((30+depth)*(30+depth)-900)
			case "inward":
				a, want = radial(40, 40-depth), math.Pi*(1600-(40-depth)*(40-depth))
			default:
				a = depth * depth / 2
				want = test.area(a)
			}
			got := g.WetArea(at, a)
			if math.Abs(got/want-1) > 0.01+0.01*math.Min(1, cell/depth) {
				t.Errorf("%s: front %g mm deep: %.3f mm², want %.3f (%+.2f %%)", test.name, depth, got, want, 100*(got/want-1))
			}
		}
	}
}

// Around a ball pocket of a few cells the front slows down from the start.
func TestWetAreaAroundPocket(t *testing.T) {
	const cell, radius = 1.5, 6.5
	for _, depth := range []float64{0.15, 0.75, 1.5, 2.2, 3, 4.5, 9} {
		wet := 0.0
		a, want := radial(radius, radius+depth), math.Pi*((radius+depth)*(radius+depth)-radius*radius)
		for k := range 4 { // offsets of the lines
			g := grid(cell, box(-30, -30, 30, 30, 0, 0, 0, 0), circle(0.4*float64(k), 0.3*float64(k), radius, 1))
			wet += g.WetArea(g.Arrival(nil, a), a) / 4
		}
		if math.Abs(wet/want-1) > 0.03 {
			t.Errorf("front %g mm deep: %.3f mm², want %.3f", depth, wet, want)
		}
	}
}

func TestWetAreaOfAllIsArea(t *testing.T) {
	for _, test := range fronts {
		g := grid(2, test.curves...)
		at := g.Arrival(nil, math.Inf(1))
		if got := g.WetArea(at, 1e9); math.Abs(got-g.Area()) > 1e-9 {
			t.Errorf("%s: %g wet, area %g", test.name, got, g.Area())
		}
	}
}

func TestWetAreaGrows(t *testing.T) {
	g := grid(1.5, box(0, 0, 60, 60, 0, 0, 0, 0), circle(20, 24, 9, 1), circle(44, 41, 6, 1))
	at := g.Arrival(nil, 300)
	last := 0.0
	for a := 0.01; a < 300; a *= 1.02 {
		wet := g.WetArea(at, a)
		if wet < last {
			t.Fatalf("wet area falls from %g to %g at %g", last, wet, a)
		}
		// The front of √(2A) from 30π mm of seam grows by a part in a hundred.
		if last > 0 && wet-last > 0.05*last {
			t.Fatalf("wet area jumps from %g to %g at %g", last, wet, a)
		}
		last = wet
	}
}

// Along a long seam whose drive varies slowly each place has its own straight
// front, √(2A·drive) deep.
func TestSlowlyVaryingDrive(t *testing.T) {
	g := grid(1, box(0, 0, 400, 30, 1, 0, 0, 0))
	drive := func(u, v float64) float64 { return 0.25 + 0.75*u/400 }
	const a = 100
	at := g.Arrival(drive, a)
	for _, u := range []float64{40, 120, 200, 280, 360} {
		i, depth := int(math.Round((u-g.U0)/g.Cell)), 0.0
		for j := range g.Ny {
			if at[j*g.Nx+i] > a {
				break
			}
			depth = g.V0 + float64(j)*g.Cell + 0.5
		}
		if want := math.Sqrt(2 * a * drive(u, 0)); math.Abs(depth-want) > 0.04*want+0.5 {
			t.Errorf("depth %.2f at %g, want %.2f", depth, u, want)
		}
	}
	wet, want := g.WetArea(at, a), 0.0
	for u := 0.5; u < 400; u++ {
		want += math.Sqrt(2 * a * drive(u, 0))
	}
	if math.Abs(wet/want-1) > 0.01 {
		t.Errorf("wet area %.1f, want about %.1f", wet, want)
	}
}

func TestMoreDriveWetsMore(t *testing.T) {
	g := grid(1.5, box(0, 0, 80, 60, 0, 2, 0, 0), circle(30, 31, 14, 1), circle(60, 20, 6, 0))
	weak := func(u, v float64) float64 { return 0.2 + 0.4*v/60 }
	strong := func(u, v float64) float64 { return weak(u, v) + 0.3*u/80 }
	slow, fast, all := g.Arrival(weak, 800), g.Arrival(strong, 800), g.Arrival(nil, 800)
	each(g, func(c int, u, v float64) {
		// Levels lie differently for each drive; half a cell is their error.
		for _, pair := range [2][2]float64{{slow[c], fast[c]}, {fast[c], all[c]}} {
			if math.Sqrt(2*pair[1]) > math.Sqrt(2*pair[0])+0.5*g.Cell {
				t.Fatalf("more drive arrives at %g, less at %g", pair[1], pair[0])
			}
		}
	})
	for _, a := range []float64{1, 10, 50, 200} {
		if x, y, z := g.WetArea(slow, a), g.WetArea(fast, a), g.WetArea(all, a); !(x < y && y < z) {
			t.Errorf("wet areas at %g: %.2f, %.2f, %.2f", a, x, y, z)
		}
	}
}

func TestNoDriveNoFront(t *testing.T) {
	g := grid(1, box(0, 0, 30, 20, 1, 0, 0, 0))
	for _, drive := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		at := g.Arrival(func(u, v float64) float64 { return drive }, 100)
		if wet := g.WetArea(at, 100); wet != 0 {
			t.Errorf("drive %g wets %g mm²", drive, wet)
		}
	}
	for _, a := range []float64{0, -3, math.NaN()} {
		if wet := g.WetArea(g.Arrival(nil, a), a); wet != 0 {
			t.Errorf("A = %g wets %g mm²", a, wet)
		}
	}
}

// A seam without drive beside one with drive takes liquid back: its cells are wet
// late and by the front of the other.
func TestSeamWithoutEntry(t *testing.T) {
	g := grid(1, box(0, 0, 60, 40, 1, 0, 0, 0))
	drive := func(u, v float64) float64 { return math.Max(0, 1-math.Floor(u/30)) }
	at := g.Arrival(drive, 200)
	each(g, func(c int, u, v float64) {
		if u > 51 && at[c] < 200 {
			t.Fatalf("wet at %g, %g from %g", u, v, at[c])
		}
		if u < 20 && v < 15 && math.Abs(math.Sqrt(2*at[c])-v) > 0.08*v {
			t.Fatalf("depth %g at %g, %g", math.Sqrt(2*at[c]), u, v)
		}
	})
	// A front thinner than a cell stays before the driven half.
	if wet := g.WetArea(at, 0.08); math.Abs(wet-12) > 0.5 {
		t.Errorf("wet area %g, want 12", wet)
	}
}

// A region k times as large has k² times the areas and arrivals.
func TestScaling(t *testing.T) {
	const k = 3.7
	small := grid(1, turned(0, 0, 40, 30, 20, 1, 0, 2, 0), circle(8, 20, 4, 0))
	large := grid(k, turned(0, 0, 40*k, 30*k, 20, 1, 0, 2, 0), circle(8*k, 20*k, 4*k, 0))
	if a, b := small.Area()*k*k, large.Area(); math.Abs(a/b-1) > 1e-9 {
		t.Errorf("areas %g and %g", a, b)
	}
	x, y := small.Arrival(nil, 200), large.Arrival(nil, 200*k*k)
	for c := range x {
		if math.IsInf(x[c], 1) != math.IsInf(y[c], 1) || math.Abs(x[c]*k*k/y[c]-1) > 1e-6 {
			t.Fatalf("cell %d: arrivals %g and %g", c, x[c]*k*k, y[c])
		}
	}
	if a, b := small.WetArea(x, 90)*k*k, large.WetArea(y, 90*k*k); math.Abs(a/b-1) > 1e-6 {
		t.Errorf("wet areas %g and %g", a, b)
	}
}

// Turning a region by 90° changes nothing but the order of the cells.
func TestQuarterTurn(t *testing.T) {
	a := grid(1.3, box(0, 0, 40, 30, 1, 0, 2, 0), circle(12, 14, 6, 0))
	b := grid(1.3, box(-30, 0, 0, 40, 0, 1, 0, 2), circle(-14, 12, 6, 0))
	for _, drive := range []float64{0.3, 4, 50, 200} {
		x, y := a.WetArea(a.Arrival(nil, 300), drive), b.WetArea(b.Arrival(nil, 300), drive)
		if math.Abs(x/y-1) > 0.003 {
			t.Errorf("wet areas %g and %g", x, y)
		}
	}
}

// A front that was predicted too near finds its place all the same.
func TestFrontOutrunsPrediction(t *testing.T) {
	g := grid(1, circle(0, 0, 40, 1))
	good, poor := g.newFront(nil), g.newFront(nil)
	good.advance(20)
	poor.predict(20)
	poor.reach = 4
	for c, at := range poor.time {
		if at > poor.reach {
			poor.w[c] = 0
		}
	}
	poor.solve()
	each(g, func(c int, u, v float64) {
		if math.Abs(good.w[c]-poor.w[c]) > 0.2 {
			t.Fatalf("w %g at %g, %g, want %g", poor.w[c], u, v, good.w[c])
		}
	})
}

// Beyond the most that is asked for there is at most a rim.
func TestMost(t *testing.T) {
	g := grid(1, box(0, 0, 30, 60, 1, 0, 0, 0))
	at := g.Arrival(nil, 50)
	full := g.Arrival(nil, math.Inf(1))
	each(g, func(c int, u, v float64) {
		if v > 12.5 != math.IsInf(at[c], 1) && math.Abs(v-12) > 1 {
			t.Fatalf("arrival %g at %g", at[c], v)
		}
		if math.IsInf(full[c], 1) {
			t.Fatalf("cell at %g stays dry", v)
		}
	})
	if wet := g.WetArea(at, 50); math.Abs(wet/300-1) > 0.01 {
		t.Errorf("wet area %g, want 300", wet)
	}
}
