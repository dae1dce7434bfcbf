package params

// Processes are the presets of how a mold is made. The figures are common
// practice, not a standard: a builder who measured better states his own.
var Processes = []Process{
	{Name: "milled", Clearance: 0.05, HoleCompensation: 0, MinWall: 1.5, MinFeature: 0.8, Draft: 1},
	{Name: "filament", Clearance: 0.25, HoleCompensation: 0.2, MinWall: 1.6, MinFeature: 0.5, Draft: 1},
	{Name: "lapped filament", Clearance: 0.2, HoleCompensation: 0.2, MinWall: 1.6, MinFeature: 0.5, Draft: 1},
	{Name: "resin", Clearance: 0.15, HoleCompensation: 0.1, MinWall: 1.2, MinFeature: 0.3, Draft: 1},
	// The loosest of the above, until the builder's own figures replace them.
	{Name: "custom", Clearance: 0.25, HoleCompensation: 0.2, MinWall: 1.6, MinFeature: 0.8, Draft: 1},
}

func processNames() []string {
	var names []string
	for _, p := range Processes {
		names = append(names, p.Name)
	}
	return names
}

// preset is the named process, or the first one for an unknown name.
func preset(name string) Process {
	for _, p := range Processes {
		if p.Name == name {
			return p
		}
	}
	return Processes[0]
}

var nameKeys = []Key{
	{Path: "name", Kind: Text, lo: fixed(1), hi: fixed(60),
		slot: in(func(j *Job) *string { return &j.Name }, always("wheel")),
		Doc:  "Name of the job, engraved where mold.engraving.text says nothing else.",
		From: "a plain word"},
}

var processKeys = []Key{
	{Path: "process.name", Kind: Word, Options: processNames(),
		slot: in(func(j *Job) *string { return &j.Process.Name }, always("milled")),
		Doc:  "How the mold is made; the figures below follow from it.",
		From: "aluminum on a mill closes best"},
	{Path: "process.clearance", Kind: Length, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Process.Clearance }, func(j *Job) float64 { return preset(j.Process.Name).Clearance }),
		Doc:  "Clearance on the diameter between parts that slide together.",
		From: "common practice for the process"},
	{Path: "process.hole_compensation", Kind: Length, lo: fixed(-0.5), hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Process.HoleCompensation }, func(j *Job) float64 { return preset(j.Process.Name).HoleCompensation }),
		Doc:  "Added to the diameter of every drilled hole, because printed holes come out small.",
		From: "common practice for the process"},
	{Path: "process.min_wall", Kind: Length, lo: fixed(0.4), hi: fixed(10),
		slot: in(func(j *Job) *float64 { return &j.Process.MinWall }, func(j *Job) float64 { return preset(j.Process.Name).MinWall }),
		Doc:  "Thinnest wall that survives making and use, in mold and hub.",
		From: "common practice for the process"},
	{Path: "process.min_feature", Kind: Length, lo: fixed(0.1), hi: fixed(5),
		slot: in(func(j *Job) *float64 { return &j.Process.MinFeature }, func(j *Job) float64 { return preset(j.Process.Name).MinFeature }),
		Doc:  "Narrowest slot, rib or engraved stroke that can be made.",
		From: "common practice for the process"},
	{Path: "process.draft", Kind: Angle, hi: fixed(10),
		slot: in(func(j *Job) *float64 { return &j.Process.Draft }, func(j *Job) float64 { return preset(j.Process.Name).Draft }),
		Doc:  "Draft per side on faces that slide apart.",
		From: "common practice"},
}
