package machining

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/params"
)

// job is one with nothing but defaults, and settings on top.
func job(t *testing.T, sets ...string) *params.Job {
	t.Helper()
	var over []params.Setting
	for _, s := range sets {
		x, err := params.ParseSetting(s)
		if err != nil {
			t.Fatal(err)
		}
		over = append(over, x)
	}
	j, _, err := params.Parse("test", []byte("[wheel]\ndiameter = \"100 mm\"\nwidth = \"30 mm\"\n[hub]\nbore = \"10 mm\"\n"), over...)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// put lays a solid on the mill as a plate whose inside looks to +z.
func put(t *testing.T, j *params.Job, m *solid.Model, n *solid.Node, drilled ...holes.Hole) *bench {
	t.Helper()
	f, err := brep.NewEvaluator(m).Boundary(n)
	if err != nil {
		t.Fatal(err)
	}
	s, err := region.Of(f)
	if err != nil {
		t.Fatal(err)
	}
	b := &bench{
		m: &mold.Mold{Job: j, Split: &mold.Split{}}, piece: &mold.Piece{Name: "block", Kind: mold.Plate, Raw: n, Pull: mesh.Vec{0, 0, -1}},
		solid: s, sights: &sights{root: n}, holes: drilled, long: longest(j), off: stepOut,
	}
	b.take()
	return b
}

// milled is what is found of a solid.
func milled(t *testing.T, j *params.Job, m *solid.Model, n *solid.Node, drilled ...holes.Hole) Piece {
	t.Helper()
	var p Piece
	b := put(t, j, m, n, drilled...)
	if b.mill(&p); b.err != nil {
		t.Fatal(b.err)
	}
	return p
}

// hiddenOf are the faces that are hidden of a solid, each by itself.
func hiddenOf(t *testing.T, m *solid.Model, n *solid.Node) []Hidden {
	t.Helper()
	b := put(t, job(t), m, n)
	if b.mill(&Piece{}); b.err != nil {
		t.Fatal(b.err)
	}
	return b.hidden()
}

var zAxis = mesh.Vec{0, 0, 1}

func box(m *solid.Model, lo, hi mesh.Vec) *solid.Node { return m.Box("box", "box", lo, hi) }

// sum of hidden areas and of the errors' squares.
func hiddenArea(p *Piece) (area, err float64) {
	for _, h := range p.Hidden {
		area, err = area+h.Area, math.Hypot(err, h.Error)
	}
	return area, err
}

func near(got, want, within float64) bool { return math.Abs(got-want) <= within }

// A pocket in the side of a block is hidden from above and below, all of it; the side
// reaches it. One that opens upward is not, and upside down it is again.
func TestPocketInTheSide(t *testing.T) {
	side := func(m *solid.Model) *solid.Node {
		return solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{100, 60, 40}), box(m, mesh.Vec{80, 20, 15}, mesh.Vec{101, 40, 25}))
	}
	m := solid.NewModel()
	p := milled(t, job(t), m, side(m))
	const want = 2*20*20 + 2*20*10 + 20*10 // floor and roof, walls, end
	if a, e := hiddenArea(&p); !near(a, want, 1e-9*want) || e != 0 {
		t.Errorf("%.3f ± %.3f mm² hidden, want %d", a, e, want)
	}
	for _, h := range p.Hidden {
		if len(h.Reaches) != 1 || h.Reaches[0].Dir != (mesh.Vec{1, 0, 0}) {
			t.Errorf("%s: reached from %v, want +x alone", h.Shapes, h.Reaches)
		}
	}
	for _, c := range []struct {
		pull float64
		want float64
	}{{-1, 0}, {1, 2*20*10 + 2*20*10 + 20*20 + 100*60 - 20*20}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{100, 60, 40}), box(m, mesh.Vec{40, 20, 30}, mesh.Vec{60, 40, 41}))
		b := put(t, job(t, "machining.plates_from=inside"), m, n)
		b.piece.Pull = mesh.Vec{0, 0, c.pull}
		var p Piece
		b.mill(&p)
		top := 0.0
		for _, h := range p.Hidden {
			if h.At[2] > 29 { // the other face of the block is hidden, too
				top += h.Area
			}
		}
		if !near(top, c.want, 1e-9*(1+c.want)) {
			t.Errorf("drawn toward %+g: %.3f mm² hidden, want %.3f", c.pull, top, c.want)
		}
	}
}

