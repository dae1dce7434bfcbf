package brep

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/solid"
)

// Two rings around one axis share what lies in both circles of their section, a lens. It
// is turned about the axis by Pappus and Guldin: its area is 2·(R²·acos(d/2R) - d/4·√(4R²-d²))
// for circles of one radius R whose middles are d apart, its centroid halfway between them.
// The sharper the lens, the shorter the chord between the two circles in which they meet.
func TestRingsShareALens(t *testing.T) {
	for _, c := range []struct{ dr, dz float64 }{{3, 0}, {0, 3}, {3, 4}, {-3, 4}, {7.9, 0}, {0, -7.9}, {4.8, 6.375}, {0.5, 0.25}} {
		const axis, radius = 30.0, 4.0
		m := solid.NewModel()
		ring := func(r, z float64) *solid.Node {
			return m.Revolve("", "", solid.AxisFrame(Vec{0, 0, z}, zAxis), solid.Circle(r, 0, radius))
		}
		v, err := volumes(m, solid.Intersect(ring(axis, 0), ring(axis+c.dr, c.dz)))
		if err != nil {
			t.Errorf("%+v: %v", c, err)
			continue
		}
		d := math.Hypot(c.dr, c.dz)
		lens := 2*radius*radius*math.Acos(d/(2*radius)) - d/2*math.Sqrt(4*radius*radius-d*d)
		near(t, fmt.Sprintf("middles %g mm apart: lens", d), v[0], 2*pi*(axis+c.dr/2)*lens, 1e-9)
	}
}

// Rings of unequal section meet in the two circles that have the radii' distances from
// both middles.
func TestRingsMeetOnBoth(t *testing.T) {
	m := solid.NewModel()
	b := boundary(t, m, solid.Union(
		m.Revolve("", "", solid.AxisFrame(Vec{0, 0, 1}, zAxis), solid.Circle(30, 0, 5)),
		m.Revolve("", "", solid.AxisFrame(Vec{0, 0, 6.75}, zAxis), solid.Circle(31, 0, 1))))
	if len(b.Edges) != 2 {
		t.Fatalf("%d edges, want 2", len(b.Edges))
	}
	for _, e := range b.Edges {
		p := e.Curve.At(e.T0)
		r := math.Hypot(p[0], p[1])
		near(t, "from the large section's middle", math.Hypot(r-30, p[2]-1), 5, 1e-12)
		near(t, "from the small section's middle", math.Hypot(r-31, p[2]-6.75), 1, 1e-12)
	}
	if d := b.Edges[0].Curve.Radius - b.Edges[1].Curve.Radius; math.Abs(d) < .1 {
		t.Errorf("both circles have the radius %g", b.Edges[0].Curve.Radius)
	}
}

// Rings of which one lies in the other, or beside it, do not meet: their volumes, by Pappus
// and Guldin, are taken off or added whole.
func TestRingsThatDoNotMeet(t *testing.T) {
	m := solid.NewModel()
	ring := func(r, z, section float64) *solid.Node {
		return m.Revolve("", "", solid.AxisFrame(Vec{0, 0, z}, zAxis), solid.Circle(r, 0, section))
	}
	volume := func(r, section float64) float64 { return 2 * pi * pi * r * section * section }
	large := ring(30, 1, 5)
	v, err := volumes(m, solid.Minus(large, ring(31, 3, 2)), solid.Union(large, ring(36, 5, 2)), solid.Union(large, ring(30, 8.5, 2)))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "hollow", v[0], volume(30, 5)-volume(31, 2), 1e-12)
	near(t, "side by side", v[1], volume(30, 5)+volume(36, 2), 1e-12)
	near(t, "one above the other", v[2], volume(30, 5)+volume(30, 2), 1e-12)
}

// Two equal cylinders whose axes cross part in two points, a radius off both axes, at right
// angles to them. There a branch is the square root of rounding, off by 1e-7 mm: walked
// along, its edges begin and end a thousandth of that from the points, so that loops close.
func TestEqualCylindersPartInTwoPoints(t *testing.T) {
	const radius = 6.0
	o := Vec{7, -3, 11}
	for _, angle := range []float64{.3, .9, pi / 2, 2.5} { // of the axes
		m := solid.NewModel()
		s, k := math.Sincos(angle)
		b := boundary(t, m, solid.Minus(
			m.Cylinder("", "", o, zAxis, radius, -40, 40),
			m.Cylinder("", "", o, Vec{s, 0, k}, radius, -90, 90)))
		poles := [2]Vec{o.AddScaled(radius, yAxis), o.AddScaled(-radius, yAxis)}
		var begin, end [2]int
		for _, e := range b.Edges {
			for i, pole := range poles {
				if b.Vertices[e.V0].Dist(pole) < touchTol {
					begin[i]++
					near(t, "1 mm and what an edge begins off its point", 1+e.point(e.T0).Dist(pole), 1, 1e-10)
				}
				if b.Vertices[e.V1].Dist(pole) < touchTol {
					end[i]++
					near(t, "1 mm and what an edge ends off its point", 1+e.point(e.T1).Dist(pole), 1, 1e-10)
				}
			}
		}
		for i := range poles {
			if begin[i] == 0 || end[i] == 0 || begin[i]+end[i] != 4 {
				t.Errorf("axes at %.3g: %d edges begin and %d end in %v, want four in all, some of each", angle, begin[i], end[i], poles[i])
			}
		}
	}
}
