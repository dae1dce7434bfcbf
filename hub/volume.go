package hub

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"
)

// Volume is the hub's volume in mm³: Pappus-Guldin on the outline, less bolt
// holes (plain cylinders) and lock holes (LockVolume).
func (c *Core) Volume() float64 {
	v := c.Outline().RevolvedVolume()
	if c.BoltCount > 0 {
		l := c.Length
		for _, e := range []End{c.Lower, c.Upper} {
			// A hole within a recess starts at the recess's bottom.
			switch {
			case e.PocketR > c.BoltCircleR:
				l -= e.Depth()
			case e.SeatR > c.BoltCircleR:
				l -= e.SeatD
			}
		}
		v -= float64(c.BoltCount) * math.Pi * c.BoltR * c.BoltR * l
	}
	return v - float64(c.LockCount)*c.LockVolume()
}

// LockVolume is the volume in mm³ of one lock hole below the bond surface.
//
// At height z the hole is a strip |y| <= w(z) = √(a²-(z-z₀)²); along its axis
// the hub reaches to √(ρ(z)²-y²) with ρ the outline's radius. The integral over
// y is closed, the one over z is Gauss-Legendre on panels between the outline's
// corners, with z = m + h·sin φ to take the square roots at panel ends.
func (c *Core) LockVolume() float64 {
	if c.LockCount == 0 {
		return 0
	}
	a, s0 := c.LockR, c.BodyR-c.LockDepth
	zs := []float64{-a, a}
	cut := func(z float64) {
		if z -= c.LockFrom; z > -a && z < a {
			zs = append(zs, z)
		}
	}
	cut(c.FlangeT)
	cut(c.Length - c.FlangeT)
	for _, g := range c.Grooves {
		cut(g.From - g.Width/2)
		cut(g.From)
		cut(g.From + g.Width/2)
	}
	sort.Float64s(zs)
	v := 0.0
	for i := 0; i+1 < len(zs); i++ {
		m, h := (zs[i]+zs[i+1])/2, (zs[i+1]-zs[i])/2
		if h <= 0 {
			continue
		}
		v += quad.Fixed(func(phi float64) float64 {
			sn, cs := math.Sincos(phi)
			z := m + h*sn
			return h * cs * stripArea(c.radiusAt(c.LockFrom+z), s0, math.Sqrt(max(0, a*a-z*z)))
		}, -math.Pi/2, math.Pi/2, 64, nil, 0)
	}
	return v
}

// stripArea integrates √(ρ²-y²) - s over |y| <= w, where that is positive.
func stripArea(rho, s, w float64) float64 {
	if rho <= s {
		return 0
	}
	w = min(w, math.Sqrt(rho*rho-s*s))
	return w*math.Sqrt(rho*rho-w*w) + rho*rho*math.Asin(w/rho) - 2*s*w
}

// radiusAt is the bond surface's radius at a height above the lower face.
func (c *Core) radiusAt(from float64) float64 {
	if from < c.FlangeT || from > c.Length-c.FlangeT {
		return c.FlangeR
	}
	for _, g := range c.Grooves {
		d := math.Abs(from - g.From)
		if d < g.Width/2 {
			if g.HalfRound {
				return c.BodyR - math.Sqrt(max(0, g.Width*g.Width/4-d*d))
			}
			return c.BodyR - g.Depth
		}
	}
	return c.BodyR
}
