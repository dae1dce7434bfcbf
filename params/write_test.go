package params

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func written(t interface{ Fatal(...any) }, j *Job) []byte {
	var b bytes.Buffer
	if err := Write(&b, j); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// survives reports how a job differs after being written and read, or "".
func survives(t interface{ Fatal(...any) }, j *Job) string {
	src := written(t, j)
	back, _, err := Parse("job.toml", src)
	if err != nil {
		return err.Error() + "\n" + string(src)
	}
	if !reflect.DeepEqual(j, back) {
		return string(src)
	}
	return ""
}

func TestWriteRoundTrip(t *testing.T) {
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		if diff := survives(t, readExample(t, name)); diff != "" {
			t.Errorf("%s changed:\n%s", name, diff)
		}
	}
	j := busy(t)
	j.Name, j.Mold.Engraving.Text = `5" \ wheel "µ"`, ""
	if diff := survives(t, j); diff != "" {
		t.Errorf("the busy job changed:\n%s", diff)
	}
	j.Hub.Grooves, j.Wheel.Grooves = nil, nil
	if diff := survives(t, j); diff != "" {
		t.Errorf("without grooves changed:\n%s", diff)
	}
	j.Wheel.Diameter = -1
	if err := Write(new(bytes.Buffer), j); err == nil || !strings.Contains(err.Error(), "wheel.diameter = -1 mm") {
		t.Errorf("a bad job was written: %v", err)
	}
}

// Random values within their ranges: whatever job comes out valid must survive
// the file to the last bit.
func TestWriteRoundTripOfRandomJobs(t *testing.T) {
	valid := 0
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(25, 400).Draw(t, "diameter")
		s := stated{
			{"wheel.diameter", 0}: d,
			{"wheel.width", 0}:    max(6, d*rapid.Float64Range(0.12, 0.8).Draw(t, "width")),
			{"hub.bore", 0}:       d * rapid.Float64Range(0.05, 0.4).Draw(t, "bore"),
		}
		j, _, _ := resolve(s)
		for range rapid.IntRange(0, 6).Draw(t, "changes") {
			k := rapid.SampledFrom(table).Draw(t, "key")
			if k.len(j) == 0 {
				continue
			}
			lo, hi := k.Range(j)
			switch k.Kind {
			case Word:
				s[ref{k.Path, 0}] = rapid.SampledFrom(k.Options).Draw(t, "word")
			case Text:
				s[ref{k.Path, 0}] = rapid.StringOfN(rapid.RuneFrom([]rune(`ab "\'#=[µ`)), 0, 12, -1).Draw(t, "text")
			case Count, Tables:
				s[ref{k.Path, 0}] = rapid.IntRange(int(lo), int(min(hi, 6))).Draw(t, "count")
			default:
				usual := k.typical(j, 0)
				s[ref{k.Path, 0}] = clamp(usual*rapid.Float64Range(0.9, 1.1).Draw(t, "factor"), lo, max(lo, hi))
			}
		}
		j, faults, strained := resolve(s)
		if faults != nil || strained != nil || j.clashes() != nil {
			return
		}
		valid++
		if faults := j.Validate(); faults != nil {
			t.Fatalf("resolved without fault, but not valid:\n%v", faults)
		}
		if diff := survives(t, j); diff != "" {
			t.Fatalf("changed:\n%s", diff)
		}
	})
	if valid < 10 {
		t.Errorf("only %d random jobs were valid", valid)
	}
}

// A job made in code may hold anything: no value makes Validate panic or hang,
// and what it accepts can be written.
func TestValidateSurvivesHostileJobs(t *testing.T) {
	numbers := []float64{0, -1, 1, 0.5, 1e-300, 1e300, math.NaN(), math.Inf(1), math.Inf(-1), 25.4, 1000}
	counts := []int{0, 1, -1, 7, 64, math.MaxInt, math.MinInt}
	rapid.Check(t, func(t *rapid.T) {
		j, err := Default(rapid.SampledFrom([]float64{25, 90, 400}).Draw(t, "diameter"), 20, 6, "resin")
		if err != nil {
			t.Fatal(err)
		}
		if n := rapid.IntRange(0, 3).Draw(t, "grooves"); n > 0 {
			j.Wheel.Grooves = make([]Groove, n)
		}
		for range rapid.IntRange(1, 8).Draw(t, "changes") {
			k := rapid.SampledFrom(table).Draw(t, "key")
			for i := range k.len(j) {
				switch k.slot.at(j, i).(type) {
				case *float64:
					k.set(j, i, rapid.SampledFrom(numbers).Draw(t, "number"))
				case *int:
					k.set(j, i, rapid.SampledFrom(counts).Draw(t, "count"))
				case *string:
					k.set(j, i, rapid.SampledFrom(append(k.Options, "", "\x00", "bore")).Draw(t, "word"))
				}
			}
		}
		for _, f := range j.Validate() {
			if f.Path == "" || f.Cause == "" {
				t.Fatalf("a fault without path or cause: %+v", f)
			}
		}
		if j.Validate() == nil {
			if diff := survives(t, j); diff != "" {
				t.Fatalf("changed:\n%s", diff)
			}
		}
	})
}

