package release

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// Everything that may hold a piece counts at once.
func TestHoldsIsTheSum(t *testing.T) {
	if got := (&Push{Suction: 1, HubSucks: 2, Grip: 4, PeelLow: 100, PeelHigh: 8}).Holds(); got != 15 {
		t.Errorf("%g N, want 15", got)
	}
}

// Jack screws go into plates that are whole and between two shells; not into an open top's
// strap nor between three shells.
func TestWhatJacksMayPush(t *testing.T) {
	for split, want := range map[string]map[string]bool{
		"four-piece":   {"lid": true, "base": true, "shell-a": true},
		"three shells": {"lid": true, "base": true, "shell-a": false},
		"open top":     {"base": true, "shell-a": true},
	} {
		m := ring(t, 280, 100, moldtest.SplitOf(t, split).Sets...)
		o := forces(t, m)
		for name, may := range want {
			if p := o.of(t, name); p.Jackable != may {
				t.Errorf("%s, %s: jackable %v", split, name, p.Jackable)
			}
		}
		if m.Layout.OpenTop() && o.of(t, m.Layout.Above).Jackable {
			t.Errorf("jack screws in the %s of an open top", m.Layout.Above)
		}
	}
}

// A register grips the opening of its own end: Lamé's pressure on the circumference, by its
// engagement less the lead-in, at a friction of 0.3.
func TestGripOfEachOpening(t *testing.T) {
	j := &params.Job{}
	j.Process.Modulus, j.Mold.FaceUp = 68.9e9, "front"
	j.Mold.RegisterFront = params.Register{Opening: "bearing", Clearance: -.02, Engagement: 6, LeadIn: .5}
	j.Mold.RegisterBack = params.Register{Opening: "seat", Clearance: -.02, Engagement: 3}
	at := judge{&mold.Mold{Job: j, Core: &hub.Core{BodyR: 30, BoreR: 8,
		Lower: hub.End{PocketR: 12, PocketD: 8, SeatR: 18, SeatD: 3}, Upper: hub.End{PocketR: 14, PocketD: 8, SeatR: 20, SeatD: 3}}}}
	near(t, "pocket above", at.grip(true), .3*pressed(.02, 28, 60, 3e9, 68.9e9)*math.Pi*28*5.5*1e-6, 1e-9)
	near(t, "seat below", at.grip(false), .3*pressed(.02, 36, 60, 3e9, 68.9e9)*math.Pi*36*3*1e-6, 1e-9)
}

// On a face that stands any tip, an M8 of 8.8 pushes with three quarters of its proof load
// of 21200 N (ISO 898-1), and turns at frictions of 0.12, 0.15 and 0.20.
func TestJackStandsItsShareOfTheProof(t *testing.T) {
	m := ring(t, 280, 100)
	m.Job.Process.Bearing = 1e9
	k := forces(t, m).of(t, "lid").Jacks
	near(t, "at most", k.Most, 15900, 1e-9)
	f, _ := params.FastenerOf("M8")
	for i, mu := range []float64{.12, .15, .20} {
		near(t, "torque", k.Torque[i], screwTorque(f, k.Each, mu, 2), 1e-12)
	}
}

// A level jack screw parts the line on its own side, where that line's slots are too.
func TestLevelJacksPartTheirOwnLine(t *testing.T) {
	m := ring(t, 280, 100)
	j, level := judge{m}, 0
	for i := range m.Layout.Jacks {
		k := &m.Layout.Jacks[i]
		if k.Dir[2] != 0 {
			continue
		}
		for s := range m.Layout.Slots {
			slot := &m.Layout.Slots[s]
			if !slices.Contains(m.Layout.SideLines(), slot.Line) {
				continue
			}
			level++
			at := slot.Middle()
			if same := at[0]*k.At[0]+at[1]*k.At[1] > 0; j.pushes(k, slot.Line) != same {
				t.Errorf("%s at %v pushes %s apart, whose slot lies at %v: %v", k.Name, k.At, slot.Line, at, !same)
			}
		}
	}
	if level == 0 {
		t.Error("no level jack screws beside slots")
	}
}

