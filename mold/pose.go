package mold

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Pose turns a piece by quarter turns and shifts it by lattice steps, so that
// posed coordinates are as exact as those in place.
type Pose struct {
	Turn  [3]mesh.Vec // rows of the rotation matrix
	Shift mesh.Vec
}

// Poses by quarter turns.
var (
	AsIs     = Pose{Turn: [3]mesh.Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
	OverX    = Pose{Turn: [3]mesh.Vec{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}} // top face down
	YDown    = Pose{Turn: [3]mesh.Vec{{1, 0, 0}, {0, 0, 1}, {0, -1, 0}}}  // +y face down
	XDown    = Pose{Turn: [3]mesh.Vec{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}}}  // +x face down
	MinusXDn = Pose{Turn: [3]mesh.Vec{{0, 0, -1}, {0, 1, 0}, {1, 0, 0}}}  // -x face down
	MinusYDn = Pose{Turn: [3]mesh.Vec{{1, 0, 0}, {0, 0, -1}, {0, 1, 0}}}  // -y face down
)

// Apply returns the posed point.
func (p *Pose) Apply(v mesh.Vec) mesh.Vec {
	return mesh.Vec{p.Turn[0].Dot(v), p.Turn[1].Dot(v), p.Turn[2].Dot(v)}.Add(p.Shift)
}

// Undo returns the point that Apply takes to v.
func (p *Pose) Undo(v mesh.Vec) mesh.Vec {
	v = v.Sub(p.Shift)
	return p.Turn[0].Scale(v[0]).AddScaled(v[1], p.Turn[1]).AddScaled(v[2], p.Turn[2])
}

// Mesh returns the posed mesh; labels are shared.
func (p *Pose) Mesh(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{V: make([]mesh.Vec, len(m.V)), T: m.T, Label: m.Label}
	for i, v := range m.V {
		out.V[i] = p.Apply(v)
	}
	return out
}

// OnBed returns the pose with the shift that stands the mesh on z = 0 with its
// corner at the origin, in whole lattice steps.
func (p Pose) OnBed(m *mesh.Mesh) Pose {
	p.Shift = mesh.Vec{}
	b := mesh.EmptyBox()
	for _, v := range m.V {
		b = b.Include(p.Apply(v))
	}
	for i, lo := range b.Lo {
		p.Shift[i] = -math.Round(lo/solid.Lattice) * solid.Lattice
	}
	return p
}
