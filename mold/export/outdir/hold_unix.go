//go:build unix

package outdir

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// hold locks a temporary folder or file until what it returns is closed or the process ends, in
// whatever way. errHeld: somebody else has it, or had it and took it away meanwhile.
func hold(path string) (*os.File, error) {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, errHeld
	}
	if err != nil {
		return nil, err
	}
	if err := lock(f, path); err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

func lock(f *os.File, path string) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return errHeld
	}
	if err != nil {
		return err
	}
	mine, err := f.Stat()
	if err != nil {
		return err
	}
	if now, err := os.Lstat(path); err != nil || !os.SameFile(mine, now) {
		return errHeld // another one has the name by now, or none
	}
	return nil
}
