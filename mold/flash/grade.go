package flash

import (
	"fmt"
	"slices"
	"strings"
)

// Grade tells in a word what to expect of a parting line, by the mass of flash
// and leak that half of the draws stay below, and by its share of what is poured.
type Grade int

// Grades, the best first.
const (
	Tight   Grade = iota // nothing to trim
	Feather              // a thin skin that rubs off
	Fringe               // a rim to cut with a knife
	Curtain              // rubber all over the mating faces; the wheel may come short
	Flood                // the mold does not hold the pour
)

// grades hold each grade's word, what it means at the bench, and the mass in g
// and the share of what is poured that it stays below; the first that holds both is it.
var grades = []struct {
	name, meaning string
	mass, share   float64
}{
	{"tight", "nothing to trim", 0.02, 0.001},
	{"feather", "a thin skin that rubs off", 0.3, 0.01},
	{"fringe", "a rim to cut off with a knife", 3, 0.03},
	{"curtain", "rubber far in between the pieces: seal them, or mix that much more and clean up", 100, 0.1},
	{"flood", "the mold does not hold the pour: do not pour before this is mended", 0, 0},
}

// String is the grade's word.
func (g Grade) String() string { return grades[g].name }

// Meaning is what the grade means at the bench.
func (g Grade) Meaning() string { return grades[g].meaning }

// Limits are the mass in g and the share of what is poured that a grade stays below;
// the last grade has none.
func (g Grade) Limits() (mass, share float64) { return grades[g].mass, grades[g].share }

func gradeOf(mass, poured float64) Grade {
	for g := Tight; g < Flood; g++ {
		if m, s := g.Limits(); mass < m && mass < s*poured {
			return g
		}
	}
	return Flood
}

// reason says what makes the gap of a line, or what closes it. The ratio is that by which
// casts widen it.
func reason(l *Line, ratio float64) string {
	why := cause(l)
	if ratio != 1 && l.Expected.Gap > 0 {
		why += "; " + calibrated(ratio)
	}
	return why
}

func cause(l *Line) string {
	if l.Expected.Gap == 0 {
		for _, p := range l.Gap.Parts {
			if p.Kind == Seal && p.Expected < 0 {
				return "closed by the " + l.Seal
			}
		}
		return "pressed flat"
	}
	if l.Expected.Held > l.Head[1] {
		return fmt.Sprintf("%s holds %s against a head of %s", l.Seal, pressure(l.Expected.Held), pressure(l.Head[1]))
	}
	if p := l.Gap.Parts[0]; p.Kind == Feeler {
		return "measured: " + p.Note
	}
	sums := map[string]float64{}
	best := ""
	for _, p := range l.Gap.Parts {
		if p.Kind == Casts {
			continue // says how much, not why
		}
		kind := p.Name
		if strings.HasPrefix(kind, "waviness") {
			kind = "waviness of the faces"
		}
		sums[kind] += p.Expected
		if best == "" || sums[kind] > sums[best] {
			best = kind
		}
	}
	return fmt.Sprintf("%s: %s of an expected gap of %s", best, micrometers(sums[best]), micrometers(l.Expected.Gap))
}

func micrometers(v float64) string { return fmt.Sprintf("%.0f µm", v*1000) }

func pressure(v float64) string {
	if v >= 10000 {
		return fmt.Sprintf("%.0f kPa", v/1000)
	}
	return fmt.Sprintf("%.0f Pa", v)
}

// Verdict says in plain words whether a line drips or, at the hub, whether rubber
// gets into it.
func (l *Line) Verdict() string {
	does := "drip"
	if slices.Contains(l.Pieces, hubName) {
		does = "enter the hub"
	}
	if r := RiskOf(l.Drips); r != May {
		return r.String() + " to " + does
	}
	return May.String() + " " + does
}

// Risk is a chance in a word.
type Risk int

// Risks, the least first.
const (
	Unlikely Risk = iota // less than one cast in ten
	May
	Likely // every other cast, or more
)

// RiskOf is the word for a chance, a share of the draws.
func RiskOf(chance float64) Risk {
	switch {
	case chance >= 0.5:
		return Likely
	case chance >= 0.1:
		return May
	}
	return Unlikely
}

// String is the risk's word.
func (r Risk) String() string { return [...]string{"unlikely", "may", "likely"}[r] }
