package contact_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/contact"
	"wheelmold/mesh/solid"
)

var xAxis, yAxis, zAxis = mesh.Vec{1, 0, 0}, mesh.Vec{0, 1, 0}, mesh.Vec{0, 0, 1}

// part is a solid with its name.
type part struct {
	name string
	root *solid.Node
}

func bodies(t testing.TB, m *solid.Model, parts ...part) []contact.Body {
	t.Helper()
	ev := brep.NewEvaluator(m)
	var out []contact.Body
	for _, p := range parts {
		b, err := ev.Boundary(p.root)
		if err != nil {
			t.Fatalf("%s: %v", p.name, err)
		}
		out = append(out, contact.Body{Name: p.name, Boundary: b})
	}
	return out
}

// frames in which the same solids must have the same contacts.
func frames() map[string]solid.Frame {
	turned := solid.AxisFrame(mesh.Vec{3, -7, 11}, mesh.Vec{1, 2, 3})
	under := solid.AxisFrame(mesh.Vec{0, 0, 2}, mesh.Vec{0, 0, -1})
	return map[string]solid.Frame{
		"as is":       {X: xAxis, Y: yAxis, Z: zAxis},
		"on its side": solid.AxisFrame(mesh.Vec{}, yAxis),
		"turned":      turned,
		"upside down": under,
	}
}

func box(m *solid.Model, f solid.Frame, name string, lo, hi mesh.Vec) *solid.Node {
	return m.BoxIn(name, name, f, lo, hi)
}

func drill(m *solid.Model, f solid.Frame, role string, x, y, r, z0, z1 float64) *solid.Node {
	return m.Cylinder(role, role, f.Global(mesh.Vec{x, y, 0}), f.Z, r, z0, z1)
}

// one returns the only sheet.
func one(t *testing.T, b []contact.Body, s contact.Settings) *contact.Sheet {
	t.Helper()
	sheets := contact.Sheets(b, s)
	if len(sheets) != 1 {
		t.Fatalf("%d sheets, want 1", len(sheets))
	}
	return sheets[0]
}

// area sums n rows and, apart from them, n columns.
func area(s contact.Section, n int) (rows, cols float64) {
	lo, hi := s.Bounds()
	for d, line := range []func(float64) []contact.Span{s.Col, s.Row} {
		step := (hi[d] - lo[d]) / float64(n)
		sum := 0.0
		for k := range n {
			for _, r := range line(lo[d] + step*(float64(k)+.5)) {
				sum += step * (r.Hi.At - r.Lo.At)
			}
		}
		if d == 1 {
			rows = sum
		} else {
			cols = sum
		}
	}
	return rows, cols
}

// lengths sums spacing/Across by label: over rows where the edge runs more across
// them than along, over columns elsewhere.
func lengths(s *contact.Sheet, n int) map[string]float64 {
	lo, hi := s.Bounds()
	out := map[string]float64{}
	add := func(e contact.End, d float64) {
		l := s.Labels[e.Label]
		out[l.Body+": "+fmt.Sprint(l.Roles)] += d / e.Across
	}
	for k := range n {
		d := (hi[1] - lo[1]) / float64(n)
		for _, r := range s.Row(lo[1] + d*(float64(k)+.5)) {
			for _, e := range []contact.End{r.Lo, r.Hi} {
				if e.Across >= math.Sqrt2/2 {
					add(e, d)
				}
			}
		}
		d = (hi[0] - lo[0]) / float64(n)
		for _, r := range s.Col(lo[0] + d*(float64(k)+.5)) {
			for _, e := range []contact.End{r.Lo, r.Hi} {
				if e.Across > math.Sqrt2/2 {
					add(e, d)
				}
			}
		}
	}
	return out
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s %.9g, want %.9g ± %.2g", what, got, want, tol)
	}
}

// circlesError bounds the error of rows or columns at spacing h over circles of
// the given radii. Near its extreme a circle is 2·√(2·r·s) wide; by the
// Euler-Maclaurin sum for a square root's end, the error there is that factor
// times |ζ(-1/2, φ)| ≤ 0.208 times h^1.5. A tenth for what comes after.
func circlesError(h float64, radii ...float64) float64 {
	e := 0.0
	for _, r := range radii {
		e += 2 * 2 * math.Sqrt(2*r) * .208 * math.Pow(h, 1.5)
	}
	return 1.1 * e
}

