package params

import "slices"

// stackKeys come before the hub: its length and place follow from them.
var stackKeys = []Key{
	{Path: "mold.face_up", Kind: Word, Options: []string{"front", "back"},
		slot: in(func(j *Job) *string { return &j.Mold.FaceUp }, always("front")),
		Doc:  "Face of the wheel that is up during the pour: it gets pits and gate scars.",
		From: "the sprocket covers the front"},
	{Path: "mold.stack.gap", Kind: Length, hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Mold.Stack.Gap }, func(j *Job) float64 {
			if j.Process.Name == "milled" {
				return 0.03
			}
			return 0.1
		}),
		Doc:  "How much shorter the hub is than the distance between the mold's hub lands; a hub that stands proud holds the mold open.",
		From: "0.03 mm milled, 0.1 mm printed"},
	{Path: "mold.stack.at", Kind: Word, Options: []string{"lower", "upper"},
		slot: in(func(j *Job) *string { return &j.Mold.Stack.At }, always("lower")),
		Doc:  "End of the hub at which the gap lies, filled by the seal.",
		From: "the hub's weight helps the seal"},
	{Path: "mold.stack.seal", Kind: Word, Options: []string{"gasket", "grease", "wax", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.Stack.Seal }, always("gasket")),
		Doc:  "What seals the gap.",
		From: "a gasket gives with the hub's growth"},
}

var moldKeys = slices.Concat(blockKeys,
	registerKeys("back", func(j *Job) *Register { return &j.Mold.RegisterBack }),
	registerKeys("front", func(j *Job) *Register { return &j.Mold.RegisterFront }),
	closingKeys, pouringKeys)

var blockKeys = []Key{
	{Path: "mold.outline", Kind: Word, Options: []string{"square", "octagon", "round"},
		slot: in(func(j *Job) *string { return &j.Mold.Outline }, func(j *Job) string {
			if j.Wheel.Diameter < strapBelow {
				return "octagon"
			}
			return "square"
		}),
		Doc:  "Outline of the mold seen along the axis.",
		From: "an octagon, which a strap hugs, below 60 mm; else square stock, with corners for balls and bolts"},
	{Path: "mold.size", Kind: Length, hi: diameterShare(4),
		slot: in(func(j *Job) *float64 { return &j.Mold.Size }, always(0.0)),
		Doc:  "Side or diameter of the outline; 0: the smallest that holds everything.",
		From: "the smallest"},
	{Path: "mold.land", Kind: Length, lo: fixed(1), hi: fixed(60),
		slot: in(func(j *Job) *float64 { return &j.Mold.Land }, func(j *Job) float64 { return tenth(clamp(0.06*j.Wheel.Diameter, 5, 15)) }),
		Doc:  "Least width of mating face between the cavity and any feature.",
		From: "6 % of the wheel's diameter, 5 mm to 15 mm"},
	{Path: "mold.wall", Kind: Length, lo: func(j *Job) float64 { return j.Process.MinWall }, hi: fixed(30),
		slot: in(func(j *Job) *float64 { return &j.Mold.Wall }, func(j *Job) float64 {
			return max(j.Process.MinWall, tenth(clamp(0.02*j.Wheel.Diameter, 1.6, 4)))
		}),
		Doc:  "Least wall between features of the mold, and to its outside.",
		From: "2 % of the wheel's diameter, 1.6 mm to 4 mm, and what the process can make"},
	{Path: "mold.base_thickness", Kind: Length, lo: fixed(3), hi: fixed(100),
		slot: in(func(j *Job) *float64 { return &j.Mold.BaseThickness }, plateThickness),
		Doc:  "Thickness of the base below the cavity.",
		From: "5 mm and 5 % of the wheel's diameter, 8 mm to 20 mm"},
	{Path: "mold.lid_thickness", Kind: Length, lo: fixed(3), hi: fixed(100),
		slot: in(func(j *Job) *float64 { return &j.Mold.LidThickness }, plateThickness),
		Doc:  "Thickness of the lid above the cavity.",
		From: "5 mm and 5 % of the wheel's diameter, 8 mm to 20 mm"},
}

