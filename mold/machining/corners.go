package machining

import (
	"math"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mesh/region"
	"wheelmold/mold"
)

// cornerSpots is how many points of an edge are asked.
const cornerSpots = 8

// obtuse is the angle in degrees, in the open, from which on an inner edge across the
// tool needs no round.
const obtuse = 120

// corners lists the sharp inner edges by how they lie to the tool, from the direction
// that does best at each of their points.
func (b *bench) corners(us []SetUp) []Corner {
	from := directions(us)
	var out tally
	for _, s := range b.seams {
		f, g := &b.faces[s.face[0]], &b.faces[s.face[1]]
		if !b.inner(&s) {
			continue
		}
		found := map[CornerSort]Corner{}
		each := length(s.edge) / cornerSpots
		for i := range cornerSpots {
			x := b.at(&s, (float64(i)+.5)/cornerSpots)
			sort, depth := b.lies(&s, &x, from)
			if sort == Upright && onOutline(f, g) || sort == Sloped && forLever(f, g) {
				sort = Outline
			}
			if sort != Square && sort != Beyond && (f.hole != nil || g.hole != nil) {
				sort = Drilled
			}
			c := found[sort]
			if c.Count == 0 || i == cornerSpots/2 {
				c.At = x.p
			}
			c.Sort, c.Count, c.Length, c.Depth = sort, 1, c.Length+each, max(c.Depth, depth)
			found[sort] = c
		}
		for _, sort := range []CornerSort{Upright, Sloped, Obtuse, Square, Outline, Drilled, Beyond} {
			if c, ok := found[sort]; ok {
				c.Roles, c.Around = union(f.Roles, g.Roles), around(&s, f, g)
				out.add(c)
			}
		}
	}
	for i := range out {
		b.leave(&out[i])
	}
	slices.SortStableFunc(out, func(x, y Corner) int {
		return slices.Index(cornerOrder, x.Sort) - slices.Index(cornerOrder, y.Sort)
	})
	return out
}

var cornerOrder = []CornerSort{Upright, Sloped, Obtuse, Lathe, Drilled, Square, Outline, Beyond}

// tally adds up corners of one sort between the same faces.
type tally []Corner

func (t *tally) add(c Corner) {
	for i := range *t {
		x := &(*t)[i]
		if x.Sort != c.Sort || x.Around != c.Around || !slices.Equal(x.Roles, c.Roles) {
			continue
		}
		if c.Length/float64(c.Count) > x.Length/float64(x.Count) {
			x.At = c.At
		}
		x.Count, x.Length, x.Depth = x.Count+c.Count, x.Length+c.Length, max(x.Depth, c.Depth)
		return
	}
	*t = append(*t, c)
}

// lies tells how an inner edge lies to the tool from the direction that does best, and how
// far down beside it the tool goes, to its lower end.
func (b *bench) lies(s *seam, x *meeting, from []Direction) (CornerSort, float64) {
	best, depth := Beyond, 0.0
	for _, d := range from {
		if !b.seesCorner(x, d.Dir) {
			continue
		}
		switch how := lie(x, d.Dir); {
		case how == Square, how == Obtuse:
			return how, 0
		case how == Upright && best != Sloped:
			w := max(b.wallBeside(x, 0, d.Dir), b.wallBeside(x, 1, d.Dir)) + x.p.Dot(d.Dir) - min(s.edge.At(s.edge.T0).Dot(d.Dir), s.edge.At(s.edge.T1).Dot(d.Dir))
			if best == Beyond || w < depth {
				best, depth = how, w
			}
		case how == Sloped:
			best, depth = how, 0
		}
	}
	return best, depth
}

// wallBeside is how high the wall of one of the two faces stands over a point of an inner
// edge: beside the edge, for over it another face of the solid may be flush with the other.
func (b *bench) wallBeside(x *meeting, side int, d mesh.Vec) float64 {
	return b.look(x.p.AddScaled(stepIn, x.in[side]).AddScaled(-stepIn, x.n[side]), d).rest
}

// onOutline tells whether one of two faces is on the outside and none meets another piece,
// or both are those of a slot for a lever.
func onOutline(f, g *face) bool {
	all := union(f.Roles, g.Roles)
	return slices.Contains(all, mold.RoleOuter) && !slices.Contains(all, mold.RoleParting) || forLever(f, g)
}

// forLever tells whether both faces are those of a slot for a lever, which fits it anyhow.
func forLever(f, g *face) bool {
	return slices.Equal(union(f.Roles, g.Roles), []string{mold.RolePry})
}

// around tells whether an edge runs around the wheel's axis between faces that turn about it.
func around(s *seam, f, g *face) bool {
	c := s.edge.Center
	return s.edge.Shape == region.Circle && math.Hypot(c[0], c[1]) < stepOut && aboutAxis(f) && aboutAxis(g)
}

// inner tells whether an edge is an inner one that matters: marks have tools of their own.
func (b *bench) inner(s *seam) bool {
	x := b.at(s, .5)
	return x.hollow() && !b.faces[s.face[0]].mark && !b.faces[s.face[1]].mark
}

// squareFrom are the candidates from which points of inner edges come out sharp that something
// sits in.
func (b *bench) squareFrom() []set {
	var out []set
	for _, s := range b.seams {
		if !b.inner(&s) || onOutline(&b.faces[s.face[0]], &b.faces[s.face[1]]) {
			continue
		}
		for i := range cornerSpots {
			x := b.at(&s, (float64(i)+.5)/cornerSpots)
			var m set
			for k, c := range b.list {
				if c.declared && lie(&x, c.Dir) == Square && b.seesCorner(&x, c.Dir) {
					m |= 1 << k
				}
			}
			if m != 0 && !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	return out
}

// seesCorner tells whether a tool from d gets to both faces beside an inner edge.
func (b *bench) seesCorner(x *meeting, d mesh.Vec) bool {
	if x.n[0].Dot(d) < -upright || x.n[1].Dot(d) < -upright {
		return false
	}
	return !b.look(x.p.AddScaled(stepOut, x.n[0]).AddScaled(stepOut, x.n[1]), d).blocked
}

// lie tells how an edge lies to a tool from d. A flat end has a square corner itself: it
// fills an edge across the tool of which one face is level or falls off from the edge.
// Into one as wide as obtuse a ball end of radius r leaves 0.15 r at most, which is
// r/sin(120°/2) - r; and the straight flanks of chamfer mills and boring bars fit it.
func lie(x *meeting, d mesh.Vec) CornerSort {
	switch c := math.Abs(x.dir.Dot(d)); {
	case c > 1-upright:
		return Upright
	case c < upright && (x.in[0].Dot(d) < upright || x.in[1].Dot(d) < upright):
		return Square
	case 360-x.bend > obtuse-smooth:
		return Obtuse
	}
	return Sloped
}

// leave finds what the cutter leaves in corners, and what to change.
func (b *bench) leave(c *Corner) {
	list := b.m.Job.Machining.Cutters
	r := math.Inf(1)
	for _, k := range list {
		switch {
		case c.Sort == Upright && k.Reach >= min(c.Depth, b.long)-sameRadius, c.Sort == Sloped && ball(k):
			r = min(r, k.Diameter/2)
		}
	}
	if !math.IsInf(r, 1) {
		c.Radius = r
	}
	if c.Sort == Upright || c.Sort == Sloped {
		c.Change = b.relieve(c)
	}
}

// union of roles, sorted.
func union(a, b []string) []string {
	out := append(slices.Clone(a), b...)
	slices.SortFunc(out, strings.Compare)
	return slices.Compact(out)
}
