package rise

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
)

// Trap is air that stays. Heights are along up, from the frame's origin; points are in
// the solid's frame.
type Trap struct {
	Volume float64
	Top    mesh.Vec   // its highest point
	Tops   []mesh.Vec // every local top of it, the highest first
	Saddle float64    // level of the liquid that shuts the air in
	Depth  float64    // of Top above Saddle
	Way    mesh.Vec   // where the air would spill over
	Vent   string     // the vent whose mouth lies below the trap and shuts, if that is the way
	// Closed: no vent is reached at all. The trap is all of that part of the cavity,
	// and Saddle its lowest point.
	Closed bool
	Gates  []string // gates in it, which let air out against the stream only

	runs    []int // with air of the trap
	topRuns []int // as Tops
}

// Air is what stays in one pose of the mold.
type Air struct {
	Tilt   Tilt
	Traps  []Trap  // of at least Settings.Least, the largest first
	Volume float64 // of all these
}

// rounding: heights nearer than this are equal. Heights are met within 1e-9 mm; it is
// far below anything cast.
const rounding = 1e-6 // mm

// pocket is a part of the air that holds together above the falling level.
type pocket struct {
	parent  int32 // into which it was merged; itself if not
	highest int32 // run
	first   int32 // run; the others follow by chain
	last    int32
	open    bool  // air can leave by a vent
	tops    []int // runs at its local tops
	gates   []string
	// wide is the height above which the pocket holds four columns in a square; -Inf
	// if it does not.
	//
	// Pockets without such a square are of the grid's making. Take a straight sharp
	// ridge. In each row of cells across it, one column lies within half a cell of it,
	// and these columns touch, at least in corners; so the air along the ridge holds
	// together down to where the ridge passes half a cell beside a column. The pocket
	// above that level holds just columns within half a cell, one in each row. The
	// same goes for rounded, curved and falling ridges, and for tilted roofs along a
	// slanting wall, where the end of each step of the wall is a top. A trap that
	// holds a disc of 3 cells, more than 2·√2, holds such a square.
	wide float64
}

// falling lets the level fall and keeps the pockets.
type falling struct {
	*surface
	pockets []pocket
	in      []int32 // pocket of each run, -1 while below the level
	chain   []int32
	late    []bool // of each lip: air passes it later than the tops beside it
	met     []int32
	flood   []int
	traps   []Trap
}

// event is what the level passes besides tops: the mouth of an opening at a run, or a
// lip between two.
type event struct {
	height float64
	run    int32
	mouth  int32 // -1: a lip
	lip    int32
	rank   int32 // of events of one height, the smaller first
}

// Traps returns the air that stays when the mold lies so.
func (c *Cavity) Traps(t Tilt) Air {
	f := &falling{surface: c.along(t), in: make([]int32, len(c.runs)), chain: make([]int32, len(c.runs)), late: make([]bool, len(c.lips))}
	for i := range f.in {
		f.in[i] = -1
	}
	f.fall(f.events())
	f.rest()
	a := Air{Tilt: t}
	for _, q := range f.traps {
		if q.Volume >= c.Least {
			a.Traps = append(a.Traps, q)
			a.Volume += q.Volume
		}
	}
	slices.SortStableFunc(a.Traps, func(p, q Trap) int { return cmp.Compare(q.Volume, p.Volume) })
	return a
}

// fall passes all tops and events from the highest down.
func (f *falling) fall(events []event) {
	for order := f.order(); len(order) > 0; {
		top := f.roof[order[0]]
		for len(events) > 0 && events[0].height > top {
			f.pass(events[0])
			events = events[1:]
		}
		n := 1
		for n < len(order) && f.roof[order[n]] >= top-rounding {
			n++
		}
		m := 0
		for m < len(events) && events[m].height >= top-rounding && events[m].mouth >= 0 {
			m++
		}
		f.level(order[:n], events[:m], top)
		order, events = order[n:], events[m:]
	}
	for _, e := range events {
		f.pass(e)
	}
}

