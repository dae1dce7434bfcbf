package service

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"wheelmold/hub"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// Three times the stress holds, once is near: at the very limits and just below.
func TestVerdictAtItsLimits(t *testing.T) {
	for factor, want := range map[float64]string{3: Holds, 2.9999: Near, 1: Near, 0.9999: NotOnIt} {
		if got := verdictOf(factor); got != want {
			t.Errorf("%g times: %q, want %q", factor, got, want)
		}
	}
}

// Flanges take their thickness off the bond at both ends of a hub that stands inside the
// rubber's width.
func TestBondLiesBetweenFlanges(t *testing.T) {
	w := moldtest.Wheel{Diameter: 110, Width: 40, Bore: 16, Process: "milled"}
	m := moldOf(t, w.Job(t, "hub.body_diameter=70mm", "hub.flange_diameter=78mm", "hub.flange_thickness=3mm"))
	b := bondOf(m)
	matches(t, "width", b.Width, m.Core.Length-6, 1e-9)
	if !b.Keys.Flanges {
		t.Error("flanges hold nothing along the axis")
	}
	// Past the rubber they take nothing off.
	m = moldOf(t, w.Job(t, "hub.body_diameter=70mm", "hub.length=44mm", "hub.offset=-2mm", "hub.flange_diameter=70mm", "hub.flange_thickness=0mm"))
	if m.Core.Z0 >= 0 {
		t.Fatalf("the hub begins at %g mm", m.Core.Z0)
	}
	matches(t, "width of a long hub", bondOf(m).Width, m.Tread.Width, 1e-12)
}

// Plugs of 5 mm on a body of 70 mm carry π·6.25·2.75·0.035 = 1.89 N·m each, and 21 of them
// stand as far apart as they are wide; of 1 mm it is 0.0756 N·m, and 48 are the most.
func TestLockHolesAtTheirLimits(t *testing.T) {
	for _, c := range []struct {
		hole, torque float64
		want         string
	}{
		{5, 39, "hub.lock_holes.count = 21 "}, {5, 41, ""}, {1, 3.6, "hub.lock_holes.count = 48 "}, {1, 3.7, ""},
	} {
		j := &params.Job{}
		j.Hub.LockHoles.Count, j.Hub.LockHoles.Diameter = 1, c.hole
		b := Bond{Radius: 35, Keys: Keys{Shear: 2.75e6}}
		if _, _, got := b.locks(j, c.torque); (got == "") != (c.want == "") || !strings.HasPrefix(got, c.want) {
			t.Errorf("%g N·m on holes of %g mm: %q, want %q", c.torque, c.hole, got, c.want)
		}
	}
}

// A wider body that is proposed builds with nothing else changed, has the reserve, and a
// millimeter less has not; the load that it is for is named. None is proposed that the
// wheel has no room for.
func TestWiderBodyIsEnough(t *testing.T) {
	w := moldtest.Wheel{Diameter: 200, Width: 60, Bore: 16, Process: "milled"}
	for _, more := range [][]string{nil, {"hub.flange_diameter=106mm", "hub.flange_thickness=4mm"}} {
		sets := append([]string{"hub.body_diameter=100mm", "hub.bond=0.05MPa", "duty.stall_torque=20Nm", "duty.mass=1kg", "pour.hardness=10"}, more...)
		b := bondOf(moldOf(t, w.Job(t, sets...)))
		body, flange, both := strings.Cut(strings.TrimPrefix(strings.Split(b.Change, ":")[0], "hub.body_diameter = "), " with hub.flange_diameter = ")
		if body == "" || both != (more != nil) || !strings.Contains(b.Change, `"drive stalled, tread held", 20 N·m: the bond is trusted with`) || !strings.Contains(b.Change, "wanted is 3") {
			t.Fatalf("%v: %q", more, b.Change)
		}
		with := append(sets[1:5:5], "hub.body_diameter="+body)
		if both {
			with = append(with, "hub.flange_diameter="+flange, "hub.flange_thickness=4mm")
		}
		if b := bondOf(moldOf(t, w.Job(t, with...))); b.Change != "" || b.Loads[0].Factor < Reserve || b.Loads[0].Factor > Reserve*1.05 {
			t.Errorf("with %s: factor %g, %q", body, b.Loads[0].Factor, b.Change)
		}
	}
	b := bondOf(moldOf(t, w.Job(t, "hub.body_diameter=100mm", "hub.bond=0.01MPa", "duty.stall_torque=200Nm", "pour.hardness=10")))
	if !strings.HasPrefix(b.Change, "neither lock holes nor a wider body") {
		t.Errorf("%q", b.Change)
	}
}

