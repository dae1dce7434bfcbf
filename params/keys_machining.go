package params

import (
	"fmt"
	"strings"
)

// Mills.
const (
	MillPlain    = "plain"    // cuts from one direction in each clamping
	MillIndexing = "indexing" // turns the clamped piece between cuts, about an axis along it
)

// Directions from which pieces are cut.
const (
	FromBoth          = "both faces"
	FromAll           = "all sides"
	FromInsideAndEnds = "inside and ends"
	FromInside        = "inside"
)

// Milled reports whether the mold is milled.
func (j *Job) Milled() bool { return j.Process.Kind == Milled }

// standardCutters are end mills that most shops have, the largest first: diameter,
// reach and corner radius in mm. Reaches are 3 to 4 diameters: common practice.
var standardCutters = []Cutter{{16, 50, 0}, {10, 35, 0}, {6, 24, 0}, {4, 16, 0}, {3, 12, 0}, {10, 40, 5}, {6, 25, 3}, {3, 12, 1.5}, {2, 8, 1}}

func cutters(j *Job) *[]Cutter { return &j.Machining.Cutters }

// cutter is the standard one of a place in the list, the last for those beyond.
func cutter(i int) Cutter { return standardCutters[min(i, len(standardCutters)-1)] }

// SlotCorner is the radius in mm that a milled pocket of the given depth has in its
// inner corners, where its outline is free to be round: that of the largest flat end that
// reaches the depth and whose corner takes at most a share of the pocket's narrowest
// width, made rounder by CornerMargin, so that the cutter rolls around the corner
// instead of stopping in it. A ball end would leave its radius on the floor, too. 0 where nothing is milled or no cutter fits.
func (j *Job) SlotCorner(depth, width float64) float64 {
	if !j.Milled() {
		return 0
	}
	const most = 0.8 // of the width, so that the pocket keeps a flat floor
	best := 0.0
	for _, c := range j.Machining.Cutters {
		r := c.Diameter / 2 * (1 + j.Machining.CornerMargin)
		if c.CornerRadius == 0 && c.Reach >= depth && 2*r <= most*width {
			best = max(best, r)
		}
	}
	return best
}

// judgeCutters: a corner is no rounder than the cutter.
func (c *judge) judgeCutters() {
	for i, k := range c.Machining.Cutters {
		if k.CornerRadius > k.Diameter/2+slack {
			path := fmt.Sprintf("machining.cutter[%d].", i+1)
			c.refuse(path+"corner_radius", upTo(k.Diameter/2), "a ball end is half the cutter's diameter", path+"diameter")
		}
	}
}

// judgeFits: a class that the standard's table does not hold for the diameter cannot be
// put on a drawing.
func (c *judge) judgeFits() {
	h := &c.Hub
	for _, f := range []struct {
		diameter float64
		path     string
		class    string
		with     string
	}{
		{h.Bore, "hub.fit", h.Fit, "hub.bore"},
		{h.Seat.Diameter, "hub.fit", h.Fit, "hub.seat.diameter"},
		{h.BearingBack.Diameter, "hub.bearing_fit", h.BearingFit, "hub.bearing_back.diameter"},
		{h.BearingFront.Diameter, "hub.bearing_fit", h.BearingFit, "hub.bearing_front.diameter"},
	} {
		if f.diameter <= 0 || strings.HasPrefix(f.class, "H") {
			continue // of an H beyond the table only the drawing's general tolerance is left
		}
		if _, _, err := Fit(f.diameter, f.class); err != nil {
			c.refuse(f.path, `"H6", "H7" or "H8"`, "no limits are known for "+f.class+" on "+mm(f.diameter)+"; the tables hold more than 10 mm, up to 120 mm", f.with)
		}
	}
}

// warnMachining: figures of a shop that nothing reads.
func (c *judge) warnMachining() {
	c.warnIdle(!c.Milled(), "the mold is printed", "machining.mill", "machining.plates_from", "machining.shells_from", "machining.corner_margin",
		"machining.register_fit", "machining.rate", "machining.finishing", "machining.stock_price")
	c.warnIdle(c.Hub.Printed(), "the hub is printed", "machining.turning_rate", "hub.stock_price")
}

