package flat

import (
	"math"
	"testing"

	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/holes"
)

// Every hole is marked on a view, on each at most once; its mark stands beside it, off
// other holes and other marks.
func TestMarksStandBesideTheirHoles(t *testing.T) {
	for _, d := range all(t) {
		for i := range d.files {
			f, p := &d.files[i], &d.m.Pieces[i]
			hs, err := holes.Of(d.m, p.Name, d.raw[p.Name])
			if err != nil {
				t.Fatal(err)
			}
			marked := map[string]int{}
			for k := range f.Views {
				v := &f.Views[k]
				var r room
				for _, it := range v.items {
					e, ok := it.entity.(dxf.Text)
					if !ok || it.layer != HoleMarks {
						continue
					}
					h, known := byMark(hs, e.Value)
					if !known {
						t.Errorf("%s, %s, %s: no hole is marked %q", d.name, f.Name, v.Name, e.Value)
						continue
					}
					marked[e.Value]++
					b := textBox{e.At, outline.Point{e.At[0] + e.Height*float64(len(e.Value)), e.At[1] + e.Height}}
					if away, most := distance(&b, v.Plane.At(h.At)), wide(h)+e.Height; away > most && p.Kind != mold.Hub {
						t.Errorf("%s, %s, %s: %q stands %.2f mm off its hole, more than %.2f", d.name, f.Name, v.Name, e.Value, away, most)
					}
					if r.covered(&b) > 0 {
						t.Errorf("%s, %s, %s: %q covers another mark", d.name, f.Name, v.Name, e.Value)
					}
					r.texts = append(r.texts, b)
				}
			}
			for _, h := range hs {
				if n := marked[h.Mark]; n < 1 || n > len(f.Views) {
					t.Errorf("%s, %s: %s, %s is marked %d times", d.name, f.Name, h.Mark, h.Name, n)
				}
			}
		}
	}
}

func byMark(all []holes.Hole, mark string) (*holes.Hole, bool) {
	for i := range all {
		if all[i].Mark == mark {
			return &all[i], true
		}
	}
	return nil, false
}

func distance(b *textBox, p outline.Point) float64 {
	return math.Hypot(max(b.lo[0]-p[0], p[0]-b.hi[0], 0), max(b.lo[1]-p[1], p[1]-b.hi[1], 0))
}

// wide is the largest radius of a hole.
func wide(h *holes.Hole) float64 {
	r := 0.0
	for _, s := range h.Steps {
		r = max(r, s.D0/2, s.D1/2)
	}
	return r
}
