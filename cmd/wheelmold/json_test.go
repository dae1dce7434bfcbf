package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// slow keeps a test from the race detector, under which it takes minutes; it runs without
// -short.
func slow(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("takes minutes under the race detector")
	}
}

// keysOf lists every key of a JSON value with its type, arrays by their elements.
func keysOf(v any, path string, into map[string]string) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			keysOf(x, path+"."+k, into)
		}
	case []any:
		into[path] = "array"
		for _, x := range v {
			keysOf(x, path+"[]", into)
		}
	case string:
		into[path] = "string"
	case bool:
		into[path] = "bool"
	case float64:
		into[path] = "number"
	default:
		into[path] = "null"
	}
}

// Programs read the JSON: within a version, no key goes away or changes its type.
// The golden file is the promise; -update adds to it.
func TestJSONKeys(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "wren.toml")
	dir := filepath.Join(t.TempDir(), "out")
	log := logged(t, job)
	for name, args := range map[string][]string{
		// Without vents there is a warning, and base and lid are too large for the bed.
		"check": {"check", job, "--json", "--set", "mold.vents.count=0", "--set", "process.name=filament", "--set", "printing.bed_x=150mm", "--set", "printing.bed_y=70mm"},
		// Tilted, air stays; of two hardnesses, there is a blend.
		"pour":     {"pour", job, "--json", "--set", "pour.tilt=8deg", "--set", "pour.blend.with=80", "--set", "pour.kit.mass=1kg"},
		"build":    {"build", job, "--json", "--set", "mold.vents.count=0", "--set", "process.name=filament", "--set", "printing.bed_x=150mm", "--set", "printing.bed_y=70mm", "-o", dir, "--tolerance", "0.1mm"},
		"manifest": nil,
		// Nothing is cut but from the parting faces, so that faces are hidden.
		"shop":  {"shop", filepath.Join("..", "..", "examples", "albatross.toml"), "--json", "--set", "machining.shells_from=inside", "--set", "mold.bolts.nut=hex", "-o", dir + "3"},
		"log":   {"log", log, "--json"},
		"learn": {"log", log, "--learn", "--json"},
		// One row of each fails.
		"sweep":   {"sweep", job, "--format", "json", "--set", "wheel.diameter=5mm,44mm", "--set", "mold.vents.count=0", "--set", "pour.kit.mass=1kg"},
		"compare": {"compare", job, "--format", "json", "--set", "mold.vents.count=0", "--set", "hub.length=5/8 in"},
	} {
		t.Run(name, func(t *testing.T) {
			if name == "shop" || name == "sweep" || name == "compare" {
				slow(t)
			}
			var out, messages bytes.Buffer
			if args == nil {
				args = []string{"build", job, "-o", dir + "2", "--set", "name=x", "--only", "hub", "--tolerance", "0.1mm"}
			}
			if code := run(context.Background(), args, streams{strings.NewReader(""), &out, &messages}); code != exitDone {
				t.Fatalf("exit code %d: %s", code, &messages)
			}
			text := out.Bytes()
			if name == "manifest" {
				var err error
				if text, err = os.ReadFile(filepath.Join(dir+"2", "manifest.json")); err != nil {
					t.Fatal(err)
				}
			}
			var v any
			if err := json.Unmarshal(text, &v); err != nil {
				t.Fatalf("%v in %s", err, text)
			}
			keys := map[string]string{}
			keysOf(v, "", keys)
			var lines []string
			for k, kind := range keys {
				lines = append(lines, k+" "+kind)
			}
			slices.Sort(lines)
			golden(t, filepath.Join("testdata", "json", name+".keys"), strings.Join(lines, "\n")+"\n")
		})
	}
}

// logged copies a job, writes down a cast of it, figures invented, and damages the log.
func logged(t *testing.T, job string) string {
	t.Helper()
	text, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "wheel.toml")
	if err := os.WriteFile(path, text, 0o666); err != nil {
		t.Fatal(err)
	}
	var messages bytes.Buffer
	args := []string{"log", path, "--date", "2026-05-01", "--left", "6.5 g", "--flash", "0.4 g", "--flash-thickness", "0.1 mm", "--diameter", "41.1 mm", "--result", "good"}
	if code := run(context.Background(), args, streams{strings.NewReader(""), &messages, &messages}); code != exitDone {
		t.Fatalf("exit code %d: %s", code, &messages)
	}
	casts, err := os.OpenFile(strings.TrimSuffix(path, "toml")+"casts", os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer casts.Close()
	if _, err := casts.WriteString("date=2026-05-02 kind=cast resi"); err != nil {
		t.Fatal(err)
	}
	return path
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; got:\n%s", path, got)
	}
}

// Every key of the promise is explained in JSON.md, by its name in code letters; those of
// a sweep that name a value of the job are explained where jobs are.
func TestJSONIsExplained(t *testing.T) {
	text, err := os.ReadFile("JSON.md")
	if err != nil {
		t.Fatal(err)
	}
	promises, err := filepath.Glob(filepath.Join("testdata", "json", "*.keys"))
	if err != nil || len(promises) < 6 {
		t.Fatalf("only %d promises: %v", len(promises), err)
	}
	for _, path := range promises {
		keys, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(keys)) {
			key, _, _ := strings.Cut(line, " ")
			if strings.HasPrefix(key, ".rows[].values.wheel.") {
				continue
			}
			last := strings.TrimRight(key[strings.LastIndex(key, ".")+1:], "[]")
			if !regexp.MustCompile("`([a-z0-9_.]+\\.)?" + last + "(\\[\\])?`").Match(text) {
				t.Errorf("%s: %s is not explained", filepath.Base(path), key)
			}
		}
	}
}
