package outdir

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteFile makes one file that appears whole or not at all. A file that is
// already there is replaced only on request.
func WriteFile(path string, replace bool, fill func(io.Writer) error) (err error) {
	if info, err := os.Lstat(path); err == nil {
		switch {
		case info.IsDir():
			return &ForeignError{path, "it is a folder"}
		case !replace:
			return &ExistsError{path}
		}
	}
	var f *os.File
	temp, err := free(filepath.Dir(path), filepath.Base(path), func(temp string) (err error) {
		f, err = os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		return err
	})
	if err != nil {
		return err
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
	if replace {
		return os.Rename(temp, path)
	}
	return place(temp, path)
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
