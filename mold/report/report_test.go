package report

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"wheelmold/mold/flash"
)

func sample() *Check {
	return &Check{
		Version: Version, Job: "heron", Warnings: []string{}, Process: "milled", Split: "four-piece", Segments: 2, around: "shells",
		Wheel:    Wheel{88.9, 25.4, "front", 89.1},
		Outline:  Outline{"square", [3]float64{127, 127, 50.8}},
		Pieces:   []Piece{{Name: "base", Size: [3]float64{127, 127, 12.7}, Volume: 204838.3, Triangles: 1200, Mesh: 204838.3 * (1 - 1e-5)}},
		Hardware: Hardware{Bolts: 4, BoltSize: "M5", BoltMM: 51.2, Lengths: []BoltLength{{4, 51.2}}, BoltNM: 6.17, SideNM: 3.054, Side: 2, SideSize: "M4", SideMM: 24, Balls: []Balls{{10, 6.35}}, Seal: "gasket", SealMM: 0.03},
		Scars:    Scars{Hidden: 5, Visible: 2, Cover: 80},
		Rubber:   Rubber{100000, 100000 * (1 + 1e-14), 0, 0},
	}
}

// Every number carries its unit or method; inches are millimeters by 25.4.
func TestCheckText(t *testing.T) {
	var b strings.Builder
	if err := sample().WriteText(&b); err != nil {
		t.Fatal(err)
	}
	const want = `heron

wheel  88.9 x 25.4 mm       3.5 x 1 in    diameter x width, front face up in the mold
mold   127 x 127 x 50.8 mm  5 x 5 x 2 in  square, milled

cavity  89.1 mm across, with the allowance for shrinkage (mold.shrinkage)
to buy  4 M5 bolts along the axis of 52 mm or more with nuts, 2 M4 bolts across the shells of 24 mm or more with nuts, 10 balls of 6.35 mm, gasket for a gap of 0.03 mm at the hub's end
torque  6.17 N·m along the axis, 3.05 N·m across the shells, dry screws (K 0.2)
to cut  7 stubs of gates and vents, 2 of them visible beside the cover of 80 mm

piece  size mm           size in      volume
base   127 x 127 x 12.7  5 x 5 x 0.5  204.838 cm³

Sizes as the pieces lie on the bed; volumes by line integrals over the exact boundary.

rubber  100.0000 cm³  closed form (Pappus-Guldin)
        100.0000 cm³  line integrals over the exact boundary, agrees within 1e-12

pour, for one mix; the sheet for the bench is printed by the command pour.
`
	if !strings.HasPrefix(b.String(), want) {
		t.Errorf("got:\n%s", b.String())
	}
}

func TestBuildText(t *testing.T) {
	residue := 2e-6
	r := &Build{Check: *sample(), Tolerance: 0.01, Closure: Closure{Block: 819353.2, Clearances: 12, Exact: 1e-15, Meshes: &residue}, Folder: "out",
		Files: []File{{Name: "base.stl", Bytes: 60084}, {Name: "pieces.3mf", Bytes: 1234567}}}
	r.Rubber.Mesh, r.Rubber.MeshBias = 99990, 15
	var b strings.Builder
	if err := r.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"base   127 x 127 x 12.7  5 x 5 x 0.5  204.838 cm³   204.836 cm³  within 1.0e-05  1200\n",
		"add up to the block of 819.353 cm³: by exact volumes within 1e-12, by meshes within 2.0e-06 of it.\n",
		"        99.9900 cm³   mesh, agrees within 1.0e-04; its tolerance allows 1.5e-04\n",
		"wrote  out/base.stl    60.1 kB\n",
		"wrote  out/pieces.3mf  1.2 MB\n",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is missing in:\n%s", want, b.String())
		}
	}
}