// Two blocks that overlap in part, in several positions in space: every line is
// exact, since straight edges are.
func TestBlocks(t *testing.T) {
	for name, f := range frames() {
		t.Run(name, func(t *testing.T) {
			m := solid.NewModel()
			b := bodies(t, m,
				part{"lower", box(m, f, "lower", mesh.Vec{0, 0, -5}, mesh.Vec{10.3, 8.1, 0})},
				part{"upper", box(m, f, "upper", mesh.Vec{4.2, 3.3, 0}, mesh.Vec{15, 11, 6})})
			s := one(t, b, contact.Settings{})
			rows, cols := area(s, 7)
			want := (10.3 - 4.2) * (8.1 - 3.3)
			near(t, "area by rows", rows, want, 1e-9)
			near(t, "area by columns", cols, want, 1e-9)
			lo, hi := s.Bounds()
			near(t, "bounds", (hi[0]-lo[0])*(hi[1]-lo[1]), want, 1e-9)
			near(t, "normal", math.Abs(s.Normal.Dot(f.Z)), 1, 1e-12)
			for _, r := range s.Row((lo[1] + hi[1]) / 2) {
				a, z := s.Labels[r.Lo.Label].Body, s.Labels[r.Hi.Label].Body
				if a == z || r.Lo.Across < 1-1e-9 || r.Hi.Across < 1-1e-9 {
					t.Errorf("run from an edge of %s to one of %s, across %v and %v", a, z, r.Lo.Across, r.Hi.Across)
				}
			}
			// Low is the body below along Normal.
			if up := s.Normal.Dot(f.Z) > 0; up != (s.Low[0] == "lower") || up == (s.High[0] == "lower") {
				t.Errorf("low %v, high %v along %v", s.Low, s.High, s.Normal)
			}
			mid := s.Frame.Global(mesh.Vec{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, 0})
			near(t, "height of the chart", mid.Sub(f.O).Dot(f.Z), 0, 1e-9)
		})
	}
}

// A ring under a plate, through which bolts go: areas converge at the order that
// circles allow, lengths belong to the right edges.
func TestBoltedRing(t *testing.T) {
	const outer, inner, hole, circle, n = 20.1, 12.3, 1.7, 16.2, 5
	for name, f := range frames() {
		t.Run(name, func(t *testing.T) {
			m := solid.NewModel()
			var holes []*solid.Node
			radii := []float64{outer, inner}
			for k := range n {
				sn, cs := math.Sincos(2*math.Pi*float64(k)/n + .3)
				holes = append(holes, drill(m, f, "bolt hole", circle*cs, circle*sn, hole, -20, 20))
				radii = append(radii, hole)
			}
			ring := m.Extrude("ring", "rim", f, -5, 0, solid.Circle(0, 0, outer), solid.Circle(0, 0, inner).Reversed())
			b := bodies(t, m,
				part{"ring", solid.Minus(ring, holes...)},
				part{"plate", solid.Minus(box(m, f, "plate", mesh.Vec{-25, -25, .25}, mesh.Vec{25, 25, 9}), holes...)})
			s := one(t, b, contact.Settings{MaxGap: .3})
			near(t, "gap", s.Gap, .25, 1e-12)
			want := math.Pi * (outer*outer - inner*inner - n*hole*hole)
			for _, lines := range []int{50, 200, 800, 3200} {
				rows, cols := area(s, lines)
				h := 2 * outer / float64(lines)
				near(t, fmt.Sprint("area by rows, ", lines), rows, want, circlesError(h, radii...))
				near(t, fmt.Sprint("area by columns, ", lines), cols, want, circlesError(h, radii...))
			}
			// Each of a circle's eight octant borders is off by at most a line.
			const lines = 4000
			h := 2 * outer / float64(lines)
			got := lengths(s, lines)
			low := s.Low[0]
			near(t, "rim", got["ring: [rim]"], 2*math.Pi*(outer+inner), 16*math.Sqrt2*h)
			near(t, "holes", got[low+": [bolt hole]"], 2*math.Pi*n*hole, 8*n*math.Sqrt2*h)
			if len(got) != 2 {
				t.Errorf("edges %v", got)
			}
		})
	}
}

