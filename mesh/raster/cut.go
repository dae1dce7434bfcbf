package raster

import (
	"math"

	"wheelmold/mesh"
)

// slit is a cutting plane: its height at sample (x, y) and depth t is
// c + cx·x + cy·y + t·depth, positive on the side that is cut off.
type slit struct {
	plane        Plane // with a normal of length 1
	c, cx, cy, t float64
	across       [2]mesh.Vec // the two directions at 45° in the plane, unit
}

// edgeOn is the sine below which a plane is seen as a line.
const edgeOn = 1e-9

// seen reports whether the cut faces the viewer: rays leave the part cut off through it.
func (s *slit) seen() bool { return s.t < -edgeOn }

// usable returns the planes with normals of length 1, without those that have none.
func usable(planes []Plane) []Plane {
	var out []Plane
	for _, p := range planes {
		if l := p.Normal.Norm(); finite(p.Normal) && l > 0 {
			out = append(out, Plane{p.Normal.Scale(1 / l), p.D / l})
		}
	}
	return out
}

// newSlit expresses a plane in samples and depth.
func newSlit(p Plane, c *camera) slit {
	n := p.Normal
	s := slit{plane: p, t: n.Dot(c.ahead)}
	s.c = s.plane.height(c.point(.5, .5, 0)) // samples lie in the middle of their cell
	s.cx, s.cy = n.Dot(c.right)/c.scale, -n.Dot(c.up)/c.scale
	level := n.Cross(mesh.Vec{0, 0, 1})
	if level.Norm() < .1 {
		level = n.Cross(mesh.Vec{0, 1, 0})
	}
	level = level.Unit()
	steep := n.Cross(level)
	s.across = [2]mesh.Vec{level.Add(steep).Unit(), level.Sub(steep).Unit()}
	return s
}

// height is the signed distance of a point above the plane, mm.
func (p *Plane) height(v mesh.Vec) float64 { return p.Normal.Dot(v) - p.D }

// Cuts are drawn flat, as a draftsman would: evenly bright, hatched at 45°, one
// body leaning one way and the next the other.
const (
	capWhite  = 0.12 // share of white in the color
	capTone   = 0.92
	hatchTone = 0.74
	hatchLine = 1.0 // width, pixels
)

// capTone is the brightness of a cut at a sample.
func (b *band) capTone(x, y int, depth float64, plane int, sh *shape) float32 {
	step := b.view.Hatch
	if !(step > 0) {
		return capTone
	}
	p := b.camera.point(float64(x)+.5, float64(y)+.5, depth)
	body := b.paint[sh.caps].body
	at := b.slits[plane].across[body%2].Dot(p) * b.camera.perMM / step
	if (at-math.Floor(at))*step < hatchLine {
		return hatchTone
	}
	return capTone
}
