package outline

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

func boundaryOf(t *testing.T, build func(*solid.Model) *solid.Node) *brep.Boundary {
	t.Helper()
	m := solid.NewModel()
	b, err := brep.NewEvaluator(m).Boundary(build(m))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// drilled is a block with a stepped hole through it, a pocket in its top, and one in
// its side.
func drilled(m *solid.Model) *solid.Node {
	return solid.Minus(block(m),
		m.Cylinder("hole", "", vec{5, 5, 0}, zAxis, 3, -1, 21), m.Cylinder("counterbore", "", vec{5, 5, 0}, zAxis, 5, 12, 21),
		m.Box("pocket", "", vec{-15, -15, 15}, vec{-5, -5, 21}), m.Cylinder("side", "", vec{-25, 10, 6}, xAxis, 2, 0, 10))
}

// The edges of a flat face go round its area, on the left against its normal: the top
// has the holes that open in it, and nothing that opens elsewhere.
func TestEdgesOfFaces(t *testing.T) {
	b := boundaryOf(t, drilled)
	got := map[float64]float64{} // area by height
	for _, f := range b.Faces {
		if f.Carrier.Kind != solid.Plane || math.Abs(f.Carrier.Frame.Z[2]) < .5 {
			continue
		}
		area := 0.0
		for _, e := range f.Edges {
			p := level(0).Edge(b, e, 1e-3)
			for s := range p.Stretches() {
				area += s.Swept(Point{7, 3})
			}
		}
		got[math.Round(b.Vertices[f.Edges[0].Edge.V0][2])] += math.Abs(area)
	}
	for z, want := range map[float64]float64{20: 1600 - 25*math.Pi - 100, 15: 100, 12: 16 * math.Pi, 0: 1600 - 9*math.Pi} {
		near1(t, fmt.Sprintf("faces at %g", z), got[z], want, 1e-9)
	}
}

// length is the length of a path's lines and arcs, mm.
func length(p Path) float64 {
	l := 0.0
	for s := range p.Stretches() {
		l += s.Length()
	}
	return l
}

func total(paths []Path) float64 {
	l := 0.0
	for _, p := range paths {
		l += length(p)
	}
	return l
}

// What shows of the block from above: its outline, the pocket's rim (its floor lies
// right below and is drawn once), and three circles of which two lie in one plane and
// one below another. The hole in the side is hidden.
func TestEdges(t *testing.T) {
	paths := Edges(boundaryOf(t, drilled), level(0), 1e-3)
	near1(t, "from above", total(paths), 160+40+2*math.Pi*(5+3), 1e-9)
	circles := 0
	for _, p := range paths {
		if p.Segments[0].Radius == 0 {
			continue
		}
		circles++
		if !p.Closed || len(p.Segments) != 2 || p.Start != p.Segments[1].To {
			t.Errorf("a whole circle: %+v", p)
		}
	}
	if circles != 2 || len(paths) != 2+8 {
		t.Errorf("%d circles, %d paths", circles, len(paths))
	}
	side := Edges(boundaryOf(t, drilled), View{U: yAxis.Scale(-1), V: zAxis}, 1e-3) // from -x
	near1(t, "from -x: the hole in the side shows", total(side), 120+4*math.Pi, 1e-9)
}

// Edges of what runs on smoothly are left out, of what meets at an angle are not; the
// rim of a round that starts along the line of sight shows.
func TestSmoothEdges(t *testing.T) {
	knob := func(m *solid.Model) *solid.Node { // a cylinder with a rounded top
		return m.Revolve("knob", "", solid.AxisFrame(vec{}, zAxis), solid.Poly(0, 0, 10, 0, 10, 8).ArcTo(8, 10, 8, 8, true).LineTo(0, 10))
	}
	near1(t, "a knob's rim", total(Edges(boundaryOf(t, knob), level(0), 1e-3)), 0, 0)
	cut := func(m *solid.Model) *solid.Node { // by half, at the widest
		return solid.Intersect(knob(m), m.Box("half", "", vec{-20, 0, 0}, vec{20, 20, 20}))
	}
	// Seen from the cut: rectangle with rounded corners, of which the floor shows.
	near1(t, "half a knob", total(Edges(boundaryOf(t, cut), upright(0), 1e-3)), 20+16+16+2*math.Pi, 1e-9)
	cup := func(m *solid.Model) *solid.Node { // the knob as a cavity, cut by half
		return solid.Intersect(solid.Minus(m.Box("block", "", vec{-20, -20, 0}, vec{20, 20, 20}), knob(m)), m.Box("half", "", vec{-30, 0, 8}, vec{30, 30, 10}))
	}
	// The feather edge of the round, at the bottom of this slice, lies on the line of
	// its plane; seen from the cut it closes the outline there.
	near1(t, "feather edge", total(Edges(boundaryOf(t, cup), upright(0), 1e-3)), 40+40+4+2*math.Pi, 1e-6)
}

// A rod's end seen at an angle is an ellipse, of which the perimeter is known.
func TestEdgesAtAnAngle(t *testing.T) {
	rod := func(m *solid.Model) *solid.Node { return m.Cylinder("rod", "", vec{}, zAxis, 5, 0, 20) }
	paths := Edges(boundaryOf(t, rod), inclined(vec{}, vec{.6, 0, .8}), 1e-6)
	// The top shows as a whole, the bottom as the half that bears the turned wall.
	a, b := 5., 4.
	h := (a - b) * (a - b) / (a + b) / (a + b)
	ellipse := math.Pi * (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h))) // Ramanujan, to 1e-9 here
	near1(t, "rod at an angle", total(paths), 1.5*ellipse, 2e-3)
	for _, u := range []vec{xAxis, {math.Cos(.3), math.Sin(.3), 0}} {
		near1(t, "rod from its side: two lines for its ends", total(Edges(boundaryOf(t, rod), View{U: u, V: zAxis}, .1)), 20, 1e-9)
	}
}

