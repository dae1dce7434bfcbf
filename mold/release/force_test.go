package release

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*math.Abs(want)+1e-12 {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func two(v float64) string { return fmt.Sprintf("%.2f", v) }

// ring is a plain wheel of a diameter on a hub of another, milled, with square edges.
func ring(t *testing.T, diameter, hub float64, sets ...string) *mold.Mold {
	t.Helper()
	j := moldtest.Wheel{Diameter: diameter, Width: 60, Bore: 20, Process: "milled"}.Job(t, append([]string{
		"wheel.edge=square", fmt.Sprintf("hub.body_diameter=%g mm", hub), "mold.shrinkage=0 %"}, sets...)...)
	j.Pour.GelTemperature = j.Pour.SheetTemperature
	return made(t, j, false)
}

func forces(t *testing.T, m *mold.Mold) *Opening {
	t.Helper()
	o := Forces(m, judged(t, m))
	for _, p := range o.Pieces {
		t.Logf("%s: %s", p.Name, p.Text)
	}
	return o
}

func (o *Opening) of(t *testing.T, name string) *Push {
	t.Helper()
	for i := range o.Pieces {
		if o.Pieces[i].Name == name {
			return &o.Pieces[i]
		}
	}
	t.Fatalf("no %s", name)
	return nil
}

// The air's weight on discs of 80 and 60 mm, and on the ring of rubber of a 280 mm wheel
// on a 100 mm hub, by hand: 101325 Pa times the area.
func TestSuctionIsTheAirOnTheRing(t *testing.T) {
	near(t, "80 mm", params.Atmosphere*math.Pi/4*.08*.08, 509.315, 1e-6)
	near(t, "60 mm", params.Atmosphere*math.Pi/4*.06*.06, 286.490, 2e-6)
	o := forces(t, ring(t, 280, 100))
	lid := o.of(t, "lid")
	near(t, "lid of 280/100", lid.Suction, 5443, 2e-3)
	near(t, "base", o.of(t, "base").Suction, lid.Suction, 1e-9)
	near(t, "bar", lid.Bars[0].Lever, 750, 1e-12)
	near(t, "peel line", lid.Front, 2*math.Sqrt(140*140-50*50), 1e-3)
	near(t, "peel", lid.PeelHigh/lid.PeelLow, 50, 1e-12)
	// A half shows its chord, the diameter, over the width.
	near(t, "shell", o.of(t, "shell-a").Rubber, 280*60, 2e-3)
	third := forces(t, ring(t, 280, 100, "mold.segments=3")).of(t, "shell-a")
	near(t, "a third", third.Rubber, 280*60*math.Sqrt(3)/2, 2e-3)
	if n := len(forces(t, ring(t, 280, 100, "mold.split=clam")).of(t, "half-a").Bars); n != 1 {
		t.Errorf("halves meet on %d lines, want 1", n)
	}
	if w := lid.Text; strings.Contains(w, "cannot") || !strings.Contains(w, "M8 jack screws") {
		t.Errorf("the lid: %s", w)
	}
	if len(o.Warnings()) > 0 {
		t.Error(o.Warnings())
	}
	none := forces(t, ring(t, 280, 100, "mold.jacks.size=none"))
	if w := none.of(t, "lid").Text; !strings.Contains(w, "little by little") || !strings.Contains(w, "mold.jacks.size") || len(none.Warnings()) > 0 {
		t.Errorf("without jack screws: %s; %v", w, none.Warnings())
	}
}

// A hub's face that a seal closes counts but for its bore, at the end that has the gap;
// a cup's rubber peels all around at once.
func TestSealedFaceAndCup(t *testing.T) {
	m := ring(t, 280, 100, "mold.split=cup and lid")
	o := forces(t, m)
	want := map[string]float64{"cup": 0, "lid": 0}
	for name, gap := range map[string]float64{"cup": m.Layout.GapLow, "lid": m.Layout.GapTop} {
		if gap > 0 {
			want[name] = math.Pi * (50*50 - 10*10)
		}
		near(t, name+"'s sealed face", o.of(t, name).Hub, want[name], 1e-9)
	}
	if want["cup"]+want["lid"] == 0 {
		t.Error("no end is sealed")
	}
	near(t, "around the cup", o.of(t, "cup").Front, math.Pi*280, 2e-3)
}

// A larger wheel is held by more, piece by piece.
func TestSuctionGrowsWithTheWheel(t *testing.T) {
	for _, split := range []string{params.SplitFour, params.SplitClam, params.SplitCup} {
		last := map[string]float64{}
		for d := 120.0; d <= 360; d += 40 {
			for _, p := range forces(t, ring(t, d, 60, "mold.split="+split)).Pieces {
				if p.Suction <= last[p.Name] || p.Holds() < p.Suction {
					t.Errorf("%s, %g mm: %s: %v N after %v", split, d, p.Name, p.Suction, last[p.Name])
				}
				last[p.Name] = p.Suction
			}
		}
	}
}

// Published in thread units: an M6 against 1 kN, alone and with a tip that rubs at 1.5 mm.
func TestScrewTorque(t *testing.T) {
	f, _ := params.FastenerOf("M6")
	near(t, "tip", tipRadius(f), 1.5, 0)
	for mu, want := range map[float64][2]float64{.12: {.53425, .71425}, .15: {.62900, .85400}, .20: {.78780, 1.08780}} {
		near(t, "thread", screwTorque(f, 1000, mu, 0), want[0], 1e-5)
		near(t, "with tip", screwTorque(f, 1000, mu, 1.5), want[1], 1e-5)
	}
}

// Two screws share what holds the lid, up to what the face under their tips stands.
func TestJacksShareTheLoad(t *testing.T) {
	lid := forces(t, ring(t, 280, 100)).of(t, "lid")
	k := &lid.Jacks
	near(t, "share", float64(k.Screws)*k.Each, lid.Holds(), 1e-12)
	near(t, "M8 tip of 5.6 mm on aluminum", k.Most, math.Pi/4*5.6*5.6*150, 1e-9)
	if k.Screws != 2 || !(k.Torque[0] < k.Torque[1] && k.Torque[1] < k.Torque[2]) {
		t.Errorf("%+v", k)
	}
	soft := forces(t, ring(t, 280, 100, "process.bearing=15 MPa")).of(t, "lid")
	near(t, "on plastic", soft.Jacks.Each, k.Most/10, 1e-9)
	if !strings.Contains(soft.Text, "little by little") {
		t.Error(soft.Text)
	}
	// A plain screw is stopped before the least friction lets it push with more than its most.
	f, _ := params.FastenerOf("M8")
	for _, x := range []*Jacking{k, &soft.Jacks} {
		near(t, "stop", x.Stop, screwTorque(f, x.Most, .12, 2), 1e-12)
		near(t, "turn", x.Turn(), min(x.Torque[1], x.Stop), 0)
	}
	if all := "never above " + two(k.Stop) + " N·m (friction 0.12)"; !strings.HasSuffix(lid.Text, all) || k.Turn() != k.Torque[1] {
		t.Errorf("%s, want %s", lid.Text, all)
	}
	if only := "in all: never above " + two(soft.Jacks.Stop) + " N·m"; !strings.Contains(soft.Text, only) || soft.Jacks.Turn() != soft.Jacks.Stop {
		t.Errorf("%s, want %s", soft.Text, only)
	}
	for d, want := range map[float64]string{149: "none", 150: "M6", 249: "M6", 250: "M8"} {
		if got := (moldtest.Wheel{Diameter: d, Width: 50, Bore: 20, Process: "milled"}).Job(t).Mold.Jacks.Size; got != want {
			t.Errorf("%g mm: %s, want %s", d, got, want)
		}
	}
}

// A bar gives hand x length / depth until its heel crushes the edge: half the depth, at
// most 3 mm, by the slot's width.
func TestBarStopsAtTheEdge(t *testing.T) {
	hard := forces(t, ring(t, 280, 100)).of(t, "base").Bars[0]
	near(t, "crush", hard.Crush, 25*3*150, 1e-9)
	near(t, "two bars", hard.All(), 1500, 1e-9)
	soft := forces(t, ring(t, 280, 100, "process.bearing=5 MPa", "mold.jacks.size=none")).of(t, "base")
	near(t, "crush", soft.Bars[0].Each(), 25*3*5, 1e-9)
	near(t, "hand", soft.Bars[0].Hand, 375*10/150., 1e-9)
	if !strings.Contains(soft.Text, "25 N of hand") || soft.Bars[0].Short != 0 {
		t.Error(soft.Text)
	}
	// Nobody feels 10 N on a bar of 150 mm: 15 N on 100 mm turn as hard.
	softer := forces(t, ring(t, 280, 100, "process.bearing=2 MPa", "mold.jacks.size=none")).of(t, "base")
	near(t, "hand", softer.Bars[0].Hand, 10, 1e-9)
	near(t, "short lever", softer.Bars[0].Short, 100, 1e-9)
	if !strings.Contains(softer.Text, "by 15 N on a short lever, 100 mm from the slot's edge") || strings.Contains(softer.Text, "of hand") {
		t.Error(softer.Text)
	}
	if light := forces(t, ring(t, 280, 100, "mold.pry_slots.hand=5 N", "mold.jacks.size=none")).of(t, "base"); light.Bars[0].Short != 0 {
		t.Errorf("a hand of 5 N that crushes nothing: %+v", light.Bars[0])
	}
}

// A plug with clearance grips nothing; pressed, as Lamé's cylinders have it: of one
// material in a wide ring, p = E·δ/d·(1/2).
func TestRegisterGrip(t *testing.T) {
	near(t, "solid in a plate", pressed(.02, 20, 1e6, 3e9, 3e9), 3e9*.02/20/2, 1e-6)
	lid := func(clearance string) float64 {
		return forces(t, ring(t, 100, 60, "mold.register_front.opening=bore", "mold.register_front.draft=0deg", "mold.register_front.clearance="+clearance)).of(t, "lid").Grip
	}
	if g := lid("0.02 mm"); g != 0 {
		t.Errorf("grips %v N with clearance", g)
	}
	one, two := lid("-0.01 mm"), lid("-0.02 mm")
	if one <= 0 {
		t.Errorf("grips %v N", one)
	}
	near(t, "twice the interference", two, 2*one, 1e-9)
	// Where draft ends the interference before the plug does, the mean of a wedge is left:
	// half of it over δ/(2·tan) of length. By hand: nylon ring 60/20, aluminum plug.
	m := ring(t, 100, 60, "mold.register_front.opening=bore", "mold.register_front.draft=1deg", "mold.register_front.clearance=-0.02 mm")
	p := .01 / (20 * ((1.25+.38)/3e9 + .62/68.9e9))
	near(t, "drafted", forces(t, m).of(t, "lid").Grip, .3*p*math.Pi*20*(.02/(2*math.Tan(math.Pi/180)))*1e-6, 1e-9)
}

// A plain mold of any size in any split opens without a warning; a line of which the slots
// are taken away, or of whose pair one is, does not.
func TestWarnsOnlyWhereNothingParts(t *testing.T) {
	wheels := append([]moldtest.Wheel{{Diameter: 20, Width: 10, Bore: 3, Process: "resin"}, {Diameter: 120, Width: 40, Bore: 12, Process: "filament"},
		{Diameter: 500, Width: 100, Bore: 40, Process: "milled"}}, moldtest.Wheels...)
	for _, w := range wheels {
		for _, s := range moldtest.Splits {
			j := w.Job(t, s.Sets...)
			m, err := mold.New(j)
			if err != nil {
				t.Logf("%v, %s: %v", w, s.Name, err)
				continue
			}
			o := forces(t, m)
			if f := o.Warnings(); len(f) > 0 || o.Order == "" {
				t.Errorf("%v, %s: %v", w, s.Name, f)
			}
		}
	}
	m := ring(t, 100, 60)
	l := m.Layout
	all := l.Slots
	for i := range all {
		l.Slots = append(append([]mold.Slot{}, all[:i]...), all[i+1:]...)
		f := forces(t, m).Warnings()
		if len(f) != 1 || !strings.Contains(f[0].Cause, all[i].Line) {
			t.Errorf("without %s: %v", all[i].Name, f)
		}
	}
	l.Slots = append([]mold.Slot{}, all...)
	l.Slots[1] = l.Slots[0] // both on one side
	if f := forces(t, m).Warnings(); len(f) != 1 || !strings.Contains(f[0].Cause, "opposite") {
		t.Errorf("both slots on one side: %v", f)
	}
}

// Lid, base, shells: the balls of the plates lock the shells until both are off.
func TestOrder(t *testing.T) {
	o := forces(t, ring(t, 100, 60))
	var got []string
	for _, p := range o.Pieces {
		got = append(got, p.Name)
	}
	if strings.Join(got, " ") != "lid base shell-a shell-b" || o.Order != "lid, then base, then shell A, then shell B" || !strings.Contains(o.Why, "balls of lid/shells and base/shells") {
		t.Errorf("%v: %s: %s", got, o.Order, o.Why)
	}
}
