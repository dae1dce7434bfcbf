package shop

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mold/shop/paper"
)

// profile dimensions the cavity's surface in the section, toward a direction from the
// axis.
func (s *sheet) profile(dir mesh.Vec) {
	t, v := s.m.Tread, s.section
	if z, ok := s.plainHeight(); ok {
		r, found := s.wall(z)
		if !found {
			return
		}
		at := func(r float64) mesh.Vec { return dir.Scale(r).Add(axisZ.Scale(z)) }
		if s.cup() {
			v.measure(dir, at(-r), at(r), 2*r, "cavity "+s.where(z), round, exactly, bounded(s.exact()))
		} else {
			v.measure(dir, at(0), at(r), r, "cavity, from the wheel axis "+s.where(z), exactly, bounded(s.exact()), after(s.across(r)))
		}
		text := "cavity"
		if t.CrownR > 0 {
			text += ", crowned R" + mm(t.CrownR)
		}
		if s.j.Wheel.Draft > 0 {
			text += ", draft " + mm(s.j.Wheel.Draft) + "°"
		}
		if c := s.j.Mold.Coats.Total(); c > 0 {
			text += ", bare: " + mm(c) + " of sealer follow"
		}
		v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(at(r)), Text: text + "\nkeep its edges sharp", Finish: roughness(s.j.Process.Roughness)})
	}
	s.edge(dir, false)
	s.ribs()
}

// across is the diameter beside a radius: twice what is written there, to the last digit.
func (s *sheet) across(r float64) string {
	return "(Ø" + digits(2*math.Round(r*1e4)/1e4, 4) + " " + s.exact().tolerance + ")"
}

// edge points out the edges of the tread: the lower one, or the upper one of a lid.
func (s *sheet) edge(dir mesh.Vec, upper bool) {
	t, v := s.m.Tread, s.section
	e := t.EdgeSize
	if e == 0 {
		return
	}
	in, text := e*(1-math.Sqrt2/2), "R"+mm(e)
	if t.Edge == "chamfer" {
		in, text = e/2, mm(e)+" × 45°"
	}
	r, z, which := t.LowerOuter, in, "both edges"
	switch {
	case upper:
		r, z, which = t.UpperOuter, t.Width-in, "the upper edge"
	case s.cup():
		which = "the lower edge"
	}
	v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(dir.Scale(r + e - in).Add(axisZ.Scale(z))), Text: text + " along " + which + " of the tread"})
}

// plainHeight is a height near the middle of the cavity that no rib, edge or piece's end
// comes near.
func (s *sheet) plainHeight() (float64, bool) {
	const apart = 0.3 // mm
	t, l := s.m.Tread, s.m.Layout
	lo, hi := t.EdgeSize+apart, min(t.Width-t.EdgeSize, l.Part)-apart
	free := func(z float64) bool {
		for _, g := range t.Grooves {
			if math.Abs(z-g.Position) < g.Width/2+apart {
				return false
			}
		}
		return z > lo && z < hi
	}
	mid := (lo + hi) / 2
	if t.CrownR > 0 && t.Width/2 < hi {
		mid = t.Width / 2
	}
	for k := range 400 {
		if d := float64(k) * (hi - lo) / 800; free(mid + d) {
			return mid + d, true
		} else if free(mid - d) {
			return mid - d, true
		}
	}
	return 0, false
}

// where says at which height a cavity that is no cylinder is measured.
func (s *sheet) where(z float64) string {
	t := s.m.Tread
	switch {
	case t.CrownR == 0 && t.Slope == 0:
		return ""
	case near(z, t.Width/2):
		return "in the middle of its width"
	}
	return mm(z) + " above its lower end"
}

// ribs tells of the ribs that mold grooves into the tread.
func (s *sheet) ribs() {
	t := s.m.Tread
	x := paper.Table{Title: "Ribs of the cavity, which mold grooves into the tread", Head: []string{"rib", "shape", "middle above the cavity's lower end", "width", "height"}}
	for i, g := range t.Grooves {
		x.Rows = append(x.Rows, []string{fmt.Sprint(i + 1), g.Shape, mm(g.Position), mm(g.Width), mm(g.Depth)})
	}
	if c := t.Cross; c.Count > 0 {
		x.Rows = append(x.Rows, []string{"across", fmt.Sprintf("%d in the whole mold, flanks %s°", c.Count, mm(c.Flank)), "all along", mm(c.Width), mm(c.Depth)})
	}
	if len(x.Rows) == 0 {
		return
	}
	x.Note = "Widths, heights and middles " + s.exact().tolerance + ". Heights count from the cavity's surface inward. Across: width at the crest."
	deepest := t.Cross.Depth
	for _, g := range t.Grooves {
		deepest = max(deepest, g.Depth)
	}
	r, source := s.rootRadius(deepest)
	x.Note += " Roots of the ribs, where they meet the cavity, may be round by up to " + mm(r) + " (" + source + ")."
	if c := s.j.Mold.Coats.Total(); c > 0 {
		x.Note += " As sealed: the bare ribs lack " + mm(c) + " on each side."
	}
	s.Tables = append(s.Tables, x)
}