// What is drawn over itself is drawn once, on a circle across the angle at which
// counting starts too.
func TestStrokesOnce(t *testing.T) {
	arc := func(from, to float64) piece {
		c := Point{1, 2}
		return piece{from: onCircle(c, 5, from), Segment: Segment{To: onCircle(c, 5, to), Center: c, Radius: 5, CCW: to > from}, sweep: to - from}
	}
	for _, c := range []struct {
		name  string
		parts []piece
		paths int
		turn  float64
	}{
		{"across the start", []piece{arc(-.2, .1), arc(.4, .1), arc(6, 6.2)}, 1, .4 + 2*math.Pi - 6},
		{"apart", []piece{arc(-.2, .1), arc(.3, 1)}, 2, 1},
		{"two halves", []piece{arc(.5, .5+math.Pi), arc(.5, .5-math.Pi)}, 1, 2 * math.Pi},
		{"the same way and back", []piece{arc(2, 5), arc(5, 2), arc(3, 4)}, 1, 3},
		{"whole", []piece{arc(1, 1+2*math.Pi), arc(2, 3)}, 1, 2 * math.Pi},
	} {
		var d strokes
		for _, p := range c.parts {
			d.add(p)
		}
		paths := d.paths()
		near1(t, c.name, total(paths)/5, c.turn, 1e-9)
		if len(paths) != c.paths || paths[0].Closed != (c.turn > 6.2) {
			t.Errorf("%s: %+v", c.name, paths)
		}
	}
	var d strokes
	for _, x := range [][4]float64{{0, 0, 4, 3}, {8, 6, 2, 1.5}, {0, 1, 4, 4}, {12, 9, 16, 12}} {
		d.add(piece{from: Point{x[0], x[1]}, Segment: Segment{To: Point{x[2], x[3]}}})
	}
	near1(t, "lines", total(d.paths()), 10+5+5, 1e-9)
}
