package shop_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wheelmold/hub"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/holes"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// jobs are the milled examples, and a milled wheel in every split, some with stock, jack
// screws, a crown, or a hub with everything.
func jobs(t *testing.T) []*params.Job {
	var out []*params.Job
	add := func(name string, j *params.Job) {
		j.Name = name
		out = append(out, j)
	}
	add("albatross", moldtest.Example(t, "albatross"))
	add("kestrel", moldtest.Example(t, "kestrel"))
	full := []string{"hub.body_diameter=140mm", "hub.bearing_back.diameter=47mm", "hub.bearing_back.depth=14mm", "hub.bearing_front.diameter=47mm",
		"hub.bearing_front.depth=12mm", "hub.seat.side=front", "hub.seat.diameter=110mm", "hub.seat.depth=3mm", "hub.bolts.count=6",
		"hub.bolts.circle=80mm", "hub.bolts.hole=6.6mm", "hub.lock_holes.count=4", "hub.lock_holes.diameter=5mm", "hub.lock_holes.depth=8mm", "hub.lock_holes.position=14mm"}
	for name, sets := range map[string][]string{
		"lugs":      {"mold.side_clamp.kind=lugs", "mold.outline=octagon"},
		"strap":     {"mold.side_clamp.kind=strap", "mold.outline=round"},
		"coats":     {"mold.coats.count=2", "mold.coats.thickness=0.1mm", "wheel.crown=1.5mm", "mold.mating.stock=0.3mm"},
		"face back": append([]string{"mold.face_up=back", "wheel.edge=chamfer", "mold.bolts.nut=hex"}, full...),
		"blocks":    {"wheel.cross.count=12", "wheel.cross.width=8mm", "wheel.cross.depth=5mm", "hub.length=66mm", "hub.offset=-3mm"},
		"one seat":  {"hub.body_diameter=140mm", "hub.seat.side=back", "hub.seat.diameter=60mm", "hub.seat.depth=3mm", "mold.register_back.opening=seat"},
	} {
		if !testing.Short() {
			add(name, moldtest.Wheels[2].Job(t, sets...))
		}
	}
	for i, s := range moldtest.Splits {
		if testing.Short() && strings.Contains(s.Name, ",") {
			continue
		}
		sets := slices.Clone(s.Sets)
		if i%2 == 0 {
			sets = append(sets, "mold.mating.stock=0.25mm", "mold.jacks.size=M5")
		}
		if i%3 == 0 {
			sets = append(sets, full...)
		}
		add(s.Name, moldtest.Wheels[2].Job(t, sets...))
	}
	return out
}

// sheets of a job.
func sheets(t *testing.T, j *params.Job) (*mold.Mold, *mold.Checked, []paper.Sheet) {
	t.Helper()
	m, c := moldtest.Checked(t, j)
	out, err := shop.Sheets(m, c.RawFaces, map[string]string{"hub": "bar Ø120 × 70"})
	if err != nil {
		t.Fatal(err)
	}
	return m, c, out
}

// every visits all dimensions.
func every(all []paper.Sheet, visit func(s *paper.Sheet, v *paper.View, d *paper.Dim)) {
	for i := range all {
		for k := range all[i].Views {
			for n := range all[i].Views[k].Dims {
				visit(&all[i], &all[i].Views[k], &all[i].Views[k].Dims[n])
			}
		}
	}
}

// far is how far two points of a dimension lie apart the way that it measures.
func far(d *paper.Dim) float64 {
	u, v := math.Abs(d.To[0]-d.From[0]), math.Abs(d.To[1]-d.From[1])
	switch d.Kind {
	case drawing.Across:
		return u
	case drawing.Plumb:
		return v
	}
	return math.Hypot(u, v)
}

// onLines is the distance of a point from the nearest line of a view, mm.
func onLines(v *paper.View, p paper.Point) float64 {
	best := math.Inf(1)
	add := func(paths []outline.Path) { best = min(best, outline.Region(paths).Away(p)) }
	for _, l := range v.Lines {
		add(l.Paths)
	}
	for _, a := range v.Areas {
		add(a.Region)
	}
	return best
}

// In every example and split there is a sheet for each milled piece and the turned hub,
// which holds what follows below, and finds its place on paper.
func TestSheets(t *testing.T) {
	for _, j := range jobs(t) {
		t.Run(j.Name, func(t *testing.T) {
			m, c, all := sheets(t, j)
			if len(all) != len(m.Pieces) {
				t.Fatalf("%d sheets of %d pieces", len(all), len(m.Pieces))
			}
			for i, p := range m.Pieces {
				checkHoles(t, m, p.Name, c, &all[i])
			}
			checkDimensions(t, all)
			checkPlaces(t, all)
			checkDatums(t, all)
			checkDetails(t, all)
			if _, err := paper.Lay(all...); err != nil {
				t.Error(err)
			}
		})
	}
}

