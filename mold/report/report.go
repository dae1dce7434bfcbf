// Package report prints what is known of a mold, as text for the bench and as
// JSON for programs.
//
// It computes nothing but other units: every number comes with its method from
// the packages that found it. The JSON carries a version; within one version
// keys are only added. Units stand at the end of the keys.
package report

// Version is the version of the JSON. Since 2 the pour has batches.
const Version = 2

// Check is what is known of a mold without meshing it.
type Check struct {
	Version  int      `json:"version"`
	Program  string   `json:"program"`
	File     string   `json:"job_file"`
	Job      string   `json:"job"`
	Warnings []string `json:"warnings"`
	Wheel    Wheel    `json:"wheel"`
	Process  string   `json:"process"`
	Split    string   `json:"split"`
	Segments int      `json:"segments"` // pieces around the axis; 1: a cup
	Outline  Outline  `json:"outline"`
	Mating   Mating   `json:"mating"`
	Coats    Coats    `json:"coats"`
	Hardware Hardware `json:"hardware"`
	Scars    Scars    `json:"scars"`
	Pieces   []Piece  `json:"pieces"`
	Rubber   Rubber   `json:"rubber"`
	Pour     Pour     `json:"pour"`
	Flash    *Flash   `json:"flash"`
	Release  *Release `json:"release,omitempty"` // absent where it was not judged
	// Printing is null where nothing is printed.
	Printing *Printing `json:"printing"`
	// Machining is null where everything is printed.
	Machining *Machining `json:"machining"`
	Effort    *Effort    `json:"effort"`            // likewise
	Opening   *Opening   `json:"opening,omitempty"` // absent where it was not reckoned
	Service   *Service   `json:"service,omitempty"` // likewise
	// Worth is null where not all pieces are priced.
	Worth *Worth `json:"worth"`
	// Calibrated tells what casts have taught; empty without.
	Calibrated string `json:"calibrated,omitempty"`

	around  string // what the pieces around the axis are called
	onTread bool   // the parting line runs around the middle of a crown
}

// Wheel is the finished wheel.
type Wheel struct {
	Diameter float64 `json:"diameter_mm"`
	Width    float64 `json:"width_mm"`
	FaceUp   string  `json:"face_up"`            // which of its faces is up during the pour
	Cavity   float64 `json:"cavity_diameter_mm"` // with the allowance for shrinkage
}

// Outline is what the assembled mold takes.
type Outline struct {
	Shape string     `json:"shape"`
	Size  [3]float64 `json:"size_mm"`
}

// Hardware is what to buy for the mold. A size is empty where there is none.
type Hardware struct {
	Bolts     int     `json:"bolts"` // along the axis
	BoltSize  string  `json:"bolt_size"`
	BoltMM    float64 `json:"bolt_length_mm"` // least, under the head, to fill the nut; of the longest
	BoltNM    float64 `json:"bolt_torque_nm"`
	Side      int     `json:"side_bolts"` // across the shells
	SideSize  string  `json:"side_bolt_size"`
	SideMM    float64 `json:"side_bolt_length_mm"`
	SideNM    float64 `json:"side_bolt_torque_nm"`
	StrapN    float64 `json:"strap_n"` // tension of a band around the shells; 0: none
	Jacks     int     `json:"jack_screws"`
	JackSize  string  `json:"jack_screw_size"`
	Balls     []Balls `json:"balls"`
	Seal      string  `json:"seal"`
	SealMM    float64 `json:"seal_gap_mm"`
	SideClamp string  `json:"side_clamp"`
	// Lengths are the bolts along the axis by their least lengths, the longest first.
	Lengths []BoltLength `json:"bolts_by_length"`
	// JackLengths are the jack screws by their least lengths, in the order of the layout.
	JackLengths []BoltLength `json:"jack_screws_by_length"`

	well float64 // depth of the cross bolts' heads below the outer face, mm
}

// BoltLength is so many bolts or jack screws of a length under the head.
type BoltLength struct {
	Count  int     `json:"count"`
	Length float64 `json:"length_mm"`
}

// Balls are locating balls of one standard size.
type Balls struct {
	Count    int     `json:"count"`
	Diameter float64 `json:"diameter_mm"`
}

// Scars are the stubs of gates and vents to cut off.
type Scars struct {
	Hidden  int     `json:"hidden"`   // under the cover
	Visible int     `json:"visible"`  // beside it
	Cover   float64 `json:"cover_mm"` // 0: none stated
	Trim    float64 `json:"trim_mm"`  // height of rubber to cut off all of the top face
}

// Piece is one piece as it leaves the machine and lies on the bed. The mesh's
// figures are there after a build only.
type Piece struct {
	Name      string     `json:"name"`
	Size      [3]float64 `json:"size_mm"`
	Volume    float64    `json:"volume_mm3"` // line integrals over the exact boundary
	Triangles int        `json:"triangles,omitempty"`
	Mesh      float64    `json:"mesh_volume_mm3,omitempty"`
}

// Rubber is the volume of the rubber in the wheel, found in independent ways.
// The mesh's figures are there after a build only.
type Rubber struct {
	ClosedForm float64 `json:"closed_form_mm3"`
	Boundary   float64 `json:"boundary_mm3"`
	Mesh       float64 `json:"mesh_mm3,omitempty"`
	MeshBias   float64 `json:"mesh_bias_mm3,omitempty"` // by which the mesh's tolerance lets it differ
}

// Build is what is known of a mold after making and writing it.
type Build struct {
	Check
	Tolerance float64 `json:"tolerance_mm"`
	Closure   Closure `json:"closure"`
	Folder    string  `json:"folder"`
	Files     []File  `json:"files"`
}

// Closure tells how well the parts add up to the block, relative to it.
type Closure struct {
	Block      float64  `json:"block_mm3"`
	Clearances float64  `json:"clearances_mm3"` // what no part fills
	Coats      float64  `json:"coats_mm3"`      // of sealer
	Exact      float64  `json:"exact_residue"`
	Meshes     *float64 `json:"mesh_residue,omitempty"` // absent unless every part was meshed
}

// File is one file that was written.
type File struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}
