package report

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
	"wheelmold/mold/release"
	"wheelmold/mold/study"
)

// shelf keeps the plans that more than one test reads.
var shelf = map[string]*study.Result{}

// result is what a sheet is written from.
func result(t *testing.T, m *mold.Mold, p *pour.Plan, e *flash.Estimate) *study.Result {
	t.Helper()
	v, err := release.Of(m)
	if err != nil {
		t.Fatal(err)
	}
	return &study.Result{Mold: m, Pour: p, Flash: e, Opening: release.Forces(m, v)}
}

// sheetOf plans an example with settings and writes its sheet.
func sheetOf(t *testing.T, name string, o pour.Options, start time.Time, sets ...string) (*Sheet, *pour.Plan, *mold.Mold) {
	t.Helper()
	key := fmt.Sprint(name, o, sets)
	if x, ok := shelf[key]; ok {
		return OfPour(x, start), x.Pour, x.Mold
	}
	m, c := moldtest.Checked(t, moldtest.Example(t, name, sets...))
	p, err := pour.New(m, c.Volumes, 1, o)
	if err != nil {
		t.Fatalf("%s %v: %v", name, sets, err)
	}
	e, err := flash.Analyze(m, c.Faces, flash.Options{Draws: 20, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	shelf[key] = result(t, m, p, e)
	return OfPour(shelf[key], start), p, m
}

func textOf(t *testing.T, s *Sheet) string {
	t.Helper()
	var b strings.Builder
	if err := s.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// variant is an example with settings.
type variant struct {
	name string
	sets []string
}

var variants = []variant{
	{"wren", nil}, {"kestrel", nil}, {"albatross", nil},
	{"wren", []string{"mold.face_up=back", "pour.fill=2mm", "mold.vents.count=0"}},
	{"kestrel", []string{"pour.degas=pressure", "pour.blend.with=80", "pour.pigment=1%", "pour.ratio_by=volume"}},
	{"kestrel", []string{"pour.degas=vacuum", "mold.side_clamp.kind=none", "mold.bolts.size=none"}},
	{"kestrel", []string{"mold.seals.base=grease", "mold.seals.lid=tape", "mold.seals.sides=clay", "mold.seals.hub=wax", "mold.stack.at=upper"}},
	{"albatross", []string{"pour.bucket.volume=4l", "pour.bucket.diameter=180mm", "pour.duration=2min", "pour.tilt=2deg", "mold.sprue.count=3"}},
}

// crowded are sheets with steps to lap, coat and cure the print on top of all that fills
// a page: some steps are said in brief.
var crowded = []variant{
	{"wren", []string{"mold.mating.stock=0.3mm", "mold.coats.count=2", "mold.face_up=back", "pour.fill=2mm", "mold.vents.count=0"}},
	{"wren", []string{"mold.mating.stock=0.3mm", "mold.coats.count=2", "pour.degas=pressure", "pour.blend.with=80", "pour.pigment=1%", "pour.ratio_by=volume", "pour.batch_mass=20g", "pour.duration=30s", "mold.sprue.gate=5mm"}},
	{"kestrel", []string{"mold.mating.stock=0.3mm", "mold.coats.count=2", "pour.degas=pressure", "pour.blend.with=80", "pour.pigment=1%", "pour.ratio_by=volume"}},
	{"kestrel", []string{"process.name=filament", "mold.mating.stock=0.3mm", "mold.coats.count=2", "pour.degas=pressure", "pour.blend.with=80", "pour.pigment=1%", "pour.ratio_by=volume"}},
	{"albatross", []string{"mold.mating.stock=0.3mm", "mold.coats.count=2", "pour.bucket.volume=4l", "pour.bucket.diameter=180mm", "pour.duration=2min", "pour.tilt=2deg", "mold.sprue.count=3"}},
	{"albatross", []string{"process.name=filament", "mold.mating.stock=0.3mm", "mold.coats.count=2", "pour.degas=pressure", "pour.blend.with=80", "pour.pigment=1%"}},
}

// some are all variants, or in short runs the three examples as they are.
func some() int {
	if testing.Short() {
		return 3
	}
	return len(variants)
}

// One page, whatever the job: on A4 and Letter, in type that is read at arm's
// length.
func TestSheetFitsAPage(t *testing.T) {
	for _, v := range append(variants[:some():some()], crowded...) {
		for _, start := range []time.Time{{}, time.Date(2001, 1, 1, 23, 30, 0, 0, time.UTC)} {
			s, _, _ := sheetOf(t, v.name, pour.Options{Wheels: 12, Molds: 2}, start, v.sets...)
			text := textOf(t, s)
			if n := strings.Count(text, "\n"); n > sheetLines {
				t.Errorf("%s %v: %d lines, at most %d\n%s", v.name, v.sets, n, sheetLines, text)
			}
			for line := range strings.Lines(text) {
				if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > sheetWidth {
					t.Errorf("%s %v: %d wide: %s", v.name, v.sets, n, line)
				}
			}
		}
	}
}

// howHard is the first thing that a mold's opening asks for.
func howHard(t *testing.T, m *mold.Mold) string {
	t.Helper()
	return OpeningOf(result(t, m, nil, nil).Opening).orders()[0]
}

// What has to be done stands on every sheet, in the order of the work; theory does
// not.
func TestSheetSaysWhatToDo(t *testing.T) {
	for _, v := range variants[:some()] {
		s, p, m := sheetOf(t, v.name, pour.Options{Wheels: 12, Molds: 2}, time.Time{}, v.sets...)
		text := strings.Join(strings.Fields(textOf(t, s)), " ") // as if it were one line
		at := 0
		for _, want := range []string{
			"Isocyanates", "ventilation", "Solvent vapor", "dust", "foam", "hot", // cautions
			"80-120 grit", "isopropyl alcohol", "dry off", "None on the hub", "Seal:",
			"Base,", "Shells,", "Lid,", "No light", fmt.Sprintf("%.0f °C", m.Job.Pour.MoldTemperature),
			"zero it with the bucket", "scale shows", "clean bucket", "scrap", "high in it.", "unmixed",
			"stop stirring", "done by", "top up until", "full", "Fill ", "Cure button",
			"Leave it", "Full mold", "Goggles", "Lid (cut stubs flush; they stretch or tear), then base, then shells", howHard(t, m), "knife",
			"Wheel ________ g = hub + " + fmt.Sprintf("%.*f g", decimals(m.Job.Pour.Scale.Resolution), p.Weights.Rubber), "void", "guard",
			"humid", "lot A", "Shore A",
		} {
			i := strings.Index(text[at:], want)
			if i < 0 {
				if want == "knife" && strings.Contains(text, string(p.Sprue.Knife)) {
					continue
				}
				t.Errorf("%s %v: %q is missing, or not in its order, in\n%s", v.name, v.sets, want, text)
				break
			}
			at += i
		}
		for _, no := range []string{"Reynolds", "Stokes", "90 %", "median", "plane strain"} {
			if strings.Contains(text, no) {
				t.Errorf("%s: theory on the sheet: %s", v.name, no)
			}
		}
	}
}

// The readings on the sheet are those of the plan, as the scale shows them, and the
// last one of each batch is all of it.
func TestSheetReadings(t *testing.T) {
	s, p, _ := sheetOf(t, "albatross", pour.Options{Wheels: 2, Molds: 1}, time.Time{}, "pour.pigment=1%")
	text := textOf(t, s)
	if p.Mix.Batches < 2 {
		t.Fatal("one batch")
	}
	total := 0.0
	for _, c := range p.Mix.Batch.Components {
		total += c.Set
		want := fmt.Sprintf("%.0f g (%.2f lb)", c.Total, c.Total/453.59237)
		if c.Total < 1000 {
			want = fmt.Sprintf("%.0f g (%.1f oz)", c.Total, c.Total/28.349523125)
		}
		if !strings.Contains(text, want) {
			t.Errorf("%s: %q is missing in\n%s", c.Name, want, text)
		}
	}
	if last := s.Pour.Batch.Components[2].Shows; math.Abs(last-total) > 1e-9 || last < s.Pour.Batch.Needed {
		t.Errorf("the scale ends at %g g of %g, %g needed", last, total, s.Pour.Batch.Needed)
	}
	if !strings.Contains(text, "1) ____:____ 2) ____:____") || !strings.Contains(text, "Next batch: A meets B ") {
		t.Errorf("no clock for two batches in\n%s", text)
	}
}

// A name is a line of text, whatever is in it.
func TestSheetOfAHostileName(t *testing.T) {
	s, _, _ := sheetOf(t, "wren", pour.Options{Wheels: 1, Molds: 1}, time.Time{}, `name=<b>"x"'y' ☃ [ ] done`)
	if text := textOf(t, s); !strings.HasPrefix(text, `<b>"x"'y' ☃ [ ] done - wheel ____ - 41.27 x 15.88 mm`) {
		t.Errorf("%s", text)
	}
}

// Conversions of the bench: 1 in·lbf is 0.112985 N·m, 1 lbf 4.44822 N, 1 psi
// 6894.757 Pa (NIST SP 811), 1 lb 453.59237 g, 1 oz 28.3495 g, 0 °C is 32 °F.
func TestBothSystems(t *testing.T) {
	for got, want := range map[string]string{
		torque(10):             "10 N·m (7.4 ft·lb)",
		pull(300):              "300 N (67 lbf)",
		pull(2.4):              "2.4 N (0.54 lbf)",
		pull(7.04):             "7 N (1.6 lbf)",
		pull(0):                "0 N (0 lbf)",
		pull(99.7):             "100 N (22 lbf)",
		torque(1234):           "1234 N·m (910 ft·lb)",
		torque(0.25):           "0.25 N·m (2.2 in·lb)",
		lift(453.59237 * 20):   "9.1 kg (20 lb)",
		lift(283.49523125):     "283 g (10 oz)",
		warmth(0):              "0 °C (32 °F)",
		warmth(23):             "23 °C (73 °F)",
		length(25.4):           "25.4 mm (1 in)",
		length(0.254):          "0.25 mm (0.01 in)",
		pressure(413685.43759): "4.1 bar (60 psi)",
		span(59.6):             "1:00 min",
		span(754):              "12:34 min",
		span(3661):             "1:01:01 h",
		days(86400):            "24 h",
		days(604800):           "7 days",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	noon := time.Date(2001, 1, 1, 23, 59, 0, 0, time.UTC)
	if got := clock(noon, 90); got != "00:00" {
		t.Errorf("past midnight: %s", got)
	}
}

// The figures for programs are those of the plan, and add up.
func TestPourOfThePlan(t *testing.T) {
	s, p, m := sheetOf(t, "albatross", pour.Options{Wheels: 2, Molds: 1}, time.Time{}, "pour.pigment=1%")
	r := &s.Pour
	same := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	same("mixed", r.Mixed, p.Mix.Need.Mixed)
	same("sum", r.Rubber+r.Channels+r.Flash+r.Margin+r.Residue, r.Mixed)
	same("poured", r.Poured, r.Mixed-r.Margin-r.Residue)
	same("rubber", r.Rubber, m.RubberVolume()/1000*m.Job.Pour.Density)
	same("a batch", r.Batch.Needed*float64(r.Batches), r.Mixed)
	same("expected", r.Shrinkage.Middle, p.Shrinkage.Middle)
	same("allowance", r.Shrinkage.ByCure+r.Shrinkage.ByCold, r.Shrinkage.Cavity[0]-r.Shrinkage.Wanted)
	if r.Wheels != 2 || r.Molds != 1 || r.Kits.Systems[0].Kits != p.Mix.Kits.Systems[0].Kits || len(r.Batch.Components) != 3 {
		t.Errorf("%+v", r)
	}
	f := &Check{Pour: Pour{Mixed: 200}}
	f.flash(&flash.Estimate{Lost: flash.Band{P10: 1, P50: 4, P90: 9}})
	same("share of the mix", f.Flash.Share, .02)
	f.Pour.Molds = 3 // that lose as much each
	f.flash(&flash.Estimate{Lost: flash.Band{P10: 1, P50: 4, P90: 9}})
	same("share of a mix for three molds", f.Flash.Share, .06)
}

// Each clamp has its own torque; each column of the clock its own time, in the order
// in which they come.
func TestSheetFigures(t *testing.T) {
	s, p, _ := sheetOf(t, "kestrel", pour.Options{Wheels: 1, Molds: 1}, time.Time{}, "mold.bolts.torque=3N*m", "mold.side_clamp.torque=2N*m", "pour.mix_temperature=28C")
	text := textOf(t, s)
	for _, want := range []string{"across: 2 N·m (18 in·lb)", "half, then 3 N·m (27 in·lb)"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	c := &p.Clock
	if row := (&bench{p: p}).clocks()[1]; fmt.Sprint(row) != fmt.Sprint([]string{span(c.StirEnd), span(c.PourStart), span(c.BeginBy), span(c.PourBy), span(c.TopUp), span(c.Gel)}) {
		t.Errorf("clock %v", row)
	}
	for _, x := range [][2]float64{{c.StirEnd, c.PourStart}, {c.PourStart, c.BeginBy}, {c.BeginBy, c.PourBy}, {c.PourBy, c.TopUp}, {c.TopUp, c.Gel}} {
		if x[0] >= x[1] {
			t.Errorf("out of order: %+v", c)
		}
	}
}
