package params

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func ownClasses(t *testing.T) []*Class {
	t.Helper()
	classes, err := ReadClasses(ClassTableName, ClassTable)
	if err != nil {
		t.Fatal(err)
	}
	return classes
}

// Limits are terms of the trade, in grams or in pounds of 453.59237 g, and no two
// classes lie so close that a mass could mean both.
func TestClassLimits(t *testing.T) {
	const lb = 453.59237
	want := map[string]float64{
		"75g": 75, "150g": 150, "1lb": lb, "1kg": 1000, "3lb": 3 * lb, "6lb": 6 * lb, "12lb": 12 * lb, "15lb": 15 * lb,
		"30lb": 30 * lb, "60lb": 60 * lb, "120lb": 120 * lb, "220lb": 220 * lb, "250lb": 250 * lb, "340lb": 340 * lb,
	}
	classes := ownClasses(t)
	if len(classes) != len(want) {
		t.Errorf("%d classes, want %d", len(classes), len(want))
	}
	last := 0.0
	for _, c := range classes {
		g := c.Limit.Base()
		if math.Abs(g-want[c.Name]) > 1e-9*g {
			t.Errorf("%s: %v g, want %v", c.Name, g, want[c.Name])
		}
		if g*(1-sameLimit) <= last*(1+sameLimit) {
			t.Errorf("%s: %v g is too close to %v g before it", c.Name, g, last)
		}
		last = g
	}
}

// Every class is a job that a builder can start from as it stands.
func TestClassJobsRaiseNoWarning(t *testing.T) {
	splits := map[string]bool{}
	for _, c := range ownClasses(t) {
		j, warnings, err := c.Job()
		if err != nil || warnings != nil {
			t.Errorf("%s: %v, %v", c.Name, err, warnings)
			continue
		}
		splits[j.Mold.Split] = true
		// What is written is the same job: nothing that the class states is lost.
		var text strings.Builder
		if err := Write(&text, j); err != nil {
			t.Fatal(err)
		}
		again, _, err := Parse(c.Name, []byte(text.String()))
		if err != nil {
			t.Errorf("%s: written: %v", c.Name, err)
			continue
		}
		for _, k := range table {
			for i := range k.len(j) {
				if k.len(again) <= i || k.get(again, i) != k.get(j, i) {
					t.Errorf("%s: %s is not what it was", c.Name, k.label(i))
				}
			}
		}
	}
	for _, s := range Splits {
		if !splits[s] {
			t.Errorf("no class shows the split %q", s)
		}
	}
}

// A class's robot is as heavy as its limit allows, as written too, unless the class or a
// setting states its mass.
func TestClassRobotWeighsItsLimit(t *testing.T) {
	for _, c := range ownClasses(t) {
		j, _, err := c.Job()
		if err != nil || j.Duty.Mass != c.Limit.Base() {
			t.Errorf("%s: %v g, want %v; %v", c.Name, j.Duty.Mass, c.Limit.Base(), err)
		}
		if j, _, err = c.Job(Setting{Key: "duty.mass", Value: "70 g"}); err != nil || j.Duty.Mass != 70 {
			t.Errorf("%s: %v g with a setting of 70 g; %v", c.Name, j.Duty.Mass, err)
		}
	}
	const light = "[[class]]\nname = \"x\"\nlimit = \"3 lb\"\n[class.job]\nwheel.diameter = \"60 mm\"\nwheel.width = \"20 mm\"\nhub.bore = \"6 mm\"\nprocess.name = \"filament\"\nduty.mass = \"1 kg\"\n"
	own, err := ReadClasses("x", []byte(light))
	if err != nil {
		t.Fatal(err)
	}
	if j, _, err := own[0].Job(); err != nil || j.Duty.Mass != 1000 {
		t.Errorf("%v g although the class states 1 kg; %v", j.Duty.Mass, err)
	}
}

// From wheels of 150 mm on every class's mold has jack screws, as the default has it.
func TestClassMoldsHaveJackScrews(t *testing.T) {
	for _, c := range ownClasses(t) {
		j, _, err := c.Job()
		if err != nil || (j.Mold.Jacks.Size != "none") != (j.Wheel.Diameter >= 150) {
			t.Errorf("%s, %g mm: jack screws %s; %v", c.Name, j.Wheel.Diameter, j.Mold.Jacks.Size, err)
		}
	}
}

// A heavier robot gets no smaller wheel.
func TestClassWheelsGrow(t *testing.T) {
	d, w := 0.0, 0.0
	for _, c := range ownClasses(t) {
		j, _, err := c.Job()
		if err != nil {
			t.Fatal(err)
		}
		if j.Wheel.Diameter <= d || j.Wheel.Width <= w && j.Wheel.Width < 32 {
			t.Errorf("%s: %v x %v mm after %v x %v", c.Name, j.Wheel.Diameter, j.Wheel.Width, d, w)
		}
		d, w = j.Wheel.Diameter, j.Wheel.Width
	}
}

