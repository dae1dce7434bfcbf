package pour

import (
	"fmt"
	"math"

	"wheelmold/mold"
	"wheelmold/mold/mix"
	"wheelmold/params"
)

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
	if m.Layout.OpenTop() || most >= grams(volume, p)/mix.MostBatches {
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

// unpoured finds the gate at fault where it makes batches too small to weigh.
func unpoured(m *mold.Mold, flow Pouring, in mix.Input, err error) error {
	if m.Layout.OpenTop() {
		return err
	}
	in.Most = 0
	wide, other := mix.New(&m.Job.Pour, in)
	if other != nil {
		return err
	}
	return params.Faults{narrow(m, flow, volumeOf(wide.Batch.Poured, &m.Job.Pour))}
}
