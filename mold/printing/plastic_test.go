package printing

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// The skin of a box in closed form, its corners apart: a·b·c - (a-2t)(b-2t)(c-2t) is
// area·t less 4t²(a+b+c) and more 8t³, and only the last is left out.
func TestSkinOfABox(t *testing.T) {
	const a, b, c, w = 40.0, 30.0, 20.0, 2.0
	m := solid.NewModel()
	d := laid(t, m, m.Box("box", mold.RoleOuter, mesh.Vec{}, mesh.Vec{a, b, c}), mold.AsIs)
	exact := a*b*c - (a-2*w)*(b-2*w)*(c-2*w)
	near(t, "skin", d.skin(w), exact-8*w*w*w, 1e-6)
	near(t, "plastic", plastic(a*b*c, d, &usual), .75*(exact-64)+.25*a*b*c, 1e-6)

	p := usual
	p.Fill = "solid"
	near(t, "solid", plastic(a*b*c, d, &p), a*b*c, 0)
	p.Fill, p.Wall = "walled", 15
	near(t, "all wall", plastic(a*b*c, d, &p), a*b*c, 0)
}

// A cylinder's skin is V - π(r-t)²(h-2t), with no corner to leave out but t³ along its
// two rims; that of an angle has a sector of a quarter circle along its inward edge.
func TestSkinOfRoundAndInward(t *testing.T) {
	const r, h, w = 15.0, 40.0, 1.5
	m := solid.NewModel()
	d := laid(t, m, m.Cylinder("rod", mold.RoleOuter, mesh.Vec{}, z, r, 0, h), mold.AsIs)
	exact := math.Pi * (r*r*h - (r-w)*(r-w)*(h-2*w))
	near(t, "rod", d.skin(w), exact, .01*exact)

	angle := solid.Minus(m.Box("block", mold.RoleOuter, mesh.Vec{0, 0, 0}, mesh.Vec{40, 40, 50}), m.Box("notch", mold.RoleOuter, mesh.Vec{20, 20, -1}, mesh.Vec{41, 41, 51}))
	d = laid(t, m, angle, mold.AsIs)
	area := 2*(1600-400) + 160*50.0
	outward := 5*50 + 2*160.0
	near(t, "angle", d.skin(w), area*w-w*w*outward+w*w*math.Pi/4*50, 1e-6)
}
