package engrave

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/check"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/tess"
)

const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-./+_"

// settings are heights and strokes from the thinnest to the thickest, on and off
// the lattice.
func settings() [][2]float64 {
	rng := rand.New(rand.NewPCG(1, 2))
	out := [][2]float64{{3, 3. / 7}, {3, 3. / 14}, {8, 1}, {14, 1}, {1000, 1000. / 7}}
	for range 20 {
		h := LeastHeight * math.Pow(10, 1.5*rng.Float64())
		out = append(out, [2]float64{h, h * (ThinnestStroke + rng.Float64()*(ThickestStroke-ThinnestStroke))})
	}
	return out
}

func mustText(t testing.TB, s string, height, stroke float64) ([]solid.Profile, float64) {
	t.Helper()
	ps, w, err := Text(s, height, stroke)
	if err != nil {
		t.Fatal(err)
	}
	return ps, w
}

// elems returns the segments of outlines as a leaf holds them.
func elems(ps ...solid.Profile) []solid.Elem {
	m := solid.NewModel()
	return m.Extrude("text", "", solid.AxisFrame(solid.Vec{}, solid.Vec{0, 0, 1}), 0, 1, ps...).Leaf.Elems
}

// samples returns points along a segment, ends included.
func samples(e *solid.Elem, n int) []solid.Point2 {
	pts := []solid.Point2{e.A, e.B}
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		p := solid.Point2{e.A[0] + t*(e.B[0]-e.A[0]), e.A[1] + t*(e.B[1]-e.A[1])}
		if e.Arc {
			d := math.Hypot(p[0]-e.C[0], p[1]-e.C[1])
			p = solid.Point2{e.C[0] + (p[0]-e.C[0])*e.R/d, e.C[1] + (p[1]-e.C[1])*e.R/d}
		}
		pts = append(pts, p)
	}
	return pts
}

func distance(a, b *solid.Elem) float64 {
	d := math.Inf(1)
	for _, p := range samples(a, 12) {
		d = min(d, b.Dist(p[0], p[1]))
	}
	for _, p := range samples(b, 12) {
		d = min(d, a.Dist(p[0], p[1]))
	}
	return d
}

func TestStrokesKeepApart(t *testing.T) {
	for _, hs := range settings() {
		h, stroke := hs[0], hs[1]
		least, worst := math.Inf(1), ""
		for _, r := range alphabet {
			// Doubled, so that the letter meets itself as neighbor.
			ps, _ := mustText(t, string(r)+string(r), h, stroke)
			for i := range ps {
				a := elems(ps[i])
				for j := range i {
					b := elems(ps[j])
					for k := range a {
						for l := range b {
							if d := distance(&a[k], &b[l]); d < least {
								least, worst = d, string(r)
							}
						}
					}
				}
			}
		}
		if least < stroke/2 {
			t.Errorf("height %g, stroke %g: strokes of %s come within %.3f strokes", h, stroke, worst, least/stroke)
		}
	}
}

// Segments of one outline meet only where one follows the other.
func TestOutlinesDoNotCrossThemselves(t *testing.T) {
	for _, hs := range settings() {
		for _, r := range alphabet {
			ps, _ := mustText(t, string(r), hs[0], hs[1])
			for _, p := range ps {
				es := elems(p)
				for i := range es {
					for j := range i {
						if a, b := &es[i], &es[j]; a.A != b.B && a.B != b.A && distance(a, b) < .04*hs[1] {
							t.Errorf("%c at height %g, stroke %g: segments %d and %d of an outline come within %g mm", r, hs[0], hs[1], i, j, distance(a, b))
						}
					}
				}
			}
		}
	}
}

