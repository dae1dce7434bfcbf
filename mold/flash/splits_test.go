package flash

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// linesOf are the parting lines that the liquid reaches, by split: a strap lies clear of
// the rubber and meets the hub alone.
var linesOf = map[string][]string{
	"four-piece":             {"base/shells", "lid/shells", "shell A/shell B at +x", "shell A/shell B at -x", "base/hub", "lid/hub"},
	"three shells":           {"base/shells", "lid/shells", "shell A/shell B", "shell A/shell C", "shell B/shell C", "base/hub", "lid/hub"},
	"four shells":            {"base/shells", "lid/shells", "shell A/shell B", "shell A/shell D", "shell B/shell C", "shell C/shell D", "base/hub", "lid/hub"},
	"open top":               {"base/shells", "shell A/shell B at +x", "shell A/shell B at -x", "base/hub", "strap/hub"},
	"open top, three shells": {"base/shells", "shell A/shell B", "shell A/shell C", "shell B/shell C", "base/hub", "strap/hub"},
	"open top, four shells":  {"base/shells", "shell A/shell B", "shell A/shell D", "shell B/shell C", "shell C/shell D", "base/hub", "strap/hub"},
	"clam":                   {"half A/half B", "halves/hub below", "halves/hub above"},
	"cup and lid":            {"lid/cup", "cup/hub", "lid/hub"},
	"cup and lid, crowned":   {"lid/cup", "cup/hub", "lid/hub"},
	"cup and lid, drafted":   {"lid/cup", "cup/hub", "lid/hub"},
}

// everySplit runs a test for all wheels in all splits; in short runs for the smallest.
func everySplit(t *testing.T, test func(t *testing.T, split string, s *surveyed)) {
	for i, w := range moldtest.Wheels {
		for _, x := range moldtest.Splits {
			if testing.Short() && i > 0 {
				continue
			}
			t.Run(w.String()+", "+x.Name, func(t *testing.T) { test(t, x.Name, split(t, w, x.Name)) })
		}
	}
}

// split is the survey of a wheel in a split, made once.
func split(t testing.TB, w moldtest.Wheel, name string) *surveyed {
	t.Helper()
	key := w.String() + name
	if v, ok := shelf.Load(key); ok {
		return v.(*surveyed)
	}
	s := surveyOf(t, w.Job(t, moldtest.SplitOf(t, name).Sets...))
	shelf.Store(key, s)
	return s
}

// Every line that the liquid reaches is found and called as the layout calls it, and
// nothing else is. Seams have the lengths of closed forms.
func TestEverySplitsLines(t *testing.T) {
	everySplit(t, func(t *testing.T, split string, s *surveyed) {
		l := s.mold.Layout
		known := append(l.SideLines(), l.LineLow(), l.LineTop())
		want := seamsByHand(s.mold)
		var got []string
		for _, x := range s.geometry.sites {
			got = append(got, x.name)
			if x.at != atHub && !slices.Contains(known, x.name) {
				t.Errorf("%s is not among the layout's %q", x.name, known)
			}
			if length, ok := want[x.name]; !ok {
				t.Errorf("no closed form for %s", x.name)
			} else {
				near(t, "seam of "+x.name, x.seam, length, .008)
			}
			if x.land().Least < .9*s.mold.Job.Mold.Land && x.at != atHub {
				t.Errorf("%s: a way out %.2f mm from the seam: %+v", x.name, x.land().Least, x.land())
			}
		}
		if !slices.Equal(got, linesOf[split]) {
			t.Errorf("lines %q, want %q", got, linesOf[split])
		}
	})
}

