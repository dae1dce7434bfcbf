package report

import (
	"encoding/base64"
	"fmt"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mesh/pack"
	"wheelmold/mold"
	"wheelmold/mold/drawing/svg"
	"wheelmold/mold/pour"
)

// Scene is the mold as the page's 3D view reads it. Lengths in mm, in the mold's
// frame; meshes are packed (mesh/pack) and in base64.
type Scene struct {
	Step float64 `json:"step"` // to which places are rounded
	// Tolerance is the meshes' largest distance from the true surfaces.
	Tolerance float64     `json:"-"`
	Center    mesh.Vec    `json:"center"`
	Sprue     mesh.Vec    `json:"sprue"` // direction of the first one, or of the strap
	Parts     []ScenePart `json:"parts"`
	Balls     []SceneBall `json:"balls"`
	Ball      string      `json:"ball"` // their color
	Marks     []SceneMark `json:"marks"`
}

// ScenePart is a piece or the rubber.
type ScenePart struct {
	Name  string     `json:"name"`
	Color string     `json:"color"`
	Hatch SceneHatch `json:"hatch"` // of cuts
	Apart mesh.Vec   `json:"apart"` // way when fully drawn apart
	Mesh  string     `json:"mesh"`
}

// SceneHatch is lines at an angle in degrees, so far apart.
type SceneHatch struct {
	Angle float64 `json:"angle"`
	Gap   float64 `json:"gap"` // mm on paper
}

// SceneBall is a locating ball.
type SceneBall struct {
	Part     string   `json:"part"` // that keeps it
	At       mesh.Vec `json:"at"`
	Diameter float64  `json:"diameter"`
	Apart    mesh.Vec `json:"apart"`
}

// SceneMark is a place that is pointed out.
type SceneMark struct {
	Kind  string   `json:"kind"` // "trap" or "vent"
	At    mesh.Vec `json:"at"`
	Apart mesh.Vec `json:"apart"` // it goes with the lid, if there is one, under which air gathers
	Label string   `json:"label"`
	Text  string   `json:"text"`
}

// OfScene is the scene of a mold that was made to a tolerance in mm.
func OfScene(made *mold.Made, plan *pour.Plan, tolerance float64) (*Scene, error) {
	l := made.Mold.Layout
	block := made.Mold.Block.Bounds()
	s := &Scene{
		Step: pack.Step(tolerance), Tolerance: tolerance, Center: block.Lo.Add(block.Hi).Scale(.5),
		Sprue: made.Mold.CutToward(), Balls: []SceneBall{}, Ball: mold.Hex("ball"), Marks: []SceneMark{},
	}
	for i := range made.Parts {
		p := &made.Parts[i]
		if err := s.add(p.Piece.Name, p.Mesh, made.Mold.Apart(p.Piece.Name)); err != nil {
			return nil, err
		}
	}
	if err := s.add("rubber", made.Rubber, mesh.Vec{}); err != nil {
		return nil, err
	}
	for _, b := range l.Balls {
		keeper := b.Keeper
		if slices.ContainsFunc(s.Parts, func(p ScenePart) bool { return p.Name == keeper }) {
			s.Balls = append(s.Balls, SceneBall{keeper, b.At, b.Diameter, made.Mold.Apart(keeper)})
		}
	}
	s.mark(&plan.Air, made.Mold.Apart(l.Above))
	return s, nil
}

func (s *Scene) add(name string, m *mesh.Mesh, apart mesh.Vec) error {
	var b strings.Builder
	if err := pack.Write(&b, m, s.Step); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	angle, gap := svg.Hatch(name)
	s.Parts = append(s.Parts, ScenePart{name, mold.Hex(name), SceneHatch{angle, gap}, apart, base64.StdEncoding.EncodeToString([]byte(b.String()))})
	return nil
}

// mark points out trapped air, and the vents that would free it or lessen it.
func (s *Scene) mark(a *pour.Air, apart mesh.Vec) {
	for i := range a.Traps {
		t := &a.Traps[i]
		label := fmt.Sprint(i + 1)
		s.Marks = append(s.Marks, SceneMark{"trap", t.Top, apart, label, pocket(t.Volume) + " of air, " + t.Cause})
		what := "a vent here frees it, tried"
		if !t.Drill.Clears {
			what = "a vent here; with all of them " + pocket(t.Drill.Left) + " stay"
		}
		for k, v := range t.Drill.Vents {
			s.Marks = append(s.Marks, SceneMark{"vent", v.At, apart, label + string(rune('a'+k%26)), what})
		}
	}
}
