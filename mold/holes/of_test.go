package holes_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// jobs are the examples, and wheels in every split with jack screws, some with stock.
func jobs(t *testing.T) []*params.Job {
	var out []*params.Job
	add := func(name string, j *params.Job) {
		j.Name = name
		out = append(out, j)
	}
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		if name == "albatross" && testing.Short() {
			continue
		}
		add(name, moldtest.Example(t, name))
	}
	for i, s := range moldtest.Splits {
		w := moldtest.Wheels[1+i%2]
		sets := append([]string{"mold.jacks.size=M5", "mold.bolts.nut=" + []string{"hex", "round"}[i/2%2], "mold.mating.stock=" + []string{"0.2mm", "0mm"}[i/3%2]}, s.Sets...)
		add(s.Name+" "+w.String(), w.Job(t, sets...))
	}
	return out
}

// drilled is a feature of the layout: the radii of its walls about an axis, and between
// which places along it they lie. Of a cone it is that at its wider end.
type drilled struct {
	name, role string
	at, dir    mesh.Vec
	lo, hi     float64
	radii      []float64
}

func features(l *mold.Layout) []drilled {
	var out []drilled
	up := mesh.Vec{0, 0, 1}
	far := 2 * l.OuterX
	add := func(name, role string, at, dir mesh.Vec, lo, hi float64, radii ...float64) {
		radii = slices.DeleteFunc(radii, func(r float64) bool { return r == 0 })
		out = append(out, drilled{name, role, at, dir, lo, hi, slices.Compact(radii)})
	}
	for i, b := range l.Bolts {
		nut := b.NutR
		if b.NutHex {
			nut = 0
		}
		add(fmt.Sprintf("bolt hole %d", i+1), mold.RoleBolt, b.At, up, -far, far, b.R, b.HeadR, nut)
	}
	for i, b := range l.Balls {
		dir := mesh.Vec{}
		dir[b.Axis] = 1
		add(fmt.Sprintf("ball pocket %d of %s", i+1, b.Line), mold.RoleBall, b.At, dir, -b.Depth, b.Depth, b.R)
	}
	for i, c := range l.Cross {
		add(fmt.Sprintf("cross bolt hole %d", i+1), mold.RoleBolt, mesh.Vec{c.X, 0, c.Z}, mesh.Vec{0, 1, 0}, -far, far, c.R, c.RecessR)
	}
	for _, j := range l.Jacks {
		add(j.Name, mold.RoleJack, j.At, j.Dir, -1, far, j.R, j.Wide)
	}
	for i, p := range l.Gates {
		add(fmt.Sprintf("sprue %d", i+1), mold.RoleSprue, p, up, 0, far, l.MouthR)
	}
	for i, p := range l.Vents {
		add(fmt.Sprintf("vent %d", i+1), mold.RoleVent, p, up, 0, far, l.VentR)
	}
	return out
}

// shell finds, in steps of 0.1 mm along the axis, where a piece has material around a
// wall of radius r and none just within it, and the largest share of the turn that it
// takes.
func (d *drilled) shell(p *solid.Node, r float64) (lo, hi, share float64) {
	const step = 0.1
	apart := 0.03 // closer than a nut's flats come to a round recess
	if d.role == mold.RoleSprue {
		apart = 0.1 // a step along the cone moves its wall
	}
	f := solid.AxisFrame(d.at, d.dir)
	lo, hi = math.Inf(1), math.Inf(-1)
	for h := d.lo; h < d.hi; h += step {
		n := 0
		for i := range 16 {
			s, c := math.Sincos(2 * math.Pi * (float64(i) + .37) / 16)
			ray := f.X.Scale(c).AddScaled(s, f.Y)
			o := d.at.AddScaled(h, d.dir)
			if p.Contains(o.AddScaled(r+apart, ray)) && !p.Contains(o.AddScaled(r-apart, ray)) {
				n++
			}
		}
		if n > 5 { // of half a hole 8 are left, and a nut's corners make fewer
			lo, hi, share = min(lo, h), max(hi, h), max(share, float64(n)/16)
		}
	}
	return lo, hi, share
}

// Every bolt, ball, jack screw, cross bolt, gate and vent of the layout is a hole once in
// each piece that has a wall around it, as wide as there and as deep as points inside and
// outside of the solid say; and there is no other.
func TestHolesAreTheLayouts(t *testing.T) {
	for _, j := range jobs(t) {
		t.Run(j.Name, func(t *testing.T) {
			m, c := moldtest.Checked(t, j)
			for _, p := range m.Pieces {
				got, err := holes.Of(m, p.Name, c.RawFaces[p.Name])
				if err != nil {
					t.Fatal(err)
				}
				if p.Kind == mold.Hub {
					continue
				}
				found := 0
				for _, d := range features(m.Layout) {
					if checkFeature(t, &p, &d, got) {
						found++
					}
				}
				checkMarks(t, p.Name, got)
				if len(got) != found {
					t.Errorf("%s: %d holes, but %d features of the layout pass it", p.Name, len(got), found)
				}
			}
		})
	}
}

