package handover

import (
	"strings"
	"testing"

	"wheelmold/mold/drawing"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// jobs are all examples and, unless time is short, a small and a large wheel in every split.
func jobs(t *testing.T) map[string]*params.Job {
	all := map[string]*params.Job{}
	for _, name := range []string{"albatross", "kestrel", "wren"} {
		all[name] = moldtest.Example(t, name, "process.name=milled")
	}
	if testing.Short() {
		return all
	}
	for _, w := range []moldtest.Wheel{{Diameter: 70, Width: 22, Bore: 8, Process: "milled"}, moldtest.Wheels[2]} {
		for _, s := range moldtest.Splits {
			all[w.String()+", "+s.Name] = w.Job(t, s.Sets...)
		}
	}
	return all
}

// All sheets of the largest example should take 0.15 s at most on two free cores.
func BenchmarkLay(b *testing.B) {
	m, c := moldtest.Checked(b, moldtest.Example(b, "albatross"))
	sheets, err := shop.Sheets(m, c.RawFaces, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := paper.Lay(sheets...); err != nil {
			b.Fatal(err)
		}
	}
}

// On every sheet of every mold nothing covers anything else, and a shop has no more to
// leaf through than three pages for a piece and two on average.
func TestSheetsOfAllMolds(t *testing.T) {
	for name, j := range jobs(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			m, c := moldtest.Checked(t, j)
			pages, err := Pages(m, c.RawFaces, nil, nil)
			if err != nil {
				t.Fatal(err)
			}
			sheets, own := 0, 0
			for _, p := range pages {
				t.Logf("%s: %s at %s", p.ID, p.Size, drawing.ScaleName(p.Scale))
				for _, x := range p.Collisions() {
					t.Errorf("%s, %s: %s", p.ID, p.Size, x)
				}
				if own++; !strings.HasSuffix(p.Title, ", continued") {
					sheets, own = sheets+1, 1
				}
				if own > 3 {
					t.Errorf("%s is page %d of its sheet", p.ID, own)
				}
			}
			if sheets == 0 || len(pages) > 2*sheets {
				t.Errorf("%d pages for %d sheets", len(pages), sheets)
			}
		})
	}
}
