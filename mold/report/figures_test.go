package report

import (
	"io"
	"math"
	"strings"
	"testing"

	"wheelmold/mold/castlog"
	"wheelmold/mold/release"
	"wheelmold/mold/service"
	"wheelmold/mold/worth"
)

// Each force is reported as the one that it is, and notes tell them in their units.
func TestForcesKeepTheirPlaces(t *testing.T) {
	o := &release.Opening{Pieces: []release.Push{{Name: "lid", Rubber: 5000, Suction: 501, HubSucks: 102, PeelLow: 3, PeelHigh: 94,
		Bars:  []release.Pry{{Line: "lid/shells", Slots: 2, Lever: 705, Crush: 306, Hand: 27, Short: 18.9}},
		Jacks: release.Jacking{Size: "M6", Screws: 2, Each: 308, Most: 909, Torque: [3]float64{1.25, 1.5, 2.25}, Stop: 3.75}}}}
	r := OpeningOf(o)
	p := &r.Pieces[0]
	if p.Suction != 501 || p.HubSucks != 102 || p.Peel != [2]float64{3, 94} {
		t.Errorf("%+v", p)
	}
	if l := p.Lines[0]; l.Lever != 705 || l.Crush != 306 || l.Hand != 27 || l.Short != 18.9 {
		t.Errorf("%+v", l)
	}
	var notes string
	for _, f := range r.figures() {
		notes += f.Note
	}
	for _, want := range []string{pull(501) + " on 50 cm²", torque(1.25) + " at a friction of 0.12", torque(2.25) + " at 0.2.", "Never above " + torque(3.75), pull(909) + " that it and the face under its tip stand"} {
		if !strings.Contains(notes, want) {
			t.Errorf("%q is not in %s", want, notes)
		}
	}
}

// Lugs and a layer that is thick for its radius are told, from a quarter of it on.
func TestLugsAndThickLayersAreTold(t *testing.T) {
	r := &TreadService{Radius: 40, Thickness: 10.1, Lugs: .75}
	if said := r.width(); !strings.Contains(said, percent(.75)+" that cross grooves leave") {
		t.Error(said)
	}
	if said := r.method(); !strings.Contains(said, "reckoned flat, but is") {
		t.Error(said)
	}
	r.Thickness, r.Lugs = 9.9, 1
	if said := r.method() + r.width(); strings.Contains(said, "reckoned flat, but is") || strings.Contains(said, "cross grooves") {
		t.Error(said)
	}
}

// Each figure of a hub is reported as the one that it is.
func TestHubFiguresKeepTheirPlaces(t *testing.T) {
	r := hubServiceOf(&service.HubLoad{
		Bearings: []service.Bearing{{Face: "back", Diameter: 22, Known: true, Most: .041, Least: .011, Lost: .046}, {Face: "front", Known: true, Most: .041, Least: .011, Lost: .02}},
		Bond:     service.Bond{Loads: []service.BondLoad{{Axial: true, Force: 7, Shear: 3e6, Even: 2e6}}},
		Sprocket: &service.Sprocket{Circle: 48, Root: 43, Outside: 53, Plates: 57, Hub: 37},
		Motion:   service.Motion{Hub: 1, Rubber: 2, Speed: 3, Hoop: 4e6, Pull: 5e6, Factor: 6},
	})
	if b := r.Bearings[0]; b.Most != .041 || b.Least != .011 || b.Lost != .046 || !b.Loose || !strings.Contains(b.text(), ": loose when warm") {
		t.Errorf("%+v: %s", b, b.text())
	}
	b := &r.Bearings[1]
	if said := b.text(); b.Loose || !b.MayLoose || !strings.Contains(said, "may be loose when warm") {
		t.Errorf("%+v: %s", b, said)
	}
	if b.MayLoose = false; !strings.Contains(b.text(), "held, until it creeps") {
		t.Error(b.text())
	}
	if l := r.Bond.Loads[0]; l.Shear != 3 || l.Even != 2 || !strings.Contains(r.Bond.even(), "were 2 MPa, the lower bound") {
		t.Errorf("%+v: %s", l, r.Bond.even())
	}
	if s := r.Sprocket; s.Circle != 48 || s.Root != 43 || s.Outside != 53 || s.Plates != 57 || s.Hub != 37 {
		t.Errorf("%+v", s)
	}
	if m := r.Motion; m.Hub != 1 || m.Rubber != 2 || m.Speed != 3 || m.Hoop != 4 || m.Pull != 5 || *m.Factor != 6 {
		t.Errorf("%+v", m)
	}
}

