package mix

import (
	"fmt"
	"math"
	"strconv"

	"wheelmold/params"
)

// figure is a value of the job that is reckoned with here.
type figure struct {
	key    string
	value  float64
	lo, hi float64
}

// figures with bounds within which every result is finite. The ranges of the job
// are narrower; these are for a Pour that was made in code.
func figures(p *params.Pour) []figure {
	b, s, k := &p.Bucket, &p.Scale, &p.Kit
	out := []figure{
		{"pour.parts_a", p.PartsA, 1e-6, 1e6},
		{"pour.parts_b", p.PartsB, 1e-6, 1e6},
		{"pour.density", p.Density, 0.01, 100},
		{"pour.pigment", p.Pigment, 0, 1},
		{"pour.pigment_limit", p.PigmentLimit, 0, 1},
		{"pour.batch_mass", p.BatchMass, 0, 1e9},
		{"pour.waste", p.Waste, 0, mostShare},
		{"pour.margin", p.Margin, 0, 100},
		{"pour.bucket.volume", b.Volume, 1e-3, 1e9},
		{"pour.bucket.diameter", b.Diameter, 0.1, 1e5},
		{"pour.bucket.head_room", b.HeadRoom, 0, 0.99},
		{"pour.bucket.film", b.Film, 0, 1e3},
		{"pour.bucket.residue", b.Residue, 0, 1e4},
		{"pour.bucket.paddle", b.Paddle, 0, 1e5},
		{"pour.bucket.vessels", float64(b.Vessels), 0, 100},
		{"pour.scale.limit", s.Limit, 0, 1e9},
		{"pour.kit.price", k.Price, 0, 1e12},
	}
	if s.Resolution != 0 {
		out = append(out, figure{"pour.scale.resolution", s.Resolution, 1e-6, 1e6})
	}
	if k.Mass != 0 {
		out = append(out, figure{"pour.kit.mass", k.Mass, 1, 1e9})
	}
	if byVolume(p) {
		out = append(out, figure{"pour.density_a", p.DensityA, 0.01, 100}, figure{"pour.density_b", p.DensityB, 0.01, 100})
	}
	if p.Blend.With != 0 {
		out = append(out, blendFigures(p)...)
	}
	return out
}

func blendFigures(p *params.Pour) []figure {
	b := &p.Blend
	out := []figure{
		{"pour.hardness", p.Hardness, 0, 100},
		{"pour.blend.with", b.With, 0, 100},
		{"pour.blend.wanted", b.Wanted, min(p.Hardness, b.With), max(p.Hardness, b.With)},
		{"pour.blend.parts_a", b.PartsA, 1e-6, 1e6},
		{"pour.blend.parts_b", b.PartsB, 1e-6, 1e6},
	}
	if byVolume(p) {
		out = append(out, figure{"pour.blend.density_a", b.DensityA, 0.01, 100}, figure{"pour.blend.density_b", b.DensityB, 0.01, 100})
	}
	return out
}

// judge refuses what cannot be reckoned with.
func judge(p *params.Pour, in *Input) error {
	if err := in.judge(); err != nil {
		return err
	}
	var faults params.Faults
	for _, f := range figures(p) {
		if !(f.value >= f.lo && f.value <= f.hi) { // NaN is neither
			faults = append(faults, params.Fault{Path: f.key, Value: number(f.value), Allowed: number(f.lo) + " to " + number(f.hi)})
		}
	}
	if len(faults) == 0 {
		faults = append(judgeBlend(p), judgeFilm(p)...)
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

func judgeBlend(p *params.Pour) params.Faults {
	if b := &p.Blend; b.With != 0 && b.With == p.Hardness {
		return params.Faults{{Path: "pour.blend.with", Value: number(b.With), With: []string{"pour.hardness"},
			Cause: "both urethanes have the same hardness", Hint: "for no blend, leave pour.blend.with out"}}
	}
	return nil
}

// judgeFilm refuses vessels so narrow that hardly anything gets out.
func judgeFilm(p *params.Pour) params.Faults {
	left := residueOf(p)
	if left.share <= mostShare {
		return nil
	}
	most := p.Bucket.Film * mostShare / left.share
	return params.Faults{{
		Path: "pour.bucket.film", Value: params.Format(params.Length, p.Bucket.Film), Allowed: "up to " + params.Format(params.Length, down(most)),
		Cause: "next to nothing gets out of a bucket so narrow", With: []string{"pour.bucket.diameter", "pour.bucket.paddle", "pour.bucket.vessels"},
		Hint: "take a wider bucket, or fewer vessels",
	}}
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// up and down round to three digits, so that a limit still holds as it is shown.
func up(v float64) float64   { return threeDigits(v, math.Ceil) }
func down(v float64) float64 { return threeDigits(v, math.Floor) }

func threeDigits(v float64, round func(float64) float64) float64 {
	if v <= 0 {
		return 0
	}
	scale := math.Pow(10, float64(2-params.Decade(v)))
	shown, _ := strconv.ParseFloat(strconv.FormatFloat(round(v*scale)/scale, 'g', 6, 64), 64)
	return shown
}

func grams(v float64) string { return params.Format(params.Mass, threeDigits(v, math.Round)) }

func percent(v float64) string {
	return fmt.Sprintf("%s %%", strconv.FormatFloat(100*v, 'g', 2, 64))
}
