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
	"wheelmold/mold/printing/bed"
)

// blocks are parts of a mold of these sizes.
func blocks(sizes map[string]mesh.Vec) (parts []Part) {
	for _, name := range []string{"base", "shell-a", "shell-b", "lid", "hub"} {
		if size, ok := sizes[name]; ok {
			m := block(size)
			parts = append(parts, Part{Name: name, InPlace: m, Posed: m})
		}
	}
	return parts
}

// written writes blocks of these sizes, sorted onto beds in that way, and reads the 3MF
// files in which they lie side by side.
func written(t *testing.T, sizes map[string]mesh.Vec, beds bed.Sorting) map[string]threemf.Package {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	o := options(t, dir)
	o.Job.Name = "plates"
	files, err := Write(context.Background(), o, func() (*Contents, error) { return &Contents{Parts: blocks(sizes), Beds: beds}, nil })
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

// Pieces lie where they were sorted to, turned or not, in a file for each load.
func TestPlates(t *testing.T) {
	beds := bed.Sorting{Loads: [][]bed.Spot{
		{{Piece: "base", At: mesh.Vec{1, 2, 0}}, {Piece: "shell-a", At: mesh.Vec{110, 5.5, 0}, Turned: true}},
		{{Piece: "shell-b", At: mesh.Vec{55, 54, 0}}, {Piece: "lid", At: mesh.Vec{0, 110, 0}, Turned: true}, {Piece: "hub", At: mesh.Vec{101.25, 110, 0}}},
	}}
	files := written(t, someSizes, beds)
	if len(files) != 2 {
		t.Fatalf("files: %v", files)
	}
	for n, load := range beds.Loads {
		p := files[fmt.Sprintf("plate-%d.3mf", n+1)]
		if want := fmt.Sprintf("plates, plate %d of 2", n+1); p.Title != want || p.Application != "wheelmold test" {
			t.Errorf("plate %d is titled %q by %q", n+1, p.Title, p.Application)
		}
		boxes := lying(p)
		if len(boxes) != len(load) {
			t.Errorf("plate %d holds %s", n+1, names(p))
		}
		for _, s := range load {
			size := someSizes[s.Piece]
			if s.Turned {
				size[0], size[1] = size[1], size[0]
			}
			if want := (mesh.Box{Lo: s.At, Hi: s.At.Add(size)}); boxes[s.Piece] != want {
				t.Errorf("%s lies at %v, want %v", s.Piece, boxes[s.Piece], want)
			}
		}
	}
}

// A piece is turned, not mirrored: the corner that was at the origin lies to the right,
// its long side goes on along y.
func TestPlateTurnsPieces(t *testing.T) {
	p := written(t, map[string]mesh.Vec{"shell-a": {110.5, 30.25, 40}},
		bed.Sorting{Loads: [][]bed.Spot{{{Piece: "shell-a", At: mesh.Vec{9.875, 4.75, 0}, Turned: true}}}})["plate-1.3mf"]
	if len(p.Items) != 1 {
		t.Fatalf("items: %v", p.Items)
	}
	pose := p.Items[0].Pose
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

// A piece too large for the bed is written by itself under a name that says so, the
// others lie on plates without it, and what beds do not name is not printed.
func TestPiecesBesidePlates(t *testing.T) {
	files := written(t, someSizes, bed.Sorting{Loads: [][]bed.Spot{{{Piece: "shell-a"}}}, Misfits: []string{"lid", "base"}})
	var got []string
	for name, p := range files {
		got = append(got, name+": "+names(p)+": "+p.Title)
	}
	slices.Sort(got)
	want := []string{
		"pieces.3mf: shell-b hub: plates",
		"plate-1.3mf: shell-a: plates, plate 1 of 1",
		"too-large-base.3mf: base: plates, base, too large for the bed",
		"too-large-lid.3mf: lid: plates, lid, too large for the bed",
	}
	if !slices.Equal(got, want) {
		t.Errorf("files are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if b := lying(files["too-large-lid.3mf"])["lid"]; b.Lo != (mesh.Vec{}) || b.Hi != someSizes["lid"] {
		t.Errorf("the lid lies at %v", b)
	}
	if files = written(t, someSizes, bed.Sorting{}); len(files) != 1 || len(files["pieces.3mf"].Items) != 5 {
		t.Errorf("nothing printed: %v", files)
	}
}

// Beds and parts that contradict each other leave no folder.
func TestBedsNameEachPartOnce(t *testing.T) {
	lid := bed.Spot{Piece: "lid"}
	for name, beds := range map[string]bed.Sorting{
		"no such part":       {Loads: [][]bed.Spot{{{Piece: "strap"}}}},
		"twice on a bed":     {Loads: [][]bed.Spot{{lid, lid}}},
		"on two beds":        {Loads: [][]bed.Spot{{lid}, {lid}}},
		"on a bed, and none": {Loads: [][]bed.Spot{{lid}}, Misfits: []string{"lid"}},
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			_, err := Write(context.Background(), options(t, dir), func() (*Contents, error) { return &Contents{Parts: blocks(someSizes), Beds: beds}, nil })
			if _, there := os.Stat(dir); err == nil || there == nil {
				t.Errorf("error %v, folder %v", err, there)
			}
		})
	}
}