// Holes drilled askew leave ellipses, which are found by bisection.
func TestEllipse(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	const r, tilt, turn = 4.3, 35 * math.Pi / 180, .4
	sn, cs := math.Sincos(tilt)
	st, ct := math.Sincos(turn)
	hole := m.Cylinder("askew", "askew", mesh.Vec{}, mesh.Vec{sn * ct, sn * st, cs}, r, -30, 30)
	b := bodies(t, m,
		part{"lower", solid.Minus(box(m, f, "lower", mesh.Vec{-15, -15, -5}, mesh.Vec{15, 15, 0}), hole)},
		part{"upper", box(m, f, "upper", mesh.Vec{-14, -14, 0}, mesh.Vec{14, 14, 5})})
	s := one(t, b, contact.Settings{})
	p, q := r/cs, r // semi-axes
	for _, lines := range []int{100, 400, 1600} {
		rows, cols := area(s, lines)
		h := 28 / float64(lines)
		// At its extremes an ellipse is no blunter than a circle of radius p²/q.
		near(t, "area by rows", rows, 28*28-math.Pi*p*q, circlesError(h, p*p/q))
		near(t, "area by columns", cols, 28*28-math.Pi*p*q, circlesError(h, p*p/q))
	}
	// Ramanujan's second formula; its error is below 1e-9 here.
	x := (p - q) / (p + q)
	perimeter := math.Pi * (p + q) * (1 + 3*x*x/(10+math.Sqrt(4-3*x*x)))
	const lines = 2000
	near(t, "perimeter", lengths(s, lines)["lower: [askew]"], perimeter, 8*math.Sqrt2*28/lines)
}

// A base, two shells side by side on it, and a puck apart.
func three(m *solid.Model, f solid.Frame, slit float64) []part {
	b := func(name string, lo, hi mesh.Vec) *solid.Node { return box(m, f, name, lo, hi) }
	cavity := drill(m, f, "cavity", 0, 0, 12, 0, 10)
	return []part{
		{"base", b("base", mesh.Vec{-20, -20, -6}, mesh.Vec{20, 20, 0})},
		{"shell-a", solid.Minus(b("shell-a", mesh.Vec{-20, slit, 0}, mesh.Vec{20, 20, 10}), cavity)},
		{"shell-b", solid.Minus(b("shell-b", mesh.Vec{-20, -20, 0}, mesh.Vec{20, 0, 10}), cavity)},
		{"puck", drill(m, f, "puck", 1, 0, 7, 0, 10)},
	}
}

func TestThreeBodiesMeet(t *testing.T) {
	for name, f := range frames() {
		t.Run(name, func(t *testing.T) {
			m := solid.NewModel()
			sheets := contact.Sheets(bodies(t, m, three(m, f, 0)...), contact.Settings{MaxGap: .5})
			if len(sheets) != 3 {
				t.Fatalf("%d sheets, want base|shells, base|puck, shell|shell", len(sheets))
			}
			s := sheets[0]
			low, high := s.Low, s.High
			if s.Normal.Dot(f.Z) < 0 {
				low, high = high, low
			}
			if !slices.Equal(low, []string{"base"}) || !slices.Equal(high, []string{"shell-a", "shell-b"}) {
				t.Fatalf("first sheet: %v under %v", low, high)
			}
			const lines = 800
			rows, cols := area(s, lines)
			near(t, "area by rows", rows, 1600-144*math.Pi, circlesError(40./lines, 12))
			near(t, "area by columns", cols, 1600-144*math.Pi, circlesError(40./lines, 12))
			// The shells' own border is no edge of the sheet: all lengths are those of
			// the cavity and of the outside, where the lower body's label is taken.
			total := 0.0
			for what, l := range lengths(s, lines) {
				total += l
				if what == "shell-a: [shell-b]" || what == "shell-b: [shell-a]" {
					t.Errorf("%.3f mm of %s", l, what)
				}
			}
			near(t, "perimeter", total, 160+24*math.Pi, 16*math.Sqrt2*40/lines)
			var sides [2]string
			for i, y := range []float64{15, -15} {
				p := s.Frame.Local(f.Global(mesh.Vec{3, y, 0}))
				a, b := s.Names(p[0], p[1])
				if s.Normal.Dot(f.Z) < 0 {
					a, b = b, a
				}
				if sides[i] = b; a != "base" {
					t.Errorf("%q below", a)
				}
			}
			if sides != [2]string{"shell-a", "shell-b"} {
				t.Errorf("above at y = ±15: %v", sides)
			}
			p := s.Frame.Local(f.Global(mesh.Vec{3, 3, 0}))
			if a, b := s.Names(p[0], p[1]); a != "" || b != "" {
				t.Errorf("%q and %q in the cavity", a, b)
			}
		})
	}
}

