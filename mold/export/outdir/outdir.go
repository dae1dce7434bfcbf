// Package outdir writes a folder of files that appears whole or not at all.
//
// The files are written beside the wanted place, in a folder with a temporary
// name. Each is synced to disk and hashed on its way; when all are there, the
// folder is renamed. Whatever fails or is canceled before that leaves nothing
// behind, and a crash leaves at most a hidden folder named after the wanted one,
// which the next run for that place removes where folders can be locked (Unix).
//
// A folder that is already there is replaced only on request, and only if it
// holds just the files that its own manifest lists, unchanged: nothing that a
// builder put there or edited is ever lost. Where the system can exchange two
// names in one step (Linux), there is always a whole folder at the place, old or
// new; elsewhere the place is empty between two renames.
//
// It does not create parent folders, and it does not follow a symbolic link at
// the place itself.
package outdir

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// Manifest is the name of the file that lists the others of a folder. It is
// JSON; "files" is an array of entries as [Entry] marshals them.
const Manifest = "manifest.json"

// Entry is one file of a folder.
type Entry struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"` // in hexadecimal
}

// ExistsError says that something is at the place already.
type ExistsError struct{ Path string }

func (e *ExistsError) Error() string { return e.Path + " exists already" }

// ForeignError says that a folder may not be replaced, and because of what.
type ForeignError struct {
	Path   string
	Reason string
}

func (e *ForeignError) Error() string {
	return fmt.Sprintf("%s is not replaced: %s", e.Path, e.Reason)
}

// Folder is a folder in the making. Files may be written by several goroutines
// at once.
type Folder struct {
	ctx     context.Context
	path    string // as the caller named it, for messages
	parent  string // absolute
	name    string
	temp    string   // name of the folder beside it
	root    *os.Root // of the folder temp
	held    *os.File // its lock; nil where folders cannot be locked
	old     []string // files of the folder to replace
	replace bool     // there is one, and it may be
	over    bool     // committed or discarded
	sys     system

	mu      sync.Mutex
	entries []Entry
}

// system are the calls by which a folder reaches the disk, so that tests can
// make each of them fail.
type system struct {
	create   func(r *os.Root, name string) (file, error)
	syncDir  func(path string) error
	rename   func(from, to string) error
	exchange func(a, b string) error // errors.ErrUnsupported where it cannot be done
}

type file interface {
	io.Writer
	Sync() error
	Close() error
}

var disk = system{
	create: func(r *os.Root, name string) (file, error) {
		return r.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	},
	syncDir:  syncDir,
	rename:   os.Rename,
	exchange: exchange,
}

// Create begins a folder at path. An error comes now, before anything was
// computed, if the place is taken or cannot be written. With replace, a folder
// of an earlier run is replaced on [Folder.Commit]. Canceling ctx makes every
// later step fail.
func Create(ctx context.Context, path string, replace bool) (*Folder, error) {
	return create(ctx, path, replace, disk)
}

func create(ctx context.Context, path string, replace bool, sys system) (*Folder, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	f := &Folder{ctx: ctx, path: path, parent: filepath.Dir(abs), name: filepath.Base(abs), sys: sys}
	if f.parent == abs {
		return nil, &ForeignError{path, "it is the root of the file system"}
	}
	if err := f.look(abs, replace); err != nil {
		return nil, err
	}
	return f, f.open()
}

// look judges what is at the place.
func (f *Folder) look(abs string, replace bool) error {
	f.replace, f.old = false, nil
	info, err := os.Lstat(abs)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !replace:
		return &ExistsError{f.path}
	case !info.IsDir():
		return &ForeignError{f.path, "it is not a folder"}
	}
	f.replace = true
	f.old, err = contents(f.path, abs)
	return err
}

// open makes the temporary folder.
func (f *Folder) open() error {
	clearLeftovers(f.parent, f.name)
	path, err := free(f.parent, f.name, f.mkdir)
	if err != nil {
		return err
	}
	f.temp = filepath.Base(path)
	f.root, err = os.OpenRoot(path)
	if err != nil {
		f.release()
		os.Remove(path)
	}
	return err
}

// mkdir makes a folder and locks it. One that another run took for a leftover before it
// was locked counts as taken.
func (f *Folder) mkdir(path string) error {
	if err := os.Mkdir(path, 0o777); err != nil {
		return err
	}
	held, err := hold(path)
	if errors.Is(err, errHeld) {
		return fs.ErrExist
	}
	f.held = held // none where it cannot be: then nobody takes it for a leftover, either
	return nil
}

// release frees the lock.
func (f *Folder) release() {
	if f.held != nil {
		f.held.Close()
	}
}

// marker stands between the name of a place and the numbers of a temporary name.
const marker = ".wheelmold-"

// attempts bounds the search for a free temporary name.
const attempts = 1000

