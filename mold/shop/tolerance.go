package shop

import (
	"strconv"
	"strings"

	"wheelmold/params"
)

// limits are what stands behind a dimension.
type limits struct{ fit, tolerance string }

// fitted are the limits of a class of ISO 286 on a diameter in mm. Beyond the standard's
// table here, its standard tolerance to both sides; beyond that one too, the general
// tolerance of the class.
func fitted(diameter float64, class, general string) limits {
	if lower, upper, err := params.Fit(diameter, class); err == nil {
		return limits{class, "(" + signed(upper) + " / " + signed(lower) + ")"}
	}
	grade, _ := strconv.Atoi(strings.TrimLeft(class, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"))
	if it, ok := params.Tolerance(diameter, grade); ok {
		return limits{"", plusMinus(it / 2)}
	}
	return limits{"", plusMinus(params.GeneralTolerance(diameter, general))}
}

// plusMinus are limits to both sides, to a micrometer.
func plusMinus(t float64) string { return "±" + digits(t, 3) }

// signed writes a deviation in mm as drawings have it.
func signed(d float64) string {
	if d > 0 {
		return "+" + digits(d, 3)
	}
	return digits(d, 3)
}

// digits writes a number with at most so many digits behind the point.
func digits(x float64, most int) string {
	s := strconv.FormatFloat(x, 'f', most, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// mm writes a length to a hundredth.
func mm(x float64) string { return digits(x, 2) }

// generalLimits are the general tolerances of a class in words, one for each range of
// lengths of ISO 2768-1 that a sheet needs, up to its longest length in mm.
func generalLimits(class string, longest float64) string {
	var parts []string
	last := 0.0
	for _, to := range []float64{3, 6, 30, 120, 400, 1000, 2000} {
		t := params.GeneralTolerance(to, class)
		if t == last {
			parts = parts[:len(parts)-1]
		}
		parts = append(parts, "to "+digits(to, 0)+" "+plusMinus(t))
		if last = t; to >= longest {
			break
		}
	}
	return strings.Join(parts, ", ")
}

// general is the general tolerance's name: "ISO 2768-m".
func general(class string) string { return "ISO 2768-" + class[:1] }
