package pour

import (
	"math"

	"wheelmold/mold"
	"wheelmold/params"
)

// Sprue is what the gates do; without any, under an open top, only Volume, Left, Wanted
// and Viscosity are known.
type Sprue struct {
	Sprues
	Head      float64 // Pa, when the pour starts
	Volume    float64 // of one batch, as far as it is poured
	Run       float64 // how long that takes with the mouths kept full
	Left      float64 // from the start of the pour to the end of the pot life
	Wanted    float64 // pour.duration
	Easy      float64 // gate that pours a batch in half of Left; 0: none
	Smallest  []Gate  // for a batch as large as bucket and scale allow
	Reynolds  float64
	Viscosity float64 // Pa·s, when the pour starts
	Inertia   float64 // share of the head that the stream's velocity takes
	Knife     Cut     // of the stubs of gates
}

// Gate is the smallest gate that does, for a number of gates.
type Gate struct {
	Count             int
	Wanted, InPotLife float64 // diameter that pours a batch in pour.duration, or just before its pot life ends
}

// Vent is what the vents do.
type Vent struct {
	Vents
	Loss     float64 // Pa, to push the air out as fast as the liquid runs in at first
	Share    float64 // of the head
	Smallest float64 // diameter of as many that lose a tenth of the head; 0: no vents
	Knife    Cut
}

// run times the batch and judges gates and vents.
func (p *Plan) run(m *mold.Mold, flow Pouring) {
	j := &m.Job.Pour
	b := &p.Mix.Batch
	volume := volumeOf(b.Poured, j)
	if m.Layout.OpenTop() {
		p.runFreely(j, volume)
		return
	}
	end, _ := flow.Until(j.Start, volume)
	p.Sprue = Sprue{
		Sprues: flow.Sprues, Head: p.Liquid.Head(flow.Head), Volume: volume, Run: end - j.Start,
		Left: p.Liquid.Pourable() - j.Start, Wanted: j.Duration,
		Reynolds: flow.Reynolds(j.Start), Viscosity: p.Liquid.ViscosityAt(j.Start), Inertia: flow.Inertia(j.Start),
		Knife: CutOf(flow.Sprues.Gate, j.Hardness),
	}
	whole := volumeOf(p.Unhurried.Batch.Poured, j)
	wide := flow
	wide.Vents = nil
	p.Sprue.Easy, _ = wide.SmallestGate(whole, j.Start, j.Start+p.Sprue.Left/2)
	for n := 1; n <= max(4, flow.Sprues.Count); n++ {
		f := flow
		f.Sprues.Count, f.Vents = n, nil
		g := Gate{Count: n}
		g.Wanted, _ = f.SmallestGate(whole, j.Start, j.Start+j.Duration)
		g.InPotLife, _ = f.SmallestGate(whole, j.Start, p.Liquid.Pourable())
		p.Sprue.Smallest = append(p.Sprue.Smallest, g)
	}
	if v := flow.Vents; v != nil {
		p.Vent = Vent{Vents: *v, Loss: flow.AirLoss(j.Start), Knife: CutOf(v.Diameter, j.Hardness)}
		p.Vent.Share = p.Vent.Loss / p.Sprue.Head
		p.Vent.Smallest, _ = flow.SmallestVents(*v, j.Start)
	}
	p.Clock = clockOf(j, p.Sprue.Run, p.next())
	due := p.Clock.Due()
	p.Clock.BeginBy = max(j.Start, min(due-j.Duration, flow.Latest(j.Start, due, volume)))
}

// runFreely times a batch that runs in as fast as it is poured.
func (p *Plan) runFreely(j *params.Pour, volume float64) {
	p.Sprue = Sprue{Volume: volume, Left: p.Liquid.Pourable() - j.Start, Wanted: j.Duration, Viscosity: p.Liquid.ViscosityAt(j.Start)}
	p.Clock = clockOf(j, 0, p.next())
	p.Clock.BeginBy = max(j.Start, p.Clock.Due()-j.Duration)
}

// Forced reports whether narrow gates alone make for more batches.
func (p *Plan) Forced() bool { return p.Mix.Batches > p.Unhurried.Batches }

// tight is the share of the time left from which a pour is told to be.
const tight = 2.0 / 3

// Tight reports whether little time is left once the mold is full.
func (p *Plan) Tight() bool { return p.Sprue.Run > tight*p.Sprue.Left }

// Verdict is whether the mold can be filled in time.
type Verdict string

// The verdicts, from the best.
const (
	Easy       Verdict = "there is time"
	Hurried    Verdict = "tight: little time is left once the mold is full"
	Restricted Verdict = "only in more batches than bucket and scale ask for: the gates are narrow"
	Late       Verdict = "late: the urethane hardly flows any more in bucket or mold when the pour ends"
)

// Verdict judges the pour; one that is hopeless was refused.
func (p *Plan) Verdict() Verdict {
	switch {
	case p.Clock.PourEnd > p.Clock.Due()*(1+1e-9):
		return Late
	case p.Forced():
		return Restricted
	case p.Tight():
		return Hurried
	}
	return Easy
}

// ceilTenth rounds a diameter in mm up to what drills come in.
func ceilTenth(mm float64) float64 { return math.Ceil(10*mm-1e-9) / 10 }
