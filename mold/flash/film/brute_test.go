package film

import (
	"math"
	"testing"
)

// brute fills a region cell by cell: the referee for Arrival and WetArea. It
// solves the flow itself, ∇²p = 0 in what is wet, and lets the front move with the
// flux, step by step. It knows nothing of the obstacle problem, of marching, or of
// this package's grids: a square of n by n cells with the width 1, the region by a
// function of the place, volumes by sampling, walls and fronts as whole cells.
type brute struct {
	n      int
	room   []float64    // of each cell, in cells; 0 outside
	feed   [][4]float64 // by link: weight of the seam there, 0 if none
	seam   [][4]float64 // by link: drive of the seam there
	fill   []float64    // part of the room that is full, 1 where it is wet
	p      []float64
	wet    []int        // full cells
	now    float64      // A, in squares of cells
	when   []float64    // A at which the front passed the middle of a cell's room
	wetted float64      // area, in cells
	sizes  [][2]float64 // A and wet area after each step
}

// nearlyFull marks cells that turn wet at the end of a step.
const nearlyFull = 1 - 1e-10

var bruteSteps = [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}

// newBrute samples a region on n by n cells. Where a link leads out of the region,
// seam returns the distance along it to the seam and the drive there, or ok false
// at a wall.
func newBrute(n int, inside func(x, y float64) bool, seam func(x, y float64, dir int) (theta, drive float64, ok bool)) *brute {
	b := &brute{
		n: n, room: make([]float64, n*n), feed: make([][4]float64, n*n), seam: make([][4]float64, n*n),
		fill: make([]float64, n*n), p: make([]float64, n*n), when: make([]float64, n*n),
	}
	const samples = 16
	for c := range b.room {
		x, y := b.center(c)
		b.when[c] = math.Inf(1)
		if !inside(x, y) {
			continue
		}
		for k := range samples * samples {
			u, v := (float64(k%samples)+0.5)/samples-0.5, (float64(k/samples)+0.5)/samples-0.5
			if inside(x+u, y+v) {
				b.room[c] += 1. / (samples * samples)
			}
		}
		for dir, s := range bruteSteps {
			if inside(x+float64(s[0]), y+float64(s[1])) && b.next(c, dir) >= 0 {
				continue
			}
			if theta, drive, ok := seam(x, y, dir); ok {
				b.feed[c][dir], b.seam[c][dir] = 1/math.Max(theta, 0.05), drive
			}
		}
	}
	return b
}

func (b *brute) center(c int) (x, y float64) {
	return float64(c%b.n) + 0.5, float64(c/b.n) + 0.5
}

// next is the neighbor of a cell, or -1 off the square.
func (b *brute) next(c, dir int) int {
	i, j := c%b.n+bruteSteps[dir][0], c/b.n+bruteSteps[dir][1]
	if i < 0 || j < 0 || i >= b.n || j >= b.n {
		return -1
	}
	return j*b.n + i
}

// ahead is the conductance from the middle of a wet cell to the front in the cell
// beside it.
func (b *brute) ahead(c int) float64 { return 1 / (0.5 + b.fill[c]) }

// solve relaxes the pressure of the wet cells: p = drive at the seam, 0 at the
// front.
func (b *brute) solve() {
	const over, rest, most = 1.8, 1e-4, 2000
	for range most {
		change := 0.0
		for _, c := range b.wet {
			sum, diag := 0.0, 0.0
			for dir := range 4 {
				if w := b.feed[c][dir]; w > 0 {
					sum, diag = sum+w*b.seam[c][dir], diag+w
					continue
				}
				m := b.next(c, dir)
				switch {
				case m < 0 || b.room[m] == 0:
				case b.fill[m] == 1:
					sum, diag = sum+b.p[m], diag+1
				default:
					diag += b.ahead(m)
				}
			}
			if diag == 0 {
				continue
			}
			d := over * (sum/diag - b.p[c])
			b.p[c] += d
			change = math.Max(change, math.Abs(d))
		}
		if change < rest {
			return
		}
	}
}

