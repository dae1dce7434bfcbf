package check

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"wheelmold/mesh"
)

type ratVec [3]*big.Rat

func ratOf(p mesh.Vec) ratVec {
	var q ratVec
	for k, x := range p {
		q[k] = new(big.Rat).SetFloat64(x)
	}
	return q
}

func (p ratVec) sub(q ratVec) (d ratVec) {
	for k := range p {
		d[k] = new(big.Rat).Sub(p[k], q[k])
	}
	return d
}

func (p ratVec) dot(q ratVec) *big.Rat {
	s := new(big.Rat)
	for k := range p {
		s.Add(s, new(big.Rat).Mul(p[k], q[k]))
	}
	return s
}

func (p ratVec) cross(q ratVec) (n ratVec) {
	for k := range p {
		i, j := (k+1)%3, (k+2)%3
		n[k] = new(big.Rat).Sub(new(big.Rat).Mul(p[i], q[j]), new(big.Rat).Mul(p[j], q[i]))
	}
	return n
}

// lerp returns p + t·(q-p).
func (p ratVec) lerp(q ratVec, t *big.Rat) (x ratVec) {
	d := q.sub(p)
	for k := range p {
		x[k] = new(big.Rat).Add(p[k], new(big.Rat).Mul(t, d[k]))
	}
	return x
}

// clip keeps the part of a convex polygon where (x-o)·n >= 0
// (Sutherland-Hodgman).
func clip(poly []ratVec, o, n ratVec) []ratVec {
	var out []ratVec
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := p.sub(o).dot(n), q.sub(o).dot(n)
		if dp.Sign() >= 0 {
			out = append(out, p)
		}
		if dp.Sign()*dq.Sign() < 0 {
			t := new(big.Rat).Sub(dp, dq)
			out = append(out, p.lerp(q, t.Quo(dp, t)))
		}
	}
	return out
}

// common returns the corners of the intersection of two triangles, by clipping
// one to the plane and to the sides of the other, in rational numbers.
func common(s, t [3]mesh.Vec) []ratVec {
	var a [3]ratVec
	var poly []ratVec
	for i := range 3 {
		a[i] = ratOf(s[i])
		poly = append(poly, ratOf(t[i]))
	}
	n := a[1].sub(a[0]).cross(a[2].sub(a[0]))
	back := a[2].sub(a[0]).cross(a[1].sub(a[0]))
	poly = clip(clip(poly, a[0], n), a[0], back)
	for i := range 3 {
		poly = clip(poly, a[i], n.cross(a[(i+1)%3].sub(a[i])))
	}
	return poly
}

// beyond reports whether the common part holds a point off the hull of the
// shared corners.
func beyond(s, t [3]mesh.Vec) bool {
	var shared []mesh.Vec
	for _, p := range s {
		for _, q := range t {
			if p == q {
				shared = append(shared, p)
			}
		}
	}
	for _, x := range common(s, t) {
		on := false
		switch len(shared) {
		case 1:
			d := x.sub(ratOf(shared[0]))
			on = d.dot(d).Sign() == 0
		case 2:
			// A corner of the common part lies in the facet: it is on the shared
			// side if it is on its line.
			n := x.sub(ratOf(shared[0])).cross(ratOf(shared[1]).sub(ratOf(shared[0])))
			on = n.dot(n).Sign() == 0
		}
		if !on {
			return true
		}
	}
	return false
}

// On a tiny grid most pairs are degenerate: touching, folded, in one plane. The
// search must agree with clipping in rational numbers on every one, on the
// lattice, off it, and under an oblique view.
func TestCrossingAgainstRationalClipping(t *testing.T) {
	n := 6000
	if testing.Short() {
		n = 1000
	}
	rng := rand.New(rand.NewPCG(1, 2))
	seen := map[bool]int{}
	for range n {
		var tris [2][3]mesh.Vec
		for i := range 2 {
			for k := range 3 {
				tris[i][k] = oblique(mesh.Vec{float64(rng.IntN(4)), float64(rng.IntN(4)), float64(rng.IntN(3))})
			}
		}
		m := Weld(tris[:])
		// A point that stretches the lattice beyond its bounds, used by no facet.
		off := moved(m, mesh.Vec{})
		off.V = append(off.V, mesh.Vec{0x1p-40, 0, 0})
		r, s := Audit(m, Options{}), Audit(off, Options{})
		if r.ZeroArea.Count+r.BadIndex.Count > 0 {
			continue
		}
		want := beyond(tris[0], tris[1])
		if got, gotOff := r.Crossing.Count > 0, s.Crossing.Count > 0; got != want || gotOff != want {
			t.Fatalf("%v: crossing %v, off the lattice %v, want %v", tris, got, gotOff, want)
		}
		seen[want]++
	}
	if seen[true] < n/10 || seen[false] < n/10 {
		t.Errorf("one-sided sample: %v", seen)
	}
}