// checkDimensions: every dimension's value is the distance of its points in the view, and
// the points lie on lines; of something turned at least one does.
func checkDimensions(t *testing.T, all []paper.Sheet) {
	t.Helper()
	n := 0
	every(all, func(s *paper.Sheet, v *paper.View, d *paper.Dim) {
		n++
		if d.Value <= 0 || math.Abs(far(d)-d.Value) > 1e-3 {
			t.Errorf("%s, %s: %s says %.4f, its points are %.4f apart", s.ID, v.Caption, d.Name, d.Value, far(d))
		}
		a, b := onLines(v, d.From), onLines(v, d.To)
		if d.Turned { // something may open on one side of it
			a, b = min(a, b), min(a, b)
		}
		if max(a, b) > 0.02 {
			t.Errorf("%s, %s: %s from %.3f to %.3f is %.3f and %.3f off all lines", s.ID, v.Caption, d.Name, d.From, d.To, a, b)
		}
	})
	if n < 10 {
		t.Errorf("only %d dimensions", n)
	}
}

// checkPlaces: a hole's coordinates in the table are those of its mark, counted from the
// origin that is drawn in the view, along the axes that are named there.
func checkPlaces(t *testing.T, all []paper.Sheet) {
	t.Helper()
	for i := range all {
		for _, v := range all[i].Views {
			for _, m := range v.Marks {
				if len(v.Origins) == 0 && v.Caption == "seen from outside" {
					continue // letters are in its place
				}
				if len(v.Origins) != 1 {
					t.Fatalf("%s, %s: %d origins", all[i].ID, v.Caption, len(v.Origins))
				}
				o := v.Origins[0]
				for k, name := range []string{o.U, o.V} {
					want := m.At[k] - o.At[k]
					axis, turned := strings.CutPrefix(name, "-")
					if turned {
						want = -want
					}
					got, ok := place(&all[i], m.Text, axis)
					if ok && math.Abs(got-want) > 0.0051 {
						t.Errorf("%s, %s: %s of %s is %.2f in the table, %.3f in the view", all[i].ID, v.Caption, axis, m.Text, got, want)
					}
					if bore := all[i].ID == "drawing-hub" && m.Text == "A1"; !ok && !bore {
						t.Errorf("%s: %s has no %s", all[i].ID, m.Text, axis)
					}
				}
			}
		}
	}
}

// place is a hole's coordinate in the tables of places.
func place(s *paper.Sheet, mark, axis string) (float64, bool) {
	for _, x := range s.Tables {
		if !strings.HasPrefix(x.Title, "Places") {
			continue
		}
		for _, r := range x.Rows {
			at := slices.Index(r, mark)
			for k := at + 1; at >= 0 && k < at+3; k++ {
				if x.Head[k] == axis {
					got, err := strconv.ParseFloat(r[k], 64)
					return got, err == nil
				}
			}
		}
	}
	return 0, false
}

// checkHoles: each hole of the piece has a mark in one view and one place, and the rows of
// the table count all of them; lock holes, which lie all around, have a row alone.
func checkHoles(t *testing.T, m *mold.Mold, piece string, c *mold.Checked, s *paper.Sheet) {
	t.Helper()
	list, err := holes.Of(m, piece, c.RawFaces[piece])
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range list {
		if h.Role == hub.RoleLock {
			continue
		}
		if n := marks(s, h.Mark); n != 1 {
			t.Errorf("%s: %s (%s) is marked %d times", piece, h.Mark, h.Name, n)
		}
		if n := cells(s, "Places", h.Mark); n != 1 && h.Name != "bore" {
			t.Errorf("%s: %s (%s) has %d places", piece, h.Mark, h.Name, n)
		}
	}
	sum := 0
	for _, r := range table(s, "Holes").Rows {
		n, err := strconv.Atoi(r[1])
		if err != nil {
			t.Error(err)
		}
		sum += n
	}
	if sum != len(list) {
		t.Errorf("%s: the table has %d holes, the piece %d", piece, sum, len(list))
	}
}

func marks(s *paper.Sheet, mark string) (n int) {
	for _, v := range s.Views {
		for _, m := range v.Marks {
			if m.Text == mark {
				n++
			}
		}
	}
	return n
}

