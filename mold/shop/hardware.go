package shop

import (
	"fmt"
	"math"
	"strings"

	"wheelmold/mold"
	"wheelmold/params"
)

// screwLengths are those under the head in which ISO 4762 lists screws, mm. From memory of
// the standard; not every size is sold in all of them.
var screwLengths = []float64{8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 180, 200}

// stockLength is the shortest listed screw of at least a length; false beyond the list.
func stockLength(least float64) (float64, bool) {
	for _, l := range screwLengths {
		if l >= least-1e-6 {
			return l, true
		}
	}
	return math.Ceil(least), false
}

// screw writes the size and the length to buy: "M4 × 35".
func screw(size string, least float64) (text string, length float64) {
	length, listed := stockLength(least)
	if text = size + " × " + mm(length); !listed {
		text += " (longer than ISO 4762 lists; threaded rod and nuts do as well)"
	}
	return text, length
}

// hardware is what the mold is put together with, a sentence each.
func (s *sheet) hardware() []string {
	l := s.m.Layout
	out := append(s.ballList(), s.bolts()...)
	out = append(out, s.crossBolts()...)
	out = append(out, s.jackScrews()...)
	if l.Strap != nil {
		out = append(out, fmt.Sprintf("a strap or hose clamp %s wide in the groove around", mm(l.Strap.Z1-l.Strap.Z0)))
	}
	return out
}

func (s *sheet) ballList() (out []string) {
	sizes := map[float64]int{}
	var order []float64
	for _, b := range s.m.Layout.Balls {
		if sizes[b.Diameter]++; sizes[b.Diameter] == 1 {
			order = append(order, b.Diameter)
		}
	}
	for _, d := range order {
		out = append(out, fmt.Sprintf("%d balls Ø%s (ISO 3290)", sizes[d], digits(d, 4)))
	}
	return out
}

// bolts along the axis with their nuts: those of one length together. A screw's end that
// stands out below the base keeps the mold from standing flat.
func (s *sheet) bolts() (out []string) {
	l, size := s.m.Layout, s.j.Mold.Bolts.Size
	f, ok := params.FastenerOf(size)
	if !ok {
		return nil
	}
	count := map[float64]int{}
	var order []mold.Bolt
	for _, b := range l.Bolts {
		least := b.Length(l, f.NutHeight)
		if count[least]++; count[least] == 1 {
			order = append(order, b)
		}
	}
	for _, b := range order {
		least := b.Length(l, f.NutHeight)
		what, length := screw(size, least)
		under := length - (b.Top - b.HeadD - l.Bottom)
		text := fmt.Sprintf("%d screws ISO 4762 %s (at least %s long) with nuts ISO 4032 %s", count[least], what, mm(least), size)
		switch {
		case b.NutD == 0:
			text += ", which sit below the base: stand the mold on blocks"
		case under > 1e-6:
			text += fmt.Sprintf(": cut them to %s, or stand the mold on blocks, for they stand out %s below the base", mm(floorTenth(length-under)), mm(under))
		}
		out = append(out, text)
	}
	return out
}

// floorTenth is a length to a tenth of a millimeter, to the short side.
func floorTenth(x float64) float64 { return math.Floor(x*10+1e-6) / 10 }

// crossBolts clamp the shells from the outside of one to that of the other.
func (s *sheet) crossBolts() []string {
	l, size := s.m.Layout, s.j.Mold.SideClamp.Size
	f, ok := params.FastenerOf(size)
	if !ok || len(l.Cross) == 0 {
		return nil
	}
	least := 2*l.Cross[0].Grip + f.NutHeight
	what, _ := screw(size, least)
	return []string{fmt.Sprintf("%d screws ISO 4762 %s (at least %s long) with nuts ISO 4032 %s across the shells", len(l.Cross), what, mm(least), size)}
}

// jackScrews reach through their piece from outside, and push beyond its parting face.
func (s *sheet) jackScrews() (out []string) {
	size := s.j.Mold.Jacks.Size
	count := map[float64]int{}
	var order []float64
	for _, j := range s.m.Layout.Jacks {
		least := j.Least()
		if count[least]++; count[least] == 1 {
			order = append(order, least)
		}
	}
	for _, least := range order {
		what, _ := screw(size, least)
		out = append(out, fmt.Sprintf("%d jack screws ISO 4762 %s, threaded up to the head (ISO 4017 does as well; at least %s, so that they push %s mm: assumed)", count[least], what, mm(least), mm(mold.JackTravel)))
	}
	return out
}

// together is the note of what the piece goes together with.
func (s *sheet) together() string {
	parts := s.hardware()
	if len(parts) == 0 {
		return "nothing but the other pieces"
	}
	return strings.Join(parts, "; ")
}
