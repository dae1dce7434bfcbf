package mold

import (
	"math"
	"slices"
	"testing"

	"wheelmold/mesh"
)

func split(t *testing.T, sets ...string) *Mold {
	t.Helper()
	m, err := New(splitJob(t, 70, 25, 8, "filament", sets...))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// solidAt tells whether a piece, or any but the hub for "", has material at a point.
func (m *Mold) solidAt(piece string, p mesh.Vec) bool {
	return slices.ContainsFunc(m.Pieces, func(x Piece) bool {
		return (x.Name == piece || piece == "" && x.Kind != Hub) && x.Root.Contains(p)
	})
}

// A cup ends where its cavity is widest, so that the wheel draws out of it.
func TestCupEndsWhereItIsWidest(t *testing.T) {
	for _, set := range []string{"wheel.crown=1mm", "wheel.edge=chamfer", "wheel.edge=square", "wheel.edge_size=3mm", "wheel.draft=2deg"} {
		m := split(t, "mold.split=cup and lid", set)
		l, run := m.Layout, m.Tread.Cavity().Elems()
		at := func(z float64) (widest float64) {
			for _, e := range run {
				for k := range 401 {
					s := float64(k) / 400
					p := [2]float64{e.A[0] + s*(e.B[0]-e.A[0]), e.A[1] + s*(e.B[1]-e.A[1])}
					if e.Arc {
						t0, t1 := e.Angles()
						sn, cs := math.Sincos(t0 + s*(t1-t0))
						p = [2]float64{e.C[0] + e.R*cs, e.C[1] + e.R*sn}
					}
					if math.Abs(p[1]-z) < .05 {
						widest = max(widest, p[0])
					}
				}
			}
			return widest
		}
		rim, most := at(l.Part), 0.0
		for z := .05; z < l.Part; z += .05 {
			most = max(most, at(z))
		}
		if most > rim+1e-3 {
			t.Errorf("%s: %.3f mm wide below, %.3f at the rim at %.2f", set, most, rim, l.Part)
		}
		// And no lower than it must be.
		if up := at(l.Part + 1); l.Part+1 < l.Top && up > rim+1e-3 {
			t.Errorf("%s: the rim at %.2f lies below where it is widest", set, l.Part)
		}
	}
}

// A strap holds the hub by its disk, bridges the rubber, and rests on the shells; its
// bolts go through it, the others bear on the shells.
func TestStrapBridgesTheRubber(t *testing.T) {
	m := split(t, "mold.split=open top")
	l, c := m.Layout, math.Sqrt2/2
	along := func(r, z float64) mesh.Vec { return mesh.Vec{r * c, r * c, z} }
	if !m.solidAt("strap", along(m.Core.EndR()-.1, l.LandTop+.1)) {
		t.Error("nothing on the hub's rim")
	}
	for r := m.Core.EndR() + .1; r < m.Tread.R+l.land/2; r += .5 {
		if m.solidAt("", along(r, l.Top+3)) {
			t.Errorf("material %.1f mm from the axis, 3 mm above the brim", r)
		}
	}
	if !m.solidAt("strap", along(l.begin-.5, l.Top+.1)) || !m.solidAt("strap", along((m.Core.EndR()+m.Tread.R)/2, l.Ceil-.5)) {
		t.Error("the arms do not reach the shells")
	}
	for i, b := range l.Bolts {
		want := l.Ceil
		if i%2 == 1 {
			want = l.Top
		}
		if b.Top != want {
			t.Errorf("head %d bears at %g, want %g", i, b.Top, want)
		}
	}
}

// The pieces around the axis reach from plate to plate, those of a clam through them.
func TestSidesReach(t *testing.T) {
	for _, set := range []string{"mold.split=four-piece", "mold.split=clam"} {
		m := split(t, set)
		l := m.Layout
		for _, b := range l.Balls {
			if mid := (l.SideLow + l.SideHigh) / 2; b.Axis == 1 && math.Abs(b.At[2]-mid) > .01 {
				t.Errorf("%s: ball at height %g, want %g", set, b.At[2], mid)
			}
		}
		clam := l.Below == ""
		if clam && (l.SideLow != l.Bottom || l.SideHigh != l.Ceil) || !clam && (l.SideLow != 0 || l.SideHigh != l.Top) {
			t.Errorf("%s: sides from %g to %g", set, l.SideLow, l.SideHigh)
		}
		for _, z := range []float64{l.Bottom + .1, l.Ceil - .1} {
			if got := m.solidAt(m.Layout.Sides[0].Name, mesh.Vec{0, m.Tread.R + 2, z}); got != clam {
				t.Errorf("%s: side at height %g: %v", set, z, got)
			}
		}
	}
}

// Every parting plane along the axis has a pry slot, open outward and as deep as asked.
func TestSidesHaveSlots(t *testing.T) {
	for _, set := range []string{"mold.segments=2", "mold.segments=3", "mold.segments=4", "mold.split=clam"} {
		m := split(t, set, "mold.side_clamp.kind=none")
		l, depth := m.Layout, m.Job.Mold.PrySlots.Depth
		for i := range l.Partings {
			u := l.Partings[i].Outward()
			n := mesh.Vec{-u[1], u[0], 0}
			for _, s := range []float64{-.3, .3} {
				p := func(from float64) mesh.Vec {
					q := u.Scale(l.Reach(u)-from).AddScaled(s, n)
					q[2] = (l.SideLow + l.SideHigh) / 2
					return q
				}
				if m.solidAt("", p(depth/2)) || m.solidAt("", p(.2)) || !m.solidAt("", p(depth+.3)) {
					t.Errorf("%s: no slot of %g mm on %s", set, depth, l.Partings[i].Line)
				}
			}
		}
	}
}

// As a piece around the axis lies, none of its cavity and of its parting faces looks
// down: they need no support and are not on the bed.
func TestSidesLieOnTheirBacks(t *testing.T) {
	for _, set := range []string{"mold.segments=2", "mold.segments=3", "mold.segments=4", "mold.split=clam"} {
		m := split(t, set)
		made, err := m.Make(MakeOptions{Tolerance: .05})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range made.Parts {
			if p.Piece.Kind != Shell {
				continue
			}
			for i := range p.Posed.T {
				roles := p.Boundary.Faces[p.Posed.Label[i]].Roles
				n := p.Posed.Normal(i)
				if down := n[2] / n.Norm(); down < -.01 && slices.ContainsFunc(roles, func(r string) bool { return r == RoleTread || r == RoleParting }) {
					t.Errorf("%s: %v of %s looks down: %.2f", set, roles, p.Piece.Name, down)
					break
				}
			}
		}
	}
}
