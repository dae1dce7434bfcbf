package raster

import (
	"image/color"
	"math"

	"wheelmold/mesh"
)

var (
	red   = color.RGBA{R: 200, A: 255}
	blue  = color.RGBA{B: 200, A: 255}
	paper = color.RGBA{R: 255, G: 255, B: 255, A: 255}
)

// ball is a ball about the origin with n meridians.
func ball(r float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{V: []mesh.Vec{{0, 0, -r}}}
	rows := n / 2
	for i := 1; i < rows; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / float64(rows))
		for j := range n {
			t, u := math.Sincos(2 * math.Pi * float64(j) / float64(n))
			m.V = append(m.V, mesh.Vec{r * s * u, r * s * t, -r * c})
		}
	}
	m.V = append(m.V, mesh.Vec{0, 0, r})
	top := int32(len(m.V) - 1)
	at := func(i, j int) int32 { return int32(1 + (i-1)*n + j%n) }
	for j := range n {
		m.T = append(m.T, [3]int32{0, at(1, j+1), at(1, j)}, [3]int32{top, at(rows-1, j), at(rows-1, j+1)})
		for i := 1; i < rows-1; i++ {
			a, b, c, d := at(i, j), at(i, j+1), at(i+1, j), at(i+1, j+1)
			m.T = append(m.T, [3]int32{a, b, d}, [3]int32{a, d, c})
		}
	}
	return m
}

// box is the block lo..hi.
func box(lo, hi mesh.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		v := lo
		for k := range v {
			if i>>k&1 == 1 {
				v[k] = hi[k]
			}
		}
		m.V = append(m.V, v)
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.T = append(m.T, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

// hollow is a with b, which lies within, taken out.
func hollow(a, b *mesh.Mesh) *mesh.Mesh {
	m := &mesh.Mesh{V: append(append([]mesh.Vec(nil), a.V...), b.V...), T: append([][3]int32(nil), a.T...)}
	n := int32(len(a.V))
	for _, t := range b.T {
		m.T = append(m.T, [3]int32{t[0] + n, t[2] + n, t[1] + n})
	}
	return m
}

// tube is a cylinder of radius r about z, between z = 0 and h, of n sides.
func tube(r, h float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{V: []mesh.Vec{{0, 0, 0}, {0, 0, h}}}
	for j := range n {
		s, c := math.Sincos(2 * math.Pi * float64(j) / float64(n))
		m.V = append(m.V, mesh.Vec{r * c, r * s, 0}, mesh.Vec{r * c, r * s, h})
	}
	for j := range n {
		a, b := int32(2+2*j), int32(2+2*((j+1)%n))
		m.T = append(m.T, [3]int32{0, b, a}, [3]int32{1, a + 1, b + 1}, [3]int32{a, b, b + 1}, [3]int32{a, b + 1, a + 1})
	}
	return m
}

// seen draws all samples of a view as one band.
func seen(bodies []Body, v View) *band {
	s := newScene(bodies, v)
	b := newBand(s, 0, v.Height)
	b.draw()
	return b
}

// area is the area, mm², in which which holds for the surface seen.
func (b *band) area(which func(surf int32) bool) float64 {
	n := 0
	for _, s := range b.surf {
		if which(s) {
			n++
		}
	}
	return float64(n) / (b.camera.scale * b.camera.scale)
}

func anything(s int32) bool { return s != nothing }