func TestFindClass(t *testing.T) {
	classes := ownClasses(t)
	for word, want := range map[string]string{
		"3lb": "3lb", "3 lb": "3lb", "3-LBS": "3lb", "3 pounds": "3lb", "beetle": "3lb", "Beetleweight": "3lb", "beetle weight": "3lb",
		"1.36 kg": "3lb", "1.5 kg": "3lb", "48 oz": "3lb", "ant": "1lb", "454 g": "1lb", "fairy": "150g", "UK ant": "150g", "150 grams": "150g", "0.15 kg": "150g",
		"1000 g": "1kg", "kilo": "1kg", "1 kilogram": "1kg", "lightweight": "60lb", "super-heavy weight": "340lb", "100 kg": "220lb", "113.4 kg": "250lb",
	} {
		c := FindClass(classes, word)
		if c == nil || c.Name != want {
			t.Errorf("%q: %v, want %s", word, c, want)
		}
	}
	for word, want := range map[string]string{"beetel": "beetle", "3kb": "3lb", "hobyy": "hobby", "locust": "", "2 lb": "", "": ""} {
		if c := FindClass(classes, word); c != nil {
			t.Errorf("%q: found %s", word, c.Name)
		}
		if got := NearestClass(classes, word); got != want {
			t.Errorf("%q: nearest %q, want %q", word, got, want)
		}
	}
}

// Settings override what the class states, and leave the class as it was.
func TestClassSettings(t *testing.T) {
	c := FindClass(ownClasses(t), "3lb")
	j, _, err := c.Job(Setting{Key: "wheel.diameter", Value: "70 mm"}, Setting{Key: "process.name", Value: "resin"})
	if err != nil {
		t.Fatal(err)
	}
	if j.Wheel.Diameter != 70 || j.Process.Name != "resin" {
		t.Errorf("diameter %v, process %q", j.Wheel.Diameter, j.Process.Name)
	}
	again, _, err := c.Job()
	if err != nil || again.Wheel.Diameter != 63.5 || again.Process.Name != "filament" {
		t.Errorf("afterward: diameter %v, process %q, %v", again.Wheel.Diameter, again.Process.Name, err)
	}
	_, _, err = c.Job(Setting{Key: "hub.bore", Value: "9 in"})
	var faults Faults
	if !errors.As(err, &faults) || faults[0].Path != "hub.bore" || faults[0].File != "--set" {
		t.Errorf("fault %v", err)
	}
}

const faultyTable = `stray = 1

[[class]]
name = "a b"
limit = 3
color = "red"

[class.job]
wheel.diameter = "60"
wheel.widht = "20 mm"
hub.bore = "6 mm"

[[class]]
name = "two"
also = ["2lb", 2]
limmit = "2 lb"

[class.job]
wheel.diameter = "60 mm"
wheel.width = "20 mm"
hub.bore = "59 mm"

[[class]]
also = ["Two-weight"]
limit = "3 mm"
[class.job]
wheel.width = "20 mm"
hub.bore = "6 mm"
[class.wheel]
`

// Everything wrong with an edited table is told at once, where it stands.
func TestClassFaults(t *testing.T) {
	_, err := ReadClasses("edited.toml", []byte(faultyTable))
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatalf("%v is no list of faults", err)
	}
	want := []struct{ at, says string }{
		{"edited.toml:1:1", "belongs to no class"},
		{"edited.toml:4:1", "no plain name"},
		{"edited.toml:5:1", "has no unit"},
		{"edited.toml:6:1", "unknown key"},
		{"edited.toml:9:7", `has no unit: write "60 mm"`},
		{"edited.toml:10:7", "did you mean wheel.width?"},
		{"edited.toml:15:1", "put it in quotes"},
		{"edited.toml:16:1", "did you mean limit?"},
		{"edited.toml:21:5", "hub.bore = 59 mm: allowed 1 mm to"},
		{"edited.toml:23:3", "class.name: missing"},
		{"edited.toml:23:3", "means a class twice, first in line 13"},
		{"edited.toml:23:3", `write wheel.diameter = "90 mm" under [class.job]`},
		{"edited.toml:25:1", "is a length, not a mass"},
		{"edited.toml:29:8", "unknown section"},
	}
	got := slices.Clone(faults)
	for _, w := range want {
		i := slices.IndexFunc(got, func(f Fault) bool {
			return strings.HasPrefix(f.Error(), w.at+": ") && strings.Contains(f.Error(), w.says)
		})
		if i < 0 {
			t.Errorf("nothing says %q at %s", w.says, w.at)
			continue
		}
		got = slices.Delete(got, i, i+1)
	}
	for _, f := range got {
		t.Errorf("unexpected: %s", f.Error())
	}
	if !slices.IsSortedFunc(faults, func(a, b Fault) int { return a.Line - b.Line }) {
		t.Errorf("not in the order of the file:\n%v", faults)
	}
}