// Of a T-slot the undersides and side walls are hidden, and of its floor what lies below
// the lips; of an undercut ring the same, and nothing reaches it.
func TestUndercuts(t *testing.T) {
	for _, c := range []struct {
		name        string
		cut         func(m *solid.Model) []*solid.Node
		whole, part float64 // hidden faces, and hidden part of a floor
		reaches     int
	}{
		{"T-slot", func(m *solid.Model) []*solid.Node {
			return []*solid.Node{box(m, mesh.Vec{45, -1, 20}, mesh.Vec{55, 61, 41}), box(m, mesh.Vec{40, -1, 10}, mesh.Vec{60, 61, 20})}
		}, 2*5*60 + 2*10*60, 2 * 5 * 60, 1},
		{"ring", func(m *solid.Model) []*solid.Node {
			o := mesh.Vec{50, 30, 0}
			return []*solid.Node{m.Cylinder("mouth", "mouth", o, zAxis, 15, 20, 41), m.Cylinder("ring", "ring", o, zAxis, 20, 10, 20)}
		}, math.Pi*(400-225) + 2*math.Pi*20*10, math.Pi * (400 - 225), 0},
	} {
		m := solid.NewModel()
		whole, part, e := 0.0, 0.0, 0.0
		for _, h := range hiddenOf(t, m, solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{100, 60, 40}), c.cut(m)...)) {
			if h.Error == 0 {
				whole += h.Area
			} else {
				part, e = part+h.Area, h.Error
			}
			if len(h.Reaches) != c.reaches {
				t.Errorf("%s: %s reached from %v", c.name, h.Shapes, h.Reaches)
			}
		}
		if !near(whole, c.whole, 1e-6*c.whole) || !near(part, c.part, 2*e) || e > .06*c.part {
			t.Errorf("%s: %.3f and %.1f ± %.1f mm² hidden, want %.3f and %.1f", c.name, whole, part, e, c.whole, c.part)
		}
	}
}

// Of a chamber behind a window some of the floor is seen through it, but nothing reaches
// all of it.
func TestChamber(t *testing.T) {
	m := solid.NewModel()
	hidden := hiddenOf(t, m, solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{100, 60, 40}),
		m.Box("chamber", "chamber", mesh.Vec{40, 10, 15}, mesh.Vec{80, 50, 25}), m.Box("window", "chamber", mesh.Vec{79, 25, 15}, mesh.Vec{101, 35, 25})))
	floors := 0
	for _, h := range hidden {
		if near(h.Of, 40*40+20*10, 1e-6) {
			if floors++; len(h.Reaches) > 0 || !near(h.Area, h.Of, 1e-6) {
				t.Errorf("%+v, want all of it hidden, and nothing that reaches it", h)
			}
		}
	}
	if floors != 2 {
		t.Errorf("%d floors and roofs hidden: %+v", floors, hidden)
	}
}

// A wall that leans over by less than the tolerance comes out straight, by more it does not.
func TestToleranceOfUndercuts(t *testing.T) {
	for _, c := range []struct{ over, off, want float64 }{{.01, .02, 0}, {.01, .001, 1}, {.1, .02, 1}} {
		m := solid.NewModel()
		n := m.Extrude("block", "", solid.Frame{X: mesh.Vec{1}, Y: mesh.Vec{0, 0, 1}, Z: mesh.Vec{0, -1, 0}}, 0, 50, solid.Poly(0, 0, 40, 0, 40+c.over, 10, 40+c.over, 20, 0, 20))
		b := put(t, job(t, "machining.plates_from=inside"), m, n)
		b.off = c.off
		var p Piece
		b.mill(&p)
		found := slices.ContainsFunc(b.hidden(), func(h Hidden) bool { return h.At[0] > 39.9 })
		if found != (c.want > 0) {
			t.Errorf("%g mm over, %g mm of tolerance: hidden %v", c.over, c.off, found)
		}
	}
}