// The weakest slot counts for one bar and for the hand, wherever it stands in the list; and
// a pair that is off by more than some 6 degrees tilts its plate.
func TestWeakestSlotAndItsPlace(t *testing.T) {
	if got := (&Pry{perSlot: []float64{3, 1, 2}}).Each(); got != 1 {
		t.Errorf("one bar gives %g, want 1", got)
	}
	m := ring(t, 280, 100)
	l := m.Layout
	all := slices.Clone(l.Slots)
	whole := judge{m}.pry(l.LineTop(), true, 1)
	for i := range all {
		if all[i].Line != l.LineTop() {
			continue
		}
		l.Slots = slices.Clone(all)
		s := &l.Slots[i]
		out, _ := s.Outward()
		across := 3 - out - s.Normal
		s.Hi[across] = (s.Lo[across] + s.Hi[across]) / 2
		near(t, "crush with "+s.Name+" half as wide", judge{m}.pry(l.LineTop(), true, 1).Crush, whole.Crush/2, 1e-12)
		for turn, placed := range map[float64]bool{10: true, 20: false} {
			l.Slots = slices.Clone(all)
			l.Slots[i].Turned += turn
			if got := (judge{m}).pry(l.LineTop(), true, 1).Placed; got != placed {
				t.Errorf("%s turned by %g degrees: well placed %v", all[i].Name, turn, got)
			}
		}
	}
}

// Jack screws are advised where none is asked for, not where one found no room.
func TestAdviceOfJackScrews(t *testing.T) {
	for size, advised := range map[string]bool{"none": true, "M8": false} {
		p := Push{Jackable: true, Suction: 1e4, Jacks: Jacking{Size: size}, Bars: []Pry{{Slots: 1, perSlot: []float64{5}}}}
		if got := strings.Contains(p.remedy(&params.Job{}), "mold.jacks.size"); got != advised {
			t.Errorf("%s: advised %v", size, got)
		}
		o := &Opening{job: &params.Job{}, Pieces: []Push{{Jackable: true, Jacks: Jacking{Size: size}, Bars: []Pry{{Line: "x"}}}}}
		if f := o.Warnings(); len(f) != 1 || strings.Contains(f[0].Hint, "mold.jacks.size") != advised {
			t.Errorf("%s: %v", size, f)
		}
	}
}

// Clam halves meet on two sides under one name: both need a slot.
func TestClamNeedsASlotOnEitherSide(t *testing.T) {
	m := ring(t, 100, 60, moldtest.SplitOf(t, "clam").Sets...)
	all := m.Layout.Slots
	if len(all) < 2 || len(forces(t, m).Warnings()) > 0 {
		t.Fatalf("%d slots, %v", len(all), forces(t, m).Warnings())
	}
	for i := range all {
		m.Layout.Slots = slices.Delete(slices.Clone(all), i, i+1)
		if f := forces(t, m).Warnings(); len(f) != 1 || !strings.Contains(f[0].Cause, "no pry slot on one of its sides") {
			t.Errorf("without %s: %v", all[i].Name, f)
		}
	}
}

// A shell peels along all of the rubber that it covers, what stands above the wheel included.
func TestShellPeelsAlongItsHeight(t *testing.T) {
	m := ring(t, 100, 60, moldtest.SplitOf(t, "open top").Sets...)
	if m.Tread.Top <= m.Tread.Width {
		t.Fatal("nothing stands above the wheel")
	}
	near(t, "peel line", forces(t, m).of(t, "shell-a").Front, m.Tread.Top, 1e-12)
}

// What is below half a newton is not told; what is above is.
func TestWordsLeaveOutNextToNothing(t *testing.T) {
	j := &params.Job{}
	for n, want := range map[float64]string{.4: "next to nothing", .6: "register up to 0.6 N"} {
		if got := (&Push{Grip: n}).words(j); !strings.Contains(got, want) {
			t.Errorf("%g N: %s", n, got)
		}
	}
	p := &Push{Bars: []Pry{{Slots: 1, perSlot: []float64{5}, Hand: 50}, {Slots: 1, perSlot: []float64{3}, Hand: 50}}}
	for range 2 {
		if got := p.bars(j); !strings.Contains(got, "2 slots, 3.0 N each") {
			t.Error(got)
		}
		slices.Reverse(p.Bars)
	}
}

// Bars that do not even peel and draw the register are warned of, unless jack screws do it;
// screws that cannot are no help.
func TestWarnsOfBarsThatDoNotPeel(t *testing.T) {
	for _, c := range []struct {
		bar    float64
		screws int
		most   float64
		want   int
	}{{50, 0, 0, 1}, {60, 0, 0, 0}, {50, 2, 60, 0}, {50, 2, 50, 1}} {
		o := &Opening{job: &params.Job{}, Pieces: []Push{{Name: "lid", PeelHigh: 10, Grip: 100, Suction: 1e4, Jacks: Jacking{Screws: c.screws, Most: c.most},
			Bars: []Pry{{Line: "lid/shells", Slots: 2, Placed: true, perSlot: []float64{c.bar, c.bar}}}}}}
		if f := o.Warnings(); len(f) != c.want {
			t.Errorf("two bars of %g N, %d screws: %v", c.bar, c.screws, f)
		}
	}
}

