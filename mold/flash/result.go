package flash

import (
	"slices"

	"wheelmold/mesh"
	"wheelmold/mold/urethane"
)

// Estimate is the flash of one mold. Until a cast confirms it, it is an estimate:
// most of its inputs are assumed.
type Estimate struct {
	Options Options
	Liquid  urethane.Liquid
	Stack   Stack
	Fill    float64 // height of the liquid over the tread's lower face, mm
	Feeler  float64 // mold.mating.feeler, mm; 0: not measured
	Poured  float64 // into the mold, without what it loses, g
	Lines   []Line
	Corners []Corner
	Flash   Band    // what stays in the joints of all lines, g
	Leak    Band    // what leaves the mold or gets into the hub, g
	Lost    Band    // both together, g
	Share   float64 // of Poured that is lost, expected
	Grade   Grade   // of the worst joint; flood where a tenth of Poured is lost
}

// Band is what the draws of the uncertain inputs give: 10 %, 50 % and 90 % of
// them lie below.
type Band struct{ P10, P50, P90 float64 }

// Widest is the parting line between pieces of the mold whose gap is expected to be the
// widest: there flash can be held and measured. Nil without lines.
func (e *Estimate) Widest() *Line {
	var out *Line
	for i := range e.Lines {
		l := &e.Lines[i]
		if !slices.Contains(l.Pieces, hubName) && (out == nil || l.Gap.Expected > out.Gap.Expected) {
			out = l
		}
	}
	return out
}

// Line is the estimate of one parting line.
type Line struct {
	Name      string
	Pieces    []string
	Seal      string
	SealKey   string  // the job's key of the seal
	Seam      float64 // length of the wetted edge, mm
	Land      Land
	Exits     []Exit
	Gap       Gap
	Head      [2]float64 // least and most along the seam, Pa
	Expected  Result
	Flash     Band // g
	Leak      Band
	Mass      float64 // g of flash and leak that half of the draws stay below
	Drips     float64 // chance that more than a drop leaves the mold
	Opening   float64 // chance that more than a drop gets where no rubber may be
	Grade     Grade
	Reason    string  // what dominates
	Change    *Change // the first that helps, in the order of the bench
	Best      *Change // another that helps more, nil if none does
	Tried     []Change
	Map       Map
	Clearance []Clearance
}

// Land is the width of mating face from the seam to the nearest way out, along
// the face, mm.
type Land struct {
	Least, Typical float64
	At             mesh.Vec // on the seam, where it is least
	Exit           string   // what is nearest there
}

// Exit is one kind of way out of a parting line.
type Exit struct {
	Kind  string
	Seam  float64 // length of the seam to which it is the nearest, mm
	Least float64 // least land to it, mm; 0 for a neighbor, which starts at the seam
}

// Result is one outcome in the units of the bench.
type Result struct {
	Gap       float64 // mm
	Capillary float64 // Pa, negative: pushes back
	Held      float64 // Pa, by grease or wax
	Mobility  float64 // 1/Pa
	Depth     float64 // of a straight front, mm
	Area      float64 // mm²
	Flash     float64 // g
	Leak      float64 // g
	Wet       bool    // the liquid gets to a way out
}

// Clearance is a round gap that belongs to a parting line at the hub.
type Clearance struct {
	Name        string
	Gap, Length float64 // mm
	Radius      float64
}

// Corner is the channel where three pieces meet.
type Corner struct {
	Pieces   []string
	From     mesh.Vec
	Length   float64 // mm
	Edge     float64 // size of the broken edges, mm
	Expected Result
	Flash    Band    // g
	Leak     Band    // g
	Mass     float64 // g of both that half of the draws stay below
}
