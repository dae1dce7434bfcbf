package tess

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// Vec is a point or direction, mm.
type Vec = mesh.Vec

// Settings of a mesh.
type Settings struct {
	// Tolerance is the largest distance of facets from the true surface and of
	// their borders from the true edges, mm.
	Tolerance float64
}

// MinTolerance is the finest tolerance, mm: a few steps of the lattice on which
// vertices are rounded.
const MinTolerance = 2e-4

// Reach is how far from the origin a vertex may lie along an axis, mm: beyond,
// float32 no longer holds the lattice.
const Reach = 1024

var errReach = fmt.Errorf("a part reaches more than %d mm from the origin along an axis, where mesh files no longer hold its vertices exactly", Reach)

// rounding bounds how far a facet moves when its corners are rounded to the
// lattice, mm: half the diagonal of a cell. The tolerance is kept by meshing
// this much finer.
const rounding = solid.Lattice * 0.8660254037844386

// retries are the shares of the tolerance tried in turn when facets collide.
// They have no common divisor, so that walls and rows fall elsewhere each time.
var retries = [...]float64{1, .83, .61, .37, .2, .09, .04}

// Mesh cuts the boundary into facets within the tolerance. Label[i] of the mesh
// is the index in b.Faces of the face that facet i belongs to.
//
// The mesh is closed, oriented, and 2-manifold in edges and vertices; its
// vertices lie on solid.Lattice. It is the same for any number of threads. The
// error is a *brep.Refusal where features touch in a point.
func Mesh(b *brep.Boundary, s Settings) (*mesh.Mesh, error) {
	if !(s.Tolerance >= MinTolerance) {
		return nil, fmt.Errorf("mesh tolerance %g mm is below %g mm, the finest that vertices on a lattice of %.2g mm allow", s.Tolerance, MinTolerance, solid.Lattice)
	}
	var err error
	for _, share := range retries {
		w := work{b: b, tol: (s.Tolerance - rounding) * share}
		var m *mesh.Mesh
		if m, err = w.mesh(); err == nil {
			return m, nil
		}
		var refusal *brep.Refusal
		if errors.As(err, &refusal) || errors.Is(err, errReach) {
			return nil, err
		}
	}
	return nil, err
}

// work is one attempt at one fineness.
type work struct {
	b   *brep.Boundary
	tol float64 // less what rounding takes

	walls  []faceWalls // per face
	uses   [][]edgeUse // per face
	lines  [][]int32   // per edge: its polyline, indices into shared
	shared []Vec       // ends of edges, then inner vertices of their polylines
	sides  []uint8     // of each: the sides of its edge on whose walls it stands
	faces  []facets    // per face
}

// edgeUse is a face's use of an edge.
type edgeUse struct {
	edge     int
	side     uint8 // bit 1<<i for Half[i]
	reversed bool
}

// facets are those of one face.
type facets struct {
	own []Vec
	tri [][3]int32 // index into work.shared, or ^index into own
	err error
}

// facetError is a failure to cut a face; a finer mesh may succeed.
type facetError struct {
	face *brep.Face
	name string // of a feature that bears it
	at   Vec    // a point of the face
	err  error
}

func (e *facetError) Error() string {
	return fmt.Sprintf("the %s of %s cannot be cut into facets near (%.3f, %.3f, %.3f) mm: %v", e.face.Carrier.Kind, e.name, e.at[0], e.at[1], e.at[2], e.err)
}

func (e *facetError) Unwrap() error { return e.err }

func (w *work) mesh() (*mesh.Mesh, error) {
	w.plan()
	w.splitEdges()
	w.cutFaces()
	for i := range w.faces {
		if err := w.faces[i].err; err != nil {
			return nil, w.fail(i, err)
		}
	}
	return w.join()
}

// fail reports that face i could not be cut.
func (w *work) fail(i int, err error) error {
	f := w.b.Faces[i]
	e := &facetError{face: f, err: err, at: f.Carrier.P(0, 0)}
	if len(f.Edges) > 0 {
		e.at = f.Edges[0].Edge.Mid
	}
	e.name = featureAt(w.b, f, e.at)
	return e
}

