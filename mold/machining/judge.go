package machining

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/inparallel"
	"wheelmold/params"
)

// Options say what is judged.
type Options struct {
	Only []string // names of the pieces that are made; empty: all
}

// Judge tells of each piece that a mill or lathe makes whether it can be cut. Faces are
// the exact boundaries of the pieces as they leave the machine, by name.
func Judge(m *mold.Mold, faces map[string]*brep.Boundary, o Options) (*Plan, error) {
	p, err := judge(m, faces, o)
	if err != nil {
		return nil, err
	}
	if len(p.Pieces) > 0 {
		p.Assumed = p.assumed(m.Job)
		p.warn(m.Job)
		p.Simpler, err = p.simpler(m, o)
	}
	return p, err
}

// judge finds the plan itself.
func judge(m *mold.Mold, faces map[string]*brep.Boundary, o Options) (*Plan, error) {
	var pieces []mold.Piece
	for _, x := range m.Pieces {
		if !x.Printed(m.Job) && (len(o.Only) == 0 || slices.Contains(o.Only, x.Name)) {
			pieces = append(pieces, x)
		}
	}
	p := &Plan{Pieces: make([]Piece, len(pieces))}
	errs := make([]error, len(pieces))
	inparallel.Do(len(pieces), func(i int) {
		if err := p.Pieces[i].judge(m, &pieces[i], faces[pieces[i].Name]); err != nil {
			errs[i] = fmt.Errorf("%s: %w", pieces[i].Name, err)
		}
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return p, nil
}

func (p *Piece) judge(m *mold.Mold, x *mold.Piece, faces *brep.Boundary) error {
	if faces == nil || faces.Root != x.Raw {
		return errors.New("no boundary of the piece as it leaves the machine")
	}
	s, err := region.Of(faces)
	if err != nil {
		return err
	}
	b := &bench{m: m, piece: x, solid: s, sights: &sights{root: x.Raw}, long: longest(m.Job), off: max(stepOut, m.Job.Process.Tolerance)}
	if b.holes, err = holes.Of(m, x.Name, faces); err != nil {
		return err
	}
	b.take()
	*p = Piece{Name: x.Name, Kind: x.Kind, By: Milled}
	for i := range b.faces {
		p.Surface += b.faces[i].area
	}
	for i := range b.holes {
		if x.Kind != mold.Hub || !b.holes[i].Central() {
			p.Drilled++
		}
	}
	if x.Kind == mold.Hub {
		b.turn(p)
	} else {
		b.mill(p)
	}
	return b.err
}

// take lists the faces and edges.
func (b *bench) take() {
	b.rims = make([]*outline, len(b.solid.Faces))
	b.seams = seams(b.solid)
	b.faces = make([]face, len(b.solid.Faces))
	for i, f := range b.solid.Faces {
		b.faces[i] = face{Face: f, area: b.solid.Area(i), hole: holeOf(f, b.holes), mark: slices.Contains(f.Roles, mold.RoleMark)}
	}
}

// rim is the outline of a face.
func (b *bench) rim(i int) *outline {
	if b.rims[i] == nil {
		b.rims[i] = newOutline(b.solid, b.solid.Faces[i])
	}
	return b.rims[i]
}

// mill judges a milled piece.
func (b *bench) mill(p *Piece) {
	b.list = candidates(b.m.Job, b.piece, b.solid)
	b.square()
	b.access()
	sets, axes := b.sets(), axesOf(b.piece)
	plain, indexed := setUps(b.list, sets, axes, false), setUps(b.list, sets, axes, true)
	p.Plain, p.Indexed, p.SetUps = len(plain), len(indexed), indexed
	if b.m.Job.Machining.Mill == params.MillPlain {
		p.SetUps = plain
	}
	p.Hidden = gather(b.hidden())
	p.Tight, p.Concave = b.radii()
	p.Deep = slices.Concat(b.deepHoles(), b.deepWalls(), b.slots(p.SetUps))
	p.Thin = b.thin()
	p.Corners = b.corners(p.SetUps)
}

// longest reach of a cutter in mm. A shop that states none is not judged by it.
func longest(j *params.Job) float64 {
	if len(j.Machining.Cutters) == 0 {
		return math.Inf(1)
	}
	out := 0.0
	for _, c := range j.Machining.Cutters {
		out = max(out, c.Reach)
	}
	return out
}

// directions are those of all clampings.
func directions(us []SetUp) []Direction {
	var out []Direction
	for _, u := range us {
		out = append(out, u.From...)
	}
	return out
}
