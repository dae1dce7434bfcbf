package params

import (
	"fmt"
	"math"
	"strconv"
	"testing"
)

// boresOf are bores that a builder may sensibly ask for in a wheel.
func boresOf(diameter float64) []float64 {
	return []float64{max(2, 0.03*diameter), 0.1 * diameter, 0.25 * diameter, 0.4 * diameter}
}

func forAllWheels(t *testing.T, visit func(d, w, bore float64, process string)) {
	for d := 25.0; d <= 400; d += 12.5 {
		for _, share := range []float64{0.12, 0.2, 0.35, 0.5, 0.8} {
			w := max(6, share*d)
			for _, bore := range boresOf(d) {
				for _, p := range Processes {
					visit(d, w, bore, p.Name)
				}
			}
		}
	}
}

// A wheel of which only three lengths are known must become a job that can be
// made, whatever its size.
func TestDefaultIsValidForEveryWheel(t *testing.T) {
	forAllWheels(t, func(d, w, bore float64, process string) {
		if j, err := Default(d, w, bore, process); err != nil {
			t.Errorf("Default(%v, %v, %v, %q): %v", d, w, bore, process, err)
		} else if f := j.Validate(); f != nil {
			t.Errorf("Default(%v, %v, %v, %q).Validate: %v", d, w, bore, process, f)
		}
	})
}

func TestDefaultRefusesNonsense(t *testing.T) {
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1), 1e300, 5e-324} {
		for i := range 3 {
			in := [3]float64{90, 40, 10}
			in[i] = v
			if _, err := Default(in[0], in[1], in[2], "milled"); err == nil {
				t.Errorf("Default(%v) accepted", in)
			}
		}
	}
	if _, err := Default(90, 40, 10, "cast"); err == nil {
		t.Error("unknown process accepted")
	}
}

// Figures of the rules that derive a wheel, worked out by hand.
func TestDefaultFigures(t *testing.T) {
	wheel := func(d, w, bore float64) *Job {
		j, err := Default(d, w, bore, "resin")
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	small, middle, large, thin := wheel(40, 16, 4), wheel(110, 40, 16), wheel(280, 125, 30), wheel(200, 60, 155)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"edge: 3 % of the diameter", small.Wheel.EdgeSize, 1.2},
		{"edge: at most 3 mm", large.Wheel.EdgeSize, 3},
		{"body: 62 %", middle.Hub.BodyDiameter, 68.2},
		{"body: 8 % of rubber on each side of a large bore", thin.Hub.BodyDiameter, 168},
		{"length: less the printed gap", middle.Hub.Length, 39.9},
		{"offset: the gap lies at the back", middle.Hub.Offset, 0.1},
		{"groove: a fifth of the width", middle.Hub.Grooves[0].Width, 8},
		{"groove: 4 % of the body", middle.Hub.Grooves[0].Depth, 2.7},
		{"land: 6 %", middle.Mold.Land, 6.6},
		{"land: at least 5 mm", small.Mold.Land, 5},
		{"land: at most 15 mm", large.Mold.Land, 15},
		{"wall: 2 %", middle.Mold.Wall, 2.2},
		{"base: 5 mm and 5 %", middle.Mold.BaseThickness, 10.5},
		{"lid: at least 8 mm", small.Mold.LidThickness, 8},
		{"register: at most 6 mm", middle.Mold.RegisterBack.Engagement, 6},
		{"register: 30 % of the width", small.Mold.RegisterFront.Engagement, 4.8},
		{"ball below 60 mm", small.Mold.Balls.Diameter, 3},
		{"ball below 160 mm", middle.Mold.Balls.Diameter, 6},
		{"ball above 250 mm", large.Mold.Balls.Diameter, 12},
		{"odd ball: 40 %", large.Mold.Balls.Offset, 4.8},
		{"gate: 2 mm and 6 %", middle.Mold.Sprue.Gate, 8.6},
		{"gate: 60 % of the face", thin.Mold.Sprue.Gate, 7.8}, // 0.6 · (200-2·3-168)/2
		{"vent: 0.8 mm and 0.8 %", large.Mold.Vents.Diameter, 3},
		{"circle: middle of the face", middle.Mold.Sprue.Circle, 86.1}, // (68.2 + 110-2·3)/2
		{"pry slot: 10 %", middle.Mold.PrySlots.Width, 11},
		{"resin: clearance", middle.Mold.Balls.Clearance, 0.15},
		{"resin: holes", middle.Process.HoleCompensation, 0.1},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	for _, c := range []struct{ got, want string }{
		{small.Mold.Bolts.Size, "M3"}, {middle.Mold.Bolts.Size, "M5"}, {large.Mold.Bolts.Size, "M8"},
		{small.Mold.SideClamp.Kind, "strap"}, {middle.Mold.SideClamp.Kind, "counterbore"},
		{middle.Mold.Jacks.Size, "none"}, {thin.Mold.Jacks.Size, "M6"}, {large.Mold.Jacks.Size, "M8"},
	} {
		if c.got != c.want {
			t.Errorf("size %s, want %s", c.got, c.want)
		}
	}
	if large.Mold.Vents.Count != 12 || middle.Mold.Vents.Count != 6 || small.Mold.Vents.Count != 3 {
		t.Errorf("vents: %d, %d, %d", large.Mold.Vents.Count, middle.Mold.Vents.Count, small.Mold.Vents.Count)
	}
}

