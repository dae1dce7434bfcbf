package main

import (
	"slices"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

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
