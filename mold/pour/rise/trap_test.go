package rise

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

var up = mesh.Vec{0, 0, 1}

func cavity(t testing.TB, n *solid.Node, cell float64, openings ...Opening) *Cavity {
	t.Helper()
	c, err := New(n, openings, Settings{Cell: cell})
	if err != nil {
		t.Fatal(err)
	}
	if u := c.Unmet(); len(u) > 0 {
		t.Fatalf("openings %v meet nothing", u)
	}
	return c
}

func vent(name string, x, y, z, r float64) Opening {
	return Opening{Name: name, At: mesh.Vec{x, y, z}, R: r}
}

// only returns the single trap that is expected.
func only(t testing.TB, a Air) Trap {
	t.Helper()
	if len(a.Traps) != 1 {
		t.Fatalf("%d traps, want 1: %+v", len(a.Traps), a.summary())
	}
	return a.Traps[0]
}

func (a Air) summary() string {
	var b strings.Builder
	fmt.Fprintf(&b, "tilt %v: %.3f mm³", a.Tilt, a.Volume)
	for _, q := range a.Traps {
		fmt.Fprintf(&b, "\n  %.3f mm³ %.3f deep at %.2f, %d tops, saddle %.3f, way %.2f, vent %q, gates %v, closed %v", q.Volume, q.Depth, q.Top, len(q.Tops), q.Saddle, q.Way, q.Vent, q.Gates, q.Closed)
	}
	return b.String()
}

func within(t testing.TB, what string, got, want, part float64) {
	t.Helper()
	if !(math.Abs(got-want) <= part*math.Abs(want)) {
		t.Errorf("%s: %.6g, want %.6g within %.2g %%, off by %.2g %%", what, got, want, 100*part, 100*(got/want-1))
	}
}

// drum is a cylinder of radius 30 and height 20 on z = 0.
func drum(m *solid.Model) *solid.Node { return m.Cylinder("drum", "", mesh.Vec{}, up, 30, 0, 20) }

// A blind pocket above the vented roof keeps its own volume.
func TestBlindPocket(t *testing.T) {
	m := solid.NewModel()
	pocket := m.Cylinder("pocket", "", mesh.Vec{11, 4, 0}, up, 8, 19, 26)
	c := cavity(t, solid.Union(drum(m), pocket), .25, vent("vent 1", -20, 0, 20, 1))
	q := only(t, c.Traps(Tilt{}))
	within(t, "volume", q.Volume, math.Pi*64*6, .01)
	within(t, "saddle", q.Saddle, 20, 1e-9)
	within(t, "depth", q.Depth, 6, 1e-9)
	if math.Hypot(q.Top[0]-11, q.Top[1]-4) > 8 {
		t.Errorf("top at %v, want it in the pocket", q.Top)
	}
	if q.Closed || q.Vent != "" || len(q.Tops) != 1 {
		t.Errorf("%s", Air{Traps: []Trap{q}}.summary())
	}
}

// An annular half-round groove in the roof, by Pappus-Guldin: its ridge is level all
// around, so it is one trap with one top, at any cell.
func TestAnnularGroove(t *testing.T) {
	m := solid.NewModel()
	ring := m.Revolve("groove", "", solid.AxisFrame(mesh.Vec{}, up), solid.Profile{}.LineTo(14, 19).LineTo(20, 19).LineTo(20, 20).ArcTo(14, 20, 17, 20, true))
	n := solid.Union(drum(m), ring)
	want := math.Pi * 9 / 2 * 2 * math.Pi * 17
	for _, cell := range []float64{1, .5, .31} {
		c := cavity(t, n, cell, vent("vent 1", 25, 0, 20, 1))
		q := only(t, c.Traps(Tilt{}))
		within(t, fmt.Sprintf("cell %g: volume", cell), q.Volume, want, .01)
		if len(q.Tops) != 1 {
			t.Errorf("cell %g: %d tops, want 1", cell, len(q.Tops))
		}
		if a := cavity(t, n, cell, vent("vent 1", 25, 0, 20, 1), vent("vent 2", 0, 17, 23, 1)).Traps(Tilt{}); len(a.Traps) != 0 {
			t.Errorf("cell %g: with a vent on the ridge there is still %s", cell, a.summary())
		}
	}
}

