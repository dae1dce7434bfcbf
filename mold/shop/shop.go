package shop

import (
	"errors"
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// ID is the ID of a piece's sheet.
func ID(piece string) string { return "drawing-" + piece }

// Sheets returns the sheets of the pieces that a shop mills or turns, in the mold's order.
// made are those to draw, as they leave the machine (mold.Made.RawFaces), blanks what each
// is made from, in words, for the title block; a piece that has none there says nothing of
// it.
func Sheets(m *mold.Mold, made map[string]*brep.Boundary, blanks map[string]string) ([]paper.Sheet, error) {
	var all []*sheet
	for i := range m.Pieces {
		if p := &m.Pieces[i]; !p.Printed(m.Job) && made[p.Name] != nil {
			all = append(all, &sheet{m: m, j: m.Job, piece: p, b: made[p.Name], blank: blanks[p.Name]})
		}
	}
	errs := make([]error, len(all))
	inparallel.Do(len(all), func(i int) {
		if err := all[i].draw(); err != nil {
			errs[i] = fmt.Errorf("drawing of %s: %w", all[i].piece.Name, err)
		}
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	var out []paper.Sheet
	for _, s := range all {
		out = append(out, s.Sheet)
	}
	return out, nil
}

// sheet is one in the making.
type sheet struct {
	paper.Sheet
	m       *mold.Mold
	j       *params.Job
	piece   *mold.Piece
	b       *brep.Boundary // as it leaves the machine
	blank   string
	stock   float64 // on each parting face that is lapped
	holes   []holes.Hole
	pockets []holes.Pocket
	views   []*view

	corners      []corner // of the outline across the axis
	detailed     int      // how many details there are
	registerRoot float64  // radius of the register's root, 0 where there is none

	// The views that dimensions go to, nil where a piece has none.
	inside, section, outside, above, below *view
}

func (s *sheet) draw() (err error) {
	if s.holes, err = holes.Of(s.m, s.piece.Name, s.b); err != nil {
		return err
	}
	if s.pockets, err = holes.Pockets(s.m, s.piece.Name, s.b); err != nil {
		return err
	}
	s.ID, s.Title = ID(s.piece.Name), mold.Title(s.piece.Name)
	switch s.piece.Kind {
	case mold.Hub:
		err = s.hub()
	case mold.Shell:
		s.stock = s.lapped()
		err = s.shell()
	default:
		s.stock = s.lapped()
		err = s.plate()
	}
	if err != nil {
		return err
	}
	s.fields()
	for _, v := range s.views {
		s.Views = append(s.Views, v.View)
	}
	return nil
}

// lapped is the stock on each of the piece's parting faces, if it carries any.
func (s *sheet) lapped() float64 {
	if s.piece.Raw == s.piece.Root {
		return 0
	}
	return solid.Round(s.j.Mold.Mating.Stock)
}

// hasRole tells whether a face has one of some roles.
func hasRole(f *brep.Face, roles ...string) bool {
	for _, r := range f.Roles {
		for _, want := range roles {
			if r == want {
				return true
			}
		}
	}
	return false
}

// ring is a circle about the wheel's axis.
type ring struct{ z, r float64 }

// rings are the circles about the wheel's axis that bound faces of a role.
func (s *sheet) rings(role string) []ring {
	var out []ring
	for _, f := range s.b.Faces {
		if !hasRole(f, role) {
			continue
		}
		for _, u := range f.Edges {
			if c := u.Edge.Curve; c.Radius > 0 && onAxis(c.Center) && c.Normal.Cross(axisZ).Norm() < 1e-9 {
				out = append(out, ring{c.Center[2], c.Radius})
			}
		}
	}
	return out
}

// widest is the largest radius of rings at a height.
func widest(all []ring, z float64) (r float64, ok bool) {
	for _, c := range all {
		if near(c.z, z) && c.r > r {
			r, ok = c.r, true
		}
	}
	return r, ok
}

var axisZ = mesh.Vec{0, 0, 1}

func onAxis(p mesh.Vec) bool { return near(p[0], 0) && near(p[1], 0) }

// near: model lengths that differ by less are the same: two steps of the lattice.
func near(a, b float64) bool { return a-b < 2*solid.Lattice && b-a < 2*solid.Lattice }

// wall is the radius of the cavity's surface at a height, from the face that it lies on.
func (s *sheet) wall(z float64) (r float64, ok bool) {
	for _, f := range s.b.Faces {
		c := f.Carrier
		if !hasRole(f, mold.RoleTread) || !onAxis(c.Frame.O) || c.Kind == solid.Plane || c.Frame.Z.Cross(axisZ).Norm() > 1e-9 || !covers(f, z) {
			continue
		}
		return radius(c, z), true
	}
	return 0, false
}

// covers tells whether a face reaches above and below a height.
func covers(f *brep.Face, z float64) bool {
	var low, high bool
	for _, u := range f.Edges {
		for _, t := range [3]float64{u.Edge.T0, (u.Edge.T0 + u.Edge.T1) / 2, u.Edge.T1} {
			h := u.Edge.Curve.At(t)[2]
			low, high = low || h <= z, high || h >= z
		}
	}
	return low && high
}

// radius of a surface about the wheel's axis at a height: the outer one of a crown.
func radius(c *solid.Carrier, z float64) float64 {
	h := (z - c.Frame.O[2]) * c.Frame.Z[2]
	switch c.Kind {
	case solid.Cylinder:
		return c.R0
	case solid.Cone:
		return c.R0 + (h-c.Z0)/c.DZ*c.DR
	}
	return c.R0 + math.Sqrt(c.M*c.M-(h-c.Z0)*(h-c.Z0))
}
