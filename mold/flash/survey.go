package flash

import (
	"math"
	"slices"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/contact"
	"wheelmold/mold"
	"wheelmold/mold/flash/film"
	"wheelmold/mold/inparallel"
)

// Kinds of ways out of a parting line, in the trade's words.
const (
	ExitOuter    = "outer face"
	ExitStrap    = "strap groove"
	ExitPry      = "pry slot"
	ExitBolt     = "bolt hole"
	ExitJack     = "jack hole"
	ExitBall     = "ball pocket"
	ExitOpening  = "hub opening"
	ExitNeighbor = "neighboring parting line"
)

// exitOf says by a face's role what lies beyond an edge of a mating face.
var exitOf = map[string]string{
	mold.RoleOuter: ExitOuter, mold.RoleMark: ExitOuter, mold.RoleStrap: ExitStrap, mold.RolePry: ExitPry,
	mold.RoleBolt: ExitBolt, mold.RoleJack: ExitJack, mold.RoleBall: ExitBall, hub.RoleKeepOut: ExitOpening,
	mold.RoleParting: ExitNeighbor, mold.RoleLand: ExitNeighbor, mold.RoleRegister: ExitNeighbor, hub.RoleEnd: ExitNeighbor,
}

// wetRoles are the roles of faces that the liquid wets.
var wetRoles = []string{mold.RoleTread, mold.RoleTreadFace, mold.RoleCeiling, mold.RoleSprue, mold.RoleVent, hub.RoleBond, hub.RoleLock}

// matingRoles are the roles of faces that lie on another piece.
var matingRoles = []string{mold.RoleParting, mold.RoleLand, hub.RoleEnd}

// endRoles are the roles of faces that shape the rubber and that an end of the hub may
// lie on beyond it: the floor of a cup, the roof in its lid.
var endRoles = []string{mold.RoleTreadFace, mold.RoleCeiling}

func anyRole(roles, of []string) bool {
	return slices.ContainsFunc(roles, func(r string) bool { return slices.Contains(of, r) })
}

// geometry is what flash knows of a mold, whatever its faces are like.
type geometry struct {
	mold    *mold.Mold
	layout  *mold.Layout
	core    *hub.Core
	poured  float64 // mass in the mold, sprue and vents included, g
	sites   []*site
	corners []corner
}

// site is one parting line.
type site struct {
	name      string
	at        place
	low, high []string // pieces
	sheet     *contact.Sheet
	grid      *film.Grid
	lands     []film.Land
	fromSeam  []float64 // per cell
	seam      float64   // length, mm
	size      float64   // of the whole face, mm
	least     float64   // land, mm
	span      float64   // between clamps, on average along the seam, mm
	widest    float64   // span, mm
	lowest    float64   // of the seam, mm
	highest   float64
	exits     []string           // kind of exit per label of the sheet; "" for the seam
	exitAt    map[string]float64 // way from the seam to the nearest exit of each kind, mm
	entry     []contact.Ring     // clearances before the seam
	after     []contact.Ring     // registers behind the hub's opening
	wetting   *wetting
}

// point is the place of a seam crossing in the mold.
func (s *site) point(l *film.Land) mesh.Vec { return s.sheet.Frame.Global(mesh.Vec{l.U, l.V, 0}) }

// pieces are those on both sides.
func (s *site) pieces() []string { return append(slices.Clone(s.low), s.high...) }

// WidestGap in mm is that of mating faces; mold.stack.gap is at most this.
const WidestGap = 2.01

// survey finds the parting lines of a mold from its pieces' exact faces.
func survey(m *mold.Mold, faces map[string]*brep.Boundary) *geometry {
	return surveyFiner(m, faces, 1)
}

// surveyFiner does so on grids that are so many times as fine as usual.
func surveyFiner(m *mold.Mold, faces map[string]*brep.Boundary, finer float64) *geometry {
	var bodies []contact.Body
	for _, p := range m.Pieces {
		bodies = append(bodies, contact.Body{Name: p.Name, Boundary: faces[p.Name]})
	}
	g := &geometry{mold: m, layout: m.Layout, core: m.Core, poured: m.PouredMass()}
	settings := contact.Settings{
		MaxGap: WidestGap,
		Mating: func(roles []string) bool { return Mates(roles) || anyRole(roles, endRoles) },
		Prefer: rank,
	}
	sheets := contact.Sheets(bodies, settings)
	found := make([][]*site, len(sheets))
	inparallel.Do(len(sheets), func(i int) { found[i] = g.sitesOn(sheets[i], finer) })
	g.sites = slices.Concat(found...)
	g.order()
	g.rings(bodies)
	g.corners = cornersOf(bodies)
	return g
}

// straighten raises lands to the straight way to the nearest exit, where marching
// from an exit of a few cells, such as a ball's pocket, falls a little short: no way
// is shorter than that.
func (s *site) straighten() {
	exits := s.grid.Exits()
	for i := range s.lands {
		l := &s.lands[i]
		d := math.Inf(1)
		for _, e := range exits {
			d = min(d, math.Hypot(e.U-l.U, e.V-l.V))
		}
		if l.Distance < d && !math.IsInf(d, 1) {
			l.Distance = d
		}
	}
}

// Mates tells by its roles whether a flat face is to lie on another piece.
func Mates(roles []string) bool { return anyRole(roles, matingRoles) }

// ExitKind is what lies beyond an edge of a mating face whose other face has these
// roles; "" is the liquid.
func ExitKind(roles []string) string {
	if anyRole(roles, wetRoles) {
		return ""
	}
	for _, r := range roles {
		if k, ok := exitOf[r]; ok && k != ExitNeighbor {
			return k
		}
	}
	return ExitNeighbor
}

// rank prefers, where two edges lie on each other, the seam to a way out, and
// that to a neighboring parting line.
func rank(roles []string) int {
	switch ExitKind(roles) {
	case "":
		return 2
	case ExitNeighbor:
		return 0
	}
	return 1
}

// rings gives registers and clearances about the hub to their lines.
func (g *geometry) rings(bodies []contact.Body) {
	settings := contact.Settings{MaxGap: WidestGap, Mating: func(roles []string) bool {
		return anyRole(roles, []string{mold.RoleRegister, mold.RoleLand, hub.RoleKeepOut, hub.RoleBond})
	}}
	for _, r := range contact.Rings(bodies, settings) {
		s := g.ringed(&r)
		switch {
		case s == nil:
		case slices.Contains(r.InnerRoles, mold.RoleRegister):
			s.after = append(s.after, r)
		case anyRole(r.OuterRoles, []string{mold.RoleLand}):
			s.entry = append(s.entry, r)
		}
	}
}

// ringed is the line at the hub that a ring belongs to: between its pieces, at the end
// of the hub that is nearer; nil if there is none.
func (g *geometry) ringed(r *contact.Ring) *site {
	var best *site
	height := r.Axis.Global(mesh.Vec{0, 0, (r.Z0 + r.Z1) / 2})[2]
	for _, s := range g.sites {
		pieces := s.pieces()
		if s.at != atHub || !slices.Contains(pieces, r.Inner) || !slices.Contains(pieces, r.Outer) {
			continue
		}
		if best == nil || math.Abs(s.lowest-height) < math.Abs(best.lowest-height) {
			best = s
		}
	}
	return best
}
