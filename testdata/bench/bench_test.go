package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

// meshOf makes a solid our way.
func meshOf(t *testing.T, m *solid.Model, root *solid.Node, tol float64) soup {
	t.Helper()
	made, err := exact(m, root, tol)
	if err != nil {
		t.Fatal(err)
	}
	return slices.Collect(made)
}

// mustTruth is what a tree is measured against.
func mustTruth(t *testing.T, m *solid.Model, root *solid.Node) *truth {
	t.Helper()
	b, err := brep.NewEvaluator(m).Boundary(root)
	if err != nil {
		t.Fatal(err)
	}
	held := newTruth(root, b)
	if held.volume, err = volumeByLines(root); err != nil {
		t.Fatal(err)
	}
	return held
}

// Volumes along lines beside closed forms, and beside the boundary where there is none.
func TestVolumeByLines(t *testing.T) {
	t.Chdir("../..")
	want := map[string]float64{reference: solidtest.ReferenceLidVolume, ball: 4 * math.Pi / 3 * 50 * 50 * 50}
	for _, name := range append([]string{ball}, solids...) {
		m, root, err := build(name)
		if err != nil {
			t.Fatal(err)
		}
		if want[name] == 0 {
			b, err := brep.NewEvaluator(m).Boundary(root)
			if err != nil {
				t.Fatal(err)
			}
			want[name] = b.Volume()
		}
		got, err := volumeByLines(root)
		if off := got/want[name] - 1; err != nil || math.Abs(off) > volumeDoubt {
			t.Errorf("%s: %.9g mm³ along lines, off by %.1e: %v", name, got, off, err)
		}
	}
}

// Every solid of the tables: our mesh is within its tolerance by a measure that knows
// nothing of it, so no point of the true faces is made up either.
func TestSolids(t *testing.T) {
	t.Chdir("../..")
	for _, name := range solids {
		m, root, err := build(name)
		if err != nil {
			t.Fatal(err)
		}
		truth, err := truthOf(name)
		if err != nil {
			t.Fatal(err)
		}
		got := measure(truth, meshOf(t, m, root, 0.02))
		if far := max(got.Off, got.Missed, got.Edge); far > 0.02 || min(got.Off, got.Missed, got.Edge) < 0.005 || got.Faults != 0 || math.Abs(got.Volume) > 1e-3 {
			t.Errorf("%s at 0.02 mm: %+v", name, got)
		}
	}
	if _, _, err := build("wren spoke"); err == nil {
		t.Error("a piece that is not there was built")
	}
}

// The reference solid's edges lie on circles and lines that are known, and are as long.
func TestEdgesInClosedForm(t *testing.T) {
	truth, err := truthOf(reference)
	if err != nil {
		t.Fatal(err)
	}
	type circle struct{ x, y, z, r float64 }
	circles := []circle{{0, 0, 0, 90}, {0, 0, 12, 90}, {0, 0, 12, 75}, {0, 0, 20, 75}, {0, 0, 12, 60}, {0, 0, 20, 60}, {0, 0, 12, 25},
		{0, 0, 0, 25}, {0, 0, -8, 24.5}, {67.5, 0, 20, 4}, {67.5, 0, 40, 12}}
	for k := range 6 {
		s, c := math.Sincos((30 + 60*float64(k)) * math.Pi / 180)
		circles = append(circles, circle{67.5 * c, 67.5 * s, 20, 1.5}, circle{67.5 * c, 67.5 * s, 40, 1.5})
	}
	for _, p := range [][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		circles = append(circles, circle{108 * p[0], 108 * p[1], 0, 3.3}, circle{108 * p[0], 108 * p[1], 40, 3.3},
			circle{100 * (p[0] - p[1]), 100 * (p[0] + p[1]), 0, 6})
	}
	// Four times: a side above and below, a corner, and a slot with two sides at each height.
	want := 4 * (240.0 + 40 + 240 - 14 + 4*10 + 4*3 + 3*14)
	for _, c := range circles {
		want += 2 * math.Pi * c.r
	}
	length := 0.0
	for _, s := range truth.near.tri {
		length += s[0].Dist(s[1])
	}
	// A chord is short of its arc by a third of its sagitta over the radius.
	if length > want || length < want*(1-lineSag/(3*1.5)) {
		t.Errorf("edges are %.3f mm long, want %.3f", length, want)
	}
	for _, p := range truth.edges {
		off := math.Inf(1)
		for _, c := range circles {
			off = min(off, math.Hypot(math.Hypot(p[0]-c.x, p[1]-c.y)-c.r, p[2]-c.z))
		}
		if off > 1e-9 && !onStraight(p) {
			t.Fatalf("%v lies on no edge of the solid: %g mm off any circle", p, off)
		}
	}
}