// Shells that leave a slit meet no more: two runs, each with an end there.
func TestSlitParts(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	sheets := contact.Sheets(bodies(t, m, three(m, f, .02)...), contact.Settings{MaxGap: .5})
	if len(sheets) != 4 {
		t.Fatalf("%d sheets, want 4", len(sheets))
	}
	gap := 0
	for _, s := range sheets {
		if math.Abs(s.Normal[1]) > .5 {
			gap++
			near(t, "designed gap", s.Gap, .02, 1e-12)
			if s.Low[0] != "shell-b" || s.High[0] != "shell-a" {
				t.Errorf("%v under %v along %v", s.Low, s.High, s.Normal)
			}
			near(t, "origin on the lower plane", s.Frame.O[1], 0, 1e-12)
		}
	}
	if gap != 1 {
		t.Errorf("%d sheets across the slit", gap)
	}
}

// Where both bodies end at one place, the label of the higher rank is taken.
func TestPrefer(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	b := bodies(t, m,
		part{"lower", box(m, f, "dry", mesh.Vec{0, 0, -5}, mesh.Vec{9, 9, 0})},
		part{"upper", box(m, f, "wet", mesh.Vec{0, 0, 0}, mesh.Vec{9, 9, 5})})
	for want, prefer := range map[string]func([]string) int{
		"lower": nil,
		"upper": func(r []string) int {
			if slices.Contains(r, "wet") {
				return 1
			}
			return 0
		},
	} {
		s := one(t, b, contact.Settings{Prefer: prefer})
		for _, r := range append(s.Row(4), s.Col(4)...) {
			if a, z := s.Labels[r.Lo.Label].Body, s.Labels[r.Hi.Label].Body; a != want || z != want {
				t.Errorf("ends of %s and %s, want %s", a, z, want)
			}
		}
	}
}

// An edge's label is what borders on it there, not all that the face is elsewhere.
func TestLabelHere(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	// The lower body's side x = 10 is half "left", half "right".
	lower := solid.Union(
		box(m, f, "left", mesh.Vec{0, 0, -5}, mesh.Vec{10, 5, 0}),
		box(m, f, "right", mesh.Vec{0, 5, -5}, mesh.Vec{10, 10, 0}))
	step := box(m, f, "step", mesh.Vec{9, 4, -1}, mesh.Vec{11, 6, 1})
	b := bodies(t, m,
		part{"lower", solid.Minus(lower, step)},
		part{"upper", box(m, f, "upper", mesh.Vec{-1, -1, 0}, mesh.Vec{12, 12, 5})})
	s := one(t, b, contact.Settings{})
	for v, want := range map[float64]string{2: "left", 5: "step", 8: "right"} {
		runs := s.Row(v)
		if len(runs) != 1 {
			t.Fatalf("row %v: %v", v, runs)
		}
		if got := s.Labels[runs[0].Hi.Label].Roles; !slices.Equal(got, []string{want}) {
			t.Errorf("row %v ends at %v, want %s", v, got, want)
		}
	}
}

// Slots leave several regions of one face.
func TestSlots(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	cut := func(lo, hi float64) *solid.Node {
		return box(m, f, "slot", mesh.Vec{lo, -20, -1}, mesh.Vec{hi, 20, 1})
	}
	b := bodies(t, m,
		part{"lower", solid.Minus(box(m, f, "lower", mesh.Vec{0, 0, -5}, mesh.Vec{30, 9, 0}), cut(4, 6), cut(11, 15))},
		part{"upper", solid.Minus(box(m, f, "upper", mesh.Vec{0, 0, 0}, mesh.Vec{30, 9, 5}), cut(5, 7), cut(20, 21))})
	s := one(t, b, contact.Settings{})
	var got []float64
	for _, r := range s.Row(3) {
		got = append(got, r.Lo.At, r.Hi.At)
	}
	want := []float64{0, 4, 7, 11, 15, 20, 21, 30}
	if !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
		t.Errorf("runs %v, want %v", got, want)
	}
	if runs := s.Col(13); len(runs) > 0 {
		t.Errorf("column in a slot: %v", runs)
	}
}

