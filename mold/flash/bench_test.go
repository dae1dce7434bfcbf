package flash

import (
	"testing"

	"wheelmold/mold/moldtest"
)

// The whole analysis of the largest example, maps and changes included: as it
// is, and printed from filament, where everything gets wet.
func BenchmarkAnalyze(b *testing.B) {
	for name, sets := range map[string][]string{
		"milled": nil, "filament": {"process.name=filament"},
	} {
		s := surveyOf(b, moldtest.Example(b, "albatross", sets...))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Analyze(s.mold, s.faces, DefaultOptions); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Its parts: the parting lines, the tables of wetting, and 500 draws of all lines.
func BenchmarkParts(b *testing.B) {
	s := stock(b, "albatross")
	c := s.conditions()
	d := drawAll(c, DefaultOptions)
	b.Run("survey", func(b *testing.B) {
		for b.Loop() {
			survey(s.mold, s.faces)
		}
	})
	b.Run("wetting", func(b *testing.B) {
		for b.Loop() {
			c.wet(d)
		}
	})
	b.Run("draws", func(b *testing.B) {
		for b.Loop() {
			for i, x := range s.geometry.sites {
				c.casts(x, d.of(i))
			}
		}
	})
}
