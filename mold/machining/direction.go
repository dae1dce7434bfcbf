package machining

import (
	"math"
	"math/bits"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/params"
)

// upright: a direction that leans against a face by less (a sine) runs along it, and one
// that leans so little across another is square to it. Angles of the layout are exact to
// a lattice step over the block, 1e-7.
const upright = 1e-5

// side is where on a piece a direction comes from.
type side uint8

const (
	inside side = iota // the parting face with the cavity
	ends               // across the wheel's axis
	outside
)

// candidate is a direction from which a piece could be cut.
type candidate struct {
	Direction
	side     side
	declared bool
}

// candidates are the directions that a piece's faces suggest: those that the job declares
// first, in a fixed order.
func candidates(j *params.Job, p *mold.Piece, s *region.Solid) []candidate {
	var out []candidate
	add := func(at side, name string, d mesh.Vec) {
		d = d.Add(mesh.Vec{}) // no -0
		for _, c := range out {
			if c.Dir.Dot(d) > 1-upright {
				return
			}
		}
		out = append(out, candidate{Direction{name, d}, at, declares(j, p.Kind, at)})
	}
	in := p.Pull.Scale(-1)
	if p.Kind == mold.Plate {
		add(inside, "the inside", in)
		add(outside, "the outside", p.Pull)
		for _, d := range normals(s, mold.RoleOuter) {
			if math.Abs(d[2]) < upright {
				add(ends, "the side at "+compass(d), d)
			}
		}
	} else {
		flat := normals(s, mold.RoleParting)
		for _, d := range flat { // one face, or two at an angle
			if math.Abs(d[2]) < upright && d.Dot(in) > upright {
				add(inside, partingName(d, in), d)
			}
		}
		add(inside, "the middle of the inside", in)
		add(ends, "the lower end", mesh.Vec{0, 0, -1})
		add(ends, "the upper end", mesh.Vec{0, 0, 1})
		for _, d := range normals(s, mold.RoleOuter) {
			if math.Abs(d[2]) < upright && d.Dot(in) < upright {
				add(outside, "the outside at "+compass(d), d)
			}
		}
		add(outside, "the middle of the outside", p.Pull)
	}
	for _, d := range []mesh.Vec{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}} {
		if p.Kind == mold.Plate {
			add(ends, "the side at "+compass(d), d)
		} else if d.Dot(in) < upright {
			add(outside, "the side at "+compass(d), d)
		}
	}
	slices.SortStableFunc(out, func(a, b candidate) int { return truth(b.declared) - truth(a.declared) })
	return out[:min(len(out), 32)]
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

// declares tells whether the job has pieces of a kind cut from a side. The outer sides of
// a plate count with its ends: they are milled, if at all, when the blank is.
func declares(j *params.Job, k mold.Kind, at side) bool {
	if k == mold.Plate {
		return at == inside || at == outside && j.Machining.PlatesFrom == params.FromBoth
	}
	switch j.Machining.ShellsFrom {
	case params.FromInside:
		return at == inside
	case params.FromInsideAndEnds:
		return at != outside
	}
	return true
}

// partingName tells the one parting face from one of two.
func partingName(d, in mesh.Vec) string {
	if d.Dot(in) > 1-upright {
		return "the parting face"
	}
	return "the parting face at " + compass(d)
}

// compass names a direction across or along the axis: an axis of the mold, or degrees
// from +X.
func compass(d mesh.Vec) string {
	for i, axis := range []string{"x", "y", "z"} {
		switch {
		case d[i] > 1-upright:
			return "+" + axis
		case d[i] < upright-1:
			return "-" + axis
		}
	}
	return degrees(math.Atan2(d[1], d[0]) * 180 / math.Pi)
}

// normals are the directions out of flat faces of a role, in the order of the faces.
func normals(s *region.Solid, role string) []mesh.Vec {
	var out []mesh.Vec
	for _, f := range s.Faces {
		if f.Carrier.Kind != solid.Plane || !slices.Contains(f.Roles, role) {
			continue
		}
		n := outward(f, mesh.Vec{})
		if !slices.ContainsFunc(out, func(d mesh.Vec) bool { return d.Dot(n) > 1-upright }) {
			out = append(out, n)
		}
	}
	return out
}

// set is a set of candidates, by bit.
type set uint32

