package check

import (
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"wheelmold/mesh"
)

// plate is a slab of 7×3×1 cubes with two holes: a double ring.
func plate() *mesh.Mesh {
	return voxels(without(cells(cell{}, cell{7, 3, 1}), cell{1, 1, 0}, cell{5, 1, 0}))
}

// A closed surface with g handles has Euler number 2 - 2g (Euler-Poincaré);
// volumes are counted in unit cubes, the torus is 2π²·R·r² (Pappus-Guldin).
func TestSoundMeshes(t *testing.T) {
	for _, c := range []struct {
		name   string
		m      *mesh.Mesh
		euler  int
		shells int
		volume float64
		tol    float64
	}{
		{"box", box(mesh.Vec{-1, 2, 3}, mesh.Vec{4, 8, 10}), 2, 1, 5 * 6 * 7, 0},
		{"cube of cubes", voxels(cells(cell{}, cell{4, 4, 4})), 2, 1, 64, 0},
		{"torus", torus(30, 10, 180, 90), 0, 1, 2 * math.Pi * math.Pi * 30 * 100, 2e-3},
		{"double torus", plate(), -2, 1, 19, 0},
		{"tube", lathe([][2]float64{{20, 0}, {50, 0}, {50, 30}, {20, 30}}, 360), 0, 1, math.Pi * 2100 * 30, 1e-4},
		{"two boxes", join(box(mesh.Vec{}, mesh.Vec{1, 1, 1}), box(mesh.Vec{2, 0, 0}, mesh.Vec{3, 1, 1})), 4, 2, 2, 0},
		{"box with a void", join(box(mesh.Vec{}, mesh.Vec{3, 3, 3}), turned(box(mesh.Vec{1, 1, 1}, mesh.Vec{2, 2, 2}))), 4, 2, 26, 0},
		{"part loose in a void", join(box(mesh.Vec{}, mesh.Vec{5, 5, 5}), turned(box(mesh.Vec{1, 1, 1}, mesh.Vec{4, 4, 4})),
			box(mesh.Vec{2, 2, 2}, mesh.Vec{3, 3, 3})), 6, 3, 125 - 27 + 1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			for pose, m := range map[string]*mesh.Mesh{
				"as is": c.m, "oblique": mapped(c.m, oblique), "rotated": mapped(c.m, rotated), "rewelded": rewelded(c.m),
			} {
				r := Audit(m, Options{})
				if !r.OK() {
					t.Errorf("%s: %q", pose, r.Faults())
				}
				if r.Euler != c.euler || len(r.Shells) != c.shells {
					t.Errorf("%s: Euler number %d, %d shells; want %d, %d", pose, r.Euler, len(r.Shells), c.euler, c.shells)
				}
				tol := c.tol
				if pose == "rotated" {
					tol += 1e-12
				}
				if d := math.Abs(r.Volume() - c.volume); d > tol*c.volume {
					t.Errorf("%s: volume %v, want %v", pose, r.Volume(), c.volume)
				}
			}
		})
	}
}

// withoutFacet returns m less facet i.
func withoutFacet(m *mesh.Mesh, i int) *mesh.Mesh {
	out := mapped(m, func(p mesh.Vec) mesh.Vec { return p })
	out.T = append(out.T[:i], out.T[i+1:]...)
	return out
}

// spiked returns m with facet i split around a new vertex at its middle moved
// by d.
func spiked(m *mesh.Mesh, i int, d mesh.Vec) *mesh.Mesh {
	out, t, n := withoutFacet(m, i), m.T[i], int32(len(m.V))
	out.V = append(out.V, m.V[t[0]].Add(m.V[t[1]]).Add(m.V[t[2]]).Scale(1./3).Add(d))
	out.T = append(out.T, [3]int32{t[0], t[1], n}, [3]int32{t[1], t[2], n}, [3]int32{t[2], t[0], n})
	return out
}

