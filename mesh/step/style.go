package step

import "wheelmold/mesh/region"

// colors adds a color to every face.
func (w *writer) colors(c context, s *region.Solid, faces []ref, of func([]string) RGB) {
	items := make([]ref, len(faces))
	for i, f := range s.Faces {
		items[i] = w.entity("STYLED_ITEM", "color", []ref{w.color(of(f.Roles))}, faces[i])
	}
	w.entity("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION", "", items, c.geometry)
}

// color returns the style of a surface that has this color on both sides.
func (w *writer) color(c RGB) ref {
	rgb := w.shared("COLOUR_RGB", "", c[0], c[1], c[2])
	fill := w.shared("FILL_AREA_STYLE", "", []ref{w.shared("FILL_AREA_STYLE_COLOUR", "", rgb)})
	side := w.shared("SURFACE_SIDE_STYLE", "", []ref{w.shared("SURFACE_STYLE_FILL_AREA", fill)})
	return w.shared("PRESENTATION_STYLE_ASSIGNMENT", []ref{w.shared("SURFACE_STYLE_USAGE", enum("BOTH"), side)})
}
