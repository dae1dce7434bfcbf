package params

import "math"

// opening is a round opening of the hub, seen from one end face.
type opening struct {
	diameter float64
	from, to float64 // depth of its ends below the end face
}

// recess is the bearing pocket of a side, "front" or "back".
func (h *Hub) recess(side string) Pocket {
	if side == "front" {
		return h.BearingFront
	}
	return h.BearingBack
}

// openings of one side, from the end face inward: seat, bearing pocket, bore.
// One that is not there has diameter 0.
func (h *Hub) opening(side, name string) opening {
	var seat, pocket, bore opening
	if h.Seat.Side == side {
		seat = opening{h.Seat.Diameter, 0, h.Seat.Depth}
	}
	if p := h.recess(side); p.Diameter > 0 {
		pocket = opening{p.Diameter, seat.to, seat.to + p.Depth}
	}
	other := "front"
	if side == "front" {
		other = "back"
	}
	bore = opening{h.Bore, max(seat.to, pocket.to), h.Length - h.recessDepth(other)}
	switch name {
	case "seat":
		return seat
	case "bearing":
		return pocket
	case "bore":
		return bore
	}
	return opening{}
}

// recessDepth is how deep seat and bearing pocket of a side reach together.
func (h *Hub) recessDepth(side string) float64 {
	d := 0.0
	if h.Seat.Side == side {
		d = h.Seat.Depth
	}
	if p := h.recess(side); p.Diameter > 0 {
		d += p.Depth
	}
	return d
}

// widestOpening names what a register plugs into by default: the seat wins on
// its side, because the bearing pocket lies at its bottom.
func (h *Hub) widestOpening(side string) string {
	switch {
	case h.Seat.Side == side:
		return "seat"
	case h.recess(side).Diameter > 0:
		return "bearing"
	}
	return "bore"
}

// allowedInterference is how much larger than its opening a register may be,
// mm on the diameter: half a percent, within 0.02 mm and 0.2 mm, can still be
// pressed into plastic by hand or clamp. Common practice.
func allowedInterference(diameter float64) float64 {
	return clamp(0.005*diameter, 0.02, 0.2)
}

// TopFace returns the inner and outer diameter in mm of the rubber's face that
// is up in the mold, as the job states it (without the allowance for shrinkage,
// which makes the cavity's a little larger).
func (j *Job) TopFace() (inner, outer float64) {
	_, upper := j.Wheel.faces()
	return j.Hub.FlangeDiameter, upper
}

// pourRing is the part of the top face where gates and vents belong: as far
// out as the cover hides their scars, if that leaves room.
func pourRing(j *Job) (inner, outer float64) {
	inner, outer = j.TopFace()
	if c := j.Hub.CoverDiameter; c > inner+2*leastRubber(j) {
		outer = min(outer, c)
	}
	return inner, outer
}

// pourWidth is the width in mm of the pouring ring.
func pourWidth(j *Job) float64 {
	inner, outer := pourRing(j)
	return (outer - inner) / 2
}

func pourCircle(j *Job) float64 {
	inner, outer := pourRing(j)
	if j.Mold.Split == SplitClam {
		inner += 2 * wallBesideHub(j)
	}
	return tenth((inner + outer) / 2)
}

// mouthByDefault is how many gates wide the mouth of a sprue is by default.
const mouthByDefault = 1.8

// wallBesideHub is what in mm a sprue or vent leaves to the hub, for the mold's wall
// beside the recess of a hub that stands out of the face that is up; 0 where none does.
func wallBesideHub(j *Job) float64 {
	if j.standsProud() <= slack {
		return 0
	}
	const spare = 0.1 // mm, for what rounding takes
	return j.Mold.Wall + j.Process.Clearance/2 + spare
}

// standsProud is how far the hub stands out of the tread's face that is up, mm.
func (j *Job) standsProud() float64 {
	if j.Mold.FaceUp == "back" {
		return -j.Hub.Offset
	}
	return j.Hub.Offset + j.Hub.Length - j.Wheel.Width
}

// gateRoom is the widest gate in mm for the pouring ring: 60 % of it, or all of it
// between the wall beside a hub that stands out, toward which the sprue widens, and the
// ring's outer edge.
func gateRoom(j *Job) float64 {
	wall := wallBesideHub(j)
	if wall == 0 {
		return 0.6 * pourWidth(j)
	}
	widens := (mouthByDefault - 1) * max(0, j.standsProud()) / j.Mold.LidThickness
	inner, outer := pourRing(j)
	between := (outer-inner)/2 - wall
	if j.Mold.Split != SplitClam { // in the middle of the ring, not between wall and edge
		between -= wall
	}
	return max(0.8, min(0.6*pourWidth(j), between/(1+widens)))
}

// mouthRoom is the widest mouth that keeps the mold's wall to its neighbors on
// the circle.
func mouthRoom(j *Job) float64 {
	s, v := &j.Mold.Sprue, &j.Mold.Vents
	gates, vents := j.GateAngles(), j.VentAngles()
	room := float64(maxPlain)
	for _, g := range gates {
		for _, o := range vents {
			apart := polarDistance(s.Circle/2, g, v.Circle/2, o)
			room = min(room, 2*(apart-v.Diameter/2-j.Mold.Wall))
		}
		for _, o := range gates {
			if o != g {
				room = min(room, polarDistance(s.Circle/2, g, s.Circle/2, o)-j.Mold.Wall)
			}
		}
	}
	return room
}

// polarDistance is the distance of two points given by radius and degrees.
func polarDistance(r1, deg1, r2, deg2 float64) float64 {
	s1, c1 := math.Sincos(deg1 * math.Pi / 180)
	s2, c2 := math.Sincos(deg2 * math.Pi / 180)
	return math.Hypot(r1*c1-r2*c2, r1*s1-r2*s2)
}

// Gates and vents share one set of equal steps around the axis, the first step
// at Sprue.Angle. Gates take the steps that spread them most evenly.

// GateAngles returns where the gates lie, degrees from the +X axis.
func (j *Job) GateAngles() []float64 { g, _ := j.pourAngles(); return g }

// VentAngles returns where the vents lie, degrees from the +X axis.
func (j *Job) VentAngles() []float64 { _, v := j.pourAngles(); return v }

// farVent is the angle of the vent farthest from all gates, or opposite the first
// gate if there is none, degrees.
func (j *Job) farVent() float64 {
	gates, vents := j.pourAngles()
	far, most := j.Mold.Sprue.Angle+180, 0.0
	for _, v := range vents {
		least := 360.0
		for _, g := range gates {
			d := math.Abs(math.Remainder(v-g, 360))
			least = min(least, d)
		}
		if least > most+1e-9 {
			far, most = v, least
		}
	}
	return far
}

func (j *Job) pourAngles() (gates, vents []float64) {
	n, g := max(0, j.Mold.Sprue.Count), 0
	steps := n + max(0, j.Mold.Vents.Count)
	for k := range steps {
		a := j.Mold.Sprue.Angle + 360*float64(k)/float64(steps)
		if g < n && k == g*steps/n {
			gates = append(gates, a)
			g++
			continue
		}
		vents = append(vents, a)
	}
	return gates, vents
}
