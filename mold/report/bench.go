package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// bench writes the steps of the work, from what is known of mold and pour.
type bench struct {
	m     *mold.Mold
	p     *pour.Plan
	start time.Time // when A meets B; zero: not known
	flash *flash.Estimate
	opens *Opening
}

// sections is the work in its order.
func (b *bench) sections() []Section {
	return []Section{
		{"SAFETY", b.safety()},
		{"PREPARE", b.prepare()},
		{"ASSEMBLE", b.assemble()},
		{"MIX", b.mix()},
		{"POUR", b.pour()},
		{"CURE AND OPEN", b.open()},
		{"WRITE DOWN", b.blanks()},
	}
}

func (b *bench) safety() []Step {
	return []Step{
		know("Data sheet and local rules first. Isocyanates harm lungs and skin for good: gloves, goggles, sleeves, real ventilation, at demolding too. Solvent vapor burns. Extract dust, never burn rubber. Water makes A and B foam: never close a wet or mixed can. Leftovers get hot: spread thin, outdoors."),
	}
}

// prepare is the work that has time.
func (b *bench) prepare() []Step {
	dry := "Hub dry"
	if b.m.Job.Hub.Material == "nylon" {
		dry = "Hub oven-dry"
	}
	out := append(b.lapped(), b.finished()...)
	out = append(out,
		do("%s, bond sanded (80-120 grit), dust off: ________ g (about %s)", dry, b.shown(b.p.Weights.Hub)),
		do("Wipe pieces and hub with isopropyl alcohol, no flame; let it dry off fully."),
		do("Release on mold%s. None on the hub.", b.channels()),
		do("Seal: %s.", b.seals()),
	)
	open, leaky := b.keepOuts(), b.leaky()
	switch {
	case len(open) > 0 && len(leaky) > 0:
		out = append(out, do("Plug what no register closes: %s; wax registers that may leak: %s.", strings.Join(open, ", "), strings.Join(leaky, ", ")).
			or("Plug %s; wax register: %s.", strings.Join(open, ", "), strings.Join(leaky, ", ")))
	case len(open) > 0:
		out = append(out, do("Plug what no register closes: %s.", strings.Join(open, ", ")))
	case len(leaky) > 0:
		out = append(out, do("Plug, or wax the register, where rubber may get past it: %s.", strings.Join(leaky, ", ")))
	}
	return out
}

// channels are what else of the mold the urethane touches.
func (b *bench) channels() string {
	switch {
	case len(b.m.Layout.Gates) == 0:
		return ""
	case len(b.m.Layout.Vents) == 0:
		return " and sprue"
	}
	return ", sprue and vents"
}

// seals lists what closes each joint, joints alike together.
func (b *bench) seals() string {
	s, stack := &b.m.Job.Mold.Seals, &b.m.Job.Mold.Stack
	l := b.m.Layout
	upper, lower := hubSeal(s.Hub, orHalves(l.Above)), hubSeal(s.Hub, orHalves(l.Below))
	gap := fmt.Sprintf("%s, gap %s", stack.Seal, length(stack.Gap))
	switch {
	case stack.Gap > 0 && stack.At == "upper":
		upper = gap
	case stack.Gap > 0:
		lower = gap
	}
	parts := b.jointSeals()
	return strings.Join(append(parts, "below the hub: "+lower, "above it: "+upper), "; ")
}

// orHalves names a plate, or the halves that stand in for it.
func orHalves(plate string) string {
	if plate == "" {
		return "halves"
	}
	return plate
}

// jointSeals lists what closes the joints that the rubber reaches, joints alike
// together. Under a strap it reaches none.
func (b *bench) jointSeals() []string {
	s, l := &b.m.Job.Mold.Seals, b.m.Layout
	var names, seals []string
	add := func(name, seal string) {
		if name != "" {
			names, seals = append(names, name), append(seals, sealWords(seal))
		}
	}
	add(l.LineLow(), s.Base)
	if !l.OpenTop() {
		add(l.LineTop(), s.Lid)
	}
	if len(l.Sides) > 0 {
		add(l.Around(), s.Sides)
	}
	if len(names) > 1 && len(slices.Compact(slices.Clone(seals))) == 1 {
		return []string{"joints " + seals[0]}
	}
	for i := range names {
		names[i] += " " + seals[i]
	}
	return names
}

// hubSeal tells what to do at a hub's end: release goes on the mold only.
func hubSeal(seal, piece string) string {
	if seal == "wiped" {
		return "release on the " + piece
	}
	return sealWords(seal)
}

// sealWords tells what to do for a seal.
func sealWords(seal string) string {
	switch seal {
	case "dry":
		return "left dry"
	case "wiped":
		return "wiped with release"
	case "tape":
		return "taped outside"
	case "clay":
		return "clay outside"
	case "cord":
		return "cord in its groove"
	case "bead":
		return "bead along the seam"
	}
	return seal
}

// keepOuts are the hub's openings that no register closes. One lies within the other,
// so that a register closes its own and those that are narrower.
func (b *bench) keepOuts() (out []string) {
	h, m := &b.m.Job.Hub, &b.m.Job.Mold
	names := []string{"bore", "bearing pocket", "sprocket seat"}
	closed := map[string]int{"none": 0, "bore": 1, "bearing": 2, "seat": 3}
	end := func(side, register string, pocket params.Pocket) {
		has := []bool{true, pocket.Diameter > 0, h.Seat.Side == side && h.Seat.Diameter > 0}
		for i := closed[register]; i < len(names); i++ {
			if has[i] {
				out = append(out, names[i]+" ("+side+")")
			}
		}
	}
	end("back", m.RegisterBack.Opening, h.BearingBack)
	end("front", m.RegisterFront.Opening, h.BearingFront)
	if h.Bolts.Count > 0 {
		out = append(out, "bolt holes")
	}
	return out
}