// checkMarks: every mark is there once, and one letter's holes are drilled alike, from one
// side.
func checkMarks(t *testing.T, piece string, got []holes.Hole) {
	t.Helper()
	first, seen := map[string]holes.Hole{}, map[string]bool{}
	for _, h := range got {
		if seen[h.Mark] {
			t.Errorf("%s: two holes %s", piece, h.Mark)
		}
		seen[h.Mark] = true
		k, ok := first[strings.TrimRight(h.Mark, "0123456789")]
		if !ok {
			first[strings.TrimRight(h.Mark, "0123456789")] = h
			continue
		}
		if h.Role != k.Role || h.Dir.Dot(k.Dir) < .9 || len(h.Steps) != len(k.Steps) || math.Abs(h.Depth()-k.Depth()) > 1e-3 || math.Abs(h.Least()-k.Least()) > 1e-3 {
			t.Errorf("%s: %s and %s are not alike", piece, h.Name, k.Name)
		}
	}
}

// checkFeature compares a feature with the holes of a piece, and tells whether the piece
// has a part of it.
func checkFeature(t *testing.T, p *mold.Piece, d *drilled, got []holes.Hole) bool {
	t.Helper()
	var h *holes.Hole
	for i := range got {
		if got[i].Name != d.name || got[i].Dir.Cross(d.dir).Norm() > 1e-9 || got[i].At.Sub(d.at).Cross(d.dir).Norm() > 1e-6 {
			continue
		}
		if h != nil {
			t.Errorf("%s: %s is there twice", p.Name, d.name)
		}
		h = &got[i]
	}
	any := false
	for _, r := range d.radii {
		lo, hi, share := d.shell(p.Raw, r)
		if share == 0 {
			continue
		}
		any = true
		if h == nil {
			t.Errorf("%s: %s is missing", p.Name, d.name)
			return true
		}
		if h.Role != d.role || h.Half != (share < .7) {
			t.Errorf("%s: %s is a %s, half %v, where its wall takes %.2f of the turn", p.Name, d.name, h.Role, h.Half, share)
		}
		checkStep(t, p, d, h, r, lo, hi)
	}
	if !any && h != nil {
		t.Errorf("%s: has %s, which it has no wall of", p.Name, d.name)
	}
	return any
}

// checkStep looks for the step of a radius between two places along the feature's axis.
func checkStep(t *testing.T, p *mold.Piece, d *drilled, h *holes.Hole, r, lo, hi float64) {
	t.Helper()
	const near = 0.25 // two steps of the search
	for _, s := range h.Steps {
		if math.Abs(max(s.D0, s.D1)-2*r) > 1e-9 {
			continue
		}
		a := h.At.AddScaled(s.From, h.Dir).Sub(d.at).Dot(d.dir)
		b := h.At.AddScaled(s.To, h.Dir).Sub(d.at).Dot(d.dir)
		if a > b {
			a, b = b, a
		}
		if d.role == mold.RoleSprue { // a cone: only its wider end is found
			a = lo
		}
		slack := near
		if h.Role == mold.RoleBolt || h.Role == mold.RoleJack { // may open to an oblique face, measured on the axis
			slack += obliqueness(p, h, r)
		}
		if math.Abs(a-lo) > slack || math.Abs(b-hi) > slack {
			t.Errorf("%s: %s of radius %.3f goes from %.3f to %.3f, its wall from %.1f to %.1f", p.Name, d.name, r, a, b, lo, hi)
		}
		return
	}
	t.Errorf("%s: %s has no step of radius %.4f: %+v", p.Name, d.name, r, h.Steps)
}

// obliqueness is by how much the wall of a hole across the axis may reach further out
// than its axis: on a face at 45° by its radius.
func obliqueness(p *mold.Piece, h *holes.Hole, r float64) float64 {
	if p.Kind == mold.Shell && math.Abs(h.Dir[2]) < .5 {
		return r
	}
	return 0
}

