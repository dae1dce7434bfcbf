package drawing

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// cellsOf reads a picture of a set, the top row first.
func cellsOf(picture ...string) (columns, rows int, in func(i, j int) bool) {
	return len(picture[0]), len(picture), func(i, j int) bool { return picture[len(picture)-1-j][i] == '#' }
}

func TestBorders(t *testing.T) {
	for _, c := range []struct {
		name    string
		picture []string
		want    [][][2]int
	}{
		{"none", []string{"..", ".."}, nil},
		{"one", []string{"#"}, [][][2]int{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}}},
		{"a row", []string{"....", ".##."}, [][][2]int{{{1, 0}, {3, 0}, {3, 1}, {1, 1}}}},
		{"an L", []string{"#.", "##"}, [][][2]int{{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}}},
		{"diagonal cells keep apart", []string{".#", "#."}, [][][2]int{
			{{0, 0}, {1, 0}, {1, 1}, {0, 1}},
			{{1, 1}, {2, 1}, {2, 2}, {1, 2}},
		}},
		{"a hole runs clockwise", []string{"###", "#.#", "###"}, [][][2]int{
			{{0, 0}, {3, 0}, {3, 3}, {0, 3}},
			{{1, 1}, {1, 2}, {2, 2}, {2, 1}},
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			columns, rows, in := cellsOf(c.picture...)
			got := borders(columns, rows, in)
			if !slices.EqualFunc(got, c.want, sameLoop) {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

// sameLoop compares loops wherever they start.
func sameLoop(a, b [][2]int) bool {
	for k := range a {
		if slices.Equal(slices.Concat(a[k:], a[:k]), b) {
			return true
		}
	}
	return false
}

// The borders of any set hold its area, which the shoelace formula tells, and every
// corner of theirs is a turn.
func TestBordersHoldTheirCells(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		columns, rows := 1+r.IntN(12), 1+r.IntN(12)
		set, n := make([]bool, columns*rows), 0
		for k := range set {
			if set[k] = r.IntN(3) > 0; set[k] {
				n++
			}
		}
		twice := 0
		for _, b := range borders(columns, rows, func(i, j int) bool { return set[j*columns+i] }) {
			for k, p := range b {
				q, o := b[(k+1)%len(b)], b[(k+2)%len(b)]
				twice += p[0]*q[1] - q[0]*p[1]
				if (q[0]-p[0])*(o[1]-q[1]) == (q[1]-p[1])*(o[0]-q[0]) {
					t.Fatalf("%v, %v, %v is no turn", p, q, o)
				}
			}
		}
		if twice != 2*n {
			t.Fatalf("borders hold %g cells, want %d", float64(twice)/2, n)
		}
	}
}

// sampled is a function at the centers of cells so many to a unit, over a square
// of side 4 about the origin.
func sampled(fine int, f func(x, y float64) float64) (n int, value []float64, place func(Point) (x, y float64)) {
	n = 4*fine + 1
	place = func(p Point) (x, y float64) { return p[0]/float64(fine) - 2, p[1]/float64(fine) - 2 }
	value = make([]float64, n*n)
	for k := range value {
		value[k] = f(place(Point{float64(k % n), float64(k / n)}))
	}
	return n, value, place
}

// The distance from a slanting line is linear: its contours are exact, on every grid.
func TestContourOfLine(t *testing.T) {
	n, value, place := sampled(5, func(x, y float64) float64 { return 0.6*x + 0.8*y + 1 })
	runs := contour(n, n, value, 1.37)
	if len(runs) != 1 {
		t.Fatalf("%d runs, want one", len(runs))
	}
	for _, p := range runs[0] {
		if x, y := place(p); math.Abs(0.6*x+0.8*y-0.37) > 1e-12 {
			t.Errorf("%v is %g off", p, 0.6*x+0.8*y-0.37)
		}
	}
}

// The distance from a circle of radius 0.83: a contour at depth 0.6 is a circle of
// 1.43, in one run that closes, off by the square of the cell.
func TestContourOfCircleConverges(t *testing.T) {
	var off []float64
	for _, fine := range []int{8, 16, 32, 64} {
		n, value, place := sampled(fine, func(x, y float64) float64 {
			if r := math.Hypot(x, y); r >= 0.83 {
				return r - 0.83
			}
			return math.Inf(1)
		})
		runs := contour(n, n, value, 0.6)
		if len(runs) != 1 || runs[0][0] != runs[0][len(runs[0])-1] {
			t.Fatalf("%d runs, want one that closes", len(runs))
		}
		worst, turned := 0.0, 0.0
		for k, p := range runs[0] {
			x, y := place(p)
			worst = max(worst, math.Abs(math.Hypot(x, y)-1.43))
			if k > 0 {
				a, b := place(runs[0][k-1])
				turned += math.Atan2(a*y-b*x, a*x+b*y)
			}
		}
		if math.Abs(math.Abs(turned)-2*math.Pi) > 1e-9 {
			t.Errorf("the run turns by %g about the middle, want a full turn", turned)
		}
		if worst > 0.5/float64(fine) {
			t.Errorf("%d cells to a unit: %g off, more than half a cell", fine, worst)
		}
		off = append(off, worst)
	}
	if order := math.Log2(off[0]/off[3]) / 3; order < 1.7 {
		t.Errorf("the error falls by order %.2f: %.3g", order, off)
	}
}

// A saddle, and a value that is not finite: runs stay apart and end there.
func TestContourEnds(t *testing.T) {
	n, value, _ := sampled(3, func(x, y float64) float64 { return x * y })
	if runs := contour(n, n, value, 0.3); len(runs) != 2 {
		t.Errorf("%d branches of a hyperbola, want 2", len(runs))
	}
	n, value, _ = sampled(3, func(x, y float64) float64 {
		if math.Abs(x) < 0.4 {
			return math.Inf(1)
		}
		return y
	})
	if runs := contour(n, n, value, 0.3); len(runs) != 2 {
		t.Errorf("%d runs beside a gap, want 2", len(runs))
	}
	if runs := contour(n, n, value, 9); runs != nil {
		t.Errorf("%d runs at a level that is nowhere reached", len(runs))
	}
}
