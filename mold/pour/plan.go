// Package pour reckons everything that decides a pour that can be made once: what
// to weigh out and in how many batches, when to stir, pour and stop, whether sprue
// and vents let it in and the air out in time, where air stays behind, which
// bubbles leave, how large the cured wheel is, and what it weighs.
//
// It guarantees that masses add up, that flow and bubbles follow the closed forms
// of slow flow with a viscosity that grows, and that a pour which cannot end
// before the urethane gels is refused. It does not know the heat that a large
// batch gives off in its bucket, foam from moisture, or how steady a hand pours:
// the job's figures and cautions stand for those.
package pour

import (
	"fmt"
	"math"

	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/mold/mix"
	"wheelmold/mold/urethane"
	"wheelmold/params"
)

// Options say what is cast.
type Options struct {
	Wheels int // in all
	Molds  int // that are filled from one mix
}

// Plan is one pour; lengths in mm, volumes in mm³, masses in g, times in s.
type Plan struct {
	Options   Options
	Liquid    urethane.Liquid // as warm as its components
	Mix       *mix.Plan
	Unhurried *mix.Plan // as Mix, if only the gates were wide enough; the same if they are
	Clock     Clock
	Sprue     Sprue
	Vent      Vent
	Air       Air
	Bubbles   Bubbles
	Shrinkage cure.Forecast
	Window    cure.Window
	Heat      cure.Heat
	Weights   Weights
	Warnings  params.Faults
}

// New plans the pour of a mold from its pieces' volumes in mm³, by name, and from
// the mass in g that it may lose between its pieces. The error is params.Faults:
// what cannot be poured, with the number to change.
func New(m *mold.Mold, volumes map[string]float64, lost float64, o Options) (*Plan, error) {
	p, err := settled(m, volumes, lost, o)
	if err != nil {
		return nil, err
	}
	if p.Air, err = airOf(m, 0); err != nil {
		return nil, err
	}
	p.warn(m)
	return p, nil
}

// settled is the plan without the air and the warnings.
func settled(m *mold.Mold, volumes map[string]float64, lost float64, o Options) (*Plan, error) {
	j := m.Job
	p := &Plan{
		Options: o, Liquid: urethane.Of(&j.Pour).At(j.Pour.MixTemperature),
		Shrinkage: cure.NewForecast(j), Window: cure.NewWindow(j), Heat: cure.NewHeat(j),
	}
	channels := m.FilledChannels() / 1000 * j.Pour.Density
	p.Weights = weightsOf(m, volumes, channels)
	flow := pouringOf(m, p.Liquid)
	in := mix.Input{Rubber: grams(m.RubberVolume(), &j.Pour), Channels: channels, Flash: lost, Molds: o.Molds, Wheels: o.Wheels}
	in.Most = grams(flow.Volume(j.Pour.Start, p.Liquid.Pourable()), &j.Pour)
	if f := tooSlow(m, flow, (in.Rubber+in.Channels+in.Flash)*(1+j.Pour.Margin)/j.Pour.Density*1000, in.Most); len(f) > 0 {
		return nil, f
	}
	var err error
	if p.Mix, err = mix.New(&j.Pour, in); err != nil {
		return nil, unpoured(m, flow, in, err)
	}
	if p.Unhurried, err = unhurried(&j.Pour, in, p.Mix); err != nil {
		return nil, err
	}
	p.run(m, flow)
	if f := p.gelled(m, flow); len(f) > 0 {
		return nil, f
	}
	p.Bubbles = bubblesOf(m, p)
	return p, nil
}

// unhurried is the plan for gates that are no limit.
func unhurried(p *params.Pour, in mix.Input, plan *mix.Plan) (*mix.Plan, error) {
	for _, l := range plan.Limits {
		if l.Name == "pot life" && l.Decides {
			in.Most = 0
			return mix.New(p, in)
		}
	}
	return plan, nil
}

// unpoured finds the gate at fault where it makes batches too small to weigh.
func unpoured(m *mold.Mold, flow Pouring, in mix.Input, err error) error {
	in.Most = 0
	wide, other := mix.New(&m.Job.Pour, in)
	if other != nil {
		return err
	}
	return params.Faults{narrow(m, flow, wide.Batch.Poured/m.Job.Pour.Density*1000)}
}

