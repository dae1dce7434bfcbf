package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
	"wheelmold/mesh/step"
	"wheelmold/mesh/step/steptest"
)

// plateVolume is that of a plate of 40 × 30 × 10 mm with a hole of 8 mm.
const plateVolume = 12000 - 160*math.Pi

// plate is that plate; hole is what is cut out of it.
func plate(m *solid.Model, hole ...*solid.Node) *solid.Node {
	return solid.Minus(m.Box("plate", "plate", solid.Vec{-20, -15, 0}, solid.Vec{20, 15, 10}), hole...)
}

func drilled(r float64) func(*solid.Model) *solid.Node {
	return func(m *solid.Model) *solid.Node {
		return plate(m, m.Cylinder("hole", "hole", solid.Vec{}, solid.Vec{0, 0, 1}, r, -1, 11))
	}
}

// faceted has a hole of 48 flats, of the round one's volume.
func faceted(m *solid.Model) *solid.Node {
	const n = 48
	r := 4 * math.Sqrt(2*math.Pi/(n*math.Sin(2*math.Pi/n)))
	var corners []float64
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		corners = append(corners, r*c, r*s)
	}
	f := solid.AxisFrame(solid.Vec{}, solid.Vec{0, 0, 1})
	return plate(m, m.Extrude("hole", "hole", f, -1, 11, solid.Poly(corners...)))
}

func twoPlates(m *solid.Model) *solid.Node {
	return solid.Union(drilled(4)(m), m.Box("crumb", "plate", solid.Vec{30, 0, 0}, solid.Vec{30.001, .001, .001}))
}

// steps writes STEP files below dir, and what they should hold. All but sound, round
// and assembly have a fault.
func steps(dir string) error {
	parts := map[string]step.Part{}
	for name, build := range map[string]func(*solid.Model) *solid.Node{
		"sound": drilled(4), "round": solidtest.HalfShell, "smaller-hole": drilled(3.9999),
		"faceted": faceted, "two-solids": twoPlates, "no-hole": func(m *solid.Model) *solid.Node { return plate(m) },
	} {
		s, err := regions(build)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		parts[name] = step.Part{Name: "plate", Solid: s}
	}
	o := step.Options{Colors: func([]string) step.RGB { return step.RGB{.2, .4, .6} }}
	files := map[string][]byte{}
	var failed error
	write := func(name string, o step.Options, of ...step.Part) {
		var b bytes.Buffer
		var err error
		if len(of) == 1 {
			err = step.Write(&b, of[0], o)
		} else {
			err = step.WriteAssembly(&b, "both", of, o)
		}
		if err != nil && failed == nil {
			failed = fmt.Errorf("%s: %w", name, err)
		}
		files[name] = b.Bytes()
	}
	for name, p := range parts {
		write(name, o, p)
	}
	other := parts["round"]
	other.Name = "shell"
	write("assembly", o, parts["sound"], other)
	write("lost-part", o, parts["sound"])
	gray, nameless := o, o
	gray.Colors = nil
	nameless.FaceName = func(*region.Face) string { return "" }
	write("colorless", gray, parts["sound"])
	write("nameless", nameless, parts["sound"])
	if failed != nil {
		return failed
	}
	for _, d := range steptest.Damages() {
		files[d.Name] = d.Do(files["sound"])
	}
	files["bent-curve"] = steptest.BentCurve(files["round"])
	files["moved-part"] = steptest.MovedPart(files["assembly"])
	return keep(dir, files, parts["round"].Solid)
}

func regions(build func(*solid.Model) *solid.Node) (*region.Solid, error) {
	m := solid.NewModel()
	b, err := brep.NewEvaluator(m).Boundary(build(m))
	if err != nil {
		return nil, err
	}
	return region.Of(b)
}

// keep writes the files, and says of each that it should be what the sound one of its
// kind is.
func keep(dir string, files map[string][]byte, round *region.Solid) error {
	n, v := step.Count(round), round.Boundary.Volume()
	faces := func(planes, cylinders int) string {
		return fmt.Sprintf("%d\t%d\t%d\t%d\t%d\t%d", planes, cylinders, n.Cone, n.Sphere, n.Torus, n.Revolution)
	}
	var expected strings.Builder
	for name, src := range files {
		path := filepath.Join(dir, name+".step")
		if err := os.MkdirAll(dir, 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(path, src, 0o666); err != nil {
			return err
		}
		switch name {
		case "round", "bent-curve":
			fmt.Fprintf(&expected, "%s.step\t%.15g\t%s\tplate\n", name, v, faces(n.Plane, n.Cylinder))
		case "assembly", "lost-part", "moved-part":
			fmt.Fprintf(&expected, "%s.step\t%.15g\t%s\tplate\tshell\n", name, v+plateVolume, faces(n.Plane+6, n.Cylinder+1))
		default:
			fmt.Fprintf(&expected, "%s.step\t%.15g\t6\t1\t0\t0\t0\t0\tplate\n", name, plateVolume)
		}
	}
	return os.WriteFile(filepath.Join(dir, "expected.txt"), []byte(expected.String()), 0o666)
}
