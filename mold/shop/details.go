package shop

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/holes"
	"wheelmold/mold/shop/paper"
)

// Details show larger what is too small to be read in the views: a ball's pocket cut along
// its axis, a pry slot as the cutter sees it, the tread's edge and a rib in the section.

// detailScales are those that details may have, and how wide on paper they then get at
// most, mm.
var detailScales = []float64{10, 5, 2, 1}

const detailWidth = 56

// place is a row and a column of a sheet that no view takes.
type place struct{ row, column int }

// details adds those that the piece has something to show in, in places where nothing
// else stands.
func (s *sheet) details(free ...place) error {
	for _, draw := range []func(*view) (bool, error){s.ballDetail, s.slotDetail, s.edgeDetail, s.ribDetail} {
		v := &view{}
		if ok, err := draw(v); err != nil {
			return err
		} else if !ok || len(free) == 0 {
			continue
		}
		v.Row, v.Column, v.Free = free[0].row, free[0].column, true
		free = free[1:]
		s.views = append(s.views, v)
	}
	return nil
}

// frameDetail gives a detail its letter, window and scale, and marks it in the view that
// it belongs to.
func (s *sheet) frameDetail(v *view, what string, of *view, in, own point, r float64) {
	letter := string("TUVW"[s.detailed])
	s.detailed++
	v.Caption = "detail " + letter + ", " + what
	v.Window = &paper.Round{At: own, R: r}
	v.Scale = detailScales[len(detailScales)-1]
	for _, x := range detailScales {
		if 2*r*x <= detailWidth {
			v.Scale = x
			break
		}
	}
	of.Details = append(of.Details, paper.Detail{Round: paper.Round{At: in, R: r}, Letter: letter})
}

// ballDetail cuts a ball pocket along its axis, its mouth up.
func (s *sheet) ballDetail(v *view) (bool, error) {
	i := slices.IndexFunc(s.holes, func(h holes.Hole) bool { return isBall(&h) })
	if i < 0 {
		return false, nil
	}
	h := &s.holes[i]
	of := s.marked(h.Mark)
	if of == nil {
		return false, nil
	}
	across := h.Dir.Cross(axisZ)
	if across.Norm() < .5 {
		across = h.At.Sub(axisZ.Scale(h.At[2])).Unit().Cross(axisZ)
	}
	v.look, v.cut = outline.View{O: h.At, U: across.Unit(), V: h.Dir.Scale(-1)}, true
	r, err := outline.Section(brep.NewEvaluator(s.m.Model), s.b.Root, v.look, sag)
	if err != nil {
		return false, err
	}
	v.Areas = []drawing.Area{{Look: drawing.Cut, Of: s.piece.Name, Region: r}}
	at := func(r, deep float64) mesh.Vec { return h.At.AddScaled(r, v.look.U).AddScaled(deep, h.Dir) }
	rim := func(d, deep float64) outline.Path {
		return outline.Path{Start: v.at(at(-d/2, deep)), Segments: []outline.Segment{{To: v.at(at(d/2, deep))}}}
	}
	first, last := h.Steps[0], h.Steps[len(h.Steps)-1]
	v.Lines = []drawing.Line{{Look: drawing.Visible, Of: s.piece.Name, Paths: []outline.Path{rim(first.D0, 0), rim(first.D1, first.To), rim(last.D1, last.To)}}}
	v.axis(at(0, -1), at(0, h.Depth()+1))
	v.measure(v.look.U, at(-first.D0/2, 0), at(first.D0/2, 0), first.D0, "ball pocket", round, bounded(s.ballDiameter()))
	v.measure(h.Dir, at(first.D0/2, 0), at(last.D1/2, last.To), last.To, "depth of the ball pocket", bounded(s.ballDepth()))
	if first.To < last.To {
		v.measure(h.Dir, at(-first.D0/2, 0), at(-first.D1/2, first.To), first.To, "cylinder of the ball pocket")
	}
	v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(at(-first.D0/2, first.To/2)), Text: "all ball pockets of a face", Control: s.ballFrame(h)})
	s.frameDetail(v, "ball pocket "+h.Mark, of, of.at(h.At), v.at(at(0, h.Depth()/3)), 1.25*math.Hypot(first.D0/2, last.To))
	return true, nil
}

// marked is the view that shows a hole's mark.
func (s *sheet) marked(mark string) *view {
	for _, v := range s.views {
		if slices.ContainsFunc(v.Marks, func(m paper.Mark) bool { return m.Text == mark }) {
			return v
		}
	}
	return nil
}

