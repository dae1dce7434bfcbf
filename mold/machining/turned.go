package machining

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold/holes"
	"wheelmold/params"
)

// What a lathe is taken to have: common practice for plastic.
const (
	grooving = 1.1 // width in mm of the narrowest tool that cuts grooves: one for retaining rings
	nose     = 0.4 // radius in mm of the tools' noses
)

var spindle = mesh.Vec{0, 0, 1}

// Bits of what a lathe reaches from: either end, and square to the axis from outside,
// which is done in the same clamping as either end.
const (
	fromLow set = 1 << iota
	fromHigh
)

var lathe = []Direction{{"the lower end", mesh.Vec{0, 0, -1}}, {"the upper end", spindle}}

// turn judges a turned piece. Its faces of revolution are looked at in one half plane,
// where a point has a radius and a height; holes beside the axis are drilled.
func (b *bench) turn(p *Piece) {
	body := &bench{m: b.m, sights: &sights{root: bodyOf(b.piece.Raw)}}
	var sets []set
	for i := range b.faces {
		f := &b.faces[i]
		f.spots = b.rim(i).spots(spotsFirst)
		f.reach, f.good = make([]set, len(f.spots)), make([]set, len(f.spots))
		for k, q := range f.spots {
			if aboutAxis(f) {
				f.reach[k] = body.turns(q, slices.Contains(f.Roles, hub.RoleEnd))
			} else if b.drilled(q) {
				f.reach[k] = fromLow | fromHigh
			}
			if m := f.reach[k]; m != 0 && !slices.Contains(sets, m) {
				sets = append(sets, m)
			}
		}
	}
	if b.err == nil {
		b.err = body.err
	}
	needed := fewest(fromLow|fromHigh, sets)
	for i, d := range lathe {
		if needed.has(i) {
			p.SetUps = append(p.SetUps, SetUp{Name: fromText([]Direction{d}), From: []Direction{d}, Axis: spindle})
		}
	}
	turned, apart := len(p.SetUps), b.apart()
	p.By, p.Plain, p.Indexed = Turned, turned+len(apart), turned
	if u := b.dividing(b.holes); len(u.From) > 0 {
		p.Indexed++
		if b.m.Job.Machining.Mill != params.MillPlain {
			apart = []SetUp{u}
		}
		p.SetUps = append(p.SetUps, apart...)
	}
	p.Hidden = gather(b.hidden())
	p.Tight, p.Concave = b.noses()
	p.Deep = slices.Concat(b.deepHoles(), b.grooves())
	p.Thin = b.thin()
	p.Corners = b.turnedCorners()
}

// bodyOf is the turned part of a hub's tree, without what is drilled.
func bodyOf(n *solid.Node) *solid.Node {
	for n.Op == solid.OpMinus {
		n = n.Kids[0]
	}
	return n
}

// aboutAxis tells whether a face is one of revolution about the wheel's axis. Floors of
// drilled holes may be level, too; they are looked at as what they are, parts of a level
// plane.
func aboutAxis(f *face) bool {
	c := f.Carrier
	if c.Frame.Z.Cross(spindle).Norm() > upright {
		return false
	}
	return c.Kind == solid.Plane || math.Hypot(c.Frame.O[0], c.Frame.O[1]) < stepOut
}

// turns tells from where a lathe's tool reaches a spot. An end of the hub is faced from
// there, for what holds it at that end is in the way of any other tool.
func (b *bench) turns(q spot, end bool) (out set) {
	r := math.Hypot(q.p[0], q.p[1])
	e := mesh.Vec{q.p[0] / r, q.p[1] / r, 0}
	flat := spot{p: mesh.Vec{r, 0, q.p[2]}, n: mesh.Vec{q.n.Dot(e), 0, q.n[2]}}
	free := func(d mesh.Vec) bool {
		return flat.n.Dot(d) > -upright && !b.look(flat.p.AddScaled(stepOut, flat.n), d).blocked
	}
	if !end && free(mesh.Vec{1, 0, 0}) {
		return fromLow | fromHigh
	}
	for i, d := range lathe {
		if free(d.Dir) {
			out |= 1 << i
		}
	}
	return out
}

// drilled tells whether a spot is in the open along one of the holes.
func (b *bench) drilled(q spot) bool {
	return slices.ContainsFunc(b.holeWays(), func(d mesh.Vec) bool {
		return q.n.Dot(d) > -upright && !b.look(q.p.AddScaled(stepOut, q.n), d).blocked
	})
}

// holeWays are the directions from which holes beside the axis are drilled.
func (b *bench) holeWays() []mesh.Vec {
	var out []mesh.Vec
	for i := range b.holes {
		d := b.holes[i].Dir.Scale(-1)
		if !slices.ContainsFunc(out, func(e mesh.Vec) bool { return e.Dot(d) > 1-upright }) {
			out = append(out, d)
		}
	}
	return out
}

// apart are the clampings in which a plain mill drills those holes: one for each end, and one
// on a dividing head for all that lie across the axis.
func (b *bench) apart() (out []SetUp) {
	sides := make([][]holes.Hole, 3)
	for _, h := range b.holes {
		k := 2
		if z := h.Dir[2]; math.Abs(z) > 1-upright {
			k = truth(z < 0)
		}
		sides[k] = append(sides[k], h)
	}
	for k, list := range sides {
		u := b.dividing(list)
		if len(u.From) == 0 {
			continue
		}
		if k == 2 {
			u.Name += ", on a dividing head"
		}
		out = append(out, u)
	}
	return out
}