// grams is the mass of a volume in mm³.
func grams(volume float64, p *params.Pour) float64 { return volume / 1000 * p.Density }

// pouringOf is how the mix runs into the mold: its mouths are kept full, and the
// stream falls freely into the cavity.
func pouringOf(m *mold.Mold, l urethane.Liquid) Pouring {
	layout := m.Layout
	length := layout.Ceil - m.Tread.Top
	flow := Pouring{
		Liquid: l, Head: length + m.Job.Pour.Funnel,
		Sprues: Sprues{Count: len(layout.Gates), Gate: 2 * layout.GateR, Mouth: 2 * layout.MouthR, Length: length},
	}
	if n := len(layout.Vents); n > 0 {
		flow.Vents = &Vents{Count: n, Diameter: 2 * layout.VentR, Length: length}
	}
	return flow
}

// tooSlow refuses a pour that no number of batches gets into the mold in time.
// The volume to pour is in mm³, the most that a batch gets in within its pot life
// in g.
func tooSlow(m *mold.Mold, flow Pouring, volume, most float64) params.Faults {
	p := &m.Job.Pour
	late := params.Fault{
		Path: "pour.start", Value: params.Format(params.Time, p.Start), Allowed: "less than " + params.Format(params.Time, math.Floor(flow.Liquid.Pourable())),
		Cause: "the pot life is over before the pour starts", With: []string{"pour.pot_life", "pour.mix_temperature"},
	}
	if p.Start >= flow.Liquid.Pourable() {
		return params.Faults{late}
	}
	if most >= grams(volume, p)/mix.MostBatches {
		return nil
	}
	return params.Faults{narrow(m, flow, volume)}
}

// narrow is the fault of gates that let a volume in mm³ in too slowly.
func narrow(m *mold.Mold, flow Pouring, volume float64) params.Fault {
	p := &m.Job.Pour
	mm := func(v float64) string { return params.Format(params.Length, v) }
	f := params.Fault{
		Path: "mold.sprue.gate", Value: mm(m.Job.Mold.Sprue.Gate), With: []string{"mold.sprue.count", "mold.vents.diameter", "pour.funnel"},
		Cause: fmt.Sprintf("the mold takes %s to fill through %s as thick as the urethane is when the pour starts, and it pours for %s more",
			hours(volume/flow.Flow(p.Start)), gates(len(m.Layout.Gates)), hours(flow.Liquid.Pourable()-p.Start)),
		Hint: "widen the gates or add some; or stir and settle for less time, or take a urethane that is thinner or pours for longer",
	}
	flow.Vents = nil
	if d, ok := flow.SmallestGate(volume, p.Start, flow.Liquid.Pourable()); ok {
		f.Allowed = "at least " + mm(ceilTenth(d))
	}
	return f
}

// gelled refuses a pour that is not over before what is in the mold gels: a warm
// mold is faster than the bucket.
func (p *Plan) gelled(m *mold.Mold, flow Pouring) params.Faults {
	j, c := &m.Job.Pour, &p.Clock
	if c.PourEnd < c.Gel {
		return nil
	}
	f := params.Fault{
		Path: "pour.duration", Value: params.Format(params.Time, j.Duration), Allowed: "less than " + params.Format(params.Time, math.Floor(c.Gel-c.PourStart)),
		With: []string{"pour.mold_temperature", "pour.start"},
		Cause: fmt.Sprintf("at %s in the mold the urethane gels %s after it was first mixed, before the mold is full",
			params.Format(params.Temperature, j.MoldTemperature), minutes(c.Gel)),
		Hint: "pour faster, start earlier, or cool the mold",
	}
	if p.Sprue.Run >= c.Gel-c.PourStart {
		f.Path, f.Value, f.Allowed = "mold.sprue.gate", params.Format(params.Length, m.Job.Mold.Sprue.Gate), ""
		flow.Vents = nil
		whole := p.Sprue.Volume * float64(p.Mix.Batches) // wider gates may do with one batch
		if d, ok := flow.SmallestGate(whole, c.PourStart, c.Gel); ok {
			f.Allowed = "at least " + params.Format(params.Length, ceilTenth(d))
		}
		f.Hint = "widen the gates or add some, start earlier, or cool the mold"
	}
	return params.Faults{f}
}

func gates(n int) string {
	if n == 1 {
		return "one gate"
	}
	return fmt.Sprintf("%d gates", n)
}

