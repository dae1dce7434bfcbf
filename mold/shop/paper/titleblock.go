package paper

import "wheelmold/mold/drawing"

// Measures of the title block, mm.
const (
	blockWidth  = 180.0
	blockColumn = blockWidth / 3
	fieldHeight = 11.0
	titleHeight = 14.0
)

// fieldAt is a field in its cell.
type fieldAt struct {
	Field
	row, column, span int
}

// cells gives fields their cells, as many columns of three as each needs; rows are
// filled to their ends.
func cells(fields []Field) (out []fieldAt, rows int) {
	row, column := 0, 0
	fill := func() {
		if n := len(out); n > 0 && column > 0 && column < 3 {
			out[n-1].span += 3 - column
		}
	}
	for _, f := range fields {
		w := max(widthOf(clean(f.Label), typeSize, false), widthOf(clean(f.Value), typeSize, true)) + 2*cellGap
		span := 1
		for span < 3 && w > blockColumn*float64(span) {
			span++
		}
		if column+span > 3 {
			fill()
			row, column = row+1, 0
		}
		out = append(out, fieldAt{f, row, column, span})
		column += span
	}
	fill()
	if len(out) > 0 {
		rows = row + 1
	}
	return out, rows
}

// blockHeight is how high a sheet's title block is.
func blockHeight(s *Sheet) float64 {
	_, rows := cells(s.Fields)
	return titleHeight + fieldHeight*float64(rows)
}

// titleBlock draws the title block with its lower right corner.
func (k *ink) titleBlock(s *Sheet, title, scale, number string, corner Point) {
	all, rows := cells(s.Fields)
	lo := Point{corner[0] - blockWidth, corner[1]}
	box := func(u0, v0, u1, v1 float64) drawing.Box {
		return drawing.Box{Lo: plus(lo, Point{u0, v0}), Hi: plus(lo, Point{u1, v1})}
	}
	for _, f := range all {
		v := titleHeight + fieldHeight*float64(rows-1-f.row)
		k.field(box(blockColumn*float64(f.column), v, blockColumn*float64(f.column+f.span), v+fieldHeight), f.Label, f.Value)
	}
	const cell = 28.0
	name := box(0, 0, blockWidth-3*cell, titleHeight)
	k.rectangle(narrow, name)
	room := blockWidth - 3*cell - 2*cellGap
	k.write(shortened(title, titleSize, true, room), plus(name.Lo, Point{cellGap, 4.6}), writing{size: titleSize, bold: true})
	sign := box(blockWidth-3*cell, 0, blockWidth-2*cell, titleHeight)
	k.rectangle(narrow, sign)
	k.projection(s.ThirdAngle, times(plus(sign.Lo, sign.Hi), 0.5))
	k.field(box(blockWidth-2*cell, 0, blockWidth-cell, titleHeight), "Scale", scale)
	k.field(box(blockWidth-cell, 0, blockWidth, titleHeight), "Sheet", number)
	k.rectangle(bold, box(0, 0, blockWidth, titleHeight+fieldHeight*float64(rows)))
}

// field draws a label and its value in a cell.
func (k *ink) field(b drawing.Box, label, value string) {
	w, h := sizeOf(b)
	k.rectangle(narrow, b)
	room := w - 2*cellGap
	k.write(shortened(label, typeSize, false, room), Point{b.Lo[0] + cellGap, b.Hi[1] - 4}, writing{size: typeSize})
	k.write(shortened(value, typeSize, true, room), Point{b.Lo[0] + cellGap, b.Lo[1] + (h-fieldHeight)/2 + 2}, writing{size: typeSize, bold: true})
}
