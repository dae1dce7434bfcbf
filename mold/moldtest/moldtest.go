// Package moldtest reads the example jobs for tests of the packages above mold.
package moldtest

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"wheelmold/mold"
	"wheelmold/params"
)

// Example reads an invented job of the examples, by name, with settings on top as on
// the command line.
func Example(t testing.TB, name string, sets ...string) *params.Job {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	src, err := os.ReadFile(filepath.Join(filepath.Dir(here), "../../examples", name+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := params.Parse(name, src, settings(t, sets)...)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// settings are those that a command line would state.
func settings(t testing.TB, sets []string) []params.Setting {
	t.Helper()
	var over []params.Setting
	for _, s := range sets {
		x, err := params.ParseSetting(s)
		if err != nil {
			t.Fatal(err)
		}
		over = append(over, x)
	}
	return over
}

// Checked lays a job's mold out and finds its exact boundaries.
func Checked(t testing.TB, j *params.Job) (*mold.Mold, *mold.Checked) {
	t.Helper()
	m, err := mold.New(j)
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.Check()
	if err != nil {
		t.Fatal(err)
	}
	return m, c
}