func TestPlantedFaults(t *testing.T) {
	unit := box(mesh.Vec{}, mesh.Vec{1, 1, 1})
	ring := torus(30, 10, 24, 12)
	flat := func(ts ...[3]mesh.Vec) *mesh.Mesh { return Weld(ts) }
	set := func(m *mesh.Mesh, v int, p mesh.Vec) *mesh.Mesh {
		out := moved(m, mesh.Vec{})
		out.V[v] = p
		return out
	}
	setFacet := func(m *mesh.Mesh, i int, f [3]int32) *mesh.Mesh {
		out := moved(m, mesh.Vec{})
		out.T[i] = f
		return out
	}
	for _, c := range []struct {
		name  string
		m     *mesh.Mesh
		count func(Report) int
		want  int
		word  string // from the message
	}{
		{"nothing", &mesh.Mesh{}, func(r Report) int { return r.Triangles }, 0, "no facets"},
		{"deleted facet", withoutFacet(ring, 77), func(r Report) int { return r.Open.Count }, 3, "open"},
		{"flipped facet", setFacet(ring, 5, [3]int32{ring.T[5][1], ring.T[5][0], ring.T[5][2]}),
			func(r Report) int { return r.Flipped.Count }, 3, "opposite ways"},
		{"doubled facet", &mesh.Mesh{V: ring.V, T: append(ring.T[:len(ring.T):len(ring.T)], ring.T[9])},
			func(r Report) int { return r.Overused.Count }, 3, "more than two facets"},
		{"doubled facet crosses", &mesh.Mesh{V: ring.V, T: append(ring.T[:len(ring.T):len(ring.T)], ring.T[9])},
			func(r Report) int { return min(r.Crossing.Count, 1) }, 1, "cuts or touches"},
		{"vertex moved through the far wall", set(unit, 0, mesh.Vec{3, 0.25, 0.5}),
			func(r Report) int { return min(r.Crossing.Count, 1) }, 1, "cut or touch"},
		{"NaN", set(ring, 3, mesh.Vec{0, math.NaN(), 0}), func(r Report) int { return r.NotFinite.Count }, 6, "not a number"},
		{"infinite", set(ring, 3, mesh.Vec{0, 0, math.Inf(-1)}), func(r Report) int { return r.NotFinite.Count }, 6, "not a number"},
		{"index past the end", setFacet(ring, 5, [3]int32{0, 1, 1 << 20}), func(r Report) int { return r.BadIndex.Count }, 1, "does not exist"},
		{"negative index", setFacet(ring, 5, [3]int32{0, 1, -1}), func(r Report) int { return r.BadIndex.Count }, 1, "does not exist"},
		{"index twice", setFacet(ring, 5, [3]int32{0, 1, 1}), func(r Report) int { return r.BadIndex.Count }, 1, "twice"},
		{"collinear facet", flat([3]mesh.Vec{{0, 0, 0}, {1, 2, 3}, {3, 6, 9}}), func(r Report) int { return r.ZeroArea.Count }, 1, "no area"},
		{"collinear facet off any lattice", flat([3]mesh.Vec{{0.1, 0.1, 0.1}, {1e9, 1e9, 1e9}, {1e-9, 1e-9, 1e-9}}),
			func(r Report) int { return r.ZeroArea.Count }, 1, "no area"},
		{"shells touch in a vertex", rewelded(join(unit, moved(unit, mesh.Vec{1, 1, 1}))),
			func(r Report) int { return r.Pinched.Count }, 1, "pinched"},
		{"shells touch in a vertex of their own", join(unit, moved(unit, mesh.Vec{1, 1, 1})),
			func(r Report) int { return r.Doubled.Count }, 1, "place of another"},
		{"shells touch along an edge", rewelded(join(unit, moved(unit, mesh.Vec{1, 1, 0}))),
			func(r Report) int { return r.Overused.Count }, 1, "more than two facets"},
		// An edge of the shifted cube lies in a face of the other, no corner does.
		{"shells touch in a face", join(unit, moved(unit, mesh.Vec{1, 0.25, 0.125})),
			func(r Report) int { return min(r.Crossing.Count, 1) }, 1, "cut or touch"},
		{"overlapping shells", join(unit, moved(unit, mesh.Vec{0.5, 0.25, 0.125})),
			func(r Report) int { return min(r.Crossing.Count, 1) }, 1, "cut or touch"},
		{"inside out", turned(ring), func(r Report) int { return r.InsideOut.Count }, 1, "inside out"},
		{"shell within a shell", join(box(mesh.Vec{}, mesh.Vec{3, 3, 3}), box(mesh.Vec{1, 1, 1}, mesh.Vec{2, 2, 2})),
			func(r Report) int { return r.Buried.Count }, 1, "inside the material"},
		{"void outside", join(unit, turned(moved(unit, mesh.Vec{2, 0, 0}))), func(r Report) int { return r.InsideOut.Count }, 1, "inside out"},
		{"two leaves back to back", flat([3]mesh.Vec{{}, {1, 0, 0}, {0, 1, 0}}, [3]mesh.Vec{{}, {0, 1, 0}, {1, 0, 0}}),
			func(r Report) int { return r.InsideOut.Count }, 1, "encloses nothing"},
		{"crossing facets", flat([3]mesh.Vec{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}, [3]mesh.Vec{{1, 1, -1}, {1, 1, 1}, {9, 9, 0}}),
			func(r Report) int { return r.Crossing.Count }, 1, "cuts or touches"},
		{"facets cross beyond a shared vertex", flat([3]mesh.Vec{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}, [3]mesh.Vec{{0, 0, 0}, {1, 1, -1}, {1, 1, 1}}),
			func(r Report) int { return r.Crossing.Count }, 1, "cuts or touches"},
		{"facets in one plane overlap", flat([3]mesh.Vec{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}, [3]mesh.Vec{{1, 1, 0}, {9, 1, 0}, {1, 9, 0}}),
			func(r Report) int { return r.Crossing.Count }, 1, "cuts or touches"},
		{"facet within a facet", flat([3]mesh.Vec{{0, 0, 0}, {9, 0, 0}, {0, 9, 0}}, [3]mesh.Vec{{1, 1, 0}, {2, 1, 0}, {1, 2, 0}}),
			func(r Report) int { return r.Crossing.Count }, 1, "cuts or touches"},
		{"facets fold over on an edge", flat([3]mesh.Vec{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}, [3]mesh.Vec{{4, 0, 0}, {0, 0, 0}, {1, 9, 0}}),
			func(r Report) int { return r.Crossing.Count }, 1, "cuts or touches"},
		{"facets in one plane overlap at a vertex", flat([3]mesh.Vec{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}, [3]mesh.Vec{{0, 0, 0}, {9, 1, 0}, {1, 9, 0}}),
			func(r Report) int { return r.Crossing.Count }, 1, "cuts or touches"},
		{"corner rests on a facet", flat([3]mesh.Vec{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}, [3]mesh.Vec{{1, 1, 0}, {1, 1, 1}, {2, 1, 1}}),
			func(r Report) int { return r.Crossing.Count }, 1, "cuts or touches"},
		// The middle of facet 0 drawn out flat over its own neighbor and beyond.
		{"spike without thickness", spiked(voxels(cells(cell{}, cell{4, 4, 1})), 0, mesh.Vec{0, -2.5, 0}),
			func(r Report) int { return min(r.Crossing.Count, 1) }, 1, "cut or touch"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := Audit(c.m, Options{})
			if got := c.count(r); got != c.want {
				t.Errorf("found %d, want %d: %q", got, c.want, r.Faults())
			}
			if r.OK() || !strings.Contains(strings.Join(r.Faults(), "\n"), c.word) {
				t.Errorf("faults %q do not say %q", r.Faults(), c.word)
			}
		})
	}
}

