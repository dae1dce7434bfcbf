package study

import (
	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/mix"
	"wheelmold/mold/pour"
)

// Figures are what a table tells of a result: little enough to keep for many rows.
// Volumes are in mm³, lengths in mm, masses in g, times in s, costs in the builder's
// currency, chances and shares fractions.
type Figures struct {
	Split    string
	Segments int        // pieces around the axis
	Pieces   int        // of the mold, without the hub
	Block    [3]float64 // size of the assembled mold

	Rubber  float64 // in the wheel, closed form
	Poured  float64 // into the molds of one mix: rubber, channels, flash
	Mixed   float64
	A, B    float64 // of all batches and both urethanes of a blend, as weighed
	Step    float64 // of the scale, g
	Batches int
	Priced  bool // a kit is stated; else the next three are 0
	Kits    int
	ByUse   float64 // cost of a wheel by what is mixed for it
	ByKits  float64 // and by the kits that are bought

	Lines   int // parting lines that the rubber reaches
	Seam    float64
	Worst   Joint // the line that loses most
	Grade   flash.Grade
	Lost    flash.Band // flash and leak of the whole mold
	Drips   float64    // largest chance of a line to let more than a drop out of the mold, or into the hub
	Risk    string     // that line's verdict in words
	RiskAt  string     // its name
	Opening float64    // largest chance of a line to let more than a drop get where no rubber may be

	Gated   bool    // it is poured through gates; else the next is 0
	Run     float64 // time in which a batch runs in
	Verdict pour.Verdict
	Trapped float64 // air that stays; 0 too where no vent lets any count
	Wheel   float64 // mass, cured
	Hub     float64 // length of the hub
	OnTread bool    // the mold parts around the middle of a crowned tread

	Printed   bool // something is; else the next four are 0
	PrintMass float64
	PrintTime float64 // of all loads of the bed
	Loads     int
	Misfits   int // pieces that the bed does not hold

	Shop      bool // something is milled or turned; else the next four are 0
	ShopPrice float64
	ShopHours float64
	SetUps    int     // clampings of all pieces, on the job's mill
	Hidden    float64 // area that no tool reaches from the declared faces, mm²

	Release string // grade of the release
	Opens   string // the same, with how far rubber has to give way
	Why     string // what it rests on
}

// Joint is a parting line as a table names it.
type Joint struct {
	Name  string
	Grade flash.Grade
	Mass  float64    // of flash and leak that half of the draws stay below, g
	Flash flash.Band // that stays in the joint, g
}

// Figures takes from a result what a table tells.
func (r *Result) Figures() *Figures {
	j := r.Mold.Job
	f := &Figures{
		Split: j.Mold.Split, Segments: j.Mold.Segments, Block: r.Mold.Block.Bounds().Hi.Sub(r.Mold.Block.Bounds().Lo),
		Hub: r.Mold.Core.Length, OnTread: len(r.Mold.Layout.Sides) == 0 && r.Mold.Tread.CrownR > 0,
		Rubber: r.Exact.Rubber.ClosedForm, Wheel: r.Pour.Weights.Wheel,
		Gated: r.Pour.Sprue.Count > 0, Run: r.Pour.Sprue.Run, Verdict: r.Pour.Verdict(), Trapped: r.Pour.Air.Volume,
	}
	for _, p := range r.Mold.Pieces {
		if p.Kind != mold.Hub {
			f.Pieces++
		}
	}
	if p := r.Printing; len(p.Pieces) > 0 {
		f.Printed, f.PrintMass, f.PrintTime, f.Loads, f.Misfits = true, p.Mass, p.Time, len(p.Loads), len(p.Misfits)
	}
	f.Release, f.Opens, f.Why = r.Release.Grade.String(), r.Release.Words(), r.Release.Reason
	f.shop(r)
	f.mix(r.Pour)
	f.Step = j.Pour.Scale.Resolution
	f.joints(r.Flash)
	return f
}

func (f *Figures) shop(r *Result) {
	if r.Machining == nil || len(r.Machining.Pieces) == 0 {
		return
	}
	f.Shop, f.ShopPrice, f.ShopHours = true, r.Effort.Total.Price, r.Effort.Total.Hours
	for i := range r.Machining.Pieces {
		p := &r.Machining.Pieces[i]
		f.SetUps += len(p.SetUps)
		for _, h := range p.Hidden {
			f.Hidden += h.Area
		}
	}
}

func (f *Figures) mix(p *pour.Plan) {
	x := p.Mix
	f.Poured, f.Mixed, f.Batches = x.Need.Rubber+x.Need.Channels+x.Need.Flash, x.Need.Mixed, x.Batches
	for _, c := range x.Batch.Components {
		switch all := float64(x.Batches) * c.Set; c.Part {
		case mix.PartA:
			f.A += all
		case mix.PartB:
			f.B += all
		}
	}
	if k := x.Kits; k != nil {
		f.Priced, f.ByUse, f.ByKits = true, k.Material, k.Bought
		for _, s := range k.Systems {
			f.Kits += s.Kits
		}
	}
}

func (f *Figures) joints(e *flash.Estimate) {
	f.Lines, f.Grade, f.Lost = len(e.Lines), e.Grade, e.Lost
	for i := range e.Lines {
		l := &e.Lines[i]
		f.Seam += l.Seam
		f.Opening = max(f.Opening, l.Opening)
		if i == 0 || l.Drips > f.Drips {
			f.Drips, f.Risk, f.RiskAt = l.Drips, l.Verdict(), l.Name
		}
		if i == 0 || l.Mass > f.Worst.Mass {
			f.Worst = Joint{l.Name, l.Grade, l.Mass, l.Flash}
		}
	}
}
