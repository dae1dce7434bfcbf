package dxf

import (
	"fmt"
	"strconv"
	"strings"
)

// longestText is how many bytes of text an entity of release 12 holds, escapes included.
const longestText = 255

// escape writes text in ASCII without anything that a reader takes for a code: all else
// as \U+XXXX, and so the backslash that would begin one, and percent signs in a row, which
// would begin a symbol; "^", which begins a control code, with a space behind. What lies
// beyond the codes of four digits becomes "?", a control code a space.
func escape(s string) string {
	var b strings.Builder
	for i, r := range s {
		switch {
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		case r > 0xffff || r == '\uFFFD':
			b.WriteByte('?')
		case r > '~' || r == '\\' || r == '%' && (strings.HasPrefix(s[i+1:], "%") || strings.HasSuffix(s[:i], "%")):
			fmt.Fprintf(&b, `\U+%04X`, r)
		case r == '^':
			b.WriteString("^ ")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// unescape reads what escape wrote.
func unescape(s string) (string, error) {
	var b strings.Builder
	for len(s) > 0 {
		switch {
		case s[0] < ' ' || s[0] > '~':
			return "", fmt.Errorf("a byte %#x in a text", s[0])
		case s[0] == '\\':
			if len(s) < 7 || s[1:3] != "U+" {
				return "", fmt.Errorf("%q is no \\U+XXXX", s)
			}
			n, err := strconv.ParseUint(s[3:7], 16, 16)
			if err != nil || escape(string(rune(n))) == "?" && n != '?' || n < ' ' || n == 0x7f {
				return "", fmt.Errorf("%q is no \\U+XXXX of a character", s[:7])
			}
			b.WriteRune(rune(n))
			s = s[7:]
			continue
		case strings.HasPrefix(s, "^ "):
			b.WriteByte('^')
			s = s[2:]
			continue
		case s[0] == '^':
			return "", fmt.Errorf("a control code %q", s[:min(2, len(s))])
		case strings.HasPrefix(s, "%%"):
			return "", fmt.Errorf("a symbol %q", s[:min(3, len(s))])
		}
		b.WriteByte(s[0])
		s = s[1:]
	}
	return b.String(), nil
}
