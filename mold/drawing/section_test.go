package drawing

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// sectionsOf draws the sections of a job without a plan.
func sectionsOf(t testing.TB, j *params.Job) (*mold.Mold, []Drawing) {
	t.Helper()
	m, err := mold.New(j)
	if err != nil {
		t.Fatal(err)
	}
	d, err := Sections(m, nil)
	if err != nil {
		t.Fatal(err)
	}
	return m, d
}

var stockNames = []string{"albatross", "kestrel", "wren"}

// drawn are all paths of a drawing.
func (d *Drawing) drawn() (out []outline.Path) {
	for _, a := range d.Areas {
		out = append(out, a.Region...)
	}
	for _, l := range d.Lines {
		out = append(out, l.Paths...)
	}
	return out
}

// checkDims holds every dimension to the distance of its points, and the points to
// the paths. Gates are measured where they meet a flat ceiling: under a coned one
// their edge lies up to its rise higher.
func checkDims(t *testing.T, m *mold.Mold, d *Drawing) {
	t.Helper()
	paths := d.drawn()
	for i := range d.Dims {
		x := &d.Dims[i]
		if got := x.span(); math.Abs(got-x.Value) > 1e-6 {
			t.Errorf("%s: %s says %.7f, its points lie %.7f apart", d.ID, x.Name, x.Value, got)
		}
		within := 1e-6
		if x.Name == "gate" {
			within += m.Tread.Ceiling
		}
		for _, p := range []Point{x.From, x.To} {
			if !onBorder(paths, p, within) {
				t.Errorf("%s: %s starts at %.6f, where nothing is drawn", d.ID, x.Name, p)
			}
		}
	}
}

// Of the sprue's side on the right, and +x not.
func TestNoteSaysWhatIsToTheRight(t *testing.T) {
	for angle, want := range map[string]string{"90deg": "90°", "30deg": "30°"} {
		_, ds := sectionsOf(t, moldtest.Example(t, "kestrel", "mold.sprue.angle="+angle))
		if !strings.Contains(ds[0].Note, "first sprue; to the right: the side at "+want+" from +x.") {
			t.Errorf("the sprue is at %s: %s", want, ds[0].Note)
		}
	}
}

func TestDimensionsFitTheDrawing(t *testing.T) {
	for _, name := range stockNames {
		m, ds := sectionsOf(t, moldtest.Example(t, name))
		for i := range ds {
			checkDims(t, m, &ds[i])
		}
	}
}

