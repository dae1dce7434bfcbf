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

// gapped tells whether a line at the hub is the one with the stack's designed gap.
func (s *site) gapped() bool { return s.at == atHub && s.sheet.Gap > 0 }

// sealOf is the seal that the job gives to a line.
func sealOf(j *params.Job, s *site) sealing {
	gap := 0.0
	if s.gapped() {
		gap = s.sheet.Gap
	}
	return sealingOf(&j.Mold, *s.sealIn(&j.Mold), gap)
}

// sealIn is where the job names the line's seal.
func (s *site) sealIn(m *params.Mold) *string {
	if s.gapped() {
		return &m.Stack.Seal
	}
	return [...]*string{atBase: &m.Seals.Base, atLid: &m.Seals.Lid, atSides: &m.Seals.Sides, atHub: &m.Seals.Hub}[s.at]
}

// sealKey is the job's key of the same.
func (s *site) sealKey() string {
	if s.gapped() {
		return "mold.stack.seal"
	}
	return "mold.seals." + [...]string{atBase: "base", atLid: "lid", atSides: "sides", atHub: "hub"}[s.at]
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

// contact is the contact angle in a state, degrees.
func (s *sealing) contact(x *shared) float64 { return s.angle + x.angle*s.spread/2 }

// relied is the part of a filling's yield stress that is relied on in a gap.
func relied(gap float64) float64 { return max(0, 1-gap/widestFilled) }

// push is the pressure that drives a leak, where nothing but head pulls any more:
// what is left of a filling in the joint still holds back.
func (s *sealing) push(head, drive float64) float64 {
	if s.yield > 0 {
		return min(head, drive)
	}
	return head
}
