package params

import (
	"fmt"
	"math"
)

// judgeSplit: what the job asks for goes with the way the mold is split.
func (c *judge) judgeSplit() {
	m := &c.Mold
	switch m.Split {
	case SplitClam:
		c.judgeClam()
	case SplitOpen:
		if m.Ceiling.Shape != "flat" {
			c.refuse("mold.ceiling.shape", `"flat"`, "an open top has no ceiling", "mold.split")
		}
	}
	if m.Segments > 2 {
		c.judgeSegments()
	}
	if m.Segments < 2 && m.SideClamp.Kind != "none" {
		c.refuse("mold.side_clamp.kind", `"none"`, "a cup has no shells to hold together", "mold.split")
	}
}

// judgeClam: halves hold the hub by its ends, carry nothing that locks when they
// part, and share what lies on their parting line evenly.
func (c *judge) judgeClam() {
	h, m := &c.Hub, &c.Mold
	back, front := -h.Offset, h.Offset+h.Length-c.Wheel.Width
	if m.FaceUp == "back" {
		back -= m.TopAllowance
	} else {
		front -= m.TopAllowance
	}
	if min(back, front) < leastClamGrip-slack {
		c.refuse("hub.length", fmt.Sprintf("at least %s, with both ends at least %s out of the tread", mm(c.Wheel.Width+m.TopAllowance+2*leastClamGrip), mm(leastClamGrip)),
			fmt.Sprintf("clam halves hold the hub by its ends, which stand out of the rubber by %s at the back and %s in front", mm(max(0, back)), mm(max(0, front))), "mold.split", "hub.offset", "wheel.width", "mold.top_allowance")
	}
	for _, side := range []string{"back", "front"} {
		if r := map[string]*Register{"back": &m.RegisterBack, "front": &m.RegisterFront}[side]; r.Opening != "none" {
			c.refuse("mold.register_"+side+".opening", `"none"`, "a plug in the hub keeps clam halves from opening sideways", "mold.split")
		}
	}
	if m.Bolts.Size != "none" {
		c.refuse("mold.bolts.size", `"none"`, "bolts along the axis cross no parting line of a clam; see mold.side_clamp", "mold.split")
	}
	s, v := &m.Sprue, &m.Vents
	c.judgeOnParting("mold.sprue.angle", s.Circle/2, s.Mouth/2, "the sprue", c.GateAngles())
	c.judgeOnParting("mold.vents.count", v.Circle/2, v.Diameter/2, "a vent", c.VentAngles())
}

// judgeOnParting: a channel lies on a parting plane, which halves it, or clear of it.
func (c *judge) judgeOnParting(path string, circle, radius float64, what string, angles []float64) {
	for _, a := range angles {
		for k := range c.Mold.Segments {
			away := math.Abs(circle * math.Sin((a-360*float64(k)/float64(c.Mold.Segments))*math.Pi/180))
			if away > 1e-6 && away < radius+c.Mold.Wall-slack {
				c.refuse(path, "on the parting plane, or clear of it by "+mm(radius+c.Mold.Wall), what+" would break through the parting plane to one side of its middle: "+mm(away)+" off",
					"mold.sprue.angle", "mold.sprue.count", "mold.vents.count", "mold.split")
				return
			}
		}
	}
}

// judgeSegments: more than two shells are held by a strap around flat sides.
func (c *judge) judgeSegments() {
	if s := &c.Mold.SideClamp; s.bolted() {
		c.refuse("mold.side_clamp.kind", `"strap" or "none"`, "bolts across hold two shells; a strap holds more", "mold.segments")
	}
	if c.Mold.Outline == "round" {
		c.refuse("mold.outline", `"octagon" or "square"`, "each shell stands on a flat side while it is printed or milled", "mold.segments")
	}
}
