package params

import (
	"fmt"
	"math"
)

// judgeRegister: the register plugs into an opening that is there, without
// touching its bottom, and keeps a face at its end.
func (c *judge) judgeRegister(side string, r *Register) {
	path := "mold.register_" + side
	if r.Opening == "none" {
		return
	}
	o := c.Hub.opening(side, r.Opening)
	if o.diameter <= 0 {
		c.refuse(path+".opening", fmt.Sprintf("%q or another opening of that face", c.Hub.widestOpening(side)),
			fmt.Sprintf("the hub's %s face has no such opening", side), "hub.bearing_"+side+".diameter", "hub.seat.side")
		return
	}
	with := []string{path + ".opening", "hub.length", "hub.bearing_back.depth", "hub.bearing_front.depth", "hub.seat.depth"}
	if r.Engagement <= o.from+slack || r.Engagement > o.to+slack {
		c.refuse(path+".engagement", fmt.Sprintf("more than %s, up to %s", mm(o.from), mm(o.to)), "does not end within its opening", with...)
	}
	if fit := allowedInterference(o.diameter); r.Clearance < -fit-slack {
		c.refuse(path+".clearance", atLeast(-fit), fmt.Sprintf("a register of %s cannot be pressed into an opening of %s", mm(o.diameter-r.Clearance), mm(o.diameter)), path+".opening")
	}
	slope := 2 * r.Engagement * math.Tan(r.Draft*math.Pi/180)
	if end := o.diameter - r.Clearance - 2*r.LeadIn - slope; end < c.Process.MinFeature-slack || r.LeadIn > r.Engagement-o.from+slack {
		room := min((o.diameter-r.Clearance-slope-c.Process.MinFeature)/2, r.Engagement-o.from)
		c.refuse(path+".lead_in", upTo(room), fmt.Sprintf("chamfer, draft and clearance leave a register of %s at its end", mm(max(0, end))), path+".draft", path+".engagement", path+".clearance", path+".opening")
	}
	other := &c.Mold.RegisterBack
	if sum := r.Engagement + other.Engagement; side == "front" && r.Opening == "bore" && other.Opening == "bore" && sum > c.Hub.Length-c.wall+slack {
		c.refuse(path+".engagement", upTo(c.Hub.Length-c.wall-other.Engagement), "the registers meet in the bore", "mold.register_back.engagement", "hub.length")
	}
}

// judgePlates: base, lid and outline are large enough for what they carry.
func (c *judge) judgePlates() {
	m := &c.Mold
	if least := c.Wheel.Diameter + 2*(c.Wheel.leanOut()+m.Land+m.Wall); m.Size > 0 && m.Size < least-slack {
		c.refuse("mold.size", "0 mm, or at least "+mm(least), "does not hold the cavity with its land and wall", "wheel.diameter", "wheel.draft", "mold.land", "mold.wall")
	}
	bolt, _ := FastenerOf(m.Bolts.Size) // nothing is recessed for "none"
	if m.Bolts.Head == "none" {
		bolt.HeadHeight = 0
	}
	if m.Bolts.Nut == "none" {
		bolt.NutHeight = 0
	}
	c.judgePlate("mold.lid_thickness", m.LidThickness, bolt.HeadHeight, "the bolt heads", "mold.bolts.size", "mold.bolts.head")
	c.judgePlate("mold.base_thickness", m.BaseThickness, bolt.NutHeight, "the nuts", "mold.bolts.size", "mold.bolts.nut")
	c.judgeBoth((m.Balls.Diameter+m.Balls.Spare)/2, "the ball pockets", "mold.balls.diameter", "mold.balls.spare")
	c.judgeBoth(m.PrySlots.Height/2, "the pry slots", "mold.pry_slots.height")
	c.judgeBoth(m.Engraving.Depth, "the engraving", "mold.engraving.depth")
	jack, _ := FastenerOf(m.Jacks.Size)
	c.judgeBoth(max(0, jack.Diameter-m.Wall), "the jack screws' thread, one diameter", "mold.jacks.size")
	_, outer := c.TopFace()
	inner := c.Hub.FlangeDiameter
	c.judgePlate("mold.lid_thickness", m.LidThickness, (outer-inner)/2*math.Tan(m.Ceiling.Angle*math.Pi/180), "the coned ceiling", "mold.ceiling.angle")
	if p := m.PrySlots; p.Width > 0 && (p.Depth <= 0 || p.Height <= 0) {
		c.refuse("mold.pry_slots.depth", "more than 0 mm", "a pry slot needs width, depth and height", "mold.pry_slots.height", "mold.pry_slots.width")
	}
}

func (c *judge) judgeBoth(depth float64, what string, with ...string) {
	c.judgePlate("mold.base_thickness", c.Mold.BaseThickness, depth, what, with...)
	c.judgePlate("mold.lid_thickness", c.Mold.LidThickness, depth, what, with...)
}

// judgePlate: a recess leaves the mold's wall behind it.
func (c *judge) judgePlate(path string, thickness, depth float64, what string, with ...string) {
	if depth > 0 && thickness-depth < c.Mold.Wall-slack {
		c.refuse(path, atLeast(depth+c.Mold.Wall), what+" leave no wall behind them", append(with, "mold.wall")...)
	}
}

