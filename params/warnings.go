package params

import (
	"fmt"
	"math"
	"slices"
)

// Warnings lists what is legal but worth a second look.
func (j *Job) Warnings() Faults {
	c := &judge{Job: j}
	c.warnUnits()
	c.warnCover()
	if j.Mold.Vents.Count == 0 && j.Mold.Split != SplitOpen {
		c.refuse("mold.vents.count", "", "air leaves by the sprue alone")
	}
	if b := j.Mold.Balls; b.Offset <= b.Clearance {
		c.refuse("mold.balls.offset", "", "the odd ball lies so close to the pattern that pieces go together two ways", "mold.balls.clearance")
	}
	c.warnTorque("mold.bolts", j.Mold.Bolts.Size, j.Mold.Bolts.Torque)
	c.warnTorque("mold.side_clamp", j.Mold.SideClamp.Size, j.Mold.SideClamp.Torque)
	c.warnLoose()
	c.warnGrease()
	c.warnSeals()
	c.warnPour()
	c.warnPrinting()
	c.warnMachining()
	c.warnUnused("mold.bolts.size", j.Mold.Bolts.Size == "none", "mold.bolts.torque")
	c.warnUnused("mold.side_clamp.kind", !j.Mold.SideClamp.bolted(), "mold.side_clamp.torque")
	c.warnUnused("mold.side_clamp.kind", j.Mold.SideClamp.Kind != "strap", "mold.side_clamp.strap_force")
	c.warnUnused("hub.seat.side", j.Hub.Seat.Side == "none", "hub.seat.diameter", "hub.seat.depth")
	c.warnUnused("hub.bearing_back.diameter", j.Hub.BearingBack.Diameter == 0, "hub.bearing_back.depth")
	c.warnUnused("hub.bearing_front.diameter", j.Hub.BearingFront.Diameter == 0, "hub.bearing_front.depth")
	c.warnUnused("hub.bolts.count", j.Hub.Bolts.Count == 0, "hub.bolts.circle", "hub.bolts.hole")
	c.warnUnused("hub.lock_holes.count", j.Hub.LockHoles.Count == 0, "hub.lock_holes.diameter", "hub.lock_holes.depth", "hub.lock_holes.position")
	c.warnIdle(j.Hub.Sprocket.Chain == "none", `hub.sprocket.chain is "none"`, "hub.sprocket.teeth")
	c.warnIdle(j.Worth.BoughtPrice == 0, "no worth.bought_price is stated", "worth.bought_life")
	c.warnUnused("wheel.cross.count", j.Wheel.Cross.Count == 0, "wheel.cross.width", "wheel.cross.depth", "wheel.cross.flank")
	return c.faults
}

// warnUnused: values of a feature that is not there.
func (c *judge) warnUnused(missing string, absent bool, paths ...string) {
	for _, path := range paths {
		k, _ := keyAt(path)
		if v, ok := k.get(c.Job, 0).(float64); absent && ok && v > 0 {
			c.refuse(path, "", fmt.Sprintf("has no effect while %s is %s", missing, c.show(missing)))
		}
	}
}

// warnTorque: bolts tightened so far that their heads sink into the mold.
func (c *judge) warnTorque(section, size string, torque float64) {
	f, ok := FastenerOf(size)
	if !ok {
		return
	}
	if most := f.Torque(f.BearingForce(c.Mold.Bolts.Fit, c.Process.Bearing)); torque > most+slack {
		c.refuse(section+".torque", "up to "+Format(Torque, math.Floor(100*most)/100),
			"the bolt heads press harder on the mold than process.bearing: tighten less, or use wide washers", "process.bearing", section+".size")
	}
}

