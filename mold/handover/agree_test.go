package handover

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wheelmold/mesh/dxf"
	"wheelmold/mold"
	"wheelmold/mold/flat"
	"wheelmold/mold/holes"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop"
	"wheelmold/mold/shop/paper"
	"wheelmold/mold/views"
)

// A hole has one place: where the sheet's table says it is, there lies, in every view of
// the flat file that counts in the same two directions, a circle with its mark beside it.
// Views of one name show the same on the sheet.
func TestSheetsAndFlatFilesAgree(t *testing.T) {
	all := jobs(t)
	for _, split := range []string{"four-piece", "open top", "clam", "cup and lid"} {
		all["with stock, "+split] = moldtest.Wheels[2].Job(t, "mold.split="+split, "mold.mating.stock=0.25mm", "mold.jacks.size=M5", "mold.face_up=back",
			"hub.body_diameter=140mm", "hub.bolts.count=5", "hub.bolts.circle=80mm", "hub.lock_holes.count=4")
	}
	for name, j := range all {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			m, c := moldtest.Checked(t, j)
			sheets, err := shop.Sheets(m, c.RawFaces, nil)
			if err != nil {
				t.Fatal(err)
			}
			flats, err := flat.Of(m, c.RawFaces)
			if err != nil {
				t.Fatal(err)
			}
			for i := range sheets {
				k := slices.IndexFunc(flats, func(f flat.File) bool { return shop.ID(f.Piece) == sheets[i].ID })
				if k < 0 {
					t.Fatalf("%s has no flat file", sheets[i].ID)
				}
				p, _ := m.Piece(flats[k].Piece)
				all, err := holes.Of(m, p.Name, c.RawFaces[p.Name])
				if err != nil {
					t.Fatal(err)
				}
				a := &agreement{t, &sheets[i], &flats[k], read(t, &flats[k]), map[string]*holes.Hole{}, views.Of(m, &p)}
				for h := range all {
					a.holes[all[h].Mark] = &all[h]
				}
				a.tables(p.Kind)
				a.views()
			}
		})
	}
}

