package drawing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// splitsDrawn are the ways to split a mold, with the drawings that each has.
var splitsDrawn = []struct {
	name     string
	sets     []string
	sections string
	partings string
}{
	{"four-piece", nil, "sprue ball-bolt", "base sides lid"},
	{"three shells", []string{"mold.segments=3"}, "sprue ball-bolt", "base shell-a-shell-c shell-a-shell-b shell-b-shell-c lid"},
	{"four shells", []string{"mold.segments=4"}, "sprue ball-bolt", "base shell-a-shell-d shell-a-shell-b shell-b-shell-c shell-c-shell-d lid"},
	{"open top", []string{"mold.split=open top"}, "strap ball-bolt", "base sides strap"},
	{"open top, three shells", []string{"mold.split=open top", "mold.segments=3"}, "strap ball-bolt", "base shell-a-shell-c shell-a-shell-b shell-b-shell-c strap"},
	{"open top, four shells", []string{"mold.split=open top", "mold.segments=4"}, "strap ball-bolt", "base shell-a-shell-d shell-a-shell-b shell-b-shell-c shell-c-shell-d strap"},
	{"clam", []string{"mold.split=clam"}, "sprue across", "sides"},
	{"clam, sprue in a half", []string{"mold.split=clam", "mold.sprue.angle=90deg"}, "sprue", "sides"},
	{"cup and lid", []string{"mold.split=cup and lid"}, "sprue ball-bolt", "cup lid"},
	{"cup and lid, crowned", []string{"mold.split=cup and lid", "wheel.crown=1mm"}, "sprue ball-bolt", "cup lid"},
	{"cup and lid, drafted", []string{"mold.split=cup and lid", "wheel.draft=2deg"}, "sprue ball-bolt", "cup lid"},
}

// everySplit runs a test for wheels in all splits that they can have; in short runs for
// that in the middle.
func everySplit(t *testing.T, test func(t *testing.T, m *mold.Mold, sections, partings string)) {
	made := 0
	for i, w := range moldtest.Wheels {
		if testing.Short() && i != 1 {
			continue
		}
		for _, x := range splitsDrawn {
			t.Run(w.String()+", "+x.name, func(t *testing.T) {
				m, err := mold.New(w.Job(t, x.sets...))
				var refused params.Faults
				if errors.As(err, &refused) {
					t.Skip(err) // bolts too large for a small wheel
				}
				if err != nil {
					t.Fatal(err)
				}
				made++
				test(t, m, x.sections, x.partings)
			})
		}
		if made < len(splitsDrawn)-1 {
			t.Errorf("%s: only %d splits were drawn", w, made)
		}
		made = 0
	}
}

// ids are the IDs of drawings, without what they have in common.
func ids(ds []Drawing, prefix string) string {
	var out []string
	for i := range ds {
		out = append(out, strings.TrimPrefix(ds[i].ID, prefix))
	}
	return strings.Join(out, " ")
}

