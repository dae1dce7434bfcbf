package service

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/hub"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

func matches(t *testing.T, name string, got, want, relative float64) {
	t.Helper()
	if math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s: %.8g, want %.8g", name, got, want)
	}
}

func moldOf(t *testing.T, j *params.Job) *mold.Mold {
	t.Helper()
	m, err := mold.New(j)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Published: 5 N·m on R 20 mm, 20 mm wide, shear by 0.09947 MPa.
func TestTorqueShear(t *testing.T) {
	matches(t, "shear", torqueShear(5, 20, 2*math.Pi*20*20), 0.09947e6, 1e-4)
}

// A wheel whose every load has a plain closed form.
func TestBondOfAPlainWheel(t *testing.T) {
	w := moldtest.Wheel{Diameter: 110, Width: 40, Bore: 16, Process: "milled"}
	j := w.Job(t, "hub.body_diameter=70mm", "duty.mass=10kg", "duty.share=50%", "duty.friction=0.8", "duty.impact=4", "duty.stall_torque=6Nm",
		"hub.lock_holes.count=6", "hub.lock_holes.diameter=5mm", "hub.lock_holes.depth=5mm", "pour.hardness=70")
	b := OfHub(moldOf(t, j), 100, 100).Bond
	load := 5 * 9.80665
	area := 2*math.Pi*35*b.Width - 6*math.Pi*2.5*2.5
	matches(t, "width", b.Width, 40, 0.02) // less what the seal's gap takes
	matches(t, "slip", b.Slip, 0.8*load*0.055, 1e-12)
	matches(t, "area", b.Area, area, 1e-9)
	for i, want := range []float64{6e9 / (35 * area), b.Slip * 1e9 / (35 * area), 4 * b.Slip * 1e9 / (35 * area), (1 + 110.0/35) * 4 * load / area * 1e6} {
		matches(t, b.Loads[i].Name, b.Loads[i].Shear, want, 1e-9)
		matches(t, "factor", b.Loads[i].Factor, 0.3e6/want, 1e-9)
	}
	matches(t, "pushed evenly", b.Loads[3].Even, 4*load/area*1e6, 1e-9)
	matches(t, "tensile of 70 A", b.Keys.Tensile, 5.5e6, 1e-12)
	matches(t, "lock holes", b.Keys.Locks, 6*math.Pi*6.25*2.75*0.035, 1e-12)
	g := j.Hub.Grooves[0]
	matches(t, "grooves", b.Keys.Grooves, 2*math.Pi*35*g.Width*2.75/(1+110.0/35), 1e-9)
	if b.Keys.Flanges || b.Change != "" {
		t.Errorf("%+v", b)
	}
}

// More torque, a smaller body or a weaker bond never make the bond's verdict better, and
// lock holes that are proposed carry the load once they are there.
func TestBondAsksForLockHoles(t *testing.T) {
	w := moldtest.Wheels[2]
	last := math.Inf(1)
	for _, torque := range []string{"50Nm", "200Nm", "300Nm"} {
		b := OfHub(moldOf(t, w.Job(t, "duty.stall_torque="+torque)), 1, 1).Bond
		if f := b.Loads[0].Factor; f >= last {
			t.Errorf("%s: factor %g after %g", torque, f, last)
		} else {
			last = f
		}
	}
	h := OfHub(moldOf(t, w.Job(t, "hub.bond=0.01MPa", "duty.rpm=100", "duty.stall_torque=60Nm", "duty.impact=1")), 1, 1)
	if len(h.Faults) != 1 || h.Faults[0].Path != "hub.lock_holes.count" || h.Bond.Loads[0].Verdict != NotOnIt || h.Bond.Loads[0].KeysHold != 0 {
		t.Fatalf("%+v", h)
	}
	var count, diameter string
	f := strings.Fields(h.Bond.Change)
	count, diameter = f[2], f[5]+strings.TrimSuffix(f[6], "):")
	d := "hub.lock_holes.diameter=" + diameter
	with := OfHub(moldOf(t, w.Job(t, "hub.bond=0.01MPa", "duty.rpm=100", "duty.stall_torque=60Nm", "duty.impact=1", "hub.lock_holes.count="+count, d)), 1, 1)
	if with.Bond.Loads[0].KeysHold < 1 || len(with.Faults) > 0 || with.Bond.Change != "" {
		t.Errorf("with %s: %+v", h.Bond.Change, with.Bond)
	}
	h = OfHub(moldOf(t, w.Job(t, "hub.bond=0.01MPa", "duty.rpm=100", "duty.stall_torque=3000Nm")), 1, 1)
	if len(h.Faults) != 1 || h.Faults[0].Path != "hub.body_diameter" {
		t.Errorf("%+v", h.Faults)
	}
}

// Lock holes do not help against a hit from the side: none are proposed.
func TestHitFromTheSideAsksForNoLockHoles(t *testing.T) {
	j := moldtest.Wheels[1].Job(t, "duty.friction=0.05", "duty.stall_torque=0Nm", "duty.impact=1000", "duty.mass=5kg", "hub.bond=2MPa")
	b := OfHub(moldOf(t, j), 1, 1).Bond
	if w := b.Loads[3]; w.Factor >= 1 || b.Change != "" {
		t.Errorf("%+v, %q", w, b.Change)
	}
}

func TestCautiousTensile(t *testing.T) {
	for _, c := range [][2]float64{{0, 0}, {10, 2.0 / 3}, {30, 2}, {45, 3}, {60, 4}, {70, 5.5}, {80, 7}, {85, 11}, {95, 15}} {
		matches(t, "tensile", cautiousTensile(c[0]), c[1]*1e6, 1e-12)
	}
}

// A plain job is not warned.
func TestPlainWheelsHold(t *testing.T) {
	for _, w := range moldtest.Wheels {
		if h := OfHub(moldOf(t, w.Job(t)), 1, 1); len(h.Faults) > 0 {
			t.Errorf("%s: %v", w, h.Faults)
		}
	}
	for _, name := range []string{"albatross", "kestrel", "wren"} {
		h := OfHub(moldOf(t, moldtest.Example(t, name)), 1, 1)
		if len(h.Faults) > 0 {
			t.Errorf("%s: %v", name, h.Faults)
		}
	}
}

// Walls of a hub drawn on paper.
func TestWalls(t *testing.T) {
	c := &hub.Core{
		Length: 40, BodyR: 35, FlangeR: 35, BoreR: 8,
		Lower: hub.End{PocketR: 11, PocketD: 12}, Upper: hub.End{SeatR: 24, SeatD: 3, PocketR: 11, PocketD: 10},
		Grooves:   []hub.Groove{{From: 20, Width: 6, Depth: 4}, {HalfRound: true, From: 32, Width: 8, Depth: 4}},
		BoltCount: 6, BoltCircleR: 18, BoltR: 3, LockCount: 6, LockR: 2, LockDepth: 5, LockFrom: 8,
	}
	m := &mold.Mold{Job: &params.Job{}, Core: c}
	m.Job.Process.MinWall = 1.5
	for _, faceUp := range []string{"front", "back"} {
		m.Job.Mold.FaceUp = faceUp
		lower, upper := "back", "front"
		if faceUp == "back" {
			lower, upper = upper, lower
		}
		want := map[string]float64{
			"bearing pocket, " + lower + "|bearing pocket, " + upper: 15,
			"bore|groove 1 from below":                               31 - 8,
			"bearing pocket, " + lower + "|body":                     0, // checked below
			"seat|body":                                              0,
			"lock holes|bore":                                        30 - 8,
			"lock holes|bearing pocket, " + lower:                    30 - 11,
			"lock holes|each other":                                  2 * (30*math.Sin(math.Pi/6) - 2*math.Cos(math.Pi/6)),
			"lock holes|bolt holes":                                  0,
			"bolt holes|bore":                                        15 - 8,
			"bolt holes|bearing pocket, " + upper:                    15 - 11,
			"bolt heads|the seat's wall":                             24 - 18 - 4.25, // M5
			"bolt holes|groove 1 from below":                         31 - 21,
			"bolt holes|each other":                                  2*18*math.Sin(math.Pi/6) - 6,
		}
		// The pocket of depth 12 ends 5 below the square groove; the half-round one's
		// middle lies on the body's surface, five below the seat's edge.
		want["bearing pocket, "+lower+"|groove 1 from below"] = math.Hypot(31-11, 5)
		delete(want, "bearing pocket, "+lower+"|body")
		want["seat|groove 2 from below"] = math.Hypot(35-24, 37-32) - 4
		delete(want, "seat|body")
		// A bolt hole half a pitch off: 18 cos 30° along, 9 - 2 across.
		want["lock holes|bolt holes"] = math.Hypot(30-18*math.Cos(math.Pi/6), 18*.5-2) - 3
		got := map[string]Wall{}
		for _, w := range wallsOf(m) {
			got[w.Between+"|"+w.And] = w
		}
		for k, v := range want {
			w, ok := got[k]
			if !ok {
				t.Errorf("no wall %s", k)
				continue
			}
			matches(t, k, w.Least, v, 1e-9)
			if strings.HasPrefix(k, "bolt holes") != (w.Needed == 6) {
				t.Errorf("%s needs %g", k, w.Needed)
			}
		}
		if w := wallsOf(m)[0]; w.Between != "bolt holes" || !strings.HasPrefix(w.And, "bearing pocket") || !w.Short() {
			t.Errorf("worst %+v", w)
		}
	}
}

// Computed: nylon on steel, 22 mm, 30 K lose 0.0455 mm; R7 there gives 41 µm at most and
// 20 µm at least (ISO 286-2) on a ring of nominal size, which may be 9 µm smaller (ISO 492).
func TestBearing(t *testing.T) {
	matches(t, "loss", lossByHeat(81e-6, 22, 30), 0.0455, 1e-3)
	j := &params.Job{}
	j.Hub = params.Hub{Material: "nylon", BearingFit: "R7", BearingBack: params.Pocket{Diameter: 22, Depth: 7}}
	b := bearingsOf(j)
	if len(b) != 1 || b[0].Face != "back" || math.Abs(b[0].Most-0.041) > 1e-9 || math.Abs(b[0].Least-0.011) > 1e-9 || !b[0].Loose() || !b[0].MayBeLoose() {
		t.Fatalf("%+v", b)
	}
	least, most := b[0].Left()
	matches(t, "most left", most, 0.041-0.04554, 1e-6)
	matches(t, "least left", least, 0.011-0.04554, 1e-6)
	j.Hub.BearingFit = "H7"
	if b := bearingsOf(j); b[0].Most != 0 || math.Abs(b[0].Least+0.030) > 1e-9 || !b[0].Loose() {
		t.Errorf("H7 holds: %+v", b)
	}
	// 12 mm: R7 gives 34 to 16 µm less 8; a rise takes 21 µm of a print's, of which the
	// least does not have so many.
	j.Hub.BearingFit, j.Hub.BearingBack.Diameter, j.Hub.Material = "R7", 12, "printed"
	if b := bearingsOf(j)[0]; b.Loose() || !b.MayBeLoose() || math.Abs(b.Least-0.008) > 1e-9 {
		t.Errorf("R7 on a small print: %+v", b)
	}
	if b := (Bearing{Known: true, Most: .05, Least: .03, Lost: .02}); b.Loose() || b.MayBeLoose() {
		t.Errorf("held: %+v", b)
	}
}

func chainOf(t *testing.T, name string) params.Chain {
	t.Helper()
	c, ok := params.ChainOf(name)
	if !ok {
		t.Fatalf("no chain %s", name)
	}
	return c
}

// Published and computed pitch circles, outsides and roots.
func TestSprocketGeometry(t *testing.T) {
	for _, c := range []struct {
		chain           string
		teeth           int
		circle, od, dfr float64
	}{
		{"04C", 12, 24.5345, 27.509, 21.235}, {"06C", 16, 48.8235, 53.600, 43.744}, {"06C", 24, 72.9739, 78.065, 67.894},
		{"08A", 20, 81.1842, 87.805, 73.264}, {"08A", 32, 129.5692, 136.565, 121.649},
	} {
		s := wheelOn(chainOf(t, c.chain), c.teeth)
		matches(t, "circle", s.Circle, c.circle, 1e-5)
		matches(t, "outside", s.Outside, c.od, 2e-5)
		matches(t, "root", s.Root, c.dfr, 3e-5)
	}
	// Published for a pitch of 25.4: twice 08A's.
	for teeth, want := range map[int]float64{8: 66.37, 10: 82.20, 20: 162.37, 37: 299.51} {
		matches(t, "circle", 2*wheelOn(chainOf(t, "08A"), teeth).Circle, want, 1e-4)
	}
}

// The teeth that a warning allows are enough, and one fewer is not; likewise under the
// floor.
func TestSprocketWarns(t *testing.T) {
	j := &params.Job{Wheel: params.Wheel{Diameter: 110}}
	j.Hub.Bolts = params.BoltCircle{Count: 6, Circle: 50, Hole: 5.5}
	j.Hub.Seat = params.Seat{Side: "none", Diameter: 0}
	j.Hub.Sprocket = params.Sprocket{Chain: "06C", Teeth: 16}
	s, f := sprocketOf(j)
	if s.Screw != "M5" || s.Heads != 58.5 {
		t.Fatalf("%+v", s)
	}
	// p(cot(180°/N) - 1) - 0.76 >= 58.5: cot >= 7.22, N >= 22.86.
	if len(f) != 1 || f[0].Allowed != "at least 23" || f[0].Path != "hub.sprocket.teeth" {
		t.Errorf("%v", f)
	}
	j.Hub.Sprocket.Teeth = 23
	if _, f := sprocketOf(j); len(f) > 0 {
		t.Errorf("%v", f)
	}
	// 9.525/sin(180°/N) + 0.95·9.525 < 110: N <= 33.
	j.Hub.Sprocket.Teeth = 40
	if _, f := sprocketOf(j); len(f) != 1 || f[0].Allowed != "up to 33" {
		t.Errorf("%v", f)
	}
	j.Hub.Bolts.Count, j.Hub.Seat, j.Hub.Sprocket.Teeth = 0, params.Seat{Side: "front", Diameter: 50, Depth: 2}, 16
	if _, f := sprocketOf(j); len(f) != 1 || f[0].Allowed != "at least 19" { // 9.525/sin(180°/N) - 5.08 >= 50
		t.Errorf("%v", f)
	}
	j.Hub.Sprocket.Chain = "none"
	if s, _ := sprocketOf(j); s != nil {
		t.Error("a sprocket without a chain")
	}
}

// Solids whose gyration handbooks give: annulus (R1²+R2²)/2, sphere 2R²/5, torus
// R² + 3r²/4.
func TestGyration(t *testing.T) {
	matches(t, "annulus", gyration(revolved(solid.Poly(8, 0, 35, 0, 35, 40, 8, 40))), (64+1225)/2.0, 1e-12)
	matches(t, "cone", gyration(revolved(solid.Poly(0, 0, 10, 0, 0, 7))), 30, 1e-12) // 3R²/10
	ball := solid.Profile{}.LineTo(0, -10).ArcTo(0, 10, 0, 0, true)
	matches(t, "sphere", gyration(revolved(ball)), 40, 1e-12)
	matches(t, "torus", gyration(revolved(solid.Circle(20, 0, 6))), 400+27, 1e-12)
}

// A wheel of plain rings, with and without what is drilled or cut: every hole is taken
// out of one and, if rubber fills it, added to the other.
func TestMotion(t *testing.T) {
	w := moldtest.Wheel{Diameter: 110, Width: 40, Bore: 16, Process: "milled"}
	sets := []string{"hub.body_diameter=70mm", "wheel.edge=square", "wheel.crown=0mm", "hub.groove=none", "hub.bolts.count=0", "hub.flange_diameter=70mm", "duty.rpm=1200"}
	m := moldOf(t, w.Job(t, sets...))
	x := motionOf(m, 150, 250)
	ro := m.Tread.R
	matches(t, "hub", x.Hub, 0.150*(64+1225)/2e6, 1e-6)
	matches(t, "rubber", x.Rubber, 0.250*(ro*ro+1225)/2e6, 1e-6)
	matches(t, "speed", x.Speed, 1200/60.0*math.Pi*0.110, 1e-12)
	matches(t, "energy", x.Energy, x.Inertia*math.Pow(40*math.Pi, 2)/2, 1e-12)
	matches(t, "hoop", x.Hoop, m.Job.Pour.Density*1000*x.Speed*x.Speed, 1e-12)

	drilled := moldOf(t, w.Job(t, append(sets[:4:4], "hub.bolts.count=6", "hub.bolts.circle=44mm", "hub.bolts.hole=5.5mm", "hub.lock_holes.count=5", "wheel.cross.count=12")...))
	h, r := hubMoments(drilled), rubberMoments(drilled)
	matches(t, "hub's volume", h.volume, drilled.Core.Volume(), 1e-9)
	matches(t, "rubber's volume", r.volume, drilled.RubberVolume()-drilled.TrimVolume(), 1e-9)
	plain := hubMoments(m)
	locks := 5 * drilled.Core.LockVolume() * lockMean(drilled)
	bolts := 6 * math.Pi * 2.75 * 2.75 * drilled.Core.Length * (22*22 + 2.75*2.75/2)
	matches(t, "hub's second moment", h.second, plain.second-locks-bolts, 1e-6)
	// What twelve slots take away, less what the plugs add, by a slot's plain box.
	slots := rubberMoments(m).second + locks - r.second
	d, wide := drilled.Tread.R-drilled.Tread.CrossFoot(), drilled.Tread.Cross.Width
	mid := drilled.Tread.R - d/2
	matches(t, "slots", slots, 12*d*wide*drilled.Tread.Width*(mid*mid+d*d/12+wide*wide/12), 0.25)
	if m2 := lockMean(drilled); m2 >= 35*35 || m2 <= 25*25 {
		t.Errorf("lock holes' mean square radius %g", m2)
	}
}

// A wheel whose rubber pulls harder than its bond is trusted with is warned of, with the
// revolutions at which it just does not: the pull goes with their square.
func TestSpinIsWarnedOf(t *testing.T) {
	wheel := func(rpm string) *HubLoad {
		return OfHub(moldOf(t, moldtest.Example(t, "kestrel", "duty.rpm="+rpm)), 140, 235)
	}
	slow, fast := wheel("4000"), wheel("12000")
	matches(t, "pull", fast.Motion.Pull/slow.Motion.Pull, 9, 1e-9)
	if len(slow.Faults) > 0 || slow.Motion.Factor < 1 {
		t.Errorf("at 4000: %v", slow.Faults)
	}
	if len(fast.Faults) != 1 || fast.Faults[0].Path != "duty.rpm" || !strings.Contains(fast.Faults[0].Cause, "fly off") {
		t.Fatalf("at 12000: %v", fast.Faults)
	}
	var most float64
	if _, err := fmt.Sscanf(fast.Faults[0].Hint, "at most %g", &most); err != nil {
		t.Fatal(fast.Faults[0].Hint)
	}
	if limit := 12000 * math.Sqrt(fast.Motion.Factor); most > limit || most < 0.9*limit {
		t.Errorf("at most %g told, the bond is trusted with up to %g", most, limit)
	}
	if f := wheel(fmt.Sprint(most)).Faults; len(f) > 0 {
		t.Errorf("at the revolutions that were told: %v", f)
	}
}

// A thin ring is pulled by ρv²·t/R, as its hoop stress ρv² holds it (pressure vessel);
// a solid of 1 m, 1 kg/m³ and 1 rad/s from 0.5 m on by 7/12 Pa.
func TestRimPull(t *testing.T) {
	matches(t, "thin", rimPull(1050, 100, 0.1001, 0.1), 1050*math.Pow(100*0.1, 2)*0.0001/0.1, 2e-3)
	matches(t, "thick", rimPull(1, 1, 1, 0.5), 7.0/12, 1e-12)
}
