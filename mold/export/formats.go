package export

import (
	"fmt"
	"io"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
	"wheelmold/mesh/stl"
	"wheelmold/mesh/threemf"
	"wheelmold/mold/export/outdir"
)

// writeSTL writes a piece in its printing pose, and judges the bytes of the file:
// they must hold every facet of the mesh to the bit, and pass an audit. The
// search for crossing facets, the long part of an audit, was done on the mesh
// and need not be repeated on its equal.
func writeSTL(dir *outdir.Folder, p Part) error {
	name := p.Name + ".stl"
	if err := dir.Write(name, func(w io.Writer) error { return stl.Write(w, p.Posed, p.Name) }); err != nil {
		return err
	}
	f, err := dir.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	m, err := stl.Read(f)
	if err != nil {
		return fmt.Errorf("%s: reading back: %w", name, err)
	}
	if !equal(m, p.Posed) {
		return fmt.Errorf("%s: read back: not the mesh that was written", name)
	}
	if r := check.Audit(m, check.Options{SkipCrossings: true}); !r.OK() {
		return fmt.Errorf("%s: read back: %s", name, r.Faults()[0])
	}
	return nil
}

// equal reports whether two meshes have the same facets in the same order,
// whatever their vertices are called.
func equal(a, b *mesh.Mesh) bool {
	if len(a.T) != len(b.T) {
		return false
	}
	for i, t := range a.T {
		for k, v := range t {
			if a.V[v] != b.V[b.T[i][k]] {
				return false
			}
		}
	}
	return true
}

// writeAssembly writes the pieces as they stand in the mold.
func writeAssembly(w io.Writer, o Options, parts []Part) error {
	items := make([]threemf.Item, len(parts))
	for i, p := range parts {
		items[i] = threemf.Item{Name: p.Name, Mesh: p.InPlace}
	}
	return threemf.Write(w, threemf.Package{Title: o.Job.Name + ", assembled", Application: o.Program, Items: items})
}
