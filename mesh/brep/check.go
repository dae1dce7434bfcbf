package brep

import "fmt"

// check makes sure that the two faces of every edge lie on opposite sides of it,
// and that every face's edges form closed loops.
func (b *Boundary) check() error {
	for _, e := range b.Edges {
		if len(e.Half) != 2 {
			return &InternalError{What: fmt.Sprintf("%d faces meet in an edge", len(e.Half)), At: e.Mid}
		}
		sense := func(h HalfFace) bool { return h.Reversed != b.Faces[h.Face].Negative }
		if sense(e.Half[0]) == sense(e.Half[1]) {
			return &InternalError{What: "two faces lie on the same side of an edge", At: e.Mid}
		}
	}
	open := make([]int, len(b.Vertices))
	for _, f := range b.Faces {
		for _, e := range f.Edges {
			from, to := e.Ends()
			open[from]++
			open[to]--
		}
		for _, e := range f.Edges {
			if open[e.Edge.V0] != 0 || open[e.Edge.V1] != 0 {
				v := e.Edge.V0
				if open[v] == 0 {
					v = e.Edge.V1
				}
				return &InternalError{What: "the border of a face is open", At: b.Vertices[v]}
			}
		}
	}
	return nil
}
