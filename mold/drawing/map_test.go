package drawing_test

import (
	"math"
	"reflect"
	"regexp"
	"strings"
	"sync"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/flash"
	"wheelmold/mold/moldtest"
)

// estimated is a mold with its faces and its flash.
type estimated struct {
	mold  *mold.Mold
	faces map[string]*brep.Boundary
	flash *flash.Estimate
}

var shelf sync.Map // the examples

func example(t testing.TB, name string) *estimated {
	t.Helper()
	if v, ok := shelf.Load(name); ok {
		return v.(*estimated)
	}
	m, c := moldtest.Checked(t, moldtest.Example(t, name))
	x := &estimated{m, c.Faces, estimateOf(t, m, c.Faces)}
	shelf.Store(name, x)
	return x
}

// estimateOf takes few draws: maps are the same with any number.
func estimateOf(t testing.TB, m *mold.Mold, faces map[string]*brep.Boundary) *flash.Estimate {
	t.Helper()
	e, err := flash.Analyze(m, faces, flash.Options{Draws: 60, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func (x *estimated) maps(t testing.TB) []drawing.Drawing {
	t.Helper()
	out, err := drawing.Maps(x.mold, x.faces, x.flash)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var examples = []string{"wren", "kestrel", "albatross"}

func areas(d *drawing.Drawing, look drawing.Look) outline.Region {
	var out outline.Region
	for _, a := range d.Areas {
		if a.Look == look {
			out = append(out, a.Region...)
		}
	}
	return out
}

func lines(d *drawing.Drawing, look drawing.Look) []outline.Path {
	var out []outline.Path
	for _, l := range d.Lines {
		if l.Look == look {
			out = append(out, l.Paths...)
		}
	}
	return out
}

// lengthOf measures paths of lines and arcs.
func lengthOf(paths []outline.Path) float64 {
	sum := 0.0
	for _, p := range paths {
		at := p.Start
		for _, s := range p.Segments {
			if s.Radius > 0 {
				sum += s.Radius * math.Abs(sweep(at, s))
			} else {
				sum += math.Hypot(s.To[0]-at[0], s.To[1]-at[1])
			}
			at = s.To
		}
	}
	return sum
}

// sweep is the angle by which an arc turns; one that ends where it starts turns once.
func sweep(from drawing.Point, s outline.Segment) float64 {
	a := math.Atan2(from[1]-s.Center[1], from[0]-s.Center[0])
	b := math.Atan2(s.To[1]-s.Center[1], s.To[0]-s.Center[0])
	w := b - a
	if !s.CCW {
		w = -w
	}
	if w = math.Mod(w+4*math.Pi, 2*math.Pi); w < 1e-9 {
		w = 2 * math.Pi
	}
	return w
}

// Every parting line has a map: the cells' area is that of the wet areas, the seam is
// as long as the estimate's, and the mating face, which is exact, as large as the
// estimate's cells say within what a grid of cells can tell: their rows fit edges along
// them to a part of a cell.
func TestMapsAreTheEstimates(t *testing.T) {
	for _, name := range examples {
		x := example(t, name)
		maps := x.maps(t)
		if len(maps) != len(x.flash.Lines) {
			t.Fatalf("%s: %d maps of %d lines", name, len(maps), len(x.flash.Lines))
		}
		for i, l := range x.flash.Lines {
			d, m := &maps[i], &l.Map
			if !strings.Contains(d.Title, l.Name) {
				t.Errorf("%s: map %d of %s is called %q", name, i, l.Name, d.Title)
			}
			count := map[drawing.Look]float64{}
			face := 0.0
			for k, c := range m.Chance {
				switch {
				case c >= .9:
					count[drawing.Wet90]++
				case c >= .5:
					count[drawing.Wet50]++
				case c >= .1:
					count[drawing.Wet10]++
				}
				if m.Face[k] {
					face++
				}
			}
			for _, look := range []drawing.Look{drawing.Wet10, drawing.Wet50, drawing.Wet90} {
				got, want := areas(d, look).Area(), count[look]*m.Cell*m.Cell
				if math.Abs(got-want) > 1e-9*max(1, want) {
					t.Errorf("%s: %s: %s covers %.6f mm², its cells %.6f", name, l.Name, look, got, want)
				}
			}
			if got, want := areas(d, drawing.Face).Area(), face*m.Cell*m.Cell; math.Abs(got/want-1) > .02 {
				t.Errorf("%s: %s: mating face of %.2f mm², cells of %.2f", name, l.Name, got, want)
			}
			if got := lengthOf(lines(d, drawing.Seam)); math.Abs(got/l.Seam-1) > .01 {
				t.Errorf("%s: %s: seam of %.3f mm, the estimate has %.3f", name, l.Name, got, l.Seam)
			}
		}
	}
}

// What is drawn of cells lies where the cells are: places near the corners of a wet
// cell, by the map's own frame, are in the area, seen from either side, and those of
// others are not.
func TestWetCellsLieOnTheirPlaces(t *testing.T) {
	for _, name := range examples {
		x := example(t, name)
		for i, d := range x.maps(t) {
			m := &x.flash.Lines[i].Map
			wet, face := areas(&d, drawing.Wet90), areas(&d, drawing.Face)
			at := func(i, j float64) drawing.Point {
				return d.View.At(m.Origin.AddScaled(i*m.Cell, m.U).AddScaled(j*m.Cell, m.V))
			}
			for k := 0; k < len(m.Chance); k += 17 {
				i, j := float64(k%m.Columns), float64(k/m.Columns)
				for _, off := range [][2]float64{{-.4, .4}, {.4, -.4}} {
					if q, is := at(i+off[0], j+off[1]), m.Chance[k] >= .9; wet.Contains(q) != is {
						t.Fatalf("%s: %s: cell %d drawn at %.2f: wet %v, want %v", name, d.ID, k, q, !is, is)
					}
				}
				if q := at(i, j); m.Face[k] && !face.Contains(q) {
					t.Fatalf("%s: %s: cell %d drawn at %.2f lies off the mating face", name, d.ID, k, q)
				}
			}
		}
	}
}

var idLike = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func TestIDs(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range example(t, "kestrel").maps(t) {
		if !idLike.MatchString(d.ID) || seen[d.ID] {
			t.Errorf("ID %q is taken or no ID", d.ID)
		}
		seen[d.ID] = true
	}
	for name, want := range map[string]string{
		"shell A/shell B at +x": "shell-a-shell-b-at-plus-x",
		"shell A/shell B at -x": "shell-a-shell-b-at-minus-x",
		"  Größe (2) ":          "gr-e-2",
		"base/hub":              "base-hub",
	} {
		if got := drawing.Slug(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}

// Lines of one name keep apart.
func TestIDsOfLinesOfOneName(t *testing.T) {
	x := *example(t, "kestrel")
	e := *x.flash
	e.Lines = append(e.Lines[:2:2], e.Lines[0], e.Lines[0])
	x.flash = &e
	seen := map[string]bool{}
	for _, d := range x.maps(t) {
		if seen[d.ID] {
			t.Errorf("ID %q twice", d.ID)
		}
		seen[d.ID] = true
	}
}

// The marks lie where they say: the least land on the seam, a way out on an edge of
// the face, as far from the seam as the estimate has the nearest of its kind.
func TestMarksOfMaps(t *testing.T) {
	for _, name := range examples {
		x := example(t, name)
		for i, d := range x.maps(t) {
			l := &x.flash.Lines[i]
			seam, border := lines(&d, drawing.Seam), areas(&d, drawing.Face)
			ways := 0
			for _, m := range d.Marks {
				switch m.Kind {
				case drawing.Narrow:
					if off := away(m.At, seam); off > .01 {
						t.Errorf("%s: %s: least land %.3f mm off the seam", name, d.ID, off)
					}
				case drawing.WayOut:
					ways++
					if off := away(m.At, border); off > 1e-6 {
						t.Errorf("%s: %s: %s lies %.3f mm off the face's edge", name, d.ID, m.Text, off)
					}
					for _, e := range l.Exits {
						if straight := away(m.At, seam); e.Kind == m.Text && math.Abs(straight-e.Least) > max(l.Map.Cell, .05*e.Least) {
							t.Errorf("%s: %s: %s is %.2f mm from the seam, the estimate has %.2f", name, d.ID, m.Text, straight, e.Least)
						}
					}
				}
			}
			want := 0
			for _, e := range l.Exits {
				if e.Kind != flash.ExitNeighbor {
					want++
				}
			}
			shown, _, _ := strings.Cut(d.Note, " Wet before gel")
			if _, out, cut := strings.Cut(shown, "Farther out than is shown:"); cut {
				ways += 1 + strings.Count(out, ",")
			}
			if ways != want {
				t.Errorf("%s: %s: %d ways out marked, want %d", name, d.ID, ways, want)
			}
		}
	}
}

// away is the distance of p from paths of lines and arcs.
func away(p drawing.Point, paths []outline.Path) float64 {
	best := math.Inf(1)
	for _, path := range paths {
		at := path.Start
		for _, s := range path.Segments {
			best = min(best, awayFrom(p, at, s))
			at = s.To
		}
	}
	return best
}

func awayFrom(p, from drawing.Point, s outline.Segment) float64 {
	best := math.Inf(1)
	if s.Radius == 0 {
		dx, dy := s.To[0]-from[0], s.To[1]-from[1]
		t := max(0, min(1, ((p[0]-from[0])*dx+(p[1]-from[1])*dy)/(dx*dx+dy*dy)))
		return math.Hypot(p[0]-from[0]-t*dx, p[1]-from[1]-t*dy)
	}
	w, dir := sweep(from, s), 1.
	if !s.CCW {
		dir = -1
	}
	a := math.Atan2(from[1]-s.Center[1], from[0]-s.Center[0])
	q := math.Atan2(p[1]-s.Center[1], p[0]-s.Center[0])
	if d := math.Mod((q-a)*dir+4*math.Pi, 2*math.Pi); d <= w {
		best = math.Abs(math.Hypot(p[0]-s.Center[0], p[1]-s.Center[1]) - s.Radius)
	}
	return min(best, math.Hypot(p[0]-from[0], p[1]-from[1]), math.Hypot(p[0]-s.To[0], p[1]-s.To[1]))
}

// The line of the straight front lies its depth from the seam, within half a cell,
// where the nearest of the seam is not an end of it.
func TestFrontLiesItsDepthFromTheSeam(t *testing.T) {
	drawn := 0
	for _, name := range examples {
		x := example(t, name)
		for i, d := range x.maps(t) {
			l := &x.flash.Lines[i]
			seam := lines(&d, drawing.Seam)
			for _, p := range lines(&d, drawing.Level) {
				drawn++
				for _, s := range p.Segments {
					if got := away(s.To, seam); math.Abs(got-l.Expected.Depth) > l.Map.Cell/2 {
						t.Errorf("%s: %s: front at %.2f is %.3f mm from the seam, want %.3f", name, d.ID, s.To, got, l.Expected.Depth)
					}
				}
			}
			if small := l.Expected.Depth > 0 && l.Expected.Depth < l.Map.Cell; small != strings.Contains(d.Note, "nothing to see") {
				t.Errorf("%s: %s: %g mm in cells of %g mm: %s", name, d.ID, l.Expected.Depth, l.Map.Cell, d.Note)
			}
		}
	}
	if drawn == 0 {
		t.Error("no front is drawn in any example")
	}
}

// A map that would be small on paper is cut down to what matters: all that gets wet,
// the seam, and every mark that is left.
func TestWindowsOfMaps(t *testing.T) {
	cut := 0
	for _, name := range examples {
		for _, d := range example(t, name).maps(t) {
			if d.Window == [2]drawing.Point{} {
				continue
			}
			cut++
			box := drawing.Box{Lo: d.Window[0], Hi: d.Window[1]}
			inside := func(what string, lo, hi drawing.Point) {
				if grown := box.Include(lo, hi); grown != box {
					t.Errorf("%s: %s: %s from %.2f to %.2f reaches out of the window %.2f", name, d.ID, what, lo, hi, d.Window)
				}
			}
			for _, look := range []drawing.Look{drawing.Wet10, drawing.Wet50, drawing.Wet90} {
				if r := areas(&d, look); len(r) > 0 {
					lo, hi := r.Bounds()
					inside(string(look), lo, hi)
				}
			}
			lo, hi := outline.Region(lines(&d, drawing.Seam)).Bounds()
			inside("seam", lo, hi)
			for _, m := range d.Marks {
				inside(m.Text, m.At, m.At)
			}
			if w := (box.Hi[0] - box.Lo[0]) * d.Scale; w > drawing.Paper.Width || w < drawing.Paper.Width/3 {
				t.Errorf("%s: %s: the window is %.0f mm wide on paper", name, d.ID, w)
			}
		}
	}
	if cut == 0 {
		t.Error("no map of the examples is cut down, though the largest mold is twice as wide as paper")
	}
}

func TestSameMapsTwice(t *testing.T) {
	x := example(t, "kestrel")
	if !reflect.DeepEqual(x.maps(t), x.maps(t)) {
		t.Error("two runs differ")
	}
}
