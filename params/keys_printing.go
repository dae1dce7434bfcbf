package params

// Kinds of process: what a mold is made on.
const (
	Milled   = "milled"
	Filament = "filament" // melted plastic, laid down in strands
	Resin    = "resin"    // liquid plastic, cured by light layer by layer
)

// Printed reports whether the mold is printed, of whichever plastic.
func (j *Job) Printed() bool { return j.Process.Kind != Milled }

// PrintsResin reports whether the job's printer cures resin: what is not milled is
// printed on one printer, and a printed hub in a milled mold is of filament.
func (j *Job) PrintsResin() bool { return j.Process.Kind == Resin }

// onPrinter is a default that depends on the printer.
func onPrinter[T any](filament, resin T) func(*Job) T {
	return func(j *Job) T {
		if j.PrintsResin() {
			return resin
		}
		return filament
	}
}

// processKind is the kind of a named process; a custom one counts as filament, whose
// figures it starts from.
func processKind(j *Job) string {
	switch j.Process.Name {
	case "milled":
		return Milled
	case "resin":
		return Resin
	}
	return Filament
}

// judgeProcess: a named process is of its own kind.
func (c *judge) judgeProcess() {
	if p := &c.Process; p.Name != "custom" && p.Kind != processKind(c.Job) {
		c.refuse("process.kind", `"`+processKind(c.Job)+`"`, "the figures of this process are of that kind; state the others under process.name = \"custom\"", "process.name")
	}
}

// warnPrinting: figures of a printer that nothing reads.
func (c *judge) warnPrinting() {
	c.warnIdle(!c.PrintsResin(), "the printer lays down filament", "printing.layer_time")
	c.warnIdle(c.PrintsResin(), "the printer cures resin", "printing.rate")
	c.warnIdle(c.Printing.Fill == "solid", "printing.fill is \"solid\"", "printing.wall", "printing.infill")
}

// printingKeys are the printer, and what is asked of it. All figures of printers
// are assumed, from common practice.
var printingKeys = []Key{
	{Path: "printing.bed_x", Kind: Length, lo: fixed(20), hi: fixed(3000),
		slot: in(func(j *Job) *float64 { return &j.Printing.BedX }, onPrinter(220.0, 140)),
		Doc:  "Width of the printer's bed that can be printed on.",
		From: "common printers: filament 220 mm, resin 140 mm; measure yours"},
	{Path: "printing.bed_y", Kind: Length, lo: fixed(20), hi: fixed(3000),
		slot: in(func(j *Job) *float64 { return &j.Printing.BedY }, onPrinter(220.0, 80)),
		Doc:  "Depth of the printer's bed that can be printed on.",
		From: "common printers: filament 220 mm, resin 80 mm; measure yours"},
	{Path: "printing.bed_z", Kind: Length, lo: fixed(20), hi: fixed(3000),
		slot: in(func(j *Job) *float64 { return &j.Printing.BedZ }, onPrinter(250.0, 160)),
		Doc:  "Height that the printer reaches.",
		From: "common printers: filament 250 mm, resin 160 mm; measure yours"},
	{Path: "printing.gap", Kind: Length, hi: fixed(100), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Printing.Gap }, always(8.0)),
		Doc:  "Least distance between two pieces on the bed.",
		From: "room for brims and for a scraper"},
	{Path: "printing.overhang", Kind: Angle, hi: fixed(89),
		slot: in(func(j *Job) *float64 { return &j.Printing.Overhang }, always(45.0)),
		Doc:  "How far a face may lean out over what lies below it without supports, from the vertical: 0 is an upright wall, 90 degrees a ceiling.",
		From: "common practice: half of each layer rests on the one below where that leans by 45 degrees"},
	{Path: "printing.bridge", Kind: Length, hi: fixed(200), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Printing.Bridge }, onPrinter(10.0, 4)),
		Doc:  "Longest level ceiling between two walls that needs no supports; 0: none.",
		From: "assumed: filament 10 mm, resin 4 mm"},
	{Path: "printing.fill", Kind: Word, Options: []string{"solid", "walled"},
		slot: in(func(j *Job) *string { return &j.Printing.Fill }, always("solid")),
		Doc:  "Mold pieces printed solid, or as walls around an infill; a printed hub is always solid.",
		From: "a solid piece gives least under its clamps, and no resin can enter it"},
	{Path: "printing.wall", Kind: Length, lo: fixed(0.2), hi: fixed(20), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Printing.Wall }, onPrinter(1.6, 2.0)),
		Doc:  "Thickness of the walls, floors and roofs around the infill of a walled piece.",
		From: "four strands of 0.4 mm; resin 2 mm"},
	{Path: "printing.infill", Kind: Share, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Printing.Infill }, onPrinter(0.25, 0.0)),
		Doc:  "Share of plastic within the walls of a walled piece.",
		From: "common practice: filament a quarter; resin hollow"},
	{Path: "printing.layer", Kind: Length, lo: fixed(0.005), hi: fixed(2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Printing.Layer }, onPrinter(0.2, 0.05)),
		Doc:  "Thickness of a layer.",
		From: "common practice: filament 0.2 mm, resin 0.05 mm"},
	{Path: "printing.layer_time", Kind: Time, hi: fixed(600),
		slot: in(func(j *Job) *float64 { return &j.Printing.LayerTime }, always(8.0)),
		Doc:  "Time that a resin printer takes for a layer, however much lies in it: exposure and lift.",
		From: "assumed: 8 s, some 2.5 s of exposure and the lift; filament goes by printing.rate"},
	{Path: "printing.rate", Kind: Volume, lo: fixed(0.1), hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Printing.Rate }, always(15.0)),
		Doc:  "Plastic that a filament printer lays down in an hour, on average over a print.",
		From: "assumed: 15 cm3, a nozzle of 0.4 mm at 0.2 mm layers; fast printers do twice that. Divide a finished print's volume by its hours"},
	{Path: "printing.setup", Kind: Time, hi: fixed(24 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Printing.Setup }, always(600.0)),
		Doc:  "Time of each bed load before its first layer: heating and leveling, or warming and stirring resin.",
		From: "assumed: 10 min"},
}