// A bolt circle on which a force F acts at a distance e from its center: each bolt takes F/n
// and, the farthest, Fe·r/Σy² with Σy² = n·r²/2 more. For F = 600 N, 6 bolts on r = 30 mm
// and e = 45 mm that is 100 + 600·45·30/2700 = 400 N, four times the even share.
func TestTiltingIsThatOfABoltCircle(t *testing.T) {
	const n, r, e, force = 6, 30.0, 45.0, 600.0
	sum := 0.0
	for i := range n {
		y := r * math.Cos(2*math.Pi*float64(i)/n)
		sum += y * y
	}
	matches(t, "farthest bolt", force/n+force*e*r/sum, 400, 1e-12)
	matches(t, "tilted", tilted(e, r), 4, 1e-12)
	// By the section modulus of a thin ring, πr²·w: M/(πr²w) beside F/(2πrw).
	const wide = 20.0
	matches(t, "ring", tilted(55, 35)*force/(2*math.Pi*35*wide), force/(2*math.Pi*35*wide)+force*55/(math.Pi*35*35*wide), 1e-12)
}

// A push at the tread that the bond does not stand is carried by flanges, and without them
// warned of if the job states how hard the hit is.
func TestHitFromTheSide(t *testing.T) {
	w := moldtest.Wheel{Diameter: 110, Width: 40, Bore: 16, Process: "milled"}
	sets := []string{"hub.body_diameter=70mm", "duty.mass=20kg", "duty.stall_torque=0Nm", "hub.bond=0.05MPa", "hub.groove=none"}
	side := func(more ...string) (*HubLoad, *BondLoad) {
		h := OfHub(moldOf(t, w.Job(t, append(sets[:5:5], more...)...)), 1, 1)
		return h, &h.Bond.Loads[3]
	}
	h, l := side()
	if l.Verdict != NotOnIt || !l.Assumed || len(h.Faults) > 0 || !h.Bond.LetsGo(l) {
		t.Errorf("assumed: %+v, %v", l, h.Faults)
	}
	h, l = side("duty.impact=9", "duty.friction=0.05")
	if l.Assumed || len(h.Faults) != 1 || h.Faults[0].Path != "hub.flange_diameter" {
		t.Errorf("stated: %+v, %v", l, h.Faults)
	}
	h, l = side("duty.impact=9", "duty.friction=0.05", "hub.flange_diameter=78mm", "hub.flange_thickness=3mm")
	if l.Verdict != Flanged || l.Factor >= 1 || len(h.Faults) > 0 {
		t.Errorf("with flanges: %+v, %v", l, h.Faults)
	}
	// Along the tread neither flanges nor grooves hold.
	h, _ = side("duty.impact=4", "hub.flange_diameter=78mm", "hub.flange_thickness=3mm")
	if len(h.Faults) != 1 || h.Faults[0].Path != "hub.lock_holes.count" || !strings.HasPrefix(h.Faults[0].Cause, "hit along the tread") {
		t.Errorf("along the tread: %+v, %v", h.Bond.Loads[2], h.Faults)
	}
}

// Where a process needs thicker walls than a bolt hole is wide, that counts; and the wall
// that is nearest to its own need comes first, not the thinnest.
func TestWallsByTheirNeed(t *testing.T) {
	m := &mold.Mold{Job: &params.Job{}, Core: &hub.Core{Length: 40, BodyR: 35, BoreR: 8, BoltCount: 4, BoltCircleR: 21, BoltR: 2.5}}
	for wall, want := range map[float64]float64{2: 5, 6: 6} {
		m.Job.Process.MinWall = wall
		for _, w := range wallsOf(m) {
			if strings.HasPrefix(w.Between, "bolt") && w.Needed != want {
				t.Errorf("%s to %s needs %g mm, want %g", w.Between, w.And, w.Needed, want)
			}
		}
	}
	// 35 - 30 = 5 mm from bore to body, of 1 needed; 14.5 mm between bolt holes, of 12.
	c := &hub.Core{Length: 40, BodyR: 35, BoreR: 30, BoltCount: 2, BoltCircleR: 13.25, BoltR: 6}
	m.Core, m.Job.Process.MinWall = c, 1
	walls := wallsOf(m)
	for i := 1; i < len(walls); i++ {
		if a, b := &walls[i-1], &walls[i]; a.Least/a.Needed > b.Least/b.Needed {
			t.Errorf("%+v before %+v", a, b)
		}
	}
}

