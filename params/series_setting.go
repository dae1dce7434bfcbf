package params

import (
	"fmt"
	"strconv"
	"strings"
)

// String is the setting as on a command line.
func (s Setting) String() string { return s.Key + "=" + s.Value }

// Kind is what the setting's value measures; Text for an unknown key.
func (s Setting) Kind() Kind {
	path, _, _ := splitIndex(s.Key)
	if k, known := keyAt(path); known {
		return k.Kind
	}
	return Text
}

// Number is a setting's value in the base unit of its kind; false for words.
func (s Setting) Number() (v float64, ok bool) {
	if s.Kind() > Count {
		return 0, false
	}
	r, err := exactly(s.Kind(), s.Value)
	if err != nil {
		return 0, false
	}
	v, _ = r.Float64()
	return v, true
}

// Shown is a setting's value for a reader: a length in both systems.
func (s Setting) Shown() string {
	v, number := s.Number()
	switch k := s.Kind(); {
	case !number:
		return s.Value
	case k == Length:
		return fmt.Sprintf("%s (%s)", k.legibly(v), inches(v))
	default:
		return k.legibly(v)
	}
}

// inches writes a length of v mm to a thousandth.
func inches(v float64) string {
	return strconv.FormatFloat(roundTo(v/25.4, 1e3), 'f', -1, 64) + " in"
}

// Slug is a setting as a part of a file's name: "wheel.diameter=60mm".
func (s Setting) Slug() string {
	number, rest := splitNumber(s.Value)
	value := s.Value
	if number != "" && rest != "" {
		value = number + strings.ReplaceAll(rest, " ", "")
	}
	return slug(s.Key) + "=" + slug(value)
}

// slug keeps what every file system takes, and no shell minds.
func slug(s string) string {
	s = strings.NewReplacer("[", "", "]", "", `"`, "in", "″", "in", "°", "deg").Replace(s)
	return strings.Map(func(r rune) rune {
		if r < 0x80 && (r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || strings.ContainsRune("._+-%", r)) {
			return r
		}
		return '-'
	}, s)
}