// The file of three lengths: those three are active, and nothing else, so that
// another diameter derives the rest anew.
func TestWriteLeavesDefaultsToTheProgram(t *testing.T) {
	j, err := Default(90, 40, 12, "")
	if err != nil {
		t.Fatal(err)
	}
	src := string(written(t, j))
	var active []string
	for _, line := range strings.Split(src, "\n") {
		if line != "" && line[0] != '#' && line[0] != '[' {
			active = append(active, line)
		}
	}
	want := `diameter = "90 mm" # 3.5433 in|width = "40 mm" # 1.5748 in|bore = "12 mm" # 0.4724 in`
	if got := strings.Join(active, "|"); got != want {
		t.Errorf("active lines:\n%s\nwant\n%s", got, want)
	}
	larger, _, err := Parse("f.toml", bytes.Replace([]byte(src), []byte(`= "90 mm"`), []byte(`= "180 mm"`), 1))
	if err != nil {
		t.Fatal(err)
	}
	if want, _ := Default(180, 40, 12, ""); !reflect.DeepEqual(larger, want) {
		t.Errorf("another diameter gives\n%+v\nwant\n%+v", larger, want)
	}
}

// Every commented-out value is what it would be if it were stated: the file
// with all of them active is the same job.
func TestWriteDefaultsAreTrue(t *testing.T) {
	j, err := Default(90, 40, 12, "filament")
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, line := range strings.Split(string(written(t, j)), "\n") {
		if line == "#[[wheel.groove]]" {
			break // from here on a sample, until the next section
		}
		all = append(all, line)
	}
	src := string(written(t, j))
	src = strings.Join(all, "\n") + src[strings.Index(src, "\n[wheel.cross]"):]
	lines := strings.Split(src, "\n")
	for i, line := range lines {
		if len(line) > 1 && line[0] == '#' && line[1] != ' ' {
			lines[i] = line[1:]
		}
	}
	back, _, err := Parse("f.toml", []byte(strings.Join(lines, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(j, back) {
		t.Errorf("all values active:\n%+v\nwant\n%+v", back, j)
	}
}

// Whatever bytes come: either faults that name a value, or a job that is valid,
// finite, and survives being written.
func FuzzParse(f *testing.F) {
	files, _ := filepath.Glob("../examples/*.toml")
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(src)
	}
	for _, src := range []string{"", sound90, sound90 + "groove = []", sound90 + "[[wheel.groove]]\n[[wheel.groove]]\nshape='half-round'",
		sound90 + "lock_holes = {count = 4, depth = '2 mm'}", "wheel = {diameter = '3.5 in', width = '1 1/2 in'}\nhub.bore = '1/2 in'",
		sound90 + "[pour]\nparts_a = inf\nparts_b = 0x10", "a.b.c = [1, {d = 2}]\n[[x]]\n[x.y]"} {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		j, _, err := Parse("job.toml", src)
		if err != nil {
			faults, ok := err.(Faults)
			if !ok || len(faults) == 0 {
				t.Fatalf("an error without faults: %v", err)
			}
			for _, f := range faults {
				if f.Path == "" && !strings.HasPrefix(f.Cause, "not TOML") || f.Cause == "" || f.File == "" {
					t.Errorf("a fault without name or cause: %+v", f)
				}
			}
			return
		}
		for _, k := range table {
			for i := range k.len(j) {
				if v, ok := k.get(j, i).(float64); ok && (math.IsNaN(v) || math.IsInf(v, 0)) {
					t.Errorf("%s = %v", k.label(i), v)
				}
			}
		}
		if !(j.Wheel.Diameter > 0 && j.Wheel.Width > 0 && j.Hub.Bore > 0) {
			t.Errorf("%v x %v, bore %v", j.Wheel.Diameter, j.Wheel.Width, j.Hub.Bore)
		}
		if faults := j.Validate(); faults != nil {
			t.Fatalf("parsed, but not valid:\n%v", faults)
		}
		if diff := survives(t, j); diff != "" {
			t.Errorf("changed:\n%s", diff)
		}
	})
}
