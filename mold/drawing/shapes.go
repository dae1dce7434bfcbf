package drawing

import (
	"math"

	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/params"
)

// straight is a path of straight lines, closed if it ends where it starts.
func straight(points ...Point) outline.Path {
	p := outline.Path{Start: points[0], Closed: points[0] == points[len(points)-1]}
	for _, q := range points[1:] {
		p.Segments = append(p.Segments, outline.Segment{To: q})
	}
	return p
}

// ring is the closed path of straight lines through the points.
func ring(points ...Point) outline.Path { return straight(append(points, points[0])...) }

// block is an upright rectangle.
func block(u0, v0, u1, v1 float64) outline.Path {
	return ring(Point{u0, v0}, Point{u1, v0}, Point{u1, v1}, Point{u0, v1})
}

// disc is a whole circle.
func disc(c Point, r float64) outline.Path {
	start := Point{c[0] + r, c[1]}
	half := outline.Segment{To: Point{c[0] - r, c[1]}, Center: c, Radius: r, CCW: true}
	other := half
	other.To = start
	return outline.Path{Start: start, Segments: []outline.Segment{half, other}, Closed: true}
}

// fastener is a clamp bolt with its nut, as a plane through its axis shows them:
// whole.
type fastener struct {
	bolt, nut outline.Region
	edges     []outline.Path // of the nut, that are turned to the viewer
}

// fastenerAt draws the bolt at u from the sizes of its standard. turn is the angle of
// u from +x, degrees, which tells how a nut lies in a hexagonal recess. ok is false
// for a mold without bolts.
func fastenerAt(m *mold.Mold, b *mold.Bolt, u, turn float64) (f fastener, ok bool) {
	t, ok := params.FastenerOf(m.Job.Mold.Bolts.Size)
	if !ok {
		return f, false
	}
	l := m.Layout
	seat, rest := b.Top-b.HeadD, l.Bottom+b.NutD // under the head, on the nut
	end, r, head := rest-t.NutHeight, t.Diameter/2, t.HeadDiameter/2
	f.bolt = outline.Region{ring(
		Point{u - r, end}, Point{u + r, end}, Point{u + r, seat}, Point{u + head, seat},
		Point{u + head, seat + t.HeadHeight}, Point{u - head, seat + t.HeadHeight}, Point{u - head, seat}, Point{u - r, seat})}
	half := t.NutFlats / math.Sqrt(3) // across corners, where it may turn
	if b.NutHex {
		half = hexReach(t.NutFlats/2, turn)
	} else {
		f.edges = []outline.Path{straight(Point{u - half/2, end}, Point{u - half/2, rest}), straight(Point{u + half/2, end}, Point{u + half/2, rest})}
	}
	f.nut = outline.Region{block(u-half, end, u+half, rest)}
	return f, true
}

// hexReach is how far a hexagon reaches from its middle in a direction, degrees from
// one of its corners; flat is the distance of its flats from the middle.
func hexReach(flat, turn float64) float64 {
	a := math.Mod(math.Mod(turn, 60)+60, 60) - 30 // from the nearest flat's middle
	return flat / math.Cos(a*math.Pi/180)
}

// onBorder tells whether a point lies on a path to within a distance, mm.
func onBorder(paths []outline.Path, p Point, within float64) bool {
	return outline.Region(paths).Away(p) <= within
}

// corners are a path's corners, and points of its arcs that lie no farther apart than
// an angle, radians.
func corners(p outline.Path, apart float64) []Point {
	out := []Point{p.Start}
	for s := range p.Stretches() {
		parts := math.Max(1, math.Ceil(math.Abs(s.Sweep)/apart-1e-9))
		for k := 1.0; k <= parts; k++ {
			out = append(out, s.At(k/parts))
		}
	}
	return out
}
