package tess

import (
	"math"

	"wheelmold/mesh/solid"
)

// Walls are the half planes through the axis of a cylinder or cone at which its
// facets part: facet edges that are not face edges lie on walls only, so no
// facet spans more than one wall step and none sags by more than the tolerance.
//
// How many there are follows from the carrier and the tolerance alone. Two
// pieces that share a carrier and an edge on it therefore put the same vertices
// on that edge, and a parting line closes to the bit.

// wallCount returns how many walls keep a chord across one step within sag of a
// circle of radius r.
func wallCount(r, sag float64) int {
	if sag >= r {
		return 8
	}
	return roundCount(int(math.Ceil(math.Pi/math.Acos(1-sag/r) - 1e-9)))
}

// roundCount returns the next count with at most four significant bits and at
// least two zeros: eight sizes to the octave. Different carriers then meet in
// equal or nested counts more often than not, walls of two counts that meet on
// one edge stay at least 1/15 of a step apart, and the axes of the frame always
// lie on walls.
func roundCount(n int) int {
	if n <= 8 {
		return 8
	}
	unit := 4
	for n > 16*unit {
		unit *= 2
	}
	return (n + unit - 1) / unit * unit
}

// faceWalls says where the facets of a face part.
type faceWalls struct {
	n    int      // walls of a cylinder or cone
	rows *rowPlan // of a torus or sphere
}

func (w faceWalls) none() bool { return w.n == 0 && w.rows == nil }

// param returns the parameter that walls or rows are levels of.
func (w faceWalls) param(c *solid.Carrier, p Vec) float64 {
	u, v := c.UV(p)
	if w.rows != nil {
		return v
	}
	return u
}

// grain is how near to a wall or row a vertex counts as on it, mm: about a
// lattice step, and more than the distance to which brep knows a vertex where a
// curve touches a third surface, 5e-5 mm.
const grain = 6e-5

// sticky is the same for a vertex that stands for a crossing of that wall or row
// which it is not quite at (see spacing), mm.
const sticky = 1.01 * spacing

// wallsOf returns the walls of a face on c. Plans of equal spheres and tori are
// looked up in seen, which it extends.
func wallsOf(c *solid.Carrier, tol float64, seen *[]*rowPlan) faceWalls {
	switch c.Kind {
	case solid.Cylinder, solid.Cone:
		return faceWalls{n: wallCount(c.MaxR, tol)}
	case solid.Sphere, solid.Torus:
		for _, p := range *seen {
			if p.r0 == c.R0 && p.m == c.M && p.maxR == c.MaxR {
				return faceWalls{rows: p}
			}
		}
		var p *rowPlan
		if c.Kind == solid.Sphere {
			p = sphereRows(c.M, tol)
		} else {
			p = torusRows(c.R0, c.M, wallCount(c.MaxR, tol), tol)
		}
		p.r0, p.m, p.maxR = c.R0, c.M, c.MaxR
		*seen = append(*seen, p)
		return faceWalls{rows: p}
	}
	return faceWalls{}
}
