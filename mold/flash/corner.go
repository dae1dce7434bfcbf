package flash

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/contact"
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
// across it.
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
	return slices.DeleteFunc(out, func(c corner) bool { return len(c.pieces) < 2 })
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

// cast is what enters a corner and leaves it.
func (c *conditions) castCorner(k *corner, x *state) outcome {
	// At worst the edges are broken twice as far, else by the job's figure.
	e := c.job.Process.Edge * (1 + x.far)
	if e <= 0 {
		return outcome{}
	}
	l := c.liquid(x)
	head := l.Head(c.fillHeight() - k.from[2])
	seal := sealOf(&c.job, &site{at: atSides})
	angle := seal.angle + x.angle*seal.spread/2
	pull := 1000 * l.Tension * math.Cos(angle*math.Pi/180) * perimeter / e
	o := outcome{gap: e}
	p := head + pull
	if p <= 0 {
		return o
	}
	m := l.Mobility(wettedAt(&c.job.Pour, k.from[2], c.geometry.layout.Top))
	reach := conductance * e * e
	depth := math.Sqrt(2 * reach * p * m)
	grams := l.Density / 1000 * e * e // per mm
	o.depth = min(depth, k.length)
	o.flash = grams * o.depth
	if depth > k.length && head > 0 {
		o.reached = true
		since := m - k.length*k.length/(2*reach*p)
		o.leak = grams * reach * head / k.length * since
	}
	return o
}
