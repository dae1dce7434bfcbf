package main

import (
	"fmt"
	"io"

	"wheelmold/mesh/solid"
)

// writeProgram writes a tree for the yardsticks, in lines that any language reads, each
// leaf and operation after what it needs:
//
//	leaf revolve|extrude Z0 Z1 OX OY OZ XX XY XZ YX YY YZ ZX ZY ZZ OUTLINES
//	outline SEGMENTS
//	line AX AY BX BY
//	arc AX AY BX BY CX CY R T0 T1
//	union|intersect|minus KIDS
//
// Lengths are mm; an arc runs from angle T0 to T1, radians. Revolved outlines are (r, z)
// about the frame's Z, extruded ones (x, y), swept from Z0 to Z1.
func writeProgram(w io.Writer, n *solid.Node) error {
	var word string
	switch n.Op {
	case solid.OpLeaf:
		return writeLeaf(w, n.Leaf)
	case solid.OpUnion:
		word = "union"
	case solid.OpIntersect:
		word = "intersect"
	case solid.OpMinus:
		word = "minus"
	}
	for _, k := range n.Kids {
		if err := writeProgram(w, k); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(w, word, len(n.Kids))
	return err
}

func writeLeaf(w io.Writer, l *solid.Leaf) error {
	sweep := "revolve"
	if l.Extruded {
		sweep = "extrude"
	}
	loops := outlines(l.Elems)
	fmt.Fprint(w, "leaf ", sweep, " ", l.Z0, " ", l.Z1)
	for _, v := range []solid.Vec{l.Frame.O, l.Frame.X, l.Frame.Y, l.Frame.Z} {
		fmt.Fprint(w, " ", v[0], " ", v[1], " ", v[2])
	}
	fmt.Fprintln(w, "", len(loops))
	for _, loop := range loops {
		fmt.Fprintln(w, "outline", len(loop))
		for _, e := range loop {
			if !e.Arc {
				fmt.Fprintln(w, "line", e.A[0], e.A[1], e.B[0], e.B[1])
				continue
			}
			t0, t1 := e.Angles()
			fmt.Fprintln(w, "arc", e.A[0], e.A[1], e.B[0], e.B[1], e.C[0], e.C[1], e.R, t0, t1)
		}
	}
	_, err := fmt.Fprint(w) // of a buffered writer: the first error of all
	return err
}

// outlines parts the segments of a leaf into its closed outlines.
func outlines(elems []solid.Elem) [][]solid.Elem {
	var out [][]solid.Elem
	first := 0
	for i := range elems {
		if elems[i].B == elems[first].A {
			out = append(out, elems[first:i+1])
			first = i + 1
		}
	}
	return out
}