// Every split has its sections. All dimensions are those of the points they start from,
// these lie on drawn lines, heights add up to the mold's, and all that is asked for finds
// room on the paper.
func TestSectionsOfEverySplit(t *testing.T) {
	everySplit(t, func(t *testing.T, m *mold.Mold, want, _ string) {
		ds, err := Sections(m, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := ids(ds, "section-"); got != want {
			t.Fatalf("sections %s, want %s", got, want)
		}
		for i := range ds {
			d := &ds[i]
			checkDims(t, m, d)
			if e := d.Extent(d.Scale); e.Hi[0]-e.Lo[0] > Paper.Width || e.Hi[1]-e.Lo[1] > Paper.Height {
				t.Errorf("%s takes %.0f mm", d.ID, e)
			}
			heights := map[string]float64{}
			for _, x := range d.Dims {
				if x.Kind == Plumb {
					heights[x.Name] = x.Value
				}
			}
			sum := 0.0
			for _, x := range layers(m.Layout) {
				if heights[x.name] == 0 {
					t.Errorf("%s has no height of %s: %v", d.ID, x.name, heights)
				}
				sum += heights[x.name]
			}
			if math.Abs(sum-heights["mold"]) > 1e-9 {
				t.Errorf("%s: heights add up to %.4f, the mold has %.4f", d.ID, sum, heights["mold"])
			}
		}
	})
}

// Every split has its parting planes, each told which side is which, and each piece is
// seen in at least one drawing. What is tinted of a parting of three or four shells is
// the shell's section there.
func TestPartingsOfEverySplit(t *testing.T) {
	everySplit(t, func(t *testing.T, m *mold.Mold, _, want string) {
		c, err := m.Check()
		if err != nil {
			t.Fatal(err)
		}
		ds, err := Partings(m, c.Faces)
		if err != nil {
			t.Fatal(err)
		}
		if got := ids(ds, "parting-"); got != want {
			t.Errorf("partings %s, want %s", got, want)
		}
		sections, err := Sections(m, nil)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, d := range append(slices.Clone(ds), sections...) {
			for _, a := range d.Areas {
				seen[a.Of] = true
			}
			if i := strings.Index(d.Note, "Not shown"); i >= 0 {
				t.Errorf("%s: %s", d.ID, d.Note[i:])
			}
		}
		for _, p := range m.Pieces {
			if !seen[p.Name] {
				t.Errorf("%s is in no drawing", p.Name)
			}
		}
		if len(m.Layout.Sides) > 2 {
			tinted(t, m, ds)
		}
		if m.Layout.Below == "" && (len(ds[0].Marks) != 1 || strings.Contains(ds[0].Marks[0].Text, "land, 0 ")) {
			t.Errorf("the least land is not that beside sprue and vent: %v", ds[0].Marks)
		}
	})
}

// tinted holds the faces of partings to sections of the shells that begin there, and
// their captions to both shells and the direction.
func tinted(t *testing.T, m *mold.Mold, ds []Drawing) {
	t.Helper()
	for i := range m.Layout.Sides {
		s, n := &m.Layout.Sides[i], len(m.Layout.Sides)
		before := m.Layout.Sides[(i+n-1)%n].Name
		k := slices.IndexFunc(ds, func(d Drawing) bool { return d.Areas[0].Of == s.Name })
		if k < 0 {
			t.Errorf("no parting of %s", s.Name)
			continue
		}
		d := &ds[k]
		p, _ := m.Piece(s.Name)
		v := d.View
		v.U = onto(m, v.U) // exactly along the face
		r, err := outline.Section(brep.NewEvaluator(m.Model), p.Root, v, 1e-3)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := d.Areas[0].Region.Area(), r.Area(); math.Abs(got/want-1) > 1e-5 { // a plane at an angle gives way by some steps of the lattice
			t.Errorf("%s: face of %.6f mm², want %.6f", d.ID, got, want)
		}
		if u := d.View.U; math.Abs(math.Remainder(math.Atan2(u[1], u[0])*180/math.Pi-s.From, 360)) > 1e-9 {
			t.Errorf("%s looks along %v, %s begins at %g°", d.ID, u, s.Name, s.From)
		}
		slot := slices.IndexFunc(d.Balloons, func(b Balloon) bool { return b.Text == namedSlot })
		if slot < 0 || d.Balloons[slot].Tip[0] < m.Layout.Reach(d.View.U)-m.Job.Mold.PrySlots.Depth {
			t.Errorf("%s names no pry slot at its edge: %v", d.ID, d.Balloons)
		}
		says := fmt.Sprintf("The face of %s, seen from %s: the axis to the left, the side at %s from +x to the right, +z up.", mold.Title(s.Name), mold.Title(before), degrees(s.From))
		if !strings.Contains(d.Note, says) {
			t.Errorf("%s does not say %q: %s", d.ID, says, d.Note)
		}
	}
}

// Under a strap bolts are as long as what their heads bear on is high, and the strap's
// drawing shows no holes where it has none.
func TestBoltsOfAStrap(t *testing.T) {
	m, err := mold.New(moldtest.Wheels[1].Job(t, "mold.split=open top"))
	if err != nil {
		t.Fatal(err)
	}
	heads := map[float64]int{}
	for i := range m.Layout.Bolts {
		b := &m.Layout.Bolts[i]
		f, ok := fastenerAt(m, b, 0, 45)
		if !ok {
			t.Fatal("no bolts")
		}
		_, hi := f.bolt.Bounds()
		heads[math.Round(hi[1]*1e3)/1e3]++
	}
	t.Log(heads)
	if len(heads) != 2 {
		t.Errorf("heads at %v", heads)
	}
	c, err := m.Check()
	if err != nil {
		t.Fatal(err)
	}
	ds, err := Partings(m, c.Faces)
	if err != nil {
		t.Fatal(err)
	}
	d := &ds[slices.IndexFunc(ds, func(d Drawing) bool { return d.ID == "parting-strap" })]
	holes := 0
	for _, p := range d.Areas[0].Region {
		for _, s := range p.Segments {
			if s.Radius > 0 && math.Abs(s.Radius-m.Layout.Bolts[0].R) < 1e-6 && s.To == p.Start {
				holes++
			}
		}
	}
	if holes != 2 {
		t.Errorf("%d bolt holes in the strap's face, want 2", holes)
	}
	for i := range m.Layout.Bolts { // center lines cross at what is there
		b := &m.Layout.Bolts[i]
		at, there := d.View.At(b.At), false
		for _, l := range d.Lines {
			if lo, hi := outline.Region(l.Paths).Bounds(); l.Look == Axis && hi[0]-lo[0] < 4*b.R && dist(between(lo, hi, .5), at) < b.R/2 {
				there = true
			}
		}
		if there != (b.Top > m.Layout.Part) {
			t.Errorf("a bolt at %.1f that reaches up to %.1f is drawn in the strap: %t", at, b.Top, there)
		}
	}
}

// A plane that runs along a parting at an angle shows the shell behind it, whole.
func TestSectionAlongAnObliqueParting(t *testing.T) {
	for angle, want := range map[string][2]string{"90deg": {"shell-b", "shell-a"}, "30deg": {"shell-b", "shell-a"}, "150deg": {"shell-c", "shell-b"}, "270deg": {"shell-a", "shell-c"}, "210deg": {"shell-c", "shell-b"}} {
		m, err := mold.New(moldtest.Wheels[1].Job(t, "mold.segments=3", "mold.sprue.angle="+angle))
		if err != nil {
			t.Fatal(err)
		}
		s := throughAxis(m)
		if _, err := finished(m, nil, s); err != nil {
			t.Fatal(err)
		}
		left, right := Point{-m.Tread.R - 2, m.Layout.Top / 2}, Point{m.Tread.R + 2, m.Layout.Top / 2}
		for _, p := range m.Pieces {
			if p.Kind != mold.Shell {
				continue
			}
			if got := s.region[p.Name].Contains(left); got != (p.Name == want[0]) {
				t.Errorf("sprue at %s: %s to the left: %t", angle, p.Name, got)
			}
			if got := s.region[p.Name].Contains(right); got != (p.Name == want[1]) {
				t.Errorf("sprue at %s: %s to the right: %t", angle, p.Name, got)
			}
		}
		way, side := 1., 1
		if angle == "210deg" || angle == "90deg" { // the parting lies opposite
			way, side = -1, 0
		}
		if name := s.faced(way); name != want[side] || !strings.Contains(s.Note, called(name)) {
			t.Errorf("sprue at %s: %q is said to be behind: %s", angle, name, s.Note)
		}
	}
}
