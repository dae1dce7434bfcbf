//go:build unix

package outdir

import (
	"testing"

	"golang.org/x/sys/unix"
)

// A pipe stays, and is not waited for.
func TestFileReplacesNoPipe(t *testing.T) {
	staysAtPlace(t, func(path string) error { return unix.Mkfifo(path, 0o666) })
}
