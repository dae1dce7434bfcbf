package machining

import (
	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/params"
)

// Plan is how the pieces that a mill or lathe makes can be cut.
type Plan struct {
	Pieces   []Piece // in the mold's order; none where everything is printed
	Simpler  *Change // an outline of the mold that takes fewer set-ups; nil: none was found
	Assumed  []string
	Warnings params.Faults
}

// By is the machine that makes a piece.
type By string

// Machines.
const (
	Milled By = "milled"
	Turned By = "turned"
)

// Piece is what a shop finds when it looks at one piece as it leaves the machine.
type Piece struct {
	Name    string
	Kind    mold.Kind
	By      By
	Surface float64 // of all its faces, exact, mm²
	Drilled int     // holes, but for those on a lathe's axis, which are turned with the rest

	// SetUps are the clampings on the job's own mill, or lathe. Plain and Indexed are
	// how many a plain and an indexing mill need; of a turned piece both are as many.
	SetUps  []SetUp
	Plain   int
	Indexed int

	Hidden  []Hidden
	Tight   []Concave // inner radii that none of the cutters makes, the smallest first
	Concave *Concave  // the smallest inner radius of all; nil where there is none
	Deep    []Deep
	Thin    []Thin
	Corners []Corner
}

// SetUp is one clamping.
type SetUp struct {
	Name string // "from the parting face, the lower end"
	// From are the directions in which the tool is fed while the piece stays clamped.
	From []Direction
	// Axis about which the piece is turned between them; zero on a plain mill. On a lathe
	// it is the axis of the spindle.
	Axis mesh.Vec
}

// Direction is one from which a tool comes.
type Direction struct {
	Name string   // "the parting face"
	Dir  mesh.Vec // from the piece toward the tool, of length 1, in the mold's frame
}

// Change is what a builder may change so that a finding goes away.
type Change struct {
	Key     string   // of the job; "" where no single value does it
	Value   string   // as it is
	Allowed string   // what would do
	Hint    string   // in words, also what the shop can do instead
	With    []string // other keys that take part
	Usual   bool     // shops do as the hint says unasked: listed, not warned of
}

// Hidden is what no declared direction reaches of faces of the same roles that the same
// change brings into reach.
type Hidden struct {
	Roles  []string
	Count  int      // faces
	Shapes []string // of theirs: "plane", "cylinder", "cone", "torus", "sphere"
	Area   float64  // hidden, mm²
	Error  float64  // standard error of Area, mm²
	Of     float64  // the faces' own area, exact, mm²
	At     mesh.Vec // a hidden point of the largest
	// Reaches are directions that would reach all of it; empty for undercuts.
	Reaches []Direction
	Change  Change
}

// Concave is an inner radius.
type Concave struct {
	Roles  []string
	Count  int // faces alike
	Shape  string
	Radius float64 // mm, exact
	Along  bool    // a corner of a pocket: the tool stands along it; else it runs across
	Depth  float64 // mm that the tool goes down beside the wall there; 0 across
	At     mesh.Vec
	// Cutter is the largest that makes it; nil: none does, and Left is how much the
	// smallest that gets there leaves standing at most, mm (0 where none gets there).
	Cutter *params.Cutter
	Left   float64
	Change Change
}

// Sort of a deep place.
type Sort string

// Sorts of deep places.
const (
	Hole        Sort = "hole"        // drilled
	Counterbore Sort = "counterbore" // a step of a hole with a flat floor, for an end mill
	Wall        Sort = "wall"        // beside which the tool goes down
	Slot        Sort = "slot"        // between two walls
)

// Deep is a hole, counterbore, wall or slot that is deeper than drills or cutters reach.
type Deep struct {
	Sort     Sort
	Name     string // of a hole or counterbore
	Roles    []string
	Count    int     // of those alike
	Depth    float64 // mm
	Diameter float64 // of a hole or counterbore; width of a slot; 0 of a wall, mm
	Reach    float64 // of the drill, of the best cutter that fits or of a counterbore with a pilot, mm; 0: none fits
	At       mesh.Vec
	Change   Change
}

// Ratio is depth over diameter; 0 of a wall.
func (d *Deep) Ratio() float64 {
	if d.Diameter == 0 {
		return 0
	}
	return d.Depth / d.Diameter
}

// Thin is a wall between two faces.
type Thin struct {
	Roles     []string // of both faces
	Thickness float64  // least, mm, measured through the solid
	Height    float64  // that it stands out; 0 where it does not stand free
	Angle     float64  // degrees between the faces of a sharp edge, which has no thickness; 0 of a wall
	Length    float64  // of such edges together, mm
	At        mesh.Vec
	Change    Change
}

// CornerSort is how an inner corner lies to the tool.
type CornerSort string

// Sorts of inner corners.
const (
	Upright CornerSort = "along the tool"        // no cutter makes it
	Square  CornerSort = "on a flat floor"       // a flat end makes it
	Sloped  CornerSort = "on a sloped floor"     // a ball end leaves its radius
	Obtuse  CornerSort = "obtuse"                // a chamfer mill or a boring bar makes it
	Outline CornerSort = "on the outside"        // nothing sits in it: the tool's radius may stay
	Lathe   CornerSort = "turned"                // the tool's nose leaves its radius
	Drilled CornerSort = "at a drill's bottom"   // the drill's or cutter's own shape
	Beyond  CornerSort = "out of the tool's way" // in what is hidden
)

// Corner is where two faces meet in a sharp inner edge, all those of one sort and of the
// same roles together.
type Corner struct {
	Sort   CornerSort
	Roles  []string // of both faces
	Around bool     // they run around the wheel's axis, between faces that turn about it
	Count  int      // edges
	Length float64  // of all, mm
	Depth  float64  // mm that the tool goes down beside the deepest; 0 where it does not matter
	Radius float64  // that the cutter leaves in it, mm: 0 none
	At     mesh.Vec // the middle of the longest
	Change Change
}