// A class's name is a folder's on any system, and what it is called by can be told on
// a command line: neither taken nor empty.
func TestClassNames(t *testing.T) {
	read := func(name, also string) error {
		_, err := ReadClasses("x.toml", []byte("[[class]]\nname = \""+name+"\"\nalso = ["+also+"]\nlimit = \"3 lb\"\n[class.job]\nwheel.diameter = \"60 mm\"\nwheel.width = \"20 mm\"\nhub.bore = \"6 mm\"\n"))
		return err
	}
	for _, name := range []string{"3lb", "con1", "com", "con-x", "console", "com12", "COM-1", "allround", "x-", strings.Repeat("x", 30)} {
		if err := read(name, `"ant", "small weight"`); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
	for _, c := range []struct{ name, also, says string }{
		{"CON", "", "Windows"}, {"nul", "", "Windows"}, {"Lpt1", "", "Windows"}, {"com0", "", "Windows"},
		{"-force", "", "flag"}, {strings.Repeat("x", 31), "", "has 31 letters"}, {"a.b", "", "no plain name"}, {"", "", "no plain name"},
		{"all", "", "every class"}, {"ALL", "", "every class"}, {"weight", "", "says nothing"},
		{"x", `"ant", "all"`, `has "all", which means every class`}, {"x", `" ", "ant"`, `has " ", which says nothing`},
		{"x", `"weight"`, `has "weight", which says nothing`}, {"x", `""`, "says nothing"},
	} {
		err := read(c.name, c.also)
		var faults Faults
		if !errors.As(err, &faults) || len(faults) != 1 || !strings.Contains(faults[0].Error(), c.says) {
			t.Errorf("%q, %s: got %v, want %q", c.name, c.also, err, c.says)
		}
	}
}

// A class that cannot be told from the rest of its file is no class.
func TestClassTableThatIsNone(t *testing.T) {
	for src, says := range map[string]string{
		"":                                    "no class in it",
		"[[class]\nname = \"x\"":              "not TOML",
		"[[class]]\nname = \"x\"\nname = 1\n": "stated twice, first in line 2",
		"[class]\nname = \"x\"":               "unknown section",
		"[[class]]\nname = \"x\"\nlimit = \"-3 lb\"\n[class.job]\nwheel.diameter = \"60 mm\"\nwheel.width = \"20 mm\"\nhub.bore = \"6 mm\"": "no mass above 0",
	} {
		if classes, err := ReadClasses("x.toml", []byte(src)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, %v", src, classes, err)
		}
	}
}

// A class's mold that is made in another way has no coats and stock of the way that the
// class states; its wheel and split stay.
func TestClassInAnotherProcess(t *testing.T) {
	classes, err := ReadClasses(ClassTableName, ClassTable)
	if err != nil {
		t.Fatal(err)
	}
	c := FindClass(classes, "30lb")
	own, _, err := c.Job()
	if err != nil || own.Mold.Coats.Count == 0 || own.Mold.Mating.Stock == 0 || own.Printing.Fill != "walled" {
		t.Fatalf("the class's own mold has no coats, stock or walls: %+v, %v", own.Mold.Coats, err)
	}
	milled, _, err := c.Job(Setting{Key: "process.name", Value: "milled"})
	if err != nil || milled.Mold.Coats.Count != 0 || milled.Mold.Mating.Stock != 0 || milled.Printing.Fill != "solid" {
		t.Errorf("milled: coats %+v, stock %v, %s, %v", milled.Mold.Coats, milled.Mold.Mating.Stock, milled.Printing.Fill, err)
	}
	if milled.Wheel.Diameter != own.Wheel.Diameter || milled.Mold.Split != own.Mold.Split || milled.Process.Name != "milled" {
		t.Errorf("milled: another wheel or split: %+v", milled.Wheel)
	}
	same, _, err := c.Job(Setting{Key: "process.name", Value: own.Process.Name})
	if err != nil || same.Mold.Coats.Count != own.Mold.Coats.Count {
		t.Errorf("in its own process: coats %+v, %v", same.Mold.Coats, err)
	}
	kept, _, err := c.Job(Setting{Key: "process.name", Value: "milled"}, Setting{Key: "mold.coats.count", Value: "1"})
	if err != nil || kept.Mold.Coats.Count != 1 {
		t.Errorf("asked for: coats %+v, %v", kept.Mold.Coats, err)
	}
}