// One damage is one kind of fault, not a list of its consequences.
func TestOneFaultIsReportedOnce(t *testing.T) {
	ring := torus(30, 10, 24, 12)
	flipped := moved(ring, mesh.Vec{})
	flipped.T[5] = [3]int32{ring.T[5][1], ring.T[5][0], ring.T[5][2]}
	doubled := moved(ring, mesh.Vec{})
	doubled.T = append(doubled.T, ring.T[9])
	for name, m := range map[string]*mesh.Mesh{"deleted": withoutFacet(ring, 77), "flipped": flipped, "doubled": doubled} {
		if f := Audit(m, Options{SkipCrossings: true}).Faults(); len(f) != 1 {
			t.Errorf("%s facet: %q", name, f)
		}
	}
}

// Neighbors in a plane, and facets a hair apart, are no fault.
func TestCloseCalls(t *testing.T) {
	hair := 0x1p-14
	base := [3]mesh.Vec{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}
	for name, other := range map[string][3]mesh.Vec{
		"neighbor in the plane":          {{4, 0, 0}, {0, 0, 0}, {1, -9, 0}},
		"at a vertex in the plane":       {{0, 0, 0}, {-4, hair, 0}, {-4, 9, 0}},
		"at a vertex, upright":           {{0, 0, 0}, {1, 1, hair}, {1, 2, 3}},
		"a hair above":                   {{1, 1, hair}, {9, 1, hair}, {1, 9, hair}},
		"a hair beside, in the plane":    {{4, hair, 0}, {9, 9, 0}, {0, 4 + hair, 0}},
		"folded, but not quite flat":     {{4, 0, 0}, {0, 0, 0}, {1, 4, hair}},
		"upright, passing a hair beside": {{2, 2 + hair, -1}, {2, 2 + hair, 1}, {9, 9, 0}},
	} {
		for pose, f := range map[string]func(mesh.Vec) mesh.Vec{"as is": asIs, "oblique": oblique} {
			r := Audit(mapped(Weld([][3]mesh.Vec{base, other}), f), Options{})
			if r.Crossing.Count != 0 {
				t.Errorf("%s, %s: %q", name, pose, r.Faults())
			}
		}
	}
}