// slotDetail shows the longest pry slot that opens toward the viewer of a view and lies
// along it.
func (s *sheet) slotDetail(v *view) (bool, error) {
	var best *holes.Pocket
	var of *view
	for _, x := range []*view{s.above, s.inside} {
		for i := range s.pockets {
			if p := &s.pockets[i]; x != nil && s.opens(p, x) && (best == nil || p.Length > best.Length+1e-3) {
				best, of = p, x
			}
		}
	}
	if best == nil {
		return false, nil
	}
	p := best
	v.look = of.look
	for _, l := range of.Lines {
		if l.Look == drawing.Visible {
			v.Lines = append(v.Lines, l)
		}
	}
	side := p.At.AddScaled(p.Length/2, p.Along)
	if s.m.Layout.Outline != "round" || p.Dir[2] != 0 { // the mouth of one in a round outside is no straight line
		v.measure(p.Along, p.At.AddScaled(-p.Length/2, p.Along), side, p.Length, "width of the pry slot")
		v.measure(p.Dir, side, p.At.AddScaled(p.Depth, p.Dir), p.Depth, "depth of the pry slot")
	}
	text := mm(p.Width) + " high"
	if p.Corner > 0 {
		text = "R" + mm(p.Corner) + " or less, " + text
	}
	in := p.Corner * (1 - math.Sqrt2/2)
	v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(p.At.AddScaled(p.Depth-in, p.Dir).AddScaled(in-p.Length/2, p.Along)), Text: text})
	middle := v.at(p.At.AddScaled(p.Depth/2, p.Dir))
	s.frameDetail(v, "pry slot", of, middle, middle, 1.3*math.Hypot(p.Length/2, p.Depth/2))
	return true, nil
}

// opens tells whether a pocket is a pry slot in the face that a view looks at, and lies
// along the view.
func (s *sheet) opens(p *holes.Pocket, v *view) bool {
	if p.Role != mold.RolePry || v.cut {
		return false
	}
	u, w := v.look.U, v.look.W()
	along := math.Abs(u.Dot(p.Dir)) > 1-1e-9 || math.Abs(v.look.V.Dot(p.Dir)) > 1-1e-9
	if !along || math.Abs(w.Dot(p.Dir.Cross(p.Along))) < 1-1e-9 {
		return false
	}
	face := w.Dot(axisZ.Scale(s.face()))
	if s.piece.Kind == mold.Shell {
		face = s.stock
		if math.Abs(w[2]) > .5 {
			_, face = s.ends()
		}
	}
	return math.Abs(w.Dot(p.At)+p.Width/2-face) < .01
}

// edgeDetail shows the edge of the tread where the cavity meets the piece's lower end.
func (s *sheet) edgeDetail(v *view) (bool, error) {
	t := s.m.Tread
	if t.EdgeSize == 0 || !s.cup() && s.piece.Kind != mold.Shell {
		return false, nil
	}
	coats := s.j.Mold.Coats.Total()
	dir := s.toCavity()
	s.ofSection(v)
	at := func(r, z float64) point { return v.at(dir.Scale(r).Add(axisZ.Scale(z))) }
	in := s.edgeTip()
	v.Callouts = append(v.Callouts, paper.Callout{Tip: at(t.LowerOuter+t.EdgeSize-in, in), Text: s.edgeText()})
	if s.piece.Kind == mold.Shell && s.endsMate() {
		v.Callouts = append(v.Callouts, paper.Callout{Tip: at(t.LowerOuter+coats, -s.stock), Text: "sharp: no break,\nat most " + mmFine(s.j.Process.Edge)})
	}
	middle := at(t.LowerOuter+t.EdgeSize/2, t.EdgeSize/2)
	s.frameDetail(v, "edge of the tread", s.section, middle, middle, 1.5*t.EdgeSize+.5+coats)
	return true, nil
}

// ribDetail shows the lowest rib that molds a groove around the tread.
func (s *sheet) ribDetail(v *view) (bool, error) {
	t := s.m.Tread
	if len(t.Grooves) == 0 || !s.cup() && s.piece.Kind != mold.Shell {
		return false, nil
	}
	g, dir := t.Grooves[0], s.toCavity()
	s.ofSection(v)
	r := t.SurfaceR(g.Position)
	at := func(r, z float64) mesh.Vec { return dir.Scale(r).Add(axisZ.Scale(z)) }
	low, high := g.Position-g.Width/2, g.Position+g.Width/2
	if plain := s.j.Mold.Coats.Total() == 0 && t.CrownR == 0 && t.Slope == 0; plain {
		v.measure(axisZ, at(r, low), at(r, high), g.Width, "width of the rib", bounded(s.exact()))
		v.measure(dir, at(r, low), at(r-g.Depth, g.Position), g.Depth, "height of the rib", bounded(s.exact()))
	}
	root, _ := s.rootRadius(s.deepestRib())
	v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(at(r, high)), Text: "roots of all ribs sharp,\nor round by up to R" + mm(root)})
	middle := v.at(at(r-g.Depth/2, g.Position))
	s.frameDetail(v, "rib", s.section, middle, middle, 1.4*math.Hypot(g.Width/2, g.Depth)+.5)
	return true, nil
}

// ofSection makes a view show what the section does.
func (s *sheet) ofSection(v *view) {
	v.look, v.cut, v.Areas = s.section.look, true, s.section.Areas
	for _, l := range s.section.Lines {
		if l.Look == drawing.Visible {
			v.Lines = append(v.Lines, l)
		}
	}
}

// toCavity is the direction from the axis in which the section's profile is dimensioned.
func (s *sheet) toCavity() mesh.Vec {
	if s.piece.Kind == mold.Shell {
		return s.piece.Pull
	}
	return mesh.Vec{0, 1, 0}
}
