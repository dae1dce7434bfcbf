package flash

import "testing"

// A line's reason names the cause that makes most of its gap, both faces' waviness as one,
// with what of the gap it makes; what closes the gap is none, nor is the ratio that casts
// showed, however large: it tells how much, and not why.
func TestReasonNamesTheLargestCause(t *testing.T) {
	part := func(k Kind, name string, expected float64) Contribution {
		return Contribution{Kind: k, Name: name, Expected: expected}
	}
	line := func(parts ...Contribution) Line {
		l := Line{Seal: "grease", Head: [2]float64{100, 900}}
		for _, p := range parts {
			l.Gap.Parts = append(l.Gap.Parts, p)
			l.Expected.Gap += p.Expected
		}
		return l
	}
	waves := []Contribution{part(WaveLow, "waviness of the base", .010), part(WaveHigh, "waviness of the shells", .012)}
	with := func(more ...Contribution) Line { return line(append(append([]Contribution{}, waves...), more...)...) }
	for _, c := range []struct {
		name  string
		line  Line
		ratio float64
		want  string
	}{
		{"two wavy faces", with(part(Dirt, "dirt", .015)), 1, "waviness of the faces: 22 µm of an expected gap of 37 µm"},
		{"dirt", with(part(Dirt, "dirt", .025)), 1, "dirt: 25 µm of an expected gap of 47 µm"},
		{"dirt, told first", line(part(Dirt, "dirt", .025), part(Rough, "roughness", .004)), 1, "dirt: 25 µm of an expected gap of 29 µm"},
		{"what comes last", with(part(Dirt, "dirt", .015), part(Proud, "hub too long", .1)), 1, "hub too long: 100 µm of an expected gap of 137 µm"},
		{"clamps close", with(part(Dirt, "dirt", .025), part(Clamps, "clamps", -.020)), 1, "dirt: 25 µm of an expected gap of 27 µm"},
		{"casts", with(part(Dirt, "dirt", .025), part(Casts, "as casts show", .047)), 2, "dirt: 25 µm of an expected gap of 94 µm; " + calibrated(2)},
		{"casts of a tight mold", with(part(Dirt, "dirt", .025), part(Casts, "as casts show", -.0235)), .5, "dirt: 25 µm of an expected gap of 24 µm; " + calibrated(.5)},
	} {
		if got := reason(&c.line, c.ratio); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What keeps rubber out is told rather than what would let it in: a seal that fills the gap,
// faces that clamps press flat, or grease that holds more than the liquid's head.
func TestReasonOfALineThatHolds(t *testing.T) {
	dirt := Contribution{Kind: Dirt, Name: "dirt", Expected: .01}
	for _, c := range []struct {
		name string
		line Line
		want string
	}{
		{"gasket", Line{Seal: "gasket", Gap: Gap{Parts: []Contribution{dirt, {Kind: Seal, Name: "seal", Expected: -.01}}}}, "closed by the gasket"},
		{"clamps", Line{Seal: "gasket", Gap: Gap{Parts: []Contribution{dirt, {Kind: Clamps, Name: "clamps", Expected: -.01}, {Kind: Seal, Name: "seal"}}}}, "pressed flat"},
		{"grease", Line{Seal: "grease", Head: [2]float64{100, 900}, Gap: Gap{Parts: []Contribution{dirt}}, Expected: Result{Gap: .01, Held: 12000}}, "grease holds 12 kPa against a head of 900 Pa"},
		{"grease, as high as the head", Line{Seal: "grease", Head: [2]float64{100, 900}, Gap: Gap{Parts: []Contribution{dirt}}, Expected: Result{Gap: .01, Held: 900}}, "dirt: 10 µm of an expected gap of 10 µm"},
		{"grease, above the upper edge's head", Line{Seal: "grease", Head: [2]float64{100, 900}, Gap: Gap{Parts: []Contribution{dirt}}, Expected: Result{Gap: .01, Held: 500}}, "dirt: 10 µm of an expected gap of 10 µm"},
		{"a gauge", Line{Gap: Gap{Parts: []Contribution{{Kind: Feeler, Name: "feeler gauge", Expected: .03, Note: "50 µm at the widest spot"}, {Kind: Casts, Expected: .01}}}, Expected: Result{Gap: .04}}, "measured: 50 µm at the widest spot"},
	} {
		if got := reason(&c.line, 1); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
