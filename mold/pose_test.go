package mold

import (
	"slices"
	"testing"
)

// On the bed every piece stands on z = 0, on an outer face: no parting face,
// cavity or register lies on the bed, where a print is squeezed and a casting
// would be marked.
func TestPose(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		made, err := m.Make(MakeOptions{Tolerance: .1})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range made.Parts {
			b := p.Posed.Bounds()
			if b.Lo[2] != 0 {
				t.Errorf("%s %s: lowest point at %v", name, p.Piece.Name, b.Lo[2])
			}
			if v, w := p.Posed.Volume(), p.RawMesh.Volume(); v < w*(1-1e-9) || v > w*(1+1e-9) {
				t.Errorf("%s %s: posing changes the volume from %v to %v", name, p.Piece.Name, w, v)
			}
			area := 0.0
			for i, f := range p.Posed.T {
				if p.Posed.V[f[0]][2] != 0 || p.Posed.V[f[1]][2] != 0 || p.Posed.V[f[2]][2] != 0 {
					continue
				}
				area += p.Posed.Normal(i).Norm() / 2
				roles := p.RawBoundary.Faces[p.Posed.Label[i]].Roles
				if p.Piece.Name != "hub" && !slices.Contains(roles, RoleOuter) {
					t.Fatalf("%s %s: %v lies on the bed", name, p.Piece.Name, roles)
				}
			}
			if area < 100 {
				t.Errorf("%s %s: stands on %.1f mm²", name, p.Piece.Name, area)
			}
		}
	}
}