// level reveals runs whose tops are equally high. Along a level roof air flows freely:
// what is open spreads first, so that pockets above the roof do not join one another
// in place of it.
func (f *falling) level(batch []int32, mouths []event, top float64) {
	if len(batch) == 1 && len(mouths) == 0 {
		f.reveal(int(batch[0]))
		return
	}
	f.flood = f.flood[:0]
	for _, e := range mouths {
		f.reveal(int(e.run))
		f.pass(e)
		f.flood = append(f.flood, int(e.run))
	}
	for _, k := range batch {
		if f.in[k] < 0 && f.besideOpen(int(k)) {
			f.reveal(int(k))
			f.flood = append(f.flood, int(k))
		}
	}
	for len(f.flood) > 0 {
		k := f.flood[len(f.flood)-1]
		f.flood = f.flood[:len(f.flood)-1]
		if !f.pockets[f.root(f.in[k])].open {
			continue
		}
		for _, l := range f.linked(k) {
			if f.in[l.to] < 0 && f.roof[l.to] >= top-rounding && f.soon(l) {
				f.reveal(int(l.to))
				f.flood = append(f.flood, int(l.to))
			}
		}
	}
	for _, k := range batch {
		f.reveal(int(k))
	}
}

// soon reports whether air passes a link as soon as both its tops are out.
func (f *falling) soon(l link) bool { return l.lip < 0 || !f.late[l.lip] }

func (f *falling) besideOpen(k int) bool {
	for _, l := range f.linked(k) {
		if p := f.in[l.to]; p >= 0 && f.soon(l) && f.pockets[f.root(p)].open {
			return true
		}
	}
	return false
}

// order lists the runs by falling roof.
func (s *surface) order() []int32 {
	type key struct {
		roof float64
		run  int32
	}
	keys := make([]key, len(s.roof))
	for i, h := range s.roof {
		keys[i] = key{h, int32(i)}
	}
	slices.SortFunc(keys, func(a, b key) int {
		switch {
		case a.roof > b.roof:
			return -1
		case a.roof < b.roof:
			return 1
		}
		return int(a.run) - int(b.run)
	})
	out := make([]int32, len(keys))
	for i, k := range keys {
		out[i] = k.run
	}
	return out
}

// events lists mouths and late lips by falling height; at one height gates come first,
// so that a trap knows of those at its own level.
func (f *falling) events() (out []event) {
	for i := range f.mouths {
		m := &f.mouths[i]
		_, rim, _ := m.heights(f.up)
		rank := int32(1)
		if m.Gate {
			rank = 0
		}
		for _, t := range m.runs {
			h := f.roof[t.run]
			if !t.within {
				h = min(h, rim)
			}
			out = append(out, event{h, int32(t.run), int32(i), -1, rank})
		}
	}
	for i := range f.lips {
		l := &f.lips[i]
		if h := f.up.Dot(l.at); h < min(f.roof[l.low], f.roof[l.high]) {
			f.late[i] = true
			out = append(out, event{h, l.low, -1, int32(i), 2})
		}
	}
	slices.SortFunc(out, func(a, b event) int {
		switch {
		case a.height > b.height:
			return -1
		case a.height < b.height:
			return 1
		}
		return int(cmp.Or(a.rank-b.rank, a.mouth-b.mouth, a.lip-b.lip, a.run-b.run))
	})
	return out
}

func (f *falling) root(p int32) int32 {
	for f.pockets[p].parent != p {
		f.pockets[p].parent = f.pockets[f.pockets[p].parent].parent
		p = f.pockets[p].parent
	}
	return p
}

// reveal lets the level fall to run k's roof: its air joins the pockets around it, and
// these one another.
func (f *falling) reveal(k int) {
	if f.in[k] >= 0 {
		return
	}
	level := f.roof[k]
	f.met = f.met[:0]
	sides := uint8(0)
	for _, l := range f.linked(k) {
		if p := f.in[l.to]; p >= 0 && f.soon(l) {
			sides |= 1 << l.way
			if p = f.root(p); !slices.Contains(f.met, p) {
				f.met = append(f.met, p)
			}
		}
	}
	if len(f.met) == 0 {
		p := int32(len(f.pockets))
		f.pockets = append(f.pockets, pocket{parent: p, highest: int32(k), first: int32(k), last: int32(k), tops: []int{k}, wide: math.Inf(-1)})
		f.in[k], f.chain[k] = p, -1
		return
	}
	keep := f.foremost(f.met)
	for _, p := range f.met {
		if p != keep {
			f.merge(keep, p, level, f.top(k))
		}
	}
	q := &f.pockets[keep]
	f.in[k], f.chain[k] = keep, -1
	f.chain[q.last], q.last = int32(k), int32(k)
	if q.wide < level && square(sides) {
		q.wide = level
	}
}

