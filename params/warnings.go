package params

import "fmt"

// Warnings lists what is legal but worth a second look.
func (j *Job) Warnings() Faults {
	c := &judge{Job: j}
	c.warnUnits()
	c.warnCover()
	if j.Mold.Vents.Count == 0 {
		c.refuse("mold.vents.count", "", "air leaves by the sprue alone")
	}
	if b := j.Mold.Balls; b.Offset <= b.Clearance {
		c.refuse("mold.balls.offset", "", "the odd ball lies so close to the pattern that pieces go together two ways", "mold.balls.clearance")
	}
	c.warnUnused("hub.seat.side", j.Hub.Seat.Side == "none", "hub.seat.diameter", "hub.seat.depth")
	c.warnUnused("hub.bearing_back.diameter", j.Hub.BearingBack.Diameter == 0, "hub.bearing_back.depth")
	c.warnUnused("hub.bearing_front.diameter", j.Hub.BearingFront.Diameter == 0, "hub.bearing_front.depth")
	c.warnUnused("hub.bolts.count", j.Hub.Bolts.Count == 0, "hub.bolts.circle", "hub.bolts.hole")
	c.warnUnused("hub.lock_holes.count", j.Hub.LockHoles.Count == 0, "hub.lock_holes.diameter", "hub.lock_holes.depth", "hub.lock_holes.position")
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
