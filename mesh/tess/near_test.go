package tess

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

func bigOrient3(a, b, c, d Vec) int {
	r := func(p, q Vec, i int) *big.Rat {
		x, y := new(big.Rat).SetFloat64(p[i]), new(big.Rat).SetFloat64(q[i])
		return x.Sub(x, y)
	}
	mul := func(x ...*big.Rat) *big.Rat {
		p := big.NewRat(1, 1)
		for _, f := range x {
			p.Mul(p, f)
		}
		return p
	}
	sum := new(big.Rat)
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		minor := mul(r(b, a, i), r(c, a, j))
		minor.Sub(minor, mul(r(b, a, j), r(c, a, i)))
		sum.Add(sum, minor.Mul(minor, r(d, a, k)))
	}
	return sum.Sign()
}

// Nearly coplanar points on the lattice, small and as large as Reach allows.
func TestOrient3IsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	flat := 0
	for i := range 20000 {
		size := []float64{.01, 1, Reach}[i%3]
		p := func() Vec {
			return snapped(Vec{size * (2*r.Float64() - 1), size * (2*r.Float64() - 1), size * (2*r.Float64() - 1)})
		}
		a, b, c := p(), p(), p()
		u, v := r.Float64(), r.Float64()
		d := snapped(a.Scale(1-u-v).AddScaled(u, b).AddScaled(v, c))
		for k := range d {
			d[k] = max(-Reach, min(Reach, d[k]))
		}
		if i%7 == 0 {
			d = a.AddScaled(1, b.Sub(a)) // exactly coplanar
		}
		got, want := orient3(a, b, c, d), bigOrient3(a, b, c, d)
		if got != want {
			t.Fatalf("orient3(%v, %v, %v, %v) is %d, want %d", a, b, c, d, got, want)
		}
		if want == 0 {
			flat++
		}
	}
	if flat < 1000 {
		t.Errorf("only %d coplanar samples", flat)
	}
}

func TestCross(t *testing.T) {
	m := &mesh.Mesh{V: []Vec{
		{0, 0, 0}, {4, 0, 0}, {0, 4, 0}, // 0 1 2: a triangle in z = 0
		{1, 1, -1}, {1, 1, 1}, {9, 9, 1}, // 3 4 5: its side 3-4 passes through
		{5, 5, -1}, {5, 5, 1}, // 6 7: beside it
		{1, 1, 0}, // 8: in its plane and inside
	}}
	for _, c := range []struct {
		s, t [3]int32
		want bool
	}{
		{[3]int32{0, 1, 2}, [3]int32{3, 4, 5}, true},
		{[3]int32{0, 1, 2}, [3]int32{6, 7, 5}, false},
		{[3]int32{0, 1, 2}, [3]int32{8, 4, 5}, false}, // touches
		{[3]int32{0, 1, 2}, [3]int32{0, 1, 4}, false}, // shares a side
		{[3]int32{0, 1, 2}, [3]int32{0, 3, 4}, true},  // shares a corner and cuts through
		{[3]int32{0, 1, 2}, [3]int32{0, 6, 7}, true},
	} {
		if got := cross(m, c.s, c.t); got != c.want {
			t.Errorf("cross(%v, %v) = %v", c.s, c.t, got)
		}
		if got := cross(m, c.t, c.s); got != c.want {
			t.Errorf("cross(%v, %v) = %v", c.t, c.s, got)
		}
	}
}

// A shell thinner than the tolerance: facets of its outer side would sag into
// the hollow.
func TestThinShellIsMeshedFiner(t *testing.T) {
	b := boundaryOf(t, func(m *solid.Model) *solid.Node {
		return solid.Minus(m.Ball("shell", "", Vec{}, zAxis, 5), m.Ball("hollow", "", Vec{}, zAxis, 4.97))
	})
	w := work{b: b, tol: .1}
	if _, err := w.mesh(); err == nil {
		t.Error("at 0.1 mm the sides of a 0.03 mm shell should cross")
	}
	m := mustMesh(t, b, .1)
	if chi := audit(t, b, m, .1); chi != 4 {
		t.Errorf("Euler number %d, want 4", chi)
	}
	for i := range m.T {
		for j := range i {
			if m.Label[i] != m.Label[j] && cross(m, m.T[i], m.T[j]) {
				t.Fatalf("facets %d and %d cross", i, j)
			}
		}
	}
}