// square reports whether three neighbors in a row around a cell, a corner in their
// middle, are all there.
func square(sides uint8) bool {
	for i := 0; i < 8; i += 2 {
		three := uint8(7<<i) | uint8(7>>(8-i))
		if sides&three == three {
			return true
		}
	}
	return false
}

// foremost is the pocket that outlives the others: an open one, else the one with the
// highest top.
func (f *falling) foremost(ps []int32) int32 {
	best := ps[0]
	for _, p := range ps[1:] {
		a, b := &f.pockets[p], &f.pockets[best]
		switch {
		case a.open != b.open:
			if a.open {
				best = p
			}
		case f.before(a.highest, b.highest):
			best = p
		}
	}
	return best
}

func (f *falling) before(a, b int32) bool {
	if f.roof[a] != f.roof[b] {
		return f.roof[a] > f.roof[b]
	}
	return a < b
}

// merge ends pocket p, which air now leaves at way into another.
func (f *falling) merge(keep, p int32, level float64, way mesh.Vec) {
	a, b := &f.pockets[p], &f.pockets[keep]
	real := a.wide > level+rounding
	switch {
	case b.open && !a.open && real:
		f.traps = append(f.traps, f.trap(a, level, way))
	case !b.open && real && b.wide > level+rounding:
		b.tops = append(b.tops, a.tops...)
	case !b.open && real:
		b.tops = a.tops
	}
	a.parent = keep
	f.chain[b.last], b.last = a.first, a.last
	b.gates = append(b.gates, a.gates...)
	b.wide = max(b.wide, a.wide)
}

// pass lets the level fall past a mouth or a lip.
func (f *falling) pass(e event) {
	if e.mouth < 0 {
		l := &f.lips[e.lip]
		a, b := f.root(f.in[l.low]), f.root(f.in[l.high])
		if a != b {
			keep := f.foremost([]int32{a, b})
			f.merge(keep, a+b-keep, e.height, l.at)
		}
		return
	}
	p, m := &f.pockets[f.root(f.in[e.run])], &f.mouths[e.mouth]
	switch {
	case m.Gate:
		if !slices.Contains(p.gates, m.Name) {
			p.gates = append(p.gates, m.Name)
		}
	case !p.open:
		if p.wide > e.height+rounding {
			_, _, rim := m.heights(f.up)
			t := f.trap(p, e.height, rim)
			t.Vent = m.Name
			f.traps = append(f.traps, t)
		}
		p.open = true
	}
}

// rest makes traps of the pockets that no vent reaches.
func (f *falling) rest() {
	for i := range f.pockets {
		p := &f.pockets[i]
		if p.parent != int32(i) || p.open || math.IsInf(p.wide, -1) {
			continue
		}
		low, at := math.Inf(1), mesh.Vec{}
		for k := p.first; k >= 0; k = f.chain[k] {
			if h := f.surface.at(int(k), f.runs[k].Lo); h < low {
				low, at = h, f.point(int(k), f.runs[k].Lo)
			}
		}
		t := f.trap(p, low, at)
		t.Closed = true
		f.traps = append(f.traps, t)
	}
}

func (f *falling) trap(p *pocket, level float64, way mesh.Vec) Trap {
	t := Trap{Top: f.top(int(p.highest)), Saddle: level, Depth: f.roof[p.highest] - level, Way: way}
	for k := p.first; k >= 0; k = f.chain[k] {
		if v := f.above(int(k), level); v > 0 {
			t.Volume += v
			t.runs = append(t.runs, int(k))
		}
	}
	slices.SortFunc(p.tops, func(a, b int) int {
		if f.before(int32(a), int32(b)) {
			return -1
		}
		return 1
	})
	t.topRuns = slices.Clone(p.tops)
	for _, k := range p.tops {
		t.Tops = append(t.Tops, f.top(k))
	}
	t.Gates = slices.Compact(slices.Sorted(slices.Values(p.gates)))
	return t
}
