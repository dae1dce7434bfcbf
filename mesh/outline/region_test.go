package outline

import (
	"errors"
	"math"
	"math/rand"
	"slices"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

// disc is a circle of two half arcs, or a hole.
func disc(c Point, r float64, ccw bool) Path {
	p := piece{from: Point{c[0] + r, c[1]}, Segment: Segment{To: Point{c[0] + r, c[1]}, Center: c, Radius: r, CCW: ccw}, sweep: 2 * math.Pi}
	out := Path{Start: p.from, Closed: true}
	out.add(p)
	return out
}

func TestRegionMeasures(t *testing.T) {
	r := Region{disc(Point{3, 4}, 5, true), disc(Point{4, 4}, 2, false)}
	if n := len(r[0].Segments); n != 2 {
		t.Fatalf("a whole circle has %d arcs", n)
	}
	near1(t, "ring", r.Area(), math.Pi*(25-4), 1e-12)
	lo, hi := r.Bounds()
	if lo != (Point{-2, -1}) || hi != (Point{8, 9}) {
		t.Errorf("ring within %v, %v", lo, hi)
	}
	// One arc of three quarters of a turn, clockwise from the left to the lowest point.
	bite := Region{{Start: Point{-2, 0}, Closed: true, Segments: []Segment{{To: Point{0, -2}, Radius: 2}, {To: Point{}}, {To: Point{-2, 0}}}}}
	near1(t, "three quarters of a disc, clockwise", bite.Area(), -3*math.Pi, 1e-12)
	lo, hi = bite.Bounds()
	if lo != (Point{-2, -2}) || hi != (Point{2, 2}) {
		t.Errorf("three quarters of a disc within %v, %v", lo, hi)
	}
	for p, want := range map[Point]bool{{-1, -1}: false, {1, 1}: true, {1.4, -1.4}: true, {1.5, -1.5}: false, {-.5, .5}: true, {3, 0}: false} {
		if bite.Contains(p) != want {
			t.Errorf("%v in three quarters of a disc: %v", p, !want)
		}
	}
	if lo, hi = (Region{}).Bounds(); lo[0] <= hi[0] || (Region{}).Area() != 0 || (Region{}).Contains(Point{}) {
		t.Error("the empty region holds something")
	}
}

// A section contains what the solid does, as its tree tells without any curve.
func TestRegionContains(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for name, c := range map[string]struct {
		build func(*solid.Model) *solid.Node
		v     View
	}{
		"lid at mid-height": {solidtest.ReferenceLid, level(15)},
		"shell from -y":     {solidtest.HalfShell, upright(33)},
		"shell askew":       {solidtest.HalfShell, inclined(vec{20, 150, 60}, vec{3, 4, 5})},
		"shell at a level":  {solidtest.HalfShell, level(95)},
	} {
		m := solid.NewModel()
		root := c.build(m)
		s := section(t, m, root, c.v, 1e-4)
		lo, hi := s.Bounds()
		in := 0
		for range 4000 {
			p := Point{lo[0] + r.Float64()*(hi[0]-lo[0]), lo[1] + r.Float64()*(hi[1]-lo[1])}
			if k := r.Intn(4); k == 0 && len(s) > 0 { // level with a vertex, where rays go wrong
				p[1] = s[r.Intn(len(s))].Start[1]
			}
			x := c.v.O.AddScaled(p[0], c.v.U).AddScaled(p[1], c.v.V)
			near := math.Inf(1)
			for _, l := range root.Leaves() {
				near = min(near, math.Abs(l.Dist(x)))
			}
			if near < 1e-3 {
				continue
			}
			want := root.Contains(x)
			if want {
				in++
			}
			if s.Contains(p) != want {
				t.Errorf("%s: %v inside: %v, by the tree %v", name, p, !want, want)
			}
		}
		if in < 300 {
			t.Errorf("%s: only %d points inside", name, in)
		}
	}
}

// Bounds are those of the solid, where the plane holds its extremes.
func TestSectionBounds(t *testing.T) {
	m := solid.NewModel()
	lo, hi := section(t, m, ring(m), upright(0), 1e-3).Bounds()
	if lo != (Point{-10, 0}) || hi != (Point{10, 12}) {
		t.Errorf("a ring's section lies within %v, %v", lo, hi)
	}
	lo, hi = section(t, m, ring(m), level(1), 1e-3).Bounds()
	if lo != (Point{-10, -10}) || hi != (Point{10, 10}) {
		t.Errorf("a ring's section across lies within %v, %v", lo, hi)
	}
}

// No chord is farther than the tolerance from an ellipse whose equation is known, and
// ten times finer takes about √10 times as many points.
func TestChordError(t *testing.T) {
	m := solid.NewModel()
	rod := m.Cylinder("rod", "", vec{}, zAxis, 6, -60, 60)
	v := inclined(vec{}, vec{0, .8, .6})
	count := func(tol float64) int {
		p := section(t, m, rod, v, tol)[0]
		a, worst := p.Start, 0.0
		via := append(p.Segments[0].Via, p.Start)
		for _, b := range via {
			mid := v.O.AddScaled((a[0]+b[0])/2, v.U).AddScaled((a[1]+b[1])/2, v.V)
			worst = max(worst, 6-math.Hypot(mid[0], mid[1])) // off the rod, less than in the plane
			a = b
		}
		if len(p.Segments) != 1 || worst > tol || worst < tol/30 {
			t.Errorf("chords within %v lie up to %v inside", tol, worst)
		}
		return len(via)
	}
	if coarse, fine := count(.01), count(.0001); fine < 6*coarse || fine > 20*coarse {
		t.Errorf("%d points at 0.01 mm, %d at 0.0001", coarse, fine)
	}
}

// Parts that touch in a point are loops of their own, outer ones counterclockwise and
// holes clockwise, whichever way the plane is seen.
func TestLoopsThatTouch(t *testing.T) {
	m := solid.NewModel()
	board := solid.Union(
		m.Box("a", "", vec{0, 0, 0}, vec{10, 10, 5}), m.Box("b", "", vec{10, 10, 0}, vec{20, 20, 5}),
		m.Box("under", "", vec{0, 0, -5}, vec{20, 20, -1}))
	pin := m.Cylinder("pin", "", vec{5, 5, 0}, zAxis, 5, -1, 6) // touches the sides of a
	for name, v := range map[string]View{"above": level(2), "below": {O: vec{0, 0, 2}, U: yAxis, V: xAxis}} {
		r := section(t, m, board, v, 1e-3)
		near1(t, name, r.Area(), 200, 1e-9)
		if len(r) != 2 || r[:1].Area() < 99 || r[1:].Area() < 99 {
			t.Errorf("%s: two squares that share a corner: %d paths", name, len(r))
		}
		r = section(t, m, solid.Minus(board, pin), v, 1e-3)
		near1(t, name+", with a hole as wide as its square", r.Area(), 200-25*math.Pi, 1e-9)
		if len(r) != 5 { // four corners and the other square
			t.Errorf("%s: four corners and a square make %d paths", name, len(r))
		}
	}
}

func TestNearlyAcross(t *testing.T) {
	m := solid.NewModel()
	cone := m.Cone("sprue", "", vec{}, zAxis, 4, 0, 8, 20)
	_, err := Section(brep.NewEvaluator(m), cone, inclined(vec{0, 0, 5}, vec{1e-4, 0, 1}), 1e-3)
	var r *brep.Refusal
	if !errors.As(err, &r) || r.Kind != brep.NearlyAcross || !slices.Equal(r.Names, []string{"sprue"}) {
		t.Errorf("%v", err)
	}
}

// Lines and arcs that go on beyond a border of parts are one segment, wherever the
// loop was begun.
func TestSegmentsAreWhole(t *testing.T) {
	m := solid.NewModel()
	var bars []*solid.Node
	for i := range 4 { // flush, and of one width
		x := 10 * float64((i+2)%4)
		bars = append(bars, m.Box("bar", "", vec{x, 0, 0}, vec{x + 10, 10, 5}))
	}
	pipe := m.Cylinder("pipe", "", vec{20, 5, 0}, zAxis, 3, -1, 6)
	slit := m.Box("slit", "", vec{16.5, 4, -1}, vec{23.5, 6, 6})
	r := section(t, m, solid.Minus(solid.Union(bars...), pipe, slit), level(2), 1e-3)
	arcs := 3 * (math.Pi - 2*math.Asin(1./3))
	near1(t, "arcs of the pipe", length(r[1])-4*(3.5-math.Sqrt(8))-2*2, 2*arcs, 1e-9)
	if len(r) != 2 || len(r[0].Segments) != 4 || len(r[1].Segments) != 8 {
		t.Errorf("a bar with a slit hole: %+v", r)
	}
}

// A wall that a hole leaves thinner than any lattice step, right at the middle of the
// section's edge, is still a wall.
func TestThinWallAtTheMiddle(t *testing.T) {
	for _, thin := range []float64{3e-8, 3e-7, 9e-7, 3e-6, 1e-4} {
		m := solid.NewModel()
		hole := m.Cylinder("hole", "", vec{17 - thin, 0, 0}, zAxis, 3, -1, 21)
		r := section(t, m, solid.Minus(block(m), hole), level(7), 1e-3)
		near1(t, "wall", r.Area(), 1600-9*math.Pi, 1e-9)
		if len(r) != 2 {
			t.Errorf("a wall of %g mm: %d paths", thin, len(r))
		}
	}
}

// A plane that cuts off less of an edge than can be told from nothing gives way, and
// nothing but a sliver is lost or gained.
func TestPlanesBesideAnEdge(t *testing.T) {
	for _, off := range []float64{0, 3e-8, 3e-7, 7e-7, 9e-7, 1e-6, 1.2e-6, 1.4e-6, 2e-6, 1e-5, 4e-5, 6e-5} {
		for _, sign := range []float64{1, -1} {
			m := solid.NewModel()
			wedge := m.Extrude("wedge", "", solid.AxisFrame(vec{}, zAxis), 0, 20, solid.Poly(-10, -10, 10, -9, 0, 0))
			r := section(t, m, wedge, upright(-sign*off), 1e-3)
			if a := r.Area(); a < 0 || a > 20*2.2*(off+7*solid.Lattice) {
				t.Errorf("%g below the edge: %v mm²", sign*off, a)
			}
		}
	}
}