// Every dimension's value against the model's numbers, by name.
func TestDimensionsAreTheModels(t *testing.T) {
	for _, name := range stockNames {
		m, ds := sectionsOf(t, moldtest.Example(t, name))
		l, c, tr := m.Layout, m.Core, m.Tread
		ball, bolt := cornerAt(m).ball, cornerAt(m).bolt
		want := map[string][]float64{
			"cavity": {2 * tr.R}, "shells": {l.Top}, "base": {-l.Bottom}, "lid": {l.Ceil - l.Top}, "mold": {l.Ceil - l.Bottom, 2 * l.FaceY},
			"hub": {c.Length}, "gap": {l.GapLow, l.GapTop}, "hub bond": {2 * c.BodyR}, "hub flange": {2 * c.FlangeR}, "hub bore": {2 * c.BoreR},
			"bearing pocket": {2 * c.Lower.PocketR, 2 * c.Upper.PocketR}, "seat": {2 * c.Lower.SeatR, 2 * c.Upper.SeatR},
			"gate": {2 * l.GateR}, "mouth": {2 * l.MouthR}, "vent": {2 * l.VentR}, "fill": {m.Job.Pour.Fill},
			"sprue from axis": {math.Hypot(l.Gates[0][0], l.Gates[0][1])},
			// Slots and tread end the base's land in the plane x = 0; in a corner pocket and tread.
			"land": {l.FaceY - math.Round(m.Job.Mold.PrySlots.Depth*16384)/16384 - tr.LowerOuter, math.Hypot(ball.At[0], ball.At[1]) - ball.R - tr.LowerOuter},
			"ball": {ball.Diameter}, "pocket": {2 * ball.R}, "pocket depth": {ball.Depth}, "ball to bolt": {math.Hypot(bolt.At[0]-ball.At[0], bolt.At[1]-ball.At[1])},
			"bolt hole": {2 * bolt.R}, "counterbore": {2 * bolt.HeadR}, "counterbore depth": {bolt.HeadD}, "nut recess": {2 * bolt.NutR}, "nut recess depth": {bolt.NutD},
		}
		seen := map[string]bool{}
		for _, d := range ds {
			for _, x := range d.Dims {
				seen[x.Name] = true
				if strings.HasPrefix(x.Name, "nut recess here") {
					continue // a chord of the hexagon, see TestHexagonAcross
				}
				ok := false
				for _, v := range want[x.Name] {
					ok = ok || math.Abs(x.Value-v) < 1e-4
				}
				if !ok {
					t.Errorf("%s, %s: %s is %.4f, want one of %.4f", name, d.ID, x.Name, x.Value, want[x.Name])
				}
			}
		}
		for _, must := range []string{"cavity", "shells", "base", "lid", "mold", "hub", "gap", "hub bond", "hub bore", "gate", "mouth", "land", "ball", "pocket", "pocket depth", "bolt hole", "counterbore", "nut recess depth", "fill"} {
			if !seen[must] {
				t.Errorf("%s: no dimension of %s", name, must)
			}
		}
		if tr.Width != l.Top {
			t.Errorf("%s: shells of %.3f mm around a tread of %.3f mm", name, l.Top, tr.Width)
		}
	}
}

// A hexagon reaches farther the more its corner turns to the plane: its circumcircle
// is 2/√3 of its incircle, and it looks the same after every sixth of a turn.
func TestHexagonAcross(t *testing.T) {
	for turn, want := range map[float64]float64{0: 2 / math.Sqrt(3), 30: 1, 60: 2 / math.Sqrt(3), 90: 1, -30: 1, 315: 1 / math.Cos(15*math.Pi/180)} {
		if got := hexReach(1, turn); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %g°: %.6f, want %.6f", turn, got, want)
		}
	}
}

// An M5 screw of ISO 4762 with its nut of ISO 4032 between counterbore and recess: head
// 8.5 by 5 mm, nut 8 mm across flats and 4.7 mm high, so 9.24 mm across corners.
func TestBoltHasItsSizes(t *testing.T) {
	m, ds := sectionsOf(t, moldtest.Example(t, "kestrel"))
	b := cornerAt(m).bolt
	box := map[string]Box{}
	for _, a := range ds[1].Areas {
		if a.Look == Whole {
			lo, hi := a.Region.Bounds()
			box[a.Of] = Box{lo, hi}
		}
		if a.Of != "nut" {
			continue
		}
		middle := between(box[a.Of].Lo, box[a.Of].Hi, .5)
		for _, c := range ds[1].Areas { // it has play in its recess, and rests on its floor
			for _, p := range corners(a.Region[0], 1) {
				if c.Look == Cut && c.Region.Contains(between(p, middle, 1e-6)) {
					t.Errorf("the %s sticks in %s at %.2f", a.Of, c.Of, p)
				}
			}
		}
	}
	size := func(of string, i int) float64 { return box[of].Hi[i] - box[of].Lo[i] }
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"head", size("bolt", 0), 8.5}, {"screw", size("bolt", 1), 5 + b.Length(m.Layout, 4.7)},
		{"top of the head", box["bolt"].Hi[1], m.Layout.Ceil - b.HeadD + 5},
		{"nut across corners", size("nut", 0), 8 / math.Cos(math.Pi/6)}, {"nut", size("nut", 1), 4.7},
		{"ball", size("ball", 0), 6}, {"ball", size("ball", 1), 6},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: %.4f mm, want %.4f", c.what, c.got, c.want)
		}
	}
}

