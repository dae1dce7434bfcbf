package film

import "math"

// levelRatio is how much deeper the front is from level to level. Between two
// levels the arrivals are interpolated; a ratio of 1.25 to 1.4 changes them by
// some hundredths of a cell, and by half a cell next to walls.
const levelRatio = 1.3

// firstDepth is the depth of the front at the first level, in cells. A thinner
// front is not resolved; up to there the way from the seam sets the arrivals.
const firstDepth = 3.0

// rimDepth is how many cells Arrival goes on past the most that is asked for:
// WetArea fills cells half a cell ahead of the front, and takes slopes there.
const rimDepth = 1.5

// weakest is the least root of the drive for which it goes on that far.
const weakest = 0.25

// stall ends the search when so many levels in a row, a factor of 8 in depth,
// wet no cell more: a seam that takes liquid back can hold a front forever.
const stall = 8

// Arrival returns the least drive A in mm² at which each cell's center is wet,
// and +Inf for cells that stay dry at the drive most, but for a rim of a cell or
// two that WetArea needs to place the front. The drive along the seam is A times
// what drive returns, at most 1; nil means 1 everywhere.
//
// Fronts pass from level to level through projected overrelaxation. At each one,
// √(2w) is how far the front has passed a wet cell, and the way from the last
// wet cell how far it lacks to a dry one. Both change linearly with √A where a
// front is straight, and nearly so between two levels otherwise.
func (g *Grid) Arrival(drive func(u, v float64) float64, most float64) []float64 {
	at := make([]float64, len(g.In))
	for c := range at {
		at[c] = math.Inf(1)
	}
	if !(most > 0) {
		return at
	}
	f := g.newFront(drive)
	depth := math.Sqrt(2*most) / g.Cell
	f.pass(at, depth+f.rim)
	for c, d := range at {
		if at[c] = math.Inf(1); d <= depth+f.rim {
			at[c] = d * d / 2 * g.Cell * g.Cell
		}
	}
	return at
}

// pass goes from level to level until all is wet or the limit is reached, and
// notes the depths at which the cells become wet.
func (f *front) pass(at []float64, limit float64) {
	dry, idle := len(f.order), 0
	for depth := math.Min(firstDepth, limit); dry > 0 && idle < stall; depth *= levelRatio {
		f.advance(depth)
		fresh := f.arrive(at)
		dry -= fresh
		idle++
		if fresh > 0 {
			idle = 0
		}
		if depth >= limit {
			return
		}
	}
}

// front is the obstacle problem at one level after the other. The level is named
// by the depth of a straight front, √(2A). All lengths are in cells, w in their
// squares.
type front struct {
	*march                 // from where the drive is positive, slow where it is weak
	root        []float64  // square root of the drive at each crossing
	rim         float64    // depth to go on past the most that is asked for
	depth, last float64    // of this level and of the one before
	w           []float64  // by cell, and 0 at the end for links that are not open
	ahead       []float64  // how far the front has passed each cell, negative before it
	before      []float64  // the same at the level before
	speed       []float64  // of ahead with depth, from the two levels before
	rims        []rim      // cells with a link that is not open, by index
	reach       float64    // largest time of an active cell
	active      []stretch  // active cells with open links
	rimmed      [2][]int32 // active rims by color
}

// stretch is a part of a row without rims, up to the cell end. Colors alternate
// along it like those of a chess board; first has the first cell of each.
type stretch struct {
	first [2]int32
	end   int32
}

func (g *Grid) newFront(drive func(u, v float64) float64) *front {
	n := len(g.In)
	f := &front{
		root: make([]float64, len(g.crossings)), w: make([]float64, n+1),
		ahead: make([]float64, n), before: make([]float64, n), speed: make([]float64, n),
	}
	slow, fixed := make([]float64, len(g.crossings)), make([]float64, len(g.crossings))
	f.rim = rimDepth
	for k := range g.crossings {
		if g.crossings[k].class != Seam {
			continue
		}
		d := 1.0
		if drive != nil {
			d = drive(g.point(k))
		}
		if d > 0 && !math.IsInf(d, 1) {
			f.root[k], slow[k], fixed[k] = math.Sqrt(d), 1/math.Sqrt(d), d
			f.rim = math.Max(f.rim, rimDepth/math.Max(f.root[k], weakest))
		}
	}
	f.march = g.march(slow)
	seam := func(k int) bool { return g.crossings[k].class == Seam }
	for c, in := range g.In {
		if in && !g.interior(c) {
			f.rims = append(f.rims, g.rim(c, fixed, seam))
		}
	}
	for _, c := range f.order {
		f.speed[c] = f.root[f.from[c]]
		f.ahead[c] = -f.time[c] * f.speed[c]
	}
	return f
}

