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
	"wheelmold/mold/moldtest"
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
// slicer expects: pieces on z = 0, on the job's bed, apart from each other, closed.
func TestFilesAreWhatTheReportSays(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "wren.toml")
	dir := filepath.Join(t.TempDir(), "out")
	var c report.Check
	jsonOf(t, &c, "check", job)
	var b report.Build
	jsonOf(t, &b, "build", job, "-o", dir)

	placed, plateOf := platesOf(t, dir)
	inMold := itemsOf(t, filepath.Join(dir, "assembly.3mf"))
	if len(b.Pieces) != 5 || len(c.Pieces) != 5 || len(placed) != 5 || len(inMold) != 5 {
		t.Fatalf("%d pieces built, %d checked, %d and %d in 3MF", len(b.Pieces), len(c.Pieces), len(placed), len(inMold))
	}
	bed := moldtest.Example(t, "wren").Printing
	beds := map[string][]mesh.Box{}
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
		if it := placed[p.Name]; it.Name != p.Name || len(it.Mesh.T) != p.Triangles || math.Abs(it.Mesh.Volume()-p.Mesh) > 1e-6 {
			t.Errorf("%s holds %q with %d triangles, %v mm³; reported %+v", plateOf[p.Name], it.Name, len(it.Mesh.T), it.Mesh.Volume(), p)
		}
		// In the mold stock is lapped off, and holes have shrunk: less than 2 %.
		if it := inMold[i]; it.Name != p.Name || math.Abs(it.Mesh.Volume()/p.Mesh-1) > 0.02 {
			t.Errorf("assembly.3mf holds %q of %v mm³; reported %+v", it.Name, it.Mesh.Volume(), p)
		}
		for _, it := range []threemf.Item{placed[p.Name], inMold[i]} {
			if r := check.Audit(it.Mesh, check.Options{}); !r.OK() {
				t.Errorf("3MF, %s: %v", it.Name, r.Faults())
			}
		}
		on := boxOf(placed[p.Name])
		if on.Lo[2] != 0 || on.Lo[0] < 0 || on.Lo[1] < 0 || on.Hi[0] > bed.BedX || on.Hi[1] > bed.BedY || on.Hi[2] > bed.BedZ {
			t.Errorf("%s lies at %v, not on a bed of %g x %g x %g mm", p.Name, on, bed.BedX, bed.BedY, bed.BedZ)
		}
		plate := plateOf[p.Name]
		for _, other := range beds[plate] {
			if on.Overlaps(other, bed.Gap-1e-9) {
				t.Errorf("%s: %s at %v is nearer than %g mm to what lies at %v", plate, p.Name, on, bed.Gap, other)
			}
		}
		beds[plate] = append(beds[plate], on)
		assembly = assembly.Join(boxOf(inMold[i]))
	}
	if size := assembly.Hi.Sub(assembly.Lo); size != mesh.Vec(b.Outline.Size) {
		t.Errorf("the assembly is %v, reported %v", size, b.Outline.Size)
	}
}

// platesOf are the items of all plates of a folder, and the files they are in, by name.
func platesOf(t *testing.T, dir string) (items map[string]threemf.Item, plate map[string]string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "plate-*.3mf"))
	if err != nil {
		t.Fatal(err)
	}
	items, plate = map[string]threemf.Item{}, map[string]string{}
	for _, f := range files {
		for _, it := range itemsOf(t, f) {
			if plate[it.Name] != "" {
				t.Errorf("%s is on %s and on %s", it.Name, plate[it.Name], f)
			}
			items[it.Name], plate[it.Name] = it, f
		}
	}
	return items, plate
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
