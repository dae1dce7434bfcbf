// Package raster draws closed meshes as shaded pictures with outlines, in the
// manner of a technical illustration.
//
// It guarantees that a picture shows what the mesh is: every point of a
// silhouette is covered without gaps or doubles (corners are snapped to a grid
// and compared in integers), hidden parts are hidden to the sample, and where a
// body is cut open the cut is filled exactly where material is. The same bodies
// and view give the same pixels on any number of cores; between processor
// families a pixel may differ by a rounding.
//
// It does not judge meshes (mesh/check does): one that is not closed is drawn as
// it is, and its cuts are filled by chance. There is no text, no shadow thrown
// across parts, no transparency, no perspective.
package raster

import (
	"image"
	"image/color"
	"runtime"
	"sync"
	"sync/atomic"

	"wheelmold/mesh"
)

// Body is one thing to draw.
type Body struct {
	Mesh   *mesh.Mesh
	Color  color.RGBA // alpha is ignored
	Offset mesh.Vec   // mm; the body is drawn shifted by it
	Whole  bool       // not cut open, as is the custom for shafts, bolts and balls
}

// Plane is a cutting plane: the points p with Normal·p = D. What is cut off lies
// on the side that Normal points to, and on the plane itself.
type Plane struct {
	Normal mesh.Vec
	D      float64 // mm where Normal is of length 1
}

// View is how bodies are looked at. They are drawn to scale, without
// perspective, as large as the picture allows.
type View struct {
	Width, Height int // pixels

	// Azimuth and Elevation, degrees, tell where the viewer stands: from +X
	// toward +Y, and above the plane z = 0.
	Azimuth, Elevation float64

	Background  color.RGBA // alpha is ignored
	Supersample int        // samples per pixel and direction, 1 to 8; 0 means 4
	LineWidth   float64    // of outlines, pixels; inner edges are thinner; 0 draws none
	Hatch       float64    // distance of hatching lines on cuts, pixels; 0 draws none

	// Cut planes open the bodies: what lies on the cut-off side of all of them is
	// taken away. One plane halves, two at right angles take out a quarter.
	Cut []Plane
}

// margin is the part of the picture's smaller side kept free on each side.
const margin = 0.04

// bandRows is how many rows of pixels are drawn in one go: few enough for their
// samples to stay in a core's cache, many enough to make facets' setup cheap.
const bandRows = 12

// Render draws the bodies. Of two surfaces in one place the earlier body's is seen.
func Render(bodies []Body, v View) *image.RGBA {
	v.Width, v.Height = max(v.Width, 0), max(v.Height, 0)
	if v.Supersample == 0 {
		v.Supersample = 4
	}
	v.Supersample = min(max(v.Supersample, 1), 8)
	s := newScene(bodies, v)
	p := newCanvas(v)
	var idle sync.Pool // bands that are done, for their memory
	parallel((v.Height+bandRows-1)/bandRows, func(i int) {
		first := i * bandRows
		last := min(first+bandRows, v.Height)
		b, ok := idle.Get().(*band)
		if ok {
			b.begin(first, last)
		} else {
			b = newBand(s, first, last)
		}
		b.draw()
		b.resolve(p)
		idle.Put(b)
	})
	out := image.NewRGBA(image.Rect(0, 0, v.Width, v.Height))
	parallel(v.Height, func(y int) { p.finish(out, y, s.camera.perMM) })
	return out
}

// parallel runs f for 0..n-1 on all cores; every call writes to places of its own.
func parallel(n int, f func(i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	wg.Wait()
}

// Spread returns the bodies shifted by factor times along[i], mm, in addition to
// their own offsets; bodies without an entry stay. It makes exploded views.
func Spread(bodies []Body, along []mesh.Vec, factor float64) []Body {
	out := append([]Body(nil), bodies...)
	for i := range min(len(out), len(along)) {
		out[i].Offset = out[i].Offset.AddScaled(factor, along[i])
	}
	return out
}