// read returns a file's drawing as another program gets it.
func read(t *testing.T, f *flat.File) *dxf.Drawing {
	t.Helper()
	var b bytes.Buffer
	if err := dxf.Write(&b, f.Drawing); err != nil {
		t.Fatal(err)
	}
	d, err := dxf.Read(&b)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// agreement is of one piece's sheet with its flat file.
type agreement struct {
	*testing.T
	sheet *paper.Sheet
	file  *flat.File
	drawn *dxf.Drawing
	holes map[string]*holes.Hole
	seen  views.Set
}

// axes are what the sheet calls the directions of a view of the flat file.
func (a *agreement) axes(v *flat.View) [2]string {
	for _, x := range []views.View{a.seen.Inside, a.seen.Outside, a.seen.Lower, a.seen.Upper} {
		if x.Name == v.Name {
			return x.Axes
		}
	}
	return [2]string{}
}

// tables compares all places of holes that the sheet's tables state.
func (a *agreement) tables(k mold.Kind) {
	const rounding = 0.0005 * math.Sqrt2 // three decimals
	found := map[string]bool{}
	for _, x := range a.sheet.Tables {
		if !strings.HasPrefix(x.Title, "Places of holes") {
			continue
		}
		for _, row := range x.Rows {
			for c := 0; c+2 < len(row); c += 3 {
				if row[c] == "" {
					continue
				}
				stated := map[string]float64{x.Head[c+1]: a.number(row[c+1]), x.Head[c+2]: a.number(row[c+2])}
				found[row[c]] = found[row[c]] || a.at(row[c], stated, rounding) > 0
			}
		}
	}
	for mark, h := range a.holes {
		if central := h.Central() || k == mold.Hub && math.Abs(h.Dir[2]) < .5; !central && !found[mark] && !a.oblique(h) {
			a.Errorf("%s: the table's %s, %s is in no view of the flat file", a.file.Name, mark, h.Name)
		}
	}
}

// oblique holes of three shells are seen square from no view of the sheet.
func (a *agreement) oblique(h *holes.Hole) bool {
	return math.Abs(h.Dir[2]) < .5 && math.Abs(h.Dir.Dot(a.seen.Inside.Plane.W())) < .9
}

// at looks a place up in all views that count in its two directions, and returns in how
// many a hole is there.
func (a *agreement) at(mark string, stated map[string]float64, within float64) (n int) {
	for i := range a.file.Views {
		v := &a.file.Views[i]
		p, counts := v.Shift, true
		for k, name := range a.axes(v) {
			x, ok := stated[strings.TrimPrefix(name, "-")]
			if strings.HasPrefix(name, "-") {
				x = -x
			}
			p[k] += x
			counts = counts && ok
		}
		if !counts {
			continue
		}
		if a.text(v, mark) == nil {
			continue
		}
		n++
		a.hole(v, mark, p, within)
	}
	return n
}

// hole expects a circle at a place in the file, and the mark beside it and no nearer to
// another hole; of half a hole the mark only.
func (a *agreement) hole(v *flat.View, mark string, at dxf.Point, within float64) {
	a.Helper()
	text := a.text(v, mark)
	if text == nil {
		a.Errorf("%s, %s: no mark %s", a.file.Name, v.Name, mark)
		return
	}
	rim, other, found := math.Inf(1), math.Inf(1), false
	for _, it := range a.drawn.Items {
		c, ok := it.Entity.(dxf.Circle)
		if !ok || !drilled[it.Layer] {
			continue
		}
		gap := offRim(text, &c)
		if math.Hypot(c.Center[0]-at[0], c.Center[1]-at[1]) > within {
			other = min(other, gap)
			continue
		}
		found, rim = true, min(rim, gap)
	}
	h := a.holes[mark]
	switch {
	case h == nil:
		a.Errorf("%s: the piece has no hole %s", a.file.Name, mark)
	case h.Half:
		if away := offRim(text, &dxf.Circle{Center: at, Radius: h.Steps[0].D0 / 2}); away > text.Height {
			a.Errorf("%s, %s: %s stands %.2f mm off half its hole", a.file.Name, v.Name, mark, away)
		}
	case !found:
		a.Errorf("%s, %s: no circle at %.3f, %.3f, where the sheet has %s", a.file.Name, v.Name, at[0], at[1], mark)
	case rim > text.Height/2 || other < rim:
		a.Errorf("%s, %s: %s stands %.2f mm off its hole, %.2f off another", a.file.Name, v.Name, mark, rim, other)
	}
}

// drilled are the layers of holes.
var drilled = map[string]bool{
	flat.BoltHoles: true, flat.Counterbores: true, flat.BallPockets: true, flat.JackScrews: true,
	flat.Channels: true, flat.Clamp: true, flat.Bore: true,
}

// views compares those that the sheet and the file have by the same name: the directions
// in which they count, and every hole that the sheet marks.
func (a *agreement) views() {
	for i := range a.sheet.Views {
		s := &a.sheet.Views[i]
		k := slices.IndexFunc(a.file.Views, func(v flat.View) bool { return v.Name == s.Caption })
		if k < 0 {
			if a.marksHoles(s) {
				a.Errorf("%s has no view %q, in which the sheet marks holes", a.file.Name, s.Caption)
			}
			continue
		}
		v := &a.file.Views[k]
		for _, o := range s.Origins {
			if got := [2]string{o.U, o.V}; got != a.axes(v) {
				a.Errorf("%s, %s: the sheet counts along %v, the flat file along %v", a.file.Name, v.Name, got, a.axes(v))
			}
		}
		origin := dxf.Point{v.Plane.U.Dot(v.Plane.O), v.Plane.V.Dot(v.Plane.O)}
		for _, mark := range s.Marks {
			if mark.Text != strings.ToUpper(mark.Text) { // a corner of the outline
				continue
			}
			at := dxf.Point{mark.At[0] - origin[0] + v.Shift[0], mark.At[1] - origin[1] + v.Shift[1]}
			a.hole(v, mark.Text, at, 1e-6)
		}
	}
}

// marksHoles tells whether a view of the sheet names holes: small letters are corners of
// the outline.
func (a *agreement) marksHoles(s *paper.View) bool {
	return slices.ContainsFunc(s.Marks, func(m paper.Mark) bool { return a.holes[m.Text] != nil })
}

// text is a mark in a view.
func (a *agreement) text(v *flat.View, mark string) *dxf.Text {
	left, right := -math.MaxFloat64, math.MaxFloat64
	for i := range a.file.Views {
		switch x := a.file.Views[i].Shift[0]; {
		case x < v.Shift[0]:
			left = max(left, x)
		case x > v.Shift[0]:
			right = min(right, x)
		}
	}
	var found *dxf.Text
	for _, it := range a.drawn.Items {
		if e, ok := it.Entity.(dxf.Text); ok && it.Layer == flat.HoleMarks && e.Value == mark &&
			e.At[0] > (left+v.Shift[0])/2 && e.At[0] < (right+v.Shift[0])/2 {
			found = &e
		}
	}
	return found
}

// offRim is the distance of a text from a circle, outside of it or within; 0 where it lies
// across. Its letters are as wide as high at most.
func offRim(x *dxf.Text, c *dxf.Circle) float64 {
	left, right := x.At[0]-c.Center[0], x.At[0]+x.Height*float64(len(x.Value))-c.Center[0]
	low, top := x.At[1]-c.Center[1], x.At[1]+x.Height-c.Center[1]
	near := math.Hypot(max(left, -right, 0), max(low, -top, 0))
	far := math.Hypot(max(-left, right), max(-low, top))
	return max(near-c.Radius, c.Radius-far, 0)
}

func (a *agreement) number(s string) float64 {
	a.Helper()
	x, err := strconv.ParseFloat(strings.Replace(s, "−", "-", 1), 64)
	if err != nil {
		a.Fatal(err)
	}
	return x
}