// A box under a tilt, with one vent in its roof. Air stays above the level plane
// through the highest point of the vent's rim: of the roof it keeps the corner toward
// which it is raised, of depth h below the roof's highest point. For the roof seen as
// the plane z = 0 with slopes a, b along x and y from the highest corner, the volume
// is that of a pyramid h³/(6ab) less those that stick out of the box.
func TestTiltedBox(t *testing.T) {
	m := solid.NewModel()
	const lx, ly, lz, r = 60.0, 40.0, 30.0, 1.0
	n := m.Box("box", "", mesh.Vec{-lx / 2, -ly / 2, 0}, mesh.Vec{lx / 2, ly / 2, lz})
	at := mesh.Vec{-25, -15, lz}
	c := cavity(t, n, .25, Opening{Name: "vent 1", At: at, R: r})
	for _, tilt := range []Tilt{{5, 0}, {5, 90}, {10, 30}, {3, 60}, {2, 45}, {4, 180}, {8, 250}, {6, 340}} {
		u := tilt.Up()
		a, b := math.Abs(u[0])/u[2], math.Abs(u[1])/u[2] // slopes of the level against the roof
		dx, dy := lx/2-math.Copysign(1, u[0])*at[0], ly/2-math.Copysign(1, u[1])*at[1]
		// Depth along z of the level below the roof's highest corner.
		h := a*dx + b*dy - r*math.Hypot(a, b)
		want := prism(h, a, b, lx, ly, lz)
		air := c.Traps(tilt)
		if len(air.Traps) == 0 {
			t.Errorf("%v: no trap, want %.3f mm³", tilt, want)
			continue
		}
		q := only(t, air)
		within(t, fmt.Sprintf("%v: volume", tilt), q.Volume, want, .01)
		if q.Vent != "vent 1" {
			t.Errorf("%v: leaves by %q", tilt, q.Vent)
		}
		// The top is the raised corner.
		if a > .01 && q.Top[0]*u[0] <= 0 || b > .01 && q.Top[1]*u[1] <= 0 {
			t.Errorf("%v: top at %.1f, want it where the box is raised", tilt, q.Top)
		}
		within(t, fmt.Sprintf("%v: saddle", tilt), q.Saddle, u.Dot(at)+r*math.Hypot(u[0], u[1]), 1e-4)
	}
}

// prism is the volume of {0 <= x <= lx, 0 <= y <= ly, 0 <= z <= lz: z + a·x + b·y <= h},
// inclusion and exclusion of the corners' pyramids, with slopes of nothing as limits.
func prism(h, a, b, lx, ly, lz float64) float64 {
	a, b = max(a, 1e-6), max(b, 1e-6)
	v := 0.0
	for i := range 8 {
		k, sign := h, 1.0
		for bit, d := range []float64{a * lx, b * ly, lz} {
			if i>>bit&1 == 1 {
				k, sign = k-d, -sign
			}
		}
		v += sign * math.Pow(max(0, k), 3) / (6 * a * b)
	}
	return v
}

// A roof that slopes to the vent keeps nothing; one that slopes away keeps the wedge
// above the vent's rim.
func TestSlopingRoof(t *testing.T) {
	m := solid.NewModel()
	f := solid.Frame{X: mesh.Vec{1, 0, 0}, Y: up, Z: mesh.Vec{0, -1, 0}}
	n := m.Extrude("ramp", "", f, -20, 20, solid.Poly(0, 0, 50, 0, 50, 20, 0, 15))
	if a := cavity(t, n, .5, vent("high", 47, 3, 20, 3)).Traps(Tilt{}); len(a.Traps) != 0 {
		t.Errorf("vent at the high end: %s", a.summary())
	}
	q := only(t, cavity(t, n, .25, vent("low", 10, 3, 16, 2)).Traps(Tilt{}))
	within(t, "wedge", q.Volume, 38*3.8/2*40, .01) // from x = 12, where the roof is 3.8 lower than at x = 50
	within(t, "saddle", q.Saddle, 16.2, 1e-3)
}

