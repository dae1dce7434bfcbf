package release

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mesh/plumb"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/inparallel"
)

// Lock is a rigid part in the way of a piece that is drawn off.
type Lock struct {
	Piece  string   // that is held
	Of     string   // what of it is caught
	By     string   // what holds it
	At     mesh.Vec // where they meet, on what holds, in the closed mold; mm
	Travel float64  // of the piece along its pull until they meet, mm; 0: at once
}

// String tells what is caught by what, and after how many mm.
func (l *Lock) String() string {
	s := l.Of + " is caught by " + l.By
	if l.Travel >= touching {
		s += " after " + mm(l.Travel)
	}
	return s
}

// What counts as touching, in mm. Faces that are meant to be flush lie up to three steps
// of the lattice apart (1.8e-4 mm), so that a part is in the way only if it is further
// ahead than touching along the pull; and beside faces along the pull, a fit or a tangent
// turns such a step into any length, so that the places to either side, aslant away,
// have to be in the way too.
const (
	touching = 1e-3
	aslant   = 0.01
	inset    = 0.02 // of lines from the steps of outlines: past aslant
)

// Swept finds what rigid parts hold each piece while it is drawn off, in the order of
// release: the hub, which the rubber keeps, the pieces not yet off, and the balls, each
// of which goes with the piece that keeps it. Bolts and straps are taken to be out, and a
// register that is pressed in counts as tapped out, not as locked. Of each body in the
// way only the place that is met first is listed.
//
// A piece is swept along lines parallel to its pull (mesh/plumb) and not by distances
// (mesh/field): on a line, that a body ends ahead of where the piece begins is the exact
// condition for the two to meet at some travel, found without stepping; a field would
// have to be searched again at every travel. Lines run past every step of the outlines
// about the mold's axis, at either side, and through every part that stands out; between
// these on a grid. What is thinner across the pull than 0.03 mm passes for a fit, and
// what only the grid may meet has to be wider than its mesh, a 40th of the common extent. Travel
// is the least on these lines, so that between them they may meet a little sooner.
func Swept(m *mold.Mold) ([]Lock, error) {
	zones, all := inOrder(m.Split.Zones), bodies(m)
	found, errs := make([][]Lock, len(zones)), make([]error, len(zones))
	inparallel.Do(len(zones), func(i int) {
		found[i], errs[i] = sweep(m, all, zones[i:])
	})
	return slices.Concat(found...), errors.Join(errs...)
}

// body is a rigid part that moves as a whole.
type body struct {
	name string // as a reader sees it
	with string // the piece with which it comes off
	node *solid.Node
}

const hubName = "hub"

// bodies are the pieces, the hub without what registers press into it, and the balls.
func bodies(m *mold.Mold) []body {
	var out []body
	for _, p := range m.Pieces {
		n := p.Root
		if p.Kind == mold.Hub {
			n = solid.Minus(n, m.Overlaps...)
		}
		out = append(out, body{mold.Title(p.Name), p.Name, n})
	}
	own := solid.NewModel() // the mold's stays as it is
	for i, b := range m.Layout.Balls {
		name := fmt.Sprintf("ball %d of %s", i+1, b.Line)
		out = append(out, body{name, b.Keeper, own.Ball(name, mold.RoleBall, b.At, mesh.Vec{0, 0, 1}, b.Diameter/2)})
	}
	return out
}

// sweep draws the first of zones off while the others are still on.
func sweep(m *mold.Mold, all []body, zones []mold.Zone) ([]Lock, error) {
	t := track{frame: along(zones[0].Pull)}
	for _, b := range all {
		i := slices.IndexFunc(zones, func(z mold.Zone) bool { return z.Name == b.with })
		if i < 0 && b.with != hubName {
			continue // off already
		}
		s, err := plumb.NewAlong(b.node, t.frame)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", b.name, err)
		}
		r := lined{body: b, line: s.Line(), box: s.Bounds()}
		if i == 0 {
			t.moving = append(t.moving, r)
		} else {
			t.rigid = append(t.rigid, r)
		}
	}
	return t.locks(m, zones[0].Name), nil
}

// lined is a body read along lines; its box is in the track's frame.
type lined struct {
	body
	line *plumb.Line
	box  mesh.Box
}

// track is what moves along the Z of a frame, and what stays.
type track struct {
	frame         solid.Frame
	moving, rigid []lined
	runs          []run
}

// run is a stretch of a line in a moving body.
type run struct {
	plumb.Run
	of *lined
}

