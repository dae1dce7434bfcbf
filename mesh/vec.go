// Package mesh holds what every geometry package shares: vectors, boxes, and
// the indexed triangle mesh with its measures.
//
// It does not check a mesh (mesh/check does), and it does not make one
// (mesh/tess does). Lengths are millimeters throughout.
package mesh

import "math"

// Vec is a point or direction in space, in millimeters where it is a point.
type Vec [3]float64

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Sub returns a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// Scale returns k·a.
func (a Vec) Scale(k float64) Vec { return Vec{a[0] * k, a[1] * k, a[2] * k} }

// AddScaled returns a + k·b.
func (a Vec) AddScaled(k float64, b Vec) Vec {
	return Vec{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]}
}

// Dot returns the scalar product.
func (a Vec) Dot(b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// Cross returns the vector product.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Norm returns the length of a.
func (a Vec) Norm() float64 { return math.Sqrt(a.Dot(a)) }

// Dist returns the distance between two points.
func (a Vec) Dist(b Vec) float64 { return a.Sub(b).Norm() }

// Unit returns a scaled to length 1; the zero vector gives NaN.
func (a Vec) Unit() Vec { return a.Scale(1 / a.Norm()) }

// Box is an axis-aligned box; Lo[i] <= Hi[i] unless it is empty.
type Box struct{ Lo, Hi Vec }

// EmptyBox is the box that holds nothing and is neutral for Include and Join.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// Include returns b grown to hold p.
func (b Box) Include(p Vec) Box {
	for i := range p {
		b.Lo[i], b.Hi[i] = min(b.Lo[i], p[i]), max(b.Hi[i], p[i])
	}
	return b
}

// Corners are the eight corners of the box.
func (b Box) Corners() (out [8]Vec) {
	for k := range out {
		for i := range 3 {
			out[k][i] = b.Lo[i]
			if k>>i&1 == 1 {
				out[k][i] = b.Hi[i]
			}
		}
	}
	return out
}

// Join returns the smallest box that holds b and c.
func (b Box) Join(c Box) Box {
	for i := range b.Lo {
		b.Lo[i], b.Hi[i] = min(b.Lo[i], c.Lo[i]), max(b.Hi[i], c.Hi[i])
	}
	return b
}

// Grow returns b with every face moved outward by d.
func (b Box) Grow(d float64) Box {
	v := Vec{d, d, d}
	return Box{b.Lo.Sub(v), b.Hi.Add(v)}
}

// Contains reports whether p lies in b widened by eps.
func (b Box) Contains(p Vec, eps float64) bool {
	for i := range p {
		if p[i] < b.Lo[i]-eps || p[i] > b.Hi[i]+eps {
			return false
		}
	}
	return true
}

// Overlaps reports whether b and c come within eps of each other on every axis.
func (b Box) Overlaps(c Box, eps float64) bool {
	for i := range b.Lo {
		if b.Lo[i] > c.Hi[i]+eps || c.Lo[i] > b.Hi[i]+eps {
			return false
		}
	}
	return true
}
