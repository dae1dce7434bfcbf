// Package handover makes the files that a machine shop gets: exact solids as STEP, flat
// drawings as DXF, and sheets with dimensions as PDF.
//
// It guarantees that all of them show a piece as it leaves the machine, stock for
// lapping and wider holes included. Solids are in the frame of the closed mold, whose axis
// is Z and whose tread stands on z = 0; flat drawings and sheets count in each view from
// the same origin in the same directions, and name holes alike. The assembly alone shows
// the pieces as they are in the closed mold. Nothing is meshed, and the same mold gives the
// same bytes.
package handover

import (
	"fmt"
	"io"
	"slices"
	"strconv"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/region"
	"wheelmold/mesh/step"
	"wheelmold/mold"
	"wheelmold/mold/flat"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/shop"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// Formats are what a file can be.
const (
	STEP = "step" // every piece, and the assembly
	DXF  = "dxf"  // what is milled or turned
	PDF  = "pdf"  // drawings of the same
)

// File is one file, by what it holds.
type File struct {
	Name   string
	Format string
	Fill   func(io.Writer) error
}

// Options say what is handed over.
type Options struct {
	Program string                   // name and version
	Only    []string                 // pieces, if not all; then there is no assembly
	Wants   func(format string) bool // nil: all
	// Drawings lays the sheets out (Pages).
	Drawings func() ([]*paper.Page, error)
}

func (o *Options) wants(format string) bool { return o.Wants == nil || o.Wants(format) }

func (o *Options) has(piece string) bool { return len(o.Only) == 0 || slices.Contains(o.Only, piece) }

// Files are the files to write, by the exact boundaries of the pieces in the closed mold
// and as they leave the machine.
func Files(m *mold.Mold, faces, raw map[string]*brep.Boundary, o Options) ([]File, error) {
	var out []File
	if o.wants(STEP) {
		out = append(out, steps(m, faces, raw, &o)...)
	}
	if o.wants(DXF) {
		flats, err := dxfs(m, raw, &o)
		if err != nil {
			return nil, err
		}
		out = append(out, flats...)
	}
	if o.wants(PDF) && slices.ContainsFunc(m.Pieces, func(p mold.Piece) bool { return o.has(p.Name) && !p.Printed(m.Job) }) {
		out = append(out, File{"drawings.pdf", PDF, func(w io.Writer) error {
			pages, err := o.Drawings()
			if err != nil {
				return err
			}
			return paper.WritePDF(w, pages, m.Job.Name)
		}})
	}
	return out, nil
}

// Pages are the drawings of what is milled or turned, laid out; none where all is
// printed. Blanks are what each piece is made from, in words.
func Pages(m *mold.Mold, raw map[string]*brep.Boundary, blanks map[string]string, only []string) ([]*paper.Page, error) {
	sheets, err := shop.Sheets(m, cut(m, raw, only), blanks)
	if err != nil {
		return nil, err
	}
	if len(sheets) == 0 {
		return nil, nil
	}
	return paper.Lay(sheets...)
}

// Warnings tells what the files that are wanted cannot show of a job.
func Warnings(j *params.Job, wants func(format string) bool) params.Faults {
	if !wants(PDF) || !paper.Lacks(j.Name) {
		return nil
	}
	return params.Faults{{
		Path: "name", Value: strconv.Quote(j.Name), Cause: "drawings.pdf shows question marks for letters that are not of Western European languages",
		Hint: "the sheets in report.html show them all",
	}}
}

// steps are a file per piece, and one of all in place.
func steps(m *mold.Mold, faces, raw map[string]*brep.Boundary, o *Options) []File {
	options := func(title string) step.Options {
		return step.Options{Program: o.Program, Title: title, Colors: colorOf}
	}
	var out []File
	for _, p := range m.Pieces {
		if !o.has(p.Name) {
			continue
		}
		out = append(out, File{p.Name + ".step", STEP, func(w io.Writer) error {
			s, err := solidOf(p.Name, raw)
			if err != nil {
				return err
			}
			return step.Write(w, step.Part{Name: mold.Title(p.Name), Solid: s}, options(m.Job.Name+", "+mold.Title(p.Name)))
		}})
	}
	if len(o.Only) > 0 {
		return out
	}
	return append(out, File{"assembly.step", STEP, func(w io.Writer) error {
		parts := make([]step.Part, len(m.Pieces))
		errs := make([]error, len(parts))
		inparallel.Do(len(parts), func(i int) {
			parts[i].Name = mold.Title(m.Pieces[i].Name)
			parts[i].Solid, errs[i] = solidOf(m.Pieces[i].Name, faces)
		})
		for _, err := range errs {
			if err != nil {
				return err
			}
		}
		return step.WriteAssembly(w, m.Job.Name, parts, options(m.Job.Name+", the closed mold"))
	}})
}

func solidOf(piece string, faces map[string]*brep.Boundary) (*region.Solid, error) {
	b, ok := faces[piece]
	if !ok {
		return nil, fmt.Errorf("no boundary of the piece %q is known", piece)
	}
	s, err := region.Of(b)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", piece, err)
	}
	return s, nil
}

// dxfs are the flat drawings of what is milled or turned.
func dxfs(m *mold.Mold, raw map[string]*brep.Boundary, o *Options) ([]File, error) {
	files, err := flat.Of(m, cut(m, raw, o.Only))
	if err != nil {
		return nil, err
	}
	var out []File
	for _, f := range files {
		out = append(out, File{f.Name, DXF, func(w io.Writer) error { return dxf.Write(w, f.Drawing) }})
	}
	return out, nil
}

// cut are the boundaries of the pieces that are asked for and milled or turned.
func cut(m *mold.Mold, raw map[string]*brep.Boundary, only []string) map[string]*brep.Boundary {
	o := Options{Only: only}
	out := map[string]*brep.Boundary{}
	for _, p := range m.Pieces {
		if o.has(p.Name) && !p.Printed(m.Job) {
			out[p.Name] = raw[p.Name]
		}
	}
	return out
}
