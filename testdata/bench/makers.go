package main

import (
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/deadsy/sdfx/render"
	"github.com/deadsy/sdfx/render/dc"
	"github.com/deadsy/sdfx/sdf"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/field"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/tess"
)

// maker is one way to a mesh, run as a process of its own, so that its memory is its own
// too. Each prints the seconds of every run and writes the last mesh.
type maker struct {
	name    string
	detail  string // tolerance or cells, as the table has it
	fine    string // the same, as the process takes it
	runs    int    // of one process; where there are several the first is told apart
	command func(bench *bench, solid, fine string, runs int, out string) []string
	without string // the flag that leaves it out
}

// tolerance of every way that has one, mm.
const tolerance = "0.01"

// makers are the ways to a solid, ours first: the others' time is told as a multiple of
// it. How cells and deviation go together is seen on the reference solid.
func makers(solid string) []maker {
	list := []maker{{name: "exact boundary (ours)", detail: tolerance + " mm", fine: tolerance, runs: 20, command: own("exact")}}
	list = append(list, maker{name: "mesh booleans (manifold-3d, WASM)", detail: tolerance + " mm", fine: tolerance, runs: 10, command: booleans, without: "manifold"})
	if solid == reference {
		list = append(list, maker{name: "mesh booleans, stated by hand", detail: tolerance + " mm", fine: tolerance, runs: 10, command: byHand, without: "manifold"})
	}
	list = append(list, maker{name: "B-rep booleans (OCCT)", detail: tolerance + " mm", fine: tolerance, runs: 5, command: boundary, without: "occt"})
	for _, m := range []struct {
		name, word string
		cells      []int
	}{
		{"marching cubes (sdfx)", "uniform", []int{100, 200}},
		{"marching cubes, octree (sdfx)", "octree", []int{200, 400}},
		{"dual contouring (sdfx)", "dual", []int{50, 100}},
	} {
		if solid != reference {
			m.cells = m.cells[:1]
		}
		for _, n := range m.cells {
			list = append(list, maker{name: m.name, detail: fmt.Sprint(n, " cells"), fine: strconv.Itoa(n), runs: 1, command: own(m.word)})
		}
	}
	return list
}

// own runs this program again to make a mesh by what is linked into it.
func own(word string) func(*bench, string, string, int, string) []string {
	return func(b *bench, solid, fine string, runs int, out string) []string {
		return []string{b.self, "make", word, solid, fine, strconv.Itoa(runs), out}
	}
}

func booleans(b *bench, solid, fine string, runs int, out string) []string {
	return []string{"node", filepath.Join("testdata", "bench", "yardstick", "booleans.mjs"), b.program(solid), fine, strconv.Itoa(runs), out}
}

// byHand makes the reference solid by the same library, from a statement that does not
// come from our tree.
func byHand(_ *bench, _, fine string, runs int, out string) []string {
	return []string{"node", filepath.Join("testdata", "referee", "yardstick.mjs"), fine, strconv.Itoa(runs), out}
}

func boundary(b *bench, solid, fine string, runs int, out string) []string {
	return []string{filepath.Join(b.scratch, "brep"), b.program(solid), fine, strconv.Itoa(runs), out}
}

// makeMesh is the process of our own ways: WORD SOLID FINE RUNS OUT.
func makeMesh(args []string) error {
	word, name, out := args[0], args[1], args[4]
	fine, err := strconv.ParseFloat(args[2], 64)
	if err != nil {
		return err
	}
	runs, err := strconv.Atoi(args[3])
	if err != nil {
		return err
	}
	m, root, err := build(name)
	if err != nil {
		return err
	}
	var made iter.Seq[[3]mesh.Vec]
	for range runs {
		start := time.Now()
		if word == "exact" {
			made, err = exact(m, root, fine)
		} else {
			made, err = rendered(root, word, int(fine))
		}
		if err != nil {
			return err
		}
		fmt.Fprintln(os.Stdout, time.Since(start).Seconds())
	}
	return writeSoup(out, made)
}

// exact makes a mesh our way, from leaves to facets; nothing is kept from earlier runs.
func exact(m *solid.Model, root *solid.Node, tol float64) (iter.Seq[[3]mesh.Vec], error) {
	b, err := brep.NewEvaluator(m).Boundary(root)
	if err != nil {
		return nil, err
	}
	made, err := tess.Mesh(b, tess.Settings{Tolerance: tol})
	if err != nil {
		return nil, err
	}
	return facets(made), nil
}

// facets are those of a mesh as loose triangles.
func facets(m *mesh.Mesh) iter.Seq[[3]mesh.Vec] {
	return func(yield func([3]mesh.Vec) bool) {
		for _, t := range m.T {
			if !yield([3]mesh.Vec{m.V[t[0]], m.V[t[1]], m.V[t[2]]}) {
				return
			}
		}
	}
}

// rendered makes a mesh of the solid's field by one of the library's renderers, with so
// many cells along its longest side.
func rendered(root *solid.Node, word string, cells int) (iter.Seq[[3]mesh.Vec], error) {
	s, err := field.Lower(root)
	if err != nil {
		return nil, err
	}
	var tris []*sdf.Triangle3
	switch word {
	case "uniform":
		tris = render.ToTriangles(s, render.NewMarchingCubesUniform(cells))
	case "octree":
		tris = render.ToTriangles(s, render.NewMarchingCubesOctree(cells))
	case "dual":
		tris = dual(s, cells)
	default:
		return nil, fmt.Errorf("no renderer %q", word)
	}
	return func(yield func([3]mesh.Vec) bool) {
		for _, t := range tris {
			var p [3]mesh.Vec
			for k, v := range t {
				p[k] = mesh.Vec{v.X, v.Y, v.Z}
			}
			if !yield(p) {
				return
			}
		}
	}, nil
}

// dual runs the renderer that has another interface than its fellows.
func dual(s sdf.SDF3, cells int) []*sdf.Triangle3 {
	var tris []*sdf.Triangle3
	out := make(chan []*sdf.Triangle3, 256)
	done := make(chan struct{})
	go func() {
		for t := range out {
			tris = append(tris, t...)
		}
		close(done)
	}()
	dc.NewDualContouringDefault(cells).Render(roomy{s}, out)
	close(out)
	<-done
	return tris
}

// roomy is a field with room around it: dual contouring leaves holes where a face lies on
// the border of its box.
type roomy struct{ sdf.SDF3 }

// BoundingBox is 1 % larger on all sides, as marching cubes takes it by itself.
func (r roomy) BoundingBox() sdf.Box3 { return r.SDF3.BoundingBox().ScaleAboutCenter(1.02) }
