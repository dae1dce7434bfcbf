package release

import (
	"math"

	"wheelmold/mold"
	"wheelmold/params"
)

// Frictions of a jack screw in its thread and under its tip, low, middle and high: plain
// or lightly oiled steel. Common practice; nobody knows it closer.
var Frictions = [3]float64{0.12, 0.15, 0.20}

// tipShare is the diameter of a screw's flat point as a part of the thread's; from
// memory of ISO 4026.
const tipShare = 0.7

// Jacking is what jack screws do on one parting line.
type Jacking struct {
	Size   string
	Screws int
	Each   float64    // N on each: its share of what holds, or Most if that is less
	Most   float64    // N that screw (8.8, used again) and the face under its tip (process.bearing) stand
	Torque [3]float64 // N·m that turns a screw against Each, at each of Frictions
	Stop   float64    // N·m at which a screw may already push with Most: at the lowest friction
}

// Turn is how far to turn each screw, N·m: against its share at the middle friction, and
// never beyond Stop.
func (k *Jacking) Turn() float64 { return min(k.Torque[1], k.Stop) }

// All is what the screws give at most, N.
func (k *Jacking) All() float64 { return float64(k.Screws) * k.Most }

// screwTorque turns a screw against an axial force in N, in N·m: the thread's wedge
// T = F·d2/2·tan(φ+ρ') with φ = atan(P/πd2), ρ' = atan(μ/cos 30°), and what rubs at the
// mean radius tip in mm under its end, F·μ·tip. Standard mechanics of screws; d2 of ISO 724.
func screwTorque(f params.Fastener, force, mu, tip float64) float64 {
	d2 := f.Diameter - 0.649519*f.Pitch
	phi := math.Atan(f.Pitch / (math.Pi * d2))
	rho := math.Atan(mu / math.Cos(math.Pi/6))
	return force * (d2/2*math.Tan(phi+rho) + mu*tip) / 1000
}

// tipRadius is the mean radius in mm at which a screw's tip rubs: a quarter of its
// diameter, assumed.
func tipRadius(f params.Fastener) float64 { return f.Diameter / 4 }

// jacking shares what holds a piece, N, among the screws of its parting lines.
func (j judge) jacking(lines []string, holds float64) Jacking {
	k := Jacking{Size: j.Job.Mold.Jacks.Size}
	f, ok := params.FastenerOf(k.Size)
	if !ok {
		return k
	}
	for i := range j.Layout.Jacks {
		for _, line := range lines {
			if j.pushes(&j.Layout.Jacks[i], line) {
				k.Screws++
			}
		}
	}
	if k.Screws == 0 {
		return k
	}
	d := tipShare * f.Diameter
	tip := math.Pi / 4 * d * d * 1e-6 * j.Job.Process.Bearing
	k.Most = min(tip, f.MostReused())
	k.Each = min(k.Most, holds/float64(k.Screws))
	for i, mu := range Frictions {
		k.Torque[i] = screwTorque(f, k.Each, mu, tipRadius(f))
	}
	k.Stop = screwTorque(f, k.Most, Frictions[0], tipRadius(f))
	return k
}

// pushes tells whether a screw parts a line: along the axis the plate that it is tapped
// into, else the pieces that meet on its side.
func (j judge) pushes(k *mold.Jack, line string) bool {
	l := j.Layout
	switch {
	case k.Dir[2] > 0:
		return line == l.LineTop()
	case k.Dir[2] < 0:
		return line == l.LineLow()
	}
	for i := range l.Partings {
		p := &l.Partings[i]
		if out := p.Outward(); p.Line == line && out[0]*k.At[0]+out[1]*k.At[1] > 0 {
			return true
		}
	}
	return false
}
