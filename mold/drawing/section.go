package drawing

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/pour"
	"wheelmold/mold/pour/rise"
)

// Sections draws the mold closed and filled, cut upright through its axis and the
// first sprue ("section-sprue") or along the strap of an open top ("section-strap"),
// and through a ball and the bolt beside it ("section-ball-bolt") or, where there are
// none and the first runs between two pieces, across them ("section-across"), with
// dimensions for paper of the size of Paper. What of the plan is seen is air that stays
// near the plane; plan may be nil.
func Sections(m *mold.Mold, plan *pour.Plan) ([]Drawing, error) {
	first := throughAxis(m)
	if c, ok := cornerOf(m); ok {
		return finished(m, plan, first, throughCorner(m, c))
	}
	if at := first.along(1); at != nil {
		return finished(m, plan, first, throughMiddle(m, at))
	}
	return finished(m, plan, first)
}

// finished cuts the mold in all planes at once, and draws what is wanted of them.
func finished(m *mold.Mold, plan *pour.Plan, cuts ...*section) ([]Drawing, error) {
	type task struct {
		of   *section
		name string
		root *solid.Node
		r    outline.Region
		err  error
	}
	var tasks []*task
	for _, c := range cuts {
		for _, p := range m.Pieces {
			tasks = append(tasks, &task{of: c, name: p.Name, root: p.Root})
		}
		tasks = append(tasks, &task{of: c, name: "rubber", root: m.Rubber}, &task{of: c, name: "channels", root: m.Channels})
	}
	ev := brep.NewEvaluator(m.Model)
	inparallel.Do(len(tasks), func(i int) {
		t := tasks[i]
		t.r, t.err = outline.Section(ev, t.root, t.of.View, m.Layout.B*sag)
	})
	for _, t := range tasks {
		if t.err != nil {
			return nil, fmt.Errorf("%s of %s: %w", t.of.ID, t.name, t.err)
		}
		t.of.region[t.name] = t.r
	}
	inparallel.Do(len(cuts), func(i int) { cuts[i].finish(cuts[i], plan) })
	var out []Drawing
	for _, c := range cuts {
		out = append(out, c.Drawing)
	}
	return out, nil
}

// sag is how far chords may lie from curves that are no circles, as a part of half
// the mold's side: less than a hundredth of a millimeter on paper that holds a fifth of
// the mold.
const sag = 2e-5

// section is a drawing in the making.
type section struct {
	Drawing
	m      *mold.Mold
	region map[string]outline.Region // pieces, "rubber", "channels"
	turn   float64                   // of the view's u from +x, degrees
	dims   []wanted
	axes   []Line
	names  []named
	finish func(s *section, plan *pour.Plan)
}

// newSection looks at the plane through a point of the axis' foot, with u toward a
// direction in the plan and v up.
func newSection(m *mold.Mold, id string, o, u mesh.Vec) *section {
	s := &section{m: m, region: map[string]outline.Region{}, turn: math.Atan2(u[1], u[0]) * 180 / math.Pi}
	s.ID, s.View = id, outline.View{O: o, U: u, V: mesh.Vec{0, 0, 1}}
	return s
}

// at draws a point of the mold, and tells how far before the plane it lies, mm.
func (s *section) at(p mesh.Vec) (Point, float64) {
	return s.View.At(p), s.View.W().Dot(p.Sub(s.View.O))
}

// onPlane is the distance from the plane below which something lies on it, mm: some
// steps of the lattice on which a point at an angle is placed.
const onPlane = 1e-3

