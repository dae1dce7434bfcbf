package params

// Job is a complete job: every value resolved, lengths in mm, angles in
// degrees, masses in g, volumes in cm³, densities in g/cm³, times in s,
// viscosities in Pa·s, torques in N·m, forces in N, stresses in Pa, surface
// tensions in N/m, temperatures in °C, expansions in 1/K, shares as fractions.
//
// The wheel has a back and a front face; positions along the axis are measured
// from the back face of the tread. By default the front carries the sprocket,
// is covered by it, and is poured up (Mold.FaceUp).
type Job struct {
	Name      string
	Wheel     Wheel
	Hub       Hub
	Mold      Mold
	Pour      Pour
	Process   Process
	Printing  Printing
	Machining Machining
	Duty      Duty
	Worth     Worth
	// Calibration is what the builder's own casts say of the predictions.
	Calibration Calibration
}

// Wheel is the finished wheel's tread.
type Wheel struct {
	Diameter float64 // in the middle of the width
	Width    float64
	Edge     string  // "round", "chamfer" or "square": both outer edges of the tread
	EdgeSize float64 // radius of the round, or leg of the 45° chamfer
	Crown    float64 // how much the radius in the middle exceeds that at the edges
	Draft    float64 // degrees by which the surface leans out toward the face that is up in the mold
	Grooves  []Groove
	Cross    CrossGrooves
}

// Groove runs around the tread, or around the hub core as an undercut that
// holds the rubber.
type Groove struct {
	Shape    string  // "rectangular" or "half-round"
	Position float64 // of its middle, from the back face of the tread (hub: of the hub)
	Width    float64
	Depth    float64 // half-round: always Width/2
}

// CrossGrooves run across the tread, evenly around; the blocks between are lugs.
type CrossGrooves struct {
	Count int
	Width float64 // at the bottom
	Depth float64 // below the surface in the middle of the width
	Flank float64 // degrees each flank leans outward
}

// Hub is the hard core that stays in the wheel.
type Hub struct {
	Material         string // "nylon", "acetal", "printed"
	Length           float64
	Offset           float64 // of the hub's back face from the tread's, positive into the tread
	BodyDiameter     float64
	FlangeDiameter   float64 // end flanges on both ends; equal to BodyDiameter: none
	FlangeThickness  float64
	Grooves          []Groove
	Bore             float64
	BearingBack      Pocket // diameter 0: none
	BearingFront     Pocket
	Seat             Seat
	Bolts            BoltCircle
	LockHoles        LockHoles
	HoleCompensation float64 // added to the diameter of what must fit something, where the hub is made
	CoverDiameter    float64 // of the sprocket or guard over the face that is up; 0: nothing covers it
	LengthTolerance  float64 // ± on Length as made
	Moisture         float64 // linear growth that moisture may add between measuring and casting
	Flatness         float64 // waviness of an end face, peak to valley over 100 mm
	Roughness        float64 // Ra of an end face
	Density          float64
	Softening        float64 // °C from which it gives under light loads
	Fit              string  // ISO 286 class of bore and seat
	BearingFit       string  // of the bearing pockets
	StockPrice       float64 // of a kilogram of what it is turned from, in the builder's currency
	Bond             float64 // Pa of shear that the rubber's bond to it stands
	Sprocket         Sprocket
}

// Sprocket is what is bolted to the hub.
type Sprocket struct {
	Chain string // ISO 606: "04C", "06C", "08A", or "none"
	Teeth int
}

// Printed tells whether the hub comes off a printer.
func (h *Hub) Printed() bool { return h.Material == "printed" }

// Pocket is a round recess in an end face.
type Pocket struct{ Diameter, Depth float64 }

// Seat is the recess that centers the sprocket; bearing pockets lie at its bottom.
type Seat struct {
	Side     string // "front", "back" or "none"
	Diameter float64
	Depth    float64
}

// BoltCircle is a circle of through holes along the axis.
type BoltCircle struct {
	Count  int
	Circle float64 // diameter of the circle
	Hole   float64 // diameter of a hole
}

// LockHoles are blind radial holes in the hub's bond surface that the rubber fills.
type LockHoles struct {
	Count    int
	Diameter float64
	Depth    float64 // from the body's surface
	Position float64 // from the hub's back face
}

