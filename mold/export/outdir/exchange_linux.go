package outdir

import (
	"errors"

	"golang.org/x/sys/unix"
)

// exchange swaps two names in one step, on the file systems that can.
func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) {
		return errors.ErrUnsupported
	}
	return err
}
