package machining

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wheelmold/mold"
	"wheelmold/params"
)

// assumed is what the judgment rests on that is neither measured nor stated.
func (p *Plan) assumed(j *params.Job) []string {
	out := []string{
		fmt.Sprintf("Reach is asked at %d points of each face and %d of one hidden in part, along lines: the tool's own width is asked of radii, slots and corners alone", spotsFirst, spotsMore),
		fmt.Sprintf("Twist drills go %d diameters deep, from both ends of a hole where the job has both cut: common practice; long ones %d and gun drills %d, assumed; flat floors of counterbores are cut by end mills, or by a tool with a pilot that goes %d diameters deep: assumed", drillDepth, longDrill, gunDrill, pilotDepth),
		fmt.Sprintf("A free wall stands up to the cutter up to %d times its thickness: common practice for aluminum; an edge below %d degrees counts as a blade: assumed", slenderest, sharpest),
		fmt.Sprintf("Nothing is said of what is smaller than %g mm²; marks are engraved with a pointed tool of their own", least),
	}
	if p.milled() {
		out = append(out, "Set-ups begin with a squared blank: flat outer faces on its block are cut before, and so are those by which a piece is gripped; the estimate counts that as one set-up more")
	}
	if !j.Hub.Printed() {
		out = append(out, fmt.Sprintf("The lathe has a grooving tool of %g mm and leaves %g mm, its nose's radius, in inner corners: common practice", grooving, nose))
	}
	if len(j.Machining.Cutters) == 0 {
		out = append(out, "The job names no cutters: radii, slots and depths of walls are not judged")
	}
	if slices.ContainsFunc(p.Pieces, func(x Piece) bool { return len(x.Hidden) > 0 }) {
		out = append(out, "Hidden faces are in none of the set-ups, nor in time and price: cut from the declared faces alone, these pieces are not finished")
	}
	return out
}

func (p *Plan) milled() bool {
	return slices.ContainsFunc(p.Pieces, func(x Piece) bool { return x.By == Milled })
}

// remark is a finding of several pieces.
type remark struct {
	what   string // before the pieces
	places []string
	after  string
	change Change
}

// remarks gathers findings that differ by their piece alone, but for what is usual.
type remarks []remark

func (r *remarks) add(what, place, after string, c Change) {
	if c.Usual {
		return
	}
	i := slices.IndexFunc(*r, func(x remark) bool {
		return x.what == what && x.after == after && x.change.Key == c.Key && x.change.Allowed == c.Allowed && x.change.Hint == c.Hint
	})
	if i < 0 {
		*r = append(*r, remark{what, []string{place}, after, c})
		return
	}
	if x := &(*r)[i]; !slices.Contains(x.places, place) {
		x.places = append(x.places, place)
	}
}

// warn tells what the shop will ask about.
func (p *Plan) warn(j *params.Job) {
	var r remarks
	for i := range p.Pieces {
		x := &p.Pieces[i]
		title := mold.Title(x.Name)
		x.remarkHidden(&r, title)
		for _, c := range x.Tight {
			tool := "no cutter makes"
			if c.Left == 0 && !c.Along { // not even too large a one
				tool = "there is no ball end for"
			}
			r.add(fmt.Sprintf("%s the inner radius of %s on the %s of", tool, mm(c.Radius), rolesText(c.Roles)), title, leaves(c.Left), c.Change)
		}
		for _, d := range x.Deep {
			d.remark(&r, title)
		}
		for _, t := range x.Thin {
			t.remark(&r, title)
		}
		for _, c := range x.Corners {
			if c.Sort == Upright {
				r.add(fmt.Sprintf("no cutter makes the sharp inner edges along the tool, %s, of", rolesText(c.Roles)), title, "", c.Change)
			}
		}
	}
	for _, x := range r {
		c := x.change
		p.Warnings = append(p.Warnings, params.Fault{Path: c.Key, Value: c.Value, Allowed: c.Allowed, Cause: x.what + " " + strings.Join(x.places, ", ") + x.after, Hint: c.Hint, With: c.With})
	}
}

