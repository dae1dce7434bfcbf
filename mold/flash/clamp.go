package flash

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/params"
)

// clamp is one place that presses two pieces together.
type clamp struct {
	at      mesh.Vec // where its axis passes the parting plane
	head    float64  // radius in mm on which it presses
	through float64  // material under the head, to the parting plane, mm
}

// reach is how far around a clamp faces are pressed together, mm: its head's
// radius and a cone of 30° through the material (Rötscher's cone; the angle is
// common practice). Beyond it a face is free to bow.
func (c *clamp) reach() float64 { return c.head + c.through*math.Tan(math.Pi/6) }

// leastSpan in mm: faces are never taken to be pressed flat over less.
const leastSpan = 5

// span is the width of face in mm about a point of the seam that no clamp
// holds: twice the way to the nearest one, less its reach, as if the point lay
// midway between two. It is at most the whole face.
func span(p mesh.Vec, clamps []clamp, whole float64) float64 {
	least := whole
	for i := range clamps {
		c := &clamps[i]
		least = min(least, max(2*(p.Dist(c.at)-c.reach()), leastSpan))
	}
	return least
}

// spans are the mean and the largest span along a site's seam, mm.
func (g *geometry) spans(s *site) (mean, most float64) {
	if s.at == atHub { // nothing but the stack presses on the hub's ends
		return 2 * g.core.EndR(), 2 * g.core.EndR()
	}
	clamps := g.clamps(s)
	weight := 0.0
	for i := range s.lands {
		l := &s.lands[i]
		d := span(s.point(l), clamps, s.size)
		mean, weight, most = mean+l.Weight*d, weight+l.Weight, max(most, d)
	}
	return mean / weight, most
}

// flattening is by how much in mm a force in N presses a bow flat: the middle of
// a beam held at both ends, F·S³/(192·E·I), as wide as its span (a handbook's
// beam; for a plate between bolts an estimate). Lengths in mm, modulus in Pa.
func flattening(force, modulus, thickness, span float64) float64 {
	const side = 192. / 12 // of I = S·t³/12
	return force * span * span / (side * modulus * 1e-6 * thickness * thickness * thickness)
}

// clamps are the bolts along the axis, where they pass a plate's parting plane,
// or what holds the shells: bolts across, or a strap, whose tension pulls across each
// of their parting planes, however many there are, and presses through the whole shell.
// A bolt whose head bears on a shell presses it on the base alone.
func (g *geometry) clamps(s *site) []clamp {
	l := g.layout
	var out []clamp
	switch {
	case s.at == atSides && l.Strap != nil:
		z, half := (l.Strap.Z0+l.Strap.Z1)/2, (l.Strap.Z1-l.Strap.Z0)/2
		for i := range l.Partings {
			p := &l.Partings[i]
			if p.Line != s.name {
				continue
			}
			at := p.Outward().Scale(l.Reach(p.Outward()))
			out = append(out, clamp{mesh.Vec{at[0], at[1], z}, half, l.FaceY})
		}
	case s.at == atSides:
		f, _ := params.FastenerOf(g.mold.Job.Mold.SideClamp.Size)
		for _, b := range l.Cross {
			out = append(out, clamp{mesh.Vec{b.X, 0, b.Z}, f.HeadDiameter / 2, b.Grip})
		}
	case s.at == atBase, s.at == atLid:
		f, _ := params.FastenerOf(g.mold.Job.Mold.Bolts.Size)
		for _, b := range l.Bolts {
			through := -l.Bottom - b.NutD
			if s.at == atLid {
				if through = b.Top - l.Part - b.HeadD; through <= 0 {
					continue // it ends below
				}
			}
			out = append(out, clamp{mesh.Vec{b.At[0], b.At[1], s.lowest}, f.HeadDiameter / 2, through})
		}
	}
	return out
}

// axialForce is the force in N of each bolt along the axis, at the usual nut
// factor; 0 without bolts.
func axialForce(j *params.Job) float64 {
	f, ok := params.FastenerOf(j.Mold.Bolts.Size)
	if !ok {
		return 0
	}
	return f.Tension(j.Mold.Bolts.Torque)
}

// force is that of each clamp of a site.
func (c *conditions) force(s *site) float64 {
	switch {
	case s.at == atHub:
		return 0
	case s.at != atSides:
		return axialForce(&c.job)
	case c.geometry.layout.Strap != nil:
		return c.job.Mold.SideClamp.StrapForce
	}
	f, ok := params.FastenerOf(c.job.Mold.SideClamp.Size)
	if !ok {
		return 0
	}
	return f.Tension(c.job.Mold.SideClamp.Torque)
}