// Points almost in a plane, where rounding decides every float64 evaluation,
// and points of extreme size.
func TestOrientationAgainstRationals(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		name  string
		grid  bool
		point func() mesh.Vec
	}{
		{"lattice of 2⁻¹⁴ to 1024", true, func() mesh.Vec {
			x, y := snap(2048*rng.Float64()-1024), snap(2048*rng.Float64()-1024)
			return mesh.Vec{x, y, snap((x+2*y)/3) + float64(rng.IntN(3)-1)/(1<<14)}
		}},
		{"off a lattice", false, func() mesh.Vec {
			x, y := rng.Float64(), rng.Float64()
			return mesh.Vec{x, y, (x + 2*y) / 3}
		}},
		{"huge", false, func() mesh.Vec {
			return mesh.Vec{rng.Float64() * 1e300, rng.Float64(), rng.Float64() * 1e300}
		}},
		{"tiny", false, func() mesh.Vec {
			return mesh.Vec{rng.Float64() * 1e-300, rng.Float64() * 1e-310, rng.Float64() * 1e-300}
		}},
		{"triple products underflow", false, func() mesh.Vec {
			return mesh.Vec{rng.Float64() * 3e-108, rng.Float64() * 3e-108, rng.Float64() * 3e-108}
		}},
		{"double products underflow", false, func() mesh.Vec {
			return mesh.Vec{rng.Float64(), rng.Float64() * 5e-162, rng.Float64() * 5e-162}
		}},
		{"near a line", false, func() mesh.Vec {
			x := rng.Float64()
			return mesh.Vec{x, x / 3, x / 7}
		}},
		{"coarse", true, func() mesh.Vec {
			return mesh.Vec{float64(rng.IntN(3)), float64(rng.IntN(3)), float64(rng.IntN(3))}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			zeros := 0
			for range 2000 {
				v := []mesh.Vec{c.point(), c.point(), c.point(), c.point()}
				p := newPoints(v)
				if (p.grid != nil) != c.grid {
					t.Fatalf("lattice %v, want %v: %v", p.grid != nil, c.grid, v)
				}
				a, b, d := ratOf(v[1]).sub(ratOf(v[0])), ratOf(v[2]).sub(ratOf(v[0])), ratOf(v[3]).sub(ratOf(v[0]))
				n := a.cross(b)
				if got, want := p.orient3(0, 1, 2, 3), n.dot(d).Sign(); got != want {
					t.Fatalf("orient3 %d, want %d: %v", got, want, v)
				}
				if got, want := p.orient2(1, 2, 0, 1, 2), n[0].Sign(); got != want {
					t.Fatalf("orient2 %d, want %d: %v", got, want, v)
				}
				if n.dot(d).Sign() == 0 {
					zeros++
				}
			}
			t.Logf("%d of 2000 in a plane", zeros)
		})
	}
}

func TestLattice(t *testing.T) {
	for _, c := range []struct {
		v    mesh.Vec
		step int
		ok   bool
	}{
		{mesh.Vec{}, 0, true},
		{mesh.Vec{0.75, -12, 0}, -2, true},
		{mesh.Vec{1024 - 0x1p-14, 0x1p-14, 0}, -14, true},
		{mesh.Vec{1 << 16, 0x1p-13, math.NaN()}, -13, true},
		{mesh.Vec{1 << 16, 0x1p-14, 0}, -14, false},
		{mesh.Vec{math.SmallestNonzeroFloat64, 0, math.Inf(1)}, -1074, true},
	} {
		if step, ok := lattice([]mesh.Vec{c.v}); step != c.step || ok != c.ok {
			t.Errorf("lattice(%v) = %d, %v; want %d, %v", c.v, step, ok, c.step, c.ok)
		}
	}
}
