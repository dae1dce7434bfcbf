package machining

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh"
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

// boring says how else a shop makes what turns about the wheel's axis at a place, if a bar
// gets in along the axis from one of the ends; "" if none does.
func (b *bench) boring(at mesh.Vec) string {
	const aside = 0.5 // mm off the axis, into the piece, which may end there
	p := mesh.Vec{0, 0, at[2]}.AddScaled(aside, mesh.Vec{at[0], at[1], 0}.Unit())
	up := mesh.Vec{0, 0, 1}
	switch {
	case b.look(p, up).blocked && b.look(p, up.Scale(-1)).blocked:
		return ""
	case b.piece.Kind == mold.Shell:
		return "bore or turn it with the shells clamped together"
	}
	return "bore or turn it"
}

// or joins two ways, of which the first may be missing.
func or(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", or " + b
}

// open says how a hidden face comes into reach.
func (b *bench) open(f *face, reaches []Direction) Change {
	q := &b.m.Job.Machining
	if b.piece.Kind == mold.Hub {
		return b.mouthOf(f.Roles)
	}
	if len(reaches) == 0 {
		return b.undercut(f)
	}
	most := inside
	for _, d := range reaches {
		most = max(most, b.list[b.index(d)].side)
	}
	var c Change
	switch {
	case b.piece.Kind == mold.Plate && slices.ContainsFunc(reaches, func(d Direction) bool { return math.Abs(d.Dir[2]) < upright }):
		c.Hint = "in one more clamping, from " + reaches[0].Name
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
			Hint: "its shells are open to the side; or no grooves and edges that close over the cavity", With: b.has("wheel.groove", "wheel.edge_size")}
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

// has leaves of some keys those that the job has: those of what it has none of would help
// nobody.
func (b *bench) has(keys ...string) (out []string) {
	w := &b.m.Job.Wheel
	for _, k := range keys {
		switch {
		case k == "wheel.groove" && len(w.Grooves) == 0, strings.HasPrefix(k, "wheel.cross.") && w.Cross.Count == 0,
			k == "wheel.edge_size" && w.EdgeSize == 0, k == "hub.bearing_back.diameter" && b.m.Job.Hub.BearingBack.Diameter == 0,
			k == "hub.bearing_front.diameter" && b.m.Job.Hub.BearingFront.Diameter == 0, k == "hub.seat.diameter" && b.m.Job.Hub.Seat.Diameter == 0:
			continue
		}
		out = append(out, k)
	}
	return out
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

// largestBall is the diameter in mm above which nobody looks for a ball end: any will do.
const largestBall = 32

// rounder says which radius or cutter would do for an inner radius.
func (b *bench) rounder(f *face, c *Concave) Change {
	w := &b.m.Job.Wheel
	tool := "a ball end"
	if largest := 2 * c.Radius; largest < largestBall {
		tool += " of at most " + mm(largest)
	}
	switch {
	case c.Along:
		tool = fmt.Sprintf("a cutter of at most %s that reaches %s", mm(2*c.Radius), mm(math.Ceil(c.Depth*10-1e-6)/10))
	case aboutAxis(f):
		tool = or(b.boring(c.At), tool)
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
	rubber := has(mold.RoleTread) || has(mold.RoleTreadFace) || has(mold.RoleCeiling)
	stays := "a ball end leaves a fillet of " + mm(c.Radius)
	if rubber {
		stays = fmt.Sprintf("from a ball end the rubber's edge there comes out round by %s", mm(c.Radius))
	}
	switch {
	case c.Around: // sharp, but for the nose of the tool
		return Change{Hint: or(b.boring(c.At), "cut it with a T-slot cutter") + "; " + stays}
	case c.Radius == 0 && c.Sort == Upright:
		return Change{Key: "machining.cutter", Hint: "one that gets down there leaves its own radius; finish by hand what has to be sharp"}
	case c.Radius == 0:
		return Change{Key: "machining.cutter", Hint: "a ball end leaves its own radius; finish by hand what has to be sharp"}
	case rubber:
		return Change{Hint: fmt.Sprintf("the rubber's edge there comes out round by %s; where it must be sharp, finish it with a smaller cutter or a graver", mm(c.Radius))}
	case c.Sort == Upright:
		return Change{Hint: fmt.Sprintf("round it by %s or more, or relieve it by a hole of %s", mm(c.Radius*(1+b.m.Job.Machining.CornerMargin)), mm(2*c.Radius))}
	}
	return Change{Hint: fmt.Sprintf("a fillet of %s stays; scrape it where another part has to sit", mm(c.Radius))}
}

// wider says which diameter a drill of a hole's depth needs.
func (b *bench) wider(x *Deep) Change {
	least := math.Ceil(x.Depth-1e-6) / drillDepth
	if x.Roles[0] == mold.RoleJack { // a larger screw for its clearance's sake would be odd
		return b.opened(x, least)
	}
	c := Change{Key: keyOf[x.Roles[0]], Allowed: "a hole of at least " + mm(least), Hint: "or a long drill, in steps, after a short one has begun the hole"}
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

// opened says how a screw's deep clearance is drilled: opened by a wider drill from its own
// end, until no more is left than a drill of its diameter goes.
func (b *bench) opened(x *Deep, least float64) Change {
	const step = 2 // mm that the wider part is wider at least
	deep := math.Ceil(x.Depth - x.Reach - 1e-6)
	wide := math.Ceil(max(x.Diameter+step, deep/drillDepth))
	return Change{Hint: fmt.Sprintf("open it to %s from the outside, %s deep, and drill the rest with an extended drill; or a clearance of %s all the way", mm(wide), mm(deep), mm(least))}
}

// shallower says what makes a counterbore one that an end mill gets to the floor of.
func (b *bench) shallower(x *Deep) Change {
	c := Change{Key: "machining.cutter", Hint: fmt.Sprintf("an end mill of at most %s that reaches %s, or a counterbore with a pilot on a long shank, after a drill", mm(math.Floor(x.Diameter*10+1e-6)/10), mm(math.Ceil(x.Depth)))}
	i := slices.IndexFunc(b.m.Split.Cuts, func(k mold.Cut) bool { return k.Group == x.Name })
	q := &b.m.Job.Mold.SideClamp
	if i < 0 || !strings.HasPrefix(b.m.Split.Cuts[i].Path, "mold.side_clamp") {
		return c
	}
	// A screw through two grips, and a nut of its diameter.
	const longest = 20 // diameters of a screw that dealers stock: assumed
	c.With = []string{"machining.cutter"}
	grip := math.Ceil(q.Grip + x.Depth - x.Reach)
	if f, ok := params.FastenerOf(q.Size); ok && 2*grip+f.Diameter <= longest*f.Diameter {
		c.Key, c.Value, c.Allowed, c.Hint = "mold.side_clamp.grip", mm(q.Grip), "at least "+mm(grip), "with longer screws; or "+c.Hint
	} else {
		c.Key, c.Value, c.Allowed, c.Hint = "mold.side_clamp.kind", quote(q.Kind), `"lugs" or "strap"`, "or "+c.Hint
	}
	return c
}

// longer says which cutter gets to the bottom of a wall, or which side it does so from.
func (b *bench) longer(x *Deep, f *face, short func(k int) bool) Change {
	c := Change{Key: "machining.cutter", Allowed: "one that reaches " + mm(math.Ceil(x.Depth)), Hint: "a longer one, in light cuts"}
	if aboutAxis(f) {
		c.Hint = or(b.boring(x.At), c.Hint)
	}
	var left []int
	for k := range f.spots {
		if short(k) {
			left = append(left, k)
		}
	}
	if from := b.wouldReach(f, left, b.long); len(from) > 0 {
		tool := "or a cutter that reaches " + mm(math.Ceil(x.Depth))
		c = b.open(f, from)
		c.Hint, c.With = tool, []string{"machining.cutter"}
	}
	return c
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
	least := b.m.Job.Process.MinWall
	ribs := b.has("wheel.groove", "wheel.cross.width") // what grooves in the tread are in the cavity
	rib := slices.Equal(x.Roles, []string{mold.RoleTread}) && len(ribs) > 0
	switch {
	case b.piece.Kind == mold.Hub:
		return Change{Key: "hub.body_diameter", Allowed: "walls of at least " + mm(least), With: []string{"process.min_wall"}}
	case rib && x.Height > 0:
		return Change{Key: ribs[0], Allowed: fmt.Sprintf("at least %s wide", mm(math.Ceil(x.Height/slenderest*10)/10)), Hint: "or shallower; a slender rib gives way under the cutter", With: ribs[1:]}
	case rib:
		return Change{Key: ribs[0], Allowed: "at least " + mm(least) + " wide", With: append(ribs[1:], "process.min_wall")}
	case x.Height > 0:
		return Change{Hint: "cut it in steps from the top down, both sides in turn"}
	}
	c := Change{Key: "mold.wall", Allowed: "walls of at least " + mm(least), With: []string{"process.min_wall"}}
	for _, r := range x.Roles {
		if k, ok := keyOf[r]; ok {
			c.With = []string{k, "process.min_wall"}
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
