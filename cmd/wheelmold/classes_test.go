package main

import (
	"path/filepath"
	"strings"
	"testing"

	"wheelmold/mold/study"
	"wheelmold/params"
)

// Every class's wheel can be made as its job stands: laid out, opened, meshed and
// audited, closed tightly enough to be poured, drawn, written, and all that is printed
// lies on its bed. The only warning is that jack screws find no room between shells, which
// pry slots part.
func TestEveryClassBuilds(t *testing.T) {
	classes, err := params.ReadClasses(params.ClassTableName, params.ClassTable)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for _, c := range classes {
		t.Run(c.Name, func(t *testing.T) {
			if testing.Short() && c.Limit.Base() > 500 { // larger ones take minutes under the race detector
				t.Skip("large")
			}
			p := &printsFlags{meshFlags: meshFlags{tolerance: length{mm: 0.05}, out: dir}}
			o := study.RowOptions
			o.Warn = func(f params.Faults) {
				for _, w := range f {
					if w.Path != "mold.jacks.size" || !strings.Contains(w.Cause+w.Hint, "open it at the pry slot") {
						t.Errorf("warning: %v", w)
					}
				}
			}
			r, _, err := p.make(t.Context(), c, o, nil)
			if err != nil {
				t.Fatal(err)
			}
			if f := r.Flash; f.Grade == "flood" || f.Grade == "curtain" {
				t.Errorf("the mold is a %s: %v g lost", f.Grade, f.Lost)
			}
			if p := r.Printing; p != nil && len(p.Misfits) > 0 {
				t.Errorf("%s fits no bed of %v", p.Misfits[0].Piece, p.Bed)
			}
			// A file per piece at the least, so that none was left out.
			if stl, _ := filepath.Glob(filepath.Join(dir, c.Name, "*.stl")); len(stl) != len(r.Pieces) || len(stl) == 0 {
				t.Errorf("%d files for %d pieces", len(stl), len(r.Pieces))
			}
		})
	}
}
