package tess

import (
	"fmt"
	"os/exec"
	"slices"
	"testing"
	"time"

	"wheelmold/mesh/solid/solidtest"
)

// BenchmarkBesideMeshBooleans makes the reference solid at 0.01 mm in turn with
// the mesh-boolean library of the referees (npm manifold-3d 3.5.4, WASM) and
// reports ours over theirs, so that a busy machine slows both. It needs node and
// `npm ci` in testdata/referee.
func BenchmarkBesideMeshBooleans(b *testing.B) {
	var ratios []float64
	theirs := 0
	ours := 0
	for b.Loop() {
		cmd := exec.Command("node", "yardstick.mjs", "0.01", "9")
		cmd.Dir = "../../testdata/referee"
		out, err := cmd.Output()
		if err != nil {
			b.Skipf("no yardstick: %v; run npm ci in testdata/referee", err)
		}
		var ms float64
		if _, err := fmt.Sscan(string(out), &ms, &theirs); err != nil {
			b.Fatalf("yardstick printed %q: %v", out, err)
		}
		var times []float64
		for range 9 {
			start := time.Now()
			m, err := Mesh(boundaryOf(b, solidtest.ReferenceLid), Settings{.01})
			if err != nil {
				b.Fatal(err)
			}
			times = append(times, time.Since(start).Seconds()*1000)
			ours = len(m.T)
		}
		slices.Sort(times)
		ratios = append(ratios, times[len(times)/2]/ms)
	}
	slices.Sort(ratios)
	b.ReportMetric(ratios[len(ratios)/2], "ours/theirs")
	b.ReportMetric(float64(ours), "triangles")
	b.ReportMetric(float64(theirs), "their-triangles")
}
