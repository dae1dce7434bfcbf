package flash

import (
	"math"
	"slices"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/contact"
	"wheelmold/mold"
	"wheelmold/mold/flash/film"
	"wheelmold/mold/inparallel"
)

// Names of the pieces that are told apart: the hub, and shells.
const hubName, shellPrefix = "hub", "shell-"

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

func anyRole(roles, of []string) bool {
	return slices.ContainsFunc(roles, func(r string) bool { return slices.Contains(of, r) })
}

// place is where a parting line lies in the mold; it decides which seal and
// which clamps it has.
type place int

const (
	atBase place = iota
	atLid
	atSides
	atHub
)

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
		Mating: Mates,
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

// A grid has about this many cells, within so many across the least land.
const cells, leastAcross, mostAcross = 20000, 7, 14

// lost is the part of a face that may be too narrow for the grid's cells.
const lost = 0.02

// sitesOn are the parting lines of one sheet: its connected parts that the
// liquid can reach.
func (g *geometry) sitesOn(sheet *contact.Sheet, finer float64) []*site {
	exits := make([]string, len(sheet.Labels))
	for i, l := range sheet.Labels {
		exits[i] = ExitKind(l.Roles)
	}
	class := func(label int) film.Class {
		switch exits[label] {
		case "":
			return film.Seam
		case ExitNeighbor:
			return film.Wall
		}
		return film.Exit
	}
	lo, hi := sheet.Bounds()
	size := max(hi[0]-lo[0], hi[1]-lo[1])
	land := g.mold.Job.Mold.Land
	cell := min(max(math.Sqrt(areaOf(sheet)/cells), land/mostAcross), land/leastAcross) / finer
	var out []*site
	grid := film.New(sheet, cell, class)
	for range 2 { // faces narrower than a cell want a finer grid
		if grid.Unresolved() < lost*grid.Area() {
			break
		}
		cell /= 2
		grid = film.New(sheet, cell, class)
	}
	parts := grid.Split()
	seams := seamsOf(sheet, parts, class)
	for i, part := range parts {
		s := &site{sheet: sheet, grid: part, exits: exits, seam: seams[i].length, lowest: seams[i].lowest, highest: seams[i].highest, size: size}
		if part.SeamLength() == 0 {
			continue
		}
		s.lands, s.fromSeam = part.Lands(), part.FromSeam()
		s.straighten()
		g.name(s)
		s.span, s.widest = g.spans(s)
		s.meetExits()
		s.least = s.size
		for i := range s.lands {
			s.least = min(s.least, s.lands[i].Distance)
		}
		out = append(out, s)
	}
	return out
}

// seam is the wetted edge of one part of a sheet: its length and lowest and
// highest points, mm.
type seam struct{ length, lowest, highest float64 }

// seamsOf measures the seam of each part of a sheet. A line meets spacing/across
// of an edge; lines of both directions share it in parts of across². Lines are
// closer than the grids', which lose what is narrower than a cell.
func seamsOf(sheet *contact.Sheet, parts []*film.Grid, class func(int) film.Class) []seam {
	const lines = 2400 // on either side
	seams := make([]seam, len(parts))
	for i := range seams {
		seams[i].lowest, seams[i].highest = math.Inf(1), math.Inf(-1)
	}
	lo, hi := sheet.Bounds()
	meet := func(u, v, length float64) {
		x := &seams[nearestPart(parts, [2]float64{u, v})]
		z := sheet.Frame.Global(mesh.Vec{u, v, 0})[2]
		x.length, x.lowest, x.highest = x.length+length, min(x.lowest, z), max(x.highest, z)
	}
	for axis := range 2 {
		spacing := (hi[axis] - lo[axis]) / lines
		for i := range lines {
			at := lo[axis] + (float64(i)+0.5)*spacing
			runs := sheet.Col
			if axis == 1 {
				runs = sheet.Row
			}
			for _, r := range runs(at) {
				for _, e := range []contact.End{r.Lo, r.Hi} {
					switch {
					case e.Label < 0 || class(e.Label) != film.Seam:
					case axis == 0:
						meet(at, e.At, spacing*e.Across)
					default:
						meet(e.At, at, spacing*e.Across)
					}
				}
			}
		}
	}
	return seams
}