// seamsByHand are the lengths of the wetted edges: circles, and the tread's outline.
func seamsByHand(m *mold.Mold) map[string]float64 {
	l, tread := m.Layout, m.Tread
	side := 0.0 // of the tread's outline from the lower face to the upper
	for _, e := range tread.Cavity().Elems() {
		switch {
		case e.Role != mold.RoleTread:
		case e.Arc:
			a, b := e.Angles()
			side += e.R * math.Abs(b-a)
		default:
			side += math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1])
		}
	}
	rim := 2 * math.Pi * m.Core.EndR()
	out := map[string]float64{
		l.LineLow(): 2 * math.Pi * tread.LowerOuter, l.LineTop(): 2 * math.Pi * tread.UpperOuter,
		"base/hub": rim, "lid/hub": rim, "strap/hub": rim, "cup/hub": rim, "halves/hub below": rim, "halves/hub above": rim,
	}
	if l.LineTop() == "lid/cup" {
		out[l.LineTop()] = 2 * math.Pi * tread.SurfaceR(l.Part)
	}
	for _, p := range l.Partings {
		along := side
		if l.Below == "" { // the halves' faces close around the rubber, but for the channels
			along += tread.LowerOuter + tread.UpperOuter - 2*m.Core.EndR()
			rise := l.Ceil - l.Top
			for _, g := range l.Gates {
				if on(g, p) {
					along += 2*math.Hypot(rise, l.MouthR-l.GateR) - 2*l.GateR
				}
			}
			for _, v := range l.Vents {
				if on(v, p) {
					along += 2*rise - 2*l.VentR
				}
			}
		}
		out[p.Line] += along
	}
	return out
}

// on tells whether a channel lies on a parting plane.
func on(at mesh.Vec, p mold.Parting) bool {
	at[2] = 0
	return at.Unit().Dist(p.Outward()) < 1e-6
}

// An open top spares the circle under the lid, and costs the allowance along each of
// the two lines between the shells.
func TestTotalSeam(t *testing.T) {
	for _, w := range moldtest.Wheels {
		total := map[string]float64{}
		for _, name := range []string{"four-piece", "three shells", "open top", "clam", "cup and lid"} {
			for _, x := range split(t, w, name).geometry.sites {
				total[name] += x.seam
			}
		}
		t.Log(w, total)
		tread := split(t, w, "open top").mold.Tread
		near(t, w.String()+" open top", total["open top"], total["four-piece"]-2*math.Pi*tread.UpperOuter+2*(tread.Top-tread.Width), .005)
		if !(total["clam"] < total["cup and lid"] && total["cup and lid"] < total["open top"] && total["open top"] < total["four-piece"] && total["four-piece"] < total["three shells"]) {
			t.Errorf("%s: %v", w, total)
		}
	}
}

// No way out lies as high as the liquid stands; below an open top there are corners at
// the base alone, one for each parting plane, and none around a cup or in a clam.
func TestNothingRunsOutAtTheBrim(t *testing.T) {
	everySplit(t, func(t *testing.T, split string, s *surveyed) {
		l := s.mold.Layout
		level := l.Top + s.mold.Job.Pour.Fill
		for _, x := range s.geometry.sites {
			for _, e := range x.grid.Exits() {
				if z := x.sheet.Frame.Global(mesh.Vec{e.U, e.V, 0})[2]; z > level-1e-3 {
					t.Errorf("%s: a way out at z %g, liquid up to %g", x.name, z, level)
					break
				}
			}
		}
		plates := 0
		for _, line := range []string{l.LineLow(), l.LineTop()} {
			if strings.HasSuffix(line, "/shells") && !strings.HasPrefix(line, "strap") {
				plates++
			}
		}
		if got, want := len(s.geometry.corners), plates*len(l.Partings); got != want {
			t.Errorf("%d corners, want %d", got, want)
		}
	})
}

// What presses each line: a strap pulls across every parting plane with its tension,
// bolts across hold clam halves above and below their balls, and of an open top's bolts
// all press on the base and two on the hub.
func TestWhatClampsEachSplit(t *testing.T) {
	small, large := moldtest.Wheels[0], moldtest.Wheels[2]
	three := split(t, small, "three shells")
	l := three.mold.Layout
	for i, x := range three.geometry.sites[2:5] {
		k := slices.IndexFunc(l.Partings, func(p mold.Parting) bool { return p.Line == x.name })
		clamps := three.geometry.clamps(x)
		if len(clamps) != 1 {
			t.Fatalf("%d: %s has %d clamps", i, x.name, len(clamps))
		}
		out, at := l.Partings[k].Outward(), clamps[0].at
		if at[2] = 0; at.Dist(out.Scale(l.Reach(out))) > 1e-9 {
			t.Errorf("%s is clamped at %v", x.name, at)
		}
		c := three.conditions()
		near(t, "tension", c.force(x), c.job.Mold.SideClamp.StrapForce, 0)
	}
	clam := split(t, large, "clam")
	heights := map[float64]int{}
	for _, k := range clam.geometry.clamps(clam.site(t, "half A/half B")) {
		heights[k.at[2]]++
	}
	if len(heights) != 2 {
		t.Errorf("a clam's bolts lie at %v", heights)
	}
	open := split(t, large, "open top")
	if n := len(open.geometry.clamps(open.site(t, "base/shells"))); n != 4 {
		t.Errorf("%d bolts press the base", n)
	}
	near(t, "force on the hub", stackOf(open.geometry, open.mold.Job).Clamp, 2*axialForce(open.mold.Job), 1e-12)
	cup := split(t, large, "cup and lid")
	if n := len(cup.geometry.clamps(cup.site(t, "lid/cup"))); n != 4 {
		t.Errorf("%d bolts press a cup's lid", n)
	}
}