// Torques by hand from T = 0.2·d·F, rounded down to 0.01 N·m. M8 on aluminum:
// the ring under the head carries 10367 N, less than half the proof load. M4 on
// aluminum: half of 5100 N. M4 on a print: (7² - 4.5²)·π/4 mm² at 15 MPa, 338.7 N.
func TestDefaultTorques(t *testing.T) {
	for _, c := range []struct {
		diameter     float64
		process      string
		bolts, sides float64
	}{
		{280, "milled", 16.58, 16.58},
		{90, "milled", 2.04, 2.04},
		{90, "filament", 0.27, 0.27},
		{40, "milled", 0.87, 0}, // M3: half of 2920 N; a strap around the shells
	} {
		j, err := Default(c.diameter, 0.45*c.diameter, 0.1*c.diameter, c.process)
		if err != nil {
			t.Fatal(err)
		}
		if b, s := j.Mold.Bolts.Torque, j.Mold.SideClamp.Torque; b != c.bolts || s != c.sides {
			t.Errorf("%v mm, %s: %v and %v N·m, want %v and %v", c.diameter, c.process, b, s, c.bolts, c.sides)
		}
		strap := 0.0
		if c.sides == 0 {
			strap = 300
		}
		if j.Mold.SideClamp.StrapForce != strap {
			t.Errorf("%v mm: a strap at %v N", c.diameter, j.Mold.SideClamp.StrapForce)
		}
	}
	j, _, err := Parse("f.toml", []byte(sound90+"[mold]\nbolts.size = 'none'\nside_clamp.kind = 'none'"))
	if err != nil || j.Mold.Bolts.Torque != 0 || j.Mold.SideClamp.Torque != 0 || j.Mold.SideClamp.StrapForce != 0 {
		t.Errorf("no clamps, but %+v, %+v, %v", j.Mold.Bolts, j.Mold.SideClamp, err)
	}
}

