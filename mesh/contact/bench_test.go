package contact_test

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/contact"
	"wheelmold/mesh/solid"
)

// plates are a base and two shells with 48 bolt holes, 24 slots and a cavity:
// about 200 edges a face.
func plates(b *testing.B) []contact.Body {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	cut := []*solid.Node{}
	for k := range 48 {
		sn, cs := math.Sincos(2 * math.Pi * (float64(k) + .5) / 48)
		cut = append(cut, drill(m, f, "bolt hole", 90*cs, 90*sn, 3, -20, 20))
	}
	for k := range 24 {
		sn, cs := math.Sincos(2 * math.Pi * (float64(k) + .5) / 24)
		o := mesh.Vec{110 * cs, 110 * sn, 0}
		cut = append(cut, m.BoxIn("slot", "slot", turned(f, o, float64(k)), mesh.Vec{-4, -3, -2}, mesh.Vec{4, 3, 2}))
	}
	cavity := drill(m, f, "cavity", 0, 0, 60, 0, 30)
	shell := append([]*solid.Node{cavity}, cut...)
	return bodies(b, m,
		part{"base", solid.Minus(box(m, f, "base", mesh.Vec{-130, -130, -10}, mesh.Vec{130, 130, 0}), cut...)},
		part{"shell-a", solid.Minus(box(m, f, "shell-a", mesh.Vec{-130, 0, 0}, mesh.Vec{130, 130, 30}), shell...)},
		part{"shell-b", solid.Minus(box(m, f, "shell-b", mesh.Vec{-130, -130, 0}, mesh.Vec{130, 0, 30}), shell...)})
}

var benchSettings = contact.Settings{MaxGap: .5}

func BenchmarkSheets(b *testing.B) {
	all := plates(b)
	for b.Loop() {
		contact.Sheets(all, benchSettings)
	}
}

// 250 rows and 250 columns, as the analyses of a parting line ask for.
func BenchmarkLines(b *testing.B) {
	s := contact.Sheets(plates(b), benchSettings)[0]
	lo, hi := s.Bounds()
	b.ReportAllocs()
	for b.Loop() {
		for k := range 250 {
			x := (float64(k) + .5) / 250
			s.Row(lo[1] + (hi[1]-lo[1])*x)
			s.Col(lo[0] + (hi[0]-lo[0])*x)
		}
	}
}

func BenchmarkRings(b *testing.B) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	var parts []part
	for k := range 6 {
		r := 10 + 5*float64(k)
		parts = append(parts, part{"ring", m.Extrude("ring", "ring", f, 0, 20, solid.Circle(0, 0, r+4.9), solid.Circle(0, 0, r).Reversed())})
	}
	all := bodies(b, m, parts...)
	for b.Loop() {
		contact.Rings(all, benchSettings)
	}
}