// A hole through a block of 60 mm: 12 diameters from one side, 6 from both.
func TestDrills(t *testing.T) {
	for _, c := range []struct {
		d    float64
		from string
		want int
	}{{5, "inside", 1}, {5, "both faces", 0}, {2.9, "both faces", 1}, {6.1, "inside", 0}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{40, 40, 60}), m.Cylinder("hole", mold.RoleBolt, mesh.Vec{20, 20, 0}, zAxis, c.d/2, -1, 61))
		h := holes.Hole{Name: "hole", Role: mold.RoleBolt, At: mesh.Vec{20, 20, 60}, Dir: mesh.Vec{0, 0, -1}, Through: true, Steps: []holes.Step{{From: 0, To: 60, D0: c.d, D1: c.d}}}
		p := milled(t, job(t, "machining.plates_from="+c.from), m, n, h)
		deep := slices.DeleteFunc(p.Deep, func(d Deep) bool { return d.Sort != Hole })
		if len(deep) != c.want {
			t.Errorf("%g mm, cut from %s: %v, want %d", c.d, c.from, deep, c.want)
		}
		if p.Concave != nil {
			t.Errorf("a drilled hole counts as a radius: %v", p.Concave)
		}
	}
	// A narrow hole behind a wide one is drilled from the far end, the wide one is not.
	b := &bench{m: &mold.Mold{Job: job(t), Split: &mold.Split{}}, holes: []holes.Hole{{Role: mold.RoleBolt, Dir: mesh.Vec{0, 0, -1}, Through: true,
		Steps: []holes.Step{{From: 0, To: 90, D0: 10, D1: 10}, {From: 90, To: 100, D0: 4, D1: 4}}}}}
	if a, c := b.drillTo(&b.holes[0], 0), b.drillTo(&b.holes[0], 1); a != 90 || c != 10 {
		t.Errorf("stepped hole drilled %g and %g mm deep, want 90 and 10", a, c)
	}
	b.holes[0].Steps = []holes.Step{{From: 0, To: 90, D0: 4, D1: 4}, {From: 90, To: 100, D0: 10, D1: 10}}
	if a, c := b.drillTo(&b.holes[0], 0), b.drillTo(&b.holes[0], 1); a != 50 || c != 10 {
		t.Errorf("hole wider at its far end drilled %g and %g mm deep, want 50 from both ends and 10", a, c)
	}
}

// rounded is a block with a pocket of 40 x 40 mm whose corners are round by r.
func rounded(m *solid.Model, r, depth float64) *solid.Node {
	q := solid.Profile{}.LineTo(-20+r, -20).LineTo(20-r, -20).ArcTo(20, -20+r, 20-r, -20+r, true).LineTo(20, 20-r).
		ArcTo(20-r, 20, 20-r, 20-r, true).LineTo(-20+r, 20).ArcTo(-20, 20-r, -20+r, 20-r, true).LineTo(-20, -20+r).ArcTo(-20+r, -20, -20+r, -20+r, true)
	return solid.Minus(box(m, mesh.Vec{-30, -30, -depth - 20}, mesh.Vec{30, 30, 0}), m.Extrude("pocket", "pocket", solid.AxisFrame(mesh.Vec{}, zAxis), -depth, 1, q[:len(q)-1]))
}

// A pocket 30 mm deep takes the standard cutters of 10 mm, not those of 6 mm, which
// reach 25 at most: a corner of 5 mm is cut, one of a hundredth less is not.
func TestPocketCorners(t *testing.T) {
	for _, c := range []struct {
		r, depth, cutter, left float64
	}{
		{5, 30, 10, 0}, {5.05, 30, 10, 0}, {4.95, 30, 0, .05 * (math.Sqrt2 - 1)}, {2, 30, 0, 3 * (math.Sqrt2 - 1)},
		{2, 15, 4, 0}, {8, 45, 16, 0}, {8.1, 20, 16, 0}, {2, 60, 0, 0},
	} {
		m := solid.NewModel()
		p := milled(t, job(t), m, rounded(m, c.r, c.depth))
		if p.Concave == nil || !near(p.Concave.Radius, c.r, 1e-9) || !p.Concave.Along || !near(p.Concave.Depth, c.depth, 1e-3) {
			t.Fatalf("corner of %g mm, %g deep: %+v", c.r, c.depth, p.Concave)
		}
		got := 0.0
		if p.Concave.Cutter != nil {
			got = p.Concave.Cutter.Diameter
		}
		if got != c.cutter || !near(p.Concave.Left, c.left, 1e-9) {
			t.Errorf("corner of %g mm, %g deep: cutter of %g leaves %g, want %g and %g", c.r, c.depth, got, p.Concave.Left, c.cutter, c.left)
		}
	}
}

