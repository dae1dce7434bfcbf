package machining

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
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
	up, out := mesh.Vec{0, 0, 1}, mesh.Vec{at[0], at[1], 0}
	open := func(r float64) bool { // there may be a pin on the axis
		p := mesh.Vec{0, 0, at[2]}.AddScaled(r, out.Unit())
		return !b.look(p, up).blocked || !b.look(p, up.Scale(-1)).blocked
	}
	switch {
	case !open(aside) && !open(out.Norm()/2):
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
			return Change{Hint: "no straight tool gets there: ask the shop for an undercutting one", With: []string{k}}
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

// room is the largest value that a key may have in the job, +Inf for one without limits.
func (b *bench) room(path string) float64 {
	all := params.Keys()
	i := slices.IndexFunc(all, func(k params.Key) bool { return k.Path == path })
	if i < 0 {
		return math.Inf(1)
	}
	_, hi := all[i].Range(b.m.Job)
	return hi
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
	if r := ballRadius(b.m.Job); slices.Contains(f.Roles, mold.RoleTread) && w.Edge == "round" && math.Abs(c.Radius-w.EdgeSize) < 1e-2 && r > 0 && r <= b.room("wheel.edge_size") {
		out.Key, out.Value, out.Allowed = "wheel.edge_size", mm(w.EdgeSize), "at least "+mm(r)
		out.With = []string{"machining.cutter"}
		out.Usual = len(b.m.Job.Unstated("wheel.edge_size")) > 0 && commonSet(b.m.Job) // nobody asked for either
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
	case c.Radius == 0 && len(b.m.Job.Machining.Cutters) == 0:
		return Change{Hint: "a cutter leaves its own radius; finish by hand what has to be sharp", Usual: true}
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

// Drills longer than common ones, in diameters: those of extra length, which shops have,
// and gun drills, which some do. Assumed.
const (
	longDrill = 20
	gunDrill  = 40
)

// wider says how a hole is drilled that is deeper than a twist drill goes. No value of the
// job is proposed: a larger screw for the drill's sake would be odd, and may not fit.
func (b *bench) wider(x *Deep) Change {
	if x.Roles[0] == mold.RoleJack {
		return b.opened(x)
	}
	c := Change{Hint: "a long drill, in steps, after a short one has begun the hole", Usual: x.Ratio() <= longDrill}
	if !c.Usual {
		c.Hint = "a gun drill; or wider, or shallower"
	}
	key := keyOf[x.Roles[0]]
	for i := range b.m.Split.Cuts {
		if k := &b.m.Split.Cuts[i]; k.Group == x.Name {
			key = k.Path
			break
		}
	}
	switch {
	case x.Roles[0] == hub.RoleKeepOut && x.Name == "bore":
		key = "hub.bore"
	case x.Roles[0] == hub.RoleKeepOut:
		key = "hub.bolts.hole"
	}
	if key != "" {
		c.With = []string{key}
	}
	return c
}

// opened says how a screw's deep clearance is drilled: opened by a wider drill from its own
// end, where there is room around it, until no more is left than a drill of its diameter goes.
func (b *bench) opened(x *Deep) Change {
	const step = 2 // mm that the wider part is wider at least
	deep := math.Ceil(x.Depth - x.Reach - 1e-6)
	wide := math.Ceil(max(x.Diameter+step, deep/drillDepth))
	c := Change{Hint: "a gun drill", Usual: x.Ratio() <= gunDrill}
	if b.roomAround(x, wide, deep) {
		c.Hint = fmt.Sprintf("open it to %s from the outside, %s deep, and drill the rest with an extended drill; or a gun drill all the way", mm(wide), mm(deep))
		c.Usual = true
	}
	return c
}

// roomAround tells whether a hole may be made wider down to a depth: a wall of the process's
// own stays around it.
func (b *bench) roomAround(x *Deep, wide, deep float64) bool {
	const turns, levels = 8, 8
	i := slices.IndexFunc(b.holes, func(h holes.Hole) bool { return h.Name == x.Name && h.At == x.At })
	if i < 0 {
		return false
	}
	h := &b.holes[i]
	f := solid.AxisFrame(h.At, h.Dir)
	need := (wide-x.Diameter)/2 + b.m.Job.Process.MinWall - stepIn
	for k := range turns {
		s, c := math.Sincos(2 * math.Pi * float64(k) / turns)
		out := mesh.Vec{}.AddScaled(c, f.X).AddScaled(s, f.Y)
		for l := range levels {
			p := h.At.AddScaled(deep*(float64(l)+.5)/levels, h.Dir).AddScaled(x.Diameter/2+stepIn, out)
			if w := b.look(p, out); !w.inside || w.rest < need {
				return false
			}
		}
	}
	return true
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
	if f, ok := params.FastenerOf(q.Size); ok && 2*grip+f.Diameter <= longest*f.Diameter && grip <= b.room("mold.side_clamp.grip") {
		c.Key, c.Value, c.Allowed, c.Hint = "mold.side_clamp.grip", mm(q.Grip), "at least "+mm(grip), "with longer screws; or "+c.Hint
	} else {
		c.Key, c.Value, c.Allowed, c.Hint = "mold.side_clamp.kind", quote(q.Kind), quote("strap"), "or "+c.Hint
	}
	return c
}

// longer says which cutter gets to the bottom of a wall, or which side it does so from.
func (b *bench) longer(x *Deep, f *face, short func(k int) bool) Change {
	var left []int
	for k := range f.spots {
		if short(k) {
			left = append(left, k)
		}
	}
	c := b.extended(x, b.narrowest(f, left))
	if aboutAxis(f) {
		if way := b.boring(x.At); way != "" {
			c.Hint, c.Usual = or(way, c.Hint), true
		}
	}
	if from := b.wouldReach(f, left, b.long); len(from) > 0 {
		tool := "or a cutter that reaches " + mm(math.Ceil(x.Depth))
		c = b.open(f, from)
		c.Hint, c.With = tool, []string{"machining.cutter"}
	}
	return c
}

// extended says which cutter gets down beside a wall, where the next wall across leaves it
// a width. A stout one on an extension is usual, unless the job states what the shop has.
func (b *bench) extended(x *Deep, width float64) Change {
	const (
		stout   = 6  // diameters that a cutter on an extension reaches: common practice
		largest = 32 // mm, of cutters for pockets that most shops have: assumed
	)
	c := Change{Key: "machining.cutter", Allowed: "one that reaches " + mm(math.Ceil(x.Depth)), Hint: "a longer one, in light cuts"}
	switch wide := math.Ceil(x.Depth / stout); {
	case wide <= largest && wide <= width:
		c.Hint = fmt.Sprintf("one of %s or more on an extension, in light cuts", mm(wide))
		c.Usual = commonSet(b.m.Job)
	case x.Depth > b.room("machining.cutter.reach"):
		c = Change{Hint: "no cutter reaches that far: ask the shop how the piece may be parted"}
	}
	return c
}

// commonSet tells whether the job's cutters are those that are assumed: a shop that states its
// own has no others.
func commonSet(j *params.Job) bool {
	d, err := params.Default(j.Wheel.Diameter, j.Wheel.Width, j.Hub.Bore, j.Process.Name)
	return err == nil && slices.Equal(d.Machining.Cutters, j.Machining.Cutters)
}

// narrowest is how far what lies across from spots of a face is at least, mm; +Inf where
// nothing does.
func (b *bench) narrowest(f *face, spots []int) float64 {
	out := math.Inf(1)
	for _, k := range spots {
		if g := b.look(f.spots[k].p.AddScaled(stepOut, f.spots[k].n), f.spots[k].n).gap; g > 0 {
			out = min(out, g)
		}
	}
	return out
}

// slender says which cutter gets into a slot.
func (b *bench) slender(x *Deep) Change {
	const longest = 10 // diameters that slender cutters for ribs reach: assumed
	if x.Depth > longest*x.Diameter || x.Diameter < thinnest {
		return Change{Hint: "a wider or shallower gap: no cutter is as slender", With: b.sized(x.Roles)}
	}
	c := Change{Key: "machining.cutter", Allowed: fmt.Sprintf("one of at most %s that reaches %s", mm(math.Floor(x.Diameter*10+1e-6)/10), mm(math.Ceil(x.Depth*10-1e-6)/10)), Hint: "or a wider or shallower gap", With: b.sized(x.Roles)}
	return c
}

// thinnest cutter that shops have, mm: assumed.
const thinnest = 0.5

// sized are the keys that size what bears some roles.
func (b *bench) sized(roles []string) (out []string) {
	for _, r := range roles {
		if k, ok := keyOf[r]; ok {
			out = append(out, k)
		}
	}
	return out
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
	c := Change{Key: "mold.wall", Allowed: "more, until walls have " + mm(least), Hint: "or move one of them, or make it smaller", With: append(b.sized(x.Roles), "process.min_wall")}
	if slices.Contains(x.Roles, mold.RolePry) || slices.Contains(x.Roles, mold.RoleStrap) { // which it does not keep apart
		c.Key, c.Allowed, c.Hint = "", "", strings.TrimPrefix(c.Hint, "or ")
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
