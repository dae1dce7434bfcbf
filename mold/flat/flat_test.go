package flat

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"sync"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/plumb"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// jobs are every example, and every split of a small and a large wheel with all that a
// mold may have.
func jobs(t *testing.T) map[string]*params.Job {
	out := map[string]*params.Job{}
	for _, name := range []string{"albatross", "kestrel", "wren"} {
		out[name] = moldtest.Example(t, name)
	}
	for _, s := range moldtest.Splits {
		for _, w := range moldtest.Wheels[1:] {
			out[s.Name+", "+w.String()] = w.Job(t, s.Sets...)
		}
	}
	w := moldtest.Wheels[2]
	for _, outline := range []string{"square", "octagon", "round"} {
		out[outline] = w.Job(t, "mold.outline="+outline, "mold.side_clamp.kind=lugs", "mold.mating.stock=0.2mm", "hub.bolts.count=6")
		out[outline+", counterbored"] = w.Job(t, "mold.outline="+outline, "mold.bolts.nut=round", "mold.bolts.head=socket", "mold.jacks.size=M6", "hub.hole_compensation=0.2mm")
	}
	return out
}

// drawing is a job with its files.
type drawing struct {
	name  string
	m     *mold.Mold
	raw   map[string]*brep.Boundary
	files []File
}

var (
	once     sync.Once
	drawings []drawing
)

// all draws every job, once for all tests.
func all(t *testing.T) []drawing {
	t.Helper()
	once.Do(func() {
		for name, j := range jobs(t) {
			m, c := moldtest.Checked(t, j)
			files, err := Of(m, c.RawFaces)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			drawings = append(drawings, drawing{name, m, c.RawFaces, files})
		}
	})
	if len(drawings) == 0 {
		t.Fatal("nothing drawn")
	}
	return drawings
}

// each calls f on every view of every job.
func each(t *testing.T, f func(t *testing.T, m *mold.Mold, p *mold.Piece, v *View)) {
	for _, d := range all(t) {
		t.Run(d.name, func(t *testing.T) {
			if len(d.files) != len(d.m.Pieces) {
				t.Fatalf("%d files of %d pieces", len(d.files), len(d.m.Pieces))
			}
			for i := range d.files {
				for k := range d.files[i].Views {
					f(t, d.m, &d.m.Pieces[i], &d.files[i].Views[k])
				}
			}
		})
	}
}

// What a shop drills is where the layout puts it, at its diameter, and nothing else is.
func TestHolesAreThoseOfTheLayout(t *testing.T) {
	seen := map[string]int{}
	each(t, func(t *testing.T, m *mold.Mold, p *mold.Piece, v *View) {
		if err := holesDiffer(m, p, v); err != nil {
			t.Error(err)
		}
		for _, layer := range ofLayouts {
			seen[layer] += len(circles(v, layer))
		}
	})
	for _, layer := range ofLayouts {
		if seen[layer] == 0 {
			t.Errorf("no circle on %s: nothing tested", layer)
		}
	}
}

// holesDiffer tells where a view's circles are not those of the layout.
func holesDiffer(m *mold.Mold, p *mold.Piece, v *View) error {
	want, within := expected(m, p, v), 1e-9
	if p.Kind == mold.Hub {
		within = 1e-4 // its pitch circle is rounded to the lattice
	}
	for _, layer := range ofLayouts {
		if layer == Channels && m.Tread.Ceiling > 0 { // gates open obliquely
			continue
		}
		if got := circles(v, layer); !matches(got, want[layer], within) {
			return fmt.Errorf("%s, %s: on %s %v, want %v", p.Name, v.Name, layer, got, want[layer])
		}
	}
	return nil
}

func TestOutlineIsTheContour(t *testing.T) {
	each(t, func(t *testing.T, m *mold.Mold, p *mold.Piece, v *View) {
		if err := contourDiffers(p, v); err != nil {
			t.Error(err)
		}
		if err := strays(v); err != nil {
			t.Errorf("%s: %v", p.Name, err)
		}
	})
}

// contourDiffers looks along rays through the exact solid, which share no code with its
// boundary: they meet material just within the outline and none just outside.
func contourDiffers(p *mold.Piece, v *View) error {
	const off = .02
	if isProfile(v) {
		return nil
	}
	w := v.Plane
	s, err := plumb.NewAlong(p.Raw, solid.Frame{O: w.O, X: w.U, Y: w.V, Z: w.W()})
	if err != nil {
		return err
	}
	line, bad, n := s.Line(), 0, 0
	for x := range v.Outline.Stretches() {
		if x.Length() < 4*off {
			continue
		}
		for _, share := range []float64{.07, .29, .53, .71, .93} {
			q, d := x.At(share), x.Heading(share)
			h := off / math.Hypot(d[0], d[1])
			filled := len(line.Runs(q[0]-d[1]*h, q[1]+d[0]*h)) > 0
			beyond := len(line.Runs(q[0]+d[1]*h, q[1]-d[0]*h)) > 0
			if n++; !filled || beyond {
				bad++
			}
		}
	}
	if bad > 0 || n < 5 {
		return fmt.Errorf("%s, %s: at %d of %d places the outline is none", p.Name, v.Name, bad, n)
	}
	return nil
}

