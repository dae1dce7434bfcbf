package step

import (
	"bytes"
	"math"
	"testing"
)

// A plane that leans by less than a microradian has the axes of an upright one.
func TestPlacementIsSquare(t *testing.T) {
	w := newWriter()
	z := Vec{1, 7e-7, 0}.Unit()
	w.entity("PLANE", "", w.placement(Vec{}, z, Vec{0, 1, 0}))
	var b bytes.Buffer
	if err := w.flush(&b, Options{}, "plane"); err != nil {
		t.Fatal(err)
	}
	f, err := Read(&b)
	if err != nil {
		t.Fatal(err)
	}
	var axes []Vec
	for _, id := range f.Order {
		if e := f.Entities[id]; e.Type() == "DIRECTION" {
			var d Vec
			for i, x := range e[0].Params[1].List {
				d[i] = x.Number
			}
			axes = append(axes, d)
		}
	}
	if len(axes) != 2 || axes[0] != z || math.Abs(axes[0].Dot(axes[1])) > 1e-15 || math.Abs(axes[1].Norm()-1) > 1e-15 {
		t.Errorf("axes %v", axes)
	}
}