// judgeBalls: the balls can be bought, and both pockets of a corner fit into the
// shells' height.
func (c *judge) judgeBalls() {
	b := &c.Mold.Balls
	if !IsBallSize(b.Diameter) {
		c.refuse("mold.balls.diameter", "a size of ISO 3290, next is "+mm(nearestBall(b.Diameter)), "no such ball is sold")
	}
	if room := c.Wheel.Width - b.Spare - c.Mold.Wall; b.Diameter > room+slack {
		c.refuse("mold.balls.diameter", upTo(room), "the pockets above and below meet in the shells", "wheel.width", "mold.balls.spare", "mold.wall")
	}
}

// judgeSideClamp: bolts or strap fit into the shells' height.
func (c *judge) judgeSideClamp() {
	s := &c.Mold.SideClamp
	switch {
	case s.bolted():
		f, ok := FastenerOf(s.Size)
		if !ok || s.Grip <= 0 {
			c.refuse("mold.side_clamp.size", "M3 to M12", "bolts need a size and a grip", "mold.side_clamp.kind", "mold.side_clamp.grip")
			return
		}
		recess := f.EitherRecess() + c.Process.HoleCompensation
		if room := c.SideHeight() - 2*c.Mold.Wall; recess > room+slack {
			c.refuse("mold.side_clamp.size", "recesses "+upTo(room), fmt.Sprintf("recesses of %s for heads and nuts do not fit the shells' height", mm(recess)), "mold.side_clamp.kind", "wheel.width", "mold.wall")
		}
	case s.Kind == "strap":
		if room := c.SideHeight() - 2*c.Process.MinFeature; s.StrapWidth <= 0 || s.StrapDepth <= 0 || s.StrapWidth > room+slack {
			c.refuse("mold.side_clamp.strap_width", "more than 0 mm, "+upTo(room), "the strap's groove needs a depth and a rim on both sides", "mold.side_clamp.kind", "mold.side_clamp.strap_depth", "wheel.width")
		}
	}
}

// channel is a gate or a vent seen along the axis.
type channel struct {
	circle, angle float64
	radius        float64 // where it is widest
}

// judgePour: gates and vents open into the rubber's top face, apart from each
// other up to the mouths.
func (c *judge) judgePour() {
	s, v := &c.Mold.Sprue, &c.Mold.Vents
	c.judgeOnFace("mold.sprue.circle", s.Circle, s.Gate, "the gate", "mold.sprue.gate")
	if v.Count > 0 {
		c.judgeOnFace("mold.vents.circle", v.Circle, v.Diameter, "the vents", "mold.vents.diameter")
	}
	gap := c.channelGap()
	if gap >= c.wall-slack {
		return
	}
	with := []string{"mold.sprue.count", "mold.sprue.circle", "mold.vents.circle", "mold.vents.diameter", "mold.sprue.gate"}
	cause := wallCause(gap, "another vent or mouth", c.wall)
	if n, some := c.mostVents(); some {
		c.refuse("mold.vents.count", fmt.Sprintf("up to %d", n), cause, append(with, "mold.sprue.mouth")...)
		return
	}
	alone := *c.Job
	alone.Mold.Vents.Count = 0
	c.refuse("mold.sprue.mouth", upTo(s.Mouth+alone.channelGap()-c.wall), cause, append(with, "mold.vents.count")...)
}

// mostVents are the most vents, fewer than asked for, that keep the wall to each other
// and to the gates; there are none if the gates do not keep it among themselves.
func (c *judge) mostVents() (n int, some bool) {
	j := *c.Job
	for n = j.Mold.Vents.Count - 1; n >= 0; n-- {
		j.Mold.Vents.Count = n
		if j.channelGap() >= c.wall-slack {
			return n, true
		}
	}
	return 0, false
}

// channelGap is the least gap in mm between gates and vents at the mouths.
func (j *Job) channelGap() float64 {
	s, v := &j.Mold.Sprue, &j.Mold.Vents
	gates, vents := j.pourAngles()
	var channels []channel
	for _, a := range gates {
		channels = append(channels, channel{s.Circle, a, s.Mouth / 2})
	}
	for _, a := range vents {
		channels = append(channels, channel{v.Circle, a, v.Diameter / 2})
	}
	gap := math.Inf(1)
	for i, a := range channels {
		for _, b := range channels[:i] {
			gap = min(gap, polarDistance(a.circle/2, a.angle, b.circle/2, b.angle)-a.radius-b.radius)
		}
	}
	return gap
}

// judgeOnFace: a channel of the given diameter opens between the hub's end face
// and the outer edge of the rubber's face.
func (c *judge) judgeOnFace(path string, circle, diameter float64, what string, with ...string) {
	inner, outer := c.TopFace()
	if circle-diameter >= inner-slack && circle+diameter <= outer+slack {
		return
	}
	others := []string{"hub.flange_diameter", "hub.body_diameter", "wheel.diameter", "wheel.edge_size", "wheel.crown", "wheel.draft"}
	if widest := (outer - inner) / 2; diameter > widest+slack {
		c.refuse(with[0], upTo(widest), what+" is wider than the rubber's top face", append(others, path)...)
		return
	}
	allowed := mm(inner+diameter) + " to " + mm(outer-diameter)
	cause := what + " would open over the hub"
	if circle-diameter >= inner-slack {
		cause = what + " would open outside the tread's top face"
	}
	c.refuse(path, allowed, cause, append(with, others...)...)
}