// Half a bore in the face of a shell is a contour from its end: with one flat cutter that
// reaches down there the shell is set up for it, with one that does not the radius is tight.
func TestContourFromTheEnd(t *testing.T) {
	for _, reach := range []float64{45, 35} {
		j := job(t, "machining.mill=plain")
		j.Machining.Cutters = []params.Cutter{{Diameter: 10, Reach: reach}}
		m := solid.NewModel()
		n := solid.Minus(solid.Union(m.Box("front", mold.RoleParting, mesh.Vec{-40, 0, 0}, mesh.Vec{40, 30, 40}), m.Box("back", mold.RoleOuter, mesh.Vec{-40, 29, 0}, mesh.Vec{40, 40, 40})), m.Cylinder("bore", "bore", mesh.Vec{}, zAxis, 20, -1, 41))
		b := put(t, j, m, n)
		b.piece.Kind, b.piece.Pull = mold.Shell, mesh.Vec{0, 1, 0}
		var p Piece
		if b.mill(&p); b.err != nil {
			t.Fatal(b.err)
		}
		end := slices.ContainsFunc(p.SetUps, func(u SetUp) bool { return u.Name == "from the lower end" || u.Name == "from the upper end" })
		if made := reach > 40; made && !end || made != (len(p.Tight) == 0) || p.Concave == nil || made != (p.Concave.Along && p.Concave.Cutter != nil) {
			t.Errorf("reach of %g mm: %+v, tight %+v, %v", reach, p.Concave, p.Tight, p.SetUps)
		}
	}
}

// What no cutter gets down beside is a wall too deep, not a radius too small.
func TestDeepWalls(t *testing.T) {
	m := solid.NewModel()
	p := milled(t, job(t), m, rounded(m, 6, 60))
	if len(p.Tight) > 0 {
		t.Errorf("radii: %v", p.Tight)
	}
	i := slices.IndexFunc(p.Deep, func(d Deep) bool { return d.Sort == Wall && slices.Equal(d.Roles, []string{"pocket"}) })
	if i < 0 || p.Deep[i].Count != 8 || !near(p.Deep[i].Depth, 60, .1) || p.Deep[i].Reach != 50 {
		t.Errorf("%+v, want 8 walls 60 mm high", p.Deep)
	}
	m = solid.NewModel()
	if p := milled(t, job(t), m, rounded(m, 6, 49)); len(p.Deep) > 0 {
		t.Errorf("49 mm deep: %+v", p.Deep)
	}
}

// Tori and channels ask for ball ends: the standard ones have 1, 1.5, 3 and 5 mm.
func TestRoundFloors(t *testing.T) {
	across := mesh.Vec{0, 1, 0}
	for _, c := range []struct{ r, cutter, left float64 }{{5, 10, 0}, {4.9, 6, 0}, {1, 2, 0}, {.9, 0, .1 * (math.Sqrt2 - 1)}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{-20, -20, -20}, mesh.Vec{20, 20, 0}), m.Cylinder("channel", "channel", mesh.Vec{}, across, c.r, -21, 21))
		p := milled(t, job(t), m, n)
		got := 0.0
		if p.Concave.Cutter != nil {
			got = p.Concave.Cutter.Diameter
		}
		if p.Concave.Along || !near(p.Concave.Radius, c.r, 1e-9) || got != c.cutter || !near(p.Concave.Left, c.left, 1e-9) {
			t.Errorf("channel of %g mm: %+v, cutter of %g, want %g", c.r, p.Concave, got, c.cutter)
		}
		if (len(p.Tight) > 0) != (c.cutter == 0) {
			t.Errorf("channel of %g mm: %d radii too tight", c.r, len(p.Tight))
		}
	}
	// The round at the foot of a pocket's wall, as small as a ball end, give or take the
	// 0.2 mm that radii up to 3 mm may be off; a standing tool with rounded corners does it
	// as well.
	for _, c := range []struct{ r, cutter float64 }{{3, 6}, {1, 2}, {.81, 2}, {.79, 0}} {
		m := solid.NewModel()
		q := solid.Profile{}.LineTo(0, -10).LineTo(20-c.r, -10).ArcTo(20, -10+c.r, 20-c.r, -10+c.r, true).LineTo(20, 1).LineTo(0, 1)
		n := solid.Minus(box(m, mesh.Vec{-30, -30, -20}, mesh.Vec{30, 30, 0}), m.Revolve("pocket", "pocket", solid.AxisFrame(mesh.Vec{}, zAxis), q))
		p := milled(t, job(t), m, n)
		got := 0.0
		if p.Concave.Cutter != nil {
			got = p.Concave.Cutter.Diameter
		}
		if p.Concave.Shape != "torus" || !near(p.Concave.Radius, c.r, 1e-9) || got != c.cutter {
			t.Errorf("round of %g mm: %+v, want a cutter of %g", c.r, p.Concave, c.cutter)
		}
	}
}