func leaves(left float64) string {
	if left < .005 { // less than is told
		return ""
	}
	return fmt.Sprintf(": the smallest that gets there leaves %s in it", mm(left))
}

// remarkHidden adds up the hidden faces that one change brings into reach.
func (x *Piece) remarkHidden(r *remarks, title string) {
	type sum struct {
		area, square float64
		roles        []string
		change       Change
	}
	var sums []sum
	for i := range x.Hidden {
		h := &x.Hidden[i]
		c := h.Change
		k := slices.IndexFunc(sums, func(s sum) bool {
			return s.change.Key == c.Key && s.change.Allowed == c.Allowed && s.change.Hint == c.Hint
		})
		if k < 0 {
			k, sums = len(sums), append(sums, sum{change: c})
		}
		s := &sums[k]
		s.area, s.square, s.roles = s.area+h.Area, s.square+h.Error*h.Error, union(s.roles, h.Roles)
	}
	for _, s := range sums {
		place := fmt.Sprintf("%s (%.0f mm²)", title, s.area)
		if e := math.Sqrt(s.square); e >= .5 {
			place = fmt.Sprintf("%s (%.0f ± %.0f mm²)", title, s.area, e)
		}
		r.add(fmt.Sprintf("no tool gets to the %s of", rolesText(s.roles)), place, " from where they are cut", s.change)
	}
}

func rolesText(roles []string) string {
	if len(roles) == 0 {
		return "faces"
	}
	return listed(roles)
}

func (d *Deep) remark(r *remarks, title string) {
	c := d.Change
	switch d.Sort {
	case Hole:
		r.add(fmt.Sprintf("%s, %s deep, %.0f times that (a twist drill goes %d), in", d.what(), mm(d.Depth), d.Ratio(), drillDepth), title, "", c)
	case Wall: // of pieces alike the heights differ a little: each has its own
		if c.Key == "machining.cutter" {
			c.Allowed = ""
		}
		r.add(fmt.Sprintf("no cutter gets down beside the %s of", rolesText(d.Roles)), fmt.Sprintf("%s (%s high)", title, mm(d.Depth)), fmt.Sprintf(": the longest reaches %s", mm(d.Reach)), c)
	case Slot:
		if d.Change.Key == "machining.cutter" {
			c.Allowed = ""
		}
		r.add(fmt.Sprintf("no tool is slender enough for the gap of %s beside the %s of", mm(d.Diameter), rolesText(d.Roles)), fmt.Sprintf("%s (%s deep)", title, mm(d.Depth)), "", c)
	}
}

// what names holes alike: "2 bolt holes of 9 mm".
func (d *Deep) what() string {
	if d.Count == 1 {
		return "a " + rolesText(d.Roles) + " of " + mm(d.Diameter)
	}
	return fmt.Sprintf("%d %ss of %s", d.Count, rolesText(d.Roles), mm(d.Diameter))
}

func (t *Thin) remark(r *remarks, title string) {
	switch {
	case t.Length > 0 && t.Change.Key != "":
		// The wheel's own round edge ends like this on every parting line at its face: the
		// plan lists it, and a shop expects it.
	case t.Length > 0:
		r.add(fmt.Sprintf("an edge like a blade, %.0f degrees between %s, runs along", t.Angle, rolesText(t.Roles)), fmt.Sprintf("%s (%.0f mm)", title, t.Length), "", t.Change)
	case t.Height > 0:
		r.add(fmt.Sprintf("a wall %s thick, %s, stands out %s on", mm(t.Thickness), rolesText(t.Roles), mm(t.Height)), title, "", t.Change)
	default:
		r.add(fmt.Sprintf("only %s stay between %s of", mm(t.Thickness), rolesText(t.Roles)), title, "", t.Change)
	}
}
