package mold

import (
	"bytes"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/step"
	"wheelmold/mesh/step/steptest"
)

// With -stepdir the files are kept for another program to judge, beside what it should
// find in them.
var stepDir = flag.String("stepdir", "", "folder into which STEP files of the tests go, with expected.txt")

// handedOut writes STEP files, audits them, and keeps them if asked to.
type handedOut struct {
	t        *testing.T
	expected *os.File // nil: nothing is kept
	splines  int
}

func handOut(t *testing.T) *handedOut {
	h := &handedOut{t: t}
	if *stepDir == "" {
		return h
	}
	var err error
	if h.expected, err = os.OpenFile(filepath.Join(*stepDir, "expected.txt"), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o666); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := h.expected.Close(); err != nil {
			t.Error(err)
		}
	})
	return h
}

var plainSTEP = step.Options{Program: "wheelmold", Colors: func(roles []string) step.RGB {
	return step.RGB{float64(len(roles)) / 8, .5, .25}
}}

// mold hands out every piece as it leaves the machine, and if asked for all as they are
// closed.
func (h *handedOut) mold(name string, m *Mold, assembled bool) {
	h.t.Helper()
	c, err := m.Check()
	if err != nil {
		h.t.Errorf("%s: %v", name, err)
		return
	}
	var closed []step.Part
	total, faces := 0.0, step.Census{}
	for _, p := range m.Pieces {
		if part, ok := h.region(name, p.Name, c.RawFaces[p.Name]); ok {
			h.file(name+"-"+p.Name+".step", []step.Part{part}, c.RawVolumes[p.Name], step.Count(part.Solid))
		}
		if !assembled {
			continue
		}
		if part, ok := h.region(name, p.Name, c.Faces[p.Name]); ok {
			closed = append(closed, part)
			total += c.Volumes[p.Name]
			n := step.Count(part.Solid)
			faces = step.Census{Plane: faces.Plane + n.Plane, Cylinder: faces.Cylinder + n.Cylinder, Cone: faces.Cone + n.Cone,
				Sphere: faces.Sphere + n.Sphere, Torus: faces.Torus + n.Torus, Revolution: faces.Revolution + n.Revolution}
		}
	}
	if len(closed) == len(m.Pieces) {
		h.file(name+"-assembly.step", closed, total, faces)
	}
}

func (h *handedOut) region(mold, piece string, b *brep.Boundary) (step.Part, bool) {
	s, err := region.Of(b)
	if err != nil {
		h.t.Errorf("%s: %s: %v", mold, piece, err)
		return step.Part{}, false
	}
	return step.Part{Name: piece, Solid: s}, true
}

// file writes one part, or several as an assembly, and holds the file against what the
// boundary says.
func (h *handedOut) file(name string, parts []step.Part, volume float64, faces step.Census) {
	h.t.Helper()
	var b bytes.Buffer
	var err error
	if len(parts) == 1 {
		err = step.Write(&b, parts[0], plainSTEP)
	} else {
		err = step.WriteAssembly(&b, "mold", parts, plainSTEP)
	}
	if err != nil {
		h.t.Errorf("%s: %v", name, err)
		return
	}
	h.audit(name, b.Bytes(), parts, volume, faces)
	if h.expected == nil {
		return
	}
	if err := os.WriteFile(filepath.Join(*stepDir, name), b.Bytes(), 0o666); err != nil {
		h.t.Fatal(err)
	}
	names := []string{}
	for _, p := range parts {
		names = append(names, p.Name)
	}
	fmt.Fprintf(h.expected, "%s\t%.15g\t%d\t%d\t%d\t%d\t%d\t%d\t%s\n", name, volume,
		faces.Plane, faces.Cylinder, faces.Cone, faces.Sphere, faces.Torus, faces.Revolution, strings.Join(names, "\t"))
}