// Where a groove takes the crown's top away a hidden line keeps it: at the faces it
// lies lower by the crown.
func TestCrownIsShownAcrossGrooves(t *testing.T) {
	m, ds := sectionsOf(t, moldtest.Example(t, "albatross"))
	sides := 0
	for _, l := range ds[0].Lines {
		if l.Look != Hidden {
			continue
		}
		sides++
		if got, want := math.Abs(l.Paths[0].Start[0]), m.Tread.R-m.Job.Wheel.Crown; math.Abs(got-want) > 1e-9 {
			t.Errorf("at the face the tread lies at %.6f, want %.6f", got, want)
		}
		lo, hi := outline.Region(l.Paths).Bounds()
		if got := max(-lo[0], hi[0]); math.Abs(got-m.Tread.R) > 1e-9 {
			t.Errorf("in the middle at %.6f, want %.6f", got, m.Tread.R)
		}
	}
	if sides != 2 {
		t.Errorf("%d hidden lines", sides)
	}
}

// What is cut fills the block's section: pieces, hub, rubber, channels, and what no
// part fills.
func TestSectionsFillTheBlock(t *testing.T) {
	for _, name := range stockNames {
		m, ds := sectionsOf(t, moldtest.Example(t, name))
		ev := brep.NewEvaluator(m.Model)
		for _, d := range ds {
			sum := 0.0
			for _, a := range d.Areas {
				if (a.Look == Cut && a.Of != "seal") || a.Look == Liquid { // the seal lies in a clearance
					sum += a.Region.Area()
				}
			}
			clear, err := outline.Section(ev, m.Clearances, d.View, m.Layout.B*sag)
			if err != nil {
				t.Fatal(err)
			}
			whole, err := outline.Section(ev, m.Block, d.View, m.Layout.B*sag)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := sum+clear.Area(), whole.Area(); math.Abs(got/want-1) > 1e-6 {
				t.Errorf("%s, %s: parts of %.4f mm² in a block of %.4f mm²", name, d.ID, got, want)
			}
			if name == "kestrel" && d.ID == "section-sprue" {
				if want := 163 * 61.0; math.Abs(whole.Area()-want) > 1e-9 {
					t.Errorf("the block of 163 by 61 mm has %.6f mm²", whole.Area())
				}
			}
		}
	}
}

// A balloon's dot lies whole on what the balloon names.
func TestBalloonsPointAtWhatTheyName(t *testing.T) {
	of := map[string]string{"shell A": "shell-a", "shell B": "shell-b"}
	for _, name := range stockNames {
		m, ds := sectionsOf(t, moldtest.Example(t, name))
		for _, d := range ds {
			named := map[string]bool{}
			for _, b := range d.Balloons {
				named[b.Text] = true
				if b.Text == "filled to here" {
					if want := m.Layout.Top + m.Job.Pour.Fill; math.Abs(b.Tip[1]-want) > 1e-9 {
						t.Errorf("%s: the level is shown at %.3f, want %.3f", name, b.Tip[1], want)
					}
					continue
				}
				thing := b.Text
				if s, ok := of[thing]; ok {
					thing = s
				}
				var on []string
				for _, a := range d.Areas { // the one painted last is seen
					if a.Region.Contains(b.Tip) {
						on = append(on, a.Of)
					}
				}
				if len(on) == 0 || on[len(on)-1] != thing {
					t.Errorf("%s, %s: %q points at %v", name, d.ID, b.Text, on)
				}
				if !(Box{d.Window[0], d.Window[1]}.holds(b.Tip)) && d.Window != [2]Point{} {
					t.Errorf("%s, %s: %q points beyond what is shown", name, d.ID, b.Text)
				}
			}
			for _, must := range []string{"base", "lid"} {
				if !named[must] {
					t.Errorf("%s, %s: nothing says %q", name, d.ID, must)
				}
			}
			if d.ID == "section-sprue" && !(named["hub"] && named["rubber"] && named["shell A"] && named["shell B"]) {
				t.Errorf("%s: names %v", name, named)
			}
		}
	}
}

