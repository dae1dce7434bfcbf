package params

import (
	"bytes"
	"fmt"
	"regexp"
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

// typographic are the quotes that word processors put in place of plain ones.
const typographic = "“”„‟‘’‚«»"

// misread is how the TOML reader names a character beyond ASCII: by its first byte, as
// if that were a character.
var misread = regexp.MustCompile(`:? U\+00[89A-F][0-9A-F] '.'`)

// mistyped recognizes the commonest slips in a line that is no TOML, and says what to
// write; "" if it is none of them.
func mistyped(src []byte, line int) string {
	lines := strings.Split(string(src), "\n")
	if line < 1 || line > len(lines) {
		return ""
	}
	text := strings.TrimSpace(lines[line-1])
	key, value, found := strings.Cut(text, "=")
	key, value = strings.TrimSpace(key), strings.TrimSpace(value)
	switch {
	case strings.HasPrefix(text, "\ufeff"):
		return "take the byte order mark away"
	case strings.Contains(text, "\r"):
		return "save it with the usual line ends, LF or CR LF"
	case strings.HasPrefix(text, "<<<<<<<"), strings.HasPrefix(text, "======="), strings.HasPrefix(text, ">>>>>>>"):
		return "keep one side of the merge, and take its marks away"
	case strings.HasPrefix(text, "[") && strings.HasSuffix(text, "]"):
		return "each section stands in a job once: put its values together"
	case strings.HasPrefix(text, "["):
		return "a section is written [wheel], alone in its line"
	case !found || key == "":
		return `a line is a section, as in [wheel], a value, as in diameter = "90 mm", or a remark behind #`
	case value == "" || value[0] == '#':
		return fmt.Sprintf("write the value behind %s =, or take the line away for its default", brief(key))
	case strings.ContainsAny(value, typographic):
		return `put the value in plain quotes, as in "90 mm"`
	case strings.Contains(value, `\`):
		return "write each backslash twice, or put the value in single quotes"
	case strings.Count(value, `"`)%2 != 0:
		return "close the quotes in the same line"
	}
	return unquoted(key, value)
}

// unquoted recognizes a quantity without quotes, the commonest slip.
func unquoted(key, value string) string {
	value, _, _ = strings.Cut(value, "#")
	value = strings.TrimSpace(value)
	if value == "" || strings.ContainsAny(value, `"'`) {
		return ""
	}
	for k := Length; k <= Share; k++ {
		if _, err := ParseQuantity(k, value); err == nil {
			return fmt.Sprintf("put the value in quotes: %s = %q", key, value)
		}
	}
	return ""
}
