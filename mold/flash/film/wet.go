package film

import (
	"math"
	"sort"
)

// WetArea returns the area that is wet at the drive a, mm², from the arrivals at
// the cells' centers. Cells at the front count in part, so that the area grows
// without steps, and from a front thinner than a cell on as seam times depth.
//
// Rows and columns share the area like edges do: a row counts with the square of
// the front normal's component along it. What is wet of a cell's links, with √A
// linear along each, is then exact for straight fronts at any angle.
func (g *Grid) WetArea(arrival []float64, a float64) float64 {
	return g.WetAreas(arrival, []float64{a})[0]
}

// WetAreas returns the area that is wet at each of several drives in rising
// order, mm², as WetArea does.
func (g *Grid) WetAreas(arrival, a []float64) []float64 {
	depths, areas := make([]float64, len(a)), make([]float64, len(a))
	if len(arrival) != len(g.In) {
		return areas
	}
	for k := range a {
		depths[k] = math.Sqrt(2*math.Max(a[k], 0)) / g.Cell
	}
	whole := make([]float64, len(a)+1) // cells that are wet altogether from a drive on
	e := &extent{g: g, arrival: arrival, near: g.nearSeam()}
	for c, in := range g.In {
		if !in || math.IsInf(arrival[c], 1) {
			continue
		}
		w := e.ways(c)
		k := sort.SearchFloat64s(depths, w.lo)
		for ; k < len(depths) && depths[k] < w.hi; k++ {
			areas[k] += g.area[c] * w.wet(depths[k])
		}
		whole[k] += g.area[c]
	}
	sum := 0.0
	for k := range areas {
		sum += whole[k]
		areas[k] += sum
		if depths[k] == 0 {
			areas[k] = 0
		}
	}
	return areas
}

// steepest bounds the difference of depth between a center and the end of a link,
// in cells. A straight front under full drive has 1/2; more is a front that
// nearly rests.
const steepest = 6

// extent is how far fronts reach.
type extent struct {
	g       *Grid
	arrival []float64
	near    []float64 // distance of cells from a seam beside them, or 0, in cells
}

// at returns the depth of the front that arrives at a cell.
func (e *extent) at(c int) float64 { return math.Sqrt(2*e.arrival[c]) / e.g.Cell }

// half is one of the four links of a cell: the change of depth from the center to
// its end, and its length. Links to the next cell end half way.
type half struct {
	rise, length float64
	known        bool
}

// ways are how a front passes a cell: from its center, where it arrives at one
// depth, to the ends of its links, with the share of the cell that each stands for.
type ways struct {
	at, lo, hi float64 // lo and hi bound all depths
	end, share [4]float64
}

// wet returns the part of the cell that is wet when the front is so deep.
func (w *ways) wet(depth float64) float64 {
	sum := 0.0
	for i, share := range w.share {
		sum += share * passing(depth, w.at, w.end[i])
	}
	return sum
}

func (e *extent) ways(c int) ways {
	at := e.at(c)
	halves, slope := e.halves(c, at)
	e.entries(c, at, &halves, slope)
	weight := e.weights(c, slope)
	w := ways{at: at, lo: at, hi: at}
	all := 0.0
	for dir, h := range halves {
		if !h.known { // the slope goes on from the other side
			if o := halves[dir^1]; o.known && o.length > 0 {
				h.rise = -o.rise / o.length * h.length
			}
		}
		w.end[dir] = at + math.Min(math.Max(-steepest, h.rise), steepest)
		w.share[dir] = weight[dir/2] * h.length
		w.lo, w.hi = math.Min(w.lo, w.end[dir]), math.Max(w.hi, w.end[dir])
		all += w.share[dir]
	}
	if all == 0 { // nothing to go along: wet at once
		w.lo, w.hi = at, at
		return w
	}
	for dir := range w.share {
		w.share[dir] /= all
	}
	return w
}

// halves returns the links of a cell as far as its neighbors tell, and the slopes
// along rows and columns.
func (e *extent) halves(c int, at float64) (halves [4]half, slope [2]float64) {
	g := e.g
	for dir, l := range g.link[4*c : 4*c+4] {
		h := &halves[dir]
		h.length = 0.5
		if l >= 0 {
			h.length = g.crossings[l].share
		}
		if l != open {
			continue
		}
		if next := e.at(c + g.step(dir)); !math.IsInf(next, 1) {
			h.rise, h.known = (next-at)/2, true
		}
	}
	for axis := range 2 {
		back, ahead := halves[2*axis], halves[2*axis+1]
		slope[axis] = 2 * (ahead.rise - back.rise)
		if back.known && ahead.known {
			slope[axis] /= 2
		}
	}
	return halves, slope
}

// entries lets the front start at the seam, at depth 0, if it came in there: if
// the arrival fits the slope around and the distance from the seam, or if there
// is no slope away from the seam yet.
func (e *extent) entries(c int, at float64, halves *[4]half, slope [2]float64) {
	if e.near[c] == 0 {
		return
	}
	away := false
	for dir, l := range e.g.link[4*c : 4*c+4] {
		away = away || l >= 0 && e.g.crossings[l].class == Seam && halves[dir^1].known
	}
	if away && math.Hypot(slope[0], slope[1])*e.near[c] < at/2 {
		return
	}
	for dir, l := range e.g.link[4*c : 4*c+4] {
		if l >= 0 && e.g.crossings[l].class == Seam {
			halves[dir].rise, halves[dir].known = -at, true
		}
	}
}

// weights returns the squares of the normal's components: of the seam where it is
// beside the cell, of the front elsewhere.
func (e *extent) weights(c int, slope [2]float64) [2]float64 {
	if e.near[c] > 0 {
		rows, cols := e.g.facing(c)
		return [2]float64{rows, cols}
	}
	rows, cols := slope[0]*slope[0], slope[1]*slope[1]
	if sum := rows + cols; sum > 0 {
		return [2]float64{rows / sum, cols / sum}
	}
	return [2]float64{0.5, 0.5}
}

// passing returns how much of a way is wet whose two ends become wet at depths a
// and b.
func passing(depth, a, b float64) float64 {
	lo, hi := math.Min(a, b), math.Max(a, b)
	if depth >= hi {
		return 1
	}
	if depth <= lo {
		return 0
	}
	return (depth - lo) / (hi - lo)
}

// nearSeam returns the distance from the seam in cells for each cell that a line
// leads from to the seam, and 0 for the others.
func (g *Grid) nearSeam() []float64 {
	near := make([]float64, len(g.In))
	for k := range g.crossings {
		x := &g.crossings[k]
		if x.class != Seam {
			continue
		}
		if d := math.Max(x.depth, nearest); near[x.cell] == 0 || d < near[x.cell] {
			near[x.cell] = d
		}
	}
	return near
}
