package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// imports lists, for every package of the module, the packages of the module
// that it needs, directly or not, and the direct imports of other modules.
func imports(t *testing.T) (needs, direct map[string][]string) {
	t.Helper()
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}}|{{join .Deps " "}}|{{join .Imports " "}}`, "wheelmold/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	needs, direct = map[string][]string{}, map[string][]string{}
	for line := range strings.Lines(string(out)) {
		f := strings.Split(strings.TrimSpace(line), "|")
		needs[f[0]] = slices.DeleteFunc(strings.Fields(f[1]), func(s string) bool { return !strings.HasPrefix(s, "wheelmold/") })
		direct[f[0]] = strings.Fields(f[2])
	}
	return needs, direct
}

// under reports whether a package is the named one or lies below it.
func under(path, root string) bool {
	return path == root || strings.HasPrefix(path, root+"/")
}

// The arrows point one way: cmd → mold → hub → params and mesh. A package that
// needs one above it could not be tested or reused without it.
func TestImportsPointOneWay(t *testing.T) {
	forbidden := []struct{ from, to string }{
		{"wheelmold/mesh", "wheelmold/params"},
		{"wheelmold/mesh", "wheelmold/hub"},
		{"wheelmold/mesh", "wheelmold/mold"},
		{"wheelmold/mesh", "wheelmold/internal"},
		{"wheelmold/params", "wheelmold/mesh"},
		{"wheelmold/params", "wheelmold/hub"},
		{"wheelmold/params", "wheelmold/mold"},
		{"wheelmold/hub", "wheelmold/mold"},
		{"wheelmold/internal", "wheelmold/params"},
		{"wheelmold/internal", "wheelmold/mesh"},
		{"wheelmold/internal", "wheelmold/mold"},
		{"wheelmold/mold/flash", "wheelmold/mold/report"},
		{"wheelmold/mold/flash", "wheelmold/mold/export"},
		{"wheelmold/mold/export", "wheelmold/mold/flash"},
		// A drawing shows what the estimates say, and a report shows drawings.
		{"wheelmold/mold/flash", "wheelmold/mold/drawing"},
		{"wheelmold/mold/pour", "wheelmold/mold/drawing"},
		{"wheelmold/mold/export", "wheelmold/mold/drawing"},
		{"wheelmold/mold/drawing", "wheelmold/mold/report"},
		// Paper does not know what is drawn on it.
		{"wheelmold/mold/shop/paper", "wheelmold/mold/holes"},
		{"wheelmold/mold/shop/paper", "wheelmold/mold/machining"},
		{"wheelmold/mold/shop/paper", "wheelmold/mold/report"},
		{"wheelmold/mold/drawing", "wheelmold/mold/shop"},
		// What a piece costs follows from its shape and from what others count of its plan.
		{"wheelmold/mold/machining", "wheelmold/mold/report"},
		{"wheelmold/mold/machining", "wheelmold/mold/pour"},
		{"wheelmold/mold/machining", "wheelmold/mold/shop"},
		{"wheelmold/mold/report/web", "wheelmold/mesh"},
		{"wheelmold/mold/report/web", "wheelmold/params"},
		// A table is rows of figures, whatever they are of.
		{"wheelmold/mold/report/tabular", "wheelmold/mesh"},
		{"wheelmold/mold/report/tabular", "wheelmold/params"},
		{"wheelmold/mold/report/tabular", "wheelmold/hub"},
		{"wheelmold/mold/report/tabular", "wheelmold/mold/study"},
		// What is weighed, how it thickens and how it shrinks is true of any mold.
		{"wheelmold/mold/mix", "wheelmold/mesh"},
		{"wheelmold/mold/urethane", "wheelmold/mesh"},
		{"wheelmold/mold/cure", "wheelmold/mesh"},
		// A cast carries what was predicted for it, so that a log needs no mold to learn from.
		{"wheelmold/mold/castlog", "wheelmold/mesh"},
		{"wheelmold/mold/castlog", "wheelmold/hub"},
		{"wheelmold/mold/castlog", "wheelmold/mold/report"},
		// Whether a mold opens follows from its shape alone.
		{"wheelmold/mold/release", "wheelmold/mold/flash"},
		{"wheelmold/mold/release", "wheelmold/mold/pour"},
		{"wheelmold/mold/release", "wheelmold/mold/report"},
		// What a wheel carries follows from job and mold; what it costs, from what others
		// count of it.
		{"wheelmold/mold/service", "wheelmold/mold/pour"},
		{"wheelmold/mold/service", "wheelmold/mold/flash"},
		{"wheelmold/mold/service", "wheelmold/mold/report"},
		{"wheelmold/mold/worth", "wheelmold/mold/flash"},
		{"wheelmold/mold/worth", "wheelmold/mold/service"},
		{"wheelmold/mold/worth", "wheelmold/mold/study"},
		{"wheelmold/mold/worth", "wheelmold/mold/report"},
		// The two estimates of a pour meet in the command.
		{"wheelmold/mold/pour", "wheelmold/mold/flash"},
		{"wheelmold/mold/pour", "wheelmold/mold/report"},
		{"wheelmold/mold/flash", "wheelmold/mold/pour"},
		// A study rests on the analyses; tables and folders are made of it.
		{"wheelmold/mold/study", "wheelmold/mold/report"},
		{"wheelmold/mold/study", "wheelmold/mold/export"},
		{"wheelmold/mold/study", "wheelmold/mold/drawing"},
		{"wheelmold/mold/flash", "wheelmold/mold/study"},
		{"wheelmold/mold/pour", "wheelmold/mold/study"},
		{"wheelmold/mold/export", "wheelmold/mold/study"},
		{"wheelmold/mold/drawing", "wheelmold/mold/study"},
		// How a mold is printed is known without flash and pour.
		{"wheelmold/mold/printing", "wheelmold/mold/flash"},
		{"wheelmold/mold/printing", "wheelmold/mold/pour"},
		{"wheelmold/mold/printing", "wheelmold/mold/report"},
		{"wheelmold/mold/printing", "wheelmold/mold/export"},
		// Only what opens is a remedy; a folder takes from the plan what lies where.
		{"wheelmold/mold/release", "wheelmold/mold/printing"},
		{"wheelmold/mold/export", "wheelmold/mold/release"},
		{"wheelmold/mold/export", "wheelmold/mesh/solid"},
		// Holes are what drawings, flat files and tools read; a drawing for the shop says
		// nothing that an estimate has to be made for.
		{"wheelmold/mold/holes", "wheelmold/mold/shop"},
		{"wheelmold/mold/holes", "wheelmold/mold/drawing"},
		{"wheelmold/mold/holes", "wheelmold/mold/machining"},
		{"wheelmold/mold/shop", "wheelmold/mold/report"},
		// Sheets and flat files take their views from one place, which knows neither.
		{"wheelmold/mold/views", "wheelmold/mold/holes"},
		{"wheelmold/mold/views", "wheelmold/mold/flat"},
		{"wheelmold/mold/views", "wheelmold/mold/shop"},
		// What a flat file holds follows from the mold alone.
		{"wheelmold/mold/flat", "wheelmold/mold/drawing"},
		{"wheelmold/mold/flat", "wheelmold/mold/shop"},
		{"wheelmold/mold/flat", "wheelmold/mold/machining"},
		{"wheelmold/mold/flat", "wheelmold/mold/report"},
		{"wheelmold/mold/flat", "wheelmold/mold/export"},
		{"wheelmold/mold/flat", "wheelmold/mold/flash"},
		{"wheelmold/mold/flat", "wheelmold/mold/pour"},
		{"wheelmold/mold/shop", "wheelmold/mold/export"},
		{"wheelmold/mold/shop", "wheelmold/mold/machining"},
		// A liquid that rises knows nothing of molds.
		{"wheelmold/mold/pour/rise", "wheelmold/params"},
		{"wheelmold/mold/pour/rise", "wheelmold/hub"},
		// Boxes on a bed are boxes, whatever is in them.
		{"wheelmold/mold/printing/bed", "wheelmold/params"},
		{"wheelmold/mold/printing/bed", "wheelmold/mesh/solid"},
		{"wheelmold/mold/printing/bed", "wheelmold/hub"},
		// The flow in a gap knows nothing of molds.
		{"wheelmold/mold/flash/film", "wheelmold/params"},
		{"wheelmold/mold/flash/film", "wheelmold/hub"},
		// The audit shares no code with what it audits.
		{"wheelmold/mesh/check", "wheelmold/mesh/brep"},
		{"wheelmold/mesh/check", "wheelmold/mesh/tess"},
		{"wheelmold/mesh/check", "wheelmold/mesh/solid"},
		// The readings of a solid test each other.
		{"wheelmold/mesh/plumb", "wheelmold/mesh/field"},
		{"wheelmold/mesh/plumb", "wheelmold/mesh/brep"},
		{"wheelmold/mesh/field", "wheelmold/mesh/brep"},
		{"wheelmold/mesh/brep", "wheelmold/mesh/field"},
		// A view is drawn of true surfaces.
		{"wheelmold/mesh/sight", "wheelmold/mesh/tess"},
		{"wheelmold/mesh/sight", "wheelmold/mesh/field"},
	}
	needs, direct := imports(t)
	if len(needs) < 5 {
		t.Fatalf("only %d packages listed", len(needs))
	}
	for path, deps := range needs {
		for _, dep := range deps {
			for _, f := range forbidden {
				if under(path, f.from) && under(dep, f.to) {
					t.Errorf("%s needs %s: %s must not need %s", path, dep, f.from, f.to)
				}
			}
			if under(dep, "wheelmold/cmd") {
				t.Errorf("%s needs the command %s", path, dep)
			}
		}
		for _, dep := range direct[path] {
			if under(dep, "github.com/deadsy/sdfx") && path != "wheelmold/mesh/field" {
				t.Errorf("%s imports %s: of the program only mesh/field does", path, dep)
			}
			if under(dep, "github.com/go-pdf/fpdf") && path != "wheelmold/mold/shop/paper" {
				t.Errorf("%s imports %s: only mold/shop/paper does", path, dep)
			}
			// The bundler must not get into the program.
			if under(dep, "github.com/evanw/esbuild") && path != "wheelmold/mold/report/web/generate" {
				t.Errorf("%s imports %s: only the page's generator does", path, dep)
			}
		}
	}
}
