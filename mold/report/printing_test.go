package report

import (
	"encoding/json"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/printing"
	"wheelmold/mold/printing/bed"
	"wheelmold/params"
)

// printed is a made-up plan of two pieces, one of them too large.
func printed() (*mold.Mold, *printing.Plan) {
	j := &params.Job{}
	j.Printing = params.Printing{Fill: "solid", Overhang: 45}
	p := &printing.Plan{
		Bed: bed.Bed{X: 220, Y: 200, Z: 250, Gap: 8},
		Pieces: []printing.Piece{
			{Name: "shell-a", Size: [3]float64{120, 40, 60}, Fits: true, OnBed: []printing.Rest{{Role: "outer face", Area: 7}}, Stands: []string{"parting face"},
				Overhang: printing.Overhang{All: 100, Bridged: 40, Cavity: 20, Mating: 9}, Volume: 100e3, Plastic: 100e3, Mass: 124, Time: 24000},
			{Name: "lid", Kind: mold.Plate, Size: [3]float64{230, 120, 10}, Volume: 50e3, Plastic: 50e3, Mass: 62, Time: 1800},
		},
		Loads:   []printing.Load{{Places: []bed.Place{{Item: 0, At: [3]float64{50, 60, 0}, Turned: true}}, Height: 60, Mass: 124, Time: 24600}},
		Misfits: []printing.Misfit{{Piece: "lid", Size: [3]float64{230, 120, 10}, Tried: true, Fits: []printing.Alternative{{Way: params.Way{Split: "clam", Segments: 2}, Pieces: 2}}}},
		Plastic: 150, Mass: 186, Time: 24600, Assumed: []string{"one thing", "another"},
	}
	return &mold.Mold{Job: j}, p
}

// Text tells each piece, load and misfit, and what it all rests on.
func TestPrintingText(t *testing.T) {
	c := sample()
	c.SetPrinting(printed())
	var b strings.Builder
	if err := c.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"printing, filament, on a bed of 220 x 200 x 250 mm, pieces 8 mm apart; estimates.\n",
		"piece    plastic  mass     alone   overhang  bridged  in cavity    on mating faces\n",
		"shell A  100      124.0 g  6.7 h   100       40       20           9\n",
		"lid      50       62.00 g  30 min  0         0        0            0\n",
		"load 1 of 1   6.8 h  shell A (turned); 124.0 g, 60 mm high\n",
		"does not fit  lid    230 x 120 x 10 mm; what fits: clam (mold.split, mold.segments)\n",
		"in all        6.8 h  186.0 g of 2 pieces; 150 cm³ of plastic\n",
		"scrape the edges that rise from the bed",
		"rests on             one thing; another\n",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is missing in:\n%s", want, b.String())
		}
	}
}

// JSON tells the same, and null where nothing is printed.
func TestPrintingJSON(t *testing.T) {
	c := sample()
	m, p := printed()
	c.SetPrinting(m, &printing.Plan{})
	if c.Printing != nil {
		t.Errorf("nothing is printed: %+v", c.Printing)
	}
	c.SetPrinting(m, p)
	text, err := json.Marshal(c.Printing)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`"kind":"filament","bed_mm":[220,200,250],"gap_mm":8`, `"plastic_cm3":150,"mass_g":186,"time_s":24600`,
		`"overhang_mm2":100,"bridged_mm2":40,"overhang_cavity_mm2":20,"overhang_mating_mm2":9`, `"rising_from_the_bed":["parting face"]`,
		`"on_the_bed":[{"role":"outer face","area_mm2":7}]`, `{"name":"shell-a","at_mm":[50,60],"turned":true}`,
		`"splits_that_fit":[{"split":"clam","segments":2,"pieces":2,"settings":["mold.split=clam","mold.segments=2"]}]`,
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s is missing in %s", want, text)
		}
	}
	if o := c.Printing.outcome(); o.State != act || o.Figures[0].Raw != 186 || o.Figures[1].Raw != 24600 {
		t.Errorf("summary %+v", o)
	}
	c.Printing.Misfits = nil
	if o := c.Printing.outcome(); o.State != fine || o.Says != "1 bed load of filament; overhangs on 1 piece" {
		t.Errorf("summary %+v", o)
	}
}

// The page has the section for a printed mold, with the text's figures, and none for
// a milled one.
func TestPrintingOnThePage(t *testing.T) {
	if s := written(t, examplePage(t, "kestrel")); strings.Contains(s, `id="printing"`) || strings.Contains(s, `href="#printing"`) {
		t.Error("a milled mold has a section on printing")
	}
	page := examplePage(t, "wren")
	s, r := written(t, page), page.Build.Printing
	for _, want := range []string{`<section id="printing"`, `href="#printing"`, "Printing, resin", grams(r.Pieces[0].Mass), printTime(r.Loads[0].Time), "rests on"} {
		if !strings.Contains(s, want) {
			t.Errorf("%s is missing", want)
		}
	}
}
