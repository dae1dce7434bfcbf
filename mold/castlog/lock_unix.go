//go:build !windows

package castlog

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// lock waits until nobody else holds the file. It belongs to the open file, so that it
// keeps goroutines of one process apart, too.
func lock(f *os.File) error {
	for {
		err := unix.Flock(int(f.Fd()), unix.LOCK_EX)
		if !errors.Is(err, unix.EINTR) {
			return err
		}
	}
}
