package drawing_test

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/params"
)

func (x *estimated) partings(t testing.TB) []drawing.Drawing {
	t.Helper()
	out, err := drawing.Partings(x.mold, x.faces)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// parting is one of them, by its ID.
func (x *estimated) parting(t testing.TB, id string) *drawing.Drawing {
	t.Helper()
	for _, d := range x.partings(t) {
		if d.ID == id {
			return &d
		}
	}
	t.Fatalf("no drawing %q", id)
	return nil
}

// A split into base, two shells and lid has three planes, and each is seen from the
// side on which it lies open on the bench.
func TestPlanes(t *testing.T) {
	x := example(t, "kestrel")
	want := map[string]outline.View{
		"parting-base":  {U: mesh.Vec{1, 0, 0}, V: mesh.Vec{0, 1, 0}},
		"parting-sides": {U: mesh.Vec{1, 0, 0}, V: mesh.Vec{0, 0, 1}},
		"parting-lid":   {O: mesh.Vec{0, 0, x.mold.Layout.Top}, U: mesh.Vec{1, 0, 0}, V: mesh.Vec{0, -1, 0}},
	}
	got := x.partings(t)
	if len(got) != len(want) {
		t.Errorf("%d planes, want %d", len(got), len(want))
	}
	for id, v := range want {
		d := x.parting(t, id)
		if d.View.O.Dist(v.O)+d.View.U.Dist(v.U)+d.View.V.Dist(v.V) > 1e-9 {
			t.Errorf("%s is seen as %v, want %v", id, d.View, v)
		}
	}
	for id, want := range map[string]string{"parting-base": "Parting face of the base", "parting-lid": "Parting face of the lid", "parting-sides": "Parting face of shell A toward shell B"} {
		if got := x.parting(t, id).Title; got != want {
			t.Errorf("%s is called %q", id, got)
		}
	}
	if n := x.parting(t, "parting-lid").Note; !strings.Contains(n, "+x to the right, -y up") {
		t.Errorf("the lid's note does not say which side is which: %s", n)
	}
}

// section is the area of a piece in a plane where all of it lies behind: that of its
// faces there.
func (x *estimated) section(t testing.TB, piece string, v outline.View) float64 {
	t.Helper()
	p, _ := x.mold.Piece(piece)
	r, err := outline.Section(brep.NewEvaluator(x.mold.Model), p.Root, v, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	return r.Area()
}

// What is tinted is what other pieces' faces cover, as cutting them has it: of the
// shells all but what the screws that push them off bore away, and the hub's end.
func TestFacesOfPartings(t *testing.T) {
	for _, name := range examples {
		x := example(t, name)
		l, core := x.mold.Layout, x.mold.Core
		area := func(piece string, z float64, up bool) float64 {
			v := outline.View{O: mesh.Vec{0, 0, z}, U: mesh.Vec{1, 0, 0}, V: mesh.Vec{0, 1, 0}}
			if !up {
				v.V = mesh.Vec{0, -1, 0}
			}
			return x.section(t, piece, v)
		}
		jacks := 0.0
		for _, j := range l.Jacks {
			if j.Dir[2] > .5 {
				jacks += math.Pi * j.R * j.R
			}
		}
		sides := x.parting(t, "parting-sides")
		for id, want := range map[string]float64{
			"parting-base":  area("shell-a", 0, false) + area("shell-b", 0, false) + area("hub", core.Z0, false) - jacks,
			"parting-lid":   area("shell-a", l.Top, true) + area("shell-b", l.Top, true) + area("hub", core.Z1(), true) - jacks,
			"parting-sides": x.section(t, "shell-a", sides.View),
		} {
			if got := areas(x.parting(t, id), drawing.Face).Area(); math.Abs(got/want-1) > 1e-9 {
				t.Errorf("%s: %s: face of %.6f mm², want %.6f", name, id, got, want)
			}
		}
	}
}

// Every ball's pocket is a hole of the face at its place, as wide as it is made.
func TestPocketsOfPartings(t *testing.T) {
	for _, name := range examples {
		x := example(t, name)
		found := 0
		for _, d := range x.partings(t) {
			w := d.View.W()
			for i, b := range x.mold.Layout.Balls {
				axis := mesh.Vec{}
				axis[b.Axis] = 1
				if math.Abs(axis.Dot(w)) < .5 || math.Abs(b.At.Sub(d.View.O).Dot(w)) > 1e-9 {
					continue
				}
				at, least := d.View.At(b.At), math.Inf(1)
				for _, p := range areas(&d, drawing.Face) {
					for _, s := range p.Segments {
						if s.Radius > 0 && !s.CCW {
							least = min(least, math.Hypot(s.Center[0]-at[0], s.Center[1]-at[1])+math.Abs(s.Radius-b.R))
						}
					}
				}
				if found++; least > 1e-6 {
					t.Errorf("%s: %s: pocket %d is %g mm off", name, d.ID, i+1, least)
				}
			}
		}
		if found != len(x.mold.Layout.Balls) {
			t.Errorf("%s: %d of %d balls lie on a drawn plane", name, found, len(x.mold.Layout.Balls))
		}
	}
}

// The lid lies on its back: what is at +y in the mold is at the lower edge. Its sprues
// are drawn there and nowhere else.
func TestLidIsSeenFromBelow(t *testing.T) {
	for _, name := range examples {
		x := example(t, name)
		if x.mold.Tread.Ceiling > 0 {
			continue // a gate in a cone is no circle
		}
		d := x.parting(t, "parting-lid")
		circle := func(u, v, r float64) bool {
			for _, p := range lines(d, drawing.Visible) {
				for _, s := range p.Segments {
					if math.Hypot(s.Center[0]-u, s.Center[1]-v)+math.Abs(s.Radius-r) < 1e-6 {
						return true
					}
				}
			}
			return false
		}
		for _, g := range x.mold.Layout.Gates {
			if r := x.mold.Layout.GateR; !circle(g[0], -g[1], r) || math.Abs(g[1]) > 1 && circle(g[0], g[1], r) {
				t.Errorf("%s: the gate at x %.2f, y %.2f is not drawn where it is seen from below", name, g[0], g[1])
			}
		}
	}
}

// Every dimension is as long as it says, and says what the layout has.
func TestDimensionsOfPartings(t *testing.T) {
	for _, name := range examples {
		x := example(t, name)
		l, tread := x.mold.Layout, x.mold.Tread
		for _, d := range x.partings(t) {
			seen := map[string]int{}
			for _, m := range d.Dims {
				var length float64
				switch m.Kind {
				case drawing.Across:
					length = math.Abs(m.To[0] - m.From[0])
				case drawing.Plumb:
					length = math.Abs(m.To[1] - m.From[1])
				default:
					length = math.Hypot(m.To[0]-m.From[0], m.To[1]-m.From[1])
				}
				if math.Abs(length-m.Value) > 1e-6 {
					t.Errorf("%s: %s: %s says %.6f and is %.6f long", name, d.ID, m.Name, m.Value, length)
				}
				var want []float64
				switch m.Name {
				case "ball", "odd ball":
					for _, b := range l.Balls {
						if at := d.View.At(b.At); b.Odd == (m.Name == "odd ball") && math.Abs(b.At.Sub(d.View.O).Dot(d.View.W())) < 1e-6 {
							want = append(want, math.Abs(at[0]), math.Abs(at[1]))
						}
					}
				case "bolt":
					for _, b := range l.Bolts {
						want = append(want, math.Abs(b.At[0]), math.Abs(b.At[1]))
					}
					for _, b := range l.Cross {
						want = append(want, math.Abs(b.X), b.Z)
					}
				case "ball pocket":
					for _, b := range l.Balls {
						want = append(want, 2*b.R)
					}
				case "bolt hole":
					want = append(want, 2*l.Bolts[0].R)
					for _, b := range l.Cross {
						want = append(want, 2*b.R)
					}
				case "width":
					want = append(want, 2*l.B)
				case "height":
					want = append(want, l.Top)
				case "seam":
					want = append(want, map[string]float64{"parting-base": 2 * tread.LowerOuter, "parting-lid": 2 * tread.UpperOuter}[d.ID])
				default:
					seen[m.Name]++
					continue
				}
				seen[m.Name]++
				near := math.Inf(1)
				for _, w := range want {
					near = min(near, math.Abs(w-m.Value))
				}
				if near > 1e-6 {
					t.Errorf("%s: %s: %s is %.6f, the layout has %.6f", name, d.ID, m.Name, m.Value, want)
				}
			}
			must := []string{"ball", "odd ball", "ball pocket", "width"}
			if d.ID != "parting-sides" {
				must = append(must, "bolt", "bolt hole", "seam", "register")
			}
			for _, m := range must {
				if seen[m] == 0 {
					t.Errorf("%s: %s has no dimension of %s: %v", name, d.ID, m, seen)
				}
			}
		}
	}
}

// Least land: on a square mold, from the seam along the diagonal to the first ball
// pocket that is off no pattern.
func TestLandOfPartings(t *testing.T) {
	x := example(t, "kestrel")
	for id, seam := range map[string]float64{"parting-base": x.mold.Tread.LowerOuter, "parting-lid": x.mold.Tread.UpperOuter} {
		d := x.parting(t, id)
		want := math.Inf(1)
		for _, b := range x.mold.Layout.Balls {
			if b.Axis == 2 {
				want = min(want, math.Hypot(b.At[0], b.At[1])-b.R-seam)
			}
		}
		if len(d.Marks) != 1 || d.Marks[0].Kind != drawing.Narrow {
			t.Fatalf("%s: marks %v", id, d.Marks)
		}
		m := d.Marks[0]
		if says := fmt.Sprintf("%s [%.3f], to the nearest ball pocket", drawing.Millimeters(want), want/25.4); !strings.HasSuffix(m.Text, says) {
			t.Errorf("%s: %q, want %q", id, m.Text, says)
		}
		near := math.Inf(1) // a pocket
		for _, b := range x.mold.Layout.Balls {
			if p := d.View.At(b.At); b.Axis == 2 {
				near = min(near, math.Hypot(p[0]-m.At[0], p[1]-m.At[1])-b.R)
			}
		}
		if b := d.Balloons[0]; (b.At[0]-b.Tip[0])*m.At[0] >= 0 { // others are as near
			t.Errorf("%s: the least land is marked at %.3f, on the side of the names", id, m.At)
		}
		if off := math.Hypot(m.At[0], m.At[1]) - seam; math.Abs(off)+math.Abs(near-want) > 1e-5 {
			t.Errorf("%s: marked %.6f mm beside the seam, %.6f mm from a pocket", id, off, near)
		}
	}
}

// Balloons name what is there, at a place of it.
func TestBalloonsOfPartings(t *testing.T) {
	x := example(t, "albatross")
	for id, want := range map[string][]string{
		"parting-base":  {"ball pocket", "odd ball", "bolt hole", "pry slot", "jack screw", "register", "hub opening", "seam"},
		"parting-lid":   {"ball pocket", "odd ball", "bolt hole", "pry slot", "jack screw", "register", "hub opening", "seam", "sprue", "vent"},
		"parting-sides": {"ball pocket", "odd ball", "bolt hole", "pry slot", "jack screw", "seam"},
	} {
		d := x.parting(t, id)
		tips := map[string]drawing.Point{}
		for _, b := range d.Balloons {
			tips[b.Text] = b.Tip
		}
		for _, w := range want {
			if _, ok := tips[w]; !ok {
				t.Errorf("%s names no %s", id, w)
			}
		}
		if len(tips) != len(want) {
			t.Errorf("%s names %d things, want %d", id, len(tips), len(want))
		}
		face := areas(d, drawing.Face)
		for _, hole := range []string{"ball pocket", "odd ball", "bolt hole", "pry slot", "jack screw"} {
			if face.Contains(tips[hole]) {
				t.Errorf("%s: the leader of %s ends on the face", id, hole)
			}
		}
		if off := away(tips["seam"], lines(d, drawing.Seam)); off > 1e-6 {
			t.Errorf("%s: the leader of the seam ends %.3f mm beside it", id, off)
		}
	}
}

// Seen from the side the cavity lies between: no leader runs across it.
func TestNoLeaderAcrossTheCavity(t *testing.T) {
	for _, name := range examples {
		for _, b := range example(t, name).parting(t, "parting-sides").Balloons {
			if b.At[0]*b.Tip[0] < 0 {
				t.Errorf("%s: %s at %.1f is named at %.1f", name, b.Text, b.Tip, b.At)
			}
		}
	}
}

// Nothing is written over anything else beside the piece, and all fits on the paper.
func TestPartingsFitOnPaper(t *testing.T) {
	for _, name := range examples {
		for _, d := range example(t, name).partings(t) {
			if laidOut(t, name, &d); strings.Contains(d.Note, "Not shown") {
				t.Errorf("%s: %s: %s", name, d.ID, d.Note)
			}
		}
	}
}

// laidOut holds what is written around a piece apart, off the piece, and on the paper.
// No leader runs through a text or another leader.
func laidOut(t *testing.T, name string, d *drawing.Drawing) {
	t.Helper()
	e := d.Extent(d.Scale)
	if w, h := e.Hi[0]-e.Lo[0], e.Hi[1]-e.Lo[1]; w > drawing.Paper.Width || h > drawing.Paper.Height {
		t.Errorf("%s: %s takes %.0f by %.0f mm", name, d.ID, w, h)
	}
	lo, hi := areas(d, drawing.Face).Bounds()
	scaled := func(p drawing.Point) drawing.Point { return drawing.Point{p[0] * d.Scale, p[1] * d.Scale} }
	texts := []drawing.Box{{Lo: scaled(lo), Hi: scaled(hi)}} // the piece first
	for i := range d.Dims {
		ink := d.Dims[i].Ink(d.Scale)
		texts = append(texts, ink.Label.Box())
	}
	for _, b := range d.Balloons {
		l := drawing.NameLabel(b.Text, scaled(b.At))
		texts = append(texts, l.Box())
	}
	for i := range d.Balloons {
		for k := range i {
			a, _ := d.Balloons[i].Leader(d.Scale)
			b, _ := d.Balloons[k].Leader(d.Scale)
			p, q := outline.Stretch{From: a[0], To: a[1]}, outline.Stretch{From: b[0], To: b[1]}
			for _, x := range outline.Crossings(&p, &q) {
				_, on := p.Bears(x, 1e-6)
				if _, too := q.Bears(x, 1e-6); on && too {
					t.Errorf("%s: %s: the leaders of %s and %s cross", name, d.ID, d.Balloons[i].Text, d.Balloons[k].Text)
				}
			}
		}
	}
	for i, a := range texts {
		for _, b := range texts[:i] {
			if a.Meets(b) {
				t.Errorf("%s: %s: two texts lie on each other at %.0f", name, d.ID, a.Lo)
			}
		}
		for _, b := range d.Balloons {
			if leader, ok := b.Leader(d.Scale); ok && i > 0 && a.MeetsLine(leader) {
				t.Errorf("%s: %s: the leader of %s runs through a text", name, d.ID, b.Text)
			}
		}
	}
}

// randomMold draws a mold of another size, outline, clamp and way up.
func randomMold(t *testing.T, r *rand.Rand) *estimated {
	t.Helper()
	pick := func(s ...string) string { return s[r.Intn(len(s))] }
	for {
		d := 40 + 200*r.Float64()
		j, err := params.Default(d, max(12, d*(.25+.3*r.Float64())), d*(.1+.1*r.Float64()), pick("milled", "filament", "resin"))
		if err != nil {
			continue
		}
		j.Mold.Outline = pick("square", "octagon", "round")
		j.Mold.SideClamp.Kind = pick("counterbore", "lugs", "strap", "none")
		j.Mold.FaceUp = pick("front", "back")
		if r.Intn(3) == 0 {
			j.Hub.Offset += pickF(r, 1, -1) * .04 * j.Wheel.Width
		}
		if r.Intn(3) == 0 {
			j.Mold.Ceiling.Shape, j.Mold.Ceiling.Angle = "coned", 2
		}
		if r.Intn(3) == 0 {
			j.Wheel.Cross = params.CrossGrooves{Count: 8 + r.Intn(9), Width: d * .03, Depth: d * .012, Flank: pickF(r, 0, 10)}
		}
		m, err := mold.New(j)
		if err != nil {
			continue
		}
		c, err := m.Check()
		if err != nil {
			t.Fatal(err)
		}
		return &estimated{m, c.Faces, estimateOf(t, m, c.Faces)}
	}
}

func pickF(r *rand.Rand, v ...float64) float64 { return v[r.Intn(len(v))] }

// Whatever the mold, seams are as long as the estimate's and the faces' areas those of
// its cells.
func TestRandomMolds(t *testing.T) {
	n := 15
	if testing.Short() {
		n = 3
	}
	r := rand.New(rand.NewSource(7))
	for i := range n {
		x := randomMold(t, r)
		j := x.mold.Job
		partings := x.partings(t)
		if got := len(partings); got != 3 {
			t.Errorf("mold %d: %d parting planes", i, got)
		}
		for k := range partings {
			laidOut(t, fmt.Sprintf("mold %d (%s, %s)", i, j.Mold.Outline, j.Mold.SideClamp.Kind), &partings[k])
			if strings.Contains(partings[k].Note, "Not shown") {
				t.Errorf("mold %d: %s: %s", i, partings[k].ID, partings[k].Note)
			}
		}
		for k, d := range x.maps(t) {
			l := &x.flash.Lines[k]
			cells := 0.0
			for _, is := range l.Map.Face {
				if is {
					cells += l.Map.Cell * l.Map.Cell
				}
			}
			if got := areas(&d, drawing.Face).Area(); math.Abs(got/cells-1) > .03 {
				t.Errorf("mold %d (%s, %s): %s: face of %.1f mm², cells of %.1f", i, j.Mold.Outline, j.Mold.SideClamp.Kind, d.ID, got, cells)
			}
			if got := lengthOf(lines(&d, drawing.Seam)); math.Abs(got/l.Seam-1) > .01 {
				t.Errorf("mold %d (%s, %s): %s: seam of %.2f mm, the estimate has %.2f", i, j.Mold.Outline, j.Mold.SideClamp.Kind, d.ID, got, l.Seam)
			}
		}
	}
}

// A map says how wide the gap is that it rests on, or what closes it.
func TestNotesOfGaps(t *testing.T) {
	seen := map[bool]int{}
	for _, name := range examples {
		x := example(t, name)
		for i, d := range x.maps(t) {
			l := &x.flash.Lines[i]
			closed := l.Expected.Gap == 0
			seen[closed]++
			want := fmt.Sprintf("Expected gap %.2g mm", l.Expected.Gap)
			if closed {
				want = "Expected: no gap, closed by the " + l.Seal
			}
			if tail := fmt.Sprintf("below %.3f mm", l.Gap.Band.P90); !strings.Contains(d.Note, want) || l.Gap.Band.P90 > .001 && !strings.Contains(d.Note, tail) {
				t.Errorf("%s: %s: no %q in %s", name, d.ID, want, d.Note)
			}
			if strings.Contains(d.Note, "0.000 mm") || !closed && !strings.Contains(d.Note, "seal: "+l.Seal+".") {
				t.Errorf("%s: %s: %s", name, d.ID, d.Note)
			}
		}
	}
	if seen[true] == 0 || seen[false] == 0 {
		t.Errorf("closed gaps or not: %v", seen)
	}
}

func TestSamePartingsTwice(t *testing.T) {
	x := example(t, "kestrel")
	if !reflect.DeepEqual(x.partings(t), x.partings(t)) {
		t.Error("two runs differ")
	}
}

// IDs of all drawings of a mold are its own.
func TestIDsOfPartings(t *testing.T) {
	x := example(t, "wren")
	seen := map[string]bool{}
	for _, d := range append(x.maps(t), x.partings(t)...) {
		if seen[d.ID] || !idLike.MatchString(d.ID) {
			t.Errorf("ID %q is taken or no ID", d.ID)
		}
		seen[d.ID] = true
	}
}

func BenchmarkPartings(b *testing.B) {
	x := example(b, "albatross")
	for b.Loop() {
		x.partings(b)
	}
}

func BenchmarkMaps(b *testing.B) {
	x := example(b, "albatross")
	for b.Loop() {
		x.maps(b)
	}
}
