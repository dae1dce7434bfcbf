package main

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
)

// Of a coarse mesh of the reference solid: chords of 0.1 mm take 4e-4 of its volume at
// most, the fewest cells of a renderer 1e-3.
const (
	coarse       = "0.1" // mm
	coarseVolume = 2e-3  // relative
)

// check makes the reference solid once by every way, coarsely, and fails unless each has
// nearly its volume, and is closed where a tolerance was asked for.
func (b *bench) check(w *strings.Builder) error {
	tried := map[string]bool{}
	var list []*result
	for _, m := range makers(reference) {
		if tried[m.name] {
			continue // with more cells
		}
		tried[m.name] = true
		if m.fine == tolerance {
			m.fine, m.detail = coarse, coarse+" mm"
		}
		r := &result{maker: m, out: filepath.Join(b.scratch, fmt.Sprint(len(list), ".f64"))}
		if err := b.makeOnce(r, reference, 1, true); err != nil {
			return err
		}
		list = append(list, r)
	}
	if err := b.measureAll(reference, list); err != nil {
		return err
	}
	for _, r := range list {
		if err := r.sound(); err != nil {
			return err
		}
		fmt.Fprintf(w, "%s, %s: volume off by %.0e\n", r.name, r.detail, r.Volume)
	}
	return nil
}

// sound says what is wrong with a coarse mesh.
func (r *result) sound() error {
	if !(math.Abs(r.Volume) < coarseVolume) {
		return fmt.Errorf("%s, %s: volume off by %.1e of the closed form, at most %g", r.name, r.detail, r.Volume, coarseVolume)
	}
	if r.fine == coarse && r.Faults > 0 {
		return fmt.Errorf("%s, %s: %d sides of facets are not closed", r.name, r.detail, r.Faults)
	}
	return nil
}
