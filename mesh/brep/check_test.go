package brep

import (
	"errors"
	"testing"

	"wheelmold/mesh/solid"
)

// A boundary with an edge that lies on one face, on three, or on two from the same side, or
// with a face whose border does not close, is an internal error, never a panic.
func TestCheckSeesDamage(t *testing.T) {
	for name, damage := range map[string]func(b *Boundary){
		"none":             func(*Boundary) {},
		"one face":         func(b *Boundary) { b.Edges[3].Half = b.Edges[3].Half[:1] },
		"no face":          func(b *Boundary) { b.Edges[0].Half = nil },
		"three faces":      func(b *Boundary) { b.Edges[5].Half = append(b.Edges[5].Half, HalfFace{0, true}) },
		"one side":         func(b *Boundary) { b.Edges[2].Half[1].Reversed = !b.Edges[2].Half[1].Reversed },
		"an open border":   func(b *Boundary) { f := b.Faces[4]; f.Edges = f.Edges[1:] },
		"a face turned":    func(b *Boundary) { b.Faces[1].Negative = !b.Faces[1].Negative },
		"an edge reversed": func(b *Boundary) { e := &b.Faces[0].Edges[0]; e.Reversed = !e.Reversed },
	} {
		m := solid.NewModel()
		b, err := NewEvaluator(m).Boundary(m.Box("block", "", Vec{0, 0, 0}, Vec{3, 4, 5}))
		if err != nil {
			t.Fatal(err)
		}
		damage(b)
		var internal *InternalError
		if err := b.check(); (name != "none") != errors.As(err, &internal) || (name == "none") != (err == nil) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
