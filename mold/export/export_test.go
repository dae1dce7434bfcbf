package export

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold/export/outdir"
	"wheelmold/params"
)

// block is a box from the origin, on the lattice.
func block(size mesh.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for k := range 8 {
		var v mesh.Vec
		for a := range v {
			if k>>a&1 == 1 {
				v[a] = size[a]
			}
		}
		m.V = append(m.V, v)
	}
	m.T = [][3]int32{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}}
	return m
}

func parts() []Part {
	var out []Part
	for i, name := range []string{"base", "lid"} {
		m := block(mesh.Vec{10, 20, 5 + float64(i)})
		out = append(out, Part{Name: name, InPlace: m, Posed: m})
	}
	return out
}

// made hands over parts of which none is printed, and files beside them.
func made(parts []Part, files ...File) func() (*Contents, error) {
	return func() (*Contents, error) { return &Contents{Parts: parts, Files: files}, nil }
}

// note is a file that is no mesh.
func note(text string) File {
	return File{"note.txt", func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}}
}

func options(t *testing.T, dir string) Options {
	job, err := params.Default(60, 20, 6, "")
	if err != nil {
		t.Fatal(err)
	}
	return Options{
		Dir: dir, Wants: func(string) bool { return true }, Program: "wheelmold test",
		Job: job, JobFile: filepath.Join("some", "where", "wheel.toml"), JobBytes: []byte("abc"), Tolerance: 0.01,
	}
}

func TestManifestListsEveryFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	files, err := Write(context.Background(), options(t, dir), made(parts(), note("what is to be done")))
	if err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(filepath.Join(dir, outdir.Manifest))
	if err != nil {
		t.Fatal(err)
	}
	var m Manifest
	if err := json.Unmarshal(b, &m); err != nil {
		t.Fatal(err)
	}
	// SHA-256 of "abc": FIPS 180-2, appendix B.1.
	if m.Job.File != "wheel.toml" || m.Job.SHA256 != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Errorf("job is %+v", m.Job)
	}
	if !slices.Equal(m.Pieces, []string{"base", "lid"}) {
		t.Errorf("pieces are %v", m.Pieces)
	}
	listed := m.Files
	all := slices.DeleteFunc(slices.Clone(files), func(e outdir.Entry) bool { return e.Name == outdir.Manifest })
	if !slices.Equal(listed, all) {
		t.Errorf("listed %v, written %v", listed, all)
	}
	var names []string
	for _, e := range files {
		names = append(names, e.Name)
	}
	if want := "assembly.3mf base.stl job.toml lid.stl manifest.json note.txt pieces.3mf"; strings.Join(names, " ") != want {
		t.Errorf("files are %v, want %s", names, want)
	}
	if b, err := os.ReadFile(filepath.Join(dir, "note.txt")); err != nil || string(b) != "what is to be done" {
		t.Errorf("the note reads %q, %v", b, err)
	}
}