// Mold is what is asked of the mold.
type Mold struct {
	Split         string  // SplitFour, SplitOpen, SplitClam or SplitCup
	Segments      int     // pieces around the axis; 1: the split has no parting line along it
	FaceUp        string  // wheel face that is up during the pour: "front" or "back"
	Outline       string  // "square", "octagon" or "round"
	Size          float64 // side or diameter of the outline; 0: the smallest that holds everything
	Land          float64 // least width of mating face between cavity and any feature
	Wall          float64 // least wall between features, and to the outside
	BaseThickness float64
	LidThickness  float64
	RegisterBack  Register // on the piece that faces the hub's back
	RegisterFront Register
	Stack         Stack
	Balls         Balls
	Bolts         Bolts
	SideClamp     SideClamp
	Mating        Mating
	Coats         Coats
	Seals         Seals
	PrySlots      PrySlots
	Jacks         Jacks
	Sprue         Sprue
	Vents         Vents
	Ceiling       Ceiling
	TopAllowance  float64 // extra height of rubber on the face that is up, to trim
	Shrinkage     float64 // free linear shrinkage of the urethane, a fraction (0.003)
	Sizing        string  // what the cavity is sized for: "never small" or "expected"
	Engraving     Engraving
}

// Registers are the plugs at the lower and at the upper end of the hub as it is poured.
func (m *Mold) Registers() (lower, upper Register) {
	if m.FaceUp == "back" {
		return m.RegisterFront, m.RegisterBack
	}
	return m.RegisterBack, m.RegisterFront
}

// Register is a plug on base or lid that keys into an opening of the hub.
type Register struct {
	Opening    string  // "bore", "bearing", "seat" or "none"
	Engagement float64 // depth into the hub, from its end face
	Clearance  float64 // on the diameter; negative: interference
	LeadIn     float64 // 45° chamfer at its end
	Draft      float64 // degrees per side
}

// Stack is the room left along the axis between the mold's hub lands and the hub.
type Stack struct {
	Gap  float64 // how much shorter the hub is than the distance between the lands
	At   string  // "lower" or "upper": where the gap is, filled by the seal
	Seal string  // "gasket", "grease", "wax" or "none"
}

// Balls are standard bearing balls, each in two facing pockets.
type Balls struct {
	Diameter  float64 // ISO 3290
	Clearance float64 // of the pocket on the diameter
	Spare     float64 // by how much the depths of two pockets together exceed the ball, at least 0.2
	Offset    float64 // how far the odd ball of a parting line lies off the pattern
}

// Bolts clamp base, shells and lid along the axis, one in each corner.
type Bolts struct {
	Size string // "M3" … "M12", or "none"
	Fit  string // ISO 273: "fine", "medium" or "coarse"
	Head string // "socket" (ISO 4762 counterbore in the lid) or "none"
	Nut  string // recess in the base: "hex", "round" (for a socket wrench) or "none"

	Torque float64 // N·m on each; means nothing where Size is "none"
}

// SideClamp holds the shells against each other.
type SideClamp struct {
	Kind       string  // "counterbore", "lugs", "strap" or "none"
	Size       string  // of the bolts
	Grip       float64 // material that each bolt clamps in one shell
	StrapWidth float64
	StrapDepth float64
	Torque     float64 // N·m on each bolt; means nothing where Size is "none"
	StrapForce float64 // N of tension in the strap; means nothing without one
}

// Mating is how the pieces' faces meet in the closed mold.
type Mating struct {
	Feeler          float64 // thickest gauge that enters the closed, dry mold; 0: not measured
	FeelerBase      float64 // the same between base and shells
	FeelerLid       float64 // between lid and shells
	FeelerSides     float64 // between the shells
	Dirt            float64 // crumbs and old release left on each pair of faces
	ShellsFlatness  float64 // waviness of the shells' mating faces, peak to valley over 100 mm
	ShellsRoughness float64 // Ra
	PlatesFlatness  float64 // the same of base and lid
	PlatesRoughness float64 // Ra
	Stock           float64 // extra on each face that can be lapped, taken off by lapping
}

// Coats seal the cavity of a printed mold; they lie on what shapes the rubber, not
// on mating faces.
type Coats struct {
	Count     int
	Thickness float64 // of one, sanded
}

// Total is the thickness in mm of all coats together.
func (c Coats) Total() float64 { return float64(c.Count) * c.Thickness }

// Seals are what keeps the urethane out of the parting lines: "dry", "wiped",
// "grease", "wax", "cord", "bead", and outside the hub also "tape" or "clay".
type Seals struct {
	Base        string  // between base and shells
	Lid         string  // between lid and shells
	Sides       string  // between the shells
	Hub         string  // at the hub's end that Stack does not gap
	GreaseYield float64 // Pa, shear stress below which grease stays where it is
	WaxYield    float64 // Pa, the same of wax
	BeadHeight  float64 // of a crush bead before the mold is closed
}

