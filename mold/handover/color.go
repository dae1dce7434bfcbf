package handover

import (
	"wheelmold/hub"
	"wheelmold/mesh/step"
	"wheelmold/mold"
)

// colored is the color of faces by one of their roles.
type colored struct {
	role string
	rgb  step.RGB
}

// colors tell faces apart by what they do, in programs that show them. What must meet is
// blue, what shapes the rubber orange, what is drilled or milled otherwise in quiet hues.
// They differ in lightness, too.
var colors = []colored{
	{mold.RoleTread, step.RGB{0.85, 0.45, 0.10}},
	{mold.RoleTreadFace, step.RGB{0.93, 0.62, 0.30}},
	{mold.RoleCeiling, step.RGB{0.93, 0.62, 0.30}},
	{hub.RoleBond, step.RGB{0.93, 0.62, 0.30}},
	{mold.RoleRegister, step.RGB{0.10, 0.45, 0.50}},
	{mold.RoleLand, step.RGB{0.35, 0.62, 0.66}},
	{hub.RoleKeepOut, step.RGB{0.10, 0.45, 0.50}},
	{hub.RoleEnd, step.RGB{0.35, 0.62, 0.66}},
	{mold.RoleBall, step.RGB{0.80, 0.72, 0.20}},
	{mold.RoleBolt, step.RGB{0.40, 0.55, 0.35}},
	{mold.RoleJack, step.RGB{0.25, 0.40, 0.25}},
	{mold.RolePry, step.RGB{0.45, 0.40, 0.50}},
	{mold.RoleStrap, step.RGB{0.45, 0.40, 0.50}},
	{mold.RoleSprue, step.RGB{0.70, 0.20, 0.25}},
	{mold.RoleVent, step.RGB{0.85, 0.50, 0.52}},
	{hub.RoleLock, step.RGB{0.55, 0.35, 0.20}},
	{mold.RoleMark, step.RGB{0.20, 0.20, 0.22}},
	{mold.RoleParting, step.RGB{0.25, 0.42, 0.75}},
}

// bare is the color of faces without a role of their own.
var bare = step.RGB{0.74, 0.75, 0.78}

// colorOf is the color of a face: that of the first of the list among its roles.
func colorOf(roles []string) step.RGB {
	for _, c := range colors {
		for _, r := range roles {
			if r == c.role {
				return c.rgb
			}
		}
	}
	return bare
}
