package contact_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/contact"
	"wheelmold/mesh/solid"
)

// total is the length of a line's runs, after checking that they are in order.
func total(t *testing.T, runs []contact.Span) float64 {
	t.Helper()
	sum, last := 0.0, math.Inf(-1)
	for _, r := range runs {
		if r.Lo.At <= last || r.Hi.At <= r.Lo.At {
			t.Errorf("runs out of order: %v", runs)
		}
		for _, e := range []contact.End{r.Lo, r.Hi} {
			if !(e.Across >= 0 && e.Across <= 1) {
				t.Errorf("across %v", e.Across)
			}
		}
		last = r.Hi.At
		sum += r.Hi.At - r.Lo.At
	}
	return sum
}

// Lines through vertices, along edges and tangent to circles have the runs of
// the line just above them, to the bit of the coordinate at which they lie.
func TestLinesThroughVertices(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	diamond := m.Extrude("diamond", "", f, -1, 1, solid.Poly(6, 1, 9, 4, 6, 7, 3, 4))
	bay := m.Extrude("bay", "", f, -1, 1, solid.Poly(14, -1, 18, -1, 18, 3, 16, 5, 14, 3)) // tip at (16, 5)
	disc := drill(m, f, "disc", 12, 9, 2, -1, 1)
	half := m.Extrude("half", "", f, -1, 1, solid.Profile{}.LineTo(3, 9).ArcTo(7, 9, 5, 9, true)) // flat side up
	b := bodies(t, m,
		part{"lower", solid.Minus(box(m, f, "lower", mesh.Vec{0, 0, -5}, mesh.Vec{20, 12, 0}), diamond, bay, disc, half)},
		part{"upper", box(m, f, "upper", mesh.Vec{-1, -1, 0}, mesh.Vec{21, 13, 5})})
	s := one(t, b, contact.Settings{})
	rows := map[float64][]float64{
		-1:                     nil,
		math.Nextafter(0, -1):  nil,
		0:                      {0, 14, 18, 20}, // along an edge
		1:                      {0, 14, 18, 20}, // the diamond's lowest vertex
		3:                      {0, 4, 8, 14, 18, 20},
		5:                      {0, 4, 8, 20}, // the bay's tip
		6:                      {0, 5, 7, 20},
		7:                      {0, 20}, // the diamond's highest vertex, both circles' lowest points
		math.Nextafter(9, 0):   {0, 3, 7, 10, 14, 20},
		9:                      {0, 10, 14, 20}, // along the half disc's edge
		11:                     {0, 20},         // the disc's highest point
		math.Nextafter(11, 12): {0, 20},
		math.Nextafter(12, 0):  {0, 20},
		12:                     nil, // the upper edge
	}
	check := func(what string, runs []contact.Span, want []float64) {
		t.Helper()
		total(t, runs)
		ok := 2*len(runs) == len(want)
		for i := 0; ok && i < len(runs); i++ {
			ok = math.Abs(runs[i].Lo.At-want[2*i]) < 1e-6 && math.Abs(runs[i].Hi.At-want[2*i+1]) < 1e-6
		}
		if !ok {
			t.Errorf("%s: %v, want %v", what, runs, want)
		}
	}
	for v, want := range rows {
		check(fmt.Sprint("row ", v), s.Row(v), want)
	}
	for u, want := range map[float64][]float64{
		0:  {0, 12},
		3:  {0, 12},
		5:  {0, 2, 6, 7, 9, 12},
		6:  {0, 1, 7, 9 - math.Sqrt(3), 9, 12},
		14: {3, 12},
		16: {5, 12},
		18: {0, 12},
		20: nil,
	} {
		check(fmt.Sprint("column ", u), s.Col(u), want)
	}
}

// random is a plate with holes of every kind, and two uneven blocks on it.
func random(rng *rand.Rand, m *solid.Model) (low, a, b *solid.Node) {
	axis := mesh.Vec{rng.Float64() - .5, rng.Float64() - .5, rng.Float64() - .5}
	f := solid.AxisFrame(mesh.Vec{rng.Float64() * 9, rng.Float64() * 9, rng.Float64() * 9}, axis)
	hole := func() *solid.Node {
		x, y, r := rng.Float64()*50-25, rng.Float64()*50-25, 1+rng.Float64()*4
		o := f.Global(mesh.Vec{x, y, 0})
		switch rng.IntN(5) {
		case 0:
			return m.Cylinder("drill", "drill", o, f.Z, r, -30, 30)
		case 1:
			return m.Cone("pocket", "pocket", o, f.Z, r, -2, r/2, 2)
		case 2: // across the plane: a slot with round ends, or a trough
			d := f.X.Scale(rng.Float64()-.5).AddScaled(rng.Float64()-.5, f.Y).AddScaled(rng.Float64()*.6, f.Z)
			return m.Cylinder("askew", "askew", o, d, r, -40, 40)
		case 3:
			return m.BoxIn("slot", "slot", turned(f, o, rng.Float64()*3), mesh.Vec{-r, -2 * r, -1.5}, mesh.Vec{r, 2 * r, 1.5})
		}
		return m.Ball("ball", "ball", o.AddScaled(.3*r, f.Z), f.Z, r)
	}
	cut := func(n *solid.Node) *solid.Node {
		var holes []*solid.Node
		for range 1 + rng.IntN(3) {
			holes = append(holes, hole())
		}
		return solid.Minus(n, holes...)
	}
	low = cut(m.Extrude("plate", "plate", f, -6, 0, solid.Circle(0, 0, 28)))
	// The blocks abut along a slanting plane.
	g := turned(f, f.O, rng.Float64()*6)
	a = cut(m.BoxIn("a", "a", g, mesh.Vec{-20, 0, 0}, mesh.Vec{24, 22, 7}))
	b = cut(m.BoxIn("b", "b", g, mesh.Vec{-23, -21, 0}, mesh.Vec{18, 0, 7}))
	return low, a, b
}