func cells(s *paper.Sheet, title, text string) (n int) {
	for _, x := range s.Tables {
		for _, r := range x.Rows {
			if strings.HasPrefix(x.Title, title) && slices.Contains(r, text) {
				n++
			}
		}
	}
	return n
}

func table(s *paper.Sheet, title string) paper.Table {
	for _, x := range s.Tables {
		if x.Title == title {
			return x
		}
	}
	return paper.Table{}
}

// cell is what stands in a row below a head, "" where the table lacks that column.
func cell(x paper.Table, row []string, head string) string {
	if i := slices.Index(x.Head, head); i >= 0 {
		return row[i]
	}
	return ""
}

// find is the dimension of a name.
func find(t *testing.T, all []paper.Sheet, id, name string) paper.Dim {
	t.Helper()
	var out []paper.Dim
	every(all, func(s *paper.Sheet, _ *paper.View, d *paper.Dim) {
		if s.ID == id && d.Name == name {
			out = append(out, *d)
		}
	})
	if len(out) != 1 {
		t.Fatalf("%s has %d dimensions named %q", id, len(out), name)
	}
	return out[0]
}

// A register for a bore of 30 mm with 0.05 mm of clearance is 29.95 h7: over 18 to 30 mm
// IT7 is 21 µm (ISO 286-1). Bore and bearing pockets have the job's classes: 25 µm over 30
// to 50 mm, of N7 from -8 to -33 µm.
func TestFits(t *testing.T) {
	_, _, all := sheets(t, moldtest.Example(t, "albatross", "hub.bearing_back.diameter=47mm", "hub.bearing_back.depth=14mm", "hub.bearing_fit=N7", "mold.register_back.opening=bore"))
	for _, w := range []struct {
		id, name  string
		value     float64
		fit, says string
	}{
		{"drawing-lid", "register at its foot", 29.95, "h7", "(0 / -0.021)"},
		{"drawing-hub", "bore", 30, "H7", "(+0.021 / 0)"},
		{"drawing-hub", "bearing pocket, back", 47, "N7", "(-0.008 / -0.033)"},
	} {
		d := find(t, all, w.id, w.name)
		if math.Abs(d.Value-w.value) > 1e-3 || d.Fit != w.fit || d.Tolerance != w.says {
			t.Errorf("%s of %s: %.3f %s %s, want %.3f %s %s", w.name, w.id, d.Value, d.Fit, d.Tolerance, w.value, w.fit, w.says)
		}
	}
}

// Large registers have limits of ISO 286, too: IT7 is 46 µm over 180 to 250 mm and 52 µm
// over 250 to 315 mm.
func TestLargeFits(t *testing.T) {
	for _, w := range []struct {
		bore, says string
	}{{"240mm", "(0 / -0.046)"}, {"260mm", "(0 / -0.052)"}} {
		j := moldtest.Example(t, "albatross", "wheel.diameter=400mm", "hub.bore="+w.bore, "hub.body_diameter=300mm", "hub.flange_diameter=310mm", "hub.bolts.count=0", "mold.bolts.size=M8")
		_, _, all := sheets(t, j)
		if d := find(t, all, "drawing-lid", "register at its foot"); d.Tolerance != w.says {
			t.Errorf("bore of %s: %s, want %s", w.bore, d.Tolerance, w.says)
		}
	}
}

// What decides how the mold closes is as exact as the process says, with stock on it.
func TestHeights(t *testing.T) {
	j := moldtest.Wheels[2].Job(t, "process.tolerance=0.03mm", "mold.mating.stock=0.25mm", "hub.length=50mm", "hub.offset=3mm")
	m, _, all := sheets(t, j)
	l := m.Layout
	for _, w := range []struct {
		id, name string
		want     float64
	}{
		{"drawing-shell-a", "height between the end faces", l.Top + 0.5},
		{"drawing-base", "height of the pedestal for the hub", l.LandLow},
		{"drawing-lid", "height of the pedestal for the hub", l.Top - l.LandTop},
	} {
		if d := find(t, all, w.id, w.name); math.Abs(d.Value-w.want) > 2e-4 || d.Tolerance != "±0.03" {
			t.Errorf("%s: %s is %.4f %s, want %.4f ±0.03", w.id, w.name, d.Value, d.Tolerance, w.want)
		}
	}
	_, _, out := sheets(t, moldtest.Wheels[2].Job(t, "hub.length=66mm", "hub.offset=-3mm"))
	for _, id := range []string{"drawing-base", "drawing-lid"} {
		if d := find(t, out, id, "depth of the recess for the hub"); math.Abs(d.Value-3) > .1 || d.Tolerance != "±0.02" {
			t.Errorf("%s: %+v", id, d)
		}
	}
	if s := strings.Join(all[1].Notes, "\n"); !strings.Contains(s, "carries 0.25 mm") || !strings.Contains(s, "height 60,") && !strings.Contains(s, "height 60;") {
		t.Errorf("the shell's notes do not say what it is lapped to:\n%s", s)
	}
}

