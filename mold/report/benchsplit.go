package report

import (
	"fmt"
	"math"

	"wheelmold/mold"
)

// together puts the pieces together around the hub, the way each split goes.
func (b *bench) together() []Step {
	l := b.m.Layout
	switch {
	case l.Below == "":
		return b.halves()
	case len(l.Sides) == 0:
		return []Step{do("Balls glued, one pocket each. %s; hub in it, %s face down.", upper(l.Below), b.faceDown()), b.upperPlate()}
	}
	return []Step{
		do("Balls glued, one pocket each. %s, %s; hub on it, %s face down.", upper(l.Below), balls(l, l.LineLow()), b.faceDown()),
		b.shells(), b.upperPlate(),
	}
}

// faceDown is the wheel's face that is down in the pour.
func (b *bench) faceDown() string {
	return map[string]string{"front": "back", "back": "front"}[b.m.Job.Mold.FaceUp]
}

// halves go together lying, and are stood up for the pour.
func (b *bench) halves() []Step {
	l := b.m.Layout
	first, second := mold.Title(l.Sides[0].Name), mold.Title(l.Sides[1].Name)
	return []Step{
		do("Balls glued, one pocket each. %s lying, parting face up; %shub into its seats, %s face to the sprue.", upper(first), b.sealFirst(), b.m.Job.Mold.FaceUp),
		do("%s on it, %s between, by hand.%s%s Stand it up, sprue on top.", upper(second), balls(l, l.SideLines()...), b.clampAround(), b.wells()).
			or("%s on it, %s between, by hand.%s Stand it up.", upper(second), balls(l, l.SideLines()...), b.clampAround()),
	}
}

// sealFirst puts the seal on the end of a hub that is laid in sideways, past its land.
func (b *bench) sealFirst() string {
	stack := &b.m.Job.Mold.Stack
	if stack.Gap <= 0 || stack.Seal == "none" {
		return ""
	}
	face := b.faceDown()
	if stack.At == "upper" {
		face = b.m.Job.Mold.FaceUp
	}
	return fmt.Sprintf("first the %s on the hub's %s end, then the ", stack.Seal, face)
}

// shells go around the hub. More than two have no balls between them: they are held
// loosely until the upper plate locates them.
func (b *bench) shells() Step {
	l := b.m.Layout
	if len(l.Sides) == 2 {
		return do("Shells, %s between, by hand.%s%s", balls(l, l.SideLines()...), b.clampAround(), b.wells()).
			or("Shells, %s between, by hand.%s", balls(l, l.SideLines()...), b.clampAround())
	}
	held := "Hold them together."
	if l.Strap != nil {
		held = "Band around them, snug."
	}
	return do("%d shells around, by hand: %s and %s alone locate them. %s", len(l.Sides), l.Below, l.Above, held)
}

// clampAround tells how pieces around the axis are held together.
func (b *bench) clampAround() string {
	l, c := b.m.Layout, &b.m.Job.Mold.SideClamp
	switch {
	case len(l.Cross) > 0:
		return fmt.Sprintf(" %d %s across: %s.", len(l.Cross), c.Size, torque(c.Torque))
	case l.Strap != nil:
		return fmt.Sprintf(" Band: %s.", pull(c.StrapForce))
	}
	return " Clamp them."
}

// deepWell is the depth of a bolt's recess, mm, from which a short key does not reach
// its head: about the length of a small hex key's short arm.
const deepWell = 15.0

// wells tells of cross bolts whose heads lie deep.
func (b *bench) wells() string {
	if d := wellDepth(b.m.Layout); d > deepWell {
		return fmt.Sprintf(" Long hex key: heads %s mm deep.", number(d, 0))
	}
	return ""
}

// wellDepth is how deep the cross bolts' heads lie below the outer face, mm.
func wellDepth(l *mold.Layout) float64 {
	if len(l.Cross) == 0 || len(l.Lugs) > 0 {
		return 0
	}
	return l.FaceY - l.Cross[0].Grip
}

// upperPlate closes the mold.
func (b *bench) upperPlate() Step {
	l, j := b.m.Layout, &b.m.Job.Mold
	text := fmt.Sprintf("%s, %s below", upper(l.Above), balls(l, l.LineTop()))
	if b.m.Layout.OpenTop() {
		text += ", down on the hub"
	}
	text += "."
	if l.Strap != nil && len(l.Sides) > 2 {
		text += fmt.Sprintf(" Band: %s.", pull(j.SideClamp.StrapForce))
	}
	through := 0
	for i := range l.Bolts {
		if l.Bolts[i].Top > l.Part {
			through++
		}
	}
	switch rest := len(l.Bolts) - through; {
	case len(l.Bolts) == 0:
		text += fmt.Sprintf(" Clamp it to the %s.", l.Below)
	case rest > 0:
		text += fmt.Sprintf(" %d long %s through its corners, %d short on the shells, in turns: half, then %s.", through, j.Bolts.Size, rest, torque(j.Bolts.Torque))
	default:
		text += fmt.Sprintf(" %d %s in a star: half, then %s.", through, j.Bolts.Size, torque(j.Bolts.Torque))
	}
	return do("%s", text)
}

