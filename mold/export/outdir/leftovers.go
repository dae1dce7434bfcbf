package outdir

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// errHeld says that somebody else is at work on a temporary folder or file, or took it away.
var errHeld = errors.New("in use")

// numbers is the end of a temporary name. What was set aside has more behind it, and may
// be all that is left of a set: it is never taken for a leftover.
var numbers = regexp.MustCompile(`^[0-9]+-[0-9]+$`)

// clearLeftovers removes the temporary folders and files beside a place whose makers were
// killed. Each maker locks its own for as long as it lives; where they cannot be locked,
// all of them stay. It is a favor: what cannot be removed hinders nobody.
func clearLeftovers(dir, name string) {
	found, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, d := range found {
		rest, ours := strings.CutPrefix(d.Name(), "."+name+marker)
		if !ours || !numbers.MatchString(rest) {
			continue
		}
		switch path := filepath.Join(dir, d.Name()); {
		case d.IsDir():
			clearLeftover(path)
		case d.Type().IsRegular():
			clearFile(path)
		}
	}
}

// clearFile removes a file that never had the final name, or has it besides.
func clearFile(path string) {
	held, err := hold(path)
	if err != nil {
		return
	}
	defer held.Close()
	os.Remove(path)
}

// clearLeftover removes a folder. With a readable manifest it was whole, and may be a set that
// was just replaced: then only listed files go, unchanged. Without one it never had the
// final name.
func clearLeftover(path string) {
	held, err := hold(path)
	if err != nil {
		return
	}
	defer held.Close()
	root, err := os.OpenRoot(path)
	if err != nil {
		return
	}
	_, err = readManifest(root)
	root.Close()
	if err != nil {
		os.RemoveAll(path)
		return
	}
	if names, err := contents(path, path); err == nil {
		clear(path, names)
	}
}

// clear removes the listed files and then the folder, if that leaves it empty: a file
// that came in at the last moment stays, and the manifest with it, by which it is known
// later that not all in there was written by this program.
func clear(path string, names []string) {
	for _, name := range names {
		if name != Manifest {
			os.Remove(filepath.Join(path, name))
		}
	}
	if left, err := os.ReadDir(path); err == nil && len(left) == 1 && left[0].Name() == Manifest {
		os.Remove(filepath.Join(path, Manifest))
	}
	os.Remove(path)
}
