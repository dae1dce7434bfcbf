package flash

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh/contact"
	"wheelmold/mold"
	"wheelmold/mold/flash/film"
)

// place is where a parting line lies in the mold; it decides which seal and
// which clamps it has.
type place int

const (
	atBase  place = iota // under the pieces around the axis
	atLid                // on them, or on a cup
	atSides              // between them
	atHub
)

// hubName is the hub's among the pieces.
const hubName = "hub"

// alongAxis tells whether a sheet lies along the axis.
func alongAxis(s *contact.Sheet) bool { return math.Abs(s.Normal[2]) < 0.5 }

// kind is what a piece is to the mold.
func (g *geometry) kind(piece string) mold.Kind {
	p, _ := g.mold.Piece(piece)
	return p.Kind
}

// name says which pieces meet in a line, and gives it the layout's name.
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
	l := g.layout
	const touch = 1e-3 // mm, far less than from one plane to the next
	switch {
	case slices.ContainsFunc(s.pieces(), func(p string) bool { return g.kind(p) == mold.Hub }):
		s.at, s.name = atHub, g.hubLine(s)
	case alongAxis(s.sheet):
		s.at, s.name = atSides, l.Partings[g.parting(s.point(&s.lands[0]))].Line
	case l.LineLow() != "" && s.lowest < l.SideLow+touch:
		s.at, s.name = atBase, l.LineLow()
	default:
		s.at, s.name = atLid, l.LineTop()
	}
}

// hubLine names a line at one of the hub's ends. Clam halves meet both.
func (g *geometry) hubLine(s *site) string {
	mates := slices.DeleteFunc(s.pieces(), func(p string) bool { return g.kind(p) == mold.Hub })
	name := g.group(mates) + "/" + hubName
	if g.layout.Below != "" {
		return name
	}
	if s.lowest < g.layout.Top/2 {
		return name + " below"
	}
	return name + " above"
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
func (g *geometry) group(names []string) string {
	if len(names) > 1 && g.kind(names[0]) == mold.Shell {
		return g.layout.Around()
	}
	titles := make([]string, len(names))
	for i, n := range names {
		titles[i] = mold.Title(n)
	}
	return strings.Join(titles, " and ")
}

// order sorts the lines as they are met at the bench: base, lid, sides, hub, and the
// hub's lower end first.
func (g *geometry) order() {
	slices.SortStableFunc(g.sites, func(a, b *site) int {
		lower := 0
		if a.at == atHub {
			lower = cmp.Compare(a.lowest, b.lowest)
		}
		return cmp.Or(int(a.at)-int(b.at), lower, strings.Compare(a.name, b.name))
	})
}