// Two domes of different height on one vented roof, the one with a smaller dome on
// its shoulder: two traps, the second with two tops.
func TestNestedTops(t *testing.T) {
	m := solid.NewModel()
	a := m.Cylinder("a", "", mesh.Vec{-15, 0, 0}, up, 6, 19, 23)
	b := m.Cylinder("b", "", mesh.Vec{12, 0, 0}, up, 10, 19, 24)
	b1 := m.Cylinder("b1", "", mesh.Vec{7, 0, 0}, up, 3, 23, 29)
	b2 := m.Cylinder("b2", "", mesh.Vec{17, 0, 0}, up, 3, 23, 27)
	n := solid.Union(drum(m), a, b, b1, b2)
	c := cavity(t, n, .25, vent("vent 1", 0, 25, 20, 1))
	air := c.Traps(Tilt{})
	if len(air.Traps) != 2 {
		t.Fatalf("%s", air.summary())
	}
	p, q := air.Traps[0], air.Traps[1]
	within(t, "larger", p.Volume, math.Pi*(100*4+9*5+9*3), .01)
	within(t, "smaller", q.Volume, math.Pi*36*3, .01)
	if len(p.Tops) != 2 || math.Abs(p.Tops[0][2]-29) > 1e-9 || math.Abs(p.Tops[1][2]-27) > 1e-9 {
		t.Errorf("tops %v, want one at 29 and one at 27 mm", p.Tops)
	}
	// With a vent in the higher of both domes, what is left of it is the other.
	air = c.With(vent("vent 2", 7, 0, 29, 1)).Traps(Tilt{})
	if len(air.Traps) != 2 {
		t.Fatalf("%s", air.summary())
	}
	within(t, "what is left", air.Traps[1].Volume, math.Pi*9*3, .01)
	// A vent on the shoulder lets the shoulder's air out, and leaves both domes.
	air = c.With(vent("vent 2", 12, 6, 24, 1)).Traps(Tilt{})
	if len(air.Traps) != 3 {
		t.Fatalf("%s", air.summary())
	}
	within(t, "dome", air.Traps[1].Volume, math.Pi*9*5, .01)
	// A vent at every local top: nothing is left.
	air = c.With(vent("2", 7, 0, 29, 1), vent("3", 17, 0, 27, 1), vent("4", -15, 0, 23, 1)).Traps(Tilt{})
	if len(air.Traps) != 0 {
		t.Errorf("with a vent at every top: %s", air.summary())
	}
}

// A wheel's annulus under a tilt, vents on a circle: air stays in the crescent of the
// raised rim above the highest vent's rim; its volume by quadrature over the annulus.
func TestTiltedAnnulus(t *testing.T) {
	m := solid.NewModel()
	const ri, ro, top, r, rv = 25.0, 50.0, 30.0, 1.5, 38.0
	n := m.Revolve("annulus", "", solid.AxisFrame(mesh.Vec{}, up), solid.Poly(ri, 0, ro, 0, ro, top, ri, top))
	c := cavity(t, n, .4, vent("vent 1", rv, 0, top, r), vent("vent 2", -rv, 0, top, r))
	for _, tilt := range []Tilt{{4, 0}, {4, 20}, {2.5, 45}, {1, 130}, {3, 180}} {
		u := tilt.Up()
		slope := math.Hypot(u[0], u[1]) / u[2]
		// Along the direction of the tilt, both vents' positions and the saddle's.
		s := math.Abs(rv*math.Cos(tilt.Toward*math.Pi/180)) + r
		want := 0.0
		const n = 2000
		for i := range n {
			rho := ri + (ro-ri)*(float64(i)+.5)/n
			if rho > s { // ∫ (ρ cos φ - s)·slope dφ over cos φ > s/ρ
				phi := math.Acos(s / rho)
				want += 2 * (rho*math.Sin(phi) - s*phi) * slope * rho * (ro - ri) / n
			}
		}
		q := only(t, c.Traps(tilt))
		within(t, fmt.Sprintf("%v: volume", tilt), q.Volume, want, .01)
	}
}

