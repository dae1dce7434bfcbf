package mold

import (
	"errors"
	"slices"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh/brep"
)

// A LeakError says that liquid rubber can reach a keep-out.
type LeakError struct{ Faces []string }

// Error names what is flooded and what to do.
func (e *LeakError) Error() string {
	return "rubber would flood " + strings.Join(e.Faces, ", ") + ": close the gap (mold.stack.gap, mold.stack.seal) or move the opening"
}

// sealed floods the void, which is the block without pieces, hub and seals, and
// reports the keep-outs that hang together with the rubber. Two places of the
// void that a gap of any width above zero joins lie on one connected component
// of its exact boundary.
func sealed(void *brep.Boundary) error {
	var flooded []string
	wet := false
	for _, component := range void.Components() {
		if !slices.ContainsFunc(component, func(u brep.Use) bool { return len(bearers(u, RoleTread)) > 0 }) {
			continue
		}
		wet = true
		for _, u := range component {
			for _, n := range bearers(u, hub.RoleKeepOut) {
				if !slices.Contains(flooded, n) {
					flooded = append(flooded, n)
				}
			}
		}
	}
	if !wet {
		return errors.New("the flood found no tread surface: the model contradicts itself")
	}
	if len(flooded) > 0 {
		slices.Sort(flooded)
		return &LeakError{flooded}
	}
	return nil
}

// bearers names the leaves whose patches of the role bear the face beside the
// edge, at the edge's middle.
func bearers(u brep.Use, role string) []string {
	if !slices.Contains(u.Face.Roles, role) {
		return nil
	}
	var out []string
	for _, l := range u.Leaves {
		for i := range l.Patches {
			p := &l.Patches[i]
			if p.Carrier.ID == u.Face.Carrier.ID && p.Role == role && p.Holds(u.Edge.Mid, 1e-6) {
				out = append(out, l.Name)
				break
			}
		}
	}
	return out
}
