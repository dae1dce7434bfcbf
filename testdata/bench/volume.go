package main

import (
	"fmt"
	"math"
	"runtime"
	"sync"

	"wheelmold/mesh/plumb"
	"wheelmold/mesh/solid"
)

const (
	// linesOf a bundle and linesTurn, two Fibonacci numbers in a row: lines spread evenly over
	// a rectangle, and no row of them runs along an edge.
	linesOf, linesTurn = 317_811, 196_418
	// volumeDoubt is by how much two bundles may differ, as part of the volume: a quarter of
	// the least that meshes at the tolerance of the tables are off.
	volumeDoubt = 5e-6
)

// leaning are directions square or parallel to no face of any solid here: along them the
// length of a line within a solid has no steps from one line to the next, so that bundles
// add up to much better than their spacing.
var leaning = []solid.Vec{{1, math.Sqrt2, math.Sqrt(3)}, {1, 0.31, 2.2}}

// volumeByLines is a solid's volume, mm³: read from its tree along straight lines, which
// neither the boundary nor the field knows of. Two bundles must agree.
func volumeByLines(root *solid.Node) (float64, error) {
	var v []float64
	for _, d := range leaning {
		x, err := bundle(root, solid.AxisFrame(solid.Vec{}, d.Unit()))
		if err != nil {
			return 0, err
		}
		v = append(v, x)
	}
	mean := (v[0] + v[1]) / 2
	if off := math.Abs(v[0]-v[1]) / mean; !(off < volumeDoubt) {
		return 0, fmt.Errorf("volumes along two bundles of lines differ by %.1g", off)
	}
	return mean, nil
}

// bundle adds up lines along the frame's Z, each for its share of a rectangle.
func bundle(root *solid.Node, f solid.Frame) (float64, error) {
	s, err := plumb.NewAlong(root, f)
	if err != nil {
		return 0, err
	}
	b := s.Bounds()
	dx, dy := b.Hi[0]-b.Lo[0], b.Hi[1]-b.Lo[1]
	sums := make([]float64, runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for w := range sums {
		wg.Go(func() {
			line := s.Line()
			for i := w; i < linesOf; i += len(sums) {
				x, y := (float64(i)+0.5)/linesOf, (float64(i*linesTurn%linesOf)+0.5)/linesOf
				for _, r := range line.Runs(b.Lo[0]+x*dx, b.Lo[1]+y*dy) {
					sums[w] += r.Hi - r.Lo
				}
			}
		})
	}
	wg.Wait()
	sum := 0.0
	for _, x := range sums {
		sum += x
	}
	return sum / linesOf * dx * dy, nil
}