func (b Box) holds(p Point) bool {
	return p[0] > b.Lo[0] && p[0] < b.Hi[0] && p[1] > b.Lo[1] && p[1] < b.Hi[1]
}

// The same drawings on any number of cores.
func TestSectionsAreTheSameEverywhere(t *testing.T) {
	j := moldtest.Example(t, "wren")
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	_, one := sectionsOf(t, j)
	runtime.GOMAXPROCS(4)
	_, four := sectionsOf(t, j)
	if !reflect.DeepEqual(one, four) {
		t.Error("drawings differ between one core and four")
	}
}

// A leaning mold's level is not parallel to its faces, and stays under the lid's top
// on the side of the first sprue only if the fill says so.
func TestLevelLeansWithTheMold(t *testing.T) {
	j := moldtest.Example(t, "kestrel", "pour.tilt=4deg", "pour.tilt_toward=90deg", "pour.fill=6mm")
	m, ds := sectionsOf(t, j)
	var slope, surface float64
	for _, l := range ds[0].Lines {
		if l.Look == Level {
			a, b := l.Paths[0].Start, l.Paths[0].Segments[0].To
			slope = (b[1] - a[1]) / (b[0] - a[0])
		}
	}
	// The side at +y, to the right, is raised: in the mold the liquid stands lower there.
	if want := -math.Tan(4 * math.Pi / 180); math.Abs(slope-want) > 1e-9 {
		t.Errorf("the level rises by %.5f, want %.5f", slope, want)
	}
	for _, a := range ds[0].Areas {
		if a.Look == Liquid {
			_, hi := a.Region.Bounds()
			surface = hi[1]
		}
	}
	r := m.Layout.SprueR(6, m.Tread.Top)
	if want := m.Layout.Top + 6 + r*math.Tan(4*math.Pi/180); math.Abs(surface-want) > 0.05 {
		t.Errorf("the liquid reaches %.3f, want about %.3f", surface, want)
	}
	if !strings.Contains(ds[0].Note, "4°") {
		t.Error("the note does not say that the mold leans")
	}
}

// Half of a square, and of a disc's chords.
func TestBehindCuts(t *testing.T) {
	square := outline.Region{block(0, 0, 2, 2)}
	if got := behind(square, Point{0, 1}, Point{0, .5}).Area(); math.Abs(got-1) > 1e-12 {
		t.Errorf("a quarter of a square of 4 has %.6f", got)
	}
	if got := behind(square, Point{1, 1}, Point{1, 1}).Area(); math.Abs(got-2) > 1e-12 {
		t.Errorf("half of a square of 4, cut across corners, has %.6f", got)
	}
	if got := behind(square, Point{0, 1}, Point{0, 3}); !reflect.DeepEqual(got, square) {
		t.Error("what is not cut has changed")
	}
	if got := behind(square, Point{0, 1}, Point{0, -1}); len(got) != 0 {
		t.Error("something is left of nothing")
	}
}

