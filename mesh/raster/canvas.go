package raster

import (
	"image"
	"math"
)

// canvas is the picture before shading between parts is added.
type canvas struct {
	width, height int
	color         []linear
	depth         []float32 // in the middle of the pixel, mm; farAway: background
}

// farAway is the depth of the background.
const farAway = math.MaxFloat32

func newCanvas(v View) *canvas {
	n := v.Width * v.Height
	return &canvas{width: v.Width, height: v.Height, color: make([]linear, n), depth: make([]float32, n)}
}

// resolve averages the band's samples into pixels.
func (b *band) resolve(p *canvas) {
	ss := b.view.Supersample
	ground := toLinear(b.view.Background)
	share := 1 / float32(ss*ss)
	for y := b.first; y < b.last; y++ {
		for x := range p.width {
			at := (y*ss-b.y0)*b.width + x*ss
			var sum linear
			for j := range ss {
				for i := range ss {
					sum = sum.add(b.color(at+j*b.width+i, ground))
				}
			}
			p.color[y*p.width+x] = sum.scale(share)
			p.depth[y*p.width+x] = b.depth[at+ss/2*b.width+ss/2]
		}
	}
}

// color is a sample's color.
func (b *band) color(at int, ground linear) linear {
	c := ground
	if s := b.surf[at]; s != nothing {
		c = b.paint[s].color.scale(b.tone[at])
	}
	if k := b.line[at]; k != noLine {
		c = c.mix(ink, opacity[k])
	}
	return c
}

// finish shades row y where parts stand close, and stores it.
func (p *canvas) finish(out *image.RGBA, y int, perMM float64) {
	for x := range p.width {
		c := p.color[y*p.width+x]
		if p.depth[y*p.width+x] != farAway {
			c = c.scale(1 - shadeMost*p.enclosed(x, y, float32(perMM)))
		}
		out.SetRGBA(x, y, c.code())
	}
}

// Shading of corners and gaps: light from all around is kept off by what rises
// beside a point. It is judged from pairs of opposite neighbors, which cancels
// the slope of flat surfaces.
const (
	shadeMost = 0.55 // of the light
	shadeGain = 1.6
)

// pairs are half of the neighbors, pixels; the others lie opposite. The rings
// are chosen close enough to see a bolt hole and wide enough to see a cavity.
var pairs = func() []offset {
	var out []offset
	for ring, r := range []float64{2.5, 6, 12, 22} {
		for k := range 8 {
			s, c := math.Sincos((float64(k) + .5*float64(ring%2)) * math.Pi / 8)
			out = append(out, offset{int(math.Round(r * c)), int(math.Round(r * s))})
		}
	}
	return out
}()

// enclosed estimates, 0 to 1, how much of the light from around is kept off.
func (p *canvas) enclosed(x, y int, perMM float32) float32 {
	here := p.depth[y*p.width+x]
	sum := float32(0)
	for _, o := range pairs {
		reach := float32(max(o.x, -o.x) + max(o.y, -o.y))
		rise := p.rise(x+o.x, y+o.y, here, perMM, reach) + p.rise(x-o.x, y-o.y, here, perMM, reach)
		sum += max(0, rise) / (2 * reach)
	}
	return min(1, shadeGain*sum/float32(len(pairs)))
}

// rise is how far, pixels, the surface at (x, y) stands before the depth here,
// within limits: what stands far before it belongs to another part and shades
// less.
func (p *canvas) rise(x, y int, here, perMM, reach float32) float32 {
	d := float32(farAway)
	if x >= 0 && y >= 0 && x < p.width && y < p.height {
		d = p.depth[y*p.width+x]
	}
	if d == farAway {
		return -reach
	}
	r := (here - d) * perMM
	if r > 3*reach {
		return reach * max(0, 1-(r-3*reach)/(6*reach))
	}
	return min(max(r, -reach), reach)
}
