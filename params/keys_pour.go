package params

import (
	"math"
	"slices"
)

// The bucket follows from the urethane and from whether its mix is degassed.
var pourKeys = slices.Concat(urethaneKeys, flowKeys, cureKeys, blendKeys, bucketKeys, buyingKeys)

var urethaneKeys = []Key{
	{Path: "pour.ratio_by", Kind: Word, Options: []string{"weight", "volume"},
		slot: in(func(j *Job) *string { return &j.Pour.RatioBy }, always("weight")),
		Doc:  "What the mix ratio counts; see the data sheet, which often states both.",
		From: "a scale measures better than marks on a cup"},
	{Path: "pour.parts_a", Kind: Number, lo: fixed(0.01), hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Pour.PartsA }, always(1.0)),
		Doc:  "Parts of component A, by weight unless pour.ratio_by says volume.",
		From: "1:1, the commonest ratio; see the data sheet"},
	{Path: "pour.parts_b", Kind: Number, lo: fixed(0.01), hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Pour.PartsB }, always(1.0)),
		Doc:  "Parts of component B, by weight unless pour.ratio_by says volume.",
		From: "1:1, the commonest ratio; see the data sheet"},
	{Path: "pour.density_a", Kind: Density, lo: fixed(0.8), hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Pour.DensityA }, always(1.04)),
		Doc:  "Density of component A.",
		From: "middle of the usual 1.01 to 1.08"},
	{Path: "pour.density_b", Kind: Density, lo: fixed(0.8), hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Pour.DensityB }, always(1.04)),
		Doc:  "Density of component B.",
		From: "middle of the usual 1.01 to 1.08"},
	{Path: "pour.density", Kind: Density, lo: fixed(0.8), hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Pour.Density }, always(1.04)),
		Doc:  "Density of the cured urethane.",
		From: "usual for castable elastomers (26.6 cubic inches per pound)"},
	{Path: "pour.hardness", Kind: Number, lo: fixed(softest), hi: fixed(hardest),
		slot: in(func(j *Job) *float64 { return &j.Pour.Hardness }, always(60.0)),
		Doc:  "Hardness of the cured urethane, Shore A.",
		From: "common for wheels that grip and last; 45 to 60 suits big wheels, 80 lasts longer"},
	{Path: "pour.pigment", Kind: Share, hi: fixed(0.2),
		slot: in(func(j *Job) *float64 { return &j.Pour.Pigment }, always(0.0)),
		Doc:  "Pigment, as a share of the mass of A and B together, added to it; a dry paste made for urethane, stirred into the component that the data sheet names.",
		From: "no pigment"},
	{Path: "pour.pigment_limit", Kind: Share, hi: fixed(0.2),
		slot: in(func(j *Job) *float64 { return &j.Pour.PigmentLimit }, always(0.03)),
		Doc:  "Share of pigment above which it spoils the cure.",
		From: "common upper warning, weak: see the data sheet"},
	{Path: "pour.batch_mass", Kind: Mass, hi: fixed(100000),
		slot: in(func(j *Job) *float64 { return &j.Pour.BatchMass }, always(0.0)),
		Doc:  "Most that is mixed at once; 0: what bucket and scale allow.",
		From: "what bucket and scale allow"},
	{Path: "pour.waste", Kind: Share, hi: fixed(0.9),
		slot: in(func(j *Job) *float64 { return &j.Pour.Waste }, always(0.0)),
		Doc:  "Share of the mix that stays in bucket and on tools, if you measured it; 0: reckoned from pour.bucket.",
		From: "reckoned from pour.bucket"},
	{Path: "pour.margin", Kind: Share, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Pour.Margin }, always(0.05)),
		Doc:  "Spare for spills and for topping up, as a share of what is poured.",
		From: "assumed"},
}

// The range of Shore A in which the scale is read with any meaning.
const (
	softest = 10
	hardest = 95
)

// brimful and level say why an open top is filled to its rim, standing level.
func brimful(j *Job) string {
	if j.Mold.Split == SplitOpen {
		return "an open top runs over above its rim; mold.top_allowance makes it taller"
	}
	return ""
}

func level(j *Job) string {
	if j.Mold.Split == SplitOpen {
		return "an open top runs over unless it stands level"
	}
	return ""
}