// inflow is what runs into a cell that is not full yet, per A.
func (b *brute) inflow(c int) float64 {
	sum := 0.0
	for dir := range 4 {
		if w := b.feed[c][dir]; w > 0 {
			// The front in the seam's own cell is as far from the seam as it is full.
			sum += b.seam[c][dir] / math.Max(b.fill[c]*(0.5+1/w), 0.2)
			continue
		}
		if m := b.next(c, dir); m >= 0 && b.room[m] > 0 && b.fill[m] == 1 {
			sum += math.Max(0, b.p[m]) * b.ahead(c)
		}
	}
	return sum
}

// run lets the liquid in until A reaches most.
func (b *brute) run(most float64) {
	flow := make([]float64, len(b.room))
	for b.now < most {
		b.solve()
		// On to where the first cell is full, or by a twentieth of A at most, so that
		// conductances keep up with the front. Cells of round seams and walls have
		// little room; they do not hold the clock up by more than a quarter of that.
		step := math.Max(0.01, b.now/20)
		least, any := step/4, false
		for c, room := range b.room {
			flow[c] = 0
			if room == 0 || b.fill[c] == 1 {
				continue
			}
			if flow[c] = b.inflow(c); flow[c] > 0 {
				step, any = math.Min(step, math.Max(least, (1-b.fill[c])*room/flow[c])), true
			}
		}
		if !any {
			return
		}
		for c, q := range flow {
			if q > 0 {
				b.pour(c, step*q, step)
			}
		}
		for c, room := range b.room {
			if room > 0 && b.fill[c] > 1-1e-9 && b.fill[c] != 1 {
				b.fill[c] = 1
				b.wet = append(b.wet, c)
			}
		}
		b.now += step
		b.sizes = append(b.sizes, [2]float64{b.now, b.wetted})
	}
}

// pour puts a volume into a cell, and what it has no room for into the cells
// around that are not full.
func (b *brute) pour(c int, volume, step float64) {
	takes := math.Min(volume, (nearlyFull-b.fill[c])*b.room[c])
	was := b.fill[c]
	b.fill[c] += takes / b.room[c]
	b.wetted += takes
	if was < 0.5 && b.fill[c] >= 0.5 {
		b.when[c] = b.now + step*(0.5-was)/(b.fill[c]-was)
	}
	var around []int
	for dir := range 4 {
		if m := b.next(c, dir); m >= 0 && b.room[m] > 0 && b.fill[m] < nearlyFull && b.feed[c][dir] == 0 {
			around = append(around, m)
		}
	}
	if volume -= takes; volume < 1e-12 {
		return
	}
	for _, m := range around {
		b.pour(m, volume/float64(len(around)), step)
	}
}

// area is the wet area at a, in cells.
func (b *brute) area(a float64) float64 {
	var p [2]float64
	for _, q := range b.sizes {
		if q[0] >= a {
			return p[1] + (q[1]-p[1])*(a-p[0])/(q[0]-p[0])
		}
		p = q
	}
	return p[1]
}

// agree compares a region's fronts with the referee's. The referee puts the front
// of the cell that fills a half cell off at most, and walls on the sides of cells:
// some 1 % of the area where the front is a dozen cells deep, and a quarter of a
// cell in the mean. Halving its steps changes areas by 0.1 %.
func (b *brute) agree(t *testing.T, g *Grid, drive func(u, v float64) float64, levels []float64, areaTol, depthTol float64) {
	t.Helper()
	most := levels[len(levels)-1]
	b.run(most)
	arrival := g.Arrival(drive, most)
	for i, area := range g.WetAreas(arrival, levels) {
		want := b.area(levels[i])
		t.Logf("A %6.1f: wet %7.1f, the referee's %7.1f, %+.2f %%", levels[i], area, want, 100*(area/want-1))
		if math.Abs(area/want-1) > areaTol {
			t.Errorf("at A = %g %g cells are wet, and %g when they are filled one by one", levels[i], area, want)
		}
	}
	sum, count := 0.0, 0
	each(g, func(c int, u, v float64) {
		k := int(v)*b.n + int(u) // the grids coincide but for the shift of the lines
		if math.IsInf(b.when[k], 1) || arrival[c] > most {
			return
		}
		sum += math.Abs(math.Sqrt(2*arrival[c]) - math.Sqrt(2*b.when[k]))
		count++
	})
	t.Logf("depths differ by %.2f cells in the mean of %d", sum/float64(count), count)
	if count < b.n*b.n/3 || !(sum/float64(count) <= depthTol) {
		t.Errorf("depths differ by %g cells in the mean of %d", sum/float64(count), count)
	}
}