// hit is where what moves meets what stays: heights along the pull.
type hit struct {
	of, by     *lined
	edge, face float64
}

func (h *hit) travel() float64 { return max(0, h.face-h.edge) }

// locks lists the first hit on every body that stays.
func (t *track) locks(m *mold.Mold, piece string) []Lock {
	type place struct {
		hit
		at [2]float64
	}
	first := map[*lined]place{}
	for _, at := range t.places() {
		for _, h := range t.hits(at[0], at[1]) {
			if was, ok := first[h.by]; ok && was.travel() <= h.travel()+touching || !t.wide(h.by, at) {
				continue
			}
			first[h.by] = place{h, at}
		}
	}
	var out []Lock
	for i := range t.rigid {
		if p, ok := first[&t.rigid[i]]; ok {
			edge := t.frame.Global(mesh.Vec{p.at[0], p.at[1], p.edge})
			face := t.frame.Global(mesh.Vec{p.at[0], p.at[1], p.face})
			out = append(out, Lock{piece, p.of.caught(edge), p.by.holding(m, face), face, p.travel()})
		}
	}
	slices.SortStableFunc(out, func(a, b Lock) int { return cmp.Compare(a.Travel, b.Travel) })
	return out
}

// hits are the bodies in the way on one line, where each is met first.
func (t *track) hits(u, v float64) []hit {
	t.runs = t.runs[:0]
	low := math.Inf(1)
	for i := range t.moving {
		for _, r := range t.moving[i].at(u, v, math.Inf(-1)) {
			t.runs = append(t.runs, run{r, &t.moving[i]})
			low = min(low, r.Lo)
		}
	}
	var out []hit
	for i := range t.rigid {
		var best *hit
		for _, r := range t.rigid[i].at(u, v, low+touching) {
			for _, s := range t.runs {
				if r.Hi <= s.Lo+touching {
					continue
				}
				h := hit{of: s.of, by: &t.rigid[i], edge: s.Hi, face: max(r.Lo, s.Lo)}
				if best == nil || h.travel() < best.travel() {
					best = &h
				}
			}
		}
		if best != nil {
			out = append(out, *best)
		}
	}
	return out
}

// at reads a line, unless all of the body lies below a height.
func (l *lined) at(u, v, above float64) []plumb.Run {
	b := &l.box
	if b.Hi[2] <= above || u < b.Lo[0] || u > b.Hi[0] || v < b.Lo[1] || v > b.Hi[1] {
		return nil
	}
	return l.line.Runs(u, v)
}

// wide tells whether a body is in the way beside a line too.
func (t *track) wide(by *lined, at [2]float64) bool {
	for _, d := range [][2]float64{{aslant, 0}, {-aslant, 0}, {0, aslant}, {0, -aslant}} {
		if !slices.ContainsFunc(t.hits(at[0]+d[0], at[1]+d[1]), func(h hit) bool { return h.by == by }) {
			return false
		}
	}
	return true
}

// caught names what of a body that moves is met at a point.
func (l *lined) caught(p mesh.Vec) string {
	if f := nearest(l.node, p); f.Role == mold.RoleRegister || f.Role == mold.RoleLand || f.Role == mold.RoleBall {
		return "the " + f.Name
	}
	if strings.Contains(l.name, " ") { // shell A, ball 3
		return l.name
	}
	return "the " + l.name
}

// holding names what of a body that stays is met at a point.
func (l *lined) holding(m *mold.Mold, p mesh.Vec) string {
	if l.with != hubName {
		return l.caught(p)
	}
	c, r := m.Core, math.Hypot(p[0], p[1])
	side, end, deep := "lower", c.Lower, p[2]-c.Z0
	if up := c.Z1() - p[2]; up < deep {
		side, end, deep = "upper", c.Upper, up
	}
	switch {
	case c.FlangeT > 0 && r > c.BodyR && deep <= c.FlangeT+touching:
		return "the hub's " + side + " flange"
	case r <= c.OpeningR(end):
		return "the neck of the hub's " + side + " opening"
	}
	return "the " + side + " end of the hub"
}

// nearest is the leaf whose surface lies nearest to a point; of several, one that stands.
func nearest(n *solid.Node, p mesh.Vec) *solid.Leaf {
	return slices.MinFunc(append(standing(n), n.Leaves()...), func(a, b *solid.Leaf) int {
		d := math.Abs(a.Dist(p)) - math.Abs(b.Dist(p))
		if math.Abs(d) < touching {
			return 0
		}
		return cmp.Compare(d, 0)
	})
}
