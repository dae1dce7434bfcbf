package drawing

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/pour"
)

// corner is what lies in one corner of the mold.
type corner struct {
	ball mold.Ball  // on the lowest parting plane across the axis
	bolt *mold.Bolt // nil: none
}

// cornerOf picks a corner whose ball lies on the pattern, best with one of the upper
// plate straight above it. A mold that parts along its axis alone has none.
func cornerOf(m *mold.Mold) (c corner, ok bool) {
	l, best := m.Layout, -1
	z, plates := lowestPlane(l)
	for _, b := range l.Balls {
		if !plates || b.Axis != 2 || b.At[2] != z || b.Odd {
			continue
		}
		if n := ballsAbove(m, &b); n >= best {
			c.ball, best, ok = b, n, true
		}
	}
	nearest := math.Inf(1)
	for i := range l.Bolts {
		if d := plan(l.Bolts[i].At, c.ball.At); d < nearest {
			c.bolt, nearest = &l.Bolts[i], d
		}
	}
	return c, ok
}

// ballsAbove tells whether there is a ball higher up in the corner of a ball: none (0),
// one off the pattern (1), or one straight above (2).
func ballsAbove(m *mold.Mold, low *mold.Ball) (most int) {
	for i := range m.Layout.Balls {
		b := &m.Layout.Balls[i]
		switch d := plan(b.At, low.At); {
		case b.Axis != 2 || b.At[2] <= low.At[2] || d > m.Job.Mold.Balls.Offset+onPlane:
		case d > onPlane:
			most = max(most, 1)
		default:
			most = 2
		}
	}
	return most
}

func plan(a, b mesh.Vec) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// throughCorner cuts through the middles of a ball and of the bolt beside it, upright;
// without bolts through the axis and the ball.
func throughCorner(m *mold.Mold, c corner) *section {
	from, to := mesh.Vec{}, c.ball.At
	if c.bolt != nil {
		from, to = c.ball.At, c.bolt.At
	}
	u := mesh.Vec{to[0] - from[0], to[1] - from[1], 0}.Unit()
	foot := mesh.Vec{c.ball.At[0], c.ball.At[1], 0}
	foot = foot.AddScaled(-foot.Dot(u), u)
	if foot.Norm() < onPlane {
		foot = mesh.Vec{} // the axis lies in the plane, but for the lattice
	}
	s := newSection(m, "section-ball-bolt", foot, u)
	s.Title = "Section through a ball and a bolt"
	s.finish = func(s *section, _ *pour.Plan) { s.corner(c) }
	return s
}

func (s *section) corner(c corner) {
	ball, _ := s.at(c.ball.At)
	s.frameCorner(c, ball[0])
	s.pieces()
	s.pockets(c.ball, ball[0])
	if c.bolt != nil {
		s.clamp(c.bolt, ball)
	}
	s.plates(c, ball[0])
	s.Note = cornerNote(c)
	s.layOut(keyRoom(0))
}

// cornerNote says where the cut runs and what is not cut.
func cornerNote(c corner) string {
	where := degrees(math.Atan2(c.ball.At[1], c.ball.At[0]) * 180 / math.Pi)
	if c.bolt == nil {
		return fmt.Sprintf("Mold closed, cut through the wheel's axis and the middle of the ball at %s from +x. Balls are drawn whole.", where)
	}
	note := fmt.Sprintf("Mold closed, cut upright through the middles of the ball at %s from +x and of the bolt beside it. Balls, bolt and nut are drawn whole, bolt and nut with the sizes of their standards.", where)
	if c.bolt.NutHex {
		note += fmt.Sprintf(" The nut recess is %s mm across flats.", Millimeters(2*c.bolt.NutR))
	}
	return note
}

