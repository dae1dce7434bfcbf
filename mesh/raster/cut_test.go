package raster

import (
	"math"
	"testing"

	"wheelmold/mesh"
)

// caps is the area, as seen, of the cuts of one body.
func (b *band) capsOf(body int) float64 {
	first := b.shapes[body].caps
	return b.area(func(s int32) bool { return s >= first && s < first+int32(len(b.slits)) })
}

// A ball cut at the distance h from its middle shows a disc of π(r² - h²), and
// tilted by an angle the disc's cosine; a hollow ball shows a ring.
func TestCutBall(t *testing.T) {
	const r, hole = 20.0, 12.0
	solid, shell := ball(r, 100), hollow(ball(r, 100), ball(hole, 100))
	for _, h := range []float64{0, 7, -7} {
		for _, el := range []float64{0, 40} {
			v := View{Width: 500, Height: 500, Supersample: 2, Elevation: el, Cut: []Plane{{Normal: mesh.Vec{2, 0, 0}, D: 2 * h}}}
			cos := math.Cos(el * math.Pi / 180)
			near(t, "disc", seen([]Body{{Mesh: solid}}, v).capsOf(0), math.Pi*(r*r-h*h)*cos, .005)
			near(t, "ring", seen([]Body{{Mesh: shell}}, v).capsOf(0), math.Pi*(r*r-hole*hole)*cos, .005)
		}
	}
}

// A plane that cuts off the far side leaves the near side as it is.
func TestCutFromBehind(t *testing.T) {
	v := View{Width: 200, Height: 200, Supersample: 2, Cut: []Plane{{Normal: mesh.Vec{-1, 0, 0}, D: 3}}}
	b := seen([]Body{{Mesh: ball(10, 100)}}, v)
	if a := b.capsOf(0); a != 0 {
		t.Errorf("%g mm² of a cut that faces away are seen", a)
	}
	near(t, "front of the ball", b.area(anything), math.Pi*100, .005)
	// Further forward the cut bounds the silhouette.
	v.Cut[0].D = -6
	near(t, "cap of the ball", seen([]Body{{Mesh: ball(10, 100)}}, v).area(anything), math.Pi*64, .005)
}

// A slice taken out of a ball leaves its front as it is, and the rear cut shows
// past it. Planes that leave no slice between them take nothing away.
func TestSlice(t *testing.T) {
	slice := func(from, to, el float64) *band {
		v := View{Width: 300, Height: 300, Supersample: 2, Elevation: el,
			Cut: []Plane{{Normal: mesh.Vec{1, 0, 0}, D: from}, {Normal: mesh.Vec{-1, 0, 0}, D: -to}}}
		return seen([]Body{{Mesh: ball(10, 100)}}, v)
	}
	// The rear cut's disc has r² = 100 - 2², the front's 100 - 6².
	near(t, "rear cut", slice(2, 6, 0).capsOf(0), math.Pi*(96-64), .005)
	if a := slice(6, 2, 60).capsOf(0); a != 0 {
		t.Errorf("%g mm² of cuts where nothing is cut", a)
	}
	// From above both cuts are edges of what stays.
	near(t, "from above", slice(2, 6, 90).area(anything), math.Pi*100-segment(10, 2)+segment(10, 6), .006)
}

// segment is the area of a disc of radius r beyond a chord at distance d.
func segment(r, d float64) float64 { return r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d) }

// Two planes take a quarter out of a block: both cuts are seen in full, and the
// silhouette is that of the whole block as long as no corner of it is gone.
func TestQuarter(t *testing.T) {
	v := View{Width: 600, Height: 600, Supersample: 2, Azimuth: 30, Elevation: 20,
		Cut: []Plane{{Normal: mesh.Vec{1, 0, 0}}, {Normal: mesh.Vec{0, 1, 0}}}}
	block := Body{Mesh: box(mesh.Vec{-10, -10, -10}, mesh.Vec{10, 10, 10})}
	b := seen([]Body{block}, v)
	across := math.Cos(20 * math.Pi / 180)
	for k, want := range []float64{200 * across * math.Cos(30*math.Pi/180), 200 * across * math.Sin(30*math.Pi/180)} {
		s := b.shapes[0].caps + int32(k)
		near(t, "cut", b.area(func(i int32) bool { return i == s }), want, .005)
	}
	// From the opposite corner nothing is missing.
	v.Azimuth += 180
	if a := seen([]Body{block}, v).capsOf(0); a != 0 {
		t.Errorf("%g mm² of cuts are seen through the block", a)
	}
}

// Faces on the cutting plane, as the parting faces of a mold are: the body behind
// it is cut, the one before it is gone, to the last sample.
func TestFacesOnThePlane(t *testing.T) {
	behind := Body{Mesh: box(mesh.Vec{-10, 0, -5}, mesh.Vec{10, 8, 5})}
	before := Body{Mesh: box(mesh.Vec{-10, -8, -5}, mesh.Vec{10, 0, 5})}
	for _, az := range []float64{-90, -60, -117} {
		v := View{Width: 400, Height: 300, Supersample: 2, Azimuth: az, Elevation: 25, Cut: []Plane{{Normal: mesh.Vec{0, -1, 0}}}}
		b := seen([]Body{behind, before}, v)
		tilt := math.Abs(b.camera.ahead[1])
		near(t, "cut face", b.capsOf(0), 200*tilt, .005)
		if a := b.area(func(s int32) bool { return s != nothing && b.paint[s].body == 1 }); a != 0 {
			t.Errorf("from %g°: %g mm² of the part that is cut off are seen", az, a)
		}
	}
}

// Whole bodies are not cut, and hide cuts behind them.
func TestWhole(t *testing.T) {
	v := View{Width: 400, Height: 400, Supersample: 2, Cut: []Plane{{Normal: mesh.Vec{1, 0, 0}}}}
	block := Body{Mesh: hollow(box(mesh.Vec{-9, -9, -9}, mesh.Vec{9, 9, 9}), ball(4, 100))}
	b := seen([]Body{block, {Mesh: ball(4, 100), Whole: true}}, v)
	near(t, "whole ball", b.area(func(s int32) bool { return s != nothing && b.paint[s].body == 1 }), math.Pi*16, .005)
	near(t, "cut about it", b.capsOf(0), 18*18-math.Pi*16, .005)
}

// The picture fits what the cut leaves.
func TestFitAfterCut(t *testing.T) {
	v := View{Width: 400, Height: 400, Supersample: 1, Cut: []Plane{{Normal: mesh.Vec{0, 0, 1}, D: 1}}}
	b := seen([]Body{{Mesh: box(mesh.Vec{0, 0, 0}, mesh.Vec{2, 2, 100})}}, v)
	near(t, "scale", b.camera.perMM, 400*(1-2*margin)/2, 1e-9)
}
