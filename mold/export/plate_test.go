package export

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/threemf"
)

// written writes blocks of these sizes, as pieces of a mold that is printed on the
// bed or milled around a hub of that material, and reads the 3MF files in which they lie side by side.
func written(t *testing.T, process, hub string, bed mesh.Vec, gap float64, sizes map[string]mesh.Vec) map[string]threemf.Package {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	o := options(t, dir)
	o.Job.Name, o.Job.Process.Name, o.Job.Process.Kind = "plates", process, process
	o.Job.Hub.Material = hub
	r := &o.Job.Printing
	r.BedX, r.BedY, r.BedZ, r.Gap = bed[0], bed[1], bed[2], gap
	var parts []Part
	for _, name := range []string{"base", "shell-a", "shell-b", "lid", "hub"} {
		if size, ok := sizes[name]; ok {
			m := block(size)
			parts = append(parts, Part{Name: name, InPlace: m, Posed: m})
		}
	}
	files, err := Write(context.Background(), o, func() ([]Part, []File, error) { return parts, nil, nil })
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]threemf.Package{}
	for _, f := range files {
		if filepath.Ext(f.Name) != ".3mf" || f.Name == "assembly.3mf" {
			continue
		}
		b, err := os.ReadFile(filepath.Join(dir, f.Name))
		if err != nil {
			t.Fatal(err)
		}
		if out[f.Name], err = threemf.Read(bytes.NewReader(b), int64(len(b))); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// lying is the boxes of a file's items where they are placed, by name.
func lying(p threemf.Package) map[string]mesh.Box {
	out := map[string]mesh.Box{}
	for _, it := range p.Items {
		b := mesh.EmptyBox()
		for _, v := range it.Mesh.V {
			b = b.Include(it.Pose.Apply(v))
		}
		out[it.Name] = b
	}
	return out
}

func names(p threemf.Package) string {
	var out []string
	for _, it := range p.Items {
		out = append(out, it.Name)
	}
	return strings.Join(out, " ")
}

var someSizes = map[string]mesh.Vec{
	"base": {100, 100, 12}, "shell-a": {100, 50.25, 30}, "shell-b": {100, 50.25, 30}, "lid": {100, 100, 12}, "hub": {40, 40, 60},
}

// Five pieces on a bed of 210 x 158.25 mm: base and lid side by side leave a strip in
// which one shell and the hub lie, and the other shell is another load.
func TestPlates(t *testing.T) {
	bed, gap := mesh.Vec{210, 158.25, 60}, 8.0
	files := written(t, "filament", "printed", bed, gap, someSizes)
	if len(files) != 2 {
		t.Fatalf("files: %v", files)
	}
	seen := map[string]bool{}
	for name, p := range files {
		boxes := lying(p)
		for piece, b := range boxes {
			if seen[piece] {
				t.Errorf("%s is there twice", piece)
			}
			seen[piece] = true
			if b.Lo[0] < 0 || b.Lo[1] < 0 || b.Lo[2] != 0 || b.Hi[0] > bed[0] || b.Hi[1] > bed[1] || b.Hi[2] > bed[2] {
				t.Errorf("%s: %s lies at %v", name, piece, b)
			}
			for other, c := range boxes {
				if other != piece && b.Overlaps(c, gap-1e-9) {
					t.Errorf("%s: %s and %s are nearer than the gap: %v %v", name, piece, other, b, c)
				}
			}
		}
	}
	if len(seen) != len(someSizes) {
		t.Errorf("pieces on plates: %v", seen)
	}
	for i := range 2 {
		p := files[fmt.Sprintf("plate-%d.3mf", i+1)]
		if want := fmt.Sprintf("plates, plate %d of 2", i+1); p.Title != want || p.Application != "wheelmold test" {
			t.Errorf("plate %d is titled %q by %q", i+1, p.Title, p.Application)
		}
	}
}

// A piece that fits only turned is turned, not mirrored: the corner that was at the
// origin lies to the right, its long side goes on along y.
func TestPlateTurnsPieces(t *testing.T) {
	p := written(t, "resin", "printed", mesh.Vec{50, 120, 60}, 5, map[string]mesh.Vec{"shell-a": {110.5, 30.25, 40}})["plate-1.3mf"]
	if len(p.Items) != 1 {
		t.Fatalf("items: %v", p.Items)
	}
	pose := p.Items[0].Pose
	// In the middle of what is left: (50 - 30.25)/2 = 9.875, (120 - 110.5)/2 = 4.75.
	for from, to := range map[mesh.Vec]mesh.Vec{
		{0, 0, 0}:      {40.125, 4.75, 0},
		{110.5, 0, 0}:  {40.125, 115.25, 0},
		{0, 30.25, 0}:  {9.875, 4.75, 0},
		{0, 30.25, 40}: {9.875, 4.75, 40},
	} {
		if got := pose.Apply(from); got != to {
			t.Errorf("%v comes to %v, want %v", from, got, to)
		}
	}
	if pose.X.Cross(pose.Y) != pose.Z {
		t.Errorf("the piece is mirrored: %+v", pose)
	}
}

// A piece too large for the bed, or too high, is written by itself under a name that
// says so; the others lie on plates without it.
func TestPiecesTooLargeForTheBed(t *testing.T) {
	files := written(t, "filament", "printed", mesh.Vec{120, 120, 50}, 8, someSizes)
	var got []string
	for name, p := range files {
		got = append(got, name+": "+names(p)+": "+p.Title)
	}
	slices.Sort(got)
	want := []string{
		"plate-1.3mf: base: plates, plate 1 of 3",
		"plate-2.3mf: lid: plates, plate 2 of 3",
		"plate-3.3mf: shell-a shell-b: plates, plate 3 of 3",
		"too-large-hub.3mf: hub: plates, hub, too large for the bed",
	}
	if !slices.Equal(got, want) {
		t.Errorf("files are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if b := lying(files["too-large-hub.3mf"])["hub"]; b.Lo != (mesh.Vec{}) || b.Hi != someSizes["hub"] {
		t.Errorf("the hub lies at %v", b)
	}
}

// No bed bounds what is milled or turned: it is in one file, and none of it on a plate.
func TestPlatesHoldWhatIsPrinted(t *testing.T) {
	for _, c := range []struct{ process, hub, plates, pieces string }{
		{"milled", "nylon", "", "base shell-a shell-b lid hub"},
		{"milled", "printed", "hub", "base shell-a shell-b lid"},
		{"filament", "acetal", "base shell-a shell-b lid", "hub"},
		{"resin", "printed", "base shell-a shell-b lid hub", ""},
	} {
		files := written(t, c.process, c.hub, mesh.Vec{400, 400, 100}, 8, someSizes)
		if got := names(files["plate-1.3mf"]); got != c.plates {
			t.Errorf("%s mold, %s hub: on the plate %q, want %q", c.process, c.hub, got, c.plates)
		}
		if got := names(files["pieces.3mf"]); got != c.pieces {
			t.Errorf("%s mold, %s hub: beside plates %q, want %q", c.process, c.hub, got, c.pieces)
		}
		for name := range files {
			if name != "plate-1.3mf" && name != "pieces.3mf" {
				t.Errorf("%s mold, %s hub: file %s", c.process, c.hub, name)
			}
		}
	}
	files := written(t, "milled", "nylon", mesh.Vec{20, 20, 20}, 8, someSizes)
	if p := files["pieces.3mf"]; len(files) != 1 || len(p.Items) != 5 || p.Title != "plates" {
		t.Errorf("a milled mold on a small bed: %v", files)
	}
}
