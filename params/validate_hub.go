package params

import (
	"fmt"
	"math"
)

// judgeBody: the hub needs a wall around its bore.
func (c *judge) judgeBody() {
	h := &c.Hub
	if room := h.BodyDiameter - 2*c.wall; h.Bore > room+slack {
		c.refuse("hub.bore", upTo(room), fmt.Sprintf("leaves a wall below %s in the hub's body", mm(c.wall)), "hub.body_diameter")
	}
	if h.FlangeDiameter > h.BodyDiameter && h.FlangeThickness < c.wall-slack {
		c.refuse("hub.flange_thickness", atLeast(c.wall), "flanges too thin to survive", "hub.flange_diameter")
	}
	proud := max(-h.Offset, h.Offset+h.Length-c.Wheel.Width)
	if h.FlangeDiameter > h.BodyDiameter && proud > slack && proud > h.FlangeThickness-c.wall+slack {
		c.refuse("hub.flange_thickness", atLeast(proud+c.wall), fmt.Sprintf("the hub stands %s out of the tread, and its flange with it: a lid or base that closes behind the flange would be locked", mm(proud)), "hub.offset", "hub.length", "wheel.width")
	}
}

// judgeRecesses: bearing pockets and seat fit into the body and into each other,
// leave a web between the faces, and a face to seal against.
func (c *judge) judgeRecesses() {
	for _, side := range []string{"back", "front"} {
		c.judgePocket(side)
		c.judgeSealLand(side)
	}
	c.judgeSeat()
	c.judgeWeb()
}

func (c *judge) judgePocket(side string) {
	h, p, path := &c.Hub, c.Hub.recess(side), "hub.bearing_"+side
	if p.Diameter <= 0 {
		return
	}
	if p.Depth <= 0 {
		c.refuse(path+".depth", "more than 0 mm", "a pocket without depth", path+".diameter")
	}
	if p.Diameter <= h.Bore {
		c.refuse(path+".diameter", "more than "+mm(h.Bore), "not wider than the bore", "hub.bore")
	}
	if room := h.BodyDiameter - 2*c.wall; p.Diameter > room+slack {
		c.refuse(path+".diameter", upTo(room), "breaks through the hub's outside", "hub.body_diameter")
	}
	if h.Seat.Side == side && p.Diameter >= h.Seat.Diameter {
		c.refuse(path+".diameter", "less than "+mm(h.Seat.Diameter), "wider than the seat at whose bottom it lies", "hub.seat.diameter", "hub.seat.side")
	}
}

func (c *judge) judgeSeat() {
	h, s := &c.Hub, c.Hub.Seat
	if s.Side == "none" {
		return
	}
	if s.Depth <= 0 {
		c.refuse("hub.seat.depth", "more than 0 mm", "a seat without depth", "hub.seat.side")
	}
	if s.Diameter <= h.Bore {
		c.refuse("hub.seat.diameter", "more than "+mm(h.Bore), "not wider than the bore", "hub.bore", "hub.seat.side")
	}
	if room := h.BodyDiameter - 2*c.wall; s.Diameter > room+slack {
		c.refuse("hub.seat.diameter", upTo(room), "breaks through the hub's outside", "hub.body_diameter", "hub.seat.side")
	}
}

// judgeWeb: what recesses from both faces leave between them.
func (c *judge) judgeWeb() {
	h := &c.Hub
	back, front := h.recessDepth("back"), h.recessDepth("front")
	if back+front <= 0 || back+front+c.wall <= h.Length+slack {
		return
	}
	side, other := "back", front
	if front > back {
		side, other = "front", back
	}
	path, seat := "hub.bearing_"+side+".depth", 0.0
	if h.Seat.Side == side {
		seat = h.Seat.Depth
	}
	if h.recess(side).Diameter <= 0 {
		path, seat = "hub.seat.depth", 0
	}
	c.refuse(path, upTo(h.Length-other-seat-c.wall),
		fmt.Sprintf("the recesses leave a web of %s between them, needed are %s", mm(max(0, h.Length-back-front)), mm(c.wall)),
		"hub.bearing_back.depth", "hub.bearing_front.depth", "hub.seat.depth", "hub.length")
}

