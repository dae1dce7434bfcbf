package release

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mold"
)

// Stub is what hardens in the channels of a piece, and what becomes of it.
type Stub struct {
	Channel string // "sprue" or "vent"
	Count   int
	Fate    string
}

// What becomes of a stub.
const (
	halved  = "on the parting line: out whole"
	sheared = "across the pull: sheared off at the cavity"
	tapered = "wider upward: " + tears
	upright = "along the pull: drawn out, or " + tears
)

// tears is what becomes of stubs that a lid grips: they are one piece with the tread, and
// what is left of them there is cut once the mold is open.
const tears = "stretched or torn as it lifts"

// stubs are those of a zone's piece: a channel belongs to the piece that has its axis.
func (j judge) stubs(z *mold.Zone) []Stub {
	l := j.Layout
	var out []Stub
	add := func(channel string, at []mesh.Vec, r float64, wider bool) {
		for _, p := range at {
			if fate := j.fate(z, p, r, wider); fate != "" {
				out = counted(out, Stub{channel, 1, fate})
			}
		}
	}
	add("sprue", l.Gates, l.GateR, l.MouthR > l.GateR)
	add("vent", l.Vents, l.VentR, false)
	return out
}

func counted(all []Stub, s Stub) []Stub {
	for i := range all {
		if all[i].Channel == s.Channel && all[i].Fate == s.Fate {
			all[i].Count += s.Count
			return all
		}
	}
	return append(all, s)
}

// fate is what becomes of the stub of a channel that opens at a point of the ceiling;
// "" if it is not the piece's.
func (j judge) fate(z *mold.Zone, p mesh.Vec, r float64, wider bool) string {
	l := j.Layout
	p[2] = (l.Top + l.Ceil) / 2
	if z.Pull[2] == 0 && z.Box.Hi[2] > p[2] {
		for i := range l.Partings {
			d := l.Partings[i].Outward()
			if p[0]*d[0]+p[1]*d[1] > 0 && math.Abs(p[0]*d[1]-p[1]*d[0]) < r {
				if slices.Contains(l.Partings[i].Sides[:], z.Name) {
					return halved
				}
				return ""
			}
		}
	}
	switch {
	case !z.Body.Contains(p):
		return ""
	case z.Pull[2] == 0:
		return sheared
	case wider:
		return tapered
	}
	return upright
}
