package film

import (
	"math"
	"testing"
)

// From a straight seam the distance is exact at any angle, up to where the ends of
// the seam reach through the differences.
func TestDistanceFromStraightSeam(t *testing.T) {
	for _, degrees := range []float64{0, 10, 27, 45, 71} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		g := grid(1, turned(0.3, 0.7, 60, 20, degrees, 1, 0, 2, 0))
		d := g.FromSeam()
		each(g, func(c int, u, v float64) {
			along, want := (u-0.3)*cos+(v-0.7)*sin, (v-0.7)*cos-(u-0.3)*sin
			if along > 12 && along < 48 && math.Abs(d[c]-want) > 1e-4 {
				t.Fatalf("%g°: %g at %g, want %g", degrees, d[c], along, want)
			}
		})
	}
}

// worstDistance returns the largest error of distances on three grids.
func worstDistance(curves []curve, cells []float64, want func(u, v float64) float64) []float64 {
	worst := make([]float64, len(cells))
	for i, cell := range cells {
		g := grid(cell, curves...)
		d := g.FromSeam()
		each(g, func(c int, u, v float64) {
			worst[i] = math.Max(worst[i], math.Abs(d[c]-want(u, v)))
		})
	}
	return worst
}

func TestDistanceConverges(t *testing.T) {
	cells := []float64{2, 1, 0.5, 0.25}
	tests := []struct {
		name   string
		curves []curve
		want   func(u, v float64) float64
		order  float64
		finest float64 // largest error on the finest grid, mm
	}{
		{
			"round hole", []curve{circle(0.3, 0.1, 50, 2), circle(0.3, 0.1, 11, 1)},
			func(u, v float64) float64 { return math.Hypot(u-0.3, v-0.1) - 11 }, 1.7, 0.005,
		}, {
			"inside a circle", []curve{circle(0.3, 0.1, 30, 1)},
			func(u, v float64) float64 { return 30 - math.Hypot(u-0.3, v-0.1) }, 0.9, 0.06,
		}, {
			// Around the inner corner, then straight on to the end of the other arm.
			"L", []curve{polygon([][2]float64{{0, 0}, {60, 0}, {60, 20}, {20, 20}, {20, 60}, {0, 60}}, 0, 1, 0, 0, 0, 0)},
			func(u, v float64) float64 {
				if v <= 20 {
					return 60 - u
				}
				return math.Hypot(u-20, v-20) + 40
			}, 0.7, 0.5,
		}, {
			// Tangent, arc around a round wall, tangent. Near the arc the distance
			// goes with the power 3/2 of the way from the wall, which no difference
			// of second order fits.
			"behind a hole", []curve{box(-50, -40, 50, 40, 0, 0, 0, 0), circle(0.2, 0.3, 15, 0), circle(-34.7, 0.4, 6, 1)},
			func(u, v float64) float64 { return around(u-0.2, v-0.3, -34.9, 0.1, 15) - 6 }, 0.55, 0.8,
		},
	}
	for _, test := range tests {
		worst := worstDistance(test.curves, cells, test.want)
		p := order(cells, worst)
		t.Logf("%s: order %.2f, largest errors %.4f mm", test.name, p, worst)
		if p < test.order || worst[len(worst)-1] > test.finest {
			t.Errorf("%s: order %.2f, want %.2f; errors %.4f", test.name, p, test.order, worst)
		}
	}
}

// around returns the length of the shortest way between two places around a disk
// at the origin.
func around(u0, v0, u1, v1, radius float64) float64 {
	a, b := math.Hypot(u0, v0), math.Hypot(u1, v1)
	angle := math.Acos((u0*u1 + v0*v1) / (a * b))
	arc := angle - math.Acos(radius/a) - math.Acos(radius/b)
	if arc <= 0 {
		return math.Hypot(u0-u1, v0-v1)
	}
	return math.Sqrt(a*a-radius*radius) + math.Sqrt(b*b-radius*radius) + radius*arc
}

// The land of a round seam in a square is the way to the nearest side.
func TestLands(t *testing.T) {
	g := grid(1, box(-50, -50, 50, 50, 2, 3, 4, 5), circle(3.3, 1.2, 30, 1))
	sum := 0.0
	for _, l := range g.Lands() {
		if r := math.Hypot(l.U-3.3, l.V-1.2); math.Abs(r-30) > 1e-9 {
			t.Fatalf("land at radius %g", r)
		}
		want, exit := 50+l.V, 2
		for i, d := range []float64{50 - l.U, 50 - l.V, 50 + l.U} {
			if d < want {
				want, exit = d, 3+i
			}
		}
		// Where two ways are equally long, they differ by half a cell or less.
		ridge := math.Abs(math.Abs(l.U) - math.Abs(l.V))
		if d := math.Abs(l.Distance - want); d > 0.5 || d > 0.01 && ridge > 3 {
			t.Errorf("land at %.2f, %.2f: %.4f, want %.4f", l.U, l.V, l.Distance, want)
		}
		if l.Exit != exit && ridge > 3 {
			t.Errorf("land at %.2f, %.2f leads to %d, want %d", l.U, l.V, l.Exit, exit)
		}
		sum += l.Weight
	}
	if math.Abs(sum/(60*math.Pi)-1) > 0.002 {
		t.Errorf("weights add up to %.3f, want %.3f", sum, 60*math.Pi)
	}
}

// A land around a small exit is measured to its edge, not to its cells.
func TestLandToRoundExit(t *testing.T) {
	g := grid(0.8, box(-20, -12, 20, 12, 0, 0, 0, 1), circle(-8.3, 0.4, 3, 2))
	for _, l := range g.Lands() {
		if want := math.Hypot(l.U+8.3, l.V-0.4) - 3; math.Abs(l.Distance-want) > 0.1 {
			t.Errorf("land at %.2f: %.4f, want %.4f", l.V, l.Distance, want)
		}
	}
}

// A land of less than a cell is the run between seam and exit.
func TestThinLand(t *testing.T) {
	g := grid(1, box(0.1, 0, 0.8, 20, 0, 2, 0, 1))
	lands := g.Lands()
	if len(lands) < 18 {
		t.Fatalf("%d lands", len(lands))
	}
	for _, l := range lands {
		if math.Abs(l.Distance-0.7) > 1e-9 {
			t.Errorf("land %.4f, want 0.7", l.Distance)
		}
	}
}
