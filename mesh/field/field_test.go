package field

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

type vec = mesh.Vec

var onZ = solid.AxisFrame(vec{}, vec{0, 0, 1})

// tyre is a ring of radii 20..30 and width w whose outer edges are rounded.
func tyre(m *solid.Model, w, r float64) *solid.Node {
	p := solid.Profile{}.LineTo(20, 0).LineTo(30-r, 0).ArcTo(30, r, 30-r, r, true).
		LineTo(30, w-r).ArcTo(30-r, w, 30-r, w-r, true).LineTo(20, w)
	return m.Revolve("tyre", "tread", onZ, p)
}

type sample struct {
	name  string
	solid *solid.Node
}

// samples is one solid per kind of leaf and per operation, on and off the axes.
func samples() []sample {
	m := solid.NewModel()
	skew := solid.AxisFrame(vec{3, -2, 5}, vec{1, 2, -3})
	slot := solid.Profile{}.LineTo(-4, -2).LineTo(4, -2).ArcTo(4, 2, 4, 0, true).LineTo(-4, 2).CloseArc(-4, 0, true)
	hole := solid.Profile{}.LineTo(1, 0).ArcTo(-1, 0, 0, 0, false).CloseArc(0, 0, false)
	wave := solid.Profile{}.LineTo(0, -6).LineTo(5, -6).ArcTo(5, -2, 5, -4, true).ArcTo(5, 2, 5, 0, false).
		LineTo(3, 6).LineTo(0, 6)
	ring := m.Revolve("ring", "", onZ, solid.Circle(8, 1, 3))
	ball := m.Ball("ball", "", vec{7, 1, 2}, vec{0, 1, 1}, 4)
	block := m.Box("block", "", vec{-5, -9, -3}, vec{9, 6, 4})
	drill := m.Cylinder("drill", "", vec{0, 0, 0}, vec{1, 1, 0}, 2, -20, 20)
	cut := solid.Minus(block, drill, ball)
	return []sample{
		{"box", m.Box("box", "", vec{-1, -2, -3}, vec{4, 5, 6})},
		{"box in a skew frame", m.BoxIn("skew box", "", skew, vec{-1, -2, -3}, vec{4, 5, 6})},
		{"cylinder", m.Cylinder("cylinder", "", vec{1, 2, 3}, vec{0, 1, 0}, 4, -3, 5)},
		{"cylinder downward", m.Cylinder("plug", "", vec{1, 2, 3}, vec{0, 0, -1}, 4, -3, 5)},
		{"cone", m.Cone("cone", "", vec{1, 2, 3}, vec{0, -1, 2}, 4, -3, 1, 5)},
		{"ball", ball},
		{"torus", ring},
		{"tyre", tyre(m, 20, 3)},
		{"arcs about a skew axis", m.Revolve("wave", "", skew, wave)},
		{"two outlines", m.Revolve("pair", "", onZ, solid.Circle(4, 0, 1), solid.Circle(8, 0, 2))},
		{"slot with hole", m.Extrude("slot", "", onZ, 1, 4, slot, hole)},
		{"slot with hole, skew", m.Extrude("slot", "", skew, -7, 4, slot, hole)},
		{"union", solid.Union(ring, ball, block)},
		{"intersection", solid.Intersect(ring, ball, block)},
		{"difference", cut},
		{"nested, with shared parts", solid.Union(solid.Minus(ring, cut), solid.Intersect(cut, ball))},
	}
}

