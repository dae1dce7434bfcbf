package raster

import "math"

// band is a strip of the picture while it is drawn: what is seen at each sample.
// It reaches a few rows past its pixels, as far as lines spread.
type band struct {
	*scene
	first, last int     // rows of pixels
	y0, y1      int     // rows of samples
	width       int     // samples in a row
	fold        float64 // least jump of depth, mm, by which a surface hides itself

	depth []float32
	surf  []int32 // index into paint; nothing: background
	tone  []float32
	line  []lineKind
	odd   []bool // cut bodies: surface was met an odd number of times past the cut

	height []ramp // above each cutting plane, of the run being drawn
}

// nothing is the surface of the background.
const nothing = -1

func newBand(s *scene, first, last int) *band {
	b := &band{
		scene: s, width: s.view.Width * s.view.Supersample,
		fold: foldLeast / s.camera.perMM, height: make([]ramp, len(s.slits)),
	}
	b.begin(first, last)
	return b
}

// begin makes it the empty band of other rows, in the memory that it has.
func (b *band) begin(first, last int) {
	ss := b.view.Supersample
	b.first, b.last = first, last
	b.y0, b.y1 = max(0, first*ss-b.stamps.reach), min(b.view.Height*ss, last*ss+b.stamps.reach)
	n := (b.y1 - b.y0) * b.width
	if n > cap(b.surf) {
		b.depth, b.surf, b.tone, b.line = make([]float32, n), make([]int32, n), make([]float32, n), make([]lineKind, n)
		if len(b.slits) > 0 {
			b.odd = make([]bool, n)
		}
	}
	b.depth, b.surf, b.tone, b.line = b.depth[:n], b.surf[:n], b.tone[:n], b.line[:n]
	for i := range b.surf {
		b.depth[i], b.surf[i] = farAway, nothing
	}
	clear(b.line)
	if len(b.slits) > 0 {
		b.odd = b.odd[:n]
		clear(b.odd)
	}
}

// draw finds what is seen.
func (b *band) draw() {
	for i := range b.shapes {
		sh := &b.shapes[i]
		for k, r := range sh.rows {
			if r.last >= b.y0 && r.first < b.y1 {
				b.drawFacet(&sh.facets[k])
			}
		}
		if sh.cut {
			b.fillCuts(sh)
		}
	}
	b.drawLines()
}

// drawFacet draws what is seen of a facet. One that faces away is never seen, but
// tells inside from outside past a cut.
func (b *band) drawFacet(f *facet) {
	cut := len(f.height) > 0
	if f.away && !cut {
		return
	}
	f.rows(b.y0, b.y1, b.width, func(r *run) {
		at := (r.y-b.y0)*b.width + r.x0
		depth, tone := r.ramp(&f.depth, f.area), r.ramp(&f.tone, f.area)
		for i := range f.height {
			b.height[i] = r.ramp(&f.height[i], f.area)
		}
		for n := range r.x1 - r.x0 {
			if cut && b.passCut(n, at+n) || f.away {
				continue
			}
			if t := float32(depth.at(n)); t < b.depth[at+n] {
				b.depth[at+n], b.surf[at+n], b.tone[at+n] = t, f.surf, float32(tone.at(n))
			}
		}
	})
}

// onPlane is how close to a cutting plane counts as on it, mm: above the
// rounding of coordinates up to a few meters, far below anything visible.
const onPlane = 1e-9

// passCut notes that a cut body's surface is met at sample n of a run, which is
// the band's sample at. It reports whether the surface is cut off there.
func (b *band) passCut(n, at int) bool {
	off, behind := true, false
	for i := range b.height {
		if b.height[i].at(n) < -onPlane {
			off = false
			behind = behind || b.slits[i].seen()
		}
	}
	if behind {
		b.odd[at] = !b.odd[at]
	}
	return off
}

// fillCuts draws where the body's material is cut: a ray leaves the part cut off
// inside the body if it meets the body's surface an odd number of times after.
func (b *band) fillCuts(sh *shape) {
	for y := b.y0; y < b.y1; y++ {
		row := (y - b.y0) * b.width
		for x := range b.width {
			at := row + x
			if !b.odd[at] {
				continue
			}
			b.odd[at] = false
			t, plane := b.exit(float64(x), float64(y))
			if plane < 0 || float32(t) >= b.depth[at] {
				continue
			}
			b.depth[at], b.surf[at] = float32(t), sh.caps+int32(plane)
			b.tone[at] = b.capTone(x, y, t, plane, sh)
		}
	}
}

// exit returns the depth at which the ray through a sample leaves the part that
// is cut off, and through which plane; -1 where no cut is seen. Whether the ray
// passes that part at all need not be asked: if not, the surface through which it
// came into the body stands, and hides the cut.
func (b *band) exit(x, y float64) (depth float64, plane int) {
	depth, plane = math.Inf(1), -1
	for i := range b.slits {
		if s := &b.slits[i]; s.seen() {
			if t := -(s.c + s.cx*x + s.cy*y) / s.t; t < depth {
				depth, plane = t, i
			}
		}
	}
	return depth, plane
}
