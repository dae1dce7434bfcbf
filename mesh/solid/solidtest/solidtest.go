// Package solidtest holds reference solids that the tests and benchmarks of
// several packages share.
package solidtest

import (
	"math"
	"strconv"

	"wheelmold/mesh/solid"
)

// Vec is a point or direction, mm.
type Vec = solid.Vec

var xAxis, yAxis, zAxis = Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}

// ReferenceLidVolume is the closed-form volume of ReferenceLid in mm³: block
// less cavity rings, half balls, bolt holes, sprue frustum, vents and slots,
// plus the register's frustum.
const ReferenceLidVolume = 1972533.196145

// ReferenceLid is a lid-like plate: planes, cylinders, two cones and four
// spheres, 46 connected faces, genus 11.
func ReferenceLid(m *solid.Model) *solid.Node {
	world := solid.AxisFrame(Vec{}, zAxis)
	block := m.Box("block", "outer", Vec{-120, -120, 0}, Vec{120, 120, 40})
	cut := []*solid.Node{
		m.Revolve("cavity", "cavity", world, solid.Poly(25, 0, 90, 0, 90, 12, 25, 12)),
		m.Revolve("crown ring", "cavity", world, solid.Poly(60, 12, 75, 12, 75, 20, 60, 20)),
	}
	for i, p := range [][2]float64{{100, 100}, {-100, 100}, {-100, -100}, {100, -100}} {
		cut = append(cut, m.Ball("ball pocket "+strconv.Itoa(i+1), "ball pocket", Vec{p[0], p[1], 0}, zAxis, 6))
	}
	for i, p := range [][2]float64{{108, 0}, {0, 108}, {-108, 0}, {0, -108}} {
		cut = append(cut, m.Cylinder("bolt hole "+strconv.Itoa(i+1), "bolt hole", Vec{p[0], p[1], 0}, zAxis, 3.3, 0, 40))
	}
	cut = append(cut, m.Cone("sprue", "sprue", Vec{67.5, 0, 0}, zAxis, 4, 20, 12, 40))
	for k := 0; k < 6; k++ {
		s, c := math.Sincos((30 + 60*float64(k)) * math.Pi / 180)
		cut = append(cut, m.Cylinder("vent "+strconv.Itoa(k+1), "vent", Vec{67.5 * c, 67.5 * s, 0}, zAxis, 1.5, 20, 40))
	}
	for i, s := range [][4]float64{{110, 53, 120, 67}, {-67, 110, -53, 120}, {-120, -67, -110, -53}, {53, -120, 67, -110}} {
		cut = append(cut, m.Box("pry slot "+strconv.Itoa(i+1), "pry slot", Vec{s[0], s[1], 0}, Vec{s[2], s[3], 3}))
	}
	register := m.Cone("register", "register", Vec{}, zAxis, 24.5, -8, 25, 0)
	return solid.Union(solid.Minus(block, cut...), register)
}

// HalfShell is half a shell for a tread of 280 × 125 mm: edge rounds tangent to
// planes and cylinder, a half-round groove, a parting plane through everything,
// drills along x and y that meet curved walls, ball pockets, flush pry slots.
func HalfShell(m *solid.Model) *solid.Node {
	const r, w, round, grooveZ, groove = 140.0, 125.0, 8.0, 40.0, 5.0
	block := m.Box("block", "outer", Vec{-190, -190, 0}, Vec{190, 190, w})
	zone := m.Box("shell A", "parting", Vec{-190, 0, 0}, Vec{190, 190, w})
	cavity := solid.Poly(0, 0, r-round, 0).
		ArcTo(r, round, r-round, round, true).
		LineTo(r, grooveZ-groove).
		ArcTo(r, grooveZ+groove, r, grooveZ, false).
		LineTo(r, w-round).
		ArcTo(r-round, w, r-round, w-round, true).
		LineTo(0, w)
	cut := []*solid.Node{m.Revolve("tread cavity", "cavity", solid.AxisFrame(Vec{}, zAxis), cavity)}
	add := func(n *solid.Node) { cut = append(cut, n) }
	for _, s := range []float64{-1, 1} {
		x := 160 * s
		for _, z := range []float64{25, 95} {
			add(m.Cylinder("cross bolt", "bolt hole", Vec{x, 0, z}, yAxis, 3.3, 0, 190))
			add(m.Cylinder("cross bolt head", "counterbore", Vec{x, 0, z}, yAxis, 6, 30, 190))
		}
		add(m.Ball("parting ball", "ball pocket", Vec{x, 0, 60}, yAxis, 6))
		add(m.Box("parting pry slot", "pry slot", Vec{min(s*176, s*190), 0, 55}, Vec{max(s*176, s*190), 3, 69}))
	}
	for _, x := range []float64{-172, 172} {
		add(m.Ball("base ball", "ball pocket", Vec{x, 172, 0}, zAxis, 6))
		add(m.Ball("lid ball", "ball pocket", Vec{x, 172, w}, zAxis, 6))
		add(m.Cylinder("axial bolt", "bolt hole", Vec{x, 150, 0}, zAxis, 4.25, 0, w))
	}
	add(m.Cylinder("vent into the wall", "vent", Vec{0, 0, 80}, yAxis, 1.5, 135, 190))
	add(m.Cylinder("drill into the round", "vent", Vec{40, 0, 121}, yAxis, 2, 126, 190))
	add(m.Cylinder("blind drill", "vent", Vec{0, 165, 60}, xAxis, 2, 150, 190))
	add(m.Cylinder("drill through the axial bolt", "vent", Vec{0, 150, 112}, xAxis, 2.5, 163, 190))
	return solid.Minus(solid.Intersect(block, zone), cut...)
}
