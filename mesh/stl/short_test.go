package stl

import (
	"bytes"
	"strings"
	"testing"

	"wheelmold/mesh/meshtest"
)

// A file that ends too early says so in words: within its header, or within its facets.
func TestShortFilesSayHowShort(t *testing.T) {
	good := write(t, meshtest.Tetra(3))
	for size, want := range map[int]string{
		0: "shorter than the 84 bytes", 1: "shorter than the 84 bytes", 83: "shorter than the 84 bytes",
		84: "84 bytes, but 4 facets make 284", 283: "283 bytes, but 4 facets make 284",
	} {
		if _, err := Read(bytes.NewReader(good[:size])); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%d bytes: %v, want %q", size, err, want)
		}
	}
}