// What the estimate of flash reads, as it comes out when nothing is stated.
func TestDefaultsOfSealingAndPour(t *testing.T) {
	parse := func(add string) *Job {
		j, _, err := Parse("f.toml", []byte(sound90+add))
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	j := parse("")
	// The bucket: 0.25·π·(90² - 55.8²)·40·1.25 mm³ are 196 ml, and 67 % of 500 ml hold
	// them; ∛(500 ml / (0.25·π·1.2)) is 80.96 mm.
	wantPour := Pour{PartsA: 1, PartsB: 1, RatioBy: "weight", DensityA: 1.04, DensityB: 1.04, Density: 1.04,
		Hardness: 60, Blend: Blend{PartsA: 1, PartsB: 1, DensityA: 1.04, DensityB: 1.04}, PigmentLimit: 0.03, Margin: 0.05,
		Bucket:    Bucket{Volume: 500, Diameter: 81, HeadRoom: 0.33, Film: 0.5, Paddle: 12, Vessels: 2},
		Scale:     Scale{Resolution: 0.1},
		Kit:       Kit{Mass: 1000, Price: 14},
		Viscosity: 0.8, PotLife: 1200, Growth: 10, GelTime: 2400, Stir: 240, Settle: 240, Start: 480, Duration: 120,
		People: 1, Funnel: 20, Fill: j.Mold.LidThickness, TiltToward: 270, SurfaceTension: 0.035, MoldTemperature: 23, MixTemperature: 23, SheetTemperature: 23,
		GelTemperature: 37, Expansion: 175e-6, Demold: 24 * 3600, Cure: 7 * 24 * 3600, Degas: "none", PotPressure: 400e3}
	if j.Pour != wantPour {
		t.Errorf("pour %+v, want %+v", j.Pour, wantPour)
	}
	wantMating := Mating{Dirt: 0.005, ShellsFlatness: 0.02, ShellsRoughness: 0.0016, PlatesFlatness: 0.02, PlatesRoughness: 0.0016}
	if j.Mold.Mating != wantMating {
		t.Errorf("mating %+v", j.Mold.Mating)
	}
	if want := (Seals{"wiped", "wiped", "wiped", "wiped", 200, 1000, 0.15}); j.Mold.Seals != want {
		t.Errorf("seals %+v", j.Mold.Seals)
	}
	if j.Process.Modulus != 68.9e9 || j.Process.Bearing != 150e6 || j.Process.Flatness != 0.02 || j.Process.Roughness != 0.0016 {
		t.Errorf("milled: %+v", j.Process)
	}
	if j := parse("[process]\nname = 'filament'\nflatness = '0.03 mm'"); j.Process.LappedFlatness != 0.03 {
		t.Errorf("lapping spoils a face of 0.03 mm to %v mm", j.Process.LappedFlatness)
	}
	for material, want := range map[string][4]float64{
		"nylon": {0.05, 0.001, 0.03, 0.0032}, "acetal": {0.05, 0.0002, 0.03, 0.0032}, "printed": {0.15, 0.0005, 0.25, 0.013},
	} {
		h := parse("material = '" + material + "'").Hub
		if got := [4]float64{h.LengthTolerance, h.Moisture, h.Flatness, h.Roughness}; got != want {
			t.Errorf("%s: tolerance, moisture, flatness, roughness %v, want %v", material, got, want)
		}
	}
	if p := parse("[pour]\npot_life = '7 min'").Pour; p.GelTime != 840 || p.Start != 168 || p.Duration != 42 {
		t.Errorf("7 min of pot life: %+v", p)
	}
}

// A gauge that enters anywhere says so of each parting line, unless that was
// measured by itself; faces are as the process leaves them, unless lapped.
func TestDefaultMating(t *testing.T) {
	j, warnings, err := Parse("f.toml", []byte(sound90+`[process]
name = "filament"
[mold.mating]
feeler = "0.3 mm"
feeler_lid = "0.012 mm"
shells_flatness = "0.01 mm"
shells_roughness = "3 um"`))
	if err != nil || warnings != nil { // 25 times flatter than printed is no mix-up of inch and mm
		t.Fatal(err, warnings)
	}
	want := Mating{Feeler: 0.3, FeelerBase: 0.3, FeelerLid: 0.012, FeelerSides: 0.3, Dirt: 0.005,
		ShellsFlatness: 0.01, ShellsRoughness: 0.003, PlatesFlatness: 0.25, PlatesRoughness: 0.013}
	if j.Mold.Mating != want {
		t.Errorf("got %+v\nwant %+v", j.Mold.Mating, want)
	}
}

// A register takes the seat on its side, else the bearing pocket, else the bore.
func TestDefaultRegisters(t *testing.T) {
	j, _, err := Parse("f.toml", []byte(sound90+"seat = {side = 'front'}\nbearing_front = {diameter = '22 mm'}\nbearing_back = {diameter = '22 mm', depth = '5 mm'}"))
	if err != nil {
		t.Fatal(err)
	}
	back, front := j.Mold.RegisterBack, j.Mold.RegisterFront
	if front.Opening != "seat" || back.Opening != "bearing" || back.Engagement != 4 { // 80 % of 5 mm
		t.Errorf("back %+v, front %+v", back, front)
	}
}

// Narrower and thinner than usual: balls and registers give way.
func TestDefaultOfNarrowWheels(t *testing.T) {
	for _, c := range [][3]float64{{15, 4, 2}, {100, 4, 20}, {30, 5, 1}, {90, 40, 1.25}} {
		if _, err := Default(c[0], c[1], c[2], "filament"); err != nil {
			t.Errorf("%v: %v", c, err)
		}
	}
}

// The gap at the hub's end leaves 0.03 mm beside what the hub grows: nylon of
// 125 mm by 5 K and 30 % of 0.1 % of moisture, 81e-6·5·125 + 0.3·0.001·125 =
// 0.088 mm; a print has 0.1 mm at least.
func TestStackGapLeavesRoomForTheHubsGrowth(t *testing.T) {
	for _, c := range []struct {
		width   float64
		process string
		want    float64
	}{{125, "milled", 0.12}, {40, "milled", 0.06}, {20, "filament", 0.1}, {200, "filament", 0.18}} {
		j, err := Default(2*c.width, c.width, 10, c.process)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(j.Mold.Stack.Gap-c.want) > 1e-9 {
			t.Errorf("%g mm, %s: gap %g, want %g", c.width, c.process, j.Mold.Stack.Gap, c.want)
		}
	}
}

// What is said of the assumed robot is what is assumed, and its mass is the pounds that
// are said.
func TestAssumedDutyIsWhatItSays(t *testing.T) {
	said := func(path, format string, into ...any) {
		k, _ := keyAt(path)
		if _, err := fmt.Sscanf(k.From, format, into...); err != nil {
			t.Fatalf("%s: %q: %v", path, k.From, err)
		}
	}
	var kg, lb, mm, speed float64
	said("duty.mass", "assumed: %f kg (%f lb, the heaviest usual class) on wheels of %f mm", &kg, &lb, &mm)
	said("duty.rpm", "assumed: the tread runs at %f m/s", &speed)
	if math.Abs(kg-lb*0.45359237) > 0.5 {
		t.Errorf("%g lb are not %g kg", lb, kg)
	}
	j, err := Default(mm, 60, 20, "milled")
	if err != nil {
		t.Fatal(err)
	}
	if want := Significant(1000*kg, 2); j.Duty.Mass != want {
		t.Errorf("%g g are assumed, want %g", j.Duty.Mass, want)
	}
	if got := j.Duty.RPM / 60e3 * math.Pi * mm; math.Abs(got/speed-1) > 0.05 {
		t.Errorf("the tread runs at %g m/s, want %g", got, speed)
	}
}

func TestDecade(t *testing.T) {
	for _, x := range []struct {
		v    float64
		want int
	}{
		{1, 0}, {-1, 0}, {9.999999999999998, 0}, {10, 1}, {1000, 3}, {999.9999999999999, 2}, {-0.001, -3}, {0.0009999999999999998, -4},
		{1e-5, -5}, {5e-324, -324}, {math.MaxFloat64, 308}, {0, 0}, {math.Inf(1), 0}, {math.NaN(), 0},
	} {
		if got := Decade(x.v); got != x.want {
			t.Errorf("Decade(%g) = %d, want %d", x.v, got, x.want)
		}
	}
	for k := -323; k <= 308; k++ {
		v, err := strconv.ParseFloat("1e"+strconv.Itoa(k), 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := Decade(v); got != k {
			t.Errorf("Decade(1e%d) = %d", k, got)
		}
	}
	if got := Significant(1000, 3); got != 1000 {
		t.Errorf("Significant(1000, 3) = %g", got)
	}
}
