package film

import "math"

// firmReach is how far from an edge its own chords decide the distance, in
// cells: no chord that comes nearer is missing among the cells around.
const firmReach = 1.5

// march is fast marching through the open links, in units of cells.
type march struct {
	g      *Grid
	slow   []float64 // of each crossing, time for a cell; 0 if nothing starts there
	time   []float64 // of each cell, +Inf where nothing arrives
	from   []int32   // the crossing that the first arrival comes from, or -1
	parent []int32   // the neighbor that it comes through, or -1 at the start
	order  []int32   // cells in the order of their times
	state  []uint8
	queue  heap
}

const (
	far uint8 = iota
	trial
	firm // not yet settled but known
	settled
)

// march finds the first arrival at all cells from crossings with a slowness.
func (g *Grid) march(slow []float64) *march {
	n := len(g.In)
	m := &march{
		g: g, slow: slow, time: make([]float64, n), from: make([]int32, n), parent: make([]int32, n),
		order: make([]int32, 0, n), state: make([]uint8, n), queue: newHeap(n),
	}
	for c := range m.time {
		m.time[c], m.from[c], m.parent[c] = math.Inf(1), -1, -1
	}
	for k := range g.crossings {
		if slow[k] > 0 {
			m.start(k)
		}
	}
	for c, s := range m.state {
		if s != far {
			m.queue.set(int32(c), m.time[c])
		}
	}
	m.run()
	return m
}

// start offers the distance from the edge at a crossing to the cells around it.
func (m *march) start(k int) {
	g := m.g
	c := int(m.g.crossings[k].cell)
	m.offer(k, c)
	for dir := range 4 {
		if g.link[4*c+dir] != open {
			continue
		}
		n := c + g.step(dir)
		m.offer(k, n)
		for side := range 2 {
			aside := (2 - dir/2*2) | side
			if g.link[4*n+aside] == open {
				m.offer(k, n+g.step(aside))
			}
		}
	}
}

func (m *march) offer(k, c int) {
	d, sure := m.g.distance(k, c)
	t := d * m.slow[k]
	if t >= m.time[c] {
		return
	}
	m.time[c], m.from[c], m.state[c] = t, int32(k), trial
	if sure && d <= firmReach {
		m.state[c] = firm
	}
}

func (m *march) run() {
	for {
		c, ok := m.queue.pop()
		if !ok {
			return
		}
		m.state[c] = settled
		m.order = append(m.order, c)
		for dir, l := range m.g.link[4*c : 4*c+4] {
			if l != open {
				continue
			}
			switch n := int(c) + m.g.step(dir); m.state[n] {
			case far, trial:
				m.reach(n)
			case firm: // but never later than straight on, where chords fail
				m.settle(n, int(c), m.time[c]+m.slow[m.from[c]])
			}
		}
	}
}

// reach updates a cell from its settled neighbors.
func (m *march) reach(c int) {
	east, okEast := m.upwind(c, 0)
	north, okNorth := m.upwind(c, 1)
	if !okEast || okNorth && north.near < east.near {
		east, north, okEast, okNorth = north, east, okNorth, okEast
	}
	if !okEast {
		return
	}
	m.settle(c, int(east.cell), arrival(east, north, okNorth, m.slow[m.from[east.cell]]))
	m.pass(c)
}

// settle lowers the time of a cell if it is reached sooner through a neighbor.
func (m *march) settle(c, parent int, t float64) {
	if t < m.time[c] {
		m.time[c], m.from[c], m.parent[c], m.state[c] = t, m.from[parent], int32(parent), trial
		m.queue.set(int32(c), t)
	}
}

// pass updates a cell at an edge from the neighbors of its neighbors. Ways along
// a wall at an angle come over the corner past a closed link; without them they
// would take the steps of the cells one by one.
func (m *march) pass(c int) {
	g := m.g
	for dir, l := range g.link[4*c : 4*c+4] {
		n := c + g.step(dir)
		if l != open || m.state[n] != settled {
			continue
		}
		for side := range 2 {
			aside := (2 - dir/2*2) | side
			if g.link[4*c+aside] == open || g.link[4*n+aside] != open {
				continue
			}
			if o := n + g.step(aside); m.state[o] == settled {
				m.settle(c, n, corner(m.time[n], m.time[o], m.slow[m.from[n]]))
			}
		}
	}
}

