package tess

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// bigOrient is the determinant in rational arithmetic.
func bigOrient(a, b, c point2) int {
	r := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	sub := func(x, y float64) *big.Rat { return new(big.Rat).Sub(r(x), r(y)) }
	l := new(big.Rat).Mul(sub(a[0], c[0]), sub(b[1], c[1]))
	m := new(big.Rat).Mul(sub(a[1], c[1]), sub(b[0], c[0]))
	return l.Cmp(m)
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// Points one rounding step apart on a line through (12, 12) and (24, 24), the
// classic trap for floating-point orientation, and random near-collinear ones.
func TestOrientIsExact(t *testing.T) {
	ulp := math.Nextafter(.5, 1) - .5
	for i := 0; i < 64; i++ {
		for j := 0; j < 64; j++ {
			a := point2{.5 + float64(i)*ulp, .5 + float64(j)*ulp}
			b, c := point2{12, 12}, point2{24, 24}
			if got, want := sign(orient(a, b, c)), bigOrient(a, b, c); got != want {
				t.Fatalf("orient(%v, %v, %v) has sign %d, want %d", a, b, c, got, want)
			}
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for i := 0; i < 20000; i++ {
		a, b := point2{r.Float64() * 100, r.Float64()}, point2{-r.Float64(), r.Float64() * 100}
		k := r.Float64() * 3
		c := point2{a[0] + k*(b[0]-a[0]), a[1] + k*(b[1]-a[1])}
		if got, want := sign(orient(a, b, c)), bigOrient(a, b, c); got != want {
			t.Fatalf("orient(%v, %v, %v) has sign %d, want %d", a, b, c, got, want)
		}
	}
}

// loop returns the closed chain of segments start..end-1.
func loop(start, end int) (seg [][2]int32) {
	for i := start; i < end; i++ {
		j := i + 1
		if j == end {
			j = start
		}
		seg = append(seg, [2]int32{int32(i), int32(j)})
	}
	return seg
}

func shoelace(p []point2, seg [][2]int32) (twice float64) {
	for _, s := range seg {
		a, b := p[s[0]], p[s[1]]
		twice += a[0]*b[1] - a[1]*b[0]
	}
	return twice
}

// checkTriangulation holds the laws of a triangulation of a region: every
// triangle positive, areas add up to the outline's, every segment borders one
// triangle, every other edge two, and Euler's count.
func checkTriangulation(t *testing.T, p []point2, seg [][2]int32, tri [][3]int32) {
	t.Helper()
	sum := 0.0
	edges := map[[2]int32]int{}
	for _, v := range tri {
		a, b, c := p[v[0]], p[v[1]], p[v[2]]
		if bigOrient(a, b, c) <= 0 {
			t.Fatalf("triangle %v %v %v is not positive", a, b, c)
		}
		sum += orient(a, b, c)
		for k := range v {
			edges[[2]int32{v[k], v[(k+1)%3]}]++
		}
	}
	if want := shoelace(p, seg); math.Abs(sum-want) > 1e-9*math.Abs(want) {
		t.Fatalf("area %g, outline has %g", sum/2, want/2)
	}
	isSeg := map[[2]int32]bool{}
	for _, s := range seg {
		isSeg[s] = true
		if edges[s] != 1 {
			t.Fatalf("segment %v borders %d triangles", s, edges[s])
		}
	}
	for e, n := range edges {
		if n != 1 {
			t.Fatalf("edge %v used %d times", e, n)
		}
		if edges[[2]int32{e[1], e[0]}] == 0 && !isSeg[e] {
			t.Fatalf("edge %v is open", e)
		}
	}
}

// checkDelaunay: no edge off the segments has a neighbor in its circle.
func checkDelaunay(t *testing.T, p []point2, seg [][2]int32, tri [][3]int32) {
	t.Helper()
	third := map[[2]int32]int32{}
	for _, v := range tri {
		for k := range v {
			third[[2]int32{v[k], v[(k+1)%3]}] = v[(k+2)%3]
		}
	}
	for _, s := range seg {
		delete(third, s)
	}
	for e, c := range third {
		if d, ok := third[[2]int32{e[1], e[0]}]; ok && inCircle(p[e[0]], p[e[1]], p[c], p[d]) {
			t.Fatalf("edge %v is not Delaunay", e)
		}
	}
}

func triangulateAll(t *testing.T, p []point2, seg [][2]int32) [][3]int32 {
	t.Helper()
	var d triangulator
	tri, err := d.triangulate(nil, p, seg)
	if err != nil {
		t.Fatal(err)
	}
	checkTriangulation(t, p, seg, tri)
	checkDelaunay(t, p, seg, tri)
	return tri
}

// A star-shaped outline with round holes; n + 2h - 2 triangles without free
// points (Euler).
func TestTriangulatePolygonWithHoles(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for trial := 0; trial < 60; trial++ {
		var p []point2
		n := 3 + r.IntN(200)
		for i := 0; i < n; i++ {
			a, q := 2*math.Pi*float64(i)/float64(n), 50+50*r.Float64()
			p = append(p, point2{q * math.Cos(a), q * math.Sin(a)})
		}
		seg := loop(0, n)
		holes := 0
		if n > 20 {
			for holes = 0; holes < 5; holes++ {
				a, start := 2*math.Pi*float64(holes)/5, len(p)
				m := 3 + r.IntN(40)
				for i := 0; i < m; i++ {
					b := -2 * math.Pi * float64(i) / float64(m)
					p = append(p, point2{25*math.Cos(a) + 9*math.Cos(b), 25*math.Sin(a) + 9*math.Sin(b)})
				}
				seg = append(seg, loop(start, len(p))...)
			}
		}
		tri := triangulateAll(t, p, seg)
		if want := len(p) + 2*holes - 2; len(tri) != want {
			t.Fatalf("%d triangles for %d points and %d holes, want %d", len(tri), len(p), holes, want)
		}
	}
}

// Free points inside, on a coarse grid so that many are collinear, cocircular,
// or lie on edges of the growing triangulation.
func TestTriangulateGridPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for trial := 0; trial < 60; trial++ {
		p := []point2{{0, 0}, {16, 0}, {16, 16}, {0, 16}}
		seg := loop(0, 4)
		used := map[point2]bool{}
		for i := 0; i < 120; i++ {
			q := point2{float64(1 + r.IntN(15)), float64(1 + r.IntN(15))}
			if !used[q] {
				used[q] = true
				p = append(p, q)
			}
		}
		tri := triangulateAll(t, p, seg)
		if want := 2*len(p) - 4 - 2; len(tri) != want { // 2·free + 2
			t.Fatalf("%d triangles, want %d", len(tri), want)
		}
	}
}

// Comb: long segments through clouds of points, so that each must be recovered
// through many crossed edges, and outlines with collinear runs.
func TestTriangulateComb(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for trial := 0; trial < 40; trial++ {
		var p []point2
		for i := 0; i < 20; i++ { // teeth of width 1e-3, 100 long
			x := float64(i)
			p = append(p, point2{x, 0}, point2{x + 1e-3, 0}, point2{x + 1e-3, 100 + r.Float64()}, point2{x + 1, 100 + r.Float64()})
		}
		p = append(p, point2{20, 0}, point2{21, -50}, point2{-1, -50})
		// run backwards: the region lies right of the list
		for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
			p[i], p[j] = p[j], p[i]
		}
		if shoelace(p, loop(0, len(p))) < 0 {
			for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
				p[i], p[j] = p[j], p[i]
			}
		}
		triangulateAll(t, p, loop(0, len(p)))
	}
}