func plateThickness(j *Job) float64 { return tenth(clamp(0.05*j.Wheel.Diameter+5, 8, 20)) }

// registerKeys are the rows of the register on one side of the wheel.
func registerKeys(side string, at func(*Job) *Register) []Key {
	path := "mold.register_" + side + "."
	open := func(j *Job) opening { return j.Hub.opening(side, at(j).Opening) }
	ifAny := func(value func(*Job) float64) func(*Job) float64 {
		return func(j *Job) float64 {
			if at(j).Opening == "none" {
				return 0
			}
			return value(j)
		}
	}
	return []Key{
		{Path: path + "opening", Kind: Word, Options: []string{"bore", "bearing", "seat", "none"},
			slot: in(func(j *Job) *string { return &at(j).Opening }, func(j *Job) string {
				o := j.Hub.widestOpening(side)
				if o == "bore" && j.Hub.Bore < 2.5*j.Process.MinFeature {
					return "none"
				}
				return o
			}),
			Doc:  "Opening of the hub's " + side + " face into which the mold's register plugs.",
			From: "the seat if it is on this side, else the bearing pocket, else the bore unless too thin for a plug"},
		{Path: path + "engagement", Kind: Length, hi: lengthShare(1),
			slot: in(func(j *Job) *float64 { return &at(j).Engagement }, ifAny(func(j *Job) float64 {
				o := open(j)
				depth := 0.8 * (o.to - o.from)
				if at(j).Opening == "bore" { // the other half is the other register's
					depth = min(depth/2, (o.to-o.from-j.Process.MinWall)/2-0.01)
				}
				return hundredth(o.from + min(depth, 6, 0.3*j.Wheel.Width))
			})),
			Doc:  "How deep the register reaches into the hub, from its end face.",
			From: "80 % of the opening's depth (40 % of the bore), at most 6 mm or 30 % of the width"},
		{Path: path + "clearance", Kind: Length, lo: fixed(-2), hi: fixed(2),
			slot: in(func(j *Job) *float64 { return &at(j).Clearance }, ifAny(func(j *Job) float64 { return j.Process.Clearance })),
			Doc:  "Clearance of the register on the diameter; negative is interference.",
			From: "process.clearance"},
		{Path: path + "lead_in", Kind: Length, hi: fixed(10),
			slot: in(func(j *Job) *float64 { return &at(j).LeadIn }, ifAny(func(j *Job) float64 {
				return hundredth(min(0.6, at(j).Engagement/4, open(j).diameter/10))
			})),
			Doc:  "45 degree chamfer at the register's end.",
			From: "0.6 mm, less on a short or thin register"},
		{Path: path + "draft", Kind: Angle, hi: fixed(15),
			slot: in(func(j *Job) *float64 { return &at(j).Draft }, ifAny(func(j *Job) float64 { return j.Process.Draft })),
			Doc:  "Draft of the register per side.",
			From: "process.draft"},
	}
}

