package study

import (
	"bytes"
	"math"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// Every class's wheel can be cast in every split, too: meshes that close, parts that
// add up, no flood, and a pour that fills it. That is some eighty molds; a short test
// makes those of the smallest class.
func TestEveryClassBuildsInEverySplit(t *testing.T) {
	classes, err := params.ReadClasses(params.ClassTableName, params.ClassTable)
	if err != nil {
		t.Fatal(err)
	}
	var texts []*File
	if testing.Short() {
		classes = classes[:1]
	}
	for _, c := range classes {
		job, _, err := c.Job()
		if err != nil {
			t.Fatal(err)
		}
		var text bytes.Buffer
		if err := params.Write(&text, job); err != nil {
			t.Fatal(err)
		}
		texts = append(texts, &File{Name: c.Name, Bytes: text.Bytes()})
	}
	o := Options{Pour: pour.Options{Wheels: 1, Molds: 1}, Flash: flash.DefaultOptions}
	for _, text := range texts {
		cases := Splits(text, nil)
		if len(cases) < 6 {
			t.Errorf("%s: only %d splits", text.Name, len(cases))
		}
		for _, x := range cases {
			t.Run(text.Name+" "+x.Name, func(t *testing.T) {
				t.Parallel()
				castIn(t, text, x.Sets, o)
			})
		}
	}
}

func castIn(t *testing.T, text *File, sets []params.Setting, o Options) {
	j, err := o.Read(text, sets)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Lay(j, o)
	if err != nil {
		t.Fatal(err)
	}
	made, err := r.Mold.Make(mold.MakeOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	// Making audits every mesh, and whether all parts add up to the block; here it is
	// seen that none was left out of that.
	if len(made.Parts) != len(r.Mold.Pieces) {
		t.Errorf("%d of %d pieces made", len(made.Parts), len(r.Mold.Pieces))
	}
	for i := range made.Parts {
		if p := &made.Parts[i]; p.Report.Triangles == 0 || len(p.Report.Faults()) > 0 || p.Posed.Volume() <= 0 {
			t.Errorf("%s: %d facets, %v", p.Piece.Name, p.Report.Triangles, p.Report.Faults())
		}
	}
	if a := &made.Audit; a.Sum == 0 || a.MeshResidue == 0 || math.Abs(a.ExactResidue) > 1e-9 || math.Abs(a.MeshResidue) > a.MeshBound {
		t.Errorf("parts add up to the block but for %v, by meshes %v of at most %v", a.ExactResidue, a.MeshResidue, a.MeshBound)
	}
	if err := r.Complete(Exact(made), o); err != nil {
		t.Fatal(err)
	}
	if r.Mold.Job.Mold.Split != sets[0].Value {
		t.Errorf("the split is %q", r.Mold.Job.Mold.Split)
	}
	if r.Flash.Grade == flash.Flood {
		t.Errorf("the mold is a flood: %v g lost", r.Flash.Lost)
	}
}
