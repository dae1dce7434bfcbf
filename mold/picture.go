package mold

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/raster"
)

// Exploded draws the pieces drawn apart along their pulls, with the wheel in the
// middle and every locating ball in the pocket that keeps it. The picture is size
// pixels wide and three quarters as high.
func (m *Made) Exploded(size int) image.Image {
	bodies := m.bodies()
	along := make([]mesh.Vec, len(bodies))
	for i := range m.Parts {
		along[i] = m.Mold.Apart(m.Parts[i].Piece.Name)
	}
	for _, b := range m.Mold.Layout.Balls {
		bodies = append(bodies, ballBody(b))
		along = append(along, m.Mold.Apart(b.Keeper))
	}
	v := pictureView(size)
	v.Azimuth, v.Elevation = -26, 22 // shells to the left and right, the lid above
	return raster.Render(raster.Spread(bodies, along, 1), v)
}

// Section draws the closed mold with the wheel in it, a quarter taken out beside
// the sprue: one cut runs down the sprue, the other at right angles to it. Balls
// are drawn whole. The picture is size pixels wide and three quarters as high.
func (m *Made) Section(size int) image.Image {
	l := m.Mold.Layout
	sprue := m.Mold.CutToward()
	beside := mesh.Vec{sprue[1], -sprue[0], 0}
	bodies := m.bodies()
	for _, b := range l.Balls {
		if gone := beside.Dot(b.At) > 0 && sprue.Dot(b.At) > 0; !gone {
			bodies = append(bodies, ballBody(b))
		}
	}
	v := pictureView(size)
	v.Cut = []raster.Plane{{Normal: beside}, {Normal: sprue}}
	// The viewer stands before the opening, a little on the side of the other cut.
	v.Azimuth, v.Elevation = math.Atan2(sprue[1], sprue[0])*180/math.Pi-52, 26
	return raster.Render(bodies, v)
}

// Piece draws a piece as it lies on the bed, from above: what faces the rubber and
// the other pieces is up there. Nil if the piece was not made. The picture is size
// pixels wide and three quarters as high.
func (m *Made) Piece(name string, size int) image.Image {
	for _, p := range m.Parts {
		if p.Piece.Name == name {
			v := pictureView(size)
			v.Azimuth, v.Elevation = -62, 38
			return raster.Render([]raster.Body{{Mesh: p.Posed, Color: Color(name)}}, v)
		}
	}
	return nil
}

// pictureView is what all pictures share. Lines grow with the picture, so that it
// may be shown smaller than it is.
func pictureView(size int) raster.View {
	return raster.View{
		Width: size, Height: size * 3 / 4,
		Background: raster.Palette.Paper,
		LineWidth:  max(1, float64(size)/700),
		Hatch:      max(5, float64(size)/130),
	}
}

// bodies are the pieces, the rubber last.
func (m *Made) bodies() []raster.Body {
	var out []raster.Body
	for _, p := range m.Parts {
		out = append(out, raster.Body{Mesh: p.Mesh, Color: Color(p.Piece.Name)})
	}
	return append(out, raster.Body{Mesh: m.Rubber, Color: Color("rubber")})
}

// Hex is the color of a piece, or of what Color knows else, as CSS and SVG write it.
func Hex(name string) string {
	c := Color(name)
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// Color is the color of a piece, the rubber, or hardware in pictures and drawings.
func Color(name string) color.RGBA {
	p := &raster.Palette
	sides := map[string]color.RGBA{"A": p.ShellA, "B": p.ShellB, "C": p.ShellC, "D": p.ShellD}
	if letter, ok := sideLetter(name); ok {
		return sides[letter]
	}
	switch name {
	case "base", "cup":
		return p.Base
	case "hub":
		return p.Hub
	case "rubber", "sprue":
		return p.Rubber
	case "ball", "bolt", "nut", "seal":
		return p.Ball
	default:
		return p.Lid
	}
}

// CutToward is the direction in the plan from the axis toward which the mold is cut open
// to be looked at: to the first sprue, or along the strap of an open top.
func (m *Mold) CutToward() mesh.Vec {
	if m.Layout.OpenTop() {
		return mesh.Vec{math.Sqrt2 / 2, math.Sqrt2 / 2, 0}
	}
	return m.Layout.TowardSprue()
}

// How far pieces are drawn apart for a picture, in halves of the mold's side:
// enough to look over the shells at the wheel and under the lid at its face.
const (
	liftApart  = 0.88
	slideApart = 0.80
	halfApart  = 1.05 // of clam halves, which stand higher than the wheel
)

// Apart is the way of a piece in an exploded view, mm.
func (m *Mold) Apart(name string) mesh.Vec {
	p, _ := m.Piece(name)
	far := m.Layout.B
	switch {
	case p.Pull[2] != 0:
		return p.Pull.Scale(liftApart * far)
	case m.Layout.Below == "":
		return p.Pull.Scale(halfApart * far)
	}
	return p.Pull.Scale(slideApart * far)
}

// ballBody is a locating ball for pictures: its mesh is round to the eye only.
func ballBody(b Ball) raster.Body {
	const rows, columns = 16, 32
	m := &mesh.Mesh{}
	for i := range rows + 1 {
		for j := range columns {
			s, c := math.Sincos(math.Pi * float64(i) / rows)
			t, u := math.Sincos(2 * math.Pi * float64(j) / columns)
			m.V = append(m.V, b.At.AddScaled(b.Diameter/2, mesh.Vec{s * u, s * t, -c}))
		}
	}
	for i := range rows {
		for j := range columns {
			a, b := int32(i*columns+j), int32(i*columns+(j+1)%columns)
			m.T = append(m.T, [3]int32{a, b, b + columns}, [3]int32{a, b + columns, a + columns})
		}
	}
	return raster.Body{Mesh: m, Color: raster.Palette.Ball, Whole: true}
}