// plan decides where the facets of every face part, and lists its edges.
func (w *work) plan() {
	b := w.b
	w.walls = make([]faceWalls, len(b.Faces))
	var seen []*rowPlan
	for i, f := range b.Faces {
		w.walls[i] = wallsOf(f.Carrier, w.tol, &seen)
	}
	w.uses = make([][]edgeUse, len(b.Faces))
	for i, e := range b.Edges {
		for k, h := range e.Half {
			w.uses[h.Face] = append(w.uses[h.Face], edgeUse{i, 1 << k, h.Reversed})
		}
	}
}

// splitEdges turns edges into polylines; those of each edge depend on it alone.
func (w *work) splitEdges() {
	b := w.b
	type polyline struct {
		line []lineVertex
		ends uint8
	}
	lines := make([]polyline, len(b.Edges))
	each(len(b.Edges), func() func(int) {
		s := edgeSplitter{tol: w.tol, faces: b.Faces, walls: w.walls}
		return func(i int) {
			e := b.Edges[i]
			s.split(e, b.Vertices[e.V0], b.Vertices[e.V1])
			lines[i] = polyline{slices.Clone(s.line), s.ends}
		}
	})
	n := len(b.Vertices)
	for _, p := range lines {
		n += len(p.line) - 1
	}
	w.shared = append(make([]Vec, 0, n), b.Vertices...)
	w.sides = make([]uint8, len(b.Vertices), n)
	w.lines = make([][]int32, len(b.Edges))
	for i, e := range b.Edges {
		p := lines[i]
		// Several edges end in a vertex; which of them it stands for is not kept.
		if p.line[0].sides != 0 {
			w.sides[e.V0] = 3
		}
		if p.ends != 0 {
			w.sides[e.V1] = 3
		}
		line := make([]int32, 0, len(p.line)+1)
		line = append(line, int32(e.V0))
		for _, v := range p.line[1:] {
			line = append(line, int32(len(w.shared)))
			w.shared, w.sides = append(w.shared, v.Vec), append(w.sides, v.sides)
		}
		w.lines[i] = append(line, int32(e.V1))
	}
}

// cutFaces makes the facets of every face.
func (w *work) cutFaces() {
	w.faces = make([]facets, len(w.b.Faces))
	each(len(w.faces), func() func(int) {
		m := &faceMaker{tol: w.tol, shared: w.shared, sides: w.sides}
		return func(i int) {
			m.outline(w.b.Faces[i], w.uses[i], w.lines)
			w.faces[i] = m.make(w.walls[i])
		}
	})
}

// make cuts the face into facets.
func (m *faceMaker) make(walls faceWalls) facets {
	var err error
	switch {
	case walls.rows != nil:
		if err = m.bands(walls.rows); err == nil {
			m.repair()
		}
	case walls.n > 0:
		err = m.slabs(walls.n)
	default:
		err = m.flat()
	}
	if err != nil {
		return facets{err: err}
	}
	out := facets{own: append([]Vec(nil), m.own...), tri: make([][3]int32, len(m.tri))}
	for i, t := range m.tri {
		a, b, c := m.id[t[0]], m.id[t[1]], m.id[t[2]]
		if m.face.Negative {
			b, c = c, b
		}
		out.tri[i] = [3]int32{a, b, c}
	}
	return out
}

// each calls a function for every index below n, on all processors. Each worker
// makes its own function, with its own buffers.
func each(n int, worker func() func(int)) {
	threads := min(runtime.GOMAXPROCS(0), n)
	if threads < 2 {
		f := worker()
		for i := range n {
			f(i)
		}
		return
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range threads {
		wg.Go(func() {
			f := worker()
			for i := int(next.Add(1) - 1); i < n; i = int(next.Add(1) - 1) {
				f(i)
			}
		})
	}
	wg.Wait()
}