func TestOutlinesLieInTheirCell(t *testing.T) {
	const slack = solid.Lattice
	for _, hs := range settings() {
		for _, r := range alphabet {
			ps, w := mustText(t, string(r), hs[0], hs[1])
			lo, hi, top, low := math.Inf(1), math.Inf(-1), math.Inf(-1), math.Inf(1)
			for _, p := range ps {
				if a := p.Area(); !(a > hs[1]*hs[1]/2) {
					t.Errorf("%c: outline of area %g mm²", r, a)
				}
				for _, e := range elems(p) {
					for _, q := range samples(&e, 24) {
						lo, hi, low, top = min(lo, q[0]), max(hi, q[0]), min(low, q[1]), max(top, q[1])
					}
					a, b := e.A, e.B
					for k := range a {
						if !e.Arc && a[k] == b[k] && a[k] != solid.Round(a[k]) {
							t.Errorf("%c at height %g: a straight side at %.9g mm is off the lattice", r, hs[0], a[k])
						}
					}
				}
			}
			if lo < -slack || hi > w+slack || low < -slack || top > hs[0]+slack {
				t.Errorf("%c: ink in %g..%g by %g..%g, cell %g by %g", r, lo, hi, low, top, w, hs[0])
			}
			if !strings.ContainsRune("-._+", r) && (low > slack || top < hs[0]-slack) {
				t.Errorf("%c: ink from %g to %g does not fill the height of %g", r, low, top, hs[0])
			}
			if lo > slack || hi < w-2*slack {
				t.Errorf("%c: ink from %g to %g does not fill the width of %g", r, lo, hi, w)
			}
		}
	}
}

// The largest disc in the ink is half a stroke in radius; up to √2 of that where
// bars cross or meet in a corner, and more where slanted strokes meet in a point.
func TestStrokesHaveOneWidth(t *testing.T) {
	const h, stroke = 40., 4.
	for _, r := range alphabet {
		ps, w := mustText(t, string(r), h, stroke)
		es, most := elems(ps...), 0.0
		for y := .25; y < h; y += .5 {
			for x := .25; x < w; x += .5 {
				most = max(most, -solid.SignedDist2(es, x, y))
			}
		}
		limit := stroke / 2 * math.Sqrt2
		if strings.ContainsRune("MNVW", r) {
			limit = stroke / 2 * 1.65
		}
		if most > limit || most < .8*stroke/2 {
			t.Errorf("%c: ink is %g mm deep, half a stroke is %g", r, most, stroke/2)
		}
	}
}

// bitmap of the character, 40 rows of 40, as the eye sees it: placed by its left
// side or by its middle.
func bitmap(t *testing.T, r rune, centered bool) (bits [40 * 40]bool) {
	const h, n = 8., 40
	ps, w := mustText(t, string(r), h, 1)
	es, dx := elems(ps...), 0.0
	if centered {
		dx = (h - w) / 2
	}
	for i := range bits {
		x, y := (float64(i%n)+.5)*h/n, (float64(i/n)+.5)*h/n
		bits[i] = solid.SignedDist2(es, x-dx, y) < 0
	}
	return bits
}

func TestCharactersDiffer(t *testing.T) {
	// Of the ink that either of two has, the part that only one has. 0 and O
	// differ in the bar alone; a tenth of the ink is seen at a glance.
	const threshold = .12
	least, pair := 1.0, ""
	for _, centered := range []bool{false, true} {
		for i, a := range alphabet {
			p := bitmap(t, a, centered)
			for _, b := range alphabet[:i] {
				q := bitmap(t, b, centered)
				either, one := 0, 0
				for k := range p {
					if p[k] || q[k] {
						either++
					}
					if p[k] != q[k] {
						one++
					}
				}
				d := float64(one) / float64(either)
				if d < threshold {
					t.Errorf("%c and %c differ in %.0f %% of their ink", a, b, 100*d)
				}
				if d < least {
					least, pair = d, string(a)+string(b)
				}
			}
		}
	}
	t.Logf("the nearest two are %s, which differ in %.0f %% of their ink", pair, 100*least)
}

