package params

import (
	"strings"
	"testing"
)

const sound90 = `[wheel]
diameter = "90 mm"
width = "40 mm"
[hub]
bore = "12 mm"
`

// Each faulty file with what the builder must read, to the letter.
func TestParseFaults(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"nothing stated", ``, `
f.toml: wheel.diameter: missing; write diameter = "90 mm" under [wheel]
f.toml: wheel.width: missing; write width = "40 mm" under [wheel]
f.toml: hub.bore: missing; write bore = "12 mm" under [hub]`},
		{"bare number", "[wheel]\ndiameter = 90\nwidth = 1.5\n[hub]\nbore = \"12 mm\"", `
f.toml:2:1: wheel.diameter = 90: has no unit: write "90 mm"
f.toml:3:1: wheel.width = 1.5: has no unit: write "1.5 in"`},
		{"text without unit", sound90 + `length = "39.9"`, `
f.toml:6:1: hub.length = "39.9": has no unit: write "39.9 mm"`},
		{"misspelled key", sound90 + "bearing_bakc.diameter = \"22 mm\"\n  [mold.sprue]\n  gat = \"5 mm\"", `
f.toml:6:14: hub.bearing_bakc.diameter = "22 mm": unknown key; did you mean hub.bearing_back.diameter?
f.toml:8:3: mold.sprue.gat = "5 mm": unknown key; did you mean mold.sprue.gate?`},
		{"misspelled required key", "[wheel]\ndiamter = \"90 mm\"\nwidth = \"40 mm\"\n[hub]\nbore=\"12 mm\"", `
f.toml:2:1: wheel.diamter = "90 mm": unknown key; did you mean wheel.diameter?`},
		{"unknown key and section", sound90 + "color = \"red\"\n[paint]\ngloss = true", `
f.toml:6:1: hub.color = "red": unknown key
f.toml:7:2: paint: unknown section
f.toml:8:1: paint.gloss = true: unknown key`},
		{"wrong type", sound90 + "length = true\nmaterial = 3\n[hub.bolts]\ncount = \"four\"\n[mold.vents]\ncount = 3.5\n[pour]\nparts_a = \"1\"\nwaste = 2024-01-01\nparts_b = [1]", `
f.toml:6:1: hub.length = true: is true or false, not a length: write "90 mm" or "3.5 in"
f.toml:7:1: hub.material = 3: is a number, not a word in quotes: write "round"
f.toml:9:1: hub.bolts.count = "four": is text, not a whole number: write it without quotes and unit, as in 4
f.toml:11:1: mold.vents.count = 3.5: allowed 0 to 64: is a number with a point, not a whole number: write one as in 4
f.toml:13:1: pour.parts_a = "1": is text, not a number: write it without quotes and unit, as in 100
f.toml:14:1: pour.waste = 2024-01-01: is a date or time, not a share: write "0.3 %"
f.toml:15:1: pour.parts_b = […]: is an array, not a number: write 100`},
		{"wrong unit", sound90 + "[mold]\nland = \"5 kg\"\nshrinkage = \"0.3 mm\"\nwall = \"2 MM\"", `
f.toml:7:1: mold.land = "5 kg": is a mass, not a length: write it in mm, cm, m, um, in, thou, ft
f.toml:8:1: mold.shrinkage = "0.3 mm": is a length, not a share: write it in %
f.toml:9:1: mold.wall = "2 MM": has the unit "MM": capital letters count, write "2 mm"`},
		{"unit slips", "[wheel]\ndiameter = \"90 in\"\nwidth = \"1.5 mm\"\n[hub]\nbore = \"0.5 mm\"", `
f.toml:2:1: wheel.diameter = 90 in (2286 mm): allowed 15 mm to 500 mm: too large: looks like a millimeter value written as inches; write "90 mm"
f.toml:3:1: wheel.width = 1.5 mm: allowed at least 4 mm: too small
f.toml:5:1: hub.bore = 0.5 mm: allowed at least 1 mm: too small`},
		{"unit slips, diameter known", "[wheel]\ndiameter = \"90 mm\"\nwidth = \"1.5 mm\"\n[hub]\nbore = \"12 in\"", `
f.toml:3:1: wheel.width = 1.5 mm: allowed 4 mm to 108 mm: too small: looks like an inch value written as millimeters; write "1.5 in"
f.toml:5:1: hub.bore = 12 in (304.8 mm): allowed 1 mm to 82.8 mm: too large: looks like a millimeter value written as inches; write "12 mm"`},
		{"not finite, absurd, negative", sound90 + "offset = \"1e300 mm\"\nlength = \"-3 mm\"\ncover_diameter = \"99999999 mm\"\n[pour]\nparts_a = nan\nparts_b = -inf", `
f.toml:6:1: hub.offset = "1e300 mm": has an exponent or underscore: write plain digits
f.toml:7:1: hub.length = -3 mm: allowed 12 mm to 120 mm: negative
f.toml:8:1: hub.cover_diameter = 99999999 mm: allowed 0 mm to 270 mm: absurdly large
f.toml:10:1: pour.parts_a = NaN: allowed 0.01 to 10000: not a finite number
f.toml:11:1: pour.parts_b = -Inf: allowed 0.01 to 10000: not a finite number`},
		{"unknown word", sound90 + "material = \"nylno\"\n[process]\nname = \"cast\"", `
f.toml:6:1: hub.material = "nylno": allowed "nylon", "acetal", "printed": unknown word; did you mean "nylon"?
f.toml:8:1: process.name = "cast": allowed "milled", "filament", "lapped filament", "resin", "custom": unknown word`},
		{"stated twice", sound90 + `bore = "13 mm"`, `
f.toml:6:1: hub.bore = "13 mm": stated twice, first in line 5`},
		{"no TOML", "[wheel]\ndiameter = 90 mm\n", `
f.toml:2:15: not TOML: expected newline but got U+006D 'm'; put the value in quotes: diameter = "90 mm"`},
		{"table opened twice", sound90 + "[wheel]\nedge = \"square\"", `
f.toml:6:2: not TOML: table wheel already exists; each section stands in a job once: put its values together`},
		{"sections and arrays", sound90 + "seat = 3\ngroove.width = \"2 mm\"\nlock_holes = {count = 400}\n[[mold]]\n[wheel.groove]\ndepth = \"90 mm\"", `
f.toml:6:1: hub.seat = 3: is a section, not a value; write [hub.seat]
f.toml:7:8: hub.groove.width = "2 mm": belongs into a table of an array; write [[hub.groove]] above it
f.toml:8:15: hub.lock_holes.count = 400: allowed 0 to 48: too large
f.toml:9:3: mold: is one table; write [mold]
f.toml:10:8: wheel.groove: is an array of tables; write [[wheel.groove]]
f.toml:11:1: wheel.groove[1].depth = 90 mm: allowed 0.1 mm to 36 mm: too large; perhaps 9 mm?`},
		{"second groove", sound90 + "[[wheel.groove]]\nposition = \"10 mm\"\n[[wheel.groove]]\nposition = \"50 mm\"\n", `
f.toml:9:1: wheel.groove[2].position = 50 mm: allowed 0 mm to 40 mm: too large`},
		{"grooves as a value", sound90 + "groove = [{width = 2}, 7]\n", `
f.toml:6:1: hub.groove = 7: is no table; write {width = "2 mm"}
f.toml:6:12: hub.groove[1].width = 2: has no unit: write "2 mm"`},
		{"a clash is reported where its cause stands", sound90 + "body_diameter = \"84 mm\"\n", `
f.toml:6:1: hub.body_diameter = 84 mm: allowed up to 81 mm: leaves 0.3 mm of rubber at the tread's faces, needed are 1.8 mm`},
		{"a derived value that comes out of range", "process.min_wall = \"0.4 mm\"\nwheel.diameter = \"15 mm\"\nwheel.width=\"8 mm\"\nhub.bore=\"1.5 mm\"\nhub.body_diameter = \"4.5 mm\"\nhub.lock_holes.count = 1", `
f.toml: hub.lock_holes.diameter = 2 mm: allowed 0 mm to 1.8 mm: derived too large; the default is 6 % of the hub's diameter, 2 mm to 8 mm`},
		{"new kinds without unit", sound90 + "[pour]\npot_life = 20\nviscosity = \"800\"\nsurface_tension = 35\nmold_temperature = 73\n[mold.bolts]\ntorque = 5\n[mold.side_clamp]\nstrap_force = 300\n[process]\nmodulus = 2.0", `
f.toml:7:1: pour.pot_life = 20: has no unit: write "20 min"
f.toml:8:1: pour.viscosity = "800": has no unit: write "800 mPa*s"
f.toml:9:1: pour.surface_tension = 35: has no unit: write "35 mN/m"
f.toml:10:1: pour.mold_temperature = 73: has no unit: write "73 F"
f.toml:12:1: mold.bolts.torque = 5: allowed 0 N*m to 3.06 N*m: has no unit: a torque is written in N*m, ft*lb, in*lb, N*cm
f.toml:14:1: mold.side_clamp.strap_force = 300: has no unit: write "300 N"
f.toml:16:1: process.modulus = 2.0: has no unit: write "2.0 GPa"`},
		{"bucket and pot without unit", sound90 + "[pour]\nexpansion = 175\npot_pressure = 60\ncure = 7\n[pour.bucket]\nvolume = 5\ndiameter = \"20 mm\"\n[pour.kit]\nprice = \"20 dollars\"", `
f.toml:7:1: pour.expansion = 175: has no unit: write "175 ppm/K"
f.toml:8:1: pour.pot_pressure = 60: has no unit: write "60 psi"
f.toml:9:1: pour.cure = 7: has no unit: write "7 h"
f.toml:11:1: pour.bucket.volume = 5: has no unit: write "5 l"
f.toml:12:1: pour.bucket.diameter = 20 mm: allowed 50.3 mm to 128.5 mm: too small
f.toml:14:1: pour.kit.price = "20 dollars": is text, not a number: write it without quotes and unit, as in 100`},
		{"slips of other units", sound90 + "[pour]\npot_life = \"20 s\"\nviscosity = \"800 Pa*s\"\nsurface_tension = \"35 N/m\"\nmold_temperature = \"73 C\"\nsheet_temperature = \"23 F\"\nduration = \"90 h\"\n[process]\nmodulus = \"2 MPa\"\nbearing = \"150 GPa\"", `
f.toml:7:1: pour.pot_life = 20 s: allowed 1 min to 4 h: too small: looks like a value in minutes written as seconds; write "20 min"
f.toml:8:1: pour.viscosity = 800 Pa*s: allowed 0.02 Pa*s to 100 Pa*s: too large: looks like a value in mPa*s written as Pa*s; write "800 mPa*s"
f.toml:9:1: pour.surface_tension = 35 N/m (35000 mN/m): allowed 5 mN/m to 100 mN/m: too large: looks like a value in mN/m written as N/m; write "35 mN/m"
f.toml:10:1: pour.mold_temperature = 73 C: allowed 5 C to 60 C: too large: looks like a Fahrenheit value written as Celsius; write "73 F"
f.toml:11:1: pour.sheet_temperature = 23 F (-5 C): allowed 5 C to 60 C: negative: looks like a Celsius value written as Fahrenheit; write "23 C"
f.toml:12:1: pour.duration = 90 h: allowed 1 s to 4 h: too large: looks like a value in minutes written as h; write "90 min"
f.toml:14:1: process.modulus = 2 MPa: allowed 100 MPa to 400 GPa: too small: looks like a value in GPa written as MPa; write "2 GPa"
f.toml:15:1: process.bearing = 150 GPa: allowed 1 MPa to 2 GPa: too large: looks like a value in MPa written as GPa; write "150 MPa"`},
		{"without unit, either or none will do", sound90 + "offset = -0.5\n[mold]\nmating = {feeler = 80, dirt = 7000}\nwall = \"3\"\nland = 1e3\n", `
f.toml:6:1: hub.offset = -0.5: has no unit: write "-0.5 mm" or "-0.5 in"
f.toml:8:11: mold.mating.feeler = 80: has no unit: write "80 um"
f.toml:8:24: mold.mating.dirt = 7000: allowed 0 mm to 0.5 mm: has no unit: a length is written in mm, cm, m, um, in, thou, ft
f.toml:9:1: mold.wall = "3": has no unit: write "3 mm"
f.toml:10:1: mold.land = 1e3: has no unit: write "90 mm" or "3.5 in"`},
		{"slips of the decimal point", sound90 + "length_tolerance = \"2.1 mm\"\n[mold.mating]\nfeeler = \"8mm\"\nfeeler_lid = \"80 mm\"\nfeeler_base = \"2.5 in\"\n", `
f.toml:6:1: hub.length_tolerance = 2.1 mm: allowed 0 mm to 2 mm: too large
f.toml:8:1: mold.mating.feeler = 8 mm: allowed 0 mm to 3 mm: too large; perhaps 0.8 mm, or 8 um?
f.toml:9:1: mold.mating.feeler_lid = 80 mm: allowed 0 mm to 3 mm: too large; perhaps 80 um?
f.toml:10:1: mold.mating.feeler_base = 2.5 in (63.5 mm): allowed 0 mm to 3 mm: too large: looks like a millimeter value written as inches; write "2.5 mm"`},
		{"words for seals", sound90 + "[mold.seals]\nall = \"wax\"\nbase = \"jelly\"\nlid = \"greese\"\nbead_height = \"0.4 mm\"\n", `
f.toml:7:1: mold.seals.all = "wax": unknown key; [mold.seals] has base, lid, sides, hub, grease_yield, wax_yield, bead_height
f.toml:8:1: mold.seals.base = "jelly": allowed "wiped", "dry", "grease", "wax", "tape", "clay", "cord", "bead": unknown word; petroleum jelly counts as "grease"
f.toml:9:1: mold.seals.lid = "greese": allowed "wiped", "dry", "grease", "wax", "tape", "clay", "cord", "bead": unknown word; did you mean "grease"?
f.toml:10:1: mold.seals.bead_height = 0.4 mm: allowed 0.02 mm to 0.3 mm: too large; a higher ridge holds the mold open`},
		{"no size to hold", sound90 + "[mold.bolts]\nsize = \"none\"\ntorque = \"90 N*m\"", `
f.toml:8:1: mold.bolts.torque = 90 N*m: allowed 0 N*m to 88.02 N*m: too large`},
		{"clashes in the builder's unit", sound90 + "body_diameter = \"3.3 in\"\n", `
f.toml:6:1: hub.body_diameter = 3.3 in (83.82 mm): allowed up to 81 mm: leaves 0.39 mm of rubber at the tread's faces, needed are 1.8 mm`},
		{"overtightened", sound90 + "[mold.bolts]\ntorque = \"10 ft*lb\"", `
f.toml:7:1: mold.bolts.torque = 10 ft*lb (13.56 N*m): allowed 0 N*m to 3.06 N*m: too large; M4 holds at most 3.06 N*m, three quarters of its proof load`},
		{"unprintable name", "name = \"a\\tb\"\n" + sound90, `
f.toml:1:1: name = "a\tb": has characters that cannot be printed`},
	} {
		j, _, err := Parse("f.toml", []byte(c.src))
		if j != nil || err == nil {
			t.Errorf("%s: accepted", c.name)
			continue
		}
		if got := "\n" + err.Error(); got != c.want {
			t.Errorf("%s:\ngot%s\nwant%s", c.name, got, c.want)
		}
		for _, f := range err.(Faults) {
			if f.Path == "" && !strings.Contains(f.Cause, "TOML") {
				t.Errorf("%s: a fault names no value: %+v", c.name, f)
			}
		}
	}
}