var closingKeys = []Key{
	{Path: "mold.balls.diameter", Kind: Length, lo: fixed(1.5), hi: fixed(25.4),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Diameter }, func(j *Job) float64 {
			d := ladder(j.Wheel.Diameter, 12, step[float64]{60, 3}, step[float64]{110, 5}, step[float64]{160, 6}, step[float64]{250, 10})
			return ballUpTo(min(d, j.Wheel.Width-leastSpare-j.Mold.Wall))
		}),
		Doc:  "Diameter of the locating balls, a size of ISO 3290.",
		From: "by the wheel's diameter: 3 mm below 60 mm, 5 below 110, 6 below 160, 10 below 250, then 12; smaller where the shells are low"},
	{Path: "mold.balls.clearance", Kind: Length, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Clearance }, func(j *Job) float64 { return j.Process.Clearance }),
		Doc:  "Clearance of a ball's pocket on the diameter.",
		From: "process.clearance"},
	{Path: "mold.balls.spare", Kind: Length, lo: fixed(leastSpare), hi: fixed(3),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Spare }, always(leastSpare)),
		Doc:  "By how much the depths of two facing pockets exceed the ball, so that the faces close.",
		From: "the least that a workshop can rely on"},
	{Path: "mold.balls.offset", Kind: Length, hi: fixed(20),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Offset }, func(j *Job) float64 { return tenth(max(1.5, 0.4*j.Mold.Balls.Diameter)) }),
		Doc:  "How far the odd ball of a parting line lies off the pattern, so that pieces go together one way only.",
		From: "40 % of the ball, at least 1.5 mm"},
	{Path: "mold.bolts.size", Kind: Word, Options: fastenerSizes("M3", "M12", true),
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Size }, func(j *Job) string { return boltFor(j.Wheel.Diameter) }),
		Doc:  "Bolts that clamp the mold along the axis, one in each corner.",
		From: "by the wheel's diameter: M3 below 50 mm, M4 below 100, M5 below 150, M6 below 220, then M8"},
	{Path: "mold.bolts.fit", Kind: Word, Options: []string{"medium", "fine", "coarse"},
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Fit }, always("medium")),
		Doc:  "Clearance hole of ISO 273.",
		From: "the balls locate, the bolts only clamp"},
	{Path: "mold.bolts.head", Kind: Word, Options: []string{"socket", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Head }, always("socket")),
		Doc:  "Counterbore in the lid: for an ISO 4762 socket head, or none.",
		From: "heads out of the way of the pour"},
	{Path: "mold.bolts.nut", Kind: Word, Options: []string{"hex", "round", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Nut }, func(j *Job) string {
			if j.Process.Name == "milled" {
				return "round"
			}
			return "hex"
		}),
		Doc:  "Recess in the base for an ISO 4032 nut: hexagonal, so that it holds the nut; round, for a socket wrench; or none.",
		From: "hexagonal where it is printed; a cutter leaves no sharp corners"},
	{Path: "mold.side_clamp.kind", Kind: Word, Options: []string{"counterbore", "lugs", "strap", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.SideClamp.Kind }, func(j *Job) string {
			if j.Wheel.Diameter < strapBelow || sideBolt(j) == "" {
				return "strap"
			}
			return "counterbore"
		}),
		Doc:  "What holds the shells against each other.",
		From: "a strap below 60 mm or where no bolt fits the shells' height, else counterbored bolts"},
	{Path: "mold.side_clamp.size", Kind: Word, Options: fastenerSizes("M3", "M12", true),
		slot: in(func(j *Job) *string { return &j.Mold.SideClamp.Size }, func(j *Job) string {
			if !j.Mold.SideClamp.bolted() {
				return "none"
			}
			if s := sideBolt(j); s != "" {
				return s
			}
			return Fasteners[0].Size
		}),
		Doc:  "Bolts of the side clamp.",
		From: "as mold.bolts.size, or smaller where the shells are low"},
	{Path: "mold.side_clamp.grip", Kind: Length, hi: fixed(300),
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.Grip }, func(j *Job) float64 {
			f, ok := FastenerOf(j.Mold.SideClamp.Size)
			if !ok || !j.Mold.SideClamp.bolted() {
				return 0
			}
			return max(2.5*f.Diameter, 10)
		}),
		Doc:  "Material that each side bolt clamps in one shell.",
		From: "2.5 bolt diameters, at least 10 mm"},
	{Path: "mold.side_clamp.strap_width", Kind: Length, hi: widthShare(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.StrapWidth }, ifStrap(func(j *Job) float64 { return tenth(min(8, 0.5*j.Wheel.Width)) })),
		Doc:  "Width of the groove for a strap around the shells.",
		From: "half the tread's width, at most 8 mm"},
	{Path: "mold.side_clamp.strap_depth", Kind: Length, hi: fixed(10),
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.StrapDepth }, ifStrap(always(1.5))),
		Doc:  "Depth of the groove for a strap around the shells.",
		From: "a hose clamp's thickness"},
	{Path: "mold.pry_slots.width", Kind: Length, hi: fixed(80),
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Width }, func(j *Job) float64 { return tenth(clamp(0.1*j.Wheel.Diameter, 6, 25)) }),
		Doc:  "Width of the pry slots; 0: none.",
		From: "a tenth of the wheel's diameter, 6 mm to 25 mm"},
	{Path: "mold.pry_slots.depth", Kind: Length, hi: fixed(40),
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Depth }, func(j *Job) float64 { return tenth(clamp(0.05*j.Wheel.Diameter, 3, 10)) }),
		Doc:  "Depth of the pry slots from the outside.",
		From: "5 % of the wheel's diameter, 3 mm to 10 mm"},
	{Path: "mold.pry_slots.height", Kind: Length, hi: fixed(20),
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Height }, func(j *Job) float64 { return tenth(clamp(0.02*j.Wheel.Diameter, 1.5, 4)) }),
		Doc:  "Height of the pry slots across the parting line.",
		From: "2 % of the wheel's diameter, 1.5 mm to 4 mm"},
	{Path: "mold.jacks.size", Kind: Word, Options: fastenerSizes("M4", "M12", true),
		slot: in(func(j *Job) *string { return &j.Mold.Jacks.Size }, func(j *Job) string {
			return ladder(j.Wheel.Diameter, "M8", step[string]{150, "none"}, step[string]{250, "M6"})
		}),
		Doc:  "Tapped holes for screws that push the pieces apart.",
		From: "none below 150 mm, M6 below 250 mm, then M8"},
}

