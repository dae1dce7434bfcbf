package steptest

import "math"

// surface is a parametric surface whose lines of constant u and v cross at right
// angles.
type surface interface {
	at(u, v float64) (p, du, dv Vec)
	parameters(p Vec) (u, v float64)
	distance(p Vec) float64
	// turn is du/dt of a curve through p with the derivative d.
	turn(p, d Vec) float64
	// periods of u and v, 0 where there is none.
	periods() (u, v float64)
	// widens reports by its sign whether the surface grows away from its axis with v
	// there, and whether p lies on the axis, where all u are one point.
	widens(p Vec) (sign float64, pole bool)
}

type plane struct{ frame }

func (s plane) at(u, v float64) (p, du, dv Vec) { return s.point(u, v, 0), s.x, s.y }
func (s plane) parameters(p Vec) (u, v float64) { l := s.local(p); return l[0], l[1] }
func (s plane) distance(p Vec) float64          { return math.Abs(s.local(p)[2]) }
func (s plane) turn(_, d Vec) float64           { return d.Dot(s.x) }
func (s plane) periods() (u, v float64)         { return 0, 0 }
func (s plane) widens(Vec) (float64, bool)      { return 0, false }

// profile is what turns about the axis: distance and height at v.
type profile interface {
	at(v float64) (r, z, dr, dz float64)
	parameter(r, z float64) float64
	distance(r, z float64) float64
	period() float64
}

// turned is a surface of revolution.
type turned struct {
	frame
	profile profile
}

func (s turned) at(u, v float64) (p, du, dv Vec) {
	r, z, dr, dz := s.profile.at(v)
	sn, cs := math.Sincos(u)
	e := s.x.Scale(cs).AddScaled(sn, s.y)
	t := s.y.Scale(cs).AddScaled(-sn, s.x)
	return s.o.AddScaled(r, e).AddScaled(z, s.z), t.Scale(r), e.Scale(dr).AddScaled(dz, s.z)
}

func (s turned) parameters(p Vec) (u, v float64) {
	l := s.local(p)
	return math.Atan2(l[1], l[0]), s.profile.parameter(math.Hypot(l[0], l[1]), l[2])
}

func (s turned) distance(p Vec) float64 {
	l := s.local(p)
	return s.profile.distance(math.Hypot(l[0], l[1]), l[2])
}

func (s turned) turn(p, d Vec) float64 {
	l := s.local(p)
	return (l[0]*d.Dot(s.y) - l[1]*d.Dot(s.x)) / (l[0]*l[0] + l[1]*l[1])
}

func (s turned) periods() (u, v float64) { return 2 * math.Pi, s.profile.period() }

func (s turned) widens(p Vec) (sign float64, pole bool) {
	l := s.local(p)
	_, v := s.parameters(p)
	_, _, dr, _ := s.profile.at(v)
	return dr, math.Hypot(l[0], l[1]) < 1e-6
}

// ruling is the profile of a cylinder or cone.
type ruling struct{ r, slope float64 }

func (c ruling) at(v float64) (r, z, dr, dz float64) { return c.r + v*c.slope, v, c.slope, 1 }
func (c ruling) parameter(_, z float64) float64      { return z }
func (c ruling) distance(r, z float64) float64 {
	return math.Abs(r-c.r-z*c.slope) / math.Hypot(1, c.slope)
}
func (c ruling) period() float64 { return 0 }

// arc is the profile of a ball, a ring, or any other circle beside the axis.
type arc struct {
	r, z, m float64
	start   float64 // the angle at v = 0
	closed  bool    // v has a period; on a ball it has none
}

func (c arc) at(v float64) (r, z, dr, dz float64) {
	sn, cs := math.Sincos(v + c.start)
	return c.r + c.m*cs, c.z + c.m*sn, -c.m * sn, c.m * cs
}
func (c arc) parameter(r, z float64) float64 { return math.Atan2(z-c.z, r-c.r) - c.start }
func (c arc) distance(r, z float64) float64  { return math.Abs(math.Hypot(r-c.r, z-c.z) - c.m) }
func (c arc) period() float64 {
	if c.closed {
		return 2 * math.Pi
	}
	return 0
}