// Factors are told to what they are worth, and speeds in three units: 10 m/s are 36 km/h
// and 32.8 ft/s; 100 m/s tell the feet apart.
func TestFactorsAndSpeeds(t *testing.T) {
	for v, want := range map[float64]string{.09: "under 0.1", .1: "0.1", 9.94: number(9.94, 1), 12.34: "12", 99.4: "99", 100: "over 100",
		.978: "0.98", 1.04: "1.04", 1.2: "1.2", .9996: "0.9996", 2.97: "2.97", 3.04: "3"} {
		if got := times(&v); got != want {
			t.Errorf("%g: %q, want %q", v, got, want)
		}
	}
	if got := speed(100); !strings.Contains(got, "360 km/h, 328 ft/s") {
		t.Error(got)
	}
}

// The worst load is the one with the least factor; a warning or a spin beyond its limit is a
// state of its own, and of many walls the first is told, and all that are short.
func TestWhatOfAHubAsksForALook(t *testing.T) {
	factor := func(v float64) *float64 { return &v }
	b := &BondService{Loads: []BondLoadService{{Name: "a", Factor: factor(4)}, {Name: "b"}, {Name: "c", Factor: factor(2)}, {Name: "d", Factor: factor(3)}}}
	if l, at := b.worst(); l.Name != "c" || at != 2 {
		t.Errorf("%s at %d, want c", l.Name, at)
	}
	b.Loads[2].Verdict = service.Flanged
	if l, at := b.worst(); l.Name != "d" || at != 3 {
		t.Errorf("%s at %d, want d: flanges carry c", l.Name, at)
	}
	for _, c := range []struct {
		faults int
		spin   float64
		want   state
	}{{0, 1, fine}, {0, .99, act}, {1, 1, mind}} {
		r := &HubService{Bond: BondService{Loads: []BondLoadService{{Verdict: service.Holds}}}, faults: c.faults, Motion: MotionService{Factor: factor(c.spin)}}
		if got := r.state(); got != c.want {
			t.Errorf("%d faults, spinning at %g: %s, want %s", c.faults, c.spin, got, c.want)
		}
	}
	r := &HubService{Walls: []WallService{{Between: "first", Least: 3}, {Between: "second", Least: 4}}}
	if said := inText(t, r.walls); !strings.Contains(said, "first") || strings.Contains(said, "second") {
		t.Error(said)
	}
	r.Walls[0].Short, r.Walls[1].Short = true, true
	if said := inText(t, r.walls); !strings.Contains(said, "first") || !strings.Contains(said, "second") {
		t.Error(said)
	}
}

// Hours, shares and verdicts of a wheel are told as they are reckoned.
func TestWorthKeepsItsPlaces(t *testing.T) {
	if p := worthAt(&worth.Point{ByUse: 1, Own: 2, Shop: 3, Printer: 4}); p.ByUse != 1 || p.Own != 2 || p.Shop != 3 || p.Printer != 4 {
		t.Errorf("%+v", p)
	}
	for _, c := range []struct {
		low, middle, high float64
		want              string
	}{{8, 9, 9.9, "4 wheels pay"}, {8, 9, 10, "4 wheels pay, but not"}, {8, 10, 12, "4 wheels do not pay, but would"}, {10, 11, 12, "4 wheels do not pay"}} {
		r := &Worth{Wheels: 4, Wanted: WorthAt{Price: WorthBand{c.low, c.middle, c.high}}, Bought: &WorthBought{Match: 10}}
		if got := r.pays(); !strings.HasPrefix(got, c.want) || strings.Contains(got, ",") != strings.Contains(c.want, ",") {
			t.Errorf("%g to %g against 10: %s, want %s", c.low, c.high, got, c.want)
		}
	}
	r := &Worth{Wheels: 4, Wanted: WorthAt{Price: WorthBand{20, 40, 80}}, Items: []WorthItem{{Name: "hub", Price: 10}}}
	if said := inText(t, r.items); !strings.Contains(said, percent(.25)) {
		t.Error(said)
	}
	b := &WorthBought{Low: WorthEven{From: 3}, High: WorthEven{From: 9}}
	if said := b.bracketed(); !strings.Contains(said, "3 if casting costs as little") || !strings.Contains(said, "9 if as much") {
		t.Error(said)
	}
	if b.High.From = 3; b.bracketed() != "" {
		t.Error(b.bracketed())
	}
}

