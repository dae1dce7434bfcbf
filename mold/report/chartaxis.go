package report

import (
	"math"
	"strings"

	"wheelmold/mold/portable"
	"wheelmold/params"
)

// axis is one direction of a chart.
type axis struct {
	Name   string // with the unit of its ticks
	Lo, Hi float64
	Log    bool                 // the same way for the same ratio; Lo must be above 0
	Time   bool                 // in s, told as a clock tells it
	Text   func(float64) string // of a tick; nil: a plain number
	Other  func(float64) string // the same in another unit, for who points at it; may be nil
}

// valid reports whether anything can be drawn along it.
func (a *axis) valid() bool {
	return finite(a.Lo) && finite(a.Hi) && a.Lo < a.Hi && (!a.Log || a.Lo > 0)
}

// has reports whether a figure lies on the axis.
func (a *axis) has(v float64) bool {
	hair := 1e-9 * (a.Hi - a.Lo)
	return v >= a.Lo-hair && v <= a.Hi+hair && (!a.Log || v > 0)
}

func (a *axis) label(v float64) string {
	switch {
	case a.Text != nil:
		return a.Text(v)
	case a.Time:
		return dial(v)
	}
	return number(v, 6)
}

func (a *axis) hint(v float64) string {
	if a.Other == nil {
		return ""
	}
	return a.Other(v)
}

// scale places a figure on paper, mm.
func (a *axis) scale(from, to float64) scale { return scale{a.Lo, a.Hi, from, to, a.Log} }

// scale maps lo to from and hi to to.
type scale struct {
	lo, hi, from, to float64
	log              bool
}

func (s scale) at(v float64) float64 {
	if s.log {
		return s.from + (s.to-s.from)*portable.Log(v/s.lo)/portable.Log(s.hi/s.lo)
	}
	return s.from + (s.to-s.from)*(v-s.lo)/(s.hi-s.lo)
}

// ticks are round figures on the axis, about as many as asked for at most.
func (a *axis) ticks(most int) []float64 {
	switch {
	case a.Log:
		return logTicks(a.Lo, a.Hi, most)
	case a.Time:
		return steps(a.Lo, a.Hi, dialStep((a.Hi-a.Lo)/float64(max(most, 1))))
	}
	return steps(a.Lo, a.Hi, niceStep((a.Hi-a.Lo)/float64(max(most, 1))))
}

// niceStep is the least of 1, 2 and 5 times a power of ten that is no less than v.
func niceStep(v float64) float64 {
	ten := math.Pow(10, float64(params.Decade(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*ten >= v*(1-1e-9) {
			return m * ten
		}
	}
	return 10 * ten
}

// nextTen is the least power of ten that is no less than v.
func nextTen(v float64) float64 {
	ten := math.Pow(10, float64(params.Decade(v)))
	if ten < v*(1-1e-9) {
		return 10 * ten
	}
	return ten
}

// dialStep is the like for times in s: steps that a watch shows.
func dialStep(v float64) float64 {
	for _, s := range []float64{1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600} {
		if s >= v*(1-1e-9) {
			return s
		}
	}
	return 3600 * niceStep(v/3600)
}

// steps are the multiples of a step between two figures.
func steps(lo, hi, step float64) (out []float64) {
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+1e-9*step; k++ {
		out = append(out, k*step)
	}
	return out
}

// logTicks are 1, 2 and 5 times powers of ten, or the powers alone where those are
// too many.
func logTicks(lo, hi float64, most int) (out []float64) {
	for _, mantissas := range [][]float64{{1, 2, 5}, {1}} {
		out = nil
		for e := params.Decade(lo); math.Pow(10, float64(e)) <= hi*(1+1e-9); e++ {
			for _, m := range mantissas {
				if v := m * math.Pow(10, float64(e)); v >= lo*(1-1e-9) && v <= hi*(1+1e-9) {
					out = append(out, v)
				}
			}
		}
		if len(out) <= most {
			break
		}
	}
	return out
}

// dial prints a time in s as a watch counts it, without its unit.
func dial(s float64) string {
	return strings.TrimRight(span(s), " hmin")
}
