package castlog

import (
	"math"
	"os"

	"golang.org/x/sys/windows"
)

// lock waits until nobody else holds the file. What is locked is a byte far behind the
// end, since Windows would keep others from reading what is locked.
func lock(f *os.File) error {
	at := windows.Overlapped{Offset: math.MaxUint32, OffsetHigh: math.MaxInt32}
	return windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK, 0, 1, 0, &at)
}
