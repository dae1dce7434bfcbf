// Package contact finds where solids that stand in place touch, or face each
// other across a thin gap: flat places as Sheets, and plugs in holes as Rings.
// It reads exact boundaries (mesh/brep), so that every border is known in closed
// form and no mesh limits it.
//
// # Guarantees
//
// The runs of a grid line through a sheet begin and end on exact edges: straight
// ones and circles to rounding, others to 1e-9 mm. Runs are in order and never
// overlap, whatever vertex, edge or tangent point the line goes through; such a
// line counts as lying just beyond it, at the greater coordinate. Equal input
// gives equal output, in an order that depends on the bodies' order alone.
//
// # Limits
//
// Bodies are taken not to overlap. A body thinner than the gap between two faces
// does not hide one from the other. An overlap, or a shared border that makes one
// sheet of two, is found if it is wider than 1/64 of its bounds, or if an edge
// ends or turns at it and it reaches 1e-4 mm from there; what is smaller may go
// unnoticed. Edges as such are no contacts, and neither are spheres and tori.
//
// # Method
//
//  1. The flat faces that take part are drawn in one chart per direction. Every
//     edge is parted where it turns, so that the parts run monotonically in both
//     coordinates and a grid line meets each at most once. A part holds its lower
//     end and not its upper one; neighbors share ends to the bit, so that each
//     line meets an outline an even number of times (outline.go, piece.go).
//  2. A face that looks up and one of another body that looks down, no further
//     apart than the largest gap, make a pair where their runs have a length in
//     common (sheet.go).
//  3. Pairs between the same planes that share a border are one sheet: its runs
//     join across it, so that a border between two bodies above one below ends
//     nothing (family.go).
//  4. Coaxial walls are compared along their heights at many angles (ring.go).
package contact

import (
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// Body is a solid in its place.
type Body struct {
	Name     string
	Boundary *brep.Boundary
}

// Settings say what counts as a contact.
type Settings struct {
	MaxGap float64 // largest distance between facing surfaces, mm
	// Mating reports whether faces with these roles take part; nil: all do.
	Mating func(roles []string) bool
	// Prefer ranks labels: where edges of both bodies end a run at one place,
	// that of the higher rank is kept, the lower body's among equals. nil: all
	// are equal.
	Prefer func(roles []string) int
}

// Label says what ends a flat place.
type Label struct {
	Body string // whose edge it is
	// Roles of the other face that meets the body's flat face in the edge,
	// those that bear it at the edge's middle, sorted.
	Roles []string
}

func (s *Settings) mates(roles []string) bool { return s.Mating == nil || s.Mating(roles) }

// touch is the distance below which two places are one, mm: far above the
// rounding of coordinates up to 1e3 mm (1e-12) and of edges merged in mesh/brep
// (1e-7), far below the lattice on which designed lengths lie (6e-5).
const touch = 1e-6

// parallel is the sine below which two directions are one, as in mesh/solid.
const parallel = 1e-9

// flat is a flat face that takes part.
type flat struct {
	body  int
	name  string       // of the body
	frame *solid.Frame // of all faces in this direction; its origin is the world's
	up    bool         // looks along frame.Z: material lies below
	d     float64      // height along frame.Z, mm
	roles []string
	out   *outline
}

// flats gathers the flat faces of all bodies and what their edges border on.
func flats(bodies []Body, s *Settings) ([]flat, *labels) {
	var out []flat
	var frames []*solid.Frame
	tags := &labels{prefer: s.Prefer, index: map[string]int{}}
	for i, b := range bodies {
		if b.Boundary == nil {
			continue
		}
		tags.enter(b)
		for k, f := range b.Boundary.Faces {
			if f.Carrier.Kind != solid.Plane || !s.mates(f.Roles) {
				continue
			}
			frame := direction(&frames, f.Carrier)
			out = append(out, flat{
				body: i, name: b.Name, frame: frame, up: !f.Negative, d: f.Carrier.D, roles: f.Roles,
				out: newOutline(b.Boundary, k, frame, tags),
			})
		}
	}
	return out, tags
}

// direction returns the frame shared by all planes parallel to c. Normals of
// carriers are canonical, so that opposite ones need no case of their own.
func direction(frames *[]*solid.Frame, c *solid.Carrier) *solid.Frame {
	for _, f := range *frames {
		if f.Z.Dist(c.Frame.Z) < parallel {
			return f
		}
	}
	f := solid.Frame{X: plus(c.Frame.X), Y: plus(c.Frame.Y), Z: plus(c.Frame.Z)}
	*frames = append(*frames, &f)
	return &f
}

// plus returns v with -0 as 0, which nobody wants to read.
func plus(v mesh.Vec) mesh.Vec { return v.Add(mesh.Vec{}) }

// labels is the table of everything that edges border on, in the order found.
type labels struct {
	list   []Label
	rank   []int
	prefer func([]string) int
	index  map[string]int

	body    Body
	patches map[int][]*solid.Patch // of the body, by carrier
}

// enter turns to the next body.
func (l *labels) enter(b Body) {
	l.body, l.patches = b, map[int][]*solid.Patch{}
	if b.Boundary.Root == nil {
		return
	}
	for _, leaf := range b.Boundary.Root.Leaves() {
		for i := range leaf.Patches {
			p := &leaf.Patches[i]
			l.patches[p.Carrier.ID] = append(l.patches[p.Carrier.ID], p)
		}
	}
}

// of returns the label of edge e as seen from face k.
func (l *labels) of(e *brep.Edge, k int) int32 {
	var roles []string
	for _, h := range e.Half {
		if h.Face != k {
			roles = l.bearing(l.body.Boundary.Faces[h.Face], e.Mid)
		}
	}
	key := l.body.Name
	for _, r := range roles {
		key += "\x00" + r
	}
	i, ok := l.index[key]
	if !ok {
		i = len(l.list)
		l.index[key] = i
		l.list = append(l.list, Label{l.body.Name, roles})
		rank := 0
		if l.prefer != nil {
			rank = l.prefer(roles)
		}
		l.rank = append(l.rank, rank)
	}
	return int32(i)
}

// bearing returns the roles that bear the face at q: a plate's face may be the
// cavity's floor in its middle and a parting face around it.
func (l *labels) bearing(f *brep.Face, q mesh.Vec) []string {
	var here []string
	for _, p := range l.patches[f.Carrier.ID] {
		if slices.Contains(f.Roles, p.Role) && !slices.Contains(here, p.Role) && p.Holds(q, touch) {
			here = append(here, p.Role)
		}
	}
	if len(here) == 0 {
		return f.Roles
	}
	slices.Sort(here)
	return here
}
