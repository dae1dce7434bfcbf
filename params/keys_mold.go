package params

import (
	"math"
	"slices"
)

// stackKeys come before the rest of the hub: its length and place follow from
// them, and the gap from how the hub's material grows.
var stackKeys = []Key{
	{Path: "hub.material", Kind: Word, Options: []string{"nylon", "acetal", "printed"},
		slot: in(func(j *Job) *string { return &j.Hub.Material }, always("nylon")),
		Doc:  "Material of the hub core; \"printed\" is by the printer of the mold, or from filament beside a milled one.",
		From: "urethane holds well in the grooves of a tough hub"},
	{Path: "hub.density", Kind: Density, lo: fixed(0.1), hi: fixed(9),
		slot: in(func(j *Job) *float64 { return &j.Hub.Density }, func(j *Job) float64 {
			if j.resinHub() {
				return preset("resin").Density
			}
			return hubDensities[j.Hub.Material]
		}),
		Doc:  "Density of the hub's material; of a print with infill, its mass by its volume.",
		From: "nylon 1.14 g/cm3, acetal 1.41, as published; printed 1.24 (PLA, solid), of resin 1.15, from memory"},
	{Path: "hub.softening", Kind: Temperature, lo: fixed(30), hi: fixed(1500),
		slot: in(func(j *Job) *float64 { return &j.Hub.Softening }, func(j *Job) float64 {
			if j.resinHub() {
				return preset("resin").Softening
			}
			return hubSoftenings[j.Hub.Material]
		}),
		Doc:  "Temperature from which the hub's material gives under light loads.",
		From: "from memory, cautious: nylon and acetal 150 C, printed 57 C (PLA), of resin 60 C"},
	{Path: "hub.moisture", Kind: Share, hi: fixed(0.03),
		slot: in(func(j *Job) *float64 { return &j.Hub.Moisture }, func(j *Job) float64 {
			switch j.Hub.Material {
			case "nylon":
				return 0.001
			case "acetal":
				return 0.0002
			}
			return 0.0005
		}),
		Doc:  "Linear growth that moisture may add to the hub between measuring and casting.",
		From: "assumed: nylon 0.1 % (it takes up 2.5 % to 3 % of water at 50 % humidity, from memory), acetal 0.02 %, printed 0.05 %"},
	{Path: "mold.face_up", Kind: Word, Options: []string{"front", "back"},
		slot: in(func(j *Job) *string { return &j.Mold.FaceUp }, always("front")),
		Doc:  "Face of the wheel that is up during the pour: it gets pits and gate scars.",
		From: "the sprocket covers the front"},
	{Path: "mold.stack.gap", Kind: Length, hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Mold.Stack.Gap }, func(j *Job) float64 {
			gap := 0.03 + j.HubGrowth(j.Wheel.Width)
			if j.Printed() {
				gap = max(gap, 0.1)
			}
			return math.Ceil(gap*100-1e-9) / 100
		}),
		Doc:  "How much shorter the hub is than the distance between the mold's hub lands; a hub that stands proud holds the mold open.",
		From: "0.03 mm and what heat and moisture add to a hub as long as the tread is wide; printed at least 0.1 mm"},
	{Path: "mold.stack.at", Kind: Word, Options: []string{"lower", "upper"},
		slot: in(func(j *Job) *string { return &j.Mold.Stack.At }, always("lower")),
		Doc:  "End of the hub at which the gap lies, filled by the seal.",
		From: "the hub's weight helps the seal"},
	{Path: "mold.stack.seal", Kind: Word, Options: []string{"gasket", "grease", "wax", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.Stack.Seal }, always("gasket")),
		Doc:  "What seals the gap.",
		From: "a gasket gives with the hub's growth"},
}

// resinHub tells whether the hub is printed from resin.
func (j *Job) resinHub() bool { return j.Hub.Printed() && j.PrintsResin() }

// hubDensities are the densities of hub materials in g/cm³.
var hubDensities = map[string]float64{"nylon": 1.14, "acetal": 1.41, "printed": 1.24}

// hubSoftenings are temperatures in °C from which hubs give: nylon and acetal some
// way below their deflection temperature under 0.45 MPa, PLA where its glass softens.
var hubSoftenings = map[string]float64{"nylon": 150, "acetal": 150, "printed": 57}

var moldKeys = slices.Concat(blockKeys, coatKeys,
	registerKeys("back", func(j *Job) *Register { return &j.Mold.RegisterBack }),
	registerKeys("front", func(j *Job) *Register { return &j.Mold.RegisterFront }),
	closingKeys, sealingKeys, pouringKeys)

var blockKeys = []Key{
	{Path: "mold.outline", Kind: Word, Options: []string{"square", "octagon", "round"},
		slot: in(func(j *Job) *string { return &j.Mold.Outline }, func(j *Job) string {
			if j.Wheel.Diameter < strapBelow || j.Mold.Segments > 2 {
				return "octagon"
			}
			return "square"
		}),
		Doc:  "Outline of the mold seen along the axis.",
		From: "an octagon, which a strap hugs, below 60 mm and around more than two shells; else square stock, with corners for balls and bolts"},
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

// coatKeys are how the cavity of a printed mold is finished.
var coatKeys = []Key{
	{Path: "mold.coats.count", Kind: Count, hi: fixed(10),
		slot: in(func(j *Job) *int { return &j.Mold.Coats.Count }, always(0)),
		Doc:  "Coats of sealer on the faces that shape the rubber, sanded between; mating faces stay bare. The cavity is made larger by their thickness.",
		From: "a cavity as it was made"},
	{Path: "mold.coats.thickness", Kind: Length, hi: fixed(0.5), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Coats.Thickness }, func(j *Job) float64 {
			if j.Mold.Coats.Count == 0 {
				return 0
			}
			return 0.05
		}),
		Doc:  "Thickness of one coat after sanding.",
		From: "assumed: 0.05 mm; measure a coated coupon"},
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
				if j.Mold.Split == SplitClam || o == "bore" && j.Hub.Bore < 2.5*j.Process.MinFeature {
					return "none"
				}
				return o
			}),
			Doc:  "Opening of the hub's " + side + " face into which the mold's register plugs.",
			From: "the seat if it is on this side, else the bearing pocket, else the bore unless too thin for a plug; none in clam halves, which open sideways"},
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

