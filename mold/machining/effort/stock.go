package effort

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/region"
	"wheelmold/mold"
	"wheelmold/params"
)

// Shape of a blank.
type Shape string

// Shapes of blanks.
const (
	Block Shape = "block" // sawn from plate
	Bar   Shape = "bar"   // sawn from round bar
)

// Stock is the blank of a piece, mm. A block is cut out of plate of its Thickness, a bar
// has a Diameter; neither has what the other has.
type Stock struct {
	Shape     Shape
	Length    float64
	Width     float64
	Thickness float64
	Diameter  float64
	Volume    float64 // mm³
}

// String is the blank as one orders it, to a tenth of a millimeter: "block 250 x 250 x 30 mm", "bar Ø 110 x 64 mm".
func (s Stock) String() string {
	if s.Shape == Bar {
		return fmt.Sprintf("bar Ø %g x %g mm", tenths(s.Diameter), tenths(s.Length))
	}
	return fmt.Sprintf("block %g x %g x %g mm", tenths(s.Length), tenths(s.Width), tenths(s.Thickness))
}

// alike tells whether two blanks are one size: shells that are turned about the axis
// differ by rounding.
func (s Stock) alike(t Stock) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-3 }
	return s.Shape == t.Shape && near(s.Length, t.Length) && near(s.Width, t.Width) && near(s.Thickness, t.Thickness) && near(s.Diameter, t.Diameter)
}

func tenths(v float64) float64 { return math.Round(v*10) / 10 }

// grip is the length in mm of a bar that stays in the chuck. Assumed: jaws of 20 mm.
const grip = 20

// largestBar is the diameter in mm up to which round plates are taken from bar. Assumed:
// dealers saw thicker bars, but do not stock them.
const largestBar = 300

// blockFor is the smallest block that holds a piece: along the axes, or along the way
// that it is drawn off.
func blockFor(j *params.Job, x *mold.Piece, s *region.Solid) Stock {
	best := block(j, extents(s, mesh.Vec{1, 0, 0}))
	if u := (mesh.Vec{x.Pull[0], x.Pull[1], 0}); u.Norm() > 1e-9 {
		if b := block(j, extents(s, u.Unit())); b.Volume < best.Volume*(1-1e-9) {
			best = b
		}
	}
	return best
}

// block adds the allowance to every face. The least of its sizes is that of the plate.
func block(j *params.Job, size [3]float64) Stock {
	for i := range size {
		size[i] += 2 * j.Machining.Allowance
	}
	a, b, c := size[0], size[1], size[2]
	t := stepUp(min(a, b, c), j.Machining.BlankStep)
	l := max(a, b, c)
	w := a + b + c - l - min(a, b, c)
	l, w = max(l, t), max(w, t) // a cube's next step may pass its other sides
	return Stock{Shape: Block, Length: l, Width: w, Thickness: t, Volume: l * w * t}
}

// sliceFor is the slice of a bar along the axis that holds a plate.
func sliceFor(j *params.Job, s *region.Solid) Stock {
	return bar(j, s, 0)
}

// barFor is the bar that a hub is turned from.
func barFor(j *params.Job, s *region.Solid) Stock { return bar(j, s, grip) }

func bar(j *params.Job, s *region.Solid, more float64) Stock {
	a := 2 * j.Machining.Allowance
	d := stepUp(2*radius(s)+a, j.Machining.BlankStep)
	l := extents(s, mesh.Vec{1, 0, 0})[2] + a + more
	return Stock{Shape: Bar, Length: l, Diameter: d, Volume: math.Pi / 4 * d * d * l}
}

// stepUp is the next size that is sold; what lies a hair above one, by rounding to the
// lattice, is that one.
func stepUp(v, step float64) float64 {
	const hair = 1e-3 // mm
	return math.Round(math.Ceil((v-hair)/step)*step*1e6) / 1e6
}

// extents are the sizes of a solid along u, which lies across the axis, along the
// direction square to both, and along the axis. Its outermost points lie on edges, for
// outer faces are planes, cylinders about the axis, and cones.
func extents(s *region.Solid, u mesh.Vec) [3]float64 {
	var size [3]float64
	for i, d := range [3]mesh.Vec{u, {-u[1], u[0], 0}, {0, 0, 1}} {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, e := range s.Edges {
			a, b := span(e, d)
			lo, hi = min(lo, a), max(hi, b)
		}
		size[i] = hi - lo
	}
	return size
}

// steps in which curves without a closed form are followed. They lie between faces that
// reach farther, so that what is left between two steps counts nothing.
const steps = 64

// span is from where to where an edge reaches along a direction.
func span(e *region.Edge, d mesh.Vec) (lo, hi float64) {
	at := []float64{e.T0, e.T1}
	switch e.Shape {
	case region.Circle, region.Ellipse: // farthest where the tangent is square to d
		top := math.Atan2(e.B*e.Y.Dot(d), e.A*e.X.Dot(d))
		for k := math.Ceil((e.T0 - top) / math.Pi); top+k*math.Pi < e.T1; k++ {
			at = append(at, top+k*math.Pi)
		}
	case region.Free:
		for k := 1; k < steps; k++ {
			at = append(at, e.T0+(e.T1-e.T0)*float64(k)/steps)
		}
	}
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, t := range at {
		v := e.At(t).Dot(d)
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// radius is how far a solid reaches from the axis: on a straight edge at an end, on the
// rims of its outer cylinder everywhere.
func radius(s *region.Solid) float64 {
	r := 0.0
	for _, e := range s.Edges {
		for k := range steps + 1 {
			p := e.At(e.T0 + (e.T1-e.T0)*float64(k)/steps)
			r = max(r, math.Hypot(p[0], p[1]))
		}
	}
	return r
}
