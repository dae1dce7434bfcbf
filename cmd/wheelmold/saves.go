package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settled is how long a file must rest after a change to count as saved: editors
// write in several steps, some by way of another file that takes its name.
const settled = 80 * time.Millisecond

// saves tells whenever a file was changed and came to rest, until ctx is canceled;
// then the channel is closed. Folders are watched, not the file, which an editor
// may replace by another; and of links on the way to it both ends.
func saves(ctx context.Context, name string) (<-chan struct{}, error) {
	path, err := filepath.Abs(name)
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(path); err != nil {
		return nil, err
	}
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	f := &followed{path: path, w: w}
	if err := f.follow(); err != nil {
		w.Close()
		return nil, err
	}
	saved := make(chan struct{}, 1)
	go func() {
		defer close(saved)
		defer w.Close()
		f.settle(ctx, saved)
	}()
	return saved, nil
}

// followed is a file that is watched wherever links put it.
type followed struct {
	path   string // absolute
	w      *fsnotify.Watcher
	places []string
}

// follow watches where the file is by now. A folder that cannot be watched is an error,
// and left out: it may be there the next time.
func (f *followed) follow() (err error) {
	f.places = placesOf(f.path)
	var dirs []string
	for _, p := range f.places {
		dir := filepath.Dir(p)
		dirs = append(dirs, dir)
		err = errors.Join(err, f.w.Add(dir))
	}
	for _, dir := range f.w.WatchList() {
		if !slices.Contains(dirs, dir) {
			f.w.Remove(dir)
		}
	}
	return err
}

// mostLinks bounds how many links are followed: some lead in circles.
const mostLinks = 40

// placesOf is each link on the way to a file, a folder's or its own, and where the last
// one leads. None but the last part of each is a link.
func placesOf(path string) (places []string) {
	for range mostLinks {
		link, rest := firstLink(path)
		places = append(places, link)
		to, err := os.Readlink(link)
		if err != nil { // no link: it ends here
			return places
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(link), to)
		}
		path = filepath.Join(to, rest)
	}
	return places
}

// firstLink parts a path behind its first part that is a link.
func firstLink(path string) (link, rest string) {
	link = path
	for p := path; ; p = filepath.Dir(p) {
		if info, err := os.Lstat(p); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			link = p
		}
		if p == filepath.Dir(p) {
			break
		}
	}
	rest, _ = filepath.Rel(link, path)
	return link, rest
}

// settle passes changes of the file on once they rest.
func (f *followed) settle(ctx context.Context, saved chan<- struct{}) {
	rest := time.NewTimer(settled)
	rest.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-f.w.Events:
			if slices.Contains(f.places, filepath.Clean(e.Name)) && e.Op != fsnotify.Chmod {
				rest.Reset(settled)
			}
		case <-f.w.Errors: // too many at once: some may be lost
			rest.Reset(settled)
		case <-rest.C:
			f.follow() // before it is read, so that no later change is missed
			select {
			case saved <- struct{}{}:
			default: // one that is not taken yet tells the same
			}
		}
	}
}
