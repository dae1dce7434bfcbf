package params

// calibrationKeys are what the builder's own casts say of the predictions, as ratios of
// measured to predicted.
var calibrationKeys = []Key{
	{Path: "calibration.gap", Kind: Number, lo: fixed(0.2), hi: fixed(5),
		slot: in(func(j *Job) *float64 { return &j.Calibration.Gap }, always(1.0)),
		Doc:  "Gaps of the parting lines as casts show them, in gaps as estimated.",
		From: "1 until casts are logged"},
	{Path: "calibration.residue", Kind: Number, lo: fixed(0.05), hi: fixed(20),
		slot: in(func(j *Job) *float64 { return &j.Calibration.Residue }, always(1.0)),
		Doc:  "What stays on buckets and paddle, in what is predicted.",
		From: "1 until casts are logged"},
	{Path: "calibration.shrinkage", Kind: Number, lo: fixed(0), hi: fixed(5),
		slot: in(func(j *Job) *float64 { return &j.Calibration.Shrinkage }, always(1.0)),
		Doc:  "Shrinkage of the rubber, by reaction and cooling together, in what is predicted.",
		From: "1 until casts are logged"},
}