// What only touches along an edge, lies too far apart, looks away, or is not
// asked for is no contact.
func TestNoContact(t *testing.T) {
	f := solid.AxisFrame(mesh.Vec{}, mesh.Vec{2, 1, 5})
	for name, c := range map[string]struct {
		lo, hi mesh.Vec
		want   int
	}{
		"corner on edge":      {mesh.Vec{10, 3, 0}, mesh.Vec{14, 7, 5}, 0},
		"one corner":          {mesh.Vec{10, 10, 0}, mesh.Vec{14, 17, 5}, 0},
		"beyond the gap":      {mesh.Vec{0, 0, .31}, mesh.Vec{9, 9, 5}, 0},
		"flush side by side":  {mesh.Vec{10.5, 0, -5}, mesh.Vec{19, 9, 0}, 0},
		"within the gap":      {mesh.Vec{0, 0, .29}, mesh.Vec{9, 9, 5}, 1},
		"a strip of 0.01":     {mesh.Vec{9.99, 0, 0}, mesh.Vec{19, 9, 5}, 1},
		"a corner of 0.01²":   {mesh.Vec{9.99, 9.99, 0}, mesh.Vec{19, 19, 5}, 1},
		"touching at a side":  {mesh.Vec{10, 0, -5}, mesh.Vec{19, 9, 0}, 1},
		"a face looking away": {mesh.Vec{0, 0, 4.9}, mesh.Vec{9, 9, 5}, 0},
	} {
		m := solid.NewModel()
		b := bodies(t, m,
			part{"lower", box(m, f, "lower", mesh.Vec{0, 0, -5}, mesh.Vec{10, 10, 0})},
			part{"upper", box(m, f, "upper", c.lo, c.hi)})
		if got := contact.Sheets(b, contact.Settings{MaxGap: .3}); len(got) != c.want {
			t.Errorf("%s: %d sheets, want %d", name, len(got), c.want)
		}
		none := contact.Settings{MaxGap: .3, Mating: func(r []string) bool { return r[0] == "upper" }}
		if got := contact.Sheets(b, none); len(got) != 0 {
			t.Errorf("%s: %d sheets of faces that take no part", name, len(got))
		}
	}
}

// A disc that bulges over an edge by less than any grid would see, and nothing
// else in common: the second disc hangs over a window.
func TestBulge(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	const depth = 1e-4
	b := bodies(t, m,
		part{"lower", solid.Minus(box(m, f, "lower", mesh.Vec{-20, -20, -5}, mesh.Vec{20, 20, 0}), box(m, f, "window", mesh.Vec{-10, -10, -6}, mesh.Vec{10, 10, 6}))},
		part{"discs", solid.Union(drill(m, f, "disc", 30-depth, 3, 10, 0, 5), drill(m, f, "disc", 0, 0, 5, 0, 5))})
	s := one(t, b, contact.Settings{})
	runs := s.Row(3)
	if len(runs) != 1 {
		t.Fatalf("runs %v", runs)
	}
	near(t, "width", runs[0].Hi.At-runs[0].Lo.At, depth, 1e-9)
}

// A corner that pokes over a slanting edge by a hundredth, far inside the box that
// both bodies' bounds have in common.
func TestCorner(t *testing.T) {
	for _, depth := range []float64{.01, -.01} {
		m := solid.NewModel()
		f := solid.AxisFrame(mesh.Vec{}, zAxis)
		g := turned(f, f.O, .5)
		h := turned(f, g.Global(mesh.Vec{20 - depth, 3, 0}), .5+math.Pi/4)
		b := bodies(t, m,
			part{"lower", box(m, g, "lower", mesh.Vec{-20, -20, -5}, mesh.Vec{20, 20, 0})},
			part{"upper", box(m, h, "upper", mesh.Vec{0, -30, 0}, mesh.Vec{30, 0, 5})})
		want := 0
		if depth > 0 {
			want = 1
		}
		if got := contact.Sheets(b, contact.Settings{}); len(got) != want {
			t.Errorf("corner %v over the edge: %d sheets, want %d", depth, len(got), want)
		}
	}
}

