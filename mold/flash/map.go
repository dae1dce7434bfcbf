package flash

import (
	"math"
	"slices"

	"wheelmold/mesh"
)

// Map shows one parting line on a grid of square cells: cell (i, j) is centered
// at Origin + i·Cell·U + j·Cell·V. Rows run along U.
type Map struct {
	Columns, Rows int
	Cell          float64 // mm
	Origin, U, V  mesh.Vec
	Face          []bool    // whether the pieces' faces lie on each other there
	FromSeam      []float64 // way along the face from the seam, mm; infinite where there is none
	Chance        []float64 // share of the draws in which the cell gets wet
}

// draw makes the map of a line from its outcomes; share is the expected share of
// capillarity in the drive.
func (s *site) draw(outcomes []outcome, share float64) Map {
	g, f := s.grid, &s.sheet.Frame
	m := Map{
		Columns: g.Nx, Rows: g.Ny, Cell: g.Cell, Origin: f.Global(mesh.Vec{g.U0, g.V0, 0}), U: f.X, V: f.Y,
		Face: g.In, FromSeam: s.fromSeam, Chance: make([]float64, len(g.In)),
	}
	reaches := make([]float64, len(outcomes))
	for i := range outcomes {
		reaches[i] = outcomes[i].reach
	}
	slices.Sort(reaches)
	for i := range m.Chance {
		if a := s.wetting.arrival(i, share); g.In[i] && !math.IsInf(a, 1) && len(reaches) > 0 {
			k, _ := slices.BinarySearch(reaches, a)
			m.Chance[i] = float64(len(reaches)-k) / float64(len(reaches))
		}
	}
	return m
}