// turned is f at o, turned about its Z.
func turned(f solid.Frame, o mesh.Vec, angle float64) solid.Frame {
	sn, cs := math.Sincos(angle)
	return solid.Frame{
		O: o, Z: f.Z,
		X: f.X.Scale(cs).AddScaled(sn, f.Y), Y: f.Y.Scale(cs).AddScaled(-sn, f.X),
	}
}

// On random bodies, points of every line are asked of the trees: material below
// and above is what a run says, and nothing else has material on both sides.
// Lines go where chance has them, and through every vertex.
func TestAgainstTheTrees(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	tried, points := 0, 0
	for round := 0; round < 60 && tried < 25; round++ {
		m := solid.NewModel()
		low, a, b := random(rng, m)
		ev := brep.NewEvaluator(m)
		var all []contact.Body
		for i, n := range []*solid.Node{low, a, b} {
			bd, err := ev.Boundary(n)
			if err != nil {
				break // touching holes; not what is tested here
			}
			all = append(all, contact.Body{Name: []string{"low", "a", "b"}[i], Boundary: bd})
		}
		if len(all) < 3 {
			continue
		}
		tried++
		s := theSheet(contact.Sheets(all, contact.Settings{}))
		if s == nil {
			t.Fatalf("round %d: no sheet of plate and both blocks", round)
		}
		points += againstTree(t, rng, s, map[string]*solid.Node{"low": low, "a": a, "b": b}, all)
	}
	if tried < 15 || points < 20000 {
		t.Fatalf("only %d models and %d points", tried, points)
	}
}

// theSheet is the one with the plate.
func theSheet(sheets []*contact.Sheet) *contact.Sheet {
	for _, s := range sheets {
		if len(s.Low)+len(s.High) == 3 {
			return s
		}
	}
	return nil
}

func againstTree(t *testing.T, rng *rand.Rand, s *contact.Sheet, roots map[string]*solid.Node, all []contact.Body) (points int) {
	lo, hi := s.Bounds()
	var lines [2][]float64
	for d := range 2 {
		for range 20 {
			lines[d] = append(lines[d], lo[d]+(hi[d]-lo[d])*rng.Float64())
		}
	}
	for _, b := range all {
		for _, v := range b.Boundary.Vertices {
			q := s.Frame.Local(v)
			lines[0], lines[1] = append(lines[0], q[0]), append(lines[1], q[1])
		}
	}
	for d, line := range []func(float64) []contact.Span{s.Col, s.Row} {
		for _, x := range lines[d] {
			runs := line(x)
			total(t, runs)
			for range 20 {
				q := mesh.Vec{x, x, 0}
				q[1-d] = lo[1-d] - 1 + (hi[1-d]-lo[1-d]+2)*rng.Float64()
				in, clear := within(runs, q[1-d])
				if !clear || !off(roots, s, q) {
					continue
				}
				points++
				below, above := material(roots, s, q)
				if in != (below != "" && above != "") {
					t.Errorf("axis %d at %v, %v: in %v, but %q below and %q above", d, x, q, in, below, above)
					return points
				}
				if n, h := s.Names(q[0], q[1]); in && (n != below || h != above) || !in && n != "" {
					t.Errorf("%v lies between %q and %q, named %q and %q", q, below, above, n, h)
				}
			}
		}
	}
	return points
}

func within(runs []contact.Span, x float64) (in, clear bool) {
	for _, r := range runs {
		if math.Abs(r.Lo.At-x) < 1e-3 || math.Abs(r.Hi.At-x) < 1e-3 {
			return false, false
		}
		in = in || r.Lo.At < x && x < r.Hi.At
	}
	return in, true
}

// side is how far off the plane a point is asked for, mm.
const side = 1e-4

// off reports whether no side face lies so near that a step off the plane, or
// aside, leaves the body.
func off(roots map[string]*solid.Node, s *contact.Sheet, q mesh.Vec) bool {
	b, a := material(roots, s, q)
	for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		if c, e := material(roots, s, q.Add(mesh.Vec{d[0] * 1e-3, d[1] * 1e-3, 0})); b != c || a != e {
			return false
		}
	}
	return true
}

func material(roots map[string]*solid.Node, s *contact.Sheet, q mesh.Vec) (below, above string) {
	for name, n := range roots {
		if n.Contains(s.Frame.Global(q.Add(mesh.Vec{0, 0, -side}))) {
			below = name
		}
		if n.Contains(s.Frame.Global(q.Add(mesh.Vec{0, 0, s.Gap + side}))) {
			above = name
		}
	}
	return below, above
}