// Nearly degenerate: a polygon whose corners lie within rounding of a line or a circle.
func TestTriangulateNearlyDegenerate(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for trial := 0; trial < 200; trial++ {
		n := 4 + r.IntN(30)
		var p []point2
		for i := 0; i <= n; i++ { // a lens as thin as rounding allows
			x := float64(i) / float64(n)
			p = append(p, point2{x*3 + .1, x*7 + .2 - 1e-13*x*(1-x)})
		}
		for i := n - 1; i > 0; i-- {
			x := (float64(i) + .3) / float64(n)
			p = append(p, point2{x*3 + .1, x*7 + .2 + 1e-13*x*(1-x)})
		}
		seg := loop(0, len(p))
		var d triangulator
		tri, err := d.triangulate(nil, p, seg)
		if err != nil {
			continue // rounding made the outline touch itself: said, not drawn
		}
		for _, v := range tri {
			if bigOrient(p[v[0]], p[v[1]], p[v[2]]) <= 0 {
				t.Fatal("triangle not positive")
			}
		}
		if len(tri) != len(p)-2 {
			t.Fatalf("%d triangles for %d corners", len(tri), len(p))
		}
	}
}

// A slab of a drill, twenty long and a quarter wide, with a step at one side: the
// long segments cross edges to the helper triangle.
func TestTriangulateSlab(t *testing.T) {
	p := []point2{
		{0.2748893571891069, 20}, {0, 20}, {0, 9.996411414172123},
		{0.2630570567593138, 9.99999300049755}, {0.2630570567593105, 7.999991250620216}, {0.2748893571891069, 8},
	}
	triangulateAll(t, p, loop(0, len(p)))
}

func TestTriangulateFaults(t *testing.T) {
	square := []point2{{0, 0}, {4, 0}, {4, 4}, {0, 4}}
	for _, c := range []struct {
		name string
		p    []point2
		seg  [][2]int32
		want error
	}{
		{"bow tie", square, [][2]int32{{0, 1}, {1, 3}, {3, 2}, {2, 0}}, errCrossing},
		{"open", square, [][2]int32{{0, 1}, {1, 2}, {2, 3}}, errLeak},
		{"point on side", append(square[:4:4], point2{2, 0}), loop(0, 4), errOnSegment},
		{"coincident", append(square[:4:4], point2{4, 4}), loop(0, 4), errSame},
		{"clockwise", square, [][2]int32{{1, 0}, {2, 1}, {3, 2}, {0, 3}}, errLeak},
		{"two points", square[:2], nil, errLeak},
	} {
		var d triangulator
		if _, err := d.triangulate(nil, c.p, c.seg); err != c.want {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

func BenchmarkTriangulate(b *testing.B) {
	var p []point2
	const n = 1000
	for i := 0; i < n; i++ {
		a := 2 * math.Pi * float64(i) / n
		p = append(p, point2{100 * math.Cos(a), 100 * math.Sin(a)})
	}
	seg := loop(0, n)
	for k := 0; k < 20; k++ {
		x, y, s := float64(k%5)*25-50, float64(k/5)*25-40, len(p)
		for i := 0; i < 48; i++ {
			a := -2 * math.Pi * float64(i) / 48
			p = append(p, point2{x + 6*math.Cos(a), y + 6*math.Sin(a)})
		}
		seg = append(seg, loop(s, len(p))...)
	}
	var d triangulator
	var tri [][3]int32
	for b.Loop() {
		var err error
		if tri, err = d.triangulate(tri[:0], p, seg); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(p)), "ns/point")
}
