package params

// sealWords are what keeps the urethane out of a parting line.
var sealWords = []string{"wiped", "dry", "grease", "wax", "tape", "clay", "cord", "bead"}

// hubSealWords are those that reach the end of the hub, inside the mold.
var hubSealWords = []string{"wiped", "dry", "grease", "wax", "cord", "bead"}

// jelly answers the commonest word for a seal that is none.
const jelly = `petroleum jelly counts as "grease"`

const sealWhy = "common practice: release on every face"

var sealingKeys = []Key{
	{Path: "mold.mating.feeler", Kind: Length, hi: fixed(3), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.Feeler }, always(0.0)),
		Doc:  "The thickest feeler gauge that enters anywhere along the parting lines of the closed mold, dry, with the hub in and the bolts at their stated torque; 0: not measured. It says nothing of the ends of the hub.",
		From: "not measured"},
	{Path: "mold.mating.feeler_base", Kind: Length, hi: fixed(3), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.FeelerBase }, func(j *Job) float64 { return j.Mold.Mating.Feeler }),
		Doc:  "The thickest gauge that enters between base and shells, measured as for mold.mating.feeler; 0: not measured.",
		From: "mold.mating.feeler"},
	{Path: "mold.mating.feeler_lid", Kind: Length, hi: fixed(3), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.FeelerLid }, func(j *Job) float64 { return j.Mold.Mating.Feeler }),
		Doc:  "The thickest gauge that enters between lid and shells, measured as for mold.mating.feeler; 0: not measured.",
		From: "mold.mating.feeler"},
	{Path: "mold.mating.feeler_sides", Kind: Length, hi: fixed(3), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.FeelerSides }, func(j *Job) float64 { return j.Mold.Mating.Feeler }),
		Doc:  "The thickest gauge that enters between the two shells, measured as for mold.mating.feeler; 0: not measured.",
		From: "mold.mating.feeler"},
	{Path: "mold.mating.dirt", Kind: Length, hi: fixed(0.5),
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.Dirt }, always(0.005)),
		Doc:  "Crumbs and old release left on each pair of faces, by how much they hold them apart; 0 if cleaned with a scraper and alcohol just before.",
		From: "assumed"},
	{Path: "mold.mating.shells_flatness", Kind: Length, hi: fixed(2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.ShellsFlatness }, func(j *Job) float64 { return j.Process.Flatness }),
		Doc:  "Waviness of the shells' mating faces: mm from peak to valley over any 100 mm.",
		From: "process.flatness"},
	{Path: "mold.mating.shells_roughness", Kind: Length, hi: fixed(0.2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.ShellsRoughness }, func(j *Job) float64 { return j.Process.Roughness }),
		Doc:  "Roughness Ra of the shells' mating faces, in mm or um.",
		From: "process.roughness"},
	{Path: "mold.mating.plates_flatness", Kind: Length, hi: fixed(2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.PlatesFlatness }, func(j *Job) float64 { return j.Process.Flatness }),
		Doc:  "Waviness of the mating faces of base and lid, whose register stands out so that they cannot be lapped on a plain plate: mm from peak to valley over any 100 mm.",
		From: "process.flatness"},
	{Path: "mold.mating.plates_roughness", Kind: Length, hi: fixed(0.2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.PlatesRoughness }, func(j *Job) float64 { return j.Process.Roughness }),
		Doc:  "Roughness Ra of the mating faces of base and lid, in mm or um.",
		From: "process.roughness"},
	{Path: "mold.seals.base", Kind: Word, Options: sealWords, other: jelly,
		slot: in(func(j *Job) *string { return &j.Mold.Seals.Base }, always("wiped")),
		Doc:  "What seals between base and shells: dry faces; wiped with mold release; grease or wax that fills the gap; tape or a fillet of clay around the outside; a cord in a groove (yours to cut), or a bead along the cavity's seam (yours to lay), crushed as the mold closes.",
		From: sealWhy},
	{Path: "mold.seals.lid", Kind: Word, Options: sealWords, other: jelly,
		slot: in(func(j *Job) *string { return &j.Mold.Seals.Lid }, always("wiped")),
		Doc:  "What seals between lid and shells; the words as for mold.seals.base.",
		From: sealWhy},
	{Path: "mold.seals.sides", Kind: Word, Options: sealWords, other: jelly,
		slot: in(func(j *Job) *string { return &j.Mold.Seals.Sides }, always("wiped")),
		Doc:  "What seals between the two shells; the words as for mold.seals.base.",
		From: sealWhy},
	{Path: "mold.seals.hub", Kind: Word, Options: hubSealWords, other: jelly,
		slot: in(func(j *Job) *string { return &j.Mold.Seals.Hub }, always("wiped")),
		Doc:  "What seals the end of the hub that sits on the mold, opposite the gap of mold.stack; the words as for mold.seals.base, without what lies outside the mold.",
		From: sealWhy},
	{Path: "mold.seals.grease_yield", Kind: Stress, lo: fixed(1), hi: fixed(100e3),
		slot: in(func(j *Job) *float64 { return &j.Mold.Seals.GreaseYield }, always(200.0)),
		Doc:  "Shear stress below which the grease stays where it is.",
		From: "assumed"},
	{Path: "mold.seals.wax_yield", Kind: Stress, lo: fixed(1), hi: fixed(500e3),
		slot: in(func(j *Job) *float64 { return &j.Mold.Seals.WaxYield }, always(1000.0)),
		Doc:  "Shear stress below which the wax stays where it is.",
		From: "assumed"},
	{Path: "mold.seals.bead_height", Kind: Length, lo: fixed(0.02), hi: fixed(0.3), over: func(*Job) string { return "a higher ridge holds the mold open" },
		slot: in(func(j *Job) *float64 { return &j.Mold.Seals.BeadHeight }, always(0.15)),
		Doc:  "Height of a bead before the mold is closed on it; a higher ridge holds the mold open.",
		From: "assumed: about a layer of a print"},
}
