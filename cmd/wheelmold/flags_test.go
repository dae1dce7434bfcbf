package main

import (
	"slices"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// The finest tolerance follows the larger of diameter and width, and never forbids small
// wheels what the flag allows.
func TestFinestTolerance(t *testing.T) {
	for _, x := range []struct{ diameter, width, want float64 }{{500, 600, 0.006}, {280, 125, 0.0028}, {200, 60, 0.002}, {109.9, 40, 0.001}, {44, 20, 0.0004}} {
		j := &params.Job{Wheel: params.Wheel{Diameter: x.diameter, Width: x.width}}
		if got := finest(j); got != x.want {
			t.Errorf("%g x %g mm: %g mm, want %g mm", x.diameter, x.width, got, x.want)
		}
	}
}

// Completion offers the pieces of every way to split a mold, and none that there is not.
func TestPieceNames(t *testing.T) {
	var all []string
	for _, w := range params.Ways() {
		sets := []string{"wheel.diameter=90mm"} // room for corners of all ways
		for _, s := range w.Settings() {
			sets = append(sets, s.String())
		}
		m, err := mold.New(moldtest.Example(t, "wren", sets...))
		if err != nil {
			t.Fatalf("%v: %v", w, err)
		}
		for _, p := range m.Pieces {
			all = append(all, p.Name)
		}
	}
	slices.Sort(all)
	if got, want := slices.Sorted(slices.Values(pieceNames)), slices.Compact(all); !slices.Equal(got, want) {
		t.Errorf("offered are %v, and molds are made of %v", got, want)
	}
}