// PrySlots are recesses across a parting line for a flat bar, in opposed pairs.
type PrySlots struct {
	Width, Depth, Height float64

	Bar  float64 // length of the flat bar, from the hand to the slot's outer edge
	Hand float64 // N on its end
}

// Jacks are tapped holes for screws that push the pieces apart.
type Jacks struct{ Size string } // "M4" … or "none"

// Sprue is one or several pour channels in the piece that is on top.
type Sprue struct {
	Count  int
	Gate   float64 // diameter at the cavity
	Mouth  float64 // diameter at the top
	Circle float64 // diameter of the circle on which the gates lie
	Angle  float64 // of the first, degrees from the +X axis
}

// Vents let the air out of the cavity.
type Vents struct {
	Count    int
	Diameter float64
	Circle   float64
}

// Ceiling is the top face of the cavity: flat, or coned up to the vents.
type Ceiling struct {
	Shape string // "flat" or "coned"
	Angle float64
}

// Engraving marks the pieces.
type Engraving struct {
	Depth float64 // 0: none
	Text  string  // beside the piece's own mark; the job's name by default
}

// Pour is the urethane, how it is mixed, poured and cured, and what it costs.
// Times count from the first mixing of A and B.
type Pour struct {
	PartsA, PartsB     float64 // ratio
	RatioBy            string  // what the ratio counts: "weight" or "volume"
	DensityA, DensityB float64
	Density            float64 // mixed, cured
	Hardness           float64 // Shore A, as cured
	Blend              Blend
	Pigment            float64 // share of the mass of A and B together, added to it
	PigmentLimit       float64 // above it pigment spoils the cure

	BatchMass float64 // most that is mixed at once; 0: what bucket and scale allow
	Waste     float64 // share that stays in bucket and on tools; 0: reckoned from Bucket
	Margin    float64 // spare, as a share of what is poured, flash included
	Bucket    Bucket
	Scale     Scale
	Kit       Kit

	Viscosity        float64 // Pa·s, freshly mixed, at SheetTemperature
	PotLife          float64 // s, at SheetTemperature
	Growth           float64 // times that Viscosity has grown by the end of PotLife
	GelTime          float64 // s until it no longer flows, at SheetTemperature
	Stir             float64 // s of stirring, in all vessels together
	Settle           float64 // s that the stirred mix stands, so that bubbles rise
	Start            float64 // s until the pour starts
	Duration         float64 // s that pouring a batch may take
	People           int     // at the bench: with two, the next batch is mixed while one is poured
	Funnel           float64 // height of urethane kept above the sprue's mouth while pouring
	Fill             float64 // height of the urethane in sprue and vents, above the cavity
	Tilt             float64 // degrees by which the mold leans while it is poured
	TiltToward       float64 // degrees from the +X axis, of the side that is raised
	SurfaceTension   float64 // N/m
	MoldTemperature  float64 // °C
	MixTemperature   float64 // °C, of the components in the bucket
	SheetTemperature float64 // °C, at which the data sheet states viscosity and times
	GelTemperature   float64 // °C, of the rubber in the mold when it gels
	Expansion        float64 // linear, of the rubber, 1/K
	Demold           float64 // s until it may be demolded, at SheetTemperature
	Cure             float64 // s until it is fully cured, at SheetTemperature
	Degas            string  // "none", "vacuum" (the mix in its bucket) or "pressure" (the mold while it cures)
	PotPressure      float64 // Pa above the air's, of a pressure pot
}

// Blend is a second urethane of the same family, mixed in for another hardness.
type Blend struct {
	With               float64 // its hardness, Shore A; 0: none
	Wanted             float64 // hardness of the blend, Shore A
	PartsA, PartsB     float64 // its own ratio, by weight or volume as Pour.RatioBy
	DensityA, DensityB float64
}

// Bucket is what the urethane is mixed in: a round vessel with an upright wall.
type Bucket struct {
	Volume   float64 // to the brim
	Diameter float64 // inside
	HeadRoom float64 // share of the volume that stays free for stirring
	Film     float64 // thickness of what stays on all that got wet
	Residue  float64 // depth of what stays on the bottom, instead of Film; 0: Film counts
	Paddle   float64 // width of the paddle
	Vessels  int     // clean vessels that each batch goes through
}

// Scale is what the components are weighed on.
type Scale struct {
	Resolution float64 // g
	Limit      float64 // g that it carries, vessel included; 0: not stated
}

// Kit is how the urethane is sold.
type Kit struct {
	Mass  float64 // of A and B together
	Price float64 // in the builder's currency
}

