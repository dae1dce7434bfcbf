package castlog

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
)

// Append adds one record to a log, which it makes if need be. When it returns nil,
// the record is on the drive. The file must be a log, or empty.
func Append(path string, r Record) (err error) {
	line, err := encode(&r)
	if err != nil {
		return err
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		// Opening a pipe would wait for its other end.
		return &fs.PathError{Op: "append to", Path: path, Err: errors.New("it is not a file")}
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o666)
	if err != nil {
		return err
	}
	// Closing the file frees the lock, and so does the end of the process.
	defer func() { err = errors.Join(err, f.Close()) }()
	if err := lock(f); err != nil {
		return &fs.PathError{Op: "lock", Path: path, Err: err}
	}
	before, err := lead(f)
	if err != nil {
		return &fs.PathError{Op: "append to", Path: path, Err: err}
	}
	end, err := f.Seek(0, io.SeekEnd)
	if err != nil {
		return err
	}
	if _, err = f.WriteString(before + line + "\n"); err == nil {
		err = f.Sync()
	}
	if err != nil {
		f.Truncate(end) // part of a line may have gone to a full disk
	}
	return err
}

// lead is what must stand before the next record: the header in a new file, a newline
// after a line that was cut off. Needs the lock.
func lead(f *os.File) (string, error) {
	info, err := f.Stat()
	if err != nil {
		return "", err
	}
	size := info.Size()
	if size == 0 {
		return Header + "\n", nil
	}
	if size > MaxSize-MaxLine {
		return "", fmt.Errorf("it has no room for another cast within the %d MiB that are read: move it away to begin a new log; ratios that were accepted go with it", MaxSize>>20)
	}
	first := make([]byte, min(size, int64(len(Header))))
	if _, err := f.ReadAt(first, 0); err != nil {
		return "", err
	}
	if !strings.HasPrefix(Header, string(first)) {
		return "", fmt.Errorf("it does not begin with %q: put that on its first line, if it is a log of casts", Header)
	}
	last := make([]byte, 1)
	if _, err := f.ReadAt(last, size-1); err != nil {
		return "", err
	}
	var before string
	if last[0] != '\n' {
		before = "\n"
	}
	if len(first) < len(Header) {
		before += Header + "\n" // the header itself was cut off
	}
	return before, nil
}
