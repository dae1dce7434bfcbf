// Package engrave draws an alphabet for cutting piece marks into mold pieces:
// capital letters, digits, space and - . / + _ as outlines to be extruded.
//
// It guarantees: every outline is closed, counter-clockwise and without a hole;
// no two touch, and they keep at least half a stroke apart, so that nothing is
// left between them that breaks; strokes have one width throughout, so that one
// cutter or nozzle makes them all; no two characters look alike; sides that run
// along or across the text lie on solid.Lattice.
//
// The alphabet is its own: bars and bowls of one width, bowls open where a
// stencil's would be. It has no lower case (mapped to capitals), no accents, no
// kerning, and no mirrored form: turn the frame instead.
package engrave

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"wheelmold/mesh/solid"
)

// LeastHeight is the smallest height of capitals that Text sets, mm. A normal eye
// reads letters that span 5' of arc; an engraving shows by its shadow alone, so
// twice that, at the one meter from a standing builder's eye to the bench:
// 1000 mm · tan 10' = 2.9 mm.
const LeastHeight = 3.0

// Strokes that Text sets, as parts of the height. Thicker ones fill the counters
// of 8 and 0; thinner ones look like scratches.
const (
	ThinnestStroke = 1. / 14
	ThickestStroke = 1. / 7
)

// Text returns the outlines of a line of text, in mm, with its baseline along x
// from the origin: all lie in 0..width by 0..height. Height is that of capitals,
// stroke the width of every groove. Lower case is set as capitals; characters
// that the alphabet lacks are named in the error.
func Text(s string, height, stroke float64) (outlines []solid.Profile, width float64, err error) {
	if err := settable(s, height, stroke); err != nil {
		return nil, 0, err
	}
	f := newFont(height, stroke)
	x, gap := 0.0, 0.0
	for _, r := range s {
		r = unicode.ToUpper(r)
		if r == ' ' {
			x, gap = x+f.blank, f.between
			continue
		}
		x += gap
		glyph, w := f.glyph(r)
		for _, p := range glyph {
			outlines = append(outlines, moved(p, x, 0))
		}
		x, gap = x+w, f.between
	}
	return outlines, x, nil
}

func settable(s string, height, stroke float64) error {
	var errs []error
	if !(height >= LeastHeight) || height > 1000 {
		errs = append(errs, fmt.Errorf("text height %g mm: use %g mm or more, to be legible, and 1000 mm at most", height, LeastHeight))
	} else if lo, hi := height*ThinnestStroke, height*ThickestStroke; !(stroke >= lo && stroke <= hi) {
		errs = append(errs, fmt.Errorf("text stroke %g mm: use %.3g to %.3g mm for letters %g mm tall", stroke, lo, hi, height))
	}
	var unknown []string
	for _, r := range s {
		if q := fmt.Sprintf("%q", r); !known(unicode.ToUpper(r)) && !slices.Contains(unknown, q) {
			unknown = append(unknown, q)
		}
	}
	if unknown != nil {
		errs = append(errs, fmt.Errorf("text %q: no letter for %s; use A to Z, 0 to 9, space and - . / + _",
			s, strings.Join(unknown, ", ")))
	}
	return errors.Join(errs...)
}

func known(r rune) bool { return r == ' ' || r == '+' || letters[r] != nil }

// moved returns the outline shifted by (dx, dy).
func moved(p solid.Profile, dx, dy float64) solid.Profile {
	q := slices.Clone(p)
	for i := range q {
		q[i].P[0], q[i].P[1] = q[i].P[0]+dx, q[i].P[1]+dy
		q[i].C[0], q[i].C[1] = q[i].C[0]+dx, q[i].C[1]+dy
	}
	return q
}
