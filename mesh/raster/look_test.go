package raster

import (
	"image/color"
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh"
)

// Normals at the corners of a ball's facets point away from its middle.
func TestNormalsOfABall(t *testing.T) {
	m := ball(3, 64)
	s := findSurfaces(m)
	if s.count != 1 {
		t.Fatalf("%d surfaces, want 1", s.count)
	}
	worst := 1.0
	for i, n := range s.normals() {
		for k := range n {
			worst = min(worst, n[k].Unit().Dot(m.V[m.T[i][k]].Unit()))
		}
	}
	// Diagonals lean the mean toward one side; less than half a facet's 5.6°.
	if a := math.Acos(worst) * 180 / math.Pi; a > 1.5 {
		t.Errorf("a normal is off by %.2f°", a)
	}
}

// Edges of 90° part surfaces and keep their normals; labels do the same on a
// plane; a labeled fillet of few chords stays one surface.
func TestSurfaces(t *testing.T) {
	b := box(mesh.Vec{}, mesh.Vec{1, 2, 3})
	s := findSurfaces(b)
	if s.count != 6 {
		t.Errorf("block: %d surfaces, want 6", s.count)
	}
	for i, n := range s.normals() {
		for k := range n {
			if n[k].Unit().Dist(s.unit[i]) > 1e-12 {
				t.Errorf("facet %d of the block: normal %v at a corner, %v on the face", i, n[k].Unit(), s.unit[i])
			}
		}
	}
	if n := findSurfaces(tube(1, 1, 40)).count; n != 3 {
		t.Errorf("tube: %d surfaces, want 3", n)
	}
	coarse := tube(1, 1, 8) // turns by 45° from side to side
	if n := findSurfaces(coarse).count; n != 10 {
		t.Errorf("prism: %d surfaces, want 10", n)
	}
	for range 8 {
		coarse.Label = append(coarse.Label, 0, 1, 2, 2)
	}
	if n := findSurfaces(coarse).count; n != 3 {
		t.Errorf("labeled prism: %d surfaces, want 3", n)
	}
	b.Label = []int32{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
	if n := findSurfaces(b).count; n != 12 {
		t.Errorf("block with a label per facet: %d surfaces, want 12", n)
	}
}

// The order of facets does not matter to which of them belong together.
func TestSurfacesOfShuffledFacets(t *testing.T) {
	m := tube(1, 1, 200)
	r := rand.New(rand.NewSource(2))
	r.Shuffle(len(m.T), func(i, j int) { m.T[i], m.T[j] = m.T[j], m.T[i] })
	s := findSurfaces(m)
	number := map[float64]int32{} // by height of the normal: ends and side
	for i, n := range s.unit {
		z := math.Round(n[2])
		if k, met := number[z]; met && k != s.of[i] {
			t.Fatalf("facet %d has surface %d, others of its kind %d", i, s.of[i], k)
		}
		number[z] = s.of[i]
	}
	if s.count != 3 || number[-1] == number[0] || number[0] == number[1] {
		t.Errorf("%d surfaces: %v", s.count, number)
	}
}

// inked counts samples under lines of a kind.
func (b *band) inked(kind lineKind) (n int) {
	for _, k := range b.line {
		if k == kind {
			n++
		}
	}
	return n
}

// Lines follow edges that are seen, at their width: a block seen askew has an
// outline of six edges and three inner ones, and no other.
func TestLinesOfABlock(t *testing.T) {
	const a = 10.0
	v := View{Width: 500, Height: 500, Supersample: 4, Azimuth: 30, Elevation: 35, LineWidth: 2}
	b := seen([]Body{{Mesh: box(mesh.Vec{}, mesh.Vec{a, a, a})}}, v)
	// Lengths of the three edge directions as seen, mm.
	sum := 0.0
	for k := range 3 {
		sum += a * math.Sqrt(1-b.camera.ahead[k]*b.camera.ahead[k])
	}
	ss, perMM := 4.0, b.camera.perMM
	near(t, "outline", float64(b.inked(outline)), 2*sum*perMM*ss*2*ss, .03)
	near(t, "inner edges", float64(b.inked(inner)), sum*perMM*ss*2*lineShare[inner]*ss, .05)
}

// A finely cut round body shows no edges but those of its ends; a body that
// another hides shows none at all.
func TestNoLinesWhereNothingTurns(t *testing.T) {
	v := View{Width: 300, Height: 300, Supersample: 3, Elevation: 20, LineWidth: 1}
	if n := seen([]Body{{Mesh: ball(5, 90)}}, v).inked(inner); n > 0 {
		t.Errorf("a ball has %d samples of inner lines", n)
	}
	round := seen([]Body{{Mesh: tube(5, 5, 120)}}, v)
	// Half the rim of the near end, foreshortened: half an ellipse's length (Ramanujan).
	p, q := 5.0, 5*math.Sin(20*math.Pi/180)
	h := (p - q) * (p - q) / ((p + q) * (p + q))
	length := math.Pi * (p + q) * (1 + 3*h/(10+math.Sqrt(4-3*h))) / 2
	near(t, "rim", float64(round.inked(inner)), length*round.camera.perMM*3*lineShare[inner]*3, .12)

	wall := Body{Mesh: box(mesh.Vec{8, -9, -9}, mesh.Vec{9, 9, 9})}
	v.Elevation = 0
	if n := seen([]Body{wall, {Mesh: tube(5, 5, 6)}}, v).inked(inner); n > 0 {
		t.Errorf("%d samples of lines shine through a wall", n)
	}
}

// One surface that hides part of itself is outlined there: a ring seen askew.
func TestFolds(t *testing.T) {
	const R, r, n = 10.0, 3.0, 96
	m := &mesh.Mesh{}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		for j := range n {
			u, w := math.Sincos(2 * math.Pi * float64(j) / n)
			m.V = append(m.V, mesh.Vec{(R + r*w) * c, (R + r*w) * s, r * u})
		}
	}
	for i := range n {
		for j := range n {
			at := func(i, j int) int32 { return int32(i%n*n + j%n) }
			m.T = append(m.T, [3]int32{at(i, j), at(i+1, j), at(i+1, j+1)}, [3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
	}
	if m.Volume() < 0 {
		t.Fatal("ring inside out")
	}
	v := View{Width: 400, Height: 300, Supersample: 3, Elevation: 17, LineWidth: 1}
	if b := seen([]Body{{Mesh: m}}, v); b.inked(inner) < 200 {
		t.Errorf("%d samples where the ring hides itself", b.inked(inner))
	}
	v.Elevation = 90
	if b := seen([]Body{{Mesh: m}}, v); b.inked(inner) > 0 {
		t.Errorf("%d samples of folds on a ring seen from above", b.inked(inner))
	}
}

// Flat faces are not shaded however they lean; the foot of a wall is.
func TestShadingOfCorners(t *testing.T) {
	canvasOf := func(bodies []Body, v View) (*canvas, float32) {
		b := seen(bodies, v)
		p := newCanvas(b.view)
		b.resolve(p)
		return p, float32(b.camera.perMM)
	}
	v := View{Width: 200, Height: 200, Supersample: 1, Azimuth: 35, Elevation: 30}
	p, k := canvasOf([]Body{{Mesh: box(mesh.Vec{}, mesh.Vec{9, 9, 9})}}, v)
	for y := range 200 {
		for x := range 200 {
			if p.depth[y*200+x] != farAway && p.enclosed(x, y, k) > .02 {
				t.Fatalf("a convex block is shaded by %g at (%d, %d)", p.enclosed(x, y, k), x, y)
			}
		}
	}
	step := []Body{{Mesh: box(mesh.Vec{}, mesh.Vec{9, 9, 1})}, {Mesh: box(mesh.Vec{0, 0, 1}, mesh.Vec{4, 9, 5})}}
	p, k = canvasOf(step, View{Width: 200, Height: 200, Supersample: 1, Elevation: 45})
	most := float32(0)
	for y := range 200 {
		most = max(most, p.enclosed(100, y, k))
	}
	if most < .2 {
		t.Errorf("the foot of a wall is shaded by %g only", most)
	}
}

// Every 8-bit value survives the way to light and back (IEC 61966-2-1).
func TestColorRoundTrip(t *testing.T) {
	for v := range 256 {
		c := color.RGBA{uint8(v), uint8(255 - v), uint8(v / 2), 255}
		if got := toLinear(c).code(); got != c {
			t.Errorf("%v became %v", c, got)
		}
	}
	// Half the light of white is 188 of 255, by the standard's formula.
	if c := (linear{.5, .5, .5}).code(); c.R != 188 {
		t.Errorf("half of white: %d, want 188", c.R)
	}
}

// Hatching covers its share of a cut: a line's width of every step.
func TestHatch(t *testing.T) {
	v := View{Width: 500, Height: 500, Supersample: 4, Hatch: 10, Cut: []Plane{{Normal: mesh.Vec{1, 0, 0}}}}
	b := seen([]Body{{Mesh: box(mesh.Vec{-1, -5, -5}, mesh.Vec{1, 5, 5})}}, v)
	n, lines := 0, 0
	for i, s := range b.surf {
		if s != nothing {
			n++
			if b.tone[i] == hatchTone {
				lines++
			}
		}
	}
	near(t, "share of hatching", float64(lines)/float64(n), hatchLine/10, .05)
}
