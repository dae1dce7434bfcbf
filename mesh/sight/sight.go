package sight

import (
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/plumb"
	"wheelmold/mesh/solid"
)

type (
	vec   = mesh.Vec
	point = outline.Point
)

// The six views along the axes, named by where the viewer stands: the front is -y, the
// top +z. Lengths of a view are those of the solid's axes, mm.
var (
	Top    = outline.View{U: vec{1, 0, 0}, V: vec{0, 1, 0}}
	Bottom = outline.View{U: vec{1, 0, 0}, V: vec{0, -1, 0}}
	Front  = outline.View{U: vec{1, 0, 0}, V: vec{0, 0, 1}}
	Back   = outline.View{U: vec{-1, 0, 0}, V: vec{0, 0, 1}}
	Right  = outline.View{U: vec{0, 1, 0}, V: vec{0, 0, 1}}
	Left   = outline.View{U: vec{0, -1, 0}, V: vec{0, 0, 1}}
)

// Line is a line of a drawing: one straight line, one arc, a whole circle as a closed
// path of two halves, or one other curve.
type Line struct {
	Path       outline.Path
	Hidden     bool // behind material
	Silhouette bool // no part of it is an edge: a curved face turns away there
}

// Lines returns what a view shows of a solid, hidden lines too. tol bounds the
// distance of chords from curves that are neither straight nor round, mm. The error
// says what of the boundary's tree is no solid.
func Lines(b *brep.Boundary, v outline.View, tol float64) ([]Line, error) {
	return draw(b, v, tol, true)
}

// Visible is Lines without hidden ones.
func Visible(b *brep.Boundary, v outline.View, tol float64) ([]Line, error) {
	return draw(b, v, tol, false)
}

func draw(b *brep.Boundary, v outline.View, tol float64, hidden bool) ([]Line, error) {
	through, err := plumb.NewAlong(b.Root, solid.Frame{O: v.O, X: v.U, Y: v.V, Z: v.W()})
	if err != nil {
		return nil, err
	}
	d := drawing{b: b, v: v, w: v.W(), rays: through.Line()}
	for _, s := range d.strokes() {
		d.lay(s)
	}
	d.cross()
	return d.merge(tol, hidden), nil
}

// drawing is one view of a solid as it comes about.
type drawing struct {
	b     *brep.Boundary
	v     outline.View
	w     vec // toward the viewer
	rays  *plumb.Line
	parts []*part
}

// stroke is a line in space to be drawn: as much of an edge or of a silhouette as is
// one or the other all along.
type stroke struct {
	at       func(t float64) vec
	t0, t1   float64
	from, to vec // its exact ends
	// A circle has a radius; a straight line is so named.
	line     bool
	radius   float64
	center   vec
	normal   vec
	carriers []*solid.Carrier // on which it lies

	turns      []float64 // where a face beside it turns from the viewer
	contour    bool      // what lies behind may be hidden on one side of it only
	silhouette bool
}

// strokes lists all lines of the view.
func (d *drawing) strokes() []*stroke {
	turns := make([][2][]float64, len(d.b.Edges))
	index := make(map[*brep.Edge]int, len(d.b.Edges))
	var out []*stroke
	for i, e := range d.b.Edges {
		index[e] = i
		for k, h := range e.Half {
			turns[i][k] = d.turns(e, d.b.Faces[h.Face])
		}
		out = append(out, d.edge(e, append(append([]float64{}, turns[i][0]...), turns[i][1]...))...)
	}
	for i, f := range d.b.Faces {
		var on []vec
		for _, e := range f.Edges {
			k := 0
			if e.Edge.Half[0].Face != i {
				k = 1
			}
			on = append(on, d.onSilhouette(f, e.Edge, turns[index[e.Edge]][k])...)
		}
		for _, c := range contours(f.Carrier, d.w) {
			out = append(out, d.trim(f, c, on)...)
		}
	}
	return out
}
