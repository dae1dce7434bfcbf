package film

import (
	"math"
	"slices"
)

// Split returns the parts of the region that no open link connects, each cropped
// to its cells, the largest first. What is unresolved belongs to none of them.
func (g *Grid) Split() []*Grid {
	part := make([]int32, len(g.In)) // number of each cell's part, from 1
	var sizes []int
	var stack []int32
	for c, in := range g.In {
		if !in || part[c] != 0 {
			continue
		}
		sizes = append(sizes, 0)
		id := int32(len(sizes))
		part[c] = id
		stack = append(stack[:0], int32(c))
		for len(stack) > 0 {
			at := int(stack[len(stack)-1])
			stack = stack[:len(stack)-1]
			sizes[id-1]++
			for dir := range 4 {
				next := at + g.step(dir)
				if g.link[4*at+dir] == open && part[next] == 0 {
					part[next] = id
					stack = append(stack, int32(next))
				}
			}
		}
	}
	order := make([]int, len(sizes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return sizes[b] - sizes[a] })
	grids := make([]*Grid, len(order))
	for i, id := range order {
		grids[i] = g.crop(part, int32(id+1))
	}
	return grids
}

// crop returns one part in the smallest frame around it.
func (g *Grid) crop(part []int32, id int32) *Grid {
	i0, j0, i1, j1 := g.Nx, g.Ny, 0, 0
	for c, p := range part {
		if p == id {
			i0, i1 = min(i0, c%g.Nx), max(i1, c%g.Nx)
			j0, j1 = min(j0, c/g.Nx), max(j1, c/g.Nx)
		}
	}
	out := &Grid{
		Nx: i1 - i0 + 1, Ny: j1 - j0 + 1, Cell: g.Cell,
		U0: g.U0 + float64(i0)*g.Cell, V0: g.V0 + float64(j0)*g.Cell,
	}
	out.allocate()
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			if from := j*g.Nx + i; part[from] == id {
				out.adopt(g, from, (j-j0)*out.Nx+i-i0)
			}
		}
	}
	out.finish()
	return out
}

// adopt copies a cell of another grid with its links and crossings.
func (g *Grid) adopt(from *Grid, was, is int) {
	g.In[is] = true
	for dir, l := range from.link[4*was : 4*was+4] {
		if l >= 0 {
			x := from.crossings[l]
			x.cell = int32(is)
			l = int32(len(g.crossings))
			g.crossings = append(g.crossings, x)
		}
		g.link[4*is+dir] = l
	}
}

// Join returns parts of one grid as one, without links between them.
func Join(parts []*Grid) *Grid {
	if len(parts) == 1 {
		return parts[0]
	}
	cell := parts[0].Cell
	u, v := parts[0].U0, parts[0].V0
	for _, p := range parts {
		u, v = min(u, p.U0), min(v, p.V0)
	}
	out := &Grid{Cell: cell, U0: u, V0: v}
	at := make([][2]int, len(parts))
	for i, p := range parts {
		at[i] = [2]int{int(math.Round((p.U0 - u) / cell)), int(math.Round((p.V0 - v) / cell))}
		out.Nx, out.Ny = max(out.Nx, at[i][0]+p.Nx), max(out.Ny, at[i][1]+p.Ny)
	}
	out.allocate()
	for i, p := range parts {
		for c, in := range p.In {
			if in {
				out.adopt(p, c, (at[i][1]+c/p.Nx)*out.Nx+at[i][0]+c%p.Nx)
			}
		}
	}
	out.finish()
	return out
}