// nearestPart is the part whose cells' bounds are the nearest to a point.
func nearestPart(parts []*film.Grid, p [2]float64) int {
	best, least := 0, math.Inf(1)
	for i, g := range parts {
		u := max(g.U0-p[0], p[0]-g.U0-float64(g.Nx-1)*g.Cell, 0)
		v := max(g.V0-p[1], p[1]-g.V0-float64(g.Ny-1)*g.Cell, 0)
		if d := math.Hypot(u, v); d < least {
			best, least = i, d
		}
	}
	return best
}

// areaOf is a sheet's area in mm², from a hundred lines through it.
func areaOf(s *contact.Sheet) float64 {
	const lines = 100
	lo, hi := s.Bounds()
	sum := 0.0
	for i := range lines {
		for _, run := range s.Row(lo[1] + (hi[1]-lo[1])*(float64(i)+0.5)/lines) {
			sum += run.Hi.At - run.Lo.At
		}
	}
	return sum * (hi[1] - lo[1]) / lines
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

// name says which pieces meet and where.
func (g *geometry) name(s *site) {
	var lows, highs []string
	for i := range s.lands {
		l := &s.lands[i]
		low, high := s.names(l)
		lows, highs = include(lows, low), include(highs, high)
	}
	slices.Sort(lows)
	slices.Sort(highs)
	s.low, s.high = lows, highs
	switch {
	case slices.Contains(s.pieces(), hubName):
		s.at = atHub
	case math.Abs(s.sheet.Normal[2]) < 0.5:
		s.at = atSides
	case s.lowest < g.layout.Top/2:
		s.at = atBase
	default:
		s.at = atLid
	}
	a, b := group(lows), group(highs)
	// The plate first, the hub last, shell A before shell B.
	if b == "lid" || a == hubName || a > b && strings.HasPrefix(a, "shell ") {
		a, b = b, a
	}
	s.name = a + "/" + b
	if s.at == atSides {
		s.name += map[bool]string{true: " at +x", false: " at -x"}[s.middle()[0] > 0]
	}
}

// names are the bodies below and above a seam crossing. It lies on the edge of both
// faces, where rounding may take it for outside; within half a cell it is not.
func (s *site) names(l *film.Land) (low, high string) {
	h := s.grid.Cell / 2
	for _, d := range [...][2]float64{{0, 0}, {h, 0}, {-h, 0}, {0, h}, {0, -h}} {
		if low, high = s.sheet.Names(l.U+d[0], l.V+d[1]); low != "" {
			break
		}
	}
	return low, high
}

func include(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// group is what a set of pieces is called together.
func group(names []string) string {
	if len(names) > 1 && strings.HasPrefix(names[0], shellPrefix) {
		return "shells"
	}
	return mold.Title(strings.Join(names, " and "))
}

// middle is the seam's middle.
func (s *site) middle() mesh.Vec {
	var p mesh.Vec
	for i := range s.lands {
		p = p.AddScaled(1/float64(len(s.lands)), s.point(&s.lands[i]))
	}
	return p
}

// order sorts the lines as they are met at the bench: base, lid, sides, hub.
func (g *geometry) order() {
	slices.SortStableFunc(g.sites, func(a, b *site) int {
		if a.at != b.at {
			return int(a.at) - int(b.at)
		}
		return strings.Compare(a.name, b.name)
	})
}

// rings gives registers and clearances about the hub to their lines.
func (g *geometry) rings(bodies []contact.Body) {
	settings := contact.Settings{MaxGap: WidestGap, Mating: func(roles []string) bool {
		return anyRole(roles, []string{mold.RoleRegister, mold.RoleLand, hub.RoleKeepOut, hub.RoleBond})
	}}
	for _, r := range contact.Rings(bodies, settings) {
		for _, s := range g.sites {
			pieces := s.pieces()
			if s.at != atHub || !slices.Contains(pieces, r.Inner) || !slices.Contains(pieces, r.Outer) {
				continue
			}
			switch {
			case slices.Contains(r.InnerRoles, mold.RoleRegister):
				s.after = append(s.after, r)
			case anyRole(r.OuterRoles, []string{mold.RoleLand}):
				s.entry = append(s.entry, r)
			}
		}
	}
}
