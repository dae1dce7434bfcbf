package main

import (
	"bytes"
	"image/png"
	"io"
	"time"

	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/export"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/pour"
	"wheelmold/mold/report"
	"wheelmold/mold/shop/paper"
	"wheelmold/mold/study"
)

// reportFile is the name of the page in a build's folder.
const reportFile = "report.html"

// stillWidth is the width in pixels of the picture that stands in for the 3D view:
// sharp enough on paper at 120 mm.
const stillWidth = 720

// page is the report as a page, which is drawn while other files are written.
func (o making) page(r *report.Build, made *mold.Made, x *study.Result, shop func() ([]*paper.Page, error), settings []string) export.File {
	p := &report.Page{Build: r, Sheet: report.OfPour(x, time.Time{}), Settings: settings}
	return export.File{Name: reportFile, Fill: func(w io.Writer) error {
		if err := o.draw(p, made, x, shop); err != nil {
			return err
		}
		return p.WriteHTML(w)
	}}
}

// draw draws what the page shows beside its figures.
func (o making) draw(p *report.Page, made *mold.Made, x *study.Result, shop func() ([]*paper.Page, error)) error {
	m, e, plan := made.Mold, x.Flash, x.Pour
	tasks := []func() error{
		func() (err error) { p.Still, err = still(made); return err },
		func() (err error) { p.Scene, err = o.scene(made, plan); return err },
		func() (err error) { p.Sections, err = drawing.Sections(m, plan); return err },
		func() (err error) { p.Traps, err = drawing.Trapped(m, plan); return err },
		func() (err error) { p.Partings, err = drawing.Partings(m, made.Faces); return err },
		func() (err error) { p.Maps, err = drawing.Maps(m, made.Faces, e); return err },
		func() (err error) { p.Shop, err = shop(); return err },
	}
	errs := make([]error, len(tasks))
	inparallel.Do(len(tasks), func(i int) { errs[i] = tasks[i]() })
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// finestShown is the tolerance in mm below which meshes are made again for the page: no
// eye sees more, and the page must stay small enough to be sent.
const finestShown = 0.005

// scene is the mold in 3D.
func (o making) scene(made *mold.Made, plan *pour.Plan) (*report.Scene, error) {
	tolerance := o.tolerance
	if tolerance < finestShown {
		tolerance = finestShown
		var err error
		if made, err = made.Mold.Make(mold.MakeOptions{Tolerance: tolerance, Only: o.only.names}); err != nil {
			return nil, err
		}
	}
	return report.OfScene(made, plan, tolerance)
}

// still is the picture of the mold drawn apart, as PNG.
func still(made *mold.Made) ([]byte, error) {
	var b bytes.Buffer
	err := png.Encode(&b, made.Exploded(stillWidth))
	return b.Bytes(), err
}