// leakyFrom is the chance of rubber in the hub from which a register is told to leak: a
// wheel in twenty is worth a bit of wax.
const leakyFrom = 0.05

// leaky are the openings into which rubber may get past the register that plugs them.
func (b *bench) leaky() (out []string) {
	l, m := b.m.Layout, &b.m.Job.Mold
	opening := map[string]string{"bore": "bore", "bearing": "bearing pocket", "seat": "sprocket seat"}
	register := map[string]string{"back": m.RegisterBack.Opening, "front": m.RegisterFront.Opening}
	end := func(line, face string) {
		i := slices.IndexFunc(b.flash.Lines, func(x flash.Line) bool { return x.Name == line })
		if name := opening[register[face]]; i >= 0 && name != "" && b.flash.Lines[i].Opening >= leakyFrom {
			out = append(out, fmt.Sprintf("%s (%s), %s", name, face, percent(b.flash.Lines[i].Opening)))
		}
	}
	lower, upper := l.Below+"/hub", l.Above+"/hub"
	if l.Below == "" {
		lower, upper = "halves/hub below", "halves/hub above"
	}
	end(lower, b.faceDown())
	end(upper, m.FaceUp)
	return out
}

// assemble puts the mold together and looks it over.
func (b *bench) assemble() []Step {
	return append(b.together(), do("No light through any joint. Mold %s, %s, on a tray.", warmth(b.m.Job.Pour.MoldTemperature), b.stance()))
}

// balls counts the balls of some parting lines.
func balls(l *mold.Layout, lines ...string) string {
	n, size := 0, 0.0
	for i := range l.Balls {
		if slices.Contains(lines, l.Balls[i].Line) { // the lines of two halves have one name
			n, size = n+1, l.Balls[i].Diameter
		}
	}
	if n == 0 {
		return "no balls"
	}
	return fmt.Sprintf("%d balls (%s mm)", n, number(size, 2))
}

// open takes the mold apart the way it locks.
func (b *bench) open() []Step {
	w, l, t, orders := &b.p.Weights, b.m.Layout, &b.p.Window, b.opens.orders()
	out := []Step{
		do("Leave it %s to %s; later it opens harder. Poured ____:____ Open ____:____", days(t.Earliest), days(t.Latest)),
		do("Button firm? Full mold %s. Clamp it. Goggles on, hands clear.", lift(w.Lift)),
		do("%s. %s %s", b.unclamp(), b.order(true), strings.Join(orders, " ")).or("%s. %s %s", b.unclamp(), b.order(false), orders[0]),
	}
	if n := l.Hidden + l.Visible; n > 0 {
		out = append(out, do("Cut %s.", b.stubs(true)).or("Cut %s.", b.stubs(false)))
	}
	if extra := b.m.Job.Mold.TopAllowance; extra > 0 {
		out = append(out, do("Weigh, then trim %s off the top face%s: sharp long knife, or a lathe.", length(extra), b.guide()).
			or("Weigh, then trim %s off the top face%s.", length(extra), b.guide()))
	}
	return append(out,
		do("Wheel ________ g = hub + %s. Over %s less: a void. Look at bond, top.", b.shown(w.Rubber), b.atLeast(w.Void)),
		do("Full load after %s. First spin slow, behind a guard.", days(t.Full)),
	)
}

// guide is what a knife follows that trims the top face: the end of a hub that lies
// level with the finished one, but for what curing takes off the width.
func (b *bench) guide() string {
	const level = 0.3 // mm
	if math.Abs(b.m.Core.Z1()-b.m.Tread.Width) > level {
		return ""
	}
	return ", the hub's end as guide"
}

// stubs names what is to be cut, and how; with diameters or without.
func (b *bench) stubs(wide bool) string {
	l, p := b.m.Layout, b.p
	gates, vents := count(len(l.Gates), "gate", "gates"), count(len(l.Vents), "vent", "vents")
	if wide {
		gates, vents = channelsOf(len(l.Gates), "gate", 2*l.GateR), channelsOf(len(l.Vents), "vent", 2*l.VentR)
	}
	if len(l.Vents) == 0 {
		return gates + ": " + string(p.Sprue.Knife)
	}
	if p.Vent.Knife == p.Sprue.Knife {
		return gates + ", " + vents + ": " + string(p.Vent.Knife)
	}
	knife := string(p.Vent.Knife)
	if p.Vent.Knife == pour.CutOnce {
		knife = "one cut"
	}
	return gates + ": " + string(p.Sprue.Knife) + "; " + vents + ": " + knife
}

func (b *bench) blanks() []Step {
	return []Step{
		know("date __________  room _____ °C _____ %% humid  lot A ________  lot B ________"),
		know("poured ______ g  spare ______ g  clings ______ g  gel ____:____  Shore A ____"),
		know("diameter _________  voids ____  flash ______ g, ______ mm at %s", b.flash.Widest().Name),
	}
}

// stance is how the mold stands while it is poured.
func (b *bench) stance() string {
	p := &b.m.Job.Pour
	if p.Tilt == 0 {
		return "level both ways"
	}
	return fmt.Sprintf("TILTED %s°, %s up", number(p.Tilt, 1), b.side(p.TiltToward))
}