func TestParseExactly(t *testing.T) {
	j, warnings, err := Parse("f.toml", []byte("[wheel]\ndiameter=\"3.5 in\"\nwidth=\"1 1/2 in\"\n[hub]\nbore=\"1/2 in\""))
	if err != nil || warnings != nil {
		t.Fatal(err, warnings)
	}
	if j.Wheel.Diameter != 88.9 || j.Wheel.Width != 38.1 || j.Hub.Bore != 12.7 {
		t.Errorf("%v x %v, bore %v", j.Wheel.Diameter, j.Wheel.Width, j.Hub.Bore)
	}
}

func TestSettings(t *testing.T) {
	parse := func(settings ...string) (*Job, string) {
		var sets []Setting
		for _, s := range settings {
			set, err := ParseSetting(s)
			if err != nil {
				t.Fatal(err)
			}
			sets = append(sets, set)
		}
		j, _, err := Parse("f.toml", []byte(sound90+"length = \"nonsense\"\n[[wheel.groove]]\n"), sets...)
		if err != nil {
			return nil, err.Error()
		}
		return j, ""
	}
	// The file's faulty length is overridden, so that only the settings count.
	j, fault := parse("hub.length=39.9mm", "wheel.diameter = 3.5 in", "wheel.groove[1].depth=1mm", "hub.groove=none", `mold.outline="round"`, "mold.vents.count=5", "pour.parts_a=100", "name=a b")
	if fault != "" {
		t.Fatal(fault)
	}
	if j.Wheel.Diameter != 88.9 || j.Wheel.Grooves[0].Depth != 1 || len(j.Hub.Grooves) != 0 || j.Mold.Outline != "round" ||
		j.Mold.Vents.Count != 5 || j.Pour.PartsA != 100 || j.Name != "a b" {
		t.Errorf("%+v", j)
	}
	for _, c := range []struct{ set, want string }{
		{"wheel.diamter=90mm", "--set: wheel.diamter = 90mm: unknown key; did you mean wheel.diameter?"},
		{"wheel.diameter=90", `--set: wheel.diameter = 90: has no unit: write "90 mm"`},
		{"wheel.diameter=9m", "--set: wheel.diameter = 9 m (9000 mm): allowed 15 mm to 500 mm: too large: looks like an inch value written as m; write \"9 in\""},
		{"wheel.groove.depth=1mm", "--set: wheel.groove.depth = 1mm: grooves, and only they, are numbered; write wheel.groove[1].depth"},
		{"wheel[1].diameter=1mm", "--set: wheel[1].diameter = 1mm: grooves, and only they, are numbered; write wheel.diameter"},
		{"wheel.groove[3].depth=1mm", "--set: wheel.groove[3].depth = 1 mm: there are only 1 of wheel.groove"},
		{"wheel.groove=2", "--set: wheel.groove = 2: is an array of tables; set wheel.groove=none, or one value as in wheel.groove[1].width=2mm"},
		{"machining.cutter=3", "--set: machining.cutter = 3: is an array of tables; set machining.cutter=none, or one value as in machining.cutter[1].diameter=2mm"},
		{"hub.bolts.count=2.5", "--set: hub.bolts.count = 2.5: allowed 0 to 24: is no whole number: write one as in 4"},
		{"pour.parts_a=0x10", "--set: pour.parts_a = 0x10: allowed 0.01 to 10000: is no number: write one as in 100"},
		{"wheel.cross.count=99999999999999999999", "--set: wheel.cross.count = 99999999999999999999: allowed 0 to 200: is absurdly large"},
	} {
		_, fault := parse("hub.length=39.9mm", c.set)
		if c.want == "" || !strings.Contains(fault+"\n", c.want+"\n") {
			t.Errorf("%s: %s\nwant %s", c.set, fault, c.want)
		}
	}
	if _, err := ParseSetting("wheel.diameter"); err == nil {
		t.Error("a setting without = accepted")
	}
}