// judgeSealLand: outside its openings an end face must stay closed, so that the
// mold can seal them off there.
func (c *judge) judgeSealLand(side string) {
	h := &c.Hub
	widest := part{path: "hub.bore", r1: h.Bore / 2}
	for _, p := range h.keepOuts() {
		atFace := side == "back" && p.z0 <= 0 || side == "front" && p.z1 >= h.Length
		if atFace && p.r1 > widest.r1 {
			widest = p
		}
	}
	if ring, ok := h.boltRing(); ok && ring.r1 > widest.r1 {
		widest = ring
	}
	if c.faults.names(widest.path) {
		return // the other face, or a thin wall, has said so
	}
	if land := h.FlangeDiameter/2 - widest.r1; land < leastSealLand(c.Job)-slack {
		room := 2 * (h.FlangeDiameter/2 - leastSealLand(c.Job))
		if widest.path == "hub.bolts.circle" {
			room -= h.Bolts.Hole
		}
		c.refuse(widest.path, upTo(room),
			fmt.Sprintf("leaves %s of the %s face to seal off the rubber, needed are %s", mm(max(0, land)), side, mm(leastSealLand(c.Job))),
			"hub.flange_diameter", "hub.body_diameter", "hub.bolts.hole")
	}
}

// judgeRetention: retention grooves lie on the body, apart from each other, and
// leave a wall to every opening.
func (c *judge) judgeRetention() {
	h := &c.Hub
	for i, g := range h.Grooves {
		path := fmt.Sprintf("hub.groove[%d]", i+1)
		c.judgeHalfRound(path, g)
		margin := c.wall // of the lip at a plain end
		if h.FlangeDiameter > h.BodyDiameter {
			margin = 0 // a groove may begin at the flange
		}
		lo, hi := c.bonded(margin)
		c.judgePlace(path, g, lo, hi, "hub.flange_thickness", "hub.length", "hub.offset", "wheel.width")
		for k := range i {
			c.judgeRib(fmt.Sprintf("hub.groove[%d]", k+1), h.Grooves[k], path, g, c.wall)
		}
		c.judgeWalls(h.groovePart(i))
	}
}

// bonded is where the hub's body, from its back face, has rubber on it: within
// the flanges, and within the tread if the hub stands out of it; less a margin.
func (c *judge) bonded(margin float64) (lo, hi float64) {
	h := &c.Hub
	lo = max(h.FlangeThickness+margin, -h.Offset+c.wall)
	hi = min(h.Length-h.FlangeThickness-margin, c.Wheel.Width-h.Offset-c.wall)
	return lo, hi
}

// judgeHalfRound: a half-round groove has one free measure.
func (c *judge) judgeHalfRound(path string, g Groove) {
	if g.Shape == "half-round" && math.Abs(g.Depth-g.Width/2) > slack {
		c.refuse(path+".depth", mm(g.Width/2), "a half-round groove is half as deep as wide", path+".width", path+".shape")
	}
}

// judgePlace: the groove lies between lo and hi.
func (c *judge) judgePlace(path string, g Groove, lo, hi float64, with ...string) {
	if g.Position-g.Width/2 < lo-slack || g.Position+g.Width/2 > hi+slack {
		allowed := mm(lo+g.Width/2) + " to " + mm(hi-g.Width/2)
		if hi-lo < g.Width {
			allowed = "nothing: the groove is too wide"
		}
		c.refuse(path+".position", allowed, "the groove reaches over the edge", append(with, path+".width")...)
	}
}

// judgeRib: two grooves leave a rib between them.
func (c *judge) judgeRib(pathA string, a Groove, pathB string, b Groove, rib float64) {
	least := (a.Width+b.Width)/2 + rib
	if d := math.Abs(a.Position - b.Position); d < least-slack {
		c.refuse(pathB+".position", "at least "+mm(least)+" from "+mm(a.Position),
			fmt.Sprintf("leaves a rib of %s to %s, needed are %s", mm(max(0, d-(a.Width+b.Width)/2)), pathA, mm(rib)),
			pathA+".position", pathA+".width", pathB+".width")
	}
}

