package drawing

import (
	"math"
	"slices"
	"testing"

	"wheelmold/mesh/outline"
)

// How the drawing lies on the paper does not matter: turned and moved together with the
// line that cuts them, a comb and a plate with two holes come apart in the same areas.
func TestBehindIsTheSameAtAnyAngle(t *testing.T) {
	comb := []Point{{0, 0}, {5, 0}, {5, 2}, {4, 2}, {4, 1}, {3, 1}, {3, 2}, {2, 2}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}
	plate := []Point{{0, 0}, {7, 0}, {7, 3}, {0, 3}}
	left, right := []Point{{1, 1}, {1, 2}, {3, 2}, {3, 1}}, []Point{{4, 1}, {4, 2}, {6, 2}, {6, 1}}
	for _, c := range []struct {
		name  string
		rings [][]Point
		n, at Point
		areas []float64
	}{
		{"comb below half its teeth", [][]Point{comb}, Point{0, 1}, Point{0, 1.5}, []float64{5 + 3*.5}},
		{"teeth of the comb", [][]Point{comb}, Point{0, -1}, Point{0, 1.5}, []float64{.5, .5, .5}},
		{"plate below the middle of its holes", [][]Point{plate, left, right}, Point{0, 1}, Point{0, 1.5}, []float64{7*1.5 - 2*2*.5}},
		{"left of the left hole's middle", [][]Point{plate, left, right}, Point{1, 0}, Point{2, 0}, []float64{2*3 - 1}},
	} {
		for deg := 0.0; deg < 360; deg += 15 {
			s, k := math.Sincos(deg * math.Pi / 180)
			turn := func(p Point) Point { return Point{k*p[0] - s*p[1], s*p[0] + k*p[1]} }
			move := func(p Point) Point { return plus(turn(p), Point{30, -20}) }
			var r outline.Region
			for _, loop := range c.rings {
				var to []Point
				for _, p := range loop {
					to = append(to, move(p))
				}
				r = append(r, ring(to...))
			}
			var areas []float64
			for _, path := range behind(r, turn(c.n), move(c.at)) {
				areas = append(areas, (outline.Region{path}).Area())
				if p, ok := bridgeOutside(path, r, turn(c.n), move(c.at)); ok {
					t.Errorf("%s, turned by %g°: a line is drawn through the open at %v", c.name, deg, p)
				}
			}
			if !slices.EqualFunc(areas, c.areas, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
				t.Errorf("%s, turned by %g°: parts of %.4f, want %.4f", c.name, deg, areas, c.areas)
			}
		}
	}
}