// A lock hole of 8 mm, 6 deep below 35 mm: 32² + 6²/12 + 4²/4 by Steiner; and a slot across
// the tread by the difference to a wheel without.
func TestGyrationOfHolesAndSlots(t *testing.T) {
	if got := lockMean(&mold.Mold{Core: &hub.Core{BodyR: 35, LockDepth: 6, LockR: 4}}); got != 1031 {
		t.Errorf("lock hole: %g mm², want 1031", got)
	}
	w := moldtest.Wheel{Diameter: 110, Width: 40, Bore: 16, Process: "milled"}
	sets := []string{"wheel.edge=square", "wheel.crown=0mm"}
	plain := moldOf(t, w.Job(t, append(sets, "wheel.cross.count=0")...))
	slotted := moldOf(t, w.Job(t, append(sets[:2:2], "wheel.cross.count=12")...))
	p, s := rubberMoments(plain), rubberMoments(slotted)
	r, foot, wide := slotted.Tread.R, slotted.Tread.CrossFoot(), slotted.Tread.Cross.Width
	mean := (math.Pow(r, 3)-math.Pow(foot, 3))/(3*(r-foot)) + wide*wide/12
	matches(t, "slot", (p.second-s.second)/(p.volume-s.volume), mean, 1e-6)
}

// Rubber that rises under a coned ceiling is trimmed off: neither its volume nor its
// inertia counts.
func TestTrimmedRubberUnderACone(t *testing.T) {
	m := moldOf(t, moldtest.Wheel{Diameter: 110, Width: 40, Bore: 16, Process: "milled"}.Job(t, "mold.ceiling.shape=coned", "mold.ceiling.angle=5deg", "mold.top_allowance=2mm", "wheel.cross.count=0"))
	if m.Tread.Ceiling <= 0 || m.Tread.Top <= m.Tread.Width || m.TrimVolume() <= 0 {
		t.Fatal("no cone to trim")
	}
	matches(t, "volume", rubberMoments(m).volume, m.RubberVolume()-m.TrimVolume(), 1e-9)
}

// Plates stand 0.95 pitches over the pitch circle, and below the chain 0.76 mm stay free:
// 06C with 16 teeth by hand, 48.8235 + 9.04875 and 9.525·(cot 11.25° - 1) - 0.76. Six teeth
// are the fewest.
func TestSprocketBesideItsChain(t *testing.T) {
	c, _ := params.ChainOf("06C")
	s := wheelOn(c, 16)
	matches(t, "plates", s.Plates, 57.8723, 1e-6)
	matches(t, "below the chain", s.Hub, 37.60041, 1e-6)
	j := &params.Job{}
	j.Hub.Sprocket = params.Sprocket{Chain: "06C", Teeth: 6}
	if s, _ := sprocketOf(j); s == nil {
		t.Error("no sprocket of six teeth")
	}
	j.Hub.Sprocket.Teeth = 5
	if s, f := sprocketOf(j); s != nil || len(f) != 1 || f[0].Allowed != "at least 6" {
		t.Errorf("a sprocket of five teeth: %v", f)
	}
	j.Hub.Sprocket.Chain = "none"
	if s, f := sprocketOf(j); s != nil || len(f) > 0 {
		t.Errorf("without a chain: %v", f)
	}
}

// A contact is judged at 15 % of the thickness and a peak of 0.5556 of the modulus, no
// sooner and no later.
func TestLimitsOfATread(t *testing.T) {
	if MostShare != 0.15 || math.Abs(MostPeak-0.5/0.9) > 1e-12 {
		t.Errorf("limits of %g and %g, want 0.15 and 0.5556", MostShare, MostPeak)
	}
	tread := Tread{Radius: 55, Thickness: 20, Width: 24, Lugs: 1}
	for share, want := range map[float64]State{0.1499: Reckoned, 0.1501: BeyondSmall} {
		lo, hi := 1.0, 1e5 // N; the load that presses the tread in so far
		for range 60 {
			load := math.Sqrt(lo * hi)
			if p, err := layers[0].press(load/24, 55, 20, gent(60)); err != nil || p.deflection > share*20 {
				hi = load
			} else {
				lo = load
			}
		}
		if c := tread.contact(lo, Modulus(60)); c.State != want {
			t.Errorf("%g of the thickness: %s, want %s", share, c.State, want)
		}
	}
	for peak, want := range map[float64]bool{0.555: false, 0.556: true} {
		if got := overloaded(&Contact{State: Reckoned, Soft: Soft{Peak: peak * 1e6}}, 1e6); got != want {
			t.Errorf("a peak of %g of the modulus is too much: %v", peak, got)
		}
	}
}

