// Package reporttest holds what a page shows to the JSON, for tests of the page's text
// and of what a browser makes of it. It reads numbers as a reader does, and shares no
// code with what prints them.
package reporttest

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// LookUp follows a path of keys and indexes, with dots between, through JSON.
func LookUp(v any, path string) (float64, error) {
	for key := range strings.SplitSeq(path, ".") {
		switch at := v.(type) {
		case map[string]any:
			v = at[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i < 0 || i >= len(at) {
				return 0, fmt.Errorf("no element %q", key)
			}
			v = at[i]
		}
	}
	number, ok := v.(float64)
	if !ok {
		return 0, fmt.Errorf("the JSON has %v there", v)
	}
	return number, nil
}

// units are those in which a figure may be shown, in the unit of its key.
var units = []struct {
	suffix string
	in     map[string]float64
}{
	{"_mm3", map[string]float64{"mm³": 1, "cm³": 1000}},
	{"_mm2", map[string]float64{"mm²": 1, "cm²": 100}},
	{"_mm", map[string]float64{"mm": 1, "in": 25.4}},
	{"_mm.0", map[string]float64{"": 1}}, // the name says mm
	{"_g", map[string]float64{"g": 1, "kg": 1000, "oz": 28.349523125, "lb": 453.59237}},
	{"lost_g.p50", map[string]float64{"": 1}}, // the unit stands with the first figure
	{"_m_s", map[string]float64{"m/s": 1, "km/h": 1 / 3.6, "ft/s": 0.3048}},
	{"_kg_m2", map[string]float64{"kg·m²": 1}},
	{"_nm.1", map[string]float64{"N·m": 1, "ft·lb": 1.3558179483, "in·lb": 0.112984829}},
	{"_n", map[string]float64{"N": 1, "kN": 1000, "lbf": 4.4482216153}},
	{"_mpa", map[string]float64{"MPa": 1}},
	{"_h", map[string]float64{"h": 1}},
	{"_s", map[string]float64{"h": 3600, "days": 86400}},
	{"_c", map[string]float64{"°C": 1}},
	{"_f", map[string]float64{"°F": 1}}, // of a key in °C
	{"", map[string]float64{"": 1, "%": 0.01}},
}

var (
	clockTime = regexp.MustCompile(`^(?:(\d+):)?(\d+):(\d\d) (?:h|min)$`)
	usually   = regexp.MustCompile(`^[\d.<]+ to [\d.<]+ g, usually (.*)$`) // a range, and its median
	crossed   = regexp.MustCompile(`^([\d.]+) x [\d.]+ x [\d.]+$`)
	quantity  = regexp.MustCompile(`(<|within |under )?(-?[\d.]+(?:e[-+]?\d+)?) ?([\p{L}%³²°/·]*)`)
	chances   = map[string][2]float64{"unlikely": {0, 0.1}, "may": {0.1, 0.5}, "likely": {0.5, 1}}
)

// Agrees compares what is shown with the value, to half a step of the last digit
// that is shown; the inches and pounds in brackets too.
func Agrees(shown, key string, want float64) error {
	if band, ok := chances[shown]; ok {
		if want < band[0] || want > band[1] {
			return fmt.Errorf("the word is for %g to %g", band[0], band[1])
		}
		return nil
	}
	if m := clockTime.FindStringSubmatch(shown); m != nil {
		h, _ := strconv.Atoi(m[1])
		min, _ := strconv.Atoi(m[2])
		s, _ := strconv.Atoi(m[3])
		return near(float64(h*3600+min*60+s), want, 0.5)
	}
	if m := usually.FindStringSubmatch(shown); m != nil {
		shown = m[1]
	}
	if m := crossed.FindStringSubmatch(shown); m != nil {
		shown = m[1]
	}
	parts := quantity.FindAllStringSubmatch(shown, -1)
	if len(parts) == 0 {
		return fmt.Errorf("no number")
	}
	for _, m := range parts {
		if err := agreesIn(m[1], m[2], m[3], key, want); err != nil {
			return err
		}
	}
	return nil
}

func agreesIn(bound, digits, unit, key string, want float64) error {
	if unit == "°F" && strings.HasSuffix(key, "_c") {
		return agreesIn(bound, digits, "°F", strings.TrimSuffix(key, "c")+"f", want*9/5+32)
	}
	factor := 0.0
	for _, u := range units {
		if strings.HasSuffix(key, u.suffix) {
			factor = u.in[unit]
			break
		}
	}
	if factor == 0 {
		return fmt.Errorf("%q is no unit of such a key", unit)
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return err
	}
	step := stepOf(digits)
	if bound != "" {
		// "within" an order of magnitude is no exact figure, but must not be less.
		if math.Abs(want) > (v+step/2)*factor {
			return fmt.Errorf("is more than %g", v*factor)
		}
		return nil
	}
	return near(v*factor, want, step/2*factor)
}

// stepOf is what one more in the last digit makes.
func stepOf(digits string) float64 {
	mantissa, exponent, _ := strings.Cut(digits, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	e, _ := strconv.Atoi(exponent)
	return math.Pow(10, float64(e-len(decimals)))
}

// near allows for rounding of the decimal itself.
func near(got, want, slack float64) error {
	if math.Abs(got-want) > slack+1e-9*math.Abs(want) {
		return fmt.Errorf("is %g off, rounding allows %g", got-want, slack)
	}
	return nil
}
