package main

import (
	"image"
	"image/png"
	"io"

	"wheelmold/mold"
	"wheelmold/mold/export"
)

// pictureWidth is how wide pictures are, pixels: 100 mm on paper at 300 dots per inch.
const pictureWidth = 1200

// pictures are files that show what was made: every piece as it lies on the bed and,
// if all were made, the mold drawn apart and cut open.
func pictures(made *mold.Made) (files []export.File) {
	add := func(name string, draw func() image.Image) {
		files = append(files, export.File{Name: "picture-" + name + ".png", Fill: func(w io.Writer) error {
			e := png.Encoder{CompressionLevel: png.BestCompression}
			return e.Encode(w, draw())
		}})
	}
	if len(made.Parts) == len(made.Mold.Pieces) {
		add("exploded", func() image.Image { return made.Exploded(pictureWidth) })
		add("section", func() image.Image { return made.Section(pictureWidth) })
	}
	for _, p := range made.Parts {
		add(p.Piece.Name, func() image.Image { return made.Piece(p.Piece.Name, pictureWidth) })
	}
	return files
}