func TestTextIsLaidOut(t *testing.T) {
	one, w1 := mustText(t, "LID", 5, .6)
	two, w2 := mustText(t, "lid", 5, .6)
	if fmt.Sprint(one) != fmt.Sprint(two) || w1 != w2 {
		t.Error("lower case is not set as capitals")
	}
	_, spaced := mustText(t, "L ID", 5, .6)
	if !(spaced > w1+1) {
		t.Errorf("a space adds %g mm", spaced-w1)
	}
	if ps, w := mustText(t, "", 5, .6); len(ps) != 0 || w != 0 {
		t.Errorf("no text gives %d outlines and %g mm", len(ps), w)
	}
	if _, w := mustText(t, "8", 5, .6); math.Abs(w-(.46*5+.6)) > 2*solid.Lattice {
		t.Errorf("an 8 is %g mm wide", w)
	}
}

func TestUnsettableTextIsRefused(t *testing.T) {
	for _, c := range []struct {
		s              string
		height, stroke float64
		want           []string
	}{
		{"SHELL Ä×Ä", 5, .6, []string{"no letter for 'Ä', '×';"}},
		{"A\n", 5, .6, []string{`'\n'`}},
		{"A", 2, .2, []string{"text height 2 mm: use 3 mm or more"}},
		{"A", math.NaN(), .2, []string{"text height NaN mm"}},
		{"A", math.Inf(1), .2, []string{"text height"}},
		{"A", 7, 1.1, []string{"text stroke 1.1 mm: use 0.5 to 1 mm for letters 7 mm tall"}},
		{"#", 7, math.NaN(), []string{"text stroke NaN", "'#'"}},
	} {
		ps, _, err := Text(c.s, c.height, c.stroke)
		if err == nil || ps != nil {
			t.Errorf("%q at %g, %g: accepted", c.s, c.height, c.stroke)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%q: error %q lacks %q", c.s, err, w)
			}
		}
	}
}

// A plate with the whole alphabet cut into it is a sound solid, exactly and as a
// mesh, and has lost area times depth.
func TestEngravedPlateIsSound(t *testing.T) {
	const depth, thick = .4, 3.
	for _, hs := range [][2]float64{{3, .4}, {8, 1}, {7, .5}} {
		ps, w := mustText(t, alphabet, hs[0], hs[1])
		m := solid.NewModel()
		h := solid.Round(hs[0])
		plate := m.Box("plate", "face", solid.Vec{-1, -1, 0}, solid.Vec{w + 1, h + 1, thick})
		text := m.Extrude("mark", "mark", solid.AxisFrame(solid.Vec{}, solid.Vec{0, 0, 1}), solid.Round(thick-depth), thick, ps...)
		b, err := brep.NewEvaluator(m).Boundary(solid.Minus(plate, text))
		if err != nil {
			t.Fatal(err)
		}
		want := (w + 2) * (h + 2) * thick
		for _, p := range ps {
			want -= p.Area() * (thick - solid.Round(thick-depth))
		}
		if v := b.Volume(); math.Abs(v-want) > 1e-10*want {
			t.Errorf("height %g: exact volume %.10g mm³, want %.10g", hs[0], v, want)
		}
		me, err := tess.Mesh(b, tess.Settings{Tolerance: .01})
		if err != nil {
			t.Fatal(err)
		}
		rep := check.Audit(me, check.Options{})
		if !rep.OK() || len(rep.Shells) != 1 || rep.Euler != 2 {
			t.Errorf("height %g: %v, %d shells, Euler number %d", hs[0], rep.Faults(), len(rep.Shells), rep.Euler)
		}
		// Bowls are chords within the tolerance; nearly all sides are straight.
		if v := rep.Volume(); math.Abs(v-want) > 1e-4*want {
			t.Errorf("height %g: mesh volume %g mm³, want %g", hs[0], v, want)
		}
	}
}

func ExampleText() {
	outlines, width, err := Text("Lid 2", 5, 0.6)
	if err != nil {
		fmt.Println(err)
		return
	}
	area := 0.0
	for _, o := range outlines {
		area += o.Area()
	}
	fmt.Printf("%d outlines, %.2f mm wide, %.2f mm² to cut\n", len(outlines), width, area)
	// Output: 5 outlines, 13.13 mm wide, 20.03 mm² to cut
}
