package mold

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// leaning is the plain tread with a draft and an edge.
func leaning(t *testing.T, degrees float64, edge string, size float64) *params.Job {
	t.Helper()
	j := plainTread(t)
	j.Wheel.Draft, j.Wheel.Edge, j.Wheel.EdgeSize = degrees, edge, size
	return j
}

// frustum is a handbook's formula.
func frustum(r0, r1, h float64) float64 { return math.Pi * h / 3 * (r0*r0 + r0*r1 + r1*r1) }

// A leaning tread is a frustum on a plain hub, its edges frusta or parts of tori: by
// a handbook's formula, and for the round by slices of circles whose centers lie the
// radius off face and cone.
func TestDraftVolume(t *testing.T) {
	const r, w, hub = 140., 125., 50.
	for _, deg := range []float64{.5, 1, 3, 5} {
		sn, cs := math.Sincos(deg * math.Pi / 180)
		at := func(z float64) float64 { return r + (z-w/2)*sn/cs }
		for edge, e := range map[string]float64{"square": 0, "chamfer": 4, "round": 3} {
			want := frustum(at(e), at(w-e), w-2*e)
			switch edge {
			case "chamfer":
				want += frustum(at(e)-e, at(e), e) + frustum(at(w-e), at(w-e)-e, e)
			case "round":
				lower, upper := at(e)-e/cs, at(w-e)-e/cs // the circles' centers
				z0, z1 := e-e*sn, w-e-e*sn               // where they touch the cone
				want = frustum(at(z0), at(z1), z1-z0)
				slices := func(center, from, to float64) float64 {
					return quad.Fixed(func(a float64) float64 {
						x := center + e*math.Cos(a)
						return math.Pi * x * x * e * math.Cos(a)
					}, from, to, 80, nil, 0)
				}
				a := deg * math.Pi / 180
				want += slices(lower, -math.Pi/2, -a) + slices(upper, -a, math.Pi/2)
			}
			m, err := New(leaning(t, deg, edge, e))
			if err != nil {
				t.Fatal(err)
			}
			if got := m.RubberVolume() + math.Pi*hub*hub*w; math.Abs(got/want-1) > 1e-9 {
				t.Errorf("%v°, %s: %.3f mm³, want %.3f", deg, edge, got, want)
			}
		}
	}
}

// Both rounds of a leaning tread touch its end face and its surface.
func TestDraftRoundsAreTangent(t *testing.T) {
	for _, deg := range []float64{0, 1, 5} {
		m, err := New(leaning(t, deg, "round", 3))
		if err != nil {
			t.Fatal(err)
		}
		p, w, s := m.Tread.outer(), m.Tread.Width, math.Tan(deg*math.Pi/180)
		n := len(p)
		if n != 4 || !p[0].Arc || !p[2].Arc {
			t.Fatalf("%v°: outline %+v", deg, p)
		}
		for _, c := range []struct {
			center, face, cone solid.Point2
			z                  float64
		}{{p[0].C, p[0].P, p[1].P, 0}, {p[2].C, p[3].P, p[2].P, w}} {
			if math.Abs(c.face[0]-c.center[0]) > 1e-9 || c.face[1] != c.z || math.Abs(math.Abs(c.face[1]-c.center[1])-3) > 1e-9 {
				t.Errorf("%v°: the round about %v meets the face at %v", deg, c.center, c.face)
			}
			dx, dz := c.cone[0]-c.center[0], c.cone[1]-c.center[1]
			if math.Abs(math.Hypot(dx, dz)-3) > 1e-9 || math.Abs(dx*s+dz) > 1e-9 || math.Abs(c.cone[0]-(m.Tread.R+(c.cone[1]-w/2)*s)) > 1e-9 {
				t.Errorf("%v°: the round about %v meets the cone at %v", deg, c.center, c.cone)
			}
		}
	}
}