func mustField(t testing.TB, n *solid.Node) *Field {
	t.Helper()
	f, err := New(n)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func within3(rng *rand.Rand, b mesh.Box) (p vec) {
	for i := range p {
		p[i] = b.Lo[i] + rng.Float64()*(b.Hi[i]-b.Lo[i])
	}
	return p
}

// joined is the box of all leaves: it surrounds what an operation removed too.
func joined(n *solid.Node) mesh.Box {
	b := mesh.EmptyBox()
	for _, l := range n.Leaves() {
		b = b.Join(l.Box)
	}
	return b
}

func TestFieldIsLipschitzAndAgreesWithTheTree(t *testing.T) {
	for _, s := range samples() {
		t.Run(s.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(1, 2))
			f, room := mustField(t, s.solid), joined(s.solid).Grow(3)
			inside := 0
			for range 4000 {
				p := within3(rng, room)
				// Pairs at all distances, down to where rounding begins to tell.
				q := p.AddScaled(math.Pow(10, -7*rng.Float64())*9, vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit())
				d, e := f.Distance(p), f.Distance(q)
				if math.Abs(d-e) > p.Dist(q)+1e-12 {
					t.Fatalf("field changes by %g between points %g apart", d-e, p.Dist(q))
				}
				if math.Abs(d) > 1e-9 && s.solid.Contains(p) != (d < 0) {
					t.Fatalf("field %g at %v, tree says inside: %v", d, p, s.solid.Contains(p))
				}
				if d < 0 {
					inside++
					if !f.Bounds().Contains(p, 0) {
						t.Fatalf("%v is inside and out of the box %v", p, f.Bounds())
					}
				}
			}
			if inside == 0 {
				t.Error("no point fell inside: the test proves nothing")
			}
		})
	}
}

// Every face of the solid, found by the tree's own bits, is a zero of the field.
func TestFieldVanishesOnFaces(t *testing.T) {
	for _, s := range samples() {
		rng := rand.New(rand.NewPCG(3, 4))
		f, hits := mustField(t, s.solid), 0
		for _, l := range s.solid.Leaves() {
			for i := range l.Patches {
				for range 40 {
					p := onPatch(rng, &l.Patches[i])
					b := s.solid.Beside(l.Patches[i].Carrier, p)
					if b != solid.Below && b != solid.Above {
						continue
					}
					hits++
					if d := f.Distance(p); math.Abs(d) > 1e-9 {
						t.Errorf("%s: field %g on a face of %s", s.name, d, l.Name)
					}
				}
			}
		}
		if hits < 40 {
			t.Errorf("%s: only %d points on faces", s.name, hits)
		}
	}
}

// onPatch returns a point of the patch's carrier within the patch, found by
// throwing points at its box and dropping them to the surface.
func onPatch(rng *rand.Rand, pa *solid.Patch) vec {
	for {
		p := pa.Carrier.Project(within3(rng, pa.Box.Grow(1e-3)))
		if math.Abs(pa.Carrier.F(p)) < 1e-12 && pa.Dist(p) < 1e-10 {
			return p
		}
	}
}

func TestFieldOfALeafIsItsDistance(t *testing.T) {
	for _, s := range samples() {
		if s.solid.Op != solid.OpLeaf {
			continue
		}
		rng := rand.New(rand.NewPCG(5, 6))
		l, f := s.solid.Leaf, mustField(t, s.solid)
		for range 3000 {
			p := within3(rng, l.Box.Grow(4))
			got, want := f.Distance(p), l.Dist(p)
			// Past an extrusion's edge the field is the larger of two distances
			// whose root of squares is exact, so it is short by at most √2.
			bound := want/math.Sqrt2-1e-10 < got && got < want+1e-10
			if exact := !l.Extruded || want <= 0; exact && math.Abs(got-want) > 1e-10 || !exact && !bound {
				t.Fatalf("%s: field %g, leaf says %g at %v", s.name, got, want, p)
			}
		}
	}
}