func (s set) has(i int) bool { return s>>i&1 != 0 }

// meets tells whether s has a direction in common with every one of the sets.
func (s set) meets(all []set) bool {
	return !slices.ContainsFunc(all, func(m set) bool { return s&m == 0 })
}

// fewest returns the smallest part of from that meets every set, the first in the order
// of the candidates where several are as small. Sets that from does not meet at all are
// left out.
func fewest(from set, sets []set) set {
	var all []set
	for _, m := range sets {
		if m &= from; m != 0 && !slices.Contains(all, m) {
			all = append(all, m)
		}
	}
	best := from
	// Directions without which some face is out of reach come first.
	var forced set
	for _, m := range all {
		if bits.OnesCount32(uint32(m)) == 1 {
			forced |= m
		}
	}
	rest := from &^ forced
	for k := rest; ; k = (k - 1) & rest { // every part of rest, from all of it down to none
		s := forced | k
		c := bits.OnesCount32(uint32(s)) - bits.OnesCount32(uint32(best))
		if (c < 0 || c == 0 && earlier(s, best)) && s.meets(all) {
			best = s
		}
		if k == 0 {
			return best
		}
	}
}

// earlier tells of two sets as large which one has the candidate that comes first.
func earlier(s, t set) bool {
	d := s ^ t
	return d != 0 && s&(d&-d) != 0
}

// setUps are the fewest clampings in which a piece is reached: on a plain mill one for
// each direction, on an indexing mill one for all directions across one of the axes.
func setUps(list []candidate, sets []set, axes []mesh.Vec, indexing bool) []SetUp {
	var from set
	for i, c := range list {
		if c.declared {
			from |= 1 << i
		}
	}
	if !indexing {
		var out []SetUp
		for i, s := 0, fewest(from, sets); i < len(list); i++ {
			if s.has(i) {
				out = append(out, SetUp{Name: fromText([]Direction{list[i].Direction}), From: []Direction{list[i].Direction}})
			}
		}
		return out
	}
	across := make([]set, len(axes)) // the directions that turning about an axis offers
	turns := make([]set, len(sets))  // the axes that reach each face
	for a, axis := range axes {
		for i, c := range list {
			if from.has(i) && math.Abs(c.Dir.Dot(axis)) < upright {
				across[a] |= 1 << i
			}
		}
		for k, m := range sets {
			if m&across[a] != 0 {
				turns[k] |= 1 << a
			}
		}
	}
	about := fewest(1<<len(axes)-1, turns)
	var offered set
	for a := range axes {
		if about.has(a) {
			offered |= across[a]
		}
	}
	needed := fewest(offered, sets)
	var out []SetUp
	for a, axis := range axes {
		if !about.has(a) {
			continue
		}
		u := SetUp{Axis: axis}
		for i, c := range list {
			if needed.has(i) && across[a].has(i) {
				u.From = append(u.From, c.Direction)
				needed &^= 1 << i
			}
		}
		if len(u.From) > 0 {
			u.Name = fromText(u.From)
			out = append(out, u)
		}
	}
	return out
}

// fromText names the directions of a clamping; those of one side are told together.
func fromText(from []Direction) string {
	var sides []string
	at := map[string][]string{}
	for _, d := range from {
		side, where, ok := strings.Cut(d.Name, " at ")
		if !slices.Contains(sides, side) {
			sides = append(sides, side)
		}
		if ok {
			at[side] = append(at[side], where)
		}
	}
	for i, side := range sides {
		if w := at[side]; len(w) > 0 {
			sides[i] += " at " + listed(w)
		}
	}
	return "from " + strings.Join(sides, ", ")
}

// listed names things in a row: "a, b and c".
func listed(names []string) string {
	k := len(names) - 1
	if k <= 0 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:k], ", ") + " and " + names[k]
}

// axesOf are a piece's own: the wheel's axis, the way it is drawn off, and the one across
// both; of a plate those of the mold.
func axesOf(p *mold.Piece) []mesh.Vec {
	up := mesh.Vec{0, 0, 1}
	if p.Kind == mold.Plate {
		return []mesh.Vec{{1, 0, 0}, {0, 1, 0}, up}
	}
	return []mesh.Vec{up.Cross(p.Pull).Unit().Add(mesh.Vec{}), p.Pull.Add(mesh.Vec{}), up}
}
