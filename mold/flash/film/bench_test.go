package film

import (
	"math"
	"testing"
)

// The benchmarks' plate has 35 000 cells within 63 000 places.
const benchCell = 1.5

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		plate(benchCell)
	}
}

func BenchmarkFromSeam(b *testing.B) {
	g := plate(benchCell)
	for b.Loop() {
		g.FromSeam()
	}
}

func BenchmarkLands(b *testing.B) {
	g := plate(benchCell)
	for b.Loop() {
		g.Lands()
	}
}

func BenchmarkArrival(b *testing.B) {
	g := plate(benchCell)
	for _, c := range []struct {
		name string
		most float64
	}{{"3mm", 4.5}, {"10mm", 50}, {"30mm", 450}, {"full", math.Inf(1)}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				g.Arrival(nil, c.most)
			}
		})
	}
}

func BenchmarkWetArea(b *testing.B) {
	g := plate(benchCell)
	at := g.Arrival(nil, 50)
	for b.Loop() {
		g.WetArea(at, 40)
	}
}

func BenchmarkOutflow(b *testing.B) {
	g := plate(benchCell)
	for b.Loop() {
		g.Outflow(one, nil)
	}
}
