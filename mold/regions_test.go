package mold

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/region/regiontest"
	"wheelmold/params"
)

// Random jobs, as they are, in other splits, and finished: every piece is read in regions
// that hold what is promised, cut and uncut, with the holes that the layout says.
func TestRegionsOfRandomJobs(t *testing.T) {
	plain := func(*params.Job, int64) []string { return nil }
	split := func(j *params.Job, k int64) []string { resplit(j, k); return nil }
	both := func(j *params.Job, k int64) []string { resplit(j, k); return finish(j, k) }
	for _, c := range []struct {
		first int64
		n     int
		alter func(*params.Job, int64) []string
		holes func(m *Mold, piece string) int
	}{
		{0, few(15, 4), plain, func(m *Mold, piece string) int { return (2 - m.euler(piece)) / 2 }},
		{1000, few(15, 4), split, (*Mold).handles},
		{5000, few(12, 4), both, nil},
	} {
		read := 0
		for k := c.first; read < c.n && k < c.first+20*int64(c.n); k++ {
			j, tags := randomJob(k)
			if j == nil {
				continue
			}
			tags = append(tags, c.alter(j, k)...)
			m, err := New(j)
			if err != nil {
				continue // refused for its dimensions
			}
			what := fmt.Sprintf("%s in %d, job %d %v", j.Mold.Split, j.Mold.Segments, k, tags)
			x, err := m.Check()
			if err != nil {
				t.Errorf("%s: %v", what, err)
				continue
			}
			read++
			for piece, b := range x.RawFaces {
				s := readRegions(t, what+", "+piece, b)
				if s == nil || c.holes == nil {
					continue
				}
				if want := 2 - 2*c.holes(m, piece); regiontest.Euler(s) != want || len(s.Shells) != 1 {
					t.Errorf("%s, %s: Euler number %d in %d shells, want %d in 1", what, piece, regiontest.Euler(s), len(s.Shells), want)
				}
			}
		}
		if read < c.n {
			t.Errorf("only %d jobs read", read)
		}
	}
}

// readRegions audits a boundary's regions, cut and uncut.
func readRegions(t *testing.T, what string, b *brep.Boundary) *region.Solid {
	s, err := region.Of(b)
	if err != nil {
		t.Errorf("%s: %v", what, err)
		return nil
	}
	cut, err := s.Cut()
	if err != nil {
		t.Errorf("%s: %v", what, err)
		return nil
	}
	regiontest.Audit(t, what, s)
	regiontest.Audit(t, what+", cut", cut)
	if regiontest.Euler(s) != regiontest.Euler(cut) || s.Counts() != cut.Counts() {
		t.Errorf("%s: cutting changed the solid", what)
	}
	for i := range s.Faces {
		if a, c := s.Area(i), cut.Area(i); !(a > 0) || math.Abs(a-c) > 1e-9*(a+1) {
			t.Errorf("%s: face %d has %.9f mm², cut %.9f", what, i, a, c)
		}
	}
	return s
}