func channelless(j *Job) string {
	if j.Mold.Split == SplitOpen {
		return "an open top has neither sprue nor vents"
	}
	return ""
}

var pouringKeys = []Key{
	{Path: "mold.vents.count", Kind: Count, hi: whereOpen(fixed(0), fixed(64)), over: channelless,
		slot: in(func(j *Job) *int { return &j.Mold.Vents.Count }, func(j *Job) int {
			switch j.Mold.Split {
			case SplitOpen:
				return 0
			case SplitClam:
				return 1
			}
			return whole(clamp(j.Wheel.Diameter/20, 3, 12))
		}),
		Doc:  "Channels that let the air out; vents and gates share the circle in equal steps.",
		From: "one per 20 mm of the wheel's diameter, 3 to 12; one in clam halves, on their parting line; none under an open top"},
	{Path: "mold.vents.diameter", Kind: Length, lo: fixed(0.3), hi: fixed(10),
		slot: in(func(j *Job) *float64 { return &j.Mold.Vents.Diameter }, func(j *Job) float64 {
			return tenthBelow(min(clamp(0.008*j.Wheel.Diameter+0.8, 1, 3), 0.4*pourWidth(j)))
		}),
		Doc:  "Diameter of a vent.",
		From: "0.8 mm and 0.8 % of the wheel's diameter, 1 mm to 3 mm, at most 40 % of the rubber's top face"},
	{Path: "mold.vents.circle", Kind: Length, hi: diameterShare(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.Vents.Circle }, pourCircle),
		Doc:  "Diameter of the circle on which the vents lie.",
		From: "the middle of the rubber's top face, as far as it is covered; in clam halves as far as they leave a wall beside the hub"},
	{Path: "mold.sprue.count", Kind: Count, lo: whereOpen(fixed(0), fixed(1)), hi: whereOpen(fixed(0), fixed(8)), over: channelless,
		slot: in(func(j *Job) *int { return &j.Mold.Sprue.Count }, whereOpen(always(0), always(1))),
		Doc:  "Pour channels in the piece that is on top.",
		From: "one stream traps the least air; none under an open top"},
	{Path: "mold.sprue.gate", Kind: Length, lo: fixed(0.8), hi: fixed(40),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Gate }, func(j *Job) float64 {
			return tenthBelow(min(clamp(0.06*j.Wheel.Diameter+2, 3, 20), gateRoom(j)))
		}),
		Doc:  "Diameter of the channel at the cavity.",
		From: "2 mm and 6 % of the wheel's diameter, 3 mm to 20 mm, at most 60 % of the rubber's top face, and a wall away from a hub that stands out of it"},
	{Path: "mold.sprue.circle", Kind: Length, hi: diameterShare(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Circle }, pourCircle),
		Doc:  "Diameter of the circle on which the gates lie.",
		From: "the middle of the rubber's top face, as far as it is covered; in clam halves as far as they leave a wall beside the hub"},
	{Path: "mold.sprue.mouth", Kind: Length, lo: func(j *Job) float64 { return j.Mold.Sprue.Gate }, hi: fixed(80),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Mouth }, func(j *Job) float64 {
			return max(j.Mold.Sprue.Gate, tenthBelow(min(mouthByDefault*j.Mold.Sprue.Gate, mouthRoom(j))))
		}),
		Doc:  "Diameter of the channel at the top, where it is poured.",
		From: "1.8 gates, if the vents beside leave a wall"},
	{Path: "mold.sprue.angle", Kind: Angle, lo: fixed(-360), hi: fixed(360),
		slot: in(func(j *Job) *float64 { return &j.Mold.Sprue.Angle }, func(j *Job) float64 {
			if j.Mold.Split == SplitClam {
				return 0
			}
			return 90
		}),
		Doc:  "Angle of the first gate from the +X axis; two shells part at 0 and 180 degrees.",
		From: "farthest from the shells' parting line; on it in clam halves, so that the sprue opens with them"},
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
		slot: in(func(j *Job) *float64 { return &j.Mold.TopAllowance }, whereOpen(func(j *Job) float64 { return tenth(clamp(0.05*j.Wheel.Width, 1, 3)) }, always(0.0))),
		Doc:  "Extra height of rubber on the face that is up, to trim off with its pits.",
		From: "the face stays as cast; under an open top 5 % of the tread's width, 1 mm to 3 mm"},
	{Path: "mold.shrinkage", Kind: Share, hi: fixed(0.05),
		slot: in(func(j *Job) *float64 { return &j.Mold.Shrinkage }, always(0.003)),
		Doc:  "Free linear shrinkage of the urethane by its cure alone; see its data sheet. Cooling from pour.gel_temperature is added.",
		From: "middle of the usual 0.05 % to 0.5 % for room-temperature systems"},
	{Path: "mold.sizing", Kind: Word, Options: []string{"never small", "expected"},
		slot: in(func(j *Job) *string { return &j.Mold.Sizing }, always("never small")),
		Doc:  "What the cavity is sized for: a wheel that has its diameter if its ends cannot pull in, and else is larger; or the expected one of a plain hub.",
		From: "what is too large can be ground off"},
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
