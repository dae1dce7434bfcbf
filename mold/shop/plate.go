package shop

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/shop/paper"
	"wheelmold/mold/views"
)

// plate draws what lies across the axis: seen on the face that meets the others, cut
// along the axis, and seen from outside.
func (s *sheet) plate() (err error) {
	l, looks := s.m.Layout, views.Of(s.m, s.piece)
	v := looks.Inside.Plane.V
	if s.inside, err = s.see(looks.Inside, 0, 0); err != nil {
		return err
	}
	if s.section, err = s.cutAlong("section A-A, along the wheel axis", fromLeft(looks.Inside.Plane), 0, 1); err != nil {
		return err
	}
	if s.outside, err = s.see(looks.Outside, 0, 2); err != nil {
		return err
	}
	reach := l.Reach(v)
	s.inside.Cuts = append(s.inside.Cuts, paper.Cutting{
		From: point{0, -reach}, To: point{0, reach}, Letter: "A", Toward: point{1, 0},
	})
	s.inside.cross(mesh.Vec{}, reach/8)
	if err := s.outlineOf(s.inside); err != nil {
		return err
	}
	s.overall()
	s.register()
	s.plateHeights(reach)
	if s.cup() {
		s.profile(v)
	} else if s.piece.Pull[2] > 0 && len(l.Sides) == 0 { // the lid of a cup holds the rest of the cavity
		s.edge(v)
	}
	s.plateTables()
	s.moldNotes()
	return s.details(place{1, 0}, place{1, 1}, place{1, 2}, place{2, 0})
}

// face is the height of the parting face of a plate, as it leaves the machine.
func (s *sheet) face() float64 {
	l := s.m.Layout
	switch {
	case s.piece.Pull[2] > 0:
		return l.Part
	case len(l.Sides) == 0:
		return l.Part + s.stock
	}
	return 0
}

// cup tells whether the plate is a cup, which holds the rubber.
func (s *sheet) cup() bool { return len(s.m.Layout.Sides) == 0 && s.piece.Pull[2] < 0 }

// overall are the plate's overall ones: of a round one its diameter; of a strap also those of
// its bar and its disk.
func (s *sheet) overall() {
	v, l := s.inside, s.m.Layout
	u, w := v.look.U, v.look.V
	r, long := l.Reach(u), l.Reach(w)
	if s.round() {
		v.measure(u, u.Scale(-r), u.Scale(r), 2*r, "overall diameter", round)
		return
	}
	if strap := l.OpenTop() && s.piece.Pull[2] > 0; strap {
		r, along := s.reachOf(u), w.Scale(.8*long)
		v.measure(u, along.AddScaled(-r, u), along.AddScaled(r, u), 2*r, "width of the bar")
		pedestal, _ := widest(s.rings(mold.RoleLand), l.LandTop)
		if d, ok := widest(s.rings(mold.RoleOuter), l.Ceil); ok && d > r && !near(d, pedestal) {
			v.measure(u, u.Scale(-d), u.Scale(d), 2*d, "disk over the hub's end", round)
		}
	} else {
		v.measure(u, u.Scale(-r), u.Scale(r), 2*r, "overall width")
	}
	v.measure(w, w.Scale(-long), w.Scale(long), 2*long, "overall length")
}

// reachOf is the distance from the axis of the outermost flat face square to a direction.
func (s *sheet) reachOf(dir mesh.Vec) float64 {
	r := 0.0
	for _, f := range s.b.Faces {
		if c := f.Carrier; hasRole(f, mold.RoleOuter) && c.Kind == 0 && math.Abs(c.Frame.Z.Dot(dir)) > 1-1e-9 {
			r = max(r, math.Abs(c.D))
		}
	}
	return r
}