// A body's own slot is no contact.
func TestSlotOfOneBody(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	slit := box(m, f, "slit", mesh.Vec{2, 2, 0}, mesh.Vec{20, 20, .1})
	ring := m.Extrude("ring", "", f, -20, 20, solid.Circle(5, 5, 1.1), solid.Circle(5, 5, 1).Reversed())
	b := bodies(t, m, part{"clamp", solid.Minus(box(m, f, "clamp", mesh.Vec{0, 0, -5}, mesh.Vec{10, 10, 5}), slit, ring)})
	if s := contact.Sheets(b, contact.Settings{MaxGap: .3}); len(s) != 0 {
		t.Errorf("%d sheets", len(s))
	}
	if r := contact.Rings(b, contact.Settings{MaxGap: .3}); len(r) != 0 {
		t.Errorf("%d rings", len(r))
	}
}

// An edge may be run either way, and a circle seen from either side.
func TestEdgesRunBackward(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{1, 2, 3}, mesh.Vec{-1, 2, 1})
	askew := m.Cylinder("askew", "askew", f.Global(mesh.Vec{-9, 3, 0}), f.Z.AddScaled(-.5, f.X), 3, -30, 30)
	key := box(m, f, "key", mesh.Vec{-1, 2, -9}, mesh.Vec{2, 12, 9})
	plug := m.Extrude("plug", "plug", f, -3, 6, solid.Circle(0, 0, 4))
	parts := []part{
		{"lower", solid.Minus(solid.Union(box(m, f, "lower", mesh.Vec{-20, -18, -5}, mesh.Vec{20, 17, 0}), plug), askew, key)},
		{"upper", solid.Minus(
			m.Extrude("upper", "upper", f, 0, 9, solid.Circle(3, 0, 15), solid.Circle(0, 0, 4.1).Reversed()),
			box(m, f, "quarter", mesh.Vec{4.5, -3, -1}, mesh.Vec{20, 20, 10}))},
	}
	settings := contact.Settings{MaxGap: .3}
	there, back := bodies(t, m, parts...), bodies(t, m, parts...)
	for _, b := range back {
		for _, e := range b.Boundary.Edges {
			c := *e.Curve
			c.T0, c.T1, c.Normal = -c.T1, -c.T0, c.Normal.Scale(-1)
			old := *e
			e.T0, e.T1, e.V0, e.V1 = -old.T1, -old.T0, old.V1, old.V0
			e.Curve = &c
			c.At = func(t float64) mesh.Vec { return old.Curve.At(-t) }
		}
	}
	s, r := one(t, there, settings), one(t, back, settings)
	lo, hi := s.Bounds()
	for k := range 400 {
		v := lo[1] + (hi[1]-lo[1])*(float64(k)+.5)/400
		a, b := s.Row(v), r.Row(v)
		if !slices.EqualFunc(a, b, func(a, b contact.Span) bool {
			return math.Abs(a.Lo.At-b.Lo.At) < 1e-9 && math.Abs(a.Hi.At-b.Hi.At) < 1e-9 && a.Lo.Label == b.Lo.Label && a.Hi.Label == b.Hi.Label
		}) {
			t.Fatalf("row %v: %v and %v", v, a, b)
		}
	}
	p, q := contact.Rings(there, settings), contact.Rings(back, settings)
	if len(p) != 1 || len(q) != 1 {
		t.Fatalf("%d and %d rings", len(p), len(q))
	}
	near(t, "turn", p[0].Turn, 2*math.Pi-math.Asin(2/4.)-math.Asin(1/4.), 1e-9)
	near(t, "turn, run backward", q[0].Turn, p[0].Turn, 1e-9)
}

func TestNothing(t *testing.T) {
	if s := contact.Sheets(nil, contact.Settings{}); s != nil {
		t.Error(s)
	}
	if s := contact.Sheets([]contact.Body{{Name: "empty"}}, contact.Settings{}); s != nil {
		t.Error(s)
	}
	if r := contact.Rings([]contact.Body{{Name: "empty"}}, contact.Settings{}); r != nil {
		t.Error(r)
	}
}
