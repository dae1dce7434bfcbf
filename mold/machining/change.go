package machining

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wheelmold/hub"
	"wheelmold/mold"
	"wheelmold/params"
)

func mm(v float64) string { return params.Millimeters(v) }

func degrees(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'g', -1, 64) + " deg" }

// keyOf is the value of the job that sizes what bears a role.
var keyOf = map[string]string{
	mold.RoleBall: "mold.balls.diameter", mold.RoleBolt: "mold.bolts.size", mold.RolePry: "mold.pry_slots.width",
	mold.RoleJack: "mold.jacks.size", mold.RoleSprue: "mold.sprue.gate", mold.RoleVent: "mold.vents.diameter",
	mold.RoleStrap: "mold.side_clamp.strap_depth", mold.RoleCeiling: "mold.ceiling.shape", mold.RoleLand: "hub.offset",
	hub.RoleLock: "hub.lock_holes.diameter",
}

// open says how a hidden face comes into reach.
func (b *bench) open(f *face, reaches []Direction) Change {
	q := &b.m.Job.Machining
	if b.piece.Kind == mold.Hub {
		return mouthOf(f.Roles)
	}
	if len(reaches) == 0 {
		return b.undercut(f)
	}
	var names []string
	most := inside
	for _, d := range reaches {
		names = append(names, d.Name)
		most = max(most, b.list[b.index(d)].side)
	}
	c := Change{Hint: "it is reached from " + strings.Join(names, " and ")}
	switch {
	case b.piece.Kind == mold.Plate && slices.ContainsFunc(reaches, func(d Direction) bool { return math.Abs(d.Dir[2]) < upright }):
		c.Hint += ", in one more clamping"
	case b.piece.Kind == mold.Plate:
		c.Key, c.Value, c.Allowed = "machining.plates_from", quote(q.PlatesFrom), quote(params.FromBoth)
	case most == outside:
		c.Key, c.Value, c.Allowed = "machining.shells_from", quote(q.ShellsFrom), quote(params.FromAll)
	default:
		c.Key, c.Value, c.Allowed = "machining.shells_from", quote(q.ShellsFrom), quote(params.FromInsideAndEnds)
	}
	return c
}

func quote(s string) string { return strconv.Quote(s) }

// undercut says how a face becomes one that some direction reaches.
func (b *bench) undercut(f *face) Change {
	m := &b.m.Job.Mold
	rubber := slices.ContainsFunc(f.Roles, func(r string) bool { return r == mold.RoleTread || r == mold.RoleTreadFace || r == mold.RoleCeiling })
	switch {
	case rubber && m.Split != params.SplitFour:
		return Change{Key: "mold.split", Value: quote(m.Split), Allowed: quote(params.SplitFour),
			Hint: "its shells are open to the side; or no grooves and edges that close over the cavity", With: []string{"wheel.groove", "wheel.edge_size"}}
	case rubber && b.m.Job.Wheel.Cross.Count > 0:
		return Change{Key: "mold.segments", Value: strconv.Itoa(m.Segments), Allowed: "more", Hint: "or fewer or more slanted cross grooves", With: []string{"wheel.cross.flank", "wheel.cross.count"}}
	}
	for _, r := range f.Roles {
		if k, ok := keyOf[r]; ok {
			return Change{Key: k, Hint: "no straight tool gets there: ask the shop for an undercutting one"}
		}
	}
	return Change{Hint: "no straight tool gets there: ask the shop for an undercutting one"}
}

// ballRadius is the radius of the smallest ball end, 0 if there is none.
func ballRadius(j *params.Job) float64 {
	out := 0.0
	for _, c := range j.Machining.Cutters {
		if r := c.CornerRadius; ball(c) && (out == 0 || r < out) {
			out = r
		}
	}
	return out
}

// rounder says which radius or cutter would do for an inner radius.
func (b *bench) rounder(f *face, c *Concave) Change {
	w := &b.m.Job.Wheel
	tool := fmt.Sprintf("a ball end of %s", mm(2*c.Radius))
	if c.Along {
		tool = fmt.Sprintf("a cutter of %s that reaches %s", mm(2*c.Radius), mm(c.Depth))
	}
	out := Change{Key: "machining.cutter", Hint: "or " + tool}
	if r := ballRadius(b.m.Job); slices.Contains(f.Roles, mold.RoleTread) && w.Edge == "round" && math.Abs(c.Radius-w.EdgeSize) < 1e-2 && r > 0 {
		out.Key, out.Value, out.Allowed = "wheel.edge_size", mm(w.EdgeSize), "at least "+mm(r)
		out.With = []string{"machining.cutter"}
	} else {
		out.Hint = tool
	}
	return out
}