// dividing is the clamping in which holes beside the axis are drilled, if there are any:
// on a dividing head, or on the lathe itself if it has driven tools.
func (b *bench) dividing(list []holes.Hole) SetUp {
	u := SetUp{Axis: spindle}
	var names []string
	radial, angles := 0, []float64(nil)
	ends := map[string]int{}
	for i := range list {
		h := &list[i]
		if h.Central() {
			continue
		}
		d := Direction{"the side at " + compass(h.Dir.Scale(-1)), h.Dir.Scale(-1)}
		if math.Abs(d.Dir[2]) > 1-upright {
			d.Name = lathe[truth(d.Dir[2] > 0)].Name
			ends[d.Name]++
		} else {
			radial++
		}
		if slices.ContainsFunc(u.From, func(e Direction) bool { return e.Dir.Dot(d.Dir) > 1-upright }) {
			continue
		}
		u.From = append(u.From, d)
		if math.Abs(d.Dir[2]) <= 1-upright {
			angles = append(angles, math.Mod(math.Atan2(d.Dir[1], d.Dir[0])*180/math.Pi+360, 360))
		}
	}
	for _, d := range lathe {
		if n := ends[d.Name]; n > 0 {
			names = append(names, count(n, "hole")+" beside the axis from "+d.Name)
		}
	}
	if radial > 0 {
		names = append(names, count(radial, "radial hole")+indexed(angles))
	}
	u.Name = listed(names)
	return u
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// indexed tells by which angle one turns from hole to hole: the least step, if all of the
// others are multiples of it, else where each is. Angles in degrees, from 0 to 360.
func indexed(angles []float64) string {
	const close = 1e-3
	slices.Sort(angles)
	n := len(angles)
	step := 360.0
	for i := range angles {
		if d := math.Mod(angles[(i+1)%n]-angles[i]+360, 360); d > close {
			step = min(step, d)
		}
	}
	even := !slices.ContainsFunc(angles, func(a float64) bool {
		k := (a - angles[0]) / step
		return math.Abs(k-math.Round(k)) > close
	})
	if n > 1 && even {
		return ", indexed by " + degrees(step)
	}
	var at []string
	for _, a := range angles {
		at = append(at, degrees(a))
	}
	return " at " + listed(at)
}

// noses lists the inner radii of the outline that the tool's nose is too blunt for.
func (b *bench) noses() (tight []Concave, smallest *Concave) {
	for i := range b.faces {
		f := &b.faces[i]
		c := f.Carrier
		if !aboutAxis(f) || !f.Negative || c.Kind != solid.Torus && c.Kind != solid.Sphere {
			continue
		}
		x := Concave{Roles: f.Roles, Count: 1, Shape: c.Kind.String(), Radius: c.M, At: f.middle().p}
		if smallest == nil || x.Radius < smallest.Radius {
			smallest = &x
		}
		if x.Radius < nose-sameRadius {
			x.Left = (nose - x.Radius) * (math.Sqrt2 - 1)
			x.Change = Change{Hint: fmt.Sprintf("a tool with a nose of %s or less", mm(x.Radius))}
			tight = append(tight, x)
		}
	}
	return tight, smallest
}

// grooves lists those of the hub that are narrower than the tool for them.
func (b *bench) grooves() []Deep {
	var out []Deep
	j := b.m.Job
	for i, g := range j.Hub.Grooves {
		if g.Width >= grooving-sameRadius {
			continue
		}
		depth := g.Depth
		if g.Shape == "half-round" {
			depth = g.Width / 2
		}
		out = append(out, Deep{Sort: Slot, Roles: []string{hub.RoleBond}, Count: 1, Depth: depth, Diameter: g.Width,
			At: mesh.Vec{b.m.Core.BodyR, 0, b.m.Core.Z0 + b.heightOf(g)},
			Change: Change{Key: fmt.Sprintf("hub.groove[%d].width", i+1), Value: mm(g.Width), Allowed: "at least " + mm(grooving),
				Hint: "or a narrower grooving tool"}})
	}
	return out
}

// heightOf is a groove's middle above the hub's lower face.
func (b *bench) heightOf(g params.Groove) float64 {
	if b.m.Job.Mold.FaceUp == "back" {
		return b.m.Core.Length - g.Position
	}
	return g.Position
}

// turnedCorners lists the sharp inner edges: those of the outline keep the radius of the
// tool's nose, those of drilled holes the drill's shape.
func (b *bench) turnedCorners() []Corner {
	var out tally
	for _, s := range b.seams {
		x := b.at(&s, .5)
		if !x.hollow() {
			continue
		}
		f, g := &b.faces[s.face[0]], &b.faces[s.face[1]]
		c := Corner{Sort: Drilled, Roles: union(f.Roles, g.Roles), Count: 1, Length: length(s.edge), At: x.p}
		if around(&s, f, g) {
			c.Sort, c.Around, c.Radius = Lathe, true, nose
		}
		out.add(c)
	}
	return out
}

// mouthOf is what narrows a bore in front of a wider place in a hub.
func (b *bench) mouthOf(roles []string) Change {
	c := Change{Hint: "the shop needs a tool that reaches around the corner"}
	if wide := b.has("hub.seat.diameter", "hub.bearing_back.diameter", "hub.bearing_front.diameter"); slices.Contains(roles, hub.RoleKeepOut) && len(wide) > 0 {
		c = Change{Key: wide[0], Hint: "no wider place behind a narrower one, or a boring bar that reaches around its lip", With: wide[1:]}
	}
	return c
}