var pouringKeys = []Key{
	{Path: "mold.vents.count", Kind: Count, hi: fixed(64),
		slot: in(func(j *Job) *int { return &j.Mold.Vents.Count }, func(j *Job) int {
			return whole(clamp(j.Wheel.Diameter/20, 3, 12))
		}),
		Doc:  "Channels that let the air out; vents and gates share the circle in equal steps.",
		From: "one per 20 mm of the wheel's diameter, 3 to 12"},
	{Path: "mold.vents.diameter", Kind: Length, lo: fixed(0.3), hi: fixed(10),
		slot: in(func(j *Job) *float64 { return &j.Mold.Vents.Diameter }, func(j *Job) float64 {
			return tenthBelow(min(clamp(0.008*j.Wheel.Diameter+0.8, 1, 3), 0.4*pourWidth(j)))
		}),
		Doc:  "Diameter of a vent.",
		From: "0.8 mm and 0.8 % of the wheel's diameter, 1 mm to 3 mm, at most 40 % of the rubber's top face"},
	{Path: "mold.vents.circle", Kind: Length, hi: diameterShare(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.Vents.Circle }, pourCircle),
		Doc:  "Diameter of the circle on which the vents lie.",
		From: "the middle of the rubber's top face, as far as it is covered"},
	{Path: "mold.sprue.count", Kind: Count, lo: fixed(1), hi: fixed(8),
		slot: in(func(j *Job) *int { return &j.Mold.Sprue.Count }, always(1)),
		Doc:  "Pour channels in the piece that is on top.",
		From: "one stream traps the least air"},
	{Path: "mold.sprue.gate", Kind: Length, lo: fixed(0.8), hi: fixed(40),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Gate }, func(j *Job) float64 {
			return tenthBelow(min(clamp(0.06*j.Wheel.Diameter, 2.5, 16), 0.6*pourWidth(j)))
		}),
		Doc:  "Diameter of the channel at the cavity.",
		From: "6 % of the wheel's diameter, 2.5 mm to 16 mm, at most 60 % of the rubber's top face"},
	{Path: "mold.sprue.circle", Kind: Length, hi: diameterShare(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Circle }, pourCircle),
		Doc:  "Diameter of the circle on which the gates lie.",
		From: "the middle of the rubber's top face, as far as it is covered"},
	{Path: "mold.sprue.mouth", Kind: Length, lo: func(j *Job) float64 { return j.Mold.Sprue.Gate }, hi: fixed(80),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Mouth }, func(j *Job) float64 {
			return max(j.Mold.Sprue.Gate, tenthBelow(min(1.8*j.Mold.Sprue.Gate, mouthRoom(j))))
		}),
		Doc:  "Diameter of the channel at the top, where it is poured.",
		From: "1.8 gates, if the vents beside leave a wall"},
	{Path: "mold.sprue.angle", Kind: Angle, lo: fixed(-360), hi: fixed(360),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Angle }, always(90.0)),
		Doc:  "Angle of the first gate from the +X axis; the shells part at 0 and 180 degrees.",
		From: "farthest from the shells' parting line"},
	{Path: "mold.ceiling.shape", Kind: Word, Options: []string{"flat", "coned"},
		slot: in(func(j *Job) *string { return &j.Mold.Ceiling.Shape }, always("flat")),
		Doc:  "Top face of the cavity: flat, or coned up to the vents so that bubbles find them.",
		From: "the simplest"},
	{Path: "mold.ceiling.angle", Kind: Angle, hi: func(j *Job) float64 {
		if j.Mold.Ceiling.Shape == "coned" {
			return 15
		}
		return 0
	},
		slot: in(func(j *Job) *float64 { return &j.Mold.Ceiling.Angle }, func(j *Job) float64 {
			if j.Mold.Ceiling.Shape == "coned" {
				return 0.5
			}
			return 0
		}),
		Doc:  "Slope of a coned ceiling.",
		From: "half a degree if coned"},
	{Path: "mold.top_allowance", Kind: Length, hi: fixed(20),
		slot: in(func(j *Job) *float64 { return &j.Mold.TopAllowance }, always(0.0)),
		Doc:  "Extra height of rubber on the face that is up, to trim off with its pits.",
		From: "the face stays as cast"},
	{Path: "mold.shrinkage", Kind: Share, hi: fixed(0.05),
		slot: in(func(j *Job) *float64 { return &j.Mold.Shrinkage }, always(0.003)),
		Doc:  "Free linear shrinkage of the urethane; see its data sheet. The cavity's rubber grows by three times this in thickness: bonded to the hub, nearly all of the volume's shrinkage goes there.",
		From: "middle of the usual 0.05 % to 0.5 % for room-temperature systems"},
	{Path: "mold.engraving.depth", Kind: Length, hi: fixed(3),
		slot: in(func(j *Job) *float64 { return &j.Mold.Engraving.Depth }, always(0.4)),
		Doc:  "Depth of the marks on the pieces; 0: none.",
		From: "deep enough to read"},
	{Path: "mold.engraving.text", Kind: Text, hi: fixed(60),
		slot: in(func(j *Job) *string { return &j.Mold.Engraving.Text }, func(j *Job) string { return j.Name }),
		Doc:  "Text beside each piece's own mark.",
		From: "the job's name"},
}

