// Command plant writes a folder of sound and faulty files on which the referees
// are tested:
//
//	go run ./testdata/referee/plant DIR
//
// It knows the writers only, not the audit: what the files are named after is
// what was done to them.
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/stl"
	"wheelmold/mesh/threemf"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: plant DIR")
		os.Exit(2)
	}
	if err := plant(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "plant:", err)
		os.Exit(1)
	}
}

func plant(dir string) error {
	for name, m := range meshes() {
		if err := write(filepath.Join(dir, name), m); err != nil {
			return err
		}
	}
	for name, p := range plates() {
		path := filepath.Join(dir, "plates", name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return err
		}
		if err := writeWith(path, func(w io.Writer) error { return threemf.Write(w, p) }); err != nil {
			return err
		}
	}
	if err := drawings(filepath.Join(dir, "dxf")); err != nil {
		return err
	}
	return steps(filepath.Join(dir, "step"))
}

// meshes returns what is planted, by file name.
func meshes() map[string]*mesh.Mesh {
	cube := box(mesh.Vec{0, 0, 0}, mesh.Vec{10, 10, 10})
	open := copied(cube)
	open.T = open.T[1:]
	flipped := copied(cube)
	flipped.T[0] = [3]int32{cube.T[0][1], cube.T[0][0], cube.T[0][2]}
	inside := copied(cube)
	for i, t := range cube.T {
		inside.T[i] = [3]int32{t[1], t[0], t[2]}
	}
	crossing := copied(cube)
	crossing.V[0] = mesh.Vec{30, 2.5, 5} // through the far wall
	pinched := joined(cube, box(mesh.Vec{10, 10, 10}, mesh.Vec{20, 20, 20}))
	return map[string]*mesh.Mesh{
		"sound.stl": cube, "sound.3mf": cube,
		"ring.stl": frame(), "ring.3mf": frame(),
		"open.stl": open, "open.3mf": open,
		"flipped.stl": flipped, "flipped.3mf": flipped,
		"inside-out.stl":  inside,
		"crossing.stl":    crossing,
		"overlapping.stl": joined(cube, box(mesh.Vec{5, 5, 5}, mesh.Vec{15, 15, 15})),
		"pinched.stl":     pinched,
		"empty.stl":       {},
	}
}

// box returns a box of 12 facets.
func box(lo, hi mesh.Vec) *mesh.Mesh {
	m := &mesh.Mesh{T: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5},
	}}
	for i := range 8 {
		p := lo
		for k := range p {
			if i>>k&1 == 1 {
				p[k] = hi[k]
			}
		}
		m.V = append(m.V, p)
	}
	return m
}

// frame returns a square ring of genus 1: four corners of section, each joined
// to the next around z.
func frame() *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 4 {
		for _, rz := range [][2]float64{{10, 0}, {20, 0}, {20, 5}, {10, 5}} {
			x, y := rz[0], rz[0]
			if i == 1 || i == 2 {
				x = -x
			}
			if i > 1 {
				y = -y
			}
			m.V = append(m.V, mesh.Vec{x, y, rz[1]})
		}
		for j := range 4 {
			at := func(i, j int) int32 { return int32(i%4*4 + j%4) }
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.T = append(m.T, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}

func copied(m *mesh.Mesh) *mesh.Mesh {
	return &mesh.Mesh{V: slices.Clone(m.V), T: slices.Clone(m.T)}
}

func joined(a, b *mesh.Mesh) *mesh.Mesh {
	out := copied(a)
	n := int32(len(a.V))
	out.V = append(out.V, b.V...)
	for _, t := range b.T {
		out.T = append(out.T, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return out
}

// write writes one file in the format that its name says.
func write(path string, m *mesh.Mesh) error {
	return writeWith(path, func(w io.Writer) error {
		if filepath.Ext(path) == ".3mf" {
			return threemf.Write(w, threemf.Package{Items: []threemf.Item{{Name: "planted", Mesh: m}}})
		}
		return stl.Write(w, m, "planted")
	})
}

func writeWith(path string, fill func(io.Writer) error) (err error) {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	return fill(f)
}
