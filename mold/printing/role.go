package printing

import (
	"slices"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// Faces that shape the rubber or grip it, and faces that meet another piece: where
// supports leave marks, or a first layer bulges, the wheel or the closing suffers.
// Ball pockets are left out: small round hollows print without supports.
var (
	cavityRoles = []string{mold.RoleTread, mold.RoleTreadFace, mold.RoleCeiling, hub.RoleBond, hub.RoleLock}
	matingRoles = []string{mold.RoleParting, mold.RoleLand, mold.RoleRegister, hub.RoleEnd}
)

func ofCavity(role string) bool { return slices.Contains(cavityRoles, role) }
func ofMating(role string) bool { return slices.Contains(matingRoles, role) }

// roles names the role of each facet. Faces of one plane are one face, whose roles
// are told apart by the patches that bear them in the facet's middle.
func roles(b *brep.Boundary, m *mesh.Mesh) []string {
	patches := map[int][]*solid.Patch{}
	for _, l := range b.Root.Leaves() {
		for i := range l.Patches {
			p := &l.Patches[i]
			patches[p.Carrier.ID] = append(patches[p.Carrier.ID], p)
		}
	}
	out := make([]string, len(m.T))
	for i, t := range m.T {
		f := b.Faces[m.Label[i]]
		if len(f.Roles) == 1 {
			out[i] = f.Roles[0]
			continue
		}
		middle := m.V[t[0]].Add(m.V[t[1]]).Add(m.V[t[2]]).Scale(1. / 3)
		out[i] = roleAt(patches[f.Carrier.ID], f.Carrier.Project(middle))
	}
	return out
}

// roleAt is the role of the patches that hold a point, the one that matters most if
// there are several; "" if none has any.
func roleAt(patches []*solid.Patch, q mesh.Vec) (role string) {
	const near = 1e-6
	weight := func(r string) int {
		switch {
		case ofCavity(r):
			return 3
		case ofMating(r):
			return 2
		case r != "":
			return 1
		}
		return 0
	}
	for _, p := range patches {
		if weight(p.Role) > weight(role) && p.Holds(q, near) {
			role = p.Role
		}
	}
	return role
}
