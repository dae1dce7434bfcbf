package shop

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// positionOf is how far, in mm, a hole of a role may lie from its place along each axis.
// A screw in its clearance hole still goes in where the holes of two pieces
// are off the opposite way on both axes: by (hole - screw)/(2·√2) each, to the general
// tolerance at most, which is that of all others.
func (s *sheet) positionOf(role string) float64 {
	p := params.GeneralTolerance(30, s.j.Machining.GeneralTolerance)
	if role == mold.RoleBolt {
		for _, size := range []string{s.j.Mold.Bolts.Size, s.j.Mold.SideClamp.Size} {
			if f, ok := params.FastenerOf(size); ok {
				p = math.Min(p, floor((f.Hole(s.j.Mold.Bolts.Fit)-f.Diameter)/(2*math.Sqrt2)))
			}
		}
	}
	return p
}

// floor is a tolerance to a hundredth, to the safe side.
func floor(t float64) float64 { return math.Floor(t*100+1e-9) / 100 }

// kinds are the holes of one letter, in the order of their marks.
func kinds(all []holes.Hole) [][]holes.Hole {
	var out [][]holes.Hole
	for _, h := range all {
		if n := len(out); n > 0 && letter(out[n-1][0].Mark) == letter(h.Mark) {
			out[n-1] = append(out[n-1], h)
			continue
		}
		out = append(out, []holes.Hole{h})
	}
	return out
}

func letter(mark string) string { return strings.TrimRight(mark, "0123456789") }

// sizes is the table of what is drilled: one row for holes alike.
func (s *sheet) sizes(from func(holes.Hole) string) {
	x := paper.Table{Title: "Holes", Head: []string{"mark", "how many", "what", "from", "diameter and depth", "thread", "position"}}
	half := false
	for _, k := range kinds(s.holes) {
		h := k[0]
		what := h.Role
		if h.Half {
			half, what = true, what+" (half)"
		}
		if h.Name == "bore" {
			what = "bore"
		} else if h.Role == hub.RoleKeepOut {
			what = "bolt hole"
		}
		place := plusMinus(s.positionOf(h.Role))
		if isBall(&h) {
			place = "Ø" + mmFine(s.ballPosition())
		}
		if onAxis(h.At) && math.Abs(h.Dir[2]) > .9 {
			place = "" // all places count from it
		}
		x.Rows = append(x.Rows, []string{letter(h.Mark), fmt.Sprint(len(k)), what, from(h), s.steps(&h), threadOf(&h), place})
	}
	if len(x.Rows) == 0 {
		return
	}
	x.Note = "Depths count from the face that a hole is drilled from, steps in order from there. "
	if half {
		x.Note += "(half): its axis lies on the parting face; the neighbor has the other half. Drill both clamped together, or mill each. "
	}
	if s.hasBalls() {
		x.Note += "Position Ø: of the zone that an axis lies in (ISO 1101); ±: along each axis. "
	}
	s.Tables = append(s.Tables, filled(x))
}

// filled is a table without columns that have nothing in any row.
func filled(x paper.Table) paper.Table {
	for c := len(x.Head) - 1; c >= 0; c-- {
		if slices.ContainsFunc(x.Rows, func(r []string) bool { return r[c] != "" }) {
			continue
		}
		x.Head = slices.Delete(slices.Clone(x.Head), c, c+1)
		for i, r := range x.Rows {
			x.Rows[i] = slices.Delete(slices.Clone(r), c, c+1)
		}
	}
	return x
}

// steps says what is drilled from the opening inward: "Ø15 to 8.2, Ø9 through". Of a
// ball's pocket, the diameter that locates and the depth have limits.
func (s *sheet) steps(h *holes.Hole) string {
	var out []string
	for i, x := range h.Steps {
		d := "Ø" + mmFine(x.D0)
		if math.Abs(x.D0-x.D1) > 1e-6 {
			d = fmt.Sprintf("cone Ø%s/Ø%s", mmFine(x.D0), mmFine(x.D1))
		}
		if isBall(h) && i == 0 {
			d += " " + s.ballDiameter().tolerance
		}
		if i == len(h.Steps)-1 && h.Through {
			out = append(out, d+" through ("+mm(x.To)+")")
		} else {
			out = append(out, d+" to "+mm(x.To))
		}
	}
	if isBall(h) {
		out[len(out)-1] += " " + s.ballDepth().tolerance
	}
	return strings.Join(out, ", ")
}

// threadOf writes a thread with the pitch of the coarse series (ISO 261).
func threadOf(h *holes.Hole) string {
	if h.Thread == "" {
		return ""
	}
	t := h.Thread
	if f, ok := params.FastenerOf(h.Thread); ok {
		t = fmt.Sprintf("%s × %s, 6H", h.Thread, mm(f.Pitch))
	}
	if h.ThreadDepth < h.Depth()-1e-6 {
		return t + ", " + mm(h.ThreadDepth) + " deep"
	}
	return t + ", through"
}

// axisOf is one axis of a table of places.
type axisOf struct {
	name string
	dir  mesh.Vec
	from float64
}