// Around each end of a clam's hub lie the halves' recesses, half a turn each, before the
// seam of that end.
func TestClamHubClearances(t *testing.T) {
	s := split(t, moldtest.Wheels[1], "clam")
	l := s.mold.Layout
	for line, ends := range map[string][2]float64{"halves/hub below": {l.LandLow, 0}, "halves/hub above": {l.Top, l.LandTop}} {
		x := s.site(t, line)
		turn := 0.0
		for _, r := range x.entry {
			turn += r.Turn
			for _, z := range []float64{r.Z0, r.Z1} {
				if h := r.Axis.Global(mesh.Vec{0, 0, z})[2]; h < ends[0]-1e-3 || h > ends[1]+1e-3 {
					t.Errorf("%s: a clearance at z %g, between %v", line, h, ends)
				}
			}
		}
		near(t, line+" clearance", turn, 2*math.Pi, 1e-3)
	}
}

// What a split has not got makes no gap: shells of unequal heights hold up a lid only, a
// hub that is too long opens no line of a clam, and of a cup the one that there is.
func TestContributionsOfEachSplit(t *testing.T) {
	w := moldtest.Wheels[1]
	parts := func(split, line string) (kinds []Kind, part map[Kind]Contribution) {
		s := surveyOf(t, w.Job(t, append(moldtest.SplitOf(t, split).Sets, "mold.stack.gap=0mm", "mold.stack.seal=none", "hub.moisture=2%")...))
		part = map[Kind]Contribution{}
		for _, p := range s.conditions().explain(s.site(t, line)).Parts {
			kinds = append(kinds, p.Kind)
			part[p.Kind] = p
		}
		return kinds, part
	}
	for _, c := range []struct {
		split, line string
		step, proud bool
	}{
		{"four-piece", "lid/shells", true, true}, {"three shells", "base/shells", true, true}, {"open top", "base/shells", false, true},
		{"cup and lid", "lid/cup", false, true}, {"clam", "half A/half B", false, false},
	} {
		kinds, part := parts(c.split, c.line)
		if slices.Contains(kinds, Step) != c.step || slices.Contains(kinds, Proud) != c.proud {
			t.Errorf("%s %s: %q", c.split, c.line, kinds)
		}
		if c.proud && part[Proud].Expected <= 0 {
			t.Errorf("%s %s: %+v", c.split, c.line, part[Proud])
		}
	}
	_, four := parts("four-piece", "lid/shells")
	_, cup := parts("cup and lid", "lid/cup")
	near(t, "a cup's lid takes all that two lines share", cup[Proud].Expected, 2*four[Proud].Expected, 1e-9)
	if _, three := parts("three shells", "lid/shells"); three[Step].Name != "shell against shell" {
		t.Errorf("%+v", three[Step])
	}
}