func asIs(p mesh.Vec) mesh.Vec { return p }

func TestPlaceOfFirstFault(t *testing.T) {
	m := withoutFacet(voxels(cells(cell{}, cell{4, 4, 1})), 7)
	r := Audit(m, Options{})
	if len(r.Open.Facets) != 1 {
		t.Fatalf("open edge names facets %v", r.Open.Facets)
	}
	f := m.T[r.Open.Facets[0]]
	on := false
	for k := range 3 {
		mid := m.V[f[k]].Add(m.V[f[(k+1)%3]]).Scale(0.5)
		on = on || mid == r.Open.At
	}
	if !on {
		t.Errorf("place %v is on no side of facet %v", r.Open.At, f)
	}
}

func TestLimitOfCrossings(t *testing.T) {
	var m []*mesh.Mesh
	for i := range 60 {
		m = append(m, moved(box(mesh.Vec{}, mesh.Vec{1, 1, 1}), mesh.Vec{float64(i) / 64, 0, 0}))
	}
	if r := Audit(join(m...), Options{MaxCrossings: 50}); r.Crossing.Count != 50 {
		t.Errorf("counted %d crossing pairs, want the limit of 50", r.Crossing.Count)
	}
	if r := Audit(join(m...), Options{SkipCrossings: true}); r.Crossing.Count != 0 {
		t.Errorf("counted %d crossing pairs that were not asked for", r.Crossing.Count)
	}
}

func TestSameReportOnAnyNumberOfProcessors(t *testing.T) {
	ring := torus(30, 10, 120, 60)
	m := join(ring, moved(ring, mesh.Vec{17, 5, 1}), turned(moved(ring, mesh.Vec{0, 0, 7})))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	want := Audit(m, Options{MaxCrossings: 300})
	for _, n := range []int{2, 5} {
		runtime.GOMAXPROCS(n)
		if got := Audit(m, Options{MaxCrossings: 300}); !reflect.DeepEqual(got, want) {
			t.Errorf("%d processors: %q, one: %q", n, got.Faults(), want.Faults())
		}
	}
}

