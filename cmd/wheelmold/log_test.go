package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wheelmold/mold/castlog"
)

// Of a log with more damaged lines than are kept, a few are told one by one, and then how
// many more there are in the file.
func TestAllDamagedLinesAreCounted(t *testing.T) {
	path := filepath.Join(t.TempDir(), "wheel.casts")
	for damaged, last := range map[int]string{
		mostFaults:             fmt.Sprintf("%s: line %d: ", path, mostFaults+1),
		mostFaults + 2:         path + ": 2 lines more that cannot be used",
		castlog.MaxFaults + 20: path + ": 65 lines more that cannot be used",
	} {
		if err := os.WriteFile(path, []byte(castlog.Header+"\n"+strings.Repeat("x\n", damaged)), 0o666); err != nil {
			t.Fatal(err)
		}
		_, told, err := readCasts(io.Discard, path)
		if err != nil || len(told) != min(damaged, mostFaults+1) || !strings.HasPrefix(told[len(told)-1], last) {
			t.Errorf("%d damaged lines: %q, %v", damaged, told, err)
		}
	}
}
