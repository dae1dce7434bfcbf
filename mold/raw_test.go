package mold

import (
	"math"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// withPad lays out the example wren, whose base leaves the machine with a pad on its
// outer face, 3 x 6 x 4 mm: 72 mm³ to be sawn off.
func withPad(t *testing.T) *Mold {
	m, err := New(example(t, "../examples/wren.toml"))
	if err != nil {
		t.Fatal(err)
	}
	b, bottom := m.Layout.B, m.Layout.Bottom
	m.setRaw("base", func(root *solid.Node) *solid.Node {
		return solid.Union(root, m.Model.Box("pad", RoleOuter, mesh.Vec{-b - 3, -3, bottom + 1}, mesh.Vec{1 - b, 3, bottom + 5}))
	})
	return m
}

func (m *Mold) setRaw(name string, raw func(*solid.Node) *solid.Node) {
	for i, p := range m.Pieces {
		if p.Name == name {
			m.Pieces[i].Raw = raw(p.Root)
		}
	}
}

// What is printed is the piece as it leaves the machine; what is measured, drawn and
// added up to the block is the one in the mold.
func TestRawPieceIsWhatIsPrinted(t *testing.T) {
	const pad = 3 * 6 * 4.0
	plain, err := New(example(t, "../examples/wren.toml"))
	if err != nil {
		t.Fatal(err)
	}
	want, err := plain.Make(MakeOptions{Tolerance: .1})
	if err != nil {
		t.Fatal(err)
	}
	m := withPad(t)
	made, err := m.Make(MakeOptions{Tolerance: .1})
	if err != nil {
		t.Fatal(err)
	}
	checked, err := m.Check()
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	for i, p := range made.Parts {
		q, name := want.Parts[i], p.Piece.Name
		more := 0.0
		if name == "base" {
			more = pad
		}
		near(name+" in the mold", p.Volume, q.Volume)
		near(name+"'s mesh in the mold", p.Mesh.Volume(), q.Mesh.Volume())
		near(name+" raw", p.RawVolume, q.RawVolume+more)
		near(name+"'s raw boundary", p.RawBoundary.Volume(), q.RawVolume+more)
		near(name+"'s raw mesh", p.RawMesh.Volume(), q.RawMesh.Volume()+more)
		near(name+" on the bed", p.Posed.Volume(), q.Posed.Volume()+more)
		near(name+" as checked", checked.Volumes[name], q.Volume)
		near(name+" raw, as checked", checked.RawVolumes[name], q.RawVolume+more)
		near(name+"'s raw faces, as checked", checked.RawFaces[name].Volume(), q.RawVolume+more)
		near(name+" as made", made.RawVolumes[name], q.RawVolume+more)
		near(name+"'s raw faces", made.RawFaces[name].Volume(), q.RawVolume+more)
		near(name+"'s faces", made.Faces[name].Volume(), q.Volume)
		if same := p.RawMesh == p.Mesh; same != (p.Piece.Raw == p.Piece.Root) {
			t.Errorf("%s has one mesh: %v", name, same)
		}
		if !p.Report.OK() || !p.RawReport.OK() || p.RawReport.Triangles != len(p.RawMesh.T) {
			t.Errorf("%s: audited %d raw facets of %d", name, p.RawReport.Triangles, len(p.RawMesh.T))
		}
		box, size := p.Posed.Bounds(), q.Posed.Bounds().Hi
		if name == "base" {
			size[0] += 3
		}
		if box.Lo != (mesh.Vec{}) || box.Hi != size {
			t.Errorf("%s reaches from %v to %v on the bed, want the origin to %v", name, box.Lo, box.Hi, size)
		}
	}
	near("the block", made.Audit.Sum, want.Audit.Sum)
}

// A raw piece that cannot be made is refused, by check too, and named as such: two
// pads that meet along an edge.
func TestRawPieceIsAudited(t *testing.T) {
	m := withPad(t)
	b, z := m.Layout.B, m.Layout.Bottom
	m.setRaw("base", func(root *solid.Node) *solid.Node {
		return solid.Union(root,
			m.Model.Box("pad", RoleOuter, mesh.Vec{b - 1, -3, z + 1}, mesh.Vec{b + 3, 0, z + 3}),
			m.Model.Box("pad", RoleOuter, mesh.Vec{b - 1, 0, z + 3}, mesh.Vec{b + 3, 3, z + 5}))
	})
	if _, err := m.Make(MakeOptions{Tolerance: .1}); err == nil || !strings.Contains(err.Error(), "base, as it leaves the machine: ") {
		t.Errorf("making says %v", err)
	}
	if _, err := m.Check(); err == nil || !strings.Contains(err.Error(), "base, as it leaves the machine: ") {
		t.Errorf("checking says %v", err)
	}
}

// The raw mesh is audited by itself: the one in the mold may be sound where it is not.
func TestRawMeshIsAudited(t *testing.T) {
	m := withPad(t)
	made, err := m.Make(MakeOptions{Tolerance: .1, Only: []string{"base"}})
	if err != nil {
		t.Fatal(err)
	}
	p := made.Parts[0]
	p.RawMesh = &mesh.Mesh{V: p.RawMesh.V, T: p.RawMesh.T[1:]}
	if err := p.audit(); err == nil || !strings.Contains(err.Error(), "base, as it leaves the machine: mesh: ") {
		t.Errorf("a hole in the raw mesh: %v", err)
	}
}
