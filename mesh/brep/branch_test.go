package brep

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/solid"
)

// rootsOf are the roots of a gap between 0 and 1, those at an interval's ends left out, and
// where it only touches zero.
func rootsOf(periodic bool, gap func(t float64) float64) (roots, touches []float64) {
	var m meeting
	roots = m.gapRoots(&family{lo: 0, hi: 1, periodic: periodic},
		&sheet{[]func(float64) float64{gap}, []func(float64) Vec{func(t float64) Vec { return Vec{t} }}})
	if !periodic {
		roots = roots[1 : len(roots)-1]
	}
	for _, p := range m.touches {
		touches = append(touches, p[0])
	}
	return roots, touches
}

// A gap that reaches beyond zero between two samples and back has both its roots found
// wherever that happens, near the ends of an interval and across the seam of a turn as
// well, be it round or pointed there.
func TestShortGapsAreFoundEverywhere(t *testing.T) {
	const width, places = 1e-3, 1440 // of the roots, a tenth of the way between samples
	for _, periodic := range []bool{false, true} {
		for _, sign := range []float64{1, -1} {
			for k := range places {
				c := (float64(k) + .5) / places
				if !periodic && (c < width || c > 1-width) {
					continue
				}
				for shape, gap := range map[string]func(t float64) float64{
					"round":   func(t float64) float64 { return math.Cos(2*math.Pi*(t-c)) - math.Cos(math.Pi*width) },
					"pointed": func(t float64) float64 { return math.Sin(math.Pi*width/2) - math.Abs(math.Sin(math.Pi*(t-c))) },
				} {
					roots, touches := rootsOf(periodic, func(t float64) float64 { return sign * gap(t) })
					if len(roots) != 2 || len(touches) > 0 || !same(roots[0], c-width/2, periodic, 1e-11) || !same(roots[1], c+width/2, periodic, 1e-11) {
						if len(roots) == 2 && same(roots[1], c-width/2, periodic, 1e-11) && same(roots[0], c+width/2, periodic, 1e-11) {
							continue // across the seam
						}
						t.Fatalf("%s, sign %g, periodic %v: roots %v, touches %v, want %v and %v", shape, sign, periodic, roots, touches, c-width/2, c+width/2)
					}
				}
			}
		}
	}
}

// same compares two parameters, a turn apart as well where a gap is periodic.
func same(got, want float64, periodic bool, within float64) bool {
	d := got - want
	if periodic {
		d -= math.Round(d)
	}
	return math.Abs(d) <= within
}

// A gap that reaches zero without passing it has one root, on a sample or between two. It
// is a contact if it comes from below; from above the branch goes on.
func TestContactsAreFoundEverywhere(t *testing.T) {
	const places = 4 * gapSamples
	for _, periodic := range []bool{false, true} {
		for _, sign := range []float64{1, -1} {
			for k := range places {
				c := float64(k) / places
				if c == 0 && !periodic {
					continue // what lies on an end goes on beyond it
				}
				roots, touches := rootsOf(periodic, func(t float64) float64 { return sign * 50 * (1 - math.Cos(2*math.Pi*(t-c))) })
				if len(roots) == 0 || len(roots) > 1 || (len(touches) > 0) != (sign < 0) {
					t.Fatalf("at %v, sign %g, periodic %v: roots %v, touches %v", c, sign, periodic, roots, touches)
				}
				for _, x := range append(roots, touches...) { // found to the root of rounding
					if !same(x, c, periodic, 1e-6) {
						t.Fatalf("at %v, sign %g, periodic %v: roots %v, touches %v", c, sign, periodic, roots, touches)
					}
				}
			}
		}
	}
}

// Beyond an interval's ends a gap may vanish: that is no root of its own.
func TestRootsLieInTheInterval(t *testing.T) {
	for _, past := range []float64{1e-4, 1e-3, 1. / 3 / gapSamples, 1. / gapSamples} {
		for name, gap := range map[string]func(t float64) float64{
			"before": func(t float64) float64 { return t + past },
			"behind": func(t float64) float64 { return 1 + past - t },
			"bent":   func(t float64) float64 { return 1000 * (t + past) * (t + 2*past) },
		} {
			for _, sign := range []float64{1, -1} {
				if roots, touches := rootsOf(false, func(t float64) float64 { return sign * gap(t) }); len(roots)+len(touches) > 0 {
					t.Errorf("%s, %g: roots %v, touches %v", name, past, roots, touches)
				}
			}
		}
	}
}

// The very tip of a long cone, cut off askew, is a cone on an ellipse: a third of the
// ellipse times how far the tip stands above the plane.
func TestTipsOfConesCutOffAskew(t *testing.T) {
	const high, slope = 100., .2
	for _, tilt := range []float64{10, 30, 45, 60} {
		for _, d := range []float64{.05, .1, .2, .3, .5, 1, 3} { // from the tip down the axis
			m := solid.NewModel()
			s, c := math.Sincos(tilt * pi / 180)
			f := solid.Frame{O: Vec{0, 0, high - d}, X: xAxis, Y: Vec{0, c, s}, Z: Vec{0, -s, c}}
			tip := solid.Minus(m.Cone("", "", Vec{}, zAxis, slope*high, 0, 0, high), m.BoxIn("", "", f, Vec{-300, -300, -300}, Vec{300, 300, 0}))
			// Along the plane's fall line the ellipse reaches from -down to up, where the
			// height lost or won changes the cone's radius by slope.
			up, down := slope*d/(c+slope*s), slope*d/(c-slope*s)
			middle := (up - down) / 2
			across := math.Sqrt(math.Pow(slope*(d-middle*s), 2) - math.Pow(middle*c, 2))
			near(t, fmt.Sprintf("%g mm of the tip at %g°", d, tilt), boundary(t, m, tip).Volume(), pi*(up+down)/2*across*d*c/3, 1e-6)
		}
	}
}
