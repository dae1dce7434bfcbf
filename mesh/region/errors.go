package region

import (
	"fmt"
	"strings"

	"wheelmold/mesh/solid"
)

// InternalError is a failure of the reading itself, not of the shape.
type InternalError struct {
	What  string
	Names []string // of the leaves that bear the place
	At    Vec
}

func (e *InternalError) Error() string {
	of := ""
	if len(e.Names) > 0 {
		of = " of " + strings.Join(e.Names, " and ")
	}
	return fmt.Sprintf("regions: %s%s at (%.6f, %.6f, %.6f) mm", e.What, of, e.At[0], e.At[1], e.At[2])
}

// fail says what went wrong on a carrier, and which leaves bear it there.
func (s *Solid) fail(what string, c *solid.Carrier, at Vec) error {
	e := &InternalError{What: what, At: at}
	for _, l := range s.Boundary.Root.Leaves() {
		for i := range l.Patches {
			if p := &l.Patches[i]; p.Carrier.ID == c.ID && p.Holds(at, nameTol) {
				e.Names = append(e.Names, l.Name)
				break
			}
		}
	}
	return e
}

// nameTol finds leaves for a message, mm.
const nameTol = 1e-4
