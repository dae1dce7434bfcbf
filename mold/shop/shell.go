package shop

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mold/shop/paper"
	"wheelmold/mold/views"
)

// shell draws what lies around the axis: seen on the parting face, cut through its middle,
// seen from outside and on its ends.
func (s *sheet) shell() (err error) {
	e, looks := s.piece.Pull, views.Of(s.m, s.piece)
	row := 0
	if s.opensAt(axisZ) { // a first view, from below
		row = 1
		if s.below, err = s.see(looks.Lower, 0, 0); err != nil {
			return err
		}
	}
	if s.inside, err = s.see(looks.Inside, row, 0); err != nil {
		return err
	}
	if s.section, err = s.cutAlong("section A-A, through the wheel axis", fromLeft(looks.Inside.Plane), row, 1); err != nil {
		return err
	}
	if s.outside, err = s.see(looks.Outside, row, 2); err != nil {
		return err
	}
	if s.above, err = s.see(looks.Upper, row+1, 0); err != nil {
		return err
	}
	low, high := s.ends()
	s.inside.Cuts = append(s.inside.Cuts, paper.Cutting{From: point{0, low}, To: point{0, high}, Letter: "A", Toward: point{1, 0}})
	if err := s.outlineOf(s.above); err != nil {
		return err
	}
	s.lugs()
	s.shellHeights(low, high)
	s.shellWidths(low, high)
	s.profile(e)
	s.shellTables()
	s.moldNotes()
	free := []place{{row + 1, 1}, {row + 1, 2}, {0, 1}, {0, 2}}
	if row == 0 {
		free = append(free[:2], place{2, 1}, place{2, 2})
	}
	return s.details(free...)
}

// opensAt tells whether a hole is drilled in a direction.
func (s *sheet) opensAt(dir mesh.Vec) bool {
	for i := range s.holes {
		if s.holes[i].Dir.Dot(dir) > .9 {
			return true
		}
	}
	return false
}

// ends are the heights of a shell's ends as it leaves the machine.
func (s *sheet) ends() (low, high float64) {
	return views.Ends(s.m, s.piece)
}

// shellHeights are those of the section: of halves also where cavity and lands lie.
func (s *sheet) shellHeights(low, high float64) {
	l, t, v, e := s.m.Layout, s.m.Tread, s.section, s.piece.Pull
	at := func(r, z float64) mesh.Vec { return e.Scale(r).Add(axisZ.Scale(z)) }
	out := l.Reach(e)
	v.axis(at(0, low-8), at(0, high+8))
	slot := s.j.Mold.PrySlots
	v.measure(e, at(0, low), at(out, low+slot.Height/2+s.stock), out, "from the wheel axis to the outer face")
	out -= slot.Depth // where neither end has a slot
	if l.Below != "" {
		v.measure(axisZ, at(out, low), at(out, high), high-low, "height between the end faces", bounded(s.exact()))
		return
	}
	v.measure(axisZ, at(out, low), at(out, high), high-low, "height")
	v.measure(axisZ, at(out, low), at(t.LowerOuter, 0), -low, "cavity above the underside")
	v.measure(axisZ, at(t.LowerOuter, 0), at(t.UpperOuter, t.Top), t.Top, "height of the cavity", bounded(s.exact()))
	end := s.m.Core.EndR()
	if !near(l.LandLow, 0) || !near(l.LandTop, t.Top) {
		v.measure(axisZ, at(end, l.LandLow), at(end, l.LandTop), l.LandTop-l.LandLow, "between the lands for the hub's ends", bounded(s.exact()))
	}
}

// shellWidths are the overall sizes seen on the end, and where cross bolts bear.
func (s *sheet) shellWidths(low, high float64) {
	l, v, e := s.m.Layout, s.above, s.piece.Pull
	lo, hi := s.span(v.look.U)
	v.measure(v.look.U, lo, hi, v.look.U.Dot(hi.Sub(lo)), "overall width")
	if len(l.Sides) == 2 {
		face := e.Scale(-s.stock).AddScaled((s.m.Tread.R+l.OuterX)/2, v.look.U)
		v.measure(e, face, e.Scale(l.Reach(e)), l.Reach(e)+s.stock, "from the parting face to the outer face")
		s.shellFaces(low, high, v.at(face))
	} else {
		s.shellFaces(low, high, v.at(lo))
	}
	if len(l.Cross) > 0 {
		c := &l.Cross[0] // all are alike
		at := mesh.Vec{c.X, 0, c.Z}
		v.measure(e, at.AddScaled(-s.stock, e), at.AddScaled(c.Grip, e).AddScaled(c.RecessR, v.look.U), c.Grip+s.stock, "grip of the cross bolts, from the parting face")
	}
}

// span are the outermost ends of edges along a direction.
func (s *sheet) span(dir mesh.Vec) (lo, hi mesh.Vec) {
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range s.b.Vertices {
		if d := dir.Dot(p); d < least {
			least, lo = d, p
		}
		if d := dir.Dot(p); d > most {
			most, hi = d, p
		}
	}
	return lo, hi
}
