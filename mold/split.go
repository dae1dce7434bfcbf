package mold

import (
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Zone is a region of the block that becomes one piece, and how the piece leaves.
type Zone struct {
	Name string
	Kind Kind
	Body *solid.Node
	Box  mesh.Box
	Pull mesh.Vec // direction in which the piece is drawn off
	Pose Pose     // how it lies on the printing bed or the mill's table
}

// Cut is something taken from every piece that it reaches.
type Cut struct {
	Name  string
	Group string // features of one group may touch: a bolt's hole and its counterbore
	Path  string // the number in the job that moves or sizes it
	Node  *solid.Node
	Box   mesh.Box
	May   []string // groups that it is meant to run into
	Sides bool     // it is meant to break through the outline's sides
	Last  bool     // it also goes through what the piece gains
	Jack  *Jack    // the jack screw whose threaded hole it is
}

// Added is material that a zone's piece gains: a register, a pedestal.
type Added struct {
	Zone string
	Node *solid.Node
}

// Split makes the pieces of a block from zones, cuts and additions: no piece is
// written by hand, so another split is another list of zones.
type Split struct {
	Block *solid.Node
	Zones []Zone
	Cuts  []Cut
	Adds  []Added
}

// reach is the least overlap, mm, on every axis for a cut to concern a zone:
// features that only touch a zone's face leave its piece alone.
const reach = 1e-6

// Piece returns the tree of one zone's piece.
func (s *Split) Piece(z *Zone) *solid.Node {
	var cuts, last []*solid.Node
	for i := range s.Cuts {
		switch c := &s.Cuts[i]; {
		case !overlap(c.Box, z.Box):
		case c.Last:
			last = append(last, c.Node)
		default:
			cuts = append(cuts, c.Node)
		}
	}
	body := solid.Minus(solid.Intersect(s.Block, z.Body), cuts...)
	var adds []*solid.Node
	for _, a := range s.Adds {
		if a.Zone == z.Name {
			adds = append(adds, a.Node)
		}
	}
	if len(adds) > 0 {
		body = solid.Union(append([]*solid.Node{body}, adds...)...)
	}
	return solid.Minus(body, last...)
}

func overlap(a, b mesh.Box) bool { return a.Overlaps(b, -reach) }
