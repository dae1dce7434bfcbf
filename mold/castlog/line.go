package castlog

import (
	"errors"
	"fmt"
	"hash/crc32"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// castagnoli finds every change of up to three bits, and every burst of up to 32, in
// lines of this length (CRC-32C, RFC 3720).
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

const sumKey = " sum="

// seal ends a line with its sum.
func seal(line string) string {
	return fmt.Sprintf("%s%s%08x", line, sumKey, crc32.Checksum([]byte(line), castagnoli))
}

// unseal takes the sum off a line. Only the very text that seal writes is right.
func unseal(line string) (string, error) {
	i := strings.LastIndex(line, sumKey)
	if i < 0 {
		return "", errors.New("it has no sum: cut off while it was written, or not written by this program")
	}
	if seal(line[:i]) != line {
		return "", errors.New("its sum is wrong: cut off or changed since it was written")
	}
	return line[:i], nil
}

// encode writes a record as its line, without the newline.
func encode(r *Record) (string, error) {
	if err := r.Check(); err != nil {
		return "", err
	}
	words := texts(nil, r, heads)
	for _, f := range numbers {
		if m := f.at(r); m.Known {
			words = append(words, f.key+"="+strconv.FormatFloat(m.Value, 'g', -1, 64))
		}
	}
	words = texts(words, r, tails)
	words = append(words, r.Extra...)
	line := seal(strings.Join(words, " "))
	if len(line) > MaxLine {
		return "", fmt.Errorf("the record takes %d bytes, more than %d: shorten the notes", len(line), MaxLine)
	}
	// What cannot be read again must not be written; only Extra can be at fault.
	if _, err := decode(line); err != nil {
		return "", err
	}
	return line, nil
}

// texts adds the strings that are not empty.
func texts(words []string, r *Record, list []text) []string {
	for _, t := range list {
		if s := *t.at(r); s != "" {
			words = append(words, t.key+"="+quote(s))
		}
	}
	return words
}

// quote leaves plain words bare.
func quote(s string) string {
	plain := func(c rune) bool {
		return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '.'
	}
	if strings.IndexFunc(s, func(c rune) bool { return !plain(c) }) < 0 {
		return s
	}
	return strconv.Quote(s)
}

// decode reads a record from its line.
func decode(line string) (*Record, error) {
	rest, err := unseal(line)
	if err != nil {
		return nil, err
	}
	r := &Record{}
	var seen []string
	for rest != "" {
		var key, value, raw string
		if key, value, raw, rest, err = next(rest); err != nil {
			return nil, err
		}
		if slices.Contains(seen, key) {
			return nil, fmt.Errorf("%s is written twice", key)
		}
		seen = append(seen, key)
		if err := r.set(key, value, raw); err != nil {
			return nil, err
		}
	}
	return r, r.Check()
}

// next takes one key=value off the line; raw is as it stands there.
func next(line string) (key, value, raw, rest string, err error) {
	key, after, ok := strings.Cut(line, "=")
	if !ok || key == "" || strings.ContainsAny(key, " \"") || strings.ContainsFunc(key, unicode.IsControl) {
		return "", "", "", "", errors.New("it is not made of key=value")
	}
	if strings.HasPrefix(after, `"`) {
		if raw, err = strconv.QuotedPrefix(after); err != nil {
			return "", "", "", "", fmt.Errorf("the text of %s does not end", key)
		}
		if value, err = strconv.Unquote(raw); err != nil {
			return "", "", "", "", fmt.Errorf("the text of %s is not quoted right", key)
		}
	} else {
		raw, _, _ = strings.Cut(after, " ")
		value = raw
		if strings.ContainsFunc(raw, unicode.IsControl) {
			return "", "", "", "", fmt.Errorf("the value of %s is no text", key)
		}
	}
	rest = after[len(raw):]
	if rest != "" && (rest[0] != ' ' || rest == " ") {
		return "", "", "", "", fmt.Errorf("after %s stands something that is not key=value", key)
	}
	return key, value, key + "=" + raw, strings.TrimPrefix(rest, " "), nil
}

// set puts one value where it belongs; unknown keys are kept as they stand.
func (r *Record) set(key, value, raw string) error {
	for _, t := range slices.Concat(heads, tails) {
		if t.key == key {
			*t.at(r) = value
			return nil
		}
	}
	for _, f := range numbers {
		if f.key != key {
			continue
		}
		v, err := strconv.ParseFloat(value, 64)
		if err != nil {
			return fmt.Errorf("%s is %q, not a number", key, value)
		}
		*f.at(r) = Of(v)
		return nil
	}
	r.Extra = append(r.Extra, raw)
	return nil
}
