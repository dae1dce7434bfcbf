package mold

import (
	"fmt"
	"math"
	"strings"

	"wheelmold/mesh"
	"wheelmold/params"
)

// announce refuses what the geometry cannot carry although each number is in
// its range, before any surface is computed.
func announce(j *params.Job, m *Mold) params.Faults {
	a := &announcer{j: j, m: m}
	a.seal()
	a.hubEnds()
	a.lockTouches()
	a.crossRelease()
	a.channels()
	a.partings()
	a.oddBalls()
	a.grip()
	return a.faults
}

type announcer struct {
	j      *params.Job
	m      *Mold
	faults params.Faults
}

func (a *announcer) fault(path, value, allowed, cause string) {
	a.faults = append(a.faults, params.Fault{Path: path, Value: value, Allowed: allowed, Cause: cause})
}

// seal: a gap without a seal is a way into the hub's openings.
func (a *announcer) seal() {
	if s := a.j.Mold.Stack; s.Gap > 0 && s.Seal == "none" {
		a.fault("mold.stack.seal", s.Seal, `"gasket", "grease" or "wax", or mold.stack.gap = "0 mm"`, "rubber would run through the gap at the hub's end into bore and pockets")
	}
}

// hubEnds: flanges and retention grooves lie within the tread, so that rubber
// surrounds them and no undercut faces a recess.
func (a *announcer) hubEnds() {
	c, top := a.m.Core, a.m.Tread.Top
	if c.FlangeT > 0 && (c.Z0+c.FlangeT <= 0 || c.Z1()-c.FlangeT >= top) {
		a.fault("hub.offset", mm(a.j.Hub.Offset), "a flange that reaches into the tread", "a flange stands wholly outside the rubber; use a plain end there, or a thicker flange")
	}
	for _, g := range c.Grooves {
		if z0, z1 := c.Z0+g.From-g.Width/2, c.Z0+g.From+g.Width/2; z0 <= 0 || z1 >= top {
			a.fault("hub.groove.position", mm(g.From), "grooves between the tread's faces", "a retention groove lies outside the rubber, because of hub.offset or hub.length")
		}
	}
}

// touch is how near to each other two surfaces that neither cross nor keep
// apart may come, mm: below it they would touch in a point or a line, which
// neither a cutter nor a mesh can hold.
const touch = 1e-3

// lockTouches: a lock hole may cross a groove's wall or stay clear of it, but
// not just touch it.
func (a *announcer) lockTouches() {
	c := a.m.Core
	if c.LockCount == 0 {
		return
	}
	for _, g := range c.Grooves {
		for _, wall := range []float64{g.From - g.Width/2, g.From + g.Width/2} {
			d := math.Abs(math.Abs(c.LockFrom-wall) - c.LockR)
			if d < touch {
				a.fault("hub.lock_holes.position", mm(c.LockFrom), "moved by 0.1 mm", "the lock holes just touch a retention groove's wall in a line")
			}
		}
	}
}

// crossRelease: the pieces around the axis do not tear the lugs of the tread.
func (a *announcer) crossRelease() {
	x := a.j.Wheel.Cross
	drag, lug := 0.0, 0.0
	for i := range a.m.Layout.Sides {
		s := &a.m.Layout.Sides[i]
		d, l := a.m.Tread.RibDrag((s.From+s.To)/2, (s.To-s.From)/2)
		drag, lug = max(drag, d), l
	}
	if drag > MaxLugStretch*lug {
		a.fault("wheel.cross.depth", mm(x.Depth), "at most "+mm(x.Depth*MaxLugStretch*lug/drag),
			fmt.Sprintf("the %s pull sideways past the ribs near their parting planes and would push %s lugs aside by %s (rule of thumb: at most %.0f %%)", a.m.Layout.Around(), mm(lug), mm(drag), 100*MaxLugStretch))
	}
}

