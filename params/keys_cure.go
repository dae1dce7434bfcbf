package params

// A day in s.
const day = 24 * 3600.0

// cureKeys are the rubber from its gel on, and what becomes of bubbles until then.
var cureKeys = []Key{
	{Path: "pour.gel_temperature", Kind: Temperature, lo: func(j *Job) float64 { return j.Pour.MoldTemperature - 20 }, hi: fixed(150),
		slot: in(func(j *Job) *float64 { return &j.Pour.GelTemperature }, gelTemperature),
		Doc:  "Temperature of the rubber in the mold when it gels: from there it shrinks by cooling. Replace it by what a thermometer shows in a first cast.",
		From: "pour.mold_temperature and an estimate, off by up to half, of how far the tread warms itself until it gels"},
	{Path: "pour.expansion", Kind: Expansion, lo: fixed(50e-6), hi: fixed(500e-6),
		slot: in(func(j *Job) *float64 { return &j.Pour.Expansion }, always(175e-6)),
		Doc:  "Linear expansion of the rubber by heat.",
		From: "middle of the usual 150 to 200 ppm/K for urethane elastomers, from memory"},
	{Path: "pour.demold", Kind: Time, lo: fixed(600), hi: fixed(30 * day),
		slot: in(func(j *Job) *float64 { return &j.Pour.Demold }, func(j *Job) float64 { return max(day, 2*j.Pour.GelTime) }),
		Doc:  "Time from first mixing until it may be demolded, at pour.sheet_temperature; see the data sheet.",
		From: "24 h of the usual 24 h to 48 h, common practice; at least twice the gel time"},
	{Path: "pour.cure", Kind: Time, lo: fixed(3600), hi: fixed(90 * day),
		slot: in(func(j *Job) *float64 { return &j.Pour.Cure }, func(j *Job) float64 { return max(7*day, j.Pour.Demold) }),
		Doc:  "Time from first mixing until it is fully cured and may be driven on, at pour.sheet_temperature; see the data sheet.",
		From: "common practice: a week"},
	{Path: "pour.degas", Kind: Word, Options: []string{"none", "vacuum", "pressure"},
		slot: in(func(j *Job) *string { return &j.Pour.Degas }, always("none")),
		Doc:  "What helps against bubbles: a vacuum on the mix in its bucket, a pressure pot around the mold while it cures, or nothing but pour.settle.",
		From: "few have the equipment"},
	{Path: "pour.pot_pressure", Kind: Stress, lo: fixed(100e3), hi: fixed(700e3),
		slot: in(func(j *Job) *float64 { return &j.Pour.PotPressure }, always(400e3)),
		Doc:  "Pressure in the pot above the air's, as its gauge shows it; never more than the pot is rated for.",
		From: "common practice, 60 psi or 4 bar"},
}
