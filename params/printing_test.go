package params

import (
	"strings"
	"testing"
)

// The printer follows from the process; a milled mold's printer, which may make its
// hub, is of filament.
func TestPrinterOfProcess(t *testing.T) {
	for _, c := range []struct {
		process, kind string
		printed       bool
		bedY, layer   float64
		softens       float64
	}{
		{"milled", Milled, false, 220, .2, 580},
		{"filament", Filament, true, 220, .2, 57},
		{"lapped filament", Filament, true, 220, .2, 57},
		{"resin", Resin, true, 80, .05, 60},
		{"custom", Filament, true, 220, .2, 57},
	} {
		j, err := Default(90, 30, 10, c.process)
		if err != nil {
			t.Fatal(err)
		}
		if j.Process.Kind != c.kind || j.Printed() != c.printed || j.PrintsResin() != (c.kind == Resin) {
			t.Errorf("%s: kind %s, printed %v", c.process, j.Process.Kind, j.Printed())
		}
		if p := j.Printing; p.BedY != c.bedY || p.Layer != c.layer || p.Gap != 8 || p.Overhang != 45 || j.Process.Softening != c.softens {
			t.Errorf("%s: %+v, softens at %v", c.process, p, j.Process.Softening)
		}
	}
}

// Only a custom process may be of another kind, and everything follows from it.
func TestKindOfCustomProcess(t *testing.T) {
	job := func(process, kind string) (*Job, error) {
		j, _, err := Parse("wheel.toml", []byte("[wheel]\ndiameter = \"90 mm\"\nwidth = \"30 mm\"\n[hub]\nbore = \"10 mm\"\n[process]\nname = \""+process+"\"\nkind = \""+kind+"\"\n"))
		return j, err
	}
	if j, err := job("custom", "resin"); err != nil || !j.PrintsResin() || j.Printing.BedY != 80 {
		t.Errorf("custom resin: %v, %v", j, err)
	}
	if j, err := job("custom", "milled"); err != nil || j.Printed() || j.Mold.Stack.Gap >= .1 || j.Mold.Bolts.Nut != "round" {
		t.Errorf("custom, milled: %v", err)
	}
	if _, err := job("filament", "resin"); err == nil || !strings.Contains(err.Error(), `process.kind = "resin": allowed "filament"`) {
		t.Errorf("filament of resin: %v", err)
	}
	if _, err := job("milled", "milled"); err != nil {
		t.Errorf("what it is anyway: %v", err)
	}
}

// Figures that nothing reads are told.
func TestIdlePrintingFigures(t *testing.T) {
	for _, c := range []struct {
		process, key string
		set          func(*Printing)
		told         bool
	}{
		{"resin", "printing.rate", func(p *Printing) { p.Rate = 30 }, true},
		{"filament", "printing.rate", func(p *Printing) { p.Rate = 30 }, false},
		{"filament", "printing.layer_time", func(p *Printing) { p.LayerTime = 5 }, true},
		{"resin", "printing.layer_time", func(p *Printing) { p.LayerTime = 5 }, false},
		{"filament", "printing.infill", func(p *Printing) { p.Infill = .5 }, true},
		{"filament", "printing.infill", func(p *Printing) { p.Infill, p.Fill = .5, "walled" }, false},
	} {
		j, err := Default(90, 30, 10, c.process)
		if err != nil {
			t.Fatal(err)
		}
		c.set(&j.Printing)
		if told := j.Warnings().names(c.key); told != c.told {
			t.Errorf("%s, %s: told %v", c.process, c.key, told)
		}
	}
}