// The floor of a ball pocket is as deep as the layout says, plus what is lapped off; a
// counterbore is as deep as its head; a thread goes through a plate, and is twice as deep
// as wide in a shell.
func TestDepths(t *testing.T) {
	m, c := moldtest.Checked(t, moldtest.Wheels[2].Job(t, "mold.mating.stock=0.25mm", "mold.jacks.size=M5"))
	for _, p := range m.Pieces {
		got, err := holes.Of(m, p.Name, c.RawFaces[p.Name])
		if err != nil {
			t.Fatal(err)
		}
		stock := map[bool]float64{true: 0.25}[p.Raw != p.Root]
		for _, h := range got {
			want, at := h.Depth(), "depth"
			have := want
			switch {
			case h.Role == mold.RoleBall:
				want = m.Layout.Balls[0].Depth + stock
			case h.Role == mold.RoleBolt && p.Name == "lid":
				have, want, at = h.Steps[0].To, m.Layout.Bolts[0].HeadD, "counterbore"
			case h.Role == mold.RoleBolt && p.Name == "base" && len(h.Steps) > 1:
				have, want, at = h.Steps[0].To, m.Layout.Bolts[0].NutD, "nut recess"
			case h.Role == mold.RoleBolt && p.Kind == mold.Shell && h.Dir[2] != 0:
				want = m.Layout.Top + 2*stock
			case h.Role == mold.RoleJack && p.Kind == mold.Shell:
				have, want, at = h.ThreadDepth, 10+stock, "thread"
			case h.Role == mold.RoleJack:
				have, want, at = h.ThreadDepth, map[string]float64{"base": -m.Layout.Bottom, "lid": m.Layout.Ceil - m.Layout.Top}[p.Name], "thread"
			}
			if math.Abs(have-want) > 1e-4 { // heights lie on the lattice, the stock does not
				t.Errorf("%s: %s: %s of %.4f, want %.4f", p.Name, h.Name, at, have, want)
			}
			if (h.Thread == "M5") != (h.Role == mold.RoleJack) {
				t.Errorf("%s: %s: thread %q", p.Name, h.Name, h.Thread)
			}
		}
	}
}

// A turned hub with everything: its bore with all recesses from the seat's side on, its
// bolt holes from the floor of the seat, its lock holes from where their axis meets the
// body.
func TestHubHoles(t *testing.T) {
	j := moldtest.Wheels[2].Job(t, "hub.body_diameter=140mm", "hub.length=60mm",
		"hub.bearing_back.diameter=47mm", "hub.bearing_back.depth=14mm", "hub.bearing_front.diameter=47mm", "hub.bearing_front.depth=12mm",
		"hub.seat.side=front", "hub.seat.diameter=110mm", "hub.seat.depth=3mm", "hub.bolts.count=6", "hub.bolts.circle=80mm", "hub.bolts.hole=6.6mm",
		"hub.lock_holes.count=4", "hub.lock_holes.diameter=5mm", "hub.lock_holes.depth=8mm", "hub.lock_holes.position=14mm")
	m, c := moldtest.Checked(t, j)
	got, err := holes.Of(m, "hub", c.RawFaces["hub"])
	if err != nil {
		t.Fatal(err)
	}
	type row struct {
		name    string
		through bool
		steps   [][3]float64 // from, to, diameter
	}
	want := map[string]row{
		"A": {"bore", true, [][3]float64{{0, 3, 110}, {3, 15, 47}, {15, 46, 20}, {46, 60, 47}}},
		"B": {"hub bolt hole", true, [][3]float64{{0, 57, 6.6}}},
		"C": {"lock hole", false, [][3]float64{{0, 8, 5}}},
	}
	if len(got) != 6+1+4 {
		t.Errorf("%d holes, want 6 for bolts, the bore and 4 for rubber", len(got))
	}
	for _, h := range got {
		w := want[h.Mark[:1]]
		if h.Name[:4] != w.name[:4] || h.Through != w.through || len(h.Steps) != len(w.steps) {
			t.Errorf("%s: %+v, want %+v", h.Mark, h, w)
			continue
		}
		for i, s := range h.Steps {
			if d := math.Abs(s.From-w.steps[i][0]) + math.Abs(s.To-w.steps[i][1]) + math.Abs(s.D0-w.steps[i][2]) + math.Abs(s.D1-s.D0); d > 3e-4 { // the lattice
				t.Errorf("%s: step %d is %+v, want %v", h.Name, i, s, w.steps[i])
			}
		}
	}
}

// Vents of a coned ceiling open across its ridge: alike all around, they are of one kind,
// as deep as the lid is thick above the ridge.
func TestVentsOfAConedCeilingAreAlike(t *testing.T) {
	m, c := moldtest.Checked(t, moldtest.Example(t, "albatross"))
	got, err := holes.Of(m, "lid", c.RawFaces["lid"])
	if err != nil {
		t.Fatal(err)
	}
	kinds, n := map[string]bool{}, 0
	for _, h := range got {
		if h.Role != mold.RoleVent {
			continue
		}
		n++
		kinds[h.Mark[:1]] = true
		if want := m.Layout.Ceil - m.Layout.Top - m.Tread.Ceiling; math.Abs(h.Depth()-want) > 1e-3 {
			t.Errorf("%s: %.4f deep, want %.4f", h.Name, h.Depth(), want)
		}
	}
	if n != len(m.Layout.Vents) || len(kinds) != 1 {
		t.Errorf("%d vents of %d kinds, want %d of one", n, len(kinds), len(m.Layout.Vents))
	}
}
