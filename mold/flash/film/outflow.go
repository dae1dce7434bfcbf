package film

import "math"

// Outflow is what runs out at one place of an exit.
type Outflow struct {
	U, V  float64 // the place, mm
	Label int     // of the exit
	Cell  int     // the cell before it, an index of In
	// Flux is in units of the head: the flow is Flux·h³/12µ for a head that is a
	// pressure.
	Flux float64
}

// balance is the residual at which Outflow ends, as a part of the flow that the
// seam would have to take up if nothing had settled yet. What the fluxes at seam
// and exits lack to be in balance is the sum of all residuals.
const balance = 1e-10

// mostSteps bounds the work; some ten are usual.
const mostSteps = 5000

// Outflow solves the steady flow ∇²p = 0 with p = head on the seam, 0 at the exits
// that are open, and no flow through other edges. It returns the flux at each
// crossing of a line with an open exit; nil for open means all exits.
func (g *Grid) Outflow(head func(u, v float64) float64, open func(label int) bool) []Outflow {
	s := g.newSteady(head, open)
	p := s.solve()
	var out []Outflow
	for k := range g.crossings {
		x := &g.crossings[k]
		if x.class != Exit || !s.hold[k] {
			continue
		}
		o := g.exit(k)
		if i := s.number[x.cell]; i > 0 {
			o.Flux = p[i-1] / x.share
		}
		out = append(out, o)
	}
	return out
}

// Exits returns the places where lines cross an exit, without a flow.
func (g *Grid) Exits() []Outflow {
	var out []Outflow
	for k := range g.crossings {
		if g.crossings[k].class == Exit {
			out = append(out, g.exit(k))
		}
	}
	return out
}

// exit is a crossing with an exit, without a flow.
func (g *Grid) exit(k int) Outflow {
	u, v := g.point(k)
	x := &g.crossings[k]
	return Outflow{U: u, V: v, Label: x.label, Cell: int(x.cell)}
}

// steady is the flow's system of equations for the cells that the seam reaches,
// numbered by rows from 1; 0 is no cell.
type steady struct {
	g      *Grid
	hold   []bool    // crossings with a given pressure
	value  []float64 // that pressure
	number []int32   // of each cell
	rows   []flowRow
	starts []int32   // where rows of the grid begin in rows, and where the last ends
	pivot  []float64 // by number, inverse square root of the factor's diagonal; 0 of no cell
	source []float64
}

// flowRow is one equation: diag·p = the sum of p over neighbors + source.
type flowRow struct {
	next [4]int32 // numbers of the neighbors
	diag float64
}

func (g *Grid) newSteady(head func(u, v float64) float64, open func(label int) bool) *steady {
	s := &steady{
		g: g, hold: make([]bool, len(g.crossings)), value: make([]float64, len(g.crossings)),
		number: make([]int32, len(g.In)),
	}
	for k := range g.crossings {
		switch x := &g.crossings[k]; x.class {
		case Seam:
			s.hold[k] = true
			s.value[k] = head(g.point(k))
		case Exit:
			s.hold[k] = open == nil || open(x.label)
		}
	}
	count := s.flood()
	s.rows, s.source = make([]flowRow, 0, count), make([]float64, 0, count)
	for c := range g.In {
		if c%g.Nx == 0 {
			s.starts = append(s.starts, int32(len(s.rows)))
		}
		if s.number[c] != 0 {
			s.number[c] = int32(len(s.rows)) + 1
			s.rows = append(s.rows, flowRow{})
			s.source = append(s.source, 0)
		}
	}
	s.starts = append(s.starts, int32(len(s.rows)))
	for c, i := range s.number {
		if i > 0 {
			s.assemble(c, int(i)-1)
		}
	}
	return s
}

// flood marks the cells with a way to the seam and counts them.
func (s *steady) flood() int {
	g := s.g
	var stack []int32
	mark := func(c int) {
		if s.number[c] == 0 {
			s.number[c] = 1
			stack = append(stack, int32(c))
		}
	}
	for k := range g.crossings {
		if g.crossings[k].class == Seam {
			mark(int(g.crossings[k].cell))
		}
	}
	count := 0
	for len(stack) > 0 {
		c := int(stack[len(stack)-1])
		stack = stack[:len(stack)-1]
		count++
		for dir, l := range g.link[4*c : 4*c+4] {
			if l == open {
				mark(c + g.step(dir))
			}
		}
	}
	return count
}