func TestWarnings(t *testing.T) {
	for _, c := range []struct{ add, want string }{
		{"", ""},
		{"[mold]\nland = \"40 mm\"", ""},
		{"cover_diameter = \"58 mm\"", "f.toml:6:1: hub.cover_diameter = 58 mm: allowed at least 77.6 mm: the scars of gate and vents stay visible"},
		{"[mold.vents]\ncount = 0", "f.toml:7:1: mold.vents.count = 0: air leaves by the sprue alone"},
		{"[mold.balls]\noffset = \"0 mm\"", "f.toml:7:1: mold.balls.offset = 0 mm: the odd ball lies so close to the pattern that pieces go together two ways"},
		{"[hub.seat]\ndepth = \"3 mm\"", `f.toml:7:1: hub.seat.depth = 3 mm: has no effect while hub.seat.side is "none"`},
		{"[mold.bolts]\ntorque = \"3 N*m\"\n[process]\nname = \"filament\"", "f.toml:7:1: mold.bolts.torque = 3 N*m: allowed up to 0.27 N*m: the bolt heads press harder on the mold than process.bearing: tighten less, or use wide washers"},
		{"[mold.bolts]\ntorque = \"20 in*lb\"\n[process]\nname = \"filament\"", "f.toml:7:1: mold.bolts.torque = 20 in*lb (2.26 N*m): allowed up to 0.27 N*m: the bolt heads press harder on the mold than process.bearing: tighten less, or use wide washers"},
		{"[mold.bolts]\ntorque = \"0 N*m\"", "f.toml:7:1: mold.bolts.torque = 0 N*m: allowed above 0: holds nothing: the pieces only lie on each other"},
		{"[mold]\nbolts = {size = \"none\", torque = \"0 N*m\"}", ""},
		{"[mold.side_clamp]\ntorque = \"0 N*m\"", "f.toml:7:1: mold.side_clamp.torque = 0 N*m: allowed above 0: holds nothing: the pieces only lie on each other"},
		{"[mold]\nside_clamp.kind = \"none\"\nbolts.size = \"none\"", `f.toml:7:12: mold.side_clamp.kind = "none": nothing that the mold brings along holds its pieces together: clamp them by hand; estimates count on no clamp`},
		{"[mold]\nsplit = \"cup and lid\"\nbolts.size = \"none\"", `f.toml:8:7: mold.bolts.size = "none": nothing that the mold brings along holds its pieces together: clamp them by hand; estimates count on no clamp`},
		{"[mold]\nside_clamp.kind = \"none\"", ""},
		{"[mold]\nside_clamp = {kind = \"strap\", strap_force = \"0 N\"}", "f.toml:7:31: mold.side_clamp.strap_force = 0 N: allowed above 0: holds nothing: the pieces only lie on each other"},
		{"[mold.seals]\nbead_height = \"0.2 mm\"", `f.toml:7:1: mold.seals.bead_height = 0.2 mm: has no effect while no seal is "bead"`},
		{"[mold.seals]\nbead_height = \"0.2 mm\"\nhub = \"bead\"", ""},
		{"[mold.seals]\ngrease_yield = \"250 Pa\"\nwax_yield = \"0.1 psi\"", `f.toml:7:1: mold.seals.grease_yield = 250 Pa: has no effect while no seal is "grease"
f.toml:8:1: mold.seals.wax_yield = 0.1 psi (689.5 Pa): has no effect while no seal is "wax"`},
		{"[mold.seals]\ngrease_yield = \"250 Pa\"\nsides = \"grease\"", ""},
		{"[mold.side_clamp]\ntorque = \"2.8 N*m\"", "f.toml:7:1: mold.side_clamp.torque = 2.8 N*m: allowed up to 2.7 N*m: the bolt heads press harder on the mold than process.bearing: tighten less, or use wide washers"},
		{"[mold]\nbolts = {size = \"none\", torque = \"2 N*m\"}", `f.toml:7:25: mold.bolts.torque = 2 N*m: has no effect while mold.bolts.size is "none"`},
		{"[mold]\nside_clamp.strap_force = \"200 N\"", `f.toml:7:12: mold.side_clamp.strap_force = 200 N: has no effect while mold.side_clamp.kind is "counterbore"`},
		{"[mold]\nside_clamp = {kind = \"strap\", torque = \"1 N*m\"}", `f.toml:7:31: mold.side_clamp.torque = 1 N*m: has no effect while mold.side_clamp.kind is "strap"`},
		{"[mold.seals]\nlid = \"grease\"", `f.toml:7:1: mold.seals.lid = "grease": the rubber will not bond where grease gets on the hub: keep it off the hub's bond surface, and wipe off what squeezes out`},
		{"[mold.seals]\nhub = \"wax\"", `f.toml:7:1: mold.seals.hub = "wax": the rubber will not bond where wax gets on the hub: keep it off the hub's bond surface, and wipe off what squeezes out`},
		{"[mold.seals]\nsides = \"grease\"\nbase = \"tape\"", ""}, // far from the hub
		{"[mold.stack]\nseal = \"grease\"", `f.toml:7:1: mold.stack.seal = "grease": the rubber will not bond where grease gets on the hub: keep it off the hub's bond surface, and wipe off what squeezes out`},
		{"[pour]\nstart = \"19 min\"", "f.toml:7:1: pour.start = 19 min: the pour ends 1 min after the pot life: the urethane may be too thick to fill the mold"},
		{"[pour]\nstir = \"15 min\"", "f.toml:7:1: pour.start = 19 min: the pour ends 1 min after the pot life: the urethane may be too thick to fill the mold"},
		{"[pour]\npigment = \"3.5 %\"", "f.toml:7:1: pour.pigment = 3.5 %: allowed up to 3 %: so much pigment may leave the urethane soft or sticky: ask its data sheet, or try a cup first"},
		{"[pour]\npigment = \"3.5 %\"\npigment_limit = \"5 %\"", ""},
		{"[pour]\nmix_temperature = \"55 F\"", "f.toml:7:1: pour.mix_temperature = 55 F (12.78 C): allowed 18 C to 35 C: so cold it mixes badly, keeps its bubbles and may cure soft: warm both components first"},
		{"[pour]\nmold_temperature = \"10 C\"", "f.toml:7:1: pour.mold_temperature = 10 C: allowed 18 C or more: so cold the rubber thickens in corners, and cures slowly or soft: warm the mold through first"},
		{"[pour.blend]\nwith = 80", "f.toml:7:1: pour.blend.parts_a = 1: allowed the ratio on its label: the ratio of the second urethane is not stated, and taken as 1:1"},
		{"[pour]\nmix_temperature = \"36 C\"", "f.toml:7:1: pour.mix_temperature = 36 C: allowed 18 C to 35 C: so warm it may gel in the bucket: let both components cool first"},
		{"[pour]\nmix_temperature = \"35 C\"\nstir = \"1 min\"", ""},
		{"[pour]\nstir = \"59 s\"", "f.toml:7:1: pour.stir = 59 s: allowed at least 1 min: hardly mixed: what stays unmixed never cures"},
		{"[pour]\nbatch_mass = \"360 g\"\nbucket.volume = \"500 ml\"", "f.toml:7:1: pour.batch_mass = 360 g: allowed up to 348.4 g: more than the bucket holds below its head room; only so much is mixed at once"},
		{"[pour]\nbatch_mass = \"360 g\"", "f.toml:7:1: pour.batch_mass = 360 g: allowed up to 348.4 g: more than the bucket holds below its head room; only so much is mixed at once"},
		{"[wheel.cross]\ncount = 0\n[pour.blend]\nparts_b = 2\nwanted = 50", `f.toml:9:1: pour.blend.parts_b = 2: has no effect while pour.blend.with is 0
f.toml:10:1: pour.blend.wanted = 50: has no effect while pour.blend.with is 0`},
		{"[hub.sprocket]\nteeth = 20\n[worth]\nbought_life = 2", `f.toml:7:1: hub.sprocket.teeth = 20: has no effect while hub.sprocket.chain is "none"
f.toml:9:1: worth.bought_life = 2: has no effect while no worth.bought_price is stated`},
		{"[pour.blend]\nparts_b = 2\nwanted = 50\nwith = 40", ""},
		{"[pour]\npot_pressure = \"60 psi\"", `f.toml:7:1: pour.pot_pressure = 60 psi (413.7 kPa): has no effect while pour.degas is not "pressure"`},
		{"[pour]\npot_pressure = \"4 bar\"", ""}, // the default
		{"[pour]\npot_pressure = \"60 psi\"\ndegas = \"pressure\"", ""},
		{"[pour]\nwaste = \"8 %\"\nbucket = {film = \"1 mm\", residue = \"2 mm\"}", `f.toml:8:11: pour.bucket.film = 1 mm: has no effect while pour.waste is stated
f.toml:8:26: pour.bucket.residue = 2 mm: has no effect while pour.waste is stated`},
		{"[pour.bucket]\nfilm = \"1 mm\"\nresidue = \"2 mm\"", "f.toml:7:1: pour.bucket.film = 1 mm: has no effect while pour.bucket.residue is stated"},
		{"[mold.register_back]\nclearance = \"1.27 mm\"", "f.toml:7:1: mold.register_back.clearance = 1.27 mm: 25 times more than usual: a millimeter value written in inches? Usual is about 0.05 mm"},
	} {
		j, warnings, err := Parse("f.toml", []byte(sound90+c.add))
		if err != nil || j == nil {
			t.Errorf("%q: %v", c.add, err)
		}
		if got := warnings.Error(); got != c.want {
			t.Errorf("%q:\n%s\nwant\n%s", c.add, got, c.want)
		}
	}
}