// pieces paints what is cut, liquid up to the level of the fill, and balls and bolts
// whose middle lies in the plane.
func (s *section) pieces() {
	for _, p := range s.m.Pieces {
		s.paint(Cut, p.Name, s.region[p.Name])
		s.name(mold.Title(p.Name), s.region[p.Name])
	}
	s.paint(Cut, "rubber", s.region["rubber"])
	s.name("rubber", s.region["rubber"])
	if n, at, ok := s.level(); ok {
		s.paint(Liquid, "sprue", behind(s.region["channels"], n, at))
	}
	l := s.m.Layout
	for _, b := range l.Balls {
		if c, d := s.at(b.At); math.Abs(d) < b.Diameter/2 {
			s.paint(Whole, "ball", outline.Region{disc(c, math.Sqrt(b.Diameter*b.Diameter/4-d*d))})
			s.cross(c, b.R)
			if s.inWindow(c) && !s.has("ball") {
				s.nameSmall("ball", s.Areas[len(s.Areas)-1].Region)
			}
		}
	}
	for i := range l.Bolts {
		b := &l.Bolts[i]
		c, d := s.at(b.At)
		if math.Abs(d) > onPlane {
			continue
		}
		s.axis(Point{c[0], l.Bottom}, Point{c[0], b.Top})
		if f, ok := fastenerAt(s.m, b, c[0], s.turn); ok {
			s.paint(Whole, "bolt", f.bolt)
			s.paint(Whole, "nut", f.nut)
			s.Lines = append(s.Lines, Line{Visible, "nut", f.edges})
			if s.inWindow(Point{c[0], 0}) && !s.has("bolt") {
				s.nameSmall("bolt", behind(f.bolt, Point{0, -1}, Point{0, l.Bottom + b.NutD})) // above the nut
				s.nameSmall("nut", f.nut)
			}
		}
	}
}

func (s *section) paint(look Look, of string, r outline.Region) {
	if len(r) > 0 {
		s.Areas = append(s.Areas, Area{look, of, r})
	}
}

// name asks for a balloon on an area, if any of it is seen.
func (s *section) name(text string, r outline.Region) {
	if n, ok := area(text, r, s.Window); ok {
		s.names = append(s.names, n)
	}
}

func (s *section) nameSmall(text string, r outline.Region) {
	if n, ok := area(text, r, s.Window); ok {
		n.small = true
		s.names = append(s.names, n)
	}
}

func (s *section) has(text string) bool {
	for _, n := range s.names {
		if n.text == text {
			return true
		}
	}
	return false
}

func (s *section) inWindow(p Point) bool {
	w := s.Window
	return w == [2]Point{} || (p[0] > w[0][0] && p[0] < w[1][0] && p[1] > w[0][1] && p[1] < w[1][1])
}

// axis asks for a center line.
func (s *section) axis(from, to Point) {
	s.axes = append(s.axes, Line{Axis, "", []outline.Path{straight(from, to)}})
}

// cross asks for the center lines of something round.
func (s *section) cross(c Point, r float64) {
	if s.inWindow(c) {
		s.axis(Point{c[0] - r, c[1]}, Point{c[0] + r, c[1]})
		s.axis(Point{c[0], c[1] - r}, Point{c[0], c[1] + r})
	}
}

// level is the liquid's surface in the plane, once the mold is full: across n through
// a point above the first sprue's gate. It is level in the pour, not in a mold that
// leans.
func (s *section) level() (n, at Point, ok bool) {
	l, p := s.m.Layout, &s.m.Job.Pour
	if len(l.Gates) == 0 {
		return n, at, false
	}
	up := rise.Tilt{Angle: p.Tilt, Toward: p.TiltToward}.Up()
	full := l.Gates[0]
	full[2] = s.m.Tread.Top + p.Fill
	at, before := s.at(full)
	n = Point{s.View.U.Dot(up), s.View.V.Dot(up)}
	// The surface meets the plane where n·q = n·at + (W·up)·before.
	at[1] += s.View.W().Dot(up) * before / n[1]
	return n, at, true
}

// dim asks for a dimension; the value is the model's.
func (s *section) dim(to side, name string, value float64, a, b Point, turned bool) {
	kind := Across
	if to == leftward || to == rightward {
		kind = Plumb
	}
	s.dims = append(s.dims, wanted{Dim{Kind: kind, From: a, To: b, Value: value, Name: name, Turned: turned}, to})
}

// layOut gives all that was asked for its place, and says in the note what found none.
func (s *section) layOut(kept float64) {
	s.Note += notShown(s.arrange(s.axes, s.dims, s.names, kept))
}

// diameter asks for the diameter of something round about u, seen from the side.
func (s *section) diameter(to side, name string, r, u, v float64) {
	s.dim(to, name, 2*r, Point{u - r, v}, Point{u + r, v}, true)
}

// reach is how far the block reaches from the axis in the direction of the view's u,
// and against it; lugs aside.
func (s *section) reach() float64 { return s.m.Layout.Reach(s.View.U) }