// step gives a value to all wheels below a diameter.
type step[T any] struct {
	below float64
	value T
}

func ladder[T any](diameter float64, above T, steps ...step[T]) T {
	for _, s := range steps {
		if diameter < s.below {
			return s.value
		}
	}
	return above
}

// boltFor is the size of bolt that suits a wheel.
func boltFor(diameter float64) string {
	return ladder(diameter, "M8", step[string]{50, "M3"}, step[string]{100, "M4"}, step[string]{150, "M5"}, step[string]{220, "M6"})
}

// strapBelow is the wheel's diameter in mm below which a strap holds the shells.
const strapBelow = 60

// sideBolt is the largest size up to the mold's bolts whose head lies within
// the shells' height with a wall above and below, or "".
func sideBolt(j *Job) string {
	best := ""
	limit := j.Mold.Bolts.Size
	if limit == "none" {
		limit = boltFor(j.Wheel.Diameter)
	}
	for _, f := range Fasteners {
		if f.EitherRecess()+j.Process.HoleCompensation+2*j.Mold.Wall <= j.Wheel.Width {
			best = f.Size
		}
		if f.Size == limit {
			break
		}
	}
	return best
}

// leastSpare is what two ball pockets exceed the ball by, mm, so that a chip or
// a film of wax does not hold the faces apart. Common practice.
const leastSpare = 0.2

func (c SideClamp) bolted() bool { return c.Kind == "counterbore" || c.Kind == "lugs" }

func ifStrap(value func(*Job) float64) func(*Job) float64 {
	return func(j *Job) float64 {
		if j.Mold.SideClamp.Kind != "strap" {
			return 0
		}
		return value(j)
	}
}