// plateHeights are thickness, cavity floor and land, from the parting face. Those that
// decide how pieces and hub stack are as exact as the process.
func (s *sheet) plateHeights(reach float64) {
	l, t, v := s.m.Layout, s.m.Tread, s.section
	edge := v.look.V.Scale(s.j.Mold.PrySlots.Depth - reach)
	at := func(r, z float64) mesh.Vec { return v.look.V.Scale(-r).Add(axisZ.Scale(z)) }
	up := s.piece.Pull[2] > 0
	outer, floor, land, face := l.Bottom, 0.0, l.LandLow, s.face()
	if up {
		outer, floor, land = l.Ceil, l.Top, l.LandTop
	}
	v.axis(axisZ.Scale(min(outer, face, land)-8), axisZ.Scale(max(outer, face, land)+8))
	v.measure(axisZ, edge.Add(axisZ.Scale(outer)), edge.Add(axisZ.Scale(face)), math.Abs(face-outer), "thickness")
	if s.cup() {
		v.measure(axisZ, at(s.m.Core.EndR(), floor), at(reach-s.j.Mold.PrySlots.Depth, face), face-floor, "depth of the cavity to the rim", bounded(s.exact()))
	} else if !near(floor, face) {
		r := t.UpperOuter
		if s.j.Mold.Coats.Total() > 0 { // beside the land it is deeper by them
			r = t.InnerR - s.j.Mold.Coats.Total()
		}
		v.measure(axisZ, at(r, floor), at(reach-s.j.Mold.PrySlots.Depth, face), math.Abs(floor-face), "depth of the cavity to the parting face", bounded(s.exact()))
	}
	s.ceiling(at)
	s.faceOfPlate(v.look.V, reach, land, .9*s.m.Core.EndR(), outer)
	if near(land, floor) {
		return
	}
	d, r := math.Abs(land-floor), s.m.Core.EndR()
	if up == (land < floor) {
		if w, ok := widest(s.rings(mold.RoleLand), land); ok {
			r = w
		}
		v.measure(axisZ, at(r, floor), at(r, land), d, "height of the pedestal for the hub", bounded(s.exact()))
		v.measure(v.look.V, at(-r, land), at(r, land), 2*r, "pedestal", round)
		return
	}
	for _, p := range s.pockets {
		if p.Role == mold.RoleLand {
			r = p.Diameter / 2
		}
	}
	v.measure(axisZ, at(r, floor), at(r, land), d, "depth of the recess for the hub", bounded(s.exact()))
	v.measure(v.look.V, at(-r, land), at(r, land), 2*r, "recess for the hub", round, bounded(s.recess()))
}

// turnedRing is a ring about the wheel's axis that lies below a plate's mating face.
// A round or chamfered edge of the tread leads from its floor up to its mouth.
type turnedRing struct{ inner, outer, depth, mouth float64 }

// ringSize is the ring in words.
func (s *sheet) ringSize(r turnedRing) string {
	text := "Ø" + mm(2*r.inner) + " to Ø" + mm(2*r.outer)
	if t := s.m.Tread; r.mouth > r.outer+.01 {
		text += ", from there up to Ø" + mm(2*r.mouth) + " at the face"
		if t.Edge == "round" {
			text += ", R" + mm(t.EdgeSize+s.j.Mold.Coats.Total())
		}
	}
	return text
}

// turnedRings are those that leave coats of sealer room beside the hub's land, where the
// plate ends the tread: they lie deeper than the land by as much as the coats are thick.
func (s *sheet) turnedRings() (out []turnedRing) {
	if s.piece.Kind == mold.Shell || s.j.Mold.Coats.Total() == 0 {
		return nil
	}
	for _, f := range s.b.Faces {
		c := f.Carrier
		if c.Kind != solid.Plane || math.Abs(c.Frame.Z[2]) < 1-1e-9 || !hasRole(f, mold.RoleTreadFace, mold.RoleCeiling) {
			continue
		}
		r := turnedRing{inner: math.Inf(1)}
		for _, u := range f.Edges {
			if k := u.Edge.Curve; k.Radius > 0 && onAxis(k.Center) && k.Normal.Cross(axisZ).Norm() < 1e-9 {
				r.inner, r.outer, r.depth = min(r.inner, k.Radius), max(r.outer, k.Radius), math.Abs(k.Center[2]-s.face())
			}
		}
		if !s.cup() { // whose wall goes on up, as its section shows
			r.mouth, _ = widest(s.rings(mold.RoleTread), s.face())
		}
		if r.outer > r.inner && r.depth > 2*solid.Lattice {
			out = append(out, r)
		}
	}
	return out
}

