package step

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"wheelmold/mesh/region"
)

// Part is one thing to make.
type Part struct {
	Name  string
	Solid *region.Solid // with or without seams
}

// RGB is a color, each value from 0 to 1.
type RGB [3]float64

// Options are what a file says beside the shapes. The zero value says nothing.
type Options struct {
	Program string // and its version
	Title   string // what the file is
	// Colors gives a face with these roles its color; nil: no colors.
	Colors func(roles []string) RGB
	// FaceName gives a face its name; nil: its roles.
	FaceName func(f *region.Face) string
}

func (o *Options) faceName(f *region.Face) string {
	if o.FaceName != nil {
		return o.FaceName(f)
	}
	return strings.Join(f.Roles, ", ")
}

// Write writes one part as a STEP file.
func Write(w io.Writer, p Part, o Options) error {
	f := newWriter()
	c := f.context()
	if _, err := f.part(c, p, &o); err != nil {
		return err
	}
	return f.flush(w, o, p.Name)
}

// WriteAssembly writes parts where they lie, as one product that consists of theirs.
func WriteAssembly(w io.Writer, name string, parts []Part, o Options) error {
	if len(parts) == 0 {
		return errors.New("step: an assembly of nothing")
	}
	f := newWriter()
	c := f.context()
	names := []string{name}
	placed := make([]product, len(parts))
	for i, p := range parts {
		if slices.Contains(names, p.Name) {
			return fmt.Errorf("step: two products are called %q", p.Name)
		}
		names = append(names, p.Name)
		var err error
		if placed[i], err = f.part(c, p, &o); err != nil {
			return err
		}
	}
	f.assemble(c, name, placed)
	return f.flush(w, o, name)
}

// part adds a part as a product of its own.
func (w *writer) part(c context, p Part, o *Options) (product, error) {
	if p.Solid == nil || p.Name == "" {
		return product{}, errors.New("step: a part needs a name and a solid")
	}
	s := p.Solid
	if !slices.ContainsFunc(s.Edges, func(e *region.Edge) bool { return e.Seam }) {
		var err error
		if s, err = s.Cut(); err != nil {
			return product{}, fmt.Errorf("step: %s: %w", p.Name, err)
		}
	}
	out := w.product(c, p.Name)
	faces := w.faces(s, o)
	solids, err := w.solids(s, p.Name, faces)
	if err != nil {
		return product{}, fmt.Errorf("step: %s: %w", p.Name, err)
	}
	out.origin = w.origin()
	out.shape = w.entity("ADVANCED_BREP_SHAPE_REPRESENTATION", p.Name, append([]ref{out.origin}, solids...), c.geometry)
	w.entity("SHAPE_DEFINITION_REPRESENTATION", out.property, out.shape)
	if o.Colors != nil {
		w.colors(c, s, faces, o.Colors)
	}
	return out, nil
}

// faces returns the ADVANCED_FACE of every face.
func (w *writer) faces(s *region.Solid, o *Options) []ref {
	edges := w.edges(s)
	faces := make([]ref, len(s.Faces))
	for i, f := range s.Faces {
		bounds := make([]ref, len(f.Loops))
		for k, l := range f.Loops {
			kind := "FACE_BOUND"
			if k == 0 {
				kind = "FACE_OUTER_BOUND"
			}
			bounds[k] = w.entity(kind, "", w.loop(edges, l, f.Negative), true)
		}
		surface, outward := w.surface(f)
		faces[i] = w.entity("ADVANCED_FACE", o.faceName(f), bounds, surface, outward)
	}
	return faces
}

// loop returns a border. The standard has the face on its left seen from outside the
// solid, region has it so against the carrier's normal.
func (w *writer) loop(edges []ref, l region.Loop, negative bool) ref {
	uses := make([]ref, len(l))
	for i, u := range l {
		uses[i] = w.entity("ORIENTED_EDGE", "", derived, derived, edges[u.Edge], u.Reversed == negative)
	}
	if negative {
		slices.Reverse(uses)
	}
	return w.entity("EDGE_LOOP", "", uses)
}

// solids returns the lumps of a part, each with its voids.
func (w *writer) solids(s *region.Solid, name string, faces []ref) ([]ref, error) {
	inside, err := voids(s)
	if err != nil {
		return nil, err
	}
	shell := func(i int) ref {
		of := make([]ref, len(s.Shells[i].Faces))
		for k, f := range s.Shells[i].Faces {
			of[k] = faces[f]
		}
		return w.entity("CLOSED_SHELL", "", of)
	}
	var solids []ref
	for i, sh := range s.Shells {
		if sh.Volume <= 0 {
			continue
		}
		outer := shell(i)
		if len(inside[i]) == 0 {
			solids = append(solids, w.entity("MANIFOLD_SOLID_BREP", name, outer))
			continue
		}
		var hollow []ref
		for _, v := range inside[i] {
			hollow = append(hollow, w.entity("ORIENTED_CLOSED_SHELL", "", derived, shell(v), true))
		}
		solids = append(solids, w.entity("BREP_WITH_VOIDS", name, outer, hollow))
	}
	return solids, nil
}