// Closed forms, so that the outline code shared with the tree is judged by
// something outside it.
func TestFieldAgainstClosedForms(t *testing.T) {
	m := solid.NewModel()
	hypot3 := func(p vec) float64 { return p.Norm() }
	cases := []struct {
		name string
		n    *solid.Node
		want func(p vec) float64
	}{
		{"ball", m.Ball("b", "", vec{}, vec{0, 1, 0}, 4), func(p vec) float64 { return hypot3(p) - 4 }},
		{"torus", m.Revolve("t", "", onZ, solid.Circle(8, 1, 3)),
			func(p vec) float64 { return math.Hypot(math.Hypot(p[0], p[1])-8, p[2]-1) - 3 }},
		{"cylinder along y", m.Cylinder("c", "", vec{}, vec{0, 1, 0}, 3, -5, 5), func(p vec) float64 {
			a, b := math.Hypot(p[0], p[2])-3, math.Abs(p[1])-5
			return min(max(a, b), 0) + math.Hypot(max(a, 0), max(b, 0))
		}},
		{"disc's edge", m.Extrude("d", "", onZ, -50, 50, solid.Circle(0, 0, 6)),
			func(p vec) float64 { return math.Hypot(p[0], p[1]) - 6 }},
	}
	for _, c := range cases {
		rng := rand.New(rand.NewPCG(7, 8))
		f := mustField(t, c.n)
		for range 2000 {
			p := within3(rng, mesh.Box{Lo: vec{-12, -12, -12}, Hi: vec{12, 12, 12}})
			if got, want := f.Distance(p), c.want(p); math.Abs(got-want) > 1e-12 {
				t.Fatalf("%s: field %g, closed form %g at %v", c.name, got, want, p)
			}
		}
	}
}

// The library's revolved polygons read zero on the axis; ours must not.
func TestAxisIsNoSurface(t *testing.T) {
	m := solid.NewModel()
	f := mustField(t, m.Cylinder("core", "", vec{}, vec{0, 0, 1}, 3, -5, 5))
	if d := f.Distance(vec{}); d != -3 {
		t.Errorf("field %g at the middle of a cylinder of radius 3, want -3", d)
	}
}

func TestBoundsFollowTheOperations(t *testing.T) {
	m := solid.NewModel()
	a := m.Box("a", "", vec{0, 0, 0}, vec{4, 4, 4})
	b := m.Box("b", "", vec{2, 1, -1}, vec{9, 2, 9})
	for _, c := range []struct {
		n    *solid.Node
		want mesh.Box
	}{
		{solid.Union(a, b), mesh.Box{Lo: vec{0, 0, -1}, Hi: vec{9, 4, 9}}},
		{solid.Intersect(a, b), mesh.Box{Lo: vec{2, 1, 0}, Hi: vec{4, 2, 4}}},
		{solid.Minus(a, b), mesh.Box{Lo: vec{0, 0, 0}, Hi: vec{4, 4, 4}}},
	} {
		if got := mustField(t, c.n).Bounds(); got != c.want {
			t.Errorf("%v: box %v, want %v", c.n, got, c.want)
		}
	}
}

func TestUnsoundSolidsAreRefusedByName(t *testing.T) {
	m := solid.NewModel()
	good := m.Box("good", "", vec{0, 0, 0}, vec{1, 1, 1})
	for _, c := range []struct {
		n    *solid.Node
		want string
	}{
		{nil, "missing"},
		{&solid.Node{Op: solid.OpLeaf}, "missing"},
		{solid.Union(), "nothing"},
		{&solid.Node{Op: 9, Kids: []*solid.Node{good}}, "not known"},
		{solid.Minus(good, m.Box("flat seal", "", vec{0, 0, 1}, vec{1, 1, 1})), "flat seal: extruded from 1 to 1 mm"},
		{m.Revolve("wide core", "", onZ, solid.Poly(-1, 0, 2, 0, 2, 3)), "wide core: the revolved outline crosses its axis by 1 mm"},
		{m.Extrude("lost", "", onZ, 0, math.Inf(1), solid.Circle(0, 0, 1)), "lost: the outline or its place is empty or not finite"},
		{m.Extrude("empty", "", onZ, 0, 1), "empty: the outline"},
	} {
		if _, err := New(c.n); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want an error with %q", err, c.want)
		}
	}
	if _, err := New(solid.Minus(good)); err != nil {
		t.Error(err)
	}
}