// ceiling dimensions the cone by which a lid's face rises to the vents, as it is cut: below
// coats higher by them, and as steep.
func (s *sheet) ceiling(at func(r, z float64) mesh.Vec) {
	t, v := s.m.Tread, s.section
	if t.Ceiling == 0 || s.piece.Pull[2] < 0 {
		return
	}
	coats := s.j.Mold.Coats.Total()
	top, inner := t.Top+t.Ceiling+coats, t.InnerR-coats
	if ridge, ok := widest(s.rings(mold.RoleCeiling), top); ok {
		v.measure(v.look.V, at(-ridge, top), at(ridge, top), 2*ridge, "ridge of the ceiling", round)
	}
	v.measure(axisZ, at(inner, t.Top), at(inner, top), t.Ceiling+coats, "rise of the ceiling")
	sin, cos := math.Sincos(s.j.Mold.Ceiling.Angle * math.Pi / 180)
	v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(at((t.RidgeR+t.UpperOuter)/2+coats*sin, t.Top+t.Ceiling/2+coats*cos)), Text: "ceiling rises by " + mm(s.j.Mold.Ceiling.Angle) + "°"})
}

// register dimensions the plug that keys into the hub.
func (s *sheet) register() {
	l, v := s.m.Layout, s.section
	up := s.piece.Pull[2] > 0
	reg, upper := s.j.Mold.Registers()
	land := l.LandLow
	if up {
		land, reg = l.LandTop, upper
	}
	all := s.rings(mold.RoleRegister)
	r, ok := widest(all, land)
	if !ok {
		return
	}
	tip, tipR := land, r
	for _, c := range all {
		if math.Abs(c.z-land) > math.Abs(tip-land) {
			tip, tipR = c.z, c.r
		}
	}
	at := func(r, z float64) mesh.Vec { return v.look.V.Scale(-r).Add(axisZ.Scale(z)) }
	v.measure(v.look.V, at(-r, land), at(r, land), 2*r, "register at its foot", round, bounded(fitted(2*r, s.j.Machining.RegisterFit, s.j.Machining.GeneralTolerance)), after("at the root"))
	v.measure(axisZ, at(r, land), at(tipR, tip), math.Abs(tip-land), "length of the register")
	text := "register, lead-in " + mm(reg.LeadIn) + " × 45°"
	if reg.Draft > 0 {
		text += fmt.Sprintf("\ndraft %s° per side\nenters the hub by %s", mm(reg.Draft), mm(reg.Engagement))
	}
	s.registerRoot = r
	h := 0.4 * (tip - land) // on its flank
	flank := r - math.Abs(h)*math.Tan(reg.Draft*math.Pi/180)
	c := paper.Callout{Tip: v.at(at(-flank, land+h)), Text: text}
	if s.cup() || s.hasBalls() {
		c.Datum = "B"
	}
	v.Callouts = append(v.Callouts, c)
}

// flatness over 100 mm and Ra of the piece's mating faces, mm.
func (s *sheet) flatness() (flat, ra float64) {
	m := &s.j.Mold.Mating
	if s.piece.Kind == mold.Shell || s.cup() {
		return m.ShellsFlatness, m.ShellsRoughness
	}
	return m.PlatesFlatness, m.PlatesRoughness
}

// roughness writes a Ra given in mm, in micrometers.
func roughness(ra float64) string { return "Ra " + digits(ra*1000, 1) }

// mmFine writes a length to a micrometer.
func mmFine(x float64) string { return digits(x, 3) }
