package flat

import (
	"math"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
)

// expected are the circles of a view by the numbers of the layout alone, by layer, about
// the view's origin. Gates in a coned ceiling, which have no one diameter, are left out,
// and so is what a hub is turned to.
func expected(m *mold.Mold, p *mold.Piece, v *View) map[string][]dxf.Circle {
	out := map[string][]dxf.Circle{}
	add := func(layer string, at mesh.Vec, r float64) {
		c := v.Plane.At(at)
		out[layer] = append(out[layer], dxf.Circle{Center: outline.Point{c[0], c[1]}, Radius: r})
	}
	l, w := m.Layout, v.Plane.W()
	up, down := w[2] > .5, w[2] < -.5
	switch {
	case v.Plane == (outline.View{}):
	case p.Kind == mold.Hub:
		c := m.Core
		for i := range c.BoltCount {
			s, k := math.Sincos(2 * math.Pi * (float64(i) + .5) / float64(c.BoltCount))
			add(BoltHoles, mesh.Vec{c.BoltCircleR * k, c.BoltCircleR * s}, c.BoltR+m.Job.Hub.HoleCompensation/2)
		}
	case up || down:
		for i := range l.Bolts {
			b := &l.Bolts[i]
			if !within(l, p, b.At) || p.Name == l.Above && b.Top < l.Ceil {
				continue
			}
			add(BoltHoles, b.At, b.R)
			top := p.Name == l.Above || p.Kind == mold.Shell && b.Top == l.Top && l.OpenTop()
			if up && top && b.HeadR > 0 {
				add(Counterbores, b.At, b.HeadR)
			}
			if down && p.Name == l.Below && b.NutR > 0 && !b.NutHex {
				add(Counterbores, b.At, b.NutR)
			}
		}
		line := map[bool]string{true: l.LineTop(), false: l.LineLow()}[up == (p.Name != l.Above)]
		if len(l.Sides) > 0 && p.Name == l.Below {
			line = l.LineLow()
			if down {
				line = "none"
			}
		}
		if p.Name == l.Above && up {
			line = "none"
		}
		if len(l.Sides) == 0 && p.Name == l.Below && down {
			line = "none"
		}
		if p.Name == l.Above && down {
			line = l.LineTop()
		}
		for _, b := range l.Balls {
			if b.Axis == 2 && b.Line == line && within(l, p, b.At) {
				add(BallPockets, b.At, b.R)
			}
		}
		for _, j := range l.Jacks {
			if j.Dir[2] < 0 && p.Name == l.Below || j.Dir[2] > 0 && p.Name == l.Above {
				add(JackScrews, j.At, j.R)
			}
		}
		if p.Name == l.Above {
			for _, g := range l.Gates {
				if up {
					add(Channels, g, l.MouthR)
				}
				if m.Tread.Ceiling == 0 {
					add(Channels, g, l.GateR)
				}
			}
			for _, g := range l.Vents {
				add(Channels, g, l.VentR)
			}
		}
	default:
		inside := w.Dot(p.Pull) < 0
		if len(l.Sides) != 2 || math.Abs(w[1]) < .5 {
			break
		}
		for _, b := range l.Balls {
			if b.Axis == 1 && inside {
				add(BallPockets, b.At, b.R)
			}
		}
		for _, c := range l.Cross {
			add(Clamp, mesh.Vec{c.X, 0, c.Z}, c.R)
			if !inside && c.RecessR > c.R {
				add(Clamp, mesh.Vec{c.X, 0, c.Z}, c.RecessR)
			}
		}
		for _, j := range l.Jacks {
			if j.Dir.Dot(p.Pull) > .5 {
				add(JackScrews, j.At, j.R)
				if !inside && j.Wide > 0 {
					add(JackScrews, j.At, j.Wide)
				}
			}
		}
	}
	return out
}

