// Package paper lays shop drawings out on paper and writes them as SVG and PDF.
//
// A sheet (Sheet) says what is to be read: views in millimeters of the mold, with
// dimensions, call-outs and marks that have no place yet; tables; notes; fields of a
// title block. Lay finds the paper (ISO 216), the scale (ISO 5455) and a place for
// everything, and returns pages: display lists in millimeters of paper, which both
// writers write alike.
//
// It guarantees that no text covers another text, a table or a line of the drawing's
// own annotation, that all stays inside the frame, that what finds no room in a view
// is said in a table instead, and that the same sheets give the same bytes. Lines are
// those of ISO 128-2, 0.5 and 0.25 mm; capitals are 2.5 mm high or more.
//
// Views may be details: of a scale of their own (View.Scale), cut down to a circle
// (View.Window) that another view shows (View.Details). Letters cut into a face are
// thin lines (Engraved). Tables that are read together stand on one page (Table.Keep).
//
// It does not know what it draws: neither which dimensions a piece needs nor whether
// they are right. Widths of texts are those of Helvetica and its kin. In a PDF,
// letters that Windows-1252 lacks become question marks; an SVG keeps them.
package paper
