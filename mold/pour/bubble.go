package pour

import (
	"math"

	"wheelmold/mold"
	"wheelmold/mold/urethane"
	"wheelmold/params"
)

// Band is a figure that is only known to lie between two.
type Band struct{ Least, Most float64 }

// Bubbles rise in creeping flow, v = ρg·d²/(18μ) with a surface as good as solid,
// which what is dissolved in a liquid makes it (Stokes 1851), up to 1.5 times that
// with a clean one (Hadamard 1911, Rybczynski 1911). The bubble's own density is
// left out, a thousandth. One alone is reckoned with: many hinder each other. Up to
// a Reynolds number of 1 the speeds hold within some 15 %, beyond a bubble is slower:
// in casting urethanes that takes bubbles of several mm, which leave in any case.
const (
	solidSurface = 18
	cleanSurface = 12
)

// Clears is the diameter in mm of the smallest bubble that rises through a height
// in mm while the liquid spends a mobility in 1/Pa: smaller ones from the bottom
// stay in. Least is that of bubbles with clean surfaces. False if no bubble rises.
func Clears(l urethane.Liquid, height, mobility float64) (Band, bool) {
	drive := l.Head(1) * mobility
	if !(drive > 0) {
		return Band{}, false
	}
	d := math.Sqrt(max(height, 0) / drive)
	return Band{d * math.Sqrt(cleanSurface), d * math.Sqrt(solidSurface)}, true
}

// Squeezed is what is left of a bubble's volume and diameter, as shares, when the
// pressure on it goes from one to another, both absolute and in Pa: Boyle's law, at
// one temperature. Air that dissolves under pressure, or comes out of solution in a
// vacuum, is not counted. Where either pressure is nothing, so are the shares.
func Squeezed(from, to float64) (volume, diameter float64) {
	if from <= 0 || to <= 0 {
		return 0, 0
	}
	volume = from / to
	return volume, math.Cbrt(volume)
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
		b.SqueezedVolume, b.SqueezedDiameter = Squeezed(params.Atmosphere, params.Atmosphere+j.PotPressure)
	}
	return b
}
