package outdir

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// maxManifest bounds what is read as a manifest, bytes; ours are a few thousand.
const maxManifest = 1 << 20

// contents lists the files of a folder that an earlier run made, or says why the
// folder is not such a one. An empty folder is fine.
func contents(name, path string) ([]string, error) {
	foreign := func(format string, a ...any) error {
		return &ForeignError{name, fmt.Sprintf(format, a...)}
	}
	found, err := os.ReadDir(path)
	if err != nil || len(found) == 0 {
		return nil, err
	}
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	listed, err := readManifest(root)
	if err != nil {
		return nil, foreign("%v", err)
	}
	var names []string
	for _, f := range found {
		e, ok := listed[f.Name()]
		switch {
		case !f.Type().IsRegular():
			return nil, foreign("%s in it is no plain file", f.Name())
		case f.Name() == Manifest:
		case !ok:
			return nil, foreign("%s in it was not written by an earlier run", f.Name())
		default:
			if same, err := holds(root, e); err != nil {
				return nil, err
			} else if !same {
				return nil, foreign("%s in it was changed after it was written", f.Name())
			}
		}
		names = append(names, f.Name())
	}
	return names, nil
}

func readManifest(root *os.Root) (map[string]Entry, error) {
	f, err := root.Open(Manifest)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("it has no %s of an earlier run", Manifest)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var m struct {
		Files []Entry `json:"files"`
	}
	if err := json.NewDecoder(io.LimitReader(f, maxManifest)).Decode(&m); err != nil || len(m.Files) == 0 {
		return nil, fmt.Errorf("its %s is not of an earlier run", Manifest)
	}
	listed := map[string]Entry{}
	for _, e := range m.Files {
		listed[e.Name] = e
	}
	return listed, nil
}

// holds reports whether the file is as the entry says.
func holds(root *os.Root, e Entry) (bool, error) {
	f, err := root.Open(e.Name)
	if err != nil {
		return false, err
	}
	defer f.Close()
	hash := sha256.New()
	n, err := io.Copy(hash, f)
	return n == e.Bytes && hex.EncodeToString(hash.Sum(nil)) == e.SHA256, err
}
