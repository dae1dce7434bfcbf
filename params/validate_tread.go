package params

import (
	"fmt"
	"math"
)

// leastRib is the thinnest rib of rubber that is worth casting, mm.
func (c *judge) leastRib() float64 { return max(1, c.Process.MinFeature) }

// judgeTread: the tread's grooves lie between its edges, apart from each other.
func (c *judge) judgeTread() {
	w := &c.Wheel
	for i, g := range w.Grooves {
		path := fmt.Sprintf("wheel.groove[%d]", i+1)
		c.judgeHalfRound(path, g)
		lo := w.shoulder() + c.Process.MinFeature
		c.judgePlace(path, g, lo, w.Width-lo, "wheel.edge_size", "wheel.draft", "wheel.width")
		for k := range i {
			c.judgeRib(fmt.Sprintf("wheel.groove[%d]", k+1), w.Grooves[k], path, g, c.leastRib())
		}
	}
}

// judgeCrossGrooves: lugs stay between the grooves.
func (c *judge) judgeCrossGrooves() {
	w, x := &c.Wheel, c.Wheel.Cross
	if x.Count == 0 {
		return
	}
	if x.Width < c.Process.MinFeature-slack || x.Depth <= 0 {
		c.refuse("wheel.cross.width", atLeast(c.Process.MinFeature), "cross grooves need a width that can be made, and a depth", "wheel.cross.depth", "wheel.cross.count")
	}
	// Widths at the surface grow with the radius: the thinnest lug is at its least or
	// its most.
	top := x.Width + 2*(x.Depth+w.leanOut())*math.Tan(x.Flank*math.Pi/180)
	pitch := math.Pi * (w.Diameter + 2*w.leanOut()) / float64(x.Count)
	if lug := pitch - top; lug < c.leastRib()-slack {
		c.refuse("wheel.cross.count", fmt.Sprintf("up to %d", int(math.Pi*(w.Diameter+2*w.leanOut())/(top+c.leastRib()))),
			fmt.Sprintf("leaves lugs of %s at the top, needed are %s", mm(max(0, lug)), mm(c.leastRib())),
			"wheel.draft", "wheel.cross.width", "wheel.cross.depth", "wheel.cross.flank")
	}
	root := math.Pi * (w.Diameter - 2*x.Depth) / float64(x.Count)
	if lug := root - x.Width; lug < c.leastRib()-slack {
		c.refuse("wheel.cross.width", upTo(root-c.leastRib()), fmt.Sprintf("leaves lugs of %s at the root, needed are %s", mm(max(0, lug)), mm(c.leastRib())),
			"wheel.cross.depth", "wheel.cross.count")
	}
}

// treadRadius is the radius of the tread's surface at a height above its back
// face, mm: an arc over the whole width for a crown, a cone for a draft.
func (j *Job) treadRadius(z float64) float64 {
	w := &j.Wheel
	r := w.Diameter / 2
	if w.Draft > 0 {
		up := z - w.Width/2
		if j.Mold.FaceUp == "back" {
			up = -up
		}
		return r + up*w.slope()
	}
	if w.Crown <= 0 {
		return r
	}
	h := w.Width / 2
	arc := (h*h + w.Crown*w.Crown) / (2 * w.Crown)
	return r - arc + math.Sqrt(max(0, arc*arc-(z-h)*(z-h)))
}

// hubRadius is the largest radius of the hub's bond surface between two heights
// above the tread's back face, its own grooves aside.
func (j *Job) hubRadius(z0, z1 float64) float64 {
	h := &j.Hub
	from, to := h.Offset+h.FlangeThickness, h.Offset+h.Length-h.FlangeThickness
	if z0 < from || z1 > to {
		return h.FlangeDiameter / 2
	}
	return h.BodyDiameter / 2
}

// judgeRubber: rubber covers the hub everywhere, also under grooves and edges.
func (c *judge) judgeRubber() {
	w, h, least := &c.Wheel, &c.Hub, leastRubber(c.Job)
	lower, upper := w.faces()
	face := min(lower, upper)
	if t := (face - h.FlangeDiameter) / 2; t < least-slack {
		path := "hub.body_diameter"
		if h.FlangeDiameter > h.BodyDiameter {
			path = "hub.flange_diameter"
		}
		c.refuse(path, upTo(face-2*least), fmt.Sprintf("leaves %s of rubber at the tread's faces, needed are %s", mm(max(0, t)), mm(least)),
			"wheel.diameter", "wheel.edge_size", "wheel.crown", "wheel.draft", "hub.bore")
	}
	for i, g := range w.Grooves {
		z0, z1 := g.Position-g.Width/2, g.Position+g.Width/2
		room := min(c.treadRadius(z0), c.treadRadius(z1)) - c.hubRadius(z0, z1) - least
		if g.Depth > room+slack {
			c.refuse(fmt.Sprintf("wheel.groove[%d].depth", i+1), upTo(room), fmt.Sprintf("leaves less than %s of rubber on the hub", mm(least)),
				"hub.body_diameter", "hub.flange_diameter", "wheel.crown")
		}
	}
	room := w.Diameter/2 - h.FlangeDiameter/2 - least
	if w.Cross.Count > 0 && w.Cross.Depth > room+slack {
		c.refuse("wheel.cross.depth", upTo(room), fmt.Sprintf("leaves less than %s of rubber on the hub", mm(least)), "hub.body_diameter", "hub.flange_diameter")
	}
}
