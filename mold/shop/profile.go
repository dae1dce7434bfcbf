package shop

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mold"
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
		if w := s.where(z); w != "" {
			text += ",\nmeasured " + w
		}
		if c := s.j.Mold.Coats.Total(); c > 0 {
			text += ", bare: " + mm(c) + " of sealer follow"
		}
		v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(at(r)), Text: text + "\nkeep its edges sharp", Finish: roughness(s.j.Process.Roughness), Control: s.cavityFrame()})
	}
	s.ribs()
}

// across is the diameter beside a radius: twice what is written there, to the last digit.
func (s *sheet) across(r float64) string {
	return "(Ø" + digits(2*math.Round(r*1e4)/1e4, 4) + " " + s.exact().tolerance + ")"
}

// edge points out the upper edge of the tread in the lid of a cup.
func (s *sheet) edge(dir mesh.Vec) {
	t, in := s.m.Tread, s.edgeTip()
	if t.EdgeSize > 0 {
		s.section.Callouts = append(s.section.Callouts, paper.Callout{Tip: s.section.at(dir.Scale(t.UpperOuter + t.EdgeSize - in).Add(axisZ.Scale(t.Width - in))), Text: s.edgeText()})
	}
}

// edgeTip is how far the middle of the tread's edge lies inside of where its faces would
// meet, along the radius and along the axis alike. Room for coats moves it outward, square
// to the edge.
func (s *sheet) edgeTip() float64 {
	e, out := s.m.Tread.EdgeSize, s.j.Mold.Coats.Total()*math.Sqrt2/2
	if s.m.Tread.Edge == "chamfer" {
		return e/2 - out
	}
	return e*(1-math.Sqrt2/2) - out
}

// edgeText says what edges of the tread the piece shapes. Below coats a round edge has a
// radius larger by them, and of a chamfer the angle stays.
func (s *sheet) edgeText() string {
	t := s.m.Tread
	text := "R" + mm(t.EdgeSize+s.j.Mold.Coats.Total())
	if t.Edge == "chamfer" {
		text = mm(t.EdgeSize) + " × 45°"
		if s.j.Mold.Coats.Total() > 0 {
			text += " as sealed"
		}
	}
	which := "both edges"
	switch {
	case s.cup():
		which = "the lower edge"
	case s.piece.Kind != mold.Shell:
		which = "the upper edge"
	}
	return text + " along " + which + " of the tread"
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
	r, source := s.rootRadius(s.deepestRib())
	x.Note += " Roots of the ribs, where they meet the cavity, may be round by up to " + mm(r) + " (" + source + ")."
	if c := s.j.Mold.Coats.Total(); c > 0 {
		x.Note += " As sealed: the bare ribs lack " + mm(c) + " on each side."
	}
	s.Tables = append(s.Tables, x)
}

// deepestRib is how far the highest rib stands into the cavity, mm.
func (s *sheet) deepestRib() float64 {
	t := s.m.Tread
	deep := 0.0
	if t.Cross.Count > 0 {
		deep = t.Cross.Depth
	}
	for _, g := range t.Grooves {
		deep = max(deep, g.Depth)
	}
	return deep
}
