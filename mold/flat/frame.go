package flat

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mold/views"
)

// frame says where a view's origin lies and how its x and y run: by the names of the
// sheet's tables, and in the closed mold, in whose frame solids are.
func frame(v *views.View) []string {
	origin := "origin: the wheel's axis"
	if v.Plane.V[2] != 0 {
		origin += " and the lower end, z " + number(v.Origin[2]) + " mm of the closed mold"
	}
	return []string{
		origin,
		"x to the right: " + axis(v.Axes[0], v.Plane.U),
		"y up: " + axis(v.Axes[1], v.Plane.V),
	}
}

// axis names a direction as the sheet does, if it has it, and in the closed mold.
func axis(name string, d mesh.Vec) string {
	text := direction(d) + " of the closed mold"
	if name != "" {
		text = name + " of the shop drawing, " + text
	}
	return text
}

// direction is "-x", or the parts of a direction that is none of the frame's.
func direction(d mesh.Vec) string {
	var parts [3]string
	for i, x := range d {
		if math.Abs(x) > square {
			return strings.Repeat("-", int(math.Round((1-x)/2))) + string("xyz"[i])
		}
		parts[i] = number(x)
	}
	return fmt.Sprintf("direction (%s)", strings.Join(parts[:], ", "))
}

// number is written to four decimals at most.
func number(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e4)/1e4+0, 'f', -1, 64)
}