// An undercut that runs around outward (a fin on the rubber): at rest its level roof
// keeps nothing. Tilted, air stays in the raised side's outer part: over the segment
// of the disc beyond the inner edge, by quadrature.
func TestUndercut(t *testing.T) {
	m := solid.NewModel()
	const ri, ro, z0, z1 = 30.0, 38.0, 12.0, 18.0
	n := solid.Union(m.Cylinder("well", "", mesh.Vec{}, up, ri, 0, 40), m.Cylinder("fin", "", mesh.Vec{}, up, ro, z0, z1))
	// The vent is as wide as the roof allows, so that the roof itself keeps little.
	c := cavity(t, n, .25, vent("vent 1", 0, 0, 40, 29.9))
	if a := c.Traps(Tilt{}); len(a.Traps) != 0 {
		t.Fatalf("at rest: %s", a.summary())
	}
	for _, tilt := range []Tilt{{6, 0}, {6, 90}, {4, 200}} {
		u := tilt.Up()
		slope := math.Hypot(u[0], u[1]) / u[2]
		want := 0.0
		const k = 4000
		for i := range k { // chords across the direction of the tilt
			x := ri + (ro-ri)*(float64(i)+.5)/k
			want += 2 * math.Sqrt(ro*ro-x*x) * (x - ri) * slope * (ro - ri) / k
		}
		a := c.Traps(tilt)
		if len(a.Traps) == 0 {
			t.Fatalf("%v: no trap", tilt)
		}
		q := a.Traps[0]
		within(t, fmt.Sprintf("%v: volume", tilt), q.Volume, want, .01)
		within(t, fmt.Sprintf("%v: saddle", tilt), q.Saddle, z1*u[2]+ri*math.Hypot(u[0], u[1]), 1e-4)
		if math.Abs(q.Top[2]-z1) > 1e-9 || q.Top[0]*u[0]+q.Top[1]*u[1] < 0 {
			t.Errorf("%v: top at %.1f, want it under z = %g on the raised side", tilt, q.Top, z1)
		}
	}
}

// A chamber with no vent at all keeps all of its air; a gate in it is told, and lets
// out none.
func TestClosedChamber(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(drum(m), m.Cylinder("far", "", mesh.Vec{80, 0, 0}, up, 10, 0, 15))
	gate := vent("sprue 1", 80, 0, 15, 3)
	gate.Gate = true
	q := only(t, cavity(t, n, .25, vent("vent 1", 0, 0, 20, 1), gate).Traps(Tilt{}))
	within(t, "volume", q.Volume, math.Pi*1500, .01)
	if !q.Closed || len(q.Gates) != 1 || q.Gates[0] != "sprue 1" || q.Saddle != 0 {
		t.Errorf("%s", Air{Traps: []Trap{q}}.summary())
	}
}

// Ridges, cones and crowns at any angle to the grid have no traps of the grid's
// making, at rest and under a tilt, with one vent at the highest point; and with a
// vent beside it a single one.
func TestGridMakesNoTraps(t *testing.T) {
	m := solid.NewModel()
	at := solid.AxisFrame(mesh.Vec{.3, .7, 0}, up)
	roofs := map[string]*solid.Node{
		"ring ridge":  m.Revolve("", "", at, solid.Poly(10, 0, 40, 0, 40, 10, 25, 22, 10, 10)),
		"coned":       m.Revolve("", "", at, solid.Poly(10, 0, 40, 0, 40, 10, 25, 10.13, 10, 10)),
		"cone":        m.Revolve("", "", at, solid.Poly(0, 0, 40, 0, 40, 10, 0, 30)),
		"crown":       m.Revolve("", "", at, solid.Profile{}.LineTo(0, 0).LineTo(40, 0).LineTo(40, 20).ArcTo(0, 60, 0, 20, true)),
		"half rounds": m.Revolve("", "", at, solid.Profile{}.LineTo(10, 0).LineTo(40, 0).LineTo(40, 20).ArcTo(10, 20, 25, 20, true)),
	}
	for k, a := range []float64{0, 3, 17, 30, 45, 71} {
		sn, cs := math.Sincos(a * math.Pi / 180)
		f := solid.Frame{O: mesh.Vec{.2, .4, 0}, X: mesh.Vec{-sn, cs, 0}, Y: up, Z: mesh.Vec{cs, sn, 0}}
		roofs[fmt.Sprintf("gable at %g", a)] = m.Extrude(fmt.Sprint(k), "", f, -40, 40, solid.Poly(-12, 0, 12, 0, 12, 8, 0, 24, -12, 8))
		roofs[fmt.Sprintf("vault at %g", a)] = m.Extrude(fmt.Sprint(k), "", f, -40, 40, solid.Profile{}.LineTo(-12, 0).LineTo(12, 0).LineTo(12, 12).ArcTo(-12, 12, 0, 12, true))
	}
	for name, n := range roofs {
		for _, cell := range []float64{1, .7} {
			c := cavity(t, n, cell)
			for _, tilt := range []Tilt{{}, {2, 10}, {7, 100}, {15, 222}} {
				q := only(t, c.Traps(tilt)) // closed: no vent
				if len(q.Tops) != 1 {
					t.Errorf("%s, cell %g, %v: %d tops, want 1: %.2f", name, cell, tilt, len(q.Tops), q.Tops)
				}
				if a := c.With(Opening{Name: "v", At: q.Top, R: .1}).Traps(tilt); len(a.Traps) != 0 {
					t.Errorf("%s, cell %g: with a vent at the top: %s", name, cell, a.summary())
				}
			}
		}
	}
}