// flowKeys are the liquid: from the first stir until the mold is full.
var flowKeys = []Key{
	{Path: "pour.viscosity", Kind: Viscosity, lo: fixed(0.02), hi: fixed(100),
		slot: in(func(j *Job) *float64 { return &j.Pour.Viscosity }, always(0.8)),
		Doc:  "Viscosity of the urethane freshly mixed, at pour.sheet_temperature; see the data sheet.",
		From: "thin of the usual 0.6 to 4 Pa*s for casting by hand: the cautious side for flash"},
	{Path: "pour.pot_life", Kind: Time, lo: fixed(60), hi: fixed(4 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Pour.PotLife }, always(1200.0)),
		Doc:  "Time from first mixing during which it can be poured, at pour.sheet_temperature; see the data sheet. It is stated for a cup of some 100 g to 500 g: a large batch warms itself and has less.",
		From: "middle of the usual 15 to 30 min for casting by hand"},
	{Path: "pour.growth", Kind: Number, lo: fixed(2), hi: fixed(30),
		slot: in(func(j *Job) *float64 { return &j.Pour.Growth }, always(10.0)),
		Doc:  "How many times its fresh value the viscosity has reached at the end of the pot life.",
		From: "assumed: data sheets end the pot life anywhere from twice the viscosity to where it no longer pours"},
	{Path: "pour.gel_time", Kind: Time, lo: fixed(60), hi: fixed(24 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Pour.GelTime }, func(j *Job) float64 { return math.Round(2 * j.Pour.PotLife) }),
		Doc:  "Time from first mixing until it no longer flows at all, at pour.sheet_temperature.",
		From: "assumed: twice the pot life"},
	{Path: "pour.stir", Kind: Time, lo: fixed(1), hi: fixed(4 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Pour.Stir }, func(j *Job) float64 { return math.Round(0.2 * j.Pour.PotLife) }),
		Doc:  "Time of stirring, in all vessels together, scraping down wall and bottom.",
		From: "assumed: 0.2 of the pot life"},
	{Path: "pour.settle", Kind: Time, hi: fixed(4 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Pour.Settle }, func(j *Job) float64 { return math.Round(0.2 * j.Pour.PotLife) }),
		Doc:  "Time that the stirred mix stands, or is under vacuum, so that bubbles leave it.",
		From: "assumed: 0.2 of the pot life"},
	{Path: "pour.start", Kind: Time, hi: fixed(24 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Pour.Start }, func(j *Job) float64 { return j.Pour.Stir + j.Pour.Settle }),
		Doc:  "Time from first mixing until the pour starts.",
		From: "pour.stir and pour.settle"},
	{Path: "pour.duration", Kind: Time, lo: fixed(1), hi: fixed(4 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Pour.Duration }, func(j *Job) float64 { return math.Round(j.Pour.PotLife / 10) }),
		Doc:  "How long pouring a batch may take, into all the molds that it fills.",
		From: "wanted: a tenth of the pot life"},
	{Path: "pour.people", Kind: Count, lo: fixed(1), hi: fixed(2),
		slot: in(func(j *Job) *int { return &j.Pour.People }, always(1)),
		Doc:  "People at the bench: with two, the next batch is mixed while one is poured.",
		From: "one"},
	{Path: "pour.funnel", Kind: Length, hi: whereOpen(fixed(0), fixed(200)), over: channelless,
		slot: in(func(j *Job) *float64 { return &j.Pour.Funnel }, whereOpen(always(0.0), always(20.0))),
		Doc:  "Height of urethane kept above the sprue's mouth while pouring, by a funnel, a cup or a dam of clay; 0: filled to the brim.",
		From: "a small funnel: the lid alone gives so little head that a mold fills for long; none over an open top"},
	{Path: "pour.fill", Kind: Length, hi: whereOpen(fixed(0), func(j *Job) float64 { return j.Mold.LidThickness }), over: brimful,
		slot: in(func(j *Job) *float64 { return &j.Pour.Fill }, whereOpen(always(0.0), func(j *Job) float64 { return j.Mold.LidThickness })),
		Doc:  "How high sprue and vents are filled, above the top of the cavity.",
		From: "mold.lid_thickness: filled to the brim; an open top is filled to its rim, 0"},
	{Path: "pour.tilt", Kind: Angle, hi: whereOpen(fixed(0), fixed(30)), over: level,
		slot: in(func(j *Job) *float64 { return &j.Pour.Tilt }, always(0.0)),
		Doc:  "How far the mold leans while it is poured, so that bubbles under its top face find a vent.",
		From: "level"},
	{Path: "pour.tilt_toward", Kind: Angle, lo: fixed(-360), hi: fixed(360),
		slot: in(func(j *Job) *float64 { return &j.Pour.TiltToward }, func(j *Job) float64 { return roundTo(math.Mod(j.farVent(), 360), 100) }),
		Doc:  "Angle of the side that is raised, from the +X axis; the shells part at 0 and 180 degrees.",
		From: "that of the vent farthest from the gates; opposite the first gate if there is none"},
	{Path: "pour.surface_tension", Kind: Tension, lo: fixed(0.005), hi: fixed(0.1),
		slot: in(func(j *Job) *float64 { return &j.Pour.SurfaceTension }, always(0.035)),
		Doc:  "Surface tension of the mix.",
		From: "usual 28 to 40 mN/m for casting urethanes, from memory: weak"},
	{Path: "pour.mold_temperature", Kind: Temperature, lo: fixed(5), hi: fixed(60),
		slot: in(func(j *Job) *float64 { return &j.Pour.MoldTemperature }, always(23.0)),
		Doc:  "Temperature of the mold during pour and cure; the mix in a thin gap takes it on.",
		From: "the room's, as in most data sheets"},
	{Path: "pour.mix_temperature", Kind: Temperature, lo: fixed(5), hi: fixed(60),
		slot: in(func(j *Job) *float64 { return &j.Pour.MixTemperature }, always(23.0)),
		Doc:  "Temperature of the components when they are mixed.",
		From: "the room's, as in most data sheets"},
	{Path: "pour.sheet_temperature", Kind: Temperature, lo: fixed(5), hi: fixed(60),
		slot: in(func(j *Job) *float64 { return &j.Pour.SheetTemperature }, always(23.0)),
		Doc:  "Temperature at which the data sheet states viscosity and times.",
		From: "the standard room of most data sheets"},
}
