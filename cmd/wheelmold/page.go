package main

import (
	"bytes"
	"image/png"
	"io"
	"time"

	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/export"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/mold/report"
)

// reportFile is the name of the page in a build's folder.
const reportFile = "report.html"

// stillWidth is the width in pixels of the picture that stands in for the 3D view:
// sharp on paper at 150 mm.
const stillWidth = 900

// page draws what the report shows beside its figures, ready to be written.
func (b *buildFlags) page(r *report.Build, made *mold.Made, e *flash.Estimate, plan *pour.Plan) (export.File, error) {
	m := made.Mold
	p := &report.Page{Build: r, Sheet: report.OfPour(m, plan, time.Time{})}
	var err error
	if p.Scene, err = report.OfScene(made, plan, b.tolerance.mm); err != nil {
		return export.File{}, err
	}
	if p.Sections, err = drawing.Sections(m, plan); err != nil {
		return export.File{}, err
	}
	if p.Partings, err = drawing.Partings(m, made.Faces); err != nil {
		return export.File{}, err
	}
	if p.Traps, err = drawing.Trapped(m, plan); err != nil {
		return export.File{}, err
	}
	if p.Maps, err = drawing.Maps(m, made.Faces, e); err != nil {
		return export.File{}, err
	}
	var still bytes.Buffer
	if err = png.Encode(&still, made.Exploded(stillWidth)); err != nil {
		return export.File{}, err
	}
	p.Still = still.Bytes()
	return export.File{Name: reportFile, Fill: func(w io.Writer) error { return p.WriteHTML(w) }}, nil
}
