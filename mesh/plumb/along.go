package plumb

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// NewAlong makes a solid ready for lines along the Z of a frame of length-1 axes at
// right angles: all places, heights and bounds are in the frame's coordinates, mm.
func NewAlong(n *solid.Node, f solid.Frame) (*Solid, error) {
	s := seen{frame: f, leaves: map[*solid.Leaf]*solid.Leaf{}, nodes: map[*solid.Node]*solid.Node{}}
	return New(s.node(n))
}

// seen repeats a tree in the coordinates of a frame, and keeps shared what is. Its
// leaves have no patches, which lines do not ask for.
type seen struct {
	frame  solid.Frame
	leaves map[*solid.Leaf]*solid.Leaf
	nodes  map[*solid.Node]*solid.Node
}

func (s *seen) node(n *solid.Node) *solid.Node {
	if n == nil {
		return nil
	}
	if out, ok := s.nodes[n]; ok {
		return out
	}
	out := &solid.Node{Op: n.Op, Leaf: s.leaf(n.Leaf)}
	for _, k := range n.Kids {
		out.Kids = append(out.Kids, s.node(k))
	}
	s.nodes[n] = out
	return out
}

func (s *seen) leaf(l *solid.Leaf) *solid.Leaf {
	if l == nil {
		return nil
	}
	if out, ok := s.leaves[l]; ok {
		return out
	}
	out := *l
	out.Patches, out.Joints = nil, nil
	out.Frame = solid.Frame{O: s.frame.Local(l.Frame.O), X: s.along(l.Frame.X), Y: s.along(l.Frame.Y), Z: s.along(l.Frame.Z)}
	out.Box = bounds(&out)
	s.leaves[l] = &out
	return &out
}

// along returns a direction in the frame. Axes that coincide but for rounding do so
// exactly, so that what is flush in one frame is in the other.
func (s *seen) along(d solid.Vec) solid.Vec {
	q := solid.Vec{d.Dot(s.frame.X), d.Dot(s.frame.Y), d.Dot(s.frame.Z)}
	for i, x := range q {
		if k := math.Round(x); math.Abs(x-k) < 1e-15 {
			q[i] = k
		}
	}
	return q
}

// bounds is the box of a leaf in its own coordinates, the widest reach of its outline
// to either side of each axis.
func bounds(l *solid.Leaf) solid.Box {
	box := mesh.EmptyBox()
	f := &l.Frame
	for i := range f.O {
		for k := range l.Elems {
			e := &l.Elems[k]
			if l.Extruded {
				low, high := f.Z[i]*l.Z0, f.Z[i]*l.Z1
				box.Hi[i] = max(box.Hi[i], f.O[i]+reach(e, f.X[i], f.Y[i])+max(low, high))
				box.Lo[i] = min(box.Lo[i], f.O[i]-reach(e, -f.X[i], -f.Y[i])+min(low, high))
				continue
			}
			across := math.Sqrt(max(0, 1-f.Z[i]*f.Z[i]))
			box.Hi[i] = max(box.Hi[i], f.O[i]+reach(e, across, f.Z[i]))
			box.Lo[i] = min(box.Lo[i], f.O[i]-reach(e, across, -f.Z[i]))
		}
	}
	return box
}

// reach is the largest a·x + b·y of the points (x, y) of a segment.
func reach(e *solid.Elem, a, b float64) float64 {
	far := max(a*e.A[0]+b*e.A[1], a*e.B[0]+b*e.B[1])
	if !e.Arc {
		return far
	}
	t0, t1 := e.Angles()
	lo, hi := min(t0, t1), max(t0, t1)
	if turn := math.Mod(math.Atan2(b, a)-lo+4*math.Pi, 2*math.Pi); turn < hi-lo {
		far = max(far, a*e.C[0]+b*e.C[1]+e.R*math.Hypot(a, b))
	}
	return far
}