// corner returns the arrival at a cell beside one with the time near and across
// from one with the time far, which are neighbors: a straight front that comes
// from between them, or else along the diagonal.
func corner(near, far, slow float64) float64 {
	slope := near - far
	if slope <= 0 {
		return near + slow
	}
	if slope*math.Sqrt2 < slow {
		return near + math.Sqrt(slow*slow-slope*slope)
	}
	return far + slow*math.Sqrt2
}

// wind is what one axis knows of the arrival: the slope is rate·(t - base), with
// the difference of second order where two settled cells follow each other.
type wind struct {
	cell             int32
	near, rate, base float64
}

// upwind returns the earlier settled neighbor of a cell along an axis.
func (m *march) upwind(c, axis int) (w wind, ok bool) {
	g := m.g
	best := -1
	for dir := 2 * axis; dir < 2*axis+2; dir++ {
		if g.link[4*c+dir] != open {
			continue
		}
		n := c + g.step(dir)
		if m.state[n] == settled && (best < 0 || m.time[n] < w.near) {
			best, w.cell, w.near = dir, int32(n), m.time[n]
		}
	}
	if best < 0 {
		return w, false
	}
	w.rate, w.base = 1, w.near
	n := int(w.cell)
	if g.link[4*n+best] == open {
		if f := n + g.step(best); m.state[f] == settled && m.time[f] <= w.near {
			w.rate, w.base = 1.5, (4*w.near-m.time[f])/3
		}
	}
	return w, true
}

// arrival solves the sum of both axes' squared slopes = slow². The first axis is
// the earlier one; the second counts only if the arrival is later than it.
func arrival(first, second wind, both bool, slow float64) float64 {
	single := math.Max(first.near, first.base+slow/first.rate)
	if !both || single <= second.near {
		return single
	}
	p, q := first.rate*first.rate, second.rate*second.rate
	mean := (p*first.base + q*second.base) / (p + q)
	gap := first.base - second.base
	root := (p+q)*slow*slow - p*q*gap*gap
	if root < 0 {
		return single
	}
	if t := mean + math.Sqrt(root)/(p+q); t >= second.near {
		return t
	}
	return single
}

// slowness gives all crossings of one class the same speed.
func (g *Grid) slowness(class Class) []float64 {
	slow := make([]float64, len(g.crossings))
	for k := range g.crossings {
		if g.crossings[k].class == class {
			slow[k] = 1
		}
	}
	return slow
}

// FromSeam returns the distance of each cell's center from the nearest seam
// along ways inside the region, mm; +Inf where there is no way.
func (g *Grid) FromSeam() []float64 {
	m := g.march(g.slowness(Seam))
	return m.lengths()
}

// lengths turns times at the slowness 1 into mm.
func (m *march) lengths() []float64 {
	for c := range m.time {
		m.time[c] *= m.g.Cell
	}
	return m.time
}

// heap is a priority queue of cells whose keys may fall.
type heap struct {
	keys  []float64 // by place in the queue
	cells []int32
	at    []int32 // place of each cell + 1, 0 if it is not queued
}

func newHeap(n int) heap {
	return heap{keys: make([]float64, 0, n), cells: make([]int32, 0, n), at: make([]int32, n)}
}

// set queues a cell or lowers its key.
func (h *heap) set(c int32, key float64) {
	i := int(h.at[c]) - 1
	if i < 0 {
		i = len(h.keys)
		h.keys, h.cells = append(h.keys, key), append(h.cells, c)
	}
	for i > 0 {
		up := (i - 1) / 2
		if h.keys[up] <= key {
			break
		}
		h.put(i, h.cells[up], h.keys[up])
		i = up
	}
	h.put(i, c, key)
}

// pop takes the cell with the lowest key.
func (h *heap) pop() (c int32, ok bool) {
	n := len(h.keys) - 1
	if n < 0 {
		return 0, false
	}
	c = h.cells[0]
	last, key := h.cells[n], h.keys[n]
	h.keys, h.cells = h.keys[:n], h.cells[:n]
	h.at[c] = 0
	if n == 0 {
		return c, true
	}
	i := 0
	for {
		down := 2*i + 1
		if down >= n {
			break
		}
		if down+1 < n && h.keys[down+1] < h.keys[down] {
			down++
		}
		if key <= h.keys[down] {
			break
		}
		h.put(i, h.cells[down], h.keys[down])
		i = down
	}
	h.put(i, last, key)
	return c, true
}

func (h *heap) put(i int, c int32, key float64) {
	h.keys[i], h.cells[i], h.at[c] = key, c, int32(i)+1
}
