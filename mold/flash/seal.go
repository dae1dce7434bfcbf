package flash

import (
	"wheelmold/params"
)

// sealing is what a seal does to a parting line.
type sealing struct {
	name    string
	angle   float64 // contact angle of the liquid on the faces, degrees
	spread  float64 // by which it may be off, two standard deviations
	yield   float64 // yield stress of a filling, Pa; 0: not filled
	bead    float64 // height of a bead that crushes to nothing, mm
	follows float64 // a gasket closes gaps up to this, mm
	cord    bool    // stops the liquid in the middle of the land
	outside bool    // what leaves by the outer face is held back
}

// Contact angles, assumed: they were not measured on any mold.
const (
	dryAngle, drySpread     = 30, 20
	wipedAngle, wipedSpread = 70, 20
)

// widestFilled is the gap in mm at which a filling of grease or wax no longer
// holds anything back, since it flows or washes away; what it holds falls to that
// in proportion (assumed).
const widestFilled = 0.5

// gasketFollows is up to what part of its designed gap's width a gasket closes:
// it is put in at twice the gap and crushed by half (assumed).
const gasketFollows = 2

// sealOf is the seal that the job gives to a line.
func sealOf(j *params.Job, s *site) sealing {
	m := &j.Mold
	switch {
	case s.at == atHub && s.sheet.Gap > 0:
		return sealingOf(m, m.Stack.Seal, s.sheet.Gap)
	case s.at == atHub:
		return sealingOf(m, m.Seals.Hub, 0)
	case s.at == atSides:
		return sealingOf(m, m.Seals.Sides, 0)
	case s.at == atLid:
		return sealingOf(m, m.Seals.Lid, 0)
	}
	return sealingOf(m, m.Seals.Base, 0)
}

// sealKey is the job's key of the line's seal.
func (s *site) sealKey() string {
	if s.at == atHub && s.sheet.Gap > 0 {
		return "mold.stack.seal"
	}
	return "mold.seals." + [...]string{"base", "lid", "sides", "hub"}[s.at]
}

func sealingOf(m *params.Mold, name string, gap float64) sealing {
	s := sealing{name: name, angle: wipedAngle, spread: wipedSpread}
	switch name {
	case "dry":
		s.angle, s.spread = dryAngle, drySpread
	case "grease":
		s.yield = m.Seals.GreaseYield
	case "wax":
		s.yield = m.Seals.WaxYield
	case "tape", "clay":
		s.outside = true
	case "cord":
		s.cord = true
	case "bead":
		s.bead = m.Seals.BeadHeight
	case "gasket":
		s.follows = gasketFollows * gap
	}
	return s
}
