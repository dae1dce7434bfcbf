package mold

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// A LeakError says that liquid rubber can reach a keep-out.
type LeakError struct{ Faces []string }

// Error names what is flooded and what to do.
func (e *LeakError) Error() string {
	return "rubber would flood " + strings.Join(e.Faces, ", ") + ": close the gap (mold.stack.gap, mold.stack.seal) or move the opening"
}

// sealed floods the void, which is the block without pieces, hub and seals, and
// reports the keep-outs that hang together with the rubber. Two places of the
// void that a gap of any width above zero joins lie on one connected shell of its
// exact boundary. Nothing is meshed.
func sealed(void *brep.Boundary) error {
	s, err := region.Of(void)
	if err != nil {
		return fmt.Errorf("where rubber could flow: %w", err)
	}
	w := &water{s, void.Root.Leaves()}
	var flooded []string
	wet := false
	for i := range s.Shells {
		shell := &s.Shells[i]
		if len(w.bearers(shell, RoleTread)) == 0 {
			continue
		}
		wet = true
		for _, n := range w.bearers(shell, hub.RoleKeepOut) {
			if !slices.Contains(flooded, n) {
				flooded = append(flooded, n)
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

// water is where liquid could go, and the leaves that bound it.
type water struct {
	*region.Solid
	leaves []*solid.Leaf
}

// bearers names the leaves whose patches of the role bear faces of a shell, at the
// middles of their edges.
func (w *water) bearers(shell *region.Shell, role string) (out []string) {
	for _, i := range shell.Faces {
		f := w.Faces[i]
		if !slices.Contains(f.Roles, role) {
			continue
		}
		for _, loop := range f.Loops {
			for _, u := range loop {
				e := w.Edges[u.Edge]
				out = w.bear(out, f.Carrier.ID, role, e.At((e.T0+e.T1)/2))
			}
		}
	}
	return out
}

// bear adds the leaves whose patches of the role and carrier hold p.
func (w *water) bear(out []string, carrier int, role string, p mesh.Vec) []string {
	for _, l := range w.leaves {
		for i := range l.Patches {
			if q := &l.Patches[i]; q.Carrier.ID == carrier && q.Role == role && q.Holds(p, 1e-6) {
				out = append(out, l.Name)
				break
			}
		}
	}
	return out
}