// free makes something under a hidden name beside the name that it is for. The
// process number makes that unique among the living; leftovers of the dead are
// stepped over.
func free(dir, name string, make func(path string) error) (string, error) {
	for i := range attempts {
		path := filepath.Join(dir, fmt.Sprintf(".%s%s%d-%d", name, marker, os.Getpid(), i))
		if err := make(path); !errors.Is(err, fs.ErrExist) {
			return path, err
		}
	}
	return "", fmt.Errorf("no free temporary name beside %s", name)
}

func (f *Folder) tempPath() string { return filepath.Join(f.parent, f.temp) }

// Within is a place in the folder for a folder of its own, to be made with [Create]: it
// appears together with this one, or not at all.
func (f *Folder) Within(name string) string { return filepath.Join(f.tempPath(), name) }

// buffered is how much of a file is collected before it goes to disk, bytes:
// large against a disk block, small against memory.
const buffered = 1 << 18

// Write makes one file of the folder from what fill writes, and records its
// size and hash. The name is plain, without folders.
func (f *Folder) Write(name string, fill func(io.Writer) error) error {
	if name != filepath.Base(name) || strings.HasPrefix(name, ".") {
		return fmt.Errorf("%q is no plain file name", name)
	}
	out, err := f.makeFile(name)
	if err != nil {
		return err
	}
	hash := sha256.New()
	count := &counter{ctx: f.ctx, w: io.MultiWriter(out, hash)}
	buf := bufio.NewWriterSize(count, buffered)
	err = fill(buf)
	if err == nil {
		err = buf.Flush()
	}
	if err == nil {
		err = out.Sync()
	}
	if e := out.Close(); err == nil {
		err = e
	}
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.entries = append(f.entries, Entry{name, count.n, hex.EncodeToString(hash.Sum(nil))})
	return nil
}

// makeFile makes an empty file. After Discard there is none: who was left behind with a file
// to write must not bring the folder back.
func (f *Folder) makeFile(name string) (file, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.ctx.Err(); err != nil {
		return nil, err
	}
	if f.over {
		return nil, fs.ErrClosed
	}
	return f.sys.create(f.root, name)
}

// counter counts bytes and stops when its context is canceled.
type counter struct {
	ctx context.Context
	w   io.Writer
	n   int64
}

func (c *counter) Write(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}

// Open reads a file of the folder back.
func (f *Folder) Open(name string) (*os.File, error) { return f.root.Open(name) }

// Entries are the files written so far, by name.
func (f *Folder) Entries() []Entry {
	f.mu.Lock()
	defer f.mu.Unlock()
	out := slices.Clone(f.entries)
	slices.SortFunc(out, func(a, b Entry) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// Discard removes what was written, also while files are being written, which then
// fails. After Commit it does nothing, so that it can be deferred.
func (f *Folder) Discard() error {
	f.mu.Lock()
	over := f.over
	f.over = true
	f.mu.Unlock()
	if over {
		return nil
	}
	f.root.Close()
	defer f.release()
	// Everything below the temporary name is this folder's own.
	return os.RemoveAll(f.tempPath())
}

// Commit puts the folder in its place.
func (f *Folder) Commit() error {
	if err := f.ctx.Err(); err != nil {
		return err
	}
	if err := f.sys.syncDir(f.tempPath()); err != nil {
		return err
	}
	f.root.Close() // there are systems that do not rename an open folder
	if err := f.publish(filepath.Join(f.parent, f.name)); err != nil {
		return err
	}
	f.over = true
	f.release()
	return f.sys.syncDir(f.parent)
}

// publish renames the folder, and clears the old one away once the new one is
// in place.
func (f *Folder) publish(abs string) error {
	// Seen again: the builder may have put something there meanwhile, or taken it away.
	if err := f.look(abs, f.replace); err != nil {
		return err
	}
	if !f.replace {
		err := f.sys.rename(f.tempPath(), abs)
		if errors.Is(err, fs.ErrExist) {
			return &ExistsError{f.path} // it came in this moment
		}
		return err
	}
	err := f.sys.exchange(f.tempPath(), abs)
	switch {
	case err == nil:
		clear(f.tempPath(), f.old)
		return nil
	case errors.Is(err, errors.ErrUnsupported), errors.Is(err, fs.ErrNotExist):
	default:
		return &os.LinkError{Op: "exchange", Old: f.tempPath(), New: abs, Err: err}
	}
	aside := f.tempPath() + "-old"
	if err := f.sys.rename(abs, aside); errors.Is(err, fs.ErrNotExist) {
		return f.sys.rename(f.tempPath(), abs) // it was taken away in this moment
	} else if err != nil {
		return err
	}
	if err := f.sys.rename(f.tempPath(), abs); err != nil {
		return errors.Join(err, f.sys.rename(aside, abs))
	}
	clear(aside, f.old)
	return nil
}
