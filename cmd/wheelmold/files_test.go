package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
	"wheelmold/mesh/stl"
	"wheelmold/mesh/threemf"
	"wheelmold/mold/report"
)

// jsonOf runs a command with --json and reads what it prints.
func jsonOf(t *testing.T, into any, args ...string) {
	t.Helper()
	var out, messages bytes.Buffer
	if code := run(context.Background(), append(args, "--json"), streams{nil, &out, &messages}); code != exitDone {
		t.Fatalf("%v: exit code %d: %s", args, code, &messages)
	}
	if err := json.Unmarshal(out.Bytes(), into); err != nil {
		t.Fatal(err)
	}
}

// What is in the files is what the reports of check and build say, and what a
// slicer expects: pieces on z = 0, apart from each other, closed.
func TestFilesAreWhatTheReportSays(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "wren.toml")
	dir := filepath.Join(t.TempDir(), "out")
	var c report.Check
	jsonOf(t, &c, "check", job)
	var b report.Build
	jsonOf(t, &b, "build", job, "-o", dir)

	placed := itemsOf(t, filepath.Join(dir, "pieces.3mf"))
	inMold := itemsOf(t, filepath.Join(dir, "assembly.3mf"))
	if len(b.Pieces) != 5 || len(c.Pieces) != 5 || len(placed) != 5 || len(inMold) != 5 {
		t.Fatalf("%d pieces built, %d checked, %d and %d in 3MF", len(b.Pieces), len(c.Pieces), len(placed), len(inMold))
	}
	var bed []mesh.Box
	assembly := mesh.EmptyBox()
	for i, p := range b.Pieces {
		if q := c.Pieces[i]; q.Name != p.Name || q.Size != p.Size || math.Abs(q.Volume/p.Volume-1) > 1e-12 {
			t.Errorf("check says %+v, build %+v", q, p)
		}
		f, err := os.Open(filepath.Join(dir, p.Name+".stl"))
		if err != nil {
			t.Fatal(err)
		}
		m, err := stl.Read(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		box := m.Bounds()
		if box.Lo != (mesh.Vec{}) || box.Hi != mesh.Vec(p.Size) {
			t.Errorf("%s.stl reaches from %v to %v, want the origin to %v", p.Name, box.Lo, box.Hi, p.Size)
		}
		// Chords of round faces miss the true volume by less than tolerance times area.
		if v, most := m.Volume(), b.Tolerance*m.Area(); math.Abs(v-p.Volume) > most || math.Abs(v-p.Mesh) > 1e-6 || len(m.T) != p.Triangles {
			t.Errorf("%s.stl holds %d triangles, %v mm³; reported %+v", p.Name, len(m.T), v, p)
		}
		for _, it := range []threemf.Item{placed[i], inMold[i]} {
			if it.Name != p.Name || len(it.Mesh.T) != p.Triangles || math.Abs(it.Mesh.Volume()-p.Mesh) > 1e-6 {
				t.Errorf("3MF holds %q with %d triangles, %v mm³; reported %+v", it.Name, len(it.Mesh.T), it.Mesh.Volume(), p)
			}
			if r := check.Audit(it.Mesh, check.Options{}); !r.OK() {
				t.Errorf("3MF, %s: %v", it.Name, r.Faults())
			}
		}
		on := boxOf(placed[i])
		if on.Lo[2] != 0 {
			t.Errorf("%s lies at z = %v on the bed", p.Name, on.Lo[2])
		}
		for k, other := range bed {
			if on.Overlaps(other, 0) {
				t.Errorf("%s and %s overlap on the bed", p.Name, b.Pieces[k].Name)
			}
		}
		bed = append(bed, on)
		assembly = assembly.Join(boxOf(inMold[i]))
	}
	if size := assembly.Hi.Sub(assembly.Lo); size != mesh.Vec(b.Outline.Size) {
		t.Errorf("the assembly is %v, reported %v", size, b.Outline.Size)
	}
}

func itemsOf(t *testing.T, path string) []threemf.Item {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := threemf.Read(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	return p.Items
}

// boxOf is the box of an item where it is placed.
func boxOf(it threemf.Item) mesh.Box {
	b := mesh.EmptyBox()
	for _, v := range it.Mesh.V {
		b = b.Include(it.Pose.Apply(v))
	}
	return b
}
