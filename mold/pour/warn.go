package pour

import (
	"fmt"
	"math"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/params"
)

// warn collects what may spoil this pour.
func (p *Plan) warn(m *mold.Mold) {
	p.Warnings = append(p.Warnings, p.Mix.Warnings...)
	p.warnGates(m.Job)
	p.warnClock(m.Job)
	p.warnLate(m.Job)
	p.warnVents(m.Job)
	p.warnAir()
	p.warnLean(m)
	p.warnHeat()
}

func (p *Plan) caution(path, value, allowed, cause string, with ...string) {
	p.Warnings = append(p.Warnings, params.Fault{Path: path, Value: value, Allowed: allowed, Cause: cause, With: with})
}

// warnGates: gates that cost batches, or leave little time.
func (p *Plan) warnGates(j *params.Job) {
	gate := params.Format(params.Length, j.Mold.Sprue.Gate)
	atLeast := func(d float64) string {
		if d == 0 {
			return ""
		}
		return "at least " + params.Format(params.Length, ceilTenth(d))
	}
	with := []string{"mold.sprue.count", "pour.funnel", "pour.settle"}
	switch s := &p.Sprue; {
	case p.Forced():
		p.caution("mold.sprue.gate", gate, atLeast(s.Smallest[s.Count-1].InPotLife),
			fmt.Sprintf("so narrow that only %.0f g run in within the pot life: it takes %d batches in place of %d", p.Mix.PotLife().Most, p.Mix.Batches, p.Unhurried.Batches), with...)
	case p.Tight():
		p.caution("mold.sprue.gate", gate, atLeast(s.Easy),
			fmt.Sprintf("the pour takes %s of the %s that are left of the pot life: widen it, raise the funnel, or let it settle for less", hours(s.Run), hours(s.Left)), with...)
	}
}

// warnClock: a batch that hands cannot follow in time.
func (p *Plan) warnClock(j *params.Job) {
	if p.Clock.NextUntil > 0 && !p.Clock.InTime() {
		p.caution("pour.start", params.Format(params.Time, j.Pour.Start), "",
			fmt.Sprintf("hands are free %s after a batch was first mixed, but the next must be begun within %s: more people, or a larger bucket", minutes(p.Clock.NextFrom), minutes(p.Clock.NextUntil)),
			"pour.people", "pour.duration", "pour.bucket.volume")
	}
}

// warnLate: a pour that ends when the urethane in bucket or mold hardly flows any
// more, by its temperatures or by its gates. What the data sheet's own times say was
// told when the job was read.
func (p *Plan) warnLate(j *params.Job) {
	c, u := &p.Clock, &j.Pour
	by := c.Due()
	with := []string{"pour.mix_temperature", "pour.mold_temperature", "pour.duration"}
	if j.Mold.Split != params.SplitOpen {
		with = append(with, "mold.sprue.gate")
	}
	if c.PourEnd <= by*(1+1e-9) || u.Start+u.Duration > u.PotLife {
		return
	}
	p.caution("pour.start", params.Format(params.Time, u.Start), "",
		fmt.Sprintf("the pour ends %s after first mixing, but at these temperatures the urethane pours in bucket and mold until %s only: it may be too thick to fill the mold", minutes(c.PourEnd), minutes(by)),
		with...)
}

// warnLean: a mold that leans so far that the urethane runs out of its sprue before
// the raised side is full.
func (p *Plan) warnLean(m *mold.Mold) {
	t := p.Air.Tilt
	if p.Air.OpenTop {
		return // it stands level
	}
	most := MostTilt(m, t.Toward)
	if t.Angle <= most {
		return
	}
	p.caution("pour.tilt", params.Format(params.Angle, t.Angle), "up to "+params.Format(params.Angle, math.Floor(10*most)/10),
		"the urethane runs over at the sprue's mouth before the raised side is full", "pour.tilt_toward", "pour.funnel", "mold.sprue.angle")
}

// warnVents: vents that hold the air back.
func (p *Plan) warnVents(j *params.Job) {
	if v := p.Vent; v.Count > 0 && v.Share > AirShare {
		p.caution("mold.vents.diameter", params.Format(params.Length, j.Mold.Vents.Diameter), "at least "+params.Format(params.Length, ceilTenth(v.Smallest)),
			fmt.Sprintf("the air takes %.0f %% of the head to get out: the pour slows down and the sprue spits", 100*v.Share), "mold.vents.count")
	}
}

// warnHeat: plastic beside rubber that warms itself.
func (p *Plan) warnHeat() {
	h := p.Heat
	for _, part := range h.Threatened(cure.TooHot) {
		key := map[string]string{"mold": "process.softening", "hub": "hub.softening"}[part.Name]
		other := "make it of a material"
		if part.Printed {
			other = "print it of a plastic"
		}
		p.caution("pour.gel_temperature", params.Format(params.Temperature, h.Gel), "up to "+params.Format(params.Temperature, part.Softens-cure.SofteningMargin),
			fmt.Sprintf("too hot for the %s, which softens from %.0f °C: it may warp while the rubber gels; %s that stands more, or use a slower urethane", part.Name, part.Softens, other), key)
	}
}

// warnAir: air that stays in the mold.
func (p *Plan) warnAir() {
	a := &p.Air
	if len(a.Unmet) > 0 {
		p.caution("mold.vents.circle", strings.Join(a.Unmet, ", "), "", "opens nowhere: a rib of the tread is in its way", "mold.sprue.angle", "mold.vents.count")
	}
	if len(a.Traps) == 0 {
		return
	}
	t := &a.Traps[0]
	if a.OpenTop {
		p.caution("mold.split", params.SplitOpen, "", fmt.Sprintf("%.0f mm³ of air stay in the mold, in %s, although its top is open; the largest %s, at x %.1f, y %.1f, z %.1f mm: stir it out with a rod before the rubber thickens",
			a.Volume, places(len(a.Traps)), t.Cause, t.Top[0], t.Top[1], t.Top[2]), "hub.flange_thickness", "wheel.groove.shape")
		return
	}
	path, with := "mold.vents.count", "pour.tilt"
	if a.Lean.Clears && a.Lean.Tilt.Angle == 0 {
		path, with = with, path // the tilt is to blame
	}
	f := params.Fault{
		Path:  path,
		Cause: fmt.Sprintf("%.0f mm³ of air stay in the mold, in %s; the largest %s, at x %.1f, y %.1f, z %.1f mm", a.Volume, places(len(a.Traps)), t.Cause, t.Top[0], t.Top[1], t.Top[2]),
		With:  []string{with, "mold.vents.circle", "mold.ceiling.shape"},
	}
	switch {
	case a.Lean.Clears && a.Lean.Tilt.Angle == 0:
		f.Hint = "stand the mold level: frees all of it, but the top face pits then"
	case t.Drill.Clears && len(t.Drill.Vents) > 0:
		v := &t.Drill.Vents[0]
		f.Hint = fmt.Sprintf("a vent at x %.1f, y %.1f frees the largest; the report has the others, and the tilt", v.At[0], v.At[1])
	case a.Lean.Clears && !a.Spills:
		f.Hint = fmt.Sprintf("tilt the mold by %.1f degrees, the side at %.0f degrees from +x up", a.Lean.Tilt.Angle, a.Lean.Tilt.Toward)
	}
	p.Warnings = append(p.Warnings, f)
}

func places(n int) string {
	if n == 1 {
		return "one place"
	}
	return fmt.Sprintf("%d places", n)
}