// GeneralTolerance is the ± on a length in mm without a tolerance of its own, in mm, of
// ISO 2768-1:1989, table 1, from memory of the standard. Beyond 2000 mm the row up to
// 2000 mm counts.
func GeneralTolerance(length float64, class string) float64 {
	for _, r := range generalTolerances {
		if length <= r.upTo {
			return r.of(class)
		}
	}
	return generalTolerances[len(generalTolerances)-1].of(class)
}

type generalTolerance struct{ upTo, fine, medium, coarse float64 }

var generalTolerances = []generalTolerance{
	{3, 0.05, 0.1, 0.2},
	{6, 0.05, 0.1, 0.3},
	{30, 0.1, 0.2, 0.5},
	{120, 0.15, 0.3, 0.8},
	{400, 0.2, 0.5, 1.2},
	{1000, 0.3, 0.8, 2},
	{2000, 0.5, 1.2, 3},
}

func (r generalTolerance) of(class string) float64 {
	switch class {
	case "fine":
		return r.fine
	case "coarse":
		return r.coarse
	}
	return r.medium
}

// holeFits are classes of ISO 286 that Fit knows for holes over the range of hubs.
var holeFits = []string{"H6", "H7", "H8", "K6", "K7", "M6", "M7", "N6", "N7", "P6", "P7", "R6", "R7"}

// shopRate is a default that makes small shops and builders at their own mill alike: a
// rate per hour that includes the machine. Assumed.
const shopRate = 60

// mostReach is how deep any cutter may get, mm.
const mostReach = 300