// A wall between a slot and the side, and one that stands between two slots.
func TestWalls(t *testing.T) {
	for _, c := range []struct {
		wall, height float64
		want         string
	}{{1.2, 6, "thin"}, {1.6, 6, ""}, {1.6, 14, "slender"}, {3, 23, ""}, {3, 25, "slender"}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 40, 40}),
			box(m, mesh.Vec{10, -1, 40 - c.height}, mesh.Vec{30, 41, 41}), box(m, mesh.Vec{30 + c.wall, -1, 40 - c.height}, mesh.Vec{50 + c.wall, 41, 41}))
		p := milled(t, job(t), m, n)
		got := ""
		for _, x := range p.Thin {
			got = "thin"
			if !near(x.Thickness, c.wall, 1e-6) {
				t.Errorf("%g mm thick: %+v", c.wall, x)
			}
			if x.Height > 0 {
				got = "slender"
				if !near(x.Height, c.height, 1e-6) {
					t.Errorf("%g mm high: %+v", c.height, x)
				}
			}
		}
		if got != c.want || len(p.Thin) > 1 {
			t.Errorf("%g mm thick, %g high: %+v, want %q", c.wall, c.height, p.Thin, c.want)
		}
	}
	// A round hole beside a face, seen from either of them.
	for _, c := range []struct {
		wall float64
		want int
	}{{1.4, 1}, {1.6, 0}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{40, 40, 30}), m.Cylinder("hole", "hole", mesh.Vec{20, 10 + c.wall, 0}, zAxis, 10, -1, 31))
		if p := milled(t, job(t), m, n); len(p.Thin) != c.want || c.want > 0 && !near(p.Thin[0].Thickness, c.wall, 1e-6) {
			t.Errorf("hole %g mm from the side: %+v", c.wall, p.Thin)
		}
	}
}

// Over a round the lip of a bowl grows stout before it could bend; over a wide one it is a
// wall as thin as its least. Sides that lean toward each other make an edge, not a wall.
func TestTaperingEdges(t *testing.T) {
	for _, c := range []struct {
		round float64
		want  int
	}{{5, 0}, {300, 1}} {
		m := solid.NewModel()
		// A dish upside down, whose round is level 0.8 mm below the block's top.
		far := min(c.round, 15)
		q := solid.Profile{}.LineTo(0, -30).LineTo(20+far, -30).LineTo(20+far, -.8-c.round+math.Sqrt(c.round*c.round-far*far)).
			ArcTo(20, -.8, 20, -.8-c.round, true).LineTo(0, -.8)
		ring := m.Revolve("dish", "dish", solid.AxisFrame(mesh.Vec{}, zAxis), q)
		// All around it the block's top lies lower, so that the lip is looked at closely.
		lower := m.Revolve("lower", "lower", solid.AxisFrame(mesh.Vec{}, zAxis), solid.Poly(21.5, -.3, 99, -.3, 99, 1, 21.5, 1))
		n := solid.Minus(box(m, mesh.Vec{-60, -60, -40}, mesh.Vec{60, 60, 0}), ring, lower, m.Cylinder("mouth", "mouth", mesh.Vec{}, zAxis, 20.2, -20, 1))
		p := milled(t, job(t), m, n)
		walls := slices.DeleteFunc(p.Thin, func(x Thin) bool { return !slices.Equal(x.Roles, []string{"box", "dish"}) || x.Length > 0 })
		if len(walls) != c.want || c.want > 0 && !near(walls[0].Thickness, .8, .05) {
			t.Errorf("round of %g mm: %+v, want %d walls", c.round, walls, c.want)
		}
	}
	for _, c := range []struct {
		lean float64 // mm of one side over 10
		want int
	}{{.2, 1}, {4, 0}} {
		m := solid.NewModel()
		n := m.Extrude("rib", "rib", solid.Frame{X: mesh.Vec{1}, Y: mesh.Vec{0, 0, 1}, Z: mesh.Vec{0, -1, 0}}, 0, 50, solid.Poly(0, 0, 40, 0, 40, 10, 21+c.lean, 10, 21, 20, 20, 20, 20, 10, 0, 10))
		if p := milled(t, job(t), m, n); len(p.Thin) != c.want {
			t.Errorf("rib that leans by %g mm: %+v, want %d", c.lean, p.Thin, c.want)
		}
	}
}