// A hub that is too long holds plates open, and does not go into a clam.
func TestHubTooLongForAClam(t *testing.T) {
	for split, want := range map[string]string{"clam": "does not go into the halves", "cup and lid": "holds the mold open", "open top": "holds the mold open"} {
		j := moldtest.Wheels[1].Job(t, "mold.split="+split, "mold.stack.gap=0mm", "mold.stack.seal=none", "hub.moisture=2%")
		m, c := moldtest.Checked(t, j)
		e, err := Analyze(m, c.Faces, Options{Draws: 1, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if w := e.Warnings(); len(w) != 1 || !strings.Contains(w.Error(), want) {
			t.Errorf("%s: %v, want %q", split, w, want)
		}
	}
}

// A cup's rim is made as flat as what can be lapped on a plain plate, its floor and its
// lid are not; grease between clam halves is that of mold.seals.sides.
func TestFacesAndSealsByPiece(t *testing.T) {
	w := moldtest.Wheels[1]
	set := []string{"mold.mating.shells_flatness=0.01mm", "mold.mating.plates_flatness=0.03mm", "hub.flatness=0.07mm", "mold.seals.lid=wax", "mold.seals.sides=clay"}
	for _, c := range []struct {
		split, line, seal string
		low, high         float64
	}{
		{"four-piece", "base/shells", "dry", .03, .01}, {"four-piece", "lid/hub", "dry", .07, .03},
		{"clam", "half A/half B", "clay", .01, .01}, {"clam", "halves/hub above", "dry", .07, .03},
		{"cup and lid", "lid/cup", "wax", .01, .03}, {"cup and lid", "cup/hub", "gasket", .03, .07}, {"open top", "strap/hub", "dry", .07, .03},
	} {
		s := surveyOf(t, w.Job(t, append(moldtest.SplitOf(t, c.split).Sets, append(set, "mold.seals.base=dry", "mold.seals.hub=dry")...)...))
		x, k := s.site(t, c.line), s.conditions()
		if low, high := k.face(x, x.low[0]).waviness, k.face(x, x.high[0]).waviness; low != c.low || high != c.high {
			t.Errorf("%s %s: faces wavy by %g and %g, want %g and %g", c.split, c.line, low, high, c.low, c.high)
		}
		if got := sealOf(&k.job, x).name; got != c.seal {
			t.Errorf("%s %s: sealed with %s, want %s", c.split, c.line, got, c.seal)
		}
	}
}

// The laws and the look of an estimate hold on every split, and totals are the sums of
// lines and corners.
func TestEverySplitsEstimate(t *testing.T) {
	everySplit(t, func(t *testing.T, split string, s *surveyed) {
		switch d := s.mold.Job.Wheel.Diameter; {
		case d > 100:
			return // takes long, and is no other case
		case d < 50:
			lawful(t, split, s, 8)
		}
		e, err := Analyze(s.mold, s.faces, Options{Draws: 200, Seed: 2})
		if err != nil {
			t.Fatal(err)
		}
		sane(t, split, e, len(linesOf[split]))
		one, err := Analyze(s.mold, s.faces, Options{Draws: 1, Seed: 2})
		if err != nil {
			t.Fatal(err)
		}
		flash, leak := 0.0, 0.0
		for _, l := range one.Lines {
			flash, leak = flash+l.Flash.P50, leak+l.Leak.P50
		}
		for _, c := range one.Corners {
			flash, leak = flash+c.Flash.P50, leak+c.Leak.P50
		}
		near(t, "flash", one.Flash.P50, min(flash, one.Poured), 1e-9)
		near(t, "leak", one.Leak.P50, min(leak, one.Poured), 1e-9)
		near(t, "poured", one.Poured, (s.mold.RubberVolume()+s.mold.FilledChannels())/1000*s.mold.Job.Pour.Density, 1e-12)
	})
}

// Changes are proposed for pieces that are there.
func TestChangesNameTheSplitsPieces(t *testing.T) {
	absent := map[string][]string{
		"open top": {" lid"}, "clam": {"shells", " base", " lid", "plate with a hole"}, "cup and lid": {"shells", " base", "halves", "cup and lid on a plate"},
	}
	for split, words := range absent {
		j := moldtest.Wheels[1].Job(t, "mold.split="+split, "mold.seals.base=dry", "mold.seals.lid=dry", "mold.seals.sides=dry")
		m, c := moldtest.Checked(t, j)
		e, err := Analyze(m, c.Faces, Options{Draws: 20, Seed: 1, Tries: true})
		if err != nil {
			t.Fatal(err)
		}
		tried := 0
		for _, l := range e.Lines {
			for _, x := range l.Tried {
				tried++
				for _, word := range words {
					if strings.Contains(" "+x.What, word) {
						t.Errorf("%s, %s: %q", split, l.Name, x.What)
					}
				}
				for _, s := range x.Sets {
					if set, err := params.ParseSetting(s); err != nil {
						t.Errorf("%s: %v %v", split, set, err)
					}
				}
			}
		}
		if tried == 0 {
			t.Errorf("%s: nothing was tried", split)
		}
	}
}
