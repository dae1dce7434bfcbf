package flat

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/holes"
)

var dxfDir = flag.String("dxfdir", "", "write the drawings of every job there, with expected.json, for an outside reader")

// expectation is what is in a file, by the layout and closed forms where there are any.
type expectation struct {
	Circles  map[string][][3]float64 `json:"circles"` // x, y, diameter by layer
	Marks    [][3]any                `json:"marks"`   // of whole holes that open to the viewer: what, x, y
	Outlines []closedOutline         `json:"outlines"`
}

type closedOutline struct {
	Area float64    `json:"area"`
	Box  [4]float64 `json:"box"`
}

func expectationOf(m *mold.Mold, p *mold.Piece, f *File, all []holes.Hole) expectation {
	e := expectation{Circles: map[string][][3]float64{}, Marks: [][3]any{}}
	for _, layer := range ofLayouts {
		if layer != Channels || m.Tread.Ceiling == 0 {
			e.Circles[layer] = [][3]float64{}
		}
	}
	for i := range f.Views {
		v := &f.Views[i]
		for layer, circles := range expected(m, p, v) {
			if e.Circles[layer] == nil {
				continue
			}
			for _, c := range circles {
				e.Circles[layer] = append(e.Circles[layer], [3]float64{c.Center[0] + v.Shift[0], c.Center[1] + v.Shift[1], 2 * c.Radius})
			}
		}
		for k := range all {
			if h := &all[k]; !h.Half && !v.isSection() && h.Dir.Dot(v.Plane.W()) < -.999999 {
				at := v.Plane.At(h.At)
				e.Marks = append(e.Marks, [3]any{h.Mark, at[0] + v.Shift[0], at[1] + v.Shift[1]})
			}
		}
		lo, hi := outline.Region{v.Outline}.Bounds()
		area := areaInClosedForm(m, p, v)
		if area == 0 {
			area = outline.Region{v.Outline}.Area()
		}
		e.Outlines = append(e.Outlines, closedOutline{area, [4]float64{lo[0] + v.Shift[0], lo[1], hi[0] + v.Shift[0], hi[1]}})
	}
	return e
}

// TestDXFOfAll writes all drawings for an outside reader where a folder is given, and
// always as far as memory.
func TestDXFOfAll(t *testing.T) {
	want := map[string]expectation{}
	for _, d := range all(t) {
		for i := range d.files {
			f := &d.files[i]
			name := strings.NewReplacer(" ", "-", ",", "").Replace(d.name) + "-" + f.Name
			all, err := holes.Of(d.m, f.Piece, d.raw[f.Piece])
			if err != nil {
				t.Fatal(err)
			}
			want[name] = expectationOf(d.m, &d.m.Pieces[i], f, all)
			var b strings.Builder
			if err := dxf.Write(&b, f.Drawing); err != nil {
				t.Fatal(err)
			}
			write(t, name, b.String())
		}
	}
	b, err := json.MarshalIndent(want, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	write(t, "expected.json", string(b))
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if *dxfDir == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(*dxfDir, name), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}
