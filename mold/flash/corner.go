package flash

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/contact"
	"wheelmold/mesh/solid"
)

// corner is the narrow channel along the broken edges where three pieces meet,
// from the seam to the first way out.
type corner struct {
	pieces   []string
	from, to mesh.Vec
	length   float64
}

// cornersOf finds the straight edges between two mating faces of a piece that
// start on the seam. Two pieces that have the same edge part it; the third lies
// across it. Without a third, under an open top, the edges are the sides of a groove
// that lies bare at the liquid's level: nothing pushes it along.
func cornersOf(bodies []contact.Body) []corner {
	var out []corner
	for _, b := range bodies {
		for _, e := range b.Boundary.Edges {
			from, to, ok := channel(b.Boundary, e)
			if !ok {
				continue
			}
			i := slices.IndexFunc(out, func(c corner) bool { return c.from.Dist(from) < 1e-6 && c.to.Dist(to) < 1e-6 })
			if i < 0 {
				i = len(out)
				out = append(out, corner{from: from, to: to, length: from.Dist(to)})
			}
			out[i].pieces = append(out[i].pieces, b.Name)
		}
	}
	out = slices.DeleteFunc(out, func(c corner) bool { return len(c.pieces) < 2 })
	for i := range out {
		out[i].addThird(bodies)
	}
	return slices.DeleteFunc(out, func(c corner) bool { return len(c.pieces) < 3 })
}

// addThird names the pieces whose flat lies across a corner's edge where it starts.
func (c *corner) addThird(bodies []contact.Body) {
	const on, in = 1e-6, 0.01 // mm
	start := c.from.AddScaled(min(in/c.length, 0.5), c.to.Sub(c.from))
	for _, b := range bodies {
		if slices.Contains(c.pieces, b.Name) || !b.Boundary.Root.Bounds().Contains(start, on) {
			continue
		}
		if slices.ContainsFunc(b.Boundary.Faces, func(f *brep.Face) bool {
			if f.Carrier.Kind != solid.Plane || !anyRole(f.Roles, matingRoles) || math.Abs(f.Carrier.F(start)) > on {
				return false
			}
			n := f.Carrier.N(start)
			return b.Boundary.Root.Contains(start.AddScaled(in, n)) || b.Boundary.Root.Contains(start.AddScaled(-in, n))
		}) {
			c.pieces = append(c.pieces, b.Name)
		}
	}
}

// channel tells whether an edge is one of a corner, and its end on the seam.
func channel(b *brep.Boundary, e *brep.Edge) (from, to mesh.Vec, ok bool) {
	if len(e.Half) != 2 || !e.Curve.Line || !anyRole(b.Faces[e.Half[0].Face].Roles, matingRoles) || !anyRole(b.Faces[e.Half[1].Face].Roles, matingRoles) {
		return from, to, false
	}
	p, q := b.Vertices[e.V0], b.Vertices[e.V1]
	switch wet0, wet1 := onSeam(b, e.V0), onSeam(b, e.V1); {
	case wet0 && !wet1:
		return p, q, true
	case wet1 && !wet0:
		return q, p, true
	}
	return from, to, false
}

// onSeam tells whether the liquid reaches a vertex.
func onSeam(b *brep.Boundary, vertex int) bool {
	for _, e := range b.Edges {
		if e.V0 != vertex && e.V1 != vertex {
			continue
		}
		for _, h := range e.Half {
			if anyRole(b.Faces[h.Face].Roles, []string{wetRoles[0]}) {
				return true
			}
		}
	}
	return false
}

// The channel between two broken edges and a flat is a right isosceles triangle
// whose legs are the flats of two 45° breaks of the given size: area e²,
// perimeter 2·(1+√2)·e. Laminar flow in it has f·Re = 13.15 with the hydraulic
// diameter (Shah and London, Laminar Flow Forced Convection in Ducts, 1978; from
// memory), so that the mean velocity is ΔP/(μL) times e²·conductance.
var (
	perimeter   = 2 * (1 + math.Sqrt2)
	conductance = (4 / perimeter) * (4 / perimeter) / (2 * 13.15)
)

// castCorner is what enters a corner and leaves it. The seal between the shells
// is the corner's: a filling fills it, a cord stops in its middle what comes.
func (c *conditions) castCorner(k *corner, x *shared) outcome {
	e := c.job.Process.Edge
	l := c.liquid(x)
	head := l.Head(c.fillHeight() - k.from[2])
	if e <= 0 || head < 0 {
		return outcome{}
	}
	seal := sealingOf(&c.job.Mold, c.job.Mold.Seals.Sides, 0)
	o := outcome{gap: e, head: head}
	p := head
	if seal.yield > 0 {
		o.held = seal.yield * perimeter / e * k.length * relied(e)
		p -= o.held
	} else {
		o.capillary = 1000 * l.Tension * math.Cos(seal.contact(x)*math.Pi/180) * perimeter / e
		p += o.capillary
	}
	if p <= 0 {
		return o
	}
	o.mobility = l.Left(ageAt(&c.job.Pour, k.from[2], c.geometry.layout.Top))
	reach := conductance * e * e
	end := k.length
	if seal.cord {
		end /= 2
	}
	o.depth = math.Sqrt(2 * reach * p * o.mobility)
	grams := l.Density / 1000 * e * e // per mm
	o.flash = grams * min(o.depth, end)
	if o.reached = o.depth > end && !seal.cord; o.reached && !seal.outside {
		since := o.mobility - end*end/(2*reach*p)
		o.leak = min(grams*reach*seal.push(head, p)/end*since, c.geometry.poured)
	}
	o.depth = min(o.depth, end)
	return o
}
