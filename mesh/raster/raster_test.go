package raster

import (
	"bytes"
	"image/color"
	"math"
	"math/rand"
	"runtime"
	"testing"

	"wheelmold/mesh"
)

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %.6g, want %.6g within %g %%", what, got, want, 100*share)
	}
}

// The picture of a ball is a disc of its radius from everywhere; of a block the
// sum of its sides' areas, each times the cosine of its tilt.
func TestSilhouettes(t *testing.T) {
	const r = 17.0
	size := mesh.Vec{30, 20, 9}
	round, block := []Body{{Mesh: ball(r, 100)}}, []Body{{Mesh: box(mesh.Vec{}, size)}}
	for _, d := range [][2]float64{{0, 0}, {-58, 24}, {123, -71}, {45, 90}, {7, -90}} {
		v := View{Width: 500, Height: 400, Supersample: 2, Azimuth: d[0], Elevation: d[1]}
		near(t, "ball", seen(round, v).area(anything), math.Pi*r*r, .005)
		b := seen(block, v)
		n := b.camera.ahead
		want := math.Abs(n[0])*size[1]*size[2] + math.Abs(n[1])*size[0]*size[2] + math.Abs(n[2])*size[0]*size[1]
		near(t, "block", b.area(anything), want, .005)
	}
}

// The same through the finished picture: pixels that are not background.
func TestSilhouetteInPixels(t *testing.T) {
	v := View{Width: 600, Height: 600, Supersample: 1, Background: paper, Elevation: 30}
	m := Render([]Body{{Mesh: ball(5, 100), Color: red}}, v)
	n := 0
	for i := 0; i < len(m.Pix); i += 4 {
		if m.Pix[i+1] != 255 {
			n++
		}
	}
	side := 600 * (1 - 2*margin) // the ball fills the frame up to the margin
	near(t, "pixels", float64(n), math.Pi/4*side*side, .005)
}

// Whatever the direction, every sample of a closed mesh is covered as often by
// facets that face the viewer as by others. Corners sit on samples and edges run
// through them here, which is where doubles and gaps come from.
func TestClosedMeshesCoverWithoutGaps(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	bodies := []Body{
		{Mesh: ball(8, 24)},
		{Mesh: box(mesh.Vec{-8, -8, -8}, mesh.Vec{8, 8, 8})},
		{Mesh: hollow(tube(8, 8, 500), box(mesh.Vec{-1, -1, 1}, mesh.Vec{1, 1, 7}))},
	}
	for range 40 {
		v := View{Width: 100, Height: 100, Supersample: 1, Azimuth: 360 * r.Float64(), Elevation: 180*r.Float64() - 90}
		if r.Intn(3) == 0 {
			v.Azimuth, v.Elevation = float64(45*r.Intn(8)), float64(45*(r.Intn(5)-2))
		}
		for i := range bodies {
			s := newScene(bodies[i:i+1], v)
			sum := make([]int, v.Width*v.Height)
			covered := 0
			for k := range s.shapes[0].facets {
				f := &s.shapes[0].facets[k]
				f.rows(0, v.Height, v.Width, func(r *run) {
					for x := r.x0; x < r.x1; x++ {
						covered++
						if f.away {
							sum[r.y*v.Width+x]--
						} else {
							sum[r.y*v.Width+x]++
						}
					}
				})
			}
			for at, n := range sum {
				if n != 0 {
					t.Fatalf("body %d from %g°, %g°: sample %d is entered %d times more than left", i, v.Azimuth, v.Elevation, at, n)
				}
			}
			if covered == 0 {
				t.Fatal("nothing covered")
			}
		}
	}
}

// Two blocks one before the other, in both orders, from both sides.
func TestDepthOrder(t *testing.T) {
	a := Body{Mesh: box(mesh.Vec{0, -5, -5}, mesh.Vec{1, 5, 5}), Color: red}
	b := Body{Mesh: box(mesh.Vec{3, -5, -5}, mesh.Vec{4, 5, 5}), Color: blue}
	for _, bodies := range [][]Body{{a, b}, {b, a}} {
		for az, want := range map[float64]color.RGBA{0: blue, 180: red} {
			m := Render(bodies, View{Width: 40, Height: 40, Azimuth: az, Background: paper})
			if c := m.RGBAAt(20, 20); c.R > 0 != (want.R > 0) || c.B > 0 != (want.B > 0) {
				t.Errorf("from %g°: %v, want a shade of %v", az, c, want)
			}
		}
	}
}