// A thin rib of the cavity is a groove of the tread, around or across: where the job has
// neither, no value of one is named.
func TestThickerRibs(t *testing.T) {
	rib := &Thin{Roles: []string{mold.RoleTread}, Thickness: 1}
	for _, c := range []struct {
		grooves []params.Groove
		across  int
		key     string
		with    []string
	}{
		{nil, 0, "mold.wall", []string{"process.min_wall"}},
		{[]params.Groove{{Width: 1}}, 0, "wheel.groove", []string{"process.min_wall"}},
		{nil, 7, "wheel.cross.width", []string{"process.min_wall"}},
		{[]params.Groove{{Width: 1}}, 7, "wheel.groove", []string{"wheel.cross.width", "process.min_wall"}},
	} {
		j := job(t)
		j.Wheel.Grooves, j.Wheel.Cross.Count = c.grooves, c.across
		b := &bench{m: &mold.Mold{Job: j}, piece: &mold.Piece{Kind: mold.Shell}}
		if got := b.thicker(rib); got.Key != c.key || !slices.Equal(got.With, c.with) {
			t.Errorf("%d grooves, %d across: %+v, want %s with %v", len(c.grooves), c.across, got, c.key, c.with)
		}
		if got := b.thicker(&Thin{Roles: []string{mold.RoleBall, mold.RoleTread}, Thickness: 1}); strings.HasPrefix(got.Key, "wheel.") || got.With[0] != "mold.balls.diameter" {
			t.Errorf("beside a ball pocket: %+v", got)
		}
	}
}

// Holes are told by the step between them, or where each is.
func TestIndexed(t *testing.T) {
	for _, c := range []struct {
		angles []float64
		want   string
	}{
		{[]float64{0, 90, 180, 270}, ", indexed by 90 deg"}, {[]float64{350, 10, 30}, ", indexed by 20 deg"}, {[]float64{0, 36, 108}, ", indexed by 36 deg"},
		{[]float64{20}, " at 20 deg"}, {[]float64{0, 50, 180}, " at 0 deg, 50 deg and 180 deg"},
	} {
		if got := indexed(c.angles); got != c.want {
			t.Errorf("%v: %q, want %q", c.angles, got, c.want)
		}
	}
}

// A seat with a flat floor is cut by an end mill that fits or, two diameters deep, by a
// counterbore; the clearance behind a jack's thread carries nothing.
func TestCounterbores(t *testing.T) {
	for _, c := range []struct {
		role        string
		depth, wide float64
		reach       float64 // 0: quiet
	}{{mold.RoleBolt, 49, 10.15, 35}, {mold.RoleBolt, 34.9, 10.15, 0}, {mold.RoleBolt, 25, 9.9, 24}, {mold.RoleBolt, 23, 9.9, 0}, {mold.RoleBolt, 49, 16, 0}, {mold.RoleBolt, 5, 2.6, 0}, {mold.RoleBolt, 6, 2.6, 5.2}, {mold.RoleJack, 49, 10.15, 0}} {
		b := &bench{m: &mold.Mold{Job: job(t), Split: &mold.Split{}}, list: make([]candidate, 1), holes: []holes.Hole{{Role: c.role, Dir: mesh.Vec{0, 0, -1}, Through: true,
			Steps: []holes.Step{{From: 0, To: c.depth, D0: c.wide, D1: c.wide}, {From: c.depth, To: c.depth + 10, D0: c.wide / 2, D1: c.wide / 2}}}}}
		d, ok := b.counterbore(&b.holes[0], 0)
		if ok != (c.reach > 0) || ok && (d.Reach != c.reach || d.Depth != c.depth) {
			t.Errorf("%s of %g mm, %g deep: %v, %+v, want a reach of %g", c.role, c.wide, c.depth, ok, d, c.reach)
		}
		if _, ok := b.counterbore(&b.holes[0], 1); ok {
			t.Errorf("%s of %g mm: its hole counts as a counterbore", c.role, c.wide)
		}
	}
}

