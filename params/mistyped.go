package params

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// encoded reports what is no text in UTF-8: a binary file, or text of another kind.
func encoded(file string, src []byte) (Fault, bool) {
	f := Fault{File: file, Hint: "save it as UTF-8"}
	at := bytes.IndexByte(src, 0)
	switch {
	case bytes.HasPrefix(src, []byte("\xff\xfe")), bytes.HasPrefix(src, []byte("\xfe\xff")):
		f.Cause, at = "not TOML: text in UTF-16 or UTF-32", 0
	case at >= 0:
		f.Cause = "not TOML: holds a byte of zero, as binary files do, and text in UTF-16"
	case utf8.Valid(src):
		return Fault{}, false
	default:
		at = len(validPart(src))
		f.Cause = "not TOML: holds bytes that are no UTF-8"
	}
	before := src[:at]
	f.Line = 1 + bytes.Count(before, []byte("\n"))
	f.Column = at - bytes.LastIndexByte(before, '\n')
	return f, true
}

// validPart is what of a text is UTF-8 before the first byte that is not.
func validPart(src []byte) []byte {
	for i := 0; i < len(src); {
		r, n := utf8.DecodeRune(src[i:])
		if r == utf8.RuneError && n <= 1 {
			return src[:i]
		}
		i += n
	}
	return src
}

// misread is how the TOML reader names a character beyond ASCII: by its first byte, as
// if that were a character.
var misread = regexp.MustCompile(`:? U\+00[89A-F][0-9A-F] '.'`)

// explained is what the TOML reader says of a line, with a character beyond ASCII that it
// stumbles over by its name, and what to write instead.
func explained(src []byte, line int, says string) (cause, hint string) {
	cause = misread.ReplaceAllString(says, "")
	lines := strings.Split(string(src), "\n")
	if line < 1 || line > len(lines) {
		return cause, ""
	}
	text, section := lines[line-1], sectionAbove(lines[:line-1])
	r, found := beyond(text)
	if !found {
		return cause, mistyped(section, text, cause)
	}
	name, hint := foreign(r)
	if strings.HasSuffix(cause, "but got") {
		name = " " + name
	} else {
		name = ": " + name
	}
	key, value, _ := strings.Cut(text, "=")
	if _, before := beyond(key); !before {
		key = strings.TrimSpace(key)
		hint = cmp.Or(inchMark(key, value), unquoted(section, key, value), hint)
	}
	return cause + name, hint
}

// sectionAbove is the section that the next line belongs to.
func sectionAbove(lines []string) string {
	for _, line := range slices.Backward(lines) {
		if line = strings.TrimSpace(line); strings.HasPrefix(line, "[") {
			name, _, _ := strings.Cut(strings.TrimLeft(line, "["), "]")
			return name
		}
	}
	return ""
}

// mistyped recognizes the commonest slips in a line that is no TOML, and says what to
// write; "" if it is none of them.
func mistyped(section, text, cause string) string {
	text = strings.TrimSpace(text)
	key, value, found := strings.Cut(text, "=")
	key, value = strings.TrimSpace(key), strings.TrimSpace(value)
	switch {
	case strings.Contains(text, "\r"):
		return "save it with the usual line ends, LF or CR LF"
	case strings.HasPrefix(text, "<<<<<<<"), strings.HasPrefix(text, "======="), strings.HasPrefix(text, ">>>>>>>"):
		return "keep one side of the merge, and take its marks away"
	case strings.HasPrefix(text, "[") && strings.Contains(cause, "already"):
		return "each section stands in a job once: put its values together"
	case strings.HasPrefix(text, "["):
		return "a section is written [wheel], alone in its line"
	case !found || key == "":
		return `a line is a section, as in [wheel], a value, as in diameter = "90 mm", or a remark behind #`
	case value == "" || value[0] == '#':
		return fmt.Sprintf("write the value behind %s =, or take the line away for its default", brief(key))
	case inchMark(key, value) != "":
		return inchMark(key, value)
	case strings.ContainsAny(value, typographic):
		return `put the value in plain quotes, as in "90 mm"`
	case strings.Contains(value, `\`):
		return "write each backslash twice, or put the value in single quotes"
	case strings.Count(value, `"`)%2 != 0:
		return "close the quotes in the same line"
	}
	return unquoted(section, key, value)
}

// commaed is a number with one comma, which has the form of a decimal one or of one that
// parts thousands, and its unit.
var commaed = regexp.MustCompile(`^([+-]?\d+),(\d+)\s*(.*)$`)

// unquoted recognizes a quantity without quotes, the commonest slip, and a decimal comma.
func unquoted(section, key, value string) string {
	value, _, _ = strings.Cut(value, "#")
	value = strings.Join(strings.Fields(value), " ") // a space of any kind becomes a plain one
	if value == "" || strings.ContainsAny(value, `"'`) {
		return ""
	}
	if quotable(value) {
		return fmt.Sprintf("put the value in quotes: %s = %q", key, value)
	}
	m := commaed.FindStringSubmatch(value)
	if m == nil {
		return ""
	}
	numbers := []string{m[1] + "." + m[2]}
	if thousands.MatchString(m[1] + "," + m[2]) { // which of the two is meant shows in neither
		numbers = append(numbers, m[1]+m[2])
	}
	k, known := keyAt(strings.TrimPrefix(section+"."+key, "."))
	switch {
	case m[3] != "" && quotable(numbers[0]+" "+m[3]):
		return fmt.Sprintf("put the value in quotes, with a point in place of the comma: %s = %s", key, eachIn(numbers, m[3]))
	case m[3] != "":
		return ""
	case known && k.Kind > Share && k.Kind <= Count:
		return fmt.Sprintf("write a point in place of the comma: %s = %s", key, strings.Join(numbers, " or "))
	case known && k.Kind == Length:
		return fmt.Sprintf("put the value in quotes, with a point and its unit: %s = %s", key, eachIn(numbers, "mm", "in"))
	case known && k.Kind <= Share:
		return fmt.Sprintf("put the value in quotes, with a point and its unit: %s = %s", key, eachIn(numbers, unitNames(k.Kind)[0]))
	}
	return fmt.Sprintf("write a point in place of the comma, and put a value with a unit in quotes, as in %s", kindNames[Length].example)
}

// eachIn lists what can be written: each number in each of the units.
func eachIn(numbers []string, units ...string) string {
	var all []string
	for _, n := range numbers {
		for _, u := range units {
			all = append(all, fmt.Sprintf("%q", n+" "+u))
		}
	}
	return strings.Join(all, " or ")
}

// inchMark recognizes inches without quotes, written by a mark that is a quote, too.
func inchMark(key, value string) string {
	value, _, _ = strings.Cut(value, "#")
	number := strings.TrimRight(value, ` "”“″`)
	if strings.TrimSpace(value) == number || !quotable(number+" in") {
		return ""
	}
	return fmt.Sprintf("put the value in quotes, with the inch as a word: %s = %q", key, strings.TrimSpace(number)+" in")
}

// quotable reports whether a value as it stands is a quantity of some kind.
func quotable(value string) bool {
	for k := Length; k <= Share; k++ {
		if _, err := ParseQuantity(k, value); err == nil {
			return true
		}
	}
	return false
}