// A ball of radius r about a point that lies d before a wall hides π(r² - d²) of
// it, and shows as much behind a wall that it pierces.
func TestPiercedSurfaces(t *testing.T) {
	const r, d = 10.0, 6.0
	wall := Body{Mesh: box(mesh.Vec{d, -20, -20}, mesh.Vec{d + 1, 20, 20})}
	b := seen([]Body{wall, {Mesh: ball(r, 100)}}, View{Width: 400, Height: 400, Supersample: 2})
	got := b.area(func(s int32) bool { return s != nothing && b.paint[s].body == 1 })
	near(t, "ball before the wall", got, math.Pi*(r*r-(d+1)*(d+1)), .005)
}

func TestSameBytes(t *testing.T) {
	bodies := []Body{{Mesh: ball(8, 60), Color: red}, {Mesh: tube(4, 15, 50), Color: blue, Offset: mesh.Vec{3, 2, 1}}}
	v := View{Width: 200, Height: 150, Azimuth: 20, Elevation: 30, LineWidth: 1.5, Hatch: 6, Background: paper,
		Cut: []Plane{{Normal: mesh.Vec{1, 1, .3}, D: 1}}}
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	want := Render(bodies, v).Pix
	for _, n := range []int{1, 2, 7} {
		runtime.GOMAXPROCS(n)
		if !bytes.Equal(Render(bodies, v).Pix, want) {
			t.Errorf("another picture on %d cores", n)
		}
	}
}

// What the bodies cover touches the margin on two sides and stays within it.
func TestFit(t *testing.T) {
	m := box(mesh.Vec{100, 100, 100}, mesh.Vec{140, 110, 110})
	for _, v := range []View{{Width: 300, Height: 200}, {Width: 200, Height: 300, Azimuth: 90}, {Width: 200, Height: 100, Elevation: 90, Azimuth: 17}} {
		v.Supersample = 1
		b := seen([]Body{{Mesh: m}}, v)
		x0, x1, y0, y1 := v.Width, -1, v.Height, -1
		for i, s := range b.surf {
			if s != nothing {
				x, y := i%v.Width, i/v.Width
				x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
			}
		}
		free := margin * float64(min(v.Width, v.Height))
		left, right, top, bottom := float64(x0), float64(v.Width-1-x1), float64(y0), float64(v.Height-1-y1)
		least := min(left, right, top, bottom)
		if math.Abs(least-free) > 1.5 || math.Abs(left-right) > 1.5 || math.Abs(top-bottom) > 1.5 {
			t.Errorf("%+v: free %g %g %g %g, want %g and centered", v, left, right, top, bottom, free)
		}
	}
}

// Nothing, a point, and coordinates that no picture can hold draw something or
// nothing, but end.
func TestOddInput(t *testing.T) {
	nan := box(mesh.Vec{}, mesh.Vec{1, 1, 1})
	nan.V[7] = mesh.Vec{math.NaN(), math.Inf(1), 0}
	far := box(mesh.Vec{-1e300, 0, 0}, mesh.Vec{1, 1, 1})
	point := box(mesh.Vec{}, mesh.Vec{})
	cuts := []Plane{{}, {Normal: mesh.Vec{math.NaN(), 0, 0}}, {Normal: mesh.Vec{1, 0, 0}, D: 1 - 1e-9}}
	for _, bodies := range [][]Body{nil, {{Mesh: &mesh.Mesh{}}}, {{Mesh: nan}}, {{Mesh: far}}, {{Mesh: point}}, {{Mesh: ball(1e8, 20)}, {Mesh: ball(1, 20)}}} {
		for _, v := range []View{{}, {Width: -5, Height: 3}, {Width: 9, Height: 7, Supersample: 99, LineWidth: 2, Hatch: 3, Azimuth: math.Inf(1)}, {Width: 30, Height: 30, LineWidth: 1, Cut: cuts}} {
			m := Render(bodies, v)
			if m.Rect.Dx() != max(v.Width, 0) && m.Rect.Dx() != 0 {
				t.Errorf("width %d of %d", m.Rect.Dx(), v.Width)
			}
		}
	}
}

func TestSpread(t *testing.T) {
	in := []Body{{Offset: mesh.Vec{1, 0, 0}}, {}, {}}
	out := Spread(in, []mesh.Vec{{0, 0, 2}, {0, -1, 0}}, 3)
	for i, want := range []mesh.Vec{{1, 0, 6}, {0, -3, 0}, {}} {
		if out[i].Offset != want {
			t.Errorf("body %d at %v, want %v", i, out[i].Offset, want)
		}
	}
	if in[0].Offset != (mesh.Vec{1, 0, 0}) {
		t.Error("the bodies passed in were moved")
	}
}
