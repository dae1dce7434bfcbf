package contact

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// Ring is where an outward round wall of one body lies inside an inward round
// wall of another with a thin gap between them: a register in its opening.
type Ring struct {
	Inner, Outer           string
	InnerRoles, OuterRoles []string
	Axis                   solid.Frame // heights count along its Z from its origin
	Z0, Z1                 float64     // lowest and highest common height, mm
	// Turn is the angle over which the walls face each other, rad, averaged over
	// the heights: 2π less what holes take.
	Turn float64

	inner, outer wall
}

// wall is a cylinder or cone along an axis.
type wall struct{ r, slope float64 } // radius at height 0, mm, and its growth per mm

func (w wall) at(z float64) float64 { return w.r + w.slope*z }

// slant is the cosine of the angle between the axis and the middle of the gap.
func (r *Ring) slant() float64 { return 1 / math.Hypot(1, (r.inner.slope+r.outer.slope)/2) }

// Radius returns the radius of the middle of the gap at height z, mm.
func (r *Ring) Radius(z float64) float64 { return (r.inner.at(z) + r.outer.at(z)) / 2 }

// Gap returns the distance of the walls at height z, normal to the middle
// between them, mm; it is negative where the inner one is too large.
func (r *Ring) Gap(z float64) float64 { return (r.outer.at(z) - r.inner.at(z)) * r.slant() }

// MeanRadius returns the radius of the middle of the gap, mm.
func (r *Ring) MeanRadius() float64 { return r.Radius((r.Z0 + r.Z1) / 2) }

// Length returns the length of the gap from one end to the other, mm.
func (r *Ring) Length() float64 { return (r.Z1 - r.Z0) / r.slant() }

// Resistance returns ∫ds/h³ from one end of the gap to the other, 1/mm²: times
// 12·viscosity it is the pressure that a flow per width through a thin film
// takes. It is infinite where the walls touch.
//
// With h linear in s from g to h, ∫ds/h³ = L·(g + h)/(2·g²·h²).
func (r *Ring) Resistance() float64 {
	g, h := r.Gap(r.Z0), r.Gap(r.Z1)
	if g <= 0 || h <= 0 {
		return math.Inf(1)
	}
	return r.Length() * (g + h) / (2 * g * g * h * h)
}

// EffectiveGap returns the even gap of the same length and resistance, mm; 0
// where the walls touch.
func (r *Ring) EffectiveGap() float64 { return math.Cbrt(r.Length() / r.Resistance()) }

// Volume returns the volume between the walls, where they leave one, mm³.
func (r *Ring) Volume() float64 {
	z0, z1 := r.Z0, r.Z1
	g, h := r.Gap(z0), r.Gap(z1)
	switch {
	case g <= 0 && h <= 0:
		return 0
	case g < 0:
		z0 = z1 - (z1-z0)*h/(h-g)
	case h < 0:
		z1 = z0 + (z1-z0)*g/(g-h)
	}
	annulus := func(z float64) float64 {
		a, b := r.inner.at(z), r.outer.at(z)
		return b*b - a*a
	}
	// Simpson's rule is exact for what is quadratic in z.
	return r.Turn / 2 * (z1 - z0) / 6 * (annulus(z0) + 4*annulus((z0+z1)/2) + annulus(z1))
}

// pressed is how much larger than its hole a plug may be drawn and still be
// taken for one pressed into it, mm on the radius: far more than any press fit.
const pressed = 0.5

// shortest is the least height of a ring, mm: what rounding lengths to the
// lattice leaves is shorter.
const shortest = 1e-3

// Rings finds the round contacts of the bodies: coaxial cylinders and cones
// whose radii differ by no more than s.MaxGap, or overlap by no more than 0.5 mm,
// at heights where both faces are. They come in the order of the inner, then the
// outer bodies and their faces, then of heights.
func Rings(bodies []Body, s Settings) []Ring {
	rounds := roundFaces(bodies, &s)
	var out []Ring
	for i := range rounds {
		for j := range rounds {
			a, b := &rounds[i], &rounds[j]
			if a.inward || !b.inward || a.body == b.body || a.axis != b.axis {
				continue
			}
			lo, hi := thin(a.wall, b.wall, s.MaxGap)
			lo, hi = max(lo, a.lo, b.lo), min(hi, a.hi, b.hi)
			if hi-lo < shortest {
				continue
			}
			for _, band := range bands(a, b, lo, hi) {
				out = append(out, Ring{
					Inner: bodies[a.body].Name, Outer: bodies[b.body].Name,
					InnerRoles: a.roles, OuterRoles: b.roles,
					Axis: *a.axis, Z0: band.lo, Z1: band.hi, Turn: band.sum / (band.hi - band.lo),
					inner: a.wall, outer: b.wall,
				})
			}
		}
	}
	return out
}

// thin returns the heights between which the radii are near enough.
func thin(inner, outer wall, maxGap float64) (lo, hi float64) {
	gap, slope := outer.r-inner.r, outer.slope-inner.slope
	least, most := -pressed-touch, maxGap+touch
	if math.Abs(slope) < parallel {
		if gap < least || gap > most {
			return 0, -1
		}
		return math.Inf(-1), math.Inf(1)
	}
	lo, hi = (least-gap)/slope, (most-gap)/slope
	return min(lo, hi), max(lo, hi)
}

// band is a range of heights that two walls have in common at some angles.
type band struct{ lo, hi, sum float64 } // sum: ∫ height dangle, mm·rad

// bands compares two round faces along lines of constant angle.
func bands(a, b *round, lo, hi float64) []band {
	var all []band
	var p, q [16]float64
	for _, sector := range sectors(a, b) {
		x, y := a.heights(p[:0], sector.at), b.heights(q[:0], sector.at)
		for i, j := 0, 0; i+1 < len(x) && j+1 < len(y); {
			z0, z1 := max(x[i], y[j], lo), min(x[i+1], y[j+1], hi)
			if z1-z0 >= shortest {
				all = append(all, band{z0, z1, (z1 - z0) * sector.width})
			}
			if x[i+1] < y[j+1] {
				i += 2
			} else {
				j += 2
			}
		}
	}
	slices.SortStableFunc(all, func(p, q band) int {
		if p.lo < q.lo {
			return -1
		} else if p.lo > q.lo {
			return 1
		}
		return 0
	})
	out := all[:0]
	for _, p := range all {
		if n := len(out); n > 0 && p.lo < out[n-1].hi {
			out[n-1].hi = max(out[n-1].hi, p.hi)
			out[n-1].sum += p.sum
			continue
		}
		out = append(out, p)
	}
	return out
}
