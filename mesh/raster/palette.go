package raster

import "image/color"

// Palette holds the colors of a mold's parts. They are quiet, and differ in
// brightness as much as in hue, so that parts stay apart for the color-blind and
// in print without color.
var Palette = struct {
	Base, ShellA, ShellB, Lid, Hub, Rubber, Ball, Paper color.RGBA
}{
	Base:   color.RGBA{0x4c, 0x6b, 0x88, 0xff},
	ShellA: color.RGBA{0xdf, 0xc9, 0x9d, 0xff},
	ShellB: color.RGBA{0xa9, 0xc4, 0xcf, 0xff},
	Lid:    color.RGBA{0x8d, 0x93, 0xb8, 0xff},
	Hub:    color.RGBA{0xf1, 0xee, 0xe6, 0xff},
	Rubber: color.RGBA{0xc9, 0x5f, 0x3c, 0xff},
	Ball:   color.RGBA{0x8d, 0x92, 0x97, 0xff},
	Paper:  color.RGBA{0xfb, 0xfa, 0xf7, 0xff},
}