// frameCorner shows what lies around ball and bolt, and a little of the cavity if the
// plane meets it.
func (s *section) frameCorner(c corner, ball float64) {
	l := s.m.Layout
	lo, hi := Point{math.Inf(1), l.Bottom}, Point{math.Inf(-1), l.Ceil}
	for _, p := range s.m.Pieces {
		a, b := s.region[p.Name].Bounds()
		lo[0], hi[0] = min(lo[0], a[0]), max(hi[0], b[0])
	}
	lo[0] = max(lo[0], ball-4*c.ball.R)
	if s.axial() {
		lo[0] = s.cavityEdge(1, c.ball.At[2]) - 1.5*c.ball.R
	}
	if c.bolt == nil {
		hi[0] = min(hi[0], ball+4*c.ball.R)
	} else {
		bolt, _ := s.at(c.bolt.At)
		hi[0] = min(hi[0], bolt[0]+2.5*max(c.bolt.R, c.bolt.HeadR, s.nutReach(c.bolt)))
	}
	if f, ok := s.boltShape(c.bolt); ok {
		a, b := f.bolt.Bounds()
		lo[1], hi[1] = min(lo[1], a[1]), max(hi[1], b[1])
	}
	s.Window = [2]Point{lo, hi}
}

// axial tells whether the plane holds the axis.
func (s *section) axial() bool { return s.View.O == mesh.Vec{} }

func (s *section) boltShape(b *mold.Bolt) (fastener, bool) {
	if b == nil {
		return fastener{}, false
	}
	u, _ := s.at(b.At)
	return fastenerAt(s.m, b, u[0], s.turn)
}

// pockets asks for the dimensions of ball and pocket, and of the land inside.
func (s *section) pockets(b mold.Ball, u float64) {
	z := b.At[2]
	s.diameter(below, "ball", b.Diameter/2, u, z)
	s.diameter(below, "pocket", b.R, u, z)
	s.dim(leftward, "pocket depth", b.Depth, Point{u, z - b.Depth}, Point{u - b.R, z}, false)
	if s.axial() {
		in := s.cavityEdge(1, z)
		s.dim(below, "land", u-b.R-in, Point{in, z}, Point{u - b.R, z}, false)
	}
}

// clamp asks for the dimensions of the bolt's hole.
func (s *section) clamp(b *mold.Bolt, ball Point) {
	l := s.m.Layout
	c, _ := s.at(b.At)
	u := c[0]
	s.diameter(above, "bolt hole", b.R, u, l.Part)
	s.dim(below, "ball to bolt", u-ball[0], ball, Point{u, ball[1]}, false)
	if b.HeadR > 0 {
		s.diameter(above, "counterbore", b.HeadR, u, b.Top)
		s.dim(rightward, "counterbore depth", b.HeadD, Point{u + b.HeadR, b.Top - b.HeadD}, Point{u + b.HeadR, b.Top}, false)
	}
	if b.NutR > 0 {
		r := s.nutReach(b)
		if b.NutHex {
			s.dim(below, "nut recess here", 2*r, Point{u - r, l.Bottom}, Point{u + r, l.Bottom}, false)
		} else {
			s.diameter(below, "nut recess", r, u, l.Bottom)
		}
		s.dim(rightward, "nut recess depth", b.NutD, Point{u + r, l.Bottom}, Point{u + r, l.Bottom + b.NutD}, false)
	}
}

// nutReach is half the nut recess's width in the plane.
func (s *section) nutReach(b *mold.Bolt) float64 {
	if b.NutHex {
		return b.NutReach(s.turn)
	}
	return b.NutR
}

// plates asks for the heights of plates and shells, from the corners of the hole next
// to the block's side.
func (s *section) plates(c corner, ball float64) {
	l := s.m.Layout
	low, mid, high := Point{ball + c.ball.R, l.Bottom}, ball+c.ball.R, Point{ball + c.ball.R, l.Ceil}
	if b := c.bolt; b != nil {
		p, _ := s.at(b.At)
		low[0], high[0], mid = p[0]+max(b.R, s.nutReach(b)), p[0]+max(b.R, b.HeadR), p[0]+b.R
	}
	at := func(z float64) Point {
		switch z {
		case l.Bottom:
			return low
		case l.Ceil:
			return high
		}
		return Point{mid, z}
	}
	for _, x := range layers(l) {
		s.dim(rightward, x.name, x.z1-x.z0, at(x.z0), at(x.z1), false)
	}
	s.dim(rightward, "mold", l.Ceil-l.Bottom, low, high, false)
}