// A ring ridge cut by ribs: every lug between two of them without a vent keeps the air
// above the roof at the ribs' feet. The ring by Pappus-Guldin, less the ribs by
// quadrature. The air leaves along the ribs' feet, which columns follow within one cell:
// the saddle is up to .25·.15 mm low, the trap up to 7.6 % large.
func TestRidgeCutByRibs(t *testing.T) {
	m := solid.NewModel()
	const lugs, foot, half = 12, 32.0, 3.0
	ring := m.Revolve("ring", "", solid.AxisFrame(mesh.Vec{}, up), solid.Poly(20, 0, 40, 0, 40, 20, 36, 24, 20, 20))
	over := func(r float64) float64 { return max(0, min(24-(r-36), 24-(36-r)/4)-23) }
	inRib := 0.0
	const k = 400
	for i := range k {
		for j := range k {
			x, y := foot+6*(float64(i)+.5)/k, half*(float64(j)+.5)/k
			inRib += 2 * over(math.Hypot(x, y)) * 6 * half / k / k
		}
	}
	lug := 2*math.Pi*35*2.5/lugs - inRib // a triangle of 5 mm by 1 mm about r = 35 mm
	var ribs []*solid.Node
	var vents []Opening
	for i := range lugs {
		sn, cs := math.Sincos(2 * math.Pi * float64(i) / lugs)
		f := solid.Frame{X: mesh.Vec{cs, sn, 0}, Y: mesh.Vec{-sn, cs, 0}, Z: up}
		ribs = append(ribs, m.BoxIn(fmt.Sprint("rib ", i), "", f, mesh.Vec{foot, -half, -1}, mesh.Vec{45, half, 30}))
		sn, cs = math.Sincos(2 * math.Pi * (float64(i) + .5) / lugs)
		vents = append(vents, vent(fmt.Sprint("vent ", i), 36*cs, 36*sn, 24, 1))
	}
	c := cavity(t, solid.Minus(ring, ribs...), .15)
	for _, n := range []int{3, 9, 12} {
		a := c.With(vents[:n]...).Traps(Tilt{})
		tops := 0
		for _, q := range a.Traps {
			tops += len(q.Tops)
		}
		if tops != lugs-n {
			t.Errorf("%d vents: %d tops, want %d: %s", n, tops, lugs-n, a.summary())
		}
		within(t, fmt.Sprintf("%d vents: volume", n), a.Volume, float64(lugs-n)*lug, .08)
	}
}

