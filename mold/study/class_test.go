package study

import (
	"bytes"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// Every class's wheel can be cast in every split, too: meshes that close, parts that
// add up, no flood, and a pour that fills it.
func TestEveryClassBuildsInEverySplit(t *testing.T) {
	if testing.Short() {
		t.Skip("some eighty molds")
	}
	classes, err := params.ReadClasses(params.ClassTableName, params.ClassTable)
	if err != nil {
		t.Fatal(err)
	}
	var texts []*File
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
	if err := r.Complete(Exact(made), o); err != nil {
		t.Fatal(err)
	}
	if r.Flash.Grade == flash.Flood {
		t.Errorf("the mold is a flood: %v g lost", r.Flash.Lost)
	}
}