func TestHardwareAndScars(t *testing.T) {
	h := Hardware{Bolts: 4, BoltSize: "M3", BoltMM: 30, Lengths: []BoltLength{{4, 30}}, SideClamp: "strap", Jacks: 6, JackSize: "M6", JackLengths: []BoltLength{{4, 35.2}, {2, 60}}}
	if got, want := h.text("shells"), "4 M3 bolts along the axis of 30 mm or more with nuts, 1 band around the shells, 4 M6 jack screws of 36 mm or more, threaded up to the head, 2 M6 jack screws of 60 mm or more, threaded up to the head"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// The bolts of an open top are of two lengths: through the strap, and on the shells.
	h = Hardware{Bolts: 4, BoltSize: "M4", Lengths: []BoltLength{{2, 42.1}, {2, 33.6}}, SideClamp: "counterbore", Side: 2, SideSize: "M3", SideMM: 19.5}
	if got, want := h.text("shells"), "2 M4 bolts through the strap's corners of 43 mm or more with nuts, 2 M4 bolts through the shells alone of 34 mm or more with nuts, 2 M3 bolts across the shells of 20 mm or more with nuts"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// A short key does not reach heads at the bottom of a deep well.
	for well, want := range map[float64]string{14: "with nuts", 16.4: "with nuts (heads 16 mm deep: long hex key)"} {
		h := Hardware{Side: 2, SideSize: "M3", SideMM: 19.5, well: well}
		if got := h.text("shells"); got != "2 M3 bolts across the shells of 20 mm or more "+want {
			t.Errorf("%v mm: %q", well, got)
		}
	}
	for s, want := range map[Scars]string{
		{}:                       "no gate or vent",
		{Trim: 1.3}:              "1.3 mm off the top face, all around; no gate or vent",
		{Visible: 1}:             "1 stub of a gate, visible: no hub.cover_diameter stated",
		{Hidden: 1, Cover: 98.5}: "1 stub of a gate, under the cover of 98.5 mm",
		{Visible: 7}:             "7 stubs of gates and vents, all visible: no hub.cover_diameter stated",
		{Hidden: 7, Cover: 98.5}: "7 stubs of gates and vents, all under the cover of 98.5 mm",
	} {
		if got := s.text(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A residue is printed where it says something, and not where rounding differs
// from one processor to the next.
func TestWithin(t *testing.T) {
	for v, want := range map[float64]string{0: "within 1e-12", -3e-15: "within 1e-12", 2.34e-9: "within 2.3e-09", -0.5: "within 5.0e-01"} {
		if got := within(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}

// Texts of the JSON stay readable, and what a build alone knows is absent after a
// check.
func TestJSON(t *testing.T) {
	c := sample()
	c.Warnings = []string{"a < b & c"}
	c.Pieces[0].Triangles, c.Pieces[0].Mesh = 0, 0
	var b strings.Builder
	if err := WriteJSON(&b, c); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `"a < b & c"`) {
		t.Errorf("escaped: %s", b.String())
	}
	for _, key := range []string{"triangles", "mesh", "closure"} {
		if strings.Contains(b.String(), key) {
			t.Errorf("%s is there after a check", key)
		}
	}
	var back Check
	if err := json.Unmarshal([]byte(b.String()), &back); err != nil || back.Rubber != c.Rubber || !reflect.DeepEqual(back.Pour, c.Pour) {
		t.Errorf("read back %+v, %v", back, err)
	}
}

// One line that flashes, with everything that is told of it.
func TestFlashText(t *testing.T) {
	f := &Flash{
		Note: "an estimate", Draws: 500, Grade: "fringe", Meaning: "a rim to cut off", Share: 0.0123, Fill: 50.5,
		Flash: Band{0.1, 0.5, 2.34}, Leak: Band{0, 0.004, 12.3}, Lost: Band{0.1, 0.5, 2.4},
		Liquid: FlashLiquid{Viscosity: 0.8, PotLife: 1200, Growth: 10, Gel: 2400, Tension: 0.035, Mold: 23},
		Stack:  FlashStack{Slack: -0.0223, Room: 0.0823, Pressed: 0.0678, Worst: [2]float64{-0.2, 0.1}, RSS: [2]float64{-0.1, 0.05}},
		Lines: []FlashLine{{
			Name: "base/shells", Seal: "wiped", Seam: 327.86, Land: FlashLand{9.55, 22.9, [3]float64{35.4, 38.4, 0}, "ball pocket"},
			Gap:   FlashGap{0.0154, 0.2043, Band{0.01, 0.016, 0.03}, []FlashCause{{"dirt", "dirt", 0.005, 0.02, "crumbs"}, {"clamps", "clamps", -0.0011, 0, "beam"}}},
			Flash: Band{0.0135, 0.032, 0.0726}, Verdict: "may drip", Drips: 0.312, Grade: "feather", Reason: "dirt", Opening: 0.25,
			Change: &Change{What: "wipe it", Sets: []string{"a.b=c", "d=1mm"}, Mass: 0.0123, Grade: "tight"}, Best: &Change{What: "wax it", Sets: []string{"e=f"}, Grade: "tight"},
		}, {
			Name: "lid/hub", Seal: "dry", Grade: "fringe", Reason: "waviness", Tried: []Change{{What: "tape the joint"}}, Land: FlashLand{Exit: "hub opening"},
		}},
		Corners: []Corner{{Length: 29.3, Edge: 0.1, Expected: FlashResult{Depth: 12.01}, Leak: Band{0, 0.5, 2}, Mass: 0.5}},
	}
	text := inText(t, f.text)
	for _, want := range []string{
		"flash, an estimate.",
		"verdict fringe: a rim to cut off",
		"lost 0.1, 0.5, 2.4 g of the mix between the pieces (1 in 10 casts less, half less, 9 in 10 less); half is 1 % of the mix",
		"base/shells beware: rubber may get into the hub's opening, in 25 % of the draws; fit a softer or thicker seal\n there, or a register with less clearance",
		" why: dirt; nearest way out: ball pocket, 9.6 mm from the seam at x 35, y 38, z 0 mm\n",
		" do: leave it, it rubs off; or wipe it: tight, under 0.02 g\n --set a.b=c\n --set d=1mm\n or: wax it: tight, under 0.02 g\n --set e=f\n",
		"lid/hub why: waviness; nearest way out: hub opening",
		" do: nothing that was tried makes it a grade better: tape the joint",
		"measure gap of the closed joints with feeler gauges",
		"base/shells wiped 328 9.6, 22.9 10, 16, 30 0.01, 0.03, 0.07 0, 0, 0 may feather",
		"all 0.1, 0.5, 2.3 0, <0.01, 12 fringe",
		"10, 50, 90 %: so many of 500 draws",
		"dirt 5, 20\n",
		"clamps -1, 0\n",
		"all 15, 204 0, 0\n",
		"liquid 0.8 Pa·s when mixed, 10 times that after 20 min, gels at 40 min; 35 mN/m; mold at 23 °C",
		"head 50.5 mm of liquid",
		"stack hub 0.02 mm longer than its place, after heat and moisture; the bolts press up to 0.07 mm of that away: give it room (--set mold.stack.gap=0.08mm)\n",
		"-0.2 mm to 0.1 mm shorter with all tolerances against it, -0.1 mm to 0.05 mm by root sum of squares; negative: longer\n",
		"corners 1 where three pieces meet: channels along edges broken by 0.1 mm; the first is filled over 12 of 29 mm, stays in 0, 0, 0 g, gets out 0, 0.5, 2 g",
		"corners do: leave the edges sharp where three pieces meet, or fill them; the first of them loses 0.5 g (process.edge, 0.1 mm)",
	} {
		if !strings.Contains(closeUp(text), closeUp(want)) {
			t.Errorf("misses %q in\n%s", want, text)
		}
	}
}

// closeUp makes one space of many: how wide columns are is not tested here.
func closeUp(s string) string {
	for strings.Contains(s, "  ") {
		s = strings.ReplaceAll(s, "  ", " ")
	}
	return strings.ReplaceAll(s, " \n", "\n")
}

// The map has a character and a number for every cell.
func TestFlashMap(t *testing.T) {
	inf := math.Inf(1)
	m := flashMap(&flash.Map{
		Columns: 3, Rows: 2, Cell: 0.5,
		Face:     []bool{true, true, false, true, true, true},
		FromSeam: []float64{0.26, inf, inf, 1, 2.04, 3},
		Chance:   []float64{1, 0, 0, 0.951, 0.39, 0.1},
	})
	if got := strings.Join(m.Chance, "|"); got != "90.|931" {
		t.Errorf("chance %q", got)
	}
	if got := strings.Join(m.FromSeam, "|"); got != "0.3 - .|1.0 2.0 3.0" {
		t.Errorf("from seam %q", got)
	}
}

func TestSignificant(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.0004: "0", 0.0006: "<0.01", 0.0123: "0.01", 0.456: "0.46", 1.23: "1.2", 45.6: "46"} {
		if got := significant(v); got != want {
			t.Errorf("%g: %q, want %q", v, got, want)
		}
	}
}

// A long text is broken at its spaces, and nothing is lost.
func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text string
		want string
	}{
		{"short", "short"},
		{"one two three four five six", "one two three|    four five six"},
		{"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"},
	} {
		if got := strings.Join(wrap(c.text, 17), "|"); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}