// warnLoose: clamps that are there, but not tightened, or none at all.
func (c *judge) warnLoose() {
	m := &c.Mold
	if m.Bolts.Size == "none" && m.SideClamp.Kind == "none" {
		path, other := "mold.side_clamp.kind", "mold.bolts.size"
		if m.Segments < 2 {
			path, other = other, path
		}
		c.refuse(path, "", "nothing that the mold brings along holds its pieces together: clamp them by hand; estimates count on no clamp", other)
	}
	for _, clamp := range []struct {
		path  string
		loose bool
	}{
		{"mold.bolts.torque", m.Bolts.Size != "none" && m.Bolts.Torque == 0},
		{"mold.side_clamp.torque", m.SideClamp.bolted() && m.SideClamp.Torque == 0},
		{"mold.side_clamp.strap_force", m.SideClamp.Kind == "strap" && m.SideClamp.StrapForce == 0},
	} {
		if clamp.loose {
			c.refuse(clamp.path, "above 0", "holds nothing: the pieces only lie on each other")
		}
	}
}

// warnSeals: figures of a seal that is nowhere.
func (c *judge) warnSeals() {
	s := &c.Mold.Seals
	used := []string{s.Base, s.Lid, s.Sides, s.Hub, c.Mold.Stack.Seal}
	for _, figure := range []struct{ path, seal string }{
		{"mold.seals.grease_yield", "grease"}, {"mold.seals.wax_yield", "wax"}, {"mold.seals.bead_height", "bead"},
	} {
		c.warnIdle(!slices.Contains(used, figure.seal), fmt.Sprintf("no seal is %q", figure.seal), figure.path)
	}
}

// warnIdle: values of which nothing makes use. They have a default even so: only
// others than that were stated for sure.
func (c *judge) warnIdle(idle bool, why string, paths ...string) {
	for _, path := range paths {
		if k, _ := keyAt(path); idle && !k.isDefault(c.Job, 0) {
			c.refuse(path, "", "has no effect while "+why)
		}
	}
}

// warnGrease: what fills a gap beside the hub gets onto the hub.
func (c *judge) warnGrease() {
	for _, path := range []string{"mold.seals.base", "mold.seals.lid", "mold.seals.hub", "mold.stack.seal"} {
		k, _ := keyAt(path)
		if s := k.get(c.Job, 0); s == "grease" || s == "wax" {
			c.refuse(path, "", fmt.Sprintf("the rubber will not bond where %s gets on the hub: keep it off the hub's bond surface, and wipe off what squeezes out", s))
		}
	}
}

// warnCover: gates and vents leave scars that the cover does not hide.
func (c *judge) warnCover() {
	cover, s, v := c.Hub.CoverDiameter, c.Mold.Sprue, c.Mold.Vents
	if cover <= 0 {
		return
	}
	needed := s.Circle + s.Gate
	if v.Count > 0 {
		needed = max(needed, v.Circle+v.Diameter)
	}
	if cover < needed-slack {
		c.refuse("hub.cover_diameter", atLeast(needed), "the scars of gate and vents stay visible", "mold.sprue.circle", "mold.vents.circle")
	}
}

// slipFactor is how far from 25.4 the ratio of a value to its usual value may
// lie for a mix-up of inch and millimeter to be suspected.
const slipFactor = 2.5

// warnUnits suspects lengths that would be usual in the other unit.
func (c *judge) warnUnits() {
	for _, k := range table {
		for i := range k.len(c.Job) {
			v, ok := k.get(c.Job, i).(float64)
			if !ok || k.Kind != Length {
				continue
			}
			usual := k.typical(c.Job, i)
			switch {
			case v <= 0 || usual <= 0:
			case near(v*25.4, usual):
				c.refuse(k.label(i), "", fmt.Sprintf("25 times less than usual: an inch value written in millimeters? Usual is about %s", mm(usual)))
			case near(v/25.4, usual):
				c.refuse(k.label(i), "", fmt.Sprintf("25 times more than usual: a millimeter value written in inches? Usual is about %s", mm(usual)))
			}
		}
	}
}

func near(a, b float64) bool { return a < b*slipFactor && b < a*slipFactor }

// typical is what the value would be by default, or is in most wheels; 0: unknown.
func (k Key) typical(j *Job, i int) float64 {
	switch {
	case k.usual != nil:
		return k.usual(j)
	case k.Required():
		return 0
	}
	v, _ := k.slot.value(j, i).(float64)
	return v
}