// machiningKeys are the shop. All rates and prices are assumed, for a builder to replace
// by a quotation.
var machiningKeys = []Key{
	{Path: "machining.mill", Kind: Word, Options: []string{MillPlain, MillIndexing},
		slot: in(func(j *Job) *string { return &j.Machining.Mill }, always(MillIndexing)),
		Doc:  "Mill that cuts the pieces: plain, from one direction in each clamping; or indexing, which turns the clamped piece to all directions around one axis.",
		From: "assumed: most shops have an indexing head"},
	{Path: "machining.plates_from", Kind: Word, Options: []string{FromBoth, FromInside},
		slot: in(func(j *Job) *string { return &j.Machining.PlatesFrom }, always(FromBoth)),
		Doc:  "Faces from which base, lid and other plates are cut; inside is the one that faces the rubber.",
		From: "bolt heads and sprue open to the outside"},
	{Path: "machining.shells_from", Kind: Word, Options: []string{FromAll, FromInsideAndEnds, FromInside},
		slot: in(func(j *Job) *string { return &j.Machining.ShellsFrom }, always(FromAll)),
		Doc:  "Faces from which shells and halves are cut: inside is the parting face with the cavity, the ends lie across the wheel's axis.",
		From: "shells carry features on every face"},
	{Path: "machining.cutter", Kind: Tables, hi: fixed(40),
		slot: tables(cutters, always(len(standardCutters))),
		Doc:  "End mills of the shop. \"cutter = []\" under [machining] asks for none.",
		From: "a common set: flat 16, 10, 6, 4 and 3 mm, ball ends of 10, 6, 3 and 2 mm"},
	{Path: "machining.cutter.diameter", Kind: Length, lo: fixed(0.2), hi: fixed(100), usual: unsuspected,
		slot: inTable(cutters, func(c *Cutter) *float64 { return &c.Diameter }, func(_ *Job, i int) float64 { return cutter(i).Diameter }),
		Doc:  "Diameter of the cutter.",
		From: "the common set, in its order"},
	{Path: "machining.cutter.reach", Kind: Length, lo: fixed(0.2), hi: fixed(mostReach), usual: unsuspected,
		slot: inTable(cutters, func(c *Cutter) *float64 { return &c.Reach }, func(j *Job, i int) float64 {
			if d := j.Machining.Cutters[i].Diameter; d != cutter(i).Diameter {
				return min(tenth(4*d), mostReach)
			}
			return cutter(i).Reach
		}),
		Doc:  "Depth to which the cutter gets beside a wall before its holder touches.",
		From: "the common set; 4 diameters of any other cutter, at most 300 mm: common practice"},
	{Path: "machining.cutter.corner_radius", Kind: Length, hi: fixed(50), usual: unsuspected,
		slot: inTable(cutters, func(c *Cutter) *float64 { return &c.CornerRadius }, func(j *Job, i int) float64 {
			if d := j.Machining.Cutters[i].Diameter; d != cutter(i).Diameter {
				return 0
			}
			return cutter(i).CornerRadius
		}),
		Doc:  "Radius of the cutter's corners: 0 of a flat end, half the diameter of a ball end.",
		From: "the common set; any other cutter has a flat end"},
	{Path: "machining.corner_margin", Kind: Share, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Machining.CornerMargin }, always(0.1)),
		Doc:  "By how much the inner corners of pockets are rounder than the cutter.",
		From: "common practice: a tenth, so that the cutter rolls around the corner and does not chatter in it"},
	{Path: "machining.general_tolerance", Kind: Word, Options: []string{"fine", "medium", "coarse"},
		slot: in(func(j *Job) *string { return &j.Machining.GeneralTolerance }, always("medium")),
		Doc:  "Class of ISO 2768-1 for lengths that carry no tolerance of their own.",
		From: "the class that most shops work to"},
	{Path: "machining.register_fit", Kind: Word, Options: []string{"h6", "h7", "h8", "h9"},
		slot: in(func(j *Job) *string { return &j.Machining.RegisterFit }, always("h7")),
		Doc:  "ISO 286 class of a register's diameter, which is the opening's less the register's clearance.",
		From: "common practice for plugs that locate by hand"},
	{Path: "machining.allowance", Kind: Length, hi: fixed(50), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Machining.Allowance }, always(2.0)),
		Doc:  "Stock that is milled off each face of a blank.",
		From: "common practice for sawn plate: 2 mm"},
	{Path: "machining.blank_step", Kind: Length, lo: fixed(0.1), hi: fixed(50), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Machining.BlankStep }, always(5.0)),
		Doc:  "Step in which plate is sold by thickness and bar by diameter: blanks are taken up to the next one.",
		From: "common metric stock: 5 mm"},
	{Path: "machining.rate", Kind: Volume, lo: fixed(0.1), hi: fixed(5000),
		slot: in(func(j *Job) *float64 { return &j.Machining.Rate }, always(20.0)),
		Doc:  "Chips that the mill takes off in a minute of roughing.",
		From: "assumed: 20 cm3 of aluminum on a small mill; large ones do ten times that"},
	{Path: "machining.finishing", Kind: Time, hi: fixed(7200),
		slot: in(func(j *Job) *float64 { return &j.Machining.Finishing }, always(180.0)),
		Doc:  "Time to finish 100 cm2 of a face.",
		From: "assumed: 3 min, between 1 min of flat faces and 10 min of curved ones"},
	{Path: "machining.set_up", Kind: Time, hi: fixed(24 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Machining.SetUp }, always(1200.0)),
		Doc:  "Time to clamp, align and measure a piece once.",
		From: "assumed: 20 min"},
	{Path: "machining.hole_time", Kind: Time, hi: fixed(7200),
		slot: in(func(j *Job) *float64 { return &j.Machining.HoleTime }, always(45.0)),
		Doc:  "Time for a hole or pocket, with its share of tool changes.",
		From: "assumed: 45 s"},
	{Path: "machining.programming", Kind: Time, hi: fixed(7 * 24 * 3600),
		slot: in(func(j *Job) *float64 { return &j.Machining.Programming }, always(2700.0)),
		Doc:  "Time to program a piece for the machine; once for shells that are alike.",
		From: "assumed: 45 min from a STEP file"},
	{Path: "machining.turning_rate", Kind: Volume, lo: fixed(0.1), hi: fixed(5000),
		slot: in(func(j *Job) *float64 { return &j.Machining.TurningRate }, always(30.0)),
		Doc:  "Chips that the lathe takes off the hub in a minute.",
		From: "assumed: 30 cm3 of plastic"},
	{Path: "machining.hourly_rate", Kind: Number, hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Machining.HourlyRate }, always(float64(shopRate))),
		Doc:  "Price of an hour of the shop, machine included, in your currency; 0: your own time counts nothing.",
		From: "assumed: 60, a small shop; ask for a quotation"},
	{Path: "machining.stock_price", Kind: Number, hi: fixed(100000),
		slot: in(func(j *Job) *float64 { return &j.Machining.StockPrice }, always(12.0)),
		Doc:  "Price of a kilogram of the mold's material, cut to size, in your currency.",
		From: "assumed: 12 for aluminum plate"},
}
