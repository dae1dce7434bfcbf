package step

import (
	"fmt"
	"math"

	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

const (
	degree = 3
	// fitTol is how far a spline may lie from the curve that it stands for, mm: a tenth of
	// the gap that the file states, so that volumes of pins with many cross holes keep to
	// 1e-7.
	fitTol = 1e-6
	// maxSpans bounds a spline that does not settle. An edge takes about 90.
	maxSpans = 4096
)

// spline is a clamped cubic, twice continuously differentiable, with the simple knots
// between its ends.
type spline struct {
	control []Vec
	knots   []float64 // each once; those at the ends count fourfold
}

// fit returns the spline through exact points of an edge, with its tangents at the ends.
// Spans that leave the edge by more than fitTol are cut until none does. It ends where the
// curve does: vertices where curves touch are known less well (mesh/brep), and the reader
// bridges that gap.
func fit(e *region.Edge) (spline, error) {
	n := max(2, int(math.Ceil((e.T1-e.T0)/(2*math.Pi)*16)))
	knots := make([]float64, n+1)
	for i := range knots {
		knots[i] = e.T0 + (e.T1-e.T0)*float64(i)/float64(n)
	}
	knots[n] = e.T1
	for {
		spans := interpolate(e, knots)
		finer := knots[:1:1]
		worst := 0.0
		for i, s := range spans {
			off := s.farthest(e.Carriers)
			worst = max(worst, off)
			// The error of a span falls with the fourth power of its length.
			cuts := 1
			if off > fitTol {
				cuts = int(min(8, math.Ceil(1.05*math.Sqrt(math.Sqrt(off/fitTol)))))
			}
			for k := 1; k < cuts; k++ {
				finer = append(finer, knots[i]+s.length*float64(k)/float64(cuts))
			}
			finer = append(finer, knots[i+1])
		}
		if len(finer) == len(knots) {
			return spline{blossom(spans, knots), knots}, nil
		}
		if !(worst < math.Inf(1)) || len(finer) > maxSpans {
			return spline{}, fmt.Errorf("step: no curve of %d spans runs along the edge from %.6g to %.6g within %g mm", len(knots)-1, e.At(e.T0), e.At(e.T1), fitTol)
		}
		knots = finer
	}
}

// span is the cubic c[0] + c[1]·x + c[2]·x² + c[3]·x³ for x from 0 to length.
type span struct {
	c      [4]Vec
	length float64
}

func (s *span) at(x float64) Vec {
	p := s.c[3]
	for k := 2; k >= 0; k-- {
		p = s.c[k].AddScaled(x, p)
	}
	return p
}

// interpolate returns the cubics through the edge at the knots whose first and second
// derivatives agree at the inner ones (de Boor, A Practical Guide to Splines, chapter
// IV: complete cubic spline interpolation).
func interpolate(e *region.Edge, knots []float64) []span {
	n := len(knots) - 1
	points := make([]Vec, n+1)
	for i, t := range knots {
		points[i] = e.At(t)
	}
	slopes := make([]Vec, n+1)
	slopes[0], slopes[n] = e.Tangent(knots[0]), e.Tangent(knots[n])
	length := func(i int) float64 { return knots[i+1] - knots[i] }
	chord := func(i int) Vec { return points[i+1].Sub(points[i]).Scale(1 / length(i)) }
	// Row i: h[i]·m[i-1] + 2(h[i-1]+h[i])·m[i] + h[i-1]·m[i+1] = right-hand side,
	// eliminated from the first row on; over[i] is what is left of the last factor.
	over := make([]float64, n+1)
	for i := 1; i < n; i++ {
		a, b := length(i-1), length(i)
		right := chord(i-1).Scale(3*b).AddScaled(3*a, chord(i)).AddScaled(-b, slopes[i-1])
		pivot := 2*(a+b) - b*over[i-1]
		slopes[i] = right.Scale(1 / pivot)
		over[i] = a / pivot
	}
	for i := n - 1; i > 0; i-- {
		slopes[i] = slopes[i].AddScaled(-over[i], slopes[i+1])
	}
	spans := make([]span, n)
	for i := range spans {
		h, d := length(i), chord(i)
		sum := slopes[i].Add(slopes[i+1])
		spans[i] = span{length: h, c: [4]Vec{
			points[i], slopes[i],
			d.Scale(3).Sub(sum).Sub(slopes[i]).Scale(1 / h),
			sum.AddScaled(-2, d).Scale(1 / (h * h)),
		}}
	}
	return spans
}

// farthest is how far a span leaves the curve in which two carriers meet, mm.
func (s *span) farthest(carriers [2]*solid.Carrier) float64 {
	worst := 0.0
	for _, x := range [...]float64{.15, .3, .5, .7, .85} {
		worst = max(worst, distance(carriers, s.at(x*s.length)))
	}
	return worst
}

// distance is how far p lies from where two carriers meet, mm, by Newton's method in
// the plane of their normals. Where these are nearly parallel it is how far p lies from
// the carriers: across both of them that is all there is to keep.
func distance(carriers [2]*solid.Carrier, p Vec) float64 {
	a, b := carriers[0], carriers[1]
	q := p
	for range 3 {
		na, nb := a.N(q), b.N(q)
		fa, fb := a.F(q), b.F(q)
		c := na.Dot(nb)
		det := 1 - c*c
		if det < 1e-10 {
			return max(math.Abs(a.F(p)), math.Abs(b.F(p)))
		}
		q = q.AddScaled((c*fb-fa)/det, na).AddScaled((c*fa-fb)/det, nb)
	}
	return p.Dist(q)
}

// blossom returns the control points: the polar form of the cubics at every three
// successive knots.
func blossom(spans []span, knots []float64) []Vec {
	n := len(spans)
	knot := func(i int) float64 { return knots[min(max(i, 0), n)] }
	control := make([]Vec, n+degree)
	for j := range control {
		i := min(max(j-1, 0), n-1) // a span on which the point acts
		s := &spans[i]
		x, y, z := knot(j-2)-knots[i], knot(j-1)-knots[i], knot(j)-knots[i]
		control[j] = s.c[0].AddScaled((x+y+z)/3, s.c[1]).AddScaled((x*y+y*z+z*x)/3, s.c[2]).AddScaled(x*y*z, s.c[3])
	}
	return control
}