// relieve says what becomes of a sharp inner edge that a cutter rounds.
func (b *bench) relieve(c *Corner) Change {
	has := func(r string) bool { return slices.Contains(c.Roles, r) }
	switch {
	case c.Radius == 0:
		return Change{Key: "machining.cutter", Hint: "none of the cutters gets there: finish it by hand or by spark erosion"}
	case has(mold.RoleTread) || has(mold.RoleTreadFace) || has(mold.RoleCeiling):
		return Change{Hint: fmt.Sprintf("the rubber's edge there comes out round by %s; ask for spark erosion where it must be sharp", mm(c.Radius))}
	case c.Sort == Upright:
		return Change{Hint: fmt.Sprintf("round it by %s or more, or relieve it by a hole of %s", mm(c.Radius*(1+b.m.Job.Machining.CornerMargin)), mm(2*c.Radius))}
	}
	return Change{Hint: fmt.Sprintf("a fillet of %s stays; scrape it where another part has to sit", mm(c.Radius))}
}

// wider says which diameter a drill of a hole's depth needs.
func (b *bench) wider(x *Deep) Change {
	c := Change{Key: keyOf[x.Roles[0]], Allowed: "a hole of at least " + mm(math.Ceil(x.Depth-1e-6)/drillDepth), Hint: "or a long drill, in steps, after a short one has begun the hole"}
	for i := range b.m.Split.Cuts {
		if k := &b.m.Split.Cuts[i]; k.Group == x.Name {
			c.Key = k.Path
			break
		}
	}
	if x.Roles[0] == hub.RoleKeepOut {
		c.Key = "hub.bolts.hole"
		if x.Name == "bore" {
			c.Key = "hub.bore"
		}
	}
	return c
}

// longer says which cutter gets to the bottom of a wall.
func longer(x *Deep) Change {
	return Change{Key: "machining.cutter", Allowed: "one that reaches " + mm(math.Ceil(x.Depth)), Hint: "or cut it from another side"}
}

// slender says which cutter gets into a slot.
func (b *bench) slender(x *Deep) Change {
	c := Change{Key: "machining.cutter", Allowed: fmt.Sprintf("one of at most %s that reaches %s", mm(math.Floor(x.Diameter*10+1e-6)/10), mm(math.Ceil(x.Depth*10-1e-6)/10)), Hint: "or a wider or shallower gap"}
	for _, r := range x.Roles {
		if k, ok := keyOf[r]; ok {
			c.With = append(c.With, k)
		}
	}
	return c
}

// thicker says what makes a wall thicker.
func (b *bench) thicker(x *Thin) Change {
	j := b.m.Job
	switch {
	case b.piece.Kind == mold.Hub:
		return Change{Key: "hub.body_diameter", Allowed: "walls of at least " + mm(j.Process.MinWall), With: []string{"process.min_wall"}}
	case slices.Contains(x.Roles, mold.RoleTread) && x.Height > 0:
		return Change{Key: "wheel.groove", Allowed: fmt.Sprintf("at least %s wide", mm(math.Ceil(x.Height/slenderest*10)/10)), Hint: "or shallower; a slender rib gives way under the cutter", With: []string{"wheel.cross.width"}}
	case slices.Contains(x.Roles, mold.RoleTread):
		return Change{Key: "wheel.groove", Allowed: "at least " + mm(j.Process.MinWall) + " wide", With: []string{"wheel.cross.width", "process.min_wall"}}
	case x.Height > 0:
		return Change{Hint: "cut it in steps from the top down, both sides in turn"}
	}
	c := Change{Key: "mold.wall", Allowed: "walls of at least " + mm(j.Process.MinWall), With: []string{"process.min_wall"}}
	for _, r := range x.Roles {
		if k, ok := keyOf[r]; ok {
			c.Key = k
			break
		}
	}
	return c
}

// blunter says what keeps an edge from being a blade.
func (b *bench) blunter(x *Thin) Change {
	w := &b.m.Job.Wheel
	if slices.Contains(x.Roles, mold.RoleTread) && w.Edge == "round" {
		return Change{Key: "wheel.edge", Value: quote(w.Edge), Allowed: `"chamfer" or "square"`,
			Hint: "or stone the edge flat by 0.1 mm, which leaves a line around the rubber", With: []string{"mold.split"}}
	}
	return Change{Hint: "break it by 0.1 mm"}
}