// An edge of 25 degrees is a blade, one of 35 is not; so is what a round tangent to a face
// leaves, and what bends inward is none.
func TestBlades(t *testing.T) {
	for _, deg := range []float64{25, 35} {
		m := solid.NewModel()
		rise := 60 * math.Tan(deg*math.Pi/180)
		n := m.Extrude("wedge", "", solid.AxisFrame(mesh.Vec{}, mesh.Vec{0, 1, 0}), 0, 50, solid.Poly(0, 0, rise, 0, 0, 60))
		p := milled(t, job(t), m, n)
		var got []Thin
		for _, x := range p.Thin {
			if x.Thickness == 0 {
				got = append(got, x)
			}
		}
		if (len(got) == 1) != (deg < sharpest) || len(got) == 1 && (!near(got[0].Angle, deg, 1e-6) || !near(got[0].Length, 50, 1e-9)) {
			t.Errorf("wedge of %g degrees: %+v", deg, p.Thin)
		}
	}
	m := solid.NewModel() // a bowl whose round ends level in the block's top
	q := solid.Profile{}.LineTo(0, -5).LineTo(10, -5).ArcTo(15, 0, 10, 0, true).LineTo(0, 0)
	bowl := m.Revolve("bowl", "bowl", solid.AxisFrame(mesh.Vec{}, zAxis), q)
	if p := milled(t, job(t), m, solid.Minus(box(m, mesh.Vec{-20, -20, -10}, mesh.Vec{20, 20, 0}), bowl)); len(p.Thin) > 0 {
		t.Errorf("bowl with upright rim: %+v", p.Thin)
	}
	m = solid.NewModel()
	q = solid.Profile{}.LineTo(0, 0).LineTo(10, 0).ArcTo(15, 5, 10, 5, true).LineTo(15, 11).LineTo(0, 11)
	ring := m.Revolve("ring", "ring", solid.AxisFrame(mesh.Vec{}, zAxis), q)
	p := milled(t, job(t), m, solid.Minus(box(m, mesh.Vec{-20, -20, 0}, mesh.Vec{20, 20, 10}), ring))
	if len(p.Thin) != 1 || p.Thin[0].Angle > 1e-3 || !near(p.Thin[0].Length, 2*math.Pi*10, 1e-6) {
		t.Errorf("round down to the underside: %+v, want a blade of %.3f mm", p.Thin, 2*math.Pi*10)
	}
}

// The corners of a square pocket stand along the tool, its floor is square to it; a groove
// with a roof-shaped floor has an edge that only a ball end follows.
func TestCornersOfPockets(t *testing.T) {
	m := solid.NewModel()
	p := milled(t, job(t), m, solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 50, 40}), m.Box("pocket", "pocket", mesh.Vec{10, 10, 25}, mesh.Vec{40, 35, 41})))
	want := map[CornerSort][3]float64{Upright: {4, 4 * 15, 2}, Square: {4, 2 * (30 + 25), 0}} // 16 mm of reach: the cutter of 4
	if len(p.Corners) != len(want) {
		t.Fatalf("%+v", p.Corners)
	}
	for _, c := range p.Corners {
		w := want[c.Sort]
		if float64(c.Count) != w[0] || !near(c.Length, w[1], 1e-9) || !near(c.Radius, w[2], 1e-9) {
			t.Errorf("%+v, want %v", c, w)
		}
		if c.Sort == Upright && !near(c.Depth, 15, 1e-6) {
			t.Errorf("corner %g deep, want 15", c.Depth)
		}
	}
	for _, c := range []struct {
		shape solid.Profile // x and z of a groove along y
		want  CornerSort
	}{
		{solid.Poly(20, 30, 30, 20, 40, 30, 40, 41, 20, 41), Sloped}, // a V
		{solid.Poly(20, 20, 40, 20, 50, 41, 10, 41), Square},         // a dovetail the open way
		{solid.Poly(20, 20, 30, 25, 30, 41, 20, 41), Sloped},         // a floor that slopes down to the wall
		{solid.Poly(10, 30, 30, 19, 50, 30, 50, 41, 10, 41), Obtuse}, // a flat V, of 122 degrees
		{solid.Poly(10, 30, 30, 18, 50, 30, 50, 41, 10, 41), Sloped}, // and one of 118
	} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 50, 40}),
			m.Extrude("groove", "groove", solid.Frame{X: mesh.Vec{1}, Y: mesh.Vec{0, 0, 1}, Z: mesh.Vec{0, -1, 0}}, -51, 1, c.shape))
		p := milled(t, job(t, "machining.plates_from=inside"), m, n)
		i := slices.IndexFunc(p.Corners, func(x Corner) bool { return x.Sort == c.want })
		if i < 0 || c.want == Square && len(p.Corners) > 1 {
			t.Errorf("%v: %+v, want one %s", c.shape, p.Corners, c.want)
		}
	}
}