// advance solves the next level.
func (f *front) advance(depth float64) {
	f.predict(depth)
	f.solve()
	f.measure()
}

// solve relaxes w, on more cells as long as it reaches the last ones.
func (f *front) solve() {
	for {
		f.activate()
		f.relax()
		if !f.grow() {
			return
		}
	}
}

// margin is how far ahead of the predicted front cells are active, in cells.
const margin = 2.5

// predict starts the next level where the front would be at its present speed.
func (f *front) predict(depth float64) {
	past := f.depth - f.last
	f.reach = 0
	for _, c := range f.order {
		if past > 0 {
			f.speed[c] = math.Min(math.Max(0, (f.ahead[c]-f.before[c])/past), 4*f.root[f.from[c]])
		}
		f.before[c] = f.ahead[c]
		f.w[c] = 0
		ahead := f.ahead[c] + f.speed[c]*(depth-f.depth)
		if ahead > 0 {
			f.w[c] = ahead * ahead / 2
		}
		if ahead > -margin {
			f.reach = f.time[c]
		}
	}
	f.last, f.depth = f.depth, depth
}

// activate lists the cells up to the reach.
func (f *front) activate() {
	g := f.g
	f.active = f.active[:0]
	f.rimmed = [2][]int32{f.rimmed[0][:0], f.rimmed[1][:0]}
	next := 0
	for j := range g.Ny {
		begin := -1
		for i := range g.Nx {
			c := j*g.Nx + i
			on := f.time[c] <= f.reach
			edge := next < len(f.rims) && f.rims[next].cell == int32(c)
			if begin >= 0 && (edge || !on) {
				f.active = append(f.active, newStretch(begin, c, (begin+j-j*g.Nx)&1))
				begin = -1
			}
			switch {
			case edge:
				if on && f.rims[next].diag > 0 {
					f.rimmed[(i+j)&1] = append(f.rimmed[(i+j)&1], int32(next))
				}
				next++
			case on && begin < 0:
				begin = c
			}
		}
	}
}

// newStretch returns the cells from begin to end; color is that of begin.
func newStretch(begin, end, color int) stretch {
	s := stretch{end: int32(end)}
	s.first[color], s.first[1-color] = int32(begin), int32(begin+1)
	return s
}

// precision returns the largest change of w in a sweep at which relaxation ends.
// A change δ leaves an error of some δ·n/2π over n cells, here a thirtieth of a
// cell's square, which moves the front by about as much of a cell.
func (f *front) precision() float64 { return 0.2 / (f.depth + 5) }

// mostSweeps bounds the work of a level; some hundred are usual.
const mostSweeps = 20000

// relax sweeps the active cells until w rests. Overrelaxation is best for a band
// between two edges that hold w, n cells wide: 2/(1+π/√2n) in this numbering
// with waves across the band alone; where the flow ends at walls, n is more than
// the reach.
func (f *front) relax() {
	width := 1.3*math.Min(f.depth, 1.3*f.reach) + 2
	over := 2 / (1 + math.Pi/math.Sqrt2/width)
	drive := f.depth * f.depth / 2
	for range mostSweeps {
		change := 0.0
		for color := range 2 {
			change = math.Max(change, f.sweep(color, over))
			change = math.Max(change, f.sweepRims(color, over, drive))
		}
		if change <= f.precision() {
			return
		}
	}
}

// sweep relaxes the cells of one color whose links are all open, and returns the
// largest change.
func (f *front) sweep(color int, over float64) float64 {
	w, nx := f.w, f.g.Nx
	keep, quarter := 1-over, over/4
	most := 0.0
	for _, s := range f.active {
		lo, hi := int(s.first[color]), int(s.end)
		if lo >= hi {
			continue
		}
		row := w[lo-1 : hi+1]
		up, down := w[lo+nx-1 : hi+nx+1][:len(row)], w[lo-nx-1 : hi-nx+1][:len(row)]
		for i := 1; i < len(row)-1; i += 2 {
			old := row[i]
			now := keep*old + quarter*((row[i-1]+row[i+1])+(up[i]+down[i])-1)
			if now < 0 {
				now = 0
			}
			row[i] = now
			if d := now - old; d > most || d < -most {
				most = math.Abs(d)
			}
		}
	}
	return most
}

// sweepRims relaxes the other cells of one color.
func (f *front) sweepRims(color int, over, drive float64) float64 {
	w := f.w
	most := 0.0
	for _, i := range f.rimmed[color] {
		r := &f.rims[i]
		old := w[r.cell]
		sum := w[r.next[0]] + w[r.next[1]] + w[r.next[2]] + w[r.next[3]] + drive*r.feed - r.load
		now := math.Max(0, old+over*(sum/r.diag-old))
		w[r.cell] = now
		most = math.Max(most, math.Abs(now-old))
	}
	return most
}

