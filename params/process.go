package params

// Processes are the presets of how a mold is made. The figures are common
// practice, not a standard, save where a row below names a source: a builder who
// measured better states his own.
var Processes = []Process{
	{Name: "milled", Clearance: 0.05, HoleCompensation: 0, MinWall: 1.5, MinFeature: 0.8, MinHole: 0.5, Draft: 1,
		Flatness: 0.02, LappedFlatness: 0.01, Roughness: 0.0016, Tolerance: 0.02, Edge: 0.1, Modulus: 68.9e9, Bearing: 150e6, Density: 2.7, Softening: 580},
	{Name: "filament", Clearance: 0.25, HoleCompensation: 0.2, MinWall: 1.6, MinFeature: 0.5, MinHole: 1.2, Draft: 1,
		Flatness: 0.25, LappedFlatness: 0.05, Roughness: 0.013, Tolerance: 0.2, Edge: 0.3, Modulus: 2e9, Bearing: 15e6, Density: 1.24, Softening: 57},
	{Name: "lapped filament", Clearance: 0.2, HoleCompensation: 0.2, MinWall: 1.6, MinFeature: 0.5, MinHole: 1.2, Draft: 1,
		Flatness: 0.05, LappedFlatness: 0.05, Roughness: 0.003, Tolerance: 0.15, Edge: 0.3, Modulus: 2e9, Bearing: 15e6, Density: 1.24, Softening: 57},
	{Name: "resin", Clearance: 0.15, HoleCompensation: 0.1, MinWall: 1.2, MinFeature: 0.3, MinHole: 0.6, Draft: 1,
		Flatness: 0.12, LappedFlatness: 0.04, Roughness: 0.003, Tolerance: 0.1, Edge: 0.1, Modulus: 2e9, Bearing: 15e6, Density: 1.15, Softening: 60},
	// The loosest of the above, until the builder's own figures replace them.
	{Name: "custom", Clearance: 0.25, HoleCompensation: 0.2, MinWall: 1.6, MinFeature: 0.8, MinHole: 1.2, Draft: 1,
		Flatness: 0.25, LappedFlatness: 0.05, Roughness: 0.013, Tolerance: 0.2, Edge: 0.3, Modulus: 2e9, Bearing: 15e6, Density: 1.24, Softening: 57},
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

// ofProcess is the slot of a figure that follows from the process.
func ofProcess(at func(*Process) *float64) slot {
	return in(func(j *Job) *float64 { return at(&j.Process) }, func(j *Job) float64 {
		p := preset(j.Process.Name)
		return *at(&p)
	})
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
	{Path: "process.kind", Kind: Word, Options: []string{Milled, Filament, Resin},
		slot: in(func(j *Job) *string { return &j.Process.Kind }, processKind),
		Doc:  "What the mold is made on; stated only where process.name is \"custom\".",
		From: "process.name; custom counts as filament"},
	{Path: "process.clearance", Kind: Length, hi: fixed(1),
		slot: ofProcess(func(p *Process) *float64 { return &p.Clearance }),
		Doc:  "Clearance on the diameter between parts that slide together.",
		From: "common practice for the process"},
	{Path: "process.hole_compensation", Kind: Length, lo: fixed(-0.5), hi: fixed(1),
		slot: ofProcess(func(p *Process) *float64 { return &p.HoleCompensation }),
		Doc:  "Added to the diameter of every drilled hole, because printed holes come out small.",
		From: "common practice for the process"},
	{Path: "process.min_wall", Kind: Length, lo: fixed(0.4), hi: fixed(10),
		slot: ofProcess(func(p *Process) *float64 { return &p.MinWall }),
		Doc:  "Thinnest wall that survives making and use, in mold and hub.",
		From: "common practice for the process"},
	{Path: "process.min_feature", Kind: Length, lo: fixed(0.1), hi: fixed(5),
		slot: ofProcess(func(p *Process) *float64 { return &p.MinFeature }),
		Doc:  "Narrowest slot, rib or engraved stroke that can be made.",
		From: "common practice for the process"},
	{Path: "process.min_hole", Kind: Length, hi: fixed(10),
		slot: ofProcess(func(p *Process) *float64 { return &p.MinHole }),
		Doc:  "Narrowest upright hole that comes out open; a narrower one is drilled through afterwards.",
		From: "assumed: milled 0.5 mm, resin 0.6, all others 1.2; print a coupon with holes"},
	{Path: "process.draft", Kind: Angle, hi: fixed(10),
		slot: ofProcess(func(p *Process) *float64 { return &p.Draft }),
		Doc:  "Draft per side on faces that slide apart.",
		From: "common practice"},
	{Path: "process.flatness", Kind: Length, hi: fixed(2), usual: unsuspected,
		slot: ofProcess(func(p *Process) *float64 { return &p.Flatness }),
		Doc:  "Waviness of one mating face as made: mm from peak to valley over any 100 mm of it.",
		From: "milled 0.02 mm (usual 0.01 to 0.05), lapped filament 0.05 (0.02 to 0.08), resin 0.12 (0.05 to 0.3): common practice; filament, custom 0.25: 0.16 to 0.20 measured over 67.5 mm (Turek, Bazan, Bulicz, Machines 13(1) 9, 2025), assumed to grow with length"},
	{Path: "process.lapped_flatness", Kind: Length, hi: fixed(2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Process.LappedFlatness }, func(j *Job) float64 {
			return min(preset(j.Process.Name).LappedFlatness, j.Process.Flatness)
		}),
		Doc:  "The same over 100 mm after lapping the face on abrasive over a flat plate.",
		From: "assumed: milled 0.01 mm, resin 0.04, all others 0.05; never worse than process.flatness"},
	{Path: "process.roughness", Kind: Length, hi: fixed(0.2), usual: unsuspected,
		slot: ofProcess(func(p *Process) *float64 { return &p.Roughness }),
		Doc:  "Roughness Ra of a mating face, in mm or um.",
		From: "filament, custom 0.013 mm: 12.7 to 13.8 um measured (Turek, Bazan, Bulicz, 2025); milled 0.0016, lapped filament and resin 0.003: common practice"},
	{Path: "process.tolerance", Kind: Length, hi: fixed(2),
		slot: ofProcess(func(p *Process) *float64 { return &p.Tolerance }),
		Doc:  "By how much a length of the mold may come out larger or smaller.",
		From: "common practice for the process"},
	{Path: "process.edge", Kind: Length, hi: fixed(2),
		slot: ofProcess(func(p *Process) *float64 { return &p.Edge }),
		Doc:  "Size of the break or rounding of edges: the least channel that stays where two parting lines meet.",
		From: "common practice for the process"},
	{Path: "process.modulus", Kind: Stress, lo: fixed(0.1e9), hi: fixed(400e9),
		slot: ofProcess(func(p *Process) *float64 { return &p.Modulus }),
		Doc:  "Modulus of elasticity of the mold's material, as it was made.",
		From: "milled 68.9 GPa (aluminum 6061-T6); all others 2 GPa, common practice for printed plastic"},
	{Path: "process.bearing", Kind: Stress, lo: fixed(1e6), hi: fixed(2e9),
		slot: ofProcess(func(p *Process) *float64 { return &p.Bearing }),
		Doc:  "Pressure that the mold's material stands for good under a bolt's head.",
		From: "assumed, cautious: milled 150 MPa (aluminum), all others 15 MPa (printed plastic)"},
	{Path: "process.density", Kind: Density, lo: fixed(0.1), hi: fixed(9),
		slot: ofProcess(func(p *Process) *float64 { return &p.Density }),
		Doc:  "Density of the mold's material, solid; what an infill saves follows from printing.fill.",
		From: "milled 2.7 g/cm3 (aluminum 6061); resin 1.15, all others 1.24 (PLA, solid), from memory"},
	{Path: "process.softening", Kind: Temperature, lo: fixed(30), hi: fixed(1500),
		slot: ofProcess(func(p *Process) *float64 { return &p.Softening }),
		Doc:  "Temperature from which the mold's material gives under light loads: where a plastic turns from glass to rubber.",
		From: "from memory, cautious: resin 60 C, all others 57 C (PLA), milled 580 C (aluminum 6061 begins to melt)"},
}
