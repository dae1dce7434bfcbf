package solid

import (
	"math"
	"math/rand"
	"testing"
)

// A polygon with mitered corners grows by its perimeter times d and, at every
// corner, by d² times the tangent of half the turn (Steiner's formula with miters).
func TestOffsetPolygon(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 200 {
		n := 3 + r.Intn(6)
		var p Profile
		for i := range n {
			a := 2 * math.Pi * (float64(i) + .8*r.Float64()) / float64(n)
			p = p.LineTo(50+30*math.Cos(a), 7+30*math.Sin(a))
		}
		d := .01 + r.Float64()
		q, ok := p.Offset(d, true)
		if !ok || len(q) != n {
			t.Fatalf("%v: not offset by %v", p, d)
		}
		want := p.Area()
		for i := range p {
			a, b, c := p[i].P, p[(i+1)%n].P, p[(i+2)%n].P
			want += d * math.Hypot(b[0]-a[0], b[1]-a[1])
			turn := math.Atan2(c[1]-b[1], c[0]-b[0]) - math.Atan2(b[1]-a[1], b[0]-a[0])
			want += d * d * math.Tan(WrapAngle(turn)/2)
		}
		if got := q.Area(); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("area %v, want %v", got, want)
		}
	}
}

// A run with everything that outlines have: a rounded corner, a groove with a half
// circle, a ledge. Every point of the moved segments lies d from the run, save in
// miters; axis-parallel lines stay so to the bit.
func TestOffsetRun(t *testing.T) {
	for _, tilt := range []float64{0, 1e-7, 5e-4, 2e-3, .05} {
		p := Profile{}.LineTo(10, 0).LineTo(27, 0).ArcTo(30, 3, 27, 3, true)
		a, b := Point2{30, 8}, Point2{30 + 4*tilt, 12}
		p = p.LineTo(a[0], a[1]).ArcTo(b[0], b[1], (a[0]+b[0])/2, 10, false)
		p = p.LineTo(30+4*tilt, 20).LineTo(26, 20).LineTo(26, 25).LineTo(10, 25)
		const d = .3
		q, ok := p.Offset(d, false)
		if !ok {
			t.Fatalf("tilt %v: not offset", tilt)
		}
		if q[0].P != (Point2{10, -d}) || q[len(q)-1].P != (Point2{10, 25 + d}) {
			t.Errorf("ends at %v and %v", q[0].P, q[len(q)-1].P)
		}
		old := open(p)
		for i, e := range open(q) {
			for _, s := range []float64{0, .3, .5, .9} {
				x, y := along(&e, s)
				least := math.Inf(1)
				for k := range old {
					least = min(least, old[k].Dist(x, y))
				}
				// Where a lead is level, the crest lies r·tilt²/2 off the arc's end.
				if slack := 1e-9 + 2*1e-6; least < d-slack || s > 0 && e.Arc && least > d+slack {
					t.Errorf("tilt %v, segment %d: %v from the run, want %v", tilt, i, least, d)
				}
			}
			if !e.Arc && (math.Abs(e.B[0]-e.A[0]) < 1e-9) != (e.B[0] == e.A[0]) {
				t.Errorf("tilt %v, segment %d from %v to %v is upright but for rounding", tilt, i, e.A, e.B)
			}
		}
	}
}

// What has no room is refused: a groove narrower than twice the offset, a half circle
// smaller than it.
func TestOffsetWithoutRoom(t *testing.T) {
	slit := func(w float64) Profile { return Poly(20, 0, 20, 10, 15, 10, 15, 10+w, 20, 10+w, 20, 30) }
	half := func(w float64) Profile {
		return Profile{}.LineTo(20, 0).LineTo(20, 10).ArcTo(20, 10+w, 20, 10+w/2, false).LineTo(20, 30)
	}
	for _, shape := range []func(float64) Profile{slit, half} {
		if _, ok := shape(.61).Offset(.3, false); !ok {
			t.Error("0.61 mm refused")
		}
		if _, ok := shape(.59).Offset(.3, false); ok {
			t.Error("0.59 mm accepted")
		}
	}
}

// open are the segments of a run without the one that would close it.
func open(p Profile) []Elem {
	var out []Elem
	for i := 0; i+1 < len(p); i++ {
		two := Profile{p[i], {P: p[i+1].P}}
		el := two.Elems()
		out = append(out, el[:len(el)-1]...)
	}
	return out
}

func along(e *Elem, s float64) (x, y float64) {
	if !e.Arc {
		return e.A[0] + s*(e.B[0]-e.A[0]), e.A[1] + s*(e.B[1]-e.A[1])
	}
	t0, t1 := e.Angles()
	sn, cs := math.Sincos(t0 + s*(t1-t0))
	return e.C[0] + e.R*cs, e.C[1] + e.R*sn
}
