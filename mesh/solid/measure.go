package solid

import "math"

// RevolvedVolume is the volume that the outline sweeps about the axis r = 0, in
// closed form: V = π∮r²dz (Pappus-Guldin reduced to the outline).
func (p Profile) RevolvedVolume() float64 {
	v := 0.0
	for _, e := range p.Elems() {
		if !e.Arc {
			a, b := e.A[0], e.B[0]
			v += (e.B[1] - e.A[1]) * (a*a + a*b + b*b) / 3
			continue
		}
		t0, t1 := e.Angles()
		// r = c + R·cos t, dz = R·cos t dt
		c, r := e.C[0], e.R
		prim := func(t float64) float64 {
			s, k := math.Sincos(t)
			return r * (c*c*s + 2*c*r*(t+s*k)/2 + r*r*(s-s*s*s/3))
		}
		v += prim(t1) - prim(t0)
	}
	return math.Pi * v
}

// Area is the area inside the outline, in closed form.
func (p Profile) Area() float64 {
	a := 0.0
	for _, e := range p.Elems() {
		a += (e.A[0]*e.B[1] - e.B[0]*e.A[1]) / 2
		if e.Arc { // circular segment between chord and arc
			t0, t1 := e.Angles()
			d := t1 - t0
			a += e.R * e.R * (d - math.Sin(d)) / 2
		}
	}
	return a
}

// Angles returns the angles of an arc's ends about its center, the second unwrapped in the sense
// of travel.
func (e *Elem) Angles() (t0, t1 float64) {
	t0 = math.Atan2(e.A[1]-e.C[1], e.A[0]-e.C[0])
	d := WrapAngle(math.Atan2(e.B[1]-e.C[1], e.B[0]-e.C[0]) - t0)
	return t0, t0 + d
}