// Locks are told from the one that is met first, and at once without a distance.
func TestLocksInTheirOrder(t *testing.T) {
	for travel, want := range map[float64]string{0: "a is caught by b", touching / 2: "a is caught by b", 2: "a is caught by b after " + mm(2)} {
		if got := (&Lock{Of: "a", By: "b", Travel: travel}).String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	m := flanged(t)
	for shell, top := range map[string]float64{"shell-a": 30, "shell-b": 28} {
		reshape(t, m, shell, func(n *solid.Node) *solid.Node { return solid.Minus(n, washer("shoulder", "", 54, 59, 15, top)) })
	}
	reshape(t, m, "lid", with(washer("register of lid", mold.RoleRegister, 55, 58, 20, 25)))
	at := map[string]int{} // counted from 1
	locks := sweptOf(t, m)
	for i, l := range locks {
		at[l.By] = i + 1
		if i > 0 && l.Travel < locks[i-1].Travel {
			t.Errorf("%v before %v", &locks[i-1], &l)
		}
	}
	if b, a := at["shell B"], at["shell A"]; b == 0 || a <= b || math.Abs(locks[b-1].Travel-3) > 1e-6 || math.Abs(locks[a-1].Travel-5) > 1e-6 {
		t.Errorf("%+v, want shell B after 3 mm, then shell A after 5", locks)
	}
}

// A wedge all around that is highest at its inner or at its outer edge meets the flange
// there: 2.5 mm below it, within what a line stands off the edge.
func TestWedgeMeetsAtItsEdge(t *testing.T) {
	for _, p := range []solid.Profile{solid.Poly(31, 30, 34, 30, 34, 33.5), solid.Poly(31, 30, 34, 30, 31, 33.5)} {
		m := flanged(t)
		f := solid.AxisFrame(mesh.Vec{}, mesh.Vec{0, 0, 1})
		reshape(t, m, "lid", with(solid.NewModel().Revolve("register of lid", mold.RoleRegister, f, p)))
		locks := sweptOf(t, m)
		want := m.Core.Z1() - 4 - 33.5
		if len(locks) != 1 || locks[0].Travel < want-1e-6 || locks[0].Travel > want+.03 {
			t.Errorf("%+v, want after %g mm", locks, want)
		}
	}
}

// Where a plug fills a hole, it is the plug that is met.
func TestNearestStands(t *testing.T) {
	model := solid.NewModel()
	box := func(name string, lo, hi float64) *solid.Node {
		return model.Box(name, "", mesh.Vec{lo, lo, lo}, mesh.Vec{hi, hi, hi})
	}
	n := solid.Union(solid.Minus(box("block", 0, 10), box("hole", 4, 6)), box("plug", 4, 6))
	if got := nearest(n, mesh.Vec{4, 5, 5}).Name; got != "plug" {
		t.Errorf("the %s is met", got)
	}
}

// What parts a piece best is told first, and air is not said to free a register.
func TestRemedyOfWeakJacksAndTightRegisters(t *testing.T) {
	bars := []Pry{{Line: "x", Slots: 2, Placed: true, perSlot: []float64{300, 300}}}
	for _, c := range []struct {
		jacks, grip float64
		want, not   string
	}{
		{400, 0, "give up to 800 N in all", "bars in"},
		{200, 0, "help evenly with up to 400 N in all", "give up"},
		{200, 700, "air does not free the register", "it peels"},
		{200, 500, "it peels", "air does not"},
	} {
		p := Push{Suction: 1e4, PeelHigh: 10, Grip: c.grip, Bars: bars, Jacks: Jacking{Size: "M8", Screws: 2, Most: c.jacks, Each: c.jacks}}
		if got := p.remedy(&params.Job{}); !strings.Contains(got, c.want) || strings.Contains(got, c.not) {
			t.Errorf("%g N a screw, grip of %g N: %s", c.jacks, c.grip, got)
		}
	}
}

// A bar pushes across the faces that it parts: of thirds, 60 degrees off the pull, the sine of
// that helps.
func TestBarsOfThirds(t *testing.T) {
	m := ring(t, 100, 60)
	l := m.Layout
	line := l.SideLines()[0]
	all, third := judge{m}.pry(line, false, 1), judge{m}.pry(line, false, math.Sin(math.Pi/3))
	near(t, "bars", third.All()/all.All(), math.Sqrt(3)/2, 1e-12)
	for name, want := range map[int]float64{2: math.Pi / 2, 3: math.Pi / 3, 4: math.Pi / 4} {
		m, err := mold.New(moldtest.Wheel{Diameter: 100, Width: 40, Bore: 12, Process: "milled"}.Job(t, fmt.Sprintf("mold.segments=%d", name)))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "half angle", judge{m}.halfAngle("shell-a"), want, 1e-12)
	}
}
