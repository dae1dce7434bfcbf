package outdir

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteFile makes one file that appears whole or not at all. A plain file that is
// already there is replaced only on request, and nothing else ever: not a link, nor a
// device or a pipe. Files of killed runs beside it are removed, as with a folder.
func WriteFile(path string, replace bool, fill func(io.Writer) error) (err error) {
	if err := lookFile(path, replace); err != nil {
		return err
	}
	dir, name := filepath.Dir(path), filepath.Base(path)
	clearLeftovers(dir, name)
	var f, held *os.File
	temp, err := free(dir, name, func(temp string) (err error) {
		f, held, err = begin(temp)
		return err
	})
	if err != nil {
		return err
	}
	if held != nil {
		defer held.Close()
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(temp)
		}
	}()
	if err := fill(f); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if !replace {
		return place(temp, path)
	}
	// Seen again: the builder may have put something there meanwhile.
	if err := lookFile(path, replace); err != nil {
		return err
	}
	return os.Rename(temp, path)
}

// lookFile judges what is at the place of a file.
func lookFile(path string, replace bool) error {
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case info.IsDir():
		return &ForeignError{path, "it is a folder"}
	case !replace:
		return &ExistsError{path}
	case !info.Mode().IsRegular():
		return &ForeignError{path, "it is not a plain file"}
	}
	return nil
}

// begin makes a file and locks it, as [Folder.mkdir] does with a folder.
func begin(temp string) (f, held *os.File, err error) {
	f, err = os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return nil, nil, err
	}
	held, err = hold(temp)
	if errors.Is(err, errHeld) {
		f.Close()
		return nil, nil, fs.ErrExist
	}
	return f, held, nil // held is nil where it cannot be
}

// place renames without replacing a file that came meanwhile: a hard link fails
// where the name is taken. File systems without links get a plain rename.
func place(from, to string) error {
	err := os.Link(from, to)
	switch {
	case err == nil:
		return os.Remove(from)
	case errors.Is(err, fs.ErrExist):
		return &ExistsError{to}
	}
	return os.Rename(from, to)
}