// Plates have the block's plan, hub ends the hub's, its section what it is turned to.
func TestOutlineAreas(t *testing.T) {
	n := 0
	each(t, func(t *testing.T, m *mold.Mold, p *mold.Piece, v *View) {
		want := areaInClosedForm(m, p, v)
		if want == 0 {
			return
		}
		n++
		if got := (outline.Region{v.Outline}).Area(); math.Abs(got/want-1) > 1e-5 {
			t.Errorf("%s, %s: outline of %.4f mm², want %.4f", p.Name, v.Name, got, want)
		}
	})
	if n == 0 {
		t.Error("nothing compared")
	}
}

// By the second theorem of Pappus and Guldin the half section makes the hub as it is
// turned, before it is drilled.
func TestHalfSectionMakesTheHub(t *testing.T) {
	j := moldtest.Wheels[2].Job(t, "hub.bolts.count=0", "hub.lock_holes.count=0", "hub.hole_compensation=0.2mm")
	m, c := moldtest.Checked(t, j)
	files, err := Of(m, c.RawFaces)
	if err != nil {
		t.Fatal(err)
	}
	f := files[len(files)-1]
	moment := 0.0 // ∫ y dA by strips under each stretch, on a fine grid
	for s := range f.Views[0].Outline.Stretches() {
		const n = 20000
		for k := range n {
			a, b := s.At(float64(k)/n), s.At(float64(k+1)/n)
			moment -= (b[0] - a[0]) * (a[1]*a[1] + a[1]*b[1] + b[1]*b[1]) / 6
		}
	}
	if got, want := 2*math.Pi*moment, c.RawVolumes["hub"]; math.Abs(got/want-1) > 1e-8 {
		t.Errorf("the half section makes %.3f mm³, the hub has %.3f", got, want)
	}
}

// Each view has one closed outline, names its origin, and lies clear of the others; the
// file holds what was drawn, and the same again.
func TestFilesHoldWhatIsDrawn(t *testing.T) {
	for _, d := range all(t) {
		t.Run(d.name, func(t *testing.T) {
			for _, f := range d.files {
				var b bytes.Buffer
				if err := dxf.Write(&b, f.Drawing); err != nil {
					t.Fatal(err)
				}
				got, err := dxf.Read(&b)
				if err != nil || !reflect.DeepEqual(got, f.Drawing) {
					t.Errorf("%s: read back it is another drawing: %v", f.Name, err)
				}
				closed, texts := 0, 0
				for _, it := range got.Items {
					switch e := it.Entity.(type) {
					case dxf.Polyline:
						if (it.Layer == Outline || it.Layer == Profile) && e.Closed {
							closed++
						}
					case dxf.Circle:
						if it.Layer == Outline {
							closed++
						}
					case dxf.Text:
						texts++
					}
				}
				if closed != len(f.Views) || texts < 2*len(f.Views) {
					t.Errorf("%s: %d closed outlines and %d notes for %d views", f.Name, closed, texts, len(f.Views))
				}
				right := math.Inf(-1)
				for k := range f.Views {
					v := &f.Views[k]
					lo, hi := v.box()
					if lo[0]+v.Shift[0] < right+leastBetween-1 || math.Mod(v.Shift[0], grid) != 0 || v.Shift[1] != 0 || k == 0 && v.Shift[0] != 0 {
						t.Errorf("%s, %s lies at %v", f.Name, v.Name, v.Shift)
					}
					right = hi[0] + v.Shift[0]
				}
			}
		})
	}
}

// Circles stand in the file where their view stands, each hole with a point to drill at.
func TestHolesOfFiles(t *testing.T) {
	for _, d := range all(t) {
		for _, f := range d.files {
			on := map[dxf.Entity]int{}
			for _, it := range f.Drawing.Items {
				if _, run := it.Entity.(dxf.Polyline); !run {
					on[it.Entity]++
				}
			}
			for i := range f.Views {
				v := &f.Views[i]
				for _, layer := range ofLayouts {
					for _, c := range circles(v, layer) {
						at := outline.Point{c.Center[0] + v.Shift[0], c.Center[1] + v.Shift[1]}
						if on[dxf.Circle{Center: at, Radius: c.Radius}] != 1 || on[dxf.Dot{At: at}] != 1 {
							t.Errorf("%s, %s, %s: %d circles and %d points at %v", d.name, f.Name, layer, on[dxf.Circle{Center: at, Radius: c.Radius}], on[dxf.Dot{At: at}], at)
						}
					}
				}
			}
		}
	}
}

func TestSameBytesEachRun(t *testing.T) {
	d := all(t)[0]
	again, err := Of(d.m, d.raw)
	if err != nil || len(again) != len(d.files) {
		t.Fatal(err)
	}
	for i := range again {
		var a, b bytes.Buffer
		if dxf.Write(&a, d.files[i].Drawing); a.Len() == 0 {
			t.Fatal("nothing written")
		}
		if dxf.Write(&b, again[i].Drawing); !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s differs from run to run", again[i].Name)
		}
	}
}