// hours prints a time as builders say it.
func hours(s float64) string {
	switch {
	case s < 90:
		return fmt.Sprintf("%.0f s", s)
	case s < 600:
		return fmt.Sprintf("%d:%02.0f min", int(s)/60, math.Floor(math.Mod(s, 60)))
	case s < 5400:
		return fmt.Sprintf("%.0f min", s/60)
	}
	return fmt.Sprintf("%.1f h", s/3600)
}

// minutes prints a time as the clock at the bench counts it, for times that are
// compared.
func minutes(s float64) string {
	t := int(math.Round(s))
	return fmt.Sprintf("%d:%02d min", t/60, t%60)
}

// Sprue is what the gates do.
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
	KnifeTo   float64 // largest stub that one cut takes off
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
	volume := b.Poured / j.Density * 1000
	end, _ := flow.Until(j.Start, volume)
	once, _ := CutLimits(j.Hardness)
	p.Sprue = Sprue{
		Sprues: flow.Sprues, Head: p.Liquid.Head(flow.Head), Volume: volume, Run: end - j.Start,
		Left: p.Liquid.Pourable() - j.Start, Wanted: j.Duration,
		Reynolds: flow.Reynolds(j.Start), Viscosity: p.Liquid.ViscosityAt(j.Start), Inertia: flow.Inertia(j.Start),
		Knife: CutOf(flow.Sprues.Gate, j.Hardness), KnifeTo: once,
	}
	whole := p.Unhurried.Batch.Poured / j.Density * 1000
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

// Bubbles is what still rises out; diameters in mm.
type Bubbles struct {
	Bucket   Band // smallest that leaves the bucket while the mix settles
	Height   float64
	Mold     Band // smallest that reaches the mold's upper face before gel
	Tall     float64
	Mobility [2]float64 // ∫dt/μ for both, 1/Pa
	// Squeezed is the share of its volume that a bubble keeps in the pressure pot,
	// and of its diameter; 1 without one.
	SqueezedVolume, SqueezedDiameter float64
}

// bubblesOf follows bubbles in the bucket from the last stir, and in the mold from
// the end of the pour, as warm as the mold.
func bubblesOf(m *mold.Mold, p *Plan) Bubbles {
	j, c := &m.Job.Pour, &p.Clock
	inMold := p.Liquid.At(j.MoldTemperature)
	age := p.Liquid.Age(c.PourStart) + inMold.Age(c.PourEnd-c.PourStart)
	b := Bubbles{
		Height: p.Mix.Batch.Height, Tall: m.Tread.Top,
		Mobility:       [2]float64{p.Liquid.Mobility(c.StirEnd, c.PourStart), inMold.Left(age)},
		SqueezedVolume: 1, SqueezedDiameter: 1,
	}
	b.Bucket, _ = Clears(p.Liquid, b.Height, b.Mobility[0])
	b.Mold, _ = Clears(inMold, b.Tall, b.Mobility[1])
	if j.Degas == "pressure" {
		b.SqueezedVolume, b.SqueezedDiameter = Squeezed(Atmosphere, Atmosphere+j.PotPressure)
	}
	return b
}

// ceilTenth rounds a diameter in mm up to what drills come in.
func ceilTenth(mm float64) float64 { return math.Ceil(10*mm-1e-9) / 10 }

// next is what follows a batch: each mold takes whole batches.
func (p *Plan) next() follow {
	switch molds := max(p.Options.Molds, 1); {
	case p.Mix.Batches < 2:
		return nothing
	case p.Mix.Batches <= molds:
		return otherMold
	}
	return sameMold
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
)

// Verdict judges the pour; one that is hopeless was refused.
func (p *Plan) Verdict() Verdict {
	switch {
	case p.Forced():
		return Restricted
	case p.Tight():
		return Hurried
	}
	return Easy
}

// sheetKeys are the figures of the urethane's data sheet and of its seller that
// decide a pour.
var sheetKeys = []string{
	"pour.parts_a", "pour.parts_b", "pour.density", "pour.viscosity", "pour.pot_life", "pour.gel_time", "pour.demold", "mold.shrinkage",
	"pour.kit.mass", "pour.kit.price",
}

// Unstated lists the figures of data sheet and seller that the job does not state.
func Unstated(j *params.Job) []string { return j.Unstated(sheetKeys...) }