// judgeWalls: a feature cut into the bond surface keeps the wall to every
// opening that must stay dry.
func (c *judge) judgeWalls(p part, with ...string) {
	others := c.Hub.keepOuts()
	if ring, ok := c.Hub.boltRing(); ok && p.path != "hub.lock_holes.depth" {
		others = append(others, ring)
	}
	if q, gap := p.nearestOf(others, part.gap); gap < c.wall-slack {
		c.refuse(p.path, upTo(c.Hub.BodyDiameter/2-q.r1-c.wall), wallCause(gap, q.name, c.wall), append(with, q.path, "hub.body_diameter")...)
	}
}

func wallCause(gap float64, to string, needed float64) string {
	if gap <= 0 {
		return "opens into " + to
	}
	return fmt.Sprintf("leaves a wall of %s to %s, needed are %s", mm(gap), to, mm(needed))
}

// judgeBoltCircle: bolt holes keep the wall to bore, bearing pockets, the edge
// of the seat, the hub's outside and each other.
func (c *judge) judgeBoltCircle() {
	h, b := &c.Hub, c.Hub.Bolts
	ring, ok := h.boltRing()
	if !ok {
		return
	}
	if b.Hole <= 0 || b.Circle <= 0 {
		c.refuse("hub.bolts.circle", "more than 0 mm", "a bolt circle needs its diameter and that of its holes", "hub.bolts.hole", "hub.bolts.count")
		return
	}
	beside := func(p, q part) float64 {
		if q.path == "hub.seat.diameter" {
			return max(p.r0-q.r1, q.r1-p.r1) // the holes may start at the seat's bottom
		}
		return p.gap(q)
	}
	if q, gap := ring.nearestOf(h.keepOuts(), beside); gap < c.wall-slack {
		c.refuse(ring.path, atLeast(2*(q.r1+c.wall)+b.Hole), wallCause(gap, q.name, c.wall), "hub.bolts.hole", q.path)
	}
	if gap := h.BodyDiameter/2 - ring.r1; gap < c.wall-slack {
		c.refuse(ring.path, upTo(h.BodyDiameter-2*c.wall-b.Hole), wallCause(gap, "the hub's outside", c.wall), "hub.bolts.hole", "hub.body_diameter")
	}
	if gap := b.Circle*math.Sin(math.Pi/float64(b.Count)) - b.Hole; b.Count > 1 && gap < c.wall-slack {
		c.refuse("hub.bolts.count", fewerThan(b.Count, func(n int) bool { return b.Circle*math.Sin(math.Pi/float64(n))-b.Hole >= c.wall-slack }),
			wallCause(gap, "each other", c.wall), "hub.bolts.circle", "hub.bolts.hole")
	}
}

// judgeLockHoles: they stay blind, so that no rubber reaches a keep-out.
func (c *judge) judgeLockHoles() {
	h, l := &c.Hub, c.Hub.LockHoles
	if l.Count == 0 {
		return
	}
	if l.Diameter <= 0 || l.Depth <= 0 {
		c.refuse("hub.lock_holes.depth", "more than 0 mm", "lock holes need a diameter and a depth", "hub.lock_holes.diameter", "hub.lock_holes.count")
		return
	}
	bottom := h.BodyDiameter/2 - l.Depth
	if lo, hi := c.bonded(c.wall); l.Position-l.Diameter/2 < lo-slack || l.Position+l.Diameter/2 > hi+slack {
		c.refuse("hub.lock_holes.position", mm(lo+l.Diameter/2)+" to "+mm(hi-l.Diameter/2), "breaks through an end face or flange, or lies outside the tread",
			"hub.lock_holes.diameter", "hub.length", "hub.flange_thickness", "hub.offset", "wheel.width")
	}
	hole := part{path: "hub.lock_holes.depth", r0: bottom, r1: h.BodyDiameter / 2, z0: l.Position - l.Diameter/2, z1: l.Position + l.Diameter/2}
	c.judgeWalls(hole, "hub.lock_holes.position", "hub.lock_holes.diameter")
	c.judgeLocksAgainstBolts(bottom)
	if gap := pitchGap(bottom, l.Diameter, l.Count); l.Count > 1 && gap < c.wall-slack {
		c.refuse("hub.lock_holes.count", fewerThan(l.Count, func(n int) bool { return pitchGap(bottom, l.Diameter, n) >= c.wall-slack }), wallCause(gap, "each other", c.wall), "hub.lock_holes.depth", "hub.lock_holes.diameter")
	}
	for i, g := range h.Grooves {
		if math.Abs(g.Position-l.Position) < (g.Width+l.Diameter)/2 && l.Depth < g.Depth+slack {
			c.refuse("hub.lock_holes.depth", "more than "+mm(g.Depth), "lies within a retention groove", "hub.lock_holes.position", fmt.Sprintf("hub.groove[%d].depth", i+1))
		}
	}
}

