package field

import (
	"errors"
	"fmt"
	"math"

	"github.com/deadsy/sdfx/sdf"

	"wheelmold/mesh/solid"
)

// Lower returns the solid as an sdfx tree of types that are 1-Lipschitz:
// Revolve3D and Extrude3D of exact outlines, rigid Transform3D, Union3D,
// Intersect3D, Difference3D. Any renderer of the library can draw it.
func Lower(n *solid.Node) (sdf.SDF3, error) {
	l := lowering{nodes: map[*solid.Node]sdf.SDF3{}, leaves: map[*solid.Leaf]sdf.SDF3{}}
	return l.node(n)
}

// lowering remembers what it made, because trees share leaves and subtrees.
type lowering struct {
	nodes  map[*solid.Node]sdf.SDF3
	leaves map[*solid.Leaf]sdf.SDF3
}

func (l *lowering) node(n *solid.Node) (s sdf.SDF3, err error) {
	if n == nil {
		return nil, errors.New("field: a node of the solid is missing")
	}
	if s, ok := l.nodes[n]; ok {
		return s, nil
	}
	if n.Op == solid.OpLeaf {
		s, err = l.leaf(n.Leaf)
	} else {
		s, err = l.boolean(n)
	}
	if err != nil {
		return nil, err
	}
	l.nodes[n] = s
	return s, nil
}

func (l *lowering) boolean(n *solid.Node) (sdf.SDF3, error) {
	if len(n.Kids) == 0 {
		return nil, errors.New("field: a boolean of nothing")
	}
	kids := make([]sdf.SDF3, len(n.Kids))
	for i, k := range n.Kids {
		var err error
		if kids[i], err = l.node(k); err != nil {
			return nil, err
		}
	}
	switch n.Op {
	case solid.OpUnion:
		return sdf.Union3D(kids...), nil
	case solid.OpIntersect:
		return intersect(kids), nil
	case solid.OpMinus:
		if len(kids) == 1 {
			return kids[0], nil
		}
		return sdf.Difference3D(kids[0], sdf.Union3D(kids[1:]...)), nil
	}
	return nil, fmt.Errorf("field: operation %d is not known", n.Op)
}

// intersect puts the smallest operand first: the library takes the box of an
// intersection from there, and renderers spend their cells on that box.
func intersect(kids []sdf.SDF3) sdf.SDF3 {
	first := 0
	for i, k := range kids {
		if boxVolume(k) < boxVolume(kids[first]) {
			first = i
		}
	}
	s := kids[first]
	for i, k := range kids {
		if i != first {
			s = sdf.Intersect3D(s, k)
		}
	}
	return s
}

func boxVolume(s sdf.SDF3) float64 {
	d := s.BoundingBox().Size()
	return d.X * d.Y * d.Z
}

func (l *lowering) leaf(leaf *solid.Leaf) (sdf.SDF3, error) {
	if leaf == nil {
		return nil, errors.New("field: a leaf of the solid is missing")
	}
	if s, ok := l.leaves[leaf]; ok {
		return s, nil
	}
	o := newOutline(leaf.Elems)
	if err := sound(leaf, o.box); err != nil {
		return nil, fmt.Errorf("field: %s: %w", leaf.Name, err)
	}
	s, err := sweep(leaf, o)
	if err != nil {
		return nil, fmt.Errorf("field: %s: %w", leaf.Name, err)
	}
	l.leaves[leaf] = s
	return s, nil
}

// sound refuses leaves that make no solid.
func sound(leaf *solid.Leaf, box sdf.Box2) error {
	for _, x := range []float64{box.Min.X, box.Min.Y, box.Max.X, box.Max.Y,
		leaf.Frame.O[0], leaf.Frame.O[1], leaf.Frame.O[2], leaf.Z0, leaf.Z1} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return errors.New("the outline or its place is empty or not finite")
		}
	}
	if leaf.Extruded && !(leaf.Z1 > leaf.Z0) {
		return fmt.Errorf("extruded from %g to %g mm, which has no height", leaf.Z0, leaf.Z1)
	}
	if !leaf.Extruded && box.Min.X < 0 {
		return fmt.Errorf("the revolved outline crosses its axis by %g mm", -box.Min.X)
	}
	return nil
}

// sweep turns the outline about the leaf's axis or extrudes it, and puts it in
// its place. The library extrudes symmetrically about z = 0, and revolves about
// z with the outline's first coordinate as radius.
func sweep(leaf *solid.Leaf, o *outline) (sdf.SDF3, error) {
	f := leaf.Frame
	if !leaf.Extruded {
		s, err := sdf.Revolve3D(o)
		if err != nil {
			return nil, err
		}
		return place(s, f), nil
	}
	f.O = f.O.AddScaled((leaf.Z0+leaf.Z1)/2, f.Z)
	return place(sdf.Extrude3D(o, leaf.Z1-leaf.Z0), f), nil
}

// place carries a shape from the frame's coordinates to the world's.
func place(s sdf.SDF3, f solid.Frame) sdf.SDF3 {
	if f == (solid.Frame{X: solid.Vec{1, 0, 0}, Y: solid.Vec{0, 1, 0}, Z: solid.Vec{0, 0, 1}}) {
		return s
	}
	return sdf.Transform3D(s, sdf.NewM44([16]float64{
		f.X[0], f.Y[0], f.Z[0], f.O[0],
		f.X[1], f.Y[1], f.Z[1], f.O[1],
		f.X[2], f.Y[2], f.Z[2], f.O[2],
		0, 0, 0, 1,
	}))
}
