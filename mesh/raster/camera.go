package raster

import (
	"math"

	"wheelmold/mesh"
)

// camera maps space to samples without perspective.
type camera struct {
	right, up, ahead mesh.Vec // unit, at right angles; ahead points away from the viewer
	perMM            float64  // pixels per mm
	scale            float64  // samples per mm
	x0, y0           float64  // sample at the origin's image
}

// newCamera looks from azimuth and elevation, degrees.
func newCamera(azimuth, elevation float64) camera {
	sa, ca := math.Sincos(azimuth * math.Pi / 180)
	se, ce := math.Sincos(elevation * math.Pi / 180)
	return camera{
		right: mesh.Vec{-sa, ca, 0},
		up:    mesh.Vec{-se * ca, -se * sa, ce},
		ahead: mesh.Vec{-ce * ca, -ce * sa, -se},
	}
}

// project returns the sample coordinates of p, y downward, and its depth, mm.
func (c *camera) project(p mesh.Vec) (x, y, depth float64) {
	return c.x0 + c.scale*c.right.Dot(p), c.y0 - c.scale*c.up.Dot(p), c.ahead.Dot(p)
}

// point is the inverse of project.
func (c *camera) point(x, y, depth float64) mesh.Vec {
	return c.right.Scale((x-c.x0)/c.scale).AddScaled((c.y0-y)/c.scale, c.up).AddScaled(depth, c.ahead)
}

// turn returns a direction in the viewer's frame: right, up, toward the viewer.
func (c *camera) turn(n mesh.Vec) mesh.Vec {
	return mesh.Vec{c.right.Dot(n), c.up.Dot(n), -c.ahead.Dot(n)}
}

// maxCell is the largest coordinate on the grid of snapped corners whose
// products of differences, at most 2·(2·maxCell)², stay within 63 bits.
const maxCell = 1 << 29

// fit centers what shows of the shapes and makes it as large as the margin allows.
func (c *camera) fit(shapes []shape, planes []Plane, v View) {
	shown, all := c.extent(shapes, planes), c.extent(shapes, nil)
	free := 2 * margin * float64(min(v.Width, v.Height))
	size, mid := shown.Hi.Sub(shown.Lo), shown.Lo.Add(shown.Hi).Scale(.5)
	c.perMM = min((float64(v.Width)-free)/size[0], (float64(v.Height)-free)/size[1])
	ss := float64(v.Supersample)
	// Where a cut leaves a crumb of something large, the crumb stays small.
	far := max(all.Hi.Sub(mid).Norm(), all.Lo.Sub(mid).Norm())
	c.perMM = min(c.perMM, maxCell/(2*grid*ss*far))
	if !(c.perMM > 0 && c.perMM < math.MaxFloat32) {
		c.perMM, mid = 1, mesh.Vec{} // nothing, or a point
	}
	c.scale = c.perMM * ss
	c.x0 = float64(v.Width)*ss/2 - c.scale*mid[0]
	c.y0 = float64(v.Height)*ss/2 + c.scale*mid[1]
}

// extent bounds, in the viewer's frame, what the planes leave of the shapes.
func (c *camera) extent(shapes []shape, planes []Plane) mesh.Box {
	box := mesh.EmptyBox()
	include := func(p mesh.Vec) { box = box.Include(c.turn(p)) }
	for i := range shapes {
		for k := range shapes[i].facets {
			at := &shapes[i].facets[k].at
			if shapes[i].cut && len(planes) > 0 {
				remains(at, planes, include)
				continue
			}
			for _, p := range at {
				include(p)
			}
		}
	}
	return box
}

// remains calls each with the corners of what the planes leave of a triangle: a
// point stays if it lies below one of them.
func remains(at *[3]mesh.Vec, planes []Plane, each func(mesh.Vec)) {
	for _, p := range planes {
		for k := range at {
			a, b := at[k], at[(k+1)%3]
			h, g := p.height(a), p.height(b)
			if h < 0 {
				each(a)
			}
			if (h < 0) != (g < 0) {
				each(a.AddScaled(h/(h-g), b.Sub(a)))
			}
		}
	}
}

// finite reports whether p can be drawn: a coordinate beyond maxReach would
// leave the integers in which coverage is decided.
func finite(p mesh.Vec) bool {
	const maxReach = 1e9 // mm
	for _, x := range p {
		if !(math.Abs(x) < maxReach) {
			return false
		}
	}
	return true
}