// Jack screws add their rows.
func TestAFeatureAddsItsRow(t *testing.T) {
	rows := func(set string) []string {
		_, _, all := sheets(t, moldtest.Example(t, "kestrel", set))
		var out []string
		for i := range all {
			x := table(&all[i], "Holes")
			for _, r := range x.Rows {
				out = append(out, all[i].Title+": "+r[2]+" "+cell(x, r, "thread"))
			}
		}
		return out
	}
	without, with := rows("mold.jacks.size=none"), rows("mold.jacks.size=M6")
	for _, want := range []string{"base: jack hole M6 × 1, 6H, through", "lid: jack hole M6 × 1, 6H, through"} {
		if slices.Contains(without, want) || !slices.Contains(with, want) {
			t.Errorf("%q: without %v, with %v", want, without, with)
		}
	}
}

// Only what a shop makes has a sheet: of a printed mold a turned hub, of a printed hub
// nothing.
func TestPrintedPiecesHaveNone(t *testing.T) {
	for _, w := range []struct {
		process, hub string
		want         int
	}{{"milled", "nylon", 5}, {"milled", "printed", 4}, {"resin", "acetal", 1}, {"resin", "printed", 0}} {
		_, _, all := sheets(t, moldtest.Wheels[1].Job(t, "process.name="+w.process, "hub.material="+w.hub))
		if len(all) != w.want {
			t.Errorf("%s mold, %s hub: %d sheets, want %d", w.process, w.hub, len(all), w.want)
		}
	}
}

// Balls and screws let holes be off by different amounts: two ball pockets that are off
// the opposite way by half their clearance, 0.08 mm, take all of it; a screw M6 of 6 mm in 6.6 mm by
// 0.6/(2·√2) = 0.212 mm, rounded to the safe side, or the general tolerance.
func TestPositions(t *testing.T) {
	_, _, all := sheets(t, moldtest.Wheels[2].Job(t, "mold.bolts.size=M6", "mold.side_clamp.size=M6", "machining.general_tolerance=coarse", "process.clearance=0.08mm"))
	want := map[string]string{"bolt hole": "±0.21", "ball pocket": "Ø0.08"}
	seen := 0
	for i := range all[:4] {
		x := table(&all[i], "Holes")
		for _, r := range x.Rows {
			if w := want[r[2]]; w != "" {
				seen++
				if got := cell(x, r, "position"); got != w {
					t.Errorf("%s: %s to %s, want %s", all[i].Title, r[2], got, w)
				}
			}
		}
	}
	if seen < 8 {
		t.Errorf("only %d rows of bolts and balls", seen)
	}
}

// The mass is that of a closed form: a plain hub with its bore and groove.
func TestHubSheet(t *testing.T) {
	j := moldtest.Wheels[2].Job(t, "hub.bearing_back.diameter=47mm", "hub.bearing_back.depth=14mm")
	m, _, all := sheets(t, j)
	s := &all[len(all)-1]
	want := strconv.FormatFloat(math.Round(m.Core.Volume()*j.Hub.Density/1e3)/1e3, 'f', -1, 64) + " kg"
	fields := map[string]string{}
	for _, f := range s.Fields {
		fields[f.Label] = f.Value
	}
	if !strings.HasPrefix(fields["Mass"], want) || fields["Stock"] != "bar Ø120 × 70" || fields["Material"] != "nylon, cast" {
		t.Errorf("%v, want %s", fields, want)
	}
	notes := strings.Join(s.Notes, "\n")
	for _, want := range []string{"plastics have no standard fit", "sleeve", "80 to 120 grit", "dry", "assumed"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no word of %q:\n%s", want, notes)
		}
	}
	// 22 mm, 30 K, nylon against steel: 0.0455 mm; 47 mm in proportion.
	if !strings.Contains(notes, "0.097 mm off the grip on Ø47") {
		t.Errorf("grip lost:\n%s", notes)
	}
}