// A square plate with a round hole that feeds it, and two round pillars in the way
// of the front.
func TestFillingPlateCellByCell(t *testing.T) {
	const n, radius = 60, 9.7
	type disk struct{ x, y, r float64 }
	hole := disk{27.3, 29.1, radius}
	pillars := []disk{{43.2, 34.4, 3.7}, {20.6, 12.2, 4.6}}
	in := func(d disk, x, y float64) bool { return math.Hypot(x-d.x, y-d.y) < d.r }
	inside := func(x, y float64) bool {
		return x > 0 && y > 0 && x < n && y < n && !in(hole, x, y) && !in(pillars[0], x, y) && !in(pillars[1], x, y)
	}
	b := newBrute(n, inside, func(x, y float64, dir int) (float64, float64, bool) {
		s := bruteSteps[dir]
		if !in(hole, x+float64(s[0]), y+float64(s[1])) {
			return 0, 0, false
		}
		// Where the link meets the circle.
		along, across := (hole.x-x)*float64(s[0])+(hole.y-y)*float64(s[1]), (hole.x-x)*float64(s[1])+(hole.y-y)*float64(s[0])
		return along - math.Sqrt(hole.r*hole.r-across*across), 1, true
	})
	g := grid(1, box(0, 0, n, n, wallLabel, wallLabel, wallLabel, wallLabel), circle(hole.x, hole.y, hole.r, seamLabel),
		circle(pillars[0].x, pillars[0].y, pillars[0].r, wallLabel), circle(pillars[1].x, pillars[1].y, pillars[1].r, wallLabel))
	b.agree(t, g, nil, []float64{20, 50, 100, 200, 400, 700, 900}, 0.025, 0.4)
	last := 0.0
	for _, a := range g.Arrival(nil, 1e5) {
		if !math.IsInf(a, 1) {
			last = math.Max(last, a)
		}
	}
	if full := b.full(); math.Abs(last/full-1) > 0.03 {
		t.Errorf("the last corner fills at A = %g, and %g by the stationary flow", last, full)
	}
}

// full is the A at which the last cell fills. Once all is wet w = A - φ with
// ∇²φ = -1, and φ = 0 on the seam; the last place is where φ is largest.
func (b *brute) full() float64 {
	phi, most := make([]float64, len(b.room)), 0.0
	for range 3000 {
		for c, room := range b.room {
			if room == 0 {
				continue
			}
			sum, diag := room, 0.0
			for dir := range 4 {
				if w := b.feed[c][dir]; w > 0 {
					diag += w
				} else if m := b.next(c, dir); m >= 0 && b.room[m] > 0 {
					sum, diag = sum+phi[m], diag+1
				}
			}
			phi[c] += 1.9 * (sum/diag - phi[c])
		}
	}
	for _, v := range phi {
		most = math.Max(most, v)
	}
	return most
}

// A square plate that is fed along one side, by a drive that falls along it to a
// quarter.
func TestFillingUnderFallingDriveCellByCell(t *testing.T) {
	const n = 60
	drive := func(y float64) float64 { return 1 - 0.75*y/n }
	inside := func(x, y float64) bool { return x > 0 && y > 0 && x < n && y < n }
	b := newBrute(n, inside, func(x, y float64, dir int) (float64, float64, bool) {
		return 0.5, drive(y), dir == 0
	})
	g := grid(1, box(0, 0, n, n, wallLabel, wallLabel, wallLabel, seamLabel))
	b.agree(t, g, func(u, v float64) float64 { return drive(v) }, []float64{20, 100, 300, 700, 1200}, 0.01, 0.2)
}