// Limits hold at the soft end of the modulus: a load that only there goes beyond small
// strain is reckoned, marked, and warned of at rest.
func TestLimitsAtTheSoftEnd(t *testing.T) {
	tread := Tread{Radius: 55, Thickness: 20, Width: 24, Lugs: 1}
	for _, c := range []struct {
		band  Band
		state State
		over  bool
	}{{Band{3e6, 3e6, 4e6}, Reckoned, false}, {Band{1e6, 3e6, 4e6}, Reckoned, true}, {Band{1e6, 1e6, 4e6}, BeyondSmall, true}} {
		x := tread.contact(500, c.band)
		if x.State != c.state || overloaded(&x, c.band.Low) != c.over || c.state == Reckoned && x.Soft.Small() == c.over {
			t.Errorf("%+v: %+v, overloaded %v", c.band, x, overloaded(&x, c.band.Low))
		}
	}
	for share, want := range map[float64]bool{MostShare: false, MostShare + 1e-9: true, math.Inf(1): true} {
		if got := overloaded(&Contact{State: Reckoned, Soft: Soft{Share: share}}, 1e6); got != want {
			t.Errorf("%g of the thickness at the soft end is too much: %v", share, got)
		}
	}
	soft := tread.soft(500/24.0, 1e6)
	want, err := layers[0].press(500/24.0, 55, 20, 1e6)
	if err != nil || soft.Peak != want.peak || soft.Share != want.deflection/20 {
		t.Errorf("%+v, want %+v: %v", soft, want, err)
	}
}

// A hardness that is told for a load beyond small strain brings it in range, and 5 Shore A
// less does not.
func TestHardnessForAHit(t *testing.T) {
	for _, shore := range []string{"10", "20", "30"} {
		hit := treadLoad(t, moldtest.Example(t, "kestrel", "pour.hardness="+shore, "duty.impact=12")).Hit
		if hit.State != BeyondSmall || hit.From < 30 {
			t.Fatalf("%s A: %+v", shore, hit)
		}
		at := func(s float64) *Contact {
			return &treadLoad(t, moldtest.Example(t, "kestrel", "pour.hardness="+strconv.FormatFloat(s, 'f', -1, 64), "duty.impact=12")).Hit
		}
		if in, under := at(hit.From), at(hit.From-5); in.State != Reckoned || !in.Soft.Small() || under.State == Reckoned && under.Soft.Small() {
			t.Errorf("%g A: %+v; below %+v", hit.From, in, under)
		}
	}
}

// The larger of crown and draft is told: a draft of 2° across 40 mm is 1.397 mm.
func TestLeanIsTheLarger(t *testing.T) {
	j := &params.Job{Wheel: params.Wheel{Diameter: 110, Width: 40, Crown: 1}}
	for draft, want := range map[float64]float64{0: 1, 2: 40 * math.Tan(math.Pi/90)} {
		j.Wheel.Draft = draft
		matches(t, "lean", treadOf(j).Lean, want, 1e-12)
	}
}

// A tread of which lugs take half has to be wider by twice as much, and rubber is proposed
// no thicker than four fifths of the radius.
func TestProposalsWithinReason(t *testing.T) {
	l := treadLoad(t, moldtest.Example(t, "kestrel", "duty.mass=260kg", "duty.share=50%"))
	// Half the way around is lugs, so that the width grows by twice what has to carry more.
	half := *l
	half.Lugs = 0.5
	half.Tread.Width = 2*l.Carries() + l.Grooves + l.Edges
	if a, b := l.widerBy(t), half.widerBy(t); a < 3 || math.Abs(b-2*a) > 2 {
		t.Errorf("wider by %g mm, with half of it lugs by %g", a, b)
	}
	thick := *l
	thick.Radius, thick.Thickness = 30, 20
	if way := thick.change("pour.hardness"); strings.Contains(way, "hub.body_diameter = 0") || strings.Contains(way, "hub.body_diameter = -") {
		t.Errorf("rubber that leaves no hub: %q", way)
	}
}

// widerBy is the width in mm that a proposal adds.
func (l *TreadLoad) widerBy(t *testing.T) float64 {
	t.Helper()
	_, after, ok := strings.Cut(l.change("pour.hardness"), "wheel.width = ")
	if !ok {
		t.Fatalf("no width in %q", l.change("pour.hardness"))
	}
	value, _, _ := strings.Cut(after, " mm")
	q, fault := params.Measure(params.Length, "wheel.width", value+" mm", 0, 1e4)
	if fault != nil {
		t.Fatal(fault)
	}
	return q - l.Width
}
