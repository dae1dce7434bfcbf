package solid

import (
	"math"
	"math/rand"
	"testing"
)

func ball(r float64) Profile { return Profile{}.LineTo(0, -r).ArcTo(0, r, 0, 0, true) }

func TestRevolvedVolume(t *testing.T) {
	round := func(r, z, rad float64) Profile { // cylinder with one rounded edge
		return Profile{}.LineTo(0, 0).LineTo(r, 0).LineTo(r, z-rad).ArcTo(r-rad, z, r-rad, z-rad, true).LineTo(0, z)
	}
	for _, c := range []struct {
		name string
		p    Profile
		want float64
	}{
		// Closed forms of solid geometry, evaluated to 8 digits.
		{"annulus 30/20 x 20", Poly(20, 0, 30, 0, 30, 20, 20, 20), 31415.927},
		{"torus 20, 5 (Pappus)", Circle(20, 0, 5), 9869.6044},
		{"frustum 10, 6, 12", Poly(0, 0, 10, 0, 6, 12, 0, 12), 2463.0086},
		{"ball 6.35", ball(3.175), 134.06635},
		{"edge round 30, 3", round(30, 10, 3), math.Pi*9000 - 355.93143},
		{"edge round 25, 2", round(25, 10, 2), math.Pi*6250 - 132.42883},
		{"half-round groove 4 in 30", Profile{}.LineTo(0, 0).LineTo(30, 0).LineTo(30, 6).ArcTo(30, 14, 30, 10, false).LineTo(30, 20).LineTo(0, 20), math.Pi*18000 - 4469.3275},
	} {
		if got := c.p.RevolvedVolume(); math.Abs(got/c.want-1) > 5e-8 {
			t.Errorf("%s: %.8g, want %.8g", c.name, got, c.want)
		}
	}
}

func TestAreaAndFlip(t *testing.T) {
	p := Profile{}.LineTo(40, 6).LineTo(40, 14).LineTo(30, 14).ArcTo(30, 6, 30, 10, true)
	if got, want := p.Area(), 80+math.Pi*8; math.Abs(got-want) > 1e-12 {
		t.Errorf("area %v, want %v", got, want)
	}
	q := p.Flip(3)
	if math.Abs(q.Area()-p.Area()) > 1e-12 || math.Abs(q.RevolvedVolume()-p.RevolvedVolume()) > 1e-9 {
		t.Errorf("flip changes area or volume: %v %v", q.Area(), q.RevolvedVolume())
	}
	if q[0].P != (Point2{30, -3}) || q[3].P != (Point2{40, -3}) || !q[0].Arc {
		t.Errorf("flipped corners %+v", q)
	}
}

// Leaf distances: exact against dense sampling of the surface, and 1-Lipschitz.
func TestLeafDistIsDistance(t *testing.T) {
	m := NewModel()
	odd := AxisFrame(Vec{1, 2, 3}, Vec{1, -2, .5})
	for _, n := range []*Node{
		m.Box("box", "", Vec{-3, -2, -1}, Vec{3, 4, 5}),
		m.BoxIn("turned box", "", odd, Vec{-3, -2, -1}, Vec{3, 4, 5}),
		m.Cylinder("drill", "", Vec{1, 1, 1}, Vec{0, -1, 0}, 2, -1, 5),
		m.Cone("frustum", "", Vec{}, Vec{1, 1, 0}, 3, -2, 1, 4),
		m.Ball("ball", "", Vec{1, 0, 2}, Vec{0, 0, 1}, 3),
		m.Extrude("slot", "", odd, -1, 2, Profile{}.LineTo(-3, -1).LineTo(3, -1).ArcTo(3, 1, 3, 0, true).LineTo(-3, 1).CloseArc(-3, 0, true)),
		m.Extrude("plate with hole", "", odd, -1, 2, Poly(-4, -4, 4, -4, 4, 4, -4, 4), Circle(0, 0, 2).Reversed()),
		m.Revolve("grooved", "", odd, Profile{}.LineTo(1, 0).LineTo(4, 0).LineTo(4, 1).ArcTo(4, 3, 4, 2, false).LineTo(4, 4).LineTo(1, 4)),
	} {
		l := n.Leaf
		r := rand.New(rand.NewSource(1))
		for i := 0; i < 3000; i++ {
			p, q := within(r, l.Box.Grow(2)), within(r, l.Box.Grow(2))
			dp, dq := l.Dist(p), l.Dist(q)
			if math.Abs(dp-dq) > p.Dist(q)*(1+1e-12) {
				t.Fatalf("%s: not 1-Lipschitz between %v and %v", l.Name, p, q)
			}
			if dp < 0 && !l.Box.Contains(p, 0) {
				t.Fatalf("%s: box does not hold %v", l.Name, p)
			}
			// The nearest patch is as far away as the surface.
			least := math.Inf(1)
			for k := range l.Patches {
				least = min(least, l.Patches[k].Dist(p))
			}
			if math.Abs(least-math.Abs(dp)) > 1e-9 {
				t.Fatalf("%s: distance %v at %v, patches say %v", l.Name, dp, p, least)
			}
		}
	}
}