// fewerThan names the most, below a count that is refused, that do fit; a single one
// has no neighbor.
func fewerThan(count int, fit func(n int) bool) string {
	for n := count - 1; n > 1; n-- {
		if fit(n) {
			return fmt.Sprintf("up to %d", n)
		}
	}
	return "at most 1"
}

// pitchGap is the least wall between n radial holes at their bottoms: half of
// it is the distance of a hole's inner corner to the plane midway.
func pitchGap(bottom, diameter float64, n int) float64 {
	s, cs := math.Sincos(math.Pi / float64(n))
	return 2 * (bottom*s - diameter/2*cs)
}

// judgeLocksAgainstBolts looks along the axis: a lock hole is a rectangle that
// ends at its bottom, a bolt hole a circle. Lock hole i lies at i pitches from
// the +X axis, bolt hole i half a pitch further.
func (c *judge) judgeLocksAgainstBolts(bottom float64) {
	b, l := c.Hub.Bolts, c.Hub.LockHoles
	least := math.Inf(1)
	for i := range b.Count {
		for k := range l.Count {
			turn := 2 * math.Pi * ((float64(i)+0.5)/float64(b.Count) - float64(k)/float64(l.Count))
			s, cs := math.Sincos(turn)
			along, across := b.Circle/2*cs, math.Abs(b.Circle/2*s)
			least = min(least, boxGap(bottom-along, across-l.Diameter/2)-b.Hole/2)
		}
	}
	if least < c.wall-slack {
		c.refuse("hub.lock_holes.depth", upTo(c.Hub.BodyDiameter/2-(b.Circle+b.Hole)/2-c.wall)+", or away from the bolt holes",
			wallCause(least, "a bolt hole", c.wall), "hub.lock_holes.count", "hub.lock_holes.diameter", "hub.bolts.circle", "hub.bolts.hole", "hub.bolts.count")
	}
}

// beside reports whether no part of the hub lies in the tread.
func (c *judge) beside() bool {
	return c.Hub.Offset+c.Hub.Length <= 0 || c.Hub.Offset >= c.Wheel.Width
}

// judgeOffset: tread and hub share some of the axis. What else clashes in a hub beside
// its tread follows from that.
func (c *judge) judgeOffset() {
	if c.beside() {
		c.refuse("hub.offset", fmt.Sprintf("more than %s, less than %s", mm(-c.Hub.Length), mm(c.Wheel.Width)), "the hub lies beside the tread", "hub.length", "wheel.width")
	}
}

// judgeStack: the hub sits in the mold with plates behind both ends.
func (c *judge) judgeStack() {
	h, m := &c.Hub, &c.Mold
	if c.beside() {
		return // refused before
	}
	back, front := -h.Offset, h.Offset+h.Length-c.Wheel.Width
	lower, upper := back, front
	if m.FaceUp == "back" {
		lower, upper = front, back
	}
	if m.Stack.At == "lower" {
		lower += m.Stack.Gap
	} else {
		upper += m.Stack.Gap
	}
	upper -= m.TopAllowance
	c.judgeProud("base", lower, m.BaseThickness)
	c.judgeProud("lid", upper, m.LidThickness)
}

// judgeProud: a hub that stands out of the tread is let into base or lid.
func (c *judge) judgeProud(piece string, proud, thickness float64) {
	if floor := thickness - max(0, proud); floor < c.Mold.Wall-slack {
		c.refuse("mold."+piece+"_thickness", atLeast(proud+c.Mold.Wall), fmt.Sprintf("the hub stands %s out of the tread into the %s", mm(proud), piece),
			"hub.offset", "hub.length", "mold.wall", "mold.stack.gap")
	}
}
