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
			p.color[y*p.width+x] = b.sum(at, ss, ground).scale(share)
			p.depth[y*p.width+x] = b.depth[at+ss/2*b.width+ss/2]
		}
	}
}

// sum adds up the colors of ss by ss samples from the one at. Each component is a
// variable of its own, which stays out of memory: this is done for every sample.
func (b *band) sum(at, ss int, ground linear) linear {
	var sum0, sum1, sum2 float32
	for range ss {
		surf, line := b.surf[at:at+ss], b.line[at:at+ss]
		for i, s := range surf {
			c0, c1, c2 := ground[0], ground[1], ground[2]
			if s != nothing {
				c, k := &b.paint[s].color, b.tone[at+i]
				c0, c1, c2 = c[0]*k, c[1]*k, c[2]*k
			}
			if l := line[i]; l != noLine {
				k := opacity[l]
				c0, c1, c2 = c0*(1-k)+ink[0]*k, c1*(1-k)+ink[1]*k, c2*(1-k)+ink[2]*k
			}
			sum0, sum1, sum2 = sum0+c0, sum1+c1, sum2+c2
		}
		at += b.width
	}
	return linear{sum0, sum1, sum2}
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
		if rise := p.rise(x+o.x, y+o.y, here, perMM, reach) + p.rise(x-o.x, y-o.y, here, perMM, reach); rise > 0 {
			sum += rise / (2 * reach)
		}
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
