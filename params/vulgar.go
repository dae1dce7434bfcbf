package params

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// vulgar are the fractions that have a character of their own.
var vulgar = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4",
	'⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8",
	'⅓': "1/3", '⅔': "2/3",
}

// slashed is a fraction with the slash that is made for fractions.
var slashed = regexp.MustCompile(`(\d{1,4}) ?⁄ ?(\d{1,4})`)

// spelledOut writes the fractions of a text in plain digits: "3½" becomes "3 1/2". With
// the slash made for fractions, only a proper one is: where texts are flattened, 3½
// becomes 31⁄2, and nobody can tell.
func spelledOut(text string) string {
	if strings.Contains(text, "⁄") {
		text = slashed.ReplaceAllStringFunc(text, func(s string) string {
			m := slashed.FindStringSubmatch(s)
			over, _ := strconv.Atoi(m[1])
			under, _ := strconv.Atoi(m[2])
			if over >= under {
				return s
			}
			return m[1] + "/" + m[2]
		})
	}
	if !strings.ContainsFunc(text, func(r rune) bool { return vulgar[r] != "" }) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		f := vulgar[r]
		if f == "" {
			b.WriteRune(r)
			continue
		}
		before := strings.TrimRight(b.String(), " ")
		b.Reset()
		b.WriteString(before)
		if before != "" && '0' <= before[len(before)-1] && before[len(before)-1] <= '9' {
			b.WriteByte(' ')
		}
		b.WriteString(f + " ") // so that no digit behind it joins it
	}
	return b.String()
}

// noNumber says what to write for a text that does not begin with a number.
func noNumber(k Kind, text string) error {
	if q, ok := behind(k, text, "Øø⌀∅", ""); ok {
		return fmt.Errorf("begins with the sign of a diameter: write %q", q)
	}
	if q, ok := behind(k, text, "−–—‐‑", "-"); ok {
		return fmt.Errorf("begins with a dash that is no plain minus: write %q", q)
	}
	return fmt.Errorf("does not begin with a number: write %s", kindNames[k].example)
}

// behind is the quantity behind signs that a text begins with, with a plain one in their
// place.
func behind(k Kind, text, signs, plain string) (string, bool) {
	text = strings.TrimSpace(text)
	bare := strings.TrimLeft(text, signs)
	rest := strings.TrimSpace(spelledOut(bare))
	if bare == text || rest == "" || rest[0] < '0' || rest[0] > '9' {
		return "", false
	}
	q, err := ParseQuantity(k, plain+rest)
	return q.text, err == nil
}

// oddUnit says what to write where a mark stands in a unit's place; nil if none does.
func oddUnit(k Kind, number, name string) error {
	switch {
	case strings.HasPrefix(name, "⁄"):
		return fmt.Errorf("has a fraction slash, with which 3 1/2 and 31/2 look the same: write a plain one, as in %q", "3 1/2 in")
	case k == Length && (name == "”" || name == "“" || name == "''" || name == "’’" || name == "′′"):
		return fmt.Errorf("has the unit %q: write %q", name, number+" in")
	}
	return nil
}
