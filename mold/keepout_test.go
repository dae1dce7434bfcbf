package mold

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// flood evaluates the void less extra bodies and floods it.
func flood(t *testing.T, m *Mold, void *solid.Node) error {
	t.Helper()
	b, err := brep.NewEvaluator(m.Model).Boundary(void)
	if err != nil {
		t.Fatal(err)
	}
	return sealed(b)
}

// The examples are sealed; without the seal, or with a drill from the tread into
// a keep-out, each leak is found and named.
func TestFlood(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := flood(t, m, m.Void); err != nil {
			t.Errorf("%s: %v", name, err)
		}

		var parts []*solid.Node
		for _, p := range m.Pieces {
			parts = append(parts, p.Root)
		}
		var leak *LeakError
		err = flood(t, m, solid.Minus(m.Block, parts...)) // no seal in the gap
		if !errors.As(err, &leak) || !slices.Contains(leak.Faces, "hub") {
			t.Errorf("%s: without its seal: %v", name, err)
		}

		// A pinhole of 0.1 mm through the hub, from the bond surface to the bore.
		pin := m.Model.Cylinder("pinhole", "", mesh.Vec{0, 0, m.Core.Z0 + m.Core.Length*.31}, mesh.Vec{.6, .8, 0}, .05, 0, m.Core.FlangeR+1)
		err = flood(t, m, solid.Union(m.Void, pin))
		if !errors.As(err, &leak) {
			t.Errorf("%s: with a pinhole into the bore: %v", name, err)
		}
	}
}

// What cannot be made is announced before any surface is computed, each with
// the number to change.
func TestAnnounced(t *testing.T) {
	for _, c := range []struct {
		name, path string
		set        func(*params.Job)
	}{
		{"gap without a seal", "mold.stack.seal", func(j *params.Job) { j.Mold.Stack.Seal = "none" }},
		{"outline too small", "mold.size", func(j *params.Job) { j.Mold.Size = 130 }},
		{"ribs that do not release", "wheel.cross.depth", func(j *params.Job) {
			j.Wheel.Cross = params.CrossGrooves{Count: 40, Width: 4, Depth: 4, Flank: 0}
		}},
		{"lock hole touches a groove's wall", "hub.lock_holes.position", func(j *params.Job) {
			j.Hub.Grooves = []params.Groove{{Shape: "rectangular", Position: 20, Width: 6, Depth: 2}}
			j.Hub.LockHoles = params.LockHoles{Count: 3, Diameter: 4, Depth: 5, Position: 25}
		}},
	} {
		j, err := params.Default(110, 40, 16, "milled")
		if err != nil {
			t.Fatal(err)
		}
		c.set(j)
		_, err = New(j)
		var faults params.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !slices.ContainsFunc(faults, func(f params.Fault) bool { return strings.HasPrefix(f.Path, c.path) }) {
			t.Errorf("%s: faults name %v, not %s", c.name, faults, c.path)
		}
	}
}