// A mesh that its maker believed sound and is not never reaches the builder.
func TestDamagedMeshIsNotWritten(t *testing.T) {
	for name, damage := range map[string]func(m *mesh.Mesh){
		"a facet is missing": func(m *mesh.Mesh) { m.T = m.T[1:] },
		"a facet is flipped": func(m *mesh.Mesh) { m.T[3][0], m.T[3][1] = m.T[3][1], m.T[3][0] },
		"inside out": func(m *mesh.Mesh) {
			for i, t := range m.T {
				m.T[i] = [3]int32{t[1], t[0], t[2]}
			}
		},
		// 0.1 mm is no multiple of 2⁻¹⁴ mm, and no float32.
		"off the lattice": func(m *mesh.Mesh) { m.V[7][0] = 0.1 },
	} {
		t.Run(name, func(t *testing.T) {
			parent := t.TempDir()
			_, err := Write(context.Background(), options(t, filepath.Join(parent, "out")), func() (*Contents, error) {
				p := parts()
				damage(p[1].Posed)
				return &Contents{Parts: p}, nil
			})
			if err == nil || !strings.Contains(err.Error(), "lid.stl") {
				t.Errorf("error %v", err)
			}
			if left, _ := os.ReadDir(parent); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

func TestEqual(t *testing.T) {
	a, b := block(mesh.Vec{1, 2, 3}), block(mesh.Vec{1, 2, 3})
	b.V = append([]mesh.Vec{{9, 9, 9}}, b.V...) // other names, and one that no facet uses
	for i := range b.T {
		for k := range b.T[i] {
			b.T[i][k]++
		}
	}
	if !equal(a, b) {
		t.Error("the same facets under other vertex numbers are called different")
	}
	b.V[8][2] += 1e-12
	if equal(a, b) {
		t.Error("a moved corner is called equal")
	}
	if b.V[8][2], b.T = 3, b.T[:11]; equal(a, b) {
		t.Error("a missing facet is called equal")
	}
}

func TestFailedMakingLeavesNothing(t *testing.T) {
	parent := t.TempDir()
	refused := errors.New("refused")
	_, err := Write(context.Background(), options(t, filepath.Join(parent, "out")), func() (*Contents, error) { return nil, refused })
	if !errors.Is(err, refused) {
		t.Errorf("error %v", err)
	}
	if left, _ := os.ReadDir(parent); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A file beside the meshes that cannot be filled leaves no folder, nor does one that
// takes another's name.
func TestFailedFileLeavesNothing(t *testing.T) {
	refused := errors.New("refused")
	for name, f := range map[string]File{
		"refuses":           {"note.txt", func(io.Writer) error { return refused }},
		"called as another": {"base.stl", note("mine").Fill},
		"leads elsewhere":   {"../note.txt", note("mine").Fill},
	} {
		t.Run(name, func(t *testing.T) {
			parent := t.TempDir()
			_, err := Write(context.Background(), options(t, filepath.Join(parent, "out")), made(parts(), f))
			if err == nil || f.Name == "note.txt" && !errors.Is(err, refused) {
				t.Errorf("error %v", err)
			}
			if left, _ := os.ReadDir(parent); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

func TestTogetherReturnsTheFirstInOrder(t *testing.T) {
	first, second := errors.New("first"), errors.New("second")
	started := make(chan bool)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2)) // the first waits for the second
	got := together([]func() error{
		func() error { <-started; return first },
		func() error { close(started); return second },
		func() error { return nil },
	})
	if got != first {
		t.Errorf("got %v", got)
	}
}

func TestArrangeKeepsPiecesApart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		sizes := make([]mesh.Vec, 1+rnd.IntN(9))
		for i := range sizes {
			sizes[i] = mesh.Vec{1 + 300*rnd.Float64(), 1 + 300*rnd.Float64(), 10}
		}
		at := arrange(sizes)
		var boxes []mesh.Box
		for i := range at {
			b := mesh.Box{Lo: at[i], Hi: at[i].Add(sizes[i])}
			for k, c := range boxes {
				if b.Overlaps(c, besideGap-1e-9) {
					t.Fatalf("pieces %d and %d are too near: %v", k, i, fmt.Sprint(c, b))
				}
			}
			if b.Lo[0] < 0 || b.Lo[1] < 0 || b.Lo[2] != 0 {
				t.Fatalf("piece %d lies at %v", i, at[i])
			}
			boxes = append(boxes, b)
		}
	}
}

// A mold's pieces lie on a bed little larger than base and lid beside each
// other: with gaps, 160+8+160 wide, and 160+8+70+8+40 deep.
func TestArrangeMold(t *testing.T) {
	plate, shell := mesh.Vec{160, 160, 15}, mesh.Vec{160, 40, 80}
	sizes := []mesh.Vec{plate, shell, shell, plate, {70, 70, 40}}
	bed := mesh.EmptyBox()
	for i, at := range arrange(sizes) {
		bed = bed.Include(at).Include(at.Add(sizes[i]))
	}
	if bed.Hi[0] > 328 || bed.Hi[1] > 286 {
		t.Errorf("the bed takes %v", bed.Hi)
	}
}
