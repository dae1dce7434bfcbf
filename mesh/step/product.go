package step

import (
	"fmt"
	"io"
)

// context is what all products of a file share.
type context struct{ product, definition, geometry ref }

// tolerance is the largest gap between what should coincide, mm, as the file states it.
const tolerance = 1e-5

// context adds the application and the units: millimeters, radians, steradians.
func (w *writer) context() context {
	app := w.entity("APPLICATION_CONTEXT", "core data for automotive mechanical design processes")
	w.entity("APPLICATION_PROTOCOL_DEFINITION", "international standard", "automotive_design", 2000, app)
	length := w.complex(rec("LENGTH_UNIT"), rec("NAMED_UNIT", derived), rec("SI_UNIT", enum("MILLI"), enum("METRE")))
	angle := w.complex(rec("NAMED_UNIT", derived), rec("PLANE_ANGLE_UNIT"), rec("SI_UNIT", absent, enum("RADIAN")))
	solidAngle := w.complex(rec("NAMED_UNIT", derived), rec("SI_UNIT", absent, enum("STERADIAN")), rec("SOLID_ANGLE_UNIT"))
	gap := w.entity("UNCERTAINTY_MEASURE_WITH_UNIT", rec("LENGTH_MEASURE", tolerance), length,
		"distance_accuracy_value", "largest gap between surfaces, edges and vertices")
	return context{
		product:    w.entity("PRODUCT_CONTEXT", "", app, "mechanical"),
		definition: w.entity("PRODUCT_DEFINITION_CONTEXT", "part definition", app, "design"),
		geometry: w.complex(rec("GEOMETRIC_REPRESENTATION_CONTEXT", 3),
			rec("GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT", []ref{gap}),
			rec("GLOBAL_UNIT_ASSIGNED_CONTEXT", []ref{length, angle, solidAngle}),
			rec("REPRESENTATION_CONTEXT", "", "3D")),
	}
}

// product is a product of the file.
type product struct {
	name       string
	definition ref // PRODUCT_DEFINITION
	property   ref // PRODUCT_DEFINITION_SHAPE
	shape      ref // its shape representation
	origin     ref // where its coordinates begin
}

func (w *writer) product(c context, name string) product {
	p := w.entity("PRODUCT", name, name, "", []ref{c.product})
	w.entity("PRODUCT_RELATED_PRODUCT_CATEGORY", "part", absent, []ref{p})
	formation := w.entity("PRODUCT_DEFINITION_FORMATION", "", "", p)
	d := w.entity("PRODUCT_DEFINITION", "design", "", formation, c.definition)
	return product{name: name, definition: d, property: w.entity("PRODUCT_DEFINITION_SHAPE", "", "", d)}
}

// origin adds a placement of its own at the world's origin: one may not stand for two
// parts.
func (w *writer) origin() ref {
	return w.entity("AXIS2_PLACEMENT_3D", "", w.point(Vec{}), w.direction(Vec{0, 0, 1}), w.direction(Vec{1, 0, 0}))
}

// assemble adds the product that consists of parts, each where its coordinates say.
func (w *writer) assemble(c context, name string, parts []product) {
	whole := w.product(c, name)
	places := make([]ref, len(parts))
	for i := range places {
		places[i] = w.origin()
	}
	whole.shape = w.entity("SHAPE_REPRESENTATION", name, append([]ref{w.origin()}, places...), c.geometry)
	w.entity("SHAPE_DEFINITION_REPRESENTATION", whole.property, whole.shape)
	for i, p := range parts {
		use := w.entity("NEXT_ASSEMBLY_USAGE_OCCURRENCE", fmt.Sprint(i+1), p.name, "", whole.definition, p.definition, absent)
		property := w.entity("PRODUCT_DEFINITION_SHAPE", "", "", use)
		move := w.entity("ITEM_DEFINED_TRANSFORMATION", "", "", p.origin, places[i])
		placed := w.complex(rec("REPRESENTATION_RELATIONSHIP", "", "", p.shape, whole.shape),
			rec("REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION", move),
			rec("SHAPE_REPRESENTATION_RELATIONSHIP"))
		w.entity("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", placed, property)
	}
}

// epoch stands where a file states when it was made: its bytes must not depend on the
// clock.
const epoch = "1970-01-01T00:00:00"

// flush writes the file.
func (w *writer) flush(to io.Writer, o Options, name string) error {
	if w.err != nil {
		return w.err
	}
	title := o.Title
	if title == "" {
		title = name
	}
	b := []byte("ISO-10303-21;\nHEADER;\n")
	for _, r := range []record{
		rec("FILE_DESCRIPTION", []string{title}, "2;1"),
		rec("FILE_NAME", name, epoch, []string{""}, []string{""}, o.Program, o.Program, ""),
		rec("FILE_SCHEMA", []string{"AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }"}),
	} {
		b = append(w.record(b, r.name, r.params), ";\n"...)
	}
	b = append(b, "ENDSEC;\nDATA;\n"...)
	for _, part := range [][]byte{b, w.text, []byte("ENDSEC;\nEND-ISO-10303-21;\n")} {
		if _, err := to.Write(part); err != nil {
			return fmt.Errorf("step: %w", err)
		}
	}
	return nil
}
