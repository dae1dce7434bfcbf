package report

import (
	"fmt"
	"math"
	"strings"

	"wheelmold/params"
)

// shopScale is one for the bench, by its step in g.
type shopScale float64

// ounces is the step in ounces, if the scale shows these: it is a round number of
// them, and not of grams.
func (s shopScale) ounces() (step float64, ok bool) {
	round := func(v float64) bool { return v > 5e-4 && math.Abs(v*1000-math.Round(v*1000)) < 1e-6 }
	g := float64(s)
	return math.Round(g/gramsPerOunce*1000) / 1000, round(g/gramsPerOunce) && !round(g)
}

// step prints the scale's step.
func (s shopScale) step() string {
	if oz, ok := s.ounces(); ok {
		return number(oz, 3) + " oz"
	}
	return params.Format(params.Mass, float64(s))
}

// shown prints a mass as the scale shows it.
func (s shopScale) shown(g float64) string {
	if oz, ok := s.ounces(); ok {
		return fmt.Sprintf("%.*f oz", decimals(oz), g/gramsPerOunce)
	}
	return fmt.Sprintf("%.*f g", decimals(float64(s)), g)
}

// inGrams prints a mass as the scale shows it, beside other masses: in grams, too.
func (s shopScale) inGrams(g float64) string {
	if _, ok := s.ounces(); ok {
		return grams(g) + " (" + s.shown(g) + ")"
	}
	return s.shown(g)
}

// decimals is how many a reading of that resolution has.
func decimals(step float64) int {
	text := number(step, 6)
	_, fraction, _ := strings.Cut(text, ".")
	return len(fraction)
}