// randomSettings draw a mold's outline, split of the sprue, process and tread.
func randomSettings(r *rand.Rand) (*params.Job, error) {
	pick := func(s ...string) string { return s[r.Intn(len(s))] }
	d := 30 + 250*r.Float64()*r.Float64()
	j, err := params.Default(d, max(10, d*(.3+.3*r.Float64())), d*(.08+.1*r.Float64()), pick("milled", "filament", "resin"))
	if err != nil {
		return nil, err
	}
	j.Mold.Outline = pick("square", "octagon", "round")
	j.Mold.Sprue.Angle = []float64{0, 45, 67.5, 90, 180, 360 * r.Float64()}[r.Intn(6)]
	j.Mold.Bolts.Nut = pick("hex", "round", "none")
	j.Mold.Bolts.Head = pick("socket", "none")
	if r.Intn(4) == 0 {
		j.Mold.Bolts.Size = "none"
	}
	if r.Intn(2) == 0 {
		j.Wheel.Crown = .01 * d
	}
	if r.Intn(3) == 0 {
		j.Wheel.Cross = params.CrossGrooves{Count: 7 + r.Intn(12), Width: d * .03, Depth: d * .01, Flank: 10}
	}
	if r.Intn(2) == 0 {
		w := j.Wheel.Width
		j.Wheel.Grooves = []params.Groove{{Shape: "rectangular", Position: w / 2, Width: w / 8, Depth: d * .01}}
	}
	return j, nil
}

// checkTexts holds the texts apart and on the paper.
func checkTexts(t *testing.T, d *Drawing) {
	t.Helper()
	var boxes []Box
	var texts []string
	add := func(b Box, text string) {
		for i, o := range boxes {
			if o.Meets(b) {
				t.Errorf("%s: %q and %q cover each other", d.ID, text, texts[i])
			}
		}
		boxes, texts = append(boxes, b), append(texts, text)
	}
	for i := range d.Dims {
		l := d.Dims[i].Ink(d.Scale).Label
		add(l.Box(), l.Text+" "+l.Name)
	}
	for _, b := range d.Balloons {
		l := NameLabel(b.Text, scaled(b.At, d.Scale))
		add(l.Box(), b.Text)
	}
	if e := d.Extent(d.Scale); e.Hi[0]-e.Lo[0] > Paper.Width || e.Hi[1]-e.Lo[1] > Paper.Height {
		t.Errorf("%s at %s: %.0f by %.0f mm", d.ID, ScaleName(d.Scale), e.Hi[0]-e.Lo[0], e.Hi[1]-e.Lo[1])
	}
}

func TestSectionsOfRandomMolds(t *testing.T) {
	done := 0
	for n := int64(0); done < 20 && n < 200; n++ {
		j, err := randomSettings(rand.New(rand.NewSource(n)))
		if err != nil {
			continue
		}
		m, err := mold.New(j)
		if err != nil {
			continue
		}
		done++
		ds, err := Sections(m, nil)
		if err != nil {
			t.Errorf("job %d: %v", n, err)
			continue
		}
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			for i := range ds {
				checkDims(t, m, &ds[i])
				checkTexts(t, &ds[i])
			}
		})
	}
	if done < 20 {
		t.Fatalf("only %d of the jobs can be made", done)
	}
}

// Air that stays is marked where it lies, if that is near the plane: leaning, the
// raised side of the roof keeps some.
func TestTrapsAreMarked(t *testing.T) {
	const toward = "pour.tilt_toward=90deg" // where the sprue is
	m, c := moldtest.Checked(t, moldtest.Example(t, "kestrel", "pour.tilt=4deg", toward))
	p, err := pour.New(m, c.Volumes, 1, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	ds, err := Sections(m, p)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Air.Traps) == 0 {
		t.Fatal("no air stays in a leaning mold")
	}
	kinds := map[MarkKind]int{}
	for _, k := range ds[0].Marks {
		kinds[k.Kind]++
		if math.Abs(k.At[1]-m.Tread.Top) > p.Air.Cell || k.At[0] < m.Core.EndR() || k.At[0] > m.Tread.R {
			t.Errorf("%s is marked at %.2f, not under the lid on the raised side", k.Kind, k.At)
		}
	}
	if kinds[Trap] != 1 {
		t.Errorf("marks %v", kinds)
	}
}

func BenchmarkSections(b *testing.B) {
	m, err := mold.New(moldtest.Example(b, "albatross"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Sections(m, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func cornerAt(m *mold.Mold) corner {
	c, _ := cornerOf(m)
	return c
}
