package drawing

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// throughAxis cuts through the wheel's axis and the first sprue, which is drawn on
// the right, or along the strap of an open top.
func throughAxis(m *mold.Mold) *section {
	s := newSection(m, "section-sprue", mesh.Vec{}, onto(m, m.CutToward()))
	s.Title = "Section through axis and sprue"
	if m.Layout.OpenTop() {
		s.ID, s.Title = "section-strap", "Section through axis and strap"
	}
	s.finish = (*section).closed
	return s
}

// sectionAcross is the section that meets no sprue.
const sectionAcross = "section-across"

// throughMiddle cuts through the axis and the middle of the side that begins at a
// parting.
func throughMiddle(m *mold.Mold, at *mold.Parting) *section {
	side := sideFrom(m.Layout, at)
	s := newSection(m, sectionAcross, mesh.Vec{}, middle(side))
	s.Title = "Section across the parting plane"
	s.finish = (*section).closed
	return s
}

// onto is a direction in the plan, laid onto the parting faces from which it differs by
// no more than the lattice: a plane that nearly runs along faces cuts slivers. Faces at
// an angle are planes through points of the lattice, and differ from their angle too.
func onto(m *mold.Mold, u mesh.Vec) mesh.Vec {
	const nearly = 1e-4 // rad, some steps of the lattice at the least radius
	up := mesh.Vec{0, 0, 1}
	for i := range m.Pieces {
		for _, leaf := range m.Pieces[i].Root.Leaves() {
			for k := range leaf.Patches {
				c := leaf.Patches[k].Carrier
				if leaf.Patches[k].Role != mold.RoleParting || c.Kind != solid.Plane || math.Abs(c.Frame.Z[2]) > nearly {
					continue
				}
				for _, way := range []float64{1, -1} {
					if p := up.Cross(c.Frame.Z).Scale(way); p.Dist(u) < nearly && math.Abs(c.D) < onPlane {
						return p
					}
				}
			}
		}
	}
	return u
}

// sideFrom is the side that begins at a parting, counterclockwise of it.
func sideFrom(l *mold.Layout, at *mold.Parting) *mold.Side {
	for i := range l.Sides {
		if l.Sides[i].From == at.Angle {
			return &l.Sides[i]
		}
	}
	return nil
}

// sideTo is the side that ends at a parting.
func sideTo(l *mold.Layout, at *mold.Parting) *mold.Side {
	for i := range l.Sides {
		if math.Abs(math.Remainder(l.Sides[i].To-at.Angle, 360)) < 1e-9 {
			return &l.Sides[i]
		}
	}
	return nil
}

// middle is the direction of a side's middle.
func middle(s *mold.Side) mesh.Vec {
	at := mold.Parting{Angle: (s.From + s.To) / 2}
	return at.Outward()
}

// along is the parting on which the plane runs to the right of the axis (1) or to its
// left (-1); nil: none.
func (s *section) along(way float64) *mold.Parting {
	l := s.m.Layout
	for i := range l.Partings {
		if p := &l.Partings[i]; p.Outward().Scale(way).Dist(s.View.U) < onPlane/l.B {
			return p
		}
	}
	return nil
}

// faced is the piece whose mating face the section shows where its plane runs along a
// parting: the one behind. "": it runs along none.
func (s *section) faced(way float64) string {
	at := s.along(way)
	switch {
	case at == nil:
		return ""
	case way > 0:
		return sideFrom(s.m.Layout, at).Name
	}
	return sideTo(s.m.Layout, at).Name
}

// partingNote says where the plane runs between pieces instead of through them.
func (s *section) partingNote() string {
	left, right := s.faced(-1), s.faced(1)
	switch {
	case left == "" && right == "":
		return ""
	case left == "":
		return " To the right the plane runs between two pieces: hatched is the face of " + called(right) + " there."
	case right == "":
		return " To the left the plane runs between two pieces: hatched is the face of " + called(left) + " there."
	case left == right:
		return " The plane runs between the pieces: hatched is the face of " + called(left) + "."
	}
	return " The plane runs between the pieces: hatched are the faces of " + called(left) + " (left) and " + called(right) + " (right)."
}

// halfPlane is the view of a parting from the piece that ends there onto the one that
// begins there, the axis to the left.
func halfPlane(at *mold.Parting) outline.View {
	return outline.View{U: at.Outward(), V: mesh.Vec{0, 0, 1}}
}

// halfPlaneNote says how a parting is seen.
func halfPlaneNote(l *mold.Layout, at *mold.Parting) string {
	return fmt.Sprintf("The face of %s, seen from %s: the axis to the left, the side at %s from +x to the right, +z up.", called(sideFrom(l, at).Name), called(sideTo(l, at).Name), degrees(at.Angle))
}