// The band is drawn from its low to its high, and what is bought lies on the chart however
// dear it is.
func TestWorthChartHoldsItsBand(t *testing.T) {
	in := prices()
	in.BoughtPrice = 2e4
	r := OfWorth(worth.Of(in))
	all := parse(t, worthChart(r))
	y, up := ruler(t, all, "y", true), textSize/3
	lines := pick(all, "path", "c-line")
	bought, high, low := points(t, lines[1].attr["d"]), points(t, lines[2].attr["d"]), points(t, lines[3].attr["d"])
	for i, p := range r.Curve {
		if math.Abs(high[i][1]-(y(p.High)-up)) > .02 || math.Abs(low[i][1]-(y(p.Low)-up)) > .02 {
			t.Fatalf("%d wheels: %v to %v, want %g to %g", p.Wheels, low[i], high[i], y(p.Low)-up, y(p.High)-up)
		}
	}
	top := math.Inf(1)
	for _, e := range pick(all, "line", "c-grid") {
		top = min(top, e.number(t, "y1"), e.number(t, "y2"))
	}
	if !(bought[0][1] >= top-.02) {
		t.Errorf("bought is drawn at %g mm, above the grid's top at %g", bought[0][1], top)
	}
}

// Measured stands beside what was predicted of the same quantity, in the same unit.
func TestCastsAreTold(t *testing.T) {
	of := castlog.Of
	l := &castlog.Log{Records: []castlog.Record{{Kind: castlog.Cast, Date: "2026-05-01", Result: "good", Notes: "left",
		Residue: of(14), ExpectedResidue: of(12), FlashMass: of(3.25), ExpectedFlash: of(2.75), Flash: of(.08), ExpectedGap: of(45),
		ExpectedLine: "lid/shells", Wheel: of(262.5), Hub: of(140), ExpectedRubber: of(124), Hardness: of(68), ExpectedHardness: of(70),
		Diameter: of(109.5), ExpectedCured: of(109.75), Cavity: of(110.5)}}, Faults: []castlog.Fault{{Line: 3, Cause: "it has no sum"}}}
	c := OfCasts("wheel.casts", l)
	said := strings.Join(strings.Fields(streamed(t, c.WriteText)), " ")
	if want := "2026-05-01 good 14 (12) 3.25 (2.75) 0.08 (0.045) lid/shells 109.5 (109.75) 122.5 (124) 68 (70) left"; !strings.Contains(said, want) {
		t.Errorf("%q is not in %s", want, said)
	}
	if len(c.Unusable) != 1 || !strings.Contains(c.Unusable[0], "line 3") || c.Calibrated != "" {
		t.Errorf("%+v", c)
	}
	l.Damaged = 70001
	if c := OfCasts("wheel.casts", l); len(c.Unusable) != 2 || c.Unusable[1] != "and 70000 lines more" {
		t.Errorf("of 70001 unusable lines it tells %q", c.Unusable)
	}
	none := OfCasts("wheel.casts", &castlog.Log{Records: []castlog.Record{{Kind: castlog.Cast, Date: "2026-05-01"}}})
	if said := streamed(t, none.WriteText); strings.Count(said, "- (-)") != 6 {
		t.Error(said)
	}
}

// streamed is what a report prints by itself.
func streamed(t *testing.T, to func(io.Writer) error) string {
	t.Helper()
	var b strings.Builder
	if err := to(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A lesson tells ratio, interval and casts, of one cast too; and that none says anything.
func TestLessonIsTold(t *testing.T) {
	l := castlog.Learn(&castlog.Log{})
	l.Gap.Ratio, l.Gap.Low, l.Gap.High, l.Gap.N = 1.5, .75, 3, 1
	r := OfLesson("wheel.casts", l)
	if f := r.Findings[0]; f.Low != .75 || f.High != 3 || f.Casts != 1 || f.Notes == nil {
		t.Errorf("%+v", f)
	}
	said := strings.Join(strings.Fields(streamed(t, r.WriteText)), " ")
	if !strings.Contains(said, "your gaps are 1.5 times what was predicted; likely 0.75 to 3 times, by 1 cast") || strings.Count(said, "no cast says") != 2 {
		t.Error(said)
	}
}
