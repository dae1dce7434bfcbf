package flash

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mold/flash/film"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/portable"
)

// wetting tabulates how a liquid spreads in one parting line and leaves it, for
// whatever gap, urethane and time: all of them act through one number, the area
// a = h²·P·M/12 in mm², where P is the pressure at the lowest point of the seam
// (head and capillarity) and M the mobility ∫dt/μ. A straight front is then
// √(2a) deep.
//
// On a seam of one height that is all. Where the seam climbs, head differs along
// it, and the share of the capillary pressure in P decides how much: the tables
// stand at a few shares, with linear interpolation between.
type wetting struct {
	levels []float64 // a, mm², rising
	nodes  []node    // by rising share
}

// node is the wetting at one share of capillarity.
type node struct {
	share   float64
	arrival []float64 // per cell, a at which it gets wet
	area    []float64 // wet at each level, mm²
	out     flows
}

// way is where the liquid goes that leaves by an exit.
type way int

const (
	toOutside  way = iota // outer face, strap groove, pry slot
	toHoles               // bolt and jack holes
	toPockets             // ball pockets
	toOpening             // what must stay free of rubber
	toRegister            // the same, behind a register's clearance
	ways
)

// wayOf each kind of exit; an opening with a register in it is told by its place.
var wayOf = map[string]way{
	ExitOuter: toOutside, ExitStrap: toOutside, ExitPry: toOutside, ExitBolt: toHoles, ExitJack: toHoles, ExitBall: toPockets, ExitOpening: toOpening,
}

// flows are the exits of each way out in the order in which the liquid reaches
// them, with the flux of a head of 1 at the lowest point of the seam.
type flows [ways]struct {
	at       []float64 // a at which each is reached
	flux     []float64 // sum of the fluxes up to each
	fluxTime []float64 // sum of flux times a
}

// left is Σ flux·(a - a of the exit) over the exits that are reached, mm², and the
// flux of all of them.
func (f *flows) left(g way, a float64) (left, flux float64) {
	x := &f[g]
	n, _ := slices.BinarySearch(x.at, a)
	if n == 0 {
		return 0, 0
	}
	return a*x.flux[n-1] - x.fluxTime[n-1], x.flux[n-1]
}

// shares at which a seam that climbs is tabulated. Below -1 the liquid is pushed
// out of all but the lowest part; the table's end is an upper bound there.
var climbing = []float64{-1, -1. / 3, 0, 1. / 3, 1}

// wet tabulates every line as far as its draws reach, with something to spare
// for changes that are tried, also where a seal now holds the liquid back.
func (c *conditions) wet(d *drawn) {
	bare := *c
	for _, seal := range []*string{&bare.job.Mold.Seals.Base, &bare.job.Mold.Seals.Lid, &bare.job.Mold.Seals.Sides, &bare.job.Mold.Seals.Hub} {
		if *seal != "dry" {
			*seal = "wiped"
		}
	}
	sites := c.geometry.sites
	inparallel.Do(len(sites), func(i int) {
		most := 0.0
		for _, x := range append(d.of(i), *expected(c)) {
			o, _ := bare.reach(sites[i], &x)
			most = max(most, o.reach)
		}
		sites[i].wetting = newWetting(c, sites[i], max(1.5*most, leastDepth*leastDepth/2))
	})
}

// finest depth in mm of the tables, and how many levels they have.
const leastDepth, levelCount = 0.02, 64

// newWetting tabulates up to an a of most; beyond it all is taken to be wet.
func newWetting(c *conditions, s *site, most float64) *wetting {
	w := &wetting{levels: make([]float64, levelCount)}
	deepest := leastDepth * 2
	for _, d := range s.fromSeam {
		if !math.IsInf(d, 1) {
			deepest = max(deepest, d)
		}
	}
	for i := range w.levels {
		d := leastDepth * portable.Pow(1.5*deepest/leastDepth, float64(i)/(levelCount-1))
		w.levels[i] = d * d / 2
	}
	relative := c.relativeHead(s)
	shares := []float64{1}
	if s.climbs() {
		shares = climbing
	}
	for _, f := range shares {
		arrival := s.grid.Arrival(func(u, v float64) float64 {
			r := relative(u, v)
			if r < 0 { // above the liquid
				return 0
			}
			return (1-f)*r + f
		}, most)
		n := node{share: f, arrival: arrival, area: s.grid.WetAreas(arrival, w.levels)}
		for i, a := range w.levels {
			if a >= most {
				n.area[i] = s.grid.Area()
			}
		}
		w.nodes = append(w.nodes, n)
	}
	out := s.outflows(w, relative)
	for i := range w.nodes {
		w.nodes[i].out = s.flows(out, w.nodes[i].arrival)
	}
	return w
}

// relativeHead is the head at a seam point over that at the seam's lowest point:
// 1 along a seam of one height, negative above the liquid.
func (c *conditions) relativeHead(s *site) func(u, v float64) float64 {
	below := c.fillHeight() - s.lowest
	if !s.climbs() || below <= 0 {
		return func(u, v float64) float64 { return 1 }
	}
	return func(u, v float64) float64 {
		return (c.fillHeight() - s.sheet.Frame.Global(mesh.Vec{u, v, 0})[2]) / below
	}
}

// climbs tells whether the seam has more than one height.
func (s *site) climbs() bool { return s.highest-s.lowest > 1e-6 }

