package tess

import "math"

// point2 is a point of a plane or of a chart of a curved face.
type point2 [2]float64

// orientBound bounds the rounding error of the determinant in orient relative
// to the sum of the magnitudes of its two products: (3 + 16ε)ε with ε = 2⁻⁵³
// (Shewchuk, Adaptive Precision Floating-Point Arithmetic and Fast Robust
// Geometric Predicates, 1997, p. 37).
const orientBound = (3 + 16*epsilon) * epsilon

const epsilon = 1.0 / (1 << 53)

// orient is positive where a, b, c turn counter-clockwise, negative where they
// turn clockwise, 0 where they are collinear. The sign is exact; the value is
// twice the triangle's area, rounded.
func orient(a, b, c point2) float64 {
	l := (a[0] - c[0]) * (b[1] - c[1])
	r := (a[1] - c[1]) * (b[0] - c[0])
	d := l - r
	if e := orientBound * (math.Abs(l) + math.Abs(r)); d > e || -d > e {
		return d
	}
	return orientExact(a, b, c)
}

// orientExact sums the six products of the expanded determinant without
// rounding, as an expansion of floats that do not overlap.
func orientExact(a, b, c point2) float64 {
	var sum expansion
	for _, t := range [6][2]float64{
		{a[0], b[1]}, {-a[0], c[1]}, {-c[0], b[1]},
		{-a[1], b[0]}, {a[1], c[0]}, {c[1], b[0]},
	} {
		hi := t[0] * t[1]
		sum.add(math.FMA(t[0], t[1], -hi))
		sum.add(hi)
	}
	return sum.top()
}

// expansion is an exact sum of floats: its parts do not overlap and grow in
// magnitude, so that the last one that is not 0 has the sign of the sum.
type expansion struct {
	part [12]float64
	n    int
}

// add adds x without rounding (Shewchuk's Grow-Expansion).
func (s *expansion) add(x float64) {
	for i := 0; i < s.n; i++ {
		p := s.part[i]
		sum := x + p
		bb := sum - x
		s.part[i] = (x - (sum - bb)) + (p - bb)
		x = sum
	}
	s.part[s.n] = x
	s.n++
}

func (s *expansion) top() float64 {
	for i := s.n - 1; i >= 0; i-- {
		if s.part[i] != 0 {
			return s.part[i]
		}
	}
	return 0
}

// inCircleBound bounds the rounding error of the determinant in inCircle
// relative to its permanent: (10 + 96ε)ε, same source, p. 41.
const inCircleBound = (10 + 96*epsilon) * epsilon

// inCircle reports whether d lies inside the circle through a, b, c (counter-
// clockwise) beyond doubt. Four points on one circle to rounding have two good
// triangulations, so doubt is answered by no: flipping then ends.
func inCircle(a, b, c, d point2) bool {
	ax, ay := a[0]-d[0], a[1]-d[1]
	bx, by := b[0]-d[0], b[1]-d[1]
	cx, cy := c[0]-d[0], c[1]-d[1]
	aa, bb, cc := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
	det := aa*(bx*cy-by*cx) + bb*(cx*ay-cy*ax) + cc*(ax*by-ay*bx)
	perm := aa*(math.Abs(bx*cy)+math.Abs(by*cx)) + bb*(math.Abs(cx*ay)+math.Abs(cy*ax)) + cc*(math.Abs(ax*by)+math.Abs(ay*bx))
	return det > inCircleBound*perm
}