func TestAuditChangesNothing(t *testing.T) {
	m := torus(30, 10, 24, 12)
	want := moved(m, mesh.Vec{})
	Audit(m, Options{})
	if !reflect.DeepEqual(m.V, want.V) || !reflect.DeepEqual(m.T, want.T) {
		t.Error("mesh changed")
	}
}

func TestWeld(t *testing.T) {
	z := math.Copysign(0, -1)
	m := Weld([][3]mesh.Vec{{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{z, z, z}, {0, 1, z}, {-1, 0, 0}}})
	if want := [][3]int32{{0, 1, 2}, {0, 2, 3}}; !reflect.DeepEqual(m.T, want) {
		t.Errorf("facets %v, want %v", m.T, want)
	}
	big := torus(30, 10, 90, 45)
	if got := rewelded(big); len(got.V) != len(big.V) || len(got.T) != len(big.T) {
		t.Errorf("%d vertices, %d facets; want %d, %d", len(got.V), len(got.T), len(big.V), len(big.T))
	}
}

// The tables grow when a mesh has more vertices than its facets promise.
func TestWeldGrows(t *testing.T) {
	w := NewWelder(0)
	for i := range 1000 {
		x := float64(i)
		w.Add(mesh.Vec{x, 0, 0}, mesh.Vec{x, 1, 0}, mesh.Vec{x, 0, 1})
	}
	if n := len(w.Mesh().V); n != 3000 {
		t.Errorf("%d vertices, want 3000", n)
	}
}

// FuzzAudit feeds meshes of few vertices on a small grid, where every kind of
// contact happens: no panic, and a mesh called sound has a positive volume.
func FuzzAudit(f *testing.F) {
	f.Add([]byte{0, 1, 2, 0, 2, 1}, byte(0))
	f.Add([]byte{0, 1, 9, 0, 9, 3, 1, 3, 9, 0, 3, 1}, byte(3))
	f.Fuzz(func(t *testing.T, b []byte, noise byte) {
		m := &mesh.Mesh{V: []mesh.Vec{{math.NaN(), 0, 0}}}
		for i := range 27 {
			m.V = append(m.V, mesh.Vec{float64(i % 3), float64(i / 3 % 3), float64(i/9) + float64(noise)/3})
		}
		for ; len(b) >= 3; b = b[3:] {
			m.T = append(m.T, [3]int32{int32(b[0]) % 30, int32(b[1]) % 30, int32(b[2]) % 30})
		}
		if r := Audit(m, Options{}); r.OK() && r.Volume() <= 0 {
			t.Errorf("sound mesh of volume %v", r.Volume())
		}
	})
}

// groove is the half section of a wide pulley: ribs and flats, 28 points.
func groove() [][2]float64 {
	p := [][2]float64{{20, 0}, {100, 0}}
	for i := range 12 {
		z := 2 + 3*float64(i)
		p = append(p, [2]float64{100, z}, [2]float64{97 - float64(i%3), z + 1.5})
	}
	return append(p, [2]float64{100, 40}, [2]float64{20, 40})
}

// BenchmarkAudit audits five meshes of 40 000 facets, as a mold has pieces. The
// fan's flats are slivers from center to rim, whose boxes all overlap.
func BenchmarkAudit(b *testing.B) {
	pulley := lathe(groove(), 720)
	for _, c := range []struct {
		name string
		m    *mesh.Mesh
	}{
		{"ring", torus(60, 20, 200, 100)},
		{"pulley", pulley},
		{"pulley turned", mapped(pulley, rotated)},
		{"fan", lathe([][2]float64{{20, 0}, {60, 0}, {100, 0}, {100, 40}, {98, 42}, {60, 42}, {20, 42}, {20, 30}}, 2500)},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				for range 5 {
					if r := Audit(c.m, Options{}); !r.OK() {
						b.Fatal(r.Faults())
					}
				}
			}
		})
	}
}
