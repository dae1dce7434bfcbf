package mesh

import (
	"math"
	"math/rand"
	"testing"
)

// A point is in a box if it is between the two faces on every axis, by itself: one axis
// that it leaves is enough, on either side.
func TestBoxContains(t *testing.T) {
	b := Box{Vec{-1, 2, 3}, Vec{4, 6, 9}}
	middle := Vec{1.5, 4, 6}
	if !b.Contains(middle, 0) {
		t.Fatalf("%v does not hold its middle", b)
	}
	for i := range middle {
		for side, face := range map[float64]float64{-1: b.Lo[i], 1: b.Hi[i]} {
			p := middle
			for _, c := range []struct {
				out, eps float64
				want     bool
			}{{-0.5, 0, true}, {0, 0, true}, {0.25, 0, false}, {0.25, 0.25, true}, {0.25, 0.125, false}, {-0.25, -0.5, false}} {
				p[i] = face + side*c.out
				if got := b.Contains(p, c.eps); got != c.want {
					t.Errorf("%v, %g past a face of axis %d, within %g: %v, want %v", p, c.out, i, c.eps, got, c.want)
				}
			}
		}
	}
	if EmptyBox().Contains(Vec{}, 1e9) {
		t.Error("nothing holds something")
	}
}

// Boxes overlap if their ranges do on every axis; the order does not matter.
func TestBoxesOverlap(t *testing.T) {
	b := Box{Vec{-1, 2, 3}, Vec{4, 6, 9}}
	for i := range b.Lo {
		for _, c := range []struct {
			shift, eps float64 // of its own width along the axis
			want       bool
		}{{0, 0, true}, {0.5, 0, true}, {1, 0, true}, {1.125, 0, false}, {1.125, 0.125, true}, {1.125, 0.0625, false}} {
			size := b.Hi[i] - b.Lo[i]
			for _, sign := range []float64{1, -1} {
				o := b
				o.Lo[i] += sign * c.shift * size
				o.Hi[i] += sign * c.shift * size
				if b.Overlaps(o, c.eps*size) != c.want || o.Overlaps(b, c.eps*size) != c.want {
					t.Errorf("moved by %g of its width along axis %d, within %g: %v, want %v", sign*c.shift, i, c.eps, !c.want, c.want)
				}
			}
		}
	}
}

// The smallest box: it holds all points, and each face has one on it. Joining the boxes
// of two halves of the points is the same.
func TestBoxIsTheSmallest(t *testing.T) {
	r := rand.New(rand.NewSource(6))
	a, b, all := EmptyBox(), EmptyBox(), EmptyBox()
	var points []Vec
	for k := range 20 {
		p := Vec{r.NormFloat64(), 5 + r.NormFloat64(), -5 + r.NormFloat64()} // a range of each sign
		points = append(points, p)
		all = all.Include(p)
		if k%2 == 0 {
			a = a.Include(p)
		} else {
			b = b.Include(p)
		}
	}
	for i := range 3 {
		touched := [2]bool{}
		for _, p := range points {
			if p[i] < all.Lo[i] || p[i] > all.Hi[i] {
				t.Errorf("%v is outside %v", p, all)
			}
			touched[0] = touched[0] || p[i] == all.Lo[i]
			touched[1] = touched[1] || p[i] == all.Hi[i]
		}
		if touched != [2]bool{true, true} {
			t.Errorf("axis %d: %v is larger than its points", i, all)
		}
	}
	if a.Join(b) != all || b.Join(a) != all {
		t.Errorf("%v and %v join to %v, want %v", a, b, a.Join(b), all)
	}
	if all.Join(EmptyBox()) != all || EmptyBox().Join(all) != all {
		t.Error("nothing, joined to a box, changes it")
	}
	if got, want := (Box{Vec{-1, 2, 3}, Vec{4, 6, 9}}).Grow(0.5), (Box{Vec{-1.5, 1.5, 2.5}, Vec{4.5, 6.5, 9.5}}); got != want {
		t.Errorf("grown to %v, want %v", got, want)
	}
}

// Each corner is on one of the two faces of every axis, and no two are the same.
func TestCorners(t *testing.T) {
	b := Box{Vec{-1, 2, 3}, Vec{4, 6, 9}}
	seen := map[Vec]bool{}
	for _, p := range b.Corners() {
		seen[p] = true
		for i := range p {
			if p[i] != b.Lo[i] && p[i] != b.Hi[i] {
				t.Errorf("%v is no corner of %v", p, b)
			}
		}
	}
	if len(seen) != 8 {
		t.Errorf("%d corners", len(seen))
	}
}

// Vectors by their laws: the vector product stands on both, turns from the first to the
// second by the right hand, and is as long as the parallelogram is large (Lagrange).
func TestVectors(t *testing.T) {
	x, y, z := Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}
	if x.Cross(y) != z || y.Cross(z) != x || z.Cross(x) != y {
		t.Error("the axes are not right-handed")
	}
	r := rand.New(rand.NewSource(7))
	draw := func() Vec { return Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()} }
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	for range 20 {
		a, b, k := draw(), draw(), r.NormFloat64()
		c := a.Cross(b)
		near("product and first", c.Dot(a), 0)
		near("product and second", c.Dot(b), 0)
		near("area", c.Dot(c), a.Dot(a)*b.Dot(b)-a.Dot(b)*a.Dot(b))
		near("cosine rule", a.Dist(b)*a.Dist(b), a.Dot(a)+b.Dot(b)-2*a.Dot(b))
		near("unit", a.Unit().Norm(), 1)
		near("along itself", a.Unit().Dot(a), a.Norm())
		near("there and back", a.Add(b).Sub(b).Dist(a), 0)
		near("in one step", a.AddScaled(k, b).Dist(a.Add(b.Scale(k))), 0)
		near("projection", a.AddScaled(-a.Dot(b)/b.Dot(b), b).Dot(b), 0)
	}
	near("3, 4 and 12", Vec{3, 4, 12}.Norm(), 13)
}
