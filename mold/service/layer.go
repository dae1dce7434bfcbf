package service

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"

	"wheelmold/mold/portable"
)

// mostSlender is the greatest half contact, in thicknesses, that the table reaches.
const mostSlender = 8.0

// ErrBeyondTable tells that a contact is too long for its layer to be reckoned.
var ErrBeyondTable = errors.New("the contact is more than 16 times as long as the rubber is thick: beyond the table")

// How far the interpolation may be off, where the tests leave a point out: load and
// pressure, and deflection.
const (
	PressureDoubt   = 0.01
	DeflectionDoubt = 0.025
)

// LeastPoisson is the least Poisson's ratio that the figures are bounded with.
const LeastPoisson = 0.45

// slender are the table's half contacts a/h.
var slender = []float64{0.1, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4, mostSlender}

// column is the exact plane solution for one Poisson's ratio: a flat layer, bonded to a
// rigid base and pressed by a rigid roller without friction, at small strain, by Chebyshev
// collocation of its integral equation. By a/h: load P'R/(Eh²) and approach δR/h².
type column struct {
	poisson        float64
	load, approach []float64
}

// columns are rubber that keeps its volume, which the figures are for, and two that yield
// a little to pressure, which bound how far that may be wrong.
var columns = []column{
	{0.5,
		[]float64{0.010579, 0.069604, 0.32659, 0.90372, 1.9931, 6.7031, 16.955, 69.091, 200.90, 3318.8},
		[]float64{0.012738, 0.053815, 0.15226, 0.28089, 0.43834, 0.83404, 1.3292, 2.5962, 4.2158, 14.098}},
	{0.49,
		[]float64{0.010439, 0.068590, 0.32049, 0.88168, 1.9315, 6.3981, 15.907, 62.229, 172.41, 2228.1},
		[]float64{0.012931, 0.055007, 0.15716, 0.29271, 0.46138, 0.89682, 1.4624, 3.0007, 5.1331, 20.967}},
	{LeastPoisson,
		[]float64{0.009938, 0.065012, 0.29951, 0.80822, 1.7327, 5.4806, 12.979, 45.875, 114.84, 1059.5},
		[]float64{0.013583, 0.059017, 0.17330, 0.33063, 0.53298, 1.0794, 1.8238, 3.9491, 6.9827, 28.850}},
}

// peaks are the peak pressures p0·R/(Eh) of the first column.
var peaks = []float64{0.06735, 0.17737, 0.41919, 0.78756, 1.3349, 3.1325, 6.1389, 17.379, 38.963, 342.8}

// layer reckons contacts of one column.
type layer struct {
	hertz float64 // load by (a/h)² as the contact gets short: π/4(1-ν²)
	first float64 // the least tabulated a/h
	// stiffening is how the load exceeds Hertz's, and approach how far it is pressed in,
	// both as logarithms; fuller is how the peak's share of the mean pressure exceeds
	// that of Hertz's half ellipse. By stretch.
	stiffening, approach, fuller interp.FritschButland
	// far is 2·ln(h/a) short of the approach over the load by its unit, π/(1-ν²), at first.
	far float64
}

// stretch is what the table is interpolated over: the stiffening's logarithm is nearly
// straight in it, from (a/h)² at short contacts to the third power at long ones.
func stretch(slenderness float64) float64 { return math.Log1p(slenderness * slenderness) }

// newLayer fits a column whose nodes may be any of the table's; peak is nil without.
func newLayer(nodes []float64, c column, peak []float64) *layer {
	l := &layer{hertz: math.Pi / (4 * (1 - c.poisson*c.poisson)), first: nodes[0]}
	// Short contacts do not feel the base: there it is Hertz's.
	at, stiff, full := []float64{0}, []float64{0}, []float64{1}
	approach := make([]float64, len(nodes))
	for i, x := range nodes {
		at = append(at, stretch(x))
		stiff = append(stiff, portable.Log(c.load[i]/(l.hertz*x*x)))
		approach[i] = portable.Log(c.approach[i])
		if peak != nil {
			full = append(full, peak[i]*math.Pi*x/(2*c.load[i]))
		}
	}
	must(l.stiffening.Fit(at, stiff))
	logs := make([]float64, len(nodes))
	for i, x := range nodes {
		logs[i] = portable.Log(x)
	}
	must(l.approach.Fit(logs, approach))
	if peak != nil {
		must(l.fuller.Fit(at, full))
	}
	l.far = 4*l.hertz*c.approach[0]/c.load[0] + 2*logs[0]
	return l
}

// must is for fits of the table above, which cannot fail.
func must(err error) {
	if err != nil {
		panic(err)
	}
}

// loadAt is P'R/(Eh²) at a half contact a/h.
func (l *layer) loadAt(x float64) float64 {
	return l.hertz * x * x * portable.Exp(l.stiffening.Predict(stretch(x)))
}

// approachAt is δR/h² at a half contact a/h. Below the table it follows the law of line
// contacts, whose approach per load grows with the logarithm of the distance to the base.
func (l *layer) approachAt(x float64) float64 {
	if x < l.first {
		return l.loadAt(x) / (4 * l.hertz) * (l.far - 2*portable.Log(x))
	}
	return portable.Exp(l.approach.Predict(portable.Log(x)))
}

// peakAt is p0·R/(Eh) at a half contact a/h.
func (l *layer) peakAt(x float64) float64 {
	return l.fuller.Predict(stretch(x)) * 2 * l.loadAt(x) / (math.Pi * x)
}

// contact is the half contact a/h under a load P'R/(Eh²), by bisection to the last digit
// that counts: the load grows with the contact.
func (l *layer) contact(load float64) (float64, error) {
	if load > l.loadAt(mostSlender) {
		return 0, ErrBeyondTable
	}
	const steps = 1 << 30
	k := sort.Search(steps, func(k int) bool { return l.loadAt(mostSlender*float64(k)/steps) >= load })
	return mostSlender * float64(k) / steps, nil
}

// layers are the table's columns; the first also knows the peak pressure.
var layers = func() (out []*layer) {
	for i, c := range columns {
		var peak []float64
		if i == 0 {
			peak = peaks
		}
		out = append(out, newLayer(slender, c, peak))
	}
	return out
}()

// pressed is one contact: lengths in mm, pressures in Pa.
type pressed struct{ half, deflection, mean, peak float64 }

// press solves the contact of a layer for a load in N per mm of width, radius and
// thickness in mm and a modulus in Pa. The peak is 0 where the column has none.
func (l *layer) press(load, radius, thickness, modulus float64) (pressed, error) {
	if load <= 0 {
		return pressed{}, nil
	}
	e := modulus / 1e6 // N/mm²
	x, err := l.contact(load * radius / (e * thickness * thickness))
	if err != nil {
		return pressed{}, err
	}
	p := pressed{half: x * thickness, deflection: l.approachAt(x) * thickness * thickness / radius}
	p.mean = load / (2 * p.half) * 1e6
	if l == layers[0] {
		p.peak = l.peakAt(x) * modulus * thickness / radius
	}
	return p, nil
}
