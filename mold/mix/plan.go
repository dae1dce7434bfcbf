package mix

import (
	"fmt"

	"wheelmold/params"
)

// Plan is what to weigh out for one pour.
type Plan struct {
	Need     Need
	Batches  int // number of equal batches; 0 where nothing is needed
	Batch    Batch
	Limits   []Limit
	Blend    *Blend // nil without one
	Scale    ScaleError
	Kits     *Kits // nil where no kit is stated
	Warnings params.Faults
	Assumed  []string // what the figures rest on, in words
}

// nothing is less than any scale shows, g: it is not worth a batch.
const nothing = 1e-6

// New plans a pour in as few batches as bucket, scale, pot life and the job's
// batch mass allow. An error is params.Faults that name the values to change,
// save for an Input that no mold has.
func New(p *params.Pour, in Input) (*Plan, error) {
	if err := judge(p, &in); err != nil {
		return nil, err
	}
	plan := &Plan{Blend: blendOf(p), Limits: limits(p, &in), Need: need(p, &in, 1), Assumed: assumed(p)}
	if plan.Need.poured() < nothing {
		return plan, nil
	}
	r := recipeOf(p)
	if err := coarse(p, &in, &r, 1); err != nil {
		return nil, err // and fewer, larger batches there are not
	}
	n, err := split(p, &in, &r, plan.Limits)
	if err != nil {
		return nil, err
	}
	if err := coarse(p, &in, &r, n); err != nil {
		return nil, err
	}
	b, w := batch(p, &in, &r, n)
	plan.Need, plan.Batches, plan.Batch = need(p, &in, n), n, b
	plan.Scale = scaleError(&r, &w)
	plan.Kits = kitsFor(p, &in, &r, &w, n)
	if plan.Blend != nil {
		plan.Blend.Weighed = r.hardness(&w)
	}
	plan.warn(p, &in)
	return plan, nil
}

// hardness of a blend as it is weighed.
func (r *recipe) hardness(w *weighing) float64 {
	all, sum := 0.0, 0.0
	for i, m := range w.masses {
		all += m
		sum += m * r.systems[i].hardness
	}
	return sum / all
}

// coarse refuses a scale on which one of n batches gets a ratio that spoils the
// rubber.
func coarse(p *params.Pour, in *Input, r *recipe, n int) error {
	_, w := batch(p, in, r, n)
	if w.off <= mostRatio {
		return nil
	}
	e := scaleError(r, &w)
	hint := "take a finer scale, or mix for several molds at once"
	if n > 1 {
		hint = "take a finer scale, or mix larger batches"
	}
	return params.Faults{{
		Path: "pour.scale.resolution", Value: params.Format(params.Mass, r.step), Allowed: "up to " + finerStep(r.step, e.HalfStep),
		Cause: fmt.Sprintf("too coarse for %s of %s: the ratio of A to B would be off by %s or more", grams(smallest(r.step, e.HalfStep)), e.Smallest, percent(mostRatio)),
		Hint:  hint,
	}}
}

// smallest is the mass of which half a step is the share.
func smallest(step, halfStep float64) float64 { return step / 2 / halfStep }

// finerStep is a scale of which half a step is goodRatio of the smallest component.
func finerStep(step, halfStep float64) string {
	return params.Format(params.Mass, down(step*goodRatio/halfStep))
}

// warn collects what is worth a second look.
func (pl *Plan) warn(p *params.Pour, in *Input) {
	pl.warnLayers(p, in)
	pl.warnScale(p)
	if b := pl.Blend; b != nil && (b.Share[0] == 0 || b.Share[1] == 0) {
		pl.Warnings = append(pl.Warnings, params.Fault{Path: "pour.blend.wanted", Value: number(b.Wanted),
			Cause: "is the hardness of one of the two: nothing is blended", With: []string{"pour.hardness", "pour.blend.with"}})
	}
}

// warnLayers: where a mold is filled from more than one batch that may differ. Of A
// and B alone all batches are alike, to what the scale shows.
func (pl *Plan) warnLayers(p *params.Pour, in *Input) {
	if pl.Batches < 2 || in.molds()%pl.Batches == 0 || p.Pigment == 0 && pl.Blend == nil {
		return
	}
	what := "color"
	if pl.Blend != nil {
		what = "hardness"
	}
	f := params.Fault{
		Cause: fmt.Sprintf("%d batches in one wheel: any difference in %s between them shows as layers", pl.Batches, what),
		Hint:  "mix pigment, or the A of both urethanes and the B of both, for all batches beforehand, and part them by weight",
	}
	for _, l := range pl.Limits {
		switch {
		case !l.Decides:
		case f.Path == "":
			f.Path = l.Key
		default:
			f.With = append(f.With, l.Key)
		}
	}
	pl.Warnings = append(pl.Warnings, f)
}

// warnScale: steps that are large for what is weighed.
func (pl *Plan) warnScale(p *params.Pour) {
	e, step := pl.Scale, p.Scale.Resolution
	shown := params.Format(params.Mass, step)
	finer := func(cause string) {
		pl.Warnings = append(pl.Warnings, params.Fault{Path: "pour.scale.resolution", Value: shown,
			Allowed: "up to " + finerStep(step, e.HalfStep) + " for a good ratio", Cause: cause})
	}
	switch {
	case e.Ratio > goodRatio:
		finer(fmt.Sprintf("rounding puts the ratio of A to B off by %s (keep within 1 to 2 %%); one step is %s of %s",
			percent(e.Ratio), percent(2*e.HalfStep), e.Smallest))
	case e.HalfStep > goodRatio:
		finer(fmt.Sprintf("one step is %s of %s: the ratio of A to B is not known better than that", percent(2*e.HalfStep), e.Smallest))
	}
	if p.Pigment > 0 && e.Pigment == 0 {
		pl.Warnings = append(pl.Warnings, params.Fault{Path: "pour.pigment", Value: params.Format(params.Share, p.Pigment),
			Cause: "less than the scale can weigh: left out", With: []string{"pour.scale.resolution"},
			Hint: "count drops, or take a scale of " + params.Format(params.Mass, down(p.Pigment*pl.Batch.Mass/(1+p.Pigment)))})
	}
}

// assumed says what of the job's figures is taken for granted here.
func assumed(p *params.Pour) []string {
	var out []string
	if residueOf(p).by == "film" && p.Bucket.Vessels > 1 {
		out = append(out, "every vessel gets as wet as the first")
	}
	if p.Scale.Limit > 0 {
		out = append(out, "the scale carries the mix alone: its limit must be larger by the vessel's mass, which is not known")
	}
	if p.Degas == "vacuum" {
		out = append(out, "under vacuum the mix foams up to three to five times its height (common practice): a quarter of the vessel is filled at most, and what the foam leaves on the wall is not counted")
	}
	if p.Blend.With != 0 {
		out = append(out, fmt.Sprintf("hardness blends linearly by mass, within %d Shore A (common practice, same family only): cast a button first", blendUncertainty),
			"both urethanes of the blend have the same density when cured")
	}
	if p.Kit.Mass > 0 {
		out = append(out, "every mix fills all molds, and what is left in an opened can is still good")
		if p.Blend.With != 0 {
			out = append(out, "both urethanes of the blend are sold in the same kits at the same price")
		}
	}
	return out
}