// places is the table of where holes drilled along a direction are.
func (s *sheet) places(title, note string, along mesh.Vec, axes [2]axisOf) {
	x := paper.Table{Title: title, Head: []string{"mark", axes[0].name, axes[1].name, "mark", axes[0].name, axes[1].name}, Note: note}
	var cells [][]string
	for _, h := range s.holes {
		if math.Abs(h.Dir.Dot(along)) < .9 || h.Name == "bore" {
			continue
		}
		row := []string{h.Mark}
		for _, a := range axes {
			row = append(row, digits(a.dir.Dot(h.At)-a.from, 3)) // ball pockets lie within hundredths
		}
		cells = append(cells, row)
	}
	if len(cells) == 0 {
		return
	}
	n := (len(cells) + 1) / 2 // two columns below each other
	for i := range n {
		row := cells[i]
		if i+n < len(cells) {
			row = append(row, cells[i+n]...)
		} else {
			row = append(row, "", "", "")
		}
		x.Rows = append(x.Rows, row)
	}
	s.Tables = append(s.Tables, filled(x))
}

// pocketTable is what is milled on top of holes.
func (s *sheet) pocketTable(place func(mesh.Vec) string) {
	x := paper.Table{Title: "Pockets", Head: []string{"what", "size", "depth", "inner corners", "middle of its mouth"}}
	for i := range s.pockets {
		p := &s.pockets[i]
		depth := mm(p.Depth)
		size := mm(p.Length) + " × " + mm(p.Width)
		switch {
		case p.Diameter > 0:
			size, depth = "Ø"+mm(p.Diameter), depth+" "+s.exact().tolerance
			if p.Role == mold.RoleLand {
				size += " " + s.recess().tolerance
			}
		case p.Role == mold.RoleStrap:
			size = mm(p.Width) + " wide, all around"
		case p.Role == mold.RoleBolt:
			size = mm(p.Width) + " across flats"
		case p.Role == mold.RoleMark:
			size += " over the letters"
		}
		corners := "sharp"
		switch {
		case p.Corner > 0:
			corners = "R" + mm(p.Corner)
		case p.Role == mold.RoleMark, p.Diameter > 0, p.Role == mold.RoleStrap:
			corners = ""
		}
		x.Rows = append(x.Rows, []string{p.Name, size, depth, corners, place(p.At)})
	}
	for _, r := range s.turnedRings() {
		x.Rows = append(x.Rows, []string{"ring for the sealer", s.ringSize(r),
			mmFine(r.depth) + " " + s.exact().tolerance, "", place(axisZ.Scale(s.face()))})
	}
	if len(x.Rows) > 0 {
		x.Note = "Depths count from the outermost point of the mouth. Inner corners said to be sharp may be as round as the tool that makes them, save in a nut's recess."
		s.Tables = append(s.Tables, filled(x))
	}
}

// plateTables are those of a plate: all its holes run along the wheel's axis.
func (s *sheet) plateTables() {
	v := s.inside.look
	s.sizes(func(h holes.Hole) string {
		if h.Dir.Dot(v.W()) < 0 {
			return "inside"
		}
		return "outside"
	})
	s.places("Places of holes", "X and Y from the wheel axis, as the view from inside shows them"+s.turnedNote(), axisZ, [2]axisOf{{"X", v.U, 0}, {"Y", v.V, 0}})
	s.pocketTable(func(p mesh.Vec) string {
		return fmt.Sprintf("X %s, Y %s, %s from the parting face", mm(v.U.Dot(p)), mm(v.V.Dot(p)), mm(math.Abs(p[2]-s.face())))
	})
}

// turnedNote says how the sheet lies against the others, where it is turned.
func (s *sheet) turnedNote() string {
	if s.m.Layout.OpenTop() && s.piece.Pull[2] > 0 {
		return "; the bar lies along Y, which is turned by 45° against the sheets of the other pieces"
	}
	return ""
}

// shellTables are those of a shell: holes into its parting face or its outside, and into
// its ends.
func (s *sheet) shellTables() {
	v, e := s.inside.look, s.piece.Pull
	low, _ := s.ends()
	s.sizes(func(h holes.Hole) string {
		switch {
		case h.Dir[2] < -.9:
			return "upper end"
		case h.Dir[2] > .9:
			return "lower end"
		case h.Dir.Dot(e) > .1:
			return "parting face"
		}
		return "outside"
	})
	s.places("Places of holes in the ends", "X and Y from the wheel axis, as the view of the upper end shows them", axisZ, [2]axisOf{{"X", v.U, 0}, {"Y", e, 0}})
	s.places("Places of holes across", "X from the wheel axis, Z from the lower end, as the view from inside shows them", e, [2]axisOf{{"X", v.U, 0}, {"Z", axisZ, low}})
	s.pocketTable(func(p mesh.Vec) string {
		return fmt.Sprintf("X %s, Y %s, Z %s", mm(v.U.Dot(p)), mm(e.Dot(p)), mm(p[2]-low))
	})
}

// hubTables are those of a hub.
func (s *sheet) hubTables(ends [2]string) {
	v, c := s.above.look, s.m.Core
	s.sizes(func(h holes.Hole) string {
		switch {
		case h.Dir[2] < -.9:
			return ends[1]
		case h.Dir[2] > .9:
			return ends[0]
		}
		text := fmt.Sprintf("outside, %s from the %s, %s° apart", mm(h.At[2]-c.Z0), ends[0], mm(360/float64(c.LockCount)))
		if c.BoltCount > 0 {
			text += ", the first midway between two bolt holes"
		}
		return text
	})
	if c.BoltCount > 0 {
		s.places("Places of holes along the axis", "X and Y from the axis, as the view on the "+ends[1]+" shows them", axisZ, [2]axisOf{{"X", v.U, 0}, {"Y", v.V, 0}})
	}
	s.retention(ends)
}