// grow widens the reach if a wet cell has a neighbor beyond it.
func (f *front) grow() bool {
	for _, c := range f.order {
		if f.time[c] > f.reach {
			break
		}
		if f.w[c] == 0 {
			continue
		}
		for dir, l := range f.g.link[4*c : 4*c+4] {
			if l == open && f.time[int(c)+f.g.step(dir)] > f.reach {
				f.reach = f.reach*1.1 + 2*f.slow[f.from[c]]
				return true
			}
		}
	}
	return false
}

// barely is the w of a cell that is just wet. It says less about the front than
// the next cell behind does.
const barely = 0.25

// measure turns w into how far the front has passed each cell, and goes on from
// the wet cells to the dry ones along the ways of the march.
func (f *front) measure() {
	for _, c := range f.order {
		p, root := f.parent[c], f.root[f.from[c]]
		switch {
		case f.w[c] > barely || f.w[c] > 0 && p < 0:
			f.ahead[c] = passed(f.w[c])
		case p >= 0:
			f.ahead[c] = f.ahead[p] - (f.time[c]-f.time[p])*root
		default:
			f.ahead[c] = (f.depth - f.time[c]) * root
		}
	}
}

// lattice is what the cells take from the square of the way behind a front. With
// the centers s behind a front along the lines, 2w = s² - ε² solves the equations
// with the front anywhere up to half a cell from the middle between two centers,
// |ε| ≤ 1/2, and the mean of ε² is 1/12. At most angles and curvatures it is less:
// 1/18 leaves fronts without a bias beyond a hundredth of a cell.
const lattice = 1.0 / 18

// passed returns how far the front has passed a cell with w.
func passed(w float64) float64 { return math.Sqrt(2*w + lattice) }

// arrive notes the depth at which cells became wet since the level before, and
// returns how many there are.
func (f *front) arrive(at []float64) int {
	fresh := 0
	for _, c := range f.order {
		if f.w[c] == 0 || !math.IsInf(at[c], 1) {
			continue
		}
		fresh++
		if f.last == 0 {
			at[c] = f.first(int(c))
		} else {
			at[c] = f.later(int(c))
		}
		at[c] = math.Min(at[c], f.latest(int(c)))
	}
	return fresh
}

// latest bounds the depth at which a cell became wet: w grows no faster than A,
// since its growth is harmonic and at most that at the seam, so that it was 0 when
// A was less by w. In dead ends, which fill at once, nothing else tells.
func (f *front) latest(c int) float64 {
	return math.Sqrt(math.Max(0, f.depth*f.depth-2*f.w[c]))
}

// first returns the depth at which a cell became wet before the first level. From
// every place of the seam the front starts as a straight one would. How far it
// has got along the way at the level tells how it bends: s = root·t + bend·t².
func (f *front) first(c int) float64 {
	way, root := -f.before[c], f.root[f.from[c]]
	bend := (way + f.ahead[c] - root*f.depth) / (f.depth * f.depth)
	square := root*root + 4*bend*way
	if square <= 0 {
		return f.depth
	}
	return math.Min(2*way/(root+math.Sqrt(square)), f.depth)
}

// later returns the depth at which a cell became wet since the level before, at
// the mean speed since then. Where a front runs into a wall within the level, w
// rises faster than it would behind a front: there the speed before says more.
func (f *front) later(c int) float64 {
	step := f.depth - f.last
	mean := (f.ahead[c] - f.before[c]) / step
	speed := f.speed[c] + f.free(c)*(mean-f.speed[c])
	switch lack := -f.before[c]; {
	case lack <= 0: // within the precision already wet at the level before
		return math.Max(0, f.last+lack/math.Max(speed, f.root[f.from[c]]))
	case lack < speed*step:
		return f.last + lack/speed
	}
	return f.depth
}

// free returns 1 where w is that of a front that moves freely, |∇w|² = 2w, and
// less the more the flow ends at a wall or meets itself.
func (f *front) free(c int) float64 {
	square := 0.0
	for axis := range 2 {
		slope := 0.0
		if f.g.link[4*c+2*axis] == open {
			slope += f.w[c] - f.w[c+f.g.step(2*axis)]
		}
		if f.g.link[4*c+2*axis+1] == open {
			slope += f.w[c+f.g.step(2*axis+1)] - f.w[c]
		}
		square += slope * slope / 4
	}
	return math.Min(1, square/(2*f.w[c]+lattice))
}