// oddBalls: one ball of a parting line lies far enough off the pattern that
// pieces put together wrongly do not close.
func (a *announcer) oddBalls() {
	b := a.j.Mold.Balls
	if least := b.Clearance + 0.5; b.Offset < least {
		a.fault("mold.balls.offset", mm(b.Offset), "at least "+mm(least), "pieces would also go together turned or swapped")
	}
}

// grip: a bolt across the shells clamps a wall's worth of material, and its
// recess opens outside.
func (a *announcer) grip() {
	s, l := a.j.Mold.SideClamp, a.m.Layout
	if len(l.Cross) == 0 {
		return
	}
	if s.Grip < a.j.Mold.Wall {
		a.fault("mold.side_clamp.grip", mm(s.Grip), "at least "+mm(a.j.Mold.Wall), "the bolts across the shells would clamp less than a wall")
	}
	if s.Kind != "counterbore" {
		return
	}
	t, _ := params.FastenerOf(s.Size)
	for _, c := range l.Cross {
		if room := l.depthAt(math.Abs(c.X)+c.RecessR) - t.HeadHeight; s.Grip > room {
			a.fault("mold.side_clamp.grip", mm(s.Grip), "at most "+mm(room), "the bolts' heads would stand out of the shells")
			return
		}
	}
}

// depthAt is how far the outline reaches along y at x.
func (l *Layout) depthAt(x float64) float64 {
	switch {
	case x >= l.B:
		return 0
	case l.Outline == "octagon":
		return min(l.B, l.B*math.Sqrt2-x)
	case l.Outline == "round":
		return min(l.FaceY, math.Sqrt(l.B*l.B-x*x))
	}
	return l.B
}

// channels open within the rubber's top face, clear of its edges.
func (a *announcer) channels() {
	l, t := a.m.Layout, a.m.Tread
	least := a.j.Process.MinFeature / 4 // a drill goes where a slot cutter does not
	check := func(path string, circle, r float64) {
		if r < least {
			a.fault(strings.Replace(path, "circle", map[bool]string{true: "gate", false: "diameter"}[strings.Contains(path, "sprue")], 1), mm(2*r), "at least "+mm(2*least)+" when made", "too narrow to be made by this process")
			return
		}
		if circle-r < t.InnerR+touch || circle+r > t.UpperOuter-touch {
			a.fault(path, mm(2*circle), mm(2*(t.InnerR+r))+" to "+mm(2*(t.UpperOuter-r)), "the channel opens over the hub or outside the rubber's top face")
		}
	}
	if len(l.Gates) > 0 {
		check("mold.sprue.circle", a.j.Mold.Sprue.Circle/2, l.GateR)
	}
	if len(l.Vents) > 0 {
		check("mold.vents.circle", a.j.Mold.Vents.Circle/2, l.VentR)
	}
}

// partings: what lies in a corner belongs to one of three or four shells; those of
// two are far from their parting plane.
func (a *announcer) partings() {
	l := a.m.Layout
	if len(l.Sides) < 3 {
		return
	}
	check := func(what, path string, at mesh.Vec, r float64) {
		for i := range l.Partings {
			u := l.Partings[i].Outward()
			away := math.Abs(u[0]*at[1]-u[1]*at[0]) - r
			if u.Dot(at) > 0 && away < l.wall-wallSlack {
				a.fault("mold.segments", fmt.Sprint(len(l.Sides)), "2, or smaller parts in the corners", fmt.Sprintf("%s comes within %s of the parting plane of %s; needed are %s (see %s)", what, mm(max(0, away)), l.Partings[i].Line, mm(l.wall), path))
				return
			}
		}
	}
	for _, b := range l.Bolts {
		check("a bolt", "mold.bolts.size", b.At, max(b.R, b.HeadR, b.nutReach()))
	}
	for _, b := range l.Balls {
		check("a ball", "mold.balls.diameter", b.At, b.R)
	}
	for _, j := range l.Jacks {
		check("a jack screw", "mold.jacks.size", j.At, j.R)
	}
}