// A slot of 2.5 mm takes the ball end of 2 mm, which reaches 8; one of 3 mm takes a cutter
// that reaches 12.
func TestSlots(t *testing.T) {
	for _, c := range []struct{ width, depth, reach float64 }{{2.5, 10, 8}, {2.5, 7.9, -1}, {3, 10, -1}, {2.9, 11.5, 8}, {1.5, 5, 0}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 50, 40}), m.Box("slot", "slot", mesh.Vec{20, -1, 40 - c.depth}, mesh.Vec{20 + c.width, 51, 41}))
		p := milled(t, job(t), m, n)
		switch {
		case c.reach < 0:
			if len(p.Deep) > 0 {
				t.Errorf("%g mm wide, %g deep: %+v", c.width, c.depth, p.Deep)
			}
		case len(p.Deep) != 1 || p.Deep[0].Sort != Slot || !near(p.Deep[0].Diameter, c.width, 1e-6) || p.Deep[0].Reach != c.reach || p.Deep[0].Count != 2:
			t.Errorf("%g mm wide, %g deep: %+v, want one slot that %g mm are reached in", c.width, c.depth, p.Deep, c.reach)
		}
	}
}

// A floor that rises from a wall's foot makes no slot, however near the foot one looks.
func TestSlopeIsNoSlot(t *testing.T) {
	m := solid.NewModel()
	n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{80, 50, 40}),
		m.Extrude("groove", "groove", solid.Frame{X: mesh.Vec{1}, Y: mesh.Vec{0, 0, 1}, Z: mesh.Vec{0, -1, 0}}, -51, 1, solid.Poly(20, 20, 60, 35, 60, 41, 20, 41)))
	if p := milled(t, job(t), m, n); len(p.Deep) > 0 {
		t.Errorf("%+v", p.Deep)
	}
}

// A bore that widens behind its mouth is hidden from a lathe's ends, and its groove is
// reached from outside.
func TestTurned(t *testing.T) {
	m := solid.NewModel()
	q := solid.Poly(10, 0, 40, 0, 40, 10, 35, 10, 35, 20, 40, 20, 40, 30, 10, 30, 10, 20, 15, 20, 15, 10, 10, 10)
	n := m.Revolve("hub", "bond surface", solid.AxisFrame(mesh.Vec{}, zAxis), q)
	b := put(t, job(t), m, n)
	b.piece.Kind = mold.Hub
	var p Piece
	b.turn(&p)
	want := 2*math.Pi*15*10 + 2*math.Pi*(225-100)
	if a, _ := hiddenArea(&p); b.err != nil || !near(a, want, 1e-6*want) {
		t.Errorf("%.3f mm² hidden, want %.3f: %v", a, want, b.err)
	}
	nosed := slices.IndexFunc(p.Corners, func(c Corner) bool { return c.Sort == Lathe })
	if nosed < 0 || p.Corners[nosed].Count != 4 || !near(p.Corners[nosed].Length, 4*math.Pi*(35+15), 1e-6) {
		t.Errorf("%+v, want four turned corners", p.Corners)
	}
}