// unclamp names what holds the mold together.
func (b *bench) unclamp() string {
	l := b.m.Layout
	bolts, band := len(l.Bolts)+len(l.Cross) > 0, l.Strap != nil
	clamps := l.Above != "" && len(l.Bolts) == 0 || len(l.Sides) > 0 && len(l.Cross) == 0 && !band
	switch {
	case bolts && band && !clamps:
		return "Bolts and band off"
	case bolts && !clamps:
		return "Bolts out"
	case bolts:
		return "Bolts and clamps off"
	case band && clamps:
		return "Band and clamps off"
	case band:
		return "Band off"
	}
	return "Clamps off"
}

// order says what to open first and with what; where, too, unless in brief.
func (b *bench) order(where bool) string {
	l := b.m.Layout
	switch {
	case l.Below == "":
		text := fmt.Sprintf("%s off %s: %s. Little by little.", upper(mold.Title(l.Sides[1].Name)), mold.Title(l.Sides[0].Name), b.tool("along the parting line"))
		if b.halved() {
			text += " The sprue opens with it."
		}
		return text + " Lift the wheel out by the hub."
	case len(l.Sides) == 0:
		puller := "a puller, or a plug swelled by screw and washers,"
		if !where {
			puller = "a puller"
		}
		return fmt.Sprintf("%s off%s: %s. Draw the wheel straight up with %s in the hub's bore. Little by little.", upper(l.Above), b.stubsFirst(), b.tool(""), puller)
	}
	shells := "shells"
	if len(l.Sides) > 2 {
		shells = "each shell along its middle"
	}
	text := fmt.Sprintf("%s%s, then %s, then %s: ", upper(l.Above), b.stubsFirst(), l.Below, shells)
	if l.OpenTop() {
		text = "Lift the strap by its arms; if it sticks, a bar under an arm, resting on a shell, not on the rubber. "
		if !where {
			text = "Strap by its arms; bars on the shells, not on the rubber. "
		}
		text += fmt.Sprintf("%s, then %s: ", upper(l.Below), shells)
	}
	switch {
	case !where:
		return text + b.tool("") + "."
	case l.OpenTop() || len(l.Sides) > 2:
		return text + b.tool("") + ". Little by little."
	}
	return text + b.tool(fmt.Sprintf("%s, %s: middle of each shell", l.Above, l.Below)) + ". Little by little."
}

// stubsFirst tells what to do about stubs before a lid lifts off: they are one piece
// with the tread, and what is left of them there is cut once the mold is open.
func (b *bench) stubsFirst() string {
	if l := b.m.Layout; len(l.Gates)+len(l.Vents) == 0 {
		return ""
	}
	return " (cut stubs flush; they stretch or tear)"
}

// halved tells whether the first sprue lies on a parting plane, which halves it.
func (b *bench) halved() bool {
	l := b.m.Layout
	u := l.TowardSprue()
	for i := range l.Partings {
		if l.Partings[i].Outward().Dist(u) < 1e-3 {
			return true
		}
	}
	return false
}

// tool is what opens a joint, and where.
func (b *bench) tool(where string) string {
	l := b.m.Layout
	tool := "wedges on opposite sides"
	if len(l.Slots) > 0 {
		tool = "bars in opposite slots"
		if where != "" {
			tool += " (" + where + ")"
		}
	}
	if len(l.Jacks) > 0 {
		tool = "jack screws in turns, then " + tool
	}
	return tool
}

// side names the side at an angle by what is seen there.
func (b *bench) side(angle float64) string {
	l := b.m.Layout
	at := number(math.Mod(angle+360, 360), 0)
	if len(l.Gates) == 1 {
		gate := math.Atan2(l.Gates[0][1], l.Gates[0][0]) * 180 / math.Pi
		if math.Abs(math.Remainder(angle-gate-180, 360)) < 30 {
			return "the side opposite the sprue"
		}
		if len(l.Sides) == 0 {
			return fmt.Sprintf("side at %s° (the sprue is at %s°, counterclockwise from above)", at, number(math.Mod(gate+360, 360), 0))
		}
	}
	if len(l.Sides) == 0 {
		return fmt.Sprintf("side at %s° from +x", at)
	}
	a := &l.Sides[0]
	return fmt.Sprintf("side at %s° (%s's middle is %s°)", at, mold.Title(a.Name), number((a.From+a.To)/2, 0))
}

// stream tells how and where to pour, and for how long.
func (b *bench) stream() Step {
	c := &b.p.Clock
	about := span(c.PourEnd - c.PourStart)
	if b.m.Layout.OpenTop() {
		return do("Thin stream into the open ring, at one place between the strap's arms; about %s.", about)
	}
	return do("Thin stream, %s kept full%s; about %s.", b.mouths(), funnel(b.m.Job.Pour.Funnel), about).
		or("Thin stream, %s kept full; about %s.", b.mouths(), about)
}

// mark tells how high to fill.
func (b *bench) mark() string {
	m := b.m
	text, top := "to the brim", "lid's"
	if m.Layout.Above == "" {
		top = "mold's"
	}
	if below := m.Layout.Ceil - m.Tread.Top - m.Job.Pour.Fill; below > 0.05 && !b.m.Layout.OpenTop() {
		text = fmt.Sprintf("to %s below the %s top", length(below), top)
	}
	if n := len(m.Layout.Vents); n == 1 {
		text += ", rubber in the vent"
	} else if n > 1 {
		text += fmt.Sprintf(", rubber in all %d vents", n)
	}
	if m.Job.Pour.Tilt > 0 {
		text += "; clay on vents that run over"
	}
	return text
}