func (s *steady) assemble(c, i int) {
	g := s.g
	r := &s.rows[i]
	for dir, l := range g.link[4*c : 4*c+4] {
		switch {
		case l == open:
			r.next[dir] = s.number[c+g.step(dir)]
			r.diag++
		case l >= 0 && s.hold[l]:
			r.diag += 1 / g.crossings[l].share
			s.source[i] += s.value[l] / g.crossings[l].share
		}
	}
}

// modified is how much of the dropped fill goes to the diagonal. All of it gives
// the best order; a little less keeps the pivots away from zero.
const modified = 0.97

// factor computes the pivots of the modified incomplete factorization.
func (s *steady) factor() {
	s.pivot = make([]float64, len(s.rows)+1)
	for i := range s.rows {
		r := &s.rows[i]
		d := r.diag
		for _, dir := range [2]int{west, south} {
			n := r.next[dir]
			if n == 0 {
				continue
			}
			before := &s.rows[n-1]
			square := s.pivot[n] * s.pivot[n]
			d -= square
			if before.next[(2-dir)|1] != 0 { // its link past this cell's, dropped
				d -= modified * square
			}
		}
		if d < r.diag/4 {
			d = r.diag
		}
		s.pivot[i+1] = 1 / math.Sqrt(d)
	}
}

// solve returns the pressure of each numbered cell by conjugate gradients.
func (s *steady) solve() []float64 {
	n := len(s.rows)
	s.factor()
	// Number 0 stands for no cell: vectors that neighbors read are one longer.
	p, res := make([]float64, n), append([]float64(nil), s.source...)
	z, dir := make([]float64, n+1), make([]float64, n+1)
	image := make([]float64, n)
	size := 0.0
	for _, v := range s.source {
		size = math.Max(size, math.Abs(v))
	}
	rho := s.precondition(res, z)
	copy(dir, z)
	for range mostSteps {
		if !(rho > 0) {
			break
		}
		alpha := rho / s.apply(dir, image)
		worst := 0.0
		for i, v := range image {
			p[i] += alpha * dir[i+1]
			left := res[i] - alpha*v
			res[i] = left
			if left = math.Abs(left); left > worst {
				worst = left
			}
		}
		if worst <= balance*size {
			break
		}
		next := s.precondition(res, z)
		beta := next / rho
		rho = next
		for i := 1; i <= n; i++ {
			dir[i] = z[i] + beta*dir[i]
		}
	}
	return p
}

// apply sets image to the matrix times x and returns their product.
func (s *steady) apply(x, image []float64) float64 {
	sum := 0.0
	for i := range s.rows {
		r := &s.rows[i]
		v := r.diag*x[i+1] - x[r.next[0]] - x[r.next[1]] - x[r.next[2]] - x[r.next[3]]
		image[i] = v
		sum += v * x[i+1]
	}
	return sum
}

// precondition sets z to the factors' solution for res and returns their product. Each
// cell waits for the one beside it: of two rows at a time, one a cell behind the other,
// a processor works on both, with the same result as one after the other.
func (s *steady) precondition(res, z []float64) float64 {
	last := len(s.starts) - 1
	for j := 0; j < last; j += 2 {
		a, end := s.starts[j], s.starts[j+1]
		b, stop := end, s.starts[min(j+2, last)]
		for ; a < end; a++ {
			s.forward(a, res, z)
			if b < stop && s.rows[b].next[south] <= a+1 {
				s.forward(b, res, z)
				b++
			}
		}
		for ; b < stop; b++ {
			s.forward(b, res, z)
		}
	}
	for j := last; j > 0; j -= 2 {
		a, end := s.starts[j]-1, s.starts[j-1]
		b, stop := end-1, s.starts[max(j-2, 0)]
		for ; a >= end; a-- {
			s.backward(a, z)
			if n := s.rows[max(b, 0)].next[north]; b >= stop && (n == 0 || n > a) {
				s.backward(b, z)
				b--
			}
		}
		for ; b >= stop; b-- {
			s.backward(b, z)
		}
	}
	sum := 0.0
	for i := len(res) - 1; i >= 0; i-- {
		sum += z[i+1] * res[i]
	}
	return sum
}

// forward and backward solve for one cell once its neighbors before and behind it are.
func (s *steady) forward(i int32, res, z []float64) {
	w, o := s.rows[i].next[west], s.rows[i].next[south]
	z[i+1] = (res[i] + s.pivot[w]*z[w] + s.pivot[o]*z[o]) * s.pivot[i+1]
}

func (s *steady) backward(i int32, z []float64) {
	r, p := &s.rows[i], s.pivot[i+1]
	z[i+1] = (z[i+1] + p*(z[r.next[east]]+z[r.next[north]])) * p
}
