package flat

import (
	"math"
	"slices"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
)

// Layers, by name.
const (
	Outline      = "OUTLINE"         // one closed contour per view
	Edges        = "EDGES"           // of the piece's own shape, within the outline
	Profile      = "TURNING-PROFILE" // of the hub: half its section, closed
	Cavity       = "CAVITY"
	Register     = "REGISTER"
	Land         = "HUB-LAND"
	BoltHoles    = "BOLT-HOLES"   // at the diameter to drill through
	Counterbores = "COUNTERBORES" // wider parts of bolt holes; nut recesses
	BallPockets  = "BALL-POCKETS"
	PrySlots     = "PRY-SLOTS"
	Channels     = "SPRUE-AND-VENTS"
	JackScrews   = "JACK-SCREWS"
	Clamp        = "CLAMP" // cross bolts with their counterbores, strap groove
	Bore         = "BORE-AND-BEARINGS"
	LockHoles    = "LOCK-HOLES"
	Marks        = "MARKS" // engraving
	Centers      = "CENTERS"
	HoleMarks    = "HOLE-MARKS" // of the hole table
	CenterLines  = "CENTER-LINES"
	Origin       = "ORIGIN"
	Notes        = "NOTES"
)

// layers are all of them, in the order in which a file lists those that it uses. Colors
// are of middle brightness, which shows on black and on white; names tell the same.
var layers = []dxf.Layer{
	{Name: Outline, Color: 7, Linetype: dxf.Continuous},
	{Name: Profile, Color: 7, Linetype: dxf.Continuous},
	{Name: Edges, Color: 8, Linetype: dxf.Continuous},
	{Name: Cavity, Color: 150, Linetype: dxf.Continuous},
	{Name: Register, Color: 212, Linetype: dxf.Continuous},
	{Name: Land, Color: 132, Linetype: dxf.Continuous},
	{Name: Bore, Color: 150, Linetype: dxf.Continuous},
	{Name: BoltHoles, Color: 1, Linetype: dxf.Continuous},
	{Name: Counterbores, Color: 242, Linetype: dxf.Continuous},
	{Name: BallPockets, Color: 102, Linetype: dxf.Continuous},
	{Name: PrySlots, Color: 32, Linetype: dxf.Continuous},
	{Name: Channels, Color: 142, Linetype: dxf.Continuous},
	{Name: JackScrews, Color: 202, Linetype: dxf.Continuous},
	{Name: Clamp, Color: 42, Linetype: dxf.Continuous},
	{Name: LockHoles, Color: 102, Linetype: dxf.Hidden},
	{Name: Marks, Color: 8, Linetype: dxf.Continuous},
	{Name: Centers, Color: 1, Linetype: dxf.Continuous},
	{Name: HoleMarks, Color: 7, Linetype: dxf.Continuous},
	{Name: CenterLines, Color: 8, Linetype: dxf.Center},
	{Name: Origin, Color: 1, Linetype: dxf.Continuous},
	{Name: Notes, Color: 7, Linetype: dxf.Continuous},
}

// byRole lists which layer an edge goes to by the roles beside it: the first that is
// there, so that a feature counts before what it is cut into.
var byRole = []roleLayer{
	{mold.RoleMark, Marks},
	{mold.RoleBall, BallPockets},
	{mold.RoleBolt, Counterbores},
	{mold.RoleJack, JackScrews},
	{mold.RoleSprue, Channels},
	{mold.RoleVent, Channels},
	{mold.RolePry, PrySlots},
	{mold.RoleStrap, Clamp},
	{mold.RoleRegister, Register},
	{mold.RoleLand, Land},
	{hub.RoleLock, LockHoles},
	{hub.RoleKeepOut, Bore},
	{mold.RoleTread, Cavity},
	{mold.RoleTreadFace, Cavity},
	{mold.RoleCeiling, Cavity},
}

type roleLayer struct{ role, layer string }

// patches are the faces of a tree's leaves, by carrier.
type patches map[int][]*solid.Patch

func patchesOf(n *solid.Node) patches {
	out := patches{}
	for _, l := range n.Leaves() {
		for i := range l.Patches {
			p := &l.Patches[i]
			out[p.Carrier.ID] = append(out[p.Carrier.ID], p)
		}
	}
	return out
}

const (
	// beside is the step off an edge at which it is asked what bears its faces, mm; less
	// than any feature is wide.
	beside = .01
	// onPatch is how far a point on a carrier may lie off a patch that bears it, mm.
	onPatch = 1e-4
)

// side is one of the faces along an edge.
type side struct {
	face  *brep.Face
	out   mesh.Vec // normal of the face beside the edge's middle, away from the material
	roles []string // of what bears it there
}

// sides of an edge. A face has all the roles of its carrier, which may be the plane of
// much that is far away: those here are of the place.
func (p patches) sides(b *brep.Boundary, e *brep.Edge) [2]side {
	var out [2]side
	dt := (e.T1 - e.T0) * 1e-4
	t := (e.T0 + e.T1) / 2
	along := e.Curve.At(t + dt).Sub(e.Curve.At(t - dt)).Unit()
	for i := range out {
		h := e.Half[i]
		f := b.Faces[h.Face]
		left := f.Carrier.N(e.Mid).Cross(along)
		if h.Reversed {
			left = left.Scale(-1)
		}
		q := f.Carrier.Project(e.Mid.AddScaled(beside, left))
		s := side{face: f, out: f.Carrier.N(q)}
		if f.Negative {
			s.out = s.out.Scale(-1)
		}
		for _, pa := range p[f.Carrier.ID] {
			if pa.Holds(q, onPatch) {
				s.roles = append(s.roles, pa.Role)
			}
		}
		out[i] = s
	}
	return out
}

// layer of an edge between two faces.
func layer(s [2]side) string {
	for _, r := range byRole {
		for i := range s {
			if slices.Contains(s[i].roles, r.role) {
				if r.role == mold.RoleBolt && s[i].lies() {
					return Clamp
				}
				return r.layer
			}
		}
	}
	return Edges
}

// lies tells whether a round face's axis runs across the wheel's.
func (s *side) lies() bool {
	c := s.face.Carrier
	return c.Kind == solid.Cylinder && math.Abs(c.Frame.Z[2]) < .5
}

// holeLayer is where a hole goes, and where parts of it that are wider than its drill.
func holeLayer(h *holes.Hole) (least, wider string) {
	switch {
	case h.Role == mold.RoleBolt && math.Abs(h.Dir[2]) < .5:
		return Clamp, Clamp
	case h.Role == mold.RoleBolt:
		return BoltHoles, Counterbores
	case h.Role == hub.RoleKeepOut && math.Hypot(h.At[0], h.At[1]) > same:
		return BoltHoles, BoltHoles
	}
	for _, r := range byRole {
		if r.role == h.Role {
			return r.layer, r.layer
		}
	}
	return Edges, Edges
}
