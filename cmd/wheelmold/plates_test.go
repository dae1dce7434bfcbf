package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/threemf"
	"wheelmold/mold/report"
)

// What the report says of each bed load is what lies on the plate of that number: the
// same pieces, there and turned so, whichever are made and whatever does not fit.
func TestPlatesLieAsReported(t *testing.T) {
	for name, c := range map[string]struct {
		args  []string
		loads []int // pieces on each
		large []string
		files int // 3MF files besides the assembly
	}{
		"resin, two loads":   {[]string{"wren"}, []int{3, 2}, nil, 2},
		"some pieces":        {[]string{"wren", "--only", "lid,hub"}, []int{2}, nil, 1},
		"too wide":           {[]string{"wren", "--set", "printing.bed_x=100mm", "--set", "printing.bed_y=70mm"}, []int{2, 1}, []string{"base", "lid"}, 4},
		"one turned":         {[]string{"kestrel", "--set", "process.name=filament"}, []int{3, 1}, nil, 3},
		"some, all too tall": {[]string{"kestrel", "--set", "process.name=filament", "--set", "printing.bed_z=50mm", "--only", "shell-a,shell-b,hub"}, nil, []string{"shell-a", "shell-b"}, 3},
		"only the hub":       {[]string{"kestrel", "--set", "hub.material=printed"}, []int{1}, nil, 2},
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			var b report.Build
			job := filepath.Join("..", "..", "examples", c.args[0]+".toml")
			jsonOf(t, &b, append([]string{"build", job, "-o", dir, "--format", "3mf", "--tolerance", "0.1mm"}, c.args[1:]...)...)
			if len(b.Printing.Loads) != len(c.loads) {
				t.Fatalf("%d loads, want %v", len(b.Printing.Loads), c.loads)
			}
			for i, l := range b.Printing.Loads {
				items := itemsOf(t, filepath.Join(dir, fmt.Sprintf("plate-%d.3mf", i+1)))
				if len(items) != c.loads[i] || len(l.Pieces) != c.loads[i] {
					t.Fatalf("load %d: %d pieces reported, %d lie there, want %d", i+1, len(l.Pieces), len(items), c.loads[i])
				}
				for k, x := range l.Pieces {
					liesAsReported(t, items[k], x, b.Printing.Pieces)
				}
			}
			var large []string
			for _, f := range b.Printing.Misfits {
				large = append(large, f.Piece)
				if items := itemsOf(t, filepath.Join(dir, "too-large-"+f.Piece+".3mf")); len(items) != 1 || items[0].Name != f.Piece {
					t.Errorf("too large: %s; its file holds %v", f.Piece, items)
				}
			}
			files, err := filepath.Glob(filepath.Join(dir, "*.3mf"))
			if err != nil || !slices.Equal(large, c.large) || len(files) != c.files+1 {
				t.Errorf("too large %v, want %v; files %v, %v", large, c.large, files, err)
			}
		})
	}
}

// liesAsReported compares an item's transform to the bit with where a piece is said to
// lie, and its mesh with the room that it is said to take there.
func liesAsReported(t *testing.T, it threemf.Item, at report.OnBed, pieces []report.Print) {
	t.Helper()
	box := boxOf(it)
	turned := it.Pose.X == mesh.Vec{0, 1, 0}
	if it.Name != at.Name || box.Lo != (mesh.Vec{at.At[0], at.At[1], 0}) || turned != at.Turned || !turned && it.Pose.X != (mesh.Vec{1, 0, 0}) {
		t.Errorf("%s lies at %v, posed %v; reported %+v", it.Name, box.Lo, it.Pose, at)
	}
	i := slices.IndexFunc(pieces, func(x report.Print) bool { return x.Name == at.Name })
	room := mesh.Vec(pieces[i].Size)
	if turned {
		room[0], room[1] = room[1], room[0]
	}
	for k, v := range box.Hi.Sub(box.Lo) {
		if v > room[k] || v < room[k]-0.2 { // chords fall short by twice the tolerance
			t.Errorf("%s is %v as it lies, reported %v", it.Name, box.Hi.Sub(box.Lo), room)
		}
	}
}