// onStraight reports whether two of the planes of the block and its slots meet at p.
func onStraight(p mesh.Vec) bool {
	n := 0
	at := func(x float64, planes ...float64) {
		for _, q := range planes {
			if math.Abs(x-q) < 1e-9 {
				n++
			}
		}
	}
	at(p[2], 0, 3, 40)
	at(math.Abs(p[0]), 53, 67, 110, 120)
	at(math.Abs(p[1]), 53, 67, 110, 120)
	return n >= 2
}

// A way that makes another solid, or an open one, is not called sound.
func TestSound(t *testing.T) {
	for _, c := range []struct {
		fine   string
		volume float64
		faults int
		want   bool
	}{
		{coarse, 4e-4, 0, true}, {coarse, -4e-4, 1, false}, {coarse, 3e-3, 0, false}, {coarse, -3e-3, 0, false}, {coarse, math.NaN(), 0, false},
		{"100", -1e-3, 17, true}, {"100", -3e-3, 0, false},
	} {
		r := &result{maker: maker{fine: c.fine}, measured: measured{Volume: c.volume, Faults: c.faults}}
		if err := r.sound(); (err == nil) != c.want {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// Distances that anyone can tell.
func TestDistance(t *testing.T) {
	truth, err := truthOf(reference)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		p    mesh.Vec
		want float64
	}{
		{mesh.Vec{0, 0, -8.5}, 0.5},      // below the register
		{mesh.Vec{50, 80, 40.25}, 0.25},  // above the top
		{mesh.Vec{120.3, 90, 40.4}, 0.5}, // outside an edge
		{mesh.Vec{120.2, 120.1, 40.2}, 0.3},
		{mesh.Vec{0, 108, 20}, 3.3},                     // in a bolt hole
		{mesh.Vec{100, 100, 2}, 4},                      // in a ball pocket
		{mesh.Vec{0, -89.9, 6}, 0.1},                    // before the wall of the cavity
		{mesh.Vec{0, 75.2, 20.3}, math.Hypot(0.2, 0.3)}, // in the material beyond a groove's edge
	} {
		if got := truth.distance(c.p); math.Abs(got-c.want) > lineSag {
			t.Errorf("%v is %.7f mm off the surface, want %g", c.p, got, c.want)
		}
	}
}

// block is a plain box, and one whose upper edge along y is beveled by a leg.
func block(leg float64) (*solid.Model, *solid.Node) {
	m := solid.NewModel()
	f := solid.Frame{X: mesh.Vec{1, 0, 0}, Y: mesh.Vec{0, 0, 1}, Z: mesh.Vec{0, -1, 0}}
	p := solid.Poly(0, 0, 30, 0, 30, 10, 0, 10)
	if leg > 0 {
		p = solid.Poly(0, 0, 30, 0, 30, 10-leg, 30-leg, 10, 0, 10)
	}
	return m, m.Extrude("block", "outer", f, 0, 20, p)
}

// Planted faults are told as what they are, and by no more.
func TestPlanted(t *testing.T) {
	m, root := block(0)
	truth := mustTruth(t, m, root)
	sound := meshOf(t, m, root, 0.01)
	corner := mesh.Vec{30, -20, 10}
	moved := func(by mesh.Vec) soup {
		s := slices.Clone(sound)
		for i := range s {
			for k, p := range s[i] {
				if p == corner {
					s[i][k] = p.Add(by)
				}
			}
		}
		return s
	}
	bm, bevel := block(0.0625)
	const leg = 0.0625
	turned := slices.Clone(sound)
	turned[0][1], turned[0][2] = turned[0][2], turned[0][1]
	for _, c := range []struct {
		name              string
		mesh              soup
		off, missed, edge [2]float64 // from, to
		faults            int
		volume            float64
	}{
		{"sound", sound, [2]float64{}, [2]float64{}, [2]float64{}, 0, 0},
		// Out of the corner the true corner stays on the wall.
		{"corner raised", moved(mesh.Vec{0, 0, 0.05}), [2]float64{0.05, 0.05}, [2]float64{0, 0.05}, [2]float64{0, 0.0251}, 0, math.NaN()},
		// Into it, the mesh stays near the true walls, but no longer reaches the corner.
		{"corner sunk", moved(mesh.Vec{0, 0, -0.05}), [2]float64{0.01, 0.05}, [2]float64{0.01, 0.05}, [2]float64{0.0499, 0.05}, 0, math.NaN()},
		{"beveled", meshOf(t, bm, bevel, 0.01), [2]float64{leg/2 - 0.01, leg / 2}, [2]float64{0, leg / math.Sqrt2}, [2]float64{leg / math.Sqrt2, leg / math.Sqrt2}, 0, -leg * leg / 2 / 300},
		{"hole", sound[1:], [2]float64{}, [2]float64{1, 10}, [2]float64{}, 3, math.NaN()},
		{"turned", turned, [2]float64{}, [2]float64{}, [2]float64{}, 3, math.NaN()},
	} {
		got := measure(truth, c.mesh)
		for _, d := range []struct {
			what string
			got  float64
			want [2]float64
		}{{"off", got.Off, c.off}, {"missed", got.Missed, c.missed}, {"edge", got.Edge, c.edge}} {
			if d.got < d.want[0]-1e-6 || d.got > d.want[1]+1e-6 {
				t.Errorf("%s: %s by %.6f mm, want %.6f to %.6f", c.name, d.what, d.got, d.want[0], d.want[1])
			}
		}
		if got.Faults != c.faults {
			t.Errorf("%s: %d sides not closed, want %d", c.name, got.Faults, c.faults)
		}
		if !math.IsNaN(c.volume) && math.Abs(got.Volume-c.volume) > 5e-7 {
			t.Errorf("%s: volume off by %g, want %g", c.name, got.Volume, c.volume)
		}
	}
}

// A mesh that misses a feature is not called true because it lies on the surface.
func TestMissingFeature(t *testing.T) {
	m := solid.NewModel()
	plate := m.Box("plate", "outer", mesh.Vec{0, 0, 0}, mesh.Vec{40, 40, 10})
	drilled := solid.Minus(plate, m.Cylinder("hole", "hole", mesh.Vec{20, 20, 0}, mesh.Vec{0, 0, 1}, 4, 0, 10))
	got := measure(mustTruth(t, m, drilled), meshOf(t, m, plate, 0.01))
	// The wall of the hole is up to 5 mm from either end, less half a step between its
	// points; over it the mesh is 4 mm off.
	if math.Abs(got.Off-4) > 0.3 || got.Missed > 5 || got.Missed < 5-10./12 || got.Edge > 1e-6 {
		t.Errorf("a hole that is not there: %+v", got)
	}
}

func TestExponent(t *testing.T) {
	x := []float64{1, 0.1, 0.01, 0.001}
	of := func(f func(x float64) float64) []float64 {
		var y []float64
		for _, v := range x {
			y = append(y, f(v))
		}
		return y
	}
	for _, c := range []struct {
		f    func(float64) float64
		want float64
	}{
		{func(x float64) float64 { return 3 / math.Sqrt(x) }, -0.5},
		{func(x float64) float64 { return 7 / x }, -1},
		{func(float64) float64 { return 5 }, 0},
		{func(x float64) float64 { return 0.2 * x * x }, 2},
	} {
		if got := exponent(x, of(c.f)); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("exponent %v, want %g", got, c.want)
		}
	}
	// One value half a decade too high at the end of three: half of it over two decades.
	if got := exponent([]float64{1, 10, 100}, []float64{1, 10, 100 * math.Sqrt(10)}); math.Abs(got-1.25) > 1e-12 {
		t.Errorf("exponent %v, want 1.25", got)
	}
}

// What the yardsticks are given, read beside the tree's words.
func TestProgram(t *testing.T) {
	m := solid.NewModel()
	box := m.Box("box", "outer", mesh.Vec{0, 0, 0}, mesh.Vec{4, 3, 2})
	ball := m.Ball("ball", "pocket", mesh.Vec{1, 2, 3}, mesh.Vec{0, 0, 1}, 1)
	var got strings.Builder
	if err := writeProgram(&got, solid.Minus(box, ball)); err != nil {
		t.Fatal(err)
	}
	words := strings.Fields(got.String())
	for word, want := range map[string]int{"leaf": 2, "extrude": 1, "revolve": 1, "outline": 2, "line": 5, "arc": 2, "minus": 1, "union": 0} {
		n := 0
		for _, w := range words {
			if w == word {
				n++
			}
		}
		if n != want {
			t.Errorf("%d of %q, want %d, in\n%s", n, word, want, &got)
		}
	}
	if !strings.HasSuffix(got.String(), "\nminus 2\n") {
		t.Errorf("the operation does not come last:\n%s", &got)
	}
}

func TestOutlines(t *testing.T) {
	square := func(x float64) []solid.Elem {
		p := []solid.Point2{{x, 0}, {x + 1, 0}, {x + 1, 1}, {x, 1}}
		var out []solid.Elem
		for i := range p {
			out = append(out, solid.Elem{A: p[i], B: p[(i+1)%4]})
		}
		return out
	}
	got := outlines(append(square(0), square(5)...))
	if len(got) != 2 || len(got[0]) != 4 || len(got[1]) != 4 || got[1][0].A[0] != 5 {
		t.Errorf("two squares came apart as %v", got)
	}
}

// A mesh comes back from its file to the bit.
func TestSoupFile(t *testing.T) {
	m, root := block(0.1)
	want := meshOf(t, m, root, 0.01)
	path := filepath.Join(t.TempDir(), "a.f64")
	if err := writeSoup(path, slices.Values(want)); err != nil {
		t.Fatal(err)
	}
	got, err := readSoup(path)
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%d triangles came back of %d: %v", len(got), len(want), err)
	}
	if err := os.WriteFile(path, make([]byte, 71), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := readSoup(path); err == nil {
		t.Error("71 bytes were read as triangles")
	}
}

// What a process holds is told, and where it cannot be told from the bench's own it says
// so. A tool that is not there is an error.
func TestPeak(t *testing.T) {
	b := &bench{ctx: context.Background()}
	r, err := b.runProcess([]string{"dd", "if=/dev/zero", "of=/dev/null", "bs=1000M", "count=1"})
	if err != nil {
		t.Fatal(err)
	}
	if want := 1000 * 1.048576; r.peak < want || r.peak > want+50 || memory(r) != fmt.Sprintf("%.0f", r.peak) {
		t.Errorf("a peak of %.0f MB, want %.0f", r.peak, want)
	}
	if r, err = b.runProcess([]string{"true"}); err != nil || !strings.HasPrefix(memory(r), "≤ ") {
		t.Errorf("the peak of nothing: %s, %v", memory(r), err)
	}
	if _, err := b.runProcess([]string{"no-such-tool"}); err == nil || !strings.Contains(err.Error(), "no-such-tool") {
		t.Errorf("a tool that is not there: %v", err)
	}
}

func TestReplaceFigures(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.md")
	put := func(text string) error {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return replaceFigures(path, "new\n")
	}
	if err := put("a\n" + begin + "old\n" + end + "b\n"); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != "a\n"+begin+"new\n"+end+"b\n" {
		t.Errorf("became %q", got)
	}
	for _, text := range []string{"a\n", "a\n" + begin, end + begin} {
		if put(text) == nil {
			t.Errorf("found a place in %q", text)
		}
	}
}

// Figures from a busy machine say so.
func TestSurroundings(t *testing.T) {
	for load, want := range map[string]string{
		"0.21 0.30 0.40 1/99 1": "\nOn 2 cores, at a load average of 0.2 as it began.\n",
		"7.04 0.30 0.40 1/99 1": "\nOn 2 cores, at a load average of 7.0 as it began: other work went on, so that times and their ratios are rough.\n",
	} {
		var got strings.Builder
		if err := surroundings(&got, 2, load); err != nil || got.String() != want {
			t.Errorf("at %q it says %q, %v", load, &got, err)
		}
	}
	if surroundings(io.Discard, 2, "none") == nil {
		t.Error("took no number for a load")
	}
}

func TestDigits(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 0.0098765: "0.0099", 0.996: "1", 12.6: "13", 126: "130", 1.04: "1", 1.06: "1.1"} {
		if got := digits(x); got != want {
			t.Errorf("%v is printed as %s, want %s", x, got, want)
		}
	}
	for n, want := range map[int]string{7: "7", 999: "999", 1000: "1 000", 1234567: "1 234 567"} {
		if got := grouped(n); got != want {
			t.Errorf("%d is printed as %s, want %s", n, got, want)
		}
	}
	if got := median([]float64{5, 1, 3}); got != 3 {
		t.Errorf("median %g", got)
	}
	if got := median([]float64{5, 1, 3, 4}); got != 3.5 {
		t.Errorf("median of four %g", got)
	}
}
