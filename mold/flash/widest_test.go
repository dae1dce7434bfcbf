package flash

import "testing"

// Flash is measured between pieces of the mold, however wide the gap at the hub is.
func TestWidestIsBetweenPieces(t *testing.T) {
	line := func(name, other string, gap float64) Line {
		return Line{Name: name, Pieces: []string{"lid", other}, Gap: Gap{Expected: gap}}
	}
	e := Estimate{Lines: []Line{line("lid/hub", "hub", 0.09), line("lid/shells", "shell-a", 0.02), line("base/shells", "shell-a", 0.03)}}
	if got := e.Widest(); got == nil || got.Name != "base/shells" {
		t.Errorf("%+v", got)
	}
	if got := (&Estimate{}).Widest(); got != nil {
		t.Errorf("%+v", got)
	}
}