func within(r *rand.Rand, b Box) Vec {
	var p Vec
	for i := range p {
		p[i] = b.Lo[i] + (b.Hi[i]-b.Lo[i])*r.Float64()
	}
	return p
}

// Flush faces of different leaves are one carrier, whichever way they face.
func TestInterning(t *testing.T) {
	m := NewModel()
	m.Box("a", "", Vec{0, 0, 0}, Vec{1, 1, 1})
	m.Box("b", "", Vec{1, 0, -1}, Vec{2, 1, 0})
	if n := len(m.Carriers); n != 8 { // x 0 1 2, y 0 1, z -1 0 1
		t.Errorf("%d planes, want 8", n)
	}
	m = NewModel()
	m.Cylinder("up", "", Vec{3, 4, 0}, Vec{0, 0, 1}, 2, 0, 5)
	m.Cylinder("down", "", Vec{3, 4, 9}, Vec{0, 0, -1}, 2, 4, 6)
	if n := len(m.Carriers); n != 4 { // z = 0, 5, 3 and one cylinder
		t.Errorf("%d carriers, want 4", n)
	}
	m.Extrude("slot end", "", AxisFrame(Vec{}, Vec{0, 0, 1}), 0, 5, Circle(3, 4, 2))
	if n := len(m.Carriers); n != 4 {
		t.Errorf("%d carriers after the same hole as an outline, want 4", n)
	}
}

// Patch signs: just inside along -Sign·N the leaf contains, just outside not.
func TestPatchSigns(t *testing.T) {
	m := NewModel()
	m.Box("box", "", Vec{-3, -2, -1}, Vec{3, 4, 5})
	m.Cone("cone down", "", Vec{1, 2, 3}, Vec{-1, 2, .3}, 3, 0, 1, 4)
	m.Ball("ball", "", Vec{1, 0, 2}, Vec{0, -1, 0}, 3)
	m.Extrude("slot", "", AxisFrame(Vec{}, Vec{0, 0, -1}), -1, 2, Profile{}.LineTo(-3, -1).LineTo(3, -1).ArcTo(3, 1, 3, 0, true).LineTo(-3, 1).CloseArc(-3, 0, true))
	m.Revolve("ring", "", AxisFrame(Vec{}, Vec{0, 0, -1}), Circle(5, 1, 2))
	r := rand.New(rand.NewSource(2))
	for _, l := range m.Leaves {
		seen := map[int]bool{}
		for i := 0; i < 20000; i++ {
			p := within(r, l.Box)
			for k := range l.Patches {
				pa := &l.Patches[k]
				q := pa.Carrier.Project(p)
				if p.Dist(q) > .5 || pa.Dist(q) > 1e-9 || least(l, q, pa) < 1e-3 {
					continue
				}
				seen[k] = true
				n := pa.Carrier.N(q).Scale(pa.Sign * 1e-4)
				if !l.Contains(q.Sub(n)) || l.Contains(q.Add(n)) {
					t.Fatalf("%s: patch %d has the wrong sign at %v", l.Name, k, q)
				}
			}
		}
		if len(seen) != len(l.Patches) {
			t.Errorf("%s: %d of %d patches seen", l.Name, len(seen), len(l.Patches))
		}
	}
}

// least distance to another patch of the leaf
func least(l *Leaf, q Vec, but *Patch) float64 {
	d := math.Inf(1)
	for k := range l.Patches {
		if o := &l.Patches[k]; o.Carrier != but.Carrier {
			d = min(d, o.Dist(q))
		}
	}
	return d
}