// The surface leans out upward whichever face is up, grooves go with their face and
// keep their depth, the middle keeps the diameter, and the job knows the cavity's faces.
func TestDraftLeansUpward(t *testing.T) {
	for _, up := range []string{"front", "back"} {
		for edge, e := range map[string]float64{"square": 0, "chamfer": 4, "round": 3} {
			j := leaning(t, 2, edge, e)
			j.Mold.FaceUp = up
			j.Wheel.Grooves = []params.Groove{{Shape: "rectangular", Position: 30, Width: 6, Depth: 5}}
			m, err := New(j)
			if err != nil {
				t.Fatal(err)
			}
			tr := m.Tread
			if d := tr.SurfaceR(125) - tr.SurfaceR(0); math.Abs(d-125*math.Tan(2*math.Pi/180)) > 1e-9 || tr.SurfaceR(62.5) != 140 {
				t.Errorf("%s up: leans out by %.4f, %.4f in the middle", up, d, tr.SurfaceR(62.5))
			}
			z := map[string]float64{"front": 30, "back": 95}[up]
			for _, dz := range []float64{-2.9, 0, 2.9} {
				if got := radiusAt(tr, z+dz); math.Abs(got-(tr.SurfaceR(z+dz)-5)) > 1e-6 {
					t.Errorf("%s up: radius %.4f at height %v, want %.4f", up, got, z+dz, tr.SurfaceR(z+dz)-5)
				}
			}
			if _, outer := j.TopFace(); math.Abs(outer-2*tr.UpperOuter) > 1e-9 {
				t.Errorf("%s edge: the upper face is %.4f across, by the job %.4f", edge, 2*tr.UpperOuter, outer)
			}
			if tr.MaxR(0) < tr.UpperOuter || tr.UpperOuter <= tr.LowerOuter {
				t.Errorf("%s edge: faces reach %.4f and %.4f, at most %.4f", edge, tr.LowerOuter, tr.UpperOuter, tr.MaxR(0))
			}
		}
	}
}

// radiusAt is the cavity's radius at a height, found by halving.
func radiusAt(t *Tread, z float64) float64 {
	el := t.Cavity().Elems()
	lo, hi := 1., 2*t.MaxR(0)
	for range 50 {
		if mid := (lo + hi) / 2; solid.SignedDist2(el, mid, z) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// Leaning treads of every kind are made and pass the audit, and the closed form holds
// against the exact boundary.
func TestMakeDrafted(t *testing.T) {
	around := []params.Groove{{Shape: "rectangular", Position: 12, Width: 3, Depth: 2}, {Shape: "half-round", Position: 26, Width: 3, Depth: 1.5}}
	across := params.CrossGrooves{Count: 10, Width: 5, Depth: 2.5, Flank: 10}
	for i, edge := range []string{"round", "chamfer", "square"} {
		for k, kind := range []string{"plain", "grooves", "cross grooves", "both, trimmed, coned"} {
			j, err := params.Default(90, 38, 12, "milled")
			if err != nil {
				t.Fatal(err)
			}
			j.Wheel.Draft, j.Wheel.Edge = []float64{.5, 1, 3, 5}[(i+k)%4], edge
			if edge == "square" {
				j.Wheel.EdgeSize = 0
			}
			if k == 1 || k == 3 {
				j.Wheel.Grooves = around
			}
			if k >= 2 {
				j.Wheel.Cross = across
			}
			if k == 3 {
				j.Mold.TopAllowance, j.Mold.Ceiling.Shape, j.Mold.Ceiling.Angle, j.Mold.FaceUp = 1.5, "coned", 1, "back"
			}
			name := fmt.Sprintf("%s, %s, %v°", edge, kind, j.Wheel.Draft)
			m, err := New(j)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			made, err := m.Make(MakeOptions{Tolerance: .05})
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			a := made.Audit
			if d := a.Rubber.ClosedForm/a.Rubber.Boundary - 1; math.Abs(d) > 1e-9 {
				t.Errorf("%s: closed form off by %.2g", name, d)
			}
		}
	}
}

// Leaning treads go with every split, and with coats on the cavity.
func TestMakeDraftedInEverySplit(t *testing.T) {
	for i, split := range params.Splits {
		for _, edge := range []string{"square", []string{"round", "chamfer"}[i%2]} {
			size := map[string]string{"round": "2 mm", "chamfer": "1.5 mm", "square": "0 mm"}[edge]
			j, _, err := params.Parse("lean", fmt.Appendf(nil, `
name = "lean"
[wheel]
diameter = "90 mm"
width = "38 mm"
draft = "2 deg"
edge = %q
edge_size = %q
[wheel.cross]
count = 10
width = "5 mm"
depth = "2.5 mm"
[[wheel.groove]]
position = "12 mm"
width = "3 mm"
depth = "2 mm"
[hub]
bore = "12 mm"
[process]
name = "milled"
[mold]
split = %q
[mold.coats]
count = 2
thickness = "0.1 mm"
`, edge, size, split))
			if err != nil {
				t.Fatal(err)
			}
			m, err := New(j)
			if err != nil {
				t.Errorf("%s, %s: %v", split, edge, err)
				continue
			}
			if _, err := m.Make(MakeOptions{Tolerance: .05}); err != nil {
				t.Errorf("%s, %s: %v", split, edge, err)
			}
		}
	}
}
