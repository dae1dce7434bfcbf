package region

import "wheelmold/mesh/brep"

// gatherShells sorts the faces into shells by the edges that they share.
func (b *builder) gatherShells() {
	j := newJoiner(len(b.Faces))
	for _, e := range b.Edges {
		j.join(e.Faces[0], e.Faces[1])
	}
	index := make([]int, len(b.Faces))
	for i := range b.Faces {
		r := j.find(i)
		if r == i {
			index[i] = len(b.Shells)
			b.Shells = append(b.Shells, Shell{})
		}
		index[i] = index[r]
		sh := &b.Shells[index[i]]
		sh.Faces = append(sh.Faces, i)
	}
	if len(b.Shells) == 1 {
		b.Shells[0].Volume = b.Boundary.Volume()
		return
	}
	for i := range b.Shells {
		b.Shells[i].Volume = b.only(i, index).Volume()
	}
}

// only is the boundary of one shell.
func (b *builder) only(shell int, index []int) *brep.Boundary {
	out := &brep.Boundary{Root: b.Boundary.Root, Vertices: b.Boundary.Vertices}
	faces := make([]*brep.Face, len(b.Boundary.Faces))
	for i, f := range b.Faces {
		if index[i] != shell {
			continue
		}
		g := faces[b.of[i]]
		if g == nil {
			c := *b.Boundary.Faces[b.of[i]]
			g = &c
			g.Edges, g.Poles = nil, [2]bool{}
			faces[b.of[i]] = g
			out.Faces = append(out.Faces, g)
		}
		g.Poles[0] = g.Poles[0] || f.tip[0]
		g.Poles[1] = g.Poles[1] || f.tip[1]
		for _, l := range f.Loops {
			for _, u := range l {
				for _, p := range b.parts[u.Edge] {
					g.Edges = append(g.Edges, brep.FaceEdge{Edge: p.Edge, Reversed: p.reversed != u.Reversed})
					out.Edges = append(out.Edges, p.Edge)
				}
			}
		}
	}
	return out
}
