package raster

import (
	"image/color"
	"math"
	"sync"

	"wheelmold/mesh"
)

// lights are two soft lights that travel with the viewer, and a sky that is
// brighter above, or below for one who looks from below. All in the viewer's
// frame: right, up, toward the viewer.
type lights struct{ key, fill, sky mesh.Vec }

func newLights(c *camera) lights {
	above := 1.0
	if c.ahead[2] > 0 {
		above = -1
	}
	return lights{
		key:  mesh.Vec{-.60, .36 * above, .72}.Unit(),
		fill: mesh.Vec{.85, .10 * above, .52}.Unit(),
		sky:  c.turn(mesh.Vec{0, 0, above}),
	}
}

// Strengths of the lights: a surface square to the key light comes out near 1.
const (
	keyLight  = 0.66
	fillLight = 0.26
	skyLight  = 0.36
)

// tone is the brightness, about 0 to 1, of a matte surface with normal n.
func (l *lights) tone(n mesh.Vec) float64 {
	k := 1 / math.Sqrt(n.Dot(n))
	key, fill := wrapped(n.Dot(l.key)*k), wrapped(n.Dot(l.fill)*k)
	sky := .5 + .5*n.Dot(l.sky)*k
	return keyLight*key + fillLight*fill + skyLight*sky
}

// wrapped is how a broad light falls on a surface at the given cosine: some of
// it reaches beyond a right angle.
func wrapped(cosine float64) float64 {
	const wrap = .25
	return max(0, (cosine+wrap)/(1+wrap))
}

// linear is a color in which light adds up: red, green, blue.
type linear [3]float32

var (
	white = linear{1, 1, 1}
	ink   = toLinear(color.RGBA{R: 0x1d, G: 0x23, B: 0x2b})
)

// toLinear undoes the transfer function of sRGB (IEC 61966-2-1).
func toLinear(c color.RGBA) linear {
	f := func(v uint8) float32 {
		s := float64(v) / 255
		if s <= .04045 {
			return float32(s / 12.92)
		}
		return float32(math.Pow((s+.055)/1.055, 2.4))
	}
	return linear{f(c.R), f(c.G), f(c.B)}
}

// scale returns c times k.
func (c linear) scale(k float32) linear { return linear{c[0] * k, c[1] * k, c[2] * k} }

// add returns c + d.
func (c linear) add(d linear) linear { return linear{c[0] + d[0], c[1] + d[1], c[2] + d[2]} }

// mix returns the color a share k of the way from c to d.
func (c linear) mix(d linear, k float32) linear { return c.scale(1 - k).add(d.scale(k)) }

// codeSteps is fine enough for the steepest part of the transfer function: a
// step there is 12.92·255/codeSteps = 0.2 of an 8-bit value.
const codeSteps = 1 << 14

// codes tabulates the transfer function of sRGB.
var codes = sync.OnceValue(func() *[codeSteps + 1]uint8 {
	var t [codeSteps + 1]uint8
	for i := range t {
		v := float64(i) / codeSteps
		if v <= .0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - .055
		}
		t[i] = uint8(math.Round(255 * v))
	}
	return &t
})

// code returns the color as it is stored; what is brighter than white is white.
func (c linear) code() color.RGBA {
	t := codes()
	f := func(v float32) uint8 { return t[int(min(max(v, 0), 1)*codeSteps+.5)] }
	return color.RGBA{f(c[0]), f(c[1]), f(c[2]), 255}
}
