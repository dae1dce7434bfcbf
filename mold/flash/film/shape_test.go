package film

import (
	"math"
	"slices"

	"wheelmold/mesh/contact"
)

// shape is a region between closed curves, by the even-odd rule.
type shape []curve

// curve is a closed polygon or a circle whose edges carry labels.
type curve struct {
	points [][2]float64 // corners of a polygon
	labels []int        // of the edges from each corner to the next
	center [2]float64   // of a circle
	radius float64
	label  int
}

func polygon(points [][2]float64, labels ...int) curve {
	return curve{points: points, labels: labels}
}

func circle(u, v, radius float64, label int) curve {
	return curve{center: [2]float64{u, v}, radius: radius, label: label}
}

// box is a rectangle with labels in the order south, east, north, west.
func box(u0, v0, u1, v1 float64, labels ...int) curve {
	return polygon([][2]float64{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}}, labels...)
}

// turned is a rectangle of length by width, seen from one of its corners at (u, v)
// and turned by an angle; its labels start with the side along the length.
func turned(u, v, length, width, degrees float64, labels ...int) curve {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	at := func(x, y float64) [2]float64 { return [2]float64{u + x*cos - y*sin, v + x*sin + y*cos} }
	return polygon([][2]float64{at(0, 0), at(length, 0), at(length, width), at(0, width)}, labels...)
}

func (s shape) Bounds() (lo, hi [2]float64) {
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, c := range s {
		for axis := range 2 {
			for _, p := range c.points {
				lo[axis], hi[axis] = min(lo[axis], p[axis]), max(hi[axis], p[axis])
			}
			if c.radius > 0 {
				lo[axis] = min(lo[axis], c.center[axis]-c.radius)
				hi[axis] = max(hi[axis], c.center[axis]+c.radius)
			}
		}
	}
	return lo, hi
}

func (s shape) Row(v float64) []contact.Span { return s.cut(v, 0) }
func (s shape) Col(u float64) []contact.Span { return s.cut(u, 1) }

// cut returns the runs along an axis where the other coordinate is at.
func (s shape) cut(at float64, axis int) []contact.Span {
	var ends []contact.End
	other := 1 - axis
	for _, c := range s {
		if h := at - c.center[other]; c.radius > 0 && math.Abs(h) < c.radius {
			half := math.Sqrt(c.radius*c.radius - h*h)
			for _, sign := range [2]float64{-1, 1} {
				ends = append(ends, contact.End{At: c.center[axis] + sign*half, Label: c.label, Across: half / c.radius})
			}
		}
		for i, p := range c.points {
			q := c.points[(i+1)%len(c.points)]
			if (p[other] > at) == (q[other] > at) {
				continue
			}
			t := (at - p[other]) / (q[other] - p[other])
			across := math.Abs(q[other]-p[other]) / math.Hypot(q[0]-p[0], q[1]-p[1])
			ends = append(ends, contact.End{At: p[axis] + t*(q[axis]-p[axis]), Label: c.labels[i], Across: across})
		}
	}
	slices.SortFunc(ends, func(a, b contact.End) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	var runs []contact.Span
	for i := 0; i+1 < len(ends); i += 2 {
		runs = append(runs, contact.Span{Lo: ends[i], Hi: ends[i+1]})
	}
	return runs
}

// Labels of the test shapes; labels from exitLabel on are exits.
const (
	wallLabel = 0
	seamLabel = 1
	exitLabel = 2
)

func classOf(label int) Class {
	switch {
	case label == wallLabel:
		return Wall
	case label == seamLabel:
		return Seam
	}
	return Exit
}

func grid(cell float64, curves ...curve) *Grid {
	return New(shape(curves), cell, classOf)
}

// plate is a square plate around a round seam, with ball pockets and bolt holes
// in its corners.
func plate(cell float64) *Grid {
	curves := []curve{box(-189, -189, 189, 189, exitLabel, exitLabel, exitLabel, exitLabel), circle(0, 0, 141, seamLabel)}
	for _, s := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		curves = append(curves, circle(s[0]*150, s[1]*150, 6.5, exitLabel+1), circle(s[0]*172, s[1]*172, 4.5, wallLabel))
	}
	return grid(cell, curves...)
}

// each calls f for every cell with the place of its center.
func each(g *Grid, f func(c int, u, v float64)) {
	for c, in := range g.In {
		if in {
			f(c, g.U0+float64(c%g.Nx)*g.Cell, g.V0+float64(c/g.Nx)*g.Cell)
		}
	}
}

// order fits the power of the cell with which an error falls.
func order(cells, errors []float64) float64 {
	var n, x, y, xx, xy float64
	for i := range cells {
		a, b := math.Log(cells[i]), math.Log(errors[i])
		n, x, y, xx, xy = n+1, x+a, y+b, xx+a*a, xy+a*b
	}
	return (n*xy - x*y) / (n*xx - x*x)
}
