package params

import (
	"fmt"
	"strings"
	"unicode"
)

// typographic are the quotes that word processors put in place of plain ones.
const typographic = "“”„‟‘’‚«»"

// unseen are the characters that take no room, and so cannot be found by looking.
var unseen = map[rune]string{
	'\u00ad': "a soft hyphen",
	'\u200b': "a zero-width space",
	'\u200c': "a zero-width non-joiner",
	'\u200d': "a zero-width joiner",
	'\u200e': "a mark of the direction of reading",
	'\u200f': "a mark of the direction of reading",
	'\u2060': "a word joiner",
	'\ufeff': "a byte order mark",
}

// noBreak are the spaces that web pages hold numbers and units together with.
const noBreak = "\u00a0\u202f\u2007"

// foreign names a character beyond ASCII where a job has none, and says what to do.
func foreign(r rune) (name, hint string) {
	code := fmt.Sprintf(" (%U)", r)
	switch {
	case r == '\ufeff':
		return unseen[r] + code, "take the byte order mark away"
	case unseen[r] != "":
		return unseen[r] + code, "take it away: it is there, but takes no room"
	case strings.ContainsRune(noBreak, r):
		return "a no-break space" + code, "retype it as a plain space: web pages and word processors have others"
	case unicode.IsSpace(r):
		return "a space of another width" + code, "retype it as a plain space"
	case strings.ContainsRune(typographic, r):
		return "a curly quote" + code, `put the value in plain quotes, as in "90 mm"`
	case r == '″' || r == '′':
		return "a prime" + code, `put the value in plain quotes, with its unit, as in "3.5 in"`
	case !unicode.IsPrint(r):
		return "a character that cannot be printed" + code, "take it away"
	}
	return fmt.Sprintf("the character %c%s", r, code), "outside quotes and remarks, write plain letters and digits only"
}

// beyond is the first character beyond ASCII of a line that stands in no quotes and no
// remark.
func beyond(line string) (rune, bool) {
	var open rune
	escaped := false
	for _, r := range line {
		switch {
		case escaped:
			escaped = false
		case open == '"' && r == '\\':
			escaped = true
		case open != 0 && r == open:
			open = 0
		case open != 0:
		case r == '"' || r == '\'':
			open = r
		case r == '#':
			return 0, false
		case r > unicode.MaxASCII:
			return r, true
		}
	}
	return 0, false
}
