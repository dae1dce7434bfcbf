package region_test

import (
	"testing"

	"wheelmold/mesh/region"
	"wheelmold/mold/moldtest"
)

// An area asks a curve for few points, also where rounding hides that it has converged:
// with cross grooves, curves on tori are many and far from the axis.
func TestAreasAskFewPoints(t *testing.T) {
	_, c := moldtest.Checked(t, moldtest.Wheel{Diameter: 300, Width: 80, Bore: 30, Process: "milled"}.Job(t, "wheel.cross.count=100", "wheel.cross.width=3mm"))
	s, err := region.Of(c.RawFaces["shell-a"])
	if err != nil {
		t.Fatal(err)
	}
	asked := make([]int, len(s.Edges))
	free := 0
	for i, e := range s.Edges {
		at := e.At
		e.At = func(x float64) region.Vec { asked[i]++; return at(x) }
		if e.Shape == region.Free {
			free++
		}
	}
	for i := range s.Faces {
		s.Area(i)
	}
	for i, n := range asked {
		if n > 4000 { // of both faces
			t.Errorf("edge %d of %v is asked for %d points", i, s.Edges[i].Shape, n)
		}
	}
	if free < 100 {
		t.Errorf("only %d curves are neither straight nor round", free)
	}
}
