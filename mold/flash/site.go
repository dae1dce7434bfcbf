package flash

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/contact"
	"wheelmold/mesh/solid"
	"wheelmold/mold/flash/film"
)

// A grid has about this many cells, within so many across the least land.
const cells, leastAcross, mostAcross = 20000, 7, 14

// lost is the part of a face that may be too narrow for the grid's cells.
const lost = 0.02

// sitesOn are the parting lines of one sheet: its connected parts that the liquid can
// reach. On a plane along the axis all parts of one line are one, such as those of clam
// halves outside sprue and vent and between them.
func (g *geometry) sitesOn(sheet *contact.Sheet, finer float64) []*site {
	section, exits := g.labeled(sheet)
	grid := g.gridOf(sheet, section, exits, finer)
	owner := g.owner(sheet)
	parts := grid.Split()
	if owner == nil {
		owner = func(u, v float64) int { return nearestPart(parts, [2]float64{u, v}) }
	} else {
		parts = byOwner(parts, owner)
	}
	seams := seamsOf(section, sheet.Frame, exits, owner)
	lo, hi := sheet.Bounds()
	size := max(hi[0]-lo[0], hi[1]-lo[1])
	var out []*site
	for i, part := range parts {
		if part == nil || part.SeamLength() == 0 {
			continue
		}
		s := &site{sheet: sheet, grid: part, exits: exits, size: size}
		if x, ok := seams[i]; ok {
			s.seam, s.lowest, s.highest = x.length, x.lowest, x.highest
		}
		s.lands, s.fromSeam = part.Lands(), part.FromSeam()
		s.straighten()
		if g.name(s); len(s.low) == 0 || len(s.high) == 0 {
			continue // a sliver that no crossing of its seam lies on
		}
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

// classOf is what an edge of a kind does to the film.
func classOf(kind string) film.Class {
	switch kind {
	case "":
		return film.Seam
	case ExitNeighbor, exitBrim:
		return film.Wall
	}
	return film.Exit
}

// gridOf cuts a sheet into cells that resolve its least land.
func (g *geometry) gridOf(sheet *contact.Sheet, section contact.Section, exits []string, finer float64) *film.Grid {
	class := func(label int) film.Class { return classOf(exits[label]) }
	land := g.mold.Job.Mold.Land
	cell := min(max(math.Sqrt(areaOf(sheet)/cells), land/mostAcross), land/leastAcross) / finer
	grid := film.New(section, cell, class)
	for range 2 { // faces narrower than a cell want a finer grid
		if grid.Unresolved() < lost*grid.Area() {
			break
		}
		cell /= 2
		grid = film.New(section, cell, class)
	}
	return grid
}

// owner tells which line a point of a sheet along the axis belongs to, by its place in
// the list of the layout's lines; nil for a sheet across it.
func (g *geometry) owner(sheet *contact.Sheet) func(u, v float64) int {
	if !alongAxis(sheet) {
		return nil
	}
	return func(u, v float64) int { return g.parting(sheet.Frame.Global(mesh.Vec{u, v, 0})) }
}

// parting is the first of the layout's half planes with the line to whose half plane a
// point is the nearest.
func (g *geometry) parting(p mesh.Vec) int {
	best, along := 0, math.Inf(-1)
	partings := g.layout.Partings
	for i := range partings {
		if d := p.Dot(partings[i].Outward()); d > along {
			best, along = i, d
		}
	}
	for i := range partings {
		if partings[i].Line == partings[best].Line {
			return i
		}
	}
	return best
}

// byOwner joins the parts of each owner that the liquid reaches. No part belongs to two:
// around the axis lies the cavity, and what clam halves have below it is of one line.
func byOwner(parts []*film.Grid, owner func(u, v float64) int) []*film.Grid {
	var of [][]*film.Grid
	for _, p := range parts {
		if p.SeamLength() == 0 {
			continue
		}
		c := 0
		for !p.In[c] {
			c++
		}
		k := owner(p.U0+float64(c%p.Nx)*p.Cell, p.V0+float64(c/p.Nx)*p.Cell)
		for len(of) <= k {
			of = append(of, nil)
		}
		of[k] = append(of[k], p)
	}
	out := make([]*film.Grid, len(of))
	for k, ps := range of {
		if len(ps) > 0 {
			out[k] = film.Join(ps)
		}
	}
	return out
}

// exitBrim is an edge that lies as high as the liquid can stand: none of it is left to
// push anything out there.
const exitBrim = "brim"

// labeled is a sheet with what lies beyond its edges, by label. Edges on the mold's
// upper face have a label of their own.
func (g *geometry) labeled(sheet *contact.Sheet) (contact.Section, []string) {
	exits := make([]string, len(sheet.Labels), len(sheet.Labels)+1)
	for i, l := range sheet.Labels {
		exits[i] = ExitKind(l.Roles)
	}
	if !alongAxis(sheet) {
		return sheet, exits
	}
	const touch = 1e-6 // mm
	return &brimmed{sheet, exits, g.layout.Ceil - touch}, append(exits, exitBrim)
}

// brimmed is a sheet whose ways out at a height or above it are told apart.
type brimmed struct {
	*contact.Sheet
	exits []string
	level float64
}

// Row returns the sheet's runs along u at height v.
func (b *brimmed) Row(v float64) []contact.Span {
	return b.tell(b.Sheet.Row(v), func(at float64) mesh.Vec { return mesh.Vec{at, v, 0} })
}

// Col returns the sheet's runs along v at u.
func (b *brimmed) Col(u float64) []contact.Span {
	return b.tell(b.Sheet.Col(u), func(at float64) mesh.Vec { return mesh.Vec{u, at, 0} })
}

func (b *brimmed) tell(runs []contact.Span, place func(at float64) mesh.Vec) []contact.Span {
	for i := range runs {
		for _, e := range []*contact.End{&runs[i].Lo, &runs[i].Hi} {
			if classOf(b.exits[e.Label]) == film.Exit && b.Frame.Global(place(e.At))[2] >= b.level {
				e.Label = len(b.exits)
			}
		}
	}
	return runs
}

// seam is the wetted edge of one part of a sheet: its length and lowest and
// highest points, mm.
type seam struct{ length, lowest, highest float64 }

// seamsOf measures the seam of each part of a sheet. A line meets spacing/across
// of an edge; lines of both directions share it in parts of across². Lines are
// closer than the grids', which lose what is narrower than a cell.
func seamsOf(section contact.Section, frame solid.Frame, exits []string, owner func(u, v float64) int) map[int]seam {
	const lines = 2400 // on either side
	seams := map[int]seam{}
	lo, hi := section.Bounds()
	meet := func(u, v, length float64) {
		k := owner(u, v)
		x, ok := seams[k]
		if !ok {
			x.lowest, x.highest = math.Inf(1), math.Inf(-1)
		}
		z := frame.Global(mesh.Vec{u, v, 0})[2]
		seams[k] = seam{x.length + length, min(x.lowest, z), max(x.highest, z)}
	}
	for axis := range 2 {
		spacing := (hi[axis] - lo[axis]) / lines
		for i := range lines {
			at := lo[axis] + (float64(i)+0.5)*spacing
			runs := section.Col
			if axis == 1 {
				runs = section.Row
			}
			for _, r := range runs(at) {
				for _, e := range []contact.End{r.Lo, r.Hi} {
					switch {
					case e.Label < 0 || classOf(exits[e.Label]) != film.Seam:
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
