package drawing

import (
	"strings"
	"unicode"
)

// Slug makes an ID or a class of a name: small letters of the alphabet, digits, and single
// dashes for all between. "+x" and "-x" become "plus-x" and "minus-x", which
// tell the two ends of a mold apart.
func Slug(name string) string {
	name = strings.NewReplacer(" +", " plus ", " -", " minus ").Replace(name)
	parts := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return strings.Join(parts, "-")
}
