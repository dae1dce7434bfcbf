package sight_test

import (
	"cmp"
	"math"
	"math/rand"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/sight"
	"wheelmold/mesh/tess"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// pierced is a mesh made ready for lines of sight: which facets lie where in the view.
type pierced struct {
	facets []facet
	cells  map[[2]int][]int32
	size   float64
}

type facet struct {
	p [3]mesh.Vec // in the view's coordinates
	n mesh.Vec
}

// hit is where a line of sight meets a facet that is not seen edge-on.
type hit struct {
	z float64
	n mesh.Vec
}

const sag = .005 // of the mesh, mm

func pierce(m *mesh.Mesh, v outline.View) *pierced {
	out := &pierced{cells: map[[2]int][]int32{}, size: 2}
	w := v.W()
	for _, t := range m.T {
		var f facet
		box := mesh.EmptyBox()
		for i, k := range t {
			q := v.At(m.V[k])
			f.p[i] = mesh.Vec{q[0], q[1], w.Dot(m.V[k].Sub(v.O))}
			box = box.Include(f.p[i])
		}
		f.n = f.p[1].Sub(f.p[0]).Cross(f.p[2].Sub(f.p[0])).Unit()
		for x := int(math.Floor(box.Lo[0] / out.size)); x <= int(math.Floor(box.Hi[0]/out.size)); x++ {
			for y := int(math.Floor(box.Lo[1] / out.size)); y <= int(math.Floor(box.Hi[1]/out.size)); y++ {
				out.cells[[2]int{x, y}] = append(out.cells[[2]int{x, y}], int32(len(out.facets)))
			}
		}
		out.facets = append(out.facets, f)
	}
	return out
}

// at returns what the line of sight through (x, y) meets, the nearest to the viewer
// first.
func (p *pierced) at(x, y float64) []hit {
	var out []hit
	for _, i := range p.cells[[2]int{int(math.Floor(x / p.size)), int(math.Floor(y / p.size))}] {
		f := &p.facets[i]
		if math.Abs(f.n[2]) < 1e-6 {
			continue
		}
		in := true
		for k := range 3 {
			a, b := f.p[k], f.p[(k+1)%3]
			if ((b[0]-a[0])*(y-a[1])-(b[1]-a[1])*(x-a[0]))*f.n[2] < 0 {
				in = false
			}
		}
		if in {
			z := f.p[0][2] - (f.n[0]*(x-f.p[0][0])+f.n[1]*(y-f.p[0][1]))/f.n[2]
			out = append(out, hit{z, f.n})
		}
	}
	slices.SortFunc(out, func(a, b hit) int { return cmp.Compare(b.z, a.z) })
	return out
}

// step is how far to the left and right of a line it is looked, mm: more than facets
// are off the true borders.
const step = .02

// differs reports whether the surface does not simply go on from a to b, so far apart
// in the view: another facet lies there, at an angle (a sine) or at another height.
func differs(a, b hit, apart, sine float64) bool {
	rise := math.Hypot(a.n[0], a.n[1])/math.Abs(a.n[2]) + math.Hypot(b.n[0], b.n[1])/math.Abs(b.n[2])
	return a.n.Cross(b.n).Norm() > sine || a.n.Dot(b.n) < 0 || math.Abs(a.z-b.z) > apart*rise+4*sag
}

// change tells how many layers, from the viewer, go on from one place to another, and
// whether all do.
func (p *pierced) change(q, r outline.Point, sine float64) (same int, all bool) {
	a, b := p.at(q[0], q[1]), p.at(r[0], r[1])
	apart := math.Hypot(r[0]-q[0], r[1]-q[1])
	for same < len(a) && same < len(b) && !differs(a[same], b[same], apart, sine) {
		same++
	}
	return same, same == len(a) && same == len(b)
}

const (
	// Facets of one curved face differ by no more than this, radians, at 1 mm radius.
	curved = .35
	// Faces meet at no less than this; a coned ceiling and its rim at 0.5°.
	edged = .004
)

type sample struct {
	at     outline.Point
	nx, ny float64
}

// samples are random places on lines.
func samples(r *rand.Rand, lines []sight.Line, n int, hidden bool) []sample {
	var all []outline.Stretch
	for i := range lines {
		if lines[i].Hidden == hidden {
			for s := range lines[i].Path.Stretches() {
				if s.Length() > 4*step {
					all = append(all, s)
				}
			}
		}
	}
	var out []sample
	for range min(n, 20*len(all)) {
		s := &all[r.Intn(len(all))]
		share := r.Float64()
		h := s.Heading(share)
		l := math.Hypot(h[0], h[1])
		out = append(out, sample{s.At(share), -h[1] / l, h[0] / l})
	}
	return out
}

// sides are places to the left and right.
func (s *sample) sides() (a, b outline.Point) {
	return outline.Point{s.at[0] + step*s.nx, s.at[1] + step*s.ny}, outline.Point{s.at[0] - step*s.nx, s.at[1] - step*s.ny}
}

// count is how many stretches of lines come near a place.
func count(lines []sight.Line, q outline.Point, near float64, hidden bool) (n int) {
	for i := range lines {
		if lines[i].Hidden && !hidden {
			continue
		}
		for s := range lines[i].Path.Stretches() {
			if s.Radius == 0 && (max(s.From[0], s.To[0]) < q[0]-near || min(s.From[0], s.To[0]) > q[0]+near || max(s.From[1], s.To[1]) < q[1]-near || min(s.From[1], s.To[1]) > q[1]+near) {
				continue
			}
			if p := s.Nearest(q); math.Hypot(p[0]-q[0], p[1]-q[1]) < near {
				n++
			}
		}
	}
	return n
}

// aslant is seen from no particular side.
var aslant = outline.View{U: mesh.Vec{-.6, .8, 0}, V: mesh.Vec{-.48, -.36, .8}}

// Every line against lines of sight through a mesh, which is made and read by other
// code: beside a visible one what is seen first differs, beside a hidden one it does
// not, but something farther back does. And where what is met differs from one place
// to the next there is a line between, a visible one where it is seen first.
func TestShows(t *testing.T) {
	jobs := map[string]*params.Job{"wren": moldtest.Example(t, "wren")}
	if !testing.Short() {
		for _, name := range []string{"kestrel", "albatross"} {
			jobs[name] = moldtest.Example(t, name)
		}
		for _, split := range []string{"open top, three shells", "cup and lid, crowned"} {
			jobs[split] = moldtest.Wheels[0].Job(t, moldtest.SplitOf(t, split).Sets...)
		}
	}
	for name, j := range jobs {
		m, c := moldtest.Checked(t, j)
		for _, p := range m.Pieces {
			b := c.RawFaces[p.Name]
			facets, err := tess.Mesh(b, tess.Settings{Tolerance: sag})
			if err != nil {
				t.Fatal(err)
			}
			for i, v := range []outline.View{sight.Top, sight.Front, sight.Right, aslant} {
				lines, err := sight.Lines(b, v, .002)
				if err != nil {
					t.Fatal(err)
				}
				s := shown{t, name + ", " + p.Name + [4]string{", top", ", front", ", right", ", aslant"}[i], lines, pierce(facets, v)}
				r := rand.New(rand.NewSource(1))
				s.true(r, false)
				s.true(r, true)
				s.whole(r)
			}
		}
	}
}

// shown is a view to be tested.
type shown struct {
	t     *testing.T
	name  string
	lines []sight.Line
	mesh  *pierced
}

// true tests places on lines that lie alone.
func (s *shown) true(r *rand.Rand, hidden bool) {
	tried := 0
	for _, k := range samples(r, s.lines, 150, hidden) {
		if count(s.lines, k.at, 3*step, true) > 1 {
			continue
		}
		tried++
		a, b := k.sides()
		same, all := s.mesh.change(a, b, edged)
		if hidden { // what is curved goes on
			same, _ = s.mesh.change(a, b, curved)
		}
		if all || (same > 0) != hidden {
			s.t.Errorf("%s: line at %.4f (hidden: %v): %d layers go on, all: %v", s.name, k.at, hidden, same, all)
		}
	}
	if tried < 10 {
		s.t.Errorf("%s: only %d places tried (hidden: %v)", s.name, tried, hidden)
	}
}

// whole looks along rows and columns for changes without a line.
func (s *shown) whole(r *rand.Rand) {
	lo, hi := outline.Point{math.Inf(1), math.Inf(1)}, outline.Point{math.Inf(-1), math.Inf(-1)}
	for _, f := range s.mesh.facets {
		for _, p := range f.p {
			lo[0], lo[1], hi[0], hi[1] = min(lo[0], p[0]), min(lo[1], p[1]), max(hi[0], p[0]), max(hi[1], p[1])
		}
	}
	const stride = .4
	found := 0
	for axis := range 2 {
		for range 6 {
			var a, b outline.Point
			a[1-axis] = lo[1-axis] + r.Float64()*(hi[1-axis]-lo[1-axis])
			b[1-axis] = a[1-axis]
			for a[axis] = lo[axis] - stride*r.Float64(); a[axis] < hi[axis]; a[axis] += stride {
				b[axis] = a[axis] + stride
				found += s.between(a, b)
			}
		}
	}
	if found < 20 {
		s.t.Errorf("%s: only %d changes found", s.name, found)
	}
}

// between narrows a change from a to b and looks for its line. It returns how many
// there are.
func (s *shown) between(a, b outline.Point) int {
	same, all := s.mesh.change(a, b, curved)
	if all {
		return 0
	}
	m := outline.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	if math.Hypot(b[0]-a[0], b[1]-a[1]) > 2*step {
		return s.between(a, m) + s.between(m, b)
	}
	if count(s.lines, m, 2*step, same > 0) == 0 {
		s.t.Errorf("%s: no line at %.4f, where layer %d changes", s.name, m, same)
	}
	return 1
}
