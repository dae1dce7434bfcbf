package mix

import (
	"fmt"
	"math"

	"wheelmold/params"
)

// Batch is what is mixed at once.
type Batch struct {
	Mass       float64 // g needed, exact: Poured and Residue
	Poured     float64 // g that must get out of the bucket if the margin is needed too
	Residue    float64 // g that stays in the vessels and on the paddle
	Components []Component
	Weighed    float64 // g of all components as weighed, never less than Mass
	Height     float64 // of the mix in the bucket, mm
	Share      float64 // of the bucket's volume that the mix takes
}

// Limit is something that a batch must not exceed.
type Limit struct {
	Name    string // "bucket", "scale", "batch mass" or "pot life"
	Key     string // the value of the job that moves it
	Most    float64
	Decides bool // one batch less would exceed it
}

// potLife names the limit by what runs through the gates in time.
const potLife = "pot life"

// PotLife is the limit by what runs in within the pot life; without one it decides
// nothing.
func (pl *Plan) PotLife() Limit {
	for _, l := range pl.Limits {
		if l.Name == potLife {
			return l
		}
	}
	return Limit{}
}

// MostBatches is more than anybody mixes for a wheel.
const MostBatches = 12

// foamShare of a vessel may be filled for vacuum: the mix foams up to three to
// five times its height (common practice).
const foamShare = 0.25

// usable is the share of the bucket's volume that may be filled.
func usable(p *params.Pour) float64 {
	if p.Degas == "vacuum" {
		return min(foamShare, 1-p.Bucket.HeadRoom)
	}
	return 1 - p.Bucket.HeadRoom
}

// limits lists those that the job states.
func limits(p *params.Pour, in *Input) []Limit {
	out := []Limit{{Name: "bucket", Key: "pour.bucket.volume", Most: p.Bucket.Volume * usable(p) * p.Density}}
	for _, l := range []Limit{
		{Name: "scale", Key: "pour.scale.limit", Most: p.Scale.Limit},
		{Name: "batch mass", Key: "pour.batch_mass", Most: p.BatchMass},
		{Name: potLife, Key: "pour.pot_life", Most: in.Most},
	} {
		if l.Most > 0 {
			out = append(out, l)
		}
	}
	return out
}

// of is what of a batch counts against the limit.
func (l *Limit) of(b *Batch) float64 {
	if l.Name == potLife {
		return b.Poured
	}
	return b.Weighed
}

func (l *Limit) exceeded(b *Batch) bool { return l.of(b) > l.Most*(1+hair) }

// batch is one of n equal ones, and what rounding does to its ratio.
func batch(p *params.Pour, in *Input, r *recipe, n int) (Batch, weighing) {
	whole := need(p, in, n)
	b := Batch{Poured: whole.poured() / float64(n), Residue: whole.Residue / float64(n)}
	b.Mass = b.Poured + b.Residue
	w := r.weigh(b.Mass)
	b.Components, b.Weighed = w.components, w.total()
	volume := b.Weighed / p.Density
	b.Height = volume * cubicCentimeter / bottom(&p.Bucket)
	b.Share = volume / p.Bucket.Volume
	return b, w
}

// split finds the least number of batches within all limits, and marks those
// that do not allow one less. A batch fills whole molds, or a mold takes whole
// batches, so that no batch is shared out.
func split(p *params.Pour, in *Input, r *recipe, limits []Limit) (int, error) {
	molds, last := in.molds(), 1
	for n := 1; n <= max(MostBatches, molds); n++ {
		if molds%n != 0 && n%molds != 0 {
			continue
		}
		last = n
		b, _ := batch(p, in, r, n)
		over := make([]bool, len(limits))
		fits := true
		for i := range limits {
			over[i] = limits[i].exceeded(&b)
			fits = fits && !over[i]
		}
		if fits {
			return n, nil
		}
		for i := range limits {
			limits[i].Decides = over[i]
		}
	}
	return 0, tooSmall(p, in, r, limits, last)
}

// tooSmall says what to change where even the most batches, n, exceed a limit.
func tooSmall(p *params.Pour, in *Input, r *recipe, limits []Limit, n int) params.Faults {
	b, _ := batch(p, in, r, n)
	var faults params.Faults
	for i := range limits {
		l := &limits[i]
		if !l.exceeded(&b) {
			continue
		}
		f := l.fault(p, l.of(&b)/l.Most)
		f.Cause = fmt.Sprintf("%s %s at once, and each of %d batches would still be %s", l.holds(), grams(l.Most), n, grams(l.of(&b)))
		if l.Name != potLife && b.Residue > l.Most/2 {
			f.Cause += fmt.Sprintf(", of which %s stay behind", grams(b.Residue))
		}
		faults = append(faults, f)
	}
	return faults
}

// holds says what a limit does with its mass.
func (l *Limit) holds() string {
	if l.Name == potLife {
		return "the gates let through only"
	}
	return "takes"
}

// fault is about the value of a limit that had to be so many times as large.
func (l *Limit) fault(p *params.Pour, times float64) params.Fault {
	f := params.Fault{Path: l.Key}
	say := func(kind params.Kind, v float64) {
		f.Value, f.Allowed = params.Format(kind, v), "at least "+params.Format(kind, up(v*times))
	}
	switch l.Name {
	case "bucket":
		say(params.Volume, p.Bucket.Volume)
		f.With = []string{"pour.bucket.head_room"}
		f.Hint = "take a larger bucket, or pour fewer molds from one mix"
		if p.Degas == "vacuum" {
			f.With = []string{"pour.degas", "pour.bucket.head_room"}
			f.Hint = "the mix foams up under vacuum: take a larger bucket, or no vacuum"
		}
	case "scale":
		say(params.Mass, p.Scale.Limit)
		f.Hint = "take a scale that carries more"
	case "batch mass":
		say(params.Mass, p.BatchMass)
		f.Hint = "mix more at once, or pour fewer molds from one mix"
	default:
		f.Value, f.Allowed = params.Format(params.Time, p.PotLife), "more than "+params.Format(params.Time, p.PotLife)
		f.With = []string{"mold.sprue.gate", "mold.sprue.count", "pour.start"}
		f.Hint = "take wider gates or more of them, start earlier, or take a urethane with a longer pot life"
	}
	return f
}

// ScaleError is what the scale's steps do to the mix.
type ScaleError struct {
	Smallest string  // the smallest of all A and B
	HalfStep float64 // half a step, as a share of it: no reading is better
	Ratio    float64 // error of A to B by rounding, as a share of the true ratio; of a blend the larger
	Pigment  float64 // pigment as weighed, as a share of A and B
}

func scaleError(r *recipe, w *weighing) ScaleError {
	e := ScaleError{Ratio: w.off}
	least, resin := math.Inf(1), 0.0
	for _, m := range w.masses {
		resin += m
	}
	for _, c := range w.components {
		if c.Name == "pigment" {
			e.Pigment = c.Set / resin
			continue
		}
		if c.Mass < least {
			e.Smallest, least = c.Name, c.Mass
		}
	}
	e.HalfStep = r.step / 2 / least
	return e
}
