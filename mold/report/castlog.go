package report

import (
	"fmt"
	"io"

	"wheelmold/mold/castlog"
)

// Casts lists what was written down of a job's casts, with what was predicted when each
// was.
type Casts struct {
	Version    int       `json:"version"`
	Program    string    `json:"program"`
	File       string    `json:"log_file"`
	Casts      []CastRow `json:"casts"`
	Unusable   []string  `json:"unusable_lines"`
	Calibrated string    `json:"calibrated"` // by what; empty: nothing was accepted
}

// CastRow is one cast. Pairs are measured and predicted; null where not known.
type CastRow struct {
	Date     string      `json:"date"`
	Result   string      `json:"result"`
	Residue  [2]*float64 `json:"residue_g"`
	Flash    [2]*float64 `json:"flash_g"`
	Gap      [2]*float64 `json:"flash_thickness_mm"`
	Line     string      `json:"flash_thickness_at"` // the parting line that is predicted for
	Rubber   [2]*float64 `json:"rubber_g"`           // on the wheel
	Hardness [2]*float64 `json:"hardness_shore_a"`
	Diameter [2]*float64 `json:"diameter_mm"`
	Notes    string      `json:"notes"`
}

// OfCasts lists the casts of a log.
func OfCasts(path string, l *castlog.Log) *Casts {
	c := &Casts{Version: Version, File: path, Casts: []CastRow{}, Unusable: []string{}}
	for _, r := range l.Casts() {
		c.Casts = append(c.Casts, CastRow{
			Date: r.Date, Result: r.Result, Notes: r.Notes, Line: r.ExpectedLine,
			Rubber: pair(r.Rubber(), r.ExpectedRubber, 1), Hardness: pair(r.Hardness, r.ExpectedHardness, 1),
			Residue: pair(r.Residue, r.ExpectedResidue, 1), Flash: pair(r.FlashMass, r.ExpectedFlash, 1),
			Gap: pair(r.Flash, r.ExpectedGap, 1000), Diameter: pair(r.Diameter, r.ExpectedCured, 1),
		})
	}
	for _, f := range l.Faults {
		c.Unusable = append(c.Unusable, f.String())
	}
	if more := l.Damaged - len(l.Faults); more > 0 {
		c.Unusable = append(c.Unusable, fmt.Sprintf("and %d lines more", more))
	}
	_, c.Calibrated = l.Calibration()
	return c
}

// pair is what was measured and predicted; per is how many of the prediction's unit make
// one of the other.
func pair(got, want castlog.Measure, per float64) (p [2]*float64) {
	if got.Known {
		p[0] = &got.Value
	}
	if want.Known {
		v := want.Value / per
		p[1] = &v
	}
	return p
}

// WriteText prints a line per cast, measured beside predicted.
func (c *Casts) WriteText(w io.Writer) error {
	p := newPage(w)
	if len(c.Casts) == 0 {
		p.row("no casts in " + c.File)
		return p.close()
	}
	p.row("casts in " + c.File + ": measured (predicted when it was logged)")
	p.row()
	p.row("date", "result", "residue g", "flash g, median", "thickness mm", "at", "diameter mm", "rubber g", "Shore A", "note")
	for i := range c.Casts {
		r := &c.Casts[i]
		p.row(r.Date, r.Result, measuredAgainst(r.Residue, 1), measuredAgainst(r.Flash, 2), measuredAgainst(r.Gap, 3), r.Line, measuredAgainst(r.Diameter, 2),
			measuredAgainst(r.Rubber, 1), measuredAgainst(r.Hardness, 0), r.Notes)
	}
	return p.close()
}

func measuredAgainst(v [2]*float64, decimals int) string {
	say := func(x *float64) string {
		if x == nil {
			return "-"
		}
		return number(*x, decimals)
	}
	return say(v[0]) + " (" + say(v[1]) + ")"
}
