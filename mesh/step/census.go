package step

import (
	"fmt"

	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// Census counts the faces of a solid by the surface that a STEP file gives them.
type Census struct {
	Plane, Cylinder, Cone, Sphere, Torus int
	// Revolution counts tori whose tube reaches their axis: surfaces of revolution.
	Revolution int
}

// Count counts a solid's faces.
func Count(s *region.Solid) (c Census) {
	for _, f := range s.Faces {
		switch {
		case f.Carrier.Kind == solid.Plane:
			c.Plane++
		case f.Carrier.Kind == solid.Cylinder:
			c.Cylinder++
		case f.Carrier.Kind == solid.Cone:
			c.Cone++
		case f.Carrier.Kind == solid.Sphere:
			c.Sphere++
		case reachesAxis(f.Carrier):
			c.Revolution++
		default:
			c.Torus++
		}
	}
	return c
}

// Total is the number of faces.
func (c Census) Total() int {
	return c.Plane + c.Cylinder + c.Cone + c.Sphere + c.Torus + c.Revolution
}

// String lists the counts in words.
func (c Census) String() string {
	return fmt.Sprintf("%d planes, %d cylinders, %d cones, %d spheres, %d tori, %d of revolution",
		c.Plane, c.Cylinder, c.Cone, c.Sphere, c.Torus, c.Revolution)
}