// outflows are the steady flows out of a line, for a head of 1 at the lowest
// point of the seam, by the ways out that the liquid reaches at all. Each is taken
// to be the only one that is open: what leaves by it is then an upper bound,
// whichever of the others have been reached or are closed by a seal.
func (s *site) outflows(w *wetting, relative func(u, v float64) float64) []film.Outflow {
	head := func(u, v float64) float64 { return max(0, relative(u, v)) }
	var reached [ways]bool
	for _, o := range s.grid.Exits() {
		for i := range w.nodes {
			if !math.IsInf(w.nodes[i].arrival[o.Cell], 1) {
				reached[wayOf[s.exits[o.Label]]] = true
			}
		}
	}
	var out []film.Outflow
	for g, is := range reached {
		if is {
			out = append(out, s.grid.Outflow(head, func(label int) bool { return wayOf[s.exits[label]] == way(g) })...)
		}
	}
	return out
}

// meetExits notes how far from the seam each kind of exit begins.
func (s *site) meetExits() {
	s.exitAt = map[string]float64{}
	for _, o := range s.grid.Exits() {
		kind := s.exits[o.Label]
		d := s.fromSeam[o.Cell] + s.toExit(o)
		if was, ok := s.exitAt[kind]; !ok || d < was {
			s.exitAt[kind] = d
		}
	}
}

// flows sorts the flows out of a line by when the front arrives.
func (s *site) flows(out []film.Outflow, arrival []float64) flows {
	type exit struct{ at, flux float64 }
	var found [ways][]exit
	for _, o := range out {
		// From the center of its last cell the front has some way to the edge.
		d := math.Sqrt(2*arrival[o.Cell]) + s.toExit(o)
		if a := d * d / 2; !math.IsInf(a, 1) {
			g := s.way(o)
			found[g] = append(found[g], exit{a, o.Flux})
		}
	}
	var f flows
	for g := range found {
		slices.SortStableFunc(found[g], func(a, b exit) int { return cmp.Compare(a.at, b.at) })
		var flux, time float64
		for _, e := range found[g] {
			flux, time = flux+e.flux, time+e.flux*e.at
			f[g].at, f[g].flux, f[g].fluxTime = append(f[g].at, e.at), append(f[g].flux, flux), append(f[g].fluxTime, time)
		}
	}
	return f
}

// registerReach in mm is how far from a register's clearance the rim of its
// opening may lie.
const registerReach = 0.5

// way is where an exit leads.
func (s *site) way(o film.Outflow) way {
	g := wayOf[s.exits[o.Label]]
	if g != toOpening {
		return g
	}
	p := s.sheet.Frame.Global(mesh.Vec{o.U, o.V, 0})
	for i := range s.after {
		r := &s.after[i]
		q := r.Axis.Local(p)
		if d := math.Hypot(q[0], q[1]); math.Abs(d-max(r.Radius(r.Z0), r.Radius(r.Z1))) < registerReach {
			return toRegister
		}
	}
	return g
}

// toExit is the way from the center of an exit's cell to the exit, mm.
func (s *site) toExit(o film.Outflow) float64 {
	g := s.grid
	u, v := g.U0+g.Cell*float64(o.Cell%g.Nx), g.V0+g.Cell*float64(o.Cell/g.Nx)
	return math.Hypot(o.U-u, o.V-v)
}

// at interpolates a table of levels at a: in √a, in which depth is linear. It is
// proportional to √a below the first level and stays at the last beyond it.
func at(levels, table []float64, a float64) float64 {
	n := len(levels) - 1
	switch {
	case a <= 0:
		return 0
	case a <= levels[0]:
		return table[0] * math.Sqrt(a/levels[0])
	case a >= levels[n]:
		return table[n]
	}
	i, _ := slices.BinarySearch(levels, a)
	lo, hi := math.Sqrt(levels[i-1]), math.Sqrt(levels[i])
	t := (math.Sqrt(a) - lo) / (hi - lo)
	return table[i-1] + t*(table[i]-table[i-1])
}

// between returns the nodes on both sides of a share, and the weight of the
// second.
func (w *wetting) between(share float64) (i, k int, t float64) {
	n := len(w.nodes) - 1
	if n == 0 || share <= w.nodes[0].share {
		return 0, 0, 0
	}
	for k := 1; k <= n; k++ {
		if lo, hi := w.nodes[k-1].share, w.nodes[k].share; share < hi {
			return k - 1, k, (share - lo) / (hi - lo)
		}
	}
	return n, n, 0
}

// area is the wet area in mm².
func (w *wetting) area(a, share float64) float64 {
	i, k, t := w.between(share)
	return (1-t)*at(w.levels, w.nodes[i].area, a) + t*at(w.levels, w.nodes[k].area, a)
}

// arrival is the a at which a cell gets wet.
func (w *wetting) arrival(cell int, share float64) float64 {
	i, k, t := w.between(share)
	if t == 0 { // infinite where it stays dry, which no weight of 0 takes away
		return w.nodes[i].arrival[cell]
	}
	return (1-t)*w.nodes[i].arrival[cell] + t*w.nodes[k].arrival[cell]
}

// left is what has left by a way out, mm² (see flows), and the flux through it.
func (w *wetting) left(g way, a, share float64) (left, flux float64) {
	i, k, t := w.between(share)
	left, flux = w.nodes[i].out.left(g, a)
	if t > 0 {
		l, f := w.nodes[k].out.left(g, a)
		left, flux = (1-t)*left+t*l, (1-t)*flux+t*f
	}
	return left, flux
}
