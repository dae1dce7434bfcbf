package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"time"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/tess"
	"wheelmold/mold"
	"wheelmold/mold/flash"
)

// scales are what ours is measured against, each in a process of its own.
var scales = []string{"tolerance", "diameter", "cross grooves", "vents"}

// scaling prints how cost grows.
func (b *bench) scaling(w *strings.Builder) error {
	for _, s := range scales {
		fmt.Fprintln(os.Stderr, "bench: scaling with", s)
		p, err := b.runProcess([]string{b.self, "scale", s})
		if err != nil {
			return err
		}
		w.WriteString(p.said)
	}
	return nil
}

// scale is that process.
func scale(w io.Writer, what string) error {
	switch what {
	case "tolerance":
		return scaleTolerance(w)
	case "diameter":
		return scaleMold(w, "diameter, mm", []float64{25, 50, 100, 200, 400}, func(x float64) []string {
			return []string{fmt.Sprintf("wheel.diameter=%gmm", x), fmt.Sprintf("wheel.width=%gmm", 0.4*x), fmt.Sprintf("hub.bore=%gmm", 0.1*x)}
		})
	case "cross grooves":
		return scaleMold(w, what, counts, func(x float64) []string { return []string{fmt.Sprintf("wheel.cross.count=%g", x)} })
	case "vents": // narrow ones, so that the largest number fits
		return scaleMold(w, what, counts, func(x float64) []string {
			return []string{"mold.vents.diameter=3mm", fmt.Sprintf("mold.vents.count=%g", x)}
		})
	}
	return fmt.Errorf("no scale %q", what)
}

// counts of a feature.
var counts = []float64{2, 4, 8, 16, 32, 64}

// Runs of what is timed within one process: fewer where they take long.
const leastRuns, mostRuns, enough = 3, 7, 1500 * time.Millisecond

// ofRuns says so, for the head of a table.
var ofRuns = fmt.Sprintf("medians of %d to %d runs in one process", leastRuns, mostRuns)

// timed returns the median of some times of f, s.
func timed(f func() error) (float64, error) {
	var times []float64
	begun := time.Now()
	for len(times) < leastRuns || len(times) < mostRuns && time.Since(begun) < enough {
		start := time.Now()
		if err := f(); err != nil {
			return 0, err
		}
		times = append(times, time.Since(start).Seconds())
	}
	return median(times), nil
}

func scaleTolerance(w io.Writer) error {
	tolerances := []float64{1, 0.1, 0.01, 0.001}
	fmt.Fprintf(w, "\nTolerance of ours: triangles; ms to mesh a boundary that is known, %s; off the surface by, of the tolerance:\n\n| solid |", ofRuns)
	for _, t := range tolerances {
		fmt.Fprintf(w, " %g mm |", t)
	}
	fmt.Fprint(w, " triangles grow as | time grows as |\n|---|", strings.Repeat("--:|", len(tolerances)+2), "\n")
	for _, name := range []string{reference, "albatross shell A", ball} {
		if err := toleranceRow(w, name, tolerances); err != nil {
			return err
		}
	}
	return nil
}

func toleranceRow(w io.Writer, name string, tolerances []float64) error {
	b, t, err := boundaryOf(name)
	if err != nil {
		return err
	}
	var times, triangles []float64
	fmt.Fprint(w, "| ", name, " |")
	for _, tol := range tolerances {
		var made soup
		s, err := timed(func() error {
			m, err := tess.Mesh(b, tess.Settings{Tolerance: tol})
			if err == nil {
				made = slices.Collect(facets(m))
			}
			return err
		})
		if err != nil {
			return err
		}
		off := worst(spread(made), t.distance)
		fmt.Fprintf(w, " %s; %s; %.2f |", grouped(len(made)), digits(1000*s), off/tol)
		times, triangles = append(times, s), append(triangles, float64(len(made)))
	}
	fmt.Fprintf(w, " t^%.2f | t^%.2f |\n", exponent(tolerances, triangles), exponent(tolerances, times))
	return nil
}

// boundaryOf returns what ours meshes, and what the mesh is measured against.
func boundaryOf(name string) (*brep.Boundary, *truth, error) {
	m, root, err := build(name)
	if err != nil {
		return nil, nil, err
	}
	b, err := brep.NewEvaluator(m).Boundary(root)
	if err != nil {
		return nil, nil, err
	}
	return b, newTruth(root, b), nil
}

// step is a part of the work on a mold.
type step struct {
	name string
	do   func() error
}

// scaleMold takes molds of a plain milled wheel through the steps that cost most, with
// settings that follow from x.
func scaleMold(w io.Writer, what string, xs []float64, sets func(x float64) []string) error {
	var times [4][]float64
	var names []string
	var triangles []float64
	for _, x := range xs {
		j, err := parse("scale", "[wheel]\ndiameter = \"400 mm\"\nwidth = \"80 mm\"\n[hub]\nbore = \"40 mm\"\n[process]\nname = \"milled\"\n", sets(x)...)
		if err != nil {
			return err
		}
		var m *mold.Mold
		var exact *mold.Checked
		var made *mold.Made
		steps := []step{
			{"layout", func() error { m, err = mold.New(j); return err }},
			{"boundaries", func() error { exact, err = m.Check(); return err }},
			{"boundaries, meshes, audits", func() error { made, err = m.Make(mold.MakeOptions{Tolerance: 0.01}); return err }},
			{"flash", func() error { _, err = flash.Analyze(m, exact.Faces, flash.DefaultOptions); return err }},
		}
		names = names[:0]
		for i, s := range steps {
			t, err := timed(s.do)
			if err != nil {
				return fmt.Errorf("%s %g: %w", what, x, err)
			}
			times[i], names = append(times[i], t), append(names, s.name+", ms")
		}
		n := 0
		for _, p := range made.Parts {
			n += len(p.Mesh.T)
		}
		triangles = append(triangles, float64(n))
	}
	printScale(w, what, xs, append(names, "triangles"), append(times[:], triangles))
	return nil
}

// printScale prints a row of each quantity, with its exponent over all and over the last
// step: what costs the same always hides in the first.
func printScale(w io.Writer, what string, xs []float64, names []string, rows [][]float64) {
	fmt.Fprintf(w, "\nA mold by its %s; times are %s:\n\n| %s |", what, ofRuns, what)
	for _, x := range xs {
		fmt.Fprintf(w, " %g |", x)
	}
	fmt.Fprint(w, " grows as | at the end |\n|---|", strings.Repeat("--:|", len(xs)+2), "\n")
	last := len(xs) - 2
	for i, row := range rows {
		fmt.Fprint(w, "| ", names[i], " |")
		for _, v := range row {
			if names[i] == "triangles" {
				fmt.Fprint(w, " ", grouped(int(v)), " |")
			} else {
				fmt.Fprint(w, " ", digits(1000*v), " |")
			}
		}
		fmt.Fprintf(w, " x^%.2f | x^%.2f |\n", exponent(xs, row), exponent(xs[last:], row[last:]))
	}
}

// exponent is the slope of y over x in logarithms, by least squares: y grows as x to it.
func exponent(x, y []float64) float64 {
	n := float64(len(x))
	var mx, my float64
	for i := range x {
		mx, my = mx+math.Log(x[i])/n, my+math.Log(y[i])/n
	}
	var xy, xx float64
	for i := range x {
		d := math.Log(x[i]) - mx
		xy, xx = xy+d*(math.Log(y[i])-my), xx+d*d
	}
	return xy / xx
}