func (h *handedOut) audit(name string, src []byte, parts []step.Part, volume float64, faces step.Census) {
	h.t.Helper()
	m, err := steptest.Audit(src)
	if err != nil {
		h.t.Errorf("%s: %v", name, err)
		return
	}
	if len(m.Solids) != len(parts) {
		h.t.Errorf("%s: %d solids in %d parts", name, len(m.Solids), len(parts))
	}
	sum, kinds := 0.0, map[string]int{}
	for i, s := range m.Solids {
		sum += s.Volume
		h.splines += s.Edges["B_SPLINE_CURVE_WITH_KNOTS"]
		for k, n := range s.Faces {
			kinds[k] += n
		}
		// Vertices where surfaces touch are known to 5e-5 mm (mesh/brep).
		if !(s.Gap <= 1e-5) || !(s.Loose <= 5e-5) || !(s.Kink <= 1e-4) || s.Name != parts[i].Name || s.Colored != len(s.Names) || slices.Contains(s.Names, "") || s.Voids > 0 {
			h.t.Errorf("%s: %s: edges %.2g mm and %.2g rad off, vertices %.2g mm, %d voids, %d of %d faces colored, names %q", name, s.Name, s.Gap, s.Kink, s.Loose, s.Voids, s.Colored, len(s.Names), s.Names)
		}
	}
	want := map[string]int{"plane": faces.Plane, "cylinder": faces.Cylinder, "cone": faces.Cone, "sphere": faces.Sphere, "torus": faces.Torus, "revolution": faces.Revolution}
	maps.DeleteFunc(want, func(_ string, n int) bool { return n == 0 })
	if !maps.Equal(kinds, want) {
		h.t.Errorf("%s: faces %v, want %v", name, kinds, want)
	}
	if d := math.Abs(sum/volume - 1); !(d < 1e-8) {
		h.t.Errorf("%s: %.12g mm³ in the file, %.12g in the boundary: %.2g", name, sum, volume, d)
	}
}

func TestSTEPOfExamples(t *testing.T) {
	h := handOut(t)
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		h.mold(strings.TrimSuffix(filepath.Base(name), ".toml"), m, true)
	}
	if h.splines == 0 {
		t.Error("no example has a curve without a name")
	}
}

func TestSTEPOfSplits(t *testing.T) {
	h := handOut(t)
	for i, set := range [][]string{
		{"mold.split=four-piece"}, {"mold.split=four-piece", "mold.segments=3"}, {"mold.split=four-piece", "mold.segments=4"},
		{"mold.split=open top"}, {"mold.split=open top", "mold.segments=3"}, {"mold.split=clam"}, {"mold.split=cup and lid"},
		{"mold.split=cup and lid", "wheel.crown=1mm"}, {"mold.split=cup and lid", "wheel.draft=2deg"},
	} {
		m, err := New(splitJob(t, 70, 25, 8, "filament", set...))
		if err != nil {
			t.Fatal(err)
		}
		h.mold(fmt.Sprintf("split-%d", i+1), m, true)
	}
}

// Random jobs, half of them in random splits, with stock and coats.
func TestSTEPOfRandomJobs(t *testing.T) {
	h := handOut(t)
	n := few(10, 3)
	if h.expected != nil {
		n = 50
	}
	done := 0
	for k := int64(9000); done < n && k < 9000+20*int64(n); k++ {
		j, tags := randomJob(k)
		if j == nil {
			continue
		}
		if k%2 == 0 {
			resplit(j, k)
			tags = append(tags, finish(j, k)...)
		}
		m, err := New(j)
		if err != nil {
			continue
		}
		done++
		t.Logf("job %d: %v in %d: %v", k, j.Mold.Split, j.Mold.Segments, tags)
		h.mold(fmt.Sprintf("random-%d", k), m, done%10 == 0)
	}
	if done < n {
		t.Errorf("only %d jobs are valid", done)
	}
}

// BenchmarkSTEP takes all pieces of the biggest example from the tree to bytes, as each
// leaves the machine, on one core.
func BenchmarkSTEP(b *testing.B) {
	m, err := New(example(b, "../examples/albatross.toml"))
	if err != nil {
		b.Fatal(err)
	}
	size := 0
	for b.Loop() {
		size = 0
		ev := brep.NewEvaluator(m.Model)
		for _, p := range m.Pieces {
			size += stepSize(b, ev, p.Name, p.Raw)
		}
	}
	b.ReportMetric(float64(size), "bytes")
}

func stepSize(b *testing.B, ev *brep.Evaluator, name string, root *solid.Node) int {
	boundary, err := ev.Boundary(root)
	if err != nil {
		b.Fatal(err)
	}
	s, err := region.Of(boundary)
	if err != nil {
		b.Fatal(err)
	}
	var to bytes.Buffer
	if err := step.Write(&to, step.Part{Name: name, Solid: s}, plainSTEP); err != nil {
		b.Fatal(err)
	}
	return to.Len()
}
