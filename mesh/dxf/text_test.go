package dxf

import "testing"

// Every character of plain type comes back as it was written, and so do others of the
// basic plane; a byte that no such file has is refused.
func TestTextsComeBack(t *testing.T) {
	for r := rune(' '); r < 0x800; r++ {
		if r == 0x7f {
			continue
		}
		s := "a" + string(r) + "b"
		if got, err := unescape(escape(s)); err != nil || got != s {
			t.Errorf("%q is written as %q and read as %q: %v", s, escape(s), got, err)
		}
	}
	for _, s := range []string{"a\x1fb", "a\x7fb", "a\x80b", "\t"} {
		if got, err := unescape(s); err == nil {
			t.Errorf("%q is read as %q", s, got)
		}
	}
}
