package shop_test

import (
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop/paper"
)

// checkDetails: each detail is marked once, in a view of the same sheet, by a circle of
// its own size; it is no smaller than life, and its window has lines in it.
func checkDetails(t *testing.T, all []paper.Sheet) {
	t.Helper()
	for i := range all {
		marked := map[string]float64{}
		for _, v := range all[i].Views {
			for _, d := range v.Details {
				if marked[d.Letter] > 0 {
					t.Errorf("%s: two details %s", all[i].ID, d.Letter)
				}
				marked[d.Letter] = d.R
			}
		}
		n := 0
		for _, v := range all[i].Views {
			letter, ok := strings.CutPrefix(v.Caption, "detail ")
			if !ok {
				continue
			}
			n++
			if r := marked[letter[:1]]; v.Window == nil || r != v.Window.R || v.Scale < 1 {
				t.Errorf("%s, %s: window %v, marked with R %g, scale %g", all[i].ID, v.Caption, v.Window, r, v.Scale)
				continue
			}
			if d := onLines(&v, v.Window.At); d > v.Window.R/2 {
				t.Errorf("%s, %s: the nearest line is %.2f mm off its middle", all[i].ID, v.Caption, d)
			}
			for k := range v.Dims {
				for _, p := range []paper.Point{v.Dims[k].From, v.Dims[k].To} {
					if u, w := p[0]-v.Window.At[0], p[1]-v.Window.At[1]; u*u+w*w > v.Window.R*v.Window.R {
						t.Errorf("%s, %s: %s is measured outside of what is shown", all[i].ID, v.Caption, v.Dims[k].Name)
					}
				}
			}
		}
		if n != len(marked) {
			t.Errorf("%s: %d details, %d are marked", all[i].ID, n, len(marked))
		}
	}
}

// Whatever piece has ball pockets shows one larger; a shell with a rib also shows that, the
// tread's edge and a pry slot.
func TestDetails(t *testing.T) {
	m, c, all := sheets(t, moldtest.Example(t, "kestrel"))
	for i, p := range m.Pieces {
		if p.Kind == mold.Hub {
			continue
		}
		list, err := holes.Of(m, p.Name, c.RawFaces[p.Name])
		if err != nil {
			t.Fatal(err)
		}
		want := []string{"pry slot"}
		for _, h := range list {
			if h.Role == mold.RoleBall {
				want = append(want, "ball pocket "+h.Mark)
				break
			}
		}
		if p.Kind == mold.Shell {
			want = append(want, "edge of the tread", "rib")
		}
		var got []string
		for _, v := range all[i].Views {
			if _, what, ok := strings.Cut(v.Caption, ", "); ok && strings.HasPrefix(v.Caption, "detail") {
				got = append(got, what)
			}
		}
		for _, w := range want {
			if !strings.Contains(strings.Join(got, "; ")+";", w+";") {
				t.Errorf("%s shows %q, not %q", p.Name, got, w)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s shows %q, want %q", p.Name, got, want)
		}
	}
	d := find(t, all, "drawing-shell-a", "ball pocket")
	if b := m.Layout.Balls[0]; d.Value < 2*b.R-1e-6 || d.Value > 2*b.R+1e-6 || d.Tolerance != "(+0.025 / 0)" {
		t.Errorf("ball pocket Ø%g %s, the layout's is Ø%g", d.Value, d.Tolerance, 2*b.R)
	}
	if d := find(t, all, "drawing-shell-a", "width of the pry slot"); d.Value < m.Job.Mold.PrySlots.Width-1e-3 || d.Value > m.Job.Mold.PrySlots.Width+1e-3 {
		t.Errorf("pry slot %g wide, the job's is %g", d.Value, m.Job.Mold.PrySlots.Width)
	}
}

// A bore in plastic holds its limits dry and cold only: 0.5 % of moisture and 30 K at
// 81e-6/K are 0.743 % of 20 mm.
func TestBoreNote(t *testing.T) {
	_, _, all := sheets(t, moldtest.Wheels[2].Job(t, "hub.bore=20mm", "hub.moisture=0.5%"))
	if n := notesOf(&all[len(all)-1]); !strings.Contains(n, "Bore H7: holds dry") || !strings.Contains(n, "Ø20 wider or narrower by up to 0.149 mm") {
		t.Error(n)
	}
}
