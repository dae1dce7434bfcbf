package main

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// placesIn lists the places in a package of one file.
func placesIn(t *testing.T, text string) []site {
	t.Helper()
	t.Chdir(t.TempDir())
	write(t, map[string]string{"go.mod": "module m\n\ngo 1.26\n", "a.go": text})
	packages, err := list(".")
	if err != nil {
		t.Fatal(err)
	}
	e, err := exported(".")
	if err != nil {
		t.Fatal(err)
	}
	sites, err := find(packages[0], e)
	if err != nil {
		t.Fatal(err)
	}
	return sites
}

// One place of each sort, none where a fault could not compile or would only change a
// text, and other comparisons for real numbers than for integers.
func TestFind(t *testing.T) {
	sites := placesIn(t, `package a

import "math"

const step = 0.5

type at [3]int

func F(x float64, n int, s string) bool {
	x += 2 * -step
	s = "a" + s
	return !(x <= 1e3) && math.Max(x, 0.0) == x || n%7 <= min(n, 0x10)
}
`)
	var got []string
	for _, s := range sites {
		got = append(got, s.is)
		if s.function != "F" && s.line > 7 || s.function != "" && s.line <= 7 {
			t.Errorf("line %d is in function %q", s.line, s.function)
		}
	}
	const last = `return !(x <= 1e3) && math.Max(x, 0.0) == x || n%7 <= min(n, 0x10)`
	want := []string{"const step = 0.505", "type at [4]int", "x -= 2 * -step", "x += 2 / -step", "x += 3 * -step", "x += 2 * step"}
	for _, swap := range []string{"|| → &&", "&& → ||", "! → ", "x <= → x >", "1e3 → 1010.0", "== → !=", "Max → Min", "0.0 → 1.0", "n%7 <= → n%7 <", "7 → 8", "min → max", "0x10 → 17"} {
		old, instead, _ := strings.Cut(swap, " → ")
		want = append(want, strings.Replace(last, old, instead, 1))
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Every package has its fault, the rest goes by size, and none has more than it can hold.
func TestApportion(t *testing.T) {
	for _, c := range []struct {
		places []int
		n      int
		want   []int
	}{
		{[]int{10, 10}, 4, []int{2, 2}},
		{[]int{90, 10}, 12, []int{10, 2}},
		{[]int{5, 1, 1}, 2, []int{1, 1, 1}},
		{[]int{60, 30, 10}, 8, []int{4, 3, 1}},
		{[]int{100, 1}, 60, []int{58, 1}},
	} {
		if got := apportion(c.places, c.n); !slices.Equal(got, c.want) {
			t.Errorf("%d among %v: %v, want %v", c.n, c.places, got, c.want)
		}
	}
}

const sound = "package a\n\nfunc F(x int) int { return -x + 2*x - 7 }\n"

// The choice follows from the seed, begins with one fault of each sort, and does not
// move with the lines.
func TestRank(t *testing.T) {
	order := func(text string, seed int) (is []string) {
		ranked := rank(placesIn(t, text), seed)
		for i, want := range []sort{operator, constant, sign} {
			if ranked[i].sort != want {
				t.Errorf("seed %d: place %d is of sort %d", seed, i, ranked[i].sort)
			}
		}
		for _, s := range ranked {
			is = append(is, s.is)
		}
		return is
	}
	first := order(sound, 1)
	if moved := order(strings.Replace(sound, "\n\n", "\n\n// F does.\n", 1), 1); !slices.Equal(first, moved) {
		t.Errorf("%q became %q", first, moved)
	}
	if !slices.ContainsFunc([]int{2, 3, 4, 5, 6, 7, 8, 9}, func(seed int) bool { return !slices.Equal(first, order(sound, seed)) }) {
		t.Error("the seed changes nothing")
	}
}

func write(t *testing.T, files map[string]string) {
	t.Helper()
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

const listed = "testdata/mutate/equivalent.txt"

// A small module: a has tests that see all but a sign, which only those of b see; c has
// a loop that a fault makes endless; d and e2etest are not held by any.
func module(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	write(t, map[string]string{
		"go.mod":         "module m\n\ngo 1.26\n",
		"a/a.go":         "package a\n\nfunc Twice(x int) int { return x * 2 }\n\nfunc Minus(x int) int { return -x }\n",
		"a/a_test.go":    "package a\n\nimport \"testing\"\n\nfunc TestTwice(t *testing.T) {\n\tif Twice(3) != 6 || Minus(0) != 0 {\n\t\tt.Fail()\n\t}\n}\n",
		"b/b_test.go":    "package b\n\nimport (\n\t\"testing\"\n\n\t\"m/a\"\n)\n\nfunc TestMinus(t *testing.T) {\n\tif a.Minus(3) > 0 {\n\t\tt.Fail()\n\t}\n}\n",
		"c/c.go":         "package c\n\nfunc Wait(x bool) {\n\tfor !x {\n\t}\n}\n",
		"c/c_test.go":    "package c\n\nimport \"testing\"\n\nfunc TestWait(t *testing.T) { Wait(true) }\n",
		"d/d.go":         "package d\n\nfunc Flip(x bool) bool { return !x }\n",
		"atest/atest.go": "package atest\n\nconst Three = 3\n",
		listed:           "# None.\n",
	})
}

// attempt plants all faults of some packages of the module.
func attempt(t *testing.T, again bool, patterns ...string) (enough bool, report string) {
	t.Helper()
	var b strings.Builder
	s := settings{faults: 100, seed: 1, least: 100, importers: again, limit: time.Minute, grace: 5 * time.Second, skip: regexp.MustCompile("test$"), patterns: patterns}
	enough, err := mutate(context.Background(), s, &b)
	if err != nil {
		t.Fatal(err)
	}
	return enough, b.String()
}

// What the tests see is caught, by name; what they do not see survives, unless others
// are asked or it is listed.
func TestMutate(t *testing.T) {
	module(t)
	check := func(what string, enough, want bool, report string, says ...string) {
		t.Helper()
		if enough != want {
			t.Errorf("%s: enough is %v", what, enough)
		}
		for _, s := range says {
			if !strings.Contains(report, s) {
				t.Errorf("%s: no %q in\n%s", what, s, report)
			}
		}
	}
	enough, report := attempt(t, false, "./a", "./atest")
	check("own tests", enough, false, report, "return x / 2", "caught by m/a TestTwice", "SURVIVED", "left out: m/atest", "planted 3, caught 2 (66.7 %), survived 1")
	enough, report = attempt(t, true, "./a")
	check("importers", enough, true, report, "caught by m/b TestMinus", "planted 3, caught 3 (100.0 %)")
	enough, report = attempt(t, false, "./c")
	check("endless", enough, true, report, "caught by m/c TestWait, which does not end", "planted 1, caught 1")
	enough, report = attempt(t, false, "./d")
	check("untested", enough, false, report, "SURVIVED", "\nd/d.go Flip\n- func Flip(x bool) bool { return !x }\n+ func Flip(x bool) bool { return x }\n")
	write(t, map[string]string{listed: "a/a.go Minus\n- func Minus(x int) int { return -x }\n+ func Minus(x int) int { return x }\nHolds for zero.\n"})
	enough, report = attempt(t, false, "./a")
	check("listed", enough, true, report, "equivalent: Holds for zero.", "planted 2, caught 2", "listed as equivalent 1")
}

// Faults without tests that pass by themselves would tell nothing, nor would a list that
// no longer belongs to the code.
func TestMutateRefuses(t *testing.T) {
	refused := func(what, says string) {
		t.Helper()
		s := settings{faults: 1, limit: time.Minute, skip: regexp.MustCompile("test$"), patterns: []string{"./a"}}
		_, err := mutate(context.Background(), s, &strings.Builder{})
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", what, err)
		}
	}
	module(t)
	write(t, map[string]string{listed: "a/a.go Minus\n- func Minus(x int) int { return x }\n+ func Minus(x int) int { return -x }\nGone.\n"})
	refused("stale entry", "does not hold")
	write(t, map[string]string{listed: "gone.go F\n- x\n+ y\nGone.\n"})
	refused("entry of a file that is gone", "gone.go")
	write(t, map[string]string{listed: "a/a.go Minus\n- x\n+ y\n"})
	refused("entry without a reason", "before line 4: want four lines")
	write(t, map[string]string{listed: "", "a/b_test.go": "package a\n\nimport \"testing\"\n\nfunc TestFails(t *testing.T) { t.Fail() }\n"})
	refused("failing tests", "m/a fail without a fault")
	write(t, map[string]string{"a/c.go": "package a\n\nconst Broken = x\n"})
	refused("broken code", "undefined: x")
}

// The list belongs to the code as it stands.
func TestListIsOfThisCode(t *testing.T) {
	t.Chdir(filepath.Join("..", ".."))
	packages, err := list("./...")
	if err != nil {
		t.Fatal(err)
	}
	lists, _, err := findAll(packages, settings{skip: regexp.MustCompile("^$"), patterns: []string{"./..."}})
	if err != nil {
		t.Fatal(err)
	}
	known, err := readEquivalent(filepath.FromSlash(listed))
	if err != nil {
		t.Fatal(err)
	}
	if len(known) == 0 {
		t.Error("the list holds nothing")
	}
	for _, says := range known.unused(".", lists) {
		t.Errorf("no place in the code for\n%s", says)
	}
}
