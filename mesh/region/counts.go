package region

import "wheelmold/mesh/solid"

// Counts are numbers of faces by what an exchange format has for their surfaces.
type Counts struct {
	Plane, Cylinder, Cone, Sphere, Torus int
	// Revolution: circles turned about an axis that they reach or cross, such as a
	// crown whose radius exceeds the wheel's: no ring, and no torus elsewhere.
	Revolution int
}

// Counts counts the faces by kind.
func (s *Solid) Counts() Counts {
	var n Counts
	for _, f := range s.Faces {
		switch f.Carrier.Kind {
		case solid.Plane:
			n.Plane++
		case solid.Cylinder:
			n.Cylinder++
		case solid.Cone:
			n.Cone++
		case solid.Sphere:
			n.Sphere++
		case solid.Torus:
			if IsRing(f.Carrier) {
				n.Torus++
			} else {
				n.Revolution++
			}
		}
	}
	return n
}

// IsRing reports whether a torus is a ring with a hole: its circle keeps off the axis.
func IsRing(c *solid.Carrier) bool { return c.Kind == solid.Torus && c.R0 > c.M }