// partingOf is the parting at which a piece begins, if there are more than two around
// the axis: each is then looked at by itself, whatever lies flat on the bench. nil: none.
func partingOf(l *mold.Layout, piece string) *mold.Parting {
	if len(l.Sides) < 3 {
		return nil
	}
	for i := range l.Partings {
		if p := &l.Partings[i]; sideFrom(l, p).Name == piece {
			return p
		}
	}
	return nil
}

// partingBetween is the parting of two of more than two pieces around the axis, seen
// along a normal; nil: none.
func partingBetween(l *mold.Layout, pieces []string, normal mesh.Vec) *mold.Parting {
	for _, name := range pieces {
		at := partingOf(l, name)
		if len(pieces) != 2 || at == nil || !slices.Contains(pieces, sideTo(l, at).Name) {
			continue
		}
		if v := halfPlane(at); math.Abs(v.W().Dot(normal)) > parallel {
			return at
		}
	}
	return nil
}

// layer is a height that is dimensioned.
type layer struct {
	name   string
	z0, z1 float64
}

// layers are the heights that add up to the mold's, from the bottom up: those of plates
// and shells, or what pieces around the axis leave below and above the cavity.
func layers(l *mold.Layout) []layer {
	switch {
	case l.Below == "":
		return []layer{{"floor", l.Bottom, 0}, {"cavity height", 0, l.Top}, {"roof", l.Top, l.Ceil}}
	case len(l.Sides) == 0:
		return []layer{{l.Below, l.Bottom, l.Part}, {l.Above, l.Part, l.Ceil}}
	}
	return []layer{{l.Below, l.Bottom, 0}, {"shells", 0, l.Part}, {l.Above, l.Part, l.Ceil}}
}

// lowestPlane is the height of the lowest parting plane across the axis; not ok where
// there is none.
func lowestPlane(l *mold.Layout) (z float64, ok bool) {
	switch {
	case l.LineLow() != "":
		return 0, true
	case l.LineTop() != "":
		return l.Part, true
	}
	return 0, false
}

// edge is a place to the left of the axis from which a height is dimensioned: on the
// block's side, at the end of a mating face, or on the cavity's edge.
func (s *section) edge(z float64) Point {
	l := s.m.Layout
	low, plates := lowestPlane(l)
	switch {
	case z == l.Bottom || z == l.Ceil:
		return Point{-s.reach(), z}
	case plates && (z == low || z == l.Part):
		return Point{-s.landEnd(-1, z), z}
	}
	return Point{-s.cavityEdge(-1, z), z}
}

// cavityEdge is how far from the axis the cavity reaches, on one side of it, at the
// height of its end or of a parting plane: to the tread, or to a cross groove that runs
// out there.
func (s *section) cavityEdge(way, z float64) float64 {
	t := s.m.Tread
	r := t.SurfaceR(z)
	switch z {
	case 0:
		r = t.LowerOuter
	case t.Top:
		return t.UpperOuter
	}
	if t.Cross.Count == 0 || onBorder(s.region["rubber"], Point{way * r, z}, 1e-6) {
		return r
	}
	return t.CrossFoot()
}

// entersSlot is how far along a direction from the axis a pry slot begins; infinite
// where it is missed.
func entersSlot(p *mold.Slot, dir mesh.Vec) float64 {
	sn, cs := math.Sincos(-p.Turned * math.Pi / 180)
	u := mesh.Vec{cs*dir[0] - sn*dir[1], sn*dir[0] + cs*dir[1], 0}
	d := enters(p.Lo, p.Hi, u)
	if p.Corner == 0 || p.Normal != 2 || math.IsInf(d, 1) {
		return d // of a slot across an upright plane the corners lie at its ends
	}
	out, sense := p.Outward()
	across, inner := 1-out, p.Lo[out]
	if sense < 0 {
		inner = p.Hi[out]
	}
	var c mesh.Vec // the middle of the corner toward which the direction leads
	c[out] = inner + sense*p.Corner
	c[across] = p.Hi[across] - p.Corner
	if u[across] < 0 {
		c[across] = p.Lo[across] + p.Corner
	}
	at := u.Scale(d)
	if math.Abs(at[across]) <= math.Abs(c[across]) || (at[out]-c[out])*sense >= 0 {
		return d
	}
	along := c.Dot(u)
	h := p.Corner*p.Corner - c.Dot(c) + along*along
	if h < 0 {
		return math.Inf(1)
	}
	return along - math.Sqrt(h)
}
