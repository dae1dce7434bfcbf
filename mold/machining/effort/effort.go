package effort

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mold"
	"wheelmold/mold/inparallel"
	"wheelmold/params"
)

// Effort is what the shop does for one mold and its hub.
type Effort struct {
	Pieces  []Piece // in the mold's order; none where everything is printed
	Total   Sum
	Assumed []string // what times and prices rest on
}

// By is the machine that makes a piece.
type By string

// Machines.
const (
	Milled By = "milled"
	Turned By = "turned"
)

// Work is what the plan of a piece's machining counts.
type Work struct {
	SetUps int // clampings, of a milled piece those that begin with a squared blank
	Holes  int // drilled ones; what is turned or milled along with the rest is none
}

// Piece is one piece that is milled or turned.
type Piece struct {
	Name     string
	By       By
	Stock    Stock
	Volume   float64 // of the piece as it leaves the machine, exact, mm³
	Offcut   float64 // of the blank, sawn off in one part, mm³
	Removed  float64 // chips, mm³: blank less piece and offcut
	Finished float64 // area of its faces that are finished, exact, mm²; 0 of a turned one

	Rough   float64 // s; of a turned piece with its finishing cuts
	Finish  float64 // s
	SetUp   float64 // s
	Drill   float64 // s
	Program float64 // s; 0 of a piece that is alike to an earlier one

	Sum
}

// Sum is what one piece, or all of them, come to.
type Sum struct {
	Blanks    int
	StockMass float64 // of the blanks, kg
	ChipMass  float64 // of what is removed, kg
	Hours     float64 // of the shop, programming included, h
	Work      float64 // their price, in the builder's currency
	Material  float64 // price of the blanks
	Price     float64 // Work and Material
	Low, High float64 // where the work takes half or twice the time
}

// Spread is the factor by which a shop's hours may differ from the estimate: rates by
// volume and area know neither the shop's machine nor its way to clamp. Assumed.
const Spread = 2

// Of estimates the effort for the pieces that are not printed and that work names. Faces
// and volumes are those of the pieces as they leave the machine, by name
// (mold.Made.RawFaces, RawVolumes); work is what the plan of each piece counts, or nil: all
// pieces, and nothing is counted.
func Of(m *mold.Mold, faces map[string]*brep.Boundary, volumes map[string]float64, work map[string]Work) (*Effort, error) {
	var pieces []mold.Piece
	for _, x := range m.Pieces {
		if _, asked := work[x.Name]; !x.Printed(m.Job) && (asked || work == nil) {
			pieces = append(pieces, x)
		}
	}
	e := &Effort{Pieces: make([]Piece, len(pieces))}
	errs := make([]error, len(pieces))
	inparallel.Do(len(pieces), func(i int) {
		x := &pieces[i]
		e.Pieces[i] = Piece{Name: x.Name, Volume: volumes[x.Name]}
		if err := e.Pieces[i].cut(m.Job, x, faces[x.Name]); err != nil {
			errs[i] = fmt.Errorf("%s: %w", x.Name, err)
		}
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	for i := range pieces {
		p, w := &e.Pieces[i], work[pieces[i].Name]
		p.SetUp, p.Drill = float64(w.SetUps)*m.Job.Machining.SetUp, float64(w.Holes)*m.Job.Machining.HoleTime
		if p.By == Milled {
			p.SetUp += m.Job.Machining.SetUp // to square the blank
		}
		if pieces[i].Kind != mold.Shell || !slices.ContainsFunc(e.Pieces[:i], p.alike) {
			p.Program = m.Job.Machining.Programming
		}
		p.price(m.Job)
		e.Total.add(&p.Sum)
	}
	e.Assumed = e.assumptions(m.Job)
	return e, nil
}

// cut chooses the blank, and finds what the tool does to it.
func (p *Piece) cut(j *params.Job, x *mold.Piece, b *brep.Boundary) error {
	s, err := region.Of(b)
	if err != nil {
		return err
	}
	if x.Kind == mold.Hub {
		p.turn(j, s)
	} else {
		p.mill(j, x, s)
	}
	return nil
}

// mill takes a block, or a slice of a bar for a round plate where less of it is wasted,
// and cuts all around.
func (p *Piece) mill(j *params.Job, x *mold.Piece, s *region.Solid) {
	p.By = Milled
	p.Stock = blockFor(j, x, s)
	if x.Kind == mold.Plate {
		if b := sliceFor(j, s); b.Diameter <= largestBar && b.Volume < p.Stock.Volume {
			p.Stock = b
		}
	}
	for i, f := range s.Faces {
		if slices.ContainsFunc(f.Roles, finished) {
			p.Finished += s.Area(i)
		}
	}
	p.Removed = p.Stock.Volume - p.Volume
	p.Rough = 60 * cubicCentimeters(p.Removed) / j.Machining.Rate
	p.Finish = p.Finished / 100 / 100 * j.Machining.Finishing
}

// turn takes a bar that the chuck grips by an end, which is sawn off in the end.
func (p *Piece) turn(j *params.Job, s *region.Solid) {
	p.By = Turned
	p.Stock = barFor(j, s)
	p.Offcut = p.Stock.Volume * grip / p.Stock.Length
	p.Removed = p.Stock.Volume - p.Volume - p.Offcut
	p.Rough = 60 * cubicCentimeters(p.Removed) / j.Machining.TurningRate
}

// finished tells whether faces of a role are finished: those that shape the rubber, carry
// the hub or meet another piece. Others stay as roughing and drilling leave them.
func finished(role string) bool {
	switch role {
	case mold.RoleTread, mold.RoleTreadFace, mold.RoleCeiling, mold.RoleParting, mold.RoleLand, mold.RoleRegister:
		return true
	}
	return false
}

// alike tells whether two shells differ in their holes at most: blank and finished faces
// agree, these to a hundredth.
func (p *Piece) alike(q Piece) bool {
	return q.By == Milled && p.Stock.alike(q.Stock) && math.Abs(p.Finished-q.Finished) <= .01*q.Finished
}

// price sums a piece up.
func (p *Piece) price(j *params.Job) {
	density, perKilogram := j.Process.Density, j.Machining.StockPrice
	if p.By == Turned {
		density, perKilogram = j.Hub.Density, j.Hub.StockPrice
	}
	p.Blanks = 1
	p.StockMass = kilograms(p.Stock.Volume, density)
	p.ChipMass = kilograms(p.Removed, density)
	p.Hours = (p.Rough + p.Finish + p.SetUp + p.Drill + p.Program) / 3600
	p.Work = p.Hours * j.Machining.HourlyRate
	p.Material = p.StockMass * perKilogram
	p.Price = p.Work + p.Material
	p.Low, p.High = p.Work/Spread+p.Material, p.Work*Spread+p.Material
}

func (s *Sum) add(o *Sum) {
	s.Blanks += o.Blanks
	s.StockMass += o.StockMass
	s.ChipMass += o.ChipMass
	s.Hours += o.Hours
	s.Work += o.Work
	s.Material += o.Material
	s.Price += o.Price
	s.Low += o.Low
	s.High += o.High
}

func cubicCentimeters(mm3 float64) float64 { return mm3 / 1000 }

// kilograms of a volume in mm³ at a density in g/cm³.
func kilograms(mm3, density float64) float64 { return cubicCentimeters(mm3) * density / 1000 }
