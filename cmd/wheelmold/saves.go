package main

import (
	"context"
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
// may replace by another.
func saves(ctx context.Context, name string) (<-chan struct{}, error) {
	paths, err := placesOf(name)
	if err != nil {
		return nil, err
	}
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	for _, p := range paths {
		if err := w.Add(filepath.Dir(p)); err != nil {
			w.Close()
			return nil, err
		}
	}
	saved := make(chan struct{}, 1)
	go func() {
		defer close(saved)
		defer w.Close()
		settle(ctx, w, paths, saved)
	}()
	return saved, nil
}

// placesOf is where a file is, and where the link to it is.
func placesOf(name string) ([]string, error) {
	path, err := filepath.Abs(name)
	if err != nil {
		return nil, err
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return nil, err
	}
	return slices.Compact([]string{path, real}), nil
}

// settle passes changes of the paths on once they rest.
func settle(ctx context.Context, w *fsnotify.Watcher, paths []string, saved chan<- struct{}) {
	rest := time.NewTimer(settled)
	rest.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case e := <-w.Events:
			if slices.Contains(paths, filepath.Clean(e.Name)) && e.Op != fsnotify.Chmod {
				rest.Reset(settled)
			}
		case <-w.Errors: // too many at once: some may be lost
			rest.Reset(settled)
		case <-rest.C:
			select {
			case saved <- struct{}{}:
			default: // one that is not taken yet tells the same
			}
		}
	}
}
