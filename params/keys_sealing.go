package params

// sealWords are what keeps the urethane out of a parting line.
var sealWords = []string{"wiped", "dry", "grease", "wax", "tape", "clay", "cord", "bead"}

// hubSealWords are those that reach the end of the hub, inside the mold.
var hubSealWords = []string{"wiped", "dry", "grease", "wax", "cord", "bead"}

const sealWhy = "common practice: release on every face"

var sealingKeys = []Key{
	{Path: "mold.mating.feeler", Kind: Length, hi: fixed(3),
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.Feeler }, always(0.0)),
		Doc:  "The thickest feeler gauge that enters the closed, dry mold anywhere along its parting lines; 0: not measured.",
		From: "not measured"},
	{Path: "mold.mating.dirt", Kind: Length, hi: fixed(0.5),
		slot: in(func(j *Job) *float64 { return &j.Mold.Mating.Dirt }, always(0.005)),
		Doc:  "Crumbs and old release left on each pair of faces, by how much they hold them apart; 0 if cleaned with a scraper and alcohol just before.",
		From: "assumed"},
	{Path: "mold.seals.base", Kind: Word, Options: sealWords,
		slot: in(func(j *Job) *string { return &j.Mold.Seals.Base }, always("wiped")),
		Doc:  "What seals between base and shells: dry faces; wiped with mold release; grease or wax that fills the gap; tape or a fillet of clay around the outside; a cord in a groove (yours to cut), or a bead along the cavity's seam (yours to lay), crushed as the mold closes.",
		From: sealWhy},
	{Path: "mold.seals.lid", Kind: Word, Options: sealWords,
		slot: in(func(j *Job) *string { return &j.Mold.Seals.Lid }, always("wiped")),
		Doc:  "What seals between lid and shells; the words as for mold.seals.base.",
		From: sealWhy},
	{Path: "mold.seals.sides", Kind: Word, Options: sealWords,
		slot: in(func(j *Job) *string { return &j.Mold.Seals.Sides }, always("wiped")),
		Doc:  "What seals between the two shells; the words as for mold.seals.base.",
		From: sealWhy},
	{Path: "mold.seals.hub", Kind: Word, Options: hubSealWords,
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
	{Path: "mold.seals.bead_height", Kind: Length, lo: fixed(0.02), hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.Seals.BeadHeight }, always(0.15)),
		Doc:  "Height of a bead before the mold is closed on it.",
		From: "assumed: about a layer of a print"},
}
