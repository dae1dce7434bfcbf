package mold

import (
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

// mm formats a length for a message, to a hundredth.
func mm(v float64) string { return params.Millimeters(v) }
