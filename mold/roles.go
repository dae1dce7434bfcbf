package mold

import (
	"math"

	"wheelmold/params"
)

// Roles that faces carry from the model into meshes, audits and exports.
const (
	RoleTread     = "tread surface"
	RoleTreadFace = "tread end face"
	RoleCeiling   = "ceiling"
	RoleOuter     = "outer face"
	RoleParting   = "parting face"
	RoleRegister  = "register"
	RoleLand      = "hub land"
	RoleBall      = "ball pocket"
	RoleBolt      = "bolt hole"
	RolePry       = "pry slot"
	RoleJack      = "jack hole"
	RoleSprue     = "sprue"
	RoleVent      = "vent"
	RoleStrap     = "strap groove"
	RoleMark      = "mark"
	RoleSeal      = "seal"
)

// Parting lines of the four-piece split that carry balls and pry slots.
const (
	LineBase = "base/shells"
	LineLid  = "lid/shells"
)

// LineSide names the shells' parting line at x > 0 or x < 0.
func LineSide(sign float64) string {
	if sign > 0 {
		return "shell A/shell B at +x"
	}
	return "shell A/shell B at -x"
}

// mm formats a length for a message, to a hundredth.
func mm(v float64) string { return params.Format(params.Length, math.Round(v*100)/100) }
