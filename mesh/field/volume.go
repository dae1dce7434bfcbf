package field

import (
	"math"

	"wheelmold/mesh/solid"
)

// effort is how hard RayVolume tries.
type effort struct {
	tol    float64 // wanted accuracy, as part of the volume of the solid's box
	halved int     // how often a panel of radii or angles may be halved
}

// What is reached is mostly a hundred times better than tol, because the error
// that a panel is judged by is that of its coarser rule.
var (
	round   = effort{1e-8, 12} // solids of revolution about one upright axis: one ray per radius
	free    = effort{1e-5, 10} // with leaves beside the axis, or whose axis is level
	leaning = effort{1e-5, 4}  // with leaning leaves, whose outlines in plan are not known
)

// maxRays: after so many rays nothing is halved any more, and the estimate says
// what that costs. It keeps a solid whose faces cross in many curves of no known
// outline to some ten seconds.
const maxRays = 200_000

func effortFor(leaves []*solid.Leaf, isRound bool) effort {
	if isRound {
		return round
	}
	for _, l := range leaves {
		if lean(l) >= straight && math.Abs(l.Frame.Z[2]) >= straight {
			return leaning
		}
	}
	return free
}

// RayVolume returns the solid's volume in mm³ as the field sees it, and an
// estimate of the error in mm³ which is the sum of all differences between two
// resolutions, and so errs upward.
//
// Rays parallel to z are integrated over polar panels about the largest upright
// axis of revolution. Panels are broken where a leaf's outline breaks the
// integrand, and halved where two nested rules disagree. A wheel's tread comes
// out within 1e-6 of its volume and mostly 1e-9, a mold piece within 1e-5, a
// solid with leaning leaves within 1e-4. Details of less than 1e-5 mm along z may
// be lost.
func RayVolume(f *Field) (mm3, estimatedError float64) {
	b := f.box
	size := b.Hi.Sub(b.Lo)
	if !(size[0] > 0 && size[1] > 0 && size[2] > 0) {
		return 0, 0
	}
	leaves := f.root.Leaves()
	pole, isRound := pole(leaves, b)
	e := effortFor(leaves, isRound)
	v := &volume{
		rays:   newRays(f),
		plan:   newPlan(leaves, pole),
		effort: e,
		tol:    e.tol * size[0] * size[1] * size[2],
		most: math.Hypot(
			max(math.Abs(b.Lo[0]-pole[0]), math.Abs(b.Hi[0]-pole[0])),
			max(math.Abs(b.Lo[1]-pole[1]), math.Abs(b.Hi[1]-pole[1]))),
	}
	turn := v.turn
	if isRound {
		v.most = size[0] / 2
		turn = v.alike
	}
	rs := v.plan.radii(v.most)
	sum := v.panels(func(r float64) estimate { return turn(r).times(r) }, rs, v.tol)
	return sum.value, sum.err
}

type volume struct {
	rays   *rays
	plan   *plan
	effort effort
	tol    float64 // mm³
	most   float64 // largest radius, mm
}

// alike is one full turn at radius r of a solid of revolution.
func (v *volume) alike(r float64) estimate {
	return estimate{value: 2 * math.Pi * v.rays.inside(v.plan.pole[0]+r, v.plan.pole[1])}
}

// turn integrates the rays of one full turn at radius r, over the angle.
func (v *volume) turn(r float64) estimate {
	at := func(a float64) estimate {
		sn, cs := math.Sincos(a)
		return estimate{value: v.rays.inside(v.plan.pole[0]+r*cs, v.plan.pole[1]+r*sn)}
	}
	as := v.plan.angles(r)
	// The error over all radii is at most the error per turn times most²/2.
	tol := v.tol / (v.most * v.most / 2)
	return v.panels(at, as, tol)
}

// panels integrates f from the first break to the last, panel by panel.
func (v *volume) panels(f func(x float64) estimate, breaks []float64, tol float64) (sum estimate) {
	q := quadrature{
		tol:    tol / float64(len(breaks)),
		halved: v.effort.halved,
		spent:  func() bool { return v.rays.shot > maxRays },
	}
	for i := 1; i < len(breaks); i++ {
		sum = sum.plus(q.integrate(f, breaks[i-1], breaks[i]))
	}
	return sum
}

// pole returns the center of the polar panels, and whether the solid is one of
// revolution about it.
func pole(leaves []*solid.Leaf, box solid.Box) (p solid.Point2, round bool) {
	p = solid.Point2{(box.Lo[0] + box.Hi[0]) / 2, (box.Lo[1] + box.Hi[1]) / 2}
	widest := 0.0
	for _, l := range leaves {
		if w := l.Box.Hi[0] - l.Box.Lo[0]; upright(l) && w > widest {
			widest, p = w, xy(l.Frame.O)
		}
	}
	for _, l := range leaves {
		if q := xy(l.Frame.O); !upright(l) || math.Hypot(q[0]-p[0], q[1]-p[1]) > merge {
			return p, false
		}
	}
	return p, true
}

// upright reports whether the leaf is turned about a parallel of z.
func upright(l *solid.Leaf) bool { return !l.Extruded && lean(l) < straight }

// lean returns the sine of the angle between the leaf's axis and z.
func lean(l *solid.Leaf) float64 { return math.Hypot(l.Frame.Z[0], l.Frame.Z[1]) }

// straight: an axis that leans by less (a sine) is taken as upright, and one
// that rises by less as level. It is the tolerance at which mesh/solid takes two
// directions for one.
const straight = 1e-9
