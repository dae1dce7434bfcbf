package drawing

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/flash"
)

// flat is a flat face of a piece that is to lie on another, seen along its normal.
type flat struct {
	piece  string
	toward bool    // it looks at the viewer
	height float64 // over the view's plane, toward the viewer, mm
	roles  []string
	border []stroke
}

// parallel is the cosine from which two directions are one, as in mesh/solid.
const parallel = 1 - 1e-12

// mates tells by its roles whether a flat face may lie on another piece's: the floor of
// a cup and the roof in its lid bear the hub's ends beside the rubber.
func mates(roles []string) bool {
	return flash.Mates(roles) || slices.Contains(roles, mold.RoleTreadFace) || slices.Contains(roles, mold.RoleCeiling)
}

// flats are the mating faces of a piece that lie parallel to the view's plane.
func flats(name string, b *brep.Boundary, v outline.View) []flat {
	var out []flat
	edges := beyond{b: b}
	for i, f := range b.Faces {
		n := f.Carrier.Frame.Z.Dot(v.W())
		if f.Carrier.Kind != solid.Plane || math.Abs(n) < parallel || !mates(f.Roles) {
			continue
		}
		along := n > 0
		x := flat{piece: name, roles: f.Roles, toward: along != f.Negative, height: n*f.Carrier.D - v.O.Dot(v.W())}
		for _, e := range f.Edges {
			// The face is on the left if seen against the carrier's normal.
			x.border = append(x.border, strokesOf(v, b, brep.FaceEdge{Edge: e.Edge, Reversed: e.Reversed == along}, edges.kind(e.Edge, i))...)
		}
		out = append(out, x)
	}
	return out
}

// beyond says what lies beyond the edges of a boundary's faces.
type beyond struct {
	b       *brep.Boundary
	patches map[int][]*solid.Patch // by carrier
}

// kind is what lies beyond an edge of face i. The face beyond may have more than one
// role; those count that it has at the edge.
func (x *beyond) kind(e *brep.Edge, i int) string {
	var f *brep.Face
	for _, h := range e.Half {
		if h.Face != i {
			f = x.b.Faces[h.Face]
		}
	}
	if f == nil {
		return flash.ExitNeighbor
	}
	if len(f.Roles) < 2 {
		return flash.ExitKind(f.Roles)
	}
	if x.patches == nil {
		x.patches = map[int][]*solid.Patch{}
		for _, l := range x.b.Root.Leaves() {
			for k := range l.Patches {
				p := &l.Patches[k]
				x.patches[p.Carrier.ID] = append(x.patches[p.Carrier.ID], p)
			}
		}
	}
	var here []string
	for _, p := range x.patches[f.Carrier.ID] {
		if slices.Contains(f.Roles, p.Role) && p.Holds(e.Mid, touch) {
			here = append(here, p.Role)
		}
	}
	if len(here) == 0 {
		here = f.Roles
	}
	return flash.ExitKind(here)
}

// rank orders what lies beyond an edge, the seam last.
func rank(kind string) int {
	switch kind {
	case "":
		return 2
	case flash.ExitNeighbor:
		return 0
	}
	return 1
}

func higher(a, b string) string {
	if rank(b) > rank(a) {
		return b
	}
	return a
}

// joint is where mating faces lie on each other, or face each other across a gap: its
// borders, each closed, with what lies beyond.
type joint [][]stroke

// jointOf is where faces that look at the viewer have faces of other pieces before
// them.
func jointOf(low, high []flat) joint {
	var out joint
	for i := range low {
		for k := range high {
			a, b := &low[i], &high[k]
			if gap := b.height - a.height; a.piece != b.piece && a.toward && !b.toward && gap > -touch && gap < flash.WidestGap {
				out = append(out, runs(overlap(a.border, b.border))...)
			}
		}
	}
	return out
}

// strokes are those of one kind, or of all but the seam.
func (j joint) strokes(wanted func(kind string) bool) []stroke {
	var out []stroke
	for _, r := range j {
		for _, s := range r {
			if wanted(s.kind) {
				out = append(out, s)
			}
		}
	}
	return out
}

func onSeam(kind string) bool     { return kind == "" }
func atNeighbor(kind string) bool { return kind == flash.ExitNeighbor }
func atExit(kind string) bool     { return rank(kind) == 1 }

func (j joint) region() outline.Region {
	var out outline.Region
	for _, r := range j {
		out = append(out, pathOf(r))
	}
	return out
}

// that are the connected parts of a joint that are wanted, each an outer border
// with its holes.
func (j joint) that(wanted func(part joint) bool) joint {
	var outer, holes []int
	paths := j.region()
	area := func(i int) float64 { return paths[i : i+1].Area() }
	for i := range j {
		if area(i) > 0 {
			outer = append(outer, i)
		} else {
			holes = append(holes, i)
		}
	}
	parts := map[int]joint{}
	for _, i := range outer {
		parts[i] = joint{j[i]}
	}
	for _, h := range holes { // it belongs to the least outer border around it
		best, least := -1, math.Inf(1)
		for _, i := range outer {
			if a := area(i); a < least && paths[i:i+1].Contains(j[h][0].At(.5)) {
				best, least = i, a
			}
		}
		if best >= 0 {
			parts[best] = append(parts[best], j[h])
		}
	}
	var out joint
	for _, i := range outer {
		if wanted(parts[i]) {
			out = append(out, parts[i]...)
		}
	}
	return out
}

// onBench is the view of a piece as it lies on the bench, seen from above. The
// view's plane goes through the point given; the drawing's origin is the foot of the
// mold's there.
func onBench(p *mold.Piece, through mesh.Vec) outline.View {
	t := p.Pose.Turn
	return outline.View{O: t[2].Scale(t[2].Dot(through)), U: t[0], V: t[1]}
}

// lying is the first of a mold's pieces that lies on the bench with a face on which
// the given direction stands upright or upside down.
func lying(m *mold.Mold, names []string, normal mesh.Vec) (mold.Piece, bool) {
	for _, p := range m.Pieces {
		if slices.Contains(names, p.Name) && p.Pull.Norm() > 0 && math.Abs(p.Pose.Turn[2].Dot(normal)) > parallel {
			return p, true
		}
	}
	return mold.Piece{}, false
}