// within tells whether a place of the plan lies in a piece: plates are everywhere.
func within(l *mold.Layout, p *mold.Piece, at mesh.Vec) bool {
	i := slices.IndexFunc(l.Sides, func(s mold.Side) bool { return s.Name == p.Name })
	if i < 0 {
		return true
	}
	s := &l.Sides[i]
	deg := math.Atan2(at[1], at[0]) * 180 / math.Pi
	return math.Mod(deg-s.From+720, 360) < s.To-s.From
}

// ofLayouts are the layers that expected knows all circles of.
var ofLayouts = []string{BoltHoles, Counterbores, BallPockets, JackScrews, Channels, Clamp}

// circles are those of a layer of a view.
func circles(v *View, layer string) []dxf.Circle {
	var out []dxf.Circle
	for _, it := range v.items {
		if c, ok := it.entity.(dxf.Circle); ok && it.layer == layer {
			out = append(out, c)
		}
	}
	return out
}

// matches tells whether two lists hold the same circles, to within a length in mm.
func matches(a, b []dxf.Circle, within float64) bool {
	if len(a) != len(b) {
		return false
	}
	rest := slices.Clone(b)
	for _, c := range a {
		i := slices.IndexFunc(rest, func(d dxf.Circle) bool {
			return dist(c.Center, d.Center) < within && math.Abs(c.Radius-d.Radius) < within
		})
		if i < 0 {
			return false
		}
		rest = slices.Delete(rest, i, i+1)
	}
	return true
}

// blockArea is the area of the block's plan without lugs, mm², in closed form: a square, an
// octagon (8·tan 22.5°·B²), or a circle less two segments beyond its flats.
func blockArea(l *mold.Layout) float64 {
	switch l.Outline {
	case "octagon":
		return 8 * math.Tan(math.Pi/8) * l.B * l.B
	case "round":
		half := math.Acos(l.FaceY / l.B)
		return math.Pi*l.B*l.B - 2*l.B*l.B*(half-math.Sin(half)*math.Cos(half))
	}
	return 4 * l.B * l.B
}

// profileArea is the area of half the hub's section in closed form, mm².
func profileArea(m *mold.Mold) float64 {
	c, wider := m.Core, 0.0
	if p, _ := m.Piece("hub"); p.Raw != p.Root {
		wider = m.Job.Hub.HoleCompensation / 2
	}
	bore := c.BoreR + wider
	a := (c.BodyR - bore) * c.Length
	a += 2 * (c.FlangeR - c.BodyR) * c.FlangeT
	for _, g := range c.Grooves {
		if g.HalfRound {
			a -= math.Pi * g.Width * g.Width / 8
		} else {
			a -= g.Width * g.Depth
		}
	}
	if c.Lower.PocketR > 0 {
		a -= (c.Lower.PocketR + wider - bore) * c.Lower.PocketD
	}
	if c.Upper.PocketR > 0 {
		a -= (c.Upper.PocketR + wider - bore) * c.Upper.PocketD
	}
	if c.Lower.SeatR > 0 {
		a -= (c.Lower.SeatR + wider - bore) * c.Lower.SeatD
	}
	if c.Upper.SeatR > 0 {
		a -= (c.Upper.SeatR + wider - bore) * c.Upper.SeatD
	}
	return a
}

// areaInClosedForm is the area within the outline of a view, mm²; 0 where there is no
// simple formula.
func areaInClosedForm(m *mold.Mold, p *mold.Piece, v *View) float64 {
	switch {
	case isProfile(v):
		return profileArea(m)
	case p.Kind == mold.Hub:
		return math.Pi * m.Core.EndR() * m.Core.EndR()
	case p.Kind == mold.Plate && !(m.Layout.OpenTop() && p.Name == m.Layout.Above) && len(m.Layout.Lugs) == 0:
		return blockArea(m.Layout)
	}
	return 0
}

func isProfile(v *View) bool { return strings.Contains(v.Name, "section") }