// Turning everything by a quarter, or the model by any angle, changes no result
// beyond the grid's error.
func TestTurned(t *testing.T) {
	volume := func(turn float64) Air {
		m := solid.NewModel()
		sn, cs := math.Sincos(turn * math.Pi / 180)
		at := func(x, y, z float64) mesh.Vec { return mesh.Vec{x*cs - y*sn, x*sn + y*cs, z} }
		f := solid.Frame{X: at(1, 0, 0), Y: at(0, 1, 0), Z: up}
		n := solid.Union(m.BoxIn("box", "", f, mesh.Vec{-30, -20, 0}, mesh.Vec{30, 20, 15}), m.Cylinder("dome", "", at(12.1, 5.3, 0), up, 7.03, 14, 20))
		return cavity(t, n, .4, Opening{Name: "v", At: at(-20, -11, 15), R: 1}).Traps(Tilt{6, 25 + turn})
	}
	want := volume(0)
	for _, turn := range []float64{90, 180, 270} {
		got := volume(turn)
		within(t, fmt.Sprintf("turned by %g", turn), got.Volume, want.Volume, 1e-9)
		if len(got.Traps) != len(want.Traps) {
			t.Errorf("turned by %g: %s", turn, got.summary())
		}
	}
	for _, turn := range []float64{10, 45, 77} {
		within(t, fmt.Sprintf("turned by %g", turn), volume(turn).Volume, want.Volume, .01)
	}
}

// Resolution: the volumes' errors fall at least linearly with the cell.
func TestConvergence(t *testing.T) {
	m := solid.NewModel()
	ring := m.Revolve("groove", "", solid.AxisFrame(mesh.Vec{}, up), solid.Poly(12, 19, 22, 19, 17, 26))
	cone := m.Cone("cone", "", mesh.Vec{0, 0, 19}, up, 9, 0, 2, 9)
	n := solid.Union(drum(m), ring, cone)
	r := 22.0 - 5.0/7 // the groove's width at the roof is 10 less 2·5/7
	half := r - 17
	base := 9 - 7.0/9 // the cone's radius at the roof
	want := half*6*2*math.Pi*17 + math.Pi*8*(base*base+2*base+4)/3
	t.Logf("%8s %12s %10s", "cell", "mm³", "error")
	var cells, errs []float64
	for _, cell := range []float64{2, 1.4, 1, .7, .5, .35, .25, .175} {
		got := cavity(t, n, cell, vent("v", 26, 0, 20, 1)).Traps(Tilt{}).Volume
		t.Logf("%8.3g %12.3f %9.3f%%", cell, got, 100*(got/want-1))
		cells, errs = append(cells, math.Log(cell)), append(errs, math.Log(math.Abs(got/want-1)+1e-9))
	}
	order := slope(cells, errs)
	t.Logf("order %.2f", order)
	if order < 1 {
		t.Errorf("error falls as cell^%.2f, want at least cell", order)
	}
}

// slope of the line of least squares.
func slope(x, y []float64) float64 {
	var sx, sy, sxx, sxy float64
	for i := range x {
		sx, sy, sxx, sxy = sx+x[i], sy+y[i], sxx+x[i]*x[i], sxy+x[i]*y[i]
	}
	n := float64(len(x))
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

// An open roof lets out all air but what a bell keeps from it: a cylinder of 4 mm that
// hangs open 5 mm above its rim, in a drum of 10 mm.
func TestOpenRoof(t *testing.T) {
	m := solid.NewModel()
	bell := solid.Minus(m.Cylinder("bell", "", mesh.Vec{}, up, 5, 5, 11), m.Cylinder("inside", "", mesh.Vec{}, up, 4, 4, 10))
	n := solid.Minus(m.Cylinder("drum", "", mesh.Vec{}, up, 10, 0, 20), bell)
	open := Opening{Name: "open top", At: mesh.Vec{0, 0, 20}, R: math.Inf(1)}
	q := only(t, cavity(t, n, .1, open).Traps(Tilt{}))
	within(t, "bell", q.Volume, math.Pi*16*5, .005)
	if q.Closed || math.Abs(q.Saddle-5) > 1e-9 {
		t.Errorf("%+v", q)
	}
	if a := cavity(t, m.Cylinder("bucket", "", mesh.Vec{}, up, 10, 0, 20), .1, open).Traps(Tilt{}); len(a.Traps) > 0 {
		t.Errorf("a bucket traps air: %s", a.summary())
	}
}