// Process is how the mold is made, with the figures that follow from it.
type Process struct {
	Name             string  // "milled", "filament", "lapped filament", "resin" or "custom"
	Kind             string  // Milled, Filament or Resin
	Clearance        float64 // on the diameter, for parts that slide together
	HoleCompensation float64 // added to the diameter of every drilled hole
	MinWall          float64
	MinFeature       float64 // narrowest slot or engraved stroke
	MinHole          float64 // narrowest upright hole that comes out open
	Draft            float64 // degrees
	Flatness         float64 // waviness of one mating face, peak to valley over 100 mm
	LappedFlatness   float64 // the same after lapping on abrasive over a flat plate
	Roughness        float64 // Ra of a mating face
	Tolerance        float64 // ± on a length of the mold
	Edge             float64 // size of the break or rounding of an edge
	Modulus          float64 // Pa, of elasticity, of the mold's material
	Bearing          float64 // Pa, allowed under a bolt's head
	Density          float64 // of the mold's material
	Softening        float64 // °C from which the mold's material gives under light loads
}

// Printing is the printer that makes the mold, the hub or both, and what is asked of it.
type Printing struct {
	BedX, BedY, BedZ float64 // room that it prints in
	Gap              float64 // least distance between two pieces on the bed
	Overhang         float64 // degrees from the vertical that need no supports
	Bridge           float64 // longest ceiling between walls that needs none
	Fill             string  // "solid" or "walled"
	Wall             float64 // of a walled piece, around its infill
	Infill           float64 // share of plastic within the walls
	Layer            float64 // thickness of a layer
	LayerTime        float64 // s for a layer of resin
	Rate             float64 // cm³ of filament in an hour
	Setup            float64 // s of each bed load before its first layer
}

// Machining is the shop that mills the mold and turns the hub: its cutters and set-ups,
// and what it asks for the work.
type Machining struct {
	Mill             string // MillPlain or MillIndexing
	PlatesFrom       string // directions from which plates are cut: FromBoth or FromInside
	ShellsFrom       string // the same of what lies around the axis: FromAll, FromInsideAndEnds or FromInside
	Cutters          []Cutter
	CornerMargin     float64 // share by which an inner corner is rounder than the cutter that makes it
	GeneralTolerance string  // class of ISO 2768-1 for lengths: "fine", "medium" or "coarse"
	RegisterFit      string  // ISO 286 class of a register's diameter
	Allowance        float64 // stock that is milled off each face of a blank
	BlankStep        float64 // step in which blanks are sold, for the thickness of plate and the diameter of bar
	Rate             float64 // cm³ of chips in a minute of roughing
	Finishing        float64 // s to finish 100 cm² of a face
	SetUp            float64 // s to clamp, align and measure a piece once
	HoleTime         float64 // s for a hole, change of tool included
	Programming      float64 // s to program a piece, once for all of its kind
	TurningRate      float64 // cm³ of chips in a minute of turning the hub
	HourlyRate       float64 // for an hour of the shop, in the builder's currency
	StockPrice       float64 // of a kilogram of the mold's material, cut to size
}

// Cutter is an end mill.
type Cutter struct {
	Diameter     float64
	Reach        float64 // depth to which it gets beside a wall
	CornerRadius float64 // radius of its corners; half the diameter: a ball end
}

// Duty is what the wheel is asked to do.
type Duty struct {
	Mass        float64 // of the whole robot or cart
	Share       float64 // of its weight on this wheel
	RPM         float64 // of the wheel, at most
	Friction    float64 // of tread on floor
	StallTorque float64 // N·m of the stalled drive at the wheel
	Impact      float64 // force of a hit, in multiples of the weight carried
}

// Worth is what decides between casting a wheel and buying one; prices in the builder's
// currency.
type Worth struct {
	BoughtPrice  float64 // of a wheel that would do; 0: not stated
	BoughtLife   float64 // in lives of the cast one
	Wheels       int     // good ones that are wanted
	Failures     float64 // share of casts that fail
	MoldLife     int     // casts
	Consumables  float64 // for each cast
	Hours        float64 // s of the builder's work on each cast
	HourPrice    float64 // 0: own work counts nothing
	PlasticPrice float64 // of a kilogram of what is printed
	PrinterPrice float64 // of an hour of the printer
	MoldPrice    float64 // of the whole mold without its hub; 0: reckoned
	HubPrice     float64 // of each hub; 0: reckoned
}

// Calibration holds ratios of measured to predicted.
type Calibration struct {
	Gap       float64
	Residue   float64
	Shrinkage float64
}
