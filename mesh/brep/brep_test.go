package brep

import (
	"math"
	"testing"

	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

// boundary evaluates root or fails the test.
func boundary(t testing.TB, m *solid.Model, root *solid.Node) *Boundary {
	t.Helper()
	b, err := NewEvaluator(m).Boundary(root)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g (off by %.3g)", what, got, want, got/want-1)
	}
}

func TestReferenceLid(t *testing.T) {
	m := solid.NewModel()
	b := boundary(t, m, solidtest.ReferenceLid(m))
	if err := audit(b); err != nil {
		t.Error(err)
	}
	near(t, "volume", b.Volume(), solidtest.ReferenceLidVolume, 1e-12)
}

func TestHalfShell(t *testing.T) {
	m := solid.NewModel()
	shell := solidtest.HalfShell(m)
	half, cuts := shell.Kids[0], solid.Union(shell.Kids[1:]...)
	v, err := volumes(m, shell, solid.Intersect(half, cuts))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "shell and what was cut from it", v[0]+v[1], 380*190*125, 1e-13)
}

func BenchmarkBoundaryLid(b *testing.B) { benchmarkBoundary(b, solidtest.ReferenceLid) }

func BenchmarkBoundaryHalfShell(b *testing.B) { benchmarkBoundary(b, solidtest.HalfShell) }

func benchmarkBoundary(b *testing.B, build func(*solid.Model) *solid.Node) {
	b.ReportAllocs()
	for b.Loop() {
		m := solid.NewModel()
		boundary(b, m, build(m))
	}
}

func BenchmarkVolumeLid(b *testing.B) { benchmarkVolume(b, solidtest.ReferenceLid) }

func BenchmarkVolumeHalfShell(b *testing.B) { benchmarkVolume(b, solidtest.HalfShell) }

func benchmarkVolume(b *testing.B, build func(*solid.Model) *solid.Node) {
	m := solid.NewModel()
	s := boundary(b, m, build(m))
	b.ReportAllocs()
	for b.Loop() {
		s.Volume()
	}
}
